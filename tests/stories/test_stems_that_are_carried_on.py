"""Stems that go on to another store: only eggs that are on record there and are of them stay behind, and are counted once."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def two_lots(story: Story) -> Story:
    """Eggs cut off into E4; two lots of stems in S6, six eggs found on the first of them; then one lot goes on to S7."""
    story.at("2027-07-12 18:00")
    tell(
        story,
        """
        room 24
        K2 set up laying
        S6 set up host store
        E4 set up eggs
        K2 founder W2 "Melitaea vespina" female
        K2 host in plantain
        K2 host in speedwell
        """,
    )
    story.at("2027-07-13 07:15")
    tell(
        story,
        """
        K2 searched 4 plant=plantain
        K2 moved 4 eggs to E4
        K2 host out plantain held
        K2 host out speedwell held
        K2 stems lot 1 to S6
        K2 stems lot 2 to S6
        S6 searched 6 lot=1
        """,
    )
    return story.at("2027-07-14 07:15")


def test_eggs_of_another_lot_do_not_go_with_stems(story: Story) -> None:
    two_lots(story).type("S7 set up host store")
    told = story.preview("S6 stems lot 2 to S7")
    assert "eggs" not in told, told
    told = story.preview("S6 stems lot 1 to S7")
    assert "S6 moved: to S7, number 6, brood W2/A, stage egg" in told
    story.type("S6 moved 6 eggs to E4")
    assert "eggs" not in story.preview("S6 stems lot 1 to S7")


async def test_eggs_that_went_with_the_stems_are_those_that_hatched_on_them(
    story: Story,
) -> None:
    two_lots(story).type("S7 set up host store", "S6 stems lot 1 to S7")
    story.at("2027-07-21 07:10").type("S7 frass trace")
    async with story.screens() as screen:
        screen.highlight("S7")
        await screen.press("enter", "y")
    bench = story.desk.bench
    assert [
        (bench.containers[code].count("egg"), bench.containers[code].count("larva"))
        for code in ("S6", "S7")
    ] == [(0, 0), (5, 1)]
    assert not any(one["what"] == "stocked" for one in story.on_disk())


async def test_more_than_are_on_record_are_hidden_ones(story: Story) -> None:
    two_lots(story)
    story.at("2027-07-21 07:10").type("S6 frass plain lot=1")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("turn", "S6")
        await screen.press("8", "y")
    cup = story.desk.bench.containers["S6"]
    assert (cup.count("egg"), cup.count("larva")) == (0, 8)
    assert [one["number"] for one in story.on_disk() if one["what"] == "stocked"] == [2]


def test_eggs_go_along_however_often_their_stems_do(story: Story) -> None:
    tell(
        story,
        """
        K1 set up laying
        K1 founder W1 Boloria dia female
        K1 host in Viola hirta 3 sprigs
        H1 set up host store
        H2 set up host store
        """,
    )
    story.later(hours=20)
    tell(story, "K1 7 eggs\nK1 host out held\nK1 kept stems to H1")
    story.later(hours=5)
    (told,) = story.type("H1 kept stems to H2")
    assert "H1 moved 7 eggs of W1/A to H2" in told
    assert story.desk.bench.containers["H2"].count("egg") == 7
