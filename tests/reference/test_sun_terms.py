"""The parts of the sun's place that its direction hardly shows: clock error and sidereal time, against pvlib's SPA."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy
import pytest
from pvlib import spa

from rounds.surroundings.sun import _delta_t_s, _equatorial


@pytest.mark.parametrize("year", range(1960, 2101))
def test_the_earths_clock_error(year: int) -> None:
    """Espenak & Meeus 2006 as pvlib has them, at mid-June; our first piece is used from 1950, 8 s off there."""
    found = _delta_t_s(year + 5.5 / 12)

    assert found == pytest.approx(spa.calculate_deltat(year, 6), abs=0.15)


def test_apparent_sidereal_time() -> None:
    """Within 0.0005 degrees (1.8 seconds of arc), the size of the nutation terms that the short series leaves out."""
    for year in range(1960, 2101, 2):
        for month in (1, 3, 5, 6, 8, 10, 11):
            when = datetime(year, month, 11, 7, tzinfo=UTC)
            day = spa.julian_day(when.timestamp())
            century = spa.julian_ephemeris_century(
                spa.julian_ephemeris_day(day, _delta_t_s(year + month / 12))
            )
            arguments = (
                spa.mean_elongation,
                spa.mean_anomaly_sun,
                spa.mean_anomaly_moon,
                spa.moon_argument_latitude,
                spa.moon_ascending_longitude,
            )
            nutation = numpy.zeros((2, 1))
            spa.longitude_obliquity_nutation(
                century, *(one(century) for one in arguments), nutation
            )
            tilt = spa.true_ecliptic_obliquity(
                spa.mean_ecliptic_obliquity(spa.julian_ephemeris_millennium(century)),
                nutation[1, 0],
            )
            mean = spa.mean_sidereal_time(day, spa.julian_century(day))
            expected = spa.apparent_sidereal_time(mean, nutation[0, 0], tilt)

            found = _equatorial(when)[2]

            assert abs((found - expected + 180) % 360 - 180) < 0.0005
