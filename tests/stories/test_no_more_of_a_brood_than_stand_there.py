"""Of animals that nobody can tell apart no more can be named of one brood than came of it; every brood's sum holds."""

from __future__ import annotations

import pytest

from rounds.views.broods_page import broods_page
from tests.added_up import tallies_of
from tests.stories.telling import Story, tell


@pytest.fixture
def cup(story: Story) -> Story:
    """Five larvae of one brood, six of another, one of which moulted, nobody knows whose."""
    story.at("2027-05-01 07:05")
    tell(
        story,
        """
        R4 set up rearing
        R5 set up rearing
        brood A taxon='Boloria inventa'
        brood B taxon='Boloria inventa'
        R4 stocked 5 L2 A
        R4 stocked 6 L2 B
        R4 moulted 1 L3 not known
        """,
    )
    return story


def sums(story: Story) -> set[str]:
    """The sum of each brood, as the page of the broods has it."""
    back = tallies_of(story.desk.entries(whole=True), story.desk.zone).look_back()
    panes = broods_page(back, story.desk.zone).panes.values()
    return {
        line.text.removeprefix("sum").strip()
        for pane in panes
        for line in pane
        if line.text.startswith("sum")
    }


def test_more_of_a_brood_than_came_of_it_are_refused(cup: Story) -> None:
    assert (
        cup.refused("R4 moulted 6 L3 brood=A")
        == "6 moulted, but at most 5 of A stand in R4; give 5 or fewer"
    )
    assert (
        cup.refused("R4 died 6 L2 brood=A")
        == "6 died, but at most 5 of A stand in R4; give 5 or fewer"
    )
    assert (
        cup.refused("R4 moved 7 L2 brood=B to R5")
        == "7 moved, but at most 6 of B stand in R4; give 6 or fewer"
    )
    cup.type("R4 moulted 5 L3 brood=A", "R4 died 6 brood=B others")


def test_those_that_are_left_are_the_others(cup: Story) -> None:
    cup.type("R4 died 3 L2 not known", "R4 moulted 4 L4 brood=A")
    assert "at most 1 of A" in cup.refused("R4 died 2 L2 brood=A")
    for shown in sums(cup):
        came, became = shown.split("=")
        assert came.split()[0] == str(sum(int(part.split()[0]) for part in became.split("+"))), (
            shown
        )


def test_what_a_count_found_above_the_record_may_be_of_either(cup: Story) -> None:
    cup.type("R4 died 1 not known", "R4 counted 14 larvae", "R4 moulted 8 L5 brood=A")
    assert "at most" in cup.refused("R4 died 2 L2 brood=A")
    for shown in sums(cup):
        came, became = shown.split("=")
        assert came.split()[0] == str(sum(int(part.split()[0]) for part in became.split("+"))), (
            shown
        )
