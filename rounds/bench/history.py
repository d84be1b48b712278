"""A bench that takes new, late and struck entries and stays equal to a fold from nothing.

It keeps the newest entries beside a snapshot of the bench from before them. An entry that comes in order is
simply added; a late or struck one makes the kept entries fold again from the snapshot; one from before the
snapshot needs the whole history again.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

import msgspec

from rounds.bench.folding import apply, effective_strikes
from rounds.bench.kinds import Struck
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench

KEPT = 2_000  # entries that can be late or struck without reading the history again
_writer = msgspec.msgpack.Encoder()
_reader = msgspec.msgpack.Decoder(Bench)


class Snapshot(msgspec.Struct, frozen=True):
    """A folded bench, and the last entry that is in it."""

    bench: bytes
    at: datetime | None = None
    id: str = ""


class History:
    """The bench, and what is needed to keep it true."""

    def __init__(self, snapshot: Snapshot | None = None) -> None:
        self._base = snapshot or Snapshot(_writer.encode(Bench()))
        self._tail: list[Entry] = []
        self._ids: set[str] = set()
        self.bench: Bench = _reader.decode(self._base.bench)
        self._struck = effective_strikes(self.bench.strikes)

    def take(self, entries: Iterable[Entry]) -> bool:
        """Add entries, in any order, each once.

        Returns:
            False where one reaches back before what is kept, so that the history must be read again; nothing
            else is promised of the bench then.
        """
        fresh = sorted((one for one in entries if one.id not in self._ids), key=lambda one: one.order)
        if not fresh:
            return True
        in_order = not self._tail or fresh[0].order > self._tail[-1].order
        if not self._tail and self._base.at is not None:
            in_order = fresh[0].order > (self._base.at, self._base.id)
            if not in_order:
                return False
        if self._reaches_back(fresh):
            return False
        strikes = [one for one in fresh if isinstance(one, Struck)]
        self._ids.update(one.id for one in fresh)
        self._tail.extend(fresh)
        if not in_order:
            self._tail.sort(key=lambda kept: kept.order)
        if strikes or not in_order:
            self._fold_again(strikes)
        else:
            for one in fresh:
                if one.id not in self._struck:
                    apply(self.bench, one)
        if len(self._tail) > 2 * KEPT:
            self._move_base()
        return True

    def _reaches_back(self, fresh: list[Entry]) -> bool:
        if self._base.at is None:
            return False
        if fresh[0].order <= (self._base.at, self._base.id):
            return True
        here = self._ids | {one.id for one in fresh}
        strikes = self.bench.strikes | {one.id: one.entry for one in fresh if isinstance(one, Struck)}
        return any(isinstance(one, Struck) and _at_the_end(one.id, strikes) not in here for one in fresh)

    def _fold_again(self, strikes: list[Struck]) -> None:
        known = self.bench.strikes | {one.id: one.entry for one in strikes}
        self._struck = effective_strikes(known)
        self.bench = _reader.decode(self._base.bench)
        self.bench.strikes = known
        for one in self._tail:
            if one.id not in self._struck:
                apply(self.bench, one)

    def _move_base(self) -> None:
        bench: Bench = _reader.decode(self._base.bench)
        bench.strikes = dict(self.bench.strikes)
        moving, self._tail = self._tail[:-KEPT], self._tail[-KEPT:]
        for one in moving:
            if one.id not in self._struck:
                apply(bench, one)
            self._ids.discard(one.id)
        self._base = Snapshot(_writer.encode(bench), moving[-1].at, moving[-1].id)

    def has(self, entry_id: str) -> bool:
        """Whether an entry is among the newest."""
        return entry_id in self._ids

    def bench_with(self, entries: Iterable[Entry]) -> Bench:
        """A copy of the bench with some entries added that were not said yet."""
        bench: Bench = _reader.decode(_writer.encode(self.bench))
        for one in sorted(entries, key=lambda one: one.order):
            apply(bench, one)
        return bench

    @property
    def tail(self) -> tuple[Entry, ...]:
        """The newest entries, in order, struck ones among them."""
        return tuple(self._tail)

    @property
    def struck(self) -> frozenset[str]:
        """The ids of entries that do not count."""
        return self._struck

    @property
    def reaches_back(self) -> bool:
        """Whether there is history before the newest entries."""
        return self._base.at is not None

    @property
    def base(self) -> Snapshot:
        """The snapshot before the newest entries."""
        return self._base


def _at_the_end(strike: str, strikes: dict[str, str]) -> str:
    """The entry that a strike, or a strike of a strike, is about in the end."""
    seen: set[str] = set()
    while strike in strikes and strike not in seen:
        seen.add(strike)
        strike = strikes[strike]
    return strike
