"""Eggs of which one more was found each day, under 'count': they are no numbers of the lines."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported


@pytest.mark.parametrize("heading", ["Count", "egg count", "counted"])
def test_they_are_so_many_eggs(story: Story, tmp_path: Path, heading: str) -> None:
    rows = [f"1{day}.5.2020;A1;Pieris verrina;eggs;{day - 2}" for day in (3, 4, 5)]
    table = "\n".join([f"Date;Cup;Species;Event;{heading}", *rows, ""])
    ran = imported(story, tmp_path, "alt.csv", table, "--dry-run")
    assert "in 1 brood: 6 animals" in ran.out


def test_a_number_that_only_numbers_the_lines_is_none_of_animals(
    story: Story, tmp_path: Path
) -> None:
    rows = [f"{day - 2};1{day}.5.2020;A1;Pieris verrina;eggs;20" for day in (3, 4, 5)]
    table = "\n".join(["No;Date;Cup;Species;Event;Eggs", *rows, ""])
    ran = imported(story, tmp_path, "alt.csv", table, "--dry-run")
    assert "in 1 brood: 60 animals" in ran.out
