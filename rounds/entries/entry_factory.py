"""Building an entry from what was typed, with one plain line where a value does not fit."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import datetime, timedelta, timezone
from functools import cache
from typing import Any

import msgspec

from rounds import late
from rounds.bench.instants import impossible, is_possible, wrong_instant
from rounds.bench.measures import meant_in_f
from rounds.entries.base import Entry
from rounds.entries.check_labels import called
from rounds.entries.schema import OWN, typed_name

_TROUBLE = late.pattern(r"^(?P<wanted>.*?)(?: - at `\$\.(?P<field>\w+)(?P<rest>[^`]*)`)?$")
_PLAIN = (
    (late.pattern(r"Expected `int` >= (\S+)"), r"a whole number of at least \1"),
    (late.pattern(r"Expected `int` <= (\S+)"), r"a whole number of at most \1"),
    (late.pattern(r"Expected `float` >= (\S+)"), r"at least \1"),
    (late.pattern(r"Expected `float` <= (\S+)"), r"at most \1"),
    (late.pattern(r"Expected `float` > (\S+)"), r"more than \1"),
    (late.pattern(r"Expected `str` of length >= \S+"), "some text"),
    (late.pattern(r"Expected `str` of length <= (\S+)"), r"at most \1 characters long"),
    (late.pattern(r"Expected `array` of length >= \S+"), "at least one"),
    (late.pattern(r"Expected `int(?: \| null)?`, got .*"), "a whole number"),
    (late.pattern(r"Expected `float(?: \| null)?`, got .*"), "a number"),
    (late.pattern(r"Expected `(?:str|object)(?: \| null)?`, got .*"), "text"),
    (late.pattern(r"Expected `datetime(?: \| null)?`, got .*"), "a time"),
    (late.pattern(r"Expected `bool(?: \| null)?`, got .*"), "yes or no"),
)


_UNITS = {"_c": "C", "_percent": "%", "_mm": "mm", "_ml": "ml", "_hours": "h", "_h": "h", "_m": "m"}


LONGEST_SAID = 40  # letters of a value that a refusal says again


class InvalidField(ValueError):
    """A value that does not fit its field; the text is one line."""


@cache
def encoded_names(kind: type[Entry]) -> dict[str, str]:
    """What each field of a kind is called in the daybook."""
    return dict(zip(kind.__struct_fields__, kind.__struct_encode_fields__, strict=True))


def build(
    kind: type[Entry],
    fields: Mapping[str, Any],
    *,
    entry_id: str,
    at: datetime,
    logged: datetime,
    by: str,
    round_id: str = "",
) -> Entry:
    """An entry of that kind.

    Raises:
        InvalidField: an unknown or missing field, or a value out of its range.
    """
    if not is_possible(at):
        raise InvalidField(impossible(at))
    known = encoded_names(kind)
    for name in fields:
        if name not in known or name == "says":
            raise InvalidField(
                f"'{kind_name(kind)}' has no {name}; it takes {', '.join(_said_fields(kind))}"
            )
    values = {known[name]: _plain(value) for name, value in fields.items() if value is not None}
    values |= {
        "id": entry_id,
        "at": fixed(at),
        "logged": fixed(logged),
        "by": by,
        "round": round_id,
        "part_of": "",
        "cups": (),
        "says": tuple((name, "") for name, value in fields.items() if value is not None),
    }
    encoded = {*known.values()}
    values = {name: value for name, value in values.items() if name in encoded}
    try:
        entry = msgspec.convert(values | {"what": kind_name(kind)}, kind)
    except msgspec.ValidationError as trouble:
        raise InvalidField(in_plain_words(kind, values, str(trouble))) from None
    wrong = wrong_instant(entry)
    if wrong:
        raise InvalidField(wrong)
    return entry


def fixed(at: datetime) -> datetime:
    """The same instant with its offset alone, so that a difference of two is of instants, not of
    clock faces."""
    return at.astimezone(timezone(at.utcoffset() or timedelta(0)))


def kind_name(kind: type[Entry]) -> str:
    """The kind's name, as it stands in the daybook."""
    return str(kind.__struct_config__.tag)


def _said_fields(kind: type[Entry]) -> list[str]:
    return [
        typed_name(field_info.name)
        for field_info in msgspec.structs.fields(kind)
        if field_info.name not in OWN
    ]


def _plain(value: Any) -> Any:
    if isinstance(value, list):
        return tuple(value)
    return value.strip() if isinstance(value, str) else value


def in_plain_words(kind: type[Entry], values: Mapping[str, Any], trouble: str) -> str:
    """What is wrong with a value of an entry and what would be right, from the words of the
    reader."""
    missing = re.match(r"Object missing required field `(\w+)`", trouble)
    if missing:
        return (
            f"'{kind_name(kind)}' needs {missing.group(1)}; it takes"
            f" {', '.join(_said_fields(kind))}"
        )
    match = _TROUBLE.match(trouble)
    wanted, field = (match.group("wanted"), match.group("field") or "") if match else (trouble, "")
    value = values.get(field)
    if wanted.startswith("Invalid enum value"):
        return f"{field} is '{value}'; it can be {', '.join(map(called, _choices(kind, field)))}"
    name, unit = _name_and_unit(field)
    text = f"{value:g}{unit}" if isinstance(value, int | float) else f"'{value}'"
    if isinstance(value, str) and len(value) > LONGEST_SAID:
        text = f"{len(value):,} characters long, '{value[:LONGEST_SAID]}…'"
    for pattern, plain in _PLAIN:
        if pattern.search(wanted):
            meant = meant_in_f(value) if unit == " C" and isinstance(value, int | float) else ""
            return (
                f"{name} is {text}; it must be"
                f" {pattern.sub(plain, wanted).removesuffix('.0')}{unit}{meant}"
            )
    return f"{name} is {text}; {wanted[:1].lower()}{wanted[1:]}"


def _name_and_unit(field: str) -> tuple[str, str]:
    for ending, unit in _UNITS.items():
        if field.endswith(ending):
            return field.removesuffix(ending).replace("_", " "), f" {unit}"
    return field.replace("_", " "), ""


def _choices(kind: type[Entry], field: str) -> list[str]:
    info = next(one for one in msgspec.inspect.type_info(kind).fields if one.name == field)  # type: ignore[attr-defined]
    texts: list[str] = []
    waiting: list[Any] = [info.type]
    while waiting:
        one = waiting.pop()
        if isinstance(one, msgspec.inspect.LiteralType):
            texts.extend(str(value) for value in one.values if value)
        elif isinstance(one, msgspec.inspect.UnionType):
            waiting.extend(one.types)
        elif isinstance(one, msgspec.inspect.Metadata):
            waiting.append(one.type)
    return texts
