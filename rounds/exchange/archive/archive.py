"""The archive as one ZIP: two tables, and the two descriptions beside them."""

from __future__ import annotations

import io
import shutil
import tempfile
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, date, datetime
from typing import Any, BinaryIO, NamedTuple, TextIO

from rounds.bench.plurals import count
from rounds.entries.registry import Hatched, Photo
from rounds.exchange.archive import terms as t
from rounds.exchange.archive.measurements import Measurements
from rounds.exchange.archive.metadata import eml_xml, meta_xml
from rounds.exchange.archive.occurrences import (
    Row,
    evidence_by_entry,
    iso,
    name_of,
    occurrences,
)
from rounds.exchange.archive.terms import MEASUREMENT_TERMS, OCCURRENCE_TERMS
from rounds.exchange.pictures import photo_stage, pictures
from rounds.exchange.source import Source
from rounds.exchange.tables.tables import MARK, write_rows
from rounds.views.words import literal


def write_occurrences(source: Source, out: BinaryIO, *, wild_only: bool = False) -> list[str]:
    """Write the table; how many occurrences is told.

    Args:
        wild_only: only animals as they were found in the wild.
    """
    found = occurrences(source, evidence_by_entry(source), wild_only=wild_only)
    withheld = 0

    def rows() -> Iterator[tuple[Any, ...]]:
        nonlocal withheld
        for row, _ in found:
            withheld += bool(row.get("informationWithheld"))
            yield tuple(row.get(term, "") for term in OCCURRENCE_TERMS)

    text = io.TextIOWrapper(out, encoding=MARK, newline="")
    number = write_rows(OCCURRENCE_TERMS, rows(), text)
    text.detach()
    return [count(number, "occurrence"), *_withheld_words(source, withheld)]


def _withheld_words(source: Source, withheld: int) -> list[str]:
    """In how many records the exact place is not told; nothing where all are."""
    words = f"exact places withheld in {withheld:,} of them: {source.guard.which}"
    return [words] if withheld else []


OCCURRENCES, MEASUREMENTS = "occurrence.txt", "measurementorfact.txt"
MEDIA = "multimedia.txt"


def write_archive(source: Source, out: BinaryIO, *, wild_only: bool = False) -> list[str]:
    """Write a Darwin Core Archive; what was written is told.

    Args:
        wild_only: only animals as they were found in the wild.
    """
    evidence = evidence_by_entry(source)
    measured = Measurements(source, evidence)
    counts = {OCCURRENCES: 0, MEASUREMENTS: 0}
    days: set[date] = set()
    records: dict[str, list[_Record]] = {}  # of the living, by founder or brood
    withheld, last = 0, ""
    with (
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive,
        tempfile.SpooledTemporaryFile(max_size=8_000_000) as spooled_temporary_file,
    ):
        facts = io.TextIOWrapper(spooled_temporary_file, encoding="utf-8", newline="")
        _line(facts, ("id", *MEASUREMENT_TERMS))
        with (
            archive.open(_member(source, OCCURRENCES), "w") as member,
            io.TextIOWrapper(member, "utf-8", newline="") as table,
        ):
            _line(table, OCCURRENCE_TERMS)
            for row, entry in occurrences(source, evidence, wild_only=wild_only):
                _line(table, [row.get(term, "") for term in OCCURRENCE_TERMS])
                counts[OCCURRENCES] += 1
                withheld += bool(row.get("informationWithheld"))
                days |= days_of(str(row.get("eventDate", "")))
                if _are_here(row):
                    records.setdefault(str(row["organismName"]), []).append(
                        _Record(
                            entry.at,
                            str(row["occurrenceID"]),
                            str(row.get("lifeStage", "")),
                            1
                            if isinstance(entry, Hatched)
                            else getattr(entry, "instar", None) or 0,
                            str(getattr(entry, "container", "")),
                        )
                    )
                facts_told, last = entry.id == last, entry.id
                for fact in () if facts_told else measured.of(entry):
                    _line(
                        facts,
                        [row["occurrenceID"], *(fact.get(term, "") for term in MEASUREMENT_TERMS)],
                    )
                    counts[MEASUREMENTS] += 1
        facts.flush()
        spooled_temporary_file.seek(0)
        with archive.open(_member(source, MEASUREMENTS), "w") as told:
            shutil.copyfileobj(spooled_temporary_file, told, 1_000_000)
        shown, left_out = _media(source, archive, records)
        described = meta_xml(OCCURRENCES, MEASUREMENTS, MEDIA if shown else "")
        archive.writestr(_member(source, "meta.xml"), described)
        archive.writestr(_member(source, "eml.xml"), _eml(source, days))
    texts = [f"occurrences: {counts[OCCURRENCES]:,}", f"measurements: {counts[MEASUREMENTS]:,}"]
    if shown:
        texts.append(f"pictures, without what cameras write into them: {shown:,}")
    if left_out:
        texts.append(
            "pictures of which the book does not say one brood or animal in the archive, left out:"
            f" {', '.join(left_out)}; to take one in, say whose it is, as: rounds photo FILE --for"
            f" {next(iter(records), 'K7-1/A')}"
        )
    return [*texts, *_withheld_words(source, withheld)]


def _are_here(row: Row) -> bool:
    """Whether a record is of animals of the book that lived on: not dead, not let go, and no
    parasitoid, which is no organism of the book."""
    is_left = row.get("vitality") == "dead" or row.get("degreeOfEstablishment") == t.RELEASED
    return "organismName" in row and not is_left


class _Record(NamedTuple):
    """A record of living animals: when, its name, their stage and instar, and in which
    container."""

    at: datetime
    name: str
    stage: str
    instar: int  # 0: not a larva, or not known
    container: str


def _shown_by(photo: Photo, theirs: Sequence[_Record]) -> str:
    """The record of those that a picture shows: the newest before it, of their stage and instar and
    in their container where there is one."""
    before = [one for one in theirs if one.at <= photo.at] or theirs[:1]
    return max(
        before,
        key=lambda one: (
            one.stage == photo.stage,
            _fits(one.instar, photo.instar or 0),
            one.container == photo.container,
            one.at,
        ),
    ).name


def _fits(instar: int, shown: int) -> int:
    """How well the instar of a record fits the one that a picture shows: the same, not known, one
    that they were in before, or a later one."""
    known = bool(instar and shown)
    return 3 if instar == shown else 2 if not known else 1 if instar < shown else 0


def _media(
    source: Source, archive: zipfile.ZipFile, records: Mapping[str, Sequence[_Record]]
) -> tuple[int, list[str]]:
    """The pictures, each with the record of those that were there; how many there are, and which
    were left out."""
    table = io.StringIO()
    _line(table, ("id", *t.MEDIA_TERMS))
    number, left_out = 0, []
    for picture in pictures(source):
        theirs = records.get(picture.entry.brood)
        if not theirs:
            left_out.append(picture.name)
            continue
        file, number = f"media/{picture.name}", number + 1
        archive.writestr(_member(source, file), picture.data)
        _line(
            table,
            (
                _shown_by(picture.entry, theirs),
                "StillImage",
                picture.media_type,
                file,
                f"{picture.entry.brood} {photo_stage(picture.entry)}".strip(),
                iso(picture.entry.at),
                source.listed_names(picture.entry.by),
                source.bench.settings.get("licence", ""),
                source.holder,
            ),
        )
    if number:
        archive.writestr(_member(source, MEDIA), table.getvalue())
    return number, left_out


def _line(out: TextIO, values: object) -> None:
    """One line: tabs and line ends in a value become spaces, what a terminal or XML reader would
    obey is made visible."""
    assert isinstance(values, list | tuple)
    out.write("\t".join(cell(value) for value in values) + "\n")


def cell(value: str | int | float) -> str:
    """One value as it stands in a table: without tabs, line ends or anything that a reader would
    obey."""
    if isinstance(value, float):
        return f"{value:.7f}".rstrip("0").rstrip(".")
    return literal(str(value)).strip()


def _member(source: Source, name: str) -> zipfile.ZipInfo:
    """A file of the ZIP, dated by the export, so that the same export gives the same bytes."""
    at = source.moment.now.astimezone(UTC)
    member = zipfile.ZipInfo(name, (max(1980, at.year), at.month, at.day, at.hour, at.minute, 0))
    member.compress_type = zipfile.ZIP_DEFLATED
    member.external_attr = 0o600 << 16
    return member


def days_of(event: str) -> set[date]:
    """The days that an event's date names: one, or the first and the last of an interval."""
    return {date.fromisoformat(part[:10]) for part in event.split("/") if part}


def _eml(source: Source, days: set[date]) -> bytes:
    years = (min(days), max(days)) if days else None
    name = name_of("book", source.book)
    return eml_xml(source.bench, source.desk.keeper, name, source.moment.today, years)
