"""Who is hungry since when does not depend on which line was said first, only on when each happened."""

from __future__ import annotations

from itertools import permutations

import pytest

from tests.stories.telling import Story, tell

# All of K2 leave; that others came into it before that is said in any order. K4 is empty, and K5 is none of theirs.
BENCH = """
K2 set up laying
K3 set up laying
K4 set up laying
K5 set up laying
brood WIL-27-02/A taxon="Callophrys montana"
K2 stocked 2 adults WIL-27-02/A female
K3 stocked 3 adults WIL-27-02/A female
"""
# In the order in which it happened, each with when.
LINES = (
    "K3 drank 08:30",
    "K3 moved to K2 1 adult 09:00",
    "K2 moved to K4 2 adults 10:00",
    "K3 moved to K4 2 adults 11:00",
    "K5 moved to K3 1 adult 12:00",
)
# Nobody can tell the three apart that were in K2: the one that stayed may be one that waits since seven.
EXPECTED = {
    "K2": ("since 07:00", "not recorded yet"),
    "K3": (
        "since 07:30",
        "it was last recorded 08:30: drank, KM",
    ),  # in this cup; those that did are gone
    "K4": ("since 07:00", "2 of 4 drank 14 h 30 min ago, 2 not yet"),
    "K5": ("since 07:30", "not recorded yet"),
}
# Somebody must be in K3 as it is said that they drank.
ORDERS = [
    order
    for order in permutations(range(len(LINES)))
    if order.index(0) < max(order.index(1), order.index(3))
]


def hungry_since(story: Story) -> dict[str, tuple[str, str]]:
    """Of each cup, since when its females count as hungry, and who of them drank."""
    drinks = {code: story.due(code)["drink"] for code in EXPECTED}
    return {
        code: (drink["arithmetic"].partition(",")[0], drink["last"])
        for code, drink in drinks.items()
    }


@pytest.mark.parametrize("said", [*ORDERS[::12], ORDERS[-1]])
def test_any_order_of_saying_gives_the_same_hunger(story: Story, said: tuple[int, ...]) -> None:
    story.at("2027-05-01 07:00")
    tell(story, BENCH)
    story.at("2027-05-01 07:30").type("K5 stocked 3 adults WIL-27-02/A female")
    story.at("2027-05-01 23:00")
    other = story.on_other_laptop()
    for place, line in enumerate(said):
        (story, other)[place % 2].type(LINES[line])
    assert hungry_since(story) == hungry_since(other) == EXPECTED
    story.reopen()
    assert hungry_since(story) == EXPECTED
