"""A line about what is to come, typed as it is shown, is taken for the same."""

from __future__ import annotations

from typing import Any

import pytest

from tests.stories.telling import Story, tell

BENCH = """
E3 set up eggs
brood A-1/A taxon='Melitaea celans'
E3 stocked 6 eggs A-1/A
R2 set up rearing
R2 stocked A-1/A pupa 4
R4 set up rearing
R4 stocked 5 L3 A-1/A
K2 set up laying
permit P-12 females=3
K2 founder W-1, 'Melitaea celans' female permit=P-12
"""
COMING = (
    "E3 expected hatch on 8 Jun",
    "E3 expected hatch on 8 May until 9 Jun",
    "E3 expected hatch on Tuesday until Thursday",
    "E3 expected hatch on 28 Dec until 3 Jan",
    'E3 expected hatch on 8 Jun brood=A-1/A why="cold nights, as last year"',
    'R2 expected emergence from 8 Jun why="they colour, died none"',
    "R4 expected moult on Monday",
    "R4 expected pupation on 8 Jun until 10 Jun brood=A-1/A",
    "K2 release by 8 Jun",
    "K2 release by Tuesday 18:00",
    "W-1 release by 8 Jun permit=P-12",
    "K2 release by 3 Jan W-1 permit=P-12",
    "R4 do not disturb until 3 May 18:40 moulting",
    "R4 do not disturb until +24h",
    "E3 put off look until +10h why='too dark, no lamp'",
    "K2 put off 'no eggs?' until +2d why='wait another day'",
    "K2 put off search until 20 May why='eggs on order'",
    "put off solution until +11h why='smelled, still sweet'",
    "put off room until +11h why=broken",
    "permit P-12 until 8 Oct",
    "permit P-12 expires 2028-03-31",
)


def newest(story: Story) -> dict[str, Any]:
    """The line written last, without what tells it from one that says the same: of what it says the
    names, not the lines that had said it before."""
    line = story.on_disk()[-1]
    said = {"says": [name for name, _ in line["says"]]} if "says" in line else {}
    return {name: value for name, value in line.items() if name not in ("id", "logged")} | said


@pytest.mark.parametrize("line", COMING)
def test_its_echo_typed_again_gives_the_same_entry(story: Story, line: str) -> None:
    tell(story, BENCH)
    (shown,) = story.type(line)
    first = newest(story)
    story.type(shown)
    assert newest(story) == first, shown


@pytest.mark.parametrize(
    ("line", "first", "last"),
    [
        ("E3 hatch expected 8 Jun", "2027-06-08", None),
        ("E3 hatch expected Tue until Thu", "2027-05-04", "2027-05-06"),
        ("E3 hatch expected Tue to Thu", "2027-05-04", "2027-05-06"),
        ("E3 hatch expected from 5 Jun to 8 Jun", "2027-06-05", "2027-06-08"),
    ],
)
def test_a_change_before_its_verb(story: Story, line: str, first: str, last: str | None) -> None:
    tell(story, BENCH)
    story.type(line)
    entry = newest(story)
    assert (entry["begins"][:10], entry.get("until", "None")[:10]) == (first, str(last))


@pytest.mark.parametrize(
    "line", ["K2 release until 8 Jun", "K2 release by 8 Jun", "W-1 release until 8 Jun"]
)
def test_release_until_is_release_by(story: Story, line: str) -> None:
    tell(story, BENCH)
    story.type(line)
    assert (newest(story)["what"], newest(story)["until"][:10]) == ("release by", "2027-06-08")


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("K2 light dark until 20 May", "light"),
        ("K2 drank until 20 May", "drank"),
        ("R4 covered until Tuesday", "covered"),
    ],
)
def test_until_where_nothing_ends_is_asked_about(story: Story, line: str, what: str) -> None:
    tell(story, BENCH)
    assert f"'{what}' has no end" in story.refused(line)


@pytest.mark.parametrize(
    ("line", "right"),
    [
        ("R4 fed 6", "R4 host in bramble 3 stems"),
        ("R4 fed 6 bramble", "R4 host in bramble"),
    ],
)
def test_larvae_that_were_fed_got_of_the_plant_that_stands_there(
    story: Story, line: str, right: str
) -> None:
    story.type("R4 12 L3 'Araschnia levana' on bramble", "R4 host in sloe")
    assert f"what was put in? As: {right}" in story.refused(line)
