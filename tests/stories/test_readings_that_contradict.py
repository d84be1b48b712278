"""Readings of one place within a minute that cannot both be are asked about, and may be insisted on."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def test_the_room_cannot_be_at_31_and_at_10(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(story, "shelf set up sill\nroom 24/31")
    story.later(minutes=1)
    said = story.refused("room 10C")
    assert "the room was read 24 to 31 C 1 min ago" in said
    assert "cross that out" in said
    assert "add 'sure'" in said
    story.type("room 10C sure")
    assert "was read 10 C 0 min ago" in story.refused("room 1C")
    assert "was read 10 C" in story.refused("room 24/31")
    story.type("air shelf=sill 24C")  # another place


def test_what_agrees_is_taken(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(story, "room 24/31\nroom 27C\nroom 22.5C 50%\nroom 60%")
    story.later(minutes=10).type("room 12C")
