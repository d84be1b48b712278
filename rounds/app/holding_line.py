"""What a container holds as one line says it: how many, of what, from where, on which plant."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any

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
    tells_of_adults,
    words_in,
)
from rounds.checks.question import Saying
from rounds.entries import registry as k
from rounds.entries.phrase.dates import asked_hour, words_of
from rounds.entries.phrase.expansion import each_plant
from rounds.entries.phrase.parser import read_phrase
from rounds.entries.phrase.times import (
    UnclearTime,
    is_date_in_figures,
    is_day_of_month,
    is_month,
    is_time_word,
    is_weekday,
    read_time,
    weekday_in_full,
)
from rounds.entries.phrase.tokens import Word
from rounds.entries.phrase.vocabulary import PREPOSITIONS

_AS_HELD = "2 females Boloria dia; or 40 eggs Boloria dia"
_DAYS = frozenset({"yesterday", "today"})
_CLOCK = re.compile(r"^\d{1,2}:\d{2}$")
_LONGEST_TIME = 5  # words of it: Fri 21 May 2027 18:00
_BEFORE_TIME = re.compile(r"(?:^|[\s,]+)(?:since|at|on|about|around|by)[\s,]*$", re.IGNORECASE)
# What these say happened has a time of its own.
_OWN_TIME = re.compile(r"(?:^|\s)(?:cut|caught|taken|collected|found|laid)$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class TimedLine:
    """A line without the time that holds for all of it, that time, and what is asked of it."""

    text: str
    at: datetime | None = None
    asked: str = ""


def time_of_line(text: str, now: datetime) -> TimedLine:
    """The time that a line of a container and its animals has: in front, behind all else, or behind
    the animals, as ``K2 15 L3 Boloria dia on violet yesterday``.

    Of adults a time behind the name may be that of the catch, and behind a place it is.
    """
    words = words_of(text)
    if asked := asked_hour(words):
        return TimedLine(text, asked=asked)
    for place in (0, 1):  # before the code, and behind it
        length, at, unclear = time_at(words[place:], now, front=True)
        if length and place + length < len(words):
            code = text[: words[place].at]
            return TimedLine(code + text[words[place + length].at :], at, unclear)
    animals, on, plant = text.partition(" on ")
    if on and not time_at(words_of(animals), now)[0]:
        return _without_time(text, now)[0]
    timed, since = _without_time(animals, now)
    rest = f" on {plant}" if on else ""
    found = any(word.lower in PREPOSITIONS for word in words_of(timed.text))
    if timed.text == animals or (tells_of_adults(animals) and found and not since):
        return TimedLine(text)
    if tells_of_adults(animals) and not since:
        time = animals[len(timed.text) :].strip(" ,").removeprefix("at ")
        asked = (
            f"'{time}': caught then, or here since then? As: {timed.text} caught {time}{rest};"
            f" or: {timed.text}{rest} since {time}"
        )
        return TimedLine(timed.text + rest, asked=timed.asked or asked)
    return replace(timed, text=timed.text + rest)


def _without_time(text: str, now: datetime) -> tuple[TimedLine, bool]:
    """A text without the time at its end, and whether ``since`` stood before that."""
    words = words_of(text)
    length, at, unclear = time_at(words, now)
    before = text[: words[-length].at].rstrip(" ,") if length else ""
    if not length or tells_own_time(before):
        return TimedLine(text), False
    since = before.casefold().endswith(" since")
    return TimedLine(_BEFORE_TIME.sub("", before).rstrip(" ,"), at, unclear), since


def tells_own_time(text: str) -> bool:
    """Whether the last word says what happened at a time behind it: ``vetch cut``."""
    return bool(_OWN_TIME.search(text))


def time_at(
    words: list[Word], now: datetime, *, front: bool = False
) -> tuple[int, datetime | None, str]:
    """How many words at the end, or in front, are a time, which, and what is not clear of it."""
    for length in range(min(_LONGEST_TIME, len(words)), 0, -1):
        said = words[:length] if front else words[-length:]
        if any(word.quoted for word in said):
            continue
        first, second = said[0], said[1] if length > 1 else None
        of_month = second is not None and any(
            is_day_of_month(one.lower) and is_month(other.lower)
            for one, other in ((first, second), (second, first))
        )
        if not (
            of_month
            or is_time_word(first.lower)
            or is_date_in_figures(first.lower)
            or (second is not None and is_weekday(first.lower))
        ):
            continue
        typed = " ".join(word.text.rstrip(",:") for word in said)
        read = read_time(typed, now=now, zone=now.tzinfo or UTC)
        if isinstance(read, datetime):
            return length, read, ""
        if (length == 1 and is_time_word(first.lower)) or (length == 2 and of_month):
            return length, None, read.message
    return 0, None, ""


def place_of_line(text: str, shelves: Sequence[str]) -> tuple[str, dict[str, Any]]:
    """A line without the shelf and the place on it that stand at its end, and those, as fields:
    ``15 L3 Boloria dia on violet sill 2``."""
    names = "|".join(re.escape(name) for name in sorted(shelves, key=len, reverse=True))
    known = rf"|(?:(?:on|at)\s+)?(?P<known>{names or '(?!)'})"
    found = re.search(
        rf"[\s,]+(?:(?:(?:on|at)\s+)?shelf\s+(?P<said>\w+){known})"
        r"(?:\s+(?:place\s+)?(?P<place>\d{1,2}))?$",
        text,
        re.IGNORECASE,
    )
    if found is None:
        return text, {}
    said = found["said"] or found["known"]
    shelf = next((name for name in shelves if name.casefold() == said.casefold()), said)
    return text[: found.start()], {"shelf": shelf} | (
        {"place": int(found["place"])} if found["place"] else {}
    )


def read_holding(
    text: str, container: str, now: datetime, used: set[str], origin: str = ""
) -> list[Saying] | str:
    """What is in a container, as entries; or one line that says what would be right.

    Each wild female or male gets a code of her own and comes in as a founder; eggs, larvae and
    pupae begin a brood, which comes from ``origin`` where the line does not say from where.
    """
    animals, _, plant = (
        (text, "", "") if " on " not in f" {text} " else f" {text} ".partition(" on ")
    )
    to_record: list[Saying] = []
    words = animals.split()
    if words and (number_of(words[0]) or says_kinds(animals)):
        parts = [_name_and_origin(words_in(part), now) for part in parts_of(animals)]
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
        if read.at is not None:
            return "say the time at the end of the line: it holds for all of it"
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
            ends = end == len(words) and weekday_in_full(typed)
            if not (any(map(str.isdecimal, typed)) or typed.casefold() in _DAYS or ends):
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
