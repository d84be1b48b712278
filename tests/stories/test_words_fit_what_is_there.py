"""What is said of a male, of an empty cup and of an animal without a name is true of them."""

from __future__ import annotations

import re

from tests.stories.telling import Story, tell
from tests.stories.test_whose_eggs import page

HELD = """
    permit P-1 hold_hours=48
    K2 set up laying
    K2 founder W1 "Hyles vespera" {sex} permit=P-1
    """


async def test_a_male_whose_time_is_up_is_a_he(story: Story) -> None:
    for sex, whose in (("male", "him"), ("female", "her")):
        book = Story(story.folder.with_name(sex), story._monkeypatch).at("2027-05-01 08:00")
        tell(book, HELD.format(sex=sex))
        book.at("2027-05-04 08:00")
        async with book.screens((110, 40)) as screen:
            await screen.press("r")
            await screen.walk_to("release", "K2")
            assert f"The last day to release {whose} is over. Did you?" in screen.text
            assert f"lets {'him' if sex == 'male' else 'her'} be held" in " ".join(
                screen.text.split()
            )


async def test_all_of_a_cup_are_they(story: Story) -> None:
    tell(story, 'K2 set up laying\nbrood E1 taxon="Hyles vespera"')
    story.type("K2 stocked 3 adults E1", "K2 release by +2h")
    async with story.later(hours=3).screens((110, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("release", "K2")
        assert "The last day to release them is over. Did you?" in screen.text


async def test_the_page_of_a_male_says_he(story: Story) -> None:
    tell(
        story,
        'K2 set up laying\nK2 founder M1 "Hyles vespera" male\nK2 founder W1 "Hyles vespera" female',
    )
    shown = " ".join((await page(story, "z", row="code M1")).split())
    assert "when he was caught is not recorded" in shown
    shown = " ".join((await page(story, "z", row="code W1")).split())
    assert "when she was caught is not recorded" in shown


async def test_a_small_screen_shows_what_is_pressing_and_why(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, 'K2 set up laying\nK2 founder W1 "Hyles vespera" female\nK2 drank')
    async with story.later(hours=30).screens((40, 10)) as screen:
        assert "in danger" in screen.text or "urgent" in screen.text
        assert "drink" in screen.text


async def test_laying_of_a_species_not_said_has_no_empty_heading(story: Story) -> None:
    tell(story, "brood E1\nK2 set up laying\nK2 stocked 2 adults female E1\nK2 host in plum")
    story.later(days=1)
    story.type("K2 searched 3 brood=E1")
    shown = await page(story, "i")
    assert "\n , day by day" not in shown
    assert "species not recorded, day by day" in shown


async def test_hours_of_a_cups_own_are_told_as_its_own(story: Story) -> None:
    tell(
        story,
        'K2 set up laying\nK3 set up laying\nK2 founder W1 "Hyles vespera"\nK3 founder W2 "Hyles vespera"',
    )
    story.type("plan drink container=K2 every_h=9")
    async with story.later(hours=11).screens((110, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("drink", "K2")
        await screen.press("w")
        assert "plan: K2" in screen.text or "plan, K2" in screen.text
        assert "laying: every 9" not in screen.text


async def test_an_empty_cup_stands_on_the_bench(story: Story) -> None:
    story.type("K2 set up laying")
    async with story.screens((80, 24)) as screen:
        assert "K2" in screen.text
        assert "Nothing stands" not in screen.text


def test_the_first_start_says_what_it_asks(story: Story) -> None:
    ran = story.shell("begin", typed="My bench\n49.2N 0.4W Europe/Paris\n1\nL2 laying\n\n\n")
    assert "Five questions lead to your first round" in ran.out.splitlines()[0]
    asked = [line for line in ran.out.splitlines() if re.match(r"\d  .*[?.]$", line)]
    assert [line[0] for line in asked] == ["1", "2", "3", "4", "5"]
    assert "2  Where is it on the map?" in asked[1]
    assert "3  In which units?" in asked[2]
