"""How parasitoids are that came out of a host: ``14 Cotesia kept``, ``2 flies, dead``, ``1 wasp
pinned``. It is no part of their name; how many are kept is a number, the rest is a note."""

from __future__ import annotations

from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.synonyms import digits_of
from rounds.entries.phrase.tokens import Word, named_value
from rounds.entries.slots import each

_AS_SPECIMENS = each("pinned mounted preserved")
_KEPT = _AS_SPECIMENS | each("kept retained")
_HOW = _AS_SPECIMENS | each("dead alive live living male males female females reared")
_LINKS = each("all both them and")


def set_state_aside(reader: Reader) -> None:
    """Take how they are out of the words that are still to read; a word in capitals or in quotes is
    part of a name."""
    words = reader.words[reader.place :]
    numbers = [digits_of(one.lower) for one in words if not named_value(one)]
    number = next(filter(None, numbers), "1")
    left: list[Word] = []
    for place, word in enumerate(words):
        plain = "" if word.quoted or word.text[:1].isupper() else word.lower
        if plain not in _KEPT | _HOW or (plain == "kept" and _is_number(words[place + 1 :][:1])):
            left.append(word)
            continue
        of_some = place > 1 and _is_number(left[-1:])  # '14 Cotesia, 3 pinned'
        how = f"{left[-1].text} {plain}" if of_some else plain
        if plain in _KEPT and of_some:
            left.append(Word("kept", word.at))
        elif plain in _KEPT:
            reader.fields.setdefault("kept", int(number))
        elif of_some:
            left.pop()
        if plain in _HOW:
            reader.set_aside(how)
        while left and left[-1].lower in _LINKS:
            left.pop()
    reader.words[reader.place :] = left


def _is_number(words: list[Word]) -> bool:
    return any(not one.quoted and digits_of(one.lower) for one in words)
