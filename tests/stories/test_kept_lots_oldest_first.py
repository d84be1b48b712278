"""Stems said by number go from the oldest kept lot first, and the line says which; what is discarded may be typed as it is called."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def lots(story: Story) -> Story:
    """K3 with two kept lots of four stems each, S8 with stems that nothing was laid on."""
    four = "host in garlic mustard 4 stems"
    story.at("2027-05-15 07:05").type("K3 2 females Pieris napi", f"K3 {four}")
    for day in ("17", "19"):
        story.at(f"2027-05-{day} 07:05").type("K3 host out kept in K3", f"K3 {four}")
    story.type("S8 set up host store shelf=cold", f"S8 {four}")
    return story.at("2027-05-21 07:05")


def _held(story: Story, code: str) -> list[tuple[int, int | None]]:
    place = story.desk.bench.at(code)
    assert place is not None
    return [(held.number, held.sprigs) for held in place.held]


def test_the_line_says_how_many_of_each(lots: Story) -> None:
    echo = lots.type("K3 moved 5 stems to new S2")[0]
    assert "oldest first: lot 1, garlic mustard A from K3, 4 stems; lot 2" in echo
    assert "1 of 4 stems" in echo
    assert (_held(lots, "K3"), _held(lots, "S2")) == ([(2, 3)], [(1, 4), (2, 1)])


def test_a_lot_that_gives_none_is_not_named(lots: Story) -> None:
    echo = lots.type("K3 moved 3 stems to new S2")[0]
    assert "lot 2" not in echo
    assert (_held(lots, "K3"), _held(lots, "S2")) == ([(1, 1), (2, 4)], [(1, 3)])


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ("K3 discard lot 1 sure", [2]),
        ("K3 discard lot=2 sure", [1]),
        ("K3 discarded lot=2 sure", [1]),
        ("K3 discard kept stems sure", []),
    ],
)
def test_discard_is_typed_as_it_is_called(lots: Story, line: str, left: list[int]) -> None:
    assert "may still bear eggs" in lots.refused(line.removesuffix(" sure"))
    lots.type(line)
    assert [number for number, _ in _held(lots, "K3")] == left


def test_stems_in_a_store_are_discarded_by_the_word_alone(lots: Story) -> None:
    lots.type("S8 discard")
    store = lots.desk.bench.at("S8")
    assert store is not None
    assert not store.hosts


@pytest.mark.parametrize(
    "said", ["12 eggs", "2 dead eggs", "dead larvae", "frass", "pupa", "1 female"]
)
def test_animals_are_not_discarded_as_stems(lots: Story, said: str) -> None:
    lots.type("E3 12 eggs Pieris napi", "E3 host in garlic mustard 4 stems")
    assert "host out" not in lots.refused(f"E3 discard {said}")
