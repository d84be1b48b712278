"""Stages that ended: what forecasts are measured by and bettered with."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from rounds.bench.diapause import has_rested
from rounds.bench.movements import NOT_DATED
from rounds.bench.state import Bench, Container, EarlierPlace, Lot, StageCompletion
from rounds.entries.base import Entry

if TYPE_CHECKING:
    from rounds.entries.stages import GoesOn

# which stage each change ends
STAGE_BEFORE = {"hatch": "egg", "moult": "larva", "pupation": "larva", "emergence": "pupa"}
MAX_PASSED = 1_000
MAX_STAYS = 12
LEAST_LAST_INSTAR = 3  # what pupates from an earlier one on record moulted unrecorded; our estimate
# what a look sees may have come since the round before; common practice, no source
A_LOOK_BEFORE = timedelta(hours=12)
# what is written of a container within an hour is of one look; our estimate
SAME_LOOK = timedelta(hours=1)
# what is written down later than that is from old records; our estimate
WRITTEN_UP = timedelta(days=30)


def looked_at(container: Container, at: datetime) -> None:
    """Remember a look, and the one before it."""
    if not container.looks or at - container.looks[-1] >= SAME_LOOK:
        container.looks = (*container.looks[-1:], at)


def is_written_up(entry: Entry) -> bool:
    """Whether a line was taken from old records long after: it is no answer of a round, and what
    it dates was seen on its day."""
    return entry.logged - entry.at > WRITTEN_UP


def look_before(container: Container, entry: Entry) -> datetime:
    """When the container was last looked at before a look, as far as anything on record would have
    seen the change: it may have waited as long for this one. Without any, in the round before."""
    at = entry.at
    if is_written_up(entry):
        return at - A_LOOK_BEFORE
    before = [instant for instant in container.looks if instant <= at - SAME_LOOK]
    return max(before, default=at - A_LOOK_BEFORE)


def laid_as_said(bench: Bench, brood: str, at: datetime) -> tuple[datetime, datetime] | None:
    """Between when the eggs of a brood were laid that are on record from a time on, as its line
    says."""
    begun = bench.broods.get(brood)
    if begun and begun.laid_from and begun.laid_to and begun.laid_from <= at:
        return begun.laid_from, min(max(begun.laid_from, begun.laid_to), at)
    return None


def date_as_laid(bench: Bench, lot: Lot) -> None:
    """Eggs that came in, of which nothing else is known, began when their brood was laid, if its
    line says so and they can be those."""
    laid = bench.broods.get(lot.brood)
    if lot.stage != "egg" or not lot.began_before or lot.begun_after or not (laid and lot.came):
        return
    if laid.laid_from and laid.laid_to and laid.laid_to <= lot.came:
        lot.since = lot.latest = laid.laid_to
        lot.began_before = False


def begun(bench: Bench, lot: Lot, fallback: datetime) -> tuple[datetime, datetime]:
    """Between when the animals of a lot began their stage: eggs when they were laid, others between
    two looks."""
    since = lot.since or fallback
    if lot.stage == "egg" and lot.begun_after is None:
        brood = bench.broods.get(lot.brood)
        if brood and brood.laid_from and brood.laid_to:
            return brood.laid_from, max(brood.laid_from, lot.latest or brood.laid_to)
    after = lot.begun_after if lot.begun_after is not None else since - A_LOOK_BEFORE
    return min(after, since), max(since, lot.latest or since)


def larval_begun(bench: Bench, lot: Lot, fallback: datetime) -> tuple[datetime, datetime]:
    """Between when the larvae of a lot hatched, as far as the bench saw it; else as for any
    stage."""
    return hatched_between(_hatches(bench, lot)) or begun(bench, lot, fallback)


def hatched_between(hatches: Sequence[StageCompletion]) -> tuple[datetime, datetime] | None:
    """From when to when a brood hatched; None where the bench saw none hatch."""
    if not hatches:
        return None
    first = min(hatch.looked or hatch.at - A_LOOK_BEFORE for hatch in hatches)
    return first, max(hatch.at for hatch in hatches)


def hatch_of(bench: Bench, lot: Lot) -> datetime | None:
    """When the first of a brood hatched at the earliest; None where the bench saw none hatch."""
    between = hatched_between(_hatches(bench, lot))
    return between and between[0]


def _hatches(bench: Bench, lot: Lot) -> list[StageCompletion]:
    return [one for one in bench.passed if one.brood == lot.brood and one.stage == "egg"]


def stayed(lot: Lot, container: Container, entry: Entry) -> tuple[EarlierPlace, ...]:
    """Where animals have stood once they leave a container, or it leaves its shelf."""
    return (*lot.stays, EarlierPlace(container.code, container.shelf, entry.at))[-MAX_STAYS:]


def _begin_known(bench: Bench, entry: GoesOn, lot: Lot) -> bool:
    """Whether it is known when they began what they ended: larvae by their hatch here, an instar
    only after the one before."""
    if entry.grows_to == "pupa":
        return any(
            stage_completion.brood == lot.brood and stage_completion.stage == "egg"
            for stage_completion in bench.passed
        )
    return not lot.began_before and (
        not entry.moults or lot.instar == getattr(entry, "instar", 0) - 1
    )


def newly_come(entry: Entry, lot: Lot, number: int) -> int:
    """How many of eggs that hatched came on record at the very look that took it from their
    signs."""
    if lot.stage != "egg" or getattr(entry, "evidence", "") != "inferred":
        return 0
    return min(number, sum(many for at, many in lot.came_in if entry.at - at < SAME_LOOK))


def passed(
    bench: Bench,
    entry: GoesOn,
    container: Container,
    lot: Lot,
    number: int,
) -> None:
    """Remember that so many animals of a lot ended a stage or an instar, unless nobody knows when,
    and the instar that they pupated from."""
    if entry.grows_to == "pupa" and lot.instar >= LEAST_LAST_INSTAR:
        bench.pupated_from[lot.brood] = min(
            lot.instar, bench.pupated_from.get(lot.brood, lot.instar)
        )
    if entry.evidence == NOT_DATED:
        return
    stage = f"L{getattr(entry, 'instar', 0) - 1}" if entry.moults else lot.stage
    since, until = (larval_begun if entry.grows_to == "pupa" else begun)(bench, lot, entry.at)
    rested = has_rested(bench, container, lot) or (
        entry.grows_to == "pupa" and lot.rested is not None
    )
    newly = newly_come(entry, lot, number)
    for share, is_newly_come in ((newly, True), (number - newly, False)):
        if not share:
            continue
        bench.passed.append(
            StageCompletion(
                lot.brood,
                bench.taxon_of(lot.brood),
                stage,
                container.code,
                container.shelf,
                share,
                min(since, entry.at),
                min(until, entry.at),
                entry.at,
                entry.evidence,
                _begin_known(bench, entry, lot),
                lot.stays,
                look_before(container, entry),
                rested,
                is_newly_come,
            )
        )
    del bench.passed[:-MAX_PASSED]
