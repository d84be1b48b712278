"""An hour of the plan that is changed takes with it what comes after; what contradicts itself is refused."""

from __future__ import annotations

from tests.stories.telling import Story, tell

CUP = """
    P4 set up laying
    P4 founder H4 "Hyles vespera" female
    P4 drank
    """


def standing(story: Story) -> str:
    row = story.due("P4").get("drink")
    return str(row["standing"]) if row else ""


def test_every_two_days_is_late_and_urgent_after_that(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, CUP + "plan drink purpose=laying every_h=48")
    assert standing(story.later(hours=47)) in ("", "ok")
    story.later(hours=1, minutes=30)
    assert standing(story) == "due"
    assert "in danger from 08:00" not in story.shell("due").out
    assert standing(story.later(hours=2)) == "late"
    assert standing(story.later(hours=10)) == "red"


async def test_the_plan_page_shows_the_hours_as_they_hold(story: Story) -> None:
    tell(story, CUP + "plan drink purpose=laying every_h=48")
    async with story.screens((110, 60)) as screen:
        await screen.press("p")
        rows = [
            line for line in screen.text.splitlines() if "drink" in line and "laying, adult" in line
        ]
    assert any("48 h" in row and "50 h" in row and "60 h" in row for row in rows), rows


def test_said_back_it_is_as_it_was(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, CUP + "plan drink purpose=laying every_h=48\nplan drink purpose=laying every_h=12")
    assert standing(story.later(hours=15)) == "late"
    assert standing(story.later(hours=10)) == "red"


def test_late_before_it_is_due_is_refused(story: Story) -> None:
    tell(story, CUP)
    refused = story.refused("plan drink container=P4 amber_h=4 every_h=48")
    assert "late_h=4" in refused
    assert "every_h=48" in refused


def test_late_alone_brings_the_due_hour_before_it(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, CUP + "plan drink container=P4 amber_h=4")
    assert standing(story.later(hours=3)) in ("", "ok")
    assert standing(story.later(hours=1, minutes=30)) == "late"


def test_hours_that_count_back_from_a_limit_stay_as_said(story: Story) -> None:
    tell(story, CUP)
    story.type("plan permit every_h=240 amber_h=48")


def test_hours_between_say_nothing_of_what_is_asked_at_once(story: Story) -> None:
    tell(
        story,
        "shelf set up sill moat\nR4 set up rearing shelf=sill\nbrood B1 taxon='Hyles vespera'\n"
        "R4 stocked 6 L4 B1\nR4 host in willow water\nplan ants every_h=24\nplan clean every_h=48",
    )
    story.later(hours=1).type("shelf sill moat dry", "R4 looked mould")
    assert story.due("sill")["ants"]["standing"] == "red", "a dry moat is a danger now"
    assert story.due("R4")["clean"]["standing"] == "due", "and mould is cleaned out at once"
