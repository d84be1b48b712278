"""A key that is held or hurried is one answer, and the same key answers the same check once in a minute."""

from __future__ import annotations

import pytest

from tests.conftest import Clock
from tests.stories.telling import Story, tell

BENCH = "\n".join(
    f"K{number} set up laying\nK{number} founder MOR-27-0{number}, Melitaea cinxia female\nK{number} host in plantain leaf water"
    for number in range(2, 8)
)


FED = ["drank"]  # what one Space says of a cup


def kinds(story: Story, before: int) -> list[str]:
    """What was recorded after so many entries."""
    return [entry["what"] for entry in story.on_disk()[before:]]


@pytest.fixture
def bench(story: Story) -> Story:
    """Six females in six cups."""
    tell(story, BENCH)
    return story.later(hours=13)


async def test_a_held_key_is_one_feeding(bench: Story) -> None:
    before = len(bench.on_disk())
    async with bench.screens() as screen:
        screen.highlight("K2")
        bench.hand.apart = 0.03
        await screen.press(*["d"] * 30)
        assert [entry["what"] for entry in bench.on_disk()[before:]] == ["drank"]


async def test_a_key_pressed_again_at_once_does_not_walk_on(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/22", "enter")
        before = len(bench.on_disk())
        bench.hand.apart = 0.15
        await screen.press(*["space"] * 12)
        assert kinds(bench, before) == FED
        bench.hand.apart = 1.0
        await screen.press("space")
        assert kinds(bench, before) == 2 * FED


async def test_a_second_tap_too_soon_is_said_to_be_none(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/22", "enter")
        before = len(bench.on_disk())
        bench.hand.apart = 0.15
        await screen.press("space")
        assert "one answer" not in screen.words
        await screen.press("space")
        assert "Space again at once: held key, one answer. saved K2 " in screen.words
        await screen.press("space")
        assert screen.words.count("one answer") == 1
        assert kinds(bench, before) == FED
        bench.hand.apart = 1.0
        await screen.press("space")
        assert "one answer" not in screen.words
        assert kinds(bench, before) == 2 * FED


async def test_the_first_repeat_of_a_keyboard_with_a_long_delay_is_no_press(bench: Story) -> None:
    before = len(bench.on_disk())
    async with bench.screens() as screen:
        await screen.press("r", *"20/22", "enter")
        before = len(bench.on_disk())
        bench.hand.apart = 0.0
        bench.hand.now += 1
        await screen.press("space")
        bench.hand.now += 0.6  # the keyboard's own delay
        screen.app.simulate_key("space")
        bench.hand.apart = 0.03
        await screen.press(*["space"] * 20)
        assert kinds(bench, before) == FED


async def test_a_second_press_after_half_a_second_is_a_press(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/22", "enter")
        before = len(bench.on_disk())
        for _ in range(3):
            bench.hand.apart = 0.0
            bench.hand.now += 0.9
            await screen.press("space")
        assert kinds(bench, before) == 3 * FED, "of three cups"


async def test_lines_and_numbers_take_the_same_sign_twice(bench: Story) -> None:
    async with bench.screens() as screen:
        bench.hand.apart = 0.05
        await screen.press("r", *"22/22", "enter")
        assert bench.on_disk()[-1]["low_c"] == 22
        await screen.press("escape")
        screen.highlight("K3")
        await screen.type("K3 note aa  bb 11")
        assert bench.on_disk()[-1]["text"] == "aa  bb 11"


async def test_the_arrows_may_be_held(bench: Story) -> None:
    async with bench.screens() as screen:
        bench.hand.apart = 0.03
        screen.highlight("K2")
        await screen.press("down", "down", "down", "o")
        assert bench.on_disk()[-1]["container"] == "K5"


async def test_the_same_check_is_not_answered_twice_within_a_minute_by_the_same_key(
    bench: Story, clock: Clock
) -> None:
    del clock
    before = len(bench.on_disk())
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.press("d", "down", "up", "d")
        assert len(bench.on_disk()) == before + 1
        assert (
            screen.message
            == "K2 drink: d recorded that less than a minute ago, and now nothing; u takes it back"
        )
        await screen.press("down", "d")
        assert bench.on_disk()[-1]["container"] == "K3"
        await screen.press("u", "d")
        assert [entry["what"] for entry in bench.on_disk()[-2:]] == ["struck", "drank"]
        bench.hand.now += 61
        screen.highlight("K2")
        await screen.press("d")
        assert bench.on_disk()[-1]["container"] == "K2"


async def test_undo_held_takes_one_back(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.press("d", "o")
        bench.hand.apart = 0.03
        await screen.press(*["u"] * 10)
        assert [entry["what"] for entry in bench.on_disk()].count("struck") == 1
