"""What came in that should not be there: ``intruder spider``, ``a wasp at the feeder``, ``spider
gone``."""

from __future__ import annotations

from rounds.bench.state import Container
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.subject import Subject
from rounds.entries.phrase.times import is_time_word, is_weekday
from rounds.entries.phrase.tokens import one_text
from rounds.entries.phrase.verbs import number_of
from rounds.entries.slots import each

_INTRUDER = frozenset({"intruder", "intruders", "stranger", "strangers"})
# Predators and others that get into cups; ants are of the barrier.
_ANIMALS = each(
    "spider spiders wasp wasps hornet hornets earwig earwigs mite mites beetle beetles bug bugs"
    " harvestman harvestmen mouse mice fly flies woodlouse woodlice centipede centipedes lacewing"
    " lacewings slug slugs snail snails cricket crickets mantis predator"
)
_BEFORE = each("a an one another some the feeder swab has no in at is there")
_PARASITIC = each("wasp wasps fly flies")
_CAME = each("out emerged hatched eclosed came cocoon cocoons maggot maggots puparium puparia grub")
_GONE = each("gone no removed out away none killed")


def _may_bear(container: Container) -> bool:
    """Whether animals stand there out of which a parasitoid can come."""
    return any(lot.stage != "adult" for lot in container.lots)


def intruder(reader: Reader, place: Subject) -> type[Entry] | None:
    """Read a line about one; what it was stays as a note beside it."""
    if place.what != "known" or not place.codes or place.animals:
        return None
    steps = 0
    while reader.said(steps, 1) in _BEFORE or number_of(reader.ahead(steps)):
        steps += 1
    if reader.said(steps, 1) not in _INTRUDER | _ANIMALS:
        return None
    end = steps
    while (word := reader.ahead(end)) and not (is_time_word(word.text) or is_weekday(word.text)):
        end += 1
    words = [word for position in range(end) if (word := reader.ahead(position))]
    gone = any(word.lower in _GONE for word in words)
    container = reader.bench.at(place.codes[0])
    said = {word.lower for word in words}
    if said & _PARASITIC and said & _CAME and container and _may_bear(container):
        number = next((one for word in words if (one := number_of(word))), "1")
        here, text = place.codes[0], one_text(words)
        raise PhraseProblem(
            f"out of one that stands there, or an intruder? As: {here} parasitoid {number};"
            f" {here} intruder {number} -- {text}; {here} no intruder",
            reader.word,
        )
    reader.fields["sign"] = "as usual" if gone else "intruder"
    text = one_text(words)
    reader.aside = "" if text.casefold() in _INTRUDER else text
    reader.place += end
    return k.Looked
