"""Values of fields as they are typed: choices with their short forms, numbers, codes."""

from __future__ import annotations

import re
from datetime import datetime
from typing import Any

from rounds import late
from rounds.bench.codes import names_of
from rounds.entries.check_labels import called
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.times import UnclearTime, read_time
from rounds.entries.phrase.tokens import Word
from rounds.entries.phrase.vocabulary import SHORT
from rounds.entries.plant_parts import PARTS
from rounds.entries.schema import FieldSchema, KindSchema, typed_name

NUMBER = late.pattern(r"^([-+]?\d+(?:[.,]\d+)?)\u00b0?([a-z%]*)$", re.IGNORECASE)
LIKE_A_CODE = late.pattern(r"^(?!L\d{1,2}$)(?=.*\d)(?=.*[^\W\d])[\w.+/-]+$")
SPAN = late.pattern(r"^\d+(?:h|d|m|min)$")
CLOCK = late.pattern(r"^\d{1,2}:\d{2}$")
PLURALS = frozenset({"eggs", "larvae", "caterpillars", "pupae", "adults", "females", "males"})
NOBODY_KNOWS = frozenset({"not known", "?"})  # of a field that has a word for it
NAMES_A_PREPOSITION_ENDS = ("taxon", "plant", "name", "collector", "found_on")


def longer_choice(reader: Reader, described: KindSchema, field: FieldSchema, value: str) -> str:
    """A named choice of several words, as ``cause=old age``: the words after it that belong to it
    are read with it."""
    short = {**SHORT, **described.slots.short}
    for length in (2, 1, 0):
        text = " ".join(
            [
                value.casefold(),
                *(part.lower for step in range(length) if (part := reader.ahead(step))),
            ]
        )
        plain = "unknown" if text in NOBODY_KNOWS else short.get(text, text)
        for form in (text, plain):
            if form in field.choices:
                reader.place += length
                return form
    return value


_SHORTENED = {"lat": "latitude", "lon": "longitude", "long": "longitude"}


def field_like(described: KindSchema, name: str) -> FieldSchema | None:
    name = _SHORTENED.get(name, name)
    fits = [
        field
        for field in described.fields
        if field.name.rsplit("_", 1)[0] == name and field.shape in ("number", "count")
    ]
    return fits[0] if len(fits) == 1 else None


def short_name(described: KindSchema, name: str) -> str:
    """A field's name as it may be typed: without its unit, where that is enough."""
    short = name.rsplit("_", 1)[0]
    return short if "_" in name and field_like(described, short) else typed_name(name)


def known_code(reader: Reader, text: str) -> str:
    parts = [reader.codes.get(part.casefold(), part) for part in text.split(",")]
    return ",".join(parts)


def choice_at(
    reader: Reader, described: KindSchema, field: FieldSchema, steps: int
) -> tuple[str, int] | None:
    short = {**SHORT, **described.slots.short}
    for length in (3, 2, 1):
        parts = [reader.ahead(steps + position) for position in range(length)]
        if any(part is None or part.quoted for part in parts):
            continue
        text = " ".join(part.lower for part in parts if part)
        for form in (text, short.get(text, text)):
            if form in field.choices:
                return form, length
    return None


def text_of(word: Word | None) -> str:
    return word.text if word and not word.quoted else ""


def all_choices(described: KindSchema) -> list[str]:
    parts = PARTS if described.field("part") else ()
    return [*(choice for field in described.fields for choice in field.choices), *parts]


def read_from_line(reader: Reader, field: FieldSchema, text: str) -> datetime | UnclearTime:
    """A time of a field: a span from the line's own time, one to come the first after it, any other
    one as it is from now."""
    if not field.ahead and not text.startswith("+"):
        return read_time(text, now=reader.now, zone=reader.zone)
    result = _since_line(reader, field.ahead, text)
    if isinstance(result, datetime):
        reader.from_line[field.name] = field.ahead, text, result
    return result


def times_from_line(reader: Reader) -> None:
    """Read the times that count from the line's own again, now that this is known wherever in the
    line it stands."""
    read = {
        name: (ahead, text)
        for name, (ahead, text, first) in reader.from_line.items()
        if reader.at is not None and reader.fields.get(name) == first
    }
    for name in read:
        del reader.fields[name]
    for name, (ahead, text) in read.items():
        result = _since_line(reader, ahead, text)
        if isinstance(result, UnclearTime):
            raise PhraseProblem(f"{name}: {result.message}")
        reader.fields[name] = result


def _since_line(reader: Reader, ahead: bool, text: str) -> datetime | UnclearTime:
    """The last of what is coming comes after its first: 'Tuesday until Friday' on a Friday."""
    since = reader.at or reader.now
    if text[:1] not in ("+", "-"):
        said = (value for value in reader.fields.values() if isinstance(value, datetime))
        since = max([since, *said])
    return read_time(text, now=since, zone=reader.zone, ahead=ahead)


def value_of(reader: Reader, field: FieldSchema, text: str, word: Word, factor: float = 1.0) -> Any:
    match field.shape:
        case "count" | "number":
            return _as_number(field, text, word, factor)
        case "choice":
            said = text.casefold()
            as_written = {choice.casefold(): choice for choice in field.choices}
            said = as_written.get(said) or {**SHORT, **reader.slots.short}.get(said, said)
            if said not in field.choices and (said or field.required):
                near = late.nearest(said, [*map(called, field.choices)], 3, 0.4)
                raise PhraseProblem(
                    f"{field.name} is '{text}'; it can be {', '.join(map(called, field.choices))}",
                    word,
                    near,
                )
            return said
        case "time":
            result = read_from_line(reader, field, text)
            if isinstance(result, UnclearTime):
                raise PhraseProblem(f"{field.name}: {result.message}", word)
            return result
        case "yes or no":
            if text.casefold() not in ("yes", "no", "true", "false", "on"):
                raise PhraseProblem(f"{field.name} is '{text}'; it can be yes or no", word)
            return text.casefold() in ("yes", "true", "on")
        case "codes" if field.name in ("into", "sources"):
            return tuple(
                reader.codes.get(name.casefold(), name) for name in names_of(text, reader.codes)
            )
        case "codes":
            return tuple(part.strip() for part in text.split(",") if part.strip())
        case "numbers":
            return tuple(
                int(_as_number(field, part, word, 1.0)) for part in text.split(",") if part.strip()
            )
        case _:
            return text


def _as_number(field: FieldSchema, text: str, word: Word, factor: float) -> float:
    try:
        value = float(text)
    except ValueError:
        said = f"is '{text}'" if text else "is still empty"
        raise PhraseProblem(
            f"{field.name.replace('_', ' ')} {said}; it must be a number", word
        ) from None
    if value != value or abs(value) > 1e12:
        raise PhraseProblem(
            f"{field.name.replace('_', ' ')} is {text}; it must be a number of ordinary size", word
        )
    if value < 0 and not field.name.endswith(("_c", "itude")):
        raise PhraseProblem(
            f"{field.name.replace('_', ' ')} is {text}; it cannot be below zero", word
        )
    value *= factor
    if field.shape == "count" or field.shape == "numbers":
        if value != int(value):
            hour, _, minute = text.partition(".")
            is_hour = hour.isdecimal() and len(minute) == 2 and int(hour) < 24 and int(minute) < 60
            as_time = f"; as a time: {hour}:{minute}" if is_hour else ""
            raise PhraseProblem(
                f"{field.name.replace('_', ' ')} is {text}; it must be a whole number{as_time}",
                word,
            )
        return int(value)
    return value
