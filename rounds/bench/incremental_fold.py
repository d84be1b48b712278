"""A bench that takes new, late and struck entries and stays equal to a fold from nothing.

It keeps the newest entries as they are, and before them some thousands sealed: as text, with the
bench from before them. An entry that comes in order is simply added. A late or struck one opens
what was sealed since then and folds it again; one from before all that is kept needs the whole
history again.
"""

from __future__ import annotations

import zlib
from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from typing import Protocol, Self

import msgspec

from rounds.bench.folding import apply, effective_strikes, stands_for
from rounds.bench.state import Bench
from rounds.entries import registry  # noqa: F401 - without it no bench can be read
from rounds.entries.as_text import read
from rounds.entries.base import Entry

KEPT = 2_000  # entries that are kept open, and that are sealed together
# the newest open entries, before which a snapshot more is kept: most of what is late or struck is
# about these
NEAR = 200
FEW = 50  # ids that are looked for in a text; for more of them it is read
LAST_ID = "\uffff"  # behind every id
MAX_SEALED = 12  # with a hundred cups that is a month of late entries

# As text: it keeps the offset from UTC that a time was said with, and reads as fast as a binary
# form.
bytes_of = msgspec.json.Encoder().encode
_bench_of: Callable[[bytes], Bench] = msgspec.json.Decoder(Bench).decode
_texts_of: Callable[[bytes], list[msgspec.Raw]] = msgspec.json.Decoder(list[msgspec.Raw]).decode


class _Identified(msgspec.Struct):
    id: str


_ids_of: Callable[[bytes], list[_Identified]] = msgspec.json.Decoder(list[_Identified]).decode
_PACKED = zlib.compress(b"")[:1]  # no text in JSON begins so


def packed(text: bytes) -> bytes:
    """The same in about a tenth of the room; most snapshots are never looked at again."""
    return text if text[:1] == _PACKED else zlib.compress(text, 1)


def unpacked(text: bytes) -> bytes:
    """The text, whether it was packed or not."""
    return zlib.decompress(text) if text[:1] == _PACKED else text


def bench_of(text: bytes) -> Bench:
    """The bench that was written down."""
    return _bench_of(unpacked(text))


def entries_of(text: bytes) -> list[Entry]:
    """The entries that were written down."""
    return read(_texts_of(unpacked(text)))


class Companion(Protocol):
    """What is written down as entries are folded, in order: its length tells how far it was at a
    snapshot."""

    def __len__(self) -> int: ...

    def add(self, bench: Bench, entry: Entry) -> None:
        """Add an entry to the bench, and write down what went by with it."""

    def cut(self, length: int) -> None:
        """Forget what was written down after the first so many."""

    def empty(self) -> Self:
        """Another one, with nothing in it."""

    def kept(self) -> tuple[bytes, ...]:
        """All of it, to be taken up again."""


class NoCompanion:
    """The bench alone."""

    def __len__(self) -> int:
        return 0

    def add(self, bench: Bench, entry: Entry) -> None:
        """Add an entry to the bench."""
        apply(bench, entry)

    def cut(self, length: int) -> None:
        """There is nothing to cut."""

    def empty(self) -> Self:
        """There is nothing in this one."""
        return self

    def kept(self) -> tuple[bytes, ...]:
        """Nothing."""
        return ()


class Snapshot(msgspec.Struct, frozen=True):
    """A folded bench, and the last entry that is in it; ``at`` is None before the first entry.

    ``beside`` is how long what is written down beside it was then.
    """

    bench: bytes
    at: datetime | None = None
    id: str = ""
    beside: int = 0


class Sealed(msgspec.Struct, frozen=True):
    """Some entries that follow each other, and the bench from before them."""

    before: Snapshot
    entries: bytes

    def holds(self, entry_id: str) -> bool:
        """Whether an entry of that id is in here."""
        return _holds(bytes(unpacked(self.entries)), entry_id)


def _holds(text: bytes, entry_id: str) -> bool:
    """Whether an entry of that id is among those that were written down."""
    return b'"id":' + bytes_of(entry_id) in text


class PersistedFold(msgspec.Struct, frozen=True):
    """All that a history is, to be written down and taken up again; ``last`` is the place in the
    order of the last entry in the tail.

    Where something is ``left_out`` that is what is sealed, the bench from before the tail, and what
    is written down beside."""

    sealed: tuple[Sealed, ...]
    base: Snapshot
    tail: bytes
    bench: bytes
    beside: tuple[bytes, ...] = ()
    last: tuple[datetime, str] | None = None
    left_out: bool = False


class History:
    """The bench, and what is needed to keep it true.

    Args:
        kept: as ``kept`` gave it.
        beside: what is written down beside the bench, as it was kept.
    """

    def __init__(self, kept: PersistedFold | None = None, beside: Companion | None = None) -> None:
        self.beside: Companion = beside if beside is not None else NoCompanion()
        # whether it takes only what follows and crosses out nothing, and knows no earlier bench
        self.left_out = kept is not None and kept.left_out
        self._base = kept.base if kept else _snapshot(Bench())
        self._sealed = list(kept.sealed) if kept else []
        self._unread = bytes(kept.tail) if kept else None  # open entries before those in ``_open``
        self._last = kept.last if kept else None  # the place of the last of them
        self._absent: set[str] = set()  # ids that were looked for in that text, and are not there
        self._open: list[Entry] = []
        self._held: dict[str, Entry] = {}
        # the bench after so many open entries, as it was asked last
        self._then: tuple[int, bytes] | None = None
        self._near: tuple[int, Snapshot] | None = None  # how many of the open entries are in it
        self.bench: Bench = bench_of(kept.bench) if kept else Bench()
        self._struck = effective_strikes(self.bench.strikes)

    def _tail(self) -> list[Entry]:
        """The open entries; those of a checkpoint are read only once what came later does not
        simply follow them."""
        if self._unread is not None:
            unread, self._unread = self._unread, None
            self._hold(entries_of(unread))
        return self._open

    def _hold(self, entries: Iterable[Entry]) -> None:
        entries = list(entries)
        self._open[:0] = entries
        self._near = None
        self._held.update((entry.id, entry) for entry in entries)

    def take(self, entries: Iterable[Entry]) -> bool:
        """Add entries, in any order; one that is held already is not added again.

        Returns:
            False where one reaches back before what is kept, or into what was left out, so that the
            history must be read again; nothing else is promised of the bench then.
        """
        self._then = None
        fresh = self._not_held(entries)
        if not fresh:
            return True
        follows = self._follow(fresh)
        if self.left_out and (not follows or min(one.id for one in fresh) <= self._base.id):
            return False
        tail = self._open if follows else self._tail()
        reaching = self._reaches(fresh)
        if reaching is None:
            return False
        if reaching < len(self._sealed):
            self._open_from(reaching)
            fresh = self._not_held(fresh)
            if not fresh:
                self._fold_again()
                return True
        replaced = {entry.id for entry in fresh if entry.id in self._held}
        if replaced:
            tail[:] = [one for one in tail if one.id not in replaced]
            self.bench.strikes = {
                strike: target
                for strike, target in self.bench.strikes.items()
                if strike not in replaced
            }
        in_order = fresh[0].order > self._last_order(tail) if tail or self._base.at else True
        tail.extend(fresh)
        self._held.update((one.id, one) for one in fresh)
        strikes = {one.id: one.crosses_out for one in fresh if one.crosses_out}
        if strikes or replaced or not in_order:
            tail.sort(key=lambda one: one.order)
            self.bench.strikes.update(strikes)
            self._fold_again(None if replaced else self._first_touched(fresh))
        else:
            for one in fresh:
                if one.id not in self._struck:
                    self.beside.add(self.bench, one)
            if len(tail) > 4 * KEPT:
                self._fold_again()
            elif len(tail) > 2 * KEPT:
                self._seal_oldest()
        return True

    def _follow(self, fresh: list[Entry]) -> bool:
        """Whether what was not read yet of a checkpoint may stay so: all of these come after it,
        and none crosses out another."""
        known = self._last if self._unread is not None else None
        return (
            known is not None
            and fresh[0].order > known
            and len(self._open) + len(fresh) <= KEPT
            and not any(one.crosses_out for one in fresh)
        )

    def _not_held(self, entries: Iterable[Entry]) -> list[Entry]:
        """Each of the entries once, in order, without those that are held."""
        best: dict[str, Entry] = {}
        for one in entries:
            known = best.get(one.id) or self.held(one.id)
            if known is None or stands_for(one, known):
                best[one.id] = one
        return sorted(best.values(), key=lambda entry: entry.order)

    def _last_order(self, tail: list[Entry]) -> tuple[datetime, str]:
        if tail:
            return tail[-1].order
        assert self._base.at is not None
        return self._base.at, self._base.id

    def _reaches(self, fresh: list[Entry]) -> int | None:
        """From which sealed part on the fold must begin again; their number where from none, None
        where from before all."""
        part = len(self._sealed)
        first = fresh[0].order
        while part >= 0 and _is_after(self._before(part), first):
            part -= 1
        if part < 0:
            return None
        for one in fresh:
            if one.id <= self._base.id:  # perhaps another line under an id that is sealed
                part = next((i for i in range(part) if self._sealed[i].holds(one.id)), part)
        here = self._held.keys() | {entry.id for entry in fresh}
        strikes = self.bench.strikes | {one.id: one.crosses_out for one in fresh if one.crosses_out}
        for one in fresh:
            if one.crosses_out:
                for target in _chain(one.id, strikes):
                    found = len(self._sealed) if target in here else self._sealed_with(target)
                    if found is None and self.reaches_back:
                        return None
                    part = min(part, len(self._sealed) if found is None else found)
        return part

    def _sealed_with(self, entry_id: str) -> int | None:
        """Which sealed part holds an entry."""
        return next(
            (
                part
                for part in range(len(self._sealed) - 1, -1, -1)
                if self._sealed[part].holds(entry_id)
            ),
            None,
        )

    def _first_touched(self, fresh: list[Entry]) -> tuple[datetime, str]:
        """The earliest place in the order at which open entries came, or count otherwise than
        before."""
        touched = [fresh[0].order]
        for entry in fresh:
            if entry.crosses_out:
                touched += [
                    self._held[target].order
                    for target in _chain(entry.id, self.bench.strikes)
                    if target in self._held
                ]
        return min(touched)

    def _before(self, part: int) -> Snapshot:
        return self._sealed[part].before if part < len(self._sealed) else self._base

    def _open_from(self, part: int) -> None:
        opened = [entry for sealed in self._sealed[part:] for entry in entries_of(sealed.entries)]
        self._base = self._sealed[part].before
        del self._sealed[part:]
        self._hold(opened)

    def _fold_again(self, touched: tuple[datetime, str] | None = None) -> None:
        """Fold what is open from the nearest snapshot before it, sealing on the way what need not
        stay open.

        Args:
            touched: the earliest place in the order that is not as it was; None where all may be
                otherwise.
        """
        known = self.bench.strikes
        self._struck = effective_strikes(known)
        tail = self._tail()
        near = self._near
        if touched and near and not _is_after(near[1], touched):
            start, bench = near[0], bench_of(near[1].bench)
            self.beside.cut(near[1].beside)
            bench.strikes = known
        else:
            start, bench = 0, bench_of(self._base.bench)
            self.beside.cut(self._base.beside)
            bench.strikes = known
            to_seal = KEPT * max(0, len(tail) // KEPT - 1)
            for begin in range(0, to_seal, KEPT):
                self._seal(tail[begin : begin + KEPT], bench, self.beside)
            del tail[:to_seal]
            self._near = None
        near_end = len(tail) - NEAR
        for position in range(start, len(tail)):
            if position == near_end and position > start:
                self._near = position, _snapshot(bench, len(self.beside), tail[position - 1])
            if tail[position].id not in self._struck:
                self.beside.add(bench, tail[position])
        self.bench = bench

    def _seal(self, entries: list[Entry], bench: Bench, beside: Companion, before: int = 0) -> None:
        """Fold entries into a bench that stands just before them, and seal them.

        Args:
            beside: where it is written down what went by; ``before`` is how much stands before its
                beginning.
        """
        self._sealed = [*self._sealed, Sealed(self._base, bytes_of(entries))][-MAX_SEALED:]
        for entry in entries:
            if entry.id not in self._struck:
                beside.add(bench, entry)
            self._held.pop(entry.id, None)
        self._base = _snapshot(bench, before + len(beside), entries[-1])

    def _seal_oldest(self) -> None:
        bench = bench_of(self._base.bench)
        bench.strikes = self.bench.strikes
        tail = self._tail()
        # it is all written down already
        self._seal(tail[:KEPT], bench, self.beside.empty(), self._base.beside)
        del tail[:KEPT]
        self._near = None

    @classmethod
    def read(
        cls,
        parts: Iterable[list[Entry]],
        count: int,
        strikes: dict[str, str],
        beside: Companion | None = None,
    ) -> History:
        """A history read from its beginning, in less memory than all its entries take.

        Args:
            parts: the entries in their order, each id once, a list at a time.
            count: about how many they are together; what is older than the newest of these is not
                kept.
            strikes: every strike among them: its id, and the id of what it strikes.
            beside: where it is written down what went by.
        """
        history = cls(beside=beside)
        history.bench.strikes = strikes
        history._struck = effective_strikes(strikes)
        for entry in _folded_without_keeping(history, parts, count - KEPT * (MAX_SEALED + 1)):
            history._open.append(entry)
            history._held[entry.id] = entry
            if len(history._open) == 2 * KEPT:
                history._seal(history._open[:KEPT], history.bench, history.beside)
                del history._open[:KEPT]
        for entry in history._open:
            if entry.id not in history._struck:
                history.beside.add(history.bench, entry)
        return history

    def has(self, entry_id: str) -> bool:
        """Whether an entry is among the newest."""
        return self.held(entry_id) is not None

    def held(self, entry_id: str) -> Entry | None:
        """The entry of that id where it is among the newest."""
        is_known = entry_id in self._held or entry_id in self._absent
        if self._unread is not None and not is_known:
            if len(self._absent) >= FEW or _holds(self._unread, entry_id):
                self._tail()
            self._absent.add(entry_id)
        return self._held.get(entry_id)

    def knows(self, entry_id: str) -> bool:
        """Whether an entry is among those that are kept, open or sealed."""
        return self.has(entry_id) or any(sealed.holds(entry_id) for sealed in self._sealed)

    def bench_at(self, at: datetime) -> Bench | None:
        """A copy of the bench as it stood at a time, by all that is known now; None where that is
        before all that is kept."""
        tail = self._tail()
        end = bisect_right(tail, at, key=lambda one: one.at)
        if self._then and self._then[0] == end > 0:
            return bench_of(self._then[1])
        part = len(self._sealed)
        while _is_after(self._before(part), (at, LAST_ID)):
            part -= 1
            if part < 0:
                return None
        start, begun = 0, self._before(part)
        if self._near and self._near[0] <= end:
            start, begun = self._near
        bench = bench_of(begun.bench)
        bench.strikes = self.bench.strikes
        for one in (
            *(entry for sealed in self._sealed[part:] for entry in entries_of(sealed.entries)),
            *tail[start:end],
        ):
            if one.at <= at and one.id not in self._struck:
                apply(bench, one)
        self._then = (end, bytes_of(bench)) if end else None
        return bench

    def bench_with(self, entries: Iterable[Entry]) -> Bench:
        """A copy of the bench with some entries added that were not said yet."""
        bench = bench_of(bytes_of(self.bench))
        for one in sorted(entries, key=lambda entry: entry.order):
            apply(bench, one)
        return bench

    def kept(self) -> PersistedFold:
        """All that this history is, as it stands."""
        tail = self._tail()
        return PersistedFold(
            tuple(self._sealed),
            self._base,
            bytes_of(tail),
            bytes_of(self.bench),
            self.beside.kept(),
            tail[-1].order if tail else None,
        )

    @property
    def tail(self) -> tuple[Entry, ...]:
        """The newest entries, in order, struck ones among them."""
        return tuple(self._tail())

    def ids(self) -> list[str]:
        """The ids of the newest entries; what was not read yet of a checkpoint stays so."""
        unread = _ids_of(self._unread) if self._unread is not None else ()
        return [*(one.id for one in unread), *(one.id for one in self._open)]

    @property
    def struck(self) -> frozenset[str]:
        """The ids of entries that do not count."""
        return self._struck

    @property
    def reaches_back(self) -> bool:
        """Whether there is history before all that is kept."""
        return self._before(0).at is not None


def _folded_without_keeping(
    history: History, parts: Iterable[list[Entry]], number: int
) -> Iterator[Entry]:
    """Fold the first so many entries and forget them; the others are handed on."""
    done = 0
    newest: Entry | None = None
    for part in parts:
        start = min(max(0, number - done), len(part))
        for entry in part[:start]:
            if entry.id not in history._struck:
                history.beside.add(history.bench, entry)
            newest = entry
        done += start
        if start < len(part):
            if newest is not None:
                history._base = _snapshot(history.bench, len(history.beside), newest)
                newest = None
            yield from part[start:]
    if newest is not None:
        history._base = _snapshot(history.bench, len(history.beside), newest)


def _snapshot(bench: Bench, beside: int = 0, newest: Entry | None = None) -> Snapshot:
    return Snapshot(
        bytes_of(bench), newest.at if newest else None, newest.id if newest else "", beside
    )


def _is_after(snapshot: Snapshot, order: tuple[datetime, str]) -> bool:
    """Whether a snapshot holds entries from after that place in the order, or the one at that
    place."""
    return snapshot.at is not None and order <= (snapshot.at, snapshot.id)


def _chain(strike: str, strikes: dict[str, str]) -> list[str]:
    """What a strike is about: the entry that it strikes, and where that is a strike, what that one
    strikes, to the end."""
    texts: list[str] = []
    while strike in strikes and strikes[strike] not in texts:
        strike = strikes[strike]
        texts.append(strike)
    return texts
