"""The question whether to discard names the lot that may go, and the table of lots has it on top; the key discards no other."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def lots(story: Story) -> Story:
    """S1 with seven lots, of which she sat on the fourth for a quarter of an hour."""
    out, put = "K1 host out kept in S1", "K1 host in sloe 2 stems"
    story.at("2031-06-08 07:00").type("S1 set up host store", "K1 1 female Satyrium spini", put)
    for day in ("09", "10", "12"):
        story.at(f"2031-06-{day} 07:00").type(out, put)
    story.at("2031-06-12 07:15").type("K1 searched 0", out, put)
    for day in (13, 14, 15):
        story.at(f"2031-06-{day} 07:00").type(out, put)
    return story.at("2031-06-16 07:00").type("S1 frass none") and story.at("2031-06-16 18:00")


async def test_it_is_named_and_seen(lots: Story) -> None:
    async with lots.screens((80, 24)) as screen:
        await screen.press("r")
        await screen.walk_to("keep", "S1")
        assert "Lot 4, sloe D from K1: kept long enough. Discard it?" in screen.words
        rows = screen.text.splitlines()
        head = next(at for at, row in enumerate(rows) if row.startswith("   lot  from"))
        assert "may go" in rows[head + 1]
        await screen.press("b")
    assert [lot.number for lot in lots.desk.bench.containers["S1"].held] == [1, 2, 3, 5, 6, 7]


def test_on_lines_too(lots: Story) -> None:
    printed = lots.plain(["r", *(["-", "m"] * 40)])
    aloud = [line for line in printed if line.startswith("Lot ")]
    assert any("Lot 4, sloe D from K1: kept long enough. Discard it?" in one for one in printed)
    of_stop = aloud.index(next(one for one in aloud if one.startswith("Lot 4, 2 stems")))
    assert of_stop == 0


def test_what_may_go_since_is_named_too(lots: Story) -> None:
    lots.at("2031-06-27 07:00").type("S1 frass none")
    due = lots.due("S1")["keep"]
    held = {lot.number for lot in lots.desk.bench.containers["S1"].held}
    named = {number for number in held if f"lot {number}, " in due["arithmetic"]}
    assert 4 in named < held


async def test_of_seven_frass_is_asked_with_the_one_that_waits_on_top(lots: Story) -> None:
    lots.type("S1 frass none lot=1,2,4,5,6,7")
    lots.at("2031-06-18 18:00")
    async with lots.screens((80, 24)) as screen:
        await screen.press("r")
        await screen.walk_to("frass", "S1")
        rows = screen.text.splitlines()
        head = next(at for at, row in enumerate(rows) if row.startswith("   lot  from"))
        assert rows[head + 1].split()[0] == "3"
