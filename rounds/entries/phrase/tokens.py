"""Cutting a typed line into words, with the place of each."""

from __future__ import annotations

import re
from collections.abc import Iterable

from msgspec import Struct

from rounds import late

_DOUBLE = (  # a quote after a backslash is one of the text, unless the line ends there
    r'"(?:\\"(?!\s*$)|[^"])*"'
)
_WORD = late.pattern(rf"""\w+=(?:{_DOUBLE}|'[^']*'|\S*)|{_DOUBLE}|'[^'\s][^']*'(?=[\s,]|$)|\S+""")


STOPS = ",.;:!"


class Word(Struct, frozen=True):
    """One word, unquoted, and where it stands."""

    text: str
    at: int
    quoted: bool = False
    double: bool = False  # in double quotes: a name meant as it is written

    @property
    def lower(self) -> str:
        """The word in small letters, without a stop at its end."""
        return self.text.casefold().rstrip(STOPS)

    @property
    def plain(self) -> str:
        """The same; '' of a word in quotes, which is part of a name."""
        return "" if self.quoted else self.lower


def cut(text: str) -> list[Word]:
    """The words of a line.

    Quotes hold words together.
    """
    words = []
    for match in _WORD.finditer(text):
        raw = match.group()
        quoted = len(raw) >= 2 and raw[0] in "\"'" and raw[-1] == raw[0]
        words.append(Word(_bare(raw), match.start(), quoted, quoted and raw[0] == '"'))
    return words


def _bare(raw: str) -> str:
    """A word without the quotes around it; a quote that stands in double quotes after a backslash
    is one of the text."""
    if len(raw) < 2 or raw[0] not in "\"'" or raw[-1] != raw[0]:
        return raw
    return raw[1:-1].replace('\\"', '"') if raw[0] == '"' else raw[1:-1]


def one_text(words: Iterable[Word]) -> str:
    """The words as they were typed, one space between two of them."""
    return " ".join(word.text for word in words)


def named_value(word: Word) -> tuple[str, str] | None:
    """The field and value of a word like ``batch=F``."""
    if word.quoted:
        return None
    match = re.match(r"^([a-z_]+)=(.*)$", word.text, re.IGNORECASE | re.DOTALL)
    if not match:
        return None
    return match.group(1).lower(), _bare(match.group(2))
