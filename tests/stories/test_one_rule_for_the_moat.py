"""How a moat stands is one thing: the list, the map, the stop and a look at the cup say the same."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest

from rounds.screens.rowlist import RowList
from tests.stories.telling import Story, tell

BENCH = """
shelf set up sill moat
shelf set up board moat
C3 set up rearing shelf=board place=1
K2 set up laying shelf=sill place=1
K2 founder W3 "Boloria dia" female place="Bank A" caught=2027-04-28
brood DIA-27/A taxon='Boloria dia'
C3 host in Viola water
C3 stocked 4 L3 DIA-27/A
sill moat full 12 mm
board moat full 20 mm
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """A sill and a board, each with a moat; a laying cup and a brood."""
    story.at("2027-05-01 18:00")
    tell(story, BENCH)
    return story


async def rows(story: Story, word: str, size: tuple[int, int] = (120, 40)) -> list[str]:
    """The rows of the list, then those of the map, that have a word."""
    async with story.screens(size) as screen:
        shown = screen.text.splitlines()
        await screen.press("m")
        return [row for row in shown + screen.text.splitlines() if word in row]


async def test_a_depth_under_the_mark_is_low_wherever_it_is_shown(bench: Story) -> None:
    bench.at("2027-05-02 18:05").type("sill topped up 7.9 mm")
    told = await rows(bench.at("2027-05-02 18:10"), "moat")
    assert sum("moat 7.9 mm, low" in row for row in told) >= 2, told
    assert not any("7.9 mm, ok" in row or "sill moat ok" in row for row in told), told
    assert any("sill moat low" in row and "board moat ok" in row for row in told), told
    assert "moat 7.9 mm, low" in bench.shell("shelves").out


async def test_water_lost_since_the_last_look_is_said_as_it_is_by_now(bench: Story) -> None:
    told = await rows(bench.at("2027-05-04 07:05"), "moat")
    assert any("sill   moat about 4 mm by now, low" in row for row in told), told
    assert any("sill moat low by now" in row and "board moat ok" in row for row in told), told
    assert any(row.startswith((" . K2", " : K2", " = K2", " # K2")) for row in told), told


async def test_space_says_as_before_where_the_last_look_was_low(bench: Story) -> None:
    bench.at("2027-05-01 19:00").type("sill moat low 7 mm")
    async with bench.at("2027-05-02 18:05").screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "sill")
        answers = screen.text.split("How is the ant barrier?")[1]
        assert "Space or k  low as before" in answers
        assert "full" not in answers
        assert answers.index("p  topped up") < answers.index("e  dry")
        await screen.press("space")
        await screen.walk_to("ants", "board")
        assert "Space  not low" in screen.text
    last = [line for line in bench.on_disk() if line["what"] == "barrier"][-1]
    assert (last["shelf"], last["state"]) == ("sill", "low")


async def test_space_records_no_forecast_that_nobody_read(bench: Story) -> None:
    async with bench.at("2027-05-04 07:05").screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "sill")
        walked = len(bench.on_disk())
        await screen.press("space")
        assert "Space does nothing here" in screen.text
        assert len(bench.on_disk()) == walked, "a forecast is no reading"
        await screen.press("5", "enter")
    last = [line for line in bench.on_disk() if line["what"] == "barrier"][-1]
    assert (last["shelf"], last["state"], last["depth_mm"]) == ("sill", "low", 5.0)


async def test_a_depth_alone_says_whether_it_is_full_again(bench: Story) -> None:
    bench.at("2027-05-01 19:00").type("sill moat low 4 mm")
    async with bench.at("2027-05-02 07:05").screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "sill")
        await screen.press("1", "5", "enter")
    last = [line for line in bench.on_disk() if line["what"] == "barrier"][-1]
    assert (last["state"], last["depth_mm"]) == ("full", 15.0)


async def test_ants_past_it_stay_past_it_until_it_is_said_otherwise(bench: Story) -> None:
    bench.at("2027-05-01 19:00").type("sill moat breached 3 above")
    async with bench.at("2027-05-02 07:05").screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "sill")
        assert "Space  3 ants above the water as before" in screen.text
        await screen.press("space")
    last = [line for line in bench.on_disk() if line["what"] == "barrier"][-1]
    assert (last["state"], last["ants_above"]) == ("breached", 3)
    assert "ants" in bench.due("sill")


async def test_one_look_does_not_call_a_low_moat_full(story: Story) -> None:
    story.at("2027-05-01 18:00")
    tell(
        story,
        """
        C3 set up rearing moat
        brood DIA-27/A taxon='Boloria dia'
        C3 host in Viola damp paper
        C3 stocked 4 L3 DIA-27/A
        C3 moat full 9 mm
        """,
    )
    async with story.at("2027-05-02 18:05").screens() as screen:
        await screen.press("r")
        await screen.walk_to("look", "C3")
        assert "moat not low" not in screen.words.casefold()


async def test_away_goes_by_the_first_limit_as_the_bench_does(bench: Story) -> None:
    bench.at("2027-05-02 07:05").type("board moat 10 mm")
    bench.at("2027-05-02 18:05").type("board moat topped up 20 mm")
    (ants,) = [one for one in bench.desk.dues() if one.check == "ants" and one.where == "board"]
    leaving = timedelta(hours=1)  # as the page has it before a time is given
    first = (ants.due + leaving).astimezone(bench.clock.now.tzinfo)
    assert ants.late is not None
    assert ants.due < ants.late, "the likeliest is later than the first limit"
    async with bench.screens((160, 50)) as screen:
        await screen.press("b")
        assert re.search(r"dry after about \S+ \w+, \S+ \w+ at the earliest", screen.words)
        (row,) = [one for one in screen.text.splitlines() if "filled to 20 mm" in one]
    assert f"late {first:%H:%M}" in row, row


async def test_a_depth_that_is_low_is_called_so_and_asked_to_be_filled(story: Story) -> None:
    story.at("2027-06-01 08:00").type("shelf set up sill moat", "K6 set up laying shelf=sill")
    story.type("K6 1 female Pieris napi on garlic mustard")
    story.at("2027-06-01 18:00")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "sill")
        await screen.press("8", "enter")
        assert "barrier low, 8 mm" in screen.message
        assert (screen.check, screen.where) == ("ants", "sill"), "it is to be filled up"
        assert "topped up" in screen.words
        await screen.press("space")
        assert screen.where == "K6", "left low knowingly"


async def test_a_low_moat_that_is_dry_by_now_stands_on_top_and_is_asked_so(bench: Story) -> None:
    bench.at("2027-05-02 07:05").type("sill moat low 4 mm")
    row = bench.at("2027-05-03 07:05").due("sill")["ants"]
    assert row["state"] == "urgent"
    assert "moat dry by now, low, seen Sun 07:05" in row["arithmetic"], row
    async with bench.screens() as screen:
        top = screen.text.splitlines()[1:4]
        assert any("urgent" in row and "moat dry by now" in row for row in top), screen.text
        screen.highlight("shelf|sill|ants")
        await screen.press("enter")
        asked = screen.text.split("sill: How is the ant barrier?")[1]
        assert asked.index("e  dry") < asked.index("p  topped up")
        await screen.press("escape")
        await screen.press("r")
        await screen.walk_to("ants", "sill")
        answers = screen.text.split("How is the ant barrier?")[1]
        assert "low as before" not in answers
        assert answers.index("e  dry") < answers.index("p  topped up")
        await screen.press("e")
    last = [line for line in bench.on_disk() if line["what"] == "barrier"][-1]
    assert (last["shelf"], last["state"]) == ("sill", "dry")


def test_a_moat_seen_low_when_it_should_be_dry_is_low(bench: Story) -> None:
    bench.at("2027-05-02 07:05").type("sill moat low 4 mm")
    bench.at("2027-05-03 07:05").type("sill moat low")
    row = bench.due("sill")["ants"]
    assert row["state"] == "late"
    assert "dry" not in row["arithmetic"].partition("late from")[0], row
    assert "dry by now" not in bench.shell("shelves").out


async def test_a_line_of_a_shelf_has_keys_and_a_card_of_its_own(bench: Story) -> None:
    async with bench.at("2027-05-04 07:05").screens((120, 40)) as screen:
        assert screen.app.screen.query_one(RowList).highlight("shelf|sill|ants")
        await screen.pilot.pause()
        keys = screen.text.splitlines()[-1]
        assert not any(word in keys for word in (" host", " search", " count", " look")), keys
        assert "Right card" not in keys, "it stands open"
        assert screen.card.startswith("shelf sill moat about 4 mm by now, low")
        await screen.press("left")
        assert "Right card" in screen.text.splitlines()[-1]
        await screen.press("right")
        assert screen.card.startswith("shelf sill moat about 4 mm by now, low")
        await screen.press("a")
        assert (screen.check, screen.where) == ("ants", "sill")


async def test_what_is_ahead_says_of_a_low_moat_since_when_it_was_seen_so(bench: Story) -> None:
    bench.at("2027-05-02 07:05").type("sill moat low 4 mm")
    async with bench.at("2027-05-03 07:05").screens((120, 40)) as screen:
        await screen.press("full_stop", "enter", "down", "down")
        words = screen.words
    assert "sill, moat low since " in words
