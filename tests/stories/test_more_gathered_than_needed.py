"""More warmth gathered than half of them need, and still some to come: the page says why, and what was not read."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def coming_page(story: Story) -> str:
    async with story.screens((120, 60)) as screen:
        await screen.press("full_stop")
        await screen.pilot.pause()
        return " ".join(screen.text.split())


async def test_who_has_not_pupated_though_most_would_have(story: Story) -> None:
    """Last instars that came in a week ago: '132 of 120 degree-days gathered', and half told in a week, without a word."""
    story.at("2027-07-01 07:00")
    tell(story, "shelf set up N\nN 18/26\nR2 set up rearing shelf=N")
    story.later(hours=1).type("R2 20 L5 Mamestra brassicae on Brassica oleracea")
    for day in range(2, 8):
        story.at(f"2027-07-{day:02} 07:10").type("N 18/26")
        if day == 5:
            story.later(hours=1).type("R2 pupated 4")
        if day >= 6:
            story.later(hours=1).type("R2 no change")
    (pupation,) = (
        one
        for one in story.desk.foresight.coming(story.desk.bench.containers["R2"])
        if one.change == "pupation"
    )
    assert pupation.need is not None
    assert pupation.half is not None
    assert pupation.degree_days > pupation.need.constant_dd
    assert pupation.half > story.clock.now
    # nothing was read before they came, and they may have begun it days before
    assert [start for start, _ in pupation.holes] == [pupation.begun_from]
    text = await coming_page(story)
    assert "more than half of them need: who is left began later or needs more" in text
    assert "nothing read" in text


async def test_eggs_of_a_day_need_no_such_word(story: Story) -> None:
    story.at("2027-07-01 07:00")
    tell(story, "room air 20C\nE2 set up rearing\nE2 20 eggs Mamestra brassicae laid 1 Jul 06:00")
    assert "more than half of them need" not in await coming_page(story)
