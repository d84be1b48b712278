"""Every entry told in one line, and the words that several kinds share."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from contextlib import suppress
from datetime import date, datetime
from typing import Any

from rounds import late
from rounds.bench.codes import one_of
from rounds.bench.dates import dated
from rounds.bench.measures import METRIC, Measures
from rounds.bench.permits import ends_at_midnight
from rounds.bench.plurals import count, of_stage
from rounds.entries.base import Entry
from rounds.entries.check_labels import called
from rounds.entries.schema import FieldSchema, describe, typed_name
from rounds.entries.slots import each

_NAMED_BY_DAY = late.pattern(r"\b(\d\d)-(\d\d)(?= \d\d:\d\d)")  # in a kept lot's name
LEAP_YEAR = 2000  # has every day that a name can say
MAX_STRIKES = 99  # of one line, one after another; a damaged book could name them in a ring


def saying(entry: Entry, measures: Measures = METRIC) -> str:
    """One line that tells an entry, as it stands in lists: the place, what happened, the rest."""
    text = entry.wording(measures) or _plain_telling(entry, measures)
    return f"{entry.whereabouts} {text}".strip()


def by_field(
    entry: Entry,
    measures: Measures = METRIC,
    *,
    new: Collection[str] = (),
    said: Collection[str] = (),
) -> str:
    """What an entry says with every field by its name, but for the place.

    ``new`` are the fields to be marked as such, ``said`` those that are told though they are as
    usual.
    """
    texts = []
    for field in describe(type(entry)).fields:
        value = getattr(entry, field.name)
        told = field.required or field.name in said or field.name in entry.always_told
        as_usual = value == field.default and not told
        if (
            field.name == "container"
            or (field.name == "shelf" and not getattr(entry, "container", ""))
            or as_usual
            or value in ("", None, ())
        ):
            continue
        if field.name == "cut" and value == entry.at:
            continue
        texts.append(
            f"{_named_words(field, value, measures, entry.at)}{' NEW' if field.name in new else ''}"
        )
    return f"{called(entry.what)}{': ' if texts else ''}{', '.join(texts)}"


def _label(name: str) -> str:
    return typed_name(name).replace("_", " ")


def _named_words(field: FieldSchema, value: Any, measures: Measures, said: datetime) -> str:
    name = _label(field.name)
    if isinstance(value, bool):
        return f"{name} {'yes' if value else 'no'}"
    if isinstance(value, datetime | tuple) or (
        isinstance(value, int | float) and field.name not in _BARE
    ):
        return _value_words(field, value, measures, said)
    return f"{name} {called(value) if field.choices else value}"


def saying_among(entry: Entry, known: Mapping[str, Entry], measures: Measures = METRIC) -> str:
    """The line that tells an entry; a strike tells what it struck, or brought back, where that is
    known by its id."""
    line, strikes = entry, 0
    while line.crosses_out in known and strikes < MAX_STRIKES:
        line, strikes = known[line.crosses_out], strikes + 1
    if not strikes:
        return saying(entry, measures)
    why = getattr(entry, "why", "")
    why = f" ({why})" if why else ""
    if strikes % 2 == 0:
        return f"brought back: {saying(line, measures)}{why}"
    return f"crossed out: {saying(line, measures)}{why}"


def _plain_telling(entry: Entry, measures: Measures) -> str:
    parts = [entry.what]
    said = {name for name, _ in getattr(entry, "says", ())}
    for field in describe(type(entry)).fields:
        value = getattr(entry, field.name)
        as_usual = value == field.default and value not in ("", None, ())
        if field.name in said and as_usual:  # 'hairs=no' changes what was held true
            parts.append(_named_words(field, value, measures, entry.at))
            continue
        if (
            field.name in ("container", "shelf")
            or value == field.default
            or value in ("", None, (), False)
        ):
            continue
        parts.append(_value_words(field, value, measures, entry.at))
    return f"{parts[0]} {', '.join(parts[1:])}".strip()


_BARE = each("number brood stage cause food sign level state why text place code")


_UNITS = {"_percent": "%", "_h": "h", "_hours": "h", "_m": "m"}


_MEASURES = {
    "_mm": Measures.depth,
    "_ml": Measures.bulk,
    "_c": Measures.warmth,
    "_dd": Measures.heat,
}


def _value_words(field: FieldSchema, value: Any, measures: Measures, said: datetime) -> str:
    if isinstance(value, datetime):
        text = dated(value, said)
        if field.name == "expires" and ends_at_midnight(value):
            text = text.removesuffix(f" {value:%H:%M}")  # a day was said, and it lasts to its end
        return f"{_label(field.name)} {text}"
    if value is True:
        return _label(field.name)
    if isinstance(value, tuple):
        return f"{field.name} {' '.join(str(part) for part in value)}"
    if isinstance(value, int | float) and not isinstance(value, bool):
        return _number_words(field.name, value, measures)
    if field.choices:
        return called(str(value))
    return str(value) if field.name in _BARE else f"{_label(field.name)} {value}"


def _number_words(name: str, value: float, measures: Measures) -> str:
    for ending, measured in _MEASURES.items():
        if name.endswith(ending):
            return f"{_label(name.removesuffix(ending))} {measured(measures, value)}"
    for ending, unit in _UNITS.items():
        if name.endswith(ending):
            return f"{_label(typed_name(name).removesuffix(ending))} {value:g} {unit}"
    if name == "minutes":
        return f"{value:g} min"
    return f"{value:.9g}" if name in _BARE else f"{_label(name)} {value:.9g}"


def comma_joined(*parts: object) -> str:
    return ", ".join(str(part) for part in parts if part not in ("", None))


def animals(
    number: int, stage: str | None, brood: str, instar: int | None = None, sex: str = ""
) -> str:
    """So many of a stage and brood: ``34 eggs of SHI-26-01/A``, ``3 larvae L2``, ``2 females``."""
    text = of_stage(number, stage) if stage else str(number)
    text = count(number, sex) if sex and stage == "adult" else text
    return " ".join(
        part
        for part in (text, f"L{instar}" if instar else "", f"of {brood}" if brood else "")
        if part
    )


def lots_words(names: tuple[str, ...]) -> str:
    shown = ", ".join(_NAMED_BY_DAY.sub(_day_of_name, name) for name in names)
    return f"{'lot' if len(names) == 1 else 'lots'} {shown}" if names else ""


def _day_of_name(match: re.Match[str]) -> str:
    """The day in a lot's name as everywhere: ``18 Nov`` for ``11-18``."""
    with suppress(ValueError):
        day = date(LEAP_YEAR, int(match[1]), int(match[2]))
        return f"{day.day} {day:%b}"
    return match[0]


def taken_words(entry: Any) -> str:
    """Which animals an entry takes; of several that nobody can tell apart, all of them."""
    brood = one_of(entry.among) if entry.among else entry.brood
    return animals(entry.number, entry.stage, brood, getattr(entry, "instar", None))


def wings_words(entry: Any) -> str:
    """Which of adults some of which are crippled; not twice where they died of it."""
    if entry.wings == "both":
        return "sound and crippled"
    return "" if getattr(entry, "cause", "") == entry.wings else str(entry.wings)


def unknown_words(entry: Any) -> str:
    """That nobody knows which they were."""
    return "not known which" if entry.which == "not known" else ""
