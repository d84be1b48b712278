"""Noon, two hours ago, early this morning: a time wherever it stands, or asked; no part of a name."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from tests.stories.telling import Story, tell

BENCH = """
    K7 2 females Callophrys arenosa on blackthorn
    R2 set up rearing
    brood C-1/A taxon='Callophrys arenosa'
    R2 stocked 6 L3 C-1/A
    R2 host in blackthorn
"""


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story.at("2027-05-31 07:00"), BENCH)
    return story.at("2027-06-02 18:10")


SAYINGS = [
    "K7 3 eggs on blackthorn {}",
    "K7 searched 2 on blackthorn {}",
    "K7 searched 0 {}",
    "K7 drank {}",
    "K7 looked {}",
    "K7 host in rockrose {}",
    "K7 host changed {}",
    "R2 1 missing {}",
    "R2 host changed {}",
    "R2 cleaned {}",
    "R2 counted 6 {}",
    "R2 moulted 2 L4 {}",
    "R2 food limp {}",
    "R2 1 died {}",
    "room 20/24 {}",
    "K8 1 female Callophrys arenosa on gorse {}",
    "K8 1 female Callophrys arenosa on blackthorn {}",
    "K8 set up laying shelf=sill {}",
    "K7 offered sugar {}",
]
TIMES = {
    "at noon": "2 12:00",
    "at midday": "2 12:00",
    "noon": "2 12:00",
    "yesterday at noon": "1 12:00",
    "yesterday midday": "1 12:00",
    "two hours ago": "2 16:10",
    "an hour ago": "2 17:10",
    "about two hours ago": "2 16:10",
    "one and a half hours ago": "2 16:40",
    "early this morning at 6:10": "2 06:10",
    "early yesterday at 7:05": "1 07:05",
    "late yesterday evening at 22:10": "1 22:10",
    "late last night at 22:10": "1 22:10",
    "yesterday evening at 22:10": "1 22:10",
    "this morning at 8:20": "2 08:20",
    "yesterday at dusk 21:40": "1 21:40",
    "at dawn 5:10": "2 05:10",
}


def taken_at(story: Story) -> str:
    at = datetime.fromisoformat(story.on_disk()[-1]["at"]).astimezone(ZoneInfo("Europe/Paris"))
    return f"{at.day} {at:%H:%M}"


@pytest.mark.parametrize("time", TIMES)
def test_it_is_a_time_behind_whatever_was_said(bench: Story, time: str) -> None:
    wrong = {}
    for saying in SAYINGS:
        line = saying.format(time)
        said = bench.preview(line)
        bench.type(line)
        at = taken_at(bench)
        words = {"noon", "midday", "ago", "early", "late", "dusk", "dawn", "morning", "hours"}
        written = [
            str(value)
            for entry in bench.on_disk()
            for name, value in entry.items()
            if name not in ("id", "at", "logged") and words & set(str(value).split())
        ]
        if at != TIMES[time] or written:
            wrong[line] = (at, said, written)
        bench.desk.strike_last()
    assert not wrong, wrong


@pytest.mark.parametrize(
    "time",
    [
        "at dusk",
        "at dawn",
        "dusk",
        "yesterday at dusk",
        "this morning",
        "last night",
        "late last night",
        "yesterday evening",
        "a few hours ago",
        "some time ago",
    ],
)
def test_without_an_hour_it_is_asked(bench: Story, time: str) -> None:
    for saying in SAYINGS:
        asked = bench.refused(saying.format(time))
        assert "what time" in asked or "how long ago" in asked, (saying, asked)


@pytest.mark.parametrize("time", ["dusk", "last night", "some time ago"])
def test_what_is_asked_gives_words_that_are_taken(bench: Story, time: str) -> None:
    words = bench.refused(f"K7 searched 0 {time}").rpartition("ay it as: ")[2]
    bench.at("2027-06-02 23:10").type(f"K7 searched 0 {words.partition('; ')[0]}")
    assert bench.on_disk()[-1]["at"] < "2027-06-02T23:10"


@pytest.mark.parametrize(
    "line",
    [
        "at noon K7 drank",
        "noon: K7 drank",
        "two hours ago K7 drank",
        "K7 two hours ago drank",
        "early this morning at 6:10 K7 drank",
    ],
)
def test_in_front_too(bench: Story, line: str) -> None:
    bench.type(line)
    assert taken_at(bench) in ("2 12:00", "2 16:10", "2 06:10")


def test_a_name_in_quotes_and_a_note_keep_their_words(bench: Story) -> None:
    bench.type("K7 host in 'noon flower'", "K7 note limp at noon, fresh at dusk")
    assert bench.on_disk()[-2]["plant"] == "noon flower"
    assert bench.on_disk()[-1]["text"] == "limp at noon, fresh at dusk"
