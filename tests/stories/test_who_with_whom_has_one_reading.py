"""A pairing is asked about only where it may be of others: adults of one brood go by one code."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


def pupae(story: Story) -> Story:
    story.at("2027-05-01 07:00").type("P1 6 pupae Aglais urticae")
    return story.later(days=12)


@pytest.mark.parametrize(
    "emerged",
    [
        ("P1 1 emerged overnight", "P1 1 more female emerged", "P1 1 more male emerged"),
        ("P1 1 female emerged", "P1 2 males emerged"),
        ("P1 2 females emerged", "P1 1 male emerged"),
        ("P1 2 emerged overnight",),
    ],
)
def test_of_one_brood_it_is_taken(story: Story, emerged: tuple[str, ...]) -> None:
    pupae(story).type(*emerged)
    assert "P1 paired" in story.type("P1 paired")[0]
    (pair,) = story.desk.bench.pairings
    assert (pair.female, pair.male) == ("AGL-27-01", "AGL-27-01")


def test_a_male_that_is_there_is_not_denied(story: Story) -> None:
    """A female of another brood makes it two readings; the male is on record all the same."""
    pupae(story).type(
        "P1 1 emerged overnight", "P1 1 more female emerged", "P1 1 more male emerged"
    )
    story.type("P1 founder W2 Aglais urticae caught female")
    asked = story.refused("P1 paired")
    assert "no male" not in asked
    assert "P1 holds AGL-27-01, W2 on record" in asked
    assert "AGL-27-01 with AGL-27-01" in asked


def test_one_alone_is_asked_about(story: Story) -> None:
    pupae(story).type("P1 1 emerged overnight")
    assert "and no male" in story.refused("P1 paired")
