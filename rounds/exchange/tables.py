"""Tables for a spreadsheet: comma separated, UTF-8, times in ISO 8601, units in the heading."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from math import isnan
from typing import BinaryIO

import msgspec

from rounds.bench.codes import one_of
from rounds.bench.movements import GROWN, RENAMED
from rounds.bench.plurals import count
from rounds.entries import codec as written
from rounds.entries.base import Entry, Stage
from rounds.entries.registry import Air, Counted, FounderIntake, Searched, Weighed
from rounds.entries.wording import saying
from rounds.exchange.permits import permit_rows
from rounds.exchange.source import Source
from rounds.tallies.stages import IN_DIAPAUSE, durations, stage_counts
from rounds.tallies.warmth import instant_of
from rounds.views.words import json_safe, literal

Value = str | int | float | date | datetime | None
# What a spreadsheet takes for the beginning of a formula, at the beginning of a cell, in narrow and
# wide writing.
_RUN = (
    "=",
    "+",
    "-",
    "@",
    "\t",
    "\r",
    "\n",
    "\N{FULLWIDTH EQUALS SIGN}",
    "\N{FULLWIDTH PLUS SIGN}",
    "\N{FULLWIDTH HYPHEN-MINUS}",
    "\N{FULLWIDTH COMMERCIAL AT}",
    "|",
    "%",
)


@dataclass(frozen=True, slots=True)
class ExportTable:
    """One table: its headings, with units, and how its rows are made."""

    name: str
    help: str
    headings: tuple[str, ...]
    rows: Callable[[Source], Iterable[tuple[Value, ...]]]


def harmless(text: str) -> str:
    """Text that a spreadsheet shows and never runs: an apostrophe stands before what would begin a
    formula."""
    bare = text.lstrip(" \u00a0\ufeff\u200b")
    return f"'{text}" if bare.startswith(_RUN) else text


def cell(value: Value) -> str:
    """One cell as written: a time in ISO 8601 with its offset, nothing as an empty cell, text shown
    and harmless.

    Text as it was typed stands in the column ``fields (JSON)`` of the table ``entries``.
    """
    if value is None:
        return ""
    if isinstance(value, datetime):
        return value.isoformat(timespec="seconds")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, str):
        return harmless(literal(value))
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def _entries(source: Source) -> Iterator[tuple[Value, ...]]:
    counting = {entry.id for entry in source.counting}
    moved = _moved(source)
    for entry in source.entries:
        counts = "yes" if entry.id in counting else "struck"
        place = getattr(entry, "container", "") or getattr(entry, "shelf", "")
        fields = json_safe(msgspec.json.encode(written.write(entry)).decode())
        yield (
            entry.id,
            entry.at,
            entry.logged,
            entry.by,
            entry.what,
            place,
            saying(entry),
            counts,
            fields,
            *_of_whom(entry, moved.get(entry.id)),
        )


def _moved(source: Source) -> dict[str, tuple[str, Stage, int]]:
    """By line, the one brood that it moved, with the stage and instar that these reached or were
    in."""
    result: dict[str, set[tuple[str, Stage, int]]] = {}
    for movement in source.desk.moves():
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
    is_said = isinstance(number, int) and (
        number or isinstance(entry, Counted | Searched)
    )  # 0 drank stands for all
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


def _stock(source: Source) -> Iterator[tuple[Value, ...]]:
    for container in source.bench.standing():
        for lot in container.lots:
            taxon = source.bench.taxon_of(lot.brood)
            yield (
                container.code,
                container.purpose,
                container.shelf,
                lot.brood,
                taxon,
                lot.stage,
                lot.instar or None,
                lot.sex,
                lot.number,
                lot.since,
            )


def _laying(source: Source) -> Iterator[tuple[Value, ...]]:
    for on_host in source.tallies.on_hosts(source.moment.now):
        for part in on_host.parts:
            rate = part.rate
            limits = (rate.value, rate.low, rate.high) if rate else (None, None, None)
            yield (
                on_host.taxon,
                on_host.plant,
                part.container,
                round(part.female_days, 4),
                part.searches,
                part.eggs,
                *limits,
                part.begun,
                part.ended,
                " ".join(sorted(part.codes)),
                round(part.not_searched, 4),
                " ".join(sorted(part.beside)),
                part.either,
                round(part.doubtful, 4),
                round(part.share_found, 4),
            )


def _life_table(source: Source) -> Iterator[tuple[Value, ...]]:
    course = source.tallies.course
    together = course.counted_together()
    rows = {code: [code] for code in (*course.bench.broods, *course.codes_of_either())}
    rows |= {" and ".join(broods): list(broods) for broods in together.values()}
    for code, broods in rows.items():
        again = " and ".join(together.get(code, ()))
        for stage_count in stage_counts(course, broods):
            share = stage_count.came_through
            limits = (share.value, share.low, share.high) if share else (None, None, None)
            yield (
                code,
                one_of(map(course.bench.taxon_of, broods)),
                stage_count.stage,
                stage_count.entered,
                stage_count.passed,
                stage_count.died,
                stage_count.left,
                stage_count.not_seen,
                stage_count.here,
                *limits,
                stage_count.through,
                stage_count.either,
                stage_count.kept,
                stage_count.by_hatching,
                again,
            )


def _durations(source: Source) -> Iterator[tuple[Value, ...]]:
    back = source.tallies.look_back(source.desk.series)
    for brood in back.course.bench.broods:
        for duration in durations(back.course, [brood], back.warmth):
            plain = duration.stage.removesuffix(IN_DIAPAUSE)
            instar = int(plain[1:]) if plain[1:].isdigit() else None
            basis = (
                "from the middle of when they were laid"
                if plain in ("egg", "egg to adult")
                else "from when it was seen to begin"
            )
            basis += f"; the end of {duration.inferred} inferred" if duration.inferred else ""
            basis += "; in diapause meanwhile" if plain != duration.stage else ""
            yield (
                brood,
                back.course.bench.taxon_of(brood),
                "larva" if instar else plain,
                instar,
                duration.number,
                duration.mean,
                duration.least,
                duration.most,
                duration.temperature_c,
                duration.read,
                basis,
            )


def _loggers(source: Source) -> Iterator[tuple[Value, ...]]:
    for place in source.bench.logged:
        series = source.desk.series(place)
        for day, temperature_c, humidity in zip(
            series.days, series.temperatures_c, series.all_humidities(), strict=True
        ):
            told = None if isnan(humidity) else float(humidity)
            yield (
                instant_of(day).astimezone(source.moment.zone),
                place or "room",
                float(temperature_c),
                told,
            )


def _temperatures(source: Source) -> Iterator[tuple[Value, ...]]:
    for entry in source.counting:
        if isinstance(entry, Air):
            yield (
                entry.at,
                entry.container or entry.shelf or "room",
                entry.temperature_c,
                entry.low_c,
                entry.high_c,
                entry.humidity_percent,
                entry.by,
                entry.id,
            )


def _masses(source: Source) -> Iterator[tuple[Value, ...]]:
    for entry in source.counting:
        if isinstance(entry, Weighed):
            yield (
                entry.at,
                entry.container,
                entry.brood,
                source.bench.taxon_of(entry.brood),
                entry.stage,
                entry.number,
                entry.mass_mg,
                entry.mass_mg / entry.number,
                entry.by,
                entry.id,
            )


TABLES: dict[str, ExportTable] = {
    table.name: table
    for table in (
        ExportTable(
            "entries",
            "every line of the daybook, struck ones marked; stage and instar of those that grew are"
            " the ones they reached",
            (
                "id",
                "happened at",
                "typed at",
                "by",
                "what",
                "place",
                "told",
                "counts",
                "fields (JSON)",
                "number",
                "brood",
                "stage",
                "sex",
                "voucher",
                "instar",
            ),
            _entries,
        ),
        ExportTable(
            "stock",
            "what stands in each container now",
            (
                "container",
                "purpose",
                "shelf",
                "brood",
                "taxon",
                "stage",
                "instar",
                "sex",
                "number",
                "since",
            ),
            _stock,
        ),
        ExportTable(
            "laying",
            "who laid on what: female-days and eggs by host and container",
            (
                "taxon",
                "host",
                "container",
                "effort (female-days)",
                "searches",
                "eggs",
                "eggs per female-day",
                "lower exact two-sided 95 % limit (eggs per female-day)",
                "upper exact two-sided 95 % limit (eggs per female-day)",
                "from",
                "to",
                "females",
                "not searched (female-days)",
                "females of other species beside them",
                "eggs more that may be theirs",
                "time in which these were laid, in no rate (female-days)",
                "share of eggs that searches find, as reckoned",
            ),
            _laying,
        ),
        ExportTable(
            "temperatures",
            "air as it was read",
            (
                "at",
                "place",
                "temperature (C)",
                "lowest (C)",
                "highest (C)",
                "humidity (%)",
                "by",
                "entry",
            ),
            _temperatures,
        ),
        ExportTable(
            "masses",
            "larvae and pupae as they were weighed",
            (
                "at",
                "container",
                "brood",
                "taxon",
                "stage",
                "number together",
                "mass (mg)",
                "mass of one (mg)",
                "by",
                "entry",
            ),
            _masses,
        ),
        ExportTable(
            "loggers",
            "what loggers wrote of each place",
            ("at", "place", "temperature (C)", "humidity (%)"),
            _loggers,
        ),
        ExportTable(
            "life-table",
            "each stage of each brood, and of broods together that nobody can tell apart: how many"
            " entered it, and what is known of them; the rows in which 'counted again in' is empty"
            " count each animal once",
            (
                "brood",
                "taxon",
                "stage",
                "entered",
                "went on",
                "died",
                "left the bench alive",
                "not seen",
                "in it now",
                "share that went on",
                "lower 95 % limit",
                "upper 95 % limit",
                "share of the first stage that came through",
                "not known which",
                "kept as specimens",
                "known only by hatching, in no egg number",
                "counted again in",
            ),
            _life_table,
        ),
        ExportTable(
            "durations",
            "how long each stage of each brood took; those alone that were seen to begin and to"
            " end it",
            (
                "brood",
                "taxon",
                "stage",
                "instar",
                "number",
                "mean (days)",
                "shortest (days)",
                "longest (days)",
                "mean temperature (C)",
                "number with temperature",
                "basis",
            ),
            _durations,
        ),
        ExportTable(
            "permits",
            "each permit, its limits, and how much of them is used",
            (
                "number",
                "holder",
                "issuing body",
                "taxon",
                "females allowed",
                "females taken",
                "eggs allowed",
                "eggs found",
                "hold (h)",
                "expires",
                "says",
            ),
            permit_rows,
        ),
    )
}


def write_table(table: ExportTable, source: Source, out: io.TextIOBase) -> int:
    """Write one table; the number of its rows comes back."""
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(table.headings)
    number = 0
    for number, row in enumerate(source.counted(table.name, table.rows(source)), start=1):  # noqa: B007 - counted after
        writer.writerow([cell(value) for value in row])
    return number


def write_tables(
    names: tuple[str, ...], source: Source, out: BinaryIO, *, together: bool
) -> list[str]:
    """Write one table, or several together as files in a ZIP; what was written is told, a line a
    table."""
    if not together:
        text = io.TextIOWrapper(out, encoding="utf-8", newline="")
        rows = [_told(name, write_table(TABLES[name], source, text)) for name in names]
        text.detach()
        return rows
    texts = []
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in names:
            with (
                archive.open(f"{name}.csv", "w") as member,
                io.TextIOWrapper(member, encoding="utf-8", newline="") as table,
            ):
                texts.append(_told(name, write_table(TABLES[name], source, table)))
    return texts


def _told(name: str, rows: int) -> str:
    return f"{name}: {count(rows, 'row')}"
