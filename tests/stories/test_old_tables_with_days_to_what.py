"""A table of animals with days until something happened to each, counted from laying or in its stage."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from tests.stories.telling import Ran, Story
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Aglais verrina"
SINCE_LAID = ((7, 28, 40), (7, 29, 42), (8, 30, ""))
IN_EACH = ((7, 21, 12), (7, 22, 13), (8, 22, ""))
HEADINGS = (
    ("Days to hatch", "Days to pupation", "Days to emergence"),
    ("Hatched (day)", "Pupated (day)", "Emerged (day)"),
    ("Tage bis Schlupf", "Tage bis Verpuppung", "Tage bis Falterschlupf"),
    ("Schlupf (Tag)", "Verpuppung (Tag)", "Falterschlupf (Tag)"),
    ("Eclosion (jour)", "Nymphose (jour)", "Emergence (jour)"),
    ("Eclosión (día)", "Pupación (día)", "Emergencia (día)"),
    ("Uitgekomen (dag)", "Verpopt (dag)", "Uitgevlogen (dag)"),
)
ALL_SINCE = {1: (7, 28, 40), 2: (7, 29, 42), 3: (8, 30)}


def table_of(headings: tuple[str, str, str], days: tuple[tuple[object, ...], ...]) -> str:
    rows = [
        f"{at},A,{SPECIES},2021-06-01,{','.join(map(str, one))},{'f' if one[2] else ''}\n"
        for at, one in enumerate(days, start=1)
    ]
    return f"ID,Brood,Species,Egg laid,{','.join(headings)},Sex\n{''.join(rows)}"


def taken(
    story: Story, tmp_path: Path, headings: tuple[str, str, str], first: str, *options: str
) -> Ran:
    days = SINCE_LAID if first.startswith("days from") else IN_EACH
    return imported(story, tmp_path, "old.csv", table_of(headings, days), *options)


def days_since_laid(story: Story) -> dict[int, tuple[int, ...]]:
    """Of each animal, how many days after it was laid it went on."""
    found: dict[int, list[int]] = {}
    for line in story.on_disk():
        if line["what"] in ("hatched", "pupated", "emerged"):
            at = datetime.fromisoformat(str(line["at"])).date()
            number = int(str(line["container"]).partition("/")[0])
            found.setdefault(number, []).append((at - datetime(2021, 6, 1).date()).days)
    return {number: tuple(days) for number, days in found.items()}


@pytest.mark.parametrize(
    ("headings", "likely"),
    [*((one, "days from laying to pupation") for one in HEADINGS), (HEADINGS[0], "days as larva")],
)
def test_it_is_asked_from_when_they_count(
    story: Story, tmp_path: Path, headings: tuple[str, str, str], likely: str
) -> None:
    ran = taken(story, tmp_path, headings, likely)
    assert f"{headings[1]} counts days" in ran.err
    assert f"--map '{headings[1]}={likely}'" in ran.err
    ran = taken(story, tmp_path, headings, likely, "--map", f"{headings[1]}={likely}")
    assert ran.status == 0, ran.err
    assert days_since_laid(story) == ALL_SINCE


@pytest.mark.parametrize(
    "heading",
    ["Days from laying to pupation", "Tage Eiablage bis Verpuppung", "Days from egg to pupation"],
)
def test_what_says_from_when_is_not_asked(story: Story, tmp_path: Path, heading: str) -> None:
    headings = ("Days to hatch", heading, "Days to emergence")
    ran = taken(story, tmp_path, headings, "days from laying to pupation")
    assert f"{headings[2]} counts days" not in ran.err
    assert ran.status == 0, ran.err
    assert days_since_laid(story) == ALL_SINCE


@pytest.mark.parametrize(
    "heading", ["Days from hatching to pupation", "Schlupf bis Verpuppung (Tage)"]
)
def test_days_between_two_are_of_the_stage(story: Story, tmp_path: Path, heading: str) -> None:
    table = f"ID,Brood,Species,Egg laid,Days to hatch,{heading}\n1,A,{SPECIES},2021-06-01,7,21\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err
    assert days_since_laid(story) == {1: (7, 28)}
