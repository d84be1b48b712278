"""What became of a thing that was said: on disk, refused, or not saved yet."""

from __future__ import annotations

from msgspec import Struct

from rounds.entries.base import Entry


class Recorded(Struct, frozen=True):
    """What was said is on disk."""

    entries: tuple[Entry, ...]

    @property
    def entry(self) -> Entry:
        """The entry that was meant; any before it had to stand first."""
        return self.entries[-1]


class Refusal(Struct, frozen=True):
    """What was said cannot be; one line says why and what would be right; ``place`` is which of
    several it was."""

    line: str
    place: int = 0


class Unsaved(Struct, frozen=True):
    """What was said is right but is not on disk; it is kept and tried again."""

    entries: tuple[Entry, ...]
    line: str


Outcome = Recorded | Refusal | Unsaved
