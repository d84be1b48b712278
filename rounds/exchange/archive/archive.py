"""The archive as one ZIP: two tables, and the two descriptions beside them."""

from __future__ import annotations

import io
import tempfile
import zipfile
from datetime import UTC, date
from typing import BinaryIO, TextIO

from rounds.exchange.archive.measurements import Measurements
from rounds.exchange.archive.metadata import eml_xml, meta_xml
from rounds.exchange.archive.occurrences import evidence_by_entry, name_of, occurrences
from rounds.exchange.archive.terms import MEASUREMENT_TERMS, OCCURRENCE_TERMS
from rounds.exchange.source import Source
from rounds.views.words import literal

OCCURRENCES, MEASUREMENTS = "occurrence.txt", "measurementorfact.txt"


def write_archive(source: Source, out: BinaryIO) -> list[str]:
    """Write a Darwin Core Archive; what was written is told."""
    evidence = evidence_by_entry(source)
    measured = Measurements(source, evidence)
    counts = {OCCURRENCES: 0, MEASUREMENTS: 0}
    days: set[date] = set()
    withheld = 0
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
            for row, entry in occurrences(source, evidence):
                _line(table, [row.get(term, "") for term in OCCURRENCE_TERMS])
                counts[OCCURRENCES] += 1
                withheld += bool(row.get("informationWithheld"))
                days |= days_of(str(row.get("eventDate", "")))
                for fact in measured.of(entry):
                    _line(
                        facts,
                        [row["occurrenceID"], *(fact.get(term, "") for term in MEASUREMENT_TERMS)],
                    )
                    counts[MEASUREMENTS] += 1
        facts.flush()
        _copy(archive, _member(source, MEASUREMENTS), spooled_temporary_file)
        archive.writestr(_member(source, "meta.xml"), meta_xml(OCCURRENCES, MEASUREMENTS))
        archive.writestr(_member(source, "eml.xml"), _eml(source, days))
    texts = [f"occurrences: {counts[OCCURRENCES]:,}", f"measurements: {counts[MEASUREMENTS]:,}"]
    if withheld:
        texts.append(f"exact places withheld in {withheld:,} of them: protected taxa")
    return texts


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


def _copy(
    archive: zipfile.ZipFile, member: zipfile.ZipInfo, kept: tempfile.SpooledTemporaryFile[bytes]
) -> None:
    kept.seek(0)
    with archive.open(member, "w") as file:
        while part := kept.read(1_000_000):
            file.write(part)


def days_of(event: str) -> set[date]:
    """The days that an event's date names: one, or the first and the last of an interval."""
    return {date.fromisoformat(part[:10]) for part in event.split("/") if part}


def _eml(source: Source, days: set[date]) -> bytes:
    years = (min(days), max(days)) if days else None
    name = name_of("book", source.book)
    return eml_xml(source.bench, source.desk.keeper, name, source.moment.today, years)
