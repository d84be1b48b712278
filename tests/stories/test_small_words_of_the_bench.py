"""Small words of the bench and of the map, each of which a stranger asked about."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def test_eggs_of_which_some_hatched_are_hatching(story: Story) -> None:
    lines = ("E7 set up eggs", "E7 60 eggs Boloria dia", "E7 looked darkening")
    story.at("2027-05-17 18:00").type(*lines)
    async with story.at("2027-05-18 07:00").screens((120, 40)) as screen:
        assert "dark 13 h, no leaf" in screen.words
        assert "eggs are dark, no leaf is in, since Mon 18:00" in screen.card, screen.text
    story.type("E7 hatched 30")
    async with story.screens((120, 40)) as screen:
        assert "dark 13 h" not in screen.words, screen.text
        assert "hatching, no leaf" in screen.words


async def test_the_time_on_the_right_says_since_when_there_is_danger(story: Story) -> None:
    lines = ("E7 set up eggs", "E7 60 eggs Boloria dia", "E7 looked darkening")
    story.at("2027-05-17 18:00").type(*lines)
    async with story.at("2027-05-19 07:00").screens((120, 40)) as screen:
        row = next(row for row in screen.text.splitlines() if " in danger  E7 " in row)
        assert "eggs are dark, no leaf is in" in row
        assert row.rstrip().endswith("danger since 00:00"), screen.text


async def test_one_word_for_larvae_that_are_not_seen(story: Story) -> None:
    tell(story.at("2027-05-17 18:00"), "R2 set up rearing\nR2 9 L5 Boloria dia\nR2 missing 1")
    async with story.screens() as screen:
        assert "1 not seen" in screen.words
        await screen.press("m")
        assert "1 not seen" in screen.words, screen.text
        assert "1 missing" not in screen.words


async def test_the_colours_of_what_is_coming_are_explained(story: Story) -> None:
    story.at("2027-05-17 18:00").type("E7 set up eggs", "E7 60 eggs Boloria dia")
    async with story.screens() as screen:
        await screen.press("full_stop")
        assert "within 14 h" in screen.words, screen.text


async def test_of_many_stages_the_rest_is_called_more(story: Story) -> None:
    story.at("2027-05-17 18:00").type("R2 set up rearing", "R2 9 L5 Boloria dia")
    story.type("R2 4 L4 BOL-27-01", "R2 2 L3 BOL-27-01", "R2 1 L2 BOL-27-01")
    async with story.screens() as screen:
        assert "+ 7 more" in screen.words or "+ 3 more" in screen.words, screen.text
