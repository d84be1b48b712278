"""Leave-one-out over the collected species; the whole table is ``python -m tests.calibration.species``."""

from __future__ import annotations

import pytest

from rounds.biology.thermal_constants import WHOLE, constants_for, published
from rounds.forecasts.stage_ends import INSTAR_VARIES, LAST_MAKES_SLOW
from tests.calibration.species import instars_off, last_makes_slow, table

BASES = (
    "its own",
    "its own, by one",
    "genus",
    "any species",
    "share of larval life",
    "rest of larval life",
    "instar of any species",
)


@pytest.mark.parametrize("basis", BASES)
def test_nine_in_ten_of_each_basis_come_inside(basis: str) -> None:
    found = table()[basis, ""]
    assert 0.85 <= found.inside <= 0.95
    assert abs(found.bias) < 0.1


@pytest.mark.parametrize("basis", ["its own", "genus", "any species"])
@pytest.mark.parametrize("stage", WHOLE)
def test_no_stage_of_a_basis_is_far_off(basis: str, stage: str) -> None:
    """Of 14 to 42 cases: one more or less inside is 2 to 7 hundredths."""
    found = table()[basis, stage]
    assert 0.85 <= found.inside <= 1.0
    assert abs(found.bias) < 0.1


def test_what_is_said_of_instars_is_what_they_are_off() -> None:
    assert pytest.approx(instars_off(), abs=0.005) == INSTAR_VARIES


def test_how_far_the_last_instar_goes_with_larval_life_is_as_measured() -> None:
    assert pytest.approx(last_makes_slow(), abs=0.01) == LAST_MAKES_SLOW


def test_no_species_is_without_constants() -> None:
    for species in {one.species for one in published()} | {"Nova incognita"}:
        for stage in WHOLE:
            assert constants_for(species, stage) is not None, (species, stage)
