"""What a table is: columns with their meaning and unit, and rows; and how a cell is written."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime

from rounds.biology.laying import Rate
from rounds.biology.proportions import Share
from rounds.exchange.source import Source
from rounds.views.words import literal
from rounds.word_tables import table_rows

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
class Column:
    """A column: its name, what it means, in which unit, and what an empty cell says.

    Without ``missing`` no cell of it is empty. ``in_dictionary`` is a unit that the name says
    already, so that its heading does not say it twice: of counts, shares and rates.
    """

    name: str
    meaning: str
    missing: str = ""
    unit: str = ""
    in_dictionary: str = ""

    @property
    def heading(self) -> str:
        """Its name with its unit: ``mass (mg)``."""
        return f"{self.name} ({self.unit})" if self.unit else self.name


def columns(table: str) -> tuple[Column, ...]:
    """Columns, a line each, as ``name [unit] | meaning | what an empty cell says``; ``name <unit>``
    where the unit stands in the dictionary alone, ``1`` for a share."""
    return tuple(_column(*row) for row in table_rows(table))


def _column(head: str, meaning: str, missing: str = "") -> Column:
    name, _, plain = head.partition(" <")
    name, _, unit = name.partition(" [")
    return Column(name, meaning, missing, unit.removesuffix("]"), plain.removesuffix(">"))


@dataclass(frozen=True, slots=True)
class ExportTable:
    """One table: its columns, and how its rows are made; ``typed`` are the fields that stand in it
    as they were typed."""

    name: str
    help: str
    columns: tuple[Column, ...]
    rows: Callable[[Source], Iterable[tuple[Value, ...]]]
    typed: frozenset[str] = frozenset()

    def told_by(self, source: Source) -> Iterator[tuple[Value, ...]]:
        """Its rows, each with the name of its taxon as all that leaves the bench has it."""
        named = [column.name == "taxon" for column in self.columns]
        for row in self.rows(source):
            yield tuple(
                source.name_in_full(value) if is_taxon and isinstance(value, str) else value
                for value, is_taxon in zip(row, named, strict=True)
            )

    @property
    def headings(self) -> tuple[str, ...]:
        """The names of its columns with their units."""
        return tuple(column.heading for column in self.columns)


def said(of: object, names: str) -> tuple[Value, ...]:
    """What something says under some names, a space between them, in that order: cells of a row
    that are its own fields."""
    return tuple(getattr(of, name) for name in names.split())


def harmless(text: str) -> str:
    """Text that a spreadsheet shows and never runs: an apostrophe stands before what would begin a
    formula."""
    bare = text.lstrip(" \u00a0\ufeff\u200b")
    return f"'{text}" if bare.startswith(_RUN) and bare != "%" else text  # a unit runs nothing


def cell(value: Value) -> str:
    """One cell as written: a time in ISO 8601 with its offset, nothing as an empty cell, text shown
    and harmless."""
    if value is None:
        return ""
    if isinstance(value, datetime):
        return value.isoformat(timespec="seconds")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, str):
        return harmless(literal(value))
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def with_limits(estimate: Share | Rate | None) -> tuple[Value, ...]:
    """An estimate with its limits; three empty cells where there is none."""
    return said(estimate, "value low high") if estimate else (None, None, None)


def yes(value: bool) -> str:
    """``yes`` or ``no``."""
    return "yes" if value else "no"
