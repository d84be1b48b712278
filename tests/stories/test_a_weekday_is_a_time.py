"""A whole weekday behind what was said is when it happened; it is no part of a plant's name."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_times_of_day_in_words import BENCH, SAYINGS


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story.at("2027-05-29 07:00"), BENCH)
    return story.at("2027-06-02 18:10")  # a Wednesday


def times(story: Story, since: int) -> set[str]:
    return {
        f"{at.month}-{at.day} {at:%H:%M}"
        for entry in story.on_disk()[since:]
        for at in [datetime.fromisoformat(entry["at"]).astimezone(ZoneInfo("Europe/Paris"))]
    }


TIMES = {
    "Monday": "5-31 12:00",
    "tuesday": "6-1 12:00",
    "on Monday": "5-31 12:00",
    "Wednesday": "6-2 12:00",
    "Monday 8:00": "5-31 08:00",
    "Monday at 8:00": "5-31 08:00",
    "Monday evening at 7": "5-31 19:00",
    "Monday night at 2:00": "6-1 02:00",
}


@pytest.mark.parametrize("time", TIMES)
def test_it_is_a_time_behind_whatever_was_said(bench: Story, time: str) -> None:
    wrong = {}
    for saying in SAYINGS:
        line = saying.format(time)
        before = len(bench.on_disk())
        bench.preview(line)
        bench.type(line)
        written = [
            str(value)
            for entry in bench.on_disk()[before:]
            for value in entry.values()
            if {"monday", "tuesday", "wednesday"} & {*str(value).casefold().split()}
        ]
        if times(bench, before) != {TIMES[time]} or written:
            wrong[line] = (times(bench, before), written)
        bench.desk.strike_last()
    assert not wrong, wrong


@pytest.mark.parametrize(
    "line",
    [
        "K2 15 L3 Hyles gallii on spurge {}",
        "K2 40 eggs Hyles gallii on spurge {}",
        "K2 15 L3 Hyles gallii {} on spurge",
        "K2 15 L3 Hyles gallii on spurge since {}",
        "{} K2 15 L3 Hyles gallii on spurge",
        "K2 2 females Hyles gallii on spurge {}",
    ],
)
def test_it_holds_for_all_of_a_line_that_sets_up(bench: Story, line: str) -> None:
    before = len(bench.on_disk())
    assert "Mon" in bench.preview(line.format("Monday"))
    bench.type(line.format("Monday"))
    assert times(bench, before) == {"5-31 12:00"}
    assert bench.on_disk()[-1].get("plant", "spurge") == "spurge"


def test_of_a_wild_one_it_is_asked_or_that_of_the_catch(bench: Story) -> None:
    asked = bench.refused("K2 2 females Hyles gallii Monday on spurge")
    assert "caught then, or here since then?" in asked
    bench.type("K2 2 females Hyles gallii from Hollow Mead Monday on spurge")
    (caught,) = {entry["caught"] for entry in bench.on_disk() if entry.get("place")}
    assert caught.startswith("2027-05-31T12:00")


@pytest.mark.parametrize("line", ["Monday K7 drank", "Monday: K7 drank", "K7 Monday drank"])
def test_in_front_too(bench: Story, line: str) -> None:
    before = len(bench.on_disk())
    bench.type(line)
    assert times(bench, before) == {"5-31 12:00"}


@pytest.mark.parametrize("word", ["last", "next", "this"])
@pytest.mark.parametrize(
    "line", ["K7 host in spurge {} Monday", "K2 15 L3 Hyles gallii on spurge {} Monday"]
)
def test_which_one_is_asked(bench: Story, word: str, line: str) -> None:
    assert f"which day is '{word} Monday'?" in bench.refused(line.format(word))


@pytest.mark.parametrize("line", ["K7 host in spurge Monday evening", "K7 drank Monday night"])
def test_without_an_hour_a_part_of_it_is_asked(bench: Story, line: str) -> None:
    assert "at what time? In place of" in bench.refused(line)
    assert "monday 22:10" in bench.refused("K7 drank Monday night").casefold()


def test_before_a_name_it_is_asked(bench: Story) -> None:
    for line in ("K7 host in Sunday rose", "K7 founder Boloria dia female at Friday Wood"):
        assert "in quotes it is part of a name" in bench.refused(line)


def test_in_quotes_and_in_a_note_it_stays(bench: Story) -> None:
    bench.type(
        "K7 host in 'spurge Monday'",
        "K7 host in 'Sunday rose'",
        "K7 note Monday check the moat",
        "K7 host in spurge -- since Monday",
        "K3 15 L3 Hyles gallii on 'Sunday rose'",
    )
    plants = [entry["plant"] for entry in bench.on_disk() if entry["what"] == "host in"]
    assert plants[-4:] == ["spurge Monday", "Sunday rose", "spurge", "Sunday rose"]
    notes = [entry["text"] for entry in bench.on_disk() if entry["what"] == "note"]
    assert notes == ["Monday check the moat", "since Monday"]


def test_of_what_is_ahead_it_is_the_next_one(bench: Story) -> None:
    bench.type("R2 do not disturb until Monday")
    assert bench.on_disk()[-1]["until"].startswith("2027-06-07T12:00")
    bench.type("K7 host in spurge cut Monday")
    assert bench.on_disk()[-1]["cut"].startswith("2027-05-31T12:00")


def test_a_time_between_the_plant_and_its_stems_is_not_lost(bench: Story) -> None:
    for time in ("yesterday", "Monday"):
        asked = bench.refused(f"K2 15 L3 Hyles gallii on spurge {time} 3 stems")
        assert "at the end of the line" in asked
    before = len(bench.on_disk())
    bench.type("K2 15 L3 Hyles gallii on spurge 3 stems Monday")
    assert times(bench, before) == {"5-31 12:00"}
