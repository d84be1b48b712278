"""Eggs found later are of those that laid them, and were laid when they say: on every page."""

from __future__ import annotations

from tests.stories.telling import Story, tell

THREE = """
K2 set up laying
K2 founder W2 "Callophrys montana"
K2 founder W3 "Callophrys montana"
K2 founder W4 "Callophrys montana"
K2 host in Vaccinium 3 sprigs
"""


async def page(story: Story, *keys: str, row: str = "") -> str:
    """A page that keys open from the bench; of the broods that of one."""
    async with story.screens((110, 60)) as screen:
        await screen.press(*keys)
        if row:
            screen.highlight(row)
            await screen.pilot.pause()
            await screen.press("enter")
        return screen.text


async def test_a_dead_mother_lays_no_more(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, THREE)
    story.at("2027-05-02 08:00")
    assert "mothers W2 W3 W4" in story.type("K2 searched 6")[0]
    story.at("2027-05-02 12:00").type(
        "K2 died 1 brood=W2", "K2 host out Vaccinium A held_in=K2", "K2 host in Vaccinium 3 sprigs"
    )
    story.at("2027-05-03 08:00")
    told = story.type("K2 searched 2")[0]
    assert "mothers W3 W4" in told
    assert "laid from 12:00" in told or "laid from Sun 02 May 12:00" in told
    story.at("2027-05-05 08:00")
    assert "mothers" not in story.type("K2 searched 4")[0], (
        "the same two go on laying the same brood"
    )
    assert "laid Sun 2 May 12:00 to Wed 5 May 08:00" in (
        await page(story, "z", row="code W3+/A")
    ).replace("  ", " ")


async def test_one_of_three_died_not_known_which(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, THREE)
    story.at("2027-05-02 08:00").type("K2 searched 8")
    story.at("2027-05-02 12:00").type("K2 died 1 adult not known")
    story.at("2027-05-03 08:00")
    assert "brood W2+/B" in story.type("K2 searched 3")[0]
    text = await page(story, "i")
    assert "11 eggs in 2 searches" in text
    assert "0 eggs in" not in text


async def test_the_span_of_laying_goes_on_with_each_find(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, THREE)
    for day in (2, 3, 5):
        story.at(f"2027-05-0{day} 08:00").type(f"K2 searched {day - 1}")
    text = await page(story, "z", row="code W2+/A")
    assert "to Wed 5 May 08:00" in text


async def test_one_that_comes_is_a_mother_from_then_on(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, THREE)
    story.at("2027-05-02 08:00").type("K2 searched 6")
    story.type('K2 founder W5 "Callophrys montana"')
    story.at("2027-05-03 08:00")
    assert "mothers W2 W3 W4 W5" in story.type("K2 searched 2")[0]
