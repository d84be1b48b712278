"""A logger's readings taken into the book: only those that are new, all of them or none."""

from __future__ import annotations

import contextlib
import math
import signal
import threading
from array import array
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import pairwise

from rounds.app.desk import Desk, Outcome, Recorded, Refusal
from rounds.daybook.series import Readings, as_text, write_series
from rounds.daybook.storage import NotSaved
from rounds.entries.registry import LoggerRead
from rounds.exchange.loggers.reading import Log
from rounds.tallies.warmth import HOLE_IN_A_LOG

SAME_C = 0.005  # two readings at one time that are no further apart are one


@dataclass(frozen=True, slots=True)
class New:
    """What a file adds to what the book has of a place.

    Attributes:
        seconds, temperatures_c, humidities: the new readings, by time.
        known: how many the book has already.
        differing: how many of those are another temperature in the book; the book's stays.
    """

    seconds: array[int]
    temperatures_c: array[float]
    humidities: array[float]
    known: int
    differing: int


def new_readings(log: Log, book: Readings) -> New:
    """The readings of a file at times of which the book has none."""
    there = dict(zip(book.seconds, book.temperatures_c, strict=True))
    seconds, temperatures, humidities = array("q"), array("d"), array("d")
    differing = 0
    for at, temperature, humidity in zip(
        log.seconds, log.temperatures_c, log.humidities, strict=True
    ):
        known = there.get(at)
        if known is not None:
            differing += not math.isclose(known, temperature, abs_tol=SAME_C)
            continue
        seconds.append(at)
        temperatures.append(temperature)
        humidities.append(humidity)
    return New(seconds, temperatures, humidities, len(log.seconds) - len(seconds), differing)


def holes_in(seconds: array[int]) -> list[tuple[datetime, datetime]]:
    """Spans of a logger's readings in which it was silent for longer than a running one is."""
    limit = HOLE_IN_A_LOG.total_seconds()
    return [
        (_instant(one), _instant(following))
        for one, following in pairwise(seconds)
        if following - one > limit
    ]


def _instant(seconds: int) -> datetime:
    return datetime.fromtimestamp(seconds, UTC)


def take_in(
    desk: Desk, new: New, *, container: str = "", shelf: str = "", source: str = ""
) -> Outcome:
    """Write the new readings to a file of the book, then say so in the daybook.

    Where the daybook does not take the entry, the file goes again. An interruption waits until both
    are done.

    Raises:
        OSError: the file cannot be written; nothing is left of it.
    """
    try:
        desk.book.refuse_another()
    except NotSaved as another:
        return Refusal(str(another))
    text = as_text(new.seconds, new.temperatures_c, new.humidities)
    with _uninterrupted():
        written = write_series(desk.book.folder, container or shelf, text)
        outcome = desk.record(
            LoggerRead,
            container=container,
            shelf=shelf,
            file=written.name,
            rows=len(new.seconds),
            since=_instant(new.seconds[0]).astimezone(desk.zone),
            until=_instant(new.seconds[-1]).astimezone(desk.zone),
            low_c=min(new.temperatures_c),
            high_c=max(new.temperatures_c),
            digest=written.digest,
            source=source[:200],
        )
        named = {read.file for reads in desk.bench.logged.values() for read in reads}
        if not isinstance(outcome, Recorded) and written.name not in named:
            with contextlib.suppress(OSError):
                (desk.book.folder / written.name).unlink()
    return outcome


@contextlib.contextmanager
def _uninterrupted() -> Iterator[None]:
    """Let an interruption of the keeper's wait: between file and entry there is no half."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
