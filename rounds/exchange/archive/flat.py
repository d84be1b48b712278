"""The occurrences as one flat table, in the terms of Darwin Core."""

from __future__ import annotations

import io
from typing import BinaryIO

from rounds.bench.plurals import count
from rounds.exchange.archive.occurrences import evidence_by_entry, occurrences
from rounds.exchange.archive.terms import OCCURRENCE_TERMS
from rounds.exchange.source import Source
from rounds.exchange.tables.tables import MARK, write_rows


def write_occurrences(source: Source, out: BinaryIO, *, wild_only: bool = False) -> list[str]:
    """Write the table; how many occurrences is told.

    Args:
        wild_only: only animals as they were found in the wild.
    """
    found = occurrences(source, evidence_by_entry(source), wild_only=wild_only)
    rows = (tuple(row.get(term, "") for term in OCCURRENCE_TERMS) for row, _ in found)
    text = io.TextIOWrapper(out, encoding=MARK, newline="")
    number = write_rows(OCCURRENCE_TERMS, rows, text)
    text.detach()
    return [count(number, "occurrence")]
