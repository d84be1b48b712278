"""Where a specimen is kept and who caught one are no part of a number or of a place; each specimen has its own number."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def cup(story: Story) -> Story:
    """A cup with larvae, and a laying cup."""
    tell(
        story.at("2027-05-01 07:05"),
        """
        taxon 'Boloria inventa'
        R1 set up rearing
        K1 set up laying
        brood S taxon='Boloria inventa'
        R1 stocked S larva 9 instar=3
        """,
    )
    return story.later(hours=1)


@pytest.mark.parametrize(
    "line",
    [
        "R1 preserved 2 larvae V7 in 'Town museum'",
        "R1 preserved 2 larvae V7 at 'Town museum'",
        "R1 preserved 2 larvae V7 in Town museum",
        "R1 preserved 2 V7 larvae in 'Town museum'",
        "R1 preserved 2 larvae voucher=V7 depository='Town museum'",
    ],
)
def test_two_under_one_number_are_numbered_and_kept_there(
    cup: Story, tmp_path: Path, line: str
) -> None:
    assert "voucher V7, depository Town museum" in cup.preview(line)
    assert "(numbered V7.1 and V7.2)" in cup.preview(line)
    (told,) = cup.type(line)
    assert "V7, Town museum (numbered V7.1 and V7.2)" in told
    file = tmp_path / "specimens.csv"
    assert cup.shell("export", "csv", str(file), "--table", "specimens").status == 0
    with file.open(encoding="utf-8-sig", newline="") as lines:
        rows = list(csv.DictReader(lines))
    assert [row["catalogue number"] for row in rows] == ["V7.1", "V7.2"]
    assert {row["depository"] for row in rows} == {"Town museum"}


def test_as_many_numbers_as_specimens_are_theirs(cup: Story) -> None:
    (told,) = cup.type("R1 preserved 2 larvae V7,V8 in 'Town museum'")
    assert told.endswith("V7,V8, Town museum")
    (told,) = cup.type("R1 preserved 3 larvae V9")
    assert "(numbered V9.1 to V9.3)" in told


def test_one_keeps_its_number(cup: Story) -> None:
    (told,) = cup.type("R1 preserved 1 larva V7 in 'Town museum'")
    assert told.endswith("V7, Town museum")


def test_a_parasitoid_is_kept_there_too(cup: Story) -> None:
    cup.type("R1 parasitoid 1 Cotesia in 'Town museum' voucher=V3")
    told = cup.on_disk()[-1]
    assert (told["taxon"], told["depository"], told["voucher"]) == ("Cotesia", "Town museum", "V3")


@pytest.mark.parametrize(
    "line", ["preserved 1 larva V7 at 'Mill lane' by KM", "released 1 larva at 'Mill lane' by KM"]
)
def test_who_found_it_is_no_part_of_a_place_in_quotes(cup: Story, line: str) -> None:
    assert "KM'" in cup.refused(f"R1 {line}")


@pytest.mark.parametrize(
    ("place", "by", "collector"),
    [
        ("'Mill lane'", "by KM", "KM"),
        ("'Mill lane'", "by Karin Maas", "Karin Maas"),
        ("Mill lane", "by KM", "KM"),
        ("Mill lane", "caught 28 Apr by KM", "KM"),
        ("'Stow by Mill lane'", "by KM", "KM"),
        ("Stow by Mill lane", "by KM", "KM"),
        ("Stow by Mill lane", "", None),
    ],
)
def test_who_caught_her_is_no_part_of_the_place(
    cup: Story, place: str, by: str, collector: str | None
) -> None:
    cup.type(f"K1 founder W9 'Boloria inventa' female at {place} {by}")
    told = cup.on_disk()[-1]
    assert (told["place"], told.get("collector")) == (place.strip("'"), collector)


def test_the_caught_are_asked_about_no_more_than_before(cup: Story) -> None:
    cup.type(
        "K1 founder W9 'Boloria inventa' female from 'Mill lane', caught yesterday by KM wear fresh"
    )
    told = cup.on_disk()[-1]
    assert (told["place"], told["collector"], told["wear"]) == ("Mill lane", "KM", "fresh")
