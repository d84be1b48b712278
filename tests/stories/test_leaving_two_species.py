"""Stems of two species in one egg cup: each female's record is of her own stems, on the page, in the table and in the note."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest
from dwca.read import DwCAReader

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_note import note_of, page, table

DWC = "http://rs.tdwg.org/dwc/terms/"
# Each search is of the stems that have just come out: one kept lot of the two in E7.
TWO_CUPS = """
    taxon 'Kallima montis' short=montis
    taxon 'Parasa montana' short=montana
    plant strobilanthes kept=water hours=48
    plant ruellia kept=water hours=48
    K7 K5 set up laying
    E7 set up eggs
    K7 founder F-1 montis female
    K5 founder F-2 montana female
    K7 host in strobilanthes
    K5 host in ruellia
    """
STEMS_OUT = (
    "K7 host out held_in=E7",
    "K7 host in strobilanthes",
    "K5 host out held_in=E7",
    "K5 host in ruellia",
)


def females(story: Story, tmp_path: Path) -> dict[str, str]:
    """Who stood in each container, as the table of laying has it."""
    story.reopen()
    ran = story.shell(
        "export", "csv", str(tmp_path / "laying.csv"), "--table", "laying", "--replace"
    )
    assert ran.status == 0, ran.err
    rows = pd.read_csv(tmp_path / "laying.csv").fillna("")
    return {f"{row['container']} {row['taxon']}": row["females"] for _, row in rows.iterrows()}


@pytest.mark.parametrize("found", [(0, 0), (5, 3)])
async def test_a_search_of_one_kept_lot_is_of_the_females_of_its_stems(
    story: Story, tmp_path: Path, found: tuple[int, int]
) -> None:
    tell(story, TWO_CUPS)
    story.later(days=2)
    tell(story, "\n".join([*STEMS_OUT, f"K7 searched {found[0]}", f"K5 searched {found[1]}"]))

    assert females(story, tmp_path) == {"K7 Kallima montis": "F-1", "K5 Parasa montana": "F-2"}
    shown = await page(story)
    assert "K7, F-1 alone," in shown
    assert "K5, F-2 alone," in shown
    assert "F-1 and F-2" not in shown


def test_the_note_of_a_moth_has_the_eggs_of_its_own_mother_only(
    story: Story, tmp_path: Path
) -> None:
    tell(story, TWO_CUPS)
    story.later(days=2)
    tell(story, "\n".join([*STEMS_OUT, "K7 searched 5", "K5 searched 3"]))
    note = note_of(story, tmp_path, "F-2/A")

    (row,) = table(note, "Laying")[1:]
    assert row[:2] == ["ruellia", "K5, F-2 alone"]
    assert row[6] == "3"
    assert "Kallima" not in note
    assert "F-1" not in note


async def test_a_search_of_all_the_stems_of_a_cup_is_of_the_females_of_each_species(
    story: Story, tmp_path: Path
) -> None:
    tell(story, TWO_CUPS)
    story.later(days=2)
    tell(story, "\n".join(STEMS_OUT))
    story.later(hours=5)
    tell(story, "E7 searched 0 lens")

    found = females(story, tmp_path)
    assert found["K7 Kallima montis"] == "F-1"
    assert found["K5 Parasa montana"] == "F-2"
    assert not any("F-1" in codes and "F-2" in codes for codes in found.values())


def test_hatchlings_from_stems_of_two_species_are_of_their_own_mother(
    story: Story, tmp_path: Path
) -> None:
    tell(story, TWO_CUPS)
    story.later(days=2)
    tell(story, "\n".join(STEMS_OUT))
    story.later(days=4)
    tell(
        story,
        "E7 frass trace lot=2\nbrood F-2/A taxon='Parasa montana' mothers=F-2\nE7 stocked F-2/A egg 4",
    )

    found = females(story, tmp_path)
    assert found["K7 Kallima montis"] == "F-1"
    assert found["K5 Parasa montana"] == "F-2"


def test_eggs_of_the_second_lot_were_laid_since_its_own_stems_were_offered(
    story: Story, tmp_path: Path
) -> None:
    tell(story, TWO_CUPS)
    story.later(days=2)
    tell(story, "\n".join((*STEMS_OUT[:2], "K7 searched 5")))
    story.later(minutes=10)
    tell(story, "\n".join((*STEMS_OUT[2:], "K5 searched 3")))
    story.reopen()
    assert story.shell("export", "dwca", str(tmp_path / "record.zip")).status == 0
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        eggs = [row.data for row in archive if row.data[DWC + "lifeStage"] == "egg"]
    dates = {row[DWC + "organismName"]: row[DWC + "eventDate"] for row in eggs}
    assert dates["F-1/A"] == "2027-05-01T07:05+02:00/2027-05-03T07:05+02:00"
    assert dates["F-2/A"] == "2027-05-01T07:05+02:00/2027-05-03T07:15+02:00"
    taxa = {row[DWC + "organismName"]: row[DWC + "associatedTaxa"] for row in eggs}
    assert "ruellia" in taxa["F-2/A"]
    assert "strobilanthes" not in taxa["F-2/A"]


def test_a_season_says_at_least_where_animals_may_be_of_either_species(
    story: Story, tmp_path: Path
) -> None:
    story.type("R1 set up rearing")
    story.type("R1 10 L2 Aglais io on nettle", "R1 10 L2 Saturnia pavonia on bramble")
    story.later(hours=1).type("R1 2 larvae died not known")
    assert story.shell("export", "season", str(tmp_path / "s.md")).status == 0
    text = (tmp_path / "s.md").read_text()
    for taxon in ("Aglais io", "Saturnia pavonia"):
        assert f"| {taxon} | 0 | 1 | 0 | at least 0 | at least 0 | at least 8 |" in text
