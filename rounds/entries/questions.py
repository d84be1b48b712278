"""What must be asked before an entry can be made."""

from __future__ import annotations

from typing import Any

from msgspec import Struct


class Choice(Struct, frozen=True):
    """One answer to which animals are meant: its words, and the fields that say it."""

    words: str
    fields: dict[str, Any]


class WhichAnimals(Struct, frozen=True):
    """A question that must be answered before an entry can be made, and its answers."""

    line: str
    choices: tuple[Choice, ...]

    @property
    def asked(self) -> str:
        """The question with its answers as they can be typed."""
        words = [choice.words for choice in self.choices]
        return (
            f"{self.line}:"
            f" {' or '.join(part for part in (', '.join(words[:-1]), words[-1]) if part)}"
        )
