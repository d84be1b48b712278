"""What an earlier export may have put into a calendar and no longer holds, worked out from the book
alone.

Whichever laptop wrote it and whatever became of that file: deadlines and hatches that the lines of
the last weeks could have given, and do not give now, are cancelled, crossed-out lines among them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from datetime import datetime, timedelta

from rounds.bench.folding import apply_as_meant
from rounds.bench.folding.codes_given_twice import as_meant
from rounds.bench.folding.signs import QUIET_SIGNS
from rounds.bench.old_records import tag_of
from rounds.bench.state import Bench
from rounds.checks.facts import QUIET_FOR
from rounds.checks.round_clock import utc
from rounds.entries.base import Entry
from rounds.entries.registry import CrossedOut, FounderIntake, LeaveBe, Looked, Permit, ReleaseBy
from rounds.exchange.calendar_events import (
    ALARMED,
    BOOK_NOT_WHOLE,
    Event,
    expected_name,
    numbered,
    round_begins,
    round_name,
)
from rounds.exchange.source import Source

# how old a line may be whose event is still cancelled; our choice
REACHES_BACK = timedelta(days=30)
CHANGES_AHEAD = {"adult": 0, "larva": 2}  # that a calendar may have told of a stage; else one
# the same of animals: what was expected of those that left earlier is past
LAST_STOOD = timedelta(days=14)


def gone(source: Source, held: Collection[str], until: datetime) -> Iterator[Event]:
    """Events to be cancelled.

    Args:
        held: the names of those that hold.
        until: the end of the days that were asked for.
    """
    now = utc(source.moment.now)
    names = [
        BOOK_NOT_WHOLE,
        "due now",
        "between",
        *_deadlines(source),
        *_left_be(source),
        *_expected(source),
    ]
    # those of which nothing is left, too
    to_come = round_begins(source.moment, now, max(until, now + ALARMED))
    names += [round_name(begin, source.moment)[0] for begin in to_come]
    for name in dict.fromkeys(names):
        if name not in held:
            yield Event(name, now, "no longer")


def _recent(source: Source) -> Iterator[Entry]:
    since = source.moment.now - REACHES_BACK
    return (entry for entry in source.entries if _is_of(entry, since))


def _deadlines(source: Source) -> Iterator[str]:
    """Of everyone that had to be free by a time, and of permits; also where the line was crossed
    out."""
    for entry in _recent(source):
        if isinstance(entry, ReleaseBy):
            yield f"release:{entry.code or entry.container}"
            # it may have been meant for those that came into the container
            for code, founder in source.bench.founders.items():
                if founder.container == entry.container:
                    yield f"release:{code}"
        elif isinstance(entry, FounderIntake) and entry.permit:
            yield f"release:{entry.code}"
        elif isinstance(entry, Permit):
            yield f"permit:{entry.number}"


def _left_be(source: Source) -> Iterator[str]:
    for entry in _recent(source):
        said = isinstance(entry, LeaveBe) and entry.until > source.moment.now
        seen = (
            isinstance(entry, Looked)
            and entry.sign in QUIET_SIGNS
            and entry.at + QUIET_FOR > source.moment.now
        )
        if (said or seen) and isinstance(entry, LeaveBe | Looked):
            yield f"left be:{entry.container}"


def _expected(source: Source) -> Iterator[str]:
    """Of all that stands, and that stood in the containers that the lines of the last weeks are
    about, before and after each.

    Lines that were crossed out, or typed after the fact, made the bench another one for a while:
    where there are such, it is also gone through as it was typed.
    """
    since = source.moment.now - LAST_STOOD
    first = min((one.at for one in source.counting if _is_of(one, since)), default=since)
    bench = source.desk.reading.history.bench_at(first - timedelta.resolution)
    lines = (one for one in source.counting if bench is None or one.at >= first)
    yield from _that_stood(bench or Bench(), lines, since)
    if _was_another(source.entries, since):
        yield from _that_stood(Bench(), _as_typed(source.entries), since)


def _is_of(entry: Entry, since: datetime) -> bool:
    """Whether a line happened or was typed since then; what old records say stood in no
    calendar."""
    return max(entry.at, entry.logged) >= since and not tag_of(entry.id)


def _that_stood(bench: Bench, lines: Iterable[Entry], since: datetime) -> Iterator[str]:
    """Of all that stands, and that stood where a line since then is about; ``bench`` is as it stood
    before the lines, and goes on."""
    for line in lines:
        entry = as_meant(bench, line)
        touched: set[str] = set()
        if _is_of(entry, since):
            touched = {
                getattr(entry, "container", ""),
                getattr(entry, "to", ""),
                *getattr(entry, "into", ()),
                *getattr(entry, "sources", ()),
            } - {""}
        for code in touched:
            yield from _of_stock(bench, code)
        apply_as_meant(bench, entry)
        for code in touched:
            yield from _of_stock(bench, code)
    for code in bench.containers:
        yield from _of_stock(bench, code)


def _was_another(entries: Collection[Entry], since: datetime) -> bool:
    """Whether lines were crossed out, or typed after others that happened later, since then."""
    newest = since
    for entry in entries:
        if tag_of(entry.id):
            continue  # what old records say stood in no calendar
        if entry.logged >= since and (isinstance(entry, CrossedOut) or entry.logged < newest):
            return True
        newest = max(newest, entry.logged)
    return False


def _as_typed(entries: Iterable[Entry]) -> list[Entry]:
    """The lines in the order of typing, as if none had been crossed out."""
    lines = (one for one in entries if not isinstance(one, CrossedOut) and not tag_of(one.id))
    return sorted(lines, key=lambda one: (one.logged, one.id))


def _of_stock(bench: Bench, code: str) -> Iterator[str]:
    """The names of the changes of all that stands in a container; a larva has two before it, a
    moult and its pupation."""
    container = bench.containers.get(code)
    seen: dict[str, int] = {}
    for lot in container.lots if container else ():
        plain = expected_name(code, lot.stage, lot.brood, lot.instar)
        for _ in range(CHANGES_AHEAD.get(lot.stage, 1)):
            seen[plain] = seen.get(plain, 0) + 1
            yield numbered(plain, seen[plain])
