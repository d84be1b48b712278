"""Stages that ended: what forecasts are measured by and bettered with."""

from __future__ import annotations

from datetime import datetime, timedelta

from rounds.bench.kinds import Emerged, Hatched, Moulted, Pupated
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench, Container, Lot, Passed, Stay

MOST_PASSED = 1_000
MOST_STAYS = 12
A_LOOK_BEFORE = timedelta(hours=12)  # what a look sees may have come since the round before; common practice, no source


def begun(bench: Bench, lot: Lot, fallback: datetime) -> tuple[datetime, datetime]:
    """Between when the animals of a lot began their stage: eggs when they were laid, others between two looks."""
    since = lot.since or fallback
    if lot.stage == "egg":
        brood = bench.broods.get(lot.brood)
        if brood and brood.laid_from and brood.laid_to:
            return brood.laid_from, max(brood.laid_from, lot.latest or brood.laid_to)
    return since - A_LOOK_BEFORE, max(since, lot.latest or since)


def larval_begun(bench: Bench, lot: Lot, fallback: datetime) -> tuple[datetime, datetime]:
    """Between when the larvae of a lot hatched, as far as the bench saw it; else as for any stage."""
    hatches = [one for one in bench.passed if one.brood == lot.brood and one.stage == "egg"]
    if not hatches:
        return begun(bench, lot, fallback)
    return min(one.at for one in hatches) - A_LOOK_BEFORE, max(one.at for one in hatches)


def stayed(lot: Lot, container: Container, entry: Entry) -> tuple[Stay, ...]:
    """Where animals have stood once they leave a container, or it leaves its shelf."""
    return (*lot.stays, Stay(container.code, container.shelf, entry.at))[-MOST_STAYS:]


def _begin_known(bench: Bench, entry: Hatched | Moulted | Pupated | Emerged, lot: Lot) -> bool:
    """Whether it is known when they began what they ended: larvae by their hatch here, an instar only after the one before."""
    if isinstance(entry, Pupated):
        return any(one.brood == lot.brood and one.stage == "egg" for one in bench.passed)
    return not lot.began_before and (not isinstance(entry, Moulted) or lot.instar == entry.instar - 1)


def passed(bench: Bench, entry: Hatched | Moulted | Pupated | Emerged, container: Container, lot: Lot) -> None:
    """Remember that animals of a lot ended a stage or an instar."""
    stage = lot.stage if not isinstance(entry, Moulted) else f"L{entry.instar - 1}"
    since, until = (larval_begun if isinstance(entry, Pupated) else begun)(bench, lot, entry.at)
    bench.passed.append(
        Passed(lot.brood, bench.taxon_of(lot.brood), stage, container.code, container.shelf, lot.number,
               min(since, entry.at), min(until, entry.at), entry.at, entry.evidence, _begin_known(bench, entry, lot), lot.stays)
    )  # fmt: skip
    del bench.passed[:-MOST_PASSED]
