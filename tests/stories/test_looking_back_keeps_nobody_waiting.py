"""A page that looks back on years: how far it is stands there, keys go on, it can be left, and then it is shown."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import timedelta

import pytest

from rounds.app.desk import Desk
from rounds.daybook import Daybook
from rounds.entries import codec as written
from rounds.screens import app as rounds_app
from rounds.screens import page
from rounds.screens.app import RoundsApp
from rounds.screens.lines import Lines
from rounds.views.cells import Line
from tests.benchmarks.long_book import history
from tests.conftest import Clock

PAGES = {"i": "laying", "8": "batches", "z": "broods"}


@pytest.fixture
def long_desk(open_desk: Callable[..., Desk], clock: Clock) -> Desk:
    """A desk at a season of a small bench."""
    desk: Desk = open_desk()
    book: Daybook = desk.book
    until = clock.now - timedelta(minutes=6)
    book.append_many([written.write(one) for one in history(1_500, 8, until)])
    desk.hear()
    return desk


@pytest.mark.parametrize("key", PAGES)
async def test_the_page_says_how_far_it_is_and_is_shown_then(
    long_desk: Desk, monkeypatch: pytest.MonkeyPatch, key: str
) -> None:
    monkeypatch.setattr(page, "RECORDS_AT_ONCE", 100)
    monkeypatch.setattr(rounds_app, "AFTER_THE_START_S", 1e6)
    heads: list[str] = []
    show = Lines.show

    def shown(lines: Lines, what: Sequence[Line]) -> None:
        if lines.id == "head" and what:
            heads.append(what[0].text)
        show(lines, what)

    monkeypatch.setattr(Lines, "show", shown)
    app = RoundsApp(long_desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(key)
        while long_desk.reckoning.add_up(0) < 1 or "added up" in heads[-1]:
            await pilot.pause(0.01)
    shares = [int(head.split(": ")[1].split("%")[0]) for head in heads if "added up" in head]
    assert len(shares) > 1
    assert shares == sorted(shares)


async def test_it_can_be_left_while_it_is_added_up(
    long_desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(page, "RECORDS_AT_ONCE", 1)
    monkeypatch.setattr(page, "BETWEEN_PARTS_S", 60.0)
    monkeypatch.setattr(rounds_app, "AFTER_THE_START_S", 1e6)
    app = RoundsApp(long_desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("i")
        await pilot.press("escape")
        assert len(app.screen_stack) == 1
        assert long_desk.reckoning.add_up(0) < 1


async def test_nobody_waits_where_no_key_was_pressed_for_a_while(
    long_desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(rounds_app, "AFTER_THE_START_S", 0.01)
    app = RoundsApp(long_desk)
    async with app.run_test(size=(80, 24)) as pilot:
        for _ in range(500):
            await pilot.pause(0.01)
            if long_desk.reckoning.add_up(0) == 1:
                break
        assert long_desk.reckoning.add_up(0) == 1
