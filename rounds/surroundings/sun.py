"""The sun: where it stands, when it rises and sets, when it reaches a sill, how long the day is.

Source of the position: Meeus 1998, Astronomical Algorithms, 2nd ed., chapters 12, 13, 22, 25 (low
accuracy series with apparent longitude), with a parallax of 8.8 arc seconds. Good to 0.01 degree
between 1950 and 2100.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from msgspec import Struct

from rounds.limits import within

HORIZON_ZENITH_DEG = 90.8333  # upper limb on the horizon with usual refraction
_J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)


class SunPosition(Struct, frozen=True):
    """Azimuth clockwise from north and altitude above the horizon without refraction [degrees]."""

    azimuth_deg: float
    altitude_deg: float


class SunDay(Struct, frozen=True):
    """A local day's sunrise and sunset, its length [h], and whether the sun never sets or never
    rises."""

    sunrise: datetime | None
    sunset: datetime | None
    day_length_h: float
    polar: str = ""


def _delta_t_s(year: float) -> float:
    """Earth's clock error TT - UT [s], 1950 to 2100: Espenak & Meeus 2006 polynomials, shortened."""  # noqa: E501
    t = year - 2000
    if year < 1986:
        t = year - 1975
        return 45.45 + 1.067 * t - t * t / 260 - t**3 / 718
    if year < 2005:
        return (
            63.86
            + 0.3345 * t
            - 0.060374 * t * t
            + 0.0017275 * t**3
            + 0.000651814 * t**4
            + 0.00002373599 * t**5
        )
    if year < 2050:
        return 62.92 + 0.32217 * t + 0.005589 * t * t
    return -20 + 32 * ((year - 1820) / 100) ** 2 - 0.5628 * (2150 - year)


def _equatorial(when: datetime) -> tuple[float, float, float]:
    """Right ascension and declination [rad] and Greenwich apparent sidereal time [degrees]."""
    days_ut = (when - _J2000) / timedelta(days=1)
    year = 2000 + days_ut / 365.25
    century = (days_ut + _delta_t_s(year) / 86_400) / 36_525
    anomaly = math.radians(357.52911 + century * (35999.05029 - 0.0001537 * century))
    mean_longitude = 280.46646 + century * (36000.76983 + 0.0003032 * century)
    centre = (
        (1.914602 - century * (0.004817 + 0.000014 * century)) * math.sin(anomaly)
        + (0.019993 - 0.000101 * century) * math.sin(2 * anomaly)
        + 0.000289 * math.sin(3 * anomaly)
    )
    moon = math.radians(218.3165 + 481267.8813 * century)
    node = math.radians(125.04452 - 1934.136261 * century)
    sun = math.radians(mean_longitude)
    nutation = (
        -17.20 * math.sin(node)
        - 1.32 * math.sin(2 * sun)
        - 0.23 * math.sin(2 * moon)
        + 0.21 * math.sin(2 * node)
    ) / 3600
    tilt = (
        23.4392911
        - 0.0130042 * century
        + (
            9.20 * math.cos(node)
            + 0.57 * math.cos(2 * sun)
            + 0.10 * math.cos(2 * moon)
            - 0.09 * math.cos(2 * node)
        )
        / 3600
    )
    longitude = math.radians(mean_longitude + centre - 0.00569 + nutation)
    tilt_rad = math.radians(tilt)
    ascension = math.atan2(math.cos(tilt_rad) * math.sin(longitude), math.cos(longitude))
    declination = math.asin(math.sin(tilt_rad) * math.sin(longitude))
    sidereal = 280.46061837 + 360.98564736629 * days_ut + nutation * math.cos(tilt_rad)
    return ascension, declination, sidereal


def sun_position(when: datetime, *, latitude_deg: float, longitude_deg: float) -> SunPosition:
    """Where the sun stands.

    Args:
        when: an instant with an offset, 1950 to 2100.
        latitude_deg: north positive. longitude_deg: east positive.

    Raises:
        ValueError: no offset, or out of range.
    """
    within("latitude", latitude_deg, -90, 90, "degrees")
    within("longitude", longitude_deg, -180, 180, "degrees")
    if when.tzinfo is None:
        raise ValueError("the time has no offset from UTC; write it as 2026-05-20T07:00:00+02:00")
    within("year", when.year, 1950, 2100)
    ascension, declination, sidereal = _equatorial(when)
    hour_angle = math.radians(sidereal + longitude_deg) - ascension
    latitude = math.radians(latitude_deg)
    up = math.sin(latitude) * math.sin(declination) + math.cos(latitude) * math.cos(
        declination
    ) * math.cos(hour_angle)
    altitude = math.asin(max(-1.0, min(1.0, up)))
    east = -math.cos(declination) * math.sin(hour_angle)
    north = math.sin(declination) * math.cos(latitude) - math.cos(declination) * math.sin(
        latitude
    ) * math.cos(hour_angle)
    parallax = 8.794 / 3600 * math.cos(altitude)
    return SunPosition(
        math.degrees(math.atan2(east, north)) % 360, math.degrees(altitude) - parallax
    )


def sun_day(day: date, *, latitude_deg: float, longitude_deg: float, zone: tzinfo) -> SunDay:
    """Sunrise, sunset and day length of a local day, to a second or two at middle latitudes.

    The sun counts as up while its zenith distance is under 90.8333 degrees. A day on which it
    neither rises nor sets is a polar day or polar night.
    """
    start = datetime.combine(day, time(0), tzinfo=zone).astimezone(UTC)
    end = datetime.combine(day + timedelta(days=1), time(0), tzinfo=zone).astimezone(UTC)
    limit = 90 - HORIZON_ZENITH_DEG

    def above(at: datetime) -> float:
        return (
            sun_position(at, latitude_deg=latitude_deg, longitude_deg=longitude_deg).altitude_deg
            - limit
        )

    step = timedelta(minutes=10)
    rise = set_ = None
    lit = timedelta(0)
    at = start
    while at < end:
        after = min(at + step, end)
        first, second = above(at), above(after)
        if first <= 0 < second:
            rise = _crossing(above, at, after)
            lit += after - rise
        elif second <= 0 < first:
            set_ = _crossing(above, at, after)
            lit += set_ - at
        elif first > 0:
            lit += after - at
        at = after
    polar = "" if rise or set_ else ("polar day" if lit else "polar night")
    hours = 24.0 if polar == "polar day" else lit / timedelta(hours=1)
    return SunDay(
        rise.astimezone(zone) if rise else None,
        set_.astimezone(zone) if set_ else None,
        hours,
        polar,
    )


def _crossing(above: Callable[[datetime], float], low: datetime, high: datetime) -> datetime:
    sign = above(low) > 0
    for _ in range(24):
        middle = low + (high - low) / 2
        if (above(middle) > 0) == sign:
            low = middle
        else:
            high = middle
    return low + (high - low) / 2


def sun_on_sill(
    day: date,
    *,
    latitude_deg: float,
    longitude_deg: float,
    zone: tzinfo,
    facing_deg: float,
    obstruction_deg: float = 0.0,
) -> list[tuple[datetime, datetime]]:
    """When direct sun reaches a window sill: the sun is up, above the obstruction, and before the
    wall's plane.

    Plane geometry on ``sun_position``; a far skyline of even height is taken, our simplification.

    Args:
        facing_deg: the way the window looks, clockwise from north, 0 to 360.
        obstruction_deg: how high trees or houses opposite stand above the horizon, 0 to 89.

    Returns:
        Spans of local time, to about a minute.
    """
    within("facing", facing_deg, 0, 360, "degrees")
    within("obstruction", obstruction_deg, 0, 89, "degrees")
    start = datetime.combine(day, time(0), tzinfo=zone).astimezone(UTC)
    end = datetime.combine(day + timedelta(days=1), time(0), tzinfo=zone).astimezone(UTC)
    spans: list[tuple[datetime, datetime]] = []
    began: datetime | None = None
    at = start
    while at <= end:
        sun = sun_position(at, latitude_deg=latitude_deg, longitude_deg=longitude_deg)
        before_wall = math.cos(math.radians(sun.azimuth_deg - facing_deg)) > 0
        shines = before_wall and sun.altitude_deg > max(obstruction_deg, 90 - HORIZON_ZENITH_DEG)
        if shines and began is None:
            began = at
        if not shines and began is not None:
            spans.append((began.astimezone(zone), at.astimezone(zone)))
            began = None
        at += timedelta(minutes=1)
    if began is not None:
        spans.append((began.astimezone(zone), end.astimezone(zone)))
    return spans


def day_length_cbm_h(
    *, latitude_deg: float, day_of_year: int, depression_deg: float = 0.8333
) -> float:
    """Day length [h] by the CBM model: Forsythe, Rykiel, Stahl, Wu & Schoolfield 1995, Ecol.

    Model. 80:87-95.
        Args:
            latitude_deg: -90 to 90. day_of_year: 1 to 366.
            depression_deg: how far the sun's centre is below the horizon at rise and set; 6 for
                civil twilight.
    """
    within("latitude", latitude_deg, -90, 90, "degrees")
    within("day of year", day_of_year, 1, 366)
    revolution = 0.2163108 + 2 * math.atan(0.9671396 * math.tan(0.00860 * (day_of_year - 186)))
    declination = math.asin(0.39795 * math.cos(revolution))
    latitude = math.radians(latitude_deg)
    cosine = (
        math.sin(math.radians(depression_deg)) + math.sin(latitude) * math.sin(declination)
    ) / (math.cos(latitude) * math.cos(declination))
    return 24 - 24 / math.pi * math.acos(max(-1.0, min(1.0, cosine)))
