"""Words that read like a place where a container stands: ``by the window``, ``in a drawer``,
``back corner``. The typed line and the list of a bench tell a plant from a place by them."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from rounds.entries.plant_parts import is_part
from rounds.entries.slots import each

BEGINS_A_PLACE: Final = each(
    "in on by under beneath below beside near next behind above at inside outside opposite"
)
_ARTICLES: Final = each("a an the my our her his")
# Here animals are caught as well.
HOUSE_AND_GARDEN: Final = each(
    "window windows windowsill lamp door wall room kitchen cellar attic garage shed greenhouse"
    " balcony porch terrace garden bed stairs hall landing veranda yard bathroom bedroom office"
    " study house home"
)
_FURNITURE: Final = each(
    "sill shelf shelves table tables desk bench corner drawer drawers cupboard cabinet rack"
    " tray stand floor fridge bookcase wardrobe radiator sink incubator tent"
)
_PLACES: Final = (HOUSE_AND_GARDEN | _FURNITURE) - {"house", "home"}
PLACE_WORDS: Final = BEGINS_A_PLACE | _ARTICLES | HOUSE_AND_GARDEN | _FURNITURE
# A box of these words is where animals were carried or lie, and no place of a bench.
_NEVER: Final = each("moss peat water soil")


def reads_like_a_place(text: str, plants: Collection[str]) -> bool:
    """Whether words say where something stands, and name none of the plants that are known.

    A preposition with an article, or before a word for a place, reads like one, and so does such a
    word at the end: ``back corner``. A part of a plant does not: ``on the leaves``.
    """
    words = [word.casefold().rstrip(",.") for word in text.split()]
    known = {plant.casefold() for plant in plants}
    if not words or text.casefold() in known or words[-1] in _NEVER:
        return False
    begins = words[0] in BEGINS_A_PLACE
    rest = words[1:] if begins else words
    rest = rest[1:] if begins and words[0] == "next" and rest[:1] == ["to"] else rest
    article = bool(rest) and rest[0] in _ARTICLES
    name = rest[1:] if article else rest
    if not name or " ".join(name) in known or is_part(name):
        return False
    if name[-1] in _PLACES:
        return begins or not BEGINS_A_PLACE & {*name}  # 'violet by the window' has both
    return begins and article and words[0] not in ("on", "at") and not BEGINS_A_PLACE & {*name}


def place_behind(text: str, plants: Collection[str]) -> tuple[str, str] | None:
    """What stands before a place at the end of a text, and that place: ``violet by the window``;
    None where none stands there."""
    words = text.split()
    for position in range(len(words) - 1, 0, -1):
        place = " ".join(words[position:])
        begins = words[position].casefold() in BEGINS_A_PLACE and "from" not in words[position:]
        named = words[-1].casefold() in _PLACES and "'" not in place and '"' not in place
        if begins and named and reads_like_a_place(place, plants):
            return " ".join(words[:position]).rstrip(" ,"), place
    return None
