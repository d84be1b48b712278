"""What leaves as occurrences tells each wild animal once, at its catch, and the sex that is on record."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def kept(story: Story) -> Story:
    """Reared males of which one goes and one is kept, and wild ones of which three are kept."""
    tell(
        story,
        """K2 set up laying
        K3 set up rearing
        P2 set up emergence
        P2 8 pupae Pieris napi
        K2 founder W1, Pieris napi female place=Home caught=yesterday
        K2 founder W2, Pieris napi female place=Home caught=yesterday
        K2 founder W3, Pieris napi male place=Home caught=yesterday
        K3 founder W4, Pieris napi larva place=Home caught=yesterday
        K3 5 larvae Pieris napi at Home found_on='Alliaria petiolata'""",
    )
    tell(
        story.later(days=5),
        """P2 emerged 4 males sure
        P2 released 1 adult
        P2 preserved 1 adult voucher=M1
        K2 preserved W1 voucher=M2
        K3 preserved 2 larvae brood=PIE-27-02 voucher=M3
        K3 pupated 1 brood=W4""",
    )
    tell(story.later(days=9), "K3 emerged 1 male brood=W4 sure\nK3 released 1 adult brood=W4")
    story.reopen()
    return story


def occurrences(story: Story, *options: str) -> list[dict[str, str]]:
    file: Path = story.folder.parent / "occurrences.csv"
    ran = story.shell("export", "occurrences", str(file), "--replace", *options)
    assert ran.status == 0, ran.err
    return list(csv.DictReader(file.read_text("utf-8-sig").splitlines()))


def test_the_sex_of_those_that_went_is_the_one_on_record(kept: Story) -> None:
    rows = occurrences(kept)
    let_go = [row for row in rows if row["degreeOfEstablishment"] == "released"]
    assert {row["organismName"]: row["sex"] for row in let_go} == {
        "PIE-27-01": "male",
        "W4": "male",
    }
    (specimen,) = (row for row in rows if row["catalogNumber"] == "M1")
    assert specimen["sex"] == "male"


def test_of_the_wild_alone_no_animal_stands_twice(kept: Story) -> None:
    rows = occurrences(kept, "--wild-only")
    assert sum(int(row["individualCount"]) for row in rows) == 9, "W1 to W4, and five larvae"
    assert [row["basisOfRecord"] for row in rows if row["organismName"] == "W1"] == [
        "PreservedSpecimen"
    ]
    larvae = [row for row in rows if row["organismName"] == "PIE-27-02"]
    assert [row["individualCount"] for row in larvae] == ["3", "1", "1"]
    assert len({row["eventID"] for row in larvae}) == 1
    assert all("Alliaria petiolata" in row["associatedTaxa"] for row in larvae), "found on it, all"


def test_a_catch_is_one_event_where_all_is_told(kept: Story) -> None:
    rows = [row for row in occurrences(kept) if row["organismName"] == "W1"]
    assert [row["basisOfRecord"] for row in rows] == ["HumanObservation", "PreservedSpecimen"]
    assert len({row["eventID"] for row in rows}) == 1
