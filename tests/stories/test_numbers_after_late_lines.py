"""What is added up is the same, whether a line was typed in order or late, or the one before it is crossed out."""

from __future__ import annotations

import csv
import io

import pytest

from rounds.entries.arrivals import BroodBegun
from tests.stories.telling import Story

CAUGHT = "28 Apr 08:00 K2 1 female Melitaea athalia on plantain"
CHANGED = ("30 Apr 07:00 K2 host out plantain", "30 Apr 07:01 K2 host in speedwell")
FIRST, SECOND = "29 Apr 08:00 K2 searched 10", "1 May 07:00 K2 searched 3"


def table(story: Story, name: str) -> list[dict[str, str]]:
    """A table of 'rounds export csv', without the ids of lines."""
    ran = story.shell("export", "csv", "-", "--table", name)
    rows = csv.DictReader(io.StringIO(ran.out.lstrip("\ufeff").partition("\n\n")[0]))
    return [{head: cell for head, cell in row.items() if head != "line"} for row in rows]


def numbers(story: Story) -> list[list[dict[str, str]]]:
    return [table(story, name) for name in ("laying", "laying-days", "broods", "searches")]


@pytest.mark.parametrize("changed", [(), CHANGED])
@pytest.mark.parametrize("named", ["", " brood MEL-27-01/A"])
def test_a_find_typed_late_counts_in_every_rate(
    story: Story, changed: tuple[str, ...], named: str
) -> None:
    """Also where it comes before the find that began its brood."""
    in_order = story.elsewhere()
    in_order.type(CAUGHT, FIRST, *changed, SECOND)
    story.type(CAUGHT, *changed, SECOND, FIRST + named)
    assert numbers(story) == numbers(in_order)
    assert sum(int(row["eggs"]) for row in table(story, "laying")) == 13
    assert table(story, "broods")[0]["laid from"][:10] == "2027-04-28"
    story.reopen()
    assert numbers(story) == numbers(in_order)


def test_eggs_stay_hers_where_the_line_of_their_brood_is_crossed_out(story: Story) -> None:
    story.type(CAUGHT, FIRST, SECOND)
    before = numbers(story)
    begun = next(line for line in story.desk.entries() if isinstance(line, BroodBegun))
    story.desk.strike(begun.id)
    assert numbers(story) == before
