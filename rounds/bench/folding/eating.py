"""Who ate of what was put in last, or hungered since it was taken out: those that leave, die or are
not seen did so before."""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from rounds.bench.folding.not_seen import may_hide
from rounds.bench.folding.signs import still_eat
from rounds.bench.state import Bench, Container, Eating
from rounds.entries.base import Entry

MOST_SPELLS = 50  # of eating that are remembered, of each container


def note_eating(bench: Bench, entry: Entry) -> None:
    """Note who ate up to an entry in every container in which it may change that."""
    for code in entry.containers:
        container = bench.containers.get(code)
        if container and (container.hosts or container.ate or container.lots_of("larva")):
            container.ate = spells(bench, container, entry.at)


def spells(bench: Bench, container: Container, at: datetime) -> tuple[Eating, ...]:
    """Who ate here since the newest plant was put in, be it out again, up to an instant."""
    newest = max((host.put_in for host in container.hosts), default=None)
    before = [spell for spell in container.ate if newest is None or spell.until > newest]
    now = _eating(bench, container, at)
    if not now.larvae and not container.hosts:
        return ()
    if before and replace(before[-1], until=at) == now:
        before.pop()
    return (*before, now)[-MOST_SPELLS:]


def _eating(bench: Bench, container: Container, at: datetime) -> Eating:
    larvae = [(lot.brood, lot.instar or 0, lot.number) for lot in container.lots_of("larva")]
    seen = sum(number for *_, number in larvae)
    unseen = [
        (one.brood, one.instar or 0, one.number)
        for one in may_hide(bench).get(container.code, ())
        if one.stage == "larva"
    ]
    return Eating(at, (*larvae, *unseen), seen - still_eat(container))
