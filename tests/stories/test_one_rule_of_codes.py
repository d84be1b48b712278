"""Codes that are given or named as an example: of a taxon however it is typed, and always free."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story
from tests.stories.test_bringing_in_a_running_bench import keys, typed


@pytest.mark.parametrize(
    "line",
    [
        "K3 1 female M. cinxia on plantain",
        "K3 1 female cinxia on plantain",
        "K3 1 female Melitaea cinxia, fed",
    ],
)
def test_a_species_has_one_beginning_of_codes(story: Story, line: str) -> None:
    story.type("K2 1 female Melitaea cinxia on plantain")
    assert list(story.desk.bench.founders) == ["MEL-27-01"]
    story.type(line)
    assert list(story.desk.bench.founders) == ["MEL-27-01", "MEL-27-02"]


async def test_the_next_code_keeps_its_noughts_and_its_case(story: Story) -> None:
    story.type("k09 set up rearing", "k09 2 L5 Boloria dia")
    async with story.screens() as screen:
        await screen.type("list")
        await screen.press(*keys("K08\t9L5 Boloria dia\tviola\n\t"))
        assert "K10" in typed(screen)


async def test_the_next_code_is_none_that_is_warned_of(story: Story) -> None:
    async with story.screens() as screen:
        await screen.type("list")
        await screen.press(*keys("K9\t9L5 Boloria dia\tviola\n\t"))
        assert "K22" in typed(screen)


def test_an_example_is_no_code_that_was_given(story: Story) -> None:
    story.type("K1 set up laying", "k2 set up laying", "shelf set up K3 moat", "k2 closed")
    assert "as: K4 1 female" in story.refused("1 female Boloria dia on violet")
    story.type("E1 set up eggs", "E1 closed", "K1 host in violet", "K1 host out held")
    assert "to new E2" in story.refused("K1 host out held")


@pytest.mark.parametrize(
    ("place", "position"), [("shelf 2", 1), ("on shelf 2", 1), ("shelf 2 5", 5)]
)
async def test_a_shelf_by_its_number_is_that_shelf_in_a_list_too(
    story: Story, place: str, position: int
) -> None:
    story.type("K2 1 female Boloria dia on violet shelf 2")
    assert story.desk.bench.at("K2").shelf == "2"
    async with story.elsewhere().screens() as screen:
        await screen.type("list")
        await screen.press(*keys(f"K2\t1 female Boloria dia\tviolet\t\t{place}"), "f10")
        here = screen.app.desk.bench.at("K2")
    assert (here.shelf, here.place) == ("2", position)
