"""Lines below the names of the columns that name them again, maybe in another order or unit: what
stands below each is read under its own names, of tables, days and loggers alike."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from rounds.bench.plurals import and_more
from rounds.exchange.loggers.cells import kind_of, plain, split, unit_in
from rounds.exchange.loggers.headings import bare, says_humidity, says_temperature, unit_of
from rounds.exchange.loggers.table import TIMES, headings_above

TOLD = 3  # lines that are named; of others it is told how many
_NUMBERS, _LETTERS = re.compile(r"\d"), re.compile(r"[^\W\d_]")


def named_each(names: Sequence[str]) -> list[str]:
    """Names of columns, each once: one without a name is called by its number, and of two called
    alike the later gets a number."""
    seen: Counter[str] = Counter()
    each = []
    for name in (name or f"column {at}" for at, name in enumerate(names, start=1)):
        seen[name.casefold()] += 1
        often = seen[name.casefold()]
        each.append(name if often == 1 else f"{name} {often}")
    return each


def _key(name: str) -> str:
    """A name without its unit of temperature, where it has one."""
    return bare(name) if unit_of(name) else re.sub(r"\W", "", name.casefold())


class NamesOfColumns:
    """The names of the columns, by which a line that has them again is known."""

    def __init__(self, names: Sequence[str]) -> None:
        self._known = {name.casefold() for name in names if name}
        self._keys = Counter(_key(name) for name in names if name)

    def know_one_of(self, cells: Iterable[str]) -> bool:
        """Whether one of some cells is a name of a column."""
        return any(cell.casefold() in self._known for cell in cells)

    def come_again_in(self, cells: Sequence[str]) -> bool:
        """Whether a line is of words alone, most of which are names of columns and each another's:
        the same names in another order or unit, with some left out, or with others beside them."""
        filled = [cell for cell in cells if cell]
        if not self.know_one_of(filled):
            return False
        found = (Counter(map(_key, filled)) & self._keys).total()
        return found > 1 and 2 * found > len(filled) and are_words(filled)


def are_words(cells: Iterable[str]) -> bool:
    """Whether cells are of words alone: no number, date or time of day."""
    return all(kind_of(cell) in ("text", "empty") for cell in cells)


class InOneOrder:
    """Puts cells in the order of a table's first line of names, under whatever names they stand.

    Attributes:
        columns: the names of all columns, those that only a later line names last.
        same, otherwise: numbers of the lines that name the same columns again, or otherwise.
    """

    def __init__(self, names: Sequence[str]) -> None:
        self.columns = named_each(names)
        self.same: list[int] = []
        self.otherwise: list[int] = []
        self._first = [(at, "") for at in range(len(names))]
        self._under = self._first
        self._places = {name.casefold(): at for at, name in enumerate(self.columns)}

    @property
    def is_first(self) -> bool:
        """Whether cells stand now as under the first names."""
        return self._under == self._first

    def name(self, number: int, cells: Sequence[str]) -> None:
        """A line of names, which holds until the next one."""
        names = named_each(cells)
        here = {name.casefold() for name in names}
        self._under = [self._place(name, here) for name in names]
        (self.same if self.is_first else self.otherwise).append(number)

    def placed(self, cells: Sequence[str]) -> dict[int, str]:
        """The cells of a line by their columns."""
        return {
            at: f"{cell} {unit}" if unit and _NUMBERS.search(cell) and not unit_in(cell) else cell
            for (at, unit), cell in zip(self._under, cells, strict=False)
        }

    def _place(self, name: str, here: set[str]) -> tuple[int, str]:
        """The column of a name, and the unit to say beside its numbers: one whose name differs in
        the unit of temperature alone is the same column."""
        folded, unit = name.casefold(), unit_of(name)
        if unit and folded not in self._places:
            for known, at in self._places.items():
                if known not in here and _key(known) == _key(name):
                    return at, unit.upper()
        if folded not in self._places:
            self._places[folded] = len(self.columns)
            self.columns.append(name)
        return self._places[folded], ""

    def told(self, same: Sequence[int] = ()) -> Iterator[str]:
        """What came of those lines, in words.

        Args:
            same: further lines that name the same columns again.
        """
        if again := sorted([*self.same, *same]):
            names = "name" if again[1:] else "names"
            yield f"{lines_named(again)} {names} the columns again, left out"
        if self.otherwise:
            names = f"{'name' if self.otherwise[1:] else 'names'} the columns otherwise"
            yield f"{lines_named(self.otherwise)} {names}, and what is below is read so"


def lines_named(lines: Sequence[int]) -> str:
    """Lines of a file by their numbers, the first few of many: ``lines 7, 32``."""
    named = ", ".join(f"{line:,}" for line in lines[:TOLD])
    return f"{'lines' if lines[1:] else 'line'} {named}{and_more(len(lines), TOLD)}"


def under_their_own(
    names: Sequence[str], below: Iterable[tuple[int, Sequence[str]]]
) -> tuple[InOneOrder, list[tuple[int, tuple[str, ...]]], list[str]]:
    """The rows of a table, each cell under the column that the last line of names before it says.

    Args:
        names: of the columns, as they stand in the first line; each may be empty.
        below: number and cells of each line below.

    Returns:
        the lines of names; the rows; the names of the columns that hold something.
    """
    order, again = InOneOrder(names), NamesOfColumns(names)
    rows: list[tuple[int, dict[int, str]]] = []
    for number, cells in below:
        if again.come_again_in(cells):
            order.name(number, cells)
        else:
            rows.append((number, order.placed(cells)))
    filled = {at for _, by in rows for at, cell in by.items() if cell}
    used = [at for at in range(len(order.columns)) if at < len(names) or at in filled]
    placed = [(number, tuple(by.get(at, "") for at in used)) for number, by in rows]
    return order, placed, [order.columns[at] for at in used]


def lines_in_one_order(
    lines: Sequence[str], first: int, separator: str
) -> tuple[list[str], tuple[str, ...]]:
    """The lines of a logger's file as if all stood below its first names of columns, in their order
    and with a unit beside the numbers of another one; and what came of later names, in words.

    Each line keeps its place; one that names the columns again becomes the first names.

    Args:
        first: index of the first line of readings.
    """
    names, above = headings_above(lines, first, separator)
    order, again = InOneOrder(names), NamesOfColumns(names)
    result, heads, words = list(lines), [range(above, first)], False
    for number in range(first, len(lines) if names else first):
        line = lines[number]
        if not line or line.isspace():
            continue
        if _LETTERS.search(line) and are_words(cells := split(line, separator)):
            words = len(cells) > 1
            continue
        if words and _has_time(line, separator):
            here, at = headings_above(lines, number, separator)
            names_all = len(here) >= len(split(line, separator)) and (
                again.know_one_of(here) or any(map(_says_what, here))
            )
            if names_all or again.come_again_in(here):
                order.name(at + 1, here)
                heads.append(range(at, number))
        words = False
        if not order.is_first and _has_time(line, separator):
            by = order.placed([plain(cell) for cell in split(line, separator)])
            result[number] = _joined(map(by.get, range(len(order.columns))), separator)
    for head in heads if heads[1:] else ():
        result[head.start] = _joined(order.columns, separator)
        result[head.start + 1 : head.stop] = [""] * (len(head) - 1)
    return result, tuple(order.told())


def _says_what(heading: str) -> bool:
    return says_temperature(heading) or says_humidity(heading)


def _has_time(line: str, separator: str) -> bool:
    return any(kind_of(cell) in TIMES for cell in split(line, separator))


def _joined(cells: Iterable[str | None], separator: str) -> str:
    return separator.join(
        f'"{cell}"' if cell and separator in cell else cell or "" for cell in cells
    )
