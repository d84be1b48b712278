"""A table taken in: what each column is, what each row becomes, what of it the book has already.

Nothing is written here. Taken in again, the same rows are the same lines; a row that was changed
replaces what it said before, and one that is gone from the table is crossed out.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from statistics import median
from typing import Any, TypeVar

from rounds.app.desk import Desk, Outcome, Refusal
from rounds.bench.old_records import newest_imports, rival_imports, tag_of
from rounds.bench.plurals import count
from rounds.daybook import content_of, tag_for
from rounds.entries.base import Entry
from rounds.entries.climate import ROOM_C
from rounds.entries.names import known_plants, known_species
from rounds.entries.registry import CrossedOut, Imported, SetUp
from rounds.exchange.loggers.cells import unit_in
from rounds.exchange.tables_in import columns as c
from rounds.exchange.tables_in import vocabulary as v
from rounds.exchange.tables_in.brood_names import apart_by_warmth, called_again, named_rows
from rounds.exchange.tables_in.columns import ColumnUse, columns_of
from rounds.exchange.tables_in.dates import (
    ORDER_NAMES,
    DateReader,
    date_order,
    first_and_last,
    is_week,
    looks_like_date,
    order_named,
    with_year,
    year_in,
)
from rounds.exchange.tables_in.event_rows import NO_SPECIES, PAUSE, EventTeller
from rounds.exchange.tables_in.events import (
    EventRow,
    action_of,
    ends_told_by,
    events_of,
    moved_to,
    name_of,
    with_shapes,
    with_target,
)
from rounds.exchange.tables_in.fates import FATES, NOT_KNOWN, fate_in
from rounds.exchange.tables_in.kept_answers import KeptAnswer, how_alike
from rounds.exchange.tables_in.known_names import names_of
from rounds.exchange.tables_in.left_over import LEFT_ANSWERS, LeftOver
from rounds.exchange.tables_in.life_rows import (
    broods_told,
    days_end_behind,
    dead_in_or_after,
    dead_without_days,
    ends_told_of,
    life_of,
    marks_for_the_dead_alone,
    tell_life,
    went_beyond,
    with_dead_of_stages,
    with_deaths_among_dates,
)
from rounds.exchange.tables_in.lines_ahead import ONE_BROOD
from rounds.exchange.tables_in.past_entries import NotSo, PastEntries
from rounds.exchange.tables_in.record import PastRecord, cause_of
from rounds.exchange.tables_in.rows import TableRow, rows_of
from rounds.exchange.tables_in.sheet import FileTable
from rounds.exchange.tables_in.species_met import Naming, one_name_each
from rounds.exchange.tables_in.taught_words import (
    TaughtWords,
    WordsOfRows,
    all_known,
    with_known_counts,
    with_known_sex,
    with_known_time,
    with_known_words,
)
from rounds.exchange.tables_in.told_beside import REMARKS, SUMS, ToldBeside
from rounds.exchange.tables_in.unclear import AS_ABOVE, UnclearTable
from rounds.exchange.tables_in.unknown_dates import ask_of_dates, begun
from rounds.exchange.tables_in.values import (
    amount,
    dead_stage_in,
    is_nothing,
    stage_in,
)
from rounds.exchange.tables_in.vocabulary import bare, code_key, has, says_nothing_but
from rounds.grouping import grouped

AnyRead = TypeVar("AnyRead")
ENOUGH = 0.5  # of two tables is the same, so that they may be one; our choice
LONGEST_NAME = 200  # of a file, as the line that an import leaves can hold
_NAME = re.compile(r"[^\W\d_]{3,}\.?(?: [^\W\d_]+\.?){0,2}")  # of a species, it may be
_LETTERS = re.compile(r"[^\W\d_]{2}")  # that a name has and a code or number has not
GENERATION = re.compile(r"[FPG]\d?", re.IGNORECASE)  # F1, F2 are its signs in genetics too
_YEAR = re.compile(r"(?:19|20)\d\d")
# What an empty cell may mean.
UNITS = ("F", "C")  # that temperatures may be in which say none
NO_DATE = "no date"
NO_CONTAINER = "no container"
SUM_LINE = "sum"  # what a line means that only adds others up, or tells their mean
OF_REMARKS = {
    "date",
    "container",
    "brood",
    "what happened",
    "note",
    "place",
}  # all that one may fill
SEVERAL = 3  # columns, and words, where one cell alone is a remark; our choice
NO_SUM = "no sum"  # the answer that it is none
SIGNS_OF_SUMS = ("Ø", "ø", "⌀", "Σ", "∑", "x̄", "x̅")
NAMING = ("animal", "brood", "container", "date", "laid", "species", "mother", c.LEFT_OUT)
# Of broods that are called as an earlier one: the answers, and under what these are remembered.
OTHER_BROOD, SAME_BROOD, TWICE = "other", "same", "broods called alike"
# Of the dead: the last of their days are of the stage before, or of that in which they died.
AFTER_IT, IN_IT, LAST_DAYS = "after it", "in it", "last days of the dead"
# Of the dead without any days: that they died as eggs, and under what the answer is remembered.
AS_EGGS, NO_DAYS = "eggs", "dead without days"
ANOTHER = "new"  # the answer that they are not


@dataclass(frozen=True)
class ImportOptions:
    """What the keeper said of a table; empty where it is to be found out.

    Attributes:
        columns: field by heading.
        names: meaning by word: of species, plants, and what happened.
        dates: day-first, month-first or year-first.
        species: of all rows, where no column says it.
        laid: the day from which days count in rows without a date.
        year: of dates that have none.
        same_as: the file under whose name the table came in before; ``new`` where it did not.
        leave_out: rows that cannot be read are left out; the others are taken in.
    """

    columns: Mapping[str, str] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    dates: str = ""
    species: str = ""
    laid: str = ""
    year: str = ""
    same_as: str = ""
    leave_out: bool = False

    def answered(self, option: str, about: str, said: str) -> ImportOptions:
        """With what the keeper said: of a column, of a word, or of all lines."""
        match option:
            case "map":
                return replace(self, columns={**self.columns, about: said})
            case "names":
                return replace(self, names={**self.names, about: said})
            case "dates":
                order = order_named(said)
                return replace(self, dates=order) if order in ORDER_NAMES else self
            case "same":
                return replace(self, same_as=said)
        changed: dict[str, Any] = {option: said}
        return replace(self, **changed)

    def answers(self) -> Iterator[KeptAnswer]:
        """What was said, one thing after another; not what is left out, which is said each time."""
        for option, pairs in (("map", self.columns), ("names", self.names)):
            yield from (KeptAnswer(option, about, said) for about, said in pairs.items())
        all_lines = {
            "dates": self.dates,
            "species": self.species,
            "laid": self.laid,
            "year": self.year,
            "same": self.same_as,
        }
        yield from (KeptAnswer(option, "", said) for option, said in all_lines.items() if said)

    def leaving_out(self, leaves: bool) -> ImportOptions:
        """With lines that cannot be read left out, or not."""
        return replace(self, leave_out=leaves)


def said_of_all(text: str) -> KeptAnswer | None:
    """What a keeper types of all lines, as ``year 2019``; None where it is none such."""
    name, _, value = text.partition(" ")
    if text in c.FIELDS or name not in ("year", "species", "laid") or not value.strip():
        return None
    return KeptAnswer(name, "", value.strip())


@dataclass
class TableImport:
    """What a table becomes.

    Attributes:
        uses: what each column is.
        dates_told: in which order dates are, and how that is known.
        told: by line of the file, what it becomes.
        problems: by line of the file, why it cannot be read.
        beside: what is told beside the rows.
        left_over: those of which no line says what became of them.
        entries: all lines that the table becomes.
        fresh: those of them that are not in the book yet.
        crossed_out: ids in the book that no longer count once it is taken in.
        gone: how many of those are lines that the table said before and says no more.
        back: how many lines count again that were crossed out.
    """

    file: str
    sheet: FileTable
    uses: tuple[ColumnUse, ...]
    dates_told: str
    order: str
    names: dict[str, str]
    leaves_out: bool
    told: dict[int, list[Entry]] = field(default_factory=dict)
    problems: dict[int, str] = field(default_factory=dict)
    beside: ToldBeside = field(default_factory=ToldBeside)
    left_over: LeftOver = field(default_factory=LeftOver)
    entries: list[Entry] = field(default_factory=list)
    fresh: list[Entry] = field(default_factory=list)
    crossed_out: list[str] = field(default_factory=list)
    gone: int = 0
    back: int = 0
    spellings: list[tuple[str, ...]] = field(default_factory=list)  # of one code each
    taken_for: list[str] = field(default_factory=list)  # numbers written otherwise than meant
    unused: tuple[str, ...] = ()  # headings of columns that rows of this sort do not use
    is_rival: bool = False  # whether on several laptops several versions of it came in
    not_fitting: tuple[str, ...] = ()  # what was said of words that it does not have
    words_asked: frozenset[str] = (
        frozenset()
    )  # of which it was looked up whether something was said
    species_told: str = ""  # of all lines, and how it is known
    apart: list[str] = field(default_factory=list)  # layings that are a brood at each temperature
    in_fahrenheit: tuple[str, ...] = ()  # headings of temperatures
    new_species: tuple[str, ...] = ()
    new_plants: tuple[str, ...] = ()

    @property
    def is_known(self) -> bool:
        """Whether the book has all of it already."""
        return not self.fresh and not self.crossed_out and not self.is_rival

    def record(self, desk: Desk) -> Outcome:
        """Take it in: all of it, or nothing where a row cannot be read that is not left out."""
        if self.problems and not self.leaves_out:
            return Refusal(f"{count(len(self.problems), 'line')} cannot be read")
        columns = tuple(f"{use.heading}={use.field}" for use in self.uses)
        names = tuple(f"{word}={meaning}" for word, meaning in self.names.items())
        marker = {
            "file": self.file,
            "lines": len(self.told),
            "entries": len(self.entries),
            "columns": columns,
            "names": names,
            "dates": self.order,
            "after": tuple(one.id for one in newest_imports(desk.bench.imports, self.file)),
            "said": tag_for("".join(sorted(entry.id for entry in self.entries))),
        }
        return desk.take_in(self.fresh, self.crossed_out, [(Imported, marker)])


def read_table(desk: Desk, file: str, sheet: FileTable, options: ImportOptions) -> TableImport:
    """What a table becomes in the book of a desk; nothing is written.

    Args:
        file: the name of its file, by which it is known again.

    Raises:
        UnclearTable: something must be said of it first.
    """
    try:
        return _table(desk, file, sheet, options)
    except UnclearTable as unclear:
        if unclear.option == "names" and unclear.about in options.names:
            unclear.refuse(options.names[unclear.about])
        raise


def _table(desk: Desk, file: str, sheet: FileTable, options: ImportOptions) -> TableImport:
    _refuse_name(file)
    book = desk.entries(whole=True)
    before = last_import(book, file, sheet)
    came_in = {entry.id: entry for entry in book if tag_of(entry.id)}
    names = {one.file for one in desk.bench.imports}
    same = Path(options.same_as).name.casefold()
    if same not in ("", ANOTHER):
        file = next((one for one in names if one.casefold() == same), "")
        if not file:
            there = f"it can be {', '.join(sorted(names))}" if names else "none did yet"
            raise UnclearTable(f"no table called '{options.same_as}' came in before; {there}")
    elif file not in names and not options.same_as and came_in:
        _refuse_same(desk, file, sheet, options, came_in, before)
    own = {name: entry for name, entry in came_in.items() if tag_of(name) == _tag(file)}
    strikes = _strikes_of([*book, *desk.reading.partial], file)
    return _Reading(desk, file, sheet, options, before, own, strikes).table()


def _refuse_name(file: str) -> None:
    """Ask for another name where the book cannot keep that of a file.

    Raises:
        UnclearTable: it is too long, or no text.
    """
    try:
        file.encode()
    except UnicodeEncodeError:
        raise UnclearTable("the file's name cannot be read as text; give it another name") from None
    if len(file) > LONGEST_NAME:
        raise UnclearTable(
            f"the file's name is {len(file)} letters long; give it one of at most {LONGEST_NAME}"
        )


def _strikes_of(book: Sequence[Entry], file: str) -> frozenset[str]:
    """The lines that cross out what a table said, made when it came in or was taken back as a
    whole; a keeper who crosses out one of its lines does not do so at that very instant."""
    came_in = {one.id: one.at for one in book if isinstance(one, Imported) and one.file == file}
    strikes = [one for one in book if isinstance(one, CrossedOut)]
    at = {*came_in.values(), *(one.at for one in strikes if one.entry in came_in)}
    return frozenset(one.id for one in strikes if one.at in at and not one.why)


def _refuse_same(
    desk: Desk,
    file: str,
    sheet: FileTable,
    options: ImportOptions,
    came_in: Mapping[str, Entry],
    before: Imported | None,
) -> None:
    """Ask about a table much of which came in before under another name.

    Raises:
        UnclearTable: half of what the smaller of the two says is in the other.
    """
    table = _Reading(desk, file, sheet, options, before, came_in).table()
    said = {content_of(entry.id) for entry in table.entries}
    for name in dict.fromkeys(one.file for one in reversed(desk.bench.imports)):
        theirs = {
            content_of(one)
            for one in came_in
            if tag_of(one) == _tag(name) and one not in desk.struck
        }
        both, smaller = len(said & theirs), min(len(said), len(theirs))
        if smaller and both >= ENOUGH * smaller:
            raise UnclearTable(
                f"{both:,} of the {len(said):,} entries that it becomes came in with {name}: is it"
                f" that table, grown or mended ({name}), or another ({ANOTHER})?",
                "same",
                file,
                (name, ANOTHER),
                f"say --same-as {name}; if another, --same-as {ANOTHER}",
            )


def last_import(book: Iterable[Entry], file: str, sheet: FileTable) -> Imported | None:
    """How such a table was read the last time, though it was taken back since: one of that name,
    else the one whose headings are most alike."""

    def likeness(one: Imported) -> tuple[bool, float]:
        alike = how_alike(sheet, [column.rpartition("=")[0] for column in one.columns])
        return one.file == file and alike > 0, alike

    imports = sorted(
        (one for one in book if isinstance(one, Imported)), key=lambda one: one.id, reverse=True
    )
    return max((one for one in imports if likeness(one)[1]), key=likeness, default=None)


@dataclass(frozen=True)
class TakenBack:
    """What goes where a table is taken back: its name, its lines, and what says that it came in."""

    file: str
    lines: Sequence[str]
    markers: Sequence[str]

    def record(self, desk: Desk) -> Outcome:
        """Cross all of it out."""
        return desk.take_in([], [*self.lines, *self.markers], [])


def to_take_back(desk: Desk, file: str) -> TakenBack | None:
    """All that came in with a file, the newest where none is named; None where none came in."""
    struck = desk.struck
    partial = [one for one in desk.reading.partial if one.id not in struck]
    markers = [
        one
        for one in (*desk.bench.imports, *partial)
        if isinstance(one, Imported) and (not file or one.file == file)
    ]
    if not markers:
        return None
    name = markers[-1].file
    lines = {one.id: None for one in (*desk.entries(whole=True), *partial)}
    ids = [one for one in lines if tag_of(one) == _tag(name) and one not in struck]
    gone = [one.id for one in markers if one.file == name]
    return TakenBack(name, list(reversed(ids)), gone)


def _tag(file: str) -> str:
    return tag_for(file.casefold())


class _Reading:
    """One reading of a table."""

    def __init__(
        self,
        desk: Desk,
        file: str,
        sheet: FileTable,
        options: ImportOptions,
        before: Imported | None,
        own: Mapping[str, Entry],
        its_strikes: frozenset[str] = frozenset(),
    ) -> None:
        self._desk, self._file, self._sheet, self._options = desk, file, sheet, options
        self._own, self._its_strikes = own, its_strikes
        names = {**_pairs(before.names if before else ()), **options.names}
        self._names = TaughtWords(
            {name: name if one == NO_SUM else one for name, one in names.items()}
        )
        self._wish, columns = self._species_said()
        self._uses = columns_of(sheet, columns, _pairs(before.columns if before else ()))
        self._fields = {use.field for use in self._uses}
        self._cells = list(self._all_dated())
        self._order, self._order_told = self._date_order(before)
        self._dates = DateReader(self._order, desk.zone)
        self._species_told = ""

    def _species_said(self) -> tuple[str, Mapping[str, str]]:
        """The species that the keeper said of all lines, and the columns: one of them where it is
        its name that was said."""
        said, columns = self._options.species, self._options.columns
        if not said:
            return said, columns
        headings = self._sheet.headings
        at = next((at for at, one in enumerate(headings) if bare(one) == bare(said)), None)
        is_word = bool(stage_in(said)) or bare(said) in (*map(bare, c.FIELDS), *v.YES, *v.NO)
        is_name = not is_word if at is None else any(map(_LETTERS.search, self._sheet.column(at)))
        if not is_name:
            raise UnclearTable(
                f"'{said}' is no species; say its name, as Genus species, or the column of names",
                "species",
                command="say --species NAME, or name the column with --map COLUMN=species",
            )
        return (said, columns) if at is None else ("", {**columns, headings[at]: "species"})

    def _all_dated(self) -> Iterator[tuple[int, tuple[str, ...]]]:
        """The rows by their lines, dates without a year with one."""
        above = ""
        for row in self._sheet.above:
            above = _year_alone(row.cells) or above
        for row in self._sheet.rows:
            above = _year_alone(row.cells) or above
            yield row.number, self._dated(row.cells, above)

    def _dated(self, cells: Sequence[str], above: str) -> tuple[str, ...]:
        """A row whose dates without a year have that of its column of years, of the line above with
        a year alone, of all rows, or of another date in it."""
        positions = {use.position for use in self._uses if use.field in c.DATES}
        years = [cells[use.position] for use in self._uses if use.field == "year"]
        years += [
            above,
            self._options.year,
            *(year_in(cells[place]) for place in sorted(positions)),
        ]
        year = next((one for one in years if one), "")
        return tuple(
            with_year(cell, year) if place in positions else cell
            for place, cell in enumerate(cells)
        )

    def _date_order(self, before: Imported | None) -> tuple[str, str]:
        columns = {
            use.heading: [
                day
                for _, cells in self._cells
                if not is_nothing(cell := cells[use.position])
                and amount(cell) is None
                and not is_week(cell)
                and looks_like_date(cell)
                for day in first_and_last(cell) or (cell,)
            ]
            for use in self._uses
            if use.field in c.DATES
        }
        wish = self._options.dates
        today = self._desk.now().date()
        try:
            return date_order(columns, wish, today)
        except UnclearTable:
            if before is None or not before.dates:
                raise
            return before.dates, "as the last time"

    def table(self) -> TableImport:
        """What the table becomes, the rows that cannot be read aside."""
        self._sums: list[int] = []
        self._remarks: list[int] = []
        rows = [row for row in rows_of(self._uses, self._cells, self._dates) if row.cells]
        rows = self._with_units(self._without_sums(rows))
        for read in (with_known_sex, with_known_time, with_known_counts):
            rows = all_known(rows, partial(read, names=self._names))
        of_events = self._is_of_events()
        if of_events:
            rows = self._as_above(rows, "date", NO_DATE)
        if of_events and "container" in self._fields:
            rows = self._as_above(rows, "container", NO_CONTAINER, _is_of_some_cup)
        if not of_events:
            ask_of_dates(self._uses, self._days())
        if not of_events and not self._wish:
            rows = self._as_above(rows, "species", NO_SPECIES)
        taxa, plants = self._species(rows), self._plants(rows)
        self._ask_of_generation(rows, taxa)
        result = TableImport(
            self._file,
            self._sheet,
            self._uses,
            self._order_told,
            self._order,
            dict(self._names),
            self._options.leave_out,
        )
        tell = self._tell_events if of_events else self._tell_lives
        unused = c.NOT_OF_EVENTS if of_events else c.NOT_OF_LIVES
        if not of_events and begun(self._fields):
            unused |= {"date"}
        result.unused = tuple(use.heading for use in self._uses if use.field in unused)
        while True:
            past = PastEntries(
                self._desk.bench,
                _tag(self._file),
                self._own,
                now=self._desk.now(),
                by=self._desk.keeper,
                zone=self._desk.zone,
            )
            result.left_over = LeftOver(self._said_of_left())
            record = PastRecord(past, self._taken(), left=result.left_over)
            problems = len(result.problems)
            result.told, result.beside = {}, record.beside
            good = [row for row in rows if row.number not in result.problems]
            record.expect_names(_codes_in(good))
            tell(result, record, good, taxa, plants)
            if len(result.problems) == problems:
                break
        result.taken_for = [
            f"line {row.number}: {heading} '{cell}' is taken for {words}"
            for row in rows
            if row.number in result.told
            for heading, cell, words in row.taken_for()
        ]
        result.in_fahrenheit = tuple(
            use.heading
            for use in self._uses
            if use.field in c.TEMPERATURES and unit_in(use.heading) == "f"
        )
        result.entries = past.entries
        result.species_told, lines = self._species_told, result.beside.lines
        lines[SUMS], lines[REMARKS] = self._sums, sorted([*self._remarks, *lines[REMARKS]])
        own_questions = {TWICE, LAST_DAYS, NO_DAYS, *LEFT_ANSWERS}
        for beginning in ("empty", "unit of"):
            own_questions |= {f"{beginning} {heading}" for heading in self._sheet.headings}
        result.not_fitting = tuple(
            f"{word}={meaning}"
            for word, meaning in self._options.names.items()
            if word not in self._names.fitting and word not in own_questions
        )
        result.words_asked = frozenset(self._names.asked)
        self._compare(result)
        bench = self._desk.bench
        result.new_species = _not_among(known_species(bench), taxa.values())
        result.new_plants = _not_among(known_plants(bench), plants.values())
        return result

    def _said_of_left(self) -> dict[str, str]:
        """What the keeper said of those of which no line says what became of them."""
        return {about: self._names[about] for about in LEFT_ANSWERS if about in self._names}

    def _ask_of_generation(self, rows: Sequence[TableRow], taxa: Mapping[int, str]) -> None:
        """Ask about mothers called as a generation is, one of whom is of several species.

        Raises:
            UnclearTable: it was not said yet what they are.
        """
        use = next((use for use in self._uses if use.field == "mother"), None)
        if use is None or use.how in c.SAID:
            return
        of: dict[str, set[str]] = {}
        for row in rows:
            if GENERATION.fullmatch(mother := row.text("mother")):
                of.setdefault(mother, set()).add(taxa[row.number])
        mother, species = max(of.items(), key=lambda one: len(one[1]), default=("", set()))
        if len(species) > 1:
            raise UnclearTable(
                f"{use.heading}: {mother} is of {len(species)} species; is it a generation (note)"
                " or a female of each (mother)?",
                "map",
                use.heading,
                ("note", "mother"),
            )

    def _days(self) -> dict[int, list[datetime | None]]:
        """The dates of each column, row by row."""
        return {
            use.position: [
                self._dates.read(with_year(cells[use.position], self._options.year))
                if looks_like_date(cells[use.position]) or use.field in c.DATES
                else None
                for _, cells in self._cells
            ]
            for use in self._uses
        }

    def _is_of_events(self) -> bool:
        """Whether each row tells one event."""
        names = [use.position for use in self._uses if use.field in ("container", "brood")]
        of_whom = Counter(tuple(code_key(cells[at]) for at in names) for _, cells in self._cells)
        told_again = max(of_whom.values(), default=0) > 1
        if "what happened" in self._fields:
            at = self._position("what happened")
            held = all(
                action_of(cells[at])[0] == "reached" for _, cells in self._cells if cells[at]
            )
            until = "ended" in self._fields or ("fate" in self._fields and not told_again)
            return not (held and until)  # what was in it until when
        if "date" not in self._fields or self._fields & c.OF_LIVES:
            return False
        return self._fields.isdisjoint(c.COUNTS) or told_again

    def _taken(self) -> frozenset[str]:
        """Codes that the table may not use: those of the book that are not from this table."""
        bench = self._desk.bench
        own = {entry.container for entry in self._own.values() if isinstance(entry, SetUp)}
        own |= {getattr(entry, "code", "") for entry in self._own.values()}
        codes = {*bench.founders, *bench.broods, *bench.containers, *bench.closed}
        return frozenset(code.casefold() for code in codes - own)

    def _species(self, rows: Sequence[TableRow]) -> dict[int, str]:
        """The species of each row, by its line."""
        bench = self._desk.bench
        cells = [cell for row in rows if (cell := row.text("species"))]
        wish = self._wish
        known = known_species(bench)
        if wish:
            said = names_of([wish], known, "species", bench, self._names, "--species")[wish]
        elif not cells and len(known) == 1:
            said = next(iter(known))
            self._species_told = f"{said}, the only one that the book knows; else say --species"
        else:
            said = ""
        if not cells and not said:
            raise UnclearTable(
                "no column says the species; which column is it, or of which are all lines?",
                "species",
                choices=(*self._may_be_species(), *known),
                command="say --species NAME, or name the column with --map COLUMN=species",
            )
        meanings = names_of(cells, known, "species", bench, self._names, "species")
        return {row.number: meanings.get(row.text("species"), said) for row in rows}

    def _may_be_species(self) -> Iterator[str]:
        """The names of columns that nothing else is known of and that hold names."""
        for use in self._uses:
            cells = self._sheet.column(use.position)
            names = [
                cell
                for cell in cells
                if _NAME.fullmatch(cell) and not is_nothing(cell) and not stage_in(cell)
            ]
            if use.field in (c.LEFT_OUT, "note") and 2 * len(names) > len(cells):
                yield use.heading

    def _plants(self, rows: Sequence[TableRow]) -> dict[int, str]:
        """The plant of each row, by its line."""
        bench = self._desk.bench
        cells = [cell for row in rows if (cell := row.text("host plant"))]
        meanings = names_of(cells, known_plants(bench), "plant", bench, self._names, "host plant")
        return {row.number: meanings.get(row.text("host plant"), "") for row in rows}

    def _tell_events(
        self,
        result: TableImport,
        record: PastRecord,
        rows: Sequence[TableRow],
        taxa: dict[int, str],
        plants: Mapping[int, str],
    ) -> None:
        known = {code_key(row.text("container")): row.text("container") for row in rows}
        rows = [with_target(row, known) for row in rows]
        places = with_shapes(known.keys())
        words_of = WordsOfRows(rows, places)
        rows = all_known(rows, partial(with_known_words, names=self._names, words_of=words_of))
        read = _read(result, rows, lambda row: events_of(row, taxa[row.number], plants[row.number]))
        events = [event for events in read for event in events]
        taxa.update(one_name_each([_naming(one) for one in events], self._names))
        taxa.update(_by_their_brood(events, taxa))
        events = [replace(one, taxon=taxa[one.row.number]) for one in events]
        others = self._other_broods([(one.row, one.at, one.taxon) for one in events], ONE_BROOD)
        events = [
            replace(one, row=one.row.with_text("brood", others[one.row.number]))
            if one.row.number in others
            else one
            for one in events
        ]
        record.beside.lines[REMARKS], events = _without_remarks(events)
        result.spellings = _spellings(rows)
        record.expect_layings(
            (one.row.text("mother"), one.row.text("brood"), one.taxon, one.at) for one in events
        )
        events = sorted(events, key=lambda one: one.at)
        record.left.ends_told = ends_told_by(events)
        teller = EventTeller(record, events, self._names, _species_above(rows, taxa))
        for event in events:
            self._tell(result, record, event.row.number, partial(teller.tell, event))
        if not result.problems or self._options.leave_out:
            teller.finish()
            result.problems |= teller.wrong

    def _as_above(
        self,
        rows: Sequence[TableRow],
        field: str,
        none: str,
        says: Callable[[TableRow], bool] = lambda row: True,
    ) -> list[TableRow]:
        """The rows, those that say nothing of a field saying what the row above does, where the
        keeper said so.

        Args:
            none: the answer that they say nothing.
            says: whether a row must say something of it.

        Raises:
            UnclearTable: it must be asked.
        """
        empty = [row for row in rows if not row.text(field) and says(row)]
        if not empty or len(empty) == len(rows):
            return list(rows)
        heading = rows[0].headings[field]
        about = f"empty {heading}"
        answer = self._names.get(about, "")
        if answer not in (AS_ABOVE, none):
            lines = f"{count(len(empty), 'line')}, as line {empty[0].number}"
            raise UnclearTable.of_empty(lines, heading, none)
        filled, above = [], ""
        for row in rows:
            above = row.text(field) or above
            fills = answer == AS_ABOVE and above and says(row)
            filled.append(row.with_text(field, above) if fills else row)
        return filled

    def _without_sums(self, rows: Sequence[TableRow]) -> list[TableRow]:
        """The rows without remarks below the table, and without those that only add others up, by
        the keeper's answer.

        Raises:
            UnclearTable: it must be asked whether one does.
        """
        kept = []
        for row in rows:
            if _is_remark(row, len(self._uses)):
                self._remarks.append(row.number)
                continue
            cell = next(filter(None, (_sum_in(row, name) for name in row.cells)), "")
            shape = _shape_of_sum(cell)
            said = self._names.get(cell) or self._names.get(shape)
            if cell and said not in (SUM_LINE, cell, shape):
                raise UnclearTable(
                    f"line {row.number}: '{cell}' reads as a sum or a mean of other lines, which"
                    f" is left out; is it one ({SUM_LINE}), or a line of its own ({NO_SUM})?",
                    "names",
                    shape,
                    (SUM_LINE, NO_SUM),
                )
            if cell and said == SUM_LINE:
                self._sums.append(row.number)
            else:
                kept.append(row)
        return kept

    def _with_units(self, rows: Sequence[TableRow]) -> list[TableRow]:
        """The rows, temperatures that say no unit and that can only be F in the one that the keeper
        said.

        Raises:
            UnclearTable: it must be asked.
        """
        for name in c.TEMPERATURES:
            unsaid = {
                row.number: found.value
                for row in rows
                if row.text(name) and not row.unit_of(name)
                if (found := amount(row.text(name)))
            }
            if not unsaid or median(unsaid.values()) <= ROOM_C[1]:
                continue
            heading = next(row.headings[name] for row in rows if row.number in unsaid)
            about, low, high = f"unit of {heading}", min(unsaid.values()), max(unsaid.values())
            unit = self._names.get(about, "").upper()
            if unit not in UNITS:
                lines = count(len(unsaid), "line")
                raise UnclearTable(
                    f"{heading}: {low:g} to {high:g} in {lines}: C or F?",
                    "names",
                    about,
                    UNITS,
                )
            rows = [
                row.with_text(name, f"{row.text(name)} {unit}") if row.number in unsaid else row
                for row in rows
            ]
        return list(rows)

    def _fate_in_our_words(self, row: TableRow) -> TableRow:
        """A row whose word for what became of an animal is what the keeper said it means."""
        cell = row.text("fate")
        meaning = self._names.get(cell, cell)
        heading = row.headings.get("fate", "")
        if cell and fate_in(meaning, heading) is None:
            likely = fate_in(cell.replace("?", " "), heading)
            likely = likely or ("died" if cause_of(cell) else NOT_KNOWN)
            often = Counter(self._sheet.column(self._position("fate")))[cell]
            raise UnclearTable(
                f"{heading}: '{cell}' in {count(often, 'line')} is not known; what became of"
                f" {'it' if often == 1 else 'them'}?",
                "names",
                cell,
                tuple(dict.fromkeys((likely, *FATES))),
                f"say it as: --as '{cell}={likely}' ({', '.join(FATES)})",
            )
        answered = stage_in(meaning) if cell != meaning else ""
        if answered and went_beyond(row, answered):
            meaning = "died"
        stage = dead_stage_in(cell) if meaning == "died" and cell != meaning else ""
        return row.with_text("fate", f"{meaning} {stage}".strip()) if cell else row

    def _position(self, name: str) -> int:
        return next(use.position for use in self._uses if use.field == name)

    def _tell_lives(
        self,
        result: TableImport,
        record: PastRecord,
        rows: Sequence[TableRow],
        taxa: dict[int, str],
        plants: Mapping[int, str],
    ) -> None:
        rows = [
            with_dead_of_stages(self._fate_in_our_words(with_deaths_among_dates(row)))
            for row in rows
        ]
        laid = self._laid()
        result.spellings = _spellings(rows)
        marks_only = marks_for_the_dead_alone(rows)
        is_whole = self._days_are_whole(rows)
        none_is_egg = self._none_is_egg(rows, days_are_whole=is_whole)
        read = partial(
            life_of,
            laid=laid,
            marks_only=marks_only,
            days_are_whole=is_whole,
            none_is_egg=none_is_egg,
        )
        lives = _read(result, rows, lambda row: (row, read(row)))
        of_broods = [
            Naming(row, row.text("brood"), life.begun, taxa[row.number])
            for row, life in lives
            if row.text("brood") and life.number == 1 and not any(map(row.text, c.COUNTS))
        ]
        taxa.update(one_name_each(of_broods, self._names))
        begun = [(row, life.begun, taxa[row.number]) for row, life in lives]
        others = self._other_broods(begun, PAUSE)
        good = [
            row.with_text("brood", others[row.number]) if row.number in others else row
            for row, _ in lives
        ]
        named = named_rows(
            good,
            [life for _, life in lives],
            [taxa[row.number] for row in good],
            [plants[row.number] for row in good],
            self._taken(),
        )
        result.apart = apart_by_warmth(named)
        told = broods_told(named)
        record.left.ends_told = {
            stage for one in named for stage in ends_told_of(one.row, one.life)
        }
        record.expect_layings(
            (
                one.row.text("mother"),
                one.brood,
                one.taxon,
                (told[code_key(one.brood)].laid or (one.life.begun,))[0],
            )
            for one in named
        )
        for one in named:
            tell = partial(tell_life, record, one, told[code_key(one.brood)])
            self._tell(result, record, one.row.number, tell)

    def _days_are_whole(self, rows: Sequence[TableRow]) -> bool:
        """Whether days stand under stages alone that an animal went through, by the keeper's
        answer where the dead leave that open.

        Raises:
            UnclearTable: it must be asked.
        """
        unsure = dead_in_or_after(rows)
        answer = self._names.get(LAST_DAYS, "")
        if unsure and answer not in (AFTER_IT, IN_IT):
            row = unsure[0]
            stage = [name for name in row.cells if name.startswith("days as ")][-1]
            raise UnclearTable(
                f"{count(len(unsure), 'line')} of dead animals end with days of a stage, as line"
                f" {row.number} ({row.headings[stage]}: {row.text(stage)}): did they die in the"
                f" stage behind it ({AFTER_IT}), or so many days old in it ({IN_IT})?",
                "names",
                LAST_DAYS,
                (AFTER_IT, IN_IT),
            )
        return answer == AFTER_IT if unsure else days_end_behind(rows) == {True}

    def _none_is_egg(self, rows: Sequence[TableRow], *, days_are_whole: bool) -> bool:
        """Whether the dead without any days died as eggs, by the keeper's answer.

        Raises:
            UnclearTable: it must be asked.
        """
        dead = dead_without_days(rows, days_are_whole=days_are_whole)
        answer = self._names.get(NO_DAYS, "")
        if dead and answer not in (AS_EGGS, NOT_KNOWN):
            have = "has" if len(dead) == 1 else "have"
            raise UnclearTable(
                f"{len(dead)} that died {have} no days, as line {dead[0].number}: as eggs, or not"
                " known?",
                "names",
                NO_DAYS,
                (AS_EGGS, NOT_KNOWN),
            )
        return bool(answer == AS_EGGS)

    def _other_broods(
        self, rows: Sequence[tuple[TableRow, datetime, str]], apart: timedelta
    ) -> dict[int, str]:
        """What broods are called by line that go by the name of another, by the keeper's answer.

        Args:
            rows: each with its instant and its species.
            apart: so long behind another, one of that name may be another brood.

        Raises:
            UnclearTable: it must be asked whether they are others.
        """
        again = called_again(rows, apart)
        answer = self._names.get(TWICE, "")
        if not again or answer == SAME_BROOD:
            return {}
        names = {line: name for line, (name, _) in again.items()}
        if answer == OTHER_BROOD:
            return names
        line = min(names)
        row, at, taxon = next(one for one in rows if one[0].number == line)
        first = again[line][1]
        raise UnclearTable(
            f"{row.headings['brood']} {row.text('brood')} of line {line} ({taxon}, {at:%d %b %Y})"
            f" is called as that of line {first}, of another time or species;"
            f" {count(len(set(names.values())), 'brood')} so in all: are they others"
            f" ({OTHER_BROOD}, as {names[line]}), or do they go on ({SAME_BROOD})?",
            "names",
            TWICE,
            (OTHER_BROOD, SAME_BROOD),
        )

    def _laid(self) -> datetime | None:
        if not self._options.laid:
            return None
        found = DateReader(self._order or "dmy", self._desk.zone).read(self._options.laid)
        if found is None:
            raise UnclearTable(
                f"--laid is '{self._options.laid}'; it must be a day, as 2026-05-03", "laid"
            )
        return found

    @staticmethod
    def _tell(
        result: TableImport, record: PastRecord, number: int, tell: Callable[[], None]
    ) -> None:
        """Tell a row; what it cannot be is its problem."""
        before = len(record.past.entries)
        try:
            tell()
        except NotSo as wrong:
            result.problems[number] = str(wrong)
            return
        result.told.setdefault(number, []).extend(record.past.entries[before:])
        if not result.told[number]:
            result.problems[number] = (
                "nothing in it is understood; say which columns are what happened and how many"
            )

    def _compare(self, result: TableImport) -> None:
        """What of it the book has already, and what the book has that it no longer says."""
        struck, bench = self._desk.struck, self._desk.bench
        said = {entry.id for entry in result.entries}
        result.is_rival = any(
            one[0].file.casefold() == self._file.casefold() for one in rival_imports(bench.imports)
        )
        result.fresh = [entry for entry in result.entries if entry.id not in self._own]
        gone = [one for one in self._own if one not in said and one not in struck]
        result.gone = len(gone)
        result.crossed_out = list(reversed(gone))
        # What the table said no more, or was taken back with it, counts again; what the keeper
        # crossed out one by one stays so.
        strikes = grouped(
            (target, strike)
            for strike, target in bench.strikes.items()
            if target in said and strike not in struck
        )
        back = [ids for ids in strikes.values() if self._its_strikes.issuperset(ids)]
        result.back = len(back)
        result.crossed_out += [strike for ids in back for strike in ids]


def _not_among(known: Collection[str], names: Iterable[str]) -> tuple[str, ...]:
    """The names that are not known yet, each once."""
    return tuple(name for name in dict.fromkeys(names) if name and name not in known)


def _naming(event: EventRow) -> Naming:
    """What an event says of the species of the brood or container that it is about."""
    is_new = event.action == "reached" and event.stage == "egg"
    whose = event.row.text("brood") or name_of(event)
    return Naming(event.row, whose, event.at, event.taxon, event.stage, is_new)


def _is_remark(row: TableRow, columns: int) -> bool:
    """Whether a row of several columns is nothing but words in one cell, of which no event is
    known, or which stand for a date."""
    if columns < SEVERAL or len(row.cells) != 1:
        return False
    if _year_alone(tuple(row.cells.values())):
        return True
    ((field, text),) = row.cells.items()
    words = [word for word in bare(text).split() if not word.isdecimal()]
    no_date = field in c.DATES and words and not looks_like_date(text) and not _sum_in(row, field)
    return no_date or (len(words) >= SEVERAL and field != "what happened")


def _is_of_some_cup(row: TableRow) -> bool:
    """Whether a row of events must say in which container: it counts animals, of no named brood."""
    return bool(row.text("number") or row.text("what happened")) and not row.text("brood")


def _year_alone(cells: Sequence[str]) -> str:
    """The year in a row of nothing else: ``2021``, ``Saison 2021``; empty where it is none."""
    filled = [cell for cell in cells if cell]
    words = bare(filled[0]).split() if len(filled) == 1 else []
    years = [word for word in words if _YEAR.fullmatch(word)]
    is_title = len(years) == 1 and len(words) < SEVERAL and not any(map(_is_sum_word, words))
    return years[0] if is_title else ""


def _without_remarks(events: Sequence[EventRow]) -> tuple[list[int], list[EventRow]]:
    """The lines of remarks about a cup, or none, of which nothing else is told, and the events
    without them."""

    def is_remark(event: EventRow) -> bool:
        return event.row.cells.keys() <= OF_REMARKS and event.action in ("", "noted")

    told = {
        code_key(name)
        for one in events
        if not is_remark(one)
        for name in (name_of(one), moved_to(one) if one.action == "moved" else "")
    }
    alone = {
        one.row.number for one in events if is_remark(one) and code_key(name_of(one)) not in told
    }
    return sorted(alone), [one for one in events if one.row.number not in alone]


def _is_sum_word(word: str) -> bool:
    return has(v.SUM, bare(word)) or has(v.MEAN, bare(word))


def _shape_of_sum(cell: str) -> str:
    """What all sums that are called alike have in common: ``Summe`` of ``Summe 2016``."""
    words = cell.split()
    rest = [word for word in words[1:] if not (word.isdecimal() or len(word) == 1)]
    return words[0] if words and _is_sum_word(words[0]) and not rest else cell


def _sum_in(row: TableRow, name: str) -> str:
    """What a row says of a field, where that reads as a sum or a mean of other rows: by its words
    for what happened, or by a name that begins or ends with a word for it."""
    cell = row.text(name)
    if name == c.LEFT_OUT:
        cell = cell.partition("; ")[0].rpartition(": ")[2]  # of several the first, no heading
    words = [word for word in bare(cell).split() if not word.isdecimal()]
    if len(words) == 2 and _is_sum_word(words[0]) and len(words[1]) == 1:
        words.pop()  # of brood A
    rest = [word for word in words if not _is_sum_word(word)]
    if name in NAMING:
        rest = [] if says_nothing_but(v.RECKONED, " ".join(rest)) else rest
    are_beside = len(rest) < len(words) and all(has(v.BESIDE_SUM, word) for word in rest)
    is_sum = (bool(words) and (not rest or are_beside)) or cell.strip() in SIGNS_OF_SUMS
    if name in NAMING and words:
        is_sum = is_sum or _is_sum_word(words[0]) or _is_sum_word(words[-1])
    return cell if is_sum or (name == "what happened" and has(v.SUM, bare(cell))) else ""


def _by_their_brood(events: Sequence[EventRow], taxa: Mapping[int, str]) -> dict[int, str]:
    """The species of each line that has none of its own, where all other lines of its brood name
    one."""
    of: dict[str, set[str]] = {}
    for one in events:
        of.setdefault(code_key(one.row.text("brood")), set()).add(taxa[one.row.number])
    return {
        one.row.number: named.pop()
        for one in events
        if not taxa[one.row.number] and (brood := code_key(one.row.text("brood")))
        if len(named := of[brood] - {""}) == 1
    }


def _species_above(rows: Sequence[TableRow], taxa: Mapping[int, str]) -> dict[int, str]:
    """The species of the line above, of each line that has none of its own."""
    found, above = {}, ""
    for row in rows:
        above = taxa[row.number] or above
        if above and not taxa[row.number]:
            found[row.number] = above
    return found


def _codes_in(rows: Iterable[TableRow]) -> Iterator[str]:
    """What rows call containers and broods, each as often as they do."""
    for row in rows:
        yield from filter(None, map(row.text, ("container", "to", "brood")))


def _spellings(rows: Sequence[TableRow]) -> list[tuple[str, ...]]:
    """The codes of containers and broods that rows write in several ways, capitals aside too."""
    ways: dict[str, dict[str, None]] = {}
    for name in _codes_in(rows):
        ways.setdefault(code_key(name), {}).setdefault(name)
    return [tuple(names) for names in ways.values() if len(names) > 1]


def _read(
    result: TableImport, rows: Sequence[TableRow], reading: Callable[[TableRow], AnyRead]
) -> list[AnyRead]:
    """What rows say; those that cannot be so stand among the problems."""
    read: list[AnyRead] = []
    for row in rows:
        try:
            read.append(reading(row))
        except NotSo as wrong:
            result.problems[row.number] = str(wrong)
    return read


def _pairs(said: Sequence[str]) -> dict[str, str]:
    """``word=meaning`` by word."""
    pairs = (one.rpartition("=") for one in said)
    return {name: meaning for name, _, meaning in pairs if name and meaning}
