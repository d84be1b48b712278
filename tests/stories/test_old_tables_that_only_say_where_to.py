"""A move that an old table only tells by where it went, alone or beside those that died; larvae timed as one stage."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Melitaea orata"
HEAD = f"""date,cup,species,what,number
2023-05-19,T1,{SPECIES},laid,60
2023-06-01,T1,{SPECIES},hatched,50
"""


def fates(story: Story, tmp_path: Path) -> dict[str, tuple[int, int]]:
    """How many larvae moved to T2, and how many died."""
    told = table_of(story, tmp_path, "entries")
    larvae = told[told["stage"] == "larva"]
    return {what: int(larvae[larvae["what"] == what]["number"].sum()) for what in ("moved", "died")}


@pytest.mark.parametrize(
    ("words", "died"),
    [
        ("40 to T2", 0),
        ("40 nach T2", 0),
        ("40 larvae to T2", 0),
        ("40 → T2", 0),
        ("40 to T2, 3 died", 3),
        ("40 nach T2, 3 tot", 3),
        ("3 morts, 40 vers T2", 3),
        ("40 naar T2; 3 dood", 3),
    ],
)
def test_it_is_a_move(story: Story, tmp_path: Path, words: str, died: int) -> None:
    text = f'{HEAD}2023-06-10,T1,{SPECIES},"{words}",\n2023-06-30,T2,{SPECIES},pupated,40\n'
    ran = imported(story, tmp_path, "old.csv", text, "--as", "left=not known")
    assert ran.status == 0, ran.err + ran.out
    assert "60 animals" in ran.out
    assert fates(story, tmp_path) == {"moved": 40, "died": died}
    lived = table_of(story, tmp_path, "life-table").set_index("stage")
    assert lived["entered"]["pupa"] == 40


@pytest.mark.parametrize("words", ["5 to L3", "5 nach Haus"])
def test_what_is_no_container_is_none(story: Story, tmp_path: Path, words: str) -> None:
    text = f"{HEAD}2023-06-10,T1,{SPECIES},{words},\n"
    imported(story, tmp_path, "old.csv", text)
    assert "moved" not in {one["what"] for one in story.on_disk()}


def test_a_larva_without_instars_is_timed_as_its_duration_is(story: Story, tmp_path: Path) -> None:
    rows = f"""brood,species,laid,eggs,hatched,larvae,pupated,pupae,emerged,adults
A,{SPECIES},2016-05-14,20,2016-05-20,18,2016-06-14,17,2016-06-25,16
"""
    assert imported(story, tmp_path, "old.csv", rows).status == 0
    events = table_of(story, tmp_path, "events")
    went_on = events[events["fate"] == "went on"].set_index("stage")
    assert dict(went_on["timed"]) == {"egg": "yes", "larva": "yes", "pupa": "yes"}
    took = table_of(story, tmp_path, "durations").set_index("stage")
    assert took["number"]["larva"] == went_on["number"]["larva"] == 17
    assert took["mean (days)"]["larva"] == 25
