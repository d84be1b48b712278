"""How entries about rounds, permits, the plan and settings change the bench."""

from __future__ import annotations

import msgspec

from rounds.bench.folding.lots import odd
from rounds.bench.state import Bench, Round
from rounds.entries.base import Entry
from rounds.entries.registry import (
    Permit,
    PlanChanged,
    PlantKnown,
    RoundFinished,
    RoundStarted,
    Setting,
    StopSkipped,
    Taxon,
    ThermalConstants,
)

MOST_ROUNDS = 120
ROUNDS_KEPT_WHOLE = 4  # of the older ones only their times and skipped stops matter
PERMIT_VALUES = ("holder", "body", "taxon", "females", "eggs", "eggs_kept", "hold_hours", "expires", "closed")
PLAN_VALUES = ("every_h", "amber_h", "red_h", "harm_h", "off")


def round_started(bench: Bench, entry: RoundStarted) -> None:
    """A walk begins; one before it that nobody ended stays as it was left."""
    bench.rounds.append(Round(entry.id, entry.name, entry.at, entry.by, answered=entry.at))
    del bench.rounds[:-MOST_ROUNDS]
    for walk in bench.rounds[-ROUNDS_KEPT_WHOLE - 1 : -ROUNDS_KEPT_WHOLE]:
        walk.said, walk.done = [], []


def _round_of(bench: Bench, round_id: str) -> Round | None:
    for one in reversed(bench.rounds):
        if one.id == round_id:
            return one
    return None


def in_round(bench: Bench, entry: Entry) -> None:
    """An entry that belongs to a walk: what it answered counts only while no later walk has begun."""
    walk = _round_of(bench, entry.round)
    if walk is None:
        return
    walk.answered = max(walk.answered, entry.at)
    if walk is bench.open_round:
        walk.said.append(entry.id)
        walk.done.append((getattr(entry, "container", "") or getattr(entry, "shelf", ""), entry.what))


def skipped(bench: Bench, entry: StopSkipped) -> None:
    """A stop passed over, with the reason."""
    walk = _round_of(bench, entry.round)
    if walk:
        walk.skipped.append((entry.container or entry.shelf, entry.check, entry.why))


def round_finished(bench: Bench, entry: RoundFinished) -> None:
    """The walk is done."""
    walk = _round_of(bench, entry.round)
    if walk is None:
        odd(bench, entry, "a round was finished that never began", fits=True)
        return
    walk.finished = entry.at


def permit(bench: Bench, entry: Permit) -> None:
    """A permit; said again, the newer words hold, and what was not said again stays: no limit is lost by a correction."""
    before = bench.permits.get(entry.number)
    kept = {name: getattr(before, name) for name in PERMIT_VALUES if getattr(entry, name) in ("", None)} if before else {}
    bench.permits[entry.number] = msgspec.structs.replace(entry, **kept)


def taxon(bench: Bench, entry: Taxon) -> None:
    """What the keeper holds true of a species."""
    bench.taxa[entry.name] = entry


def constants(bench: Bench, entry: ThermalConstants) -> None:
    """How much warmth a stage of a species needs, as the keeper holds it."""
    bench.constants.setdefault(entry.taxon, {})[entry.stage] = entry


def plant(bench: Bench, entry: PlantKnown) -> None:
    """How long a plant keeps, by how it is kept."""
    bench.plants.setdefault(entry.name, {})[entry.kept] = entry


def plan(bench: Bench, entry: PlanChanged) -> None:
    """A rule changed; what was not said again for the same scope stays as it was said before."""
    scope = (entry.check, entry.container, entry.purpose, entry.stage)
    kept = {}
    for one in bench.plan:
        if (one.check, one.container, one.purpose, one.stage) == scope:
            kept = {name: getattr(one, name) for name in PLAN_VALUES if getattr(entry, name) is None}
    bench.plan = [one for one in bench.plan if (one.check, one.container, one.purpose, one.stage) != scope]
    bench.plan.append(msgspec.structs.replace(entry, **kept))


def setting(bench: Bench, entry: Setting) -> None:
    """A setting of the book."""
    bench.settings[entry.name] = entry.value
