"""What a start leaves out until it is used: most commands need a few of all patterns, and no
suggestion at all."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any, AnyStr, cast


class _Pattern:
    """A pattern that is compiled when something is asked of it for the first time."""

    def __init__(self, text: Any, flags: int) -> None:
        self._text, self._flags = text, flags

    def __getattr__(self, name: str) -> Any:
        found = getattr(re.compile(self._text, self._flags), name)
        setattr(self, name, found)
        return found


def pattern(text: AnyStr, flags: int = 0) -> re.Pattern[AnyStr]:
    """A regular expression; whether it is one is seen only where it is used."""
    return cast("re.Pattern[AnyStr]", _Pattern(text, flags))


def nearest(word: str, known: Iterable[str], most: int, cutoff: float = 0.6) -> tuple[str, ...]:
    """So many at most of the known words that a word is perhaps meant for, the likeliest first.

    Args:
        cutoff: how alike they must be, from 0 to 1, as ``difflib.SequenceMatcher`` has it.
    """
    from difflib import get_close_matches

    return tuple(get_close_matches(word, list(known), most, cutoff))
