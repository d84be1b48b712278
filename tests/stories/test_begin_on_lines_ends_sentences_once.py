"""The questions of a beginning book on lines: each sentence ends with one full stop."""

from __future__ import annotations

from tests.stories.telling import Story


def test_no_sentence_ends_twice(story: Story) -> None:
    asked = story.shell("begin", typed="\n\n\nK2 laying\n").out
    assert "before you collect, keep or release." in asked
    assert "and the zone of this machine." in asked
    assert ".." not in asked.replace("...", "")
