"""A clock that stands still, a desk at a new book, and the demo at the start of a morning round."""

from __future__ import annotations

import gc
import signal
from asyncio import AbstractEventLoop
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import settings

from rounds.app.desk import Desk
from rounds.daybook import Daybook
from rounds.entries import codec as written
from tests.memory import PREFIX, keep_apart, share_compiled, write_to_memory

PARIS = ZoneInfo("Europe/Paris")
MORNING = datetime(2026, 5, 20, 7, 4, tzinfo=PARIS)

# A suite in the background ignores Ctrl-C, and so would each command that it starts.
signal.signal(signal.SIGINT, signal.default_int_handler)

write_to_memory()
keep_apart()

# A change is judged by the same examples each time; others are sought with --hypothesis-profile=sought.
settings.register_profile("same", derandomize=True)
settings.register_profile("sought", derandomize=False)
settings.load_profile("same")


class Clock:
    """A clock that goes only when told."""

    def __init__(self, now: datetime = MORNING) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now

    def on(self, **span: float) -> datetime:
        """Let time pass."""
        self.now = (self.now.astimezone(UTC) + timedelta(**span)).astimezone(self.now.tzinfo)
        return self.now


@pytest.fixture(autouse=True)
def _own_memory(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """What this machine remembers of books is another in each test, in the commands that a test runs too."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path_factory.mktemp(PREFIX)))


def pytest_collection_finish() -> None:
    """All that was collected stays to the end: it need not be looked through for garbage again and again.

    What the screens of a test leave is a good deal, so it is looked for less often than usual.
    """
    gc.freeze()
    gc.set_threshold(20_000, 20, 10)


def pytest_asyncio_loop_factories() -> dict[str, Callable[[], AbstractEventLoop]]:
    """The screens wait for nothing."""
    from tests.quick_loop import quick_loop

    return {"quick": quick_loop}


@pytest.fixture(autouse=True, scope="session")
def _share_compiled(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Commands that tests start compile once what all of them load."""
    share_compiled(tmp_path_factory.mktemp("compiled"))


@pytest.fixture(autouse=True)
def _looks_for_garbage() -> Iterator[None]:
    """A short command looks for none, for it ends before any matters; the tests go on after it."""
    yield
    gc.enable()


@cache
def demo_told(now: datetime, zone: ZoneInfo) -> list[dict[str, Any]]:
    """The lines of the demo up to now."""
    from demo.scenario import scenario

    return [written.write(entry) for entry in scenario(now, zone)]


class Hand:
    """A clock of seconds for the keys: each comes so long after the one before."""

    def __init__(self, apart: float = 1.0) -> None:
        self.apart = apart
        self.now = 0.0

    def __call__(self) -> float:
        self.now += self.apart
        return self.now


@pytest.fixture
def clock() -> Clock:
    """A clock at seven in the morning."""
    return Clock()


@pytest.fixture
def open_desk(tmp_path: Path, clock: Clock) -> Iterator[Callable[..., Desk]]:
    """Opens desks at one book: again after a restart, or as another laptop."""
    counter = iter(range(1, 1_000_000))

    def open_one(laptop: str = "aaaa1111", keeper: str = "KM") -> Desk:
        return Desk(
            Daybook.open(tmp_path / "book", laptop),
            clock=clock,
            entropy=lambda size: next(counter).to_bytes(size, "big"),
            zone=PARIS,
            keeper=keeper,
        )

    return open_one


@pytest.fixture
def desk(open_desk: Callable[..., Desk]) -> Desk:
    """A desk at an empty book."""
    return open_desk()


@pytest.fixture
def demo_desk(open_desk: Callable[..., Desk], clock: Clock) -> Desk:
    """A desk at the demo, as its morning round is due."""
    desk = open_desk()
    desk.book.append_many(demo_told(clock.now, PARIS))
    desk.hear()
    return desk
