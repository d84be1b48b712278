"""The neighbour's sheet, of days in which eggs hatch, a female is dead, a plant is limp, a sleeve hangs outdoors."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.exchange.browser import needs_browser, run
from tests.stories.telling import Story, tell
from tests.stories.test_sheet_dangers import bench, sheet_of

__all__ = ["bench"]  # the fixture


def head_of(story: Story) -> str:
    """All that stands above the first place."""
    ran = story.shell("sheet", "--to", "+2d")
    return " ".join(ran.out.split("Tick a box")[0].split())


# --- eggs that hatch ------------------------------------------------------------------------------


def test_caterpillars_out_of_dark_eggs_get_a_leaf_at_whatever_visit_they_are_found(
    bench: Story,
) -> None:
    tell(bench, "E5 set up eggs shelf A\nE5 stocked 12 eggs A2\nE5 looked darkening")
    words, rows = sheet_of(bench)[0]["E5"]
    assert "No fresh leaf in? Open, lay in one small leaf of" in words
    assert words.count("leaf of") == 1
    assert rows[0] == [True] * 4


def test_a_leaf_is_no_leaf_a_day_where_two_boxes_a_day_ask_for_one(bench: Story) -> None:
    tell(bench, "E5 set up eggs shelf A\nE5 stocked 12 eggs A2")
    words, rows = sheet_of(bench)[0]["E5"]
    assert "Dark or hatched, no fresh leaf in? Open, lay in one small leaf of" in words
    assert "a day" not in words
    assert rows[0] == [True] * 4


def test_eggs_in_the_cup_of_a_female_that_died_are_looked_after_as_any_others(
    bench: Story,
) -> None:
    tell(bench, "K2 set up laying shelf A\nK2 founder W1, lunaria female")
    tell(bench, "K2 host in nettle leaf water\nK2 drank\nK2 searched 9")
    bench.later(hours=1).type("K2 died W1", "K2 looked darkening")
    words, rows = sheet_of(bench, "--to", "+2d")[0]["K2"]
    assert "9 eggs" in words
    assert "No fresh leaf in? Open, lay in one small leaf of nettle" in words
    assert [True] * 4 in rows
    assert "limp" not in words


def test_eggs_on_a_growing_plant_are_laid_no_leaf(bench: Story) -> None:
    tell(bench, "K2 set up laying shelf A\nK2 founder W1, lunaria female")
    tell(bench, "K2 host in nettle leaf potted\nK2 drank\nK2 searched 9")
    bench.later(hours=1).type("K2 died W1")
    words, _ = sheet_of(bench, "--to", "+2d")[0]["K2"]
    assert "Potted nettle: water if dry." in words
    assert "leaf of" not in words


def test_where_hatched_ones_are_fed_no_leaf_is_laid_in_beside(bench: Story) -> None:
    tell(bench, "E5 set up eggs shelf A\nE5 stocked 12 eggs A2\nE5 looked darkening")
    bench.later(hours=1).type("E5 hatched 3")
    words, _ = sheet_of(bench)[0]["E5"]
    assert "Open, add fresh" in words
    assert "leaf of" not in words


# --- a cup without its female ---------------------------------------------------------------------


def test_the_stems_of_a_female_that_died_are_watched_and_not_renewed(bench: Story) -> None:
    tell(bench, "K2 set up laying shelf A\nK2 founder W1, lunaria female")
    tell(bench, "K2 host in nettle leaf water\nK2 drank")
    bench.at("2027-05-08 12:00").type("K2 died W1")
    found, _ = sheet_of(bench, "--to", "+3d")
    words, _ = found["K2"]
    assert words.startswith("K2 on shelf A: kept stems.")
    assert "Black specks under the stems? Telephone." in words
    assert "nettle from" not in words


# --- words ----------------------------------------------------------------------------------------


def test_limp_is_asked_of_the_plant_and_nothing_is_taken_out_for_it(bench: Story) -> None:
    tell(bench, "K2 set up laying shelf A\nK2 founder W1, lunaria female")
    tell(bench, "K2 host in nettle leaf water\nK2 drank")
    words, _ = sheet_of(bench)[0]["K2"]
    assert "Plant limp? Open, add stems of nettle from" in words
    assert "stem for stem" not in words
    assert "Whatever is in a cup stays in" in head_of(bench)


def test_a_window_is_only_shut_where_there_is_one(bench: Story) -> None:
    tell(bench, "shelf set up O outdoors\nV1 set up rearing shelf O\nV1 stocked 5 L4 A2")
    assert "open (in a room: window and door shut first), and close" in head_of(bench)


def test_who_has_no_store_of_a_plant_on_record_hears_how_to_record_one(bench: Story) -> None:
    tell(bench, "K2 set up laying shelf A\nK2 founder W1, lunaria female")
    tell(bench, "K2 host in nettle leaf water")
    warned = sheet_of(bench)[1]
    said = re.search(r"no store of nettle is on record: (.*)", warned)
    assert said is not None
    lines = re.findall(r"'([^']+)'", said[1])
    assert len(lines) == 2
    tell(bench, "\n".join(lines))
    found, warned = sheet_of(bench)
    assert "no store of nettle" not in warned
    assert "nettle from S2" in found["K2"][0]


# --- paper ----------------------------------------------------------------------------------------


KINDS = (
    ("laying", "founder W{}, lunaria female"),
    ("eggs", "stocked 12 eggs A2"),
    ("rearing", "stocked 6 L4 A2"),
    ("pupation", "stocked 3 pupae A2"),
)


@needs_browser
@pytest.mark.parametrize(("cups", "most"), [(5, 1), (23, 2)])
def test_the_page_fills_its_paper(bench: Story, tmp_path: Path, cups: int, most: int) -> None:
    for number in range(1, cups + 1):
        purpose, animals = KINDS[number % len(KINDS)]
        tell(bench, f"C{number} set up {purpose} shelf A\nC{number} {animals.format(number)}")
        tell(bench, f"C{number} host in nettle leaf water {1 + number % 3}")
    page, paper = tmp_path / "sheet.html", tmp_path / "sheet.pdf"
    assert bench.shell("sheet", "--to", "+4d", "--html", str(page)).status == 0
    run(page, tmp_path, f"--print-to-pdf={paper}", "--no-pdf-header-footer")
    assert len(re.findall(rb"/Type\s*/Page\b", paper.read_bytes())) <= most


def test_specks_below_stems_of_a_cup_not_to_be_opened_are_only_looked_for(bench: Story) -> None:
    tell(bench, "K2 set up laying shelf A\nK2 founder W1, lunaria female")
    tell(bench, "K2 host in nettle leaf water\nK2 drank")
    bench.at("2027-05-08 12:00").type("K2 died W1", "K2 do not disturb until=2027-05-20")
    words, rows = sheet_of(bench, "--to", "+3d")[0]["K2"]
    assert "Black specks under the stems? Telephone." in words
    assert "look" in rows[0]
    assert not any(box is True for row in rows for box in row), words
