"""Lines that the disk did not take, kept on this machine until the book takes them."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator, Sequence

import msgspec

from rounds.daybook import Daybook
from rounds.entries import codec
from rounds.entries.base import Entry


def keep_until_taken(book: Daybook, ours: Sequence[Entry], still: Sequence[Entry]) -> None:
    """Of what is kept, keep these of ours, and what others have there.

    Raises:
        OSError: it cannot be kept.
    """
    ids = {entry.id for entry in ours}
    kept = {one.id: one for one in _kept(book) if one.id not in ids} | {
        one.id: one for one in still
    }
    if kept:
        book.keep_aside([msgspec.json.encode(codec.write(one)) for one in kept.values()])
    else:
        book.forget_aside()


def not_taken(book: Daybook) -> list[Entry]:
    """What was kept before and the book does not have; where it has all of it none is kept on."""
    entries = list(_kept(book))
    if not entries:
        return []
    try:
        left = book.missing(entry.id for entry in entries)
    except OSError:
        return entries
    if not left:
        book.forget_aside()
    return [one for one in entries if one.id in left]


def _kept(book: Daybook) -> Iterator[Entry]:
    for line in book.kept_aside():
        with contextlib.suppress(codec.NotRead):
            entry = codec.read(line)
            if entry is not None:
                yield entry
