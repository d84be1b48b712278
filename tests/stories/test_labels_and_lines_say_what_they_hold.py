"""What leaves on paper says all that it holds, once: labels, a sheet's boxes, an alarm; and a short name behind an instar is read."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell


@pytest.mark.parametrize("line", ["R2 5 L3 lucida", "R2 5 larvae L3 lucida", "R2 5 L3 A. lucida"])
def test_a_short_name_behind_an_instar_brings_them_in(story: Story, line: str) -> None:
    tell(story, "taxon 'Aricia lucida' short=lucida\nR2 set up rearing")
    story.type(line)
    ((lot,),) = [one.lots for one in story.desk.bench.standing()]
    assert (lot.number, lot.stage, lot.instar) == (5, "larva", 3)
    assert story.desk.bench.taxon_of(lot.brood) == "Aricia lucida"


def test_a_wild_specimen_without_a_catch_says_until_when(story: Story, tmp_path: Path) -> None:
    story.at("2027-06-10 08:00")
    tell(story, "K2 set up laying\nK2 founder W1, 'Aricia lucida' female at 'Mill lane'")
    story.later(days=3).type("K2 preserved W1 V1")
    story.reopen()
    ran = story.shell("export", "pins", str(tmp_path / "pins.html"))
    assert ran.status == 0, ran.err
    told = " ".join(re.sub(r"<[^>]*>", " ", (tmp_path / "pins.html").read_text()).split())
    assert "caught on or before 10 vi 2027" in told
    assert "catch date unknown" not in told


def two_species(story: Story, tmp_path: Path, *more: str) -> str:
    tell(
        story,
        """
        R2 set up rearing
        brood LEP-27-01 taxon='Leptidea juvernicoides'
        brood ARI-27-01 taxon='Aricia lucidissima'
        R2 stocked 12 L2 LEP-27-01
        R2 stocked 14 L3 LEP-27-01
        R2 stocked 11 L3 ARI-27-01
        R3 set up rearing
        R3 stocked 3 L2 LEP-27-01
        """,
    )
    story.reopen()
    ran = story.shell("export", "labels", str(tmp_path / "l.html"), *more)
    assert ran.status == 0, ran.err
    return ran.out


def test_a_label_of_two_species_takes_smaller_type(story: Story, tmp_path: Path) -> None:
    assert "too small" not in two_species(story, tmp_path)
    sizes = [
        float(one)
        for one in re.findall(
            r'div style="font-size: ([\d.]+)mm', (tmp_path / "l.html").read_text()
        )
    ]
    assert sizes[0] < sizes[1] == 2.6
    assert min(sizes) >= 1.4


def test_a_label_too_small_for_all_is_said(story: Story, tmp_path: Path) -> None:
    assert "too small for all that stands in R2" in two_species(story, tmp_path, "--size", "30x15")


@pytest.mark.parametrize(
    ("name", "rank"),
    [("Aricia lucida", "species"), ("Aricia lucida orta", "subspecies"), ("Aricia lucida (Imhof, 1981)", "species"),
     ("torfanna", ""), ("white moth", ""), ("Aricia sp 2", ""), ("A-12", ""), ("Pieris napi f. alba", "")],
)  # fmt: skip
def test_the_rank_of_an_odd_name_is_left_empty(
    story: Story, tmp_path: Path, name: str, rank: str
) -> None:
    tell(story, f'K2 set up laying\nK2 founder W1, "{name}" female')
    story.reopen()
    assert story.shell("export", "occurrences", str(tmp_path / "o.csv")).status == 0
    with (tmp_path / "o.csv").open(encoding="utf-8-sig", newline="") as file:
        (row,) = csv.DictReader(file)
    assert (row["scientificName"], row["taxonRank"]) == (name, rank)


def test_a_visit_has_one_box_for_a_sugar_pad(story: Story) -> None:
    story.at("2027-07-09 09:00")
    tell(
        story,
        """
        K2 set up laying
        K2 2 females Aricia lucida
        K2 feeder changed
        """,
    )
    story.at("2027-07-10 15:30").type("K2 drank")
    story.reopen()
    told = story.shell("sheet", "--to", "+3d").out
    rows = [line for line in told.splitlines() if re.search(r"(\[ \]|--|\( \))\s*$", line)]
    at = [place for place, line in enumerate(rows) if "sugar pad" in line or "Look. Open," in line]
    boxes = [re.findall(r"\[ \]|--|\( \)", rows[place]) for place in at]
    assert len(boxes) == 2, told
    assert {sum(box == "[ ]" for box in visit) for visit in zip(*boxes, strict=True)} == {1}


def test_an_alarm_says_that_a_plant_is_in(story: Story, tmp_path: Path) -> None:
    story.at("2027-07-01 08:00")
    tell(
        story,
        """
        E2 set up eggs
        room 22
        brood A-1 taxon='Aricia lucida'
        E2 stocked 9 eggs A-1
        E2 host in nettle
        """,
    )
    story.later(days=4).type("E2 eggs darkening", "room 22")
    story.reopen()
    assert story.shell("export", "ics", str(tmp_path / "c.ics")).status == 0
    told = (tmp_path / "c.ics").read_text().replace("\n ", "").replace("\r", "")
    assert "no leaf is in yet" not in told
