"""A protected species named inside a longer name, or not told apart from another, leaves without its exact place; and is told."""

from __future__ import annotations

from pathlib import Path

import pytest
from dwca.read import DwCAReader

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_protected import DWC, as_stored, everything, written

SECRETS = ("lower terrace", "44.1234", "121.5678")
NAMED = ["{} (or {})", "{} x {}", "{} \N{MULTIPLICATION SIGN} {}", "{} X Melitaea {}", "{} & {}", "{} and {}", "{} - {}", "{} oder {}",
         "{} ou {}", "{} vel {}", "{} nr {}", "{} maybe {}", "{} aff. {}", "{}/{}", "{} +{}", "{} {}", "{} cf. {}"]  # fmt: skip
OPEN = ["Melitaea rubida agg.", "Melitaea rubida complex", "Melitaea rubida s.l.", "M. rubida agg.", "Melitaea rubida-Komplex",
        "Melitaea rubida sensu lato", "Melitaea cf. rubida", "Melitaea rubida ?", "rubida group", "Melitaea rubida cf."]  # fmt: skip


def put_in(story: Story, typed: str) -> None:
    """A female under this name, where ``celans`` is protected and ``rubida`` is not."""
    tell(
        story,
        "taxon 'Melitaea celans' protected\ntaxon 'Melitaea rubida'\ntaxon 'Pieris orata'\nK2 set up laying",
    )
    as_stored(story, typed)


def founder_of(story: Story, tmp_path: Path) -> tuple[dict[str, str], str]:
    """Her row of the archive, and what the export said."""
    said = written(story, "dwca", tmp_path / "record.zip")
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        return next(iter(archive)).data, said


@pytest.mark.parametrize("typed", [*(one.format("Melitaea rubida", "celans") for one in NAMED), *(one.format("M. rubida", "celans") for one in NAMED[:3])])  # fmt: skip
def test_a_name_that_holds_a_protected_one_is_protected(
    story: Story, tmp_path: Path, typed: str
) -> None:
    put_in(story, typed)
    row, said = founder_of(story, tmp_path)
    written(story, "csv", tmp_path / "entries.csv")
    for name in ("record.zip", "entries.csv"):
        assert all(secret not in everything(tmp_path / name) for secret in SECRETS), (name, typed)
    assert "withheld" in row[DWC + "informationWithheld"]
    assert (
        f"treated as protected: '{typed}' may be Melitaea celans" in said
        or "none of your taxa" in said
    )
    assert row[DWC + "scientificName"] == "Melitaea"
    assert row[DWC + "verbatimIdentification"] == typed


@pytest.mark.parametrize("typed", OPEN)
def test_an_open_name_of_a_genus_with_a_protected_species_is_protected(
    story: Story, tmp_path: Path, typed: str
) -> None:
    put_in(story, typed)
    row, said = founder_of(story, tmp_path)
    assert all(secret not in everything(tmp_path / "record.zip") for secret in SECRETS), typed
    assert f"'{typed}' may be Melitaea celans" in said
    assert row[DWC + "scientificName"] == "Melitaea"
    assert row[DWC + "identificationQualifier"] == (
        "cf. rubida" if "cf. " in typed else "cf." if "cf" in typed else ""
    )


@pytest.mark.parametrize(
    "typed",
    ["Melitaea rubida", "rubida", "M. rubida", "Melitaea rubida (Imhof, 1981)", "Melitaea rubida Imhof & Orr, 1981",
     "Melitaea rubida orta", "Melitaea rubida ssp. orta", "Melitaea rubida (de Orr in Imhof & Orr, 1981)", "Pieris orata agg.",
     "Pieris cf. orata"],
)  # fmt: skip
def test_a_name_that_is_certain_keeps_its_place(story: Story, tmp_path: Path, typed: str) -> None:
    put_in(story, typed)
    row, said = founder_of(story, tmp_path)
    assert "44.1234" in row[DWC + "decimalLatitude"]
    assert "treated as protected" not in said


def test_a_brood_of_one_of_two_mothers_names_the_place_of_neither(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        """
        taxon 'Melitaea celans' protected
        taxon 'Melitaea rubida'
        plant sorrel kept=water hours=48
        K2 set up laying
        K2 founder W2 'Melitaea rubida' female place='Bank Aster' latitude=44.9876 longitude=-121.5
        K2 founder W3 'Melitaea celans' female place='Lower terrace' latitude=44.1234 longitude=-121.5678
        K2 host in sorrel batch=B leaf water
        """,
    )
    story.later(days=1)
    tell(story, "K2 searched 6 not known\nR2 set up rearing\nK2 moved 6 eggs to R2")
    story.later(days=6).type("R2 hatched 6")
    story.later(days=30)
    tell(story, "R2 pupated 6")
    story.later(days=12)
    tell(story, "R2 emerged 6")
    brood = next(iter(story.desk.bench.broods))
    tell(story, f"R2 preserved 1 adult brood='{brood}' voucher=V-1")
    story.reopen()
    written(story, "dwca", tmp_path / "record.zip")
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        rows = [row.data for row in archive]
    reared = [row for row in rows if row[DWC + "organismName"] == brood]
    assert len(reared) >= 4
    for row in reared:
        assert row[DWC + "locationRemarks"] == ""
        assert row[DWC + "dataGeneralizations"] == "places of origin left out"
    assert [row[DWC + "locality"] for row in rows if row[DWC + "organismName"] == "W2"] == [
        "Bank Aster"
    ]
    for what, name, more in (("note", "note.md", (brood,)), ("pins", "pins.html", ())):
        written(story, what, tmp_path / name, *more)
        assert "Bank Aster" not in everything(tmp_path / name), name
        assert "44.9876" not in everything(tmp_path / name), name


@pytest.mark.parametrize("typed", ["?", "sp.", "spp", "??"])
def test_what_was_not_determined_stays_so_where_all_taxa_are_of_one_genus(
    story: Story, tmp_path: Path, typed: str
) -> None:
    tell(
        story,
        "taxon 'Melitaea celans' protected family=Nymphalidae\ntaxon 'Melitaea rubida' family=Nymphalidae\nK2 set up laying",
    )
    as_stored(story, typed)
    row, said = founder_of(story, tmp_path)
    assert row[DWC + "scientificName"] == "Lepidoptera"
    assert row[DWC + "family"] == ""
    assert row[DWC + "verbatimIdentification"] == typed
    assert all(secret not in everything(tmp_path / "record.zip") for secret in SECRETS), (
        "it may be the protected one"
    )
    assert "treated as protected" in said
