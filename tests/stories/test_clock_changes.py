"""Across a clock change: what is said now is taken, and a span is as long as it says. Europe/Paris in 2027.

The clocks go from 02:00 to 03:00 on 28 March and from 03:00 back to 02:00 on 31 October, both at 01:00 UTC (the IANA time zone
database has it so; the rule is that of directive 2000/84/EC, from memory).
"""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from tests.stories.telling import ZONE, Story


def _at_utc(story: Story, instant: str) -> datetime:
    story.clock.now = datetime.fromisoformat(f"{instant}+00:00").astimezone(ZONE)
    return story.clock.now


def _a_female_the_evening_before(story: Story, evening: str) -> None:
    story.at(evening).type(
        "K1 set up laying", 'K1 founder W1 "Pieris napi"', 'K1 host in "Alliaria petiolata"'
    )


@pytest.mark.parametrize("instant", ["2027-10-31 00:20", "2027-10-31 01:20", "2027-10-31 02:20"])
def test_now_is_taken_in_the_hour_that_comes_twice(story: Story, instant: str) -> None:
    _a_female_the_evening_before(story, "2027-10-30 20:00")
    now = _at_utc(story, instant)
    ran = story.shell("log", "K1", "drank")
    assert ran.status == 0, ran.err
    assert story.on_disk()[-1]["at"] == now.isoformat()


SPANS = [
    ("2027-03-28 07:05", "8h", "2027-03-28T00:05:00+01:00"),
    ("2027-03-28 07:00", "7h", "2027-03-28T01:00:00+01:00"),
    ("2027-10-31 07:00", "6h", "2027-10-31T02:00:00+01:00"),
    ("2027-10-31 07:00", "7h", "2027-10-31T02:00:00+02:00"),
    ("2027-10-31 01:30", "20m", "2027-10-31T02:10:00+01:00"),
    ("2027-10-31 01:10", "20m", "2027-10-31T02:50:00+02:00"),
    ("2027-10-31 07:00", "24h", "2027-10-30T09:00:00+02:00"),
    ("2027-10-31 07:00", "1d", "2027-10-30T08:00:00+02:00"),  # a day: the same hour
]


@pytest.mark.parametrize(("instant", "span", "then"), SPANS)
def test_a_span_is_as_long_as_it_says(story: Story, instant: str, span: str, then: str) -> None:
    _a_female_the_evening_before(story, f"{instant[:8]}{int(instant[8:10]) - 3} 20:00")
    _at_utc(story, instant)
    ran = story.shell("log", "K1", "drank", f"-{span}")
    assert ran.status == 0, ran.err
    assert story.on_disk()[-1]["at"] == then
    story.type(f"K1 drank -{span}")
    assert story.on_disk()[-1]["at"] == then


@pytest.mark.parametrize(("instant", "span", "then"), SPANS)
def test_an_earlier_answer_of_the_round_is_as_long_ago_as_it_says(
    story: Story, instant: str, span: str, then: str
) -> None:
    _a_female_the_evening_before(story, f"{instant[:8]}{int(instant[8:10]) - 3} 20:00")
    _at_utc(story, instant)
    known = len(story.on_disk())
    story.plain([f"w -{span}", "18.5", "q"])  # the thermometer of the room is asked first
    assert then in [line["at"] for line in story.on_disk()[known:]]


async def test_the_key_of_drinking_is_taken_in_the_hour_that_comes_twice(story: Story) -> None:
    _a_female_the_evening_before(story, "2027-10-30 20:00")
    now = _at_utc(story, "2027-10-31 01:20")
    async with story.screens() as screen:
        screen.highlight("K1")
        await screen.press("d")
    assert story.on_disk()[-1]["what"] == "drank"
    assert story.on_disk()[-1]["at"] == now.isoformat()


def test_a_clock_time_of_the_hour_that_came_twice_has_passed(story: Story) -> None:
    _a_female_the_evening_before(story, "2027-10-30 20:00")
    now = _at_utc(story, "2027-10-31 01:20")
    story.type("K1 drank 02:50")  # its first coming, half an hour ago
    at = datetime.fromisoformat(story.on_disk()[-1]["at"])
    assert now.astimezone(at.tzinfo) - at == timedelta(minutes=30)


def test_of_a_time_that_comes_twice_it_is_said_which_was_taken_and_how_to_say_the_other(
    story: Story,
) -> None:
    _a_female_the_evening_before(story, "2027-10-30 20:00")
    _at_utc(story, "2027-10-31 06:00")
    words = "the clocks went back, it came twice: the first is taken; type 2027-10-31T02:30+01:00 for the other"
    assert f"({words})" in story.preview("K1 drank 02:30")
    assert f"({words})" in story.shell("log", "K1", "drank", "2:30").out
    assert "2027-10-31T02:30:00+02:00" in [one["at"] for one in story.on_disk()]
    assert "twice" not in "".join(story.type("K1 drank 2027-10-31T02:30+01:00"))
    assert "2027-10-31T02:30:00+01:00" in [one["at"] for one in story.on_disk()]
    assert "twice" not in "".join(story.type("K1 drank -20m", "K1 drank 03:30"))
    assert words in "".join(story.plain(["w 02:30"]))


def test_where_the_second_is_still_to_come_there_is_no_doubt(story: Story) -> None:
    _a_female_the_evening_before(story, "2027-10-30 20:00")
    _at_utc(story, "2027-10-31 00:50")
    assert "twice" not in story.preview("K1 drank 02:30")


async def test_the_same_is_said_where_the_next_answers_happened(story: Story) -> None:
    _a_female_the_evening_before(story, "2027-10-30 20:00")
    _at_utc(story, "2027-10-31 06:00")
    async with story.screens((120, 40)) as screen:
        await screen.press("h", "w", *"02:30", "enter")
        assert "it came twice: the first is taken" in " ".join(screen.text.split())


@pytest.mark.parametrize(
    ("now", "day", "before"),
    [("2027-04-20 08:00", "20 Mar", "19 Mar"), ("2027-11-20 08:00", "20 Oct", "19 Oct")],
)
def test_a_first_line_of_before_the_change_has_the_times_it_says(
    story: Story, now: str, day: str, before: str
) -> None:
    """Of the cup, its animals, the catch and the laying alike; at the first start too."""
    story.at(now).type(
        f"{day} 18:00 K2 1 female Lycia hirtaria on birch caught {before} 20:00",
        f"{day} 18:00 K3 1 female Lycia hirtaria 47.1N 8.2E caught {before} 20:00",
        f"{day} 18:00 E2 40 eggs Lycia hirtaria laid {before} 21:00",
        f"{day} 18:00 E3 40 eggs Lycia hirtaria laid {before}",
    )
    start = story.elsewhere()
    typed = f"Bench\n49.2N 0.4W Europe/Paris\n1\nE4 eggs\n40 eggs Lycia hirtaria laid {before} 21:00, since {day} 18:00\n\n"
    ran = start.shell("begin", typed=typed)
    start.reopen()
    assert start.desk.bench.at("E4"), ran.out + ran.err
    clocks = set()
    for line in (*story.desk.entries(), *start.desk.entries()):
        times = [line.at] if line.at < line.logged - timedelta(days=1) else []
        times += [getattr(line, name, None) for name in ("caught", "laid_from", "laid_to")]
        clocks |= {f"{at.astimezone(ZONE):%d %H:%M}" for at in times if at}
    assert clocks == {"20 18:00", "19 20:00", "19 21:00", "19 00:00", "19 23:59"}
