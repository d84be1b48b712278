"""The prompt that an answer opens: what was typed goes along, what is on record stands in it, and
nothing is recorded by Enter alone that nobody said."""

from __future__ import annotations

from rounds.screens.prompt import Prompt
from tests.stories.telling import Screen, Story, tell


def prompt(screen: Screen) -> str:
    """What stands in the prompt."""
    return screen.app.screen.query_one(Prompt).value


def larvae_unfed(story: Story, known: str) -> None:
    tell(
        story,
        f"""
        brood A1 taxon="Melitaea aurelia"
        {known}
        R4 set up rearing
        R4 stocked 3 L4 brood=A1
        """,
    )
    story.later(hours=6)


async def test_stems_that_were_counted_go_along_to_the_plant(story: Story) -> None:
    larvae_unfed(story, "")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("food", "R4")
        await screen.press("2", "p")
        assert prompt(screen) == "R4 host in 2 sprigs "
        await screen.press("enter")  # no plant was said
        assert "type on" in screen.message
        await screen.press(*"Veronica", "space", *"teucrium", "enter")
    (host,) = story.desk.bench.containers["R4"].hosts
    assert (host.plant, host.sprigs) == ("Veronica teucrium", 2)


async def test_the_plant_on_record_stands_in_it(story: Story) -> None:
    larvae_unfed(
        story,
        """
        K1 set up laying
        K1 founder W1 "Melitaea aurelia" female
        K1 host in "Plantago media" 2 sprigs
        K1 6 eggs
        K1 host out held
        W1 died
        """,
    )
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("food", "R4")
        await screen.press("3", "a")
        assert prompt(screen) == "R4 host in 3 sprigs 'Plantago media'"
        await screen.press("enter")
    (host,) = story.desk.bench.containers["R4"].hosts
    assert (host.plant, host.sprigs) == ("Plantago media", 3)


async def test_another_plant_is_none_that_stands_there(story: Story) -> None:
    tell(
        story,
        """
        K1 set up laying
        K1 founder W1 "Melitaea aurelia" female
        K1 host in "Plantago media" 2 sprigs
        """,
    )
    story.later(hours=6)
    async with story.screens() as screen:
        await screen.press("h", "p")
        assert prompt(screen) == "K1 host in "
        assert "Plantago media" not in screen.message
        await screen.press("enter")
        assert len(story.desk.bench.containers["K1"].hosts) == 1
        await screen.press(*"Veronica", "enter")
    assert [one.plant for one in story.desk.bench.containers["K1"].hosts] == [
        "Plantago media",
        "Veronica",
    ]


def test_the_number_goes_along_on_lines(story: Story) -> None:
    larvae_unfed(story, "")
    printed = story.plain(["2 p", "Veronica teucrium", "q"])
    assert any("after: R4 host in 2 sprigs" in line for line in printed), printed
    (host,) = story.desk.bench.containers["R4"].hosts
    assert (host.plant, host.sprigs) == ("Veronica teucrium", 2)


async def test_the_last_row_shows_the_keys_of_the_line(story: Story) -> None:
    larvae_unfed(story, "")
    async with story.screens() as screen:
        for begins in ((), ("r",)):
            await screen.press(*begins)
            of_the_page = screen.text.splitlines()[-1]
            await screen.press("t")
            last = screen.text.splitlines()[-1]
            assert "Esc leave" in last
            assert "Enter goes to R4" in last
            assert not {"skip", "round", "barrier"} & set(last.split()), last
            await screen.press(*"cleaned")
            assert "Enter write it" in screen.text.splitlines()[-1]
            await screen.press("escape")
            assert screen.text.splitlines()[-1] == of_the_page
