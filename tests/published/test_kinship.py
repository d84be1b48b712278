"""Inbreeding and effective number. The source of each row stands beside it in values/kinship.json."""

from __future__ import annotations

import pytest

from rounds.biology import kinship as kin
from tests.published.rows import Row, row, rows

FAMILY = {
    "sibs": ("dam", "sire"),
    "half": ("other dam", "sire"),
    "niece": ("sibs", "stranger"),
    "brother's": ("another stranger", "sibs"),
}


def test_pairs_of_relatives() -> None:
    expected = row("kinship", "kin_pairs")["expected"]
    found = {
        "self": kin.kinship(FAMILY, "dam", "dam"),
        "parent_offspring": kin.kinship(FAMILY, "dam", "sibs"),
        "full_sibs": kin.kinship(FAMILY, "sibs", "sibs"),
        "half_sibs": kin.kinship(FAMILY, "sibs", "half"),
        "uncle_niece": kin.kinship(FAMILY, "sibs", "niece"),
        "grandparent": kin.kinship(FAMILY, "dam", "niece"),
        "first_cousins": kin.kinship(FAMILY, "niece", "brother's"),
    }

    assert found == {name: pytest.approx(value, abs=1e-12) for name, value in expected.items()}


def test_repeated_systems() -> None:
    assert kin.half_sib_inbreeding(10) == pytest.approx(row("kinship", "f_halfsib")["expected"], abs=1e-12)
    assert kin.backcross_inbreeding(6) == pytest.approx(row("kinship", "f_backcross")["expected"], abs=1e-12)
    # Wright 1921: brother with sister, 1/4, 3/8, 1/2, 19/32 (from memory); the pedigree gives the same.
    assert kin.full_sib_inbreeding(4) == pytest.approx([1 / 4, 3 / 8, 1 / 2, 19 / 32], abs=1e-12)
    line = {"g1": ("dam", "sire"), "g2": ("g1", "g1"), "g3": ("g2", "g2"), "g4": ("g3", "g3")}
    assert [kin.inbreeding_of_pairing(line, g, g) for g in line] == pytest.approx(kin.full_sib_inbreeding(4), abs=1e-12)


@pytest.mark.parametrize("check", [one for one in rows("kinship", "ne_") if one.values[0]["id"] != "ne_harm"])
def test_effective_number(check: Row) -> None:
    expected = check["expected"]
    found = kin.effective_number(males=check["inputs"]["Nm"], females=check["inputs"]["Nf"])

    assert found == pytest.approx(expected["Ne"], abs=1e-10)
    assert 1 / (2 * found) == pytest.approx(expected["dF"], abs=1e-10)
    assert kin.inbreeding_after(generations=5, effective=found) == pytest.approx(expected["F_after_5"], abs=1e-10)


def test_sizes_that_change() -> None:
    check = row("kinship", "ne_harm")

    assert kin.effective_number_over(check["inputs"]["N"]) == pytest.approx(check["expected"]["Ne"], abs=1e-12)
