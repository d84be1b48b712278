"""A day of another month is written with its month, and the number of a stop counts stops."""

from __future__ import annotations

import re

from tests.stories.telling import Story, tell


async def test_what_is_coming_names_the_month_that_is_not_this_one(story: Story) -> None:
    story.at("2027-05-29 12:00")
    tell(
        story,
        'R4 set up rearing\nbrood A1 taxon="Boloria lapidata"\nR4 stocked 12 L3 brood=A1\nroom 22',
    )
    story.at("2027-06-03 07:00")
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop")
        text = screen.text
    assert "29 May 23:" in text, text
    assert not re.search(r"\b(Sat 29|Mon 31)\b", text)
    assert "Wed 2 " in text, "this month goes without saying"


async def test_the_axis_names_the_month_that_begins(story: Story) -> None:
    story.at("2027-05-29 12:00")
    tell(
        story,
        'R4 set up rearing\nbrood A1 taxon="Boloria lapidata"\nR4 stocked 12 L3 brood=A1\nroom 22',
    )
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop")
        axis = next(row for row in screen.text.splitlines() if "Sun 30" in row)
    assert "1 Jun" in axis
    assert "Wed 2" in axis


async def test_laying_days_of_the_month_before_name_it(story: Story) -> None:
    story.at("2027-05-30 07:00")
    tell(story, 'K2 set up laying\nK2 founder W2 "Boloria lapidata" female\nK2 host in viola')
    story.at("2027-06-02 07:00").type("K2 searched 3")
    async with story.screens((120, 40)) as screen:
        await screen.press("i")
        rows = [row.split() for row in screen.text.splitlines()]
    days = [" ".join(row[:2]) for row in rows if row and row[0] in ("30", "31", "Tue", "Wed")]
    assert days[:4] == ["30 May", "31 May", "Tue 1", "Wed 2"]


async def test_a_shelf_that_comes_before_others_in_danger_is_no_earlier_stop(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(
        story,
        """
        brood A1 taxon="Boloria lapidata"
        shelf sill set up moat
        P1 set up pupation on sill
        P2 set up pupation on sill
        P1 stocked 4 pupae brood=A1
        P2 stocked 4 pupae brood=A1
        """,
    )
    story.at("2027-05-02 07:00").type("room 20", "sill full")
    story.later(minutes=5)

    def number(text: str) -> int:
        found = re.search(r"stop (\d+) of", text)
        assert found, text
        return int(found[1])

    async with story.screens((100, 30)) as screen:
        await screen.press("r")
        await screen.walk_to("look", "P1")
        first = number(screen.text)
        while screen.where == "P1":
            await screen.press("space")
        assert number(screen.text) == first + 1
        await screen.type("sill 3 ants above")
        assert screen.check in ("barrier", "ants")
        assert number(screen.text) == first + 1
