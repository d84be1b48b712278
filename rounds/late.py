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


class _OfFigures(_Pattern):
    """A pattern that is asked of no word that begins otherwise."""

    def __init__(self, text: str, flags: int, signs: str) -> None:
        super().__init__(text, flags)
        self._signs = signs

    def match(self, word: str) -> re.Match[str] | None:
        """As ``re.Pattern`` does."""
        if not (word[:1].isdecimal() or word[:1] in self._signs):
            return None
        found: re.Match[str] | None = re.compile(self._text, self._flags).match(word)
        return found


class OfWords(_Pattern):
    """A pattern that is asked of no text without any of some words."""

    def __init__(self, text: str, flags: int, words: tuple[str, ...]) -> None:
        super().__init__(text, flags)
        self._words = words

    def _for(self, text: str) -> re.Pattern[str] | None:
        """The pattern, where the text may match it."""
        folded = text.casefold()
        may = any(word in folded for word in self._words)
        return re.compile(self._text, self._flags) if may else None

    def search(self, text: str) -> re.Match[str] | None:
        """As ``re.Pattern`` does."""
        asked = self._for(text)
        return asked.search(text) if asked else None

    def fullmatch(self, text: str) -> re.Match[str] | None:
        """As ``re.Pattern`` does."""
        asked = self._for(text)
        return asked.fullmatch(text) if asked else None


def pattern(text: AnyStr, flags: int = 0) -> re.Pattern[AnyStr]:
    """A regular expression; whether it is one is seen only where it is used."""
    return cast("re.Pattern[AnyStr]", _Pattern(text, flags))


def of_figures(text: str, flags: int = 0, signs: str = "") -> re.Pattern[str]:
    """The same of one that begins with a figure, or one of these signs: of most words that it is
    asked of it need not even be compiled."""
    return cast("re.Pattern[str]", _OfFigures(text, flags, signs))


def of_words(text: str, flags: int = 0) -> re.Pattern[str]:
    """The same of one that nothing can match without one of the words, in small letters, of its
    group ``word``: of most lines that it is asked of it need not even be compiled."""
    words = text.partition("(?P<word>")[2].partition(")")[0].split("|")
    return cast("re.Pattern[str]", OfWords(text, flags, tuple(words)))


def nearest(word: str, known: Iterable[str], most: int, cutoff: float = 0.6) -> tuple[str, ...]:
    """So many at most of the known words that a word is perhaps meant for, the likeliest first.

    Args:
        cutoff: how alike they must be, from 0 to 1, as ``difflib.SequenceMatcher`` has it.
    """
    from difflib import get_close_matches

    return tuple(get_close_matches(word, list(known), most, cutoff))
