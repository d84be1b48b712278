"""Sun: where it stands, the day, the sill."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from rounds.surroundings import sun
from rounds.views.calculations.frame import (
    Calculation,
    CalculationResult,
    Figure,
    InputRefused,
    inputs,
)

SOURCE = (
    "Meeus 1998, Astronomical Algorithms, ch. 13, 22, 25; within 0.02 degrees of a reference"
    " algorithm, 1990 to 2060"
)


def _instant(text: str) -> datetime:
    try:
        when = datetime.fromisoformat(text.replace("Z", "+00:00"))
    except ValueError:
        raise InputRefused(f"time is '{text}'; write it as 2026-05-20T13:00:00+02:00") from None
    if when.tzinfo is None:
        raise InputRefused(
            f"time is '{text}', without its offset; write it as 2026-05-20T13:00:00+02:00"
        )
    return when


def _sun(given: Mapping[str, Any]) -> CalculationResult:
    when = _instant(given["time"])
    place = {"latitude_deg": given["latitude"], "longitude_deg": given["longitude"]}
    sun_position = sun.sun_position(when, **place)
    zone = when.tzinfo or UTC
    day = sun.sun_day(when.date(), **place, zone=zone)
    figures = [
        Figure("azimuth, from north by east", sun_position.azimuth_deg, "degrees", digits=2),
        Figure("altitude", sun_position.altitude_deg, "degrees", digits=2),
        Figure("sunrise", f"{day.sunrise:%H:%M:%S}" if day.sunrise else None),
        Figure("sunset", f"{day.sunset:%H:%M:%S}" if day.sunset else None),
        Figure("day length", day.day_length_h, "h", digits=2),
    ]
    if day.polar:
        words = [
            f"a {day.polar}: the sun"
            f" {'does not set' if day.polar == 'polar day' else 'does not rise'}"
        ]
    else:
        words = []
    if given["facing"] is not None:
        spans = sun.sun_on_sill(
            when.date(),
            **place,
            zone=zone,
            facing_deg=given["facing"],
            obstruction_deg=given["obstruction"],
        )
        words.append(
            "sun on the sill "
            + (", ".join(f"{a:%H:%M} to {b:%H:%M}" for a, b in spans) or "not today")
        )
    if given["resting-under"] is not None:
        short = day.day_length_h < given["resting-under"]
        words.append(
            f"the day is {'shorter' if short else 'not shorter'} than {given['resting-under']:g} h,"
            " the resting-stage length given"
        )
    return CalculationResult(figures, words)


def _day_length(given: Mapping[str, Any]) -> CalculationResult:
    hours = sun.day_length_cbm_h(
        latitude_deg=given["latitude"],
        day_of_year=given["day-of-year"],
        depression_deg=given["depression"],
    )
    return CalculationResult((Figure("day length", hours, "h", digits=2),))


CALCULATIONS = (
    Calculation(
        "sun",
        "where the sun stands, sunrise, sunset, day length, sun on a sill",
        inputs("""
            time time | with its offset | 2026-05-20T13:00:00+02:00
            latitude -90..90 degrees | north positive
            longitude -180..180 degrees | east positive
            facing? 0..360 degrees | which way the window looks, from north by east
            obstruction 0..89 degrees = 0.0 | how high what stands opposite is
            resting-under? 0..24 h | day length under which stock goes to rest
            """),
        _sun,
        "apparent ecliptic longitude by series, turned to azimuth and altitude; rise and set at"
        " 90.8333 degrees from the zenith",
        SOURCE,
        "--time 2026-05-20T13:00:00+02:00 --latitude 48.2 --longitude 16.4 --facing 135"
        " --obstruction 15",
    ),
    Calculation(
        "day-length",
        "how long a day of the year is, as studies of diapause reckon it",
        inputs("""
            latitude -90..90 degrees | north positive
            day-of-year count 1..366 | 1 is the first of January
            depression 0..18 degrees = 0.8333 | of the sun at both ends; 6 is civil twilight
            """),
        _day_length,
        "the sun's declination by the day of the year; the day while it stands less than the"
        " depression below the horizon",
        "Forsythe, Rykiel, Stahl, Wu & Schoolfield 1995, Ecol. Model. 80:87-95 (CBM model)",
        "--latitude 48.2 --day-of-year 140",
    ),
)
