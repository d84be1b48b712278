"""Lines that the disk did not take, kept on this machine until the book takes them."""

from __future__ import annotations

import contextlib
from collections.abc import Collection, Iterator, Sequence

import msgspec

from rounds.daybook import Daybook, NotSaved, kept_words
from rounds.entries import codec
from rounds.entries.base import Entry


class UnsavedLines:
    """What was said, is right and is not on disk.

    Args:
        book: that is to take it.
    """

    def __init__(self, book: Daybook) -> None:
        self._book = book
        self.entries: list[Entry] = []
        self.are_kept = False  # whether all of it is kept on this machine
        self.trouble = ""  # why the last try to save failed
        # ids of those that were unsaved already when the book was opened
        self._of_before: set[str] = set()

    def take_up(self) -> None:
        """What was kept before, until the book takes it."""
        self.entries = _not_taken(self._book)

    def add(self, entries: Sequence[Entry], trouble: str) -> None:
        """The disk did not take these."""
        self.entries += entries
        self.are_kept = False
        self.trouble = trouble

    def save(self) -> list[Entry]:
        """Try again to save all of it; what is on disk by that, nothing where it failed."""
        if not self.entries:
            return []
        try:
            self._book.append_many([codec.write(entry) for entry in self.entries])
        except NotSaved as trouble:
            self.trouble = str(trouble)
            return []
        saved, self.entries = self.entries, []
        with contextlib.suppress(OSError):
            self._keep_until_taken(saved)
        return saved

    def give_up(self) -> None:
        """What could not be saved is not tried again: it was reported as not saved."""
        self.entries = []

    def leave_out(self, ids: Collection[str]) -> None:
        """These are not tried again; the others are."""
        self.entries = [entry for entry in self.entries if entry.id not in ids]

    def keep(self) -> str:
        """Keep what is unsaved on this machine until the book takes it, at the next start if need
        be.

        Returns:
            Why that cannot be, in words; empty where it is kept.
        """
        try:
            self._keep_until_taken(self.entries)
        except OSError as trouble:
            self.are_kept = False
            return trouble.strerror or str(trouble)
        self.are_kept = True
        return ""

    def still_waits(self) -> str:
        """That what was kept before the book was opened could not be saved now either."""
        self.are_kept = True
        self._of_before.update(one.id for one in self.entries)
        return (
            f"{len(self.entries)} recorded before could not be saved yet; they are kept and"
            " tried again"
        )

    @property
    def gaps(self) -> list[str]:
        """That some was unsaved when the book was opened, and is; a gap of the book."""
        kept = sum(one.id in self._of_before for one in self.entries)
        return [kept_words(kept)] if kept else []

    def _keep_until_taken(self, ours: Sequence[Entry]) -> None:
        """Of what is kept, keep what is unsaved of ours, and what others have there.

        Raises:
            OSError: it cannot be kept.
        """
        ids = {entry.id for entry in ours}
        kept = {one.id: one for one in _kept(self._book) if one.id not in ids} | {
            one.id: one for one in self.entries
        }
        if kept:
            self._book.keep_aside([msgspec.json.encode(codec.write(one)) for one in kept.values()])
        else:
            self._book.forget_aside()


def _not_taken(book: Daybook) -> list[Entry]:
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
