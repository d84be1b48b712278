"""Larvae that were brought in moults before their last instar cannot be pupae, or two instars on, at once: asked about."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

ASKED = "if it was seen so, add 'sure'"


@pytest.mark.parametrize("instar", [1, 2, 3])
def test_a_young_instar_is_asked_about(story: Story, instar: int) -> None:
    story.at("2027-07-24 07:00")
    story.type(f"R8 10 L{instar} Melitaea didyma on Plantago lanceolata 3 stems")
    story.later(minutes=3)
    assert ASKED in story.refused("R8 pupated 2")
    story.type("R8 pupated 2 sure")


def test_the_next_day_too_until_those_between_can_have_passed(story: Story) -> None:
    story.at("2027-07-24 07:00").type("R8 12 L2 Melitaea didyma on Plantago lanceolata")
    told = story.later(hours=24).refused("R8 pupated 12")
    assert told.startswith("24 h after they came in as L2, and the first pupation")
    story.later(hours=72).type("R8 pupated 12")


def test_moults_that_skip_instars(story: Story) -> None:
    story.at("2027-07-24 07:00").type("R8 12 L2 Melitaea didyma on Plantago lanceolata")
    story.later(hours=3)
    assert ASKED in story.refused("R8 moulted 3 L5")
    assert ASKED in story.refused("R8 moulted 3 L4")
    story.type("R8 moulted 3 L3")


def test_the_last_two_instars_and_one_not_known_may_pupate(story: Story) -> None:
    story.at("2027-07-24 07:00")
    story.type("R8 10 L5 Melitaea didyma on Plantago lanceolata 3 stems")
    story.type("R3 10 L4 Melitaea didyma on Plantago lanceolata 3 stems")
    story.type("R2 10 larvae Melitaea didyma on Plantago lanceolata 3 stems")
    story.later(minutes=3).type("R8 pupated 2", "R2 pupated 2", "R3 pupated 2")
