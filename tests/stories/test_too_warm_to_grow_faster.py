"""Above an upper threshold warmth counts no more, less, or not at all, as the keeper says of a species or types in the calculator."""

from __future__ import annotations

import json

import pytest

from tests.stories.telling import Story, tell

HOT = """
constants 'Nova ardens' egg lower=10 constant=60 {upper} source='a paper'
room air 34C
K1 set up laying
K1 founder A-1, Nova ardens female
K1 host in plantain
E1 set up eggs
"""
# By hand, above 10 C with an upper threshold of 30 C, at 34 C all day: 24 C day a day where the line goes on, 20 (horizontal),
# 16 (intermediate: 20 less the 4 above 30), none (vertical).
DAYS = {"": 60 / 24, "upper=30": 3.0, "upper=30 cutoff=intermediate": 60 / 16}


def figures(story: Story, *words: str) -> dict[str, float]:
    ran = story.shell("calc", "forecast", "--temperature", "34", *words, "--json")
    assert ran.status == 0, ran.err
    return {one["label"]: one["value"] for one in json.loads(ran.out)["figures"]}


@pytest.mark.parametrize("upper", DAYS)
def test_the_bench_and_the_calculator_reckon_with_it(story: Story, upper: str) -> None:
    tell(story, HOT.format(upper=upper))
    story.later(hours=6).type("room air 34C", "K1 searched 10", "K1 moved 10 eggs to E1")
    (coming,) = story.desk.foresight.coming(story.desk.bench.containers["E1"])
    assert coming.half is not None
    middle = coming.begun_from + (coming.begun_to - coming.begun_from) / 2
    assert (coming.half - middle).total_seconds() / 86_400 == pytest.approx(DAYS[upper], abs=0.01)
    assert figures(story, "--species", "nova ardens")["half"] == pytest.approx(DAYS[upper])
    assert (not coming.beyond) == bool(upper)  # a straight line alone is told to be too quick there
    typed = [f"--{word}" for word in upper.split()]
    same = figures(story, "--lower=10", "--constant=60", *typed)
    assert same["half"] == pytest.approx(DAYS[upper])
    if upper:
        told = story.shell("calc", "constants", "nova ardens").out
        assert f"above 30 C {'no faster' if 'inter' not in upper else 'slower by as much'}" in told


def test_where_nothing_grows_above_it_there_is_no_date(story: Story) -> None:
    tell(story, HOT.format(upper="upper=30 cutoff=vertical"))
    story.later(hours=6).type("room air 34C", "K1 searched 10", "K1 moved 10 eggs to E1")
    (coming,) = story.desk.foresight.coming(story.desk.bench.containers["E1"])
    assert coming.half is None
    assert "too warm" in coming.why_not


def test_the_calculator_says_what_each_cutoff_does(story: Story) -> None:
    day = ("calc", "degree-days", "--min", "16", "--max", "36", "--lower", "10", "--upper", "30")
    for cutoff, words in {
        "horizontal": "above 30 C no faster than there",
        "intermediate": "above 30 C slower by as much as it would be faster",
        "vertical": "above 30 C no development",
    }.items():
        assert words in story.shell(*day, "--cutoff", cutoff).out
    story.refused("constants 'Nova ardens' egg lower=10 constant=60 upper=8")


def test_readings_just_six_hours_apart_are_no_gap(story: Story) -> None:
    """In binary 0.6 less 0.35 is a little more than a quarter: it is one all the same."""
    for times in ((0, 0.25, 0.5), (0.1, 0.35, 0.6), (20.1, 20.35, 20.6)):
        pairs = ",".join(f"{one}:20" for one in times)
        told = story.shell("calc", "degree-days", "--readings", pairs, "--lower", "10").out
        assert "left out" not in told
        assert "days covered                       0.500 days" in told
