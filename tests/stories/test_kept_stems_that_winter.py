"""Kept stems of a species that overwinters as egg are kept over the winter."""

from __future__ import annotations

import pytest

from rounds import Book
from tests.stories.telling import Story, tell

WINTERS = "taxon 'Satyrium lenta' overwinters_as=egg"


def _kept(story: Story, females: str = "2 females Satyrium lenta", found: int = 3) -> None:
    story.at("2027-06-01 07:00").type(WINTERS, f"K7 {females} on blackthorn")
    story.at("2027-06-02 08:30")
    tell(
        story,
        f"""
        K7 searched {found}
        K7 host changed, old kept
        K7 looked
        K7 drank
        room 20/24
        """,
    )


def _look_daily(story: Story, days: int) -> None:
    for _ in range(days):
        story.later(days=1).type("K7 frass none")


async def _card(story: Story) -> str:
    async with story.screens(size=(140, 50)) as screen:
        screen.highlight("K7")
        await screen.pilot.pause()
        return screen.words


def _kept_stems(story: Story) -> tuple[float, object]:
    lot = Book(story.desk).kept_stems("K7")[0]
    return lot.chance, lot.keep_until


async def test_they_have_no_date_and_no_look_lowers_their_chance(story: Story) -> None:
    _kept(story)
    story.at("2027-06-03 08:30")
    before, until = _kept_stems(story)
    assert until is None
    assert "keep over the winter" in await _card(story)
    async with story.screens(size=(140, 50)) as screen:
        await screen.press(".", "down")
        await screen.pilot.pause()
        assert "no date" not in screen.words
        assert "K7 keep A over the winter" in screen.words
        assert "K7, keep over the winter, its eggs may rest: blackthorn A" in screen.words

    _look_daily(story, 60)
    after, until = _kept_stems(story)
    assert (after, until) == (pytest.approx(before), None)
    assert "keep" not in story.due("K7")


async def test_nobody_watches_for_frass_before_they_may_hatch(story: Story) -> None:
    _kept(story)
    for day in ("2027-06-20", "2027-08-01", "2027-12-20"):
        story.at(f"{day} 08:30")
        assert "frass" not in story.due("K7"), day
    story.at("2028-02-20 08:30")
    assert story.due("K7")["frass"]["standing"] != "ok"


def test_they_are_not_discarded_unasked_before_the_winter_is_over(story: Story) -> None:
    _kept(story)
    _look_daily(story, 60)
    said = story.refused("K7 kept stems binned")
    assert "over the winter" in said
    assert "sure" in said


def test_after_the_winter_warmth_and_looks_let_them_go(story: Story) -> None:
    _kept(story)
    story.at("2028-03-20 08:30").type("room 20/24", "K7 frass none")
    chance, until = _kept_stems(story)
    assert until is None
    story.at("2028-04-02 08:30").type("room 20/24", "K7 frass none")
    assert _kept_stems(story)[1] is not None
    _look_daily(story, 60)
    assert _kept_stems(story)[0] < 0.01 < chance
    assert "keep" in story.due("K7")


async def test_a_room_first_read_after_the_winter_does_not_count_it_as_warm(story: Story) -> None:
    story.at("2027-06-01 07:00").type(WINTERS, "K7 2 females Satyrium lenta on blackthorn")
    story.at("2027-06-02 08:30").type("K7 host changed, old kept")
    before, _ = _kept_stems(story)
    story.at("2028-04-02 08:30").type("room 20/24")
    story.at("2028-04-03 08:30").type("room 20/24", "K7 frass none")
    after, until = _kept_stems(story)
    assert after > 0.9 * before
    assert until is not None
    async with story.screens(size=(140, 50)) as screen:
        await screen.press("i")
        await screen.pilot.pause()
        assert "degree-days after the winter" in screen.words


def test_in_the_south_winter_is_half_a_year_later(story: Story) -> None:
    story.at("2027-05-31 07:00").type("setting latitude -36.8")
    _kept(story)
    story.at("2027-07-10 08:30")
    assert "frass" not in story.due("K7")
    story.at("2027-08-20 08:30")
    assert "frass" in story.due("K7")


def test_of_two_species_one_of_which_winters_the_watch_is_kept_and_the_stems_too(
    story: Story,
) -> None:
    story.at("2027-06-01 07:00").type("K7 1 female Satyrium alta on blackthorn")
    _kept(story, "1 female Satyrium lenta", found=0)
    story.at("2027-06-20 08:30")
    assert _kept_stems(story)[1] is None
    assert "frass" in story.due("K7")  # those of the other may hatch in June


def test_in_a_container_set_up_for_winter_they_rest_where_nobody_said_how_it_winters(
    story: Story,
) -> None:
    story.at("2027-08-01 07:00").type("K7 2 females Satyrium lenta on blackthorn")
    story.at("2027-08-02 08:30").type("room 20/24", "W1 set up overwintering")
    story.type("K7 searched 0", "K7 host out held in W1")
    story.at("2027-10-01 08:30")
    assert "frass" not in story.due("W1")
    assert "keep" not in story.due("W1")
    assert "over the winter" in story.refused("W1 host out binned")
    for day in range(10, 21):
        story.at(f"2028-02-{day} 08:30").type("room 2/4")
    assert "frass" not in story.due("W1")  # nothing hatches while it is so cold


def test_neither_the_sheet_nor_the_calendar_asks_for_them_in_june(story: Story) -> None:
    _kept(story)
    story.at("2027-06-20 08:30")
    sheet = story.shell("sheet", "--from", "+1h", "--to", "+9d").out
    assert "K7" in sheet
    assert "Black specks" not in sheet
    out = story.folder.parent / "out.ics"
    assert story.shell("export", "ics", str(out)).status == 0
    calendar = out.read_text().replace("\r\n ", "").replace("\n ", "")
    assert "BEGIN:VEVENT" in calendar
    assert "frass" not in calendar
    assert "keep until" not in calendar
