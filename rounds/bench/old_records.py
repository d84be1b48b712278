"""What was taken from old records, as the id of a line tells, and what such lines leave open."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from rounds.entries.arrivals import FounderIntake

CONTENT_LENGTH: Final = 8  # signs of an id that are of what its line says
TAG_LENGTH: Final = 4  # signs of the mark of the records, behind them


PLACE_IN_NOTE: Final = "place: "  # before a place that an old table names, kept in a note
NEXT_IN_NOTE: Final = "; "  # between what such a note holds


def place_note(place: str) -> str:
    """A place that an old table names, as a note keeps it."""
    return f"{PLACE_IN_NOTE}{place.replace(NEXT_IN_NOTE, ', ')}" if place else ""


def tag_of(entry_id: str) -> str:
    """The mark of the records that a line was taken from; empty for a line that was said here."""
    _, dash, chance = entry_id.partition("-")
    if not dash or "-" in chance or len(chance) != CONTENT_LENGTH + TAG_LENGTH:
        return ""
    return chance[CONTENT_LENGTH:]


def is_wild(founder: FounderIntake) -> bool:
    """Whether it is on record that a founder was taken from the wild: as of all that were brought
    in here; of one that an old table tells of only with a place or a day of the catch."""
    return bool(founder.place or founder.caught or not tag_of(founder.id))
