"""Lines below the names of the columns that name them again, maybe in another order: what stands
below each is read under its own names."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from rounds.exchange.loggers.cells import kind_of


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


class NamesOfColumns:
    """The names of the columns, by which a line that has them again is known."""

    def __init__(self, names: Sequence[str]) -> None:
        self._known = Counter(name.casefold() for name in names if name)

    def come_again_in(self, cells: Sequence[str]) -> bool:
        """Whether a line is of words alone, most of which are names of columns and each another's:
        the same names in another order, with some left out, or with others beside them."""
        filled = [folded for cell in cells if (folded := cell.casefold())]
        if sum(cell in self._known for cell in filled) < 2:
            return False
        found = (Counter(filled) & self._known).total()
        return found > 1 and 2 * found > len(filled) and {*map(kind_of, filled)} == {"text"}


def under_their_own(
    names: Sequence[str], below: Iterable[tuple[int, Sequence[str]]]
) -> tuple[list[str], list[tuple[int, tuple[str, ...]]], list[int], list[int]]:
    """The rows of a table, each cell under the column that the last line of names before it says.

    Args:
        names: of the columns, as they stand in the first line; each may be empty.
        below: number and cells of each line below.

    Returns:
        the names of all columns, those that only a later line names last; the rows; the numbers of
        the lines that name the same columns again, and of those that name them otherwise.
    """
    columns = named_each(names)
    places = {name.casefold(): at for at, name in enumerate(columns)}
    order: Sequence[int] = range(len(columns))
    again = NamesOfColumns(names)
    rows: list[tuple[int, dict[int, str]]] = []
    same: list[int] = []
    otherwise: list[int] = []
    for number, cells in below:
        if not again.come_again_in(cells):
            rows.append((number, dict(zip(order, cells, strict=False))))
            continue
        order = []
        for name in named_each(cells):
            order.append(places.setdefault(name.casefold(), len(places)))
            columns += [name] if len(columns) < len(places) else []
        (same if list(order) == list(range(len(names))) else otherwise).append(number)
    used = [*range(len(names)), *sorted({at for at in _filled(rows) if at >= len(names)})]
    placed = [(number, tuple(by.get(at, "") for at in used)) for number, by in rows]
    return [columns[at] for at in used], placed, same, otherwise


def _filled(rows: Iterable[tuple[int, dict[int, str]]]) -> Iterator[int]:
    for _, by in rows:
        yield from (at for at, cell in by.items() if cell)
