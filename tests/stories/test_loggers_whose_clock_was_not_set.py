"""A logger whose clock was not set: a year of four digits means itself, and what it read then is left out."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story

GOOD = "2027-04-01 00:00,20\n2027-04-01 01:00,20\n"


@pytest.mark.parametrize(
    "day",
    [
        "0001-01-01",
        "0026-04-01",
        "0099-12-31",
        "00010101",
        "1 Jan 0001",
        "Jan 1, 0001",
        "01.04.0026",
    ],
)
def test_a_year_of_four_digits_means_itself(story: Story, tmp_path: Path, day: str) -> None:
    path = tmp_path / "logger.csv"
    path.write_text(f'Time,Temp (C)\n"{day} 00:00",20\n{GOOD}')
    ran = story.shell("temperatures", str(path), "--date-order", "dmy")
    assert ran.status == 0, ran.err
    assert "2 readings from Thu 01 Apr 2027" in ran.out
    assert (
        "left out 1 line: its time is before 1990, as of a clock that was not set (line 2)"
        in ran.out
    )


def test_a_year_of_two_digits_is_of_this_century(story: Story, tmp_path: Path) -> None:
    path = tmp_path / "logger.csv"
    path.write_text("Time,Temp (C)\n01.04.27 00:00,20\n01.04.27 01:00,20\n")
    ran = story.shell("temperatures", str(path), "--date-order", "dmy")
    assert "2 readings from Thu 01 Apr 2027" in ran.out


@pytest.mark.parametrize("bad", ["---", "", "Err"])
def test_first_readings_without_a_temperature_are_readings_left_out(
    story: Story, tmp_path: Path, bad: str
) -> None:
    path = tmp_path / "logger.csv"
    path.write_text(
        f"Name,1 Apr 2027 00:00\nTime,Temp (F)\n2027-03-31 22:00,{bad}\n2027-03-31 23:00,{bad}\n{GOOD}"
    )
    ran = story.shell("temperatures", str(path))
    assert ran.status == 0, ran.err
    assert "table: from line 3, " in ran.out
    assert "'Temp (F)'" in ran.out
    why = "its temperature is no number" if bad else "no temperature"
    assert f"left out 2 lines: {why} (lines 3, 4)" in ran.out
