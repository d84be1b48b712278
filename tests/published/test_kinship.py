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


def test_a_line_of_brother_with_sister_is_one_pair_a_generation() -> None:
    """Falconer & Mackay 1996, table 5.1 (from memory): 0.25, 0.375, 0.5, 0.594, 0.672, counted there
    from the first brother and sister, here from their parents; by pedigree and by Ne alike."""
    pedigree = {"A": ("f", "m"), "B": ("A", "A"), "C": ("B", "B"), "D": ("C", "C"), "E": ("D", "D")}
    for generations, (brood, expected) in enumerate(
        zip("ABCDE", (0.25, 0.375, 0.5, 0.59375, 0.671875), strict=True), start=2
    ):
        assert kin.inbreeding_of_pairing(pedigree, brood, brood) == pytest.approx(expected)
        effective = kin.effective_number(males=1, females=1)
        assert kin.inbreeding_of_two_sexes(
            generations=generations, effective=effective
        ) == pytest.approx(expected)


def test_children_of_unrelated_founders_are_not_inbred() -> None:
    """Wright 1922 (from memory): F of an animal is the kinship of its parents."""
    assert kin.inbreeding_of_pairing({}, "f", "m") == 0
    assert kin.inbreeding_of_two_sexes(generations=1, effective=2) == 0


def test_selfing_halves_what_is_left() -> None:
    """Wright 1921 (from memory): 1/2, 3/4, 7/8 by pairing with itself; a founder with itself is 1/2."""
    assert kin.inbreeding_of_pairing({}, "f", "f") == 0.5
    assert [kin.inbreeding_after(generations=t, effective=1) for t in (1, 2, 3)] == [
        0.5,
        0.75,
        0.875,
    ]
