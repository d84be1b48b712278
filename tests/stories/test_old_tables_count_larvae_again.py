"""Larvae, and no more, that an old table names again after their hatch are a count: no new ones, no second hatch."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported


@pytest.mark.parametrize(("eggs", "hatched"), [(12, 11), (11, 11)])
@pytest.mark.parametrize("counted", [11, 10])
def test_they_are_counted(
    story: Story, tmp_path: Path, eggs: int, hatched: int, counted: int
) -> None:
    rows = f"""date,cup,species,event,count
2022-06-01,E2,Boloria dia,eggs,{eggs}
2022-06-05,E2,Boloria dia,larvae,{hatched}
2022-06-09,E2,Boloria dia,larvae,{counted}
2022-06-29,E2,Boloria dia,pupae,9
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    assert f"in 1 brood: {eggs} animals, {hatched} hatched, 9 pupated" in ran.out
    came = [line for line in story.on_disk() if line["what"] in ("stocked", "hatched")]
    assert [line["number"] for line in came] == [eggs, hatched]


def test_as_many_as_eggs_are_left_hatch(story: Story, tmp_path: Path) -> None:
    rows = """date,cup,species,event,count
2022-06-01,E2,Boloria dia,eggs,20
2022-06-05,E2,Boloria dia,larvae,8
2022-06-06,E2,Boloria dia,larvae,12
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert "in 1 brood: 20 animals, 20 hatched" in ran.out, ran.err
