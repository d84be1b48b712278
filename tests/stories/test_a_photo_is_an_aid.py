"""Eggs counted on a photo were seen by photo; 'photo' is no place where they were."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

LAYING = """
K2 set up laying
K2 founder W2 "Melitaea vespina" female
K2 host in plantain
K2 searched 2 unsure
"""


@pytest.mark.parametrize(
    ("line", "found", "unsure", "where"),
    [
        ("K2 searched 3 photo", 3, 0, ""),
        ("K2 searched 3 by photo", 3, 0, ""),
        ("K2 searched 3 gauze photo", 3, 0, "gauze"),
        ("K2 12 eggs on photo", 12, 0, ""),
        ("K2 12 eggs on the photo", 12, 0, ""),
        ("K2 searched 4 unsure photo", 0, 4, ""),
        ("K2 confirmed 2 photo", 2, 0, ""),
        ("K2 searched 3 aid=photo", 3, 0, ""),
        ("K2 searched 3 macro photo", 3, 0, ""),
        ("K2 searched 3 from photos", 3, 0, ""),
    ],
)
def test_a_photo_is_how_they_were_seen(
    story: Story, line: str, found: int, unsure: int, where: str
) -> None:
    tell(story, LAYING)
    story.later(hours=2).type(line)
    said = [one for one in story.on_disk() if one["what"] == "searched"][-1]
    assert said["aid"] == "macro photo"
    assert (said["found"], said.get("unsure", 0), said.get("where", "")) == (found, unsure, where)


def test_a_picture_is_still_one_of_the_cup(story: Story) -> None:
    tell(story, LAYING)
    assert "needs file" in story.refused("K2 photo")


def test_under_the_lens_is_no_place(story: Story) -> None:
    tell(story, LAYING)
    story.type("K2 searched 3 under the lens")
    said = [one for one in story.on_disk() if one["what"] == "searched"][-1]
    assert (said["aid"], said.get("where", "")) == ("lens", "")


def test_the_usual_aid_is_one_at_the_stop_and_at_the_prompt(story: Story) -> None:
    tell(story, LAYING)
    assert "none found, naked eye" in story.type("K2 searched 0")[0]
    story.later(hours=1).type("setting search aid lens")
    assert "none found, lens" in story.later(hours=1).type("K2 searched 0")[0]
    assert "3 found, lens" in story.type("K2 3 eggs")[-1]
    assert "none found, naked eye" in story.later(hours=1).type("K2 searched 0 by eye")[0]
    assert "none found, macro photo" in story.later(hours=1).type("K2 searched 0 photo")[0]
