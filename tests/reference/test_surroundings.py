"""Against pvlib's SPA and psychrolib on random inputs; the seed is fixed."""

from __future__ import annotations

import math
import random
from datetime import UTC, date, datetime, timedelta

import pytest

from rounds.surroundings import air, sun

pytestmark = pytest.mark.filterwarnings("ignore")


def test_the_sun_is_within_a_fiftieth_of_a_degree_of_spa_anywhere_1990_to_2060() -> None:
    import pandas as pd
    from pvlib import spa

    chance = random.Random(1)
    worst = 0.0
    start = datetime(1990, 1, 1, tzinfo=UTC)
    for _ in range(1_500):
        when = start + timedelta(seconds=chance.uniform(0, 70 * 365.25 * 86_400))
        latitude, longitude = (
            math.degrees(math.asin(chance.uniform(-1, 1))),
            chance.uniform(-180, 180),
        )
        stamp = pd.DatetimeIndex([when])
        delta_t = spa.calculate_deltat(when.year, when.month)
        found = spa.solar_position(
            stamp.view("int64") / 1e9, latitude, longitude, 0, 1013.25, 12, delta_t, 0.5667
        )
        zenith, azimuth = float(found[1][0]), float(found[4][0])
        ours = sun.sun_position(when, latitude_deg=latitude, longitude_deg=longitude)
        apart = _angle(90 - ours.altitude_deg, ours.azimuth_deg, zenith, azimuth)
        worst = max(worst, apart)
    assert worst < 0.02, worst


def _angle(zenith: float, azimuth: float, other_zenith: float, other_azimuth: float) -> float:
    """The angle between two directions [degrees], by the haversine, which keeps small angles."""
    a, b = math.radians(90 - zenith), math.radians(90 - other_zenith)
    d = math.radians(azimuth - other_azimuth)
    h = math.sin((a - b) / 2) ** 2 + math.cos(a) * math.cos(b) * math.sin(d / 2) ** 2
    return math.degrees(2 * math.asin(min(1, math.sqrt(h))))


@pytest.mark.parametrize(
    ("latitude", "polar"), [(80.0, True), (-75.0, True), (0.0, False), (52.0, False)]
)
def test_days_at_all_latitudes_are_between_none_and_whole(latitude: float, polar: bool) -> None:
    seen = {
        sun.sun_day(date(2026, month, 21), latitude_deg=latitude, longitude_deg=15, zone=UTC).polar
        for month in range(1, 13)
    }

    assert ("polar day" in seen) is polar
    assert ("polar night" in seen) is polar


def test_humidity_against_psychrolib() -> None:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    chance = random.Random(2)
    for _ in range(300):
        temperature, humidity = chance.uniform(1, 40), chance.uniform(10, 100)
        reference = psychrolib.GetSatVapPres(temperature) / 1000
        assert air.saturation_vapour_pressure_kpa(temperature_c=temperature) == pytest.approx(
            reference, rel=2e-3
        )
        dew = psychrolib.GetTDewPointFromRelHum(temperature, humidity / 100)
        if dew > 0.5:
            assert air.dew_point_c(
                temperature_c=temperature, humidity_percent=humidity
            ) == pytest.approx(dew, abs=0.05)
