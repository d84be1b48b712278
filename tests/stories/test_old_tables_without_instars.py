"""An old table that tells of no moult says of no larva which instar it was; nothing that is told of them claims L1."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_note import note_of, table
from tests.stories.test_life_table_says_what_is_known import page
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Melitaea athalia"
LIVES = f"""brood,species,laid,eggs,hatched,larvae,pupated,pupae,emerged,adults
A,{SPECIES},2024-05-03,30,2024-05-12,28,2024-06-10,20,2024-06-24,18
"""
ANIMALS = "animal,species,laid,days as egg,days as larva,days in all,died\n" + "".join(
    f"x{number},{SPECIES},2024-05-03,9,{'' if number == 1 else 29},{'20' if number == 1 else '52'},"
    f"{'yes' if number == 1 else 'no'}\n"
    for number in range(1, 5)
)
EVENTS = f"""date,container,species,number,what happened
2024-05-03,7,{SPECIES},30,laid
2024-05-12,7,,28,hatched
2024-05-20,7,,3,larva died
2024-06-10,7,,25,pupated
2024-06-24,7,,25,emerged
"""
TABLES = {"lives": LIVES, "animals": ANIMALS, "events": EVENTS}


def brood_of(story: Story) -> str:
    (brood,) = story.desk.bench.broods
    return brood


@pytest.mark.parametrize("shape", TABLES)
async def test_nothing_that_is_told_of_them_claims_l1(
    story: Story, tmp_path: Path, shape: str
) -> None:
    assert imported(story, tmp_path, "old.csv", TABLES[shape]).status == 0
    brood = brood_of(story)
    assert "L1" not in await page(story, brood)
    note = note_of(story, tmp_path, brood)
    assert [row[0] for row in table(note, "Stage by stage")[1:4]] == ["egg", "larva", "pupa"]
    assert "larva" in [row[0] for row in table(note, "How long each stage took")]
    assert "L1" not in note
    assert story.shell("export", "season", str(tmp_path / "season.md"), "--replace").status == 0
    assert "L1" not in (tmp_path / "season.md").read_text()
    for name in ("life-table", "durations", "stock", "events", "specimens"):
        assert "L1" not in table_of(story, tmp_path, name).to_csv()
    told = table_of(story, tmp_path, "entries")
    assert "instar not known" in told.set_index("what").loc["hatched"].to_string()


def test_where_the_table_tells_of_moults_it_is_as_before(story: Story, tmp_path: Path) -> None:
    """Also of larvae that moulted where they were moved; not of those of another cup."""
    rows = f"""date,container,species,number,what happened,to
2024-05-03,7,{SPECIES},30,laid,
2024-05-03,8,{SPECIES},12,laid,
2024-05-12,7,,28,hatched,
2024-05-12,8,,12,hatched,
2024-05-14,7,,28,moved larvae to R2,R2
2024-05-17,R2,,28,L2,
2024-05-18,8,,2,larva died,
"""
    assert imported(story, tmp_path, "old.csv", rows).status == 0
    life = table_of(story, tmp_path, "life-table")
    stages = {brood: list(rows["stage"]) for brood, rows in life.groupby("brood")}
    assert sorted(stages.values()) == [["egg", "L1", "L2"], ["egg", "larva"]]


def test_moults_of_a_real_bench_are_as_before(story: Story, tmp_path: Path) -> None:
    assert imported(story, tmp_path, "old.csv", LIVES).status == 0
    tell(
        story,
        f"""
        R1 set up rearing
        R1 7 eggs {SPECIES}
        R1 hatched 5
        """,
    )
    assert [lot.instar for lot in story.desk.bench.containers["R1"].lots_of("larva")] == [1]
    story.later(days=5).type("R1 moulted 5 to L2")
    assert [lot.instar for lot in story.desk.bench.containers["R1"].lots_of("larva")] == [2]
    assert "L1" in table_of(story, tmp_path, "life-table")["stage"].tolist()
    assert story.shell("export", "season", str(tmp_path / "season.md")).status == 0
    assert "L1" in (tmp_path / "season.md").read_text()


def test_larvae_of_a_known_hatch_whose_instar_is_told_later_go_on(story: Story) -> None:
    tell(
        story,
        f"""
        R1 set up rearing
        R1 7 eggs {SPECIES}
        R1 hatched 5 instar_not_known=yes
        """,
    )
    assert [lot.instar for lot in story.desk.bench.containers["R1"].lots_of("larva")] == [0]
    story.later(days=9).type("R1 moulted 5 to L3")
    assert [lot.instar for lot in story.desk.bench.containers["R1"].lots_of("larva")] == [3]
