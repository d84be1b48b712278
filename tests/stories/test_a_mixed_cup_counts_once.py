"""Animals of a mixed cup stand in two rows of a document and under two species: it says so, and a
parent that is mother and father is named once."""

from __future__ import annotations

from pathlib import Path
from zipfile import ZipFile

import pytest

from tests.stories.telling import Story, tell

MIXED = """
R3 set up rearing
brood BA taxon="Boloria dia"
brood BB taxon="{other}"
R3 stocked 8 L1 BA
R3 stocked 5 L1 BB
R3 died 3 L1 not known
"""


def document(story: Story, tmp_path: Path, *what: str) -> str:
    to = tmp_path / "document.md"
    assert story.shell("export", *what, str(to), "--as", "md", "--replace").status == 0
    return " ".join(to.read_text().split())


@pytest.mark.parametrize("what", [("note", "BA"), ("season",)])
@pytest.mark.parametrize("other", ["Boloria dia", "Boloria selene"])
def test_rows_that_hold_the_same_animals_are_not_added_up(
    story: Story, tmp_path: Path, what: tuple[str, ...], other: str
) -> None:
    tell(story, MIXED.format(other=other))
    told = document(story.later(days=1), tmp_path, *what)
    said = "Rows with BA or BB are of these together"
    one_table = what == ("season",) and other == "Boloria dia"
    assert (said in told) is not one_table
    if what == ("season",):
        elsewhere = "BA or BB: the same animals stand under Boloria selene too; count them once"
        assert (elsewhere in told) is (other == "Boloria selene")


def test_a_brood_that_is_mother_and_father_is_named_once(story: Story, tmp_path: Path) -> None:
    tell(
        story,
        """
        R3 set up laying
        brood BA taxon="Boloria dia"
        R3 stocked 3 adults BA female
        R3 stocked 3 adults BA male
        R3 host in violet
        """,
    )
    story.later(days=2).type("R3 searched 10")
    to = tmp_path / "archive.zip"
    assert story.shell("export", "dwca", str(to), "--yes").status == 0
    with ZipFile(to) as archive:
        rows = archive.read("occurrence.txt").decode().splitlines()
    assert any("offspring of" in row for row in rows)
    assert max(row.count("offspring of") for row in rows) == 1
