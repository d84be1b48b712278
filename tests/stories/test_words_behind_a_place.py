"""Behind where eggs were only known places are read; other words are a note, and those of a line before are asked about."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def cups(story: Story) -> Story:
    """A female in a cup without a plant, one with nettle."""
    story.at("2031-06-11 18:00").type("N2 1 female Aglais io", "N3 1 female Aglais io on nettle")
    return story.at("2031-06-12 07:00")


@pytest.mark.parametrize("cup", ["N2", "N3"])
@pytest.mark.parametrize("words", ["was typed twice", "typed twice", "were counted double"])
def test_what_may_be_of_a_line_before_is_asked(cups: Story, cup: str, words: str) -> None:
    told = cups.refused(f"{cup} 12 eggs on lid {words}")
    assert f"'{words}': were they found now? As: {cup} searched 12 on lid -- {words}" in told
    assert not cups.desk.bench.at(cup).count("egg")


@pytest.mark.parametrize("cup", ["N2", "N3"])
def test_other_words_are_a_note(cups: Story, cup: str) -> None:
    cups.type(f"{cup} 12 eggs on lid with the label of AB")
    found, note = cups.on_disk()[-2:]
    assert (found["where"], note["text"]) == ("lid", "with the label of AB")


@pytest.mark.parametrize(
    "place", ["lid", "cup wall", "net near the ground", "top of the lid", "cork"]
)
def test_a_place_stays_whole(cups: Story, place: str) -> None:
    cups.type(f"N2 12 eggs on {place}")
    assert cups.on_disk()[-1]["where"] == place
