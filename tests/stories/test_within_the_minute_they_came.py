"""A time typed to the minute in which she came in is not before she did."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.mark.parametrize(
    "line", ["7:11 W3 drank", "W3 drank 07:11", "7:11 K3 misted", "K3 host in Viola hirta 07:11"]
)
def test_it_is_behind_what_came(story: Story, line: str) -> None:
    story.at("2027-06-10 07:11:40")
    tell(story, "K3 set up laying\nK3 founder W3 Boloria dia female")
    story.later(minutes=19).type(line)
    assert story.on_disk()[-1]["at"] == "2027-06-10T07:11:40+02:00"
    assert "nothing wrong" in story.shell("check").out


def test_before_that_minute_she_was_not_there(story: Story) -> None:
    story.at("2027-06-10 07:11:40")
    tell(story, "K3 set up laying\nK3 founder W3 Boloria dia female")
    story.later(minutes=19)
    assert "set up later" in story.refused("7:10 K3 drank")
