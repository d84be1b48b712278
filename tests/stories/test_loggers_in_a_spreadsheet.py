"""A logger's readings saved as a spreadsheet come in as they do from text."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.stories.telling import Story

BEGUN = datetime(2027, 5, 20, 7, 0, 30)


def test_true_times_in_cells_are_times(story: Story, tmp_path: Path) -> None:
    """openpyxl, which is not ours, writes the file; a title stands above the table."""
    openpyxl = pytest.importorskip("openpyxl")
    pytest.importorskip("python_calamine")
    story.at("2027-05-27 19:04").type("R4 set up rearing")
    story.reopen()
    book = openpyxl.Workbook()
    book.active.append(["Cellar logger"])
    book.active.append(["time", "temperature C", "humidity %"])
    for hour in range(24):
        book.active.append([BEGUN + timedelta(hours=hour), 18 + hour / 10, 60])
    book.save(tmp_path / "log.xlsx")
    ran = story.shell("temperatures", str(tmp_path / "log.xlsx"), "--place", "R4")
    assert ran.status == 0, ran.err
    (read,) = [line for line in story.on_disk() if line["what"] == "logger read"]
    assert (read["rows"], read["low_c"], read["high_c"]) == (24, 18, 20.3)
    assert read["since"].startswith("2027-05-20T07:00:30")


def test_a_spreadsheet_that_is_none_is_said_so(story: Story, tmp_path: Path) -> None:
    pytest.importorskip("python_calamine")
    (tmp_path / "log.xlsx").write_bytes(b"PK no spreadsheet")
    ran = story.shell("temperatures", str(tmp_path / "log.xlsx"))
    assert ran.status == 1
    assert ran.err == "rounds: log.xlsx cannot be read as a spreadsheet; save it anew, or as CSV\n"
