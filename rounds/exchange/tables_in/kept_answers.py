"""What was answered about a table, kept on this machine for the next time: outside of the book, for
a table that is not recorded leaves nothing in it."""

from __future__ import annotations

import contextlib
from collections.abc import Iterable
from pathlib import Path

import msgspec

from rounds.daybook.machine_memory import remembered_at
from rounds.daybook.safe_files import put_lines, read_plain
from rounds.exchange.tables_in.sheet import FileTable
from rounds.exchange.tables_in.vocabulary import bare

ENDING = ".tables"
MAX_TABLES = 40  # that are remembered, the newest; our choice
ALIKE = 0.7  # of their headings two tables of one sort have in common; our choice


class KeptAnswer(msgspec.Struct, frozen=True):
    """One answer: the option that it settles, the column or word it is about, what was said."""

    option: str
    about: str
    said: str


class _Answered(msgspec.Struct):
    file: str
    headings: list[str]
    answers: list[KeptAnswer]


def answers_kept(book: Path, file: str, sheet: FileTable) -> list[KeptAnswer]:
    """What was answered about the table of that file, the first answer first, though some columns
    were added since; about another with nearly these headings, what its columns and words mean."""
    alike = [(how_alike(sheet, one.headings), one) for one in reversed(_read(book))]
    alike = [pair for pair in alike if pair[0]]
    if not alike:
        return []
    _, newest = max(alike, key=lambda pair: (pair[1].file == file, pair[0]))
    if newest.file == file:
        return newest.answers
    return [one for one in newest.answers if one.option in ("map", "names")]


def how_alike(sheet: FileTable, headings: Iterable[str]) -> float:
    """Which share of its headings a table has in common with another; 0 where it is another one."""
    own, theirs = set(_headings(sheet)), set(map(bare, headings))
    share = len(own & theirs) / max(1, len(own | theirs))
    return share if share >= ALIKE else 0.0


def keep_answers(book: Path, file: str, sheet: FileTable, answers: Iterable[KeptAnswer]) -> bool:
    """Keep them in the place of those that were kept of that table; whether that could be done."""
    path = _path(book)
    if path is None:
        return False
    headings = _headings(sheet)
    others = [one for one in _read(book) if one.file != file or not how_alike(sheet, one.headings)]
    kept = [*others, _Answered(file, headings, list(answers))][-MAX_TABLES:]
    with contextlib.suppress(OSError):
        put_lines(path, [msgspec.json.encode(kept)])
        return True
    return False


def _path(book: Path) -> Path | None:
    beside = remembered_at(book)
    return beside.with_suffix(ENDING) if beside else None


def _read(book: Path) -> list[_Answered]:
    path = _path(book)
    if path is None:
        return []
    try:
        return msgspec.json.decode(read_plain(path), type=list[_Answered])
    except (OSError, msgspec.MsgspecError):
        return []


def _headings(sheet: FileTable) -> list[str]:
    return [bare(heading) for heading in sheet.headings]
