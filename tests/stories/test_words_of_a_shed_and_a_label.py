"""What a container is, where a shelf is, and who named a species, said as on a label or in a shed."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize(
    "line",
    ["R9 set up rearing sleeve", "R9 set up rearing in a sleeve", "set up sleeve R9 rearing"],
)
def test_a_container_is_set_up_by_what_it_is(story: Story, line: str) -> None:
    story.type(line)
    bench = story.desk.bench
    assert bench.containers["R9"].purpose == "rearing"
    assert [one["text"] for one in story.on_disk() if one["what"] == "note"] == ["sleeve"]


def test_what_it_is_for_is_asked_for_and_a_shelf_may_be_called_so(story: Story) -> None:
    assert "what for? As: R9 set up rearing -- sleeve" in story.refused("R9 set up sleeve")
    story.type("R9 set up rearing shelf tub")
    assert story.desk.bench.containers["R9"].shelf == "tub"


@pytest.mark.parametrize("word", ["outdoors", "outside"])
def test_a_shelf_on_which_a_cup_stands_is_told_to_be_outdoors(story: Story, word: str) -> None:
    story.type("R4 set up rearing shelf garden", f"shelf garden {word} hot 30")
    shelf = story.desk.bench.shelves["garden"]
    assert (shelf.apart, shelf.hot_c) == (True, 30)
    story.type(f"shelf balcony rail {word}")
    assert story.desk.bench.shelves["balcony rail"].apart


@pytest.mark.parametrize(
    ("line", "whole"),
    [
        ("taxon Pieris orata Wren, 1858", "'Pieris orata Wren, 1858'"),
        ("taxon 'Pieris orata' Wren, 1858", "'Pieris orata Wren, 1858'"),
        ("taxon Pieris orata, Wren 1858", "'Pieris orata Wren 1858'"),
        ("taxon Pieris orata Hill & Wren, 1858", "'Pieris orata Hill & Wren, 1858'"),
        ("K2 founder W2 Pieris orata Wren, 1858 female", "'Pieris orata Wren, 1858'"),
    ],
)
def test_an_author_without_brackets_is_told_where_it_goes(
    story: Story, line: str, whole: str
) -> None:
    story.type("K2 set up laying")
    said = story.refused(line)
    assert f"is an author; put the whole name in quotes, as: {whole}" in said
    story.type(f"taxon {whole}", "K2 founder W3 'Pieris orata' female caught 20 April 2027")


def test_an_author_without_a_year_before_a_comma_is_no_crash(story: Story) -> None:
    assert "'Wren,' is no part of a name" in story.refused("taxon Pieris orata Wren, 12")
