"""``drank 2, 1 refused``: what some did and the others would not, in one line."""

from __future__ import annotations

from rounds.entries.phrase.reader import JOINS, Reader
from rounds.entries.phrase.synonyms import NUMBER_WORDS

_REFUSED = frozenset({"refused", "refuses", "not"})


def some_refused(reader: Reader) -> None:
    """Take how many refused out of a line that says who drank."""
    words = reader.words
    said = [word.lower for word in words]
    place = next((at for at in range(1, len(said)) if said[at] in _REFUSED), 0)
    if not place or "drank" not in said[: place - 1] or any(word.quoted for word in words):
        return
    number = NUMBER_WORDS.get(said[place - 1], said[place - 1])
    if not number.isdecimal() or not int(number):
        return
    before = words[: place - 1]
    while before and before[-1].text.casefold() in JOINS:
        del before[-1]
    reader.refused = int(number)
    reader.words = before + words[place + 1 :]
