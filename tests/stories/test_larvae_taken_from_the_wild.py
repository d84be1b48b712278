"""Eggs and larvae brought home from the wild: where, when and by whom they were taken, and on which
plant they sat, is told in the echo and leaves with each specimen of them."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell

SPECIES = "Pieris napi"


@pytest.fixture
def keeper(story: Story) -> Story:
    story.at("2027-05-09 09:00")
    story.type("setting country France", f"taxon {SPECIES}")
    return story


def table(story: Story, name: str, folder: Path) -> list[dict[str, str]]:
    file = folder / f"{name}.csv"
    assert story.shell("export", "csv", str(file), "--table", name).status == 0
    with file.open(encoding="utf-8-sig") as rows:
        return list(csv.DictReader(rows))


def pin(story: Story, folder: Path) -> str:
    file = folder / "pins.html"
    assert story.shell("export", "pins", str(file)).status == 0
    return file.read_text(encoding="utf-8")


def test_the_place_of_larvae_is_on_their_pin_and_in_the_tables(
    keeper: Story, tmp_path: Path
) -> None:
    (told,) = keeper.type(f"Q2 6 larvae {SPECIES} at Quarry Lane caught 8 May 15:00")
    assert "Quarry Lane, caught Sat 15:00" in told
    keeper.type("Q2 died 1 larva cause=parasitised voucher=V11")
    words = pin(keeper, tmp_path)
    assert all(said in words for said in ("France", "Quarry Lane", "caught 8 v 2027"))
    assert "not recorded" not in words
    for name in ("broods", "specimens"):
        (row,) = table(keeper, name, tmp_path)
        assert (row["origin"], row["caught"][:10]) == ("Quarry Lane", "2027-05-08")
    (catch, specimen) = table_of_occurrences(keeper, tmp_path)
    assert (catch["locality"], catch["individualCount"]) == ("Quarry Lane", "6")
    assert (specimen["locality"], specimen["catalogNumber"]) == ("Quarry Lane", "V11")
    assert specimen["eventDate"].startswith("2027-05-08")


def table_of_occurrences(story: Story, folder: Path) -> list[dict[str, str]]:
    file = folder / "occurrences.csv"
    assert story.shell("export", "occurrences", str(file)).status == 0
    with file.open(encoding="utf-8-sig") as rows:
        return list(csv.DictReader(rows))


def test_coordinates_and_collector_of_larvae(keeper: Story, tmp_path: Path) -> None:
    (told,) = keeper.type(
        f"Q4 6 wild larvae {SPECIES} at Fonds Noirs 46.5531 6.0712, 1240 m, collector FN"
    )
    assert "Fonds Noirs, 1240 m, 46.5531 6.0712, by FN" in told
    keeper.type("Q4 preserved 1 larva voucher=V1")
    words = pin(keeper, tmp_path)
    assert "46.5531 N 6.0712 E" in words
    assert "leg. FN" in words


def test_the_plant_on_which_they_were_found_is_evidence_of_the_wild(
    keeper: Story, tmp_path: Path
) -> None:
    keeper.type(f"Q6 12 larvae {SPECIES} found on garlic mustard at Mill ditch")
    keeper.type("Q6 preserved 1 larva voucher=V1")
    assert "larva found on" in pin(keeper, tmp_path)


def test_a_plant_they_were_beaten_from_is_no_place(keeper: Story) -> None:
    keeper.type(f"Q6 5 L3 {SPECIES} beaten from hedge mustard at Quarry Lane yesterday")
    stocked = keeper.on_disk()[-1]
    assert (stocked["place"], stocked["found_on"]) == ("Quarry Lane", "hedge mustard")


def test_places_of_protected_larvae_are_withheld(keeper: Story, tmp_path: Path) -> None:
    keeper.type(f"taxon {SPECIES} protected")
    keeper.type(f"Q4 6 wild larvae {SPECIES} at Fonds Noirs 46.5531 6.0712 caught 8 May")
    keeper.type("Q4 preserved 1 larva voucher=V1")
    out = pin(keeper, tmp_path)
    out += str([table(keeper, name, tmp_path) for name in ("broods", "specimens", "entries")])
    out += str(table_of_occurrences(keeper, tmp_path))
    assert "Fonds" not in out
    assert "46.5531" not in out


def test_stock_of_others_is_no_catch(keeper: Story, tmp_path: Path) -> None:
    (told,) = keeper.type(f"Q5 6 larvae {SPECIES} from the stock of AB")
    assert "from the stock of AB" in told
    keeper.type("Q5 preserved 1 larva voucher=V1")
    assert "stock from the stock of AB" in " ".join(pin(keeper, tmp_path).split())
    (row,) = table(keeper, "broods", tmp_path)
    assert (row["origin"], row["caught"]) == ("the stock of AB", "")


def test_wild_ones_without_a_place_are_from_the_wild(keeper: Story) -> None:
    (told,) = keeper.type(f"Q5 6 wild larvae {SPECIES}")
    assert "from the wild" in told


def test_a_catch_crossed_out_is_told_no_more(keeper: Story, tmp_path: Path) -> None:
    keeper.type(f"Q5 6 larvae {SPECIES} at Quarry Lane", "undo", f"Q5 6 larvae {SPECIES} at Ried")
    (row,) = table(keeper, "broods", tmp_path)
    assert row["origin"] == "Ried"


def test_a_catch_of_young_ones_is_in_the_season_and_the_table_of_founders(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        """
        permit P-9 eggs=50
        Q2 set up rearing
        Q2 4 larvae 'Melitaea aperta' place='Heron Fen' latitude=52.64 longitude=1.51 collector=KM permit=P-9 on nettle
        Q3 set up rearing
        Q3 12 eggs 'Melitaea aperta' place='Reed Road' found_on=nettle
        """,
    )
    story.reopen()
    season = story.shell("export", "season", "-", "--as", "md")
    row = next(one for one in season.out.splitlines() if one.startswith("| Melitaea aperta"))
    assert row.split("|")[2].strip() == "16", row
    larvae, eggs = table(story, "founders", tmp_path)
    names = ("place", "latitude (degrees)", "collector", "permit", "stage", "number", "found on")
    assert [larvae[one] for one in names] == ["Heron Fen", "52.64", "KM", "P-9", "larva", "4", ""]
    assert [eggs[one] for one in names] == ["Reed Road", "", "", "", "egg", "12", "nettle"]
    assert larvae["founder"] != eggs["founder"]
