"""A notebook whose days are ordinals, as the English write them, with the year above, said, or beside."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Actias verrina"


@pytest.mark.parametrize(
    ("above", "days", "options"),
    [
        ("2023;;;;\n", ("2nd May", "12 May"), ()),
        ("", ("2nd May", "12th May"), ("--year", "2023")),
        ("", ("May 2nd", "May 12th"), ("--year", "2023")),
        ("", ("2nd of May", "12th of May"), ("--year", "2023")),
        ("", ("May 2nd, 2023", "12th May 2023"), ()),
    ],
)
def test_an_ordinal_is_its_number(
    story: Story, tmp_path: Path, above: str, days: tuple[str, str], options: tuple[str, ...]
) -> None:
    table = f"Date;Pot;What happened;Number;Species\n{above}{days[0]};P1;laid;12;{SPECIES}\n"
    ran = imported(story, tmp_path, "old.csv", f"{table}{days[1]};P1;hatched;12;\n", *options)
    assert ran.status == 0, ran.err + ran.out
    told = [str(one["at"])[:10] for one in story.on_disk() if one["what"] in ("stocked", "hatched")]
    assert told == ["2023-05-02", "2023-05-12"]
