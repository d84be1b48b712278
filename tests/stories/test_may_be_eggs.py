"""What may be eggs: each sighting is its own, on its plant, until a lens settles it."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

CUP = """
K2 set up laying
K2 founder W3 "Callophrys montana"
K2 host in Vaccinium 3 sprigs
K2 host in Genista 3 sprigs
"""


def seen_on_two_plants(story: Story) -> None:
    tell(story, CUP)
    story.later(hours=24).type(
        "K2 searched unsure=2 plant=Vaccinium", "K2 searched unsure=3 plant=Genista"
    )


async def shown(story: Story, code: str) -> str:
    """What the bench shows of a container, card and all."""
    async with story.screens(size=(160, 50)) as screen:
        screen.highlight(code)
        await screen.pilot.pause()
        return " ".join(screen.text.split())


async def test_each_is_confirmed_on_its_plant(story: Story) -> None:
    seen_on_two_plants(story)
    assert "5 unsure" in await shown(story, "K2")
    story.type("K2 confirmed 3 plant=Genista")
    assert "2 unsure" in await shown(story, "K2")
    story.type("K2 confirmed 2 plant=Vaccinium")
    text = await shown(story, "K2")
    assert "unsure" not in text
    assert "5 eggs" in text


async def test_not_eggs_on_one_plant_leaves_the_other(story: Story) -> None:
    seen_on_two_plants(story)
    story.type("K2 not eggs plant=Genista")
    assert "2 unsure" in await shown(story, "K2")
    assert "nothing seen that was not sure on Genista; there are 2 on Vaccinium" in story.refused(
        "K2 confirmed 1 plant=Genista"
    )


def test_some_of_those_on_two_plants_are_asked_about(story: Story) -> None:
    seen_on_two_plants(story)
    asked = story.refused("K2 confirmed 2")
    assert (
        "5 are not sure in K2; say which, as: K2 confirmed 2 plant=Vaccinium and K2 confirmed 3 plant=Genista"
        in asked
    )
    story.type("K2 confirmed 5")


async def test_at_the_stop_one_sighting_after_the_other(story: Story) -> None:
    seen_on_two_plants(story)
    story.later(hours=24)
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "K2")
        assert "2 unsure on Vaccinium" in screen.text
        await screen.press("y")
    assert story.on_disk()[-1]["plant"] == "Vaccinium"
    assert "3 unsure" in await shown(story, "K2")


@pytest.mark.parametrize(("key", "eggs"), [("e", 2), ("o", 0)])
async def test_at_kept_stems_two_keys_say_what_they_are(story: Story, key: str, eggs: int) -> None:
    story.type("K2 1f Pieris napi on Alliaria", "K2 host out kept 6", "K2 released 1")
    story.later(hours=24).type("K2 2 unsure on kept stems")
    story.later(days=3).type("K2 looked")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("frass", "K2")
        assert "e the 2 unsure: eggs o the 2 unsure: no eggs" in screen.words, screen.text
        await screen.press(key)
    assert not story.desk.bench.containers["K2"].unsure
    assert story.desk.bench.containers["K2"].count("egg") == eggs
