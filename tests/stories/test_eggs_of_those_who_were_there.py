"""Eggs that a search finds are of all females that sat there since the last search, and were laid since then."""

from __future__ import annotations

from tests.stories.telling import Story, tell
from tests.stories.test_whose_eggs import page

TWO = """
M3 set up laying
K4 set up laying
M3 founder W4 "Polyommatus icarus"
M3 founder W5 "Polyommatus icarus"
M3 host in "Lotus corniculatus" 3 sprigs
"""


def replaced(story: Story, other: str) -> None:
    """One sits on a plant for three days, dies, and another is put in her place."""
    story.at("2027-07-10 07:00").type(
        "M3 set up laying", 'M3 founder W7 "Polyommatus icarus"', 'M3 host in "Lotus corniculatus"'
    )
    story.at("2027-07-13 07:00").type("M3 W7 died")
    story.at("2027-07-13 07:10").type(f'M3 founder W8 "{other}" female')
    story.at("2027-07-13 07:20")


async def test_one_that_died_and_one_of_another_species_in_her_place(story: Story) -> None:
    replaced(story, "Polyommatus thersites")
    async with story.screens((110, 60)) as screen:
        screen.highlight("M3")
        await screen.press("e", "3", "0", "enter")
        assert "say whose they are" in " ".join(screen.text.split())
        assert not story.desk.bench.broods
        await screen.press("1")
    brood = story.desk.bench.broods["W7/A"]
    assert (brood.mothers, brood.taxon) == (("W7",), "Polyommatus icarus")
    assert f"{brood.laid_from:%d %H:%M}" == "10 07:00"
    assert f"{brood.laid_to:%d %H:%M}" == "13 07:00"
    shown = await page(story, "i")
    assert "none in" not in shown
    hers = shown[shown.index("Polyommatus icarus") : shown.index("Polyommatus thersites")]
    assert " 25 (" in next(one for one in hers.splitlines() if one.strip().startswith("Lotus")), (
        "30 eggs found in 3 days, of which a search finds 40 %"
    )


def test_one_that_died_and_one_of_her_species_in_her_place(story: Story) -> None:
    replaced(story, "Polyommatus icarus")
    told = story.type("M3 searched 30")[0]
    assert "mothers W7 W8" in told
    brood = story.desk.bench.broods["W7+/A"]
    assert f"{brood.laid_from:%d %H:%M}" == "10 07:00"


def test_in_her_place_after_a_search_that_found_some(story: Story) -> None:
    story.at("2027-07-10 07:00").type(
        "M3 set up laying", 'M3 founder W7 "Polyommatus icarus"', 'M3 host in "Lotus corniculatus"'
    )
    story.at("2027-07-11 07:00").type("M3 searched 5")
    story.at("2027-07-13 07:00").type("M3 W7 died")
    story.at("2027-07-13 07:10").type('M3 founder W8 "Polyommatus icarus" female')
    told = story.at("2027-07-13 07:20").type("M3 searched 30")[0]
    assert "mothers W7 W8" in told
    brood = story.desk.bench.broods["W7+/A"]
    assert f"{brood.laid_from:%d %H:%M}" == "11 07:00", "what was there before was found then"


def test_one_that_left_a_minute_before_the_search(story: Story) -> None:
    for left in (
        "M3 W5 moved to K4",
        "M3 W5 died",
        "M3 released 1 brood=W5",
        "M3 escaped 1 brood=W5",
    ):
        book = Story(story.folder.with_name(left.replace(" ", "")), story._monkeypatch)
        book.at("2027-06-10 08:00")
        tell(book, TWO)
        book.at("2027-06-13 08:00").type(left)
        told = book.at("2027-06-13 08:01").type("M3 searched 20")[0]
        assert "mothers W4 W5" in told, left
        assert f"{book.desk.bench.broods['W4+/A'].laid_from:%d %H:%M}" == "10 08:00", left


def test_one_that_comes_back_does_not_cut_the_time_of_her_who_stayed(story: Story) -> None:
    story.at("2027-06-10 08:00")
    tell(story, TWO)
    story.at("2027-06-11 08:00").type("M3 searched 4", "M3 W5 moved to K4")
    story.at("2027-06-14 08:00").type("K4 W5 moved to M3")
    told = story.at("2027-06-14 08:01").type("M3 searched 20")[0]
    assert "mothers W4 W5" in told
    brood = next(reversed(story.desk.bench.broods.values()))
    assert f"{brood.laid_from:%d %H:%M}" == "11 08:00"


def test_one_that_comes_back_alone_laid_since_she_came(story: Story) -> None:
    story.at("2027-06-10 08:00")
    tell(story, TWO)
    story.at("2027-06-11 08:00").type("M3 searched 4", "M3 W5 moved to K4", "M3 W4 moved to K4")
    story.at("2027-06-12 08:00").type("M3 searched 0")
    story.at("2027-06-14 08:00").type("K4 W5 moved to M3")
    assert "mothers W5" in story.at("2027-06-15 08:00").type("M3 searched 20")[0]
    assert f"{story.desk.bench.broods['W5/A'].laid_from:%d %H:%M}" == "14 08:00"


def test_a_plant_put_in_later_bears_what_was_laid_since(story: Story) -> None:
    story.at("2027-06-10 08:00").type("M3 set up laying", 'M3 founder W4 "Polyommatus icarus"')
    story.at("2027-06-12 08:00").type('M3 host in "Lotus corniculatus" 3 sprigs')
    story.at("2027-06-13 08:00").type("M3 searched 20")
    assert f"{story.desk.bench.broods['W4/A'].laid_from:%d %H:%M}" == "12 08:00"


def test_stems_that_stood_there_before_she_came_were_laid_on_since(story: Story) -> None:
    story.at("2027-06-10 08:00").type(
        "M3 set up laying", "E2 set up eggs", 'M3 host in "Lotus corniculatus" 3 sprigs'
    )
    story.at("2027-06-12 08:00").type('M3 founder W4 "Polyommatus icarus"')
    story.at("2027-06-13 08:00").type(
        "M3 host out held_in=E2", 'M3 host in "Lotus corniculatus" 3 sprigs'
    )
    story.at("2027-06-14 08:00").type("E2 searched 20")
    brood = story.desk.bench.broods["W4/A"]
    assert (f"{brood.laid_from:%d %H:%M}", f"{brood.laid_to:%d %H:%M}") == ("12 08:00", "13 08:00")
