"""Eggs cut off with their leaf into another cup, in a keeper's own words: they were found before,
and now move."""

from __future__ import annotations

from rounds.bench.codes import like_codes
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.tokens import Word
from rounds.entries.slots import each

_BETWEEN = each(
    "egg eggs leaf leaves stem stems sprig sprigs host searched found the a of on with from "
    "and put moved into to in for new fresh empty another other own its cup box pot tin jar "
    "dish container"
)


def eggs_cut_off(reader: Reader) -> None:
    """Read ``K2 84 eggs cut off into E2`` as ``K2 moved 84 eggs to E2``; any other line stays as it
    is."""
    words = reader.words
    texts = ["" if word.quoted else word.lower for word in words]
    off = next(
        (
            position
            for position in range(len(texts) - 1)
            if texts[position : position + 2] == ["cut", "off"]
        ),
        -1,
    )
    targets = [
        place
        for place in range(off + 2, len(words))
        if texts[place] and like_codes(words[place].text)
    ]
    targets = targets or [
        place for place in range(off + 2, len(words)) if reader.code_of(words[place])
    ]
    if off < 0 or not targets:
        return
    into = targets[-1]
    head = [word for place, word in enumerate(words[:into]) if place not in (off, off + 1)]
    sources = [word for word in head if reader.code_of(word)]
    numbers = [word for word in head if word.text.isdecimal() and not word.quoted]
    rest = [word for word in head if word not in sources and word not in numbers]
    if (
        len(sources) != 1
        or len(numbers) != 1
        or any(word.quoted or word.lower not in _BETWEEN for word in rest)
    ):
        return
    at = words[off].at
    eggs = [Word("eggs", at), Word("to", at), words[into], *words[into + 1 :]]
    reader.words[:] = [sources[0], Word("moved", at), numbers[0], *eggs]
