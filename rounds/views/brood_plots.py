"""The plots of a brood or a species: survival, development against temperature, how long captive
females lived."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from rounds.bench.measures import Measures
from rounds.biology.survival import SurvivalCurve
from rounds.tallies.broods import Lookback
from rounds.tallies.development import Development
from rounds.tallies.lifespans import Lifespan, curve_of
from rounds.tallies.stages import survival_to_adult
from rounds.views.plots import Plot, PlotMark, PlotSeries
from rounds.views.words import number


def _steps(name: str, curve: SurvivalCurve) -> PlotSeries:
    marks = [
        PlotMark(0.0, 1.0),
        *(PlotMark(step.time, step.survival, step.low, step.high) for step in curve.steps),
    ]
    return PlotSeries(name, tuple(marks), "steps")


def brood_survival(back: Lookback, broods: list[str], now: datetime) -> Plot | None:
    """Survival up to the adult; None where there is no animal, or none died yet."""
    curve = survival_to_adult(back.course, broods, now)
    if curve is None or not curve.steps:
        return None
    laid = any(entered.cohort.laid_and_seen for entered in back.course.of(broods).entered)
    since = "days since they were laid" if laid else "days since they came"
    end = max([step.time for step in curve.steps] + [_oldest(back, broods, now)])
    series = _steps(f"{curve.number} animals, {curve.deaths} died", curve)
    return Plot("survival up to the adult", since, "share alive", (series,), (0.0, end), (0.0, 1.0))


def _oldest(back: Lookback, broods: list[str], now: datetime) -> float:
    """The age to which the curve is known [days]."""
    mine = back.course.of(broods)
    known = [(cohort, now) for cohort in mine.alive if cohort.stage != "adult"]
    known += [(passage.cohort, passage.at) for passage in mine.passages]
    ages = [
        (at - (cohort.laid_and_seen[0] if cohort.laid_and_seen else cohort.came)).total_seconds()
        / 86_400
        for cohort, at in known
    ]
    return max(ages, default=0.0)


def females_survival(lives: list[Lifespan], taxon: str) -> Plot | None:
    """How long captive females of a species lived, wild-caught and reared apart, and apart from
    both those that may be of another species; None where none died yet."""
    series = []
    for surely, wild, name in (
        (True, True, "wild-caught"),
        (True, False, "reared"),
        (False, True, "wild-caught, of it or of another species"),
        (False, False, "reared, of it or of another species"),
    ):
        curve = curve_of(
            [life for life in lives if (life.wild, life.taxon == taxon) == (wild, surely)]
        )
        if curve and curve.steps:
            series.append(_steps(f"{name}: {curve.number} females, {curve.deaths} died", curve))
    if not series:
        return None
    end = max(life.days for life in lives)
    return Plot(
        "captive females",
        "days since she came in, or emerged",
        "share alive",
        tuple(series),
        (0.0, end),
        (0.0, 1.0),
    )


def development_plot(development: Development, measures: Measures) -> Plot | None:
    """Rate against temperature: own broods, the line through them, the published line; None where
    there is nothing to compare; temperatures in the keeper's unit."""
    if not development.points or not (
        development.fit or development.published or len(development.points) > 1
    ):
        return None
    own = PlotSeries(
        "own broods",
        tuple(
            PlotMark(measures.told(point.temperature_c, "C"), 1 / point.days)
            for point in development.points
        ),
    )
    warmest = max(point.temperature_c for point in development.points) + 3
    coolest = min(point.temperature_c for point in development.points) - 3
    series = [own]
    for name, sign, lower, constant in _lines(development, measures):
        begin = max(lower, min(coolest, lower))
        series.append(
            PlotSeries(
                name,
                (
                    PlotMark(measures.told(begin, "C"), (begin - lower) / constant),
                    PlotMark(measures.told(warmest, "C"), (warmest - lower) / constant),
                ),
                "line",
                sign,
            )
        )
    top = max(mark.y for one_series in series for mark in one_series.marks) * 1.1
    return Plot(
        f"development, {development.stage}",
        f"temperature, {measures.temperature}",
        "rate, share a day",
        tuple(series),
        y_range=(0.0, top),
    )


def _lines(development: Development, measures: Measures) -> Iterator[tuple[str, str, float, float]]:
    if known := development.published:
        whose = "published" if known.is_own else "of other species"
        yield (whose, "-", known.lower_c, known.constant_dd)
    if fit := development.fit:
        begins = f"{number(measures.told(fit.lower_c, 'C'))} {measures.temperature}"
        yield (f"fitted, from {begins}", ".", fit.lower_c, fit.constant_dd)
