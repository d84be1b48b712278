"""A digit or a unit that slipped: what it would make is asked about, wherever it is typed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize(
    ("cups", "number"),
    [
        ("C2-C99999", "99,998"),
        ("C2-99999", "99,998"),
        ("C1-C250", "250"),
        ("C10000-C19999", "10,000"),
    ],
)
def test_a_range_over_thousands_is_no_cup(story: Story, cups: str, number: str) -> None:
    told = story.refused(f"{cups} set up laying")
    assert f"{cups} are {number} containers; one line names at most 200, as: C" in told
    assert not story.desk.bench.containers
    assert story.shell("log", f"{cups} set up laying").status == 1


def test_what_it_says_would_be_right_is_right(story: Story) -> None:
    story.type("C10000-C10002 set up rearing", "C10000-C10002 cleaned")
    assert sorted(story.desk.bench.containers) == ["C10000", "C10001", "C10002"]
    assert "runs from the lower number to the higher, as: C3-C10002" in story.refused(
        "C10002-C3 set up laying"
    )


def test_codes_that_look_alike_stay_codes(story: Story) -> None:
    story.type("W2026-03 set up rearing", "W1-20260514 set up rearing", "W2026-03 cleaned")
    assert sorted(story.desk.bench.containers) == ["W1-20260514", "W2026-03"]


@pytest.mark.parametrize(
    "line",
    [
        "room 60",
        "room 20 to 60",
        "K2 55C",
        "K2 air 51 40%",
        "air shelf=A temperature_c=58",
        "room 60C",
    ],
)
def test_a_warmth_in_which_nothing_lives_is_asked_about(story: Story, line: str) -> None:
    story.type("K2 set up laying", "shelf set up A")
    told = story.refused(line)
    assert "hotter than anything lives in" in told
    assert "if F was meant, " in told
    assert "add 'sure'" in told
    assert not story.desk.bench.air
    story.type(f"{line} sure")
    assert story.desk.bench.air


def test_what_it_says_would_be_right_is_taken(story: Story) -> None:
    assert "if F was meant, 60F (15.6 C)" in story.refused("room 60")
    story.type("room 60F")
    assert "if F was meant, 72F (22.2 C)" in story.refused("room 72")
    assert "F was meant" not in story.refused("room 150F")
    assert "F was meant" not in story.refused("room -45")


def test_in_fahrenheit_nobody_is_asked_of_a_usual_room(story: Story) -> None:
    story.type("setting temperature F", "room 72")
    story.later(hours=1)
    told = story.refused("room 130")
    assert "130 F is hotter than anything lives in" in told
    assert "was meant" not in told


def test_a_limit_in_which_nothing_lives_is_refused(story: Story) -> None:
    told = story.refused("shelf set up A cold 10 warm 30 hot 55")
    assert "hot is 55 C, hotter than anything lives in" in told
    assert "if F was meant, 55F (12.8 C)" in told


def logger(tmp_path: Path, heading: str, warmth: int) -> str:
    path = tmp_path / "log.csv"
    rows = "".join(f"2027-04-30 {hour:02}:00,{warmth + hour % 3}\n" for hour in range(24))
    path.write_text(f"Time,{heading}\n{rows}")
    return str(path)


@pytest.mark.parametrize("heading", ["Temperature (C)", "Temperature °C"])
def test_a_logger_whose_heading_cannot_be_right_is_asked_about(
    story: Story, tmp_path: Path, heading: str
) -> None:
    story.type("K2 set up laying")
    path = logger(tmp_path, heading, 54)
    ran = story.shell("temperatures", path)
    assert ran.status != 0
    assert "its heading says Celsius, but half of them are above 50 C" in ran.err
    assert "--unit" in ran.err
    story.reopen()
    assert not story.desk.bench.logged
    assert story.shell("temperatures", path, "--unit", "f").status == 0
    story.reopen()
    assert story.desk.bench.logged[""][0].high_c == pytest.approx(13.3, abs=0.1)


def test_a_logger_in_a_usual_room_is_not_asked_about(story: Story, tmp_path: Path) -> None:
    story.type("K2 set up laying")
    assert story.shell("temperatures", logger(tmp_path, "Temperature (C)", 24)).status == 0
