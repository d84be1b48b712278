"""Rows of a table by field, and what of them is read alike in all shapes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from rounds.exchange.loggers.cells import number_of, unit_in, without_unit
from rounds.exchange.loggers.units import TO_CELSIUS
from rounds.exchange.tables_in import columns as c
from rounds.exchange.tables_in import vocabulary as v
from rounds.exchange.tables_in.columns import ColumnUse
from rounds.exchange.tables_in.dates import DateReader, clock_in, first_and_last
from rounds.exchange.tables_in.past_entries import NotSo
from rounds.exchange.tables_in.values import (
    about_days,
    amount,
    bound_in,
    is_about_spans,
    is_nothing,
    right_number,
    says_not_known,
    says_same,
    sex_named,
    sexes_in,
    spans_in,
    whole,
)
from rounds.exchange.tables_in.vocabulary import bare, has, says_nothing_but
from rounds.grouping import grouped


@dataclass(frozen=True)
class TableRow:
    """One row: its line in the file, and what it says by field; what says nothing is left out."""

    number: int
    cells: Mapping[str, str]
    headings: Mapping[str, str]
    dates: DateReader

    def text(self, field: str) -> str:
        """What the row says of a field; empty where it says nothing."""
        return self.cells.get(field, "")

    def with_text(self, field: str, text: str) -> TableRow:
        """The row, saying another text of a field."""
        return replace(self, cells={**self.cells, field: text})

    def with_note(self, text: str) -> TableRow:
        """The row, its note saying a text too."""
        return self.with_text("note", "; ".join(filter(None, (self.text("note"), text))))

    def without(self, *fields: str) -> TableRow:
        """The row, saying nothing of some fields."""
        cells = {name: text for name, text in self.cells.items() if name not in fields}
        return replace(self, cells=cells)

    def date(self, field: str) -> datetime | None:
        """The instant in a field.

        Raises:
            NotSo: it is no date.
        """
        cell = self.text(field)
        if not cell:
            return None
        found = self.dates.read(cell, self._time_of_day() if field == "date" else None)
        if found is None and amount(cell) is not None and has(v.DAYS, bare(cell)):
            raise NotSo(
                f"{self.headings[field]} is '{cell}', days among dates; write the date, or the days"
                " in a column of their own, as days as larva"
            )
        if found is None:
            raise NotSo(
                f"{self.headings[field]} is '{cell}'; it must be a date, as 2026-05-03; of dates"
                " without a year say --year"
            )
        return found

    def point(self) -> tuple[float, float] | None:
        """Degrees north and east; None where the row does not say both.

        Raises:
            NotSo: one of them is no number of degrees, or stands alone.
        """
        if not any(map(self.text, c.POINT)):
            return None
        return self._degrees("latitude", 90), self._degrees("longitude", 180)

    def _degrees(self, field: str, most: int) -> float:
        cell = self.text(field)
        found = number_of(cell)
        if found is None or abs(found) > most:
            raise NotSo(
                f"{self.headings.get(field, field)} is '{cell}'; it must be degrees from -{most} to"
                f" {most}, as 44.1234; else say that the column is a place"
            )
        return found

    def _time_of_day(self) -> timedelta | None:
        """The time beside the date.

        Raises:
            NotSo: it is none.
        """
        cell = self.text("time")
        found = clock_in(cell) if cell else None
        if cell and found is None:
            raise NotSo(f"{self.headings['time']} is '{cell}'; it must be a time, as 8:30 or 19h")
        return found

    def number_of(self, field: str) -> int | None:
        """The number of animals in a field.

        Raises:
            NotSo: it is no whole number from 0 on.
        """
        cell = self.text(field)
        if not cell:
            return None
        found = amount(cell)
        if found is None or found.value < 0 or found.value != int(found.value):
            raise NotSo(f"{self.headings[field]} is '{cell}'; {right_number(cell)}")
        return int(found.value)

    def sexes(self) -> dict[str, int]:
        """How many adults there are of each sex, and of none that is written; empty where the row
        does not tell them apart.

        Raises:
            NotSo: they are more than all.
        """
        of_each = {sex: self.number_of(field) for sex, field in c.OF_SEX.items()}
        told = {sex: number for sex, number in of_each.items() if number is not None}
        in_all = self.number_of("adults")
        if not told or in_all is None:
            return sexes_in(self.text("adults")) or self.sexes_beside(in_all)
        rest = in_all - sum(told.values())
        if rest < 0:
            names = " and ".join(self.headings[c.OF_SEX[sex]] for sex in told)
            raise NotSo(
                f"{names} are {in_all - rest}, but {self.headings['adults']} is {in_all}; mend one"
                " of them"
            )
        return {sex: number for sex, number in {**told, "": rest}.items() if number}

    def sexes_beside(self, number: int | None) -> dict[str, int]:
        """How many of each sex the remark tells of so many animals; empty where it tells of
        others."""
        note = self.text("note")
        if (
            number
            and says_nothing_but(f"{v.ALL}, {v.FEMALE}, {v.MALE}", bare(note))
            and has(v.ALL, bare(note))
        ):
            return {sex: number} if (sex := sex_named(note)) else {}
        found = sexes_in(note)
        return found if number is not None and sum(found.values()) == number else {}

    def amount(self, field: str) -> float | None:
        """A number in a field; a temperature in C, whatever it was read in. The days of a stage of
        which there are at least so many are none.

        Raises:
            NotSo: it is none.
        """
        cell = self.text(field)
        if not cell or self._is_at_least(field):
            return None
        found = amount(cell) or about_days(without_unit(cell) if field in c.TEMPERATURES else cell)
        if found is None:
            raise NotSo(f"{self.headings[field]} is '{cell}'; it must be a number, as 21.5")
        unit = self.unit_of(field) if field in c.TEMPERATURES else ""
        return TO_CELSIUS[unit](found.value) if unit else found.value

    def _is_at_least(self, field: str) -> bool:
        """Whether a field holds at least so many days of a stage.

        Raises:
            NotSo: they are at most so many, or those of several stages.
        """
        cell = self.text(field)
        bound = bound_in(cell) if field in c.DAYS_OF else ""
        if bound == "<" or (bound and field not in c.DAYS_IN):
            raise NotSo(
                f"{self.headings[field]} is '{cell}'; write how many days, or leave it empty"
            )
        return bool(bound)

    def unit_of(self, field: str) -> str:
        """The unit of a temperature by its cell, else by its heading: c, f, k; empty where neither
        says it."""
        return unit_in(self.text(field)) or unit_in(self.headings[field])

    def estimates(self) -> str:
        """The numbers of the row that are estimates or reckoned, as they were typed."""
        return "; ".join(f"{heading}: {cell}" for heading, cell, _ in self.taken_for())

    def taken_for(self) -> Iterator[tuple[str, str, str]]:
        """What each number of the row that is not written as it is meant is taken for: heading,
        cell, in words."""
        for field, cell in self.cells.items():
            if field == "stages" and is_about_spans(cell):
                spans = ", ".join(
                    f"{one} {days:g} d" for one, days in (spans_in(cell) or {}).items()
                )
                yield self.headings[field], cell, spans
            middle = self.dates.middle(cell) if field in c.DATES else None
            if middle is not None:
                clock = "" if middle.hour == 12 else f" {middle:%H:%M}"
                yield self.headings[field], cell, f"{middle:%d %b %Y}{clock}, its middle"
            found = amount(cell) if field not in c.TEXTS else None
            if found is None and field in c.AMOUNTS:
                found = about_days(cell)
            if found is not None and field in c.DAYS_IN and bound_in(cell) == ">":
                yield self.headings[field], cell, f"at least {found.value:g}, no duration"
            elif found is not None and found.about:
                yield self.headings[field], cell, f"{found.value:g}"


def rows_of(
    uses: tuple[ColumnUse, ...],
    cells_of: list[tuple[int, tuple[str, ...]]],
    dates: DateReader,
) -> list[TableRow]:
    """The rows of a table; a cell that says 'same' says what the one above it does."""
    fields = grouped((use.field, use.position) for use in uses)
    headings = {use.field: use.heading for use in uses}
    of_sex = [headings[name] for name in c.OF_SEX.values() if name in headings]
    if of_sex:
        headings.setdefault("adults", " and ".join(of_sex))
    if "laid" in headings:
        headings.setdefault("laid until", headings["laid"])
    above: dict[int, str] = {}
    rows = []
    for number, cells in cells_of:
        said: dict[str, str] = {}
        for position, cell in enumerate(cells):
            if cell and says_same(cell):
                cell = above.get(position, "")
            above[position] = cell
            field = next(name for name, positions in fields.items() if position in positions)
            if is_nothing(cell) and not (field == "fate" and says_not_known(cell)):
                continue
            several = len(fields[field]) > 1
            text = f"{uses[position].heading}: {cell}" if several else cell
            said[field] = f"{said[field]}; {text}" if field in said else text
        said = _with_last_day(_with_all_adults(said))
        rows.append(TableRow(number, said, headings, dates))
    return rows


def _with_last_day(said: dict[str, str]) -> dict[str, str]:
    """What a row says, with the last day of laying where the cell of the first tells of several."""
    days = first_and_last(said.get("laid", ""))
    return {"laid until": days[1], **said, "laid": days[0]} if days else said


def _with_all_adults(said: dict[str, str]) -> dict[str, str]:
    """What a row says, with the adults of both sexes where it counts those of each alone."""
    of_each = [
        f"{cell if (number := whole(cell)) is None else number} {sex}"
        for sex, field in c.OF_SEX.items()
        if (cell := said.get(field, ""))
    ]
    return said if "adults" in said or not of_each else {**said, "adults": ", ".join(of_each)}
