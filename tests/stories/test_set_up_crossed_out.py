"""A set-up that was crossed out: what the cup holds stays, and one advice says how it is mended, which works."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

ASKS = "K2 was not set up before this; say how it is, as: K2 set up laying"


@pytest.fixture
def crossed(story: Story) -> Story:
    """A laying cup whose set-up was a slip and was crossed out after the female was in."""
    story.at("2027-05-02 09:00").type("shelf set up A", "K2 set up rearing")
    first = story.on_disk()[-1]["id"]
    story.at("2027-05-02 09:05")
    tell(story, "K2 founder SIN-1, Leptidea sinapis female\nK2 host in vetch leaf water")
    story.later(hours=1)
    story.desk.strike(first, "wrong purpose")
    return story.later(hours=1)


def test_it_is_said_what_mends_it(crossed: Story) -> None:
    assert ASKS in crossed.shell("due").err + crossed.shell("due").out
    assert "close it first" not in crossed.shell("due").err


@pytest.mark.parametrize("when", ["", " at 2027-05-02 09:00", " at 2027-05-02 11:00"])
async def test_set_up_anew_it_keeps_what_it_holds_and_is_asked_as_such(
    crossed: Story, when: str
) -> None:
    crossed.type(f"K2 set up laying shelf A{when}")
    ran = crossed.shell("due")
    assert "NOT FIT" not in ran.err + ran.out
    assert "nothing wrong was found" in crossed.shell("check").out
    crossed.later(hours=22)
    assert "search" in {row["label"] for row in crossed.due("K2").values()}
    async with crossed.screens(size=(100, 40)) as screen:
        screen.highlight("K2")
        await screen.pilot.pause()
        assert "K2 laying: 1 f sinapis shelf A" in screen.card
        assert "NOT FIT" not in screen.words
    assert "stands on the bench already" in crossed.refused("K2 set up laying")


def test_taken_back_once_more_it_is_told_once_more(crossed: Story) -> None:
    crossed.type("K2 set up laying")
    crossed.desk.strike_last()
    crossed.reopen()
    assert ASKS in crossed.shell("due").err + crossed.shell("due").out
