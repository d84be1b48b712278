"""Opening the real screens at the demo."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager

import pytest
from textual.pilot import Pilot

from rounds.app.desk import Desk
from rounds.screens.app import RoundsApp
from tests.conftest import Hand

Opened = Callable[..., AbstractAsyncContextManager[tuple[RoundsApp, Pilot[None]]]]


@pytest.fixture
def opened() -> Opened:
    """Opens the screens of a desk."""

    @asynccontextmanager
    async def open_at(
        desk: Desk, size: tuple[int, int] = (80, 24)
    ) -> AsyncIterator[tuple[RoundsApp, Pilot[None]]]:
        app = RoundsApp(desk, monotonic=Hand())
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            yield app, pilot

    return open_at
