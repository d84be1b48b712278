"""A rule that is switched off leaves nothing of its state on the bench, and on again tells it again."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def bench_row(story: Story) -> str:
    """The line of K2 on the bench."""
    async with story.screens((120, 40)) as screen:
        return next(row for row in screen.text.splitlines() if " K2 " in row)


async def test_a_drink_that_is_not_asked_for_is_not_missed(story: Story) -> None:
    story.at("2027-05-01 18:00")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W3 "Boloria dia" female place="Bank A" caught=2027-05-01
        K2 host in violet
        """,
    )
    assert "not drunk" in await bench_row(story.later(minutes=30))
    story.type("plan drink off why='fed by a neighbour'")
    row = await bench_row(story)
    assert "drunk" not in row
    assert "violet" in row
    story.type("plan drink off=no why='fed here again'")
    assert "not drunk" in await bench_row(story)
