"""Lines that begin with a number, with eggs, ants or those of whom one is meant."""

from __future__ import annotations

from rounds import late
from rounds.bench.codes import INSTAR
from rounds.entries import registry as k
from rounds.entries.base import BARRIERS_LOOKED_AT, Entry
from rounds.entries.names import known_species
from rounds.entries.phrase.asking import ask, code_later
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.subject import CALLED, Subject
from rounds.entries.phrase.synonyms import ANIMALS
from rounds.entries.phrase.tokens import Word, one_text
from rounds.entries.phrase.verbs import (
    EGGS,
    LAYS_IN,
    NONE,
    head_at,
    is_counted,
    lays,
    number_of,
)
from rounds.entries.phrase.vocabulary import DEAD
from rounds.entries.schema import describe
from rounds.entries.searching import SEEN_WITH
from rounds.entries.slots import each

# Where ants were, and that they are there no longer, said of what nothing guards.
_ABOUT = each(
    "seen there above over in inside on at around below under beneath near the it cup again"
    " crawling"
)
_FOOD = each("food feeder swab sponge host plant leaf leaves stem stems sprig sprigs")
_GONE = frozenset({"gone", "away", "out", "left"})


def ants(reader: Reader, place: Subject) -> type[Entry] | None:
    """``3 ants above``, ``ants in K2``: the alarm; ants below want the moat's state as well.

    Where nothing keeps them out any ant is the alarm, and ``no ants`` or ``ants gone`` ends it.
    """
    code = place.codes[0] if place.codes else code_later(reader)
    named = ("", code) if place.what == "shelf" else (code, "")
    if code and reader.bench.barrier_named(*named) not in BARRIERS_LOOKED_AT:
        return _ants_at_large(reader)
    number = "1" if reader.said(0, 2) == "an ant" else number_of(reader.word)
    steps = 1 if number else 0
    if reader.said(steps, 1) not in ("ant", "ants"):
        return None
    one = reader.said(steps, 1) == "ant"
    steps += 1
    if not number and (number := number_of(reader.ahead(steps))):
        steps += 1
    where = reader.said(steps, 1)
    at_food = where in ("at", "on") and _food_at(reader, steps + 1)
    in_moat = 2 if reader.said(steps + 1, 1) == "the" else 1
    in_moat = in_moat if reader.said(steps + in_moat, 1) in ("moat", "water") else 0
    if where in ("in", "on", "at") and in_moat:  # they did not come over it
        number = number or "2"
        here = place.codes[0] if place.codes else "sill"
        ask(reader, place, (f"how does the moat stand? As: {here} moat full {number} below", ()))
    above = where in ("above", "in", "inside", "over") or bool(at_food)
    if not above and where not in ("below", "under", "beneath"):
        return None
    steps += 1 + at_food
    if where not in ("in", "inside", "at", "on"):  # 'above the water' is above the moat's
        behind = 2 if reader.said(steps, 1) == "the" else 1
        steps += behind * (reader.said(steps + behind - 1, 1) in ("water", "moat"))
    if where in ("in", "inside"):
        steps += 1 if reader.said(steps, 1) == "the" else 0
        steps += (
            1
            if reader.said(steps, 1) in CALLED and not reader.code_of(reader.ahead(steps + 1))
            else 0
        )
    if not number and (number := number_of(reader.ahead(steps))):
        steps += 1
    states = describe(k.BarrierSeen).field("state")
    later = {word.lower for word in reader.words[reader.place + steps :]}
    if not above and states and not later & {*states.choices, "ok", "moat"}:
        ask(reader, place, ("how does the moat stand? As: {0} moat full 2 below", ("barrier",)))
    if above:
        reader.fields["state"] = "breached"
        number = number or ("1" if one else "")
    if (
        place.codes and reader.said(0, 1) and (at_food or where in ("in", "inside"))
    ):  # the moat is its shelf's
        reader.aside = " ".join(
            word.text for step in range(steps) if (word := reader.ahead(step)) is not None
        )
    if number:
        reader.fields["ants_above" if above else "ants_below"] = int(number)
    reader.place += steps
    return k.BarrierSeen


def _food_at(reader: Reader, steps: int) -> int:
    """How many words from there on name what is eaten, as ``the food``; 0 where they do not."""
    article = reader.said(steps, 1) == "the"
    return 1 + article if reader.said(steps + article, 1) in _FOOD else 0


def _ants_at_large(reader: Reader) -> type[Entry] | None:
    number, steps, told, gone = "", 0, False, False
    while word := reader.said(steps, 1):
        many = "" if number else number_of(reader.ahead(steps))
        following = reader.said(steps + 1, 1)
        if word in ("ant", "ants"):
            told = True
        elif not told and word in NONE:
            gone = True
        elif many and (not told or not following or following in _ABOUT):
            number = many
        elif told and word in _GONE:
            gone = True
        elif not (word in ("intruder", "intruders") and not told) and not (
            told
            and (word in _ABOUT or word in _FOOD)
            and not (word == "cup" and reader.code_of(reader.ahead(steps + 1)))
        ):
            break
        steps += 1
    if not told:
        return None
    read = reader.words[reader.place : reader.place + steps]
    if any(one.lower in _FOOD for one in read):
        reader.aside = one_text(read)
    reader.fields["state"] = "no ants" if gone else "ants"
    if number and not gone:
        reader.fields["ants_above"] = int(number)
    reader.place += steps
    return k.BarrierSeen


def counted_first(reader: Reader, place: Subject) -> type[Entry] | None:
    """``12 eggs``, ``no eggs``, ``3 died``, ``2 of 3 drank``: the number before what happened."""
    word = reader.word
    if word is None:
        return None
    if word.lower == "found" and number_of(reader.ahead(1)) and _is_death(reader, 2):
        del reader.words[reader.place]  # 'found 1 dead'
        word = reader.words[reader.place]
    _eggs_seen(reader, place)
    if number_of(word) and reader.said(1, 2) == "of them":
        del reader.words[reader.place + 1 : reader.place + 3]
    several = head_at(reader, 0)
    if several and several.length > 1:
        return None
    _one_number_of_eggs(reader, place)
    if _described_first(reader):
        return None
    if word.lower in EGGS or (word.lower == "found" and _egg_later(reader)):
        return _eggs_after(reader, place)
    none = word.plain in NONE
    number = "0" if none else number_of(word)
    if not number:
        return None
    if reader.said(1, 1) == "unsure":
        return k.Searched
    if none and reader.said(1, 1) == "seen" and _is_searched(reader, place):
        reader.place += 2
        return _eggs(reader, place, 0)
    if number == "0" and reader.said(1, 1) in ("frass", "droppings"):
        reader.place += 2
        reader.fields["level"] = "none"
        return k.FrassSeen
    steps = 2 if reader.said(1, 1) in ("more", "new") else 1
    if reader.said(steps, 1) in EGGS:
        reader.place += steps + 1
        return _eggs(reader, place, int(number))
    if _on_its_plant(reader, place, steps):
        reader.place += steps
        return _eggs(reader, place, int(number))
    return None


def _is_death(reader: Reader, steps: int) -> bool:
    found = head_at(reader, steps)
    return reader.said(steps, 1) in DEAD or (found is not None and found.kind == "died")


def _eggs_seen(reader: Reader, place: Subject) -> None:
    """Read eggs that were seen where they are searched for as found: ``5 eggs seen``, ``eggs seen
    5``, ``5 seen by eye``."""
    container = reader.bench.at(place.codes[0]) if place.codes else None
    if not (lays(container) or (container and container.held)):
        return
    eggs = [step for step in (0, 1) if reader.said(step, 1) in EGGS]
    numbers = [step for step in (0, 2) if number_of(reader.ahead(step))]
    seen = next((step for step in (1, 2) if reader.said(step, 1) == "seen"), 0)
    by_aid = any(reader.said(seen + 1, length) in SEEN_WITH for length in (1, 2, 3))
    if not seen or not numbers or not (eggs or (by_aid and numbers[0] == 0)):
        return
    at = reader.place + seen
    reader.words[at : at + 1] = [] if eggs else [Word("eggs", reader.words[at].at)]


def _is_searched(reader: Reader, place: Subject) -> bool:
    """Whether eggs are searched for there, and nothing else is said to be what was not seen."""
    container = reader.bench.at(place.codes[0]) if place.codes else None
    return lays(container) and reader.said(2, 1) not in ANIMALS - EGGS


def _on_its_plant(reader: Reader, place: Subject, steps: int) -> bool:
    """Whether ``on`` and a plant that stands there follow, where females lay: ``4 on nettle``."""
    container = reader.bench.at(place.codes[0]) if place.codes else None
    if container is None or not lays(container):
        return False
    behind = " ".join(word.lower for word in reader.words[reader.place + steps + 1 :])
    there = {host.plant.casefold() for host in container.hosts}
    return reader.said(steps, 1) == "on" and any(behind.startswith(name) for name in there)


_MANY = {"a dozen": 12, "dozen": 12, "a few": 3, "few": 3, "some": 5, "several": 5, "many": 20}
_ROUGHLY = late.of_figures(r"^[<>~]?(\d{1,4})(?:[-\u2013+]\d{0,4})?$", signs="<>~")


def _one_number_of_eggs(reader: Reader, place: Subject) -> None:
    """Ask for the number where eggs are told of roughly: ``about 20 eggs``, ``15-20 eggs``, ``a few
    eggs``."""
    length = 2 if reader.said(0, 2) in _MANY or reader.said(0, 1) == "about" else 1
    roughly = _ROUGHLY.match(reader.said(length - 1, 1).replace(" ", "-"))
    many = _MANY.get(reader.said(0, length)) or (int(roughly[1]) if roughly else 0)
    exact = number_of(reader.word) and length == 1
    if not many or exact or reader.said(length, 1) not in EGGS:
        return
    code = place.codes[0] if place.codes else "K4"
    container = reader.bench.at(code)
    if container is None or not lays(container):
        return
    words = [word.text for step in range(length) if (word := reader.ahead(step))]
    raise PhraseProblem(
        f"how many did you see? As: {code} {many} eggs -- {' '.join(words)}; counted anew, all"
        f" together: {code} counted {many} eggs about",
        reader.word,
    )


def among_first(reader: Reader) -> None:
    """Put the verb before those of whom one is meant: ``one of W2, W3 or W4 died``, ``W2 or W3
    died``."""
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
    found = head_at(reader, steps) if one_of and codes > 1 else None
    if found:
        verb = reader.words[reader.place + steps : reader.place + steps + found.length]
        here = slice(reader.place, reader.place + steps + len(verb))
        reader.words[here] = [*verb, *reader.words[reader.place : reader.place + steps]]


def _described_first(reader: Reader) -> bool:
    """Put the verb before what stands before it: ``3 died``, ``2 of 3 drank``, ``5 eggs hatched``,
    ``male emerged``."""
    length = 0
    if number_of(reader.word) or reader.said(0, 1) == "all":
        length = 3 if reader.said(1, 1) == "of" and number_of(reader.ahead(2)) else 1
        length += reader.said(length, 1) == "more"
    described = length
    while reader.said(described, 1) in ANIMALS or INSTAR.match(reader.said(described, 1)):
        described += 1
    found = head_at(reader, described) if described else None
    if found is None or reader.said(described, 1) in ANIMALS:
        found = head_at(reader, length) if length else None  # '20 larvae' is a count
        described = length
    if found is None or not is_counted(found):
        return False
    verb = reader.words[reader.place + described : reader.place + described + found.length]
    here = slice(reader.place, reader.place + described + len(verb))
    before = reader.words[reader.place : reader.place + described]
    to = reader.said(described + found.length, 1).removeprefix("to") or reader.said(
        described + found.length + 1, 1
    )
    if found.kind == "moulted" and INSTAR.match(
        to
    ):  # '2 L4 moulted L5': what they were goes without saying
        before = [
            word
            for word in before
            if not INSTAR.match(word.lower) or int(word.lower[1:]) >= int(to[1:])
        ]
    reader.words[here] = [*verb, *before]
    return True


def _egg_later(reader: Reader) -> bool:
    return any(word.lower in EGGS for word in reader.words[reader.place :])


def _eggs_after(reader: Reader, place: Subject) -> type[Entry]:
    """``eggs 5``, ``found 6 eggs``."""
    start = reader.word
    steps = 1
    while reader.said(steps, 1) in ("seen", "laid", "found"):
        steps += 1
    following = reader.ahead(steps)
    none = following is not None and following.lower in NONE
    number = "0" if none else number_of(following)
    if not number:
        here = place.codes[0] if place.codes else ""
        told = one_text(reader.words[reader.place :])
        as_note = f"; or as a note: {here} note {told}" if here else ""
        raise PhraseProblem(
            f"how many eggs? As: {f'{here} 12 eggs'.strip()}{as_note or '; no eggs'}",
            start,
            ("searched",),
        )
    reader.place += steps + 1
    if reader.said(0, 1) in EGGS:
        reader.place += 1
    return _eggs(reader, place, int(number))


def _eggs(reader: Reader, place: Subject, number: int) -> type[Entry]:
    """Eggs found by a search where females lay, or all eggs of a container by count: the bench says
    which."""
    doubtful = next(
        (
            length
            for length, text in ((1, "unsure"), (2, "not sure"))
            if reader.said(0, length) == text
            and not number_of(reader.ahead(length))  # '3 eggs, unsure 1'
        ),
        0,
    )
    if doubtful:
        reader.place += doubtful
        reader.fields["unsure"] = number
        return k.Searched
    code = place.codes[0] if place.codes else ""
    later = (reader.code_of(word) for word in reader.words[reader.place :])
    code = code or next((one for one in later if one), "")
    animal = place.animals or [
        one for word in reader.words[reader.place :] if (one := reader.animal_of(word))
    ]
    if not code and animal:
        code = reader.where_stands(animal[0])
    container = reader.bench.at(code)
    if container and (container.females or (container.purpose in LAYS_IN and not container.lots)):
        reader.fields["found"] = number
        return k.Searched
    if container and number and container.count("egg") and not container.held:
        reader.fields |= {"number": number, "stage": "egg"}
        return k.Counted
    if container and container.held and not container.lots:
        reader.fields["found"] = number
        return k.Searched
    if container is None and (code in reader.bench.containers or code in reader.bench.closed):
        reader.fields["found"] = number  # that it does not stand is said of any line
        return k.Searched
    told = code or "K4"
    if container and number and not container.count("egg") and not container.held:
        named = (other for word in reader.words if (other := reader.code_of(word)))
        laid = (one.code for one in reader.bench.standing() if one.count("egg") >= int(number))
        source = next((one for one in (*named, *laid) if one != code), "")
        moved = f"{source} moved {number} eggs to {code}; or " if source else ""
        asked = "were they moved here, or are they new" if source else "are they new"
        there = filter(None, (reader.bench.taxon_of(lot.brood) for lot in container.lots))
        taxon = next(iter([*there, *known_species(reader.bench)]), "Boloria dia")
        holds = "no eggs" if container.lots else "nothing"
        raise PhraseProblem(
            f"{code} holds {holds} on record; {asked}? As: {moved}{code} {number} eggs {taxon}",
            reader.words[0],
            ("moved", "stocked"),
        )
    into = next(
        (
            " ".join(one.text for one in reader.words[at:])
            for at, word in enumerate(reader.words)
            if word.lower in ("to", "into")
        ),
        "",
    )
    moved = f"; or {told} moved {number} eggs {into}" if into else ""
    raise PhraseProblem(
        f"found by a search, or counted? As: {told} searched {number}; or {told} counted {number}"
        f" eggs{moved}",
        reader.words[0],
    )
