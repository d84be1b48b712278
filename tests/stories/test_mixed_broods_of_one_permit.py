"""Animals that may be of either of two broods count for the permit, the species and the season that both broods are of."""

from __future__ import annotations

import csv
import zipfile

import pytest

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


OF_TWO_PERMITS = """
taxon 'Colias myrmidone' short=myrmidone
permit P-31 females=1 eggs=15 taxon=myrmidone
permit P-32 females=1 eggs=15 taxon=myrmidone
1 Jun 15:00 K2 set up laying
1 Jun 16:00 K2 founder M3 myrmidone female permit=P-31
1 Jun 16:01 K2 founder M4 myrmidone female permit=P-32
1 Jun 16:05 K2 host in broom
3 Jun 18:00 K2 searched 12
10 Jun 08:00 K2 hatched 10
10 Jun 09:10 K2 moved 10 larvae to new R2
14 Jun 08:00 R2 released 4 larvae at Steinhang
15 Jun 08:00 R2 preserved 1 larva voucher=X2
"""


@pytest.mark.parametrize(("number", "other"), [("P-31", "P-32"), ("P-32", "P-31")])
def test_a_brood_of_mothers_of_two_permits_says_so_in_both_returns(
    story: Story, number: str, other: str
) -> None:
    story.at("2027-06-20 09:00")
    tell(story, OF_TWO_PERMITS)
    found = returned(story, number)
    (row,) = found["Reared from them"]
    assert (row["eggs found"], numbers(row)) == (
        "12",
        {"released": 4, "kept as specimens": 1, "alive now": 7},
    )
    marked = (row, *found["Released"], *found["Kept as specimens"])
    assert [one["may be of too"] for one in marked] == [other] * 3
    page = (story.folder.parent / "p.md").read_text()
    assert f"12 of the eggs taken may be of {other} too" in page
    assert f"4 of those released may be of {other} too" in page
    assert "M3+/A: of M3 (P-31) or M4 (P-32)" in page
    assert f"also in the return for {other}" in page


def test_a_brood_with_one_mother_of_no_permit_says_so(story: Story) -> None:
    story.at("2027-06-20 09:00")
    tell(story, OF_TWO_PERMITS.replace(" permit=P-32", ""))
    (row,) = returned(story, "P-31")["Reared from them"]
    assert row["may be of too"] == "no permit"
    page = (story.folder.parent / "p.md").read_text()
    assert "M3+/A: of M3 (P-31) or M4 (no permit)" in page
    assert "in the return for" not in page


def test_a_brood_of_mothers_of_one_permit_says_nothing_of_others(story: Story) -> None:
    story.at("2027-06-20 09:00")
    tell(story, OF_TWO_PERMITS.replace("P-32", "P-31").replace("females=1", "females=2"))
    found = returned(story, "P-31")
    assert "may be of too" not in found["Reared from them"][0]
    assert "may be of" not in (story.folder.parent / "p.md").read_text()


def test_released_of_either_of_two_broods_say_whose_they_may_be(story: Story) -> None:
    story.at("2027-06-20 09:00")
    tell(story, TWO_CUPS)
    story.type("R2 released 8 larvae not known at Ferny")
    (free,) = returned(story, "P-12")["Released"]
    assert (free["of"], free["may be of too"]) == ("W2/A or W3/A", "no permit")
