"""Which females may have laid the eggs that a search finds: those that stand there, and those that stood there since the
last search; of kept stems those that stood with them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from msgspec import Struct

from rounds.bench.kept_lots import SAME_STOP, fits, named
from rounds.bench.state import Bench, Container, Held, Host, Lot
from rounds.bench.taxon_names import binomials


class Layers(Struct, frozen=True):
    """Females by code that may have laid, on which kept lots (none where stems stand), and until when.

    ``until`` is None as long as one of them stands there.
    """

    codes: tuple[str, ...] = ()
    kept: Sequence[Held] = ()
    until: datetime | None = None


def females(container: Container) -> list[Lot]:
    """The adults of a container that may lay; those whose sex is not known may."""
    return [lot for lot in container.lots if lot.stage == "adult" and lot.sex != "male"]


def layers(bench: Bench, container: Container, said: Mapping[str, Any], at: datetime | None = None) -> Layers:
    """The females that may have laid what a search found.

    Args:
        said: the fields of the search.
        at: when it was; what was searched at the same stop before it is one search with it.
    """
    plant, lots = str(said.get("plant") or ""), tuple(said.get("lots") or ())
    standing = {code for lot in females(container) for code in lot.codes}
    if lots:
        kept = [held for _, held in named(bench, container, lots)]
        return _of_kept(kept) if any(held.mothers for held in kept) else _of(standing, {})
    hosts = [host for host in container.hosts if fits(host, plant, "")]
    since = _searched(container, hosts, at)
    gone = {code: until for code, until in container.stood.items() if code not in standing}
    lately = {code: until for code, until in gone.items() if until > since}
    if standing or lately:
        return _of(standing, lately)
    here = {code: gone[code] for host in hosts for code in host.mothers if code in gone}
    return _of(set(), here) if here else _of_kept([held for held in container.held if fits(held, plant, "")])


def _of(standing: set[str], gone: Mapping[str, datetime]) -> Layers:
    until = None if standing else max(gone.values(), default=None)
    return Layers(tuple(sorted({*standing, *gone})), (), until)


def _of_kept(kept: list[Held]) -> Layers:
    mothers = tuple(sorted({mother for held in kept for mother in held.mothers}))
    return Layers(mothers, kept, max((held.taken_out for held in kept), default=None))


def _searched(container: Container, hosts: Sequence[Host], at: datetime | None) -> datetime:
    """Since when eggs may lie here that no search found: since each plant was put in, or searched last."""
    since = []
    for host in hosts:
        made = [one.at + SAME_STOP for one in host.searches if at is None or at - one.at > SAME_STOP]
        since.append(max([host.put_in, *made]))
    last = container.last.get("searched")
    without = container.since if last is None or (at is not None and at - last.at <= SAME_STOP) else last.at + SAME_STOP
    return min(since, default=without)


def by_species(bench: Bench, codes: Iterable[str]) -> list[tuple[str, ...]]:
    """Females by the species that they are of; one group only where they may all be of one."""
    groups: dict[frozenset[tuple[str, ...]], list[str]] = {}
    for code in codes:
        groups.setdefault(frozenset(binomials(bench.taxon_of(code))), []).append(code)
    taxa = set(groups) - {frozenset({()})}  # one of which nobody said the species may be of the same
    return [tuple(group) for group in groups.values()] if len(taxa) > 1 else [tuple(codes)]


def brood_taxon(bench: Bench, mothers: Iterable[str]) -> str:
    """What the line of a new brood says of its species: that of its mothers; of one of several nothing, its mothers tell."""
    taxa = {bench.taxon_of(code) for code in mothers}
    return taxa.pop() if len(taxa) == 1 else ""
