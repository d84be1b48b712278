"""A brood laid on several days was laid until the last of them: in an old table, and as it is told."""

from __future__ import annotations

from pathlib import Path

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_note import note_of
from tests.stories.test_old_tables_of_broods import taken
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Aglia verrina"


def laid(story: Story, tmp_path: Path) -> list[tuple[str, str]]:
    """From which day to which each brood was laid."""
    broods = table_of(story, tmp_path, "broods")
    return [(str(one[:10]), str(two[:10])) for one, two in broods[["laid from", "laid to"]].values]


def test_an_old_table_of_three_days_of_laying(story: Story, tmp_path: Path) -> None:
    taken(
        story,
        tmp_path,
        f"""date,cup,species,what,number
2016-05-13,C1,{SPECIES},laid,6
2016-05-14,C1,{SPECIES},laid,11
2016-05-15,C1,{SPECIES},laid,14
2016-05-25,C1,{SPECIES},hatched,29
""",
    )
    assert laid(story, tmp_path) == [("2016-05-13", "2016-05-15")]
    note = note_of(story, tmp_path, "C1/16A")
    assert "Laid between 13 May 2016" in note
    assert "and 15 May 2016" in note


def test_eggs_that_say_themselves_when_they_were_laid(story: Story, tmp_path: Path) -> None:
    tell(
        story,
        f"""
        taxon '{SPECIES}'
        R2 set up eggs
        brood B-1 taxon='{SPECIES}' laid_from='2026-05-01 10:00' laid_to='2026-05-02 10:00'
        R2 stocked B-1 egg 8
        R2 stocked B-1 egg 5 laid_from='2026-05-02 10:00' laid_to='2026-05-03 10:00'
        """,
    )
    assert laid(story, tmp_path) == [("2026-05-01", "2026-05-03")]
