"""Animals that may be of either of two broods count for the permit, the species and the season that both broods are of."""

from __future__ import annotations

import csv
import zipfile

from tests.stories.telling import Story, tell
from tests.stories.test_a_permits_return_adds_up import numbers, returned
from tests.stories.test_leaving_season_plots_and_permit import tables_in

CUP = """
taxon 'Lycaena dispar' short=dispar family=Lycaenidae protected
permit P-12 females=3 eggs=60 eggs_kept=10 taxon=dispar
plant dock water 72h
1 Jun 08:00 K2 set up laying
1 Jun 08:05 K2 founder W2 dispar female permit=P-12
1 Jun 08:10 K2 host in dock
2 Jun 08:00 K2 searched 12 on dock
3 Jun 08:00 K2 founder W3 dispar female permit=P-12
4 Jun 08:00 K2 searched 8 on dock
11 Jun 08:00 K2 hatched 20 eggs brood not known
12 Jun 08:00 R2 set up rearing
12 Jun 08:10 K2 moved 20 larvae to R2
13 Jun 08:00 R2 died 2 larvae
"""
TWELVE_FREE = f"""{CUP}
14 Jun 08:00 R2 released 12 larvae at Ferny
15 Jun 08:00 R2 died 1 larva voucher=X-9
"""

TWO_CUPS = """
taxon 'Lycaena dispar' short=dispar family=Lycaenidae protected
permit P-12 females=3 eggs=60 eggs_kept=10 taxon=dispar
plant dock water 72h
1 Jun 08:00 K2 set up laying
1 Jun 08:05 K2 founder W2 dispar female permit=P-12
1 Jun 08:10 K2 host in dock
1 Jun 08:20 K3 set up laying
1 Jun 08:25 K3 founder W3 dispar female
1 Jun 08:30 K3 host in dock
2 Jun 08:00 K2 searched 12 on dock
2 Jun 08:05 K3 searched 8 on dock
11 Jun 08:00 K2 hatched 12 eggs
11 Jun 08:05 K3 hatched 8 eggs
12 Jun 08:00 R2 set up rearing
12 Jun 08:10 K2 moved 12 larvae to R2
12 Jun 08:15 K3 moved 8 larvae to R2
"""


def rows_of(story: Story, table: str) -> list[dict[str, str]]:
    """The rows of one table of ``export csv``, written anew."""
    file = story.folder.parent / "tables.zip"
    story.reopen()
    ran = story.shell("export", "csv", str(file), "--replace")
    assert ran.status == 0, ran.err
    with zipfile.ZipFile(file) as tables:
        return list(csv.DictReader(tables.read(f"{table}.csv").decode("utf-8-sig").splitlines()))


def test_those_released_of_either_brood_are_no_longer_kept(story: Story) -> None:
    story.at("2027-06-20 09:00")
    tell(story, TWELVE_FREE)
    found = returned(story, "P-12")
    (together,) = found["Reared from them"]
    assert (together["eggs found"], together["eggs and animals"]) == ("20", "20")
    assert numbers(together) == {"released": 12, "died": 3, "alive now": 5}
    page = (story.folder.parent / "p.md").read_text()
    assert "8 of 10 eggs kept" in page
    assert "PAST THE LIMIT" not in page
    assert "Eggs kept, 8, are the eggs taken less those released" in page
    (permit,) = rows_of(story, "permits")
    assert "PAST" not in " ".join(permit.values())


def test_of_one_without_the_permit_among_them_those_count_that_must_be_its(story: Story) -> None:
    story.at("2027-06-20 09:00")
    tell(story, TWO_CUPS)
    story.type("R2 released 8 larvae not known at Ferny")
    (own,) = returned(story, "P-12")["Reared from them"]
    assert (own["eggs and animals"], numbers(own)) == ("12", {"alive now": 4, "not known": 8})
    page = story.folder.parent / "p.md"
    assert "12 of 10 eggs kept, PAST THE LIMIT" in page.read_text()
    story.type("R2 released 4 larvae not known at Ferny")
    (own,) = returned(story, "P-12")["Reared from them"]
    assert numbers(own) == {"released": 4, "not known": 8}
    assert "8 of 10 eggs kept" in page.read_text()
    assert "4 of them released" in page.read_text()


def test_alive_now_of_the_species_is_exact_and_of_each_brood_at_least(story: Story) -> None:
    story.at("2027-06-20 09:00")
    tell(story, CUP.replace("hatched 20 eggs", "hatched 15 eggs").replace("moved 20", "moved 15"))
    story.type("R2 died 1 larva")
    story.reopen()
    page = story.folder.parent / "s.md"
    assert story.shell("export", "season", str(page), "--replace").status == 0
    tables = tables_in(page.read_text())
    (species,) = tables["In short"]
    broods = next(rows for name, rows in tables.items() if name.endswith("broods"))
    assert species["alive now"] == "17"
    assert {one["brood"]: (one["came"], one["alive now"]) for one in broods} == {
        "W2/A": ("12", "0"),
        "W2+/A": ("8", "0"),
        "W2+/A or W2/A": ("0", "17"),
    }
    rows = rows_of(story, "broods")
    for row in rows:
        parts = (
            "died",
            "left the bench alive",
            "kept as specimens",
            "alive",
            "not seen",
            "fate not known",
            "not known which",
        )
        assert int(row["came"]) == sum(int(row[part]) for part in parts), row
        assert row["alive, of it or of another brood"] == "17"
