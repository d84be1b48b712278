"""All keys of a page on one screen, in groups by what one wants, with the signs of states."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import zip_longest

from rounds.views.actions import Action, Scope, scopes_of, sign_of
from rounds.views.cells import Cell, Line, line
from rounds.views.keys import actions_in
from rounds.views.states import SIGNS, TONES

KEY, GAP = 6, 2  # cells of a key, between two columns
EDGES = 2  # cells that the page's own edges take
HERE, EVERYWHERE, STATES_SHOWN = "here", "every page", "signs"

# The groups of the keys of the bench, which are too many for one; elsewhere a page's own are one.
_OF_BENCH = {
    "answer": "answer_next drank offered ask_host ask_eggs ask_count ask_look ask_ants mark unmark",
    "look": "open_card fold_card map other_side sort only_due purpose find",
    "pages": "overdue ahead laying broods batches daybook supplies plan learned away calculator",
    "round": "round suspect when",
}
_COLUMNS = (
    ("answer", HERE, STATES_SHOWN),
    ("look", EVERYWHERE),
    ("pages", "round"),
)


def key_page(
    scopes: Sequence[Scope],
    settings: Mapping[str, str],
    width: int,
    only: Mapping[str, str] | None = None,
) -> tuple[Line, ...]:
    """The keys that do something on a page, under the word of their group.

    Args:
        only: the actions that do something now, with what each does, where that is another thing
            than elsewhere among those of the page; None where all do.
    """
    own = actions_in(dict(settings), *scopes_of(scopes[-1]))
    groups: dict[str, list[tuple[str, Cell]]] = {}
    for action in own:
        if only is None or action.id in only:
            words = action.words if only is None else only[action.id]
            name = _group(action) if words == action.words else HERE
            groups.setdefault(name, []).append((sign_of(action.key), Cell(words)))
    groups[STATES_SHOWN] = [
        (SIGNS[state], Cell(state, TONES[state] if state != "due" else "plain"))
        for state in SIGNS
        if SIGNS[state].strip()
    ]
    blocks = [
        [_block(name, groups[name]) for name in column if name in groups] for column in _COLUMNS
    ]
    columns = [_stacked(column) for column in blocks if column]
    sizes = [max(map(_size, column)) + GAP for column in columns]
    if sum(sizes) - GAP > width - EDGES:
        columns = [_stacked([rows for column in blocks for rows in column])]
    return tuple(_row(row, sizes) for row in zip_longest(*columns, fillvalue=()))


def _group(action: Action) -> str:
    if action.scope == "everywhere":
        return EVERYWHERE
    if action.scope not in ("bench", "list"):
        return HERE
    return next((name for name, ids in _OF_BENCH.items() if action.id in ids.split()), EVERYWHERE)


Cells = tuple[Cell, ...]


def _block(name: str, keys: Sequence[tuple[str, Cell]]) -> list[Cells]:
    heading: Cells = (Cell(name, "quiet"),)
    return [heading, *((Cell(f"{sign:<{KEY}}", "due"), words) for sign, words in keys)]


def _stacked(blocks: Sequence[list[Cells]]) -> list[Cells]:
    rows: list[Cells] = []
    for block in blocks:
        rows += [(), *block] if rows else block
    return rows


def _size(cells: Cells) -> int:
    return sum(len(cell.text) for cell in cells)


def _row(cells: Sequence[Cells], sizes: Sequence[int]) -> Line:
    parts: list[Cell] = []
    for column, size in zip(cells, sizes, strict=False):
        parts += [*column, Cell(" " * (size - _size(column)))]
    return Line(tuple(parts[:-1])) if any(cells) else line("")
