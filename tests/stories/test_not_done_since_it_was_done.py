"""How long a check was not done is counted from when it was done last, on the bench as on the card."""

from __future__ import annotations

from tests.stories.telling import Story, tell

LARVAE = """
brood EH taxon='Endromis alta'
C1 set up rearing
C1 stocked 30 larvae L4 EH
C1 host in birch 9 stems
C1 cleaned
"""


async def test_a_moult_does_not_clean_the_cup(story: Story) -> None:
    tell(story.at("2027-05-01 07:00"), LARVAE)
    story.later(days=2).type("C1 moulted 30 to L5")
    for _ in range(8):
        story.later(hours=11).type("C1 host in birch 9 stems", "C1 looked fine", "C1 counted 30")
        story.type("C1 frass plain")
    async with story.screens((120, 40)) as screen:
        assert "have not been cleaned for 5 d 16 h" in screen.words
        screen.highlight("C1")
        await screen.pilot.pause()
        assert "last recorded 1 May 07:00: cleaned" in screen.words


async def test_those_that_came_later_have_not_waited_longer(story: Story) -> None:
    tell(story.at("2027-05-01 07:00"), LARVAE.replace("C1 stocked 30 larvae L4 EH\n", ""))
    story.later(days=9).type("C1 stocked 30 larvae L5 EH")
    for _ in range(8):
        story.later(hours=11).type("C1 host in birch 9 stems", "C1 looked fine", "C1 counted 30")
        story.type("C1 frass plain")
    async with story.screens((120, 40)) as screen:
        assert "have not been cleaned for 3 d 16 h" in screen.words
