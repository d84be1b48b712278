"""The beginning of a line: what happened, in the words of the trade or in everyday ones."""

from __future__ import annotations

import re

from rounds import late
from rounds.bench.codes import like_codes, some_of
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.entries.entry_factory import InvalidField
from rounds.entries.names import known_plants, named_there
from rounds.entries.phrase.dates import read_time_first
from rounds.entries.phrase.intruders import intruder
from rounds.entries.phrase.number_first import among_first, ants, ask, counted_first
from rounds.entries.phrase.on_kept_stems import fresh_for_the_old, kept_stems_first
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.stands_on import stands_on
from rounds.entries.phrase.subject import Subject, put_place, read_off, read_place
from rounds.entries.phrase.synonyms import everyday_number
from rounds.entries.phrase.times import is_time_word, is_weekday
from rounds.entries.phrase.tokens import Word, named_value
from rounds.entries.phrase.values import choice_at
from rounds.entries.phrase.verbs import (
    FIGURES,
    INSTAR,
    VERBS,
    asked_at,
    begins_what_happened,
    head_at,
    purpose,
)
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import describe
from rounds.entries.slots import PLANT_THERE, RENEWED

_MEASURED = late.pattern(r"^[-+]?\d+(?:[.,]\d+)?(?:\u00b0?[cf]|%)$", re.IGNORECASE)
_DEGREES = frozenset({"c", "f", "%", "\u00b0c", "\u00b0f"})
_IS = frozenset(
    {
        "is",
        "was",
        "is a",
        "is an",
        "taxon",
        "species",
        "identified",
        "identified as",
        "determined as",
    }
)
_WHERE = frozenset({"at", "from", "near"})
_RECORDED = frozenset({"caught", "wear", "latitude", "longitude", "uncertainty", "inspected"})


_FELT = late.pattern(r"\b(?:hot|warm|cold|cool)$")
_FROM_TO = late.pattern(r"^(\d+(?:[.,]\d+)?)[-\u2013](\d+(?:[.,]\d+)?)\u00b0?c?$", re.IGNORECASE)


def read_beginning(reader: Reader, *, noted: bool = False) -> type[Entry]:
    """Read whose line it is and what happened; the fields that this says at once go into the
    reader.

    ``noted`` where words follow ' -- ': with a place alone before them the line is a note.

    Raises:
        Trouble: what is not clear.
    """
    among_first(reader)
    subject = read_place(reader)
    read_time_first(reader)
    among_first(reader)
    kept_stems_first(reader)
    if noted and reader.word is None and subject.what == "known":
        put_place(reader, k.Note, describe(k.Note), subject)
        return k.Note
    if _betters(reader, subject):
        return k.FounderIntake
    kind = (
        stands_on(reader, subject)
        or ants(reader, subject)
        or intruder(reader, subject)
        or counted_first(reader, subject)
        or _verb(reader, subject)
    )
    put_place(reader, kind, describe(kind), subject)
    return kind


def _betters(reader: Reader, place: Subject) -> bool:
    """Whether a line says more of a founder than was known: ``W3 is NAME``, ``W3 at PLACE caught
    14:20 wear fresh``."""
    if place.what != "known" or len(place.animals) != 1:
        return False
    (code,) = place.animals
    length = next((length for length in (2, 1) if reader.said(0, length) in _IS), 0)
    if length and reader.ahead(length) is None:
        raise PhraseProblem(
            f"{code} {reader.said(0, length)} what? As: {code} is Boloria dia",
            reader.word,
        )
    if length and begins_what_happened(reader, length):
        reader.place += length if reader.said(0, length) in ("is", "was") else 0  # 'W3 is dead'
        return False
    if not length and not _of_the_record(reader):
        return False
    founder = reader.bench.founders.get(code)
    if founder is None:
        mother = next(iter(reader.bench.broods[code].mothers), "")
        raise PhraseProblem(
            (
                f"{code} goes by what its mother is; say it of her, as: {mother} is NAME"
                if mother
                else (
                    f"{code} has no mother on record; cross out its line in the daybook and begin"
                    " it anew"
                )
            ),
            place.word,
        )
    reader.place += length
    reader.fields |= {"code": code, "container": founder.container}
    reader.better = True
    return True


def _of_the_record(reader: Reader) -> bool:
    """Whether what follows can only be where or when a founder was caught, its wear, or another
    field of its record."""
    word, following = reader.word, reader.ahead(1)
    if word is None or word.quoted:
        return False
    named = named_value(word)
    if named:
        return describe(k.FounderIntake).field(named[0]) is not None and named[0] not in (
            "code",
            "container",
        )
    if following is None or (following.quoted and word.lower not in _WHERE):
        return False
    if word.lower in _WHERE:
        if following.text[0].isdecimal() and begins_what_happened(reader, 2):
            raise PhraseProblem(f"'{following.text}' is no time; say it as 7:20", following)
        return not (
            reader.code_of(following) or is_time_word(following.text) or is_weekday(following.text)
        )
    return word.lower in _RECORDED


def begins_at(reader: Reader, word: Word) -> bool:
    """Whether a word that was read already is a verb."""
    return head_at(reader, reader.words.index(word) - reader.place) is not None


def _verb(reader: Reader, place: Subject) -> type[Entry]:
    word = reader.word
    if word is None:
        raise PhraseProblem(
            f"what happened with {place.words or 'it'}? As: {place.words or 'L2'} drank"
        )
    kind = _by_shelf(place, word)
    if kind:
        return kind
    if fresh_for_the_old(reader):
        return k.HostIn
    if word.lower in ("fed", "feed"):
        _fed_larvae(reader, place)
    found, asked = head_at(reader, 0), asked_at(reader, 0)
    of_no_container = (
        found is not None and describe(KIND_BY_NAME[found.kind]).field("container") is None
    )
    following = reader.ahead(asked[2]) if asked else None
    if (
        asked
        and following
        and _FELT.search(reader.said(0, asked[2]))
        and FIGURES.match(following.text)
    ):
        reader.place += asked[2]  # 'hot 34' is a reading
        return k.Air
    if asked and (found is None or asked[2] > found.length or (of_no_container and place.what)):
        ask(reader, place, asked[:2])
    if found and found.kind == "changed" and _changes_a_plant(reader, place):
        reader.fields |= {"plant": PLANT_THERE, "changed": True}
        reader.place += 1
        return k.HostIn
    if found:
        reader.fields |= found.fields
        reader.place += found.read
        return KIND_BY_NAME[found.kind]
    kind = _by_place(reader, place, word)
    if kind:
        return kind
    span = (
        _FROM_TO.match(word.text) if place.what in ("room", "shelf") and not word.quoted else None
    )
    if span:  # 'room 19-24': lowest and highest
        word = reader.words[reader.place] = Word(f"{span[1]}/{span[2]}", word.at)
    of_shelf = place.what == "shelf" and read_off(reader, place.codes[0], word)
    if (
        _MEASURED.match(word.text)
        or (FIGURES.match(word.text) and reader.said(1, 1) in _DEGREES)
        or of_shelf
        or (place.what == "room" and FIGURES.match(word.text))
    ):
        return k.Air
    near: tuple[str, ...] = everyday_number(place.what) if word.text[:1].isdigit() else ()
    near = near or late.nearest(word.lower, VERBS, 3, 0.6)
    near = near or late.nearest(word.lower, [*reader.codes.values()], 3, 0.6)
    noted = " ".join(one.text for one in reader.words[reader.place :])
    if like_codes(word.text) and not near:
        raise PhraseProblem(
            f"no container is called {word.text}; there are"
            f" {some_of(sorted(reader.codes.values()))}; to set it up: {word.text} set up laying",
            word,
        )
    as_note = (
        f"; as a note: {place.words} note {noted}" if place.what == "known" and not near else ""
    )
    raise PhraseProblem(f"'{word.text}' is not something that happens here{as_note}", word, near)


def _changes_a_plant(reader: Reader, place: Subject) -> bool:
    """Whether a plant that stands there is named behind 'changed'."""
    container = reader.bench.at(place.codes[0]) if place.codes else None
    there = dict.fromkeys(host.plant for host in container.hosts) if container else {}
    for length in (3, 2, 1):
        try:
            if named_there(reader.said(1, length), there):
                return True
        except InvalidField:
            continue
    return False


def _by_shelf(place: Subject, word: Word) -> type[Entry] | None:
    """A moat's state after a shelf: ``sill low``."""
    states = describe(k.BarrierSeen).field("state")
    is_state = states is not None and word.lower in (*states.choices, "ok", "empty")
    return k.BarrierSeen if place.what == "shelf" and is_state else None


def _by_place(reader: Reader, place: Subject, word: Word) -> type[Entry] | None:
    """What a word means by the place before it: a moat's state, a purpose of a new container, where
    animals go, a plant."""
    if place.what == "unknown" and purpose(reader, 0):
        return k.SetUp
    if place.what == "known" and (steps := _purpose_alone(reader)) is not None:
        reader.place += steps
        return k.Changed
    if place.what == "known" and word.lower in ("to", "into") and reader.code_of(reader.ahead(1)):
        return k.Moved
    if place.what == "known" and (
        INSTAR.match(word.lower) or reader.said(1, 1) in ("l2", "l3", "l4", "l5", "l6", "l7")
    ):
        instar = word.text if INSTAR.match(word.lower) else str(reader.said(1, 1)).upper()
        raise PhraseProblem(
            f"how many are in {instar} now? As: {place.words} moulted 8 {instar}; {place.words}"
            f" moulted all {instar}",
            word,
        )
    plants = {plant.casefold(): plant for plant in known_plants(reader.bench)}
    plant = next(
        (plants[text] for length in (3, 2, 1) if (text := reader.said(0, length)) in plants), ""
    )
    length = len(plant.split())
    if plant and place.what == "known" and reader.said(length, 1) in RENEWED:
        reader.fields |= {"plant": plant, "changed": True}
        reader.place += length + 1
        return k.HostIn
    if plant and place.what == "known" and _is_state(reader, length):
        return k.HostSeen
    if plant:
        here = place.words or "K4"
        raise PhraseProblem(
            f"put in, seen or taken out? As: {here} host in {plant}; {here} host seen fresh; {here}"
            f" host out {plant}",
            word,
        )
    return None


def _is_state(reader: Reader, steps: int) -> bool:
    """Whether what a plant looks like stands there: ``blackthorn limp``."""
    described = describe(k.HostSeen)
    state = described.field("state")
    return state is not None and choice_at(reader, described, state, steps) is not None


def _purpose_alone(reader: Reader) -> int | None:
    """How many words stand before a purpose that is all there is to a line, but for when: ``for
    overwintering``; None where it is another line."""
    steps = 0
    while reader.said(steps, 1) in ("now", "for"):
        steps += 1
    for length in (2, 1):
        after = reader.ahead(steps + length)
        if purpose(reader, steps, length) and (after is None or is_time_word(after.text)):
            return steps
    return None


def _fed_larvae(reader: Reader, place: Subject) -> None:
    """Females that were fed drank; larvae get a plant, and which it was is asked."""
    later = next(
        (code for word in reader.words[reader.place :] if (code := reader.code_of(word))), ""
    )
    container = reader.bench.at(place.codes[0] if place.codes else later)
    if container and not container.females and container.count("larva"):
        code = container.code
        raise PhraseProblem(
            f"{code} holds larvae: what was put in? As: {code} host in violet leaf 3 sprigs",
            reader.word,
            ("host in",),
        )
