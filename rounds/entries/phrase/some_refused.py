"""``drank 2, 1 refused``, ``W1 drank, W2 not``: what some did and the others would not."""

from __future__ import annotations

from rounds.entries.phrase.reader import JOINS, Reader
from rounds.entries.phrase.synonyms import digits_of

_REFUSED = frozenset({"refused", "refuses", "not", "no", "didnt", "didn't"})
_DRANK = frozenset({"drank", "fed", "drinks"})


def some_refused(reader: Reader) -> None:
    """Take how many refused out of a line that says who drank."""
    words = reader.words
    said = [word.lower for word in words]
    place = next((at for at in range(1, len(said)) if said[at] in _REFUSED), 0)
    if not place or not _DRANK & {*said[: place - 1]} or any(word.quoted for word in words):
        return
    animal = reader.animal_of(words[place - 1])
    number = digits_of(said[place - 1])
    if not animal and not int(number or 0):
        return
    before = words[: place - 1]
    while before and before[-1].text.casefold() in JOINS:
        del before[-1]
    reader.refused = animal or int(number)
    reader.words = before + words[place + 1 :]
