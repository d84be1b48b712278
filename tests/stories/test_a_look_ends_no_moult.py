"""A look at the others, or one that finds nothing new, ends no moult that was seen: cleaning waits on."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


def begin(story: Story) -> None:
    story.at("2027-07-01 08:00")
    tell(
        story,
        """
        R2 set up rearing
        R2 4 L3 Papilio hospiton on Ferula communis
        R2 9 L5 Papilio hospiton on Ferula communis
        R2 host in 12 stems Ferula communis
        """,
    )
    story.at("2027-07-01 20:00").type("R2 2 not moving")


@pytest.mark.parametrize("look", ["no change", "2 wandering", "looked", "9 eating"])
def test_cleaning_waits_its_two_days(story: Story, look: str) -> None:
    begin(story)
    story.at("2027-07-02 08:00").type(f"R2 {look}")
    assert "clean" not in story.at("2027-07-03 19:00").due("R2")
    assert "waits for those that do not move" in story.shell("due", "--json", "--within", "2d").out
    assert "clean" in story.at("2027-07-03 21:00").due("R2")


def test_none_waits_once_they_moulted_or_all_eat(story: Story) -> None:
    begin(story)
    story.at("2027-07-02 08:00").type("R2 no change", "R2 1 moulted L4")
    assert "clean" not in story.at("2027-07-03 19:00").due("R2")  # the other may yet
    story.type("R2 1 moulted L4")
    assert "clean" in story.due("R2")


def test_none_waits_once_all_eat(story: Story) -> None:
    begin(story)
    story.at("2027-07-02 08:00").type("R2 no change", "R2 all eating")
    assert "clean" in story.at("2027-07-03 19:00").due("R2")
