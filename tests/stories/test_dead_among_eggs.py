"""Which of several unmarked females was found dead may stay unknown, whatever else is in the cup."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    """Two females who cannot be told apart, and eggs of either."""
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 "Melitaea cinxia" female
        K2 founder W3 "Melitaea cinxia" female
        K2 host in Plantago 3 sprigs
        K2 searched 12
        """,
    )
    return story


async def test_one_of_the_females_and_nobody_knows_which(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.press("l", "f", "1", "enter")
        assert "k not known" in screen.words
        await screen.press("k")
        told = bench.on_disk()[-1]
        assert (told["what"], told["stage"], told["among"]) == ("died", "adult", ["W2", "W3"])
        assert told["which"] == "not known"


async def test_only_one_brood_of_a_stage_is_no_question(story: Story) -> None:
    tell(
        story,
        'K2 set up laying\nK2 founder W2 "Melitaea cinxia" female\nK2 host in Plantago\nK2 searched 12',
    )
    async with story.screens() as screen:
        screen.highlight("K2")
        await screen.press("l", "f", "1", "enter")
        assert "which?" in screen.words
        assert "not known" not in screen.words
