"""What was taken from old records, as the id of a line tells, and what such lines leave open."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rounds.entries.arrivals import FounderIntake
    from rounds.entries.notes import Imported

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
    in here; of one that an old table says of only with a place or a day of the catch."""
    return bool(founder.place or founder.caught or not tag_of(founder.id))


def newest_imports(imports: Sequence[Imported], file: str) -> list[Imported]:
    """Of the imports of a table those that no other one knew: several where it came in on several
    laptops."""
    same = [one for one in imports if one.file.casefold() == file.casefold()]
    known = {name for one in same for name in one.after}
    return [one for one in same if one.id not in known]


def rival_imports(imports: Sequence[Imported]) -> list[list[Imported]]:
    """The imports of each table that came in on several laptops and said something else there."""
    files = dict.fromkeys(one.file.casefold() for one in imports)
    found = ([one for one in newest_imports(imports, file) if one.said] for file in files)
    return [same for same in found if len({one.said for one in same}) > 1]


def rival_words(imports: Sequence[Imported]) -> Iterator[str]:
    """That several versions of a table stand in the book, and what heals it."""
    for same in rival_imports(imports):
        from shlex import quote

        file, who = same[0].file, dict.fromkeys(one.by for one in same if one.by)
        by = f", by {' and '.join(who)}" if len(who) > 1 else ""
        yield (
            f"{len(same)} VERSIONS OF {file} CAME IN{by}, and what each says counts; take in again"
            f" the one that is right (rounds import {quote(file)}): what it does not say is crossed"
            " out"
        )
