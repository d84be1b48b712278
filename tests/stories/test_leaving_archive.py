"""The archive's description covers the records from the first one on, also where that was before the book began."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from dwca.read import DwCAReader

from tests.stories.telling import Story, tell


def test_the_coverage_begins_with_the_first_catch_not_with_the_first_line(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        """
        K2 set up laying
        K2 founder A-27-02, Pieris orata female caught=2027-04-28
        K2 host in cress leaf water
        """,
    )
    story.later(days=2)
    tell(story, "K2 searched 6")
    story.later(days=5)
    tell(story, "K2 note cold today")
    assert story.shell("export", "dwca", str(tmp_path / "record.zip")).status == 0
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        span = archive.metadata.find("dataset/coverage/temporalCoverage/rangeOfDates")
    assert span is not None
    assert span.findtext("beginDate/calendarDate") == "2027-04-28"
    assert span.findtext("endDate/calendarDate") == "2027-05-03"


def test_a_book_without_a_record_has_no_coverage(story: Story, tmp_path: Path) -> None:
    tell(story, "K2 set up laying")
    assert story.shell("export", "dwca", str(tmp_path / "record.zip")).status == 0
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        assert archive.metadata.find("dataset/coverage") is None


@pytest.mark.parametrize(
    ("said", "means", "degree"),
    [
        ("", "", ""),
        ("native", "native", "native"),
        ("vagrant", "vagrant", ""),
        ("uncertain", "uncertain", ""),
    ],
)
def test_how_a_species_came_to_live_there_is_said_where_the_keeper_says_it(
    story: Story, tmp_path: Path, said: str, means: str, degree: str
) -> None:
    """Establishment Means vocabulary, http://rs.tdwg.org/dwcem/: it is of the wild ones alone; uncertain is a
    statement of its own, that the origin of the taxon there is obscure."""
    tell(
        story,
        f"""
        taxon 'Pieris orata' establishment={said or "''"}
        K2 set up laying
        K2 founder A-27-02, 'Pieris orata' female at 'Mill lane' caught=2027-04-28
        K2 host in cress leaf water
        """,
    )
    story.later(days=2)
    tell(story, "K2 searched 6")
    story.later(days=5)
    tell(story, "K2 hatched 4\nK2 released 2 larvae at 'Mill lane'\nK2 preserved 1 larva V7")
    file = tmp_path / "told.csv"
    assert story.shell("export", "occurrences", str(file)).status == 0
    with file.open(encoding="utf-8-sig", newline="") as lines:
        rows = list(csv.DictReader(lines))
    hers, *young = rows
    assert (hers["establishmentMeans"], hers["degreeOfEstablishment"]) == (means, degree)
    assert hers["eventRemarks"] == "wild, taken in to be bred from"
    assert {row["establishmentMeans"] for row in young} == {""}
    assert {row["degreeOfEstablishment"] for row in young} == {"captive", "released"}
