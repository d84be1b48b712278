"""What is kept as a specimen: as many numbers as there are specimens, a cause only of one found
dead, and the host of a parasitoid that is dead said dead."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.stories.telling import Story

WASP = "Cotesia glomerata"


@pytest.fixture
def cup(story: Story) -> Story:
    story.at("2027-06-08 20:15")
    story.type("Q2 20 larvae Pieris napi at Quarry Lane", "K5 1 female Pieris napi")
    return story


def specimens(story: Story, file: Path) -> list[str]:
    assert story.shell("export", "csv", str(file), "--table", "specimens").status == 0
    with file.open(encoding="utf-8-sig") as table:
        return [row["catalogue number"] for row in csv.DictReader(table)]


@pytest.mark.parametrize(
    ("line", "right"),
    [
        ("Q2 preserved 1 larva voucher=M3-M5", "voucher=M3, or number=3"),
        ("Q2 preserved 3 larvae voucher=L1-L5", "voucher=L1,L2,L3, or number=5"),
        ("Q2 preserved 3 larvae voucher=L1,L2", "number=2, and the others on a line of their own"),
        ("Q2 died 1 larva voucher=M3-M5", "voucher=M3, or number=3"),
        (
            f"Q2 parasitoid 14 {WASP} hosts=1 voucher=W1-W3",
            "how many of the 14 are kept? As: kept=3",
        ),
        (f"Q2 parasitoid 2 {WASP} voucher=W1-W3", "voucher=W1,W2, or number=3"),
    ],
)
def test_a_range_of_numbers_is_of_as_many_specimens(cup: Story, line: str, right: str) -> None:
    before = len(cup.on_disk())
    assert right in cup.refused(line)
    assert len(cup.on_disk()) == before


def test_a_number_of_a_year_is_one_number(cup: Story) -> None:
    cup.type("Q2 preserved 1 larva voucher=W26-30")


@pytest.mark.parametrize("said", ["kept=3", "3 kept,", "kept 3"])
def test_some_of_many_parasitoids_are_kept(cup: Story, said: str, tmp_path: Path) -> None:
    (told,) = cup.type(f"Q2 parasitoid 14 {WASP} hosts=1, {said} voucher=W1-W3")
    assert f"14 {WASP}, out of 1 larva" in told
    assert "3 of them kept, W1-W3" in told
    assert specimens(cup, tmp_path / "specimens.csv") == ["W1", "W2", "W3"]
    found = cup.shell("export", "occurrences", "-").out.removeprefix("\ufeff")
    wasps = [one for one in csv.DictReader(found.splitlines()) if one["scientificName"] == WASP]
    told = [(one["individualCount"], one["basisOfRecord"], one["vitality"]) for one in wasps]
    assert told == [*[("1", "PreservedSpecimen", "dead")] * 3, ("11", "LivingSpecimen", "alive")]
    assert "4 are kept of 2" in cup.refused(f"Q2 parasitoid 2 {WASP} kept=4")


def test_the_host_of_a_parasitoid_is_said_dead_in_a_line_that_is_shown(cup: Story) -> None:
    (told,) = cup.type(f"Q2 parasitoid 14 {WASP} hosts=1")
    line = "Q2 died 1 larva cause=parasitised"
    assert f"the host is still alive on record; dead, as: {line}" in told
    cup.type(line)
    assert cup.desk.bench.containers["Q2"].count("larva") == 19
    (again,) = cup.type(f"Q2 parasitoid 3 {WASP} hosts=1")
    assert "alive" not in again


def test_one_with_a_cause_was_found_dead_and_the_echo_says_how_else(cup: Story) -> None:
    line = "K5 preserved 1 female voucher=V10 cause=crippled"
    assert "with a cause it was found dead" in cup.preview(line)
    (told,) = cup.type(line)
    assert "found dead, crippled, V10" in told
    killed = told.partition("with a remark: ")[2].rstrip(")")
    assert killed == "K5 preserved 1 female voucher=V10 -- crippled"
    cup.type("undo")
    assert "found dead" not in cup.type(killed)[0]


@pytest.mark.parametrize("typed", ["?", "-", "..."])
def test_a_permit_has_a_number(cup: Story, typed: str) -> None:
    assert "which number has the permit?" in cup.refused(f"permit {typed}")


@pytest.mark.parametrize("first", ["K1 laying", "K1 on sill"])
def test_the_code_may_be_said_again_with_what_is_in_it(story: Story, first: str) -> None:
    story.shell(
        "begin",
        typed=f"My bench\n49.2N 0.4W Europe/Paris\n1\n{first}\nK1 2 females Boloria dia\n\n",
    )
    story.reopen()
    assert story.desk.bench.containers["K1"].count("adult") == 2
    assert list(story.desk.bench.containers) == ["K1"]


def test_another_code_than_was_asked_about_is_told(story: Story) -> None:
    ran = story.shell(
        "begin",
        typed="My bench\n49.2N 0.4W Europe/Paris\n1\nK1 laying\nK3 2 females Boloria dia\n\n",
    )
    assert "K1 is what is asked about; as: 2 females Boloria dia" in ran.out + ran.err
