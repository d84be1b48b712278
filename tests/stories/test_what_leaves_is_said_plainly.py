"""Small things of what leaves: names that are taken, places that are withheld, units, parasitoids."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def season(story: Story) -> Story:
    """A protected species under a permit, one that was let go, and a larva with parasitoids."""
    tell(
        story,
        """taxon 'Lycaena helle' short=helle protected
        taxon 'Pieris brassicae'
        taxon 'Pieris napi'
        permit P-8 females 5
        K2 set up laying
        K3 set up rearing
        K2 founder W1, helle female place=Home permit=P-8
        K2 founder W2, 'Pieris brassicae' female place=Home permit=P-8
        K3 founder PL2, 'Pieris napi' larva found_on='Alliaria petiolata' place=Home permit=P-8
        K3 12 eggs helle
        K3 note odd spots
        note from the man at the gate""",
    )
    tell(
        story.later(days=3),
        """K3 parasitoid 3 Cotesia brood=PL2 voucher=C1-C3 depository="Town museum"
        K3 died 2 eggs brood=LYC-27-01
        K2 released W2""",
    )
    story.reopen()
    return story


def exported(story: Story, what: str, name: str, *options: str) -> tuple[str, str]:
    """What the file holds, in one line, and what was printed."""
    file: Path = story.folder.parent / name
    ran = story.shell("export", *what.split(), str(file), "--replace", *options)
    assert ran.status == 0, ran.err
    return " ".join(file.read_text("utf-8-sig").split()), ran.out


@pytest.mark.parametrize("name", ["helle", "L. helle", "lycaena helle", "Lycaena helle"])
def test_a_plot_of_a_species_takes_its_short_name(season: Story, name: str) -> None:
    file = season.folder.parent / "plot.svg"
    assert season.shell("export", "plot", name, str(file)).status == 0
    assert file.read_text().startswith("<?xml")


def test_a_note_offers_broods_alone(season: Story) -> None:
    ran = season.shell("export", "note", "zz", str(season.folder.parent / "note.md"))
    assert ran.err == "rounds: no brood is called zz; there are: LYC-27-01\n"
    ran = season.shell("export", "note", "w1", str(season.folder.parent / "note.md"))
    assert "W1 is a founder" in ran.err


def test_a_return_says_how_its_body_gets_the_places_and_of_what_sex_they_were(
    season: Story,
) -> None:
    page, _ = exported(season, "permit P-8", "return.md")
    assert "The issuing body gets the places from the holder" in page
    assert "| 4 May 2027 | W2 | 1 adult | female | not recorded |" in page
    assert "| C1 | Cotesia | PL2 |" in page, "nobody said in which stage its host was"


def test_free_text_is_named_line_by_line(season: Story) -> None:
    _, told = exported(season, "csv", "all.csv")
    (line,) = (line for line in told.splitlines() if line.startswith("free text"))
    assert "2 lines of it" in line
    assert "K3 note Sat 1 May 07:05; note Sat 1 May 07:05" in line


def test_a_parasitoids_pin_says_what_its_host_was_and_was_found_on(season: Story) -> None:
    page, _ = exported(season, "pins", "pins.html")
    words = page.replace("<br>", " ")
    assert "parasitoid, out of Pieris napi PL2 host taken as larva" in words
    assert "host larva found on Alliaria petiolata" in words


def test_a_season_tells_specimens_and_parasitoids(season: Story) -> None:
    page, _ = exported(season, "season", "season.md")
    assert "| Cotesia | 3 | Town museum |" in page.split("## Specimens kept")[1]
    assert "| Cotesia | 3 | Pieris napi PL2 |" in page.split("## Parasitoids")[1]


def test_the_dictionary_gives_each_number_its_unit(season: Story) -> None:
    file = season.folder.parent / "units.csv"
    season.shell("export", "csv", str(file), "--table", "dictionary")
    rows = csv.DictReader(file.read_text("utf-8-sig").splitlines())
    units = {(row["table"], row["column"]): row["unit"] for row in rows}
    assert units["laying", "eggs per female-day"] == "eggs per female-day"
    assert units["laying", "eggs in doubt"] == "count"
    assert units["life-table", "share that went on"] == "1"
    assert units["warmth", "humidity (%)"] == "%"
