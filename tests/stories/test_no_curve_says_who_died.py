"""A page that draws no curve says of whom: dead that came in grown are in none, yet they died."""

from __future__ import annotations

from tests.stories.telling import Story

LISTED = "R4\t10 L3 Cucullia torvana\tmullein\t11 Jul\track 1\nP2\t6 pupae Cucullia torvana\t\t1 Jul\track 2\n"


async def test_the_dead_of_those_that_came_in_grown_are_told_beside_those_laid_here(
    story: Story,
) -> None:
    story.at("2027-07-12 18:05")
    assert story.shell("begin", "--list", "-", typed=LISTED).status == 0
    story.reopen()
    story.type(
        "R4 died 2",
        "P2 emerged 2 female",
        "C5 set up pairing",
        "P2 moved 1 female to C5",
        "C5 host in mullein",
    )
    story.type("C5 searched 12")
    async with story.screens((100, 40)) as screen:
        await screen.press("z", "enter")
        assert (
            "survival: none of those laid here died yet; 2 died that were not laid here: in no curve"
            in screen.words
        )
        assert "none died yet" not in screen.words


async def test_where_none_died_it_says_so(story: Story) -> None:
    story.at("2027-07-12 18:05")
    assert story.shell("begin", "--list", "-", typed=LISTED).status == 0
    story.reopen()
    async with story.screens((100, 40)) as screen:
        await screen.press("z", "enter")
        assert "survival: none died yet" in screen.words
