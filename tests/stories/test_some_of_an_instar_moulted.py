"""Three of the L3 moulted: where none is younger, the line to L4 is named."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize("line", ["R2 3 L3 moulted", "R2 moulted 3 L3"])
def test_the_line_of_those_is_named(story: Story, line: str) -> None:
    story.at("2031-06-11 18:00").type("R2 24 L3 Aglais io on nettle")
    told = story.at("2031-06-15 07:00").refused(line)
    assert told.endswith("of the L3 there that moulted, as: R2 moulted 3 L4")
    story.type("R2 moulted 3 L4")


def test_where_some_are_younger_it_is_their_moult(story: Story) -> None:
    story.at("2031-06-11 18:00").type("R2 24 L2 Aglais io on nettle")
    assert story.at("2031-06-15 07:00").type("R2 3 L3 moulted") == ["R2 moulted 3 to L3"]
