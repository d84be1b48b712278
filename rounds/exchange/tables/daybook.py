"""Tables of the daybook itself: its lines with what was typed, readings of air, permits."""

from __future__ import annotations

from collections.abc import Iterator
from math import isnan

from rounds.bench.movements import GROWN, RENAMED, Movement
from rounds.bench.permits import expires_on, uses
from rounds.entries import codec as written
from rounds.entries.base import Entry, Stage
from rounds.entries.registry import Air, Counted, FounderIntake, Searched
from rounds.entries.schema import OWN
from rounds.entries.wording import saying
from rounds.exchange.document import NOT_SAID
from rounds.exchange.free_text import typed_fields
from rounds.exchange.permits import permit_words
from rounds.exchange.source import Source
from rounds.exchange.tables.table import ExportTable, Value, columns, said, yes
from rounds.tallies.warmth import instant_of


def _entries(source: Source) -> Iterator[tuple[Value, ...]]:
    counting = {entry.id for entry in source.counting}
    moved = _moved(source)
    for entry in source.entries:
        yield (
            *said(entry, "id at logged by what"),
            getattr(entry, "container", "") or getattr(entry, "shelf", ""),
            saying(entry),
            "yes" if entry.id in counting else "struck",
            *_of_whom(entry, moved.get(entry.id)),
        )


def _fields(source: Source) -> Iterator[tuple[Value, ...]]:
    """Each field of each line in a row of its own; of a list each value."""
    for entry in source.entries:
        for name, told in written.write(entry).items():
            if name in OWN or name == "what":
                continue
            values = told if isinstance(told, list) else [told]
            for position, value in enumerate(values, 1):
                yield (entry.id, name, position, _plain(value))


def _plain(value: object) -> Value:
    if isinstance(value, bool):
        return yes(value)
    return value if isinstance(value, str | int | float) else str(value)


def _moved(source: Source) -> dict[str, tuple[str, Stage, int]]:
    """By line, the one brood that it moved, with the stage and instar that these reached or were
    in."""
    result: dict[str, set[tuple[str, Stage, int]]] = {}
    for movement in source.desk.reading.went_by(Movement):
        group = (
            movement.after
            if movement.how in GROWN and movement.after
            else movement.before or movement.after
        )
        if group is not None and movement.how != RENAMED:
            result.setdefault(movement.entry, set()).add((group.brood, group.stage, group.instar))
    return {entry: next(iter(groups)) for entry, groups in result.items() if len(groups) == 1}


def _of_whom(entry: Entry, moved: tuple[str, Stage, int] | None) -> tuple[Value, ...]:
    """How many of which founder or brood (of its host), stage, sex, voucher and instar; empty where
    it is not known.

    What a line does not say is of those that it moved, where they were alike.
    """
    number = (
        1
        if isinstance(entry, FounderIntake)
        else getattr(entry, "found", getattr(entry, "number", None))
    )
    # 0 drank stands for all
    is_said = isinstance(number, int) and (number or isinstance(entry, Counted | Searched))
    brood = (
        getattr(entry, "brood", "") or getattr(entry, "code", "") or getattr(entry, "female", "")
    )
    theirs, stage, instar = moved or ("", None, None)
    return (
        number if is_said else None,
        brood or theirs,
        getattr(entry, "stage", None) or stage,
        getattr(entry, "sex", None),
        getattr(entry, "voucher", None),
        getattr(entry, "instar", None) or instar or None,
    )


def _warmth(source: Source) -> Iterator[tuple[Value, ...]]:
    for entry in source.counting:
        if isinstance(entry, Air):
            yield (
                entry.at,
                entry.container or entry.shelf or "room",
                "by hand",
                *said(entry, "temperature_c mean_since low_c high_c humidity_percent by id"),
            )
    for place in source.bench.logged:
        series = source.desk.reading.series(place)
        for day, temperature_c, humidity in zip(
            series.days, series.temperatures_c, series.all_humidities(), strict=True
        ):
            at = instant_of(day).astimezone(source.moment.zone)
            told = None if isnan(humidity) else float(humidity)
            warmth = float(temperature_c)
            yield (at, place or "room", "logger", warmth, None, None, None, told, "", "")


def _permits(source: Source) -> Iterator[tuple[Value, ...]]:
    for permit in source.bench.permits.values():
        used = {use.what: use.used for use in uses(source.bench, permit)}
        yield (
            *said(permit, "number holder body taxon females"),
            used.get("females"),
            permit.eggs,
            used.get("eggs taken"),
            permit.eggs_kept,
            used.get("eggs kept"),
            permit.hold_hours,
            expires_on(permit),
            permit_words(source.bench, permit, source.moment.now),
        )


DAYBOOK = (
    ExportTable(
        "entries",
        "every line of the daybook, crossed-out ones marked; stage and instar of those that grew"
        " are the ones they reached",
        columns(f"""
            id | of the line; sorts by time
            happened at | when it happened
            typed at | when it was typed
            by | initials of the keeper | {NOT_SAID}
            what | kind of the line
            place | container or shelf | of the whole bench, or of animals alone
            told | the line in words
            counts | yes; struck: crossed out, or not yet come
            number <count> | how many | all, or no number
            brood | founder or brood | none, or of several
            stage | egg, larva, pupa or adult | none, or of several
            sex | female or male | not known
            voucher | number of a specimen, as typed | none
            instar | of larvae | not known
            """),
        _entries,
        typed_fields(),
    ),
    ExportTable(
        "fields",
        "what each line says, a row a field; of a field with several values each",
        columns("""
            line | id of the line, as in the table entries
            field | its name; units are in the name, as mass_mg
            position | which of its values, from 1
            value | as it was said; before what a spreadsheet would run stands an apostrophe
            """),
        _fields,
        typed_fields(),
    ),
    ExportTable(
        "warmth",
        "air as it was read by hand and by loggers",
        columns("""
            at | when it was read
            place | container, shelf or room
            source | by hand or logger
            temperature [C] | then, or the mean since | not read
            mean since | when the time began of which it is the mean | no mean
            lowest [C] | since it was last read | not read
            highest [C] | since it was last read | not read
            humidity [%] | relative | not read
            by | initials of who read | a logger, or not recorded
            line | id of the line | of a logger's file
            """),
        _warmth,
        frozenset({"shelf"}),
    ),
    ExportTable(
        "permits",
        "each permit, its limits, and how much of them is used",
        columns(f"""
            number | of the permit
            holder | as its paper says | {NOT_SAID}
            issuing body | as its paper says | {NOT_SAID}
            taxon | that it is for | {NOT_SAID}
            females allowed <count> | that may be taken | no limit
            females taken <count> | that came in under it | no limit
            eggs allowed <count> | that may be taken | no limit
            eggs taken <count> | of broods whose mothers came in under it, those known only by
                hatching too | no limit
            eggs to be kept <count> | of those taken; the rest is to be released | no limit
            eggs kept <count> | those taken less those released in any stage | no limit
            hold [h] | how long a female may be held | no limit
            expires | its last day, or the hour | it does not end
            says | the same in words
            """),
        _permits,
        frozenset({"number", "holder", "body"}),
    ),
)
