"""Kept stems that are moved in a keeper's own words: ``move K2 stems to B2``, ``K2 moved kept stems
of lot 2 to B2``."""

from __future__ import annotations

import re

from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.tokens import Word

_STEMS = frozenset({"stem", "stems", "sprig", "sprigs"})
_JOINS = frozenset({"move", "moved", "kept", "old", "held", "the", "of", "from", "in"})
_REST = re.compile(r"^(?:lots?|(?:lots?=)?\d{1,3}(?:[-,]\d{1,3})*|[A-Z]{1,2})$")


def stems_moved(reader: Reader) -> None:
    """Put the words of such a line in the order in which they are read: container, kept stems,
    which, and where to."""
    words = reader.words
    to = next(
        (
            position
            for position, word in enumerate(words)
            if word.lower in ("to", "into") and not word.quoted
        ),
        len(words),
    )
    if to == len(words) or not reader.code_of(
        reader.words[to + 1] if to + 1 < len(words) else None
    ):
        return
    head = words[:to]
    places = [word for word in head if reader.code_of(word)]
    stems = [word for word in head if word.lower in _STEMS]
    rest = [
        word
        for word in head
        if word not in places and word not in stems and word.lower not in _JOINS
    ]
    if (
        len(places) != 1
        or len(stems) != 1
        or any(word.quoted or not _REST.match(word.text) for word in rest)
    ):
        return
    kept = [Word("kept", stems[0].at), Word("stems", stems[0].at)]
    before = head[head.index(stems[0]) - 1] if head[0] is not stems[0] else None
    of_lot = len(head) > 2 and head[head.index(stems[0]) - 2].lower in ("lot", "lots")
    how_many = (
        [before, stems[0]]
        if before in rest and before is not None and before.text.isdecimal() and not of_lot
        else []
    )
    which = [word for word in rest if word not in how_many]
    reader.words[:] = [places[0], *kept, *which, *how_many, *words[to:]]
