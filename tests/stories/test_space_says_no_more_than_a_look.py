"""Space says what a look alone tells: it fills no moat, and puts no leaf where it is reckoned gone."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

MOAT = """
R7 set up rearing moat
R7 8 L4 'Aglais io' on nettle
R7 moat topped up 22 mm
"""
LEAF = """
R2 set up rearing
R2 6 L5 'Aglais io' on nettle
R2 host out nettle
R2 host in nettle 2 stems
"""


def moat(story: Story) -> str:
    """What is reckoned of the moat's water, and when it will be low."""
    found = story.desk.foresight.moat(story.desk.bench.containers["R7"].moat, story.clock.now)
    assert found is not None
    assert found.low_at is not None
    return f"{found.by_now_mm:.1f} mm, low {found.low_at:%a %H:%M}"


@pytest.fixture
def filled(story: Story) -> Story:
    """A cup behind a moat that was read as it fell."""
    story.at("2027-06-01 07:00")
    tell(story, MOAT)
    story.at("2027-06-03 07:00").type("R7 moat 16 mm", "R7 host in nettle 9 stems")
    return story.at("2027-06-04 18:00")


async def test_space_of_a_look_leaves_the_water_as_it_was_reckoned(filled: Story) -> None:
    before = moat(filled)
    async with filled.screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "R7")
        assert "full" not in screen.text.split("Space")[1].splitlines()[0]
        await screen.press("space")
    last = [line for line in filled.on_disk() if line["what"] == "barrier"][-1]
    assert (last["container"], last["state"]) == ("R7", "not low")
    assert moat(filled) == before
    assert "ants" not in filled.due("R7")


def test_full_said_in_words_and_topped_up_set_the_mark_and_a_look_keeps_it(filled: Story) -> None:
    before = moat(filled)
    filled.type("R7 moat full")
    assert moat(filled).startswith("22.0 mm")
    assert moat(filled) != before
    after = moat(filled)
    assert "not low" in filled.type("R7 moat not low")[0]
    assert moat(filled) == after
    filled.later(hours=12).type("R7 moat not low")
    assert moat(filled).split(", ")[1] == after.split(", ")[1]


def test_not_low_with_a_depth_is_that_depth(filled: Story) -> None:
    filled.type("R7 moat not low 12 mm")
    assert moat(filled).startswith("12.0 mm")
    filled.type("R7 moat not low 5 mm")
    assert filled.desk.bench.containers["R7"].moat.state == "low"


async def test_space_puts_no_leaf_where_it_is_reckoned_gone(story: Story) -> None:
    story.at("2027-06-01 07:00")
    tell(story, LEAF)
    before = story.later(hours=13).on_disk()
    assert "enough for about" in story.due("R2")["food"]["arithmetic"]
    async with story.screens() as screen:
        screen.highlight("R2")
        await screen.press("h")
        assert screen.check == "food"
        await screen.press("space")
        assert story.on_disk() == before
        text = screen.text.split("How much food is left?")[1]
        assert text.index("e  bare") < text.index("c  new") < text.index("k  low")
        await screen.press("b")
    assert story.on_disk()[-1]["left"] == "plenty"


def test_the_plain_round_asks_of_gone_leaf_alike(story: Story) -> None:
    story.at("2027-06-01 07:00")
    tell(story, LEAF)
    asked = "\n".join(story.later(hours=13).plain(["21", *[" "] * 3]))
    assert "Space plenty" not in asked
    assert "Key e: bare. Key c" in asked


async def test_leaf_reckoned_to_be_there_is_plenty_by_space(story: Story) -> None:
    story.at("2027-06-01 07:00")
    tell(story, LEAF.replace("2 stems", "20 stems"))
    story.later(hours=13)
    async with story.screens() as screen:
        screen.highlight("R2")
        await screen.press("h")
        assert "Space  plenty" in screen.text
