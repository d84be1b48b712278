"""What stands in a cage of pupae and adults, where more are released than stand there as adults."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def cage(story: Story) -> Story:
    """Twenty pupae and twelve adults of one brood."""
    tell(
        story,
        """
        brood M1 taxon='Melitaea cinxia'
        P2 set up emergence
        P2 stocked 20 pupae M1
        P2 stocked 12 adults M1
        """,
    )
    return story.later(days=1)


def test_how_many_adults_stand_there_and_what_to_type(cage: Story) -> None:
    told = cage.refused("P2 released 40")
    assert told == (
        "40 released, but P2 holds 12 adults; if 20 more emerged, first: P2 emerged 20, then P2"
        " released 32"
    )
    cage.type("P2 emerged 20", "P2 released 32")


def test_no_more_than_are_said_have_emerged(cage: Story) -> None:
    assert "first: P2 emerged 2, then P2 released 14" in cage.refused("P2 released 14 females")


@pytest.mark.parametrize("line", ["P2 released all", "P2 released all 12", "all 12 released P2"])
def test_all_are_all_adults(cage: Story, line: str) -> None:
    cage.type(line)
    assert (cage.on_disk()[-1]["number"], cage.on_disk()[-1]["stage"]) == (12, "adult")


def test_all_of_several_stages_are_asked_for(cage: Story) -> None:
    assert "all adults or all pupae" in cage.refused("P2 moved all to new P3")
    cage.type("P2 moved all adults to new P3")


def test_larvae_are_released_where_that_is_said(cage: Story) -> None:
    cage.type("R2 set up rearing", "R2 stocked 9 larvae M1")
    assert "as: R2 released 9 larvae" in cage.refused("R2 released 12")
