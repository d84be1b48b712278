"""After a death of which nobody knows the sex, no more of either leave than ever were there."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def emerged(story: Story) -> Story:
    """Ten males and twelve females, of which two died, nobody knows which."""
    story.at("2027-06-01 08:00").type("P2 set up pupation", "P2 30 pupae Melitaea athalia")
    story.later(hours=1).type("P2 emerged 10 males 12 females")
    story.later(hours=1).type("P2 died 2 adults not known")
    return story.later(hours=1)


@pytest.mark.parametrize("what", ["released", "died", "sexed"])
def test_at_most_as_many_males_as_emerged_can_be_there(emerged: Story, what: str) -> None:
    told = emerged.refused(f"P2 {what} 15 males")
    assert "at most 10 males can be in P2" in told
    assert "pupa" not in told
    assert "at most 12 females can be in P2" in emerged.refused(f"P2 {what} 13 females")
    emerged.type(f"P2 {what} 10 males")
    assert "at most 10 females" not in emerged.preview(f"P2 {what} 10 females")
    emerged.type(f"P2 {what} 10 females")


def test_those_that_left_are_no_more_there(emerged: Story) -> None:
    emerged.type("P2 released 8 males")
    assert "at most 2 males can be in P2" in emerged.refused("P2 released 3 males")
    emerged.type("P2 11 females moved to new Q2")
    assert "P2 holds 1 adult" in emerged.refused("P2 released 3 males")


def test_those_that_go_elsewhere_keep_what_they_can_be(emerged: Story) -> None:
    emerged.type("P2 20 adults moved to new Q2")
    assert "at most 10 males can be in Q2" in emerged.refused("Q2 released 11 males")


def test_of_more_that_emerge_unseen_any_may_be_male(emerged: Story) -> None:
    emerged.type("P2 emerged 3")
    assert "at most 13 males can be in P2" in emerged.refused("P2 released 14 males")
    emerged.type("P2 released 13 males")


def test_what_a_cup_holds_is_told_by_sex(story: Story) -> None:
    story.at("2027-06-01 08:00").type("P2 set up pupation", "P2 30 pupae Melitaea athalia")
    story.later(hours=1).type("P2 emerged 10 males 12 females")
    told = story.refused("P2 closed")
    assert "12 females of MEL-27-01, 10 males of MEL-27-01" in told
