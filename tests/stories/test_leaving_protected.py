"""A protected species leaves without its exact place, however its name was typed; what is not protected keeps its own."""

from __future__ import annotations

import io
from pathlib import Path

import pandas as pd
import pytest
from dwca.read import DwCAReader

from rounds.exchange.exports import TABLE_NAMES
from tests.stories.telling import Story, everything, tell

DWC = "http://rs.tdwg.org/dwc/terms/"
SECRETS = ("lower terrace", "44.1234", "121.5678")
CAUGHT = "place='Sorrel bluff, lower terrace' latitude=44.1234 longitude=-121.5678 uncertainty=30"


def written(story: Story, what: str, file: Path, *more: str) -> str:
    """What an export that must be made says."""
    ran = story.shell(
        "export",
        what,
        *([more[0]] if what == "note" else []),
        str(file),
        "--replace",
        *more[what == "note" :],
    )
    assert ran.status == 0, ran.err
    return ran.out


def as_stored(story: Story, taxon: str) -> None:
    """An old book's founder line holds whatever was typed for its species, so write it there as it would lie."""
    story.type("K2 founder A-27-02, Melitaea celata female " + CAUGHT)
    story.reopen()
    for file in story.folder.glob("entries-*.jsonl"):
        file.write_text(file.read_text().replace("Melitaea celata", taxon))
    for file in story.folder.glob("checkpoint-*"):
        file.unlink()


@pytest.mark.parametrize(
    "typed",
    ["Melitaea celans", "celans", "MELITAEA  CELANS", "M. celans", "M.celans", "Mel. celans", "lans", "Melitaea celans orta",
     "Melitaea celans (Imhof, 1981)", "Melitaea cf. celans", "Melitaea sp.", "Melitaea", "Melitea celans", "Melitaea cealns",
     "celnas", "some fritillary"],
)  # fmt: skip
def test_however_it_was_typed_no_file_holds_its_exact_place(
    story: Story, tmp_path: Path, typed: str
) -> None:
    tell(
        story,
        """
        taxon Melitaea celans short=lans protected
        taxon Pieris orata
        K2 set up laying
        """,
    )
    as_stored(story, typed)
    tell(story, "K2 host in sorrel leaf water")
    story.later(days=1)
    tell(
        story,
        """
        K2 searched 6
        R2 set up eggs
        K2 moved 6 eggs to R2
        R2 released 6 eggs 'Sorrel bluff, lower terrace'
        """,
    )
    brood = next(iter(story.desk.bench.broods))
    story.reopen()
    for what, name, more in (
        ("dwca", "record.zip", ()),
        ("csv", "all.zip", ()),
        ("csv", "entries.csv", ()),
        ("note", "note.md", (brood,)),
        ("note", "note.html", (brood,)),
        ("ics", "due.ics", ()),
        ("labels", "labels.html", ()),
    ):
        file = tmp_path / name
        written(story, what, file, *more)
        text = everything(file)
        assert all(secret not in text for secret in SECRETS), (what, typed)
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        (founder, *_) = [row.data for row in archive]
    assert founder[DWC + "decimalLatitude"] == "44.15"
    if typed in ("celans", "M. celans", "M.celans", "Mel. celans", "lans", "MELITAEA  CELANS"):
        assert founder[DWC + "scientificName"] == "Melitaea celans"
        assert (
            founder[DWC + "identificationRemarks"] == f"name as the keeper has it; typed as {typed}"
        )
    assert "withheld" in founder[DWC + "informationWithheld"]


def test_a_name_that_is_none_of_the_taxa_is_told_at_every_export_of_places(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        f"""
        taxon Melitaea celans protected
        taxon Pieris orata
        K2 set up laying
        K2 founder A-27-02, Pieris orata female {CAUGHT}
        """,
    )
    assert "treated as protected" not in written(story, "csv", tmp_path / "a.zip")
    assert "44.1234" in everything(tmp_path / "a.zip")
    tell(
        story,
        "K2 founder A-27-03, Colias ficta female place='Heron ford' latitude=43.9876 longitude=-120.1",
    )
    for what, name in (("csv", "b.csv"), ("dwca", "b.zip")):
        said = written(story, what, tmp_path / name)
        assert (
            "treated as protected, for it is none of your taxa: 'Colias ficta'; as: taxon 'Colias ficta'"
            in said
        )
        assert "Heron ford" not in everything(tmp_path / name)
    tell(story, "taxon 'Colias ficta'")
    assert "treated as protected" not in written(story, "csv", tmp_path / "c.csv")
    assert "Heron ford" in (tmp_path / "c.csv").read_text()


def test_a_taxon_that_is_no_longer_protected_is_told(story: Story, tmp_path: Path) -> None:
    tell(
        story,
        f"""
        taxon Melitaea celans protected
        K2 set up laying
        K2 founder A-27-02, Melitaea celans female {CAUGHT}
        """,
    )
    assert "once" not in written(story, "csv", tmp_path / "a.csv")
    story.later(minutes=1)
    tell(story, "taxon 'Melitaea celans' protected=no")
    said = written(story, "csv", tmp_path / "a.zip")
    assert "look: Melitaea celans was said to be protected once, and is not now" in said


def test_where_nothing_is_protected_nothing_is_withheld_or_told(
    story: Story, tmp_path: Path
) -> None:
    tell(story, f"K2 set up laying\nK2 founder A-27-02, Colias ficta female {CAUGHT}")
    said = written(story, "csv", tmp_path / "a.zip")
    assert "protected" not in said
    assert "44.1234" in everything(tmp_path / "a.zip")


def test_a_release_of_an_unprotected_brood_keeps_its_place_also_where_it_names_no_brood(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        f"""
        taxon Melitaea celans protected
        taxon Pieris orata
        K2 set up laying
        K2 founder A-27-02, Pieris orata female
        K3 set up laying
        K3 founder A-27-03, Melitaea celans female {CAUGHT}
        K3 released 1 'Sorrel bluff, lower terrace'
        K2 released 1 'garden of the mill'
        """,
    )
    written(story, "csv", tmp_path / "all.csv", "--table", "fields")
    told = pd.read_csv(io.BytesIO((tmp_path / "all.csv").read_bytes()))
    lines = [line["id"] for line in story.on_disk() if line["what"] == "released"]
    said = told[told["line"].isin(lines) & (told["field"] == "place")].set_index("line")
    free = [said.loc[line, "value"] for line in lines]
    assert "garden of the mill" in free[1]
    assert "withheld" in free[0]
    assert "lower terrace" not in everything(tmp_path / "all.csv")


def test_a_founder_whose_brood_was_later_named_as_protected_is_guarded_too(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        f"""
        taxon Melitaea celans protected
        taxon Pieris orata
        K2 set up laying
        K2 founder A-27-02, Pieris orata female {CAUGHT}
        brood B-9 taxon='Pieris orata' mothers=A-27-02
        """,
    )
    story.reopen()
    for file in story.folder.glob(
        "entries-*.jsonl"
    ):  # an older book: a brood may be of another species there
        lines = file.read_text().splitlines(keepends=True)
        file.write_text(
            "".join(
                one.replace("Pieris orata", "Melitaea celans") if "B-9" in one else one
                for one in lines
            )
        )
    for file in story.folder.glob("checkpoint-*"):
        file.unlink()
    written(story, "csv", tmp_path / "all.csv")
    assert all(secret not in everything(tmp_path / "all.csv") for secret in SECRETS)


def test_notes_leave_as_typed_and_are_warned_about_and_those_that_name_the_place_are_listed(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        f"""
        taxon Melitaea celans protected
        K2 set up laying
        K2 founder A-27-02, Melitaea celans female {CAUGHT}
        K2 note feeds well in the sun
        K2 note the others fly on the Lower Terrace too
        K2 note 44.1236 N by the phone
        """,
    )
    said = written(story, "csv", tmp_path / "all.csv")
    assert "free text leaves as typed, 3 lines of it: read it before you pass the file on" in said
    assert "look: 2 lines of it may name a withheld place: K2 note" in said
    assert "free text" not in written(story, "csv", tmp_path / "laying.csv", "--table", "laying")


def test_where_the_keeper_lives_and_the_phone_leave_in_no_table(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        """
        setting latitude 47.6543
        setting longitude 8.3217
        setting phone 0555 0142
        setting bench the south sill
        K2 set up laying
        K2 note sun on it from nine, by 47.65 N 8.32 E
        """,
    )
    said = written(story, "csv", tmp_path / "entries.csv")
    assert "look: 1 line of it may name a withheld place: K2 note" in said
    for name, more in (
        ("all.zip", ()),
        ("entries.csv", ()),
        ("exact.csv", ("--exact-localities", "--yes")),
        ("record.zip", ()),
    ):
        written(story, "dwca" if name == "record.zip" else "csv", tmp_path / name, *more)
        text = everything(tmp_path / name)
        assert all(own not in text for own in ("47.6543", "8.3217", "0555")), name
    assert "the south sill" in everything(tmp_path / "entries.csv")


def test_a_slip_of_a_protected_name_is_to_be_mended_first(story: Story, tmp_path: Path) -> None:
    tell(
        story,
        f"""
        taxon 'Leptidea torfana' short=torfana protected
        K2 set up laying
        K2 founder W1, "torfanna" female {CAUGHT}
        """,
    )
    for line in ("", 'taxon "torfanna"', 'taxon "torfanna" instars=4'):
        tell(story, line)
        said = written(story, "dwca", tmp_path / "a.zip")
        assert "'torfanna' of W1 may be a slip for Leptidea torfana" in said
        assert 'if it is: W1 is torfana; if it is another: taxon "torfanna" protected=no' in said
        assert all(secret not in everything(tmp_path / "a.zip") for secret in SECRETS), line
    tell(story, 'taxon "torfanna" protected=no')
    assert "treated as protected" not in written(story, "csv", tmp_path / "a.zip")
    assert "44.1234" in everything(tmp_path / "a.zip")
    story.type("W1 is torfana")
    written(story, "csv", tmp_path / "b.zip")
    assert "44.1234" not in everything(tmp_path / "b.zip")


def test_a_slip_that_began_a_brood_is_told_with_its_brood(story: Story, tmp_path: Path) -> None:
    tell(
        story,
        """
        taxon 'Leptidea torfana' short=torfana protected
        R2 set up rearing
        R2 4 L2 "Leptidea torfanna"
        """,
    )
    (brood,) = story.desk.bench.broods
    said = written(story, "csv", tmp_path / "a.csv")
    assert f"of {brood} may be a slip for Leptidea torfana; if it is: cross out the line" in said


NAMED_ALL_OVER = """
taxon Melitaea celans protected
taxon Melitaea aperta
permit P-1 females=3 taxon='Melitaea celans' body='Fen Board'
K2 set up laying
K2 founder A-27-02, Melitaea celans female place='Secret Fen' caught='30 Apr' permit=P-1
K4 set up laying
K4 founder A-27-03, Melitaea aperta male place='Upper Road' caught='30 Apr'
K4 preserved A-27-03 voucher=V9
"""


@pytest.mark.parametrize(
    "line",
    [
        "Q2 3 larvae Melitaea celans place='Old Bank' found_on='Rumex at Secret Fen' on plantain",
        "shelf set up 'Secret Fen stock'",
        "K2 host in plantain source='Secret Fen bank'",
        "K2 host in 'plantain of Secret Fen'",
        "K2 died A-27-02 voucher=V1 depository='Secret Fen Museum'",
        "K2 preserved A-27-02 voucher=V1 determiner='Ann of Secret Fen'",
        "setting bench Secret Fen shed",
        "permit P-2 females=1 body='Secret Fen Trust'",
        "K5 set up laying lid='net of Secret Fen'",
    ],
)
def test_each_text_that_leaves_is_read_for_withheld_places(
    story: Story, tmp_path: Path, line: str
) -> None:
    tell(story, NAMED_ALL_OVER)
    story.type(line)
    story.reopen()
    told = 0
    for what, name, *more in (
        *(("csv", f"{table}.csv", "--table", table) for table in TABLE_NAMES),
        ("csv", "all.zip"),
        ("dwca", "record.zip"),
        ("occurrences", "flat.csv"),
        ("season", "season.md"),
        ("pins", "pins.html"),
        ("labels", "labels.html"),
        ("ics", "week.ics"),
    ):
        said = written(story, what, tmp_path / name, *more)
        if "secret fen" in everything(tmp_path / name).casefold():
            told += 1
            assert "may name a withheld place" in said, (name, said)
    assert told


@pytest.mark.parametrize("code", ["Torfstich-1", "torfst3"])
def test_a_code_that_names_the_place_is_warned_of_by_each_export_that_holds_it(
    story: Story, tmp_path: Path, code: str
) -> None:
    tell(
        story,
        f"""
        taxon "Zerynthia polyxena" protected
        permit P-1 females=3 taxon="Zerynthia polyxena"
        K3 set up laying
        K3 founder {code} female "Zerynthia polyxena" place="Torfstich" latitude=47.63519 longitude=12.98642 permit=P-1
        K3 host in Aristolochia
        K3 searched 4
        K3 died {code} voucher=V1
        K4 set up laying
        K4 founder W9 female "Pieris orata"
        K4 died W9 voucher=V2
        """,
    )
    (brood,) = (one for one in story.desk.bench.broods if one.startswith(code))
    for what, name, *about in (
        ("dwca", "record.zip"),
        ("occurrences", "flat.csv"),
        ("csv", "laying.csv", "--table", "laying"),
        ("csv", "all.zip"),
        ("permit", "permit.md"),
        ("note", "note.md"),
        ("season", "season.md"),
        ("pins", "pins.html"),
        ("labels", "labels.html"),
        ("ics", "week.ics"),
    ):
        path = tmp_path / name
        front = {"permit": ["P-1"], "note": [brood]}.get(what, [])
        ran = story.shell("export", what, *front, str(path), *about)
        assert ran.status == 0, (what, ran.err)
        if code.casefold() in everything(path).casefold():
            assert "may name a withheld place: K3 founder" in ran.out, (what, ran.out)
    assert "withheld place" not in written(story, "pins", tmp_path / "p.html", "--for", "W9")


def test_a_permit_whose_number_names_the_place_is_warned_of_like_a_code(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        """
        taxon "Zerynthia polyxena" protected
        permit Torfstich-2027 females=3 taxon="Zerynthia polyxena" expires=2027-09-30
        K3 set up laying
        K3 founder Z-1 female "Zerynthia polyxena" place="Torfstich" permit=Torfstich-2027
        K3 host in Aristolochia
        K3 searched 4
        K3 died Z-1 voucher=V1
        """,
    )
    (brood,) = story.desk.bench.broods
    held = 0
    for what, name, *more in (
        ("csv", "all.zip"),
        ("csv", "permits.csv", "--table", "permits"),
        ("dwca", "record.zip"),
        ("season", "season.md"),
        ("note", "note.md"),
        ("pins", "pins.html"),
        ("ics", "week.ics"),
    ):
        path = tmp_path / name
        ran = story.shell("export", what, *([brood] if what == "note" else []), str(path), *more)
        assert ran.status == 0, (what, ran.err)
        if "torfstich-2027" in everything(path).casefold():
            held += 1
            assert "may name a withheld place: permit" in ran.out, (what, ran.out)
    assert held >= 5
    asked = story.shell("export", "permit", "Torfstich-2027", str(tmp_path / "return.md"))
    assert (asked.status, "withheld place" in asked.out) == (0, False), asked.err


def test_the_note_of_a_brood_is_not_warned_of_for_lines_of_others(
    story: Story, tmp_path: Path
) -> None:
    tell(story, NAMED_ALL_OVER)
    story.type(
        "K2 host in plantain",
        "K2 searched 5",
        "R5 set up rearing",
        "R5 4 larvae Melitaea aperta place='Upper Road' on plantain",
        "R5 host in plantain source='Secret Fen bank'",
        "R5 preserved 1 larva voucher=V7 depository='Secret Fen Museum'",
    )
    mine, other = story.desk.bench.broods
    assert "free text" not in written(story, "note", tmp_path / "a.md", mine.lower())
    said = written(story, "note", tmp_path / "b.md", other)
    assert "2 lines of it may name a withheld place: R5 host in" in said


def test_pins_of_some_broods_are_not_warned_of_for_lines_of_others(
    story: Story, tmp_path: Path
) -> None:
    tell(story, NAMED_ALL_OVER)
    story.type(
        "R5 set up rearing",
        "R5 4 larvae Melitaea aperta place='Upper Road' on plantain",
        "R5 preserved 1 larva voucher=V7 depository='Secret Fen Museum'",
    )
    (other,) = story.desk.bench.broods
    said = written(story, "pins", tmp_path / "a.html", "--for", "a-27-03")
    assert "1 label" in said
    assert "free text" not in said
    assert "withheld place" not in said
    said = written(story, "pins", tmp_path / "b.html", "--for", "A-27-03", other)
    assert "1 line of it may name a withheld place: R5 preserved" in said


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("Maculinea sp.", "is none of your taxa, and leaves as protected"),
        ("Melitaea cf. orta", "may be Melitaea celans, and leaves as protected"),
        ("Colias hyale", "is none of your taxa, and leaves as protected, without its exact place"),
        ("Melitaea celans", ""),
        ("Pieris orata", ""),
    ],
)
def test_at_its_entry_it_is_said_that_a_catch_leaves_as_protected(
    story: Story, name: str, told: str
) -> None:
    tell(
        story,
        "taxon 'Melitaea celans' protected\ntaxon 'Pieris orata'\ntaxon 'Melitaea orta'\nK2 set up laying",
    )
    ran = story.shell("log", f"K2 founder W7 female '{name}'")
    assert ran.status == 0
    assert told in ran.err
    assert ("leaves as protected" in ran.err) is bool(told)
