"""What a container holds as one line says it: how many, of what, from where, on which plant."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from rounds.app.holdings import (
    STAGES,
    Holding,
    NotHeld,
    brood_codes,
    free_codes,
    number_of,
    parts_of,
    read_kinds,
    sayings,
    says_kinds,
)
from rounds.checks.question import Saying
from rounds.entries import registry as k
from rounds.entries.phrase.dates import asked_hour
from rounds.entries.phrase.expansion import each_plant
from rounds.entries.phrase.parser import read_phrase
from rounds.entries.phrase.times import UnclearTime, read_time
from rounds.entries.phrase.tokens import cut
from rounds.entries.phrase.vocabulary import PREPOSITIONS

_AS_HELD = "2 females Boloria dia; or 40 eggs Boloria dia"
_DAYS = frozenset({"yesterday", "today"})
_CLOCK = re.compile(r"^\d{1,2}:\d{2}$")


def read_holding(
    text: str, container: str, now: datetime, used: set[str], origin: str = ""
) -> list[Saying] | str:
    """What is in a container, as entries; or one line that says what would be right.

    Each wild female or male gets a code of her own and comes in as a founder; eggs, larvae and
    pupae begin a brood, which comes from ``origin`` where the line does not say from where.
    """
    typed = cut(text)
    if asked := next(filter(None, (asked_hour(typed[place:]) for place in range(len(typed)))), ""):
        return asked
    animals, _, plant = (
        (text, "", "") if " on " not in f" {text} " else f" {text} ".partition(" on ")
    )
    to_record: list[Saying] = []
    words = animals.split()
    if words and (number_of(words[0]) or says_kinds(animals)):
        parts = [_name_and_origin(part.split(), now) for part in parts_of(animals)]
        if unclear := next((origin.unclear for _, origin in parts if origin.unclear), ""):
            return unclear
        plant = plant or parts[-1][1].plant
        result = read_kinds(", ".join(kinds for kinds, _ in parts))
        if isinstance(result, NotHeld):
            return (
                f"say how many, what and which species, as: {_AS_HELD}"
                if result.wrong
                else result.line
            )
        if says_kinds(plant):
            return (
                "say all the animals before the plant, as: 2 females, 1 male Boloria dia on violet"
            )
        if not all(held.taxon for held in result):
            return f"say how many, what and which species, as: {_AS_HELD}"
        begun: set[str] = set()
        broods = brood_codes(result, now, used)
        used.update(broods)
        for held, brood, (_, said) in zip(result, broods, parts, strict=True):
            came = said if said.place or not brood else replace(said, place=origin)
            to_record += _animals(held, brood, came, container, now, used, begun=brood in begun)
            begun.add(brood)
    elif any(word.casefold().rstrip(",") in STAGES for word in words) or (words and plant):
        return "say how many first, as: 2 females Boloria dia on violet"
    elif words:
        plant = animals
    if plant.strip():
        read = read_phrase(
            f"{container} host in {plant.strip()}",
            now=now,
            zone=now.tzinfo or UTC,
            codes=[container],
            shelves=[],
        )
        if isinstance(read, UnclearTime):
            return read.message
        plants = each_plant(read.fields, None, each=read.each)
        if isinstance(plants, UnclearTime):
            return plants.message
        to_record += [(k.HostIn, {"part": ""} | fields) for fields in plants]
        to_record += [(k.Note, {"container": container, "text": read.note})] if read.note else []
    return to_record


@dataclass(frozen=True, slots=True)
class _Origin:
    """Where animals come from, when they were caught, and on which plant they are; or why the time
    is not clear."""

    place: str = ""
    caught: datetime | None = None
    plant: str = ""
    unclear: str = ""


def _name_and_origin(words: list[str], now: datetime) -> tuple[str, _Origin]:
    """The species, and where it comes from: a preposition ends the name."""
    ends = next(
        (position for position, word in enumerate(words) if word.casefold() in PREPOSITIONS),
        len(words),
    )
    if ends == len(words) and any(STAGES.get(word, ("",))[0] == "adult" for word in words):
        for length in (3, 2, 1):  # 'yesterday 14:20' behind the name
            caught = _time_at_the_end(words[-length:], now)
            if caught is not None:
                return " ".join(words[:-length]).rstrip(", "), _Origin(caught=caught)
    return " ".join(words[:ends]).rstrip(", "), _origin(words[ends + 1 :], now)


def _time_at_the_end(words: list[str], now: datetime) -> datetime | None:
    alone = len(words) == 1 and not (":" in words[0] or words[0].casefold() in _DAYS)
    if alone or not any(sign.isdecimal() or word in _DAYS for word in words for sign in word):
        return None
    read = read_time(" ".join(words), now=now, zone=now.tzinfo or UTC)
    return read if isinstance(read, datetime) else None


def _origin(words: list[str], now: datetime) -> _Origin:
    """A time ends the place, and what stands behind the time is the plant: ``Hollow Mead 9 Jun
    14:20, viola``."""
    for begin in range(len(words)):
        for end in range(len(words), begin, -1):
            typed = " ".join(words[begin:end]).rstrip(",")
            if not any(sign.isdecimal() for sign in typed) and typed.casefold() not in _DAYS:
                continue  # a weekday or a month alone may be of a name
            caught = read_time(typed, now=now, zone=now.tzinfo or UTC)
            place = " ".join(words[:begin]).removesuffix(" caught").rstrip(", ")
            if isinstance(caught, datetime):
                return _Origin(place, caught, " ".join(words[end:]).strip(", "))
            if _CLOCK.match(typed):
                return _Origin(unclear=caught.message)
    return _Origin(" ".join(words).rstrip(", "))


def _animals(
    held: Holding,
    brood: str,
    origin: _Origin,
    container: str,
    now: datetime,
    used: set[str],
    *,
    begun: bool,
) -> list[Saying]:
    """What is said of animals of one kind: of a brood, or each adult under its code, else under a
    free one."""
    free = free_codes(held.taxon, now, used | set(held.codes))
    codes = (
        [brood]
        if brood
        else [*held.codes, *(next(free) for _ in range(held.number - len(held.codes)))]
    )
    used.update(codes)
    looked: list[Saying] = (
        [(k.Looked, {"container": container, "sign": held.sign})] if held.sign else []
    )
    return [
        *sayings(held, container, codes, origin.place, begun=begun, caught=origin.caught),
        *looked,
    ]
