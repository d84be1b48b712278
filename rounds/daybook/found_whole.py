"""Which files of a book this machine found to hold what a digest says, and by what the system shows
that they are the same since: they need not be read for it again."""

from __future__ import annotations

import contextlib
import os
from functools import cached_property
from pathlib import Path

import msgspec

from rounds.daybook.lines import Stamp, is_untouched, stamp_of
from rounds.daybook.safe_files import NOT_DECODED, put_lines, read_plain

_Found = dict[str, tuple[str, Stamp]]  # by file its digest, and by what it is known to be the same


class FoundWhole:
    """What was found at earlier starts too.

    Args:
        path: where this machine remembers it; None where nothing can be.
    """

    def __init__(self, path: Path | None) -> None:
        self._path = path
        self._is_kept = True

    @cached_property
    def _found(self) -> _Found:
        with contextlib.suppress(OSError, *NOT_DECODED):
            if self._path:
                return msgspec.json.decode(read_plain(self._path), type=_Found)
        return {}

    def was(self, name: str, digest: str, about: os.stat_result) -> bool:
        """Whether a file was found to hold what the digest says, and is untouched since."""
        known, stamp = self._found.get(name, ("", Stamp()))
        return known == digest and is_untouched(about, stamp)

    def found(self, name: str, digest: str, about: os.stat_result, at_ns: int) -> None:
        """A file holds it.

        Args:
            about: of the file, from before it was read.
            at_ns: when that was.
        """
        self._found[name] = digest, stamp_of(about, at_ns)
        self._is_kept = False

    def keep(self) -> None:
        """Remember what was found; where it cannot be, or is lost with the power, the files are
        read again at the next start."""
        if self._path and not self._is_kept:
            self._is_kept = True
            with contextlib.suppress(OSError):
                put_lines(self._path, [msgspec.json.encode(self._found)], lasting=False)
