"""What a crossing-out does not take back, or takes back with a word: that the places of a species
are withheld, the limits of a permit.

Only the keeper's own word lets exact places leave. So a crossing-out by a slip, by another laptop,
or of what a wrong clock wrote gives none away.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from msgspec.structs import replace

from rounds.bench.permits import not_on_record
from rounds.bench.state import Bench
from rounds.bench.taxon_names import with_latin_genus
from rounds.entries.base import Entry
from rounds.entries.names import slips_of
from rounds.entries.piecewise import typed
from rounds.entries.plan import FINEST_GRID, Permit, Taxon


def still_guarded(bench: Bench, struck: Iterable[Entry]) -> dict[str, Taxon]:
    """The taxa, by name, whose places are withheld, or on a wider grid, for lines that count no
    more, until a line that counts says of it what holds.

    One that was only a slip for another protected taxon is left out.
    """
    kept: dict[str, Taxon] = {}
    for one in struck:
        if not isinstance(one, Taxon):
            continue
        name = with_latin_genus(one.name)
        known = kept.get(name) or bench.taxa.get(name)
        said = bench.said_by.get(replace(one, name=name).of_what, {})
        guards = one.protected and "protected" not in said
        meant = known or replace(one, name=name, protected=False, grid_degrees=FINEST_GRID)
        if guards:
            meant = replace(meant, protected=True)
        if meant.protected and "grid_degrees" not in said:
            grid = max(meant.grid_degrees, one.grid_degrees)
            meant = replace(meant, grid_degrees=grid, short=meant.short or one.short)
        if meant.protected and meant != known and (known or not _was_a_slip(bench, name)):
            kept[name] = meant
    return kept


def _was_a_slip(bench: Bench, name: str) -> bool:
    return any(bench.taxa[one].protected for one in slips_of(bench, name))


def still_guarded_words(bench: Bench, kept: Mapping[str, Taxon]) -> Iterator[str]:
    """A line each: what is withheld for a line that is crossed out, and what ends that."""
    for name, taxon in kept.items():
        if not is_protected(bench, name):
            yield (
                f"{name} was said to be protected once, by a line that is crossed out; its places"
                f" are withheld until: taxon {typed(name)} protected=no"
            )
        else:
            yield (
                f"{name} was said to have a grid of {taxon.grid_degrees:g} degrees, by a line that"
                f" is crossed out; that holds until: {_grid_line(bench, name)}"
            )


def taken_back_words(before: Bench, bench: Bench, struck: Iterable[Entry]) -> Iterator[str]:
    """What a crossing-out is told with: of the taxa that it leaves protected or not, and of permits
    that it leaves without a limit.

    Args:
        before: taxa and permits as they were before it.
        struck: what it crossed out that did not count yet.
    """
    kept = still_guarded(bench, [*before.taxa.values(), *struck])
    for name, taxon in kept.items():
        if not is_protected(bench, name):
            yield f"{name} stays protected until you say: taxon {typed(name)} protected=no"
        else:
            yield (
                f"its places keep the grid of {taxon.grid_degrees:g} degrees until you say:"
                f" {_grid_line(bench, name)}"
            )
    for name in before.taxa:
        if before.taxa[name].protected and not is_protected(bench, name) and name not in kept:
            yield f"{name} is not protected any more; if it is: taxon {typed(name)} protected"
    for number in before.permits.keys() & bench.permits.keys():
        was, now = before.permits[number], bench.permits[number]
        gone = [one for one in sorted(Permit.limiting) if _is_gone(was, now, one)]
        if gone:
            yield f"permit {number} sets no limit of {' and '.join(gone)} any more"
    yield from (words for number, words in not_on_record(bench).items() if number in before.permits)


def _is_gone(was: Permit, now: Permit, limit: str) -> bool:
    return getattr(was, limit) is not None and getattr(now, limit) is None


def is_protected(bench: Bench, name: str) -> bool:
    """Whether a line that counts says so."""
    return name in bench.taxa and bench.taxa[name].protected


def _grid_line(bench: Bench, name: str) -> str:
    """The line that says the grid which lines that count leave it."""
    return f"taxon {typed(name)} grid_degrees={max(FINEST_GRID, bench.taxa[name].grid_degrees):g}"
