"""Binning held sprigs before their day: asked once, with the chance."""

from __future__ import annotations

from rounds.bench.kinds import HostOut
from rounds.bench.state import Bench
from rounds.care.ahead.foresight import Foresight
from rounds.care.ahead.held import AIM
from rounds.care.moment import Moment
from rounds.care.spoken import chance_words, local


def too_early_to_bin(bench: Bench, entry: HostOut, moment: Moment, foresight: Foresight) -> str | None:
    """Why these held sprigs should not be binned yet, and how to bin them all the same; None where they may go."""
    container = bench.at(entry.container)
    if container is None or _stands(entry, bench):
        return None
    for held in container.held:
        if (entry.batch and held.batch != entry.batch) or (entry.plant and held.plant != entry.plant):
            continue
        chance = foresight.chance(container, held, moment.now)
        if chance.chance < AIM:
            continue
        if chance.keep_until is None or chance.keep_until > moment.now or not chance.looks_after:
            until = f", keep until {local(chance.keep_until, moment)}" if chance.keep_until else ""
            if chance.keep_until is not None and chance.keep_until <= moment.now:
                until = ", nobody looked for droppings since they should have hatched"
            name = f"{held.plant} {held.batch}".strip()
            return f"{name} may still bear eggs: {chance_words(chance.chance)}{until}; to bin it all the same add 'sure'"
    return None


def _stands(entry: HostOut, bench: Bench) -> bool:
    """Whether it is about host that still stands there, not about held sprigs."""
    container = bench.at(entry.container)
    return container is not None and any(
        (not entry.batch or host.batch == entry.batch) and (not entry.plant or host.plant == entry.plant) for host in container.hosts
    )
