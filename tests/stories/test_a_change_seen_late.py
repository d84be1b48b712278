"""A change may have come at any time since the last look on record that would have seen it."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, figures, tell

EGGS = """
shelf set up N
E3 set up rearing shelf=N
N 20/20
K2 1 female Coenonympha arcania on Poa nemoralis
"""


def _taken(story: Story) -> tuple[float, float]:
    told = story.shell("calc", "constants", "Coenonympha arcania").out
    took = re.search(r"10 took ([\d.]+) to ([\d.]+) C day", told)
    assert took, told
    return float(took[1]), float(took[2])


def _constant(story: Story) -> float:
    return float(figures(story, "constants", "--species", "Coenonympha arcania")["egg"]["value"])


def _moved_and_kept_warm(story: Story, until: int, *lines: str) -> None:
    tell(story.at("2027-04-01 08:00"), EGGS)
    story.at("2027-04-02 08:00").type("K2 searched 10")
    story.at("2027-04-02 08:05").type("K2 moved 10 eggs to E3")
    for day in range(3, until):
        story.at(f"2027-04-{day:02} 07:00").type("N 20/20", *lines)


def test_eggs_that_nobody_looked_at_tell_no_more_than_that_they_hatched(story: Story) -> None:
    """Seen hatched on day 19, never looked at: they were taken to have hatched on day 16 to 19, and the constant doubled."""
    _moved_and_kept_warm(story, 21)
    known = _constant(story)
    story.at("2027-04-21 08:00").type("E3 hatched 10")
    assert _taken(story)[0] < 1.0
    assert _constant(story) == pytest.approx(known, rel=0.1)


def test_a_look_that_saw_eggs_is_the_bound(story: Story) -> None:
    """Looked at on day 8, then on day 19 again: they hatched in between, and not within three days of the second."""
    _moved_and_kept_warm(story, 10)
    story.at("2027-04-10 08:00").type("E3 looked")
    for day in range(11, 21):  # neither reads nor writes of the cup what would have seen a larva
        story.at(f"2027-04-{day:02} 07:00").type("E3 air 20C", "N 20/20", "E3 note lid is old")
    story.at("2027-04-21 08:00").type("E3 hatched 10")
    low, high = _taken(story)
    assert low / high == pytest.approx(8 / 20, rel=0.02)  # laid on day 1 or 2
