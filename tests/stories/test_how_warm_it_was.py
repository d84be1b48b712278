"""The card of a container on a screen of its own: what is asked, how warm it was with the limits, and the same as numbers."""

from __future__ import annotations

import re

import pytest

from rounds.screens.rowlist import RowList
from tests.stories.telling import Screen, Story, tell

BENCH = """
shelf set up sill place=1
R6 set up rearing shelf=sill place=1
R7 set up rearing shelf=sill place=2
brood SIN-27/A taxon='Leptidea sinapis'
R6 stocked 9 L4 SIN-27/A
R7 stocked 4 L2 SIN-27/A
"""
DAYS = (
    (21, "19/25", 26),
    (22, "20/24", 26.5),
    (23, "20/25", 28),
    (24, "20/25", 27),
    (25, "20/25", 29),
    (26, "20/26", 30.5),
)


@pytest.fixture
def sill(story: Story) -> Story:
    """Six days with the room read each evening, a jar read in the sun, the last time too hot."""
    tell(story.at("2027-05-20 19:00"), BENCH)
    for day, room, jar in DAYS:
        story.at(f"2027-05-{day} 18:00").type(f"R6 air {jar}")
        story.at(f"2027-05-{day} 19:00").type(f"room {room}")
    story.at("2027-05-27 18:50").type("R6 air 33.8")
    return story.at("2027-05-27 19:04")


async def opened_at(screen: Screen, code: str) -> list[str]:
    """Open a container's card from the map; the rows of the screen."""
    screen.highlight(code)
    await screen.press("m", "c")
    return screen.text.splitlines()


def rows_of(text: list[str]) -> list[str]:
    """The rows of the drawing."""
    return [row for row in text if re.match(r" +-?\d+ [CF] \|", row)]


async def test_the_curve_goes_up_to_the_limits_day_by_day(sill: Story) -> None:
    async with sill.screens() as screen:
        text = await opened_at(screen, "R6")
        drawn = rows_of(text)
        assert 5 <= len(drawn) <= 8
        jar: dict[int, int] = {}
        for height, row in enumerate(reversed(drawn)):
            for found in re.finditer("o", row.split("|")[1][:56]):
                jar[found.start()] = height
        assert len(jar) == 7
        heights = [jar[place] for place in sorted(jar)]
        assert heights[-1] == max(heights)
        assert heights[-1] > heights[0]
        assert "33: hot" in drawn[0]
        assert "30: warm" in "\n".join(drawn)
        assert "Fri 21" in "\n".join(text)
        assert "Thu 27" in "\n".join(text)
        assert "o R6 33.8 C, 18:50" in "\n".join(text)
        assert "the room 26 C" in "\n".join(text)


async def test_no_sign_of_a_state_is_used_in_the_drawing(sill: Story) -> None:
    async with sill.screens() as screen:
        drawn = rows_of(await opened_at(screen, "R6"))
        assert not set("".join(row.split("|")[1][:56] for row in drawn)) & set("#=~")


async def test_the_same_as_numbers(sill: Story) -> None:
    async with sill.screens((80, 40)) as screen:
        await opened_at(screen, "R6")
        await screen.press("v")
        table = {
            row.split()[1]: row
            for row in screen.text.splitlines()
            if re.match(r" (Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d", row)
        }
        for day, room, jar in DAYS:
            low, high = room.split("/")
            assert [f"{jar:g}", f"{jar:g}", low, high] == re.findall(r"(\S+) C", table[str(day)]), (
                day
            )
        assert "33.8 C" in table["27"]
        assert "warm from 30 C on, hot from 33 C on" in screen.text
        assert "highest 29 C Tue, 30.5 C Wed, 33.8 C today" in screen.text
        assert not rows_of(screen.text.splitlines())


async def test_where_only_the_room_was_read_only_the_room_is_drawn(sill: Story) -> None:
    async with sill.screens() as screen:
        text = "\n".join(await opened_at(screen, "R7"))
        assert ". the room 26 C" in text
        assert "o R7" not in text


async def test_where_nothing_was_read_that_is_said(story: Story) -> None:
    tell(story, BENCH)
    async with story.screens() as screen:
        await opened_at(screen, "R6")
        assert "No temperature was read here in the last days." in screen.text


async def test_in_the_keepers_units(sill: Story) -> None:
    sill.type("setting temperature F")
    async with sill.screens() as screen:
        text = "\n".join(await opened_at(screen, "R6"))
        assert " F |" in text
        assert "91.4: hot" in text
        assert "R6 92.8 F" in text


async def test_what_is_asked_stands_first_and_is_answered_there(sill: Story) -> None:
    async with sill.screens() as screen:
        text = await opened_at(screen, "R6")
        assert text[0].startswith(" R6 ")
        assert re.match(
            r" [=#] .* (urgent|in danger)   ",
            next(row for row in text[1:] if row.startswith((" =", " #"))),
        )
        before = len(sill.on_disk())
        await screen.press("enter")
        assert screen.check
        await screen.press("escape")
        assert len(sill.on_disk()) == before


async def test_arrows_change_the_container_and_stop_at_the_ends(sill: Story) -> None:
    async with sill.screens() as screen:
        await opened_at(screen, "R6")
        await screen.press("down")
        assert screen.text.startswith(" R7 ")
        await screen.press("down")
        assert screen.message == "this is the last container"
        await screen.press("up", "up")
        assert screen.text.startswith(" R6 ")
        assert screen.message == "this is the first container"


def test_the_limits_are_those_of_the_shelf(sill: Story) -> None:
    from rounds.checks.heat import warm_and_hot

    sill.type("shelf set up sill place=1 warm_c=26 hot_c=29")
    container = sill.desk.bench.at("R6")
    assert container is not None
    assert warm_and_hot(sill.desk.bench, sill.desk.moment(), container) == (26, 29)


LAYING = """
K3 set up laying
K3 founder W1 'Leptidea sinapis'
K3 host in Lathyrus pratensis water
"""


async def test_a_laying_cup_shows_its_eggs_by_day(story: Story) -> None:
    tell(story.at("2027-05-18 18:00"), LAYING)
    for day, found in ((19, 3), (20, 0), (22, 5)):
        story.at(f"2027-05-{day} 18:00").type(f"K3 searched {found}")
    story.at("2027-05-23 07:05")
    async with story.screens() as screen:
        text = await opened_at(screen, "K3")
        days = next(row for row in text if row.strip().startswith("May")).split()[1:]
        numbers = next(row for row in text if row.strip().startswith("eggs  "))
        names = next(row for row in text if row.strip().startswith("May"))
        by_day = {day: numbers[names.index(f" {day}") :][:3].strip() for day in days[-5:]}
        assert by_day == {"19": "3", "20": "0", "21": "", "22": "5", "23": ""}
        drawn = [row for row in text if re.match(r" +\d+ \|", row)]
        assert "".join(drawn).count("*") == 3 + 5
        await screen.press("v")
        assert "8 eggs in 3 searches of the last 14 days" in screen.text
        assert re.search(r"Thu 20 May +1 +0", screen.text)
        assert re.search(r"Fri 21 May +not searched", screen.text)


async def test_eggs_show_when_they_will_hatch(story: Story) -> None:
    tell(
        story.at("2027-05-18 18:00"),
        "E3 set up eggs\nbrood SIN-27/B taxon='Leptidea sinapis'\nE3 stocked 41 eggs SIN-27/B\nroom 20",
    )
    async with story.screens() as screen:
        text = await opened_at(screen, "E3")
        hatch = next(row for row in text if row.startswith(" hatch of 41"))
        assert hatch.count("O") == 1
        assert "o" in hatch
        await screen.press("v")
        assert "E3, hatch of 41: first " in screen.text


async def test_the_last_three_lines_stand_on_the_card(sill: Story) -> None:
    async with sill.screens((80, 40)) as screen:
        text = await opened_at(screen, "R6")
        first = next(place for place, row in enumerate(text) if row.startswith(" last  "))
        assert "18:50" in text[first]
        assert "33.8 C" in text[first]
        assert text[first + 1].split()[0] == "Wed"
        assert text[first + 2].split()[0] == "Tue"


async def test_another_drawing_by_its_key_the_moat_among_them(story: Story) -> None:
    tell(
        story.at("2027-05-18 18:00"),
        "shelf set up sill moat\n" + LAYING.replace("laying", "laying shelf=sill", 1),
    )
    for day, mm in ((18, 62), (19, 37), (20, 12)):
        story.at(f"2027-05-{day} 18:10").type(f"sill moat full {mm} mm")
    story.at("2027-05-20 20:00").type("K3 searched 2", "room 18/24")
    async with story.screens() as screen:
        first = await opened_at(screen, "K3")
        assert any("not searched" in row for row in first)
        await screen.press("d")
        assert rows_of(screen.text.splitlines())
        await screen.press("d")
        depths = [row for row in screen.text.splitlines() if re.match(r" +\d+ mm \|", row)]
        (low,) = [row for row in depths if ": low" in row]
        assert re.match(rf" +{low.partition(': low')[0].split()[-1]} mm ", low), (
            "in a row of its own"
        )
        columns = [row.split("|")[1].index("o") for row in depths if "o" in row.split("|")[1][:56]]
        assert columns == sorted(columns)
        assert len(columns) == 3
        assert "moat of shelf sill 12 mm, 18:10" in screen.text
        await screen.press("v")
        assert re.search(r"Wed 19 +37 mm +37 mm", screen.text)
        await screen.press("v", "d")
        assert any("not searched" in row for row in screen.text.splitlines())


async def test_right_opens_the_card_and_again_a_screen_of_its_own(sill: Story) -> None:
    async with sill.screens() as screen:
        screen.highlight("R6")
        await screen.press("left", "right")
        assert type(screen.app.screen).__name__ == "BenchScreen"
        await screen.press("right")
        assert rows_of(screen.text.splitlines())
        await screen.press("down", "left")
        assert type(screen.app.screen).__name__ == "BenchScreen"
        assert screen.app.screen.query_one(RowList).key == "R7"
