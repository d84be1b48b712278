"""What a container is, said as it is set up, ``R9 set up rearing sleeve``: it goes into a note, but
for a cup, which says nothing more."""

from __future__ import annotations

from rounds.entries.phrase.reader import Reader

_VESSELS = frozenset(["cup", "jar", "tub", "cage", "sleeve", "box", "tent", "tube", "tin", "dish"])
_USUAL = "cup"
_OF = frozenset({"as", "in", "a", "an"})
_NAMES_ONE = frozenset({"shelf", "on", "lid", "lining", "inside"})  # a name is behind it


def set_vessel_aside(reader: Reader) -> None:
    """Take the word for a vessel out of a line that sets up a container, for the bench knows them
    by what they are for."""
    for place in range(reader.place, len(reader.words)):
        word, begins = reader.words[place], place
        if word.plain not in _VESSELS:
            continue
        while begins > reader.place and reader.words[begins - 1].lower in _OF:
            begins -= 1
        if begins > reader.place and reader.words[begins - 1].lower in _NAMES_ONE:
            continue
        if word.lower != _USUAL:
            reader.set_aside(word.text)
        del reader.words[begins : place + 1]
        return
