"""Since when each plant of a container was not searched for eggs: a search of one says nothing of
another."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING, cast

from rounds.bench.folding.kept_stems import hosts_searched
from rounds.bench.kept_lots import SAME_STOP
from rounds.bench.state import Container, Host, Unsearched

if TYPE_CHECKING:
    from rounds.entries.searching import Searched


def plant_comes(container: Container, plant: str, at: datetime) -> None:
    """A plant comes to stand here, before it does: one beside others bears nothing yet; one in the
    place of another, or in a bare container, waits for the search that was due before."""
    known, standing = container.unsearched, {host.plant for host in container.hosts}
    if plant in standing:
        return
    out = container.last.get("host out")
    is_change = out is not None and at - out.at <= SAME_STOP
    gone = {name: one for name, one in known.items() if name not in standing}
    here = {name: one for name, one in known.items() if name in standing}
    if is_change and gone:
        before = plant if plant in gone else min(gone, key=lambda name: gone[name].since)
        container.unsearched = {**known, plant: gone[before]}
        if before != plant:
            del container.unsearched[before]
    elif standing:
        container.unsearched = {**here, plant: Unsearched(at)}
    else:
        last = cast("Searched | None", container.last.get("searched"))
        container.unsearched = {plant: Unsearched(last.at if last else container.since, last)}


def in_order_of_coming(container: Container, plants: Iterable[str]) -> list[str]:
    """Plants each once, in the order in which they first came to stand here, whatever was renewed
    since: their numbers in a question stay."""
    came = {plant: place for place, plant in enumerate(container.unsearched)}
    return sorted(dict.fromkeys(plants), key=lambda plant: came.get(plant, len(came)))


def plants_searched(container: Container, entry: Searched) -> list[Host]:
    """The plants of which a search is one: those that it was of; one of kept stems is of what came
    just now in their place, which bears nothing yet."""
    if not entry.lots:
        return hosts_searched(container, entry)
    return [host for host in container.hosts if entry.at - host.put_in <= SAME_STOP]


def was_searched(container: Container, entry: Searched) -> None:
    """A search is the last one of each plant that it was of."""
    for host in plants_searched(container, entry):
        container.unsearched[host.plant] = Unsearched(entry.at, entry)


def unsearched(container: Container, hosts: Iterable[Host] | None = None) -> dict[str, Unsearched]:
    """Since when each plant that stands here was not searched, or each of some of these."""
    return {
        host.plant: container.unsearched.get(host.plant) or Unsearched(host.put_in)
        for host in (container.hosts if hosts is None else hosts)
    }


def all_searched_since(container: Container, at: datetime) -> bool:
    """Whether all that stands here was searched since then, or came later."""
    here = unsearched(container)
    if here:
        return all(one.since >= at for one in here.values())
    last = container.last.get("searched")
    return last is not None and last.at >= at
