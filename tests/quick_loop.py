"""A loop that waits for nothing: where all sleeps, its clock goes on to when the first of them wakes.

After each key the screens are waited for until nothing is at work for some hundredths of a second. In this loop these pass at
once, in the same order; what a keeper would wait is the same on any machine, however busy.
"""

from __future__ import annotations

import asyncio
import selectors
from time import monotonic
from typing import Any

import textual._time
from textual._styles_cache import StylesCache

AT_WORK_S = 0.002  # for what another thread does there is some true waiting


class QuickLoop(asyncio.SelectorEventLoop):
    """A loop whose clock is ahead of the true one by all that nobody waited."""

    def __init__(self) -> None:
        self.ahead = 0.0
        super().__init__(_Skipping(self))

    def time(self) -> float:
        """Seconds of its clock."""
        return super().time() + self.ahead

    def close(self) -> None:
        """It ends; Textual lets go of how it drew the screens, which it would keep of a hundred apps."""
        super().close()
        StylesCache.get_inner_outer.cache_clear()

    @property
    def has_threads(self) -> bool:
        """Whether threads may be at work for it."""
        return getattr(self, "_default_executor", None) is not None


class _Skipping(selectors.DefaultSelector):
    """What tells a loop that something came; where nothing did, the loop's clock goes on instead."""

    def __init__(self, loop: QuickLoop) -> None:
        super().__init__()
        self._loop = loop

    def select(self, timeout: float | None = None) -> Any:
        """What came."""
        if timeout is None or timeout <= 0:
            return super().select(timeout)
        true = min(timeout, AT_WORK_S) if self._loop.has_threads else 0
        came = super().select(true)
        if not came:
            self._loop.ahead += timeout - true
        return came


def quick_loop() -> QuickLoop:
    """Such a loop, by whose clock Textual goes too."""
    textual._time.get_time = seconds
    return QuickLoop()


def seconds() -> float:
    """The time by the clock of the loop that runs, else by the true one."""
    try:
        return asyncio.get_running_loop().time()
    except RuntimeError:
        return monotonic()
