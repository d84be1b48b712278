"""Eggs found when she was gone, and deaths of those that were moved, stand where they belong."""

from __future__ import annotations

from tests.stories.telling import Story, tell

BASE = """
taxon 'Saturnia montis' short=montis instars=5
K4 set up laying
K4 founder W6 'Saturnia montis' sex=female
brood A-3 mothers=W6
"""
FED = """
R2 set up rearing
R4 set up rearing
R5 set up rearing
R2 stocked A-3 20 larvae L2
R4 stocked A-3 3 larvae L3
R2 host in "Frangula alnus" batch=A sprigs=6
"""


async def test_eggs_found_when_she_was_gone_are_in_the_table_and_in_the_days(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, BASE + 'K4 host in "Frangula alnus" batch=C sprigs=3')
    story.at("2027-05-02 06:00").type("K4 searched 9 brood=A-3")
    story.at("2027-05-02 20:00").type("K4 died 1 adult")
    story.at("2027-05-03 06:00").type("K4 searched 7 brood=A-3")
    async with story.screens((110, 60)) as screen:
        await screen.press("i")
        text = screen.text
    assert "16" in text
    days = [line for line in text.splitlines() if "2 May" in line or "02 May" in line]
    assert any(" 16 " in f"{line} " for line in days), text


async def page_of_cuttings(story: Story) -> str:
    async with story.screens((140, 40)) as screen:
        await screen.press("8")
        return screen.text


async def test_deaths_of_those_that_were_moved_count_for_what_they_had_eaten(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, BASE + FED)
    story.later(hours=5).type("R2 moved 8 to R4")
    story.later(hours=1).type("R4 died 4 L2")
    text = await page_of_cuttings(story)
    assert "4 deaths within a day" in text
    assert "4 in R4" in text
    assert "4 DIED" in text


async def test_after_a_split_and_a_merge_too_and_not_those_that_never_had_it(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, BASE + FED)
    story.later(hours=5).type("R2 split into R5 8")
    story.type("R4 merged sources=R5")
    story.later(hours=1).type("R4 died 3 L3", "R4 died 2 L2")
    text = await page_of_cuttings(story)
    assert "2 deaths within a day" in text
    assert "2 in R4" in text


async def test_days_after_they_left_it_is_not_laid_to_it(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, BASE + FED)
    story.later(hours=5).type("R2 moved 8 to R4")
    story.later(hours=30).type("R4 died 4 L2")
    assert "none died within a day" in await page_of_cuttings(story)


async def test_two_broods_alike_are_one_sum(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(
        story,
        BASE + "K4 founder W7 'Saturnia montis' sex=female\nK4 host in 'Frangula alnus' batch=C",
    )
    text = await page_of_cuttings(story)
    assert "2 adults" in text
    assert "1 adult, 1 adult" not in text
