"""A quote that nothing closes swallows no rows of an old table; a true note of many lines comes in."""

from __future__ import annotations

import csv
import io
import random
from pathlib import Path
from time import process_time

import pytest

from rounds.exchange.tables_in.quoted_rows import QuotedRows
from tests.stories.telling import Story

HEAD = "date;container;what;number;note"


def table(tmp_path: Path, **odd: str) -> Path:
    """Forty rows, of which some have another note."""
    notes = [odd.get(f"row{row}", "x") for row in range(40)]
    rows = [f"2024-05-{1 + row % 28:02};A2;fed;1;{note}" for row, note in enumerate(notes)]
    path = tmp_path / "old.csv"
    path.write_text("\n".join([HEAD, *rows]) + "\n", encoding="utf-8")
    return path


def test_an_open_quote_ends_with_its_line(story: Story, tmp_path: Path) -> None:
    told = story.shell(
        "import",
        str(table(tmp_path, row5='"open lid', row30='"shut')),
        "--dry-run",
        "--species",
        "Hyphoraia lunata",
    )
    assert "40 lines, 5 columns" in told.out, told.out + told.err
    assert "lines 7, 32 open a quote that nothing closes, read without it" in told.out
    assert "40 lines are understood" in told.out


def test_a_quote_closed_many_rows_later_is_refused(story: Story, tmp_path: Path) -> None:
    ran = story.shell("import", str(table(tmp_path, row5='"open', row30='shut"')), "--yes")
    assert ran.status != 0
    assert "line 7 opens a quote" in ran.err
    assert "line 32" in ran.err
    assert ran.err.count("\n") == 1


def test_a_note_of_several_lines_and_inches_come_in(story: Story, tmp_path: Path) -> None:
    path = table(tmp_path, row5='"ate well\nno frass; all still\nmoved"', row9='"6" pot')
    told = story.shell("import", str(path), "--dry-run", "--species", "Hyphoraia lunata")
    assert "40 lines, 5 columns" in told.out
    assert "opens a quote" not in told.out
    assert "ate well no frass; all still moved" in told.out
    assert '6" pot' in told.out


def test_what_a_writer_of_csv_writes_is_read_alike() -> None:
    """Source: the csv module of Python's standard library."""
    chance = random.Random(4)
    parts = ["a", "b 1", ",", "\n", 'x" y', "2024-05-01"]
    for _ in range(300):
        wide = chance.randint(2, 6)
        rows = [
            [f"a{''.join(chance.choices(parts, k=chance.randint(1, 4)))}." for _ in range(wide)]
            for _ in range(chance.randint(2, 9))
        ]
        text = io.StringIO(newline="")
        csv.writer(text, lineterminator="\n").writerows([[f"h{at}" for at in range(wide)], *rows])
        read = [row.cells for row in QuotedRows(text.getvalue(), ",").rows[1:-1]]
        assert [list(cells) for cells in read] == rows


@pytest.mark.parametrize("row", ['2024-05-01,"A2,eggs,3\n', '2024-05-01,"6" pot,eggs,3\n'])
def test_open_quotes_cost_no_more_than_their_lines(row: str) -> None:
    def cost(times: int) -> float:
        began = process_time()
        assert len(QuotedRows(f"date,container,what,number\n{row}" * times, ",").rows) > times
        return process_time() - began

    cost(100)
    assert cost(4_000) < 8 * cost(1_000) + 0.05
