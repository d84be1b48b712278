"""On a narrow screen without colours the word that says how late a line is stays whole."""

from __future__ import annotations

from tests.stories.telling import Story, tell

BEGIN = """
shelf set up kitchen window sill moat
K2 set up laying shelf="kitchen window sill" place=1
K2 founder MOR-27-01, Melitaea cinxia female
B3 set up eggs
K2 host in plantago leaf 9 sprigs
"""

WORST_FIRST = ("in danger", "urgent", "late", "due", "in order")


def row_of(text: str, code: str) -> str:
    return next(line for line in text.splitlines() if line.lstrip(" >#=:.~").startswith(f"{code} "))


async def drawn(story: Story, code: str) -> str:
    async with story.screens() as screen:
        return row_of(screen.text, code)


async def test_a_box_of_stems_says_how_late_its_look_is(story: Story) -> None:
    story.at("2027-05-22 07:00")
    tell(story, BEGIN)
    story.at("2027-05-24 07:00").type("K2 host out held in B3")
    assert "late" not in await drawn(story, "B3")
    said = set()
    for _ in range(24):
        story.later(hours=12)
        if "look" in story.due("B3"):
            story.type("B3 looked")
        state = min(
            (one["state"] for one in story.due("B3").values()),
            key=WORST_FIRST.index,
            default="in order",
        )
        row = await drawn(story, "B3")
        said.add(state)
        if state == "in order":
            assert "look" in row or "mist" in row, row
        else:
            assert {"due": "now"}.get(state, state) in row, (state, row)
    assert {"late", "urgent", "in danger"} <= said


async def test_hatched_says_how_late(story: Story) -> None:
    story.at("2027-05-22 07:00")
    tell(story, BEGIN)
    story.at("2027-05-24 07:00").type("K2 host out held in B3")
    story.at("2027-06-03 07:00").type("B3 frass plain")
    story.later(hours=60)
    assert "turn" in story.due("B3")
    assert "in danger" in await drawn(story, "B3")


async def test_a_long_shelf_name_does_not_hide_the_ants(story: Story) -> None:
    story.at("2027-05-22 07:00")
    tell(story, BEGIN)
    story.type("barrier bridged shelf='kitchen window sill' ants_above=3")
    assert "ants past" in await drawn(story, "K2")
