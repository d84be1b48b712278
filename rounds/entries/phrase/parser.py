"""Reading a typed line: a container, what happened, numbers, choices, names, when, and a note."""

from __future__ import annotations

import re
from collections.abc import Collection
from datetime import datetime, tzinfo
from difflib import get_close_matches
from itertools import pairwise
from typing import Any

from rounds.bench.codes import like_codes, names_of, some_of
from rounds.bench.measures import METRIC, Measures, celsius_of
from rounds.bench.state import PLURALS as PLURAL_OF
from rounds.bench.state import Bench
from rounds.entries.phrase.cut_eggs import eggs_cut_off
from rounds.entries.phrase.moved_stems import stems_moved
from rounds.entries.phrase.own_code import code_is_there
from rounds.entries.phrase.reader import ALL, Draft, Reader, Trouble
from rounds.entries.phrase.same_again import same_again
from rounds.entries.phrase.split_shares import split_up
from rounds.entries.phrase.synonyms import NUMBER_WORDS
from rounds.entries.phrase.times import Unclear, is_month, is_time_word, is_weekday, read_time
from rounds.entries.phrase.tokens import STOPS, Word, cut, named_value
from rounds.entries.phrase.verb import begins_anew, begins_at, put_animal, read_beginning
from rounds.entries.phrase.vocabulary import (
    AFTER_DASHES,
    AFTER_DASHES_OF_NO_CONTAINER,
    FLAGS,
    JOINING,
    OF_SEVERAL_WORDS,
    PREPOSITIONS,
    SAID_BY_NAME,
    SHORT,
    UNITS,
)
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import Described, FieldDescribed, describe
from rounds.entries.slots import PARTS, PLANT_THERE

_LOW_AND_HIGH = re.compile(r"^(-?\d+(?:[.,]\d+)?)/(-?\d+(?:[.,]\d+)?)$")
_NUMBER = re.compile(r"^([-+]?\d+(?:[.,]\d+)?)\u00b0?([a-z%]*)$", re.IGNORECASE)
_AGO = re.compile(r"^-(?:\d+(?:\.\d+)?(?:d|h|m|min))+$")
_LIKE_A_CODE = re.compile(r"^(?!L\d{1,2}$)(?=.*\d)(?=.*[^\W\d])[\w.+/-]+$")
_SPAN = re.compile(r"^\d+(?:h|d|m|min)$")
_CLOCK = re.compile(r"^\d{1,2}:\d{2}$")
# A day as a label or a letter has it: 20.5., 20/5/26, 2026/05/20, 20-May; with a stop or comma behind it.
_DAY_LIKE = re.compile(
    r"^(?:\d{1,2}[./-](?:\d{1,2}|[a-z]{3,9}|[ivx]{1,4})(?:[./-](?:\d{2,4})?)?"
    r"|\d{4}[./-]\d{1,2}[./-]\d{1,2})[,.]?$",
    re.IGNORECASE,
)
_ROMAN_MONTHS = frozenset({"i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"})
_INSTAR = re.compile(r"^L(\d{1,2})$", re.IGNORECASE)
_BATCH = re.compile(r"^[A-Za-z]{1,2}$")
_NOTHING = Bench()
PLURALS = frozenset({"eggs", "larvae", "caterpillars", "pupae", "adults", "females", "males"})
NONE_FOUND = frozenset({"none", "nothing", "no"})
SEVERAL_USUALLY = frozenset({"hatched", "moved"})  # of whom one alone is said as one
NAMES_A_PREPOSITION_ENDS = ("taxon", "plant", "name", "collector", "found_on")


def read_phrase(
    text: str,
    *,
    now: datetime,
    zone: tzinfo,
    codes: Collection[str],
    shelves: Collection[str],
    measures: Measures = METRIC,
    bench: Bench = _NOTHING,
) -> Draft | Unclear:
    """What a typed line says, or in one line what is not clear. It never raises, whatever the text.

    ``measures`` are the units of numbers typed without one; ``bench`` says what an everyday word means where it depends
    on what stands there, and which animals have which codes.
    """
    spoken, _, after = text.partition(" -- ")
    if text.startswith("-- "):
        spoken, after = "", text[3:]
    reader = _reader(spoken, now, zone, codes, shelves, measures, bench)
    stems_moved(reader)
    eggs_cut_off(reader)
    split_up(reader)
    try:
        kind = read_beginning(reader, noted=bool(after.strip()))
        described = describe(kind)
        reader.slots = described.slots
        if described.slots.text:
            _read_all_text(reader, described, spoken)
        if described.name == "setting":
            _read_setting(reader, spoken)
        while reader.word is not None:
            _read_word(reader, described)
        _place_loose(reader, described)
        same_again(reader, described)
        note = _put_after(reader, described, after.strip())
        _wanting(reader, described, len(text))
    except Trouble as trouble:
        return trouble.unclear
    return Draft(
        kind,
        reader.at,
        reader.fields,
        reader.targets,
        note,
        frozenset(reader.as_written),
        reader.each,
        reader.of,
        reader.new,
        reader.left_out,
        reader.better,
    )


def without_begun(
    text: str, begun: str, *, now: datetime, zone: tzinfo, codes: Collection[str], shelves: Collection[str], bench: Bench
) -> str:
    """The line without the code that the prompt had begun it with, where what was typed says whose it is by itself."""
    code = begun.strip()
    rest = text.strip()
    if code not in codes or not rest.startswith(f"{code} "):
        return text
    rest = rest[len(code) :].strip()
    try:
        reader = _reader(rest.partition(" -- ")[0], now, zone, codes, shelves, METRIC, bench)
        if begins_anew(reader):
            return rest
    except Trouble:
        return text
    alone = read_phrase(rest, now=now, zone=zone, codes=codes, shelves=shelves, bench=bench)
    return rest if isinstance(alone, Draft) and alone.fields.get("container") else text


def _reader(
    spoken: str,
    now: datetime,
    zone: tzinfo,
    codes: Collection[str],
    shelves: Collection[str],
    measures: Measures,
    bench: Bench,
) -> Reader:
    by_code = {code.casefold(): code for code in codes}
    by_shelf = {shelf.casefold(): shelf for shelf in shelves}
    return Reader([_without_at(word) for word in cut(spoken)], now, zone, by_code, by_shelf, bench, measures)


def _without_at(word: Word) -> Word:
    """``@20 May``, ``@18:30``: the sign before a time says no more than that it is one."""
    rest = word.text[1:]
    is_time = not word.quoted and word.text[:1] == "@" and (is_time_word(rest) or is_weekday(rest) or rest.isdecimal())
    return Word(rest, word.at + 1) if is_time else word


def _read_all_text(reader: Reader, described: Described, spoken: str) -> None:
    word = reader.word
    if word is not None and is_time_word(word.text) and reader.ahead(1) is not None:
        _read_when(reader)
        word = reader.word
    if word is not None:
        alone = word.quoted and reader.ahead(1) is None
        reader.fields[described.slots.text] = word.text if alone else spoken[word.at :].strip()
    reader.place = len(reader.words)


def _read_setting(reader: Reader, spoken: str) -> None:
    """A setting's name, then its value to the end of the line; or ``name=value``. Only ``-20m`` after a value is a time: a
    setting may itself be a time of day.
    """
    word = reader.word
    if word is None or word.text.startswith(("name=", "value=")):
        return
    named = named_value(word)
    following = reader.ahead(1)
    reader.fields["name"] = named[0] if named else word.text
    value = spoken[following.at :].strip() if following else ""
    before, _, last = value.rpartition(" ")
    if before and _AGO.match(last):
        found = read_time(last, now=reader.now, zone=reader.zone)
        if isinstance(found, datetime):
            reader.at, value = found, before.strip()
    words = cut(value)
    alone = len(words) == 1 and words[0].quoted
    reader.fields["value"] = named[1] if named else words[0].text if alone else value
    reader.place = len(reader.words)


def _read_word(reader: Reader, described: Described) -> None:
    word = reader.word
    assert word is not None
    for read in (
        _read_low_and_high,
        _read_named,
        _read_among,
        _read_leading,
        _read_place_after,
        _read_preposition,
        _read_choice,
        _read_flag,
        _read_end_of_shelf,
        _read_time_word,
        _read_of,
        _read_by_its_name,
        _read_number,
        _read_part,
        _read_batch,
        _read_shelf,
        _read_code,
    ):
        if read(reader, described, word):
            return
    if reader.flow:
        begun = reader.fields.get(reader.flow, "")
        reader.fields[reader.flow] = f"{begun} {word.text}".strip()
    else:
        reader.loose.append(word)
    reader.place += 1


def _read_named(reader: Reader, described: Described, word: Word) -> bool:
    named = named_value(word)
    if named is None:
        return False
    name, value = named
    reader.place += 1
    one = described.field(name) or described.field(FLAGS.get(name, "")) or described.field(f"{name}s")
    one = one or _field_like(described, name)
    if one is None:
        names = [known.name for known in described.fields]
        near = tuple(get_close_matches(name, names, n=3, cutoff=0.4))
        raise Trouble(f"'{described.name}' has no {name}; it takes {', '.join(names)}", word, near)
    if one.shape == "time" and reader.word is not None and re.match(r"^\d{1,2}:\d{2}$", reader.word.text) and value:
        value = f"{value} {reader.word.text}"
        reader.place += 1
    if one.shape == "choice":
        value = _longer_choice(reader, described, one, value)
    read = _value(reader, one, value, word)
    if one.name in OF_SEVERAL_WORDS and one.shape == "words":
        _named_name(reader, one.name, word)
    short = name != one.name and isinstance(read, float)  # depth=9 is in the keeper's unit, depth_mm=9 is in mm
    reader.fields[one.name] = reader.measures.metric(one.name, read) if short else read
    return True


def _longer_choice(reader: Reader, described: Described, one: FieldDescribed, value: str) -> str:
    """A named choice of several words, as ``cause=old age``: the words after it that belong to it are read with it."""
    short = {**SHORT, **described.slots.short}
    for length in (2, 1, 0):
        said = " ".join([value.casefold(), *(part.lower for step in range(length) if (part := reader.ahead(step)))])
        for form in (said, short.get(said, said)):
            if form in one.choices:
                reader.place += length
                return form
    return value


def _named_name(reader: Reader, name: str, word: Word) -> None:
    """A value in quotes stays as it is; without them the words that follow belong to it too."""
    quote = word.text.partition("=")[2][:1]
    reader.flow = "" if quote in ("'", '"') and quote else name
    if quote == '"':
        reader.as_written.add(name)


def _field_like(described: Described, name: str) -> FieldDescribed | None:
    fits = [one for one in described.fields if one.name.rsplit("_", 1)[0] == name and one.shape in ("number", "count")]
    return fits[0] if len(fits) == 1 else None


def _short(described: Described, name: str) -> str:
    """A field's name as it may be typed: without its unit, where that is enough."""
    short = name.rsplit("_", 1)[0]
    return short if "_" in name and _field_like(described, short) else name


def _read_among(reader: Reader, described: Described, word: Word) -> bool:
    """Several codes of which one is meant: ``of W2,W3,W4``, ``one of W2, W3 or W4``, ``W2 or W3``."""
    if described.field("among") is None or "among" in reader.fields:
        return False
    steps = 0
    if word.lower == "one" and (of := reader.ahead(1)) and of.lower == "of":
        steps = 1
    if (of := reader.ahead(steps)) and of.lower == "of":
        steps += 1
    several = steps > 0  # a comma alone may join anything; 'of' and 'or' say that it is one of these
    codes: list[str] = []
    while following := reader.ahead(steps):
        codes += [part for part in following.text.split(",") if part]
        steps += 1
        joined = reader.ahead(steps)
        if joined and joined.lower in ("or", "and"):
            steps, several = steps + 1, True
        elif not following.text.endswith(","):
            break
    if not several or len(codes) < 2 or not all(_LIKE_A_CODE.match(code) for code in codes):
        return False
    reader.fields["among"] = tuple(codes)
    reader.place += steps
    return True


def _read_leading(reader: Reader, described: Described, word: Word) -> bool:
    leading = described.slots.leading
    following = reader.ahead(1)
    pair = f"{word.lower} {following.lower}" if following else ""
    length = 2 if pair in leading else 1
    name = leading.get(pair) or leading.get(word.lower)
    target = reader.ahead(length)
    if name is None or target is None or word.quoted:
        return False
    one = described.field(name)
    assert one is not None
    if one.shape == "choice" and not _choice_at(reader, described, one, length):
        return False
    if described.name == "shelf set up" and one.shape in ("count", "number") and not _NUMBER.match(target.text):
        return False  # 'cold room' is a name
    if one.shape == "choice":
        reader.place += length
        return _read_choice(reader, described, target)
    if one.shape == "time" and not (is_time_word(target.text) or is_weekday(target.text) or _is_date(reader, length) or one.required):
        reader.place += length  # 'caught at Tannmoos' says where, not when
        return True
    reader.place += length
    reader.flow = ""
    if one.shape == "time":
        reader.fields[name] = _time_here(reader, ahead=name not in ("caught", "cut"))
        return True
    if one.shape == "number":
        number = _NUMBER.match(target.text)
        read = _value(reader, one, number.group(1).replace(",", ".") if number else target.text, target)
        in_unit = number is not None and number.group(2)
        if in_unit and number and number.group(2).lower() == "f":
            read = celsius_of(float(read))
        reader.fields[name] = read if in_unit else reader.measures.metric(name, read)
        reader.place += 1
        return True
    if name == "into":
        reader.new = target.lower == "new"
        target = reader.ahead(1) if reader.new else target
        reader.place += reader.new
        if target is None:
            raise Trouble("into which new containers? As: R3 split 1 each into new C2-C9", word)
        reader.fields[name] = tuple(reader.codes.get(code.casefold(), code) for code in reader.names_in(target))
    else:
        reader.fields[name] = _value(reader, one, _known_code(reader, target.text.rstrip(",")), target)
    reader.place += 1
    return True


def _read_place_after(reader: Reader, described: Described, word: Word) -> bool:
    """A container or an animal named after what happened: ``fed K2``, ``12 eggs in K4``, ``died W3``."""
    step = 1 if word.lower in PREPOSITIONS and not word.quoted else 0
    target = reader.ahead(step)
    if described.name == "set up" and "container" not in reader.fields and like_codes(word.text.rstrip(",")):
        names = reader.names_in(word)
        reader.targets = (*reader.targets, *((name, "") for name in names))
        if not like_codes(following.text.rstrip(",") if (following := reader.ahead(1)) else ""):
            reader.fields["container"] = reader.targets[0][0]
            reader.targets = reader.targets if len(reader.targets) > 1 else ()
        reader.place += 1
        return True
    codes, length = reader.codes_from(step)
    code, animal = codes[0] if codes else "", reader.animal_of(target)
    if described.field("container") is None or described.name == "set up" or not (code or animal):
        return False
    if animal and not code and (others := _animals_from(reader, step)) and len(others) > 1 and "container" not in reader.fields:
        reader.targets = tuple((reader.where_stands(one, target), one) for one in others)
        length = len(others)
    if described.name == "merged" and codes and "container" in reader.fields and "sources" not in reader.fields:
        reader.fields["sources"] = tuple(codes)
        reader.place += step + length
        return True
    if described.name == "founder" and not (step and code):
        return False  # her own code may be like that of a container
    if code and "container" not in reader.fields and "shelf" not in reader.fields:
        if described.name in ("moved", "split", "merged") and word.lower != "from":
            raise Trouble(f"out of {code}, or into it? As: {_as_moved_from(reader, described, code, target)}", target)
        reader.fields["container"] = code
        reader.targets = tuple((one, "") for one in codes) if len(codes) > 1 else ()
    elif code and code != reader.fields.get("container"):
        if described.name == "moved":
            raise Trouble(f"to {code}? As: {_with_word(reader, 'to', target)}", target)
        if not step and described.field("instar") is None and not reader.loose and not reader.flow:
            here = reader.fields.get("container") or reader.fields.get("shelf")
            raise Trouble(f"{here} or {code}? Say one, or both before what happened, as: {here} {code} misted", target)
        return False
    elif code:
        length = 1
    else:
        named = put_animal(reader, described, animal)
        if not named and "container" in reader.fields:
            return False
        if described.name != "stocked" and "container" not in reader.fields:
            reader.fields["container"] = reader.where_stands(animal, target)
    reader.flow = ""
    reader.place += step + max(1, length)
    return True


def _with_word(reader: Reader, wanting: str, before: Word | None) -> str:
    """The line as it was typed, with a word that it lacks."""
    return " ".join(f"{wanting} {word.text}" if word is before else word.text for word in reader.words)


def _as_moved_from(reader: Reader, described: Described, code: str, target: Word | None) -> str:
    """The line as it was typed, out of that container and into the other that it names, else into one that is there."""
    rest = [word for word in reader.words if word is not target and word.lower not in PREPOSITIONS | {"to", described.name}]
    others = [other for word in rest if (other := reader.code_of(word)) and other != code]
    to = next((one for one in (*others, *reader.codes.values()) if one != code), "K4")
    what = " ".join(word.text for word in rest if not reader.code_of(word))
    return f"{code} {described.name} {what or 4} to {to}"


def _animals_from(reader: Reader, step: int) -> list[str]:
    """The founders and broods named one after the other from that word on."""
    found: list[str] = []
    while animal := reader.animal_of(reader.ahead(step + len(found))):
        found.append(animal)
    return found


def _read_preposition(reader: Reader, described: Described, word: Word) -> bool:
    """A preposition ends a name, and says what follows it."""
    if word.quoted or word.lower not in PREPOSITIONS:
        return False
    following = reader.ahead(1)
    if following is None:
        if described.slots.is_name:
            raise Trouble(f"'{word.text}' what? Nothing follows it", word)
        return False
    if any(_choice_at(reader, described, one, 1) for one in described.fields if one.shape == "choice"):
        reader.place += 1
        return True
    if word.lower in ("on", "at") and _is_date(reader, 1):  # a date is no part of a name or place
        reader.place += 1
        reader.flow = ""
        return True
    name = described.slots.after.get(word.lower, "")
    if reader.flow and reader.flow not in NAMES_A_PREPOSITION_ENDS:
        return False  # free words may have prepositions of their own
    if reader.loose and not described.slots.is_name:
        return False
    if name and name not in reader.fields:
        reader.flow = name
        reader.place += 1
        if following.quoted:
            reader.as_written |= {name} if following.double else set()
        return True
    if described.slots.is_name and (reader.loose or reader.flow):
        raise Trouble(
            f"'{word.text}' ends the name, and '{described.name}' takes no '{word.text} {following.text}'; "
            "put the whole name in quotes, or say it after --",
            word,
        )
    return False


def _known_code(reader: Reader, text: str) -> str:
    parts = [reader.codes.get(part.casefold(), part) for part in text.split(",")]
    return ",".join(parts)


def _choice_at(reader: Reader, described: Described, one: FieldDescribed, steps: int) -> tuple[str, int] | None:
    short = {**SHORT, **described.slots.short}
    for length in (3, 2, 1):
        parts = [reader.ahead(steps + place) for place in range(length)]
        if any(part is None or part.quoted for part in parts):
            continue
        said = " ".join(part.lower for part in parts if part)
        for form in (said, short.get(said, said)):
            if form in one.choices:
                return form, length
    return None


def _read_choice(reader: Reader, described: Described, word: Word) -> bool:
    del word
    for one in described.fields:
        if one.shape != "choice" or one.name in reader.fields:
            continue
        found = _choice_at(reader, described, one, 0)
        if found:
            reader.fields[one.name] = found[0]
            reader.place += found[1]
            reader.flow = ""
            return True
    return False


def _read_flag(reader: Reader, described: Described, word: Word) -> bool:
    """A flag alone says yes: ``protected``, ``cannibalistic``; ``crippled`` says so of the one that emerged."""
    del word
    for length in (4, 3, 2, 1):
        said = reader.said(0, length)
        name = FLAGS.get(said, said.replace(" ", "_"))
        one = described.field(name) if said else None
        if one is not None and one.shape == "yes or no" and name not in reader.fields:
            reader.fields[name] = True
            reader.place += length
            reader.flow = ""
            return True
    if described.field("crippled") and reader.said(0, 1) == "crippled" and "crippled" not in reader.fields:
        if reader.fields.get("number", 1) != 1 and not reader.said(1, 1).isdecimal():
            many = " ".join(str(reader.fields[name]) for name in ("number", "sex") if name in reader.fields)
            raise Trouble(f"how many of them are crippled? As: emerged {many} 1 crippled", reader.word)
        number = reader.said(1, 1)
        reader.fields["crippled"] = int(number) if number.isdecimal() else 1
        reader.place += 1 + number.isdecimal()
        return True
    return False


def _read_end_of_shelf(reader: Reader, described: Described, word: Word) -> bool:
    """What ends the name of a shelf and says nothing of it is asked about."""
    if described.name != "shelf set up" or word.quoted or not reader.loose:
        return False
    if word.lower == "barrier":
        raise Trouble("which barrier? moat, sticky band, grease or closed lid", word)
    if word.lower in PREPOSITIONS:
        name = " ".join(one.text for one in (*reader.loose, *reader.words[reader.place :]))
        raise Trouble(f"'{word.text}' ends the name; in quotes it is part of it: shelf set up '{name}'", word)
    return False


def _read_time_word(reader: Reader, described: Described, word: Word) -> bool:
    following = reader.ahead(1)
    wanted = next(
        (one for one in described.fields if one.shape == "time" and one.required and one.name not in reader.fields),
        None,
    )
    weekday = following is not None and is_weekday(word.text) and (":" in following.text or _is_date(reader, 1))
    weekday = weekday or _is_date(reader, 0)
    if word.quoted or not (weekday or is_time_word(word.text) or (wanted and _SPAN.match(word.text))):
        return False
    if wanted and _SPAN.match(word.text):
        span = read_time(f"+{word.text}", now=reader.now, zone=reader.zone)
        if isinstance(span, datetime):
            reader.fields[wanted.name] = span
            reader.place += 1
            return True
    if wanted:
        reader.fields[wanted.name] = _time_here(reader, ahead=True)
    else:
        _read_when(reader)
    return True


def _is_date(reader: Reader, steps: int) -> bool:
    """Whether a day and a month stand there, as ``21 Jun``."""
    day, month = reader.ahead(steps), reader.ahead(steps + 1)
    if day is None or month is None or day.quoted or month.quoted:
        return False
    return day.text.isdecimal() and len(day.text) <= 2 and is_month(month.text)


def _time_here(reader: Reader, *, ahead: bool) -> datetime:
    word = reader.word
    assert word is not None
    reader.place += 1 if is_weekday(word.text) and _is_date(reader, 1) else 0  # 'Sat 10 Jul 07:00'
    length = 2 if _is_date(reader, 0) else 1
    text = " ".join(part.text for step in range(length) if (part := reader.ahead(step)))
    reader.place += length
    following = reader.word
    if following and re.match(r"^\d{1,2}:\d{2}$", following.text) and ":" not in text:
        text = f"{text} {following.text}"
        reader.place += 1
    found = read_time(text, now=reader.now, zone=reader.zone, ahead=ahead)
    if isinstance(found, Unclear):
        raise Trouble(found.message, word)
    return found


def _read_when(reader: Reader) -> None:
    word = reader.word
    if reader.at is not None:
        raise Trouble("two times were given; give one", word)
    if word is not None and _CLOCK.match(word.text):
        _no_day_before(reader, word)
    reader.at = _time_here(reader, ahead=False)


def _no_day_before(reader: Reader, clock: Word) -> None:
    """No day may have gone into a name before a clock time, which would then be yesterday's or today's."""
    words = reader.words[max(0, reader.place - 2) : reader.place]
    if not words or words[-1].quoted:
        return
    named = named_value(words[-1])
    last = named[1] if named else words[-1].text
    into_name = str(reader.fields.get(reader.flow, "")).endswith(last) if reader.flow else words[-1] in reader.loose
    both = [word.text.strip("@,.").casefold() for word in words]
    of_month = len(both) == 2 and (_is_of_month(*both) or _is_of_month(*reversed(both)))
    if into_name and last.strip("\"'") == last and (of_month or _DAY_LIKE.match(last)):
        day = " ".join(word.text for word in words) if of_month else last
        told = "may be a day; as: 20 May 18:30, or 2026-05-20 18:30; in quotes it is part of a name"
        raise Trouble(f"'{day}' before {clock.text} {told}", words[-1])


def _is_of_month(day: str, month: str) -> bool:
    """Whether two words are a day and a month, also in Roman numerals as on a label."""
    return day.isdecimal() and 1 <= int(day) <= 31 and (is_month(month) or month in _ROMAN_MONTHS)


def _read_low_and_high(reader: Reader, described: Described, word: Word) -> bool:
    """Lowest and highest, as ``15/24``, the way in which the round takes them, or ``15 to 24``; after ``temperature`` too."""
    fields = [described.field(name) for name in ("low_c", "high_c")]
    if word.quoted or not all(fields):
        return False
    step = 1 if word.lower in ("temperature", "temp") else 0
    low, to, high = (reader.ahead(step + further) for further in range(3))
    is_range = to is not None and high is not None and to.lower == "to" and not (to.quoted or high.quoted)
    texts = [one.text for one in (low, high if is_range else None) if one is not None]
    found = _LOW_AND_HIGH.match("/".join(texts))
    if not found:
        return False
    for one, text in zip(fields, found.groups(), strict=True):
        assert one is not None
        reader.fields[one.name] = reader.measures.metric(one.name, _value(reader, one, text.replace(",", "."), word))
    reader.place += step + (3 if is_range else 1)
    return True


def _read_of(reader: Reader, described: Described, word: Word) -> bool:
    """``2 of 3``: how many there are beside how many did; ``all``; ``each`` of several containers."""
    if word.quoted:
        return False
    of = reader.ahead(1)
    if word.lower == "of" and of and of.lower.isdecimal() and "number" in reader.fields and described.name in ("drank", "refused"):
        reader.of = int(of.lower)
        reader.place += 2
        return True
    if word.lower == "each":
        reader.each = True
        reader.place += 1
        return True
    number = described.field("number")
    if word.lower == ALL and number and number.shape == "count" and "number" not in reader.fields and not reader.flow:
        reader.fields["number"] = ALL
        reader.place += 1
        return True
    return False


def _read_by_its_name(reader: Reader, described: Described, word: Word) -> bool:
    """A field's own name before its value, as ``wear fresh``, ``volume 350 ml``: it ends the name or place before it."""
    one = described.field(word.lower.replace("-", "_")) or _field_like(described, word.lower)
    value = reader.ahead(1)
    if word.quoted or one is None or one.name in reader.fields or value is None or value.quoted:
        return False
    if one.shape == "choice" and one.name in SAID_BY_NAME and not _choice_at(reader, described, one, 1):
        _value(reader, one, value.text, value)  # it is refused with what it can be
    if one.shape == "choice" and (found := _choice_at(reader, described, one, 1)):
        reader.fields[one.name] = found[0]
        reader.place += 1 + found[1]
        reader.flow = ""
        return True
    figure = _NUMBER.match(value.text.rstrip(","))
    if one.shape not in ("number", "count") or figure is None or one.name == _next_number(reader, described):
        return False
    reader.place += 2
    unit, after = figure.group(2).lower(), reader.word
    if not unit and after and one.name in UNITS.get(after.lower, ((), 1.0))[0]:
        unit = after.lower
        reader.place += 1
    if unit and one.name not in UNITS.get(unit, ((), 1.0))[0]:
        raise Trouble(f"'{value.text}': {word.lower} takes no number in {unit}", value)
    read = _value(reader, one, figure.group(1).replace(",", "."), value, UNITS[unit][1] if unit else 1.0)
    reader.fields[one.name] = read if unit else reader.measures.metric(one.name, read)
    reader.flow = ""
    return True


def _read_number(reader: Reader, described: Described, word: Word) -> bool:
    instar = _INSTAR.match(word.text)
    if instar and described.field("instar") and "instar" not in reader.fields:
        reader.fields["instar"] = int(instar.group(1))
        stage = described.field("stage")
        if stage and "stage" not in reader.fields:
            reader.fields["stage"] = "larva"
        reader.place += 1
        return True
    several = described.field("numbers")
    if several and "numbers" not in reader.fields and re.match(r"^\d+(,\d+)*$", word.text):
        reader.fields["numbers"] = _value(reader, several, word.text, word)
        reader.place += 1
        return True
    text = word.text.rstrip(",")
    if _next_number(reader, described) in ("number", "found") and not word.quoted and not reader.flow:
        text = NUMBER_WORDS.get(word.lower, text)
        text = "0" if word.lower in NONE_FOUND and described.name in ("searched", "counted") else text
    found = _NUMBER.match(text)
    if not found or word.quoted:
        return False
    number, unit = found.group(1), found.group(2).lower()
    if reader.flow and not unit and not _unit_follows(reader, described):
        return _number_in_words(reader, described, word)
    reader.place += 1
    following = reader.word
    if not unit and following and following.lower == "fl" and (ounces := reader.ahead(1)) and ounces.lower == "oz":
        reader.place += 1
        following = ounces
    leads = following is not None and following.lower in described.slots.leading and _NUMBER.match(_text(reader.ahead(1)))
    inches_no = following and following.lower == "in" and reader.code_of(reader.ahead(1))  # 'low 4 in K2'
    if (
        not unit
        and following
        and following.lower in UNITS
        and _unit_field(reader, described, following.lower)
        and not inches_no
        and not leads
    ):
        unit = following.lower
        reader.place += 1
    if unit == "f" and described.field("temperature_c"):
        reader.fields["temperature_c"] = celsius_of(float(number.replace(",", ".")))
        return True
    name = _unit_field(reader, described, unit) if unit else _next_number(reader, described)
    if name is None:
        if unit:
            raise Trouble(f"'{word.text}': '{described.name}' takes no number in {unit}", word)
        if following and begins_at(reader, following):
            _one_a_line(reader, word)
        raise Trouble(f"'{described.name}' takes no more numbers; {word.text} does not fit", word)
    one = described.field(name)
    assert one is not None
    factor = UNITS[unit][1] if unit else 1.0
    read = _value(reader, one, number.replace(",", "."), word, factor)
    reader.fields[name] = read if unit else reader.measures.metric(name, read)
    return True


def _one_a_line(reader: Reader, word: Word) -> None:
    """Say how two things in one line are said: ``6 hatched, 1 dead``."""
    code = str(reader.fields.get("container", ""))
    typed = [one for one in sorted(reader.words, key=lambda one: one.at) if one.text.rstrip(STOPS) != code]
    first = " ".join(one.text for one in typed if one.at < word.at).rstrip(STOPS)
    then = " ".join(one.text for one in typed if one.at >= word.at)
    raise Trouble(f"one thing a line: {code} {first}; then {code} {then}", word)


def _text(word: Word | None) -> str:
    return word.text if word and not word.quoted else ""


def _unit_follows(reader: Reader, described: Described) -> bool:
    following = reader.ahead(1)
    return following is not None and bool(_unit_field(reader, described, following.lower))


def _number_in_words(reader: Reader, described: Described, word: Word) -> bool:
    """A number after a place or source belongs to those words, once the number that the kind wants was said."""
    name = _next_number(reader, described)
    if name:
        raise Trouble(f"is {word.text} the {name.replace('_', ' ')}, or does it belong to the words before it? Say it first", word)
    return False


def _unit_field(reader: Reader, described: Described, unit: str) -> str | None:
    names = UNITS.get(unit, ((), 1.0))[0]
    return next((name for name in names if described.field(name) and name not in reader.fields), None)


def _next_number(reader: Reader, described: Described) -> str | None:
    return next((name for name in described.slots.numbers if name not in reader.fields), None)


def _read_part(reader: Reader, described: Described, word: Word) -> bool:
    if described.field("part") is None or word.lower not in PARTS or "part" in reader.fields or word.quoted:
        return False
    following = reader.loose
    if not following and "plant" not in reader.fields:
        return False
    tender = following and following[-1].lower == "tender"
    if tender:
        reader.loose.pop()
    reader.fields["part"] = f"tender {word.lower}" if tender else word.lower
    reader.place += 1
    return True


def _read_batch(reader: Reader, described: Described, word: Word) -> bool:
    """A batch letter said bare, as ``host out A`` and ``host in violet B``: a capital, or one that is there."""
    if described.field("batch") is None or "batch" in reader.fields or word.quoted or not _BATCH.match(word.text):
        return False
    container = reader.bench.at(str(reader.fields.get("container", "")))
    there = {host.batch for host in container.hosts} | {held.batch for held in container.held} if container else set()
    letter = word.text.upper()
    following = reader.ahead(1)
    article = word.text.islower() and following is not None and not (named_value(following) or following.lower in PREPOSITIONS)
    if article or (letter not in there and (len(letter) > 1 or word.text.islower())):
        return False
    if described.name == "host in" and not reader.loose:
        return False
    reader.fields["batch"] = letter
    reader.place += 1
    return True


def _read_shelf(reader: Reader, described: Described, word: Word) -> bool:
    """A shelf that is known, by its name alone: ``set up laying sill``."""
    if described.name not in ("set up", "changed") or "shelf" in reader.fields or reader.flow:
        return False
    length = next((length for length in (3, 2, 1) if reader.said(0, length) in reader.shelves), 0)
    if not length or word.quoted:
        return False
    reader.fields["shelf"] = reader.shelves[reader.said(0, length)]
    reader.place += length
    return True


def _read_code(reader: Reader, described: Described, word: Word) -> bool:
    if described.name == "photo" and "file" not in reader.fields and not reader.loose:
        return False  # the name of a picture may look like a brood's code
    like_a_brood = re.match(r"^[\w.+]+-[\w.+-]+(/\w+)?$", word.text) and any(sign.isdigit() for sign in word.text)
    if described.field("brood") and "brood" not in reader.fields and like_a_brood and not word.quoted and not reader.flow:
        reader.fields["brood"] = word.text.rstrip(",")
        reader.place += 1
        return True
    if word.lower in described.slots.idle and not word.quoted and not reader.flow:
        reader.place += 1
        return True
    joins = word.lower in JOINING and word.text != "A" and not word.quoted and reader.ahead(1) is not None
    if joins and not reader.loose and not reader.flow and described.name not in ("taxon", "shelf set up"):
        reader.place += 1
        return True
    return False


def _place_loose(reader: Reader, described: Described) -> None:
    if not reader.loose:
        return
    if reader.fields.get("plant") == PLANT_THERE:  # 'new leaf Lotus': it is named
        del reader.fields["plant"]
    open_fields = [name for name in described.slots.words if name not in reader.fields]
    written = [word for word in reader.loose if word.double]
    if not open_fields:
        word = reader.loose[0]
        if described.name in ("counted", "changed") and word.lower in ("female", "females", "male", "males"):
            here, number = reader.fields.get("container", "P4"), reader.fields.get("number", 1)
            raise Trouble(f"to say the sex of those that are there: {here} sexed {number} {word.text}", word, ("sexed",))
        if described.name == "moved" and like_codes(word.text):
            raise Trouble(f"no container is called {word.text}; there are {some_of(sorted(reader.codes.values()))}", word)
        near = tuple(get_close_matches(word.lower, _all_choices(described), n=3, cutoff=0.5))
        here = reader.fields.get("container", "K4")
        if described.name == "drank":
            raise Trouble(f"did she drink, or was it only offered? As: {here} drank; or {here} offered {word.text}", word)
        if begins_at(reader, word):
            raise Trouble(f"'{word.text}' is another thing that happened: one thing a line", word)
        takes = ", ".join(_short(described, one.name) for one in described.fields if one.name != "container")
        raise Trouble(f"'{word.text}' does not fit '{described.name}'; it takes {takes or 'nothing more'}", word, near)
    _ends_with_its_quotes(reader.loose)
    if described.name == "founder" and "code" in open_fields:
        code_is_there(reader, reader.loose)
    if written:
        reader.as_written.add(open_fields[min(1, len(open_fields) - 1)])
    if len(open_fields) == 1:
        reader.fields[open_fields[0]] = " ".join(word.text for word in reader.loose).strip().rstrip(",")
        return
    reader.fields[open_fields[0]] = reader.loose[0].text.rstrip(",")
    rest = " ".join(word.text for word in reader.loose[1:]).strip()
    if rest:
        reader.fields[open_fields[1]] = rest


def _ends_with_its_quotes(loose: list[Word]) -> None:
    """A name in quotes is whole: a word behind it is no part of it.

    Raises:
        Trouble: which word stands behind one.
    """
    for name, behind in pairwise(loose):
        if name.quoted and not behind.quoted:
            raise Trouble(
                f"'{behind.text}' stands behind a name in quotes and is no part of it; put it into the quotes, or say it after --",
                behind,
            )


def _all_choices(described: Described) -> list[str]:
    return [choice for one in described.fields for choice in one.choices] + list(PARTS)


def _put_after(reader: Reader, described: Described, after: str) -> str:
    """Put what stands after ' -- ' where the kind has words for it; else it is a note, which is returned."""
    if not after:
        return ""
    of_no_container = () if described.field("container") else AFTER_DASHES_OF_NO_CONTAINER
    for name in (*AFTER_DASHES, *of_no_container):
        one = described.field(name)
        if one and one.shape == "words" and name not in reader.fields:
            reader.fields[name] = after
            return ""
    return after


def _wanting(reader: Reader, described: Described, end: int) -> None:
    if reader.better:
        return
    among = reader.fields.get("among")
    if among and "container" not in reader.fields and among[0].casefold() in reader.animals:
        reader.fields["container"] = reader.where_stands(reader.animals[among[0].casefold()])
    if described.name == "emerged" and "crippled" in reader.fields:
        reader.fields.setdefault("number", reader.fields["crippled"])
    for one in described.fields:
        if not one.required or reader.fields.get(one.name, "") != "":
            continue
        if one.name == "container":
            example = next(iter(reader.codes.values()), "L2")
            raise Trouble(f"say which container first, as: {example} {described.name}", Word("", end))
        if one.name == "found" and (reader.fields.get("unsure") or any(":" in lot for lot in reader.fields.get("lots", ()))):
            reader.fields["found"] = 0
            continue
        if one.name == "found" and reader.fields.get("confirmed"):
            continue  # all of them: the bench knows how many
        if one.name == "number" and described.name not in ("counted", "permit"):
            reader.fields["number"] = _one_or_asked(reader, described)
            continue
        hint = f": {', '.join(one.choices)}" if one.choices else (f" ({one.help})" if one.help else "")
        raise Trouble(f"'{described.name}' needs {one.name.replace('_', ' ')}{hint}", Word("", end), one.choices)


def _one_or_asked(reader: Reader, described: Described) -> int:
    """One, where no number was said; where several are meant, or most often are, how many is asked."""
    several = next((word for word in reader.words if word.lower in PLURALS and not word.quoted), None)
    if several is None and described.name not in SEVERAL_USUALLY:
        return 1
    code = str(reader.fields.get("container", ""))
    container = reader.bench.at(code)
    stage = KIND_BY_NAME[described.name].grows_from or reader.fields.get("stage")
    there = container.count(stage, str(reader.fields.get("brood", "")), reader.fields.get("sex")) if container else 0
    if there == 1:
        return 1
    if container is None and several is None:
        return 1
    name = several.lower if several else PLURAL_OF.get(stage or "", "")
    said = " ".join(part for part in (code, described.name) if part)
    to = f" to {reader.fields['to']}" if reader.fields.get("to") else ""
    to = f" to L{reader.fields['instar']}" if described.name == "moulted" and reader.fields.get("instar") else to
    if described.name == "stocked":
        raise Trouble(f"how many {name}? As: {said} 20 {name}", several)
    holds = f"{code} holds {there or 'none'}" if code else "it is not said of which container"
    raise Trouble(f"how many{f' {name}' if name else ''}? {holds}. As: {said} 2{to}; {said} all{to}", several)


def _value(reader: Reader, one: FieldDescribed, text: str, word: Word, factor: float = 1.0) -> Any:
    match one.shape:
        case "count" | "number":
            return _as_number(one, text, word, factor)
        case "choice":
            said = text.casefold()
            as_written = {choice.casefold(): choice for choice in one.choices}
            said = as_written.get(said) or {**SHORT, **reader.slots.short}.get(said, said)
            if said not in one.choices and (said or one.required):
                near = tuple(get_close_matches(said, one.choices, n=3, cutoff=0.4))
                raise Trouble(f"{one.name} is '{text}'; it can be {', '.join(one.choices)}", word, near)
            return said
        case "time":
            found = read_time(text, now=reader.now, zone=reader.zone, ahead=one.required)
            if isinstance(found, Unclear):
                raise Trouble(f"{one.name}: {found.message}", word)
            return found
        case "yes or no":
            if text.casefold() not in ("yes", "no", "true", "false", "on"):
                raise Trouble(f"{one.name} is '{text}'; it can be yes or no", word)
            return text.casefold() in ("yes", "true", "on")
        case "codes" if one.name in ("into", "sources"):
            return tuple(reader.codes.get(name.casefold(), name) for name in names_of(text, reader.codes))
        case "codes":
            return tuple(part.strip() for part in text.split(",") if part.strip())
        case "numbers":
            return tuple(int(_as_number(one, part, word, 1.0)) for part in text.split(",") if part.strip())
        case _:
            return text


def _as_number(one: FieldDescribed, text: str, word: Word, factor: float) -> float:
    try:
        value = float(text)
    except ValueError:
        said = f"is '{text}'" if text else "is still empty"
        raise Trouble(f"{one.name.replace('_', ' ')} {said}; it must be a number", word) from None
    if value != value or abs(value) > 1e12:
        raise Trouble(f"{one.name.replace('_', ' ')} is {text}; it must be a number of ordinary size", word)
    if value < 0 and not one.name.endswith(("_c", "itude")):
        raise Trouble(f"{one.name.replace('_', ' ')} is {text}; it cannot be below zero", word)
    value *= factor
    if one.shape == "count" or one.shape == "numbers":
        if value != int(value):
            raise Trouble(f"{one.name.replace('_', ' ')} is {text}; it must be a whole number", word)
        return int(value)
    return value
