"""A table whose columns are named in two lines: a group of columns above, what each is below."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Papilio verrinus"
ROWS = f"""B1;{SPECIES};6-5-2018;34;6;14-5-2018;28;5;1-7-2018;23;0;20-7-2018;10;13
B2;{SPECIES};16-5-2018;30;5;25-5-2018;25;2;9-7-2018;23;1;30-7-2018;11;11
"""
ENGLISH = (
    ("Eggs", "Larvae", "Pupae", "Adults"),
    "laid;number;dead;hatched;number;dead;pupated;number;dead;emerged;male;female",
)
GERMAN = (
    ("Eier", "Raupen", "Puppen", "Falter"),
    "gelegt;Anzahl;tot;geschlüpft;Anzahl;tot;verpuppt;Anzahl;tot;geschlüpft;Männchen;Weibchen",
)
DUTCH = (
    ("Eitjes", "Rupsen", "Poppen", "Vlinders"),
    "gelegd;aantal;dood;uitgekomen;aantal;dood;verpopt;aantal;dood;uitgekomen;♂;♀",
)


@pytest.mark.parametrize(("groups", "below"), [ENGLISH, GERMAN, DUTCH])
@pytest.mark.parametrize("is_filled", [False, True])
@pytest.mark.parametrize("above", ["", "Rearing log 2018;;;;;;;;;;;;;\n"])
def test_what_a_group_is_called_holds_for_its_columns(
    story: Story, tmp_path: Path, groups: tuple[str, ...], below: str, is_filled: bool, above: str
) -> None:
    names = [name if is_filled or not at else "" for name in groups for at in range(3)]
    table = f"{above}Brood;Species;{';'.join(names)}\n;;{below}\n{ROWS}"
    ran = imported(story, tmp_path, "old.csv", table, "--dates", "day-first")
    assert ran.status == 0, ran.err + ran.out
    found = stages(story, tmp_path)
    assert {stage: number for stage, (number, _) in found.items()} == {
        "egg": 64,
        "larva": 53,
        "pupa": 46,
        "adult": 45,
    }


def test_a_title_of_two_cells_names_no_column(story: Story, tmp_path: Path) -> None:
    table = (
        "Rearing log;;by hand;;;\nBrood;Species;Laid;Eggs;Hatched;Adults\n"
        f"B1;{SPECIES};6-5-2018;34;30;20\nB2;{SPECIES};16-5-2018;30;28;20\n"
    )
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert "brood (by its name), 2 of 2 lines" in ran.out
