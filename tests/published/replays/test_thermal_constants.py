"""Broods kept at a steady temperature, and what the constants of two papers say of them, on the screens and ahead.

Sources: Koda & Nakamura, Entomological Science, doi 10.1111/j.1479-8298.2009.00355.x (abstract): Shijimiaeoides divinus
barine, egg 9.6 C and 82.6 degree-days, larva 10.7 C and 306.8; at 30 C 4.0 and 15.8 days.
Judd et al. 1994, Can. Entomol. 126(5):1263-1275 (abstract): Orthosia hibisci, thresholds and constants of egg, five instars
and pupa. Its abstract gives no durations, so none of its own can be compared: what is checked is that a stage-by-stage
forecast at a steady 15 C gives the paper's own line, K / (T - T0). Dates and numbers of animals are ours.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from rounds.app.desk import Desk
from rounds.forecasts.stage_ends import ComingChange
from rounds.shell.log import say_phrase
from rounds.tallies.development import Development, development
from rounds.views.brood_page import PlotRoom, brood_lines
from tests.published.replays.telling import at, looked_back, retold, words

ZONE = "Asia/Tokyo"
START = datetime(2008, 5, 1, 12, 0, tzinfo=ZoneInfo(ZONE))
DIVINUS, HIBISCI = "Shijimiaeoides divinus barine", "Orthosia hibisci"
HIBISCI_DAYS = {
    "egg": 8.53,
    "L1": 4.29,
    "L2": 4.26,
    "L3": 4.6,
    "L4": 4.97,
    "L5": 6.19,
    "pupa": 5.02,
}  # K / (15 - T0)


def begun(taxon: str, family: str, temperature: float, days: float) -> list[str]:
    """A box of eggs laid at one time, and its air read every twelve hours for so long."""
    said = [
        f"taxon '{taxon}' short=eggs family={family} instars=5 {at(START)}",
        f"B2 set up eggs {at(START)}",
        f"brood QT-2 taxon='{taxon}' laid_from={at(START)} laid_to={at(START)} {at(START)}",
        f"B2 stocked 10 eggs QT-2 {at(START)}",
    ]
    return said + [
        f"B2 air {temperature}C {at(START + timedelta(hours=12 * step))}"
        for step in range(int(2 * days) + 2)
    ]


def stage_of(desk: Desk, taxon: str, stage: str) -> Development:
    """A stage as the broods page has it."""
    back = looked_back(desk)
    return next(
        one for one in development(back.course, ["QT-2"], taxon, back.warmth) if one.stage == stage
    )


def next_change(desk: Desk, change: str) -> ComingChange:
    """The change that is coming in the box."""
    return next(
        one for one in desk.foresight.coming(desk.bench.containers["B2"]) if one.change == change
    )


def days_ahead(coming: ComingChange) -> float:
    """From the middle of when the stage began to when half have ended it."""
    assert coming.half is not None
    return (
        coming.half - (coming.begun_from + (coming.begun_to - coming.begun_from) / 2)
    ) / timedelta(days=1)


def test_the_blues_own_days_stand_beside_those_of_its_papers_constants(tmp_path: Path) -> None:
    hatched, pupated = (
        START + timedelta(days=4.0),
        START + timedelta(days=4.0 + 15.8),
    )  # the paper's durations at 30 C
    story = [
        *begun(DIVINUS, "Lycaenidae", 30, 21),
        f"B2 hatched 10 {at(hatched)}",
        f"B2 pupated 10 {at(pupated)}",
    ]
    desk = retold(tmp_path, ZONE, story)
    for stage, own, published in (("egg", 4.0, 4.05), ("larva", 15.8, 15.9)):
        found = stage_of(desk, DIVINUS, stage)
        (point,) = found.points
        assert point.temperature_c == pytest.approx(30.0)
        assert point.days == pytest.approx(own, abs=1e-6)
        told = found.published_days(30.0)
        assert told == pytest.approx(published, abs=0.005 if stage == "egg" else 0.05)
        assert told == pytest.approx(own, rel=0.02)  # within 2 % of what the paper measured
    page = words(brood_lines(looked_back(desk), "QT-2", pupated, START.tzinfo, PlotRoom()))  # type: ignore[arg-type]
    assert "QT-2 at 30 C: 4.0 d, published 4.0 d" in page
    assert "QT-2 at 30 C: 15.8 d, published 15.9 d" in page
    assert "Shijimiaeoides divinus's own, Koda & Nakamura" in page


def test_the_blues_forecast_at_30_c_lands_within_two_percent_of_the_papers_days(
    tmp_path: Path,
) -> None:
    desk = retold(
        tmp_path, ZONE, begun(DIVINUS, "Lycaenidae", 30, 1)
    )  # before anything could be missed of them
    assert days_ahead(next_change(desk, "hatch")) == pytest.approx(4.0, rel=0.02)

    hatched = START + timedelta(days=4.0)
    for line in (f"B2 air 30C {at(hatched)}", f"B2 hatched 10 {at(hatched)}"):
        say_phrase(desk, line)
    assert days_ahead(next_change(desk, "pupation")) == pytest.approx(15.8, rel=0.02)


def test_constants_that_the_keeper_gives_are_those_of_the_paper(tmp_path: Path) -> None:
    given = [
        f"constants '{DIVINUS}' stage={stage} lower_c={lower} constant_dd={constant} source='doi 10.1111/j.1479-8298.2009.00355.x' {at(START)}"
        for stage, lower, constant in (("egg", 9.6, 82.6), ("larva", 10.7, 306.8))
    ]
    desk = retold(tmp_path, ZONE, [*begun(DIVINUS, "Lycaenidae", 30, 1), *given])

    assert days_ahead(next_change(desk, "hatch")) == pytest.approx(4.05, abs=0.01)
    found = stage_of(desk, DIVINUS, "larva")
    assert found.published is not None
    assert found.published.words.startswith("the keeper's constants")
    assert found.published_days(30.0) == pytest.approx(15.9, abs=0.05)


def test_the_noctuids_stage_by_stage_forecast_at_15_c_is_the_papers_line(tmp_path: Path) -> None:
    desk = retold(tmp_path, ZONE, begun(HIBISCI, "Noctuidae", 15, 1))
    steps = [("egg", "hatch", "hatched 10")]
    steps += [(f"L{instar}", "moult", f"moulted 10 L{instar + 1}") for instar in range(1, 5)]
    when, told = START, {}
    for stage, change, said in steps:
        told[stage] = days_ahead(next_change(desk, change))
        when += timedelta(days=told[stage])
        for line in (f"B2 air 15C {at(when)}", f"B2 {said} {at(when)}"):
            say_phrase(desk, line)
    for stage, days in told.items():
        assert days == pytest.approx(HIBISCI_DAYS[stage], abs=0.015), stage


def test_the_noctuids_table_gives_every_stage_and_the_larval_sum(tmp_path: Path) -> None:
    story, when = begun(HIBISCI, "Noctuidae", 15, 40), START
    changes = [
        "hatched 10",
        *(f"moulted 10 L{instar}" for instar in range(2, 6)),
        "pupated 10",
        "emerged 10 sure",  # five days are asked about: of pupae that wintered
    ]
    for change, days in zip(changes, HIBISCI_DAYS.values(), strict=True):
        when += timedelta(days=days)
        story.append(f"B2 {change} {at(when)}")
    desk = retold(tmp_path, ZONE, story)
    back = looked_back(desk)
    found = {one.stage: one for one in development(back.course, ["QT-2"], HIBISCI, back.warmth)}

    for stage, days in HIBISCI_DAYS.items():
        assert found[stage].points[0].days == pytest.approx(days, abs=1e-4)
        if stage != "pupa":
            assert found[stage].published_days(15.0) == pytest.approx(days, abs=0.005), stage
    # the paper's five days can only be the end of the stage, after winter: nothing is told of it
    assert found["pupa"].published is None
    assert found["larva"].points[0].days == pytest.approx(
        sum(HIBISCI_DAYS[f"L{instar}"] for instar in range(1, 6)), abs=1e-4
    )
