"""The first start: animals typed in words are animals, never a plant; several containers at once."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


def begun(story: Story, stands: str, holds: str) -> str:
    """Answer the questions of ``rounds begin``; all that was printed."""
    ran = story.shell("begin", typed=f"My bench\n49.2N 0.4W Europe/Paris\n1\n{stands}\n{holds}\n\n")
    return ran.out + ran.err


@pytest.mark.parametrize(
    ("holds", "founders"),
    [
        ("one wild female Boloria dia", 1),
        ("a female Boloria dia", 1),
        ("Two wild females of Boloria dia on violet leaf", 2),
        ("2 females Boloria dia at Tannmoos on violet leaf in water", 2),
    ],
)
def test_a_female_typed_in_words_is_a_female(story: Story, holds: str, founders: int) -> None:
    begun(story, "L2 laying", holds)

    taken = [line for line in story.on_disk() if line["what"] == "founder"]
    assert [line["taxon"] for line in taken] == ["Boloria dia"] * founders
    plants = [line["plant"] for line in story.on_disk() if line["what"] == "host in"]
    assert plants == (["violet"] if "violet" in holds else [])
    assert [line.get("place", "") for line in taken] == ["Tannmoos" if "Tannmoos" in holds else ""] * founders


@pytest.mark.parametrize("holds", ["wild female Boloria dia", "some females on violet", "eggs Boloria dia", "oak with aphids"])
def test_what_is_not_clear_is_asked_again_and_makes_no_plant(story: Story, holds: str) -> None:
    assert "Not taken" in begun(story, "L2 laying", holds)
    assert not [line for line in story.on_disk() if line["what"] in ("founder", "host in")]


def test_several_containers_stand_at_once(story: Story) -> None:
    printed = begun(story, "L2 L3 laying", "")
    assert "L2, L3 stand: laying" in printed
    assert [line["container"] for line in story.on_disk() if line["what"] == "set up"] == ["L2", "L3"]


def test_codes_with_numbers_are_taken_with_advice(story: Story) -> None:
    printed = begun(story, "1 laying", "")
    assert "easily misread on a label" in printed
    assert [line["container"] for line in story.on_disk() if line["what"] == "set up"] == ["1"]
