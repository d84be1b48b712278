"""Where and when the mothers of an old table were caught: on record with them, and withheld of a protected species."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_leaving_pins_and_permits import rows_of

LIVES = """brood,species,mother,{caught},{at},laid,eggs,larvae,hatched
Y1,Hyphoraia lunata,F9,2024-04-28,Hidden Combe,2024-05-01,50,40,2024-05-08
Y2,Hyphoraia lunata,F9,2024-04-28,Hidden Combe,2024-05-03,20,10,2024-05-10
Y3,Hyphoraia lunata,F10,2024-04-30,North Moor,2024-05-02,12,9,2024-05-09
"""
EVENTS = """date,cup,species,mother,{caught},{at},what happened,number
2024-05-01,7,Hyphoraia lunata,F9,28.04.2024,Hidden Combe,eggs laid,20
2024-05-08,7,Hyphoraia lunata,F9,28.04.2024,Hidden Combe,hatched,15
"""
HEADINGS = [("caught", "caught at"), ("Date caught", "Where caught"), ("gefangen", "Fangort")]


def taken_in(story: Story, tmp_path: Path, table: str, *options: str) -> None:
    file = tmp_path / "old.csv"
    file.write_text(table)
    ran = story.shell("import", str(file), "--yes", *options)
    assert ran.status == 0, ran.err + ran.out
    story.reopen()


def founders(story: Story) -> dict[str, tuple[str, str]]:
    """By code, where and on which day each founder was caught."""
    return {
        line["code"]: (line.get("place", ""), line.get("caught", "")[:10])
        for line in story.on_disk()
        if line["what"] == "founder"
    }


@pytest.mark.parametrize(("caught", "at"), HEADINGS)
@pytest.mark.parametrize("table", [LIVES, EVENTS])
def test_a_mother_comes_in_with_her_catch(
    story: Story, tmp_path: Path, table: str, caught: str, at: str
) -> None:
    taken_in(story, tmp_path, table.format(caught=caught, at=at))
    assert founders(story)["F9"] == ("Hidden Combe", "2024-04-28")
    assert not any("Hidden Combe" in line.get("text", "") for line in story.on_disk())
    wild = [row for row in rows_of(story, tmp_path) if row["locality"] == "Hidden Combe"]
    assert [row["eventDate"][:10] for row in wild] == ["2024-04-28"]


POINTS = EVENTS.replace("{at}", "{at},latitude,longitude").replace(
    "Hidden Combe,", "Hidden Combe,44.1234,-121.5678,"
)


@pytest.mark.parametrize("mother", ["F9", "wild"])
def test_degrees_come_in_with_the_mother_and_are_withheld(
    story: Story, tmp_path: Path, mother: str
) -> None:
    story.type("taxon 'Hyphoraia lunata' protected")
    table = POINTS.replace("F9", mother).format(caught="caught", at="caught at")
    taken_in(story, tmp_path, table)
    came = [line for line in story.on_disk() if line["what"] == "founder"]
    degrees = [(line["latitude"], line["longitude"]) for line in came]
    assert degrees == ([(44.1234, -121.5678)] if mother == "F9" else [])
    notes = [line["text"] for line in story.on_disk() if "44.1234" in line.get("text", "")]
    assert bool(notes) == (mother == "wild")
    for what in ("csv", "dwca"):
        assert story.shell("export", what, str(tmp_path / f"{what}.zip")).status == 0
        with zipfile.ZipFile(tmp_path / f"{what}.zip") as archive:
            left = b"".join(archive.read(member) for member in archive.namelist())
        assert b"44.123" not in left
        assert b"121.567" not in left


def test_degrees_that_are_none_are_told_with_their_line(story: Story, tmp_path: Path) -> None:
    file = tmp_path / "old.csv"
    file.write_text(POINTS.format(caught="caught", at="caught at").replace("44.1234", "144.1234"))
    ran = story.shell("import", str(file), "--yes")
    assert ran.status == 1
    assert "latitude is '144.1234'; it must be degrees from -90 to 90" in ran.err + ran.out


def test_each_mother_has_her_own(story: Story, tmp_path: Path) -> None:
    taken_in(story, tmp_path, LIVES.format(caught="caught", at="caught at"))
    assert founders(story)["F10"] == ("North Moor", "2024-04-30")
    assert len(founders(story)) == 2


@pytest.mark.parametrize(
    "table", [LIVES, EVENTS, LIVES.replace("F9", "wild"), LIVES.replace("F9", "")]
)
def test_of_a_protected_species_the_place_stays_in_the_book(
    story: Story, tmp_path: Path, table: str
) -> None:
    story.type("taxon 'Hyphoraia lunata' protected")
    taken_in(story, tmp_path, table.format(caught="caught", at="caught at"))
    assert any("Hidden Combe" in str(line) for line in story.on_disk())
    broods = [line["code"] for line in story.on_disk() if line["what"] == "brood"]
    for what, *more in (
        ("csv", "o.zip"),
        ("dwca", "a.zip"),
        ("occurrences", "o.csv"),
        ("season", "s.md"),
        ("note", broods[0], "n.md"),
    ):
        name = more[-1]
        made = story.shell("export", what, *more[:-1], str(tmp_path / name))
        assert made.status == 0, (what, made.err)
        file = tmp_path / name
        left = [file.read_bytes()]
        if zipfile.is_zipfile(file):
            with zipfile.ZipFile(file) as archive:
                left = [archive.read(member) for member in archive.namelist()]
        assert not any(b"Hidden Combe" in content for content in left), what


def test_a_catch_after_her_eggs_is_refused_with_the_line(story: Story, tmp_path: Path) -> None:
    file = tmp_path / "old.csv"
    file.write_text(LIVES.format(caught="caught", at="caught at").replace("04-30", "05-30"))
    ran = story.shell("import", str(file), "--yes")
    assert ran.status == 1
    assert "F10 was caught after her eggs were laid; mend one of the days" in ran.err + ran.out


ROW = "B1,Euphydryas maturna,M1,2022-05-20,50,48,30,28"


@pytest.mark.parametrize(
    ("headings", "cells"),
    [
        ("Fundort,Breite,Länge", '"Am Wehr","51,246813","12,135791"'),
        ("coordinates", '"51.246813, 12.135791"'),
        ("Geogr. Breite,Geogr. Länge", '"51,246813","12,135791"'),
        ("Geogr. Breite/Länge", '"51.246813 12.135791"'),
        ("Breite,Länge", "51°14'48.527\"N,12°8'8.848\" O"),
        ("Koordinaten", "51°14'48.527\"N 12°8'8.848\"O"),
        ("Koordinaten", "51°14'48.527\"N 12°8'8.848\"E"),
        ("lat,long", "51°14.80878'N,E 12.135791"),
        ("latitude,longitude", "51 14 48.527 N,12° 8' 8.848\" E"),
    ],
)
def test_coordinates_come_in_under_any_heading_and_in_any_notation(
    story: Story, tmp_path: Path, headings: str, cells: str
) -> None:
    path = tmp_path / "t.csv"
    path.write_text(
        f"brood,species,mother,laid,eggs,hatched,pupae,adults,{headings}\n{ROW},{cells}\n"
    )
    ran = story.shell("import", str(path), "--yes")
    assert ran.status == 0, ran.err
    story.reopen()
    mother = story.desk.bench.founders["M1"]
    assert (mother.latitude, mother.longitude) == pytest.approx((51.246813, 12.135791), abs=2e-6)


@pytest.mark.parametrize("pair", ["Breite,Länge", "breedte,lengte"])
@pytest.mark.parametrize("cells", ["0.512,1.204", '"0,5123","1,2041"'])
def test_how_wide_and_long_an_egg_is_is_no_place(
    story: Story, tmp_path: Path, cells: str, pair: str
) -> None:
    path = tmp_path / "t.csv"
    path.write_text(f"brood,species,mother,laid,eggs,hatched,pupae,adults,{pair}\n{ROW},{cells}\n")
    told = story.shell("import", str(path), "--yes").out
    wide, long = pair.split(",")
    if "5123" in cells:
        assert f"{wide} and {long} may be sizes; if they are a place, say --map" in told
    story.reopen()
    assert story.desk.bench.founders["M1"].latitude is None


def test_what_may_be_a_size_is_told_where_it_is_read_as_a_place(
    story: Story, tmp_path: Path
) -> None:
    path = tmp_path / "t.csv"
    head = "brood,species,mother,laid,eggs,hatched,pupae,adults,Breite,Länge"
    path.write_text(f'{head},Fundort\n{ROW},"51,2468","12,1357",Am Wehr\n')
    told = story.shell("import", str(path), "--dry-run")
    assert "Breite and Länge are read as a place" in told.out, told.err
    path.write_text(f'{head}\n{ROW},"51,2468","12,1357"\n')
    said = ["--map", "Breite=latitude", "--map", "Länge=longitude"]
    assert story.shell("import", str(path), "--yes", *said).status == 0
    story.reopen()
    assert story.desk.bench.founders["M1"].latitude == pytest.approx(51.2468)


@pytest.mark.parametrize("cell", ["12.1357° E", "51° 70' N"])
def test_an_angle_that_is_none_is_told(story: Story, tmp_path: Path, cell: str) -> None:
    path = tmp_path / "t.csv"
    path.write_text(
        f"brood,species,mother,laid,eggs,hatched,pupae,adults,lat,lon\n{ROW},{cell},12.1357\n"
    )
    ran = story.shell("import", str(path), "--dry-run", "--map", "lat=latitude")
    assert f"lat is '{cell}'; it must be degrees" in ran.out + ran.err


@pytest.mark.parametrize(
    ("columns", "cells", "places"),
    [
        ("Fundort,Breite,Länge", ('Wehr,"51,25","12,1358"', 'Wehr,"51,2468",12'), (51.25, 51.2468)),
        ("Koordinaten", ('"51.2468, 12.1358"', "am Wehr"), (51.2468, None)),
    ],
    ids=["coarse", "words"],
)
def test_a_cell_that_is_coarse_or_in_words_leaves_the_others_their_place(
    story: Story,
    tmp_path: Path,
    columns: str,
    cells: tuple[str, str],
    places: tuple[float | None, ...],
) -> None:
    rows = [ROW.replace("B1", f"B{one}").replace("M1", f"M{one}") for one in (1, 2, 3)]
    text = "\n".join(f"{row},{cells[at % 2]}" for at, row in enumerate(rows))
    path = tmp_path / "t.csv"
    path.write_text(f"brood,species,mother,laid,eggs,hatched,pupae,adults,{columns}\n{text}\n")
    ran = story.shell("import", str(path), "--yes")
    assert ran.status == 0, ran.err
    story.reopen()
    founders = story.desk.bench.founders
    assert tuple(founders[one].latitude for one in ("M1", "M2")) == places, ran.out
    assert (None in places) == ("left out: Koordinaten (am Wehr)" in ran.out)
