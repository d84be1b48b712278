"""What every list on a screen is made of: rows of cells, each with its words and how much they
matter."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from typing import Any, Literal, overload

from msgspec import Struct

# How much a cell matters. The words say it too; the tone never stands alone.
Tone = Literal["plain", "quiet", "strong", "due", "late", "urgent", "danger", "good", "cursor"]


GAP = 1  # between columns
EDGE = 3  # cells left of a row: the cursor, the sign of the state, the mark


class Cell(Struct, frozen=True):
    """Some words and their tone, and fewer words for where the room is too narrow.

    ``stressed`` are the last words of the text where they alone have the tone; the rest is plain.
    """

    text: str
    tone: Tone = "plain"
    short: str = ""
    stressed: str = ""


class Column(Struct, frozen=True):
    """A column: its heading, how wide it is, its share of spare width, and its side.

    In little room those that grow shrink to ``least``; then columns are left out, those that
    ``give`` way first.
    """

    heading: str
    width: int
    grows: int = 0
    right: bool = False
    least: int = 4
    gives: int = 0  # its turn to be left out; 0 never


class CellsLater(Sequence[Cell]):
    """Cells that are made when they are first asked for: of a long list few lines are drawn.

    Args:
        make: makes them.
        of: the very thing that they tell.
        by: in what form; of the same thing in an equal form they are the same.
    """

    def __init__(self, make: Callable[[], tuple[Cell, ...]], of: object, by: object) -> None:
        self._make, self._of, self._by = make, of, by

    @cached_property
    def _made(self) -> tuple[Cell, ...]:
        return self._make()

    @overload
    def __getitem__(self, place: int) -> Cell: ...
    @overload
    def __getitem__(self, place: slice) -> tuple[Cell, ...]: ...
    def __getitem__(self, place: Any) -> Any:
        return self._made[place]

    def __len__(self) -> int:
        return len(self._made)

    def __iter__(self) -> Iterator[Cell]:
        return iter(self._made)

    def __eq__(self, other: object) -> bool:
        if isinstance(other, CellsLater) and self._of is other._of and self._by == other._by:
            return True
        return isinstance(other, Sequence) and self._made == tuple(other)

    def __hash__(self) -> int:
        return hash(self._made)

    def __repr__(self) -> str:
        return repr(self._made)


class Row(Struct, frozen=True):
    """A line of a list; ``key`` names what it is about, ``sign`` is that of its state, drawn left
    of it.

    ``columns`` are its own where they are not those of the list; ``tone`` is that of the whole line
    where it has one.
    """

    key: str
    cells: Sequence[Cell]
    sign: str = " "
    columns: tuple[Column, ...] = ()
    tone: Tone | None = None


class Line(Struct, frozen=True):
    """A line of running text made of cells."""

    cells: tuple[Cell, ...]
    hang: int = 0  # how far its second and later lines are set in
    right: str = ""  # what stands at the right margin of its first

    @property
    def text(self) -> str:
        """The line's words alone."""
        return "".join(
            [*(cell.text for cell in self.cells), f"   {self.right}" if self.right else ""]
        )


def _cells(parts: Iterable[str | Cell], tone: Tone = "plain") -> tuple[Cell, ...]:
    return tuple(part if isinstance(part, Cell) else Cell(part, tone) for part in parts)


def line(*parts: str | Cell, tone: Tone = "plain", hang: int = 0, right: str = "") -> Line:
    """A line from cells, and words in that tone."""
    return Line(_cells(parts, tone), hang, right)


def headed(title: str, beside: str) -> Line:
    """A heading, and in a quiet tone what stands beside it."""
    return line(Cell(title, "strong"), Cell(f"   {beside}", "quiet"))


def section(title: str, beside: str = "") -> list[Line]:
    """An empty line, and a heading with what stands beside it."""
    return [line(""), headed(title, beside) if beside else line(title, tone="strong")]


def row_of(key: str, *parts: str | Cell, sign: str = " ") -> Row:
    """A line of a list from words and cells."""
    return Row(key, _cells(parts), sign)


def labelled(label: str, text: str, tone: Tone = "plain") -> Line:
    """A line with a quiet label before it."""
    label = f"{label:<5} "
    return line(Cell(label, "quiet"), Cell(text, tone), hang=len(label))


def aside(label: str, text: str) -> Line:
    """A line with a label, all of it quiet."""
    return labelled(label, text, "quiet")


def widths(columns: tuple[Column, ...], room: int) -> tuple[int, ...]:
    """How wide each column is in that much room; those that grow share what is spare, or give what
    is wanting.

    One that is left out has no width.
    """
    kept = list(columns)
    while len(kept) > 1 and _least(kept) > room and any(column.gives for column in kept):
        kept.remove(
            min((column for column in kept if column.gives), key=lambda column: column.gives)
        )
    sizes = dict(zip(kept, _shared(kept, room), strict=True))
    return tuple(sizes.get(column, 0) for column in columns)


def _least(columns: list[Column]) -> int:
    return sum(column.least if column.grows else column.width for column in columns) + GAP * (
        len(columns) - 1
    )


def _shared(columns: list[Column], room: int) -> list[int]:
    base = [column.width for column in columns]
    spare = room - sum(base) - GAP * (len(columns) - 1)
    shares = sum(column.grows for column in columns)
    if not shares:
        return base
    left = spare
    for position, column in enumerate(columns):
        if column.grows:
            wide = max(column.least, base[position] + spare * column.grows // shares)
            left -= wide - base[position]
            base[position] = wide
    grower = max(range(len(columns)), key=lambda place: columns[place].grows)
    base[grower] = max(columns[grower].least, base[grower] + left)
    return base
