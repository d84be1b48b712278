"""Some that died, went missing or got lost, nobody knows of which instar: as many of each instar are unsure, and one that is seen is known."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_a_short_count_makes_instars_unsure import held, mixed


@pytest.mark.parametrize("gone", ["R1 died 2 larvae not known", "R1 missing 2 larvae not known"])
def test_as_many_of_each_instar_may_be_gone(story: Story, gone: str) -> None:
    mixed(story, 3, 5).type(gone)
    assert held(story) == {0: 2, 3: 1, 4: 3}
    story.reopen()
    assert held(story) == {0: 2, 3: 1, 4: 3}


def test_the_missing_come_back_as_they_were(story: Story) -> None:
    mixed(story, 3, 5).type("R1 missing 2 larvae not known", "R1 settled found 2")
    assert held(story) == {3: 3, 4: 5}


def test_of_those_who_got_lost_on_the_way_nobody_knows_the_instar(story: Story) -> None:
    mixed(story, 3, 5).type("R1 moved 8 larvae not known to new R2 arrived 6")
    assert {lot.instar: lot.number for lot in story.desk.bench.containers["R2"].lots} == {
        0: 2,
        3: 1,
        4: 3,
    }


def test_of_some_that_were_not_told_apart_neither_these_nor_the_rest_are_known(
    story: Story,
) -> None:
    mixed(story, 3, 5).type("R1 moved 2 larvae not known to new R2")
    assert held(story) == {0: 2, 3: 1, 4: 3}
    assert [(lot.instar, lot.number) for lot in story.desk.bench.containers["R2"].lots] == [(0, 2)]


def test_one_that_is_seen_dead_is_of_its_instar(story: Story) -> None:
    mixed(story, 3, 5).type("R1 counted 2", "R1 died 1 L4 others")
    assert held(story) == {0: 1}
    story.type("R1 settled found 6")
    assert held(story) == {3: 3, 4: 4}, "the others are what is left"


@pytest.mark.parametrize(("dead", "left"), [("L4", (3, 4)), ("L3", (2, 5))])
def test_it_came_through_its_stages_once(
    story: Story, tmp_path: Path, dead: str, left: tuple[int, int]
) -> None:
    mixed(story, 3, 5).type("R1 counted 2", f"R1 died 1 {dead} others", "R1 settled found 6")
    file = tmp_path / "note.md"
    story.shell("export", "note", "AGL-27-01", str(file))
    rows = [[cell.strip() for cell in row.split("|")] for row in file.read_text().splitlines()]
    entered = {row[1]: row[2] for row in rows if len(row) > 8 and row[1] in ("L3", "L4", "larva")}
    assert entered == {"L3": "8", "L4": "5"}
    assert held(story) == {3: left[0], 4: left[1]}


def test_no_more_are_of_an_instar_than_were(story: Story) -> None:
    mixed(story, 1, 7).type("R1 counted 4")
    assert "2 out of R1, but it holds" in story.refused("R1 died 2 L3 others")
    assert "1 out of R1, but it holds" in story.refused("R1 died 1 L2 others")
    story.type("R1 moved 1 L3 to new R2")
    assert {lot.instar: lot.number for lot in story.desk.bench.containers["R2"].lots} == {3: 1}
