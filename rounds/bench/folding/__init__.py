"""The fold: one entry after another, in the order of when each happened, added to the bench."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import msgspec

from rounds.bench.folding import papers, places, stock, tending
from rounds.bench.folding.female_days import females_stood
from rounds.bench.folding.passing import looked_at
from rounds.bench.movements import Event
from rounds.bench.state import Bench
from rounds.entries import registry as k
from rounds.entries.base import Entry

# Kinds without a line here only need their newest entry remembered.
_EFFECTS: dict[type[Entry], Callable[[Bench, Any], Sequence[Event] | None]] = {
    k.SetUp: places.set_up,
    k.Changed: places.changed,
    k.Closed: places.closed,
    k.ShelfSetUp: places.shelf_set_up,
    k.HandsWashed: places.hands_washed,
    k.LeaveBe: places.leave_be,
    k.Suspect: places.suspect,
    k.Cleared: places.cleared,
    k.Note: places.note,
    k.Photo: places.photo,
    k.FounderIntake: stock.founder,
    k.BroodBegun: stock.brood,
    k.Stocked: stock.stocked,
    k.Moved: stock.moved,
    k.Split: stock.split,
    k.Merged: stock.merged,
    k.Counted: stock.counted,
    k.Settled: stock.settled,
    k.Hatched: stock.hatched,
    k.Moulted: stock.moulted,
    k.Pupated: stock.pupated,
    k.Emerged: stock.emerged,
    k.Sexed: stock.sexed,
    k.Died: stock.gone,
    k.Escaped: stock.gone,
    k.Released: stock.gone,
    k.Preserved: stock.gone,
    k.Missing: stock.missing,
    k.Parasitoid: stock.parasitoid,
    k.Paired: stock.paired,
    k.PairingPlanned: stock.pairing_planned,
    k.Related: stock.related,
    k.Marked: stock.marked,
    k.ReleaseBy: stock.release_by,
    k.Drank: tending.drank,
    k.FoodMade: tending.food_made,
    k.HostIn: tending.host_in,
    k.HostSeen: tending.host_seen,
    k.HostOut: tending.host_out,
    k.BarrierSeen: tending.barrier_seen,
    k.ToppedUp: tending.topped_up,
    k.Searched: tending.searched,
    k.FrassSeen: tending.frass_seen,
    k.Looked: tending.looked,
    k.Air: tending.air,
    k.LoggerRead: tending.logger_read,
    k.Light: tending.light,
    k.PutOff: tending.put_off,
    k.RoundStarted: papers.round_started,
    k.StopSkipped: papers.skipped,
    k.RoundFinished: papers.round_finished,
    k.Permit: papers.permit,
    k.Taxon: papers.taxon,
    k.ThermalConstants: papers.constants,
    k.PlantKnown: papers.plant,
    k.PlanChanged: papers.plan,
    k.Setting: papers.setting,
}

# What may change who stands with which plants in the light, and a search, which looks at the time before it.
_ACCOUNTED = frozenset({kind for kind, effect in _EFFECTS.items() if effect.__module__ == stock.__name__}) | {
    k.SetUp, k.Changed, k.Closed, k.HostIn, k.HostOut, k.Light, k.Searched,
}  # fmt: skip


def effective_strikes(strikes: dict[str, str]) -> frozenset[str]:
    """The ids of all entries that do not count.

    A strike counts unless one that counts strikes it. Which of two ids is the greater says nothing, for others make ids
    of any form and clocks are set; only where strikes go round in a circle the greatest id counts first.

    Args:
        strikes: id of each strike, with the id of what it strikes.
    """
    out: set[str] = set()
    unsettled = Counter(target for strike, target in strikes.items() if target in strikes and target != strike)
    settled = [strike for strike in strikes if not unsettled[strike]]
    for strike in settled:  # it grows: a strike is settled once all that strike it are
        target = strikes[strike]
        if strike not in out and target != strike:
            out.add(target)
        unsettled[target] -= 1
        if target in strikes and target != strike and not unsettled[target]:
            settled.append(target)
    for strike in sorted(strikes.keys() - set(settled), reverse=True):
        if strike not in out:
            out.add(strikes[strike])
    return frozenset(out)


def apply(bench: Bench, entry: Entry) -> list[Event]:
    """Add one entry that counts to the bench. Entries must come in the order of ``Entry.order``.

    Returns:
        Who stood with plants up to then, and what the entry moved.
    """
    bench.entries += 1
    bench.newest = entry.at
    code: str = getattr(entry, "container", "")
    found: list[Event] = females_stood(bench, code, entry) if code and type(entry) in _ACCOUNTED else []
    effect = _EFFECTS.get(type(entry))
    if effect:
        found += effect(bench, entry) or ()
    container = bench.containers.get(code) if code else None
    if container:
        container.last[entry.what] = entry  # type: ignore[assignment]  # every kind is one of AnyEntry
        looked_at(container, entry.at)
    if entry.round:
        papers.in_round(bench, entry)
    return found


def stands_for(one: Entry, other: Entry) -> bool:
    """Whether the first of two different lines under one id counts, whichever of them was read first."""
    if one.order != other.order:
        return one.order < other.order
    return one != other and msgspec.json.encode(one) < msgspec.json.encode(other)


def fold(entries: Iterable[Entry]) -> Bench:
    """The bench that a set of entries adds up to, whatever order they are given in."""
    known: dict[str, Entry] = {}
    for entry in entries:
        if entry.id not in known or stands_for(entry, known[entry.id]):
            known[entry.id] = entry
    bench = Bench()
    bench.strikes = {entry.id: entry.entry for entry in known.values() if isinstance(entry, k.Struck)}
    struck = effective_strikes(bench.strikes)
    for entry in sorted(known.values(), key=lambda entry: entry.order):
        if entry.id not in struck:
            apply(bench, entry)
    return bench
