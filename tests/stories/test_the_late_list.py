"""The list of what is late: the worst first, each with the sign and the word of its state."""

from __future__ import annotations

from tests.stories.telling import Story, tell

BENCH = """
K2 set up laying
K2 founder W3 "Boloria dia" female place="Bank A" caught=2027-04-28
R4 set up rearing
brood DIA-27/A taxon='Boloria dia'
R4 host in Viola water
R4 stocked 4 L3 DIA-27/A
shelf set up sill moat
K2 changed shelf=sill
sill moat full
"""


async def test_the_worst_is_first_and_says_so(story: Story) -> None:
    story.at("2027-05-01 18:00")
    tell(story, BENCH)
    async with story.at("2027-05-02 23:00").screens() as screen:
        await screen.press("v")
        states = [
            (row[1], state)
            for row in screen.text.splitlines()[2:]
            for state in ("in danger", "urgent", "late")
            if f" {state} " in row[20:36] + " "
        ]
    assert len(states) > 3
    assert len({state for _, state in states}) > 1
    order = ["in danger", "urgent", "late"]
    assert [order.index(state) for _, state in states] == sorted(
        order.index(state) for _, state in states
    )
    signs = {"in danger": "#", "urgent": "=", "late": ":"}
    assert all(sign == signs[state] for sign, state in states), states
