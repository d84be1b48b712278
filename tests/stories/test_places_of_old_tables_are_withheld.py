"""The places that an old table names stay in the book, and leave it no more exactly than others of a protected species."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from tests.stories.telling import Story

TABLE = """date,cup,species,place,what happened,number
2024-05-05,7,Zerynthia rumina,Puerto oculto,eggs laid,20
2024-05-12,7,Zerynthia rumina,Puerto oculto,hatched,15
2024-05-30,7,Zerynthia rumina,Puerto oculto,pupated,9
"""


@pytest.mark.parametrize("protected", [True, False])
def test_no_table_holds_the_place_of_a_protected_species(
    story: Story, tmp_path: Path, protected: bool
) -> None:
    if protected:
        story.type("taxon 'Zerynthia rumina' protected")
    table = tmp_path / "old.csv"
    table.write_text(TABLE)
    ran = story.shell("import", str(table), "--yes")
    assert ran.status == 0, ran.err
    made = story.shell("export", "csv", str(tmp_path / "out.zip"))
    assert made.status == 0, made.err
    with zipfile.ZipFile(tmp_path / "out.zip") as archive:
        left = {name for name in archive.namelist() if b"Puerto oculto" in archive.read(name)}

    assert left == (set() if protected else {"entries.csv", "fields.csv"})
    assert any("Puerto oculto" in line.get("text", "") for line in story.on_disk())


def test_the_advice_about_an_unknown_name_does_not_open_a_slip_of_a_protected_one(
    story: Story, tmp_path: Path
) -> None:
    story.type(
        "taxon 'Zerynthia rumina' protected",
        "K2 set up laying",
        'K2 founder W2 taxon="Zerynthia rumna" place="Slip" latitude=36.44444 longitude=-5.88888 sex=female',
    )
    asked = story.refused("taxon 'Zerynthia rumna'")
    assert "perhaps Zerynthia rumina?" in asked

    made = story.shell("export", "occurrences", str(tmp_path / "out.csv"))
    assert made.status == 0, made.err
    assert "36.44444" not in (tmp_path / "out.csv").read_text()
    story.type('taxon "Zerynthia rumna"')
    assert "Zerynthia rumna" in story.desk.bench.taxa
