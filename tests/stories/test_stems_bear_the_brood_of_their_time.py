"""Eggs on kept stems are of the brood that was laid while the stems stood there, not of one begun when they came out."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def two_females(story: Story) -> Story:
    """W2 and W3 on plantain; brood A found on it; the plant changed by its key; one died, and they laid on: brood B."""
    story.at("2027-07-12 18:00")
    tell(story, "room 24\nK2 set up laying\nS6 set up host store")
    tell(
        story,
        'K2 founder W2 "Melitaea vespina" female\nK2 founder W3 "Melitaea vespina" female\nK2 host in plantain',
    )
    story.at("2027-07-13 07:15").type("K2 searched 4")
    story.at("2027-07-13 18:40")
    async with story.screens() as screen:
        screen.highlight("K2")
        await screen.press("h", "c")
    story.at("2027-07-15 07:10").type("K2 died 1 adult not known", "K2 searched 7")
    assert sorted(story.desk.bench.broods) == ["W2+/A", "W2+/B"]
    return story


async def test_larvae_under_the_stems_are_of_the_brood_of_their_time(story: Story) -> None:
    await two_females(story)
    story.at("2027-07-19 07:10").type("S6 frass trace lot=1")
    story.at("2027-07-19 18:05")
    async with story.screens() as screen:
        screen.highlight("S6")
        await screen.press("enter", "y")
    assert story.desk.bench.containers["S6"].lots[0].brood == "W2+/A"


async def test_eggs_found_on_them_later_are_of_the_brood_of_their_time(story: Story) -> None:
    await two_females(story)
    story.at("2027-07-19 07:10").type("S6 searched 3 lens lot=1")
    assert story.desk.bench.containers["S6"].lots[0].brood == "W2+/A"


def test_what_one_female_laid_on_kept_stems_was_laid_while_they_stood(story: Story) -> None:
    story.at("2027-07-12 18:00")
    tell(story, "K2 set up laying\nS6 set up host store")
    tell(story, 'K2 founder W2 "Melitaea vespina" female\nK2 host in plantain')
    story.at("2027-07-13 18:40").type("K2 host out held in S6", "K2 host in plantain")
    story.at("2027-07-14 07:10").type("S6 searched 3")
    brood = story.desk.bench.broods["W2/A"]
    assert f"{brood.laid_from:%d %H:%M}" == "12 18:00"
    assert f"{brood.laid_to:%d %H:%M}" == "13 18:40"
    lot = story.desk.bench.containers["S6"].lots[0]
    assert (f"{lot.begun_after:%d %H:%M}", f"{lot.latest:%d %H:%M}") == ("12 18:00", "13 18:40")


async def test_eggs_of_one_female_found_late_on_stems_move_the_laying_of_her_brood_back(
    story: Story,
) -> None:
    story.at("2027-07-12 18:00")
    tell(story, "room 24\nK2 set up laying\nS6 set up host store")
    tell(story, 'K2 founder W2 "Melitaea vespina" female\nK2 host in plantain')
    story.at("2027-07-13 18:40")
    async with story.screens() as screen:
        screen.highlight("K2")
        await screen.press("h", "c")
    story.at("2027-07-15 07:10").type("K2 searched 7")
    story.at("2027-07-16 07:10").type("S6 searched 3 lot=1")
    lot = story.desk.bench.containers["S6"].lots[0]
    brood = story.desk.bench.broods[lot.brood]
    assert (f"{lot.begun_after:%d %H:%M}", f"{lot.latest:%d %H:%M}") == ("12 18:00", "13 18:40")
    assert f"{brood.laid_from:%d %H:%M}" == "12 18:00"
