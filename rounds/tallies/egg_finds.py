"""Searches for eggs: what each looked at, and on whom and which plant the eggs that it found count.

Eggs that showed on kept stems were laid where the stems stood with females, however late they were
found.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime

from msgspec import Struct

from rounds.bench.codes import in_order, members, one_of
from rounds.bench.folding.female_days import LAYS_IN
from rounds.bench.folding.kept_stems import (
    hidden_on,
    hosts_searched,
    lots_searched,
    sighted,
)
from rounds.bench.movements import Stems
from rounds.bench.state import Bench, Container, KeptLot
from rounds.bench.whose_eggs import brood_taxon, mothers_of_found
from rounds.entries import registry as k
from rounds.entries.plant_parts import is_off_the_plant

NO_HOST = "host not known"


class OnKept(Struct, frozen=True):
    """Eggs of a species on kept stems: how many, from which container and plant (empty where
    several), laid until when.

    ``mothers`` are the females of that species that stood with these stems.
    """

    taxon: str
    source: str
    plant: str
    eggs: int
    laid_to: datetime
    mothers: tuple[str, ...]


class KeptStemsSearched(Struct, frozen=True):
    """Kept stems that were looked at: where they had stood, from when to when."""

    source: str
    plant: str
    offered: datetime
    taken_out: datetime


class EggSearch(Struct, frozen=True, tag_field="what", tag="egg search", omit_defaults=True):
    """A search for eggs, or (``hidden``) young larvae or eggs put in that show that kept stems bore
    eggs.

    Attributes:
        found: of what stands there, how many eggs of each species it found, and who laid them: the
            mothers of the brood that
            was named, else the females there; those of one of several species are of ``A or B``.
        offered: the plants that stood there; ``plant`` the one that was named.
        searched: the stems that it looked at where they stand; none where eggs were found beside
            the plants, of which nothing is said then.
        laid_by: the last time at which a female can have laid them.
        on_kept, kept: what it found on kept stems, and which these were.
        confirms: it says that what a search saw are eggs, and is none itself.
    """

    at: datetime
    container: str
    found: tuple[tuple[str, int, tuple[str, ...]], ...] = ()
    plant: str = ""
    offered: tuple[str, ...] = ()
    searched: tuple[Stems, ...] = ()
    laid_by: datetime | None = None
    on_kept: tuple[OnKept, ...] = ()
    kept: tuple[KeptStemsSearched, ...] = ()
    hidden: bool = False
    confirms: bool = False

    @property
    def is_search(self) -> bool:
        """Whether stems were looked at for eggs with it."""
        return not (self.hidden or self.confirms)

    @property
    def of_kept(self) -> bool:
        """Whether it was of kept stems, not of what stands there."""
        return self.laid_by is None


def egg_search(bench: Bench, entry: k.Searched | k.Stocked) -> Iterator[EggSearch]:
    """What a line says of eggs; nothing where it says nothing of those laid on this bench.

    Args:
        bench: as it stood before the entry.
    """
    container = bench.at(entry.container)
    if container is None:
        return
    of_kept = isinstance(entry, k.Searched) and (
        entry.lots or (entry.confirmed and lots_searched(bench, container, entry))
    )
    if isinstance(entry, k.Searched) and not of_kept and container.purpose in LAYS_IN:
        yield _of_standing(bench, container, entry)
        return
    lots = sprigs_of(bench, container, entry)
    if lots:
        yield EggSearch(
            entry.at,
            entry.container,
            on_kept=tuple(_eggs_on_kept(bench, entry, lots)),
            kept=tuple(
                KeptStemsSearched(lot.source, lot.plant, lot.offered, lot.taken_out) for lot in lots
            ),
            hidden=isinstance(entry, k.Stocked),
            confirms=isinstance(entry, k.Searched) and entry.confirmed,
        )


def females_of(bench: Bench, container: Container) -> dict[str, tuple[str, ...]]:
    """The codes of the females in a container, by species."""
    found: dict[str, tuple[str, ...]] = {}
    for lot in container.lots_of("adult", sex="female"):
        taxon = bench.taxon_of(lot.brood)
        found[taxon] = (*found.get(taxon, ()), *lot.codes)
    return found


def _of_standing(bench: Bench, container: Container, entry: k.Searched) -> EggSearch:
    females = females_of(bench, container)
    mothers = tuple(sorted(mothers_of_found(bench, container, entry), key=in_order))
    is_beside = bool(
        entry.found and not entry.plant and container.hosts and is_off_the_plant(entry.where)
    )
    return EggSearch(
        entry.at,
        entry.container,
        tuple(
            (taxon, eggs, (mothers if eggs else ()) or females.get(taxon, ()))
            for taxon, eggs in _found(bench, females, mothers, entry)
        ),
        entry.plant or (NO_HOST if is_beside else ""),
        tuple(dict.fromkeys(host.plant for host in container.hosts)),
        tuple(
            Stems(host.plant, host.put_in)
            for host in (() if is_beside else hosts_searched(container, entry))
        ),
        container.females_left or sighted(container, entry) or entry.at,
        confirms=entry.confirmed,
    )


def _found(
    bench: Bench, there: Iterable[str], mothers: Iterable[str], entry: k.Searched
) -> Iterator[tuple[str, int]]:
    """How many eggs of each species a search found.

    A species that stands there was searched for too, unless what was found may be of it.
    """
    species = [taxon for taxon in there if taxon]
    taxon = one_of(species) if entry.found else ""
    if entry.brood:
        taxon = bench.taxon_of(entry.brood) or brood_taxon(bench, mothers)
    if taxon:
        yield taxon, entry.found
    for one in species:
        if one not in members(taxon):
            yield one, 0


def _eggs_on_kept(
    bench: Bench, entry: k.Searched | k.Stocked, kept: list[KeptLot]
) -> Iterator[OnKept]:
    """What was found on kept stems, for each species that it can be of.

    What can be of one of several species is of ``A or B``, never of the first of them.
    """
    number = entry.found if isinstance(entry, k.Searched) else entry.number
    text = bench.taxon_of(entry.brood)
    taxa = sorted({taxon for one in kept for taxon in members(one.taxon) if taxon})
    for taxon in [text] if text else [one_of(taxa)] if number and taxa else taxa:
        theirs = [lot for lot in kept if _may_be(lot.taxon, taxon)] or kept
        yield _on_kept(bench, taxon, theirs, number, _laid_by(bench, entry.brood))


def _may_be(one: str, other: str) -> bool:
    """Whether two names, each of one species or of several it can be of, may mean the same."""
    return bool(set(members(one)) & set(members(other)))


def sprigs_of(bench: Bench, container: Container, entry: k.Searched | k.Stocked) -> list[KeptLot]:
    """The kept stems that a line is of: where it names a brood only those with which its mothers
    stood, if any."""
    if isinstance(entry, k.Stocked):
        return hidden_on(bench, container, entry)
    sprigs, mothers = lots_searched(bench, container, entry), _laid_by(bench, entry.brood)
    return [lot for lot in sprigs if mothers & set(lot.mothers)] or sprigs


def _on_kept(
    bench: Bench, taxon: str, kept: list[KeptLot], number: int, said: frozenset[str]
) -> OnKept:
    sources, plants = {one.source for one in kept}, {one.plant for one in kept}
    stood = frozenset(
        code for lot in kept for code in lot.mothers if _may_be(bench.taxon_of(code), taxon)
    )
    return OnKept(
        taxon,
        sources.pop() if len(sources) == 1 else "",
        plants.pop() if len(plants) == 1 else "",
        number,
        max(one.laid_to for one in kept),
        tuple(sorted(stood & said or stood or said)),
    )


def _laid_by(bench: Bench, brood: str) -> frozenset[str]:
    """The mothers of a brood, as far as its line says."""
    begun = bench.broods.get(brood)
    return frozenset(begun.mothers if begun else ())
