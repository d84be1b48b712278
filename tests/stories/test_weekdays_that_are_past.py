"""A weekday alone is the nearest of its name; what was last week has its date."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def test_a_danger_of_last_week_is_not_read_as_one_to_come(story: Story) -> None:
    story.at("2027-05-01 08:04")  # a Saturday
    tell(story, 'K2 set up laying\nK2 founder W2 "Hyles vespera"\nK2 drank')
    story.at("2027-05-08 08:00")
    (line,) = [line for line in story.shell("due").out.splitlines() if " drink " in line]
    assert "Sun" not in line
    assert "2 May 15:04" in line
    async with story.screens((110, 40)) as screen:
        screen.highlight("K2")
        await screen.pilot.pause()
        assert "Sun 08:04" not in screen.text
        assert "Sun 15:04" not in screen.text
        await screen.press("r")
        await screen.walk_to("drink", "K2")
        assert "Sun 08:04" not in screen.text
        assert "2 May 08:04" in screen.text


def test_yesterday_and_the_coming_days_keep_their_names(story: Story) -> None:
    story.at("2027-05-03 08:00")
    tell(story, 'K2 set up laying\nK2 founder W2 "Hyles vespera"\nK2 drank')
    (line,) = [
        line
        for line in story.at("2027-05-05 08:00").shell("due").out.splitlines()
        if " drink " in line
    ]
    assert "Tue 15:00" in line
