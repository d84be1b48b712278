"""Hands are washed on the way back from a suspect, whatever a round in some minutes left out there."""

from __future__ import annotations

from rounds.screens.round_screen import RoundScreen
from tests.stories.telling import Screen, Story, tell

BENCH = """
shelf set up loft
brood B1 taxon='Aglia tau'
R3 set up rearing shelf=loft place=1
R3 stocked 2 L3 B1
R3 host in beech leaf
R4 set up rearing shelf=loft place=2
R4 stocked 3 L3 B1
"""


async def walked(screen: Screen) -> list[str]:
    """Where the walk leads with the usual answer to each question; 'wash' where hands are to be washed."""
    led: list[str] = []
    for _ in range(60):
        here = screen.app.screen
        if not isinstance(here, RoundScreen) or here.page.done:
            return led
        if here.page.between:
            await screen.press("enter")
            continue
        place = "wash" if here.page.wash else screen.where
        if led[-1:] != [place]:
            led.append(place)
        question = here.page.question
        if here.page.wash:
            await screen.press("enter")
        elif question is not None and question.usual is not None:
            await screen.press("space")
        else:
            await screen.press("minus", "m")
    return led


async def test_from_a_suspect_whose_look_was_left_out_back_to_healthy_larvae_hands_are_washed(
    story: Story,
) -> None:
    story.at("2027-05-11 18:00")
    tell(story, BENCH)
    story.at("2027-05-12 18:00")
    story.type(
        "R3 suspect pale and limp", "R3 looked", "R4 looked", "R4 host in beech leaf", "room 20"
    )
    story.at("2027-05-13 07:05")
    async with story.screens() as screen:
        await screen.press("1", "r", "enter")
        led = await walked(screen)

    back = [place for place in range(1, len(led)) if led[place - 1] == "R3" and led[place] != "R3"]
    assert "R3" in led, led
    assert all(led[place] == "wash" for place in back), led
    assert any(one != "wash" for one in led[led.index("R3") + 1 :]), led
