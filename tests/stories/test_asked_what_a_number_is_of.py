"""A number that may be of eggs found or of a look, or of larvae that can moult no more, is asked about with lines that are right."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def laying(story: Story) -> Story:
    """A female and the eight eggs that she laid yesterday."""
    story.at("2027-06-01 07:05").type("K4 1 wild female Aglais io on nettle", "K4 8 eggs")
    return story.at("2027-06-02 07:05")


@pytest.mark.parametrize("line", ["K4 5 seen", "K4 seen 3"])
def test_fewer_than_the_eggs_there_were_may_be_new_ones(laying: Story, line: str) -> None:
    number = line.strip("K4 sen")
    asked = laying.refused(line)
    assert f"{number} eggs found, or {number} of those as usual?" in asked
    assert f"As: K4 searched {number}; K4 looked {number} sure" in asked


@pytest.mark.parametrize("line", ["K4 1 seen", "K4 8 seen", "K4 9 seen"])
def test_as_many_as_there_are_were_looked_at(laying: Story, line: str) -> None:
    assert "K4 looked" in laying.type(line)[0]


def test_more_than_there_are_is_refused_with_what_is_right(laying: Story) -> None:
    asked = laying.refused("K4 12 seen")
    assert "eggs found: K4 searched 12" in asked


def test_the_last_instar_pupates(story: Story) -> None:
    story.at("2027-06-01 07:05").type("R1 10 L5 Aglais io on nettle 3 stems")
    asked = story.refused("R1 2 moulted")
    assert "did they pupate, or hang up? As: R1 pupated 2; R1 hanging 2" in asked
    story.type("R1 3 L4 Aglais io")
    assert "R1 moulted 2 L5" in story.refused("R1 2 moulted"), "those may have moulted"
