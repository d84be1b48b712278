"""Whose line it is: the room, a shelf, containers, animals."""

from __future__ import annotations

from msgspec import Struct

from rounds import late
from rounds.bench.codes import MAX_AT_ONCE, like_codes, some_of
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.entries.check_labels import called
from rounds.entries.phrase.dates import read_time_first
from rounds.entries.phrase.reader import JOINS, PhraseProblem, Reader
from rounds.entries.phrase.times import is_time_word
from rounds.entries.phrase.tokens import STOPS, Word
from rounds.entries.phrase.verbs import FIGURES, LONGEST_VERB, begins_what_happened, head_at
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import KindSchema, describe

LEAST_OF_RANGE = 2  # containers of a range that are there
CALLED = frozenset(
    {"cup", "container", "cage", "box", "jar", "tub", "pot", "in", "at", "cups", "containers"}
)

_OUTDOORS = frozenset({"outdoors", "outside"})
_SEXES = frozenset({"the", "female", "male"})

LOW_OR_HIGH = frozenset({"min", "max", "lowest", "highest"})  # what a thermometer keeps


class Subject(Struct):
    """What stands before the verb: a room, a shelf, containers, animals, or codes that nobody
    knows."""

    what: str = ""
    codes: tuple[str, ...] = ()
    animals: tuple[str, ...] = ()
    word: Word | None = None

    @property
    def words(self) -> str:
        """The place as it was typed."""
        return " ".join((*self.codes, *self.animals))


def begins_anew(reader: Reader) -> bool:
    """Whether a line says by itself whose it is, or is of no container: what stood before it was
    not meant."""
    subject = read_place(reader)
    if subject.what:
        return True
    found = head_at(reader, 0)
    return found is not None and describe(KIND_BY_NAME[found.kind]).field("container") is None


def read_place(reader: Reader) -> Subject:
    read_time_first(reader)
    word = reader.word
    if word is None:
        raise PhraseProblem("nothing was typed; as: L2 drank")
    following = reader.ahead(1)
    if (
        word.lower in CALLED
        and following
        and (reader.code_of(following) or like_codes(following.text))
    ):
        reader.place += 1
        return _codes(reader)
    if word.lower == "room" and following:
        reader.place += 1
        return Subject("room", word=word)
    shelf = _shelf(reader, word, following)
    return shelf or _codes(reader)


def _shelf(reader: Reader, word: Word, following: Word | None) -> Subject | None:
    named = 1 if word.lower == "shelf" and following else 0
    if named and reader.said(2, 2) == "set up":  # 'shelf kitchen set up'
        reader.words.insert(reader.place + 3, reader.words.pop(reader.place + 1))
        return None
    for length in range(1, LONGEST_VERB + 1) if named else ():
        if reader.said(1 + length, 1) in _OUTDOORS:  # 'shelf garden outdoors'
            set_up = [Word("set", word.at), Word("up", word.at)]
            reader.words[reader.place + 1 + length] = Word("apart", word.at)
            reader.words[reader.place + 1 : reader.place + 1] = set_up
            return None
    for length in range(LONGEST_VERB, 0, -1):
        name = " ".join(
            part.lower for step in range(length) if (part := reader.ahead(named + step))
        )
        of_a_container = not named and name in reader.codes
        is_read = read_off(
            reader, reader.shelves.get(name, ""), reader.ahead(named + length)
        ) or _in_degrees(reader, named + length)
        if (
            name in reader.shelves
            and not of_a_container
            and (is_read or begins_what_happened(reader, named + length))
        ):
            reader.place += named + length
            return Subject("shelf", (reader.shelves[name],), word=word)
    if named and following and begins_what_happened(reader, 2) and not head_at(reader, 0):
        known = ", ".join(sorted(reader.shelves.values())) or "none yet"
        near = late.nearest(following.lower, reader.shelves.values(), 3, 0.4)
        raise PhraseProblem(
            f"no shelf is called {following.text}; there is {known}", following, near
        )
    return None


def _in_degrees(reader: Reader, steps: int) -> bool:
    """Whether a temperature or a humidity stands there, with its unit."""
    text = reader.said(steps, 1)
    if text in LOW_OR_HIGH:
        return bool(FIGURES.match(reader.said(steps + 1, 1)))
    return bool(FIGURES.match(text)) and (
        text[-1:] in ("c", "f", "%") or reader.said(steps + 1, 1) in ("c", "f", "%", "\u00b0c")
    )


def read_off(reader: Reader, shelf: str, word: Word | None) -> bool:
    """Whether a word can only be what a thermometer on a shelf says: lowest and highest, or a
    figure where no moat is."""
    known = reader.bench.shelves.get(shelf)
    if known is None or word is None or word.quoted or not FIGURES.match(word.text):
        return False
    return "/" in word.text or (known.apart and known.barrier == "none")


def _codes(reader: Reader) -> Subject:
    """The codes that a line begins with: containers, animals; those that nobody knows only where a
    verb follows."""
    codes: list[str] = []
    animals: list[str] = []
    steps, unknown, sure = 0, False, (0, 0, 0)  # how far every code is known
    while (word := reader.ahead(steps)) and len(codes) <= MAX_AT_ONCE:
        if steps and is_time_word(word.lower):
            break
        following = reader.ahead(steps + 1)
        is_sex = following is not None and following.lower in _SEXES
        if word.lower in _SEXES and (reader.animal_of(following) or is_sex):
            del reader.words[reader.place + steps]  # 'the female W2': her code says it
            continue
        joins = steps > 0 and word.lower in JOINS
        names = [] if joins else reader.names_in(word)
        known = all(
            name.casefold() in reader.codes or name.casefold() in reader.animals for name in names
        )
        if begins_what_happened(reader, steps) and not (
            known and not joins and _goes_on(reader, steps + 1)
        ):
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
    if unknown and not begins_what_happened(reader, steps):
        steps, codes, animals, unknown = sure[0], codes[: sure[1]], animals[: sure[2]], False
    if not codes and not animals:
        return Subject()
    first = reader.word
    reader.place += steps
    return Subject(
        "unknown" if unknown else "known",
        tuple(dict.fromkeys(codes)),
        tuple(dict.fromkeys(animals)),
        first,
    )


def _goes_on(reader: Reader, steps: int) -> bool:
    word = reader.ahead(steps)
    return begins_what_happened(reader, steps) or bool(
        reader.code_of(word) or reader.animal_of(word)
    )


def put_place(reader: Reader, kind: type[Entry], described: KindSchema, place: Subject) -> None:
    of_container = described.field("container")
    has_container = of_container is not None
    if place.what == "known" or (place.what == "unknown" and kind is k.SetUp):
        if not has_container:
            raise PhraseProblem(
                f"'{called(described.name)}' is of no one container; leave {place.words} out"
            )
        _put_targets(reader, described, place)
    elif place.what == "shelf":
        if described.field("shelf") is None or (of_container and of_container.required):
            raise PhraseProblem(f"'{called(described.name)}' is of no shelf; give a container")
        reader.fields["shelf"] = place.codes[0]
    elif place.what == "unknown" and has_container and (there := _there_of_range(reader, place)):
        _put_targets(reader, described, there)
    elif place.what == "unknown":
        code = next(
            (one for one in place.codes if one.casefold() not in reader.codes), place.codes[0]
        )
        if code.casefold() in ("all", "both"):
            some = ",".join(_some_that_can(reader, kind)) or "K1,K2"
            raise PhraseProblem(
                f"{code} of which? Say the containers first, as: {some} {described.name}",
                place.word,
            )
        if has_container:
            near = late.nearest(code, reader.codes.values(), 3, 0.4)
            known = some_of(sorted(reader.codes.values()))
            if code.casefold() == "bench":
                known += "; the bench itself is named as: bench is called Garden"
            raise PhraseProblem(
                f"no container is called {code}; there are {known}", place.word, near
            )
        raise PhraseProblem(f"'{code}' does not fit before '{described.name}'", place.word)
    elif place.what == "room" and kind not in (k.Air, k.LoggerRead):
        raise PhraseProblem(f"'{called(described.name)}' is not of the room; give a container")


def _some_that_can(reader: Reader, kind: type[Entry]) -> list[str]:
    """The first two containers of which it can be said: with females that drink, else with those
    that grow so."""
    feeds = describe(kind).field("female") is not None
    fits = [
        one.code
        for one in reader.bench.standing()
        if (one.females if feeds else not kind.grows_from or one.count(kind.grows_from))
    ]
    return sorted(fits)[:2]


def _there_of_range(reader: Reader, place: Subject) -> Subject | None:
    """Of a range as ``E2-E6`` those that are there, if at least two are; the others are told as
    left out."""
    if place.word is None or place.animals:
        return None
    there = tuple(code for code in place.codes if code.casefold() in reader.codes)
    others = tuple(code for code in place.codes if code not in there)
    typed = {
        code.casefold()
        for word in reader.words[: reader.place]
        for code in word.text.rstrip(STOPS).split(",")
    }
    if len(there) < LEAST_OF_RANGE or typed & {code.casefold() for code in others}:
        return None
    reader.left_out = others
    return Subject("known", there, (), place.word)


def _put_targets(reader: Reader, described: KindSchema, place: Subject) -> None:
    targets = [
        (code, "")
        for code in (place.codes if described.name != "set up" else (*place.codes, *place.animals))
    ]
    if described.name == "set up":
        pass  # a brood's code is refused with a reason of its own
    elif place.animals and len(place.codes) > 1:
        raise PhraseProblem(f"{place.words}: say one container, or the animals alone", place.word)
    elif place.animals:
        code = place.codes[0] if place.codes else ""
        targets = [
            (code or reader.where_stands(animal, place.word), animal) for animal in place.animals
        ]
        if (
            len(targets) > 1
            and described.field("brood") is None
            and described.name not in ("drank", "refused")
        ):
            targets = [(fromkey, "") for fromkey in dict.fromkeys(code for code, _ in targets)]
    if len(targets) > 1:
        reader.targets = tuple(targets)
    reader.fields["container"] = targets[0][0]
    if targets[0][1]:
        put_animal(reader, described, targets[0][1])


def put_animal(reader: Reader, described: KindSchema, animal: str) -> bool:
    """Name the animal in the field that the kind has for it; False where it has none or another is
    named there."""
    name = next((one for one in ("brood", "female", "code") if described.field(one)), "")
    if not name or name in reader.fields or (name == "code" and described.name != "release by"):
        return False
    reader.fields[name] = animal
    return True
