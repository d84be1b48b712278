"""What a typed line may say of a kind without naming the field: where its numbers and words go, and
its everyday names."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from msgspec import Struct

RENEWED: Final = ("changed", "renewed", "replaced", "exchanged")  # said of a plant that was there
PLANT_THERE: Final = "the plant that stands there"  # which it is the container says
AWAKE: Final = "awake"  # their winter rest is over: what they need now says what the cup is for
SAME_AGAIN: Final = "same again"  # the next animal of one catch: all but its code as that before it


class Slots(Struct, frozen=True):
    """The slots of one kind in a phrase.

    Fields are named as in the kind.
    """

    numbers: tuple[str, ...] = ()  # where a bare number goes, in order
    # where words go that are nothing else, joined; the second takes what follows a comma
    words: tuple[str, ...] = ()
    several: bool = False  # said without a number, most often of several: how many is asked
    text: str = ""  # the field that takes all words to the end of the line
    # its loose words are a name or a number of a catalogue, which a preposition ends
    is_name: bool = False
    after: Mapping[
        str, str
        # by preposition: the field that the words after it say, to the next word of another sort
    ] = {}
    leading: Mapping[str, str] = {}  # by word: the field that the next word says
    idle: frozenset[str] = frozenset()  # words that say nothing more
    short: Mapping[str, str] = {}  # short forms of choices that mean something of their own here
    verbs: tuple[str, ...] = ()  # other names of the kind
    # what keepers say instead, with the fields that it says at once
    synonyms: Mapping[str, Mapping[str, Any]] = {}


def say(words: str, **fields: Any) -> dict[str, Mapping[str, Any]]:
    """Synonyms, parted by commas, that say these fields at once."""
    return {word.strip(): fields for word in words.split(",")}


def listed(words: str, by: str | None = None) -> tuple[str, ...]:
    """Words in their order, parted by spaces or as it is said."""
    return tuple(words.split(by))


def each(words: str, by: str | None = None) -> frozenset[str]:
    """The same in no order."""
    return frozenset(words.split(by))


# What adults are given to drink or suck, in a keeper's words.
FOODS: Final = each(
    "sugar honey nectar syrup juice water fruit banana orange salt minerals sap beer wine"
)
