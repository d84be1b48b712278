"""Eggs laid here that nobody found until frass showed under the kept stems: they are of this bench, with date and plant."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from dwca.read import DwCAReader

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_note import note_of
from tests.stories.test_leaving_protected import DWC, written


async def hatched_hidden(story: Story, taxon: str) -> str:
    """Stems searched in vain are kept; ten days later frass is seen, and three young larvae; the brood."""
    tell(
        story,
        f"""
        taxon {taxon}
        plant speedwell kept=water hours=48
        K2 set up laying
        H2 set up holding
        K2 founder W2 'Melitaea rubida' female place='Bank Aster' caught=2027-04-28
        K2 host in speedwell batch=B
        """,
    )
    story.later(days=2).type("K2 searched 0", "K2 host out held held_in=H2")
    story.later(days=10).type("H2 frass trace lots=1", "H2 misted")
    async with story.screens() as screen:
        screen.highlight("H2")
        await screen.press("l", "space", "enter", "3", "y")
    return next(iter(story.desk.bench.broods))


@pytest.mark.parametrize("taxon", ["'Melitaea rubida'", "'Melitaea rubida' protected"])
async def test_the_note_says_that_it_was_laid_here_and_on_what(
    story: Story, tmp_path: Path, taxon: str
) -> None:
    note = note_of(story, tmp_path, await hatched_hidden(story, taxon))
    assert "came from outside" not in note
    laying = note.split("## Laying")[1].split("\n## ")[0]
    assert "3 eggs" in laying
    assert "hidden on kept stems of speedwell" in laying
    assert "13 May 2027" in laying
    assert "laid on speedwell: 3 eggs" in note
    assert "The plant that it was laid on" not in note


@pytest.mark.parametrize("taxon", ["'Melitaea rubida'", "'Melitaea rubida' protected"])
async def test_the_archive_has_when_it_was_laid(story: Story, tmp_path: Path, taxon: str) -> None:
    brood = await hatched_hidden(story, taxon)
    story.reopen()
    written(story, "dwca", tmp_path / "record.zip")
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        rows = [row.data for row in archive if row.data[DWC + "organismName"] == brood]
    eggs = next(row for row in rows if row[DWC + "lifeStage"] == "egg")
    assert eggs[DWC + "eventDate"] == "2027-05-01T07:05+02:00/2027-05-03T07:05+02:00"
    assert (
        eggs[DWC + "occurrenceRemarks"]
        == "hidden on kept stems of speedwell from K2, known by 2027-05-13"
    )
    assert not any("outside" in row[DWC + "occurrenceRemarks"] for row in rows)
    written(story, "csv", tmp_path / "entries.csv")
    assert "exact place withheld" not in "".join(
        line for line in (tmp_path / "entries.csv").read_text().splitlines() if "stocked" in line
    )


def test_eggs_found_on_kept_stems_were_laid_before_these_were_taken_out(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        """
        taxon 'Melitaea rubida'
        K2 set up laying
        H2 set up holding
        K2 founder W2 'Melitaea rubida' female
        K2 host in speedwell batch=B
        """,
    )
    story.later(days=2).type("K2 searched 0", "K2 host out held held_in=H2")
    story.later(days=1).type("H2 searched 0")
    story.later(days=1).type("H2 searched 4")
    story.reopen()
    written(story, "dwca", tmp_path / "record.zip")
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        (eggs,) = [row.data for row in archive if row.data[DWC + "lifeStage"] == "egg"]
    assert eggs[DWC + "eventDate"] == "2027-05-01T07:05+02:00/2027-05-03T07:05+02:00"


LAID_BY_EITHER = """
    taxon 'Melitaea rubida'
    taxon 'Boloria livida'
    K2 set up laying
    H2 set up holding
    K2 founder W2 'Melitaea rubida' female
    K2 founder W3 'Boloria livida' female
    K2 host in speedwell batch=B
    """


@pytest.mark.parametrize("searched", ["K2 searched 0", "K2 misted"])
def test_eggs_of_one_of_two_species_on_kept_stems_take_their_days_out_of_every_rate(
    story: Story, tmp_path: Path, searched: str
) -> None:
    tell(story, LAID_BY_EITHER)
    story.later(days=2).type(
        searched, "K2 host out held held_in=H2", "K2 host in speedwell batch=C"
    )
    story.later(days=3).type("K2 searched 4 brood=W2", "H2 searched 18 not known")
    rows = laying_rows(story, tmp_path)
    hers = rows["Melitaea rubida"]
    assert (hers["effort (female-days)"], hers["eggs"]) == ("3", "4")
    assert hers["eggs in doubt"] == "18"
    assert hers["time in which eggs in doubt were laid (female-days)"] == "2"
    assert rows["Boloria livida"]["effort (female-days)"] == "3"
    assert rows["Boloria livida or Melitaea rubida"]["eggs"] == "18"


def test_days_in_doubt_are_taken_out_once(story: Story, tmp_path: Path) -> None:
    tell(story, LAID_BY_EITHER)
    story.later(days=2).type("K2 host out held held_in=H2", "K2 host in speedwell batch=C")
    story.later(days=1).type("K2 searched 4 brood=W2", "H2 searched 5 not known")
    story.later(days=1).type("K2 searched 4 brood=W2", "H2 searched 6 not known")
    hers = laying_rows(story, tmp_path)["Melitaea rubida"]
    assert hers["effort (female-days)"] == "2"
    assert hers["eggs in doubt"] == "11"
    assert hers["time in which eggs in doubt were laid (female-days)"] == "2"


def test_the_note_says_laid_up_to_when_the_stems_stood_there(story: Story, tmp_path: Path) -> None:
    tell(story, LAID_BY_EITHER.replace("K2 founder W3 'Boloria livida' female\n", ""))
    story.later(days=2).type("K2 searched 0", "K2 host out held held_in=H2")
    story.later(days=10).type("H2 searched 3")
    laying = note_of(story, tmp_path, "W2/A").split("## Laying")[1].split("\n## ")[0]
    assert "Laid between 1 May 2027, 07:05 +0200 and 3 May 2027, 07:05 +0200." in laying
    assert "13 May 2027" in laying  # when they were found


def laying_rows(story: Story, tmp_path: Path) -> dict[str, dict[str, str]]:
    """The table of who laid on what, a row a species."""
    story.reopen()
    ran = story.shell(
        "export", "csv", str(tmp_path / "laying.csv"), "--table", "laying", "--replace"
    )
    assert ran.status == 0, ran.err
    with (tmp_path / "laying.csv").open(encoding="utf-8-sig", newline="") as file:
        return {row["taxon"]: row for row in csv.DictReader(file)}
