"""Small books for tests of keeping, copying and joining them."""

from __future__ import annotations

import os
from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path

import msgspec

from rounds.app.desk import Desk
from rounds.bench.state import Bench
from rounds.daybook import Daybook
from rounds.entries import codec as written
from rounds.entries.base import Entry
from rounds.entries.registry import Note
from rounds.grouping import grouped
from tests.benchmarks.bench_due import NOW
from tests.conftest import PARIS, Clock
from tests.plain_fold import fold


def desk_at(folder: Path, laptop: str = "aaaa1111", clock: Clock | None = None) -> Desk:
    """A desk of one laptop at a book."""
    return Desk(
        Daybook.open(folder, laptop),
        clock=clock or Clock(NOW),
        entropy=os.urandom,
        zone=PARIS,
        keeper="KM",
    )


def desk_long_after(folder: Path, laptop: str = "aaaa1111") -> Desk:
    """A desk at a book of which nothing is of the future, however its writers' clocks jumped."""
    return desk_at(folder, laptop, Clock(NOW + timedelta(days=36_500)))


def settled(bench: Bench) -> Bench:
    """A bench as it is after it was written down and read: to compare benches whose entries came on different ways."""
    return msgspec.json.decode(msgspec.json.encode(bench), type=Bench)


def bench_of(folder: Path) -> Bench:
    """What all complete lines of a book's entry files add up to, read in the plainest way; of those that count together
    or not at all none where one is missing."""
    found: list[Entry] = []
    for path in folder.glob("entries-*.jsonl"):
        for line in path.read_bytes().split(b"\n")[:-1]:
            try:
                entry = written.read(line.removeprefix(b"\xef\xbb\xbf"))
            except written.NotRead:
                continue
            if entry is not None:
                found.append(entry)
    ids = grouped((entry.part_of, entry.id) for entry in found)
    broken = {part for part in ids if part and len({*ids[part]}) < int(part.rpartition("/")[2])}
    return settled(fold([entry for entry in found if entry.part_of not in broken]))


def plain(desk: Desk) -> Bench:
    """A desk's bench, to compare."""
    return settled(desk.bench)


def note(number: int, text: str = "", at: datetime = NOW) -> Note:
    """A note a few seconds after another."""
    return Note(
        id=f"note{number:06d}",
        at=at + timedelta(seconds=number),
        logged=at,
        by="KM",
        text=text or f"note {number}",
    )


def lines_of(entries: Sequence[Entry]) -> bytes:
    """Entries as lines of a file."""
    return b"".join(msgspec.json.encode(written.write(one)) + b"\n" for one in entries)


def content(folder: Path) -> dict[str, bytes]:
    """Every file of a book but the checkpoints, byte by byte."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not path.name.startswith("checkpoint-")
    }
