"""Development at four temperatures, entered as four broods, and the line that the broods page draws through them.

Source: Honek, Jarosik & Martinkova 2003, Eur. J. Entomol. 100:295-300 (authors and pages from memory; figures as in the
abstract of the repository record): Gastrophysa viridula, 28.2, 21.6, 16.1 and 15.0 days at 18, 21.5, 25 and 28 C; lower
threshold 7.1 C, thermal constant 304.6 degree-days. A leaf beetle, and no butterfly: it is the one complete set found of
temperatures, durations, threshold and constant. The abstract gives means: each brood here is of ten that take just that
long; dates are ours. The whole development is entered from egg to adult.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from rounds.tallies.broods import Lookback
from rounds.tallies.development import Development, development
from rounds.views.brood_page import PlotRoom, taxon_lines
from tests.published.replays.telling import at, looked_back, retold, words

ZONE = "Europe/Prague"
START = datetime(2002, 5, 1, 12, 0, tzinfo=ZoneInfo(ZONE))
TAXON = "Gastrophysa viridula"
POINTS = ((18.0, 28.2), (21.5, 21.6), (25.0, 16.1), (28.0, 15.0))


def lines() -> list[str]:
    """Four boxes at four temperatures, read every twelve hours."""
    said = [f"taxon '{TAXON}' short=viridula family=Chrysomelidae instars=3 {at(START)}"]
    for number, (temperature, days) in enumerate(POINTS):
        box, brood, end = f"B-{number + 2}", f"GV-{number + 2}", START + timedelta(days=days)
        said += [
            f"{box} set up eggs {at(START)}",
            f"brood {brood} taxon='{TAXON}' laid_from={at(START)} laid_to={at(START)} {at(START)}",
            f"{box} stocked 10 eggs {brood} {at(START)}",
        ]
        said += [
            f"{box} air {temperature}C {at(START + timedelta(hours=12 * step))}"
            for step in range(int(days * 2) + 2)
        ]
        third = timedelta(days=days / 3)
        said += [
            f"{box} hatched 10 {at(START + third)}",
            f"{box} pupated 10 {at(START + 2 * third)}",
            f"{box} emerged 10 {at(end)}",
        ]
    return said


@pytest.fixture(scope="module")
def back(tmp_path_factory: pytest.TempPathFactory) -> Lookback:
    """The four broods entered through the desk."""
    return looked_back(retold(Path(tmp_path_factory.mktemp("beetle")), ZONE, lines()))


@pytest.fixture(scope="module")
def fitted(back: Lookback) -> Development:
    """Egg to adult, as the broods page has it."""
    found = development(back.course, back.broods_of(TAXON), TAXON, back.warmth)
    return next(one for one in found if one.stage == "egg to adult")


def test_the_points_are_the_papers(fitted: Development) -> None:
    assert [
        (round(point.temperature_c, 3), round(point.days, 4)) for point in fitted.points
    ] == list(POINTS)


def test_the_threshold_and_the_constant_are_the_papers(fitted: Development) -> None:
    assert fitted.fit is not None
    assert round(fitted.fit.lower_c, 1) == 7.1  # paper
    assert round(fitted.fit.constant_dd, 1) == 304.6  # paper
    assert fitted.fit.lower_c == pytest.approx(
        7.0951, abs=1e-3
    )  # least squares on the four points; a major axis gives 7.8
    assert fitted.fit.constant_dd == pytest.approx(304.555, abs=0.05)


def test_the_page_says_them(back: Lookback) -> None:
    page = words(taxon_lines(back, TAXON, START + timedelta(days=40), PlotRoom()))

    assert (
        "egg to adult: from 7.1 C (se 1.9) on, 305 C degree-days (se 35), by 4 broods" in page
    )  # the paper gives no standard errors
