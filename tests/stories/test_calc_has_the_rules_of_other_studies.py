"""A keeper who reads another study works its figures out with the tool's own calculator. Sources stand at each case."""

from __future__ import annotations

import pytest

from rounds.shell.main import main

CASES = [
    # Met Eireann, degree-day page, case III: the day's mean is above the base, its lowest below.
    ("degree-days --min 8 --max 20 --lower 10", "quarter rule                       4.500 C day"),
    ("degree-days --min 6 --max 22 --lower=-5 --upper 0C", "  cutoff               horizontal"),
    # The extremes brought between the thresholds first: (10 + 22) / 2 - 10, by hand.
    (
        "degree-days --min 6 --max 22 --lower 10 --upper 30",
        "average of clipped extremes        6.000 C day",
    ),
    # CRC Handbook (values/sucrose.json): 10 g in 100 ml are 9.65 % by weight.
    ("strength-by-weight --grams 10", "strength by weight                 9.65 %"),
    # Forsythe et al. 1995: at the equator a day of the CBM model is 12 h and some minutes in every season.
    ("day-length --latitude 0 --day-of-year 172", "day length                         12.12 h"),
    # By hand: of beta(2, 2) n searches miss 6 / ((n + 2) (n + 3)) of ln 2 eggs expected; 1 % is -ln 0.99 = 0.01005 of them, so
    # that (n + 2) (n + 3) is 413.8 or more: 19 x 20 of 17 is too few, 20 x 21 of 18 is enough.
    (
        "hidden-eggs --prior 0.5 --searches 2",
        "19 searches in all that find none make any egg on it less likely than 0.01",
    ),
    # As a bench's own forecasts: a brood of which half took so much stands for eight animals, 0.1^2 / 8 of its own. The model added
    # up over a dense grid with scipy, as in tests/reference/test_thermal_time.py, gives 84.9 of 80 and 96: ln(84.9/80) / ln(96/80).
    (
        "forecast --lower 8 --constant 80 --temperature 18 --own 96,96",
        "constants: 35 % by 2 own broods, the rest given",
    ),
    # By hand: l(x) m(x) of 1 at 10 and 1 at 20 days; their mean age.
    ("increase --daughters 10:1,20:1", "cohort time                        15.0 days"),
]


@pytest.mark.parametrize(("asked", "answer"), CASES)
def test_the_calculator_says_it(
    asked: str, answer: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["calc", *asked.split()]) == 0

    assert answer in capsys.readouterr().out
