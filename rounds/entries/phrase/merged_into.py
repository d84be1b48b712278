"""Cups that are merged into another, in a keeper's own words: the one that is named last gets
all."""

from __future__ import annotations

from rounds.bench.codes import like_codes
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.tokens import Word

_MERGED = frozenset({"merged", "merge"})
_JOINS = frozenset({"and", "+", "&"})


def merged_into(reader: Reader) -> None:
    """Read ``E6 merged into E4`` as ``E4 merged from E6``; any other line stays as it is."""
    words = reader.words
    texts = ["" if word.quoted else word.lower for word in words]
    to = next((place for place, word in enumerate(texts) if word in ("into", "to")), len(words))
    head = [
        word for position, word in enumerate(words[:to]) if texts[position] not in _MERGED | _JOINS
    ]
    sources = [code for word in head for code in word.text.split(",") if code]
    if to + 1 >= len(words) or len(head) == to or not sources or not _MERGED & set(texts[:to]):
        return
    into = words[to + 1]
    if (
        any(word.quoted for word in (*head, into))
        or not like_codes(into.text)
        or not all(map(like_codes, sources))
    ):
        return
    at = words[to].at
    reader.words[:] = [
        into,
        Word("merged", at),
        Word("from", at),
        Word(",".join(sources), head[0].at),
        *words[to + 2 :],
    ]
