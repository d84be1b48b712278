"""Degree-days and forecasts against exact quadrature and open hourly temperatures."""

from __future__ import annotations

import math
import random
from collections import defaultdict

import pytest
from scipy import integrate

from rounds.biology import degree_days as dd
from rounds.biology.degree_days import Thresholds
from rounds.biology.forecast import forecast, trace_of

pytestmark = pytest.mark.filterwarnings("ignore")


def _effect(temperature: float, lower: float, upper: float, cutoff: str) -> float:
    """Heat at a moment under a cutoff, by its definition."""
    if temperature <= lower:
        return 0.0
    if cutoff == "none" or temperature <= upper:
        return temperature - lower
    return {
        "horizontal": upper - lower,
        "vertical": 0.0,
        "intermediate": upper - lower - (temperature - upper),
    }[cutoff]


def test_every_method_is_exact_for_its_own_curve() -> None:
    chance = random.Random(1)
    for _ in range(120):
        low = chance.uniform(-8, 34)
        high, lower = low + chance.uniform(0.1, 24), chance.uniform(2, 18)
        upper = lower + chance.uniform(1, 20)
        mean, swing = (low + high) / 2, (high - low) / 2
        for cutoff in ("none", "horizontal", "vertical", "intermediate"):
            curves = {
                dd.single_sine_1969: lambda t, m=mean, s=swing: (
                    m + s * math.sin(math.pi * (t - 0.5))
                ),
                dd.single_triangle_1977: lambda t, a=low, b=high: a + (b - a) * t,
            }
            for method, curve in curves.items():
                breaks = [
                    t for level in (lower, upper) if low < level < high
                    for t in [math.asin((level - mean) / swing) / math.pi + 0.5 if method is dd.single_sine_1969 else (level - low) / (high - low)]
                ]  # fmt: skip
                exact, _ = integrate.quad(
                    lambda t, c=curve, k=cutoff: _effect(c(t), lower, upper, k),
                    0,
                    1,
                    points=breaks or None,
                    limit=200,
                )
                ours = method(low_c=low, high_c=high, lower_c=lower, upper_c=upper, cutoff=cutoff)  # type: ignore[arg-type]
                assert ours == pytest.approx(max(0.0, exact), abs=1e-7), (method, cutoff)


def test_an_integral_is_exact_under_straight_lines() -> None:
    chance = random.Random(2)
    for _ in range(60):
        times = sorted({chance.uniform(0, 3) for _ in range(12)})
        readings = [(t, chance.uniform(-2, 38)) for t in times]
        exact = 0.0
        for (start, first), (end, second) in zip(readings, readings[1:], strict=False):
            steps = 4_000
            exact += (
                sum(
                    _effect(first + (second - first) * (step + 0.5) / steps, 10, 30, "horizontal")
                    for step in range(steps)
                )
                * (end - start)
                / steps
            )
        shuffled = readings[:]
        chance.shuffle(shuffled)
        ours = dd.integral_over_readings(shuffled, lower_c=10, upper_c=30, longest_gap_days=9)
        assert ours.degree_days == pytest.approx(exact, abs=1e-4)
        assert ours.gaps == ()


def hourly_seattle() -> list[tuple[float, float]]:
    """A year of hourly temperatures in C from the open data set seattle-temps (vega_datasets, NOAA), time in days."""
    from vega_datasets import local_data

    frame = local_data.seattle_temps()
    first = frame["date"].iloc[0]
    return [
        ((at - first).total_seconds() / 86_400, (f - 32) * 5 / 9)
        for at, f in zip(frame["date"], frame["temp"], strict=True)
    ]


def test_how_far_daily_methods_are_from_the_hourly_integral_over_a_year() -> None:
    readings = hourly_seattle()
    exact = dd.integral_over_readings(readings, lower_c=10).degree_days
    days: dict[int, list[float]] = defaultdict(list)
    for day, temperature in readings:
        days[int(day)].append(temperature)
    sums = {
        "single sine": sum(
            dd.single_sine_1969(low_c=min(t), high_c=max(t), lower_c=10) for t in days.values()
        ),
        "single triangle": sum(
            dd.single_triangle_1977(low_c=min(t), high_c=max(t), lower_c=10) for t in days.values()
        ),
        "simple average": sum(
            dd.simple_average(low_c=min(t), high_c=max(t), lower_c=10) for t in days.values()
        ),
    }

    # Deviations found, in percent of the integral: sine +5.5, triangle +4.0, average +1.3 (regression only).
    apart = {name: 100 * (total - exact) / exact for name, total in sums.items()}
    assert abs(apart["single sine"]) < 6
    assert abs(apart["single triangle"]) < 6
    assert abs(apart["simple average"]) < 6
    assert sums["single triangle"] < sums["single sine"]


def test_gaps_are_left_out_and_told() -> None:
    readings = [(0.0, 20.0), (0.1, 20.0), (1.5, 20.0), (1.6, 20.0)]
    found = dd.integral_over_readings(readings, lower_c=10)

    assert found.degree_days == pytest.approx(2.0)
    assert found.days == pytest.approx(0.2)
    assert [(gap.start, gap.end) for gap in found.gaps] == [(0.1, 1.5)]


def test_a_forecast_over_an_hourly_trace_finds_the_day_that_the_integral_gives() -> None:
    readings = [one for one in hourly_seattle() if 180 <= one[0] <= 240]
    trace = trace_of(readings, above=Thresholds(8))
    found = forecast(trace, begun_from=181, begun_to=181, constant_dd=120)

    assert found.half is not None
    until = [one for one in readings if 181 <= one[0] <= found.half]
    gathered = dd.integral_over_readings(until, lower_c=8).degree_days
    assert gathered == pytest.approx(120, abs=0.6)


def test_first_half_and_last_of_many_match_a_simulation() -> None:
    import numpy as np

    readings = [one for one in hourly_seattle() if 150 <= one[0] <= 230]
    trace = trace_of(readings, above=Thresholds(8))
    found = forecast(
        trace,
        begun_from=151,
        begun_to=152,
        constant_dd=150,
        spread=0.08,
        uncertainty=0.0,
        number=40,
    )
    rng = np.random.default_rng(3)
    firsts, halves, lasts = [], [], []
    for _ in range(400):
        begun = rng.uniform(151, 152, 40)
        needs = rng.normal(150, 12, 40)
        days = sorted(
            trace.day_of(trace.heat_at(b) + n) or 0 for b, n in zip(begun, needs, strict=True)
        )
        firsts.append(days[0])
        halves.append((days[19] + days[20]) / 2)
        lasts.append(days[-1])
    assert found.first == pytest.approx(np.mean(firsts), abs=0.4)
    assert found.half == pytest.approx(np.mean(halves), abs=0.2)
    assert found.last == pytest.approx(np.mean(lasts), abs=0.4)
