"""Sucrose solutions at 20 C. The source of each row stands beside it in values/sucrose.json."""

from __future__ import annotations

import pytest

from rounds.surroundings import solution
from tests.published.rows import Row, row, rows

CRC = [
    one
    for one in rows("sucrose")
    if "density_g_mL" in one.values[0]["expected"] and one.values[0]["id"] != "suc25"
]


@pytest.mark.parametrize("check", CRC)
def test_density_and_grams(check: Row) -> None:
    strength, expected = check["inputs"]["ww_percent"], check["expected"]
    assert solution.sucrose_density_g_ml(strength_percent=strength) == pytest.approx(
        expected["density_g_mL"], abs=1e-4
    )
    weighed = solution.weighing(strength_percent=strength, volume_ml=1000)

    assert weighed.grams_per_litre == pytest.approx(expected["g_per_L"], abs=0.1)
    assert weighed.sugar_g == pytest.approx(expected["g_per_L"], abs=0.1)
    assert weighed.sugar_g + weighed.water_g == pytest.approx(
        1000 * expected["density_g_mL"], abs=0.1
    )
    assert 100 * weighed.sugar_g / weighed.water_g == pytest.approx(
        expected["sugar_per_100g_water"]
    )


def test_between_two_table_values() -> None:
    expected = row("sucrose", "suc25")["expected"]

    assert solution.sucrose_density_g_ml(strength_percent=25) == pytest.approx(
        expected["density_g_mL"], abs=2e-4
    )


def test_ten_percent_by_volume_is_less_by_weight() -> None:
    expected = row("sucrose", "suc_wv10")["expected"]
    found = solution.weight_percent_from_volume_percent(grams_per_100_ml=10)

    assert found == pytest.approx(expected["ww_percent"], abs=0.005)
    assert solution.sucrose_density_g_ml(strength_percent=found) == pytest.approx(
        expected["density"], abs=0.005
    )


def test_no_solution_is_stronger_than_a_saturated_one() -> None:
    assert row("sucrose", "suc_sat")["expected"]["saturation_ww_percent"] > 60
    with pytest.raises(
        ValueError, match="strength is 70 % by weight; it must be at most 60 % by weight"
    ):
        solution.sucrose_density_g_ml(strength_percent=70)


def test_a_table_of_grape_must_is_not_one_of_sugar() -> None:
    # OIV Oeno 21/2004: grape must of 10 % refractometric sucrose holds other things too; ours is sugar alone.
    must = row("sucrose", "suc_trap")["expected"]

    assert solution.sucrose_density_g_ml(strength_percent=10) != pytest.approx(
        must["must_density_kg_L"], abs=5e-4
    )
    assert solution.weighing(strength_percent=10, volume_ml=1000).sugar_g > must["sugar_g_L"] + 15


@pytest.mark.parametrize(
    ("strength", "density"),
    [(10, 1.0381), (20, 1.0810), (30, 1.1270), (40, 1.1764), (50, 1.2296), (60, 1.2865)],
)
def test_density_by_another_table(strength: float, density: float) -> None:
    """Bates et al. 1942, NBS Circular 440, density of sucrose solutions at 20 C [g/ml]; from memory."""
    assert solution.sucrose_density_g_ml(strength_percent=strength) == pytest.approx(
        density, abs=3e-4
    )
