"""Animals that left, by a line that is typed a second time within the hour: asked about, as a death is."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

LEFT = [
    "R1 escaped 3",
    "R1 moved 4 to R2",
    "R1 4 to R2",
    "R1 released 2 L3",
    "R1 preserved 1 L3",
    "R1 missing 1",
    "P1 released 1 male",
    "P1 1 male released at Larchet meadow",
    "R1 split 2,2 into R2,R3",
]


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2031-06-11 18:00").type(
        "R1 24 L3 Aglais io on nettle",
        "R2 set up rearing",
        "R3 set up rearing",
        "P1 6 p Hyles gallii",
    )
    story.at("2031-06-12 07:00").type("P1 emerged 3 male")
    return story.later(minutes=1)


def held(story: Story) -> int:
    return sum(story.desk.bench.containers[code].count() for code in ("R1", "P1"))


@pytest.mark.parametrize("line", LEFT)
def test_it_is_asked_about(bench: Story, line: str) -> None:
    before = held(bench)
    bench.type(line)
    took = before - held(bench)
    asked = bench.later(seconds=50).refused(line)
    assert "07:01 already; if those are meant nothing is to be written" in asked
    bench.type(asked.partition("if others, as: ")[2])
    assert before - held(bench) == 2 * took > 0


@pytest.mark.parametrize("line", LEFT)
def test_the_next_round_may_take_as_many(bench: Story, line: str) -> None:
    bench.type(line)
    bench.later(hours=2).type(line)


def test_to_another_cup_they_are_others(bench: Story) -> None:
    bench.type("R1 moved 4 to R2", "R1 moved 4 to R3", "R1 moved 3 to R3", "R2 moved 4 to R3")


def test_missing_ones_that_were_found_twice(bench: Story) -> None:
    bench.type("R1 missing 3", "R1 missing found 1")
    assert "already" in bench.later(minutes=1).refused("R1 missing found 1")
    bench.type("R1 missing found 1 more")
    assert bench.desk.bench.containers["R1"].count() == 23
