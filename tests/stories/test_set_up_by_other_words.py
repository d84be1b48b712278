"""A cup is set up for what keepers call otherwise."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize("words", ["incubation", "for incubation", "incubating"])
def test_incubation_is_of_eggs(story: Story, words: str) -> None:
    assert "eggs" in story.preview(f"E1 set up {words}")
    assert story.type(f"E1 set up {words}") == ["E1 set up for eggs"]
