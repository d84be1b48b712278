"""f is found dead wherever adults are asked about, the first drink too; that a species takes no food is another key, asked once."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

THREE = "K2 3 females Pieris napi on garlic mustard"


@pytest.mark.parametrize("drank_before", [False, True])
async def test_f_at_a_drink_is_a_death_and_says_nothing_of_the_species(
    story: Story, drank_before: bool
) -> None:
    story.at("2027-05-14 18:00").type("room 18/24", THREE, "K2 marked PIE-27-01 blue")
    if drank_before:
        story.later(hours=12).type("K2 drank")
    story.later(hours=13)
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("drink", "K2")
        assert "f found dead" in screen.words
        await screen.press("1", "f")
        assert "1 adult of PIE-27-01 female blue" in screen.words
        await screen.press("1")
        assert screen.check == "drink", "the others are still asked about"
    said = [line["what"] for line in story.on_disk()]
    assert "taxon" not in said
    assert story.on_disk()[-1]["what"] == "died"
    assert story.on_disk()[-1]["brood"] == "PIE-27-01"
    assert sum(lot.number for lot in story.desk.bench.containers["K2"].lots) == 2


def test_on_lines_the_species_is_asked_once(story: Story) -> None:
    story.at("2027-05-14 18:00").type("room 18/24", THREE)
    story.later(hours=13)
    printed = "\n".join(story.plain(["18/24", "e", "", "q"]))
    assert "No adult of Pieris napi takes any food? Sure?" in printed
    assert "taxon" not in [line["what"] for line in story.on_disk()]
