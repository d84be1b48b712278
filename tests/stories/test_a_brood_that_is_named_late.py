"""Eggs that came in before the line of their brood were laid when that line says, as those that come after it."""

from __future__ import annotations

import pytest

from rounds.bench.folding.stage_completions import begun
from tests.stories.telling import Story

BROOD = "brood LYC-X taxon='Lycia hirtaria' laid_from='3 May 20:00' laid_to='3 May 23:00'"


@pytest.mark.parametrize("line", [BROOD, f"9 May 07:00 {BROOD}"])
def test_the_brood_says_when_they_were_laid(story: Story, line: str) -> None:
    story.at("2027-05-12 08:00").type(line, "9 May 07:50 E6 set up eggs")
    story.type("9 May 08:00 E6 stocked 30 eggs brood=LYC-X")
    story.reopen()
    (lot,) = story.desk.bench.at("E6").lots
    since, until = begun(story.desk.bench, lot, story.desk.now())
    assert f"{since:%d %H:%M} {until:%d %H:%M}" == "03 20:00 03 23:00"


def test_eggs_that_came_before_they_were_laid_are_others(story: Story) -> None:
    story.at("2027-05-12 08:00").type(BROOD, "2 May 07:50 E6 set up eggs")
    story.type("2 May 08:00 E6 stocked 30 eggs brood=LYC-X")
    (lot,) = story.desk.bench.at("E6").lots
    assert lot.began_before
    assert lot.since == lot.came
