"""How many of each brood are in a mixed cup at least and at most, as the page of the broods has it."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell

MIXED = """
R3 set up rearing
R4 set up rearing
brood BA taxon="Boloria dia"
brood BB taxon="Boloria dia"
R3 stocked 8 L1 BA
R3 stocked 5 L1 BB
R3 died 3 L1 not known
"""


async def shown(story: Story, code: str) -> tuple[str, str]:
    """The stock on the card of a container, and the page of the broods."""
    async with story.screens((150, 60)) as screen:
        screen.highlight(code)
        await screen.press("right")
        stock = next(row for row in screen.text.splitlines() if row.lstrip().startswith("stock "))
        await screen.press("escape", "z")
        return " ".join(stock.split()), screen.words


async def test_limits_stand_beside_the_number(story: Story) -> None:
    tell(story, MIXED)
    card, broods = await shown(story, "R3")
    assert "10 larvae L1 of BA or BB (5 to 8 of BA, 2 to 5 of BB)" in card
    assert "BA 5 alive, 3 not known which" in broods
    assert "BB 2 alive, 3 not known which" in broods


async def test_those_elsewhere_may_be_of_either(story: Story) -> None:
    tell(story, f"{MIXED}\nR3 moved 4 to R4 not known")
    card, broods = await shown(story, "R4")
    assert "4 larvae L1 of BA or BB (0 to 4 of BA, 0 to 4 of BB)" in card
    assert re.search(r"BA 5 alive", broods)


async def test_one_more_brood_among_them_makes_it_unknown(story: Story) -> None:
    tell(
        story, f"{MIXED}\nbrood BC taxon='Boloria dia'\nR3 stocked 2 L1 BC\nR3 died 1 L1 not known"
    )
    async with story.screens((150, 60)) as screen:
        screen.highlight("R3")
        await screen.press("right")
        assert "11 larvae L1 of BA or BB or BC, Boloria dia" in screen.words


@pytest.mark.parametrize("told", ["R3 counted 6 BA", "R3 counted 3 BB"])
async def test_a_count_of_one_tells(story: Story, told: str) -> None:
    tell(story, f"{MIXED}\n{told}")
    async with story.screens((150, 60)) as screen:
        screen.highlight("R3")
        await screen.press("right")
        assert " to " not in "".join(row for row in screen.text.splitlines() if "larvae L1" in row)
