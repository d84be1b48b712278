"""Who of several that began a stage on different days goes on, dies or is moved is one rule for the bench and for the
tallies of what went by: by the stage and the day on which they began it both have as many in each cup."""

from __future__ import annotations

import tempfile
from collections import Counter
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from rounds.app.prompt_line import say_phrase
from rounds.bench.beginnings import beginnings
from rounds.bench.folding.lots import group_of
from tests.added_up import tallies_of
from tests.stories.telling import Story

CUPS = ("R4", "R5")
STAGES = ("eggs", "larvae", "pupae")
Taken = Counter[tuple[str, str, datetime]]


@st.composite
def lines(draw: st.DrawFn) -> str:
    """Some that come, go on, die or are moved."""
    code, other = draw(st.permutations(CUPS))
    number = draw(st.integers(1, 7))
    what = draw(st.sampled_from(STAGES))
    happens = ("came", "came", "grew", "grew", "died", "died", "moved", "merged")
    return {
        "came": f"{code} stocked {number} {what} A-27-02/A",
        "grew": f"{code} {dict(zip(STAGES, ('hatched', 'pupated', 'emerged'), strict=True))[what]} {number} more",
        "died": f"{code} died {number} {what}",
        "moved": f"{code} moved {number} {what} to {other}",
        "merged": f"{code} merged from {other}",
    }[draw(st.sampled_from(happens))]


def of_bench(story: Story) -> Taken:
    """How many young stand in each cup by stage and when they began it, as the bench has it."""
    counted: Taken = Counter()
    for cup in story.desk.bench.standing():
        for lot in (lot for lot in cup.lots if lot.stage != "adult"):
            for begun in beginnings(lot):
                began = begun.latest or begun.since
                assert began
                counted[cup.code, group_of(cup.code, lot).stage_name, began] += begun.number
    return counted


def of_tallies(story: Story) -> Taken:
    """The same as the tallies followed them."""
    counted: Taken = Counter()
    entries = story.desk.entries(whole=True)
    for cohort in tallies_of(entries, story.desk.zone).look_back().course.alive:
        if cohort.stage != "adult":
            counted[cohort.stays[-1].container, cohort.stage, cohort.begun_to] += cohort.number
    return counted


OF_TWO_DAYS = ["R4 stocked 2 eggs A-27-02/A", "R4 stocked 1 eggs A-27-02/A"]
SEVERAL_BEGIN = [
    "R4 stocked 1 larvae A-27-02/A",
    "R4 stocked 1 pupae A-27-02/A",
    "R4 stocked 6 larvae A-27-02/A",
]


@given(st.lists(lines(), min_size=4, max_size=25))
@example([*OF_TWO_DAYS, "R4 hatched 1 more", "R4 died 1 eggs"])
@example([*SEVERAL_BEGIN, "R4 pupated 7 more", "R4 died 5 pupae"])
@settings(max_examples=20, deadline=None)
def test_bench_and_tallies_take_the_same(typed: list[str]) -> None:
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        story = Story(Path(folder) / "book", patch).at("2027-05-01 07:05")
        story.type(
            "R4 set up rearing", "R5 set up rearing", 'brood A-27-02/A taxon="Boloria inventa"'
        )
        for line in typed:
            say_phrase(story.later(hours=1).desk, line)
        assert of_bench(story) == of_tallies(story)
