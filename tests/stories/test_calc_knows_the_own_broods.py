"""What own broods and the keeper say of a species' warmth stands in the calculator, as the forecasts of the bench take it."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.stories.telling import Story, figures, tell

HATCHED = """
room air 20C
K1 set up laying
K1 founder A-1, Nova incognita female
K1 host in plantain
"""


@pytest.fixture
def book(story: Story) -> Story:
    """By hand: ten days at 20 C are 10 x (20 - T0) C day above whatever threshold is taken; laid in the six hours before."""
    tell(story, HATCHED)
    story.later(hours=6).type("K1 searched 20", "E1 set up eggs", "K1 moved 20 eggs to E1")
    for _ in range(9):
        story.later(days=1).type("room air 20C", "E1 looked")
    story.later(days=1).type("room air 20C", "E1 hatched 15")
    story.type("brood A-2/A taxon='Nova incognita'", "E2 set up eggs", "E2 stocked 9 eggs A-2/A")
    return story


def need(story: Story) -> Any:
    found = story.desk.foresight.coming(story.desk.bench.containers["E2"])
    return next(one for one in found if one.change == "hatch").need


def test_those_not_yet_are_told_by_when_they_were_looked_at(book: Story) -> None:
    """Two of the five were looked at two days after the others: three waited so long, two longer."""
    book.type("E3 set up eggs", "E1 moved 2 eggs to E3")
    book.later(days=2).type("room air 20C", "E3 looked")
    told = book.shell("calc", "constants", "nova incognita").out
    found = re.search(
        r"3 not yet after ([\d.]+) C day and 2 not yet after ([\d.]+) C day, when last looked at",
        told,
    )
    assert found, told
    assert float(found[2]) - float(found[1]) > 10


def test_constants_lists_own_broods_as_own(book: Story) -> None:
    told = book.shell("calc", "constants", "nova incognita").out
    assert "by 1 own brood" in told
    own = re.search(
        r"own brood A-1/A, egg above ([\d.]+) C: 15 took ([\d.]+) to ([\d.]+) C day", told
    )
    assert own, told
    lower, low, high = map(float, own.groups())
    assert low == pytest.approx(
        9 * (20 - lower), rel=0.02
    )  # seen on the ninth day, laid by the search
    assert high == pytest.approx(10.25 * (20 - lower), rel=0.02)  # from when she was set up
    assert "5 not yet" in told
    egg = figures(book, "constants", "--species", "Nova incognita")["egg"]
    assert egg["value"] == pytest.approx(need(book).constant_dd)


def test_another_species_has_none(book: Story) -> None:
    told = book.shell("calc", "constants", "--species", "Nova alia").out
    assert "own brood A-" not in told


def test_the_keepers_constants_are_listed_and_taken(book: Story) -> None:
    book.type("constants 'Nova alia' egg lower_c=8 constant_dd=84 source='a paper'")
    asked = ("--species", "nova ALIA")
    assert "the keeper's constants (a paper)" in book.shell("calc", "constants", *asked).out
    taken = figures(book, "forecast", *asked, "--temperature", "20")
    assert taken["half"]["value"] == pytest.approx(84 / 12, rel=0.01)


def test_a_forecast_of_the_calculator_is_that_of_the_bench(book: Story) -> None:
    taken = figures(
        book, "forecast", "--species", "Nova incognita", "--stage", "egg", "--temperature", "20"
    )
    assert taken["thermal constant used"]["value"] == pytest.approx(need(book).constant_dd)


async def test_the_page_of_the_calculator_knows_them_too(book: Story) -> None:
    async with book.screens(size=(140, 50)) as screen:
        await screen.press("=", "enter")
        for letter in "constants Nova incognita":
            await screen.pilot.press({" ": "space"}.get(letter, letter))
        await screen.press("enter")
        assert "own brood A-1/A, egg above 9.8 C: 15 took" in screen.words, screen.text


def test_without_a_book_only_what_was_published(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(story, "folder", story.folder / "none")
    assert "own brood A-" not in story.shell("calc", "constants", "--species", "Pieris rapae").out


def test_words_of_which_no_input_takes_any_are_refused(story: Story) -> None:
    assert "'warm' is no input of air" in story.shell("calc", "air", "warm").err


def hatch(story: Story) -> Any:
    """The hatch that is coming to those still there."""
    found = story.desk.foresight.coming(story.desk.bench.containers["E1"])
    return next(one for one in found if one.change == "hatch")


def test_a_brood_begun_and_one_not_begun_are_told_apart(book: Story) -> None:
    """The 5 still there of the brood of which 15 hatched go by their own, the calculator by a brood not begun."""
    ahead = hatch(book)
    assert ahead.need is not None
    assert ahead.need.words.startswith("from this brood's own 15 that hatched; ")
    told = book.shell("calc", "constants", "nova incognita").out
    assert re.search(r"egg: \d+ % by 1 own brood, .*; for a brood not begun", told), told
    assert "this brood's own" not in told
    other = need(book)
    assert other.constant_dd != pytest.approx(ahead.need.constant_dd, rel=1e-3)
    assert "this brood's own" not in other.words


def test_the_first_of_those_still_there_is_not_before_the_look_that_saw_them(book: Story) -> None:
    left = hatch(book)
    assert left.first is not None
    assert left.half is not None
    assert min(book.clock.now, left.half) <= left.first <= left.half
