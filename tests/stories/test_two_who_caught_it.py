"""Two collectors by their initials leave by their full names, parted as Darwin Core parts a list."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from rounds.views.settings import full_names_of
from tests.stories.telling import Story, tell

SETTINGS = {"names": "OQ Oda Quist, FN Freja Nyberg"}
FREJA, ODA = "Freja Nyberg", "Oda Quist"


@pytest.mark.parametrize(
    ("said", "persons"),
    [
        ("FN", [FREJA]),
        ("F.N.", [FREJA]),
        ("f. n.", [FREJA]),
        ("FN, OQ", [FREJA, ODA]),
        ("OQ & FN", [ODA, FREJA]),
        ("FN and OQ", [FREJA, ODA]),
        ("FN et OQ", [FREJA, ODA]),
        ("FN/OQ", [FREJA, ODA]),
        ("FN+OQ", [FREJA, ODA]),
        ("FN | OQ", [FREJA, ODA]),
        ("OQ; FN", [ODA, FREJA]),
        ("FN & T. Björk", [FREJA, "T. Björk"]),
        ("FN, T. Björk", [FREJA, "T. Björk"]),
        ("XY, ZW", ["XY", "ZW"]),
        ("Maas, Karin", ["Maas, Karin"]),
        ("Maas, Karin; FN", ["Maas, Karin", FREJA]),
        ("", []),
    ],
)
def test_each_person_is_named_in_full(said: str, persons: list[str]) -> None:
    assert full_names_of(SETTINGS, said) == persons


def test_names_leave_in_full_and_initials_with_a_word(story: Story, tmp_path: Path) -> None:
    tell(
        story,
        """setting names OQ Oda Quist, FN Freja Nyberg
        K2 set up laying
        K2 founder A-1, Pieris napi female collector="FN & OQ" permit=P-1
        K2 founder A-2, Pieris napi female collector="F.N., XY"
        K2 preserved A-1 voucher=M1""",
    )
    story.reopen()
    files = {name: tmp_path / name for name in ("o.csv", "f.csv", "n.html", "r.md")}
    ran = story.shell("export", "occurrences", str(files["o.csv"]))
    assert ran.status == 0, ran.err
    assert (
        "look: KM, XY leave as initials; a full name is said so: setting names OQ Oda Quist, FN"
        in ran.out
    )
    assert "Freja Nyberg, KM FULL NAME" in ran.out
    with files["o.csv"].open(encoding="utf-8-sig", newline="") as file:
        by = {row["organismName"]: row["recordedBy"] for row in csv.DictReader(file)}
    assert by["A-2"] == "Freja Nyberg | XY"
    story.shell("export", "csv", str(files["f.csv"]), "--table", "founders")
    with files["f.csv"].open(encoding="utf-8-sig", newline="") as file:
        assert [row["collector"] for row in csv.DictReader(file)] == [
            "Freja Nyberg | Oda Quist",
            "Freja Nyberg | XY",
        ]
    ran = story.shell("export", "pins", str(files["n.html"]))
    assert "leg. Freja Nyberg &amp; Oda Quist" in " ".join(files["n.html"].read_text().split()), (
        ran.err + ran.out
    )
