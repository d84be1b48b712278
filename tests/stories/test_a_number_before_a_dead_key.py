"""A number that was begun goes with a key that means nothing, and is said to; with Space it counts those that are as before."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def hanging(story: Story) -> Story:
    """Ten larvae, of which two hung up yesterday."""
    story.at("2027-06-01 07:05").type("R1 10 L5 Aglais io on nettle 7 stems", "R1 2 hanging")
    return story.at("2027-06-02 07:05")


async def test_a_key_that_means_nothing_takes_the_number_with_it(hanging: Story) -> None:
    async with hanging.screens() as screen:
        await screen.press("r")
        await screen.walk_to("look", "R1")
        await screen.press("2", "c")
        assert "c does nothing here; type 2 again" in screen.words
        await screen.press("3", "h")
    assert hanging.on_disk()[-1]["number"] == 3


async def test_space_takes_how_many_are_as_before(hanging: Story) -> None:
    async with hanging.screens() as screen:
        await screen.press("r")
        await screen.walk_to("look", "R1")
        await screen.press("2", "space")
    said = hanging.on_disk()[-1]
    assert (said["what"], said["sign"], said["number"]) == ("looked", "hanging", 2)
    assert hanging.desk.bench.containers["R1"].sign_left == 2


async def test_space_alone_leaves_as_many_as_there_were(hanging: Story) -> None:
    async with hanging.screens() as screen:
        await screen.press("r")
        await screen.walk_to("look", "R1")
        await screen.press("space")
    assert hanging.desk.bench.containers["R1"].sign_left == 2
