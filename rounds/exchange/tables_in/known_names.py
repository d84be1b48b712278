"""Names in a table: each species and plant by the one name that the book, or the table itself, has
for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from rounds.bench.plurals import count
from rounds.bench.state import Bench
from rounds.entries.entry_factory import InvalidField
from rounds.entries.names import is_slip, resolved
from rounds.exchange.tables_in.unclear import UnclearTable


def names_of(
    cells: Iterable[str],
    known: Mapping[str, None],
    what: str,
    bench: Bench,
    said: Mapping[str, str],
    column: str,
) -> dict[str, str]:
    """What each cell of a column means.

    Whole names are looked at first, then the more frequent ones, so that what is short or slipped
    is held against them.

    Args:
        known: names that the book has.
        what: ``species`` or ``plant``.
        said: what the keeper said that words mean; it holds.

    Raises:
        UnclearTable: a name one slip away from another, or an abbreviation that fits several.
    """
    often = Counter(cells)
    meanings: dict[str, str] = {}
    so_far = dict(known)
    ordered = sorted(often, key=lambda name: (not _is_whole(name), -often[name]))
    for cell in ordered:
        if cell in said:
            name = said[cell]
        else:
            try:
                name = resolved(cell, so_far, what, bench)
            except InvalidField as misfit:
                near = tuple(one for one in so_far if is_slip(cell, one))
                example = near[0] if near else next(iter(so_far))
                raise UnclearTable(
                    f"{column}: {count(often[cell], 'line')} with '{cell}':"
                    f" {str(misfit).partition('; ')[2].partition('?')[0] or misfit}?",
                    "names",
                    cell,
                    (*near, cell),
                    f"say it with --as '{cell}={example}', or --as '{cell}={cell}' if it is"
                    " another",
                ) from None
        so_far.setdefault(name, None)
        meanings[cell] = name
    return meanings


def _is_whole(name: str) -> bool:
    words = name.split()
    return len(words) > 1 and not words[0].endswith(".") and len(words[0]) > 2
