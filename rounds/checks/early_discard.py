"""Discarding kept stems before they may go: refused once, with the chance, in words and keys alike."""

from __future__ import annotations

from rounds.bench.kept_lots import fits, told
from rounds.bench.kinds import HostOut
from rounds.bench.state import Bench, Held
from rounds.checks.round_clock import Moment
from rounds.checks.time_format import chance_words, local
from rounds.forecasts.foresight import Foresight
from rounds.forecasts.kept_stems import AIM, Chance


def too_early_to_bin(bench: Bench, entry: HostOut, moment: Moment, foresight: Foresight) -> str | None:
    """Why these kept stems may not be discarded yet, and how to do it all the same; None where they may go."""
    container = bench.at(entry.container)
    if container is None or _stands(entry, bench):
        return None
    for held in container.held:
        if not _is_meant(held, entry):
            continue
        chance = foresight.chance(container, held, moment.now)
        if not chance.may_go:
            return f"{told(held)} {_why_not(chance, moment)}; to discard it all the same add 'sure'"
    return None


def _is_meant(held: Held, entry: HostOut) -> bool:
    if entry.lots:
        return held.lot in entry.lots
    return fits(held, entry.plant, entry.batch)


def _why_not(chance: Chance, moment: Moment) -> str:
    if chance.perhaps:
        return "may be the lot that showed frass"
    if chance.shown:
        return "has shown frass: larvae have hatched on it"
    until = f", keep until {local(chance.keep_until, moment)} with a look a day" if chance.keep_until else ""
    unseen = not chance.looks_after and chance.by_now >= chance.hatch_dd
    nobody = ", nobody looked for frass since half should have hatched" if unseen else ""
    return f"may still bear eggs: {chance_words(chance.chance)}{nobody}{until}; under {chance_words(AIM)} it may go"


def _stands(entry: HostOut, bench: Bench) -> bool:
    """Whether it is about host that still stands there, not about kept stems."""
    container = bench.at(entry.container)
    return container is not None and not entry.lots and any(fits(host, entry.plant, entry.batch) for host in container.hosts)
