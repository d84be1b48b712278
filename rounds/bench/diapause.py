"""Which animals rest over the winter, and which live in a container that was not set up for
them."""

from __future__ import annotations

from datetime import datetime

from rounds.bench.codes import members
from rounds.bench.state import Bench, Container, KeptLot, Lot
from rounds.entries.base import Purpose

# What animals reached a stage or instar by.
_BEGAN: dict[str, tuple[str, ...]] = {
    "larva": ("hatched", "moulted"),
    "pupa": ("pupated",),
    "adult": ("emerged",),
}


def rests(bench: Bench, container: Container, lot: Lot) -> bool:
    """Whether animals rest: in a container set up for winter, in the stage in which their species
    overwinters.

    Of a species of which nobody said how it overwinters, all rest but larvae and adults that came
    to be so there. Larvae that moulted there have woken, whatever their species.
    """
    if container.purpose != "overwintering":
        return False
    known = bench.species_of(lot.brood)
    if known is not None and known.overwinters_as:
        return lot.stage == known.overwinters_as and not _began_here(container, lot, ("moulted",))
    return lot.stage in ("egg", "pupa") or not _began_here(container, lot, _BEGAN[lot.stage])


def _began_here(container: Container, lot: Lot, by: tuple[str, ...]) -> bool:
    """Whether animals reached their stage or instar here, since the container was set up for
    winter, in one of these ways."""
    if lot.stage not in _BEGAN or lot.began_before or lot.since is None:
        return False
    winter = container.purpose_since or container.since
    instants = [container.last[kind].at for kind in by if kind in container.last]
    here = lot.came is None or lot.came <= lot.since
    return here and lot.since >= winter and any(at >= lot.since for at in instants)


def rested_until(bench: Bench, container: Container, lot: Lot, at: datetime) -> datetime | None:
    """Until when animals were in diapause in their stage, for those that leave a container at an
    instant or wake there."""
    return at if rests(bench, container, lot) else lot.rested


def has_rested(bench: Bench, container: Container, lot: Lot) -> bool:
    """Whether animals are or were in diapause in the stage that they are in, of larvae in their
    instar."""
    until = lot.rested
    before = until is not None and (lot.stage != "larva" or lot.since is None or until > lot.since)
    return before or rests(bench, container, lot)


def awake_in_winter(bench: Bench, container: Container) -> list[Lot]:
    """The animals that do not rest in a container that was set up for winter."""
    if container.purpose != "overwintering":
        return []
    return [lot for lot in container.lots if not rests(bench, container, lot)]


def out_of_place(bench: Bench, container: Container) -> list[Lot]:
    """The animals that a container was not set up for: those awake in one for winter, all that live
    in a host store."""
    return list(container.lots) if container.is_store else awake_in_winter(bench, container)


def hidden_eggs_winter(bench: Bench, container: Container, held: KeptLot) -> tuple[bool, bool]:
    """Whether eggs hidden on kept stems may rest over the winter, and whether all of them do.

    Those of a species that overwinters as egg do; of one of which nobody said how it overwinters,
    those in a container set up for winter. Of several females each may have laid them.
    """
    codes = [one for code in held.mothers for one in members(code)]
    taxa = {
        taxon for code in codes for taxon in members(bench.taxon_of(code) or held.taxon)
    } or set(members(held.taxon))
    each = []
    for taxon in taxa:
        known = bench.taxa.get(taxon)
        said = known.overwinters_as if known is not None else ""
        each.append(said == "egg" or (not said and container.purpose == "overwintering"))
    return any(each), all(each)


def some_rest(bench: Bench, container: Container) -> bool:
    """Whether anything rests in a container."""
    return any(rests(bench, container, lot) for lot in container.lots)


def all_rest(bench: Bench, container: Container) -> bool:
    """Whether a container is set up for winter and nothing in it is awake."""
    return container.purpose == "overwintering" and not awake_in_winter(bench, container)


def purpose_of(lots: list[Lot]) -> Purpose:
    """What a container that held only these animals, awake, would be for."""
    stages = {lot.stage for lot in lots}
    if stages & {"pupa", "adult"}:
        return "emergence"
    if "larva" in stages:
        return "hatchlings" if "egg" in stages else "rearing"
    return "eggs"
