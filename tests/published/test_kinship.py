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
    # Wright 1921: brother with sister, 1/4, 3/8, 1/2, 19/32 (from memory).
    back = {"b1": ("dam", "sire"), **{f"b{n}": ("dam", f"b{n - 1}") for n in range(2, 7)}}
    again = [kin.inbreeding_of_pairing(back, "dam", brood) for brood in back]
    assert again == pytest.approx(row("kinship", "f_backcross")["expected"], abs=1e-12)
    line = {"g1": ("dam", "sire"), "g2": ("g1", "g1"), "g3": ("g2", "g2"), "g4": ("g3", "g3")}
    assert [kin.inbreeding_of_pairing(line, g, g) for g in line] == pytest.approx(
        [1 / 4, 3 / 8, 1 / 2, 19 / 32], abs=1e-12
    )


@pytest.mark.parametrize("check", rows("kinship", "ne_"))
def test_effective_number(check: Row) -> None:
    expected = check["expected"]
    found = kin.effective_number(males=check["inputs"]["Nm"], females=check["inputs"]["Nf"])

    assert found == pytest.approx(expected["Ne"], abs=1e-10)
    assert 1 / (2 * found) == pytest.approx(expected["dF"], abs=1e-10)
    assert kin.inbreeding_after(generations=5, effective=found) == pytest.approx(
        expected["F_after_5"], abs=1e-10
    )
