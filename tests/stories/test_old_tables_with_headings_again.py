"""A line that names the columns again, as at the head of each page, is no row; nor do many cost more than their lines."""

from __future__ import annotations

from pathlib import Path
from time import process_time

import pytest

from rounds.exchange.tables_in.sheet import read_sheet
from rounds.exchange.tables_in.table_import import ImportOptions, read_table
from rounds.exchange.tables_in.unclear import UnclearTable
from tests.stories.telling import Story

HEAD = "date,cup,what,number,note\n"
PAGE = f"{HEAD}2024-05-01,A2,fed,1,x\n2024-05-02,A3,fed,1,\n2024-05-03,A4,{{what}},1,\n"


def test_a_line_that_names_the_columns_again_is_left_out(story: Story, tmp_path: Path) -> None:
    path = tmp_path / "pages.csv"
    path.write_text(PAGE.format(what="cleaned") * 5)
    told = story.shell("import", str(path), "--dry-run", "--species", "Hyphoraia lunata")
    assert "lines 5, 9, 13 and 1 more name the columns again, left out" in told.out, told.err
    assert "15 lines, 5 columns" in told.out
    assert "15 lines are understood" in told.out
    path.write_text(PAGE.format(what="cleaned") + HEAD.upper())
    told = story.shell("import", str(path), "--dry-run", "--species", "Hyphoraia lunata")
    assert "line 5 names the columns again, left out" in told.out, told.err


def test_headings_in_two_lines_come_again_too(story: Story, tmp_path: Path) -> None:
    head = "brood,Pupation,Pupation,species\n,date,number,\n"
    path = tmp_path / "pages.csv"
    path.write_text(
        f"{head}B1,2024-05-20,7,Hyphoraia lunata\n{head}B2,2024-05-22,9,Hyphoraia lunata\n"
    )
    told = story.shell("import", str(path), "--dry-run")
    assert "lines 4, 5 name the columns again, left out" in told.out, told.err


@pytest.mark.parametrize("what", ["what", "wotsit{n}"], ids=["headings", "words"])
def test_words_nobody_knows_cost_no_more_than_their_lines(story: Story, what: str) -> None:
    def cost(pages: int) -> float:
        rows = (
            PAGE.removeprefix(HEAD).format(what=what.format(n=chr(97 + n // 20) + chr(97 + n % 20)))
            for n in range(pages)
        )
        sheet = read_sheet(Path("pages.csv"), (HEAD + "".join(rows)).encode())
        began = process_time()
        with pytest.raises(UnclearTable, match="is not known"):
            read_table(story.desk, "pages.csv", sheet, ImportOptions(species="Hyphoraia lunata"))
        return process_time() - began

    cost(10)
    assert cost(200) < 8 * cost(50) + 0.05
