"""Eggs that showed on held sprigs: they were laid where the sprigs stood with females, however late they were found."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct

from rounds.bench import kinds as k
from rounds.bench.folding.tending import hidden_on, lots_searched
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench, Container, Held, members, one_of


class OnHeld(Struct, frozen=True):
    """Eggs of a species on held sprigs: how many, from which container and plant (empty where several), taken out when.

    ``mothers`` are the females of that species that stood with these sprigs.
    """

    taxon: str
    source: str
    plant: str
    eggs: int
    taken_out: datetime
    mothers: frozenset[str]


def eggs_on_held(bench: Bench, entry: Entry) -> Iterator[OnHeld]:
    """What a search of held sprigs found, or how many hatchlings told of hidden eggs, for each species that it can be of.

    What can be of one of several species is of ``A or B``, never of the first of them.

    Args:
        bench: as it stood before the entry.
    """
    container = bench.at(entry.container) if isinstance(entry, k.Searched | k.Stocked) else None
    if container is None or not isinstance(entry, k.Searched | k.Stocked):
        return
    number = entry.found if isinstance(entry, k.Searched) else entry.number
    sprigs = sprigs_of(bench, container, entry)
    said = bench.taxon_of(entry.brood)
    taxa = sorted({taxon for one in sprigs for taxon in members(one.taxon) if taxon})
    for taxon in [said] if said else [one_of(taxa)] if number and taxa else taxa:
        theirs = [one for one in sprigs if _may_be(one.taxon, taxon)] or sprigs
        if theirs:
            yield _on_held(bench, taxon, theirs, number, _laid_by(bench, entry.brood))


def _may_be(one: str, other: str) -> bool:
    """Whether two names, each of one species or of several it can be of, may mean the same."""
    return bool(set(members(one)) & set(members(other)))


def sprigs_of(bench: Bench, container: Container, entry: k.Searched | k.Stocked) -> list[Held]:
    """The held sprigs that a line is of: where it names a brood only those with which its mothers stood, if any."""
    if isinstance(entry, k.Stocked):
        return hidden_on(bench, container, entry)
    sprigs, mothers = lots_searched(bench, container, entry), _laid_by(bench, entry.brood)
    return [one for one in sprigs if mothers & set(one.mothers)] or sprigs


def _on_held(bench: Bench, taxon: str, sprigs: list[Held], number: int, said: frozenset[str]) -> OnHeld:
    sources, plants = {one.source for one in sprigs}, {one.plant for one in sprigs}
    stood = frozenset(code for one in sprigs for code in one.mothers if _may_be(bench.taxon_of(code), taxon))
    return OnHeld(
        taxon,
        sources.pop() if len(sources) == 1 else "",
        plants.pop() if len(plants) == 1 else "",
        number,
        max(one.taken_out for one in sprigs),
        stood & said or stood or said,
    )


def _laid_by(bench: Bench, brood: str) -> frozenset[str]:
    """The mothers of a brood, as far as its line says."""
    begun = bench.broods.get(brood)
    return frozenset(begun.mothers if begun else ())
