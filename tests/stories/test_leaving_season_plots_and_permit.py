"""A season's summary, plots as files, a permit's return, and - for standard output: read by programs that are not ours."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path
from xml.etree import ElementTree as ET

import pandas as pd
import pytest
from markdown_it import MarkdownIt
from PIL import Image

from tests.exchange.browser import needs_browser, overflow
from tests.stories.telling import Story, tell
from tests.stories.test_a_statistician_gets_the_tables import a_season


@pytest.fixture
def season(story: Story) -> Story:
    a_season(story)
    story.reopen()
    return story


def exported(story: Story, *words: str) -> str:
    ran = story.shell("export", *words)
    assert ran.status == 0, ran.err
    return ran.out


def tables_in(markdown: str) -> dict[str, list[dict[str, str]]]:
    """Each table of a page below its heading, by an independent reader."""
    html = MarkdownIt("commonmark").enable("table").render(markdown)
    root = ET.fromstring(f"<page>{html}</page>")
    found: dict[str, list[dict[str, str]]] = {}
    title = ""
    for element in root:
        if element.tag == "h2":
            title = "".join(element.itertext())
        if element.tag == "table" and title not in found:
            heads = ["".join(one.itertext()) for one in element.iter("th")]
            rows = [
                ["".join(one.itertext()) for one in row.iter("td")] for row in element.iter("tr")
            ]
            found[title] = [dict(zip(heads, row, strict=True)) for row in rows if row]
    return found


def test_the_season_says_what_came_lived_was_laid_and_lost(season: Story, tmp_path: Path) -> None:
    exported(season, "season", str(tmp_path / "season.md"))
    text = (tmp_path / "season.md").read_text()
    found = tables_in(text)
    (species,) = found["In short"]
    assert (species["wild-caught"], species["broods"], species["eggs"], species["adults"]) == (
        "2",
        "2",
        "34",
        "8",
    )
    assert {one["cause"]: one["died"] for one in found["Losses by cause"]} == {
        "dry": "4",
        "mould": "3",
        "disease suspected": "2",
    }
    laying = {one["plant"]: one for one in found["Pieris orata: laying"]}
    assert laying["cress"]["eggs found"] == "20"
    broods = {one["brood"]: one["adults"] for one in found["Pieris orata: 2 broods"]}
    assert broods == {"A-1/A": "8", "A-2/A": "0"}
    assert "2 broods give a lower threshold" in text.split("## What the records taught")[1]


@needs_browser
def test_the_season_reads_on_a_phone_with_its_plots(season: Story, tmp_path: Path) -> None:
    exported(season, "season", str(tmp_path / "season.html"))
    assert (tmp_path / "season.html").read_text().count("<svg") >= 2
    assert overflow(tmp_path / "season.html", tmp_path, 390) <= 0


def test_plots_are_files_of_the_same_drawing(season: Story, tmp_path: Path) -> None:
    pytest.importorskip("resvg_py")
    exported(season, "plot", "a-1/A", str(tmp_path / "one.svg"))
    exported(season, "plot", "A-1/A", str(tmp_path / "one.png"))
    root = ET.fromstring((tmp_path / "one.svg").read_bytes())
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert any("20 animals, 7 died" in (one.text or "") for one in root.iter())
    with Image.open(tmp_path / "one.png") as picture:
        assert picture.format == "PNG"
        assert picture.width == 1920
        signs = picture.convert("L").crop((200, 0, 1000, 80)).getextrema()
        assert signs[0] < 50  # its title is written
    told = exported(season, "plot", "pieris orata", str(tmp_path / "all.zip"))
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        assert {"survival.svg", "laying.svg", "development-egg.svg"} <= set(archive.namelist())
        for name in archive.namelist():
            ET.fromstring(archive.read(name))
            assert name.removesuffix(".svg") in told


def test_a_plot_that_there_is_not_names_those_that_there_are(season: Story, tmp_path: Path) -> None:
    ran = season.shell("export", "plot", "A-1/A", str(tmp_path / "x.svg"), "--plot", "mass")
    assert ran.status == 1
    assert "there are: survival, development-egg" in ran.err
    ran = season.shell("export", "plot", "Q-9", str(tmp_path / "x.svg"))
    assert "there are: A-1/A, A-2/A, Pieris orata" in ran.err


def under_a_permit(story: Story, protected: str = "") -> None:
    tell(
        story,
        f"""
        taxon 'Melitaea celans' {protected}
        permit P-12 body='County office' females=3 expires=2027-09-30
        K2 set up laying
        K2 founder W-1, 'Melitaea celans' female place='Sorrel bluff' latitude=51.9471 longitude=0.2049 caught=2027-04-30 permit=P-12
        K2 host in veronica leaf water
        """,
    )
    story.later(days=1)
    tell(
        story,
        "K2 searched 9\nK2 released 1 adult 'Sorrel bluff'\nE2 set up eggs\nK2 moved 9 eggs to E2",
    )
    story.later(days=9)
    tell(
        story,
        "E2 hatched 7\nE2 died 2 eggs dry\nE2 preserved 1 larva voucher=V4 depository='Town museum'",
    )
    story.reopen()


def test_a_permits_return_says_what_was_taken_and_became_of_it(
    story: Story, tmp_path: Path
) -> None:
    under_a_permit(story)
    exported(story, "permit", "p-12", str(tmp_path / "p.md"))
    found = tables_in((tmp_path / "p.md").read_text())
    (taken,) = found["Taken from the wild"]
    assert (taken["code"], taken["caught"], taken["place"], taken["fate"]) == (
        "W-1",
        "30 April 2027",
        "Sorrel bluff",
        "released 2 May 2027",
    )
    (brood,) = found["Reared from them"]
    assert (brood["eggs found"], brood["died"], brood["kept as specimens"], brood["alive now"]) == (
        "9",
        "2",
        "1",
        "6",
    )
    (free,) = found["Released"]
    assert (free["place"], free["number"]) == ("Sorrel bluff", "1 adult")
    (kept,) = found["Kept as specimens"]
    assert (kept["catalogue number"], kept["kept at"]) == ("V4", "Town museum")
    assert "1 of 3 females" in (tmp_path / "p.md").read_text()


def test_a_permits_return_says_what_its_numbers_count(story: Story, tmp_path: Path) -> None:
    under_a_permit(story)
    tell(story, "E2 stocked W-1/A egg 3\nE2 hatched 3 W-1/A inferred")
    exported(story, "permit", "p-12", str(tmp_path / "p.md"))
    text = (tmp_path / "p.md").read_text()
    (brood,) = tables_in(text)["Reared from them"]
    assert (brood["eggs found"], brood["eggs and animals"], brood["died"]) == ("9", "12", "2")
    assert "Of those that died 2 were eggs." in text
    assert (
        "Of the 12 eggs and animals 9 were found as eggs and 3 were known only by hatching" in text
    )
    assert "Eggs taken" not in text  # this permit sets no limit of eggs


def test_a_permits_return_says_why_eggs_taken_kept_and_found_differ(
    story: Story, tmp_path: Path
) -> None:
    under_a_permit(story)
    tell(
        story,
        """
        permit P-12 body='County office' females=3 eggs=150 eggs_kept=40
        E2 stocked W-1/A egg 3
        E2 hatched 3 W-1/A inferred
        E2 released 4 larvae
        """,
    )
    exported(story, "permit", "p-12", str(tmp_path / "p.md"))
    text = (tmp_path / "p.md").read_text()
    assert "12 of 150 eggs taken; 8 of 40 eggs kept" in text
    assert "Eggs taken, 12, are counted against the permit" in text
    assert "those known only by hatching too" in text
    assert "Eggs kept, 8, are the eggs taken less those released in whatever stage" in text
    assert "those that died count as kept, dead eggs too" in text


def test_a_dead_egg_that_is_kept_counts_as_kept(story: Story, tmp_path: Path) -> None:
    under_a_permit(story)
    tell(story, "E2 stocked W-1/A egg 3\nE2 preserved 3 eggs voucher=V5")
    exported(story, "permit", "p-12", str(tmp_path / "p.md"))
    (brood,) = tables_in((tmp_path / "p.md").read_text())["Reared from them"]
    assert (brood["died"], brood["kept as specimens"]) == ("2", "4")


def test_a_withheld_place_is_told_as_withheld_not_as_missing(story: Story) -> None:
    under_a_permit(story, "protected")
    (taken,) = tables_in(exported(story, "permit", "P-12", "-", "--as", "md"))[
        "Taken from the wild"
    ]
    assert taken["place"] == "withheld"
    assert taken["coordinates"].startswith("51.95 N 0.25 E")


@pytest.mark.parametrize(
    "words",
    [
        ("season", "-"),
        ("season", "-", "--as", "md"),
        ("permit", "P-12", "-"),
        ("permit", "P-12", "-", "--as", "MD"),
        ("occurrences", "-"),
        ("csv", "-", "--table", "FOUNDERS"),
        ("csv", "-", "--table", "fields"),
        ("note", "W-1/A", "-"),
        ("pins", "-"),
    ],
    ids=" ".join,
)
def test_a_protected_place_is_withheld_in_every_file(story: Story, words: tuple[str, ...]) -> None:
    under_a_permit(story, "protected")
    out = exported(story, *words)
    assert "Sorrel" not in out
    assert "51.9471" not in out
    assert len(out) > 100


def test_standard_output_holds_the_file_alone(season: Story, tmp_path: Path) -> None:
    ran = season.shell("export", "csv", "-", "--table", "Events")
    assert ran.status == 0
    assert "events: " in ran.err
    exported(season, "csv", str(tmp_path / "events.csv"), "--table", "events")
    assert ran.out == (tmp_path / "events.csv").read_bytes().decode()
    assert len(pd.read_csv(io.StringIO(ran.out.removeprefix("\ufeff")))) > 30
    whole = season.shell("export", "dwca", "-").out.encode("utf-8", "surrogateescape")
    with zipfile.ZipFile(io.BytesIO(whole)) as archive:
        assert archive.testzip() is None
    refused = season.shell("export", "note", "A-1/A", "-", "--as", "pdf")
    assert refused.status == 1
    assert ".html or .md" in refused.err


def test_a_plot_of_days_and_eggs_has_no_parts_of_them(story: Story) -> None:
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 'Pieris orata' female
        K2 host in rocket
        """,
    )
    story.later(hours=30).type("K2 searched 1")
    story.later(days=1).type("K2 searched 2")
    drawn = exported(story, "plot", "Pieris orata", "-", "--plot", "laying")
    ticks = re.findall(r'text-anchor="(?:end|middle)"[^>]*>([^<]*)<', drawn)
    numbers = [one for one in ticks if one[:1].isdigit()]
    assert numbers
    assert all(one.isdigit() for one in numbers), numbers
