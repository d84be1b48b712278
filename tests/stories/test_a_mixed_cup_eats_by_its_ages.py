"""What a cup of several instars eats is the sum of what each of them does."""

from __future__ import annotations

from tests.stories.telling import Story, tell

MIXED = """
taxon 'Pieris orata' instars=5
brood A-1 taxon='Pieris orata'
R1 set up rearing
R1 stocked 4 L3 A-1
R1 stocked 2 L4 A-1
R1 stocked 9 L5 A-1
R1 host in cress leaf water sprigs=6
R1 food plenty
"""


async def test_four_l3_two_l4_and_nine_l5_are_not_fifteen_last_instars(story: Story) -> None:
    """By hand: (9 x 1 + 6 x 0.25) a day, half a day: 5.25, so 6 stems; as 15 last instars it was 8."""
    tell(story, MIXED)
    async with story.screens(size=(120, 40)) as screen:
        await screen.press("k")
        text = " ".join(screen.text.split())
    assert "R1 (9 last instar x 1 + 6 L3-L4 x 0.25) a day x 0.5 d = 6" in text, text


async def test_of_last_instars_that_wander_the_younger_beside_them_eat(story: Story) -> None:
    tell(story, MIXED + "R1 wandering 9")
    async with story.screens(size=(120, 40)) as screen:
        await screen.press("k")
        text = " ".join(screen.text.split())
    assert "6 L3-L4 x 0.25 a day" in text, text
    assert "last instar x 1" not in text
