"""An animal killed for the collection was not found dead; and who drank of those without a mark."""

from __future__ import annotations

import csv
import io

import pytest

from tests.stories.telling import Story, tell


@pytest.mark.parametrize(
    ("line", "right"),
    [
        (
            "W3 died voucher=V2 -- killed for the collection",
            "W3 preserved voucher=V2 -- killed for the collection",
        ),
        ("K3 died W3 killed for collection", "K3 preserved W3 -- killed for the collection"),
    ],
)
def test_it_is_a_specimen(four_females: Story, line: str, right: str) -> None:
    assert right in four_females.refused(line)
    four_females.type(right)
    (kept,) = (one for one in four_females.on_disk() if one.get("what") == "preserved")
    assert not kept.get("cause")


def test_killed_alone_is_asked_about(four_females: Story) -> None:
    assert "for the collection?" in four_females.refused("W1 killed")
    assert "found dead" not in "".join(four_females.type("W1 killed for the collection"))
    assert "injury" in "".join(four_females.type("W2 died killed"))


def test_the_guide_names_the_line(four_females: Story) -> None:
    told = four_females.shell("help", "record").out
    assert "K1 preserved W4 voucher=V3 -- killed for the collection" in told


@pytest.mark.parametrize("line", ["K3 drank W3 W4", "K3 drank W3, W4", "K3 drank W3 and W4"])
def test_several_that_drank_are_named_first(four_females: Story, line: str) -> None:
    assert "as: W3 W4 drank" in four_females.refused(line)
    assert four_females.type("W3 W4 drank") == ["K3 drank, W3; K3 drank, W4"]


def test_who_drank_of_the_unmarked(four_females: Story) -> None:
    assert "W3 W4 drank" in four_females.refused("K3 drank unmarked")
    four_females.type("W4 marked green")
    assert four_females.type("K3 drank unmarked") == ["K3 drank, W3"]
    four_females.type("W3 marked white")
    assert "none in K3 is unmarked" in four_females.refused("K3 refused unmarked")


KILLED = "killed for the collection"


def test_how_it_died_stands_with_the_specimen(story: Story) -> None:
    tell(
        story,
        """
        P2 set up pupation
        brood A-1/A taxon='Pieris orata'
        P2 stocked A-1/A pupa 9
        P2 emerged 9
        P2 preserved 2 males voucher=V1-V2 -- killed for the collection
        P2 preserved 1 male voucher=V3
        P2 died 1 male old age voucher=V4
        """,
    )
    story.reopen()
    told = {"V1": KILLED, "V2": KILLED, "V3": "", "V4": "found dead"}
    for words, number, died in (
        (("csv", "-", "--table", "specimens"), "catalogue number", "died"),
        (("occurrences", "-"), "catalogNumber", "occurrenceRemarks"),
    ):
        out = story.shell("export", *words).out.removeprefix("\ufeff")
        rows = csv.DictReader(io.StringIO(out))
        assert {row[number]: row[died] for row in rows if row[number]} == told
