"""The page of what the records say about the plan: evidence, cost, one key to take over, undone like any line."""

from __future__ import annotations

from datetime import timedelta

import pytest

from rounds.screens.learned_screen import LearnedScreen
from tests.stories.telling import Screen, Story, tell

CUP = """
shelf set up sill moat
R4 set up rearing shelf=sill
brood B1 taxon='Boloria dia'
R4 stocked 6 L4 B1
R4 host in violet leaf water
"""


def days(story: Story, number: int, *lines: str) -> None:
    """Say some lines each morning."""
    for _ in range(number):
        story.later(hours=24).type(*lines)


async def open_page(screen: Screen) -> None:
    """From the bench to the page."""
    await screen.press("6")
    assert isinstance(screen.app.screen, LearnedScreen)


def row_of(screen: Screen, words: str) -> str:
    """The line of the list with these words."""
    return next((line for line in screen.text.splitlines() if words in line), "")


async def test_cleaning_that_found_nothing_may_be_half_as_often_and_u_undoes_it(
    story: Story,
) -> None:
    tell(story, CUP)
    days(story, 32, "R4 cleaned", "R4 looked", "R4 host seen plenty")
    async with story.screens((100, 40)) as screen:
        await open_page(screen)
        assert "nothing found in 31 of 31" in row_of(screen, "clean")
        assert "1 rule may be eased. Nothing changes by itself." in screen.text
        assert "to see none in 31 would happen 20.4 times in 100" in " ".join(
            screen.text.split()
        )  # 0.95 ** 31, by hand
        before = story.desk.dues()
        await screen.press("enter")
        changed = story.on_disk()[-1]
        assert (changed["what"], changed["check"], changed["every_h"]) == ("plan", "clean", 48.0)
        assert changed["why"].startswith("learned ")
        assert "nothing found in 31 of 31" in changed["why"]
        assert "No rule is offered for change." in screen.text
        await screen.press("u")
        assert "nothing found in 31 of 31" in row_of(screen, "clean")
    assert [due.rule for due in story.desk.dues()] == [due.rule for due in before]


async def test_what_is_found_later_takes_back_what_was_learned(story: Story) -> None:
    tell(story, CUP)
    days(story, 32, "R4 cleaned", "R4 looked")
    async with story.screens((100, 40)) as screen:
        await open_page(screen)
        await screen.press("enter")
    days(story, 2, "R4 looked mould", "R4 cleaned")
    async with story.screens((100, 40)) as screen:
        await open_page(screen)
        assert "1 rule may be tightened" in screen.text
        await screen.press("enter")
    assert story.on_disk()[-1]["every_h"] == 24.0


async def test_an_offer_that_was_declined_comes_back_with_twice_the_evidence(story: Story) -> None:
    tell(story, CUP)
    days(story, 31, "R4 cleaned")
    async with story.screens((100, 40)) as screen:
        await open_page(screen)
        await screen.press("x")
        assert "No rule is offered for change." in screen.text
    days(story, 29, "R4 cleaned")
    async with story.screens((100, 40)) as screen:
        await open_page(screen)
        assert "No rule is offered for change." in screen.text
    days(story, 1, "R4 cleaned")
    async with story.screens((100, 40)) as screen:
        await open_page(screen)
        assert "nothing found in 60 of 60" in row_of(screen, "clean")


async def test_a_rule_that_guards_life_is_never_eased_by_what_was_not_seen(story: Story) -> None:
    tell(story, CUP)
    days(story, 40, "R4 looked", "R4 host seen plenty", "shelf sill moat full")
    async with story.screens((100, 40)) as screen:
        await open_page(screen)
        assert "No rule is offered for change." in screen.text
        assert "0 of 39 found something" in row_of(screen, "look")
        await screen.press("enter")
        assert screen.message == "nothing is offered on this line"
    assert not [line for line in story.on_disk() if line["what"] == "plan"]


async def test_how_long_a_plant_stays_fit_is_measured_and_told_as_learned(story: Story) -> None:
    tell(
        story,
        "K2 set up laying\nK2 founder W2 Boloria dia female\nS2 set up host store\nK2 host in violet leaf water",
    )
    for _ in range(10):
        for _ in range(4):
            story.later(hours=24).type("K2 host fresh")
        story.later(hours=24).type(
            "K2 host limp", "K2 host out held_in=S2", "K2 host in violet leaf water"
        )
    async with story.screens((100, 40)) as screen:
        await open_page(screen)
        assert "fit for 4.5 d (4.5 to 4.5)" in row_of(
            screen, "violet, water"
        )  # between the looks of day four and five
        await screen.press("enter")
    known = story.on_disk()[-1]
    assert (known["what"], known["name"], known["kept"], known["hours"]) == (
        "plant",
        "violet",
        "water",
        108.0,
    )
    assert known["why"].startswith("learned ")


async def test_what_a_moat_loses_is_told_and_moves_by_itself_when_it_is_asked(
    story: Story,
) -> None:
    tell(story, "shelf set up sill moat\nR4 set up rearing shelf=sill\nshelf sill topped up 30")
    for day in range(8):
        story.later(hours=24).type(f"shelf sill moat full {29 - day}")
    asked = next(due for due in story.desk.dues() if due.check == "ants")
    async with story.screens((100, 40)) as screen:
        await open_page(screen)
        assert "loss 1.0 mm a day (0.8 to 1.4)" in row_of(screen, "moat of sill")
        assert "from 9 own readings over 8 days; asked by that already" in screen.words
        assert "No rule is offered for change." in screen.text
    for hours, depth in ((12, 16), (12, 9)):  # a crack in the rim, or the sun on it
        story.later(hours=hours).type(f"shelf sill moat full {depth}")
    sooner = next(due for due in story.desk.dues() if due.check == "ants")
    assert asked.due - asked.since >= timedelta(hours=20), "once a day where it is slow"
    assert sooner.due - sooner.since < timedelta(hours=20), "sooner where it will be low"


async def test_hours_that_were_learned_hold_for_no_danger_and_still_go_by_what_is_eaten(
    story: Story,
) -> None:
    tell(story, CUP)
    days(story, 32, "R4 cleaned", "R4 looked", "R4 host seen plenty")

    def asked() -> timedelta:
        due = next(due for due in story.desk.dues() if due.check == "clean")
        assert due.since is not None
        return due.due - due.since

    before = asked()
    async with story.screens((100, 40)) as screen:
        await open_page(screen)
        await screen.press("enter")
    assert asked() >= before, "asked no oftener for having found nothing"
    story.later(hours=1).type("R4 looked mould")
    assert asked() == timedelta(0), "mould is cleaned out at once, whatever was learned"
    story.type("R4 cleaned", "R4 looked", "plan check=clean every_h=12")
    assert asked() == timedelta(hours=12), "what the keeper says holds as it is said"


@pytest.mark.parametrize("value", ["soon", "-3"])
def test_an_offer_is_declined_by_a_number(story: Story, value: str) -> None:
    assert "a whole number" in story.refused(f"setting offer.clean {value}")
