"""A question for several marked lines has the keys that fit all of them, wherever the cursor stands."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    """Eggs, larvae and eggs."""
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        brood T1 taxon='Callophrys montana'
        E1 set up eggs
        E1 stocked 41 eggs brood=T1
        E2 set up eggs
        E2 stocked 20 eggs brood=T1
        R1 set up rearing
        R1 stocked 5 L2 brood=T1
        """,
    )
    return story.later(hours=11)


def looks(story: Story) -> list[tuple[str, str]]:
    """What was seen, and where."""
    return [(one["container"], one["sign"]) for one in story.on_disk() if one["what"] == "looked"]


async def test_the_keys_are_those_of_the_marked_line(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("E1")
        await screen.press("space")
        screen.highlight("R1")
        await screen.press("l")
        assert "E1: What do you see?" in screen.text
        assert "k darkening" in screen.words
        assert "s not moving" not in screen.words
        await screen.press("s")
        assert looks(bench) == []
        await screen.press("k")
    assert looks(bench) == [("E1", "darkening")]


async def test_larvae_do_not_darken(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("R1")
        await screen.press("space")
        screen.highlight("E1")
        await screen.press("l", "k")
        assert looks(bench) == []
        await screen.press("s")
    assert looks(bench) == [("R1", "still")]


async def test_several_have_the_keys_that_fit_them_all(bench: Story) -> None:
    async with bench.screens() as screen:
        for code in ("E1", "R1"):
            screen.highlight(code)
            await screen.press("space")
        screen.highlight("R1")
        await screen.press("l")
        assert "E1, R1: What do you see?" in screen.text
        assert "s not moving" not in screen.words
        assert "k darkening" not in screen.words
        await screen.press("g")
    assert looks(bench) == [("E1", "mould"), ("R1", "mould")]


async def test_several_of_one_stage_keep_all_their_keys(bench: Story) -> None:
    async with bench.screens() as screen:
        for code in ("E1", "E2"):
            screen.highlight(code)
            await screen.press("space")
        screen.highlight("R1")
        await screen.press("l", "k")
    assert looks(bench) == [("E1", "darkening"), ("E2", "darkening")]


async def test_food_of_larvae_and_host_of_females_are_not_one_question(bench: Story) -> None:
    bench.type(
        "K1 set up laying", 'K1 founder W1 "Callophrys montana"', "K1 host in Vaccinium 3 sprigs"
    )
    async with bench.screens() as screen:
        screen.highlight("K1")
        await screen.press("space")
        screen.highlight("R1")
        await screen.press("h")
        assert screen.check == "host"
        assert "K1: " in screen.text
        await screen.press("escape")
        screen.highlight("R1")
        await screen.press("space", "h")
        assert screen.check == ""
        assert "K1 is asked about its host, R1 about its food" in screen.message


async def test_why_space_answers_nothing_is_said_where_the_usual_answers_differ(
    bench: Story,
) -> None:
    bench.type("R2 set up rearing", "R2 stocked 5 L2 brood=T1", "R2 looked still")
    before = bench.on_disk()
    async with bench.screens((120, 40)) as screen:
        for code in ("R1", "R2"):
            screen.highlight(code)
            await screen.press("space")
        await screen.press("l")
        assert "Space not for all: as usual (R1), not moving as before (R2)" in screen.words
        await screen.press("space")
        assert (
            screen.message
            == "Space is not for all: as usual (R1), not moving as before (R2); ask each alone"
        )
        assert bench.on_disk() == before
