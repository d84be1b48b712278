"""Leave-one-out over the collected species; the whole table is ``python -m tests.calibration.species``."""

from __future__ import annotations

import pytest

from rounds.biology.thermal_constants import WHOLE, constants_for, published
from tests.calibration.species import table

BASES = ("its own", "genus", "any species", "share of larval life")


@pytest.mark.parametrize("basis", BASES)
def test_nine_in_ten_of_each_basis_come_inside(basis: str) -> None:
    found = table()[basis, ""]
    assert 0.85 <= found.inside <= 0.95
    assert abs(found.bias) < 0.1


@pytest.mark.parametrize("basis", BASES[:3])
@pytest.mark.parametrize("stage", WHOLE)
def test_no_stage_of_a_basis_is_far_off(basis: str, stage: str) -> None:
    """Of 14 to 42 cases: one more or less inside is 2 to 7 hundredths."""
    found = table()[basis, stage]
    assert 0.85 <= found.inside <= 1.0
    assert abs(found.bias) < 0.1


def test_an_instar_from_the_larvae_of_any_species_comes_inside() -> None:
    found = table()["instar of any species", ""]
    assert found.inside >= 0.85
    assert abs(found.bias) < 0.1


def test_no_species_is_without_constants() -> None:
    for species in {one.species for one in published()} | {"Nova incognita"}:
        for stage in WHOLE:
            assert constants_for(species, stage) is not None, (species, stage)
