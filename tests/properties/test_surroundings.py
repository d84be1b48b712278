"""What must hold of air, moat, solution and sun whatever the numbers."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rounds.surroundings import air, moat, solution, sun

quick = settings(max_examples=100, deadline=None)


@given(st.floats(-10, 45), st.floats(1, 100), st.floats(0, 5))
@quick
def test_dew_point_is_never_above_the_air_and_air_at_it_is_full(
    temperature: float, humidity: float, more: float
) -> None:
    dew = air.dew_point_c(temperature_c=temperature, humidity_percent=humidity)
    assert dew <= temperature + 1e-9
    deficit = air.vapour_pressure_deficit_kpa(temperature_c=temperature, humidity_percent=humidity)
    assert deficit >= -1e-12
    assert (
        air.vapour_pressure_deficit_kpa(temperature_c=temperature + more, humidity_percent=humidity)
        >= deficit - 1e-12
    )
    actual = air.vapour_pressure_kpa(temperature_c=temperature, humidity_percent=humidity)
    if dew > 0:
        assert air.saturation_vapour_pressure_kpa(temperature_c=dew) == pytest.approx(
            actual, rel=3e-3
        )


@pytest.mark.parametrize(
    ("temperature", "humidity", "low", "feel"),
    [(22, 30, None, "drying"), (22, 65, None, "comfortable"), (22, 95, None, "damp"), (22, 65, 14, "condensing tonight"),
     (22, 65, 17, "comfortable")],
)  # fmt: skip
def test_what_the_air_does_to_a_cup(
    temperature: float, humidity: float, low: float | None, feel: str
) -> None:
    # The bounds are common practice, no source; the dew point of 22 C and 65 % is 15.1 C by the formula.
    assert (
        air.feel_of_air(temperature_c=temperature, humidity_percent=humidity, tonight_low_c=low)
        == feel
    )


@given(st.floats(0.5, 8), st.lists(st.floats(0, 12), min_size=3, max_size=10, unique=True))
@quick
def test_a_steady_loss_is_read_off_own_readings(rate: float, days: list[float]) -> None:
    readings = [(day, 120 - rate * day) for day in days]
    found = moat.loss_from_readings(readings)
    if max(days) - min(days) >= 0.2:
        assert found is not None
        assert found.low <= rate <= found.high
        assert found.low <= found.mm_a_day + 1e-9
        assert found.high >= found.mm_a_day - 1e-9
        assert found.readings == len(days)


def test_toppings_up_are_not_taken_for_losses() -> None:
    found = moat.loss_from_readings([(0, 22), (1, 18), (1.01, 22), (2, 18.04), (2.5, 16)])
    assert found is not None
    assert found.mm_a_day == pytest.approx(
        10 / 2.49, abs=0.1
    )  # 4 mm in a day, then 6 mm in a day and a half
    assert moat.loss_from_readings([(0, 22)]) is None
    assert moat.loss_from_readings([(0, 10), (0.5, 22)]) is None


def test_when_a_moat_is_low() -> None:
    assert moat.days_until(depth_mm=22, low_mm=10, loss_mm_a_day=4) == 3
    assert moat.days_until(depth_mm=9, low_mm=10, loss_mm_a_day=4) == 0
    assert moat.days_until(depth_mm=22, low_mm=10, loss_mm_a_day=0) is None
    guess = moat.loss_from_air(temperature_c=20, humidity_percent=50)
    assert (guess.low, guess.high) == (
        pytest.approx(guess.mm_a_day * 0.6),
        pytest.approx(guess.mm_a_day * 1.4),
    )
    assert guess.rests_on == "temperature and humidity"


@given(st.floats(0, 60), st.floats(1, 5000), st.floats(0, 100))
@quick
def test_sugar_and_water_weigh_what_the_solution_weighs(
    strength: float, volume: float, spare: float
) -> None:
    weighed = solution.weighing(strength_percent=strength, volume_ml=volume, spare_percent=spare)
    assert weighed.sugar_g + weighed.water_g == pytest.approx(
        weighed.solution_ml * weighed.density_g_ml
    )
    assert weighed.solution_ml == pytest.approx(volume * (1 + spare / 100))
    assert weighed.sugar_g == pytest.approx((weighed.sugar_g + weighed.water_g) * strength / 100)
    back = solution.weight_percent_from_volume_percent(
        grams_per_100_ml=strength * weighed.density_g_ml
    )
    assert back == pytest.approx(strength, abs=1e-6)


@given(st.floats(-66, 66), st.floats(-180, 180), st.integers(0, 24_000))
@quick
def test_the_sun_is_up_between_its_rise_and_set(
    latitude: float, longitude: float, day: int
) -> None:
    when = date(1990, 1, 1) + timedelta(days=day)
    found = sun.sun_day(when, latitude_deg=latitude, longitude_deg=longitude, zone=UTC)
    assert 0 <= found.day_length_h <= 24
    if found.sunrise and found.sunset and found.sunrise < found.sunset:
        noon = found.sunrise + (found.sunset - found.sunrise) / 2
        assert (
            sun.sun_position(noon, latitude_deg=latitude, longitude_deg=longitude).altitude_deg
            > -0.84
        )
        gap = (found.sunset - found.sunrise).total_seconds() / 3600
        assert found.day_length_h == pytest.approx(gap, abs=0.01)
        rising = sun.sun_position(found.sunrise, latitude_deg=latitude, longitude_deg=longitude)
        assert rising.altitude_deg == pytest.approx(-0.8333, abs=0.01)


@given(st.floats(-60, 60), st.integers(1, 366))
@quick
def test_summer_here_is_winter_there(latitude: float, day: int) -> None:
    here = sun.day_length_cbm_h(latitude_deg=latitude, day_of_year=day, depression_deg=0)
    there = sun.day_length_cbm_h(latitude_deg=-latitude, day_of_year=day, depression_deg=0)
    assert here + there == pytest.approx(24, abs=1e-9)


REFUSALS: list[tuple[Callable[[], object], str]] = [
    (lambda: air.saturation_vapour_pressure_kpa(temperature_c=200), "temperature is 200 C; it must be at most 60 C"),
    (lambda: air.saturation_vapour_pressure_kpa(temperature_c=-60), "temperature is -60 C; it must be at least -40 C"),
    (lambda: air.saturation_vapour_pressure_kpa(temperature_c=math.nan), "temperature is nan; it must be a finite number"),
    (lambda: air.vapour_pressure_kpa(temperature_c=20, humidity_percent=140), "humidity is 140 %; it must be at most 100 %"),
    (lambda: moat.days_until(depth_mm=-1, low_mm=10, loss_mm_a_day=1), "depth is -1 mm; it must be at least 0 mm"),
    (lambda: solution.weighing(strength_percent=10, volume_ml=0), "volume is 0 ml; it must be at least 0.1 ml"),
    (lambda: sun.sun_position(datetime(2026, 1, 1), latitude_deg=0, longitude_deg=0),
     "the time has no offset from UTC; write it as 2026-05-20T07:00:00+02:00"),
    (lambda: sun.sun_position(datetime(1900, 1, 1, tzinfo=UTC), latitude_deg=0, longitude_deg=0), "year is 1900; it must be at least 1950"),
    (lambda: sun.day_length_cbm_h(latitude_deg=91, day_of_year=1), "latitude is 91 degrees; it must be at most 90 degrees"),
]  # fmt: skip


@pytest.mark.parametrize(("work", "line"), REFUSALS, ids=[line for _, line in REFUSALS])
def test_what_cannot_be_is_refused_in_one_line(work: Callable[[], object], line: str) -> None:
    with pytest.raises(ValueError) as refused:
        work()

    assert str(refused.value) == line
