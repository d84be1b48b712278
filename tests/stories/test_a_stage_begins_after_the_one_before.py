"""A stage of which nobody saw the beginning does not begin before the one before it can have ended."""

from __future__ import annotations

from datetime import timedelta

import pytest

from rounds.forecasts.stage_ends import ComingChange
from tests.stories.telling import Story, tell

EGGS = """
room air 20C
E2 set up rearing
E2 20 eggs Papilio hospiton laid 1 Jun 06:00 until 1 Jun 07:30
"""


def coming(story: Story, change: str) -> ComingChange:
    every = story.desk.foresight.coming(story.desk.bench.containers["E2"])
    return next(one for one in every if one.change == change)


def test_larvae_hatched_no_earlier_than_was_foretold_of_their_eggs(story: Story) -> None:
    """Eggs of the first of the month, unlooked at until all had hatched a week later: the moult was told from the day
    they were laid on, before the eggs could have hatched."""
    story.at("2027-06-01 08:00")
    tell(story, EGGS)
    earliest = coming(story, "hatch").not_before
    assert earliest is not None
    story.later(days=7).type("room air 20C", "E2 hatched 20")
    moult = coming(story, "moult")
    assert moult.begun_from >= earliest - timedelta(hours=12)
    assert moult.begun_to == story.clock.now
    assert moult.half is not None
    assert moult.not_before is not None
    assert moult.not_before > earliest + timedelta(hours=36)
    begun = moult.begun_from + (moult.begun_to - moult.begun_from) / 2
    assert moult.half > begun + timedelta(days=4)


def test_pupae_are_no_older_than_larvae_could_have_pupated(story: Story) -> None:
    """And what pupates three weeks later was no pupa while it was a larva of a day."""
    story.at("2027-06-01 08:00")
    tell(story, EGGS)
    story.later(days=7).type("room air 20C", "E2 hatched 20")
    larvae = coming(story, "pupation").not_before
    story.later(days=22).type("room air 20C", "E2 pupated 20")
    emergence = coming(story, "emergence")
    assert larvae is not None
    assert emergence.not_before is not None
    assert emergence.begun_from >= larvae - timedelta(days=1)
    assert emergence.not_before > larvae + timedelta(days=5)


@pytest.mark.parametrize("days", [2, 4])
def test_who_hatches_earlier_than_foretold_began_by_the_look(story: Story, days: int) -> None:
    """Earlier than anybody thought: what is told of them is no surer than a look each round tells."""
    story.at("2027-06-01 08:00")
    tell(story, EGGS)
    laid = story.clock.now
    story.later(days=days).type("room air 20C", "E2 hatched 20")
    moult = coming(story, "moult")
    assert moult.begun_from <= moult.begun_to - timedelta(hours=12)
    assert moult.begun_from >= laid
