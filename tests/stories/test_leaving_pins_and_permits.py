"""What leaves with a specimen or a brood is true of that one: its dates, its plants, its permits, its limits."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pandas as pd
import pytest
from dwca.read import DwCAReader
from scipy.stats import chi2

from tests.laying_limits import limits_laid
from tests.stories.telling import Story, everything, tell
from tests.stories.test_leaving_note import laying_row, note_of, page, table

DWC = "http://rs.tdwg.org/dwc/terms/"


def rows_of(story: Story, tmp_path: Path) -> list[dict[str, str]]:
    """The occurrences of the archive, by bare term."""
    story.reopen()
    ran = story.shell("export", "dwca", str(tmp_path / "record.zip"), "--replace")
    assert ran.status == 0, ran.err
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        return [
            {name.removeprefix(DWC): value for name, value in row.data.items()} for row in archive
        ]


def pin_of(story: Story, tmp_path: Path) -> list[str]:
    """The lines of the one pin."""
    story.reopen()
    ran = story.shell("export", "pins", str(tmp_path / "pins.html"), "--replace")
    assert ran.status == 0, ran.err
    drawn = (tmp_path / "pins.html").read_text().split('<div class="pin">')
    assert len(drawn) == 2
    return drawn[1].split("</div>")[0].replace("\n", " ").split("<br>")


@pytest.mark.parametrize("caught", ["", "caught=2027-04-28"])
def test_a_wild_animal_that_died_in_the_cup_was_not_caught_that_day(
    story: Story, tmp_path: Path, caught: str
) -> None:
    tell(
        story,
        f"taxon 'Pieris orata'\nK2 set up laying\nK2 founder A-1, Pieris orata female {caught}",
    )
    story.later(days=3)
    tell(story, "K2 preserved 1 adult")
    seen, kept = rows_of(story, tmp_path)
    assert (seen["basisOfRecord"], kept["basisOfRecord"]) == (
        "HumanObservation",
        "PreservedSpecimen",
    )
    for term in ("eventDate", "verbatimEventDate"):
        assert kept[term] == seen[term]
    assert kept["eventDate"] == ("2027-04-28" if caught else "")
    assert kept["verbatimEventDate"] == ("" if caught else "not said; on or before 2027-05-01")
    assert "2027-05-04" in kept["occurrenceRemarks"]


WILD_LARVA = """
    taxon 'Pieris orata'
    plant oxalis kept=water hours=48
    plant rumex kept=water hours=48
    R7 set up rearing
    R7 founder A-1, Pieris orata larva found_on=rumex
    R7 host in oxalis
    """


def test_a_pin_tells_the_wild_plant_apart_from_what_it_was_fed(
    story: Story, tmp_path: Path
) -> None:
    tell(story, WILD_LARVA)
    story.later(days=4)
    tell(story, "R7 moulted 1 L5")
    story.later(days=4)
    tell(story, "R7 pupated 1")
    story.later(days=9)
    tell(story, "R7 emerged 1")
    story.later(days=1)
    tell(story, "R7 preserved 1 adult")
    pin = pin_of(story, tmp_path)
    assert "larva found on rumex" in pin
    assert "fed oxalis in captivity" in pin
    assert not any("rumex" in line and "oxalis" in line for line in pin)
    assert "ex larva" in pin


def test_a_larva_that_was_kept_as_a_larva_is_not_ex_larva(story: Story, tmp_path: Path) -> None:
    tell(story, WILD_LARVA)
    story.later(days=4)
    tell(story, "R7 moulted 1 L5\nR7 preserved 1 larva")
    pin = pin_of(story, tmp_path)
    assert not any(line.startswith(("ex ", "em. ")) for line in pin)
    assert "A-1 larva" in pin


def test_a_larva_reared_from_the_egg_and_kept_is_ex_ovo_and_did_not_emerge(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        """
        taxon 'Pieris orata'
        R7 set up rearing
        brood B-1 taxon='Pieris orata'
        R7 stocked B-1 egg 6
        """,
    )
    story.later(days=4)
    tell(story, "R7 hatched 6\nR7 stocked B-1 adult 1")
    story.later(days=4)
    tell(story, "R7 preserved 1 larva")
    pin = pin_of(story, tmp_path)
    assert not any(line.startswith("em. ") for line in pin)
    assert "B-1 larva" in pin


def test_the_note_lists_only_permits_under_which_its_forebears_were_taken(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        """
        taxon 'Pieris orata'
        permit P-1 body='County office' taxon='Pieris orata' females=2
        permit P-2 body='Reserve' taxon='Pieris orata' females=2
        K2 set up laying
        K2 founder A-1, Pieris orata female permit=P-1
        K2 host in cress leaf water
        """,
    )
    story.later(days=1)
    tell(story, "K2 searched 5 lens")
    permits = table(note_of(story, tmp_path, "A-1/A"), "Permits")
    assert [row[0] for row in permits[1:]] == ["P-1"]


async def test_none_found_has_the_same_limit_on_the_page_in_the_note_and_in_the_table(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        "taxon 'Pieris orata'\nK2 set up laying\nK2 founder A-1, Pieris orata female\nK2 host in cress leaf water",
    )
    story.later(days=5)
    tell(story, "K2 searched 0 lens\nbrood A-1/A taxon='Pieris orata' mothers=A-1")
    tell(story, "K2 host out cress\nK2 host in charlock leaf water")
    story.later(days=1)
    tell(story, "K2 searched 4 lens brood=A-1/A")
    upper = (
        chi2.ppf(0.975, 2) / 2 / 5
    )  # exact two-sided limits of no event in 5 female-days, Garwood 1936
    shown, note = await page(story), note_of(story, tmp_path, "A-1/A")
    told = re.search(r"none: under ([\d.]+)", shown)
    assert told, shown
    assert float(told[1]) == pytest.approx(limits_laid(0, 5, 0.6)[1], rel=0.01)
    # of the eggs there one search with a lens finds, as is taken for granted; none was found by it in 5 days
    assert (
        f"none found in 5.0 female-days, searches find 60 % of the eggs: under {told[1]} laid a day"
        in shown
    )
    assert "; 95 % limits" in shown
    row = laying_row(note, "cress")
    assert row["eggs laid a female-day, two-sided 95 % limits"] == f"none: under {told[1]}"
    assert (
        story.shell("export", "csv", str(tmp_path / "laying.csv"), "--table", "laying").status == 0
    )
    rows = pd.read_csv(tmp_path / "laying.csv").set_index("host")
    assert rows.loc[
        "cress", "upper exact two-sided 95 % limit (eggs per female-day)"
    ] == pytest.approx(upper)
    ran = story.shell("calc", "laying", "--eggs", "0", "--female-days", "5")
    assert f"under {upper:.2f} a day (two-sided 95 %)" in ran.out


async def test_one_is_one_and_a_day_is_a_day(story: Story, tmp_path: Path) -> None:
    tell(
        story,
        "taxon 'Pieris orata'\nK2 set up laying\nK2 founder A-1, Pieris orata female\nK2 host in cress leaf water",
    )
    story.later(days=1)
    tell(story, "K2 searched 1 lens")
    assert "1 egg in 1 search" in await page(story)
    note = note_of(story, tmp_path, "A-1/A")
    assert "1 egg of it found in 1 search, 2 May 2027, by lens." in note


@pytest.mark.parametrize("field", ["holder", "body"])
@pytest.mark.parametrize("what", ["permits", "entries", "all.zip", "note", "dwca", "ics"])
def test_a_place_in_the_words_of_a_permit_is_told(
    story: Story, tmp_path: Path, field: str, what: str
) -> None:
    tell(
        story,
        f"""
        taxon 'Melitaea celans' protected
        permit P-1 {field}='Warden of Sorrel bluff' expires=2027-05-20
        K2 set up laying
        K2 founder A-1, Melitaea celans female place='Sorrel bluff' permit=P-1
        K2 host in cress leaf water
        """,
    )
    story.later(days=1)
    tell(story, "K2 searched 5")
    story.reopen()
    line = {
        "permits": ("csv", "out.csv", "--table", "permits"),
        "entries": ("csv", "out.csv"),
        "all.zip": ("csv", "out.zip"),
        "note": ("note", "A-1/A", "out.md"),
        "dwca": ("dwca", "out.zip"),
        "ics": ("ics", "out.ics"),
    }[what]
    ran = story.shell(
        "export", *(str(tmp_path / one) if one.startswith("out.") else one for one in line)
    )
    assert ran.status == 0, ran.err
    if (what, field) in (("dwca", "holder"), ("ics", "holder")):  # only who issued it is told there
        assert "Warden" not in everything(tmp_path / line[1])
    else:
        assert "look: 1 line of it may name a withheld place: permit Sat 1 May 07:05" in ran.out


@pytest.mark.parametrize(
    "plant", ["cress 'Ruby'", "cress | charlock", 'cress \\"Ruby\\"', "cress\\\\x", "cress |"]
)
def test_plants_with_signs_of_the_list_come_back_as_they_were(
    story: Story, tmp_path: Path, plant: str
) -> None:
    meant = plant.replace('\\"', '"')
    tell(
        story,
        f'taxon "Pieris orata"\nK2 set up laying\nK2 founder A-1, Pieris orata female\nK2 host in plant="{plant}" leaf water',
    )
    story.later(days=1)
    tell(story, "K2 searched 5")
    (told,) = [
        row["associatedTaxa"] for row in rows_of(story, tmp_path) if row["lifeStage"] == "egg"
    ]
    found = [json.loads(f"{{{part}}}") for part in told.split(" | ")]
    assert found == [{"laid on, in captivity": meant}]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        (r'"Pieris \"orata\""', 'Pieris "orata"'),
        (r'taxon="Pieris \"orata\""', 'Pieris "orata"'),
        ('"Pieris orata"', "Pieris orata"),
        (r'"C:\bench\orata"', r"C:\bench\orata"),
    ],
)
def test_a_quote_inside_quotes_is_a_quote(story: Story, typed: str, meant: str) -> None:
    tell(story, f"K2 set up laying\nK2 founder A-1, {typed} female")
    assert story.desk.bench.founders["A-1"].taxon == meant


async def test_at_eighty_columns_no_word_of_a_kept_lot_stands_at_the_left_margin(
    story: Story,
) -> None:
    tell(
        story,
        """
        taxon 'Pieris orata'
        K2 set up laying
        E7 set up eggs
        K2 founder A-1, Pieris orata female
        K2 host in 'purple strobilanthes' batch=A
        air 25
        """,
    )
    story.later(hours=6)
    tell(story, "K2 host out held_in=E7")
    for _ in range(40):
        if "keep" in story.due("E7"):
            break
        story.later(hours=24)
        tell(story, "E7 frass none")
    async with story.screens((80, 40)) as screen:
        await screen.press("i")
        await screen.pilot.pause()
        rows = screen.text.splitlines()
    (lot,) = [place for place, row in enumerate(rows) if " E7 " in row and "purple" in row]
    assert "may go" in rows[lot] + rows[lot + 1]
    for row in rows[lot : lot + 2]:
        assert "may go" not in row[:40], "\n".join(rows[lot : lot + 2])
