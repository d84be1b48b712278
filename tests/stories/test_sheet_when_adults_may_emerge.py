"""Pupae that may emerge while the keeper is away are looked at on each visit, from the start of their window on."""

from __future__ import annotations

import re

from tests.stories.telling import Story, tell


def boxes_of(story: Story, code: str, back: str) -> list[str]:
    """The boxes of a cup on the neighbour's sheet, a visit each."""
    story.reopen()
    ran = story.shell("sheet", "--to", back)
    assert ran.status == 0, ran.err
    rows = [line for line in ran.out.splitlines() if re.match(rf"\d+ +{code} ", line)]
    if not rows:
        return []
    return re.findall(r"\[ +\]|\( +\)|--", rows[0])


def pupae(story: Story, *lines: str) -> None:
    """Pupae of a species whose emergence the keeper knows."""
    tell(story.at("2026-06-01 07:05"), "taxon 'Melitaea celans'\nP2 6 pupae 'Melitaea celans'")
    story.type(*lines, "P2 looked as usual")


def test_from_the_start_of_the_window_on_they_are_looked_at_each_visit(story: Story) -> None:
    pupae(story, "P2 expected emergence on 3 Jun until 9 Jun")
    boxes = boxes_of(story, "P2", "+4d")
    assert len(boxes) == 7
    assert "--" not in boxes[3:]


def test_pupae_whose_window_comes_after_the_return_are_not(story: Story) -> None:
    pupae(story, "P2 expected emergence on 20 Jun until 25 Jun")
    assert boxes_of(story, "P2", "+4d").count("--") > 3
