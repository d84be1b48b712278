"""What a keeper may say instead of what it is called here: only told, never taken."""

from __future__ import annotations

EVERYDAY: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("fed", "feed", "feeding", "drink", "drunk"), ("drank", "offered")),
    **dict.fromkeys(("egg", "eggs", "laid", "laying", "found"), ("searched",)),
    **dict.fromkeys(("larva", "larvae", "caterpillars", "pupae", "adults"), ("counted",)),
    **dict.fromkeys(("leaf", "leaves", "plant", "sprig", "sprigs", "food"), ("host in", "host seen", "host out")),
    **dict.fromkeys(("limp", "eaten", "bare"), ("host seen",)),
    **dict.fromkeys(("water", "filled", "full", "low"), ("topped up", "barrier")),
    **dict.fromkeys(("dead",), ("died",)),
    **dict.fromkeys(("gone", "lost"), ("missing", "escaped", "died")),
    **dict.fromkeys(("sick", "ill"), ("suspect", "looked")),
    **dict.fromkeys(("freed"), ("released",)),
}
EVERYDAY_NUMBER: dict[str, tuple[str, ...]] = {"room": ("air",), "shelf": ("air", "barrier")}


def everyday(word: str, place: str) -> tuple[str, ...]:
    """What that word is called here; of a bare number what may be meant, by the kind of place before it."""
    if word[:1].isdigit():
        return EVERYDAY_NUMBER.get(place, ("counted", "searched"))
    return EVERYDAY.get(word.casefold(), ())
