"""Where two plants stand with a female, a search that found eggs is asked on which of them, by one key and at the prompt."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

TREFOIL, SAINFOIN = "Lotus corniculatus", "Onobrychis viciifolia"
CUP = f"""
L3 set up laying
L3 founder W4 "Polyommatus icarus" female
L3 host in "{TREFOIL}"
L3 host in "{SAINFOIN}"
"""


@pytest.fixture
def cup(story: Story) -> Story:
    story.at("2027-06-10 08:00")
    tell(story, CUP)
    return story.at("2027-06-12 08:00")


def finds(story: Story) -> list[tuple[int, str]]:
    searches = (one for one in story.on_disk() if one["what"] == "searched")
    return [(one["found"], one.get("plant", "")) for one in searches]


def test_at_the_prompt(cup: Story) -> None:
    asked = cup.refused("L3 searched 4 lens")
    assert f"4 found: on which plant? L3 has {TREFOIL} and {SAINFOIN}" in asked
    assert f"add on {TREFOIL} or on {SAINFOIN}, or not known" in asked
    assert finds(cup) == []
    cup.type("L3 searched 4 lens on Lotus", "L3 searched 2 not known")
    assert finds(cup) == [(4, TREFOIL), (2, "")]


@pytest.mark.parametrize("line", ["L3 searched 0", "L3 searched 5 on gauze", "L3 searched, none"])
def test_it_is_not_asked_where_nothing_hangs_on_it(cup: Story, line: str) -> None:
    cup.type(line)
    assert [plant for _, plant in finds(cup)] == [""]


@pytest.mark.parametrize(("key", "plant"), [("1", TREFOIL), ("2", SAINFOIN), ("k", "")])
async def test_one_key_in_the_round(cup: Story, key: str, plant: str) -> None:
    async with cup.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "L3")
        await screen.press("4", "enter")
        assert "4 found: on which plant?" in screen.words
        await screen.press(key)
    assert finds(cup) == [(4, plant)]


async def test_none_found_is_one_key_as_before(cup: Story) -> None:
    async with cup.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "L3")
        await screen.press("0")
    assert finds(cup) == [(0, "")]
