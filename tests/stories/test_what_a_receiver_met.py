"""Who receives the record: names with a comma, one number a specimen, one name a taxon, figures as the data hold them."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest
from dwca.read import DwCAReader

from rounds.exchange.tables.tables import TABLES
from tests.stories.telling import Story, tell
from tests.stories.test_leaving_pins_and_permits import rows_of

CUPS = """
taxon 'Pieris orata' short=orata instars=5
K2 set up laying
P2 set up pupation
K2 founder A-1, orata female at 'Mill lane' collector=KM
brood A-1/A taxon=orata mothers=A-1
P2 stocked 9 pupae A-1/A
"""


@pytest.fixture
def cups(story: Story) -> Story:
    """A wild female, and pupae of hers."""
    tell(story, CUPS)
    return story


# --- names of people ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "name", "surname", "given"),
    [
        ("KM Karin Maas", "Karin Maas", "Maas", "Karin"),
        ("KM Maas, Karin", "Maas, Karin", "Maas", "Karin"),
        ("KM=Maas, Karin Anna; AB=Berg, Anna", "Maas, Karin Anna", "Maas", "Karin Anna"),
        ("AB Berg, Anna, KM van der Maas, Karin", "van der Maas, Karin", "van der Maas", "Karin"),
    ],
)
def test_a_comma_in_a_full_name_is_part_of_it(
    cups: Story, tmp_path: Path, said: str, name: str, surname: str, given: str
) -> None:
    cups.type(f"setting names {said}", f"setting holder {name}")
    assert {row["recordedBy"] for row in rows_of(cups, tmp_path)} == {name}
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        creator = archive.metadata.find("dataset/creator")
    assert creator is not None
    assert creator.findtext("individualName/surName") == surname
    assert creator.findtext("individualName/givenName") == given


def test_initials_without_a_name_are_refused_with_how_names_are_said(cups: Story) -> None:
    assert "as KM Karin Maas" in cups.refused("setting names KM")


# --- specimens ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "name", "hosts"),
    [
        ("1 fly out of pupa", "1 fly, out of pupa", None),
        ("2 wasps out of 1 pupa", "2 wasps, out of 1 pupa", 1),
        ("1 fly came out of a pupa of A-1/A", "1 fly, out of pupa", None),
        ("12 Cotesia from two pupae", "12 Cotesia, out of 2 pupae", 2),
    ],
)
def test_what_came_out_of_which_host_is_no_part_of_its_name(
    cups: Story, said: str, name: str, hosts: int | None
) -> None:
    assert f"P2 parasitoid: {name} of A-1/A" in cups.type(f"P2 parasitoid {said}")[0]
    assert cups.on_disk()[-1].get("hosts") == hosts


def test_of_several_broods_none_is_the_example_for_a_host_that_died(cups: Story) -> None:
    tell(cups, "brood Z-9 taxon=orata\nX2 set up isolation\nP2 moved 1 pupa to X2\nX2 died 1 pupa")
    assert "say which: brood=A-1/A or brood=Z-9" in cups.refused("X2 parasitoid 3 wasps")


def test_a_number_is_of_one_specimen(cups: Story) -> None:
    cups.type("P2 preserved 1 pupa V1", "P2 preserved 2 pupae V4")
    for line in ("P2 preserved 1 pupa v1", "K2 preserved A-1 V1", "P2 parasitoid 1 fly voucher=V1"):
        why = cups.refused(line)
        assert "is the number of a specimen from P2; each has its own" in why, line
        assert "voucher=" in why
    assert "V4.2 is the number" in cups.refused("K2 preserved A-1 V4.2")
    cups.type("P2 preserved 1 pupa voucher=V1.2")


def test_a_number_is_free_again_once_its_line_is_crossed_out(cups: Story) -> None:
    cups.type("P2 preserved 1 pupa V1", "undo", "P2 preserved 1 pupa V1")
    assert "V1 is the number" in cups.refused("K2 preserved A-1 V1")


# --- names of taxa --------------------------------------------------------------------------------


def test_every_table_has_the_name_in_full(story: Story, tmp_path: Path) -> None:
    tell(
        story,
        """
        K2 set up laying
        K2 founder A-1, orata female
        K2 host in nettle leaf water
        K2 searched 9
        taxon 'Pieris orata' short=orata
        E2 set up eggs
        K2 split 9 eggs into E2
        """,
    )
    story.later(days=5).type("E2 hatched 6")
    story.later(days=1).type("E2 preserved 1 larva V1")
    told = 0
    for table in TABLES:
        path = tmp_path / f"{table}.csv"
        assert story.shell("export", "csv", str(path), "--table", table).status == 0
        rows = list(csv.DictReader(path.read_text("utf-8-sig").splitlines()))
        names = {row["taxon"] for row in rows if "taxon" in row}
        assert names <= {"Pieris orata", ""}, table
        told += "Pieris orata" in names
    assert told >= 8
    season = tmp_path / "season.md"
    assert story.shell("export", "season", str(season)).status == 0
    assert "| Pieris orata |" in season.read_text()
    assert "## Pieris orata: laying" in season.read_text()


# --- figures --------------------------------------------------------------------------------------


def test_a_temperature_has_no_more_digits_than_was_read(cups: Story, tmp_path: Path) -> None:
    cups.type("P2 air 97.4F")
    cups.later(hours=6).type("P2 air 71.3F")
    note = tmp_path / "note.md"
    assert cups.shell("export", "note", "A-1/A", str(note)).status == 0
    assert "lowest 21.8 C, highest 36.3 C" in " ".join(note.read_text().split())


def test_the_calendar_has_no_more_digits_of_a_threshold_than_the_note(
    story: Story, tmp_path: Path
) -> None:
    tell(story, CUPS + "K2 host in nettle leaf water\nroom 21C\nK2 searched 9\n")
    file = tmp_path / "calendar.ics"
    assert story.shell("export", "ics", str(file)).status == 0
    told = file.read_text().replace("\r\n ", "").replace("\n ", "")
    found = re.findall(r"degree-days above (\S+) C", told)
    assert found
    note = tmp_path / "note.md"
    assert story.shell("export", "note", "A-1/A", str(note)).status == 0
    assert {f"egg: {lower} C" for lower in found} <= {
        line.partition(",")[0] for line in note.read_text().splitlines()
    }


def test_a_permits_table_has_what_may_be_kept_and_stems_what_was_found(
    story: Story, tmp_path: Path
) -> None:
    story.at("2027-05-20 18:00").type(
        "taxon 'Euphydryas aurinia' short=aurinia protected",
        "permit 24-118 taxon='Euphydryas aurinia' females=2 eggs=300 eggs_kept=100",
        "K1 set up laying",
        "E1 set up eggs",
        "R1 set up rearing",
        "K1 founder A-1 aurinia female caught=2027-05-20 permit=24-118",
        "K1 host in 'Succisa pratensis' water",
    )
    story.later(hours=13).type("K1 searched 120", "K1 moved 120 eggs to R1")
    story.later(hours=13).type("K1 host out held held_in=E1")
    story.later(days=10).type("E1 12 larvae")
    story.shell("export", "csv", str(tmp_path / "p.csv"), "--table", "permits")
    with (tmp_path / "p.csv").open(encoding="utf-8-sig", newline="") as file:
        (permit,) = csv.DictReader(file)
    assert (permit["eggs allowed"], permit["eggs taken"]) == ("300", "132")
    assert (permit["eggs to be kept"], permit["eggs kept"]) == ("100", "132")
    story.shell("export", "season", str(tmp_path / "s.md"))
    season = (tmp_path / "s.md").read_text()
    assert "| Euphydryas aurinia | 1 | 1 | 132 | 0 | 0 | 132 |" in season


def test_what_does_not_fit_is_not_the_helpers(story: Story) -> None:
    story.at("2027-05-20 18:00").type(
        "R1 set up rearing", "R2 set up rearing", "R1 6 L2 Aglais io on nettle", "R1 2 died"
    )
    (line,) = [one for one in story.on_disk() if one["what"] == "stocked"]
    story.later(hours=1).type(f"strike {line['id']}")
    ran = story.shell("sheet", "--from", "now", "--to", "23 May 18:00")
    assert "FIT" in ran.err
    assert "FIT" not in ran.out
