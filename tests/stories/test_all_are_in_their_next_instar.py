"""Larvae that are said by the instar that they are in now, as a look at them shows it."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def cups(story: Story) -> Story:
    """Nine first instars, some of two instars, some of an instar nobody knows, and one alone."""
    tell(
        story,
        """
        brood B1 taxon='Boloria dia'
        R2 set up rearing
        R2 stocked 9 larvae L1 B1
        R4 set up rearing
        R4 stocked 4 larvae B1
        R5 set up rearing
        R5 stocked 4 larvae L1 B1
        R5 stocked 3 larvae L2 B1
        R6 set up rearing
        R6 stocked 1 larva L3 B1
        """,
    )
    return story.later(days=6)


@pytest.mark.parametrize(
    "line",
    ["R2 all L2", "R2 all are L2", "R2 all now L2", "R2 L2 all", "R2 all L2 7:00", "R2 9 in L2"],
)
def test_they_moulted(cups: Story, line: str) -> None:
    cups.type(line)
    seen = cups.on_disk()[-1]
    assert (seen["what"], seen["number"], seen["instar"]) == ("moulted", 9, 2)


@pytest.mark.parametrize(
    ("line", "number"), [("R5 all L2", 4), ("R5 7 L3", 7), ("R6 L4", 1), ("R2 5 are L2", 5)]
)
def test_as_many_as_were_younger(cups: Story, line: str, number: int) -> None:
    cups.type(line)
    assert (cups.on_disk()[-1]["what"], cups.on_disk()[-1]["number"]) == ("moulted", number)


def test_of_no_known_instar_it_is_a_count(cups: Story) -> None:
    cups.type("R4 all L2")
    assert cups.on_disk()[-1]["what"] == "counted"
    assert {lot.instar for lot in cups.desk.bench.at("R4").lots} == {2}


def test_younger_than_on_record_is_no_moult(cups: Story) -> None:
    assert "count them all: R6 counted 1 larvae" in cups.refused("R6 all L2")
    assert "as: R6 counted 1 larvae" in cups.refused("R6 counted all L2")


@pytest.mark.parametrize("line", ["R5 4 L2", "R5 2 L2", "R5 L2", "R5 8 L3"])
def test_else_each_line_that_is_named_works(cups: Story, line: str) -> None:
    assert "how many are in L" in cups.refused(line)
