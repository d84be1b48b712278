"""The sun. Reference positions and rises by pvlib's SPA and by Forsythe et al. 1995, beside each row in values/sun.json."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from rounds.surroundings import sun
from tests.published.rows import Row, row, rows


@pytest.mark.parametrize("check", rows("sun", "spa"))
def test_position(check: Row) -> None:
    given, expected = check["inputs"], check["expected"]
    text = given["utc"]
    when = datetime.fromisoformat(text if "+" in text else text + "+00:00")
    found = sun.sun_position(when, latitude_deg=given["lat"], longitude_deg=given["lon"])

    assert 90 - found.altitude_deg == pytest.approx(expected["zenith"], abs=0.02)
    away = (found.azimuth_deg - expected["azimuth"] + 180) % 360 - 180
    from math import radians, sin

    assert abs(away) * sin(radians(expected["zenith"])) < 0.02


@pytest.mark.parametrize("check", rows("sun", "rise"))
def test_rise_set_and_length(check: Row) -> None:
    given, expected = check["inputs"], check["expected"]
    found = sun.sun_day(
        date.fromisoformat(given["local_date"]), latitude_deg=given["lat"], longitude_deg=given["lon"],
        zone=ZoneInfo(given["tz"]),
    )  # fmt: skip

    for name, at in (("sunrise", found.sunrise), ("sunset", found.sunset)):
        if expected[name] is None:
            assert at is None
        else:
            assert at is not None
            clock = datetime.fromisoformat(f"{given['local_date']}T{expected[name]}").replace(
                tzinfo=at.tzinfo
            )
            assert abs((at - clock).total_seconds()) < 60
    assert found.day_length_h == pytest.approx(expected["daylength_h"], abs=0.02)
    assert found.polar == (expected["polar"] or "")


@pytest.mark.parametrize("check", rows("sun", "dl_"))
def test_day_length_model(check: Row) -> None:
    found = sun.day_length_cbm_h(
        latitude_deg=check["inputs"]["lat"], day_of_year=check["inputs"]["J"]
    )

    assert found == pytest.approx(check["expected"]["CBM_h"], abs=0.001)


def test_fao_example_9_day_length() -> None:
    # FAO-56 example 9 (from memory): its eq. 34 takes the sun's centre without refraction, so ours is a little longer.
    expected = row("humidity", "fao_ex89")["expected"]
    found = sun.day_length_cbm_h(latitude_deg=-20, day_of_year=246, depression_deg=0.0)

    assert found == pytest.approx(expected["N_hours"], abs=0.05)


def test_sun_on_a_sill_is_the_part_of_the_day_that_the_wall_and_the_trees_leave() -> None:
    # Reasoned, not published: at an equinox a south window has the sun as long as it is up; an east one until noon.
    day, place = date(2024, 3, 20), {"latitude_deg": 51.5074, "longitude_deg": -0.1278, "zone": UTC}
    whole = sun.sun_day(day, **place)  # type: ignore[arg-type]
    ((south_from, south_to),) = sun.sun_on_sill(day, facing_deg=180, **place)  # type: ignore[arg-type]
    ((east_from, east_to),) = sun.sun_on_sill(day, facing_deg=90, **place)  # type: ignore[arg-type]
    ((high_from, high_to),) = sun.sun_on_sill(day, facing_deg=180, obstruction_deg=20, **place)  # type: ignore[arg-type]

    assert whole.sunrise is not None
    assert whole.sunset is not None
    assert abs((south_from - whole.sunrise).total_seconds()) < 600
    assert abs((south_to - whole.sunset).total_seconds()) < 600
    assert abs((east_to - datetime(2024, 3, 20, 12, 8, tzinfo=UTC)).total_seconds()) < 120
    assert abs((east_from - south_from).total_seconds()) < 300
    assert high_from > south_from
    assert high_to < south_to
    north = sun.sun_on_sill(day, facing_deg=0, **place)  # type: ignore[arg-type]
    assert sum((end - start).total_seconds() for start, end in north) < 900
