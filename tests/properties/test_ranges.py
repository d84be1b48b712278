"""The range of every input: its ends are taken, what lies beyond is refused with the end that would be right.

The ranges themselves are ours: wide enough for any bench, narrow enough to catch a slip of the finger.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any

import pytest

from rounds.biology import (
    choice,
    degree_days,
    development,
    forecast,
    hidden_eggs,
    increase,
    kinship,
    laying,
    life_table,
    proportions,
    survival,
)
from rounds.biology.degree_days import Thresholds
from rounds.surroundings import air, moat, solution, sun

Function = Callable[..., Any]
STEADY = forecast.steady_trace(temperature_c=20, above=Thresholds(10))
STAGE = {"begun_from": 0.0, "begun_to": 0.0, "constant_dd": 80.0}
HIDDEN = {"laying": hidden_eggs.Laying(1.0), "female_days": 3.0}
NOON = datetime(2026, 6, 21, 12, tzinfo=UTC)
SILL = {"latitude_deg": 48.0, "longitude_deg": 16.0, "zone": UTC, "facing_deg": 180.0}
A_DAY = {"low_c": 10.0, "high_c": 20.0, "lower_c": 8.0, "upper_c": 30.0}


def _hatching(**changed: Any) -> object:
    return hidden_eggs.hidden_viable(**HIDDEN, hatching=hidden_eggs.Hatching(**changed))


CASES: list[tuple[Function, dict[str, Any], str, float, float]] = [
    (degree_days.single_sine_1969, A_DAY | {"high_c": 70.0}, "low_c", -60, 70),
    (degree_days.single_triangle_1977, A_DAY | {"low_c": -60.0}, "high_c", -60, 70),
    (degree_days.simple_average, {"low_c": 10.0, "high_c": 20.0}, "lower_c", -20, 40),
    (degree_days.single_sine_1969, A_DAY | {"lower_c": -20.0}, "upper_c", math.nextafter(-20, 0), 60),
    (lambda gap: degree_days.integral_over_readings([(0, 20), (1, 20)], lower_c=10, longest_gap_days=gap), {}, "gap", 1e-6, 1e4),
    (lambda t: development.ikemoto_takai_fit([(t, 10), (21, 9)]), {}, "t", -20, 50),
    (lambda days: development.x_intercept_fit([(15, days), (21, days / 2)]), {}, "days", 2e-3, 5000),
    (development.days_at, {"lower_c": 10.0, "constant_dd": 80.0}, "temperature_c", -20, 50),
    (development.days_at, {"temperature_c": 50.0, "constant_dd": 80.0}, "lower_c", -20, 40),
    (development.days_at, {"temperature_c": 20.0, "lower_c": 10.0}, "constant_dd", 1e-3, 20_000),
    (forecast.steady_trace, {"above": Thresholds(10.0)}, "temperature_c", -40, 60),
    (forecast.forecast, {"trace": STEADY} | STAGE, "constant_dd", 1e-3, 20_000),
    (forecast.forecast, {"trace": STEADY} | STAGE, "spread", 0, 1),
    (forecast.forecast, {"trace": STEADY} | STAGE, "uncertainty", 0, 2),
    (forecast.forecast, {"trace": STEADY} | STAGE, "number", 1, 1_000_000),
    (hidden_eggs.learned_detection, {"found": 3, "missed": 2}, "usual", 0.001, 0.999),
    (hidden_eggs.learned_detection, {"usual": 0.5, "missed": 2}, "found", 0, 1_000_000),
    (hidden_eggs.learned_detection, {"usual": 0.5, "found": 2}, "missed", 0, 1_000_000),
    (hidden_eggs.learned_detection, {"usual": 0.5, "found": 2, "missed": 2}, "counted", 0.1, 1e7),
    (hidden_eggs.chance_after_searches, {"detections": [0.5]}, "prior", 0, 1),
    (lambda share: hidden_eggs.chance_after_searches(prior=0.5, detections=[share]), {}, "share", 0, 1),
    (hidden_eggs.searches_needed, {}, "detection", 0, 1),
    (hidden_eggs.searches_needed, {"detection": 0.5}, "certainty", 0.5, 0.999999),
    (hidden_eggs.hidden_viable, HIDDEN, "viable_share", 0, 1),
    (hidden_eggs.hidden_viable, HIDDEN, "missed", 0, 1),
    (hidden_eggs.hidden_viable, HIDDEN, "found", 0, 10_000_000),
    (hidden_eggs.hidden_viable, HIDDEN, "female_days", 0, 1e6),
    (lambda rate: hidden_eggs.hidden_viable(laying=hidden_eggs.Laying(rate), female_days=3.0), {}, "rate", 0, 1e6),
    (lambda willing: hidden_eggs.hidden_viable(laying=hidden_eggs.Laying(1.0, 2.0, willing), female_days=3.0), {}, "willing", 0, 1),
    (_hatching, {}, "degree_days", 0, 1e5),
    (_hatching, {}, "hatch_dd", 1e-6, 1e5),
    (_hatching, {}, "spread", 1e-6, 2),
    (_hatching, {}, "shorter", 0, 2),
    (_hatching, {}, "longer", 0, 2),
    (_hatching, {}, "looks", 0, 1_000_000),
    (_hatching, {}, "seen_by_a_look", 0, 1),
    (lambda aim: hidden_eggs.keep_until_dd(**HIDDEN, missed=0.5, viable_share=0.8, hatching=hidden_eggs.NO_LOOK, aim=aim),
     {}, "aim", 1e-9, 0.5),
    (hidden_eggs.searches_until_under, HIDDEN | {"detection": hidden_eggs.learned_detection(usual=0.5, found=0, missed=0)}, "chance", 1e-9, 0.999),
    (lambda eggs: hidden_eggs.learned_laying(hidden_eggs.Laying(1.0, 1.0), eggs=eggs, searched_days=3.0), {}, "eggs", 0, 1e9),
    (lambda days: hidden_eggs.learned_laying(hidden_eggs.Laying(1.0, 1.0), eggs=3, searched_days=days), {}, "days", 0, 1e9),
    (lambda age: increase.increase([age, 50], [1e-9, 1]), {}, "age", 1e-9, 1e5),
    (lambda number: increase.increase([20, 50], [number, 1]), {}, "number", 0, 1e7),
    (kinship.effective_number, {"females": 3}, "males", 1, 1_000_000),
    (kinship.effective_number, {"males": 3}, "females", 1, 1_000_000),
    (kinship.inbreeding_after, {"effective": 10.0}, "generations", 0, 10_000),
    (kinship.inbreeding_after, {"generations": 5}, "effective", 0.5, 1e9),
    (laying.laying_rate, {"female_days": 5.0}, "eggs", 0, 10_000_000),
    (laying.laying_rate, {"eggs": 0}, "female_days", 5e-324, 1e7),
    (laying.laying_rate, {"eggs": 3, "female_days": 5.0}, "confidence", 0.5, 0.9999),
    (laying.chance_of_none_seen, {"female_days": 5.0, "share_found": 0.5}, "usual_rate", 0, 1000),
    (laying.chance_of_none_seen, {"usual_rate": 1.0, "share_found": 0.5}, "female_days", 0, 1e7),
    (laying.chance_of_none_seen, {"usual_rate": 1.0, "female_days": 5.0}, "share_found", 0, 1),
    (laying.more_female_days_for_two_fold, {"eggs": 3}, "female_days", 1e-6, 1e7),
    (lambda entered: life_table.stage_table([("egg", entered, 0)]), {}, "entered", 1e-9, 1e9),
    (lambda died: life_table.stage_table([("egg", 1e9, died)]), {}, "died", 0, 1e9),
    (proportions.exact_share, {"count": 1}, "of", 1, 1_000_000_000),
    (proportions.exact_share, {"of": 10}, "count", 0, 10),
    (proportions.exact_share, {"count": 3, "of": 10}, "confidence", 0.5, 0.9999),
    (proportions.binomial_test, {"count": 3, "of": 10}, "expected", 0, 1),
    (lambda used: choice.preferences([used, 5], [10, 10]), {}, "used", 0, 1e9),
    (lambda there: choice.preferences([0, 0.5], [there, 10]), {}, "there", 1e-9, 1e9),
    (lambda time: survival.kaplan_meier([time, 5], [True, True]), {}, "time", 0, 1e6),
    (lambda sure: survival.kaplan_meier([4, 5], [True, True], confidence=sure), {}, "sure", 0.5, 0.9999),
    (air.saturation_vapour_pressure_kpa, {}, "temperature_c", -40, 60),
    (air.vapour_pressure_kpa, {"temperature_c": 20.0}, "humidity_percent", 0, 100),
    (air.dew_point_c, {"humidity_percent": 50.0}, "temperature_c", -40, 60),
    (air.dew_point_c, {"temperature_c": 20.0}, "humidity_percent", 0.1, 100),
    (air.feel_of_air, {"temperature_c": 20.0, "humidity_percent": 50.0}, "tonight_low_c", -40, 60),
    (moat.open_water_loss_mm_a_day, {"humidity_percent": 50.0}, "temperature_c", 0, 45),
    (moat.open_water_loss_mm_a_day, {"temperature_c": 20.0, "humidity_percent": 50.0}, "wind_m_s", 0, 20),
    (lambda depth: moat.loss_from_readings([(0, depth), (1, 5)]), {}, "depth", 0, 500),
    (moat.days_until, {"low_mm": 8.0, "loss_mm_a_day": 3.0}, "depth_mm", 0, 500),
    (moat.days_until, {"depth_mm": 20.0, "loss_mm_a_day": 3.0}, "low_mm", 0, 500),
    (moat.days_until, {"depth_mm": 20.0, "low_mm": 8.0}, "loss_mm_a_day", 0, 100),
    (solution.sucrose_density_g_ml, {}, "strength_percent", 0, 60),
    (solution.weighing, {"strength_percent": 15.0}, "volume_ml", 0.1, 100_000),
    (solution.weighing, {"strength_percent": 15.0, "volume_ml": 100.0}, "spare_percent", 0, 200),
    (solution.weight_percent_from_volume_percent, {}, "grams_per_100_ml", 0, 77.2),
    (lambda latitude: sun.sun_position(NOON, latitude_deg=latitude, longitude_deg=0), {}, "latitude", -90, 90),
    (lambda longitude: sun.sun_position(NOON, latitude_deg=0, longitude_deg=longitude), {}, "longitude", -180, 180),
    (lambda facing: sun.sun_on_sill(date(2026, 6, 21), **SILL | {"facing_deg": facing}), {}, "facing", 0, 360),
    (lambda height: sun.sun_on_sill(date(2026, 6, 21), **SILL, obstruction_deg=height), {}, "height", 0, 89),
    (sun.day_length_cbm_h, {"day_of_year": 172}, "latitude_deg", -90, 90),
    (sun.day_length_cbm_h, {"latitude_deg": 48.0}, "day_of_year", 1, 366),
]  # fmt: skip


def _beyond(end: float, way: int) -> float:
    """A little past an end; past the least number above nought lies nought."""
    return end + way * (abs(end) * 1e-10 if abs(end) > 1e-12 else max(end, 1e-9))


@pytest.mark.parametrize(
    "case", CASES, ids=[f"{number} {name}" for number, (_, _, name, _, _) in enumerate(CASES)]
)
def test_a_range_is_taken_to_its_ends_and_no_further(
    case: tuple[Function, dict[str, Any], str, float, float],
) -> None:
    function, others, name, low, high = case

    for end in (low, high):
        function(**others | {name: end})
    for end, way in ((low, -1), (high, 1)):
        with pytest.raises(ValueError) as refused:
            function(**others | {name: _beyond(end, way)})
        assert "\n" not in str(refused.value)
    for odd in (math.nan, math.inf):
        with pytest.raises(ValueError):
            function(**others | {name: odd})


def test_years_of_the_sun() -> None:
    for year in (1950, 2100):
        assert (
            -90
            <= sun.sun_position(
                NOON.replace(year=year), latitude_deg=48, longitude_deg=16
            ).altitude_deg
            <= 90
        )
    for year in (1949, 2101):
        with pytest.raises(ValueError, match="year"):
            sun.sun_position(NOON.replace(year=year), latitude_deg=48, longitude_deg=16)
