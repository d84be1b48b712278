"""What was typed in free words and leaves as it was typed: how much of it, and which of it names a
withheld place."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from functools import cache

from msgspec import Struct

from rounds.bench.codes import members
from rounds.bench.folding.cups_set_up_twice import NAMES, PARENTS
from rounds.bench.plurals import and_more, count
from rounds.entries.base import Entry
from rounds.entries.registry import KIND_BY_NAME, FounderIntake
from rounds.exchange.source import Source
from rounds.tallies.pedigree import forebears
from rounds.views.settings import are_initials, full_names_of
from rounds.views.words import day_and_time, literal

# Fields that a keeper fills with words of their own; others hold a word or two, which may name a
# place all the same.
FREE = frozenset({"text", "why", "sign", "source", "origin", "file"})
# Codes that keepers choose, and that every file holds.
CODES = frozenset({"code", "brood", "female", "male", "lots", *NAMES, *PARENTS})
OF_PERMITS = frozenset({"permit", "number"})  # chosen by who issued them
_NO_WORDS = frozenset({"id", "by", "round", "part_of", "digest", "said"})
# letters of a place's name by which it is known again in a text; shorter ones stand in many words
SHORTEST = 4
NEAR_DEGREES = 0.02  # a number this near to a withheld coordinate is taken for it, about 2 km
MAX_NAMED = 5
_LETTERS = re.compile(rf"[^\W\d_]{{{SHORTEST},}}")
_NUMBER = re.compile(r"\d{1,3}\.\d{2,}")


@cache
def typed_fields() -> frozenset[str]:
    """Every field of a line that may hold words as they were typed."""
    fields = {name for kind in KIND_BY_NAME.values() for name in kind.__struct_fields__}
    return frozenset(fields - _NO_WORDS)


class _Secret(Struct, frozen=True):
    """By what a withheld place can be known: parts of its name, and its coordinates."""

    names: tuple[str, ...]
    degrees: tuple[float, ...]


def warnings(
    source: Source,
    fields: frozenset[str],
    whose: Collection[str] = (),
    codes: frozenset[str] = CODES | OF_PERMITS,
) -> Iterator[str]:
    """What to read before a file is passed on, a line each.

    Args:
        fields: names of the fields that the file holds as they were typed, besides codes.
        whose: of which broods or founders the file tells, in any case; of all where it names none.
        codes: names of the fields of codes that it holds.
    """
    secrets = [_secret(founder) for founder in source.guard.secrets()] + _home(source)
    free = fields & FREE
    typed: list[Entry] = []
    named: list[Entry] = []
    for entry in _lines_of(source, whose) if whose else source.entries:
        if any(True for _ in _texts(entry, free)):
            typed.append(entry)
        # catches are told of by the guard
        looked = fields - {"place"} if isinstance(entry, FounderIntake) else fields
        if secrets and (
            _names(secrets, _texts(entry, looked)) or _in_codes(secrets, _texts(entry, codes))
        ):
            named.append(entry)
    if typed:
        yield (
            f"free text leaves as typed, {count(len(typed), 'line')} of it: read it before you pass"
            f" the file on: {_listed(source, typed)}"
        )
    if named:
        yield (
            f"look: {count(len(named), 'line')} of it may name a withheld place:"
            f" {_listed(source, named)}"
        )


def _lines_of(source: Source, whose: Collection[str]) -> Iterator[Entry]:
    """The lines that name one of these broods or founders or a forebear, or a container in which
    one of them stood, and those that name neither animals nor a container."""
    course = source.tallies.course
    wanted = {part.casefold() for one in whose for part in members(one.strip())}
    every = (*source.bench.founders, *source.bench.broods)
    codes = [code for code in every if code.casefold() in wanted]
    theirs = {*forebears(source.bench, *codes), *course.unsure_codes(codes)}
    stays = (
        stay
        for one in theirs
        for cohort in course.told_apart(one).cohorts()
        for stay in cohort.stays
    )
    stood = {stay.container for stay in stays}
    for entry in source.entries:
        whose = getattr(entry, "brood", "") or getattr(entry, "code", "")
        if whose in theirs if whose else getattr(entry, "container", "") in {"", *stood}:
            yield entry


def initials_warnings(source: Source) -> list[str]:
    """Whose initials leave with no full name, in a line."""
    said = {entry.by for entry in source.counting}
    said |= {founder.collector for founder in source.bench.founders.values()}
    persons = {one for text in said for one in full_names_of(source.bench.settings, text)}
    initials = sorted(filter(are_initials, persons))
    if not initials:
        return []
    shown = literal(", ".join(initials[:MAX_NAMED]))
    more = and_more(len(initials), MAX_NAMED)
    leave = "leaves" if len(initials) == 1 else "leave"
    known = source.bench.settings.get("names", "")
    before = f"{known}{';' if ';' in known else ','} " if known else ""
    return [
        f"look: {shown}{more} {leave} as initials; a full name is said so:"
        f" setting names {literal(f'{before}{initials[0]} FULL NAME')}"
    ]


def _listed(source: Source, named: list[Entry]) -> str:
    words = [
        f"{getattr(entry, 'container', '')} {entry.what}"
        f" {day_and_time(entry.at, source.moment.zone, source.moment.now)}".strip()
        for entry in named
    ]
    return "; ".join(words[:MAX_NAMED]) + and_more(len(words), MAX_NAMED)


def _texts(entry: Entry, fields: Iterable[str]) -> Iterator[str]:
    for name in fields:
        value = getattr(entry, name, "")
        for one in value if isinstance(value, tuple) else (value,):
            if isinstance(one, str) and one:
                yield one


def _secret(founder: FounderIntake) -> _Secret:
    parts = (part.strip().casefold() for part in founder.place.split(","))
    degrees = (abs(one) for one in (founder.latitude, founder.longitude) if one is not None)
    return _Secret(tuple(part for part in parts if len(part) >= SHORTEST), tuple(degrees))


def _home(source: Source) -> list[_Secret]:
    """Where the keeper lives, as the settings say for the sun on the sill."""
    texts = [source.bench.settings.get(name, "") for name in ("latitude", "longitude")]
    try:
        degrees = tuple(abs(float(one)) for one in texts if one)
    except ValueError:
        return []
    return [_Secret((), degrees)] if degrees else []


def _in_codes(secrets: Iterable[_Secret], codes: Iterable[str]) -> bool:
    """Whether any of the codes is made of a place's name, or of a part of it."""
    parts = {part for code in codes for part in _LETTERS.findall(code.casefold())}
    return any(part in name for part in parts for secret in secrets for name in secret.names)


def _names(secrets: Iterable[_Secret], texts: Iterable[str]) -> bool:
    """Whether any of the texts names one of the places, by its name or by a number that is one of
    its coordinates."""
    for text in texts:
        folded = text.casefold()
        numbers = [float(one) for one in _NUMBER.findall(text)]
        for secret in secrets:
            if any(name in folded for name in secret.names):
                return True
            if any(
                abs(number - degree) < NEAR_DEGREES
                for number in numbers
                for degree in secret.degrees
            ):
                return True
    return False
