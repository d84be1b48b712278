"""A table of animals with a cross, or a word for it, where the date of the next stage would stand."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Aglais verrina"
TABLE = f"""Nr;Brut;Art;Ei;Raupe geschlüpft;verpuppt;Falter
1;A;{SPECIES};1.6.21;8.6.21;1.7.21;14.7.21
2;A;{SPECIES};1.6.21;8.6.21;{{larva}};
3;A;{SPECIES};1.6.21;{{egg}};;
4;A;{SPECIES};1.6.21;9.6.21;3.7.21;{{pupa}}
5;A;{SPECIES};1.6.21;9.6.21;3.7.21;16.7.21
"""


@pytest.mark.parametrize("mark", ["†", "tot", "dead", "mort", "muerta", "dood"])
@pytest.mark.parametrize("dated", [True, False])
def test_it_died_before_it_came_so_far(
    story: Story, tmp_path: Path, mark: str, dated: bool
) -> None:
    day = {"egg": "9.6.21", "larva": "20.6.21", "pupa": "10.7.21"}
    cells = {stage: f"{mark} {at}" if dated else mark for stage, at in day.items()}
    ran = imported(story, tmp_path, "alt.csv", TABLE.format(**cells))
    assert ran.status == 0, ran.err + ran.out
    found = {stage: found for stage, found in stages(story, tmp_path).items() if found != (0, 0)}
    assert found == {"egg": (5, 1), "larva": (4, 1), "pupa": (3, 1), "adult": (2, 0)}
    days = {str(one["at"])[:10] for one in story.on_disk() if one["what"] == "died"}
    assert not dated or days == {"2021-06-09", "2021-06-20", "2021-07-10"}


@pytest.mark.parametrize("eggs", ["±23", "(23)", "+/-23"])
def test_a_number_that_is_not_sure_is_about_that(story: Story, tmp_path: Path, eggs: str) -> None:
    table = f"Brood;Species;Laid;Eggs;Hatched\nB1;{SPECIES};2022-05-01;{eggs};20\n"
    table += f"B2;{SPECIES};2022-05-21;30;26\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert f"'{eggs}' is taken for 23" in ran.out
