"""A refusal goes with the cup it was about; 'not saved' goes once it is saved."""

from __future__ import annotations

import pytest

from rounds.daybook import NotSaved
from tests.stories.telling import Screen, Story, tell

BENCH = """
K2 set up laying place=1
K2 founder MOR-27-01, Melitaea cinxia female
K2 host in plantain leaf water 3 sprigs
K3 set up laying place=2
K3 founder MOR-27-02, Melitaea cinxia female
K3 host in plantain leaf water 3 sprigs
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """Two females since eight in the morning; it is evening."""
    story.at("2027-05-01 08:00")
    tell(story, BENCH)
    return story.at("2027-05-01 18:05")


def fill_the_disk(story: Story, monkeypatch: pytest.MonkeyPatch) -> None:
    """From now on nothing can be written."""

    def refuse(*_: object) -> None:
        raise NotSaved("the disk is full")

    monkeypatch.setattr(story.desk.book, "append_many", refuse)


async def refused_at_the_stop(screen: Screen) -> None:
    """A number that no answer here can take."""
    await screen.press("enter")
    assert "answer with one of the keys shown" in screen.message


async def test_a_refusal_goes_when_the_next_stop_is_looked_at(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        await refused_at_the_stop(screen)
        await screen.press("right")
        assert screen.message == ""


async def test_a_refusal_on_the_bench_goes_with_its_line(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.type("K2 drank 7")
        await screen.press("escape")
        await screen.press("e", "enter", "9", "p", "escape")
        screen.highlight("K2")
        await screen.type("K2 drank 7")
        assert "7" in screen.message
        await screen.press("ctrl+u", "escape", "down")
        assert screen.message == ""


async def test_not_saved_goes_once_it_is_saved(
    bench: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with bench.screens() as screen:
        screen.highlight("K2")
        with monkeypatch.context() as patched:
            fill_the_disk(bench, patched)
            await screen.press("d")
            assert "NOT SAVED" in screen.message
        screen.app.hear()  # as the app does each second
        await screen.pilot.pause()
        assert "NOT SAVED" not in screen.text
        assert screen.message == "what was not saved is saved now"
        assert bench.on_disk()[-1]["what"] == "drank"


async def test_not_saved_on_the_bench_is_not_there_after_the_round(
    bench: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with bench.screens() as screen:
        screen.highlight("K2")
        with monkeypatch.context() as patched:
            fill_the_disk(bench, patched)
            await screen.press("d")
        await screen.press("r", *"20/24", "enter", "escape")
        assert "NOT SAVED" not in screen.text


async def test_in_the_round_the_top_row_says_not_saved_until_it_is(
    bench: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        with monkeypatch.context() as patched:
            fill_the_disk(bench, patched)
            await screen.press("space", "right")
            assert screen.text.splitlines()[0].startswith(" NOT SAVED: 1 line, kept")
        screen.app.hear()
        await screen.pilot.pause()
        assert "NOT SAVED" not in screen.text
        assert "evening round" in screen.text.splitlines()[0]
