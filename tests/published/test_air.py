"""Humidity, dew point, evaporation. The source of each row stands beside it in values/humidity.json."""

from __future__ import annotations

import pytest

from rounds.surroundings import air
from rounds.surroundings.moat import open_water_loss_mm_a_day
from tests.published.rows import Row, row, rows


@pytest.mark.parametrize("check", rows("humidity", "es_"))
def test_saturation_vapour_pressure(check: Row) -> None:
    expected = check["expected"]
    found = air.saturation_vapour_pressure_kpa(temperature_c=check["inputs"]["T"])

    if "es_kPa" in expected:
        assert found == pytest.approx(expected["es_kPa"], abs=1e-6)
        assert found == pytest.approx(expected["printed_table"], abs=5e-4)
    else:
        assert found == pytest.approx(expected["FAO"], abs=1e-5)
        # How far the chosen formula is from better ones: 0.1 % at these temperatures.
        for name in ("Goff1957", "Sonntag", "WagnerPruss", "psychrolib_2_5_0"):
            assert found == pytest.approx(expected[name], rel=1.5e-3), name


def test_fao_example_3() -> None:
    check = row("humidity", "fao_ex3")
    expected = check["expected"]

    assert air.saturation_vapour_pressure_kpa(temperature_c=24.5) == pytest.approx(
        expected["es_Tmax"], abs=1e-8
    )
    assert air.saturation_vapour_pressure_kpa(temperature_c=15) == pytest.approx(
        expected["es_Tmin"], abs=1e-8
    )


def test_fao_examples_5_and_6() -> None:
    expected = row("humidity", "fao_ex5")["expected"]
    at_night = {"temperature_c": 18, "humidity_percent": 82}
    by_day = {"temperature_c": 25, "humidity_percent": 54}
    vapour = (air.vapour_pressure_kpa(**at_night) + air.vapour_pressure_kpa(**by_day)) / 2
    deficit = (
        air.vapour_pressure_deficit_kpa(**at_night) + air.vapour_pressure_deficit_kpa(**by_day)
    ) / 2

    assert vapour == pytest.approx(expected["ea"], abs=1e-8)
    assert deficit == pytest.approx(expected["vpd"], abs=1e-8)


@pytest.mark.parametrize("check", rows("humidity", "dew_"))
def test_dew_point_and_deficit(check: Row) -> None:
    expected = check["expected"]
    given = {"temperature_c": check["inputs"]["T"], "humidity_percent": check["inputs"]["RH"]}

    found = air.dew_point_c(**given)
    assert found == pytest.approx(expected["Td_Lawrence"], abs=1e-6)
    assert found == pytest.approx(expected["Td_psychrolib"], abs=0.02)
    assert air.vapour_pressure_deficit_kpa(**given) == pytest.approx(
        expected["vpd_FAO_kPa"], abs=1e-6
    )


@pytest.mark.parametrize("check", rows("humidity", "evap_"))
def test_open_water_evaporation(check: Row) -> None:
    given = check["inputs"]
    found = open_water_loss_mm_a_day(
        temperature_c=given["T"], humidity_percent=given["RH"], wind_m_s=given["u_ms"]
    )

    assert found == pytest.approx(check["expected"]["Shuttleworth_mm_day"], abs=1e-4)


@pytest.mark.parametrize("check", rows("humidity", "pool_"))
def test_another_formula_for_still_water_lies_within_the_stated_spread(check: Row) -> None:
    # Carrier 1918 as ASHRAE gives it (from memory): a different formula, so only the order of size is compared.
    given = check["inputs"]
    found = open_water_loss_mm_a_day(
        temperature_c=given["Tair"], humidity_percent=given["RH"], wind_m_s=given["V_ms"]
    )

    assert found == pytest.approx(check["expected"]["mm_day"], rel=0.4)
