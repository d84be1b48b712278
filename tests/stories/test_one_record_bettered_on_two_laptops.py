"""Two laptops apart better the record of one animal: she stays one, the last word counts, two names are told."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_two_animals_under_one_code import FEMALE, stock, synchronise

HERS = {"W1 adult": 1, "W1/A egg": 5}


@pytest.fixture
def apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Story, Story]:
    """Two laptops with one book of one female and her eggs, which go apart."""
    a = Story(tmp_path / "a", monkeypatch, "aaaa1111").at("2027-05-01 08:00")
    b = Story(tmp_path / "b", monkeypatch, "bbbb2222")
    b.clock = a.clock
    a.type("R5 set up laying", f"R5 founder W1 '{FEMALE}' female", "R5 5 eggs")
    synchronise(a, b)
    return a, b


def named(a: Story, b: Story, of_a: str, of_b: str) -> None:
    a.later(minutes=1).type(f"W1 is {of_a}")
    b.later(minutes=1).type(f"W1 is {of_b}")
    synchronise(a, b)


def is_one(story: Story, taxon: str) -> None:
    """She is one animal with her eggs, all of that name."""
    bench = story.desk.bench
    assert stock(story, "R5") == HERS
    assert list(bench.founders) == ["W1"]
    assert list(bench.broods) == ["W1/A"]
    assert bench.taxon_of("W1") == bench.taxon_of("W1/A") == taxon


def test_the_same_name_by_both(apart: tuple[Story, Story]) -> None:
    named(*apart, "Melitaea diamina", "Melitaea diamina")
    for laptop in apart:
        is_one(laptop, "Melitaea diamina")
        assert "nothing wrong was found" in laptop.shell("check").out
    assert apart[0].desk.bench == apart[1].desk.bench


@pytest.mark.parametrize("who", ["a", "b"])
def test_undone_by_one_the_name_of_the_other_stays(apart: tuple[Story, Story], who: str) -> None:
    a, b = apart
    named(a, b, "Melitaea diamina", "Melitaea diamina")
    (a if who == "a" else b).desk.strike_last()
    synchronise(a, b)
    for laptop in apart:
        is_one(laptop, "Melitaea diamina")
        assert "nothing wrong was found" in laptop.shell("check").out


def test_undone_by_both_it_is_as_before(apart: tuple[Story, Story]) -> None:
    a, b = apart
    named(a, b, "Melitaea diamina", "Melitaea diamina")
    for laptop in apart:
        laptop.desk.strike_last()
    synchronise(a, b)
    for laptop in apart:
        is_one(laptop, FEMALE)
        assert "nothing wrong was found" in laptop.shell("check").out


@pytest.mark.parametrize("meant", ["Melitaea diamina", "Melitaea athalia"])
def test_two_names_are_told_until_one_is_said(apart: tuple[Story, Story], meant: str) -> None:
    a, b = apart
    named(a, b, "Melitaea diamina", "Melitaea athalia")
    for laptop in apart:
        is_one(laptop, "Melitaea athalia")
        told = laptop.shell("check").out
        assert "called Melitaea diamina on one laptop and Melitaea athalia on another" in told
        assert "W1 is Melitaea athalia" in laptop.shell("due").err
        assert "NOT FIT" not in laptop.shell("due").err
    a.later(minutes=1).type(f"W1 is {meant}")
    synchronise(a, b)
    for laptop in apart:
        is_one(laptop, meant)
        assert "nothing wrong was found" in laptop.shell("check").out


def test_the_name_by_one_and_the_wear_by_the_other(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=1).type("W1 is Melitaea diamina")
    b.later(minutes=1).type("W1 wear worn")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "R5") == HERS
        assert "called Melitaea diamina on one laptop" in laptop.shell("check").out


def test_another_wear_by_each(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=1).type("W1 wear fresh")
    b.later(minutes=1).type("W1 wear worn")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "R5") == HERS
        assert laptop.desk.bench.founders["W1"].wear == "worn"
        assert "the wear of W1 was recorded on two laptops" in laptop.shell("check").out
