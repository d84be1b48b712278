"""A gap in the readings of a place apart is not filled with those of the room."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def _sleeve(story: Story, *room: str) -> None:
    story.at("2026-09-14 20:00")
    tell(
        story,
        """
        constants 'Arctia lenta' stage=L3 lower_c=10 constant_dd=52
        shelf set up garden apart
        brood B5 taxon='Arctia lenta'
        R5 set up rearing
        R5 stocked 30 L2 B5
        garden 6/18
        room 14/20
        """,
    )
    story.at("2026-09-23 20:00").type("R5 looked")
    story.at("2026-09-24 08:00").type(
        "R5 moulted 30 L3", "S2 set up rearing shelf=garden", "R5 moved 30 larvae to S2"
    )
    if room:
        story.at("2026-09-28 08:00").type(room[0])
    story.at("2026-10-04 08:00").type("garden 6/18", *room[1:])


async def _moult(story: Story) -> str:
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop")
        await screen.pilot.pause()
        (moult,) = [row for row in screen.text.splitlines() if "S2 moult" in row]
        assert moult.startswith(">")
        return " ".join(screen.text.split()).partition("why ")[2].partition(" degree-days")[0]


async def test_ten_days_outdoors_are_ten_days_outdoors(story: Story) -> None:
    """At 6 to 18 C a day has 2.7 degree-days above 10 C (single sine, by hand); ten of them are 27, and the night in the room 2."""
    _sleeve(story, "room 14/20", "room 14/20")
    gathered, _, need = (await _moult(story)).partition(" of ")
    assert need == "52"
    assert 27 <= int(gathered) <= 30


async def test_what_was_read_in_the_room_meanwhile_changes_nothing(story: Story) -> None:
    _sleeve(story, "room 24/30", "room 24/30")
    assert 27 <= int((await _moult(story)).partition(" of ")[0]) <= 30
