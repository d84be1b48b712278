"""Where a verb begins, in any words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, NamedTuple

from rounds import late
from rounds.bench.plurals import PLURALS
from rounds.bench.state import Container
from rounds.entries import registry as k
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.synonyms import ASKED, KEEPS_ITS_WORD, MEANT, digits_of
from rounds.entries.phrase.tokens import Word
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import describe

VERBS: dict[str, str] = {
    verb: name for name, kind in KIND_BY_NAME.items() for verb in (name, *kind.slots.verbs)
}
LONGEST_VERB = 4  # words
# Words for what happens, stages and sexes: no species is called so.
NO_NAMES = frozenset(
    word
    for word in (*VERBS, *MEANT, *PLURALS, *PLURALS.values(), "male", "males", "female", "females")
    if " " not in word
)
EGGS = frozenset({"egg", "eggs"})
NONE = frozenset({"no", "none", "zero", "0"})
FIGURES = late.pattern(
    r"^[-+]?\d+(?:[.,]\d+)?(?:\u00b0?[cf]|%)?(?:/-?\d+(?:[.,]\d+)?)?$", re.IGNORECASE
)
LAYS_IN = frozenset({"laying", "pairing", "trial"})


def lays(container: Container | None) -> bool:
    """Whether new eggs may be found in a container: a female is in it, or it is meant for one."""
    return container is not None and bool(container.females or container.purpose in LAYS_IN)


def begins_what_happened(reader: Reader, steps: int) -> bool:
    """Whether what happened begins at that word, in any words."""
    if head_at(reader, steps) or asked_at(reader, steps) or (steps and purpose(reader, steps)):
        return True
    word, following = reader.ahead(steps), reader.ahead(steps + 1)
    if word is None or word.quoted:
        return False
    if word.lower in EGGS:
        return True
    if following is None:
        return False
    counts = number_of(word) or word.lower in NONE
    return bool(
        counts
        and (
            following.lower in EGGS | {"of", "ants"}
            or is_counted(head_at(reader, steps + 1))
            or asked_at(reader, steps + 1)
        )
    )


class _Head(NamedTuple):
    """A verb: its kind, what it says at once, how many words it is, and how many of them are read
    with it."""

    kind: str
    fields: Mapping[str, Any]
    length: int
    read: int


def head_at(reader: Reader, steps: int) -> _Head | None:
    """The longest verb that begins at that word."""
    for length in range(LONGEST_VERB, 0, -1):
        text = reader.said(steps, length)
        if text in VERBS:
            return _Head(VERBS[text], {}, length, length)
        if text in MEANT:
            return _Head(*MEANT[text], length, 0 if text in KEEPS_ITS_WORD else length)
    return None


def is_counted(head: _Head | None) -> bool:
    """Whether a number may stand before that verb."""
    fields = {field.name for field in describe(KIND_BY_NAME[head.kind]).fields} if head else set()
    return bool(fields & {"number", "found", "sprigs", "depth_mm"})


def asked_at(reader: Reader, steps: int) -> tuple[str, tuple[str, ...], int] | None:
    """The question about a word that may mean several things, what it may be called here, and how
    many words it is."""
    for length in range(LONGEST_VERB, 0, -1):
        text = reader.said(steps, length)
        if text in ASKED:
            return *ASKED[text], length
    return None


def number_of(word: Word | None) -> str:
    if word is None or word.quoted:
        return ""
    return digits_of(word.lower)


def purpose(reader: Reader, steps: int, *lengths: int) -> bool:
    """Whether a purpose of a container begins at that word, of so many words."""
    field = describe(k.SetUp).field("purpose")
    return field is not None and any(
        reader.said(steps, length) in field.choices for length in lengths or (2, 1)
    )
