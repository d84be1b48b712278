"""The same keys at two questions that follow each other: a number counts the larvae only where the question asks how many there are."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


def test_stems_are_not_taken_for_larvae_at_the_next_question(story: Story) -> None:
    story.at("2027-05-01 07:00").type("R3 8 L5 'Aglais urticae' on Urtica dioica 5 stems")
    story.later(hours=27).type("room 21", "R3 looked")
    printed = "\n".join(story.plain(["s", "2c", "2c", "c", "q"]))
    assert "2 stems" in printed, printed
    assert "'cleaned' takes no number, and 2 was typed" in printed, printed
    container = story.desk.bench.containers["R3"]
    assert (container.count(), "cleaned" in container.last) == (8, True)


@pytest.mark.parametrize("sign", ["hanging", "not moving"])
async def test_stems_set_beside_those_left_alone_are_as_many_as_typed(
    story: Story, sign: str
) -> None:
    tell(story, f"R1 10 L5 Aglais io on nettle 7 stems\nR1 2 {sign}")
    story.later(hours=12)
    async with story.screens() as screen:
        await screen.press("r", "minus", "m")
        assert "food: fresh set beside them" in screen.text
        await screen.press("9", "a")
    hosts = [one for one in story.on_disk() if one["what"] == "host in"]
    assert [one["sprigs"] for one in hosts] == [7, 9]
