"""Old stems that are changed go where stems are kept, never into any cup that happens to be empty."""

from __future__ import annotations

from tests.stories.telling import Story, tell

LAYING = """
    K2 set up laying
    K2 founder W2 "Boloria lapidata" female
    K2 host in viola
    E6 set up eggs
    """
OTHERS = """
    K3 set up laying
    K3 founder W3 "Melitaea ardua" female
    K3 host in plantago
    """


async def _changed(story: Story, code: str) -> str:
    async with story.screens((110, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("host", code)
        await screen.press("c")
    out = [
        line for line in story.on_disk() if line["what"] == "host out" and line["container"] == code
    ]
    return str(out[-1].get("held_in", ""))


async def test_to_the_host_store_where_one_stands(story: Story) -> None:
    tell(story, LAYING + "    S6 set up host store")
    story.later(days=1)
    assert await _changed(story, "K2") == "S6"
    assert not story.desk.bench.containers["E6"].held


async def test_to_where_her_stems_went_before(story: Story) -> None:
    tell(story, LAYING + "    S6 set up host store\n    S7 set up host store")
    story.later(hours=6).type("K2 host out held_in=S7", "K2 host in viola")
    story.later(days=1)
    assert await _changed(story, "K2") == "S7"


async def test_not_among_stems_of_another_species(story: Story) -> None:
    tell(story, LAYING + OTHERS)
    story.later(hours=6).type("K3 host out held_in=E6", "K3 host in plantago")
    story.later(days=1)
    assert await _changed(story, "K2") != "E6"


async def test_to_an_empty_egg_cup_where_no_store_stands(story: Story) -> None:
    tell(story, LAYING)
    story.later(days=1)
    assert await _changed(story, "K2") == "E6"
