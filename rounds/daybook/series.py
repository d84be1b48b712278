"""Loggers' readings in the book: one plain text file a reading-in, written whole and never changed.

The first line names the columns; each other is an instant in UTC (RFC 3339), a temperature in
Celsius, and a relative humidity in percent where there is one.
"""

from __future__ import annotations

import hashlib
import math
import os
from array import array
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from msgspec import Struct

from rounds.bench.series_names import FOLDER, is_series_name, series_name
from rounds.daybook.lines import Problem
from rounds.daybook.safe_files import flush_folder, make_below, open_plain, put_lines

HEADING = "time,temperature_c,humidity_percent"
A_DAY = 86_400  # seconds
MAX_BYTES = 1_000_000_000
WHAT_TO_DO = (
    "bring the file back, or take the logger's own file in again; 'rounds check --accept' takes the"
    " book as it is"
)


class StoredFile(Struct, frozen=True):
    """A file of readings on disk: its name in the book and the SHA-256 of its bytes."""

    name: str
    digest: str


class Readings(Struct, frozen=True):
    """What a file holds: instants [seconds since 1970 in UTC], rising, temperatures [C], humidities
    [%], no number where there was none; and what was wrong with it."""

    seconds: array[int]
    temperatures_c: array[float]
    humidities: array[float]
    problems: tuple[Problem, ...] = ()


def as_text(
    seconds: Sequence[int], temperatures_c: Sequence[float], humidities: Sequence[float]
) -> bytes:
    """The readings as the lines of a file."""
    lines = [HEADING]
    day, day_text = -1, ""  # a day's text is made once: a long file has few days and many readings
    for at, temperature, humidity in zip(seconds, temperatures_c, humidities, strict=True):
        if at // A_DAY != day or not day_text:
            day = at // A_DAY
            day_text = f"{datetime.fromtimestamp(at, UTC):%Y-%m-%d}"
        minutes, second = divmod(at % A_DAY, 60)
        wet = "" if math.isnan(humidity) else f"{humidity:.10g}"
        lines.append(
            f"{day_text}T{minutes // 60:02d}:{minutes % 60:02d}:{second:02d}Z,{temperature:.10g},{wet}"  # noqa: E501
        )
    return ("\n".join(lines) + "\n").encode()


def write_series(folder: Path, place: str, text: bytes) -> StoredFile:
    """Write a file of readings beside, flush it and put it in place; the same readings give the
    same file.

    Raises:
        OSError: it cannot be written; nothing is left of it.
    """
    digest = hashlib.sha256(text).hexdigest()
    name = series_name(place, digest)
    make_below(folder, FOLDER)
    put_lines(folder / name, [text.removesuffix(b"\n")])
    flush_folder((folder / name).parent)
    return StoredFile(name, digest)


def read_series(folder: Path, name: str, digest: str = "") -> Readings:
    """The readings of a file; a line that is none is left out and told, as is a file that is not
    what was written."""

    def nothing(problem: str) -> Readings:
        told = Problem(name, 0, problem, gap=True)
        return Readings(array("q"), array("d"), array("d"), (told,))

    raw = _bytes_of(folder, name)
    if isinstance(raw, str):
        return nothing(raw)
    changed = _changed(raw, digest)
    return _parsed(name, raw, [Problem(name, 0, changed, gap=True)] if changed else [])


def trouble_with(folder: Path, name: str, digest: str = "") -> Problem | None:
    """Why the readings of a file are not had as they were taken in; None where they are."""
    raw = _bytes_of(folder, name)
    told = raw if isinstance(raw, str) else _changed(raw, digest)
    return Problem(name, 0, told, gap=True) if told else None


def _bytes_of(folder: Path, name: str) -> bytes | str:
    """What a file holds, or why that cannot be read."""
    if not is_series_name(name):
        return f"is no file of readings of this book; {WHAT_TO_DO}"
    path = folder / name
    try:
        if path.parent.is_symlink():
            raise OSError(0, "leads out of the book")
        with open_plain(path) as file:
            if os.fstat(file.fileno()).st_size > MAX_BYTES:
                raise OSError(0, "is too long to be a file of readings")
            return file.read()
    except OSError as trouble:
        why = trouble.strerror or trouble
        return f"the logger's readings cannot be read: {why}; {WHAT_TO_DO}"


def _changed(raw: bytes, digest: str) -> str:
    """That a file is not as it was written, in words; empty where it is."""
    if not raw:
        return f"the logger's readings are gone, the file is empty; {WHAT_TO_DO}"
    if digest and hashlib.sha256(raw).hexdigest() != digest:
        return f"is not as it was written; its readings are used as they are; {WHAT_TO_DO}"
    return ""


def _parsed(name: str, raw: bytes, problems: list[Problem]) -> Readings:
    found: dict[int, tuple[float, float]] = {}
    days: dict[str, int] = {}
    for number, line in enumerate(raw.decode("utf-8", "replace").split("\n"), start=1):
        if number == 1 or not line.strip():
            continue
        parts = line.split(",")
        try:
            temperature = float(parts[1])
            if not -100 < temperature < 100:
                raise ValueError(line)
            found[_seconds(parts[0], days)] = temperature, _humidity(parts)
        except (ValueError, IndexError, OverflowError):
            if len(problems) < 20:
                problems.append(Problem(name, number, "is no reading"))
    seconds = sorted(found)
    temperatures, humidities = (array("d", (found[at][one] for at in seconds)) for one in (0, 1))
    return Readings(array("q", seconds), temperatures, humidities, tuple(problems))


def _humidity(parts: list[str]) -> float:
    """The humidity of a line [%]; no number where it has none.

    Raises:
        ValueError: what stands there is none.
    """
    if len(parts) < 3 or not parts[2].strip():
        return math.nan
    humidity = float(parts[2])
    if not 0 <= humidity <= 100:
        raise ValueError(parts[2])
    return humidity


def _seconds(text: str, days: dict[str, int]) -> int:
    """An instant as it is written here; a day is read once and kept in ``days``.

    Raises:
        ValueError: it is none.
    """
    day = days.get(text[:10])
    if day is None:
        day = days[text[:10]] = round(
            datetime.fromisoformat(text[:10]).replace(tzinfo=UTC).timestamp()
        )
    if len(text) != 20 or text[10] != "T" or text[19] != "Z" or text[13] != ":" or text[16] != ":":
        raise ValueError(text)
    hours, minutes, seconds = int(text[11:13]), int(text[14:16]), int(text[17:19])
    if not (0 <= hours < 24 and 0 <= minutes < 60 and 0 <= seconds < 60):
        raise ValueError(text)
    return day + hours * 3600 + minutes * 60 + seconds
