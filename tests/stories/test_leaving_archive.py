"""The archive's description covers the records from the first one on, also where that was before the book began."""

from __future__ import annotations

from pathlib import Path

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
