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


def _understood(story: Story, path: Path, text: str, *words: str) -> str:
    path.write_text(text)
    told = story.shell("import", str(path), "--dry-run", *words)
    assert told.status == 0, told.err
    return told.out


def test_columns_named_in_another_order_below_are_read_in_that_order(
    story: Story, tmp_path: Path
) -> None:
    first = "brood;species;laid;eggs;hatched;pupated;females emerged;males emerged\n"
    block = f"{first}H1;Pieris bryoniae;2020-06-01;40;39;30;10;14\n"
    alone = "brood;species;laid;eggs;hatched;pupated;males emerged;females emerged\n"
    row = "H2;Pieris bryoniae;2021-06-02;40;38;31;20;4\n"
    both = _understood(story, tmp_path / "both.csv", block + alone + row)
    of_its_own = _understood(story, tmp_path / "own.csv", alone + row)
    wanted = next(line for line in of_its_own.splitlines() if line.startswith("line 2:"))
    assert "emerged 20 of H2, male" in wanted
    assert wanted.replace("line 2:", "line 4:") in both.splitlines()
    assert "line 3 names the columns otherwise, and what is below is read so" in both
    # the first order again, with a column left out and one more, of which the first block has none
    third = "brood;species;laid;eggs;pupated;note\nH3;Pieris bryoniae;2022-06-02;40;31;windy\n"
    more = _understood(story, tmp_path / "more.csv", block + alone + row + third)
    assert "lines 3, 5 name the columns otherwise" in more
    assert "1 of 3 lines" in next(line for line in more.splitlines() if "windy" in line)


def test_events_under_columns_in_another_order_need_no_word_for_the_heading(
    story: Story, tmp_path: Path
) -> None:
    text = "date,cup,what,number,died\n2023-06-01,T3,eggs,30,0\ndate,cup,what,died,number\n"
    said = _understood(
        story,
        tmp_path / "e.csv",
        f"{text}2023-06-03,T4,eggs,1,70\n",
        "--species",
        "Pieris bryoniae",
    )
    assert "line 4:" in said
    assert "T4/23 stocked 70 eggs" in said
    assert "'what'" not in said


def test_columns_named_in_two_lines_and_then_otherwise_are_refused(
    story: Story, tmp_path: Path
) -> None:
    path = tmp_path / "pages.csv"
    path.write_text(
        "brood,Pupation,Pupation,species\n,date,number,\nB1,2024-05-20,7,Hyphoraia lunata\n"
        "brood,Pupation,Pupation,species\n,number,date,\nB2,9,2024-05-22,Hyphoraia lunata\n"
    )
    told = story.shell("import", str(path), "--dry-run")
    assert told.status
    assert "line 5 names the columns again, otherwise than above" in told.err


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


FEMALES_FIRST = "brood;laid;eggs;hatched;larvae;females;males;species"
MALES_FIRST = "brood;laid;eggs;hatched;larvae;males;females;species"


@pytest.mark.parametrize("order", ["aba", "abab", "aaba", "abba", "bab", "abAb"])
def test_each_line_of_names_holds_until_the_next_one(
    story: Story, tmp_path: Path, order: str
) -> None:
    names = {"a": FEMALES_FIRST, "b": MALES_FIRST, "A": FEMALES_FIRST.upper()}
    sexes = {"a": "8;2", "b": "2;8", "A": "8;2"}
    text = "".join(
        f"{names[one]}\nH{at};{at}.5.2021;30;{at + 9}.5.2021;25;{sexes[one]};Aglais io\n"
        for at, one in enumerate(order, start=1)
    )
    said = _understood(story, tmp_path / "y.csv", text)
    for at in range(1, len(order) + 1):
        assert f"8 of H{at}, female" in said, (at, said)
        assert f"2 of H{at}, male" in said, (at, said)


def test_each_line_of_names_of_events_holds_until_the_next_one(tmp_path: Path) -> None:
    one, other = "date,cup,what,number,died", "date,cup,what,died,number"
    sheet = read_sheet(
        tmp_path / "e.csv",
        f"{one}\n1 May,T3,eggs,30,0\n{other}\n2 May,T4,eggs,1,70\n{one}\n3 May,T5,eggs,40,2\n".encode(),
    )
    assert [row.cells[3:] for row in sheet.rows] == [("30", "0"), ("70", "1"), ("40", "2")]
