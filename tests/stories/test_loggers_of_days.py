"""A file of days with their lowest and highest is read, and counts as what a keeper reads off a thermometer."""

from __future__ import annotations

from pathlib import Path

import pytest

from rounds.biology.degree_days import Thresholds
from tests.stories.telling import Story, tell

DAYS = {
    "commas": "Date,Min temp (C),Max temp (C)\n2027-04-28,14.2,22.1\n2027-04-29,13.0,24.0\n2027-04-30,15.1,21.0\n",
    "semicolons": "Day;Lowest °C;Highest °C;Humidity\n28.4.2027;14,2;22,1;60\n29.4.2027;13,0;24,0;62\n30.4.2027;15,1;21,0;70\n",
    "fahrenheit": "date\tt_min\tt_max\n2027-04-28\t57.56\t71.78\n2027-04-29\t55.4\t75.2\n2027-04-30\t59.18\t69.8\n",
}


def file_of(tmp_path: Path, text: str) -> str:
    path = tmp_path / "days.csv"
    path.write_text(text)
    return str(path)


@pytest.mark.parametrize("layout", DAYS)
def test_each_day_is_taken_in_once(story: Story, tmp_path: Path, layout: str) -> None:
    story.at("2027-04-20 08:00").type("R4 set up rearing")
    story.at("2027-05-01 08:00")
    ran = story.shell("temperatures", file_of(tmp_path, DAYS[layout]), "--place", "R4")
    assert (ran.status, ran.err) == (0, ""), ran.err
    assert "taken in: lowest and highest of 3 new days" in ran.out
    story.reopen()
    read = story.desk.bench.air["R4"]
    assert [(air.at.day, round(air.low_c or 0, 1), round(air.high_c or 0, 1)) for air in read] == [
        (28, 14.2, 22.1),
        (29, 13.0, 24.0),
        (30, 15.1, 21.0),
    ]
    again = story.shell("temperatures", file_of(tmp_path, DAYS[layout]), "--place", "R4")
    assert "nothing new" in again.out
    story.reopen()
    assert len(story.desk.bench.air["R4"]) == 3


def test_a_brood_was_as_warm_as_the_days_say(story: Story, tmp_path: Path) -> None:
    """By hand: 12 and 24 C each day are 18 C in the mean."""
    story.at("2027-04-27 08:00")
    tell(story, "E3 set up eggs\nbrood A-1/A taxon='Nova incognita'\nE3 stocked 10 eggs A-1/A")
    story.at("2027-05-01 08:00")
    rows = "".join(f"2027-04-{day},12,24\n" for day in range(27, 31))
    story.shell("temperatures", file_of(tmp_path, f"date,low (C),high (C)\n{rows}"))
    story.reopen()
    heat = story.desk.foresight.trace("E3", Thresholds(0.0))
    gone = heat.heat_at(heat.times[-1]) - heat.heat_at(heat.times[0])
    assert gone / (heat.times[-1] - heat.times[0]) == pytest.approx(18, abs=1)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("date,low (C),high (C)\n2027-05-01,12,24\n", "left out 1 line: its day is not over"),
        (
            "date,low (C),high (C)\n2027-04-30,25,24\n",
            "left out 1 line: its lowest is above its highest",
        ),
        ("date,low (C),high (C)\n2027-02-30,12,24\n", "left out 1 line: there is no such date"),
        ("date,low (C),high (C)\n2027-04-30,,24\n2027-04-29,1,2\n", "no lowest or no highest"),
    ],
)
def test_a_line_that_is_no_day_is_left_out_and_told(
    story: Story, tmp_path: Path, text: str, why: str
) -> None:
    story.at("2027-02-20 08:00").type("R4 set up rearing")
    story.at("2027-05-01 08:00")
    assert why in story.shell("temperatures", file_of(tmp_path, text), "--place", "R4").out


def test_days_before_a_container_stood_are_told_and_the_others_taken_in(
    story: Story, tmp_path: Path
) -> None:
    story.at("2027-04-29 08:00").type("R4 set up rearing")
    story.at("2027-05-01 08:00")
    out = story.shell("temperatures", file_of(tmp_path, DAYS["commas"]), "--place", "R4").out
    assert "left out 1 day: R4 was set up later" in out
    assert "taken in: lowest and highest of 2 new days" in out


def test_a_unit_that_nothing_tells_is_asked_for(story: Story, tmp_path: Path) -> None:
    file = file_of(tmp_path, "date,low,high\n2027-04-30,12,24\n")
    refused = story.shell("temperatures", file)
    assert refused.status == 1
    assert "Celsius or Fahrenheit; say which with --unit c or f" in refused.err
    assert "1 new day" in story.shell("temperatures", file, "--unit", "c").out
