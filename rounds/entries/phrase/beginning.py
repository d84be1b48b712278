"""The beginning of a line: what happened, in the words of the trade or in everyday ones."""

from __future__ import annotations

import re
from datetime import timedelta

from rounds import late
from rounds.bench.codes import INSTAR, like_codes, some_of
from rounds.entries import registry as k
from rounds.entries.base import Entry, Stage
from rounds.entries.entry_factory import InvalidField
from rounds.entries.names import is_binomial, known_plants, named_there
from rounds.entries.phrase.asking import ask, code_later, did_she_drink, plant_said, what_of_plant
from rounds.entries.phrase.dates import read_time_first
from rounds.entries.phrase.foreign_words import CATCHES
from rounds.entries.phrase.intruders import intruder
from rounds.entries.phrase.number_first import among_first, ants, counted_first
from rounds.entries.phrase.on_kept_stems import fresh_for_the_old, kept_stems_first
from rounds.entries.phrase.plant_first import plant_first
from rounds.entries.phrase.reader import JOINS, PhraseProblem, Reader, as_one_name
from rounds.entries.phrase.record_words import BARE_FIELDS, as_named
from rounds.entries.phrase.stands_on import stands_on
from rounds.entries.phrase.subject import LOW_OR_HIGH, Subject, put_place, read_off, read_place
from rounds.entries.phrase.synonyms import MEANT, everyday_number
from rounds.entries.phrase.times import is_time_word, is_weekday
from rounds.entries.phrase.tokens import Word, named_value, one_text
from rounds.entries.phrase.values import choice_at
from rounds.entries.phrase.verbs import (
    FIGURES,
    VERBS,
    asked_at,
    begins_what_happened,
    head_at,
    number_of,
    purpose,
)
from rounds.entries.place_words import BEGINS_A_PLACE, reads_like_a_place
from rounds.entries.plant_parts import name_and_part
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import describe
from rounds.entries.slots import FOODS, PLANT_THERE, RENEWED, each

_MEASURED = late.pattern(r"^[-+]?\d+(?:[.,]\d+)?(?:\u00b0?[cf]|%)$", re.IGNORECASE)
_DEGREES = frozenset({"c", "f", "%", "\u00b0c", "\u00b0f"})
_IS = each(
    "is, was, is a, is an, taxon, species, identified, identified as, determined as", by=", "
)
_OF_MOTHERS = frozenset({"is of", "was of", "are of", "were of"})
_EGGS = frozenset({"egg", "eggs", "those"})
ONE_DAY = timedelta(days=1)
_WEAR = each("fresh, slight, slightly worn, worn, very worn", by=", ")
_WHERE = frozenset({"at", "from", "near"})
_RECORDED = BARE_FIELDS | each("caught wear latitude longitude uncertainty inspected")


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
    if subject.what == "known" and subject.codes and not subject.animals:
        plant_first(reader)
    if noted and reader.word is None and subject.what == "known":
        put_place(reader, k.Note, describe(k.Note), subject)
        return k.Note
    if better := _mothers_said(reader, subject) or _betters(reader, subject):
        return better
    kind = (
        _new_for_a_purpose(reader, subject)
        or stands_on(reader, subject)
        or ants(reader, subject)
        or intruder(reader, subject)
        or counted_first(reader, subject)
        or _verb(reader, subject)
    )
    put_place(reader, kind, describe(kind), subject)
    return kind


def _new_for_a_purpose(reader: Reader, place: Subject) -> type[Entry] | None:
    """A container that does not stand yet, and what it is for: ``C1 pairing``; ``eggs 12`` are
    some that were found."""
    is_new = place.what == "unknown" and purpose(reader, 0)
    is_found = reader.said(0, 1) in _EGGS and _purpose_alone(reader) != 0
    return k.SetUp if is_new and not is_found else None


def _mothers_said(reader: Reader, place: Subject) -> type[Entry] | None:
    """Read whose a brood is after all, or the eggs of one search: ``W3/A is of W2``, ``W3/A is of
    W2 or W4``, ``M3 eggs are of W2 5 May 08:00``."""
    of_a_search = place.what == "known" and len(place.codes) == 1 and not place.animals
    brood = place.animals[0] if len(place.animals) == 1 and not place.codes else ""
    if of_a_search and reader.said(0, 1) in _EGGS:
        whose, steps = place.codes[0], 1
    elif brood in reader.bench.broods:
        whose, steps = brood, 0
    else:
        return None
    if reader.said(steps, 2) not in _OF_MOTHERS:
        return None
    said = reader.said(0, steps + 2)
    steps += 2
    mothers: list[str] = []
    while (word := reader.ahead(steps)) is not None:
        joins = word.lower in JOINS or word.lower == "or"
        names = [] if joins else reader.names_in(word)
        if not joins and not names:
            break
        if any(name.casefold() not in reader.animals for name in names):
            break
        mothers += [reader.animals[name.casefold()] for name in names]
        steps += 1
    if not mothers:
        laid = reader.bench.broods.get(brood)
        known = next(iter(laid.mothers if laid else reader.bench.founders), "W3")
        changes = reader.bench.containers[whose].changes.values() if of_a_search else ()
        searches = [one.at for one in changes if isinstance(one, k.Searched)]
        at = searches[-1] if searches else None
        when = f" {at:%Y-%m-%d %H:%M}" if at else ""
        raise PhraseProblem(
            f"{whose} {said} whom? As: {whose} {said} {known}{when}", reader.ahead(2)
        )
    reader.place += steps
    reader.fields |= {
        "container" if of_a_search else "code": whose,
        "among" if of_a_search else "mothers": tuple(dict.fromkeys(mothers)),
    }
    reader.better = True
    return k.Searched if of_a_search else k.BroodBegun


def _betters(reader: Reader, place: Subject) -> type[Entry] | None:
    """Read that a line says more of a founder than was known: ``W3 is NAME``, ``W3 at PLACE caught
    14:20 wear fresh``; what is said stays to be read. None for any other line."""
    if place.what != "known" or len(place.animals) != 1:
        return None
    (code,) = place.animals
    length = next((length for length in (2, 1) if reader.said(0, length) in _IS), 0)
    if length and reader.ahead(length) is None:
        raise PhraseProblem(
            f"{code} {reader.said(0, length)} what? As: {code} is Boloria dia",
            reader.word,
        )
    if length and begins_what_happened(reader, length):
        reader.place += length if reader.said(0, length) in ("is", "was") else 0  # 'W3 is dead'
        return None
    founder = reader.bench.founders.get(code)
    is_new = founder is not None and reader.now - founder.at < ONE_DAY
    if not length and not _of_the_record(reader, is_new=is_new):
        return None
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
    if reader.said(0, 2) == "slightly worn" and (worn := reader.word):
        reader.words[reader.place : reader.place + 2] = [Word("wear=slight", worn.at)]
    reader.fields |= {"code": code, "container": founder.container}
    reader.better = True
    return k.FounderIntake


def _of_the_record(reader: Reader, *, is_new: bool) -> bool:
    """Whether what follows can only be where or when a founder was caught, its wear, or another
    field of its record. Of one that came in longer ago wear alone is how it is now."""
    word, following = reader.word, reader.ahead(1)
    if word is None or word.quoted:
        return False
    named = named_value(word)
    if named:
        return describe(k.FounderIntake).field(named[0]) is not None and named[0] not in (
            "code",
            "container",
        )
    if (is_new and _is_wear_alone(reader)) or _begins_with_coordinates(reader):
        return True
    if following is None or (following.quoted and word.lower not in _WHERE):
        return False
    if word.lower in CATCHES and following.lower == "by":
        return True
    if "permit" in (word.lower, following.lower if word.lower in ("with", "under") else ""):
        return True
    if word.lower in _WHERE:
        if following.text[0].isdecimal() and begins_what_happened(reader, 2):
            raise PhraseProblem(f"'{following.text}' is no time; say it as 7:20", following)
        return not (
            reader.code_of(following) or is_time_word(following.text) or is_weekday(following.text)
        )
    return word.lower in _RECORDED


def _is_wear_alone(reader: Reader) -> bool:
    """Whether nothing but how worn she is stands there, or stops before a comma."""
    length = next((length for length in (2, 1) if reader.said(0, length) in _WEAR), 0)
    last = reader.ahead(length - 1)
    return bool(length and last) and (
        reader.ahead(length) is None or str(getattr(last, "text", "")).endswith(",")
    )


def _begins_with_coordinates(reader: Reader) -> bool:
    words = reader.words[reader.place :]
    try:
        named = as_named(words, " " * words[0].at + one_text(words))
    except PhraseProblem:
        return True  # the record says why
    return named[0].text.startswith("latitude=") and named[0] != words[0]


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
    _figure_of_a_shelf(reader, word)
    if word.lower in LOW_OR_HIGH and FIGURES.match(reader.said(1, 1)):
        return k.Air
    if fresh_for_the_old(reader):
        return k.HostIn
    if word.lower in ("fed", "feed") and (steps := _fed_larvae(reader, place)):
        reader.place += steps
        return k.HostIn
    if steps := _food_renewed(reader, place):
        reader.place += steps
        return k.FeederChanged
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
    _of_a_field(reader, place, word)
    if word.lower == "with" and place.animals and reader.animal_of(reader.ahead(1)):
        return k.Paired
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
    _new_plant(reader, place, word)
    _of_so_many(reader, place, word)
    _where_it_stands(reader, place, word)
    _of_a_part(reader, place, word)
    _of_food(reader, place, word)
    near: tuple[str, ...] = everyday_number(place.what) if word.text[:1].isdigit() else ()
    near = near or late.nearest(word.lower, VERBS, 3, 0.7)
    near = near or late.nearest(word.lower, MEANT, 2, 0.8)
    near = near or late.nearest(word.lower, [*reader.codes.values()], 3, 0.6)
    noted = one_text(reader.words[reader.place :])
    inside = reader.code_of(reader.ahead(2)) if reader.said(1, 1) in ("in", "into") else ""
    if like_codes(word.text) and inside:
        rest = one_text(reader.words[reader.place + 3 :])
        raise PhraseProblem(
            f"{word.text} is not on record; one that comes in: {inside} founder {word.text} {rest}",
            word,
        )
    genus, epithet = reader.ahead(1), reader.ahead(2)
    if like_codes(word.text) and place.codes and genus and epithet and genus.text.istitle():
        comes_in = f"{place.codes[0]} founder {noted}"
        raise PhraseProblem(
            f"{word.text} is not on record; one that comes in: {comes_in}",
            word,
        )
    if like_codes(word.text) and not near:
        raise PhraseProblem(
            f"no container is called {word.text}; there are"
            f" {some_of(sorted(reader.codes.values()))}; to set it up: {word.text} set up laying",
            word,
        )
    as_note = (
        f"; as a note: {place.words} note {noted}" if place.what == "known" and not near else ""
    )
    raise PhraseProblem(f"'{word.text}' is not an event that can be recorded{as_note}", word, near)


def _where_it_stands(reader: Reader, place: Subject, word: Word) -> None:
    """Ask whether a line that begins like a place says where a container stands: ``K1 by the
    window``; what is under a lot is frass."""
    where = one_text(reader.words[reader.place :])
    begins = word.lower in BEGINS_A_PLACE or reads_like_a_place(where, known_plants(reader.bench))
    of_a_cup = place.what == "known" or (not place.what and word.lower in BEGINS_A_PLACE)
    if word.quoted or not (begins and of_a_cup) or place.animals:
        return
    here = place.codes[0] if place.codes else next(iter(reader.codes.values()), "K4")
    lot = reader.said(2, 1) if reader.said(1, 1) in ("lot", "lots") else ""
    holds = [one.code for one in reader.bench.standing() if one.held]
    if lot.isdecimal() and not holds:
        raise PhraseProblem(f"no stems are kept on record; as a note: {here} note {where}", word)
    if lot.isdecimal():
        here = here if here in holds else holds[0]
        kept = [str(one.number) for held in [reader.bench.at(here)] if held for one in held.held]
        none = f"no lot {lot} is kept in {here}; " if lot not in kept else ""
        lot = lot if lot in kept else kept[0]
        raise PhraseProblem(
            f"{none}what is under lot {lot}? As: {here} frass plain lot={lot}; {here} frass none"
            f" lot={lot}",
            word,
        )
    raise PhraseProblem(
        f"'{where}': where it stands? As: {here} changed shelf='{where}'; or as a note: {here} note"
        f" {where}",
        word,
    )


def _of_a_field(reader: Reader, place: Subject, word: Word) -> None:
    """Ask what is done with a plant that begins a line as ``host=nettle``, and whose a barrier
    is."""
    named = named_value(word)
    here = place.words or "K4"
    if named and named[0] in ("host", "plant") and place.what == "known":
        rest = " ".join([named[1], *(one.text for one in reader.words[reader.place + 1 :])])
        raise what_of_plant(here, named[1], word, rest)
    barrier = next((one for one in _BARRIERS if reader.said(0, len(one.split())) == one), "")
    if barrier and place.what == "known":
        container = reader.bench.at(place.codes[0]) if place.codes else None
        shelf = (container.shelf if container else "") or "sill"
        raise PhraseProblem(
            f"of the cup, or of its shelf? As: {here} changed barrier='{barrier}'; or shelf set up"
            f" {shelf} {barrier}; how it is now: {here} band sound",
            word,
        )


_BARRIERS = ("sticky band", "sticky", "closed lid")


def _of_food(reader: Reader, place: Subject, word: Word) -> None:
    """Ask whether food that a line names was offered or drunk: ``honey water offered``."""
    said = [one for one in reader.words[reader.place :] if one.lower not in _GIVEN]
    if place.what == "known" and any(one.lower in FOODS for one in said):
        food = as_one_name(one_text(said))
        raise did_she_drink(place.words, food, word)


def _food_renewed(reader: Reader, place: Subject) -> int:
    """How many words say that what adults drink was made fresh: ``honey changed``, ``new sugar
    water``; the food goes into the reader. 0 where they do not, or may be of a plant's water."""
    container = reader.bench.at(place.codes[0]) if place.codes else None
    fresh = reader.said(0, 1) in ("new", "fresh")
    end = begin = int(fresh)
    while reader.said(end, 1) in FOODS:
        end += 1
    food = reader.said(begin, end - begin)
    if container is None or not container.count("adult") or food in ("", "water"):
        return 0
    if not fresh and reader.said(end, 1) not in RENEWED:
        return 0
    reader.fields["food"] = food
    return end + (not fresh)


_GIVEN = frozenset({"offered", "given", "put", "in", "took", "drank", "got"})


def _of_a_part(reader: Reader, place: Subject, word: Word) -> None:
    """Ask what is done with a part of a plant that begins a line: ``flower buds``, ``buds of
    Lathyrus``."""
    what = one_text(reader.words[reader.place :])
    _, part = name_and_part(what)
    if part and place.what == "known" and place.codes and not word.quoted:
        here = place.codes[0]
        raise PhraseProblem(
            f"put in, or seen? As: {here} host in {what}; or as a note: {here} note {what}", word
        )


def _new_plant(reader: Reader, place: Subject, word: Word) -> None:
    """Ask what a plant that does not stand there is put in for: ``vetch renewed``."""
    container = reader.bench.at(place.codes[0]) if len(place.codes) == 1 else None
    length = next((one for one in (1, 2, 3) if reader.said(one, 1) in RENEWED), 0)
    if container is None or not length or word.quoted or begins_what_happened(reader, 0):
        return
    plant = " ".join(one.text for step in range(length) if (one := reader.ahead(step)))
    there = " and ".join(dict.fromkeys(host.plant for host in container.hosts))
    here = container.code
    beside = f"{here} host in {plant}"
    raise PhraseProblem(
        f"{plant} does not stand in {here} on record, but {there}; for the old, or beside it? As:"
        f" {here} host changed {plant}; {beside}"
        if there
        else f"no plant stands in {here} on record; put in, as: {beside}",
        word,
        ("host in",),
    )


def _of_so_many(reader: Reader, place: Subject, word: Word) -> None:
    """Ask what happened to a number of animals, with what fits those that are there."""
    container = reader.bench.at(place.codes[0]) if len(place.codes) == 1 else None
    number = number_of(word) or (word.lower if word.lower in ("all", "some") else "")
    if container is None or not number:
        return
    if asked := asked_at(reader, 1):
        many = number if number != "some" else "2"
        ask(reader, place, (re.sub(r"\b1\b", many, asked[0]), asked[1]))
    here = container.code
    if reader.said(1, 1) == "still" and number.isdecimal() and container.count("larva"):
        raise PhraseProblem(
            f"not moving, or still there? As: {here} {number} not moving; {here} counted {number}"
            " larvae",
            word,
        )
    stages = [stage for stage in _DOES if container.count(stage)]
    instar = max((lot.instar or 0 for lot in container.lots), default=0)
    forms = [
        form
        for stage in stages
        for form in _DOES[stage]
        if "counted" in form or number in ("all", "some") or int(number) <= container.count(stage)
    ]
    if container.females and number.isdecimal():
        forms.insert(0, "{0} searched {1}")
    if not forms or number == "some":
        return
    more = reader.said(1, 1) == "more" and number.isdecimal()
    forms = [  # a count is of all that are there
        form.replace("{1}", str(container.count(stages[0]) + int(number)))
        if more and "counted" in form
        else form
        for form in forms
    ]
    if any(one.lower == "eaten" for one in reader.words):
        forms.insert(0, "{0} died {1}")
    told = "; ".join(dict.fromkeys(form.format(here, number, instar + 1) for form in forms))
    raise PhraseProblem(f"{number} of what, or what happened to them? As: {told}", word)


# What is said of a number of animals, by their stage: {0} the place, {1} how many, {2} the next
# instar.
_DOES: dict[Stage, tuple[str, ...]] = {
    "egg": ("{0} counted {1} eggs", "{0} hatched {1}"),
    "larva": ("{0} counted {1} larvae", "{0} moulted {1} L{2}", "{0} pupated {1}"),
    "pupa": ("{0} counted {1} pupae", "{0} emerged {1}"),
    "adult": ("{0} counted {1} adults", "{0} released {1}"),
}


def _figure_of_a_shelf(reader: Reader, word: Word) -> None:
    """Ask what a bare figure behind a shelf with a moat is: ``sill 27,5``."""
    shelf = "" if word.quoted else reader.shelves.get(word.lower, "")
    figure = reader.said(1, 1)
    if shelf and FIGURES.match(figure):
        raise PhraseProblem(
            f"{figure} of what? As: {shelf} air {figure} C; {shelf} moat {figure} mm", word
        )


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
    if place.what == "unknown" and purpose(reader, 0):  # 'E2 eggs'
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
        container = reader.bench.at(place.codes[0]) if len(place.codes) == 1 else None
        instars = [lot.instar or 0 for lot in container.lots_of("larva")] if container else []
        there = int(instar[1:]) in instars
        if number_of(word) and there and min(instars) == int(instar[1:]):
            return k.Counted  # none is younger that could have moulted
        larvae = container.lots_of("larva") if container else []
        if container and not larvae:
            raise PhraseProblem(
                f"{container.code} holds no larvae on record; of some that come in say whose they"
                " are too, behind number and instar",
                word,
            )
        younger = sum(lot.number for lot in larvae if lot.instar < int(instar[1:]))
        counted = sum(lot.number for lot in larvae if lot.instar == int(instar[1:]))
        number = int(number_of(word) or younger or 8)
        here = f"{place.words} moulted"
        forms = [f"{here} {min(number, younger or 8)} {instar}"]
        forms = [*forms, f"{here} all {instar}"] if younger or not larvae else []
        if number_of(word) and 0 < counted < number:
            forms.append(f"in all {number}: {here} {number - counted} {instar}")
        elif there:
            forms.append(f"{place.words} counted {number_of(word) or counted} {instar}")
        if not forms:  # all are older on record
            raise PhraseProblem(
                f"no larva there is in {instar} or younger on record; count them all, as:"
                f" {place.words} counted {sum(lot.number for lot in larvae)} larvae",
                word,
            )
        raise PhraseProblem(f"how many are in {instar} now? As: {'; '.join(forms)}", word)
    plants = {plant.casefold(): plant for plant in known_plants(reader.bench)}
    plant = next(
        (plants[text] for length in (3, 2, 1) if (text := reader.said(0, length)) in plants), ""
    )
    if plant and place.what == "known" and _is_state(reader, len(plant.split())):
        return k.HostSeen
    if plant:
        here = place.words or "K4"
        raise what_of_plant(here, plant, word, plant)
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


def _fed_larvae(reader: Reader, place: Subject) -> int:
    """How many words stand before the plant that larvae were fed, ``R2 fed nettle 4 stems``; 0
    where it is females that drank.

    Raises:
        PhraseProblem: which plant it was.
    """
    codes = place.codes or (code_later(reader),)
    there = [one for code in codes if (one := reader.bench.at(code))]
    if not there or any(one.females or not one.count("larva") for one in there):
        return 0
    steps = 1 + (reader.said(1, 1) in ("with", "on"))
    plants_known = known_plants(reader.bench)
    known = {one.casefold() for one in plants_known}
    known |= {one.split()[0].casefold() for one in plants_known if is_binomial(one)}
    if place.codes and any(reader.said(steps, length) in known for length in (3, 2, 1)):
        return steps
    said = " ".join(word.lower for word in reader.words)
    plants = sorted((host.plant for host in there[0].hosts), key=lambda one: one not in said)
    what = plant_said(reader) or f"{next(iter(plants), 'violet leaf')} 3 stems"
    code = there[0].code
    raise PhraseProblem(
        f"{code} holds larvae: what was put in? As: {code} host in {what}", reader.word
    )
