"""The readings of each place's loggers, read from the book's files when they are first wanted."""

from __future__ import annotations

import os
import time
from array import array
from collections.abc import Iterable, Sequence
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Any

from rounds.daybook.found_whole import FoundWhole
from rounds.daybook.kept_readings import KeptReadings
from rounds.daybook.lines import Problem, Stamp, stamp_of
from rounds.daybook.series import Readings, read_series, trouble_with
from rounds.entries.registry import LoggerRead
from rounds.tallies.warmth import Series

_A_DAY = 86_400
MAX_KEPT = 64  # files and joined series kept in memory


class LoggerCache:
    """Reads files of readings once.

    A file never changes after it was written, for its name has the digest of what is in it: what is
    kept cannot go stale.

    Args:
        folder: the book.
        place: where this machine remembers which files it found whole and what it read of them,
            without an ending; None where nothing can be.
    """

    def __init__(self, folder: Path, place: Path | None = None) -> None:
        self._folder = folder
        self._whole = FoundWhole(place.with_suffix(".loggers") if place else None)
        self._kept = KeptReadings(place.with_suffix(".readings") if place else None)
        self._digests: set[str] = set()  # of all files that the book has
        self._files: dict[str, Readings] = {}
        self._joined: dict[tuple[str, ...], Readings] = {}
        self._series: dict[tuple[str, ...], Series] = {}
        self.problems: list[Problem] = []
        self._looked_at: dict[str, tuple[Stamp, Problem | None]] = {}

    def troubles(self, reads: Iterable[LoggerRead]) -> list[Problem]:
        """Which files are not there as they were taken in; one that has come since is read anew."""
        found = {}
        for read in reads:
            self._digests.add(read.digest)
            about = self._about(read.file)
            stamp = stamp_of(about, 0) if about else Stamp()
            before = self._looked_at.get(read.file)
            if before is None or before[0] != stamp:
                trouble = None
                if about is None or not self._whole.was(read.file, read.digest, about):
                    at_ns = time.time_ns()
                    trouble = trouble_with(self._folder, read.file, read.digest)
                    if about and not trouble:
                        self._whole.found(read.file, read.digest, about, at_ns)
                self._looked_at[read.file] = stamp, trouble
                if before and before[1] and not trouble:
                    self._forget(read.file)
            found[read.file] = self._looked_at[read.file][1]
        self._whole.keep()
        return [one for one in found.values() if one]

    def _about(self, name: str) -> os.stat_result | None:
        try:
            return (self._folder / name).lstat()
        except (OSError, ValueError):
            return None

    def _forget(self, name: str) -> None:
        self._files.pop(name, None)
        self._joined.clear()
        self._series.clear()

    def readings(self, reads: Sequence[LoggerRead]) -> Readings:
        """The readings of several files, by time; of two at one time that of the first file
        counts."""
        key = tuple(dict.fromkeys(read.file for read in reads))
        if key in self._joined:
            return self._joined[key]
        digests = {one.file: one.digest for one in reads}
        joined = _joined([self._read(name, digests[name]) for name in key])
        if self._are_kept(key):
            _make_room(self._joined)
            self._joined[key] = joined
        return joined

    def series(
        self,
        place: str,
        reads: Sequence[LoggerRead],
        since: datetime | None = None,
        until: datetime | None = None,
    ) -> Series:
        """The series of a place from the files that reach into a span; all of them where none is
        given."""
        wanted = [
            read
            for read in reads
            if (until is None or read.since <= until) and (since is None or read.until >= since)
        ]
        key = (place, *dict.fromkeys(one.file for one in wanted))
        if key in self._series:
            return self._series[key]
        readings = self.readings(wanted)
        days = array("d", [at / _A_DAY for at in readings.seconds])
        series = Series(place, days, readings.temperatures_c, readings.humidities)
        if self._are_kept(key[1:]):
            _make_room(self._series)
            self._series[key] = series
        return series

    def _are_kept(self, names: tuple[str, ...]) -> bool:
        """Whether all of these were read; one that a synchroniser has yet to bring is looked for
        again."""
        return all(name in self._files for name in names)

    def _read(self, name: str, digest: str) -> Readings:
        if name in self._files:
            return self._files[name]
        is_whole = name in self._looked_at and self._looked_at[name][1] is None
        readings = (self._kept.read(digest) if is_whole else None) or self._parsed(
            name, digest, is_whole=is_whole
        )
        self.problems += [one for one in readings.problems if one not in self.problems]
        if readings.seconds or not readings.problems:
            _make_room(self._files)
            self._files[name] = readings
        return readings

    def _parsed(self, name: str, digest: str, *, is_whole: bool) -> Readings:
        """What a file's text says; kept where it is the text that was taken in."""
        readings = read_series(self._folder, name, digest)
        if is_whole and not any(problem.gap for problem in readings.problems):
            self._kept.keep(digest, readings, self._digests)
        return readings


def _make_room(kept: dict[Any, Any]) -> None:
    if len(kept) >= MAX_KEPT:
        kept.clear()


def _joined(files: Sequence[Readings]) -> Readings:
    if len(files) == 1:
        return files[0]
    seconds, temperatures, humidities = array("q"), array("d"), array("d")
    for readings in files:
        seconds.extend(readings.seconds)
        temperatures.extend(readings.temperatures_c)
        humidities.extend(readings.humidities)
    if all(one < following for one, following in pairwise(seconds)):
        return Readings(seconds, temperatures, humidities)
    first: dict[int, tuple[float, float]] = {}
    for at, *both in zip(seconds, temperatures, humidities, strict=True):
        first.setdefault(at, (both[0], both[1]))
    order = sorted(first)
    return Readings(
        array("q", order),
        array("d", (first[at][0] for at in order)),
        array("d", (first[at][1] for at in order)),
    )
