"""Cut leaf that is older than it keeps is asked about where larvae eat, as where females lay, until somebody sees that it is good."""

from __future__ import annotations

from datetime import datetime

from rounds.checks.timeline import timeline
from tests.stories.telling import Story, shown


async def test_larvae_on_leaf_cut_two_weeks_ago_are_asked_about(story: Story) -> None:
    story.at("2027-06-01 08:00").type(
        "H1 9 L1 Melitaea athalia", "H1 host in plantain cut 18 May 08:00 water", "H1 looked"
    )
    food = story.at("2027-06-01 20:30").due("H1")["food"]
    assert food["state"] == "urgent"
    assert "plantain cut 18 May 08:00 keeps 48 h" in " ".join((await shown(story, "H1")).split())

    story.type("H1 plenty of food")
    assert "food" not in story.due("H1")
    assert "food" in story.at("2027-06-02 20:30").due("H1")


def test_what_is_ahead_and_what_is_due_tell_the_same_hour(story: Story) -> None:
    """By the keeper's hours of the plant, until it is seen to be good when they are over."""
    story.at("2027-06-01 08:00").type(
        "plant plantain water 36", "H1 9 L1 Melitaea athalia", "H1 host in plantain water"
    )
    story.at("2027-06-02 10:00").type("H1 plenty of food")

    def ahead() -> list[datetime]:
        desk = story.desk
        coming = timeline(desk.bench, desk.moment(), desk.foresight, desk.dues())
        return [one.at for one in coming if one.what == "change cut" and one.at]

    (food,) = (due.due for due in story.desk.dues() if due.check == "food")
    assert ahead() == [food]
    assert food == datetime.fromisoformat("2027-06-02T20:00:00+02:00")
    story.at("2027-06-02 20:30").type("H1 plenty of food")
    assert not ahead()
    assert "food" not in story.due("H1")
