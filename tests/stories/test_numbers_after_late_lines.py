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


@pytest.mark.parametrize("last", ["30 Apr 08:00 K2 searched 0", "1 May 06:00 K2 searched 2"])
def test_each_search_counts_though_she_has_left(story: Story, last: str) -> None:
    story.type(CAUGHT, FIRST, "30 Apr 06:00 K2 died 1 female", "30 Apr 07:00 K2 searched 0", last)
    assert [row["searches"] for row in table(story, "laying")] == ["3"]
    days = [row for row in table(story, "laying-days") if row["searches"] != "0"]
    assert [(row["day"], row["searches"]) for row in days] == [
        ("2027-04-29", "1"),
        ("2027-04-30", "2"),
    ]
    assert len(table(story, "searches")) == 3


def test_those_that_died_are_of_the_older_and_younger_evenly(story: Story) -> None:
    """As the bench takes them. By hand: of 30 and 20 eggs 4 died, 2 of each; laid in the middle of
    14 Apr 18:00 to 15 Apr 18:00 and of 15 Apr 18:00 to 22 Apr 18:00 they took 15 d 2 h and
    11 d 2 h: (28 x 15.0833 + 18 x 11.0833) / 46 = 13.5181."""
    story.type(
        "14 Apr 18:00 K2 1 female Lycia hirtaria on birch",
        "15 Apr 18:00 K2 searched 30",
        "22 Apr 18:00 K2 searched 20",
        "22 Apr 18:30 K2 moved 50 eggs to new E2",
        "30 Apr 08:00 E2 hatched 46",
        "25 Apr 20:00 E2 died 4 eggs",
    )
    (row,) = table(story, "durations")
    assert (row["number"], row["mean (days)"][:7]) == ("46", "13.5181")
    (lot,) = story.desk.bench_of(story.desk.bench.at("E2").last["died"].at).at("E2").lots
    assert [begun.number for begun in lot.began] == [28, 18]
