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
from rounds.exchange.tables_in.vocabulary import bare


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
    ordered = sorted(often, key=lambda name: (not _is_whole(name), _has_more(name), -often[name]))
    for cell in ordered:
        try:
            name = resolved(said.get(cell, cell), so_far, what, bench)
        except InvalidField as misfit:
            if cell not in said:
                near = tuple(one for one in so_far if is_slip(cell, one))
                why = str(misfit).partition("; ")[2].partition("?")[0] or str(misfit)
                example = near[0] if near else next(iter(so_far))
                raise _asked(column, cell, often[cell], f"{why}?", near, example) from None
            name = said[cell]
        if said.get(cell) == cell:
            name = cell
        elif cell not in said and name not in so_far and what == "species":
            short = tuple(one for one in so_far if _may_be_short(cell, one))
            if short:
                why = f"is it {' or '.join(short)}, or another?"
                raise _asked(column, cell, often[cell], why, short, short[0])
        so_far.setdefault(name, None)
        meanings[cell] = name
    return meanings


def _asked(
    column: str, cell: str, often: int, why: str, near: tuple[str, ...], example: str
) -> UnclearTable:
    """The question which known name a cell means."""
    return UnclearTable(
        f"{column}: {count(often, 'line')} with '{cell}': {why}",
        "names",
        cell,
        (*near, cell),
        f"say it with --as '{cell}={example}', or --as '{cell}={cell}' if it is another",
    )


def _may_be_short(name: str, known: str) -> bool:
    """Whether one of two names of species may be the other in short: the genus alone, the last part
    of an epithet, a shortened genus that is another by now, or with whoever gave the name."""
    if _with_author(name, known):
        return True
    one, other = bare(name).split(), bare(known).split()
    if len(one) > 1 and len(other) > 1 and _is_whole(name) and _is_whole(known):
        return False  # of two genera are many epithets
    if len(one) == 1 or len(other) == 1:
        short, whole = sorted((one, other), key=len)
        return short[0] in (whole[0], whole[-1])
    return one[-1] == other[-1]


def _has_more(name: str) -> bool:
    """Whether more than the name of a species is written, as who gave it."""
    return any(not word[0].islower() for word in name.split()[1:])


def _with_author(name: str, known: str) -> bool:
    short, long = sorted((name, known), key=len)
    rest = long.removeprefix(f"{short} ")
    return rest != long and (rest[0].isupper() or rest[0] == "(")


def _is_whole(name: str) -> bool:
    words = name.split()
    return len(words) > 1 and not words[0].endswith(".") and len(words[0]) > 2
