"""A plan line or a setting that would do nothing, or do harm, is refused; a name means one thing."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


def test_a_plan_line_for_a_check_that_the_purpose_never_has_is_refused(story: Story) -> None:
    reason = story.refused("plan mist purpose='host store' every_h=24")

    assert "changes nothing" in reason
    assert "pupation" in reason
    assert "overwintering" in reason


def test_a_plan_line_for_a_stage_that_the_check_never_has_is_refused(story: Story) -> None:
    assert "pupa" in story.refused("plan mist stage=adult every_h=24")


def test_a_plan_line_for_a_cup_whose_purpose_never_has_the_check_is_refused(story: Story) -> None:
    story.type("S2 set up host store")

    assert "S2 is for host store" in story.refused("plan mist container=S2 every_h=24")


def test_a_plan_line_that_says_nothing_or_what_stands_already_is_refused(story: Story) -> None:
    assert "every_h" in story.refused("plan mist")
    story.type("plan mist every_h=24")

    assert "stands so already" in story.refused("plan mist every_h=24")

    story.type("plan mist every_h=48", "plan mist off=yes", "plan mist off=no")


def test_a_plan_line_for_a_check_that_is_due_when_it_comes_up_is_refused(story: Story) -> None:
    story.type("plan drink purpose=holding every_h=12", "plan look purpose=eggs every_h=12")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("setting morning 19:00", "before the evening round at 18:00"),
        ("setting evening 06:30", "after the morning round at 07:00"),
        ("setting evening 07:00", "after the morning round at 07:00"),
    ],
)
def test_a_morning_after_the_evening_is_refused(story: Story, line: str, says: str) -> None:
    assert says in story.refused(line)


def test_both_rounds_can_be_moved_late_one_after_the_other(story: Story) -> None:
    story.type("setting evening 22:00", "setting morning 19:00")

    assert "after the morning round at 19:00" in story.refused("setting evening 18:00")


def test_a_brood_and_a_container_never_share_a_name(story: Story) -> None:
    tell(
        story,
        """
        Q2 set up laying
        Q2 founder W2 'Lysandra calida'
        brood R7 mothers=W2
        """,
    )

    assert "container" in story.refused("Q2 founder Q2 'Lysandra calida'")
    assert "container" in story.refused("brood q2 mothers=W2")
    assert "brood" in story.refused("R7 set up rearing")
    assert "founder" in story.refused("w2 set up laying")
