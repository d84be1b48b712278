"""Fourteen females' broods of a fritillary from eggs to adults, entered and read back from the stage tables.

Source: Wells, Edwards, Hawkins, Smith & Tonkyn 2011, A rearing method for Argynnis (Speyeria) diana that avoids larval
diapause, Psyche 2011, article 940280, doi 10.1155/2011/940280, Table 1 (CC BY). The table gives counts by female, no
dates: the days are ours. A blank in it is 'not given': nothing is entered there, so that nothing is known of those animals.

What cannot be had from the table:
the paper prints 47 % hatched for NC-1, but 746 of 1605 is 46.48, and 70 % for NC-8, but 963 of 1386 is 69.48;
it prints 0 % for NC-2, which laid nothing: the tool tells a dash;
its hatch total for NC is 5,440, its own rows add to 5,439;
its group shares of second instars (27, 53, 69 %) are unweighted means of the females' shares, the tool's tables sum animals;
its 24 % of pupating NC animals that became adults takes NC-6's blank for nought: it is 18 of 74 entered, while of those
whose end is known the tool's own share is 18 of 64.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from rounds.tallies.broods import Lookback, balance
from rounds.views.brood_page import PlotRoom, brood_lines, stage_row
from tests.published.replays.telling import at, counts, looked_back, retold, words

ZONE = "America/New_York"
START = datetime(2010, 9, 1, 8, 0, tzinfo=ZoneInfo(ZONE))
STAGES = ("egg", "L1", "L2", "L6", "pupa", "adult")
ROWS: dict[str, tuple[int | None, ...]] = {
    "NC-1": (1605, 746, 203, 54, 24, 6), "NC-2": (0, None, None, None, None, None), "NC-3": (1499, 428, 115, None, None, None),
    "NC-4": (1574, 881, 155, 36, 13, 7), "NC-5": (1041, 771, 211, 72, 19, 3), "NC-6": (1163, 834, 427, 40, 10, None),
    "NC-7": (1265, 816, 280, 55, 8, 2), "NC-8": (1386, 963, 307, None, None, None), "GA-1": (50, 25, 15, 9, 7, 5),
    "GA-2": (50, 20, 6, 5, None, None), "GA-3": (50, 29, 20, 16, 9, 3), "TN-1": (50, 28, 12, 4, None, None),
    "TN-2": (50, 35, 29, 17, 8, 4), "TN-3": (50, 30, 25, 13, 5, 3),
}  # fmt: skip
HATCH_PERCENT = {"NC-3": 29, "NC-4": 56, "NC-5": 74, "NC-6": 72, "NC-7": 65, "NC": 57, "GA-1": 50, "GA-2": 40, "GA-3": 58,
                 "GA": 49, "TN-1": 56, "TN-2": 70, "TN-3": 60, "TN": 62}  # fmt: skip
SECOND_PERCENT = {"NC-1": 27, "NC-3": 27, "NC-4": 18, "NC-5": 27, "NC-6": 51, "NC-7": 34, "NC-8": 32, "GA-1": 60, "GA-2": 30,
                  "GA-3": 69, "TN-1": 43, "TN-2": 83, "TN-3": 83}  # fmt: skip
ADULT_PERCENT = {"NC-1": 25, "NC-4": 54, "NC-5": 16, "NC-7": 25, "GA-1": 71, "GA-3": 33, "GA": 50, "TN-2": 50, "TN-3": 60,
                 "TN": 54}  # fmt: skip
TOTALS = {
    "NC": (9533, 5439, 1698, 257, 74, 18),
    "GA": (150, 74, 41, 30, 16, 8),
    "TN": (150, 93, 66, 34, 13, 7),
}


def lines() -> list[str]:
    """Each female's cage, her eggs, and what became of them."""
    said = [
        f"taxon 'Argynnis diana' short=diana family=Nymphalidae instars=6 {at(START)}",
    ]
    for number, (female, (eggs, *rest)) in enumerate(ROWS.items()):
        day = START + timedelta(minutes=20 * number)
        cage, region = (
            f"K-{female}",
            {"NC": "North Carolina", "GA": "Georgia", "TN": "Tennessee"}[female[:2]],
        )
        said += [
            f"{cage} set up laying {at(day)}",
            f"{cage} founder {female} taxon='Argynnis diana' female place='{region}' {at(day)}",
            f"brood {female}/A taxon='Argynnis diana' mothers={female} laid_from={at(day)} laid_to={at(day + timedelta(days=9))} {at(day)}",
            f"{cage} host in violet leaf {at(day)}",
            f"{cage} searched {eggs} brood={female}/A {at(day + timedelta(days=9))}",
        ]
        said += _grown(cage, day, eggs or 0, rest)
    return said


def _grown(cage: str, day: datetime, eggs: int, rest: list[int | None]) -> list[str]:
    steps = (
        ("hatched", "", 20),
        ("moulted", " L2", 40),
        ("moulted", " L6", 70),
        ("pupated", "", 90),
        ("emerged", "", 110),
    )
    dead = ("eggs", "L1", "L2", "L6", "pupae")
    said, there = [], eggs
    for place, ((kind, instar, days), number) in enumerate(zip(steps, rest, strict=True)):
        if number is None:
            break
        when = day + timedelta(days=days)
        said.append(f"{cage} {kind} {number}{instar} {at(when)}")
        said.append(
            f"{cage} died {there - number} {dead[place]} unknown {at(when + timedelta(minutes=5))}"
        )
        there = number
    return said


@pytest.fixture(scope="module")
def back(tmp_path_factory: pytest.TempPathFactory) -> Lookback:
    """The whole table entered through the desk."""
    return looked_back(retold(Path(tmp_path_factory.mktemp("fritillary")), ZONE, lines()))


def broods_of(name: str) -> list[str]:
    """A female's brood, or all of a group."""
    return [f"{female}/A" for female in ROWS if female == name or female.startswith(f"{name}-")]


def percent(back: Lookback, name: str, stage: str) -> float:
    """The share that came through a stage [%]."""
    share = counts(back, broods_of(name))[stage].came_through
    assert share is not None
    return share.value * 100


@pytest.mark.parametrize("name", HATCH_PERCENT)
def test_hatched_percent_is_the_papers(back: Lookback, name: str) -> None:
    assert round(percent(back, name, "egg")) == HATCH_PERCENT[name]


@pytest.mark.parametrize("name", SECOND_PERCENT)
def test_second_instars_percent_of_hatched_is_the_papers(back: Lookback, name: str) -> None:
    assert round(percent(back, name, "L1")) == SECOND_PERCENT[name]


@pytest.mark.parametrize("name", ADULT_PERCENT)
def test_adults_percent_of_pupating_is_the_papers(back: Lookback, name: str) -> None:
    assert round(percent(back, name, "pupa")) == ADULT_PERCENT[name]


@pytest.mark.parametrize("name", TOTALS)
def test_group_totals_are_the_papers(back: Lookback, name: str) -> None:
    told = counts(back, broods_of(name))

    assert tuple(told[stage].entered for stage in STAGES) == TOTALS[name]
    both = balance(back.course, broods_of(name))
    assert both.in_all == both.accounted == TOTALS[name][0]


def test_the_adults_of_the_pupating_in_north_carolina_are_the_papers_where_a_blank_is_nought(
    back: Lookback,
) -> None:
    told = counts(back, broods_of("NC"))

    assert round(100 * told["adult"].entered / told["pupa"].entered) == 24  # paper
    assert (told["pupa"].passed, told["pupa"].known, told["pupa"].here) == (18, 64, 10)


def test_who_laid_nothing_is_told_by_a_dash(back: Lookback) -> None:
    assert counts(back, ["NC-2/A"]) == {}
    page = words(brood_lines(back, "NC-2/A", START + timedelta(days=200), START.tzinfo, PlotRoom()))  # type: ignore[arg-type]
    assert "No egg or animal of it was found yet." in page


def test_what_is_not_given_is_told_by_a_dash(back: Lookback) -> None:
    told = counts(back, ["NC-3/A"])

    assert stage_row(told["L2"]) == ("L2", "115", "-", "-", "-", "-", "-", "115", "-")


def test_the_page_shows_the_papers_figures(back: Lookback) -> None:
    page = words(brood_lines(back, "GA-1/A", START + timedelta(days=200), START.tzinfo, PlotRoom()))  # type: ignore[arg-type]

    # Limits of 25 of 50 and 15 of 25: Clopper & Pearson, by scipy.stats.binomtest.
    assert "egg         50    25     -         -     -  0.50 (0.36 to 0.64)" in page
    assert "L1          25    10     -         -     -  0.60 (0.39 to 0.79)" in page
