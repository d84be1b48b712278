"""Whose animals a line took is one fact: tables, labels, archive and the permit's return agree on it."""

from __future__ import annotations

import csv
import zipfile
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_pins_and_permits import rows_of
from tests.stories.test_leaving_season_plots_and_permit import exported, tables_in


def table(story: Story, folder: Path, name: str) -> list[dict[str, str]]:
    """A table of 'rounds export csv'."""
    story.reopen()
    ran = story.shell("export", "csv", str(folder / "t.zip"))
    assert ran.status == 0, ran.err
    with zipfile.ZipFile(folder / "t.zip") as tables:
        (found,) = [one for one in tables.namelist() if one.endswith(f"{name}.csv")]
        return list(csv.DictReader(tables.read(found).decode("utf-8-sig").splitlines()))


def emerged_of_two_sexes(story: Story) -> None:
    tell(story, "taxon 'Saturnia montis' instars=5\nP6 5 pupae Saturnia montis")
    story.later(days=5)
    tell(story, "P6 emerged 3 female\nP6 emerged 2 male")
    story.later(days=1)


def test_one_kept_after_one_died_not_known_which_is_of_its_brood(
    story: Story, tmp_path: Path
) -> None:
    emerged_of_two_sexes(story)
    tell(story, "P6 died 1 not known")
    story.later(hours=1)
    tell(story, "P6 preserved 1 female voucher=SM-1\nP6 released 1 male")
    (brood,) = story.desk.bench.broods
    (kept,) = table(story, tmp_path, "specimens")
    assert (kept["taxon"], kept["brood"], kept["sex"]) == ("Saturnia montis", brood, "female")
    assert (kept["reared"], kept["emerged from"][:10]) == ("ex pupa", "2027-05-06")
    rows = [row for row in rows_of(story, tmp_path) if row["lifeStage"] == "adult"]
    assert {(row["organismName"], row["scientificName"]) for row in rows} == {
        (brood, "Saturnia montis")
    }
    assert len(rows) == 4
    assert story.shell("export", "pins", str(tmp_path / "p.html")).status == 0
    label = (tmp_path / "p.html").read_text()
    assert "Saturnia montis" in label
    assert f"{brood} female" in label.replace("\n", " ")
    assert "em. 6 v 2027" in label


@pytest.mark.parametrize("unknown", ["died 1 not known", "released 3 not known"])
def test_those_released_afterwards_are_of_their_brood(
    story: Story, tmp_path: Path, unknown: str
) -> None:
    emerged_of_two_sexes(story)
    tell(story, f"P6 {unknown}\nP6 released 1 male")
    (brood,) = story.desk.bench.broods
    freed = [row for row in rows_of(story, tmp_path) if row["degreeOfEstablishment"] == "released"]
    assert {row["organismName"] for row in freed} == {brood}
    assert {row["scientificName"] for row in freed} == {"Saturnia montis"}


def under_a_permit(story: Story) -> None:
    tell(
        story,
        """
        taxon 'Melitaea celans' protected=yes
        permit P-12 body='County office' females=3 expires=2027-09-30
        K2 set up laying
        K2 founder W-1, 'Melitaea celans' female caught=2026-05-18 permit=P-12
        K2 host in veronica leaf water
        """,
    )
    story.later(days=1)
    tell(story, "K2 searched 9\nR2 set up rearing\nK2 moved 9 eggs to R2")
    story.later(days=9)
    tell(story, "R2 hatched 9")


def test_a_return_tells_specimens_found_dead_from_those_taken_alive(
    story: Story, tmp_path: Path
) -> None:
    under_a_permit(story)
    tell(story, "R2 found dead 5 larvae voucher=V10-V14\nR2 preserved 1 larva voucher=V20")
    story.reopen()
    exported(story, "permit", "p-12", str(tmp_path / "p.md"))
    text = (tmp_path / "p.md").read_text()
    found = tables_in(text)
    (brood,) = found["Reared from them"]
    assert (brood["died"], brood["kept as specimens"]) == ("5", "1")
    how = [row["found dead or killed"] for row in found["Kept as specimens"]]
    assert how == ["found dead"] * 5 + ["neither was said"]
    assert "5 of these were found dead: above they count as died" in text


def test_a_return_has_parasitoids_apart_from_the_permits_animals(
    story: Story, tmp_path: Path
) -> None:
    under_a_permit(story)
    tell(
        story,
        "R2 parasitoid 2 'Cotesia fulva' stage=larva voucher=V5.1-V5.2\nR2 died 1 parasitised",
    )
    story.reopen()
    exported(story, "permit", "p-12", str(tmp_path / "p.md"))
    text = (tmp_path / "p.md").read_text()
    found = tables_in(text)
    assert "Kept as specimens" not in found
    wasps = found["Parasitoids kept, of another species"]
    assert {row["parasitoid"] for row in wasps} == {"Cotesia fulva"}
    assert {row["out of"] for row in wasps} == {"larva of W-1/A"}


def test_wild_females_let_go_or_kept_together_leave_as_wild(story: Story, tmp_path: Path) -> None:
    tell(story, "K2 set up laying\nK2 3 females Boloria dia on violet")
    story.later(days=2)
    tell(story, "K2 preserved 2 not known voucher=V-1\nK2 released 1")
    rows = rows_of(story, tmp_path)
    assert not [row for row in rows if "reared" in row["eventRemarks"]]
    kept = [row for row in rows if row["catalogNumber"].startswith("V-1")]
    assert len(kept) == 2
    assert {row["degreeOfEstablishment"] for row in kept} == {""}
    assert {row["locality"] for row in kept} == {""}
    assert all(row["verbatimEventDate"].startswith("not said; on or before") for row in kept)
