"""Stems that are kept: what they bear, and what a search or frass says of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from msgspec.structs import replace

from rounds.bench.codes import one_of
from rounds.bench.folding.sought import as_taken_out
from rounds.bench.kept_lots import SAME_STOP, kept_lots, named, new_name
from rounds.bench.state import Bench, Container, Host, KeptLot, Lot, Unsure

if TYPE_CHECKING:
    from rounds.entries.arrivals import Stocked
    from rounds.entries.searching import Searched

SHOWN: tuple[str, ...] = ("trace", "plain")
PERHAPS = "perhaps"  # frass under one of several lots, nobody knows which
FRASS_LEVELS = ("", "none", PERHAPS, *SHOWN)  # the least first


def as_kept(
    bench: Bench, container: Container, host: Host, at: datetime, stems: int | None = None
) -> KeptLot:
    """The lot that a plant becomes if it is taken out and kept, or so many of its stems."""
    return KeptLot(
        lot=new_name(bench, container.said or container.code, host.batch, at),
        searches=[search_made for search_made in host.searches if at - search_made.at <= SAME_STOP],
        female_days=host.female_days,
        sex_not_known=host.sex_not_known,
        taxon=bench.taxon_of(one_of(host.mothers)) if host.mothers else "",
        plant=host.plant,
        batch=host.batch,
        source=container.code,
        mothers=tuple(sorted(host.mothers)),
        offered=host.put_in,
        taken_out=at,
        sprigs=host.sprigs if stems is None else stems,
        sought=as_taken_out(host, at),
        eggs=host.eggs,
        removal=host.removal,
        laid_until=host.stood_until,
        frass=host.frass,
        most_frass=host.frass,
        frass_looks=list(host.frass_looks),
        frass_unknown=host.frass_unknown,
        frass_since=host.frass_since,
    )


def left_standing(container: Container) -> list[Host]:
    """The plants on which females sat that are gone: they may bear hidden eggs as kept stems do."""
    there = any(lot.stage == "adult" and lot.sex != "male" for lot in container.lots)
    return [] if there else [host for host in container.hosts if host.mothers]


def watched_for_frass(bench: Bench, container: Container) -> list[KeptLot]:
    """The kept lots, and the plants left standing by females as the lots that they would be, taken
    out when the last female left."""
    return [
        *container.held,
        *(
            as_kept(bench, container, host, host.stood_until or host.put_in)
            for host in left_standing(container)
        ),
    ]


def lots_searched(bench: Bench, container: Container, entry: Searched) -> list[KeptLot]:
    """The kept lots that a search was of: those named, else all of that plant; none where it was of
    what stands there. What a confirmation is of stood there when it was seen."""
    if entry.lots:
        return [held for _, held in named(bench, container, entry.lots)]
    if hosts_searched(container, entry):
        return []
    seen = sighted(container, entry)
    return [
        held
        for held in container.held
        if (not entry.plant or held.plant == entry.plant)
        and (seen is None or held.offered <= seen <= held.taken_out)
    ]


def hosts_searched(container: Container, entry: Searched) -> list[Host]:
    """The plants standing there that a search was of: the one named, else all; none where it was of
    kept stems."""
    seen = sighted(container, entry)
    return (
        []
        if entry.lots
        else [
            host
            for host in container.hosts
            if (not entry.plant or host.plant == entry.plant)
            and (seen is None or host.put_in <= seen)
        ]
    )


def sighted(container: Container, entry: Searched) -> datetime | None:
    """When that was first seen which a confirmation is of; None for a search."""
    if not entry.confirmed:
        return None
    return min((one.at for one in container.seen_unsure(entry.plant, entry.lots)), default=None)


def sighted_on(bench: Bench, container: Container, host: Host) -> list[Unsure]:
    """What may be eggs and was seen on a plant that stands there, and cannot be on another that
    stood there then."""

    def may_bear(one: Unsure, plant: str, since: datetime, until: datetime | None = None) -> bool:
        return one.plant in ("", plant) and since <= one.at <= (until or one.at)

    others = [one for one in container.hosts if one is not host]
    kept = [held for _, held in kept_lots(bench) if held.source == container.code]
    return [
        one
        for one in container.unsure
        if not one.lots
        and may_bear(one, host.plant, host.put_in)
        and not any(may_bear(one, other.plant, other.put_in) for other in others)
        and not any(may_bear(one, lot.plant, lot.offered, lot.taken_out) for lot in kept)
    ]


def sightings_go(place: Container, keeper: Container | None, seen: list[Unsure], lot: str) -> None:
    """What may be eggs goes with the stems that it is on, a kept lot from then on; to nowhere where
    these are discarded or have hatched."""
    place.unsure = [one for one in place.unsure if all(one is not other for other in seen)]
    if keeper is None:
        return
    if keeper is not place:
        place.unsure_gone += [replace(one, lots=(lot,)) for one in seen]
    keeper.unsure += [replace(one, lots=(lot,)) for one in seen]


def hidden_on(bench: Bench, container: Container, entry: Stocked) -> list[KeptLot]:
    """The kept lots whose hidden eggs were put in: those that showed frass, of the females that
    stood with them."""
    brood = bench.broods.get(entry.brood)
    if entry.stage != "egg" or brood is None:
        return []
    theirs = [held for held in container.held if set(held.mothers) & set(brood.mothers)]
    return [held for held in theirs if held.frass in SHOWN] or [
        held for held in theirs if held.frass == PERHAPS
    ]


def stems_of(bench: Bench, container: Container, lots: Iterable[Lot]) -> list[KeptLot]:
    """The kept lots of a container that stood with the mothers of some eggs or larvae."""
    broods = (bench.broods.get(code) for lot in lots for code in lot.codes)
    mothers = {mother for brood in broods if brood for mother in brood.mothers}
    return [held for held in container.held if mothers & set(held.mothers)]


def hidden_hatched(lots: list[KeptLot], number: int, at: datetime) -> None:
    """So many hatched of eggs that no search of these lots had found; of several lots a share each,
    for nobody knows how many on which."""
    for held in lots:
        if not held.larvae:
            seen = held.frass_since or at
            none = [look for look in held.frass_looks if look < seen and held.frass in SHOWN]
            held.larvae_from = max(none, default=None)
        held.larvae += number / len(lots)
        held.larvae_at = max(held.larvae_at or at, at)


def larvae_found_on(container: Container, lots: Sequence[KeptLot | Host]) -> None:
    """Frass that was seen has its larvae; that of a lot not known for all of them.

    The stems stay on watch: where some hatched more may.
    """
    perhaps = any(held.frass == PERHAPS for held in lots)
    for held in container.stems:
        if (held in lots and held.frass in SHOWN) or (perhaps and held.frass == PERHAPS):
            held.frass_unknown = max(
                [*held.frass_looks[-1:], *([held.frass_unknown] if held.frass_unknown else [])],
                default=None,
            )
            held.frass, held.frass_since = "none", None
