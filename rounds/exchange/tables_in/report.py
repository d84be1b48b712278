"""What a table becomes, in lines: each column, each row, what cannot be read, and the sum."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from shlex import quote

from rounds.app.desk import Recorded
from rounds.bench.measures import Measures
from rounds.bench.plurals import PLURALS, and_more, count, of_stage
from rounds.entries.base import Entry
from rounds.entries.entry_factory import kind_name
from rounds.entries.registry import Counted, Stocked
from rounds.entries.wording import saying
from rounds.exchange.tables_in.columns import LEFT_OUT, ColumnUse
from rounds.exchange.tables_in.life_rows import assumed_words
from rounds.exchange.tables_in.record import GROWN
from rounds.exchange.tables_in.table_import import TableImport
from rounds.grouping import summed

EXAMPLES = 24  # letters of a column's examples
NAMES = 22  # letters of a heading
MAX_LEFT = 10  # containers of which it is told that nobody knows what became of them


def mapping_lines(table: TableImport) -> Iterator[str]:
    """What each column of the table becomes, and how its dates are read."""
    rows, width = len(table.sheet.rows), len(table.uses)
    yield (f"{table.file}: {count(rows, 'line')}, {count(width, 'column')}; {table.sheet.read_as}")
    yield from (f"  {row}" for row in column_rows(table))
    yield f"dates: {table.dates_told}"
    if table.unused:
        yield f"not used in rows of this sort: {', '.join(table.unused)}"
    if table.species_told:
        yield f"species: {table.species_told}"


def column_rows(table: TableImport) -> Iterator[str]:
    """A line a column: its name, what is in it, what it becomes."""
    wide = min(NAMES, max(len(use.heading) for use in table.uses))
    for use in table.uses:
        filled = f"{use.filled} of {len(table.sheet.rows)} lines"
        yield (
            f"{use.heading[:NAMES]:{wide}}  {_examples(use):{EXAMPLES}}  {_becomes(use)}, {filled}"
        )


def _examples(use: ColumnUse) -> str:
    text = ", ".join(use.examples)
    return text if len(text) <= EXAMPLES else f"{text[: EXAMPLES - 3]}..."


def _becomes(use: ColumnUse) -> str:
    return f"{use.field} ({use.how})" if use.field != LEFT_OUT else f"{LEFT_OUT}: {use.how}"


def row_lines(table: TableImport, measures: Measures) -> Iterator[str]:
    """What each line becomes, those that cannot be read first."""
    yield from problem_lines(table)
    for number, entries in sorted(table.told.items()):
        yield f"line {number}: {_by_day(entries, measures)}"


def _by_day(entries: Sequence[Entry], measures: Measures) -> str:
    """What some entries say, the day before those of each."""
    parts: list[str] = []
    before = None
    for entry in entries:
        day = entry.at.date()
        text = saying(entry, measures)
        parts.append(text if day == before else f"{day.day} {day:%b %Y}: {text}")
        before = day
    return "; ".join(parts)


def problem_lines(table: TableImport) -> Iterator[str]:
    """Why lines cannot be read."""
    for number, why in sorted(table.problems.items()):
        yield f"line {number} cannot be read: {why}"


def sum_lines(table: TableImport) -> Iterator[str]:
    """What the table is in all: animals, broods, names that are new, and what is not known."""
    broods = {entry.brood for entry in table.entries if isinstance(entry, Stocked | Counted)}
    came = sum(entry.number for entry in table.entries if isinstance(entry, Stocked))
    grown = [
        (
            sum(getattr(entry, "number", 0) for entry in table.entries if isinstance(entry, kind)),
            kind_name(kind),
        )
        for kind in GROWN.values()
    ]
    parts = [count(came, "animal"), *(f"{number:,} {what}" for number, what in grown if number)]
    yield f"in {count(len(broods), 'brood')}: {', '.join(parts)}"
    if table.new_species:
        yield f"NEW species: {', '.join(table.new_species)}"
    if table.new_plants:
        yield f"NEW plants: {', '.join(table.new_plants)}"
    if table.apart:
        yield f"a brood at each temperature, of one laying: {_first(table.apart)}"
    if table.in_fahrenheit:
        yield f"{' and '.join(table.in_fahrenheit)} is in F, recorded in C"
    if table.not_fitting:
        words = ", ".join(table.not_fitting)
        yield f"said of words that it does not have, or does not ask about: {words}"
    if table.spellings:
        yield f"taken for one: {'; '.join(', '.join(names) for names in table.spellings)}"
    yield from table.taken_for[:MAX_LEFT]
    if len(table.taken_for) > MAX_LEFT:
        yield f"and {len(table.taken_for) - MAX_LEFT} such numbers more; each has a note"
    beside = table.beside
    yield from beside.not_used[:MAX_LEFT]
    if len(beside.not_used) > MAX_LEFT:
        yield f"and {len(beside.not_used) - MAX_LEFT} such days more that are not used"
    yield from (f"{words}: {_lines(lines)}" for words, lines in beside.lines.items() if lines)
    if beside.followed:
        yield (
            "moved, though no line says so, for their brood goes on there:"
            f" {_first(beside.followed)}"
        )
    if likely := beside.likely:
        stages = ", ".join(f"{PLURALS.get(stage, stage)} ({n})" for stage, n in likely.items())
        yield f"of which stage {likely.total()} were is not written: taken for {stages}"
    for stage, reached in beside.assumed.items():
        where = [f"{code} ({of_stage(n, stage)})" for code, n in reached.items()]
        yield f"{assumed_words(stage)} {_first(where)}"
    if left := table.left_over.sentence():
        yield left
    if beside.left:
        yield f"not known at the end: {_left(table)}"


def _lines(numbers: Sequence[int]) -> str:
    """Lines of the file by their numbers: line 4; lines 4, 7 and 3 more."""
    return f"{'line' if len(numbers) == 1 else 'lines'} {_first(list(map(str, numbers)))}"


def _first(named: Sequence[str]) -> str:
    """The first of several, and how many there are more."""
    return ", ".join(named[:MAX_LEFT]) + and_more(len(named), MAX_LEFT)


def _left(table: TableImport) -> str:
    """What became of how many of each stage is not known."""
    stages = summed(of_one for left in table.beside.left.values() for of_one in left.items())
    where = list(table.beside.left)
    names = f" ({', '.join(where)})" if len(where) <= MAX_LEFT else ""
    return f"what became of {', '.join(of_stage(n, stage) for stage, n in stages.items())}{names}"


def standing_words(table: TableImport) -> str:
    """How many lines are understood, and what of them the book has already."""
    understood = count(len(table.told), "line")
    lines = f"{understood} {'is' if len(table.told) == 1 else 'are'} understood"
    wrong = f", {len(table.problems)} cannot be read" if table.problems else ""
    if table.is_known and not table.problems:
        return f"{lines}; the book has all of it already"
    known = len(table.entries) - len(table.fresh)
    parts = [f"{count(len(table.fresh), 'entry', 'entries')} new"]
    parts += [f"{known:,} known"] if known else []
    parts += [f"{table.gone:,} no longer in it, to be crossed out"] if table.gone else []
    parts += [f"{table.back:,} that were crossed out count again"] if table.back else []
    return f"{lines}{wrong}; {', '.join(parts)}"


def left_out_words(table: TableImport) -> str:
    """The columns of which nothing comes in, with what is in them; empty where there is none."""
    left = [use for use in table.uses if use.field == LEFT_OUT and use.filled]
    told = ", ".join(f"{use.heading} ({_examples(use)})" for use in left)
    return f"columns that are left out: {told}" if told else ""


def recorded_words(table: TableImport, outcome: object) -> Sequence[str]:
    """What was recorded."""
    assert isinstance(outcome, Recorded)
    changed = len(table.fresh) + table.back
    lines = [f"recorded: {count(changed, 'entry', 'entries')} from {table.file}"]
    if table.gone:
        lines.append(f"crossed out: {table.gone:,} that the table no longer says")
    lines.append(f"all of it is taken back with: rounds import --undo {quote(table.file)}")
    if table.sheet.not_read:
        lines.append(f"not read of that file: {', '.join(table.sheet.not_read)}")
    return lines
