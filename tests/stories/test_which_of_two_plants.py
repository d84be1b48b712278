"""In a cup with two plants it is asked which one went off, and which is changed, by keys and at the prompt."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

CUP = """
    K2 set up laying
    K2 founder W2 Iolana iolas female
    K2 host in Colutea arborescens and Astragalus glycyphyllos
"""
REARING = """
    R2 set up rearing
    brood I-1/A taxon='Iolana iolas'
    R2 host in Colutea arborescens and Astragalus glycyphyllos
    R2 stocked 6 L3 I-1/A
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """A cup with a female and one with larvae, two plants in each, a day ago."""
    tell(story.at("2027-06-01 07:05"), CUP + REARING)
    return story.at("2027-06-02 07:05")


def states(story: Story, code: str) -> dict[str, str]:
    return {host.plant.split()[0]: host.state for host in story.desk.bench.containers[code].hosts}


def cuts(story: Story, code: str) -> dict[str, int]:
    return {host.plant.split()[0]: host.cut.day for host in story.desk.bench.containers[code].hosts}


async def test_limp_is_of_one_of_them_and_so_is_the_change(bench: Story) -> None:
    async with bench.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("host", "K2")
        await screen.press("l")
        assert "which plant is limp?" in screen.words
        await screen.press("2")
        assert states(bench, "K2") == {"Colutea": "fresh", "Astragalus": "limp"}
        await screen.walk_to("host", "K2")
        await screen.press("c")
        assert "which plant?" in screen.words
        assert "1 Astragalus glycyphyllos" in screen.words, "the limp one first"
        await screen.press("1")
    assert cuts(bench, "K2") == {"Colutea": 1, "Astragalus": 2}
    assert states(bench, "K2") == {"Colutea": "fresh", "Astragalus": "fresh"}


async def test_so_it_is_of_the_food_of_larvae(bench: Story) -> None:
    async with bench.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("food", "R2")
        await screen.press("c", "2")
    assert cuts(bench, "R2") == {"Colutea": 1, "Astragalus": 2}
    bench.type("R2 limp Colutea")
    assert states(bench, "R2") == {"Colutea": "limp", "Astragalus": "fresh"}


async def test_both_is_an_answer_too(bench: Story) -> None:
    async with bench.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("host", "K2")
        await screen.press("l", "3")
        assert states(bench, "K2") == {"Colutea": "limp", "Astragalus": "limp"}
        await screen.walk_to("host", "K2")
        await screen.press("c", "3")
    assert cuts(bench, "K2") == {"Colutea": 2, "Astragalus": 2}


def test_at_the_prompt(bench: Story) -> None:
    asked = bench.refused("K2 host limp")
    assert "which plant is limp? K2 has Colutea arborescens and Astragalus glycyphyllos" in asked
    assert "or both" in asked
    bench.type("K2 host limp Astragalus")
    assert states(bench, "K2") == {"Colutea": "fresh", "Astragalus": "limp"}
    bench.type("R2 limp both")
    assert states(bench, "R2") == {"Colutea": "limp", "Astragalus": "limp"}
    bench.type("K2 host fresh")
    assert states(bench, "K2") == {"Colutea": "fresh", "Astragalus": "fresh"}
    bench.type("R2 host out both discarded")
    assert not bench.desk.bench.containers["R2"].hosts
