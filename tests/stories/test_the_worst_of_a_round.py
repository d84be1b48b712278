"""A round goes by groups and shelves; what is in danger far behind is named as it begins."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell

BENCH = """
    shelf set up upper place=1
    shelf set up lower place=2
    E2 set up eggs shelf=upper place=1
    E2 20 eggs Boloria dia
    R2 set up rearing shelf=upper place=2
    R2 9 L5 Boloria dia
    R2 host in viola
    K2 set up laying shelf=lower place=1
    K2 2f Boloria dia
    K2 host in viola
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """Larvae are fed, the females have not drunk for two days."""
    tell(story.at("2027-05-17 07:00"), BENCH)
    story.at("2027-05-19 07:00").type("R2 host in viola", "R2 looked", "R2 cleaned", "E2 looked")
    return story


async def test_the_first_stop_names_the_worst_and_one_key_goes_there(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r")
        assert screen.where == "", screen.text  # the room
        assert "x suspect" not in screen.words, screen.text
        assert "# in danger K2 drink, stop 3; key ! goes there first" in screen.words, screen.text
        await screen.press("!")
        assert (screen.check, screen.where) == ("drink", "K2")
        assert "goes there first" not in screen.words
        await screen.press("!")
        assert screen.message == "no other stop of this round is worse than this one"
        await screen.press("d")
        await screen.press("space")
        while screen.where == "K2":
            await screen.press("minus", "m")
        assert screen.where == "", screen.text


async def test_a_round_in_minutes_names_it_before_it_begins(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("3", "0", "r")
        assert re.search(r"# in danger K2 drink, stop \d of \d", screen.words), screen.text
        told = re.findall(r"K2 drink, stop (\d)", screen.words)
        await screen.press("enter")
        assert re.findall(r"K2 drink, stop (\d);", screen.words) == told, screen.text
        await screen.press("!")
        assert re.findall(r"stop (\d) of", screen.words) == told, screen.text


async def test_the_drawing_agrees_with_the_number_of_the_stop(bench: Story) -> None:
    async with bench.screens((120, 40)) as screen:
        await screen.press("r")
        for _ in range(8):
            number, of, drawn = re.findall(r"stop (\d+) of (\d+) *\[(-*)", screen.text)[0]
            assert len(drawn) == 20 * (int(number) - 1) // int(of), screen.text
            if int(number) == int(of):
                break
            await screen.press("minus", "z", "m")
        assert drawn


async def test_the_drawing_shows_a_cell_from_the_second_stop_on(story: Story) -> None:
    cups = [f"P{cup} 3 pupae Boloria dia" for cup in range(1, 31)]
    story.type(*cups)
    async with story.later(hours=26).screens() as screen:
        await screen.press("r", "right")
        number, drawn, rest = re.findall(r"stop (\d+) of \d+ *\[(-*)( *)\]", screen.text)[0]
        assert number == "2", screen.text
        assert drawn == "-", screen.text
        assert 1 + len(rest) < 20, screen.text  # in 80 cells it is drawn shorter


async def test_the_worst_is_named_until_nothing_is_worse(story: Story) -> None:
    """One answer is given, another danger stands: the line stays, then names the next."""
    tell(story.at("2027-05-17 07:00"), BENCH)
    story.type("K4 set up laying shelf=lower place=2", "K4 1f Boloria dia")
    story.at("2027-05-19 07:00").type("R2 host in viola", "R2 looked", "R2 cleaned", "E2 looked")
    async with story.screens() as screen:
        await screen.press("r", "2", "2", "enter")
        assert "# in danger K2 drink, stop 3; key ! goes there first" in screen.words, screen.text
        await screen.press("!")
        assert "goes there first" not in screen.words, screen.text
        await screen.press("d")
        assert screen.where == "K2", screen.text
        assert "# in danger K4 drink, stop 4; key ! goes there first" in screen.words, screen.text
        await screen.press("!")
        assert (screen.check, screen.where) == ("drink", "K4")
        await screen.press("minus", "m")
        for _ in range(5):  # what was passed over is not in the way before its turn
            assert ("# in danger K4" in screen.words) == ("passed over before" in screen.words)
            await screen.press("minus", "z", "m")


def test_on_lines_the_worst_is_named_again_only_where_it_is_another(bench: Story) -> None:
    told = bench.plain(["22", " ", " ", " ", "quit"])
    assert sum("goes there first" in line for line in told) == 1, told


def test_what_is_in_danger_is_read_out_before_the_shelves(bench: Story) -> None:
    assert bench.shell("shelves").out.startswith("in danger: K2, drink.\n")
    assert bench.shell("shelves", "--short").out.startswith("in danger: K2, drink.\n")


async def test_a_sentence_says_days_in_one_way(bench: Story) -> None:
    """She came two days ago; she is in danger since yesterday, so that what is of today says so."""
    async with bench.at("2027-05-18 14:00").screens((120, 40)) as screen:
        screen.highlight("K2")
        await screen.pilot.pause()
        told = re.search(r"since Mon 07:00, .*? in danger from about 14:00( today)?", screen.card)
        assert told, screen.card
        assert told.group(1), screen.card


def test_on_lines_it_is_the_same(bench: Story) -> None:
    told = bench.plain(["!", "quit"])
    assert any("K2 drink, stop 3; key ! goes there first" in line for line in told), told
    at = next(place for place, line in enumerate(told) if "goes there first" in line)
    assert any("drink" in line.lower() for line in told[at + 1 :])


async def test_each_stop_has_a_number_of_its_own_after_the_worst(bench: Story) -> None:
    bench.type("K2 host changed", "K2 searched 0", "K2 kept stems discarded sure")
    async with bench.screens() as screen:
        await screen.press("r", "!")
        for _ in range(6):
            if screen.where == "K2":
                await screen.press({"drink": "d", "change": "k"}.get(screen.check, "space"))
        numbers = []
        for _ in range(2):
            numbers += re.findall(r"stop (\d) of", screen.words)
            await screen.press("right")
        assert numbers == ["2", "3"], screen.text


async def test_how_many_more_are_urgent_is_said_beside_the_worst(story: Story) -> None:
    tell(story.at("2027-05-17 07:00"), BENCH)
    story.type("K3 set up laying shelf=lower", "K3 2f Boloria dia")
    story.at("2027-05-19 07:00").type("R2 host in viola", "R2 looked", "R2 cleaned", "E2 looked")
    async with story.screens() as screen:
        await screen.press("r")
        assert re.search(
            r"# in danger K\d drink, stop \d; key ! goes there first, 1 more stop is pressing",
            screen.words,
        ), screen.text
