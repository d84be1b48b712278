"""Of several females in a cup one is marked: the mark names her, 'unmarked' names the others."""

from __future__ import annotations

import json

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def cup(story: Story) -> Story:
    """Three females in a cup, one of them with a red dot."""
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 "Callophrys montana" mark=red
        K2 founder W3 "Callophrys montana"
        K2 founder W4 "Callophrys montana"
        K2 host in Vaccinium 3 sprigs
        """,
    )
    return story.later(days=1)


@pytest.mark.parametrize(
    "line", ["K2 red died", "red died", "K2 died 1 red", "K2 died 1 brood=red", "died red"]
)
def test_the_mark_names_her(cup: Story, line: str) -> None:
    assert "W2" in cup.type(line)[0]
    assert sorted(lot.brood for lot in cup.desk.bench.containers["K2"].lots) == ["W3", "W4"]


def test_a_mark_is_said_later_and_lost_again(cup: Story) -> None:
    cup.type("K2 marked W3 blue")
    assert "W3" in cup.type("blue drank")[0]
    cup.type("K2 W3 marked none", "K2 marked W4 blue")
    assert "W4" in cup.type("blue drank")[0]


def test_one_of_the_unmarked_died(cup: Story) -> None:
    cup.type("K2 died 1 unmarked")
    lots = cup.desk.bench.containers["K2"].lots
    assert {(lot.brood, lot.number) for lot in lots} == {("W2", 1), ("W3 or W4", 1)}


def test_the_only_unmarked_one_is_known(cup: Story) -> None:
    cup.type("K2 marked W3 blue", "K2 died 1 unmarked")
    assert sorted(lot.brood for lot in cup.desk.bench.containers["K2"].lots) == ["W2", "W3"]


@pytest.mark.parametrize(
    ("line", "mothers"), [("K2 searched 5 red", ("W2",)), ("K2 searched 5 unmarked", ("W3", "W4"))]
)
def test_eggs_of_the_marked_one_and_of_the_others(
    cup: Story, line: str, mothers: tuple[str, ...]
) -> None:
    cup.type(line)
    (brood,) = cup.desk.bench.broods.values()
    assert brood.mothers == mothers


def test_what_is_asked_says_who_is_marked(cup: Story) -> None:
    assert (
        "K2 holds 3 adults (W2 is marked red, the others not); say which: brood=W2"
        in cup.refused("K2 died 1")
    )


async def test_the_card_says_it(cup: Story) -> None:
    async with cup.screens((120, 60)) as screen:
        screen.highlight("K2")
        await screen.pilot.pause()
        assert "Callophrys montana, marked red" in screen.text


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("K2 marked W3 red", "red is the mark of W2; give another"),
        ("K2 marked W3 W4", "'W4' means something else in a line"),
        ("K2 marked W3 male", "'male' means something else in a line"),
        ("K2 marked W3 mark='red dot'", "'red dot' cannot be a mark; give one word"),
        ("K2 marked W9 green", "no founder is called W9"),
    ],
)
def test_what_cannot_be_a_mark(cup: Story, line: str, why: str) -> None:
    assert why in cup.refused(line)


def test_a_plant_may_have_the_word_of_a_mark_in_its_name(cup: Story) -> None:
    cup.type("K2 host in red clover 3 sprigs")
    assert [host.plant for host in cup.desk.bench.containers["K2"].hosts] == [
        "Vaccinium",
        "red clover",
    ]


@pytest.mark.parametrize(
    ("mark", "line", "told"),
    [
        ("7", "L1 7 eggs", "found 7"),
        ("2", "L1 2 drank", "L1 drank: number 2"),
        ("drank", "L1 drank", "L1 drank"),
    ],
)
def test_a_mark_of_a_book_of_others_that_is_no_word_names_nobody(
    story: Story, mark: str, line: str, told: str
) -> None:
    """A line that came in from another book may have a mark which would be refused here."""
    story.type("L1 set up laying", "L1 founder W2 Boloria dia female")
    story.type("L1 founder W3 Boloria dia female")
    at = story.on_disk()[-1]["at"]
    theirs = {"what": "marked", "id": "zz", "container": "L1", "brood": "W2", "mark": mark}
    (story.folder / "entries-foreign1-2027-05.jsonl").write_text(
        json.dumps(theirs | {"at": at, "logged": at}) + "\n"
    )
    story.reopen()
    assert story.desk.bench.marks == {"W2": mark}
    assert told in story.preview(line)
