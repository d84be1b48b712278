"""What a container holds as one line says it: how many, of what, from where, on which plant."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from functools import partial
from itertools import takewhile
from typing import Any

from msgspec import Struct
from msgspec.structs import astuple, replace

from rounds import late
from rounds.app.holdings import (
    PURPOSES,
    NotHeld,
    Origin,
    brood_codes,
    codes_of,
    number_of,
    numbered,
    parts_of,
    purpose_named,
    read_kinds,
    sayings,
    says_kinds,
    tells_of_adults,
    words_in,
)
from rounds.app.laid_said import MARK, laid_by, laid_in, with_laid_marked
from rounds.bench.state import Bench
from rounds.entries import registry as k
from rounds.entries.base import Entry, Saying
from rounds.entries.phrase.carriage import without_carriage
from rounds.entries.phrase.dates import asked_hour, words_of
from rounds.entries.phrase.expansion import each_plant
from rounds.entries.phrase.fields import INITIALS, SURE_IN_A_NAME
from rounds.entries.phrase.foreign_words import (
    CATCHES,
    foreign_to_place,
    foreign_word,
    is_no_name,
    may_be_a_plant,
    no_name,
    plant_behind,
    says_stems,
)
from rounds.entries.phrase.parser import read_phrase
from rounds.entries.phrase.record_words import set_record_apart
from rounds.entries.phrase.synonyms import ANIMALS, stage_and_sex
from rounds.entries.phrase.time_span import without_span
from rounds.entries.phrase.times import (
    UnclearTime,
    is_bare_number,
    is_date_in_figures,
    is_day_of_month,
    is_month,
    is_time_word,
    is_weekday,
    read_time,
)
from rounds.entries.phrase.tokens import STOPS, Word
from rounds.entries.phrase.vocabulary import PREPOSITIONS
from rounds.entries.place_words import HOUSE_AND_GARDEN, PLACE_WORDS, place_behind
from rounds.entries.slots import each

_AS_HELD = "2 females Boloria dia; or 40 eggs Boloria dia"
_WITH_EGGS = "K5 1 female Boloria dia from Wood, laid 3 eggs"
_HOUR = late.pattern(r"\d{1,2}[:.]\d{2}")
_LONGEST_TIME = 5  # words of it: Fri 21 May 2027 18:00
_BEFORE_TIME = late.pattern(r"(?:^|[\s,]+)(?:since|at|on|about|around|by)[\s,]*$", re.IGNORECASE)
# What these say happened has a time of its own.
_OWN_TIME = late.pattern(rf"(?:^|\s)(?:cut|laid|{'|'.join(CATCHES)})$", re.IGNORECASE)
# Eggs that she who comes in has laid; 'laid 3 Jun' is a time.
_HER_EGGS = late.pattern(
    r",?\s+(?:(?:and|which|who|she|has|have|had|already)\s+)*laid\s+(?P<number>\w+)\s+eggs?"
    r"(?=[\s,]*(?:$|on\s))",
    re.IGNORECASE,
)
_CUT_OR_LAID = late.pattern(r"(?:^|\s)(?:cut|laid)$", re.IGNORECASE)
_FOUND = frozenset({"found"})  # 'found on gorse' is where it was
_THE_WILD = "the wild"  # where young ones are from that are said to be wild, and no more
_OFF_A_PLANT = frozenset({"beaten", "swept"})
_WILD = frozenset({"wild", "wild-caught"})
_COMES_IN = (k.FounderIntake, k.Stocked)
_OF_ADULTS = frozenset({"wear", "inspected", "mark"})
_UP = frozenset({"up", "out", "off"})  # dug up, picked off
_OF_ANIMALS = each("worn fresh slight gravid unmated wing wings antenna leg them she he it they")
_KIND_AND_GENUS = 3  # words before one that may end the name: 2 females Boloria


class TimedLine(Struct, frozen=True):
    """A line without the time that holds for all of it, that time, and what is asked of it;
    without how the animals were carried, which is a note; and without what it says of their record
    beside name, place and time, as fields of it."""

    text: str
    at: datetime | None = None
    asked: str = ""
    note: str = ""
    record: Mapping[str, Any] = {}
    height: str = ""  # of the place, behind whose name it stands


def time_of_line(text: str, now: datetime, bench: Bench) -> TimedLine:
    """The time that a line of a container and its animals has: in front, behind all else, or behind
    the animals, as ``K2 15 L3 Boloria dia on violet yesterday``.

    Of adults a time behind the name may be that of the catch, and behind a place it is. What stands
    behind `` -- `` is the note, whatever it says.
    """
    spoken, dashes, behind = f"{text} ".partition(" -- ")
    behind = behind.strip()
    rest, span = without_span(spoken.rstrip())
    rest, note = without_carriage(rest, words_of(rest))
    said = set_record_apart(rest, now=now, zone=now.tzinfo or UTC, bench=bench)
    rest, unclear = with_laid_marked(said.rest, now, partial(time_at, front=True))
    unclear = said.unclear or unclear
    timed = TimedLine(rest, asked=unclear) if unclear else _time_of_line(rest, now)
    if timed.at and not tells_of_adults(timed.text) and _ends_with_a_time(timed.text, now):
        unclear = "two times were given; give one"
        timed = replace(timed, asked=unclear)
    if timed.at is not None and not timed.asked:
        text, unclear = laid_by(timed.text, timed.at)
        timed = replace(timed, text=text, asked=unclear)
    note = ", ".join(filter(None, (note, said.weather, span, behind)))
    if timed.asked and not unclear:  # the lines that it suggests say all that was typed
        typed = f"{said.typed}{dashes}{behind}".strip()
        timed = replace(timed, asked=_with_words(timed.asked, typed, span))
    return replace(timed, note=note, record={**timed.record, **said.fields}, height=said.height)


def _ends_with_a_time(text: str, now: datetime) -> bool:
    """Whether a line ends with a time that is not that of a find, behind its place."""
    before, _ = _without_time(text, now)
    is_of_a_find = any(word.lower in PREPOSITIONS for word in words_of(before.text))
    return before.at is not None and not is_of_a_find


def _with_words(asked: str, words: str, span: str) -> str:
    """A question with words more behind each line that it suggests, a catch between two hours."""
    if hour := _HOUR.search(span):
        asked = asked.replace(f" caught {hour[0]}", f" caught {span}")
    lines, joined, other = asked.partition("; or: ")
    return f"{lines} {words}{joined}{other}{f' {words}' * bool(joined)}" if words else asked


def _time_of_line(text: str, now: datetime) -> TimedLine:
    words = words_of(text)
    if asked := asked_hour(words):
        return TimedLine(text, asked=asked)
    for place in (0, 1):  # before the code, and behind it
        length, at, unclear = time_at(words[place:], now, front=True)
        if length and place + length < len(words):
            code = text[: words[place].at]
            return TimedLine(code + text[words[place + length].at :], at, unclear)
    animals, on, plant = _plant_apart(text, now)
    if tells_of_adults(animals) and _catch_behind(plant)[1]:
        return TimedLine(text)  # 'on plantain, caught at the weir yesterday'
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
    own_time = tells_own_time(before, young=not tells_of_adults(text))
    if not length or own_time:
        return TimedLine(text), False
    since = before.casefold().endswith(" since")
    before = _BEFORE_TIME.sub("", before).rstrip(" ,")
    first, _, last = before.rpartition(" ")
    said = {word.lower for word in words[:-length] if not word.quoted}
    tells_catch = said & (CATCHES | _WILD)
    caught = {"caught": at} if at and tells_catch and not since else {}
    if last.casefold() in CATCHES - _FOUND:  # with the time behind it, it has said all
        before = first.rstrip(" ,")
    return TimedLine(before, at, unclear, record=caught), since


def tells_own_time(text: str, *, young: bool = False) -> bool:
    """Whether the last word says what happened at a time behind it: ``vetch cut``; young animals
    came in when they were found."""
    return bool((_CUT_OR_LAID if young else _OWN_TIME).search(text))


def time_at(
    words: list[Word], now: datetime, *, front: bool = False
) -> tuple[int, datetime | None, str]:
    """How many words at the end, or in front, are a time, which, and what is not clear of it."""
    for length in range(min(_LONGEST_TIME, len(words)), 0, -1):
        said = words[:length] if front else words[-length:]
        if any(word.quoted for word in said):
            continue
        first, second = said[0], said[1] if length > 1 else None
        if length == 1 and not front and is_bare_number(first) and not _says_time(words[:-1]):
            continue
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


def _says_time(words: list[Word]) -> bool:
    """Whether a time is said next: ``caught``, ``since``, ``on``."""
    return bool(words) and (words[-1].lower in CATCHES or words[-1].lower in ("since", "on"))


def purpose_of_line(text: str) -> tuple[str, str]:
    """A line without what it says its container is for, and that; '' where it does not: ``2 females
    Boloria dia laying on violet``, ``12 L4 Boloria dia on violet set up rearing``."""
    words = [*takewhile(lambda one: one.lower != "--", words_of(text))]
    for place, word in enumerate(words):
        for length in (2, 1):
            said = words[place : place + length]
            name = " ".join(one.text for one in said).rstrip(",")
            purpose = purpose_named(name)
            if purpose not in PURPOSES or name != name.lower() or any(one.quoted for one in said):
                continue
            begins = place - (place > 0 and words[place - 1].lower == "for")
            before = [one.lower for one in words[max(0, begins - 2) : begins]]
            begins -= 2 * (before == ["set", "up"]) or before[-1:] == ["setup"]
            behind = words[place + length] if place + length < len(words) else None
            is_kind = word.lower in ANIMALS and (place or (behind and not number_of(behind.text)))
            if begins == place and (is_kind or not _stands_alone(words, place, behind)):
                continue
            rest = text[behind.at :] if behind else text[said[-1].at + len(said[-1].text) :]
            before_it = text[: words[begins].at].rstrip()
            comma = "," * (said[-1].text.endswith(",") and bool(before_it))
            return f"{before_it}{comma} {rest}".strip(" ,"), purpose
    return text, ""


def _stands_alone(words: list[Word], place: int, behind: Word | None) -> bool:
    """Whether a word there is no part of a name: no preposition leads to it, and what stands behind
    it begins something else."""
    if place and words[place - 1].lower in PREPOSITIONS:
        return False
    return (
        place == 0
        or behind is None
        or words[place].text.endswith(",")
        or behind.lower in PREPOSITIONS | PLACE_WORDS
        or is_time_word(behind.text)
        or behind.text[:1].isdecimal()
    )


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
        stands = place_behind(text, ())
        return (stands[0], {"shelf": stands[1]}) if stands and says_kinds(text) else (text, {})
    said = found["said"] or found["known"]
    shelf = next((name for name in shelves if name.casefold() == said.casefold()), said)
    return text[: found.start()], {"shelf": shelf} | (
        {"place": int(found["place"])} if found["place"] else {}
    )


def read_holding(
    line: TimedLine, container: str, now: datetime, used: set[str], origin: str = ""
) -> list[Saying] | str:
    """What is in a container, as entries; or one line that says what would be right.

    Each wild female or male gets a code of her own and comes in as a founder; eggs, larvae and
    pupae begin a brood, which comes from ``origin`` where the line does not say from where.
    """
    text, note, laid = line.text, line.note, _HER_EGGS.search(line.text)
    if laid and tells_of_adults(text[: laid.start()]):
        without = text[: laid.start()] + text[laid.end() :]
        hers = read_holding(replace(line, text=without), container, now, used, origin)
        if isinstance(hers, str):
            return hers
        return _with_her_eggs(hers, laid["number"], line.at or now)
    animals, _, plant = _plant_apart(f" {numbered(text)} ", now)
    plant, catch = _catch_behind(plant)
    plant, where = _where_they_were(plant, now)
    to_record: list[Saying] = []
    words = animals.split()
    if words and (number_of(words[0]) or says_kinds(animals)):
        caught = _origin(catch.split(), now)
        wild = any(word.casefold() in _WILD for word in words)
        wild = wild or bool(line.record.keys() - _OF_ADULTS)
        parts = [
            (kinds, _filled(told, caught))
            for kinds, told in _caught_together(
                [_name_and_origin(words_in(part), now) for part in parts_of(animals)]
            )
        ]
        if unclear := next((origin.unclear for _, origin in parts if origin.unclear), ""):
            return unclear
        plant = plant or parts[-1][1].plant
        note = ", ".join(filter(None, (note, *(origin.note for _, origin in parts))))
        result = read_kinds(", ".join(kinds for kinds, _ in parts))
        if isinstance(result, NotHeld):
            return (
                f"say how many, what and which species, as: {_AS_HELD}"
                if result.wrong
                else result.line
            )
        if behind := next((one.behind for _, one in parts if one.behind and not plant), ""):
            place = next(one.place for _, one in parts if one.behind)
            before = place.removesuffix(f", {behind}")
            ways = (
                text.replace(place, to) for to in (f"{before} on {behind}", f'"{place}"', before)
            )
            return _plant_or_place(behind, "part of the place", ways, "" if origin else container)
        if odd := next((origin.no_name for _, origin in parts if origin.no_name), ""):
            return odd
        if says_kinds(plant):
            return (
                "say all the animals before the plant, as: 2 females, 1 male Boloria dia on violet"
            )
        if not all(held.taxon for held in result):
            return f"say how many, what and which species, as: {_AS_HELD}"
        if behind := next((held.behind for held in result if may_be_a_plant(held.behind)), ""):
            to = (f" on {behind}", f" from {behind}", "")
            ways = (text.replace(f", {behind}", one) for one in to)
            return _plant_or_place(behind, "where they are from", ways, "" if origin else container)
        begun: set[str] = set()
        broods = brood_codes(result, now, used)
        used.update(broods)
        for held, brood, (_, said) in zip(result, broods, parts, strict=True):
            is_told = said.place or said.found_on or wild or not brood
            came = replace(said, wild=said.wild or wild)
            came = came if is_told else replace(came, place=origin)
            if brood and wild and not (came.place or came.found_on or came.caught or line.record):
                came = replace(came, place=_THE_WILD, wild=False)
            codes = codes_of(held, brood, now, used)
            to_record += sayings(held, container, codes, came, begun=brood in begun)
            if held.sign:
                to_record.append((k.Looked, {"container": container, "sign": held.sign}))
            begun.add(brood)
    elif any(word.casefold().rstrip(",") in ANIMALS for word in words) or (words and plant):
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
            as_typed = f"{container} {animals.strip()} on" if animals.strip() else f"{container} on"
            return read.message.replace(f"{container} host in", as_typed, 1)
        if read.at is not None:
            return "say the time at the end of the line: it holds for all of it"
        plants = each_plant(read.fields, None, each=read.each)
        if isinstance(plants, UnclearTime):
            as_typed = f"{container} {animals.strip()} on".replace("  ", " ")
            return plants.message.replace(f"{container} host in", as_typed, 1)
        to_record += [(k.HostIn, {"part": ""} | fields) for fields in plants]
        note = ", ".join(filter(None, (note, read.note)))
    if to_record and note:
        to_record.append((k.Note, {"container": container, "text": note}))
    return _with_record(to_record, line.record, line.height, where)


def _plant_or_place(behind: str, place: str, ways: Iterable[str], cup: str) -> str:
    """What is asked of words that may be a plant, a place or a note, with the line for each.

    Args:
        cup: with which a line begins at the prompt; '' elsewhere.
    """
    on, at, alone = (f"{cup} {line.strip()}".strip() for line in ways)
    what = f"'{behind}': the plant they are on, {place}, or a note?"
    return f"{what} As: {on}; or {at}; or {alone} -- {behind}"


def _with_her_eggs(said: list[Saying], number: str, at: datetime) -> list[Saying] | str:
    """Females that come in with eggs that they have laid, since they were caught where that is
    said."""
    mothers = [
        one for kind, one in said if kind is k.FounderIntake and one.get("sex", "") != "male"
    ]
    if not number_of(number) or len({one["taxon"] for one in mothers}) != 1:
        return f"whose eggs, and how many? Say her and them on a line, as: {_WITH_EGGS}"
    first, *others = mothers
    code = f"{first['code']}{'+' if others else ''}/A"
    caught = [one["caught"] for one in mothers if one.get("caught")]
    since = min(caught) if len(caught) == len(mothers) else None
    span = {"laid_from": since, "laid_to": at} if since and since <= at else {}
    brood = {"code": code, "taxon": first["taxon"], "mothers": [one["code"] for one in mothers]}
    eggs = {"container": first["container"], "brood": code, "stage": "egg"}
    return [
        *said,
        (k.BroodBegun, brood | span),
        (k.Stocked, eggs | {"number": int(number_of(number))} | span),
    ]


def _with_record(
    to_record: list[Saying], record: Mapping[str, Any], height: str, where: str
) -> list[Saying] | str:
    """What is said, each wild-caught animal with what the line says of its record and, behind the
    plant, of where it is from; or what is asked of a mark, which is one animal's."""
    founders = sum(kind is k.FounderIntake for kind, _ in to_record)
    if "mark" in record and founders > 1:
        return f"whose mark is {record['mark']}? Say each on a line of its own"
    young = any(kind is k.Stocked for kind, _ in to_record)
    if young and not founders and (odd := [*(_OF_ADULTS & record.keys())]):
        return f"{odd[0]} is said of adults; of others as a note, behind --"
    for kind, fields in to_record if "place" in record else ():
        before = fields.get("place") or fields.get("origin")
        if kind in _COMES_IN and before and before != record["place"]:
            return f"place was given twice: {before} and {record['place']}; give one"
    return [
        (kind, _with_catch(fields, kind, record, height, where) if kind in _COMES_IN else fields)
        for kind, fields in to_record
    ]


def _with_catch(
    fields: dict[str, Any],
    kind: type[Entry],
    record: Mapping[str, Any],
    height: str,
    picked: str,
) -> dict[str, Any]:
    """One that comes in with what is said of its catch; without a place of its own it is from the
    one that is said behind its plant."""
    left_out = _OF_ADULTS if kind is k.Stocked else frozenset()
    said = fields | {name: value for name, value in record.items() if name not in left_out}
    is_young = kind is k.Stocked and not (record or height or said.get("caught"))
    where = "origin" if said.get("origin") or is_young else "place"
    if picked and not said.get(where):
        said[where] = picked
    if height:
        said[where] = ", ".join(filter(None, (said.get(where), height)))
    return said


def _catch_behind(plant: str) -> tuple[str, str]:
    """The plant that animals are on, and how they came to hand where that stands behind it:
    ``plantain, caught yesterday 15:30``; of a catch without more only the plant."""
    words = words_of(plant)
    for word in takewhile(lambda word: word.text != "--", words[1:]):
        if not word.quoted and word.lower in CATCHES:
            catch = plant[word.at :].strip()
            return plant[: word.at].rstrip(" ,"), catch if " " in catch else ""
    return plant, ""


def _where_they_were(plant: str, now: datetime) -> tuple[str, str]:
    """The plant that animals are on, and where they are from where that is said behind it:
    ``plantain at Hollow Mead``; stems that are from there keep that too. House and garden are where
    a plant grows."""
    words = [*takewhile(lambda word: word.text != "--", words_of(plant))]
    for place, word in enumerate(words[1:-1], 1):
        behind = words[place + 1 :]
        if word.quoted or word.lower not in _AT | {"from"} or time_at(behind, now, front=True)[0]:
            continue
        end = next((n for n, one in enumerate(behind) if one.text.endswith(",")), len(behind) - 1)
        last = behind[end]
        until = last.at + len(last.text)
        where = plant[behind[0].at : until].rstrip(" ,")
        if last.lower.rstrip(STOPS) in HOUSE_AND_GARDEN or not (
            end + 1 == len(behind) or word.lower in _AT
        ):
            break
        before = plant[: word.at].rstrip(" ,")
        return (plant if word.lower == "from" else f"{before}{plant[until:]}"), where
    return plant, ""


_AT = frozenset({"at", "near"})


def _caught_together(parts: list[tuple[str, Origin]]) -> list[tuple[str, Origin]]:
    """Animals of each kind with where they come from: those that share the name behind others,
    as in ``2 females, 1 male Boloria dia caught 11:00``, share that too."""
    together: list[tuple[str, Origin]] = []
    for kinds, told in reversed(parts):
        shares = together and len(kinds.split()) < _KIND_AND_GENUS and told == Origin()
        together.append((kinds, replace(together[-1][1], note="") if shares else told))
    return together[::-1]


def _filled(told: Origin, more: Origin) -> Origin:
    """What is told of where animals come from, with what else is where it says nothing."""
    return Origin(*(one or other for one, other in zip(astuple(told), astuple(more), strict=True)))


def _plant_apart(text: str, now: datetime) -> tuple[str, str, str]:
    """The animals of a line, and the plant that they are on; what they were found on is told with
    them."""
    words = words_of(text)
    for place, word in enumerate(words[:-1]):
        if place and not word.quoted and word.lower == "on" and not _is_found_on(words, place, now):
            behind, animals = words[place + 1].at, text[: word.at].rstrip()
            said = [*takewhile(lambda one: one.lower != "--", words[place + 2 :])]
            if laid := next((one for one in said if one.text.startswith(MARK)), None):
                end = laid.at + len(laid.text)  # 'on cabbage laid 10 Jun' is of the eggs
                plant = f"{text[behind : laid.at].rstrip(' ,')}{text[end:]}"
                return f"{animals} {laid.text}", " on ", plant
            caught = next((one.at for one in said if _tells_of_the_catch(one)), 0)
            if caught:  # 'on violet, caught at Tannmoos' is of the animals
                return (
                    f"{animals} {text[caught:].rstrip()}",
                    " on ",
                    text[behind:caught].rstrip(" ,"),
                )
            return animals, " on ", text[behind:]
    return text, "", ""


def _tells_of_the_catch(word: Word) -> bool:
    return not word.quoted and word.lower in ("caught", "netted")


def _is_found_on(words: list[Word], place: int, now: datetime) -> bool:
    """Whether ``on`` stands behind ``found``, also with a time between, or before a time."""
    if time_at(words[place + 1 :], now, front=True)[0]:
        return True
    before = words[:place]
    length = time_at(before, now)[0]
    catch = before[-1 - length :][:1] if length < len(before) else []
    at_once = CATCHES if not length else frozenset({"found"})
    return bool(catch) and not catch[0].quoted and catch[0].lower in at_once


def _name_and_origin(words: list[str], now: datetime) -> tuple[str, Origin]:
    """The species, and where it comes from: a preposition, or how they came to hand, ends the
    name."""
    words, laid = laid_in(words)
    if laid:
        name, origin = _name_and_origin(words, now)
        return name, replace(origin, laid=laid)
    texts = [word.casefold().rstrip(",") for word in words]
    ends = next(
        (
            position
            for position, word in enumerate(texts)
            if word in PREPOSITIONS or (position >= _KIND_AND_GENUS and word in CATCHES)
        ),
        len(words),
    )
    if ends == len(words) and any(stage_and_sex(word)[0] == "adult" for word in words):
        text = " ".join(words)
        length, caught, _ = time_at(words_of(text), now)  # 'yesterday 14:20' behind the name
        if caught:
            return text[: words_of(text)[-length].at].rstrip(", "), Origin(caught=caught)
    return " ".join(words[:ends]).rstrip(", "), _origin(words[ends:], now)


def _origin(words: list[str], now: datetime) -> Origin:
    """Place, time and plant of a find in any order: ``from Hollow Mead 9 Jun 14:20``, ``found
    Monday on gorse at the weir``.

    A time ends the place, and what stands behind it bare is the plant.
    """
    told = Origin()
    rest = words
    while rest and not told.unclear:
        word = rest[0].casefold().rstrip(",")
        if word in CATCHES | _UP:
            rest, caught = _after_time(rest[1:], now)
            told = _caught_then(replace(told, wild=True), caught)
            if word in _OFF_A_PLANT and rest[:1] == ["from"]:
                rest = ["on", *rest[1:]]
            continue
        length = 1 if word in PREPOSITIONS else 0
        is_short = length and (
            (word == "on" and not told.found_on and not told.place)
            or (word == "by" and not told.collector)
        )
        ends = next(
            (
                place
                for place, one in enumerate(rest)
                if place > length
                and (
                    one.casefold() in PREPOSITIONS
                    if is_short
                    else one.casefold() in CATCHES or (one == "by" and _by_whom(rest[place:]))
                )
            ),
            len(rest),
        )
        told = _with_clause(told, word, rest[length:ends], now)
        rest = rest[ends:]
    return told


def _by_whom(words: list[str]) -> bool:
    """Whether ``by`` stands before initials: a place may have one of its own."""
    return len(words) > 1 and INITIALS.match(words[1]) is not None


def _caught_then(told: Origin, at: datetime | None) -> Origin:
    """What is told, with when they were caught, where it says no other time."""
    if at and told.caught and at != told.caught:
        both = " and ".join(f"{one:%d %b %H:%M}" for one in (told.caught, at))
        return replace(told, unclear=f"caught twice: {both}; give one")
    return replace(told, caught=at or told.caught)


def _after_time(words: list[str], now: datetime) -> tuple[list[str], datetime | None]:
    """The words behind a time that they begin with, and that time."""
    text = " ".join(words)
    cut = words_of(text)
    length, at, _ = time_at(cut, now, front=True)
    if not length or at is None:
        return words, None
    return (text[cut[length].at :].split() if length < len(cut) else []), at


def _with_clause(told: Origin, word: str, words: list[str], now: datetime) -> Origin:
    """What is told so far and by one clause more, which begins with a preposition or stands bare
    behind a time."""
    text, caught, behind, unclear = _until_time(words, now)
    if unclear:
        return replace(told, unclear=unclear)
    told = _caught_then(told, caught)
    text, *notes = text.split(", ")
    while notes and not _tells_of_animals(notes[0]):
        text = f"{text}, {notes.pop(0)}"
    told = _with_note(told, ", ".join(notes))
    is_named = word in PREPOSITIONS or not _tells_of_animals(text)
    is_place = word in PREPOSITIONS - {"on", "by"}
    is_quoted = any(one[:1] in "\"'" for one in words)
    is_named = is_named and not is_quoted
    odd = (is_place and foreign_to_place(text)) or no_name(text, is_place)
    if is_named and odd:
        return replace(told, no_name=is_no_name(odd, text))
    if is_named and not behind and text.casefold().endswith(" sure"):
        return replace(told, unclear=SURE_IN_A_NAME)
    if word not in PREPOSITIONS:
        told = _bare(told, text)
    elif word == "on" and not told.found_on and not told.place:
        told = replace(told, found_on=text.removeprefix("the "))
    elif word == "by" and not told.collector:
        told = replace(told, collector=text)
    elif text:
        behind_it = plant_behind(text) if is_place and not is_quoted else ""
        place = f"{told.place} {word} {text}" if told.place else text
        if behind_it and says_stems(behind_it) and not told.plant:
            place = place.removesuffix(f", {behind_it}")
            told, behind_it = replace(told, plant=behind_it), ""
        told = replace(told, behind=behind_it or told.behind)
        told = replace(told, place=place, wild=told.wild or word in ("at", "near"))
    first, _, rest = behind.partition(" ")
    if first.casefold() in PREPOSITIONS:
        return _with_clause(told, first.casefold(), rest.split(), now)
    return _bare(told, behind)


def _bare(told: Origin, text: str) -> Origin:
    """What stands bare behind a time: the plant that they are on, or what is told of them."""
    if not text or _tells_of_animals(text):
        return _with_note(told, text)
    return replace(told, plant=text)


def _with_note(told: Origin, text: str) -> Origin:
    return replace(told, note=", ".join(filter(None, (told.note, text))))


def _tells_of_animals(text: str) -> bool:
    """Whether words behind a comma tell of the animals and are neither place nor plant: ``two of
    them worn``."""
    words = [word.casefold().strip(",.") for word in text.split()]
    return bool(words) and bool(
        number_of(words[0]) or _OF_ANIMALS & {*words} or foreign_word(f"- {text}")
    )


def _until_time(said: list[str], now: datetime) -> tuple[str, datetime | None, str, str]:
    """The words before a time, that time, the words behind it, and what is not clear of it."""
    words = words_of(" ".join(said))
    texts = [word.text for word in words]
    for begin, word in enumerate(words):
        length, caught, unclear = time_at(words[begin:], now, front=True)
        end = begin + length
        # a weekday alone may be of a name, and so may a number
        is_weekday_of = is_weekday(word.text) and end < len(words)
        if not length or (length == 1 and (is_weekday_of or is_bare_number(word))):
            continue
        before = " ".join(texts[:begin]).rstrip(",; ").removesuffix(" caught")
        before = _BEFORE_TIME.sub("", before).removesuffix(" caught").rstrip(",; ")
        return before, caught, " ".join(texts[end:]).strip(", "), unclear
    return " ".join(texts).rstrip(",; "), None, "", ""
