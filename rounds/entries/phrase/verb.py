"""The beginning of a line: whose it is, and what happened there, in the words of the trade or in everyday ones."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any, NamedTuple

from rounds.bench.codes import MOST_AT_ONCE, like_codes, some_of
from rounds.entries import registry as k
from rounds.entries.base import Entry, Here
from rounds.entries.names import known_plants
from rounds.entries.phrase.reader import JOINS, Reader, Trouble
from rounds.entries.phrase.synonyms import ASKED, KEEPS_ITS_WORD, MEANT, NUMBER_WORDS, everyday_number
from rounds.entries.phrase.times import is_time_word, is_weekday
from rounds.entries.phrase.tokens import STOPS, Word, named_value
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import Described, describe

VERBS: dict[str, str] = {verb: name for name, kind in KIND_BY_NAME.items() for verb in (name, *kind.slots.verbs)}
LEAST_OF_RANGE = 2  # containers of a range that are there
LONGEST_VERB = 4  # words
CALLED = frozenset({"cup", "container", "cage", "box", "jar", "tub", "pot", "in", "at", "cups", "containers"})
_EGGS = frozenset({"egg", "eggs"})
_NONE = frozenset({"no", "none", "zero", "0"})
_MEASURED = re.compile(r"^[-+]?\d+(?:[.,]\d+)?(?:\u00b0?[cf]|%)$", re.IGNORECASE)
_FIGURES = re.compile(r"^[-+]?\d+(?:[.,]\d+)?(?:\u00b0?[cf]|%)?(?:/-?\d+(?:[.,]\d+)?)?$", re.IGNORECASE)
_ANIMALS = frozenset(
    {"egg", "eggs", "larva", "larvae", "caterpillar", "caterpillars", "pupa", "pupae", "adult", "adults",
     "female", "females", "male", "males"}
)  # fmt: skip
_INSTAR = re.compile(r"^l\d{1,2}$")
_IS = frozenset({"is", "was", "is a", "is an", "taxon", "species", "identified", "identified as", "determined as"})
_WHERE = frozenset({"at", "from", "near"})
_RECORDED = frozenset({"caught", "wear", "latitude", "longitude", "uncertainty", "inspected"})
_LAYS_IN = frozenset({"laying", "pairing", "trial"})


@dataclass
class Place:
    """What stands before the verb: a room, a shelf, containers, animals, or codes that nobody knows."""

    what: str = ""
    codes: tuple[str, ...] = ()
    animals: tuple[str, ...] = ()
    word: Word | None = None

    @property
    def words(self) -> str:
        """The place as it was typed."""
        return " ".join((*self.codes, *self.animals))


def read_beginning(reader: Reader, *, noted: bool = False) -> type[Entry]:
    """Read whose line it is and what happened; the fields that this says at once go into the reader.

    ``noted`` where words follow ' -- ': with a place alone before them the line is a note.

    Raises:
        Trouble: what is not clear.
    """
    _among_first(reader)
    place = _place(reader)
    _among_first(reader)
    if noted and reader.word is None and place.what == "known":
        _put_place(reader, k.Note, describe(k.Note), place)
        return k.Note
    if _betters(reader, place):
        return k.FounderIntake
    kind = _ants(reader, place) or _counted_first(reader, place) or _verb(reader, place)
    _put_place(reader, kind, describe(kind), place)
    return kind


def _betters(reader: Reader, place: Place) -> bool:
    """Whether a line says more of a founder than was known: ``W3 is NAME``, ``W3 at PLACE caught 14:20 wear fresh``."""
    if place.what != "known" or len(place.animals) != 1:
        return False
    (code,) = place.animals
    length = next((length for length in (2, 1) if reader.said(0, length) in _IS), 0)
    if length and reader.ahead(length) is None:
        raise Trouble(
            f"{code} {reader.said(0, length)} what? As: {code} is Boloria dia",
            reader.word,
        )
    if length and _begins(reader, length):
        reader.place += length if reader.said(0, length) in ("is", "was") else 0  # 'W3 is dead'
        return False
    if not length and not _of_the_record(reader):
        return False
    founder = reader.bench.founders.get(code)
    if founder is None:
        mother = next(iter(reader.bench.broods[code].mothers), "")
        raise Trouble(f"{code} goes by what its mother is; say it of her, as: {mother} is NAME" if mother else
                      f"{code} has no mother on record; cross out its line in the daybook and begin it anew", place.word)  # fmt: skip
    reader.place += length
    reader.fields |= {"code": code, "container": founder.container}
    reader.better = True
    return True


def _of_the_record(reader: Reader) -> bool:
    """Whether what follows can only be where or when a founder was caught, its wear, or another field of its record."""
    word, following = reader.word, reader.ahead(1)
    if word is None or word.quoted:
        return False
    named = named_value(word)
    if named:
        return describe(k.FounderIntake).field(named[0]) is not None and named[0] not in ("code", "container")
    if following is None or (following.quoted and word.lower not in _WHERE):
        return False
    if word.lower in _WHERE:
        return not (reader.code_of(following) or is_time_word(following.text) or is_weekday(following.text))
    return word.lower in _RECORDED


def begins_at(reader: Reader, word: Word) -> bool:
    """Whether a word that was read already is a verb."""
    return _head(reader, reader.words.index(word) - reader.place) is not None


def begins_anew(reader: Reader) -> bool:
    """Whether a line says by itself whose it is, or is of no container: what stood before it was not meant."""
    place = _place(reader)
    if place.what:
        return True
    found = _head(reader, 0)
    return found is not None and describe(KIND_BY_NAME[found.kind]).field("container") is None


def _place(reader: Reader) -> Place:
    word = reader.word
    if word is None:
        raise Trouble("nothing was typed; as: L2 drank")
    following = reader.ahead(1)
    if word.lower in CALLED and following and (reader.code_of(following) or like_codes(following.text)):
        reader.place += 1
        return _codes(reader)
    if word.lower == "room" and following:
        reader.place += 1
        return Place("room", word=word)
    shelf = _shelf(reader, word, following)
    return shelf or _codes(reader)


def _shelf(reader: Reader, word: Word, following: Word | None) -> Place | None:
    named = 1 if word.lower == "shelf" and following else 0
    if named and reader.said(2, 2) == "set up":  # 'shelf kitchen set up'
        reader.words.insert(reader.place + 3, reader.words.pop(reader.place + 1))
        return None
    for length in range(LONGEST_VERB, 0, -1):
        name = " ".join(part.lower for step in range(length) if (part := reader.ahead(named + step)))
        of_a_container = not named and name in reader.codes
        is_read = _read_off(reader, reader.shelves.get(name, ""), reader.ahead(named + length))
        if name in reader.shelves and not of_a_container and (is_read or _begins(reader, named + length)):
            reader.place += named + length
            return Place("shelf", (reader.shelves[name],), word=word)
    if named and following and _begins(reader, 2) and not _head(reader, 0):
        known = ", ".join(sorted(reader.shelves.values())) or "none yet"
        near = tuple(get_close_matches(following.lower, reader.shelves.values(), n=3, cutoff=0.4))
        raise Trouble(f"no shelf is called {following.text}; there is {known}", following, near)
    return None


def _read_off(reader: Reader, shelf: str, word: Word | None) -> bool:
    """Whether a word can only be what a thermometer on a shelf says: lowest and highest, or a figure where no moat is."""
    known = reader.bench.shelves.get(shelf)
    if known is None or word is None or word.quoted or not _FIGURES.match(word.text):
        return False
    return "/" in word.text or (known.apart and known.barrier == "none")


def _codes(reader: Reader) -> Place:
    """The codes that a line begins with: containers, animals; those that nobody knows only where a verb follows."""
    codes: list[str] = []
    animals: list[str] = []
    steps, unknown, sure = 0, False, (0, 0, 0)  # how far every code is known
    while (word := reader.ahead(steps)) and len(codes) <= MOST_AT_ONCE:
        joins = steps > 0 and word.lower in JOINS
        names = [] if joins else reader.names_in(word)
        known = all(name.casefold() in reader.codes or name.casefold() in reader.animals for name in names)
        if _begins(reader, steps) and not (known and not joins and _goes_on(reader, steps + 1)):
            break
        if not known and steps > 0 and not like_codes(word.text.rstrip(STOPS)):
            break
        unknown = unknown or not known
        for name in names:
            if name.casefold() in reader.animals and name.casefold() not in reader.codes:
                animals.append(reader.animals[name.casefold()])
            else:
                codes.append(reader.codes.get(name.casefold(), name))
        steps += 1
        if not unknown:
            sure = (steps, len(codes), len(animals))
    if unknown and not _begins(reader, steps):
        steps, codes, animals, unknown = sure[0], codes[: sure[1]], animals[: sure[2]], False
    if not codes and not animals:
        return Place()
    first = reader.word
    reader.place += steps
    return Place("unknown" if unknown else "known", tuple(dict.fromkeys(codes)), tuple(dict.fromkeys(animals)), first)


def _goes_on(reader: Reader, steps: int) -> bool:
    word = reader.ahead(steps)
    return _begins(reader, steps) or bool(reader.code_of(word) or reader.animal_of(word))


def _begins(reader: Reader, steps: int) -> bool:
    """Whether what happened begins at that word, in any words."""
    if _head(reader, steps) or _asked(reader, steps) or (steps and _purpose(reader, steps)):
        return True
    word, following = reader.ahead(steps), reader.ahead(steps + 1)
    if word is None or word.quoted:
        return False
    if word.lower in _EGGS:
        return True
    if following is None:
        return False
    counts = _number(word) or word.lower in _NONE
    return bool(
        counts and (following.lower in _EGGS | {"of", "ants"} or _counted(_head(reader, steps + 1)) or _asked(reader, steps + 1))
    )


class _Head(NamedTuple):
    """A verb: its kind, what it says at once, how many words it is, and how many of them are read with it."""

    kind: str
    fields: Mapping[str, Any]
    length: int
    read: int


def _head(reader: Reader, steps: int) -> _Head | None:
    """The longest verb that begins at that word."""
    for length in range(LONGEST_VERB, 0, -1):
        said = reader.said(steps, length)
        if said in VERBS:
            return _Head(VERBS[said], {}, length, length)
        if said in MEANT:
            return _Head(*MEANT[said], length, 0 if said in KEEPS_ITS_WORD else length)
    return None


def _counted(head: _Head | None) -> bool:
    """Whether a number may stand before that verb."""
    fields = {one.name for one in describe(KIND_BY_NAME[head.kind]).fields} if head else set()
    return bool(fields & {"number", "found", "sprigs", "depth_mm"})


def _asked(reader: Reader, steps: int) -> tuple[str, tuple[str, ...], int] | None:
    """The question about a word that may mean several things, what it may be called here, and how many words it is."""
    for length in range(LONGEST_VERB, 0, -1):
        said = reader.said(steps, length)
        if said in ASKED:
            return *ASKED[said], length
    return None


def _number(word: Word | None) -> str:
    if word is None or word.quoted:
        return ""
    return word.lower if word.lower.isdecimal() else NUMBER_WORDS.get(word.lower, "")


def _ants(reader: Reader, place: Place) -> type[Entry] | None:
    """``3 ants above``, ``ants in K2``: the alarm; ants below want the moat's state as well."""
    number = _number(reader.word)
    steps = 1 if number else 0
    if reader.said(steps, 1) not in ("ant", "ants"):
        return None
    steps += 1
    if not number and (number := _number(reader.ahead(steps))):
        steps += 1
    where = reader.said(steps, 1)
    above = where in ("above", "in", "inside", "over")
    if not above and where not in ("below", "under", "beneath"):
        return None
    steps += 1
    if where in ("in", "inside"):
        steps += 1 if reader.said(steps, 1) == "the" else 0
        steps += 1 if reader.said(steps, 1) in CALLED and not reader.code_of(reader.ahead(steps + 1)) else 0
    if not number and (number := _number(reader.ahead(steps))):
        steps += 1
    states = describe(k.BarrierSeen).field("state")
    later = {word.lower for word in reader.words[reader.place + steps :]}
    if not above and states and not later & {*states.choices, "ok", "moat"}:
        _ask(reader, place, ("how does the moat stand? As: {0} moat full 2 below", ("barrier",)))
    if above:
        reader.fields["state"] = "breached"
    if number:
        reader.fields["ants_above" if above else "ants_below"] = int(number)
    reader.place += steps
    return k.BarrierSeen


def _counted_first(reader: Reader, place: Place) -> type[Entry] | None:
    """``12 eggs``, ``no eggs``, ``3 died``, ``2 of 3 drank``: the number before what happened."""
    word = reader.word
    if word is None:
        return None
    several = _head(reader, 0)
    if several and several.length > 1:
        return None
    if _described_first(reader):
        return None
    if word.lower in _EGGS or (word.lower == "found" and _egg_later(reader)):
        return _eggs_after(reader, place)
    none = word.lower in _NONE and not word.quoted
    number = "0" if none else _number(word)
    if not number:
        return None
    if reader.said(1, 1) == "unsure":
        return k.Searched
    if number == "0" and reader.said(1, 1) in ("frass", "droppings"):
        reader.place += 2
        reader.fields["level"] = "none"
        return k.FrassSeen
    steps = 2 if reader.said(1, 1) in ("more", "new") else 1
    if reader.said(steps, 1) in _EGGS:
        reader.place += steps + 1
        return _eggs(reader, place, int(number))
    return None


def _among_first(reader: Reader) -> None:
    """Put the verb before those of whom one is meant: ``one of W2, W3 or W4 died``, ``W2 or W3 died``."""
    steps = 2 if reader.said(0, 1) in ("one", "1") and reader.said(1, 1) == "of" else 0
    one_of, codes = steps > 0, 0
    while (word := reader.ahead(steps)) and not word.quoted:
        if codes and word.lower in ("or", "and"):
            one_of = one_of or word.lower == "or"
        elif all(name.casefold() in reader.animals for name in reader.names_in(word)):
            codes += len(reader.names_in(word))
        else:
            break
        steps += 1
    found = _head(reader, steps) if one_of and codes > 1 else None
    if found:
        verb = reader.words[reader.place + steps : reader.place + steps + found.length]
        here = slice(reader.place, reader.place + steps + len(verb))
        reader.words[here] = [*verb, *reader.words[reader.place : reader.place + steps]]


def _described_first(reader: Reader) -> bool:
    """Put the verb before what stands before it: ``3 died``, ``2 of 3 drank``, ``5 eggs hatched``, ``male emerged``."""
    length = 0
    if _number(reader.word) or reader.said(0, 1) == "all":
        length = 3 if reader.said(1, 1) == "of" and _number(reader.ahead(2)) else 1
    described = length
    while reader.said(described, 1) in _ANIMALS or _INSTAR.match(reader.said(described, 1)):
        described += 1
    found = _head(reader, described) if described else None
    if found is None or reader.said(described, 1) in _ANIMALS:
        found = _head(reader, length) if length else None  # '20 larvae' is a count
        described = length
    if found is None or not _counted(found):
        return False
    verb = reader.words[reader.place + described : reader.place + described + found.length]
    here = slice(reader.place, reader.place + described + len(verb))
    reader.words[here] = [*verb, *reader.words[reader.place : reader.place + described]]
    return True


def _egg_later(reader: Reader) -> bool:
    return any(word.lower in _EGGS for word in reader.words[reader.place :])


def _eggs_after(reader: Reader, place: Place) -> type[Entry]:
    """``eggs 5``, ``found 6 eggs``."""
    start = reader.word
    steps = 1
    while reader.said(steps, 1) in ("seen", "laid", "found"):
        steps += 1
    following = reader.ahead(steps)
    none = following is not None and following.lower in _NONE
    number = "0" if none else _number(following)
    if not number:
        raise Trouble("how many eggs? As: 12 eggs; no eggs", start, ("searched",))
    reader.place += steps + 1
    if reader.said(0, 1) in _EGGS:
        reader.place += 1
    return _eggs(reader, place, int(number))


def _eggs(reader: Reader, place: Place, number: int) -> type[Entry]:
    """Eggs found by a search where females lay, or all eggs of a container by count: the bench says which."""
    doubtful = next((length for length, said in ((1, "unsure"), (2, "not sure")) if reader.said(0, length) == said), 0)
    if doubtful:
        reader.place += doubtful
        reader.fields["unsure"] = number
        return k.Searched
    code = place.codes[0] if place.codes else ""
    later = (reader.code_of(word) for word in reader.words[reader.place :])
    code = code or next((one for one in later if one), "")
    animal = place.animals or [one for word in reader.words[reader.place :] if (one := reader.animal_of(word))]
    if not code and animal:
        code = reader.where_stands(animal[0])
    container = reader.bench.at(code)
    if container and (container.females or (container.purpose in _LAYS_IN and not container.lots)):
        reader.fields["found"] = number
        return k.Searched
    if container and number and container.count("egg") and not container.held:
        reader.fields |= {"number": number, "stage": "egg"}
        return k.Counted
    if container and container.held and not container.lots:
        reader.fields["found"] = number
        return k.Searched
    told = code or "K4"
    if container and not container.lots and number:
        raise Trouble(
            f"{code} holds nothing on record; were they moved here, or are they new? "
            f"As: K4 moved {number} eggs to {code}; or {code} stocked {number} eggs W2/A",
            reader.words[0],
            ("moved", "stocked"),
        )
    raise Trouble(
        f"found by a search, or counted? As: {told} searched {number}; or {told} counted {number} eggs",
        reader.words[0],
        ("searched", "counted"),
    )


def _verb(reader: Reader, place: Place) -> type[Entry]:
    word = reader.word
    if word is None:
        raise Trouble(f"what happened with {place.words or 'it'}? As: {place.words or 'L2'} drank")
    kind = _by_shelf(place, word)
    if kind:
        return kind
    if word.lower in ("fed", "feed"):
        _fed_larvae(reader, place)
    found, asked = _head(reader, 0), _asked(reader, 0)
    of_no_container = found is not None and describe(KIND_BY_NAME[found.kind]).field("container") is None
    if asked and (found is None or asked[2] > found.length or (of_no_container and place.what)):
        _ask(reader, place, asked[:2])
    if found:
        reader.fields |= found.fields
        reader.place += found.read
        return KIND_BY_NAME[found.kind]
    kind = _by_place(reader, place, word)
    if kind:
        return kind
    of_shelf = place.what == "shelf" and _read_off(reader, place.codes[0], word)
    if _MEASURED.match(word.text) or of_shelf or (place.what == "room" and _FIGURES.match(word.text)):
        return k.Air
    near: tuple[str, ...] = everyday_number(place.what) if word.text[:1].isdigit() else ()
    near = near or tuple(get_close_matches(word.lower, VERBS, n=3, cutoff=0.6))
    near = near or tuple(get_close_matches(word.lower, [*reader.codes.values()], n=3, cutoff=0.6))
    noted = " ".join(one.text for one in reader.words[reader.place :])
    as_note = f"; as a note: {place.words} note {noted}" if place.what == "known" and not near else ""
    raise Trouble(f"'{word.text}' is not something that happens here{as_note}", word, near)


def _by_shelf(place: Place, word: Word) -> type[Entry] | None:
    """A moat's state after a shelf: ``sill low``."""
    states = describe(k.BarrierSeen).field("state")
    is_state = states is not None and word.lower in (*states.choices, "ok", "empty")
    return k.BarrierSeen if place.what == "shelf" and is_state else None


def _by_place(reader: Reader, place: Place, word: Word) -> type[Entry] | None:
    """What a word means by the place before it: a moat's state, a purpose of a new container, where animals go, a plant."""
    if place.what == "unknown" and _purpose(reader, 0):
        return k.SetUp
    if place.what == "known" and word.lower in ("to", "into") and reader.code_of(reader.ahead(1)):
        return k.Moved
    if place.what == "known" and (_INSTAR.match(word.lower) or reader.said(1, 1) in ("l2", "l3", "l4", "l5", "l6", "l7")):
        instar = word.text if _INSTAR.match(word.lower) else str(reader.said(1, 1)).upper()
        raise Trouble(f"how many are in {instar} now? As: {place.words} moulted 8 {instar}; {place.words} moulted all {instar}", word)
    plants = {plant.casefold(): plant for plant in known_plants(reader.bench)}
    plant = next((plants[said] for length in (3, 2, 1) if (said := reader.said(0, length)) in plants), "")
    if plant:
        here = place.words or "K4"
        raise Trouble(f"put in, seen or taken out? As: {here} host in {plant}; {here} host seen fresh; {here} host out {plant}", word)
    return None


def _purpose(reader: Reader, steps: int) -> bool:
    one = describe(k.SetUp).field("purpose")
    return one is not None and any(reader.said(steps, length) in one.choices for length in (2, 1))


def _fed_larvae(reader: Reader, place: Place) -> None:
    """Females that were fed drank; larvae get a plant, and which it was is asked."""
    later = next((code for word in reader.words[reader.place :] if (code := reader.code_of(word))), "")
    container = reader.bench.at(place.codes[0] if place.codes else later)
    if container and not container.females and container.count("larva"):
        code = container.code
        raise Trouble(f"{code} holds larvae: what was put in? As: {code} host in violet leaf 3 sprigs", reader.word, ("host in",))


def _ask(reader: Reader, place: Place, asked: tuple[str, tuple[str, ...]]) -> None:
    later = next((code for word in reader.words[reader.place :] if (code := reader.code_of(word))), "")
    shelf = f"shelf {place.codes[0]}" if place.what == "shelf" else ""
    raise Trouble(asked[0].format(shelf or place.words or later or "K4"), reader.word, asked[1])


def _put_place(reader: Reader, kind: type[Entry], described: Described, place: Place) -> None:
    has_container = described.field("container") is not None
    if place.what == "known" or (place.what == "unknown" and kind is k.SetUp):
        if not has_container:
            raise Trouble(f"'{described.name}' is not said of one container; leave {place.words} out")
        _put_targets(reader, described, place)
    elif place.what == "shelf":
        if described.field("shelf") is None or issubclass(kind, Here):
            raise Trouble(f"'{described.name}' is not said of a shelf; give a container")
        reader.fields["shelf"] = place.codes[0]
    elif place.what == "unknown" and has_container and (there := _there_of_range(reader, place)):
        _put_targets(reader, described, there)
    elif place.what == "unknown":
        code = next((one for one in place.codes if one.casefold() not in reader.codes), place.codes[0])
        if has_container:
            near = tuple(get_close_matches(code, reader.codes.values(), n=3, cutoff=0.4))
            known = some_of(sorted(reader.codes.values()))
            raise Trouble(f"no container is called {code}; there are {known}", place.word, near)
        raise Trouble(f"'{code}' does not fit before '{described.name}'", place.word)
    elif place.what == "room" and kind not in (k.Air, k.LoggerRead):
        raise Trouble(f"'{described.name}' is not said of the room; give a container")


def _there_of_range(reader: Reader, place: Place) -> Place | None:
    """Of a range as ``E2-E6`` those that are there, if at least two are; the others are told as left out."""
    if place.word is None or place.animals:
        return None
    there = tuple(code for code in place.codes if code.casefold() in reader.codes)
    others = tuple(code for code in place.codes if code not in there)
    typed = {code.casefold() for word in reader.words[: reader.place] for code in word.text.rstrip(STOPS).split(",")}
    if len(there) < LEAST_OF_RANGE or typed & {code.casefold() for code in others}:
        return None
    reader.left_out = others
    return Place("known", there, (), place.word)


def _put_targets(reader: Reader, described: Described, place: Place) -> None:
    targets = [(code, "") for code in (place.codes if described.name != "set up" else (*place.codes, *place.animals))]
    if described.name == "set up":
        pass  # a brood's code is refused with a reason of its own
    elif place.animals and len(place.codes) > 1:
        raise Trouble(f"{place.words}: say one container, or the animals alone", place.word)
    elif place.animals:
        code = place.codes[0] if place.codes else ""
        targets = [(code or reader.where_stands(animal, place.word), animal) for animal in place.animals]
        if len(targets) > 1 and described.field("brood") is None and described.name not in ("drank", "refused"):
            targets = [(one, "") for one in dict.fromkeys(code for code, _ in targets)]
    if len(targets) > 1:
        reader.targets = tuple(targets)
    reader.fields["container"] = targets[0][0]
    if targets[0][1]:
        put_animal(reader, described, targets[0][1])


def put_animal(reader: Reader, described: Described, animal: str) -> bool:
    """Name the animal in the field that the kind has for it; False where it has none or another is named there."""
    name = next((one for one in ("brood", "female", "code") if described.field(one)), "")
    if not name or name in reader.fields or (name == "code" and described.name != "release by"):
        return False
    reader.fields[name] = animal
    return True
