"""How long a stage took beside what other species would need: called theirs, not published of it."""

from __future__ import annotations

from pathlib import Path

from tests.stories.telling import Story
from tests.stories.test_life_table_says_what_is_known import page
from tests.stories.test_old_tables_taken_in_again import imported

ROWS = """brood,species,laid,eggs,hatched,larvae,temperature
K28,Pieris verrina,2016-05-03,40,2016-05-09,38,18
"""


async def test_a_guess_from_other_species_is_not_called_published(
    story: Story, tmp_path: Path
) -> None:
    assert imported(story, tmp_path, "old.csv", ROWS).status == 0
    told = " ".join((await page(story, "K28")).split())
    assert "K28 at 18 C: 6.0 d, by other species" in told
    assert "6.0 d, published" not in told
