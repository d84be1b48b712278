"""Lines fitted into so many rows and columns: words are wrapped and never cut, blocks stay whole
where they can."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct
from rich.cells import cell_len

from rounds import late
from rounds.views.cells import Cell, Line, Tone

_DAY_AND_MONTH = late.pattern(
    r"\b(\d{1,2}) (?=(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b)"
)
LEAST = 10  # cells that a hanging text has at the least


class Fitted(Struct, frozen=True):
    """One part of what was to be shown, and of how many parts."""

    lines: tuple[Line, ...]
    parts: int = 1


def wrapped(line: Line, width: int) -> list[Line]:
    """A line in as many rows as it wants, the later ones set in; what belongs at the right margin
    stands there in the first."""
    right = f"  {line.right}" if line.right else ""
    room = width - cell_len(right)
    hang = line.hang if line.hang <= max(0, width - LEAST) else 2
    rows: list[list[Cell]] = [[]]
    used = 0
    for word, tone in _words(line):
        size = cell_len(word)
        if (
            used + cell_len(word.rstrip()) > (room if len(rows) == 1 else width)
            and rows[-1]
            and used > (hang if len(rows) > 1 else 0)
        ):
            rows.append([Cell(" " * hang)])
            word, used = word.lstrip(), hang
            size = cell_len(word)
        while cell_len(word.rstrip()) > width - used:  # one word longer than a row
            rows[-1].append(Cell(word[: width - used], tone))
            word = word[width - used :]
            rows.append([Cell(" " * hang)])
            used, size = hang, cell_len(word)
        rows[-1].append(Cell(word, tone))
        used += size
    rows = [[*row[:-1], Cell(row[-1].text.rstrip(), row[-1].tone)] for row in rows if row] or [[]]
    first = rows[0]
    if right:
        gap = room - sum(cell_len(cell.text) for cell in first)
        first = [*first, Cell(" " * max(0, gap)), Cell(right, "quiet")]
    return [Line(tuple(row)) for row in (first, *rows[1:])]


def joined(parts: Iterable[str], width: int, gap: str = " ") -> list[str]:
    """Words in rows of that width, as many in each as fit, none of them cut."""
    rows: list[str] = []
    for part in parts:
        if rows and cell_len(rows[-1]) + len(gap) + cell_len(part) <= width:
            rows[-1] += f"{gap}{part}"
        else:
            rows.append(part)
    return rows


def dates_held(text: str) -> str:
    """A text of the same length in which no space stands between a day and its month, so that no
    row ends there."""
    return _DAY_AND_MONTH.sub(r"\1_", text)


def _words(line: Line) -> list[tuple[str, Tone]]:
    """The words of a line, each with the spaces behind it; day and month are one."""
    result: list[tuple[str, Tone]] = []
    for cell in line.cells:
        begin, held = 0, dates_held(cell.text)
        for position in range(1, len(held) + 1):
            ends = position == len(held) or (held[position - 1] == " " and held[position] != " ")
            if ends:
                result.append((cell.text[begin:position], cell.tone))
                begin = position
    return result


def fitted(sections: Sequence[Sequence[Line]], width: int, rows: int, part: int = 0) -> Fitted:
    """Sections one below the other, with an empty row between them, and above, where there is room.

    Args:
        part: which part is shown where not all has room, counted from 0; beyond the last it is the
            last.
    """
    blocks = [
        [row for line in section for row in wrapped(line, width)] for section in sections if section
    ]
    total = sum(map(len, blocks))
    blanks = rows - total
    lines: list[Line] = []
    for position, block in enumerate(blocks):
        if position and position <= blanks:
            lines.append(Line(()))
        lines += block
    if blocks and len(blocks) <= blanks:  # one above the first too
        lines.insert(0, Line(()))
    parts = max(1, -(-len(lines) // max(1, rows)))
    at = min(part, parts - 1) * max(1, rows)
    return Fitted(tuple(lines[at : at + max(1, rows)]), parts)
