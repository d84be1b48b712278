"""On which shelf a standing container is put, in a keeper's own words: ``L1 on sill``, ``L1-L4
moved to sill 3``."""

from __future__ import annotations

from collections.abc import Collection

from rounds.bench.codes import like_codes
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.entries.phrase.asking import is_it_put_in, plant_at
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.subject import Subject
from rounds.entries.phrase.times import is_time_word
from rounds.entries.phrase.verbs import LONGEST_VERB, begins_what_happened, number_of
from rounds.entries.slots import each

_PUT = each("stands stand standing moved put set placed is are now carried brought goes back")
_ON = frozenset({"on", "onto", "at", "to", "in", "into"})
_THE = frozenset({"the", "shelf"})


def stands_on(reader: Reader, place: Subject) -> type[Entry] | None:
    """Read where containers stand now, if nothing else is said of them.

    Raises:
        Trouble: no shelf has that name.
    """
    if place.what != "known" or not place.codes or place.animals:
        return None
    steps = 0
    for words in (_PUT, _ON, _THE):
        while reader.said(steps, 1) in words:
            steps += 1
    shelves = {
        container.shelf.casefold(): container.shelf
        for container in reader.bench.standing()
        if container.shelf
    } | reader.shelves
    name, length = _named(reader, steps, shelves)
    if length and _ends(reader, steps + length) and name not in reader.codes:
        reader.fields["shelf"] = shelves[name]
        reader.place += steps + length
        reader.place += reader.said(0, 1) == "place"
        return k.Changed
    word = reader.ahead(steps)
    is_on = not length and _ON & {reader.said(step, 1) for step in range(steps)}
    plant = plant_at(reader, steps) if is_on else ""
    if word and plant and _ends(reader, steps + len(plant.split())):
        raise is_it_put_in(reader, place.codes[0], plant, word)
    if (
        word
        and _is_put(reader, steps)
        and _ends(reader, steps + 1)
        and not like_codes(word.text)
        and not reader.code_of(word)
    ):
        known = f"; there is {', '.join(sorted(shelves.values()))}" if shelves else ""
        raise PhraseProblem(
            f"no shelf is called {word.text} yet{known}. As: shelf {word.text} set up; "
            f"or only where it stands: {place.words} changed shelf={word.text}",
            word,
        )
    return None


def _named(reader: Reader, steps: int, shelves: Collection[str]) -> tuple[str, int]:
    """The shelf that is named there, in small letters, and in how many words; ('', 0) for none."""
    word = reader.ahead(steps)
    if word and word.quoted:
        return (word.text.casefold(), 1) if word.text.casefold() in shelves else ("", 0)
    names = {" ".join(name.split()).replace("-", " "): name for name in shelves}
    lengths = (
        length for length in range(LONGEST_VERB, 0, -1) if reader.said(steps, length) in names
    )
    length = next(lengths, 0)
    return (names[reader.said(steps, length)], length) if length else ("", 0)


def _is_put(reader: Reader, steps: int) -> bool:
    """Whether the words before can only say that something is put somewhere: ``on``, ``shelf``,
    ``moved to``."""
    said = {reader.said(step, 1) for step in range(steps)}
    moved = reader.said(0, 1) in _PUT and bool(said & _ON)
    if begins_what_happened(reader, steps) or (not moved and begins_what_happened(reader, 0)):
        return False
    return moved or bool(said & (_THE | {"on", "onto"}))


def _ends(reader: Reader, steps: int) -> bool:
    """Whether nothing follows there but a place on the shelf, and when."""
    steps += reader.said(steps, 1) == "place"
    steps += bool(number_of(reader.ahead(steps)))
    word = reader.ahead(steps)
    return word is None or is_time_word(word.text)
