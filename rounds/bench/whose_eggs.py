"""Which females may have laid the eggs that a search finds: those that stand there, and those that
stood there since the last search; of kept stems those that stood with them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from msgspec import Struct
from msgspec.structs import asdict, replace

from rounds.bench.folding.female_days import stood_since
from rounds.bench.folding.kept_stems import lots_searched
from rounds.bench.kept_lots import SAME_STOP, fits, named
from rounds.bench.state import Bench, Container, FemaleStay, Host, KeptLot, Lot
from rounds.bench.taxon_names import binomials
from rounds.grouping import grouped

if TYPE_CHECKING:
    from rounds.entries.searching import Searched

CLOSE = ("lens", "macro photo")  # aids that tell an egg from what looks like one


class PossibleMothers(Struct, frozen=True):
    """Females by code that may have laid, on which kept lots (none where stems stand), since when
    and until when.

    ``since`` is the last search, or when the first of them or the plant came in, if later;
    ``until`` is None as long as one of them stands there.
    """

    codes: tuple[str, ...] = ()
    kept: Sequence[KeptLot] = ()
    until: datetime | None = None
    since: datetime | None = None


def females(container: Container) -> list[Lot]:
    """The adults of a container that may lay; those whose sex is not known may."""
    return [lot for lot in container.lots if lot.stage == "adult" and lot.sex != "male"]


def layers(
    bench: Bench, container: Container, said: Mapping[str, Any], at: datetime | None = None
) -> PossibleMothers:
    """The females that may have laid what a search found.

    Args:
        said: the fields of the search.
        at: when it was; what was searched at the same stop before it is one search with it.
    """
    plant, lots = str(said.get("plant") or ""), tuple(said.get("lots") or ())
    here = (
        (code, stood_since(container, code, lot))
        for lot in females(container)
        for code in bench.may_lay(lot)
    )
    standing = {code: since for code, since in here if at is None or since <= at}
    hosts = [
        host
        for host in container.hosts
        if fits(host, plant, "") and (at is None or host.put_in <= at)
    ]
    # what came at this stop bears none yet
    stood = [host for host in hosts if at is None or at - host.put_in > SAME_STOP]
    on_plants = plant or not (
        said.get("where")
        or any(_needs_no_plant(bench, code) for code in (*standing, *container.stood))
    )
    laid_on = stood if on_plants else []  # else they may lie beside a plant that came later
    searched = _searched(container, laid_on, at)
    if lots:
        kept = [held for _, held in named(bench, container, lots)]
        return (
            _of_kept(bench, kept)
            if any(held.mothers for held in kept)
            else _of(standing, {}, searched)
        )
    gone = {
        code: stood
        for code, stood in container.stood.items()
        if code not in standing and (at is None or stood.since <= at)
    }
    left_after = _searched(container, laid_on, at, SAME_STOP)
    # set up, filled and emptied within lines of one instant
    at_once = not laid_on and left_after == container.since
    lately = {
        code: stood
        for code, stood in gone.items()
        if stood.until > left_after or (at_once and stood.until == left_after)
    }
    if standing or lately:
        return _of(standing, lately, searched)
    before = {code: gone[code] for host in hosts for code in host.mothers if code in gone}
    if before:
        return _of({}, before, min(host.put_in for host in hosts))
    return _of_kept(bench, [held for held in container.held if fits(held, plant, "")])


def _needs_no_plant(bench: Bench, code: str) -> bool:
    species = bench.species_of(code)
    return species is not None and species.lays_without_plant


def _of(
    standing: Mapping[str, datetime], gone: Mapping[str, FemaleStay], searched: datetime
) -> PossibleMothers:
    until = None if standing else max((stood.until for stood in gone.values()), default=None)
    came = [*standing.values(), *(stood.since for stood in gone.values())]
    since = max(searched, min(came)) if came else searched
    return PossibleMothers(tuple(sorted({*standing, *gone})), (), until, since)


def _of_kept(bench: Bench, kept: list[KeptLot]) -> PossibleMothers:
    mothers = tuple(sorted({mother for held in kept for mother in held.mothers}))
    out, since = [held.laid_to for held in kept], [_laid_since(bench, held) for held in kept]
    return PossibleMothers(mothers, kept, max(out, default=None), min(since, default=None))


def _laid_since(bench: Bench, held: KeptLot) -> datetime:
    """Since when stems that are kept were laid on: since they were put in, or the first of those
    who stood with them came."""
    source = bench.containers.get(held.source)
    stood = [source.stood.get(code) for code in held.mothers] if source else []
    came = [
        female_stay.since
        for female_stay in stood
        if female_stay is not None and female_stay.since < held.taken_out
    ]
    return max(held.offered, min(came)) if came and len(came) == len(held.mothers) else held.offered


def narrowed(
    bench: Bench, container: Container, found: PossibleMothers, mothers: tuple[str, ...]
) -> PossibleMothers:
    """Eggs of these females only, on those of the kept lots with which one of them stood."""
    lots = [held for held in found.kept if set(held.mothers) & set(mothers)]
    if lots:
        return replace(_of_kept(bench, lots), codes=mothers)
    there = {
        code: stood_since(container, code, lot)
        for lot in females(container)
        for code in bench.may_lay(lot)
        if code in mothers
    }
    gone = {
        code: stood
        for code, stood in container.stood.items()
        if code in mothers and code not in there
    }
    if not there and not gone:
        return PossibleMothers(mothers, (), found.until, found.since)
    # one that left before the last search
    searched = found.since if set(mothers) & set(found.codes) else None
    return replace(_of(there, gone, searched or container.since), codes=mothers)


def _searched(
    container: Container, hosts: Sequence[Host], at: datetime | None, stop: timedelta = timedelta(0)
) -> datetime:
    """Since when eggs may lie here that no search found: since each plant was put in, or since the
    stop at which it was searched last, which takes so long."""
    since = []
    for host in hosts:
        instants = [
            search_made.at + stop
            for search_made in host.searches
            if at is None or at - search_made.at > SAME_STOP
        ]
        since.append(max([host.put_in, *instants]))
    before = [instant for instant in container.searched if at is None or at - instant > SAME_STOP]
    return min(since, default=max(before) + stop if before else container.since)


def first_seen(container: Container, said: Mapping[str, Any]) -> datetime | None:
    """When eggs that a search makes sure of were first seen; None where none were seen that were
    not sure."""
    if not (said.get("confirmed") or said.get("aid") in CLOSE):
        return None
    plant, lots = str(said.get("plant") or ""), tuple(said.get("lots") or ())
    return min((one.at for one in container.seen_unsure(plant, lots)), default=None)


def laid_between(bench: Bench, container: Container, entry: Searched) -> tuple[datetime, datetime]:
    """Between when the eggs that a search found were laid: since the last search of an earlier
    visit, or while kept stems stood with females; what was not sure, before it was first seen.

    Args:
        bench: as it stood before the entry.
    """
    brood = bench.broods.get(entry.brood)
    mothers = brood.mothers if brood else ()
    lots = lots_searched(bench, container, entry)
    lots = [one for one in lots if set(mothers) & set(one.mothers)] or lots
    fields = asdict(entry)
    seen = first_seen(container, fields)
    if lots:
        since, until = (
            min(_laid_since(bench, one) for one in lots),
            max(one.laid_to for one in lots),
        )
        return since, min(seen, until) if seen and entry.confirmed and since <= seen else until
    at = seen or entry.at
    possible_mothers = layers(bench, container, fields, at)
    if mothers:
        possible_mothers = narrowed(bench, container, possible_mothers, mothers)
    until = seen if seen and entry.confirmed else entry.at
    until = min(until, possible_mothers.until or until)
    sit_here = {code for lot in females(container) for code in bench.may_lay(lot)}
    sat_here = sit_here | container.stood.keys()
    known = (
        [possible_mothers.since or container.since]
        if sat_here & set(possible_mothers.codes) or not (brood and brood.laid_from)
        else []
    )
    known += [brood.laid_from] if brood and brood.laid_from else []
    return max((instant for instant in known if instant <= until), default=until), until


def mothers_of_found(bench: Bench, container: Container, entry: Searched) -> tuple[str, ...]:
    """The mothers of what a search found: of its brood, or, where the line that begins that comes
    later or was crossed out, those who may have laid it.

    Args:
        bench: as it stood before the entry.
    """
    brood = bench.broods.get(entry.brood)
    if brood is not None or entry.brood in bench.founders or not entry.brood:
        return brood.mothers if brood else ()
    return entry.laid_by or layers(bench, container, asdict(entry), entry.at).codes


def by_species(bench: Bench, codes: Iterable[str]) -> list[tuple[str, ...]]:
    """Females by the species that they are of; one group only where they may all be of one."""
    groups = grouped((frozenset(binomials(bench.taxon_of(code))), code) for code in codes)
    # one of which nobody said the species may be of the same
    taxa = set(groups) - {frozenset({()})}
    return [tuple(group) for group in groups.values()] if len(taxa) > 1 else [tuple(codes)]


def brood_taxon(bench: Bench, mothers: Iterable[str]) -> str:
    """What the line of a new brood says of its species: that of its mothers; of one of several
    nothing, its mothers tell."""
    taxa = {bench.taxon_of(code) for code in mothers}
    return taxa.pop() if len(taxa) == 1 else ""
