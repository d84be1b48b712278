"""Deaths of a named brood in a cup that no line put any into: as many came from where they were, as those that hatch or pupate do."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported

ROWS = """Date;Cup;Brood;Species;Event;Number
13.5.2020;A1;B1;Pieris verrina;eggs;30
18.5.2020;A1;B1;Pieris verrina;hatched;28
25.5.2020;A2;B1;Pieris verrina;{};{}
"""


@pytest.mark.parametrize("words", ["died", "larvae dead", "escaped"])
def test_they_came_from_where_the_brood_is(story: Story, tmp_path: Path, words: str) -> None:
    ran = imported(story, tmp_path, "alt.csv", ROWS.format(words, 3), "--dry-run")
    assert "cannot be read" not in ran.out, ran.out
    assert "line 4 (3 larvae of B1 from A1/20 to A2/20)" in ran.out


def test_more_than_are_left_are_asked_about(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "alt.csv", ROWS.format("died", 29), "--dry-run")
    assert "29 died there, but 28 larvae are left of it elsewhere, in A1/20" in ran.out + ran.err
