"""Taking animals out of lots and putting them in, so that every number balances."""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from rounds.bench.described import saying
from rounds.bench.folding.hunger import leave_part
from rounds.bench.kinds.base import Entry, Sex, Stage
from rounds.bench.mates import joined, stand_together
from rounds.bench.state import (
    STAGES,
    Bench,
    Container,
    Hunger,
    Lot,
    Mates,
    Oddity,
    Shortfall,
    Stay,
    Tally,
    hungriest,
    members,
)

MOST_ODDITIES = 200
MOST_ESCAPED = 200  # lots that escaped and are remembered, the newest


def container_for(bench: Bench, code: str, entry: Entry) -> Container:
    """The container of that code; an unknown one is made up, and the oddity told, so that nothing said is lost."""
    found = bench.containers.get(code)
    if found is None:
        odd(bench, entry, f"{code} was not set up before this")
        found = bench.containers[code] = Container(code=code, purpose="holding", since=entry.at)
    return found


def odd(bench: Bench, entry: Entry, text: str, *, fits: bool = False) -> None:
    """Tell of something that the entries do not agree on; ``fits`` where the entry counts wholly all the same."""
    bench.oddities.append(Oddity(entry=entry.id, at=entry.at, text=text, said="" if fits else saying(entry)))
    del bench.oddities[:-MOST_ODDITIES]


def put(
    container: Container,
    *,
    brood: str,
    stage: Stage,
    number: int,
    at: datetime,
    instar: int = 0,
    sex: Sex = "",
    latest: datetime | None = None,
    began_before: bool = False,
    stays: tuple[Stay, ...] = (),
    came: datetime | None = None,
    begun_after: datetime | None = None,
    mates: Mates = (),
    hunger: tuple[Hunger, ...] = (),
    unfed: datetime | None = None,
) -> None:
    """Add animals to the lot that they belong to; ``at`` is when the first reached the stage, ``latest`` the last.

    ``came`` is when they came to be here in this stage, where they reached it elsewhere; ``begun_after`` the look before
    the first was seen in it. ``hunger`` of adults is what they bring with them; those that bring none are hungry since ``at``;
    ``unfed`` is since when larvae had no food, where that began before.

    Of animals that stood in different places before, the lot remembers where most did.
    """
    if number <= 0:
        return
    if stage == "adult":
        hunger = (*hunger, *_never_drank(number - sum(one.number for one in hunger), at))
    if stage == "larva":
        unfed = None if container.has_food else unfed or came or at
    for lot in container.lots:
        if (lot.brood, lot.stage, lot.instar, lot.sex) == (brood, stage, instar, sex):
            if number > lot.number:
                lot.stays = stays
            lot.number += number
            lot.hunger = _together(lot.hunger, hunger)
            lot.began_before = lot.began_before or began_before
            if lot.begun_after is None or begun_after is None:
                lot.begun_after = None
            else:
                lot.begun_after = min(lot.begun_after, begun_after)
            lot.since = min(lot.since or at, at)
            lot.came = min(lot.came or at, came or at)
            lot.latest = max(lot.latest or at, latest or at)
            lot.mates = joined(lot.mates, mates)
            lot.unfed = min(filter(None, (lot.unfed, unfed)), default=None)
            break
    else:
        container.lots.append(
            Lot(
                brood,
                stage,
                number,
                instar,
                sex,
                at,
                latest or at,
                began_before,
                stays,
                came or at,
                begun_after,
                mates,
                hunger,
                unfed,
            )
        )
        container.lots.sort(key=_lot_order)
    if stage == "adult":
        stand_together(container, came or at)


def _never_drank(number: int, since: datetime) -> tuple[Hunger, ...]:
    return (Hunger(since, number),) if number > 0 else ()


def _together(*several: tuple[Hunger, ...]) -> tuple[Hunger, ...]:
    """The hunger of animals that come together, those that wait longest first."""
    numbers: dict[tuple[datetime, bool], int] = {}
    for one in (one for some in several for one in some):
        numbers[one.since, one.drank] = numbers.get((one.since, one.drank), 0) + one.number
    return tuple(Hunger(since, number, drank) for (since, drank), number in sorted(numbers.items()))


def part_of_lot(lot: Lot, number: int) -> Lot:
    """So many of a lot, nobody knows which: their hunger is that of those who wait longest."""
    return replace(lot, number=number, hunger=hungriest(lot.hunger, number))


def feed_larvae(container: Container, at: datetime) -> None:
    """Food that came, went or was eaten ends the hunger of the larvae here, or begins it."""
    for lot in container.lots_of("larva"):
        lot.unfed = None if container.has_food else lot.unfed or at


def _lot_order(lot: Lot) -> tuple[str, int, int, str]:
    return lot.brood, STAGES.index(lot.stage), lot.instar, lot.sex


def matching(
    container: Container,
    *,
    brood: str = "",
    stage: Stage | None = None,
    instar: int | None = None,
    sex: Sex | None = None,
) -> list[Lot]:
    """The lots that fit what was said; what was not said does not choose."""
    return [
        lot for lot in container.lots_of(stage, brood, sex) if instar in (None, 0) or lot.instar == instar or lot.stage != "larva"
    ]


def take(bench: Bench, entry: Entry, container: Container, number: int, lots: list[Lot]) -> list[Lot]:
    """Take that many out of the given lots, in their order.

    Returns:
        What was taken, lot by lot. Fewer where there are not as many; the oddity is told.
    """
    taken: list[Lot] = []
    wanted = number
    for lot in lots:
        share = min(lot.number, wanted)
        if share:
            taken.append(part_of_lot(lot, share))
            lot.number -= share
            lot.hunger = hungriest(lot.hunger, lot.number)
            wanted -= share
            for code in lot.codes if lot.mates else ():
                bench.mated[code] = joined(bench.mated.get(code, ()), lot.mates)
            if lot.stage == "adult" and lot.sex != "male":
                leave_part(container, share)
    container.lots = [lot for lot in container.lots if lot.number > 0]
    if wanted:
        odd(bench, entry, f"{container.code} had {number - wanted}, not {number}")
    return taken


def short(bench: Bench, entry: Entry, container: str, lots: list[Lot], to: str = "") -> None:
    """Open a shortfall for animals that were not seen; ``to`` is where they should have arrived."""
    bench.shortfalls.extend(_out_of_sight(entry, container, lots, to))


def got_out(bench: Bench, entry: Entry, container: str, lots: list[Lot]) -> None:
    """Remember who escaped: they may be found again."""
    bench.escaped.extend(_out_of_sight(entry, container, lots))
    del bench.escaped[:-MOST_ESCAPED]


def _out_of_sight(entry: Entry, container: str, lots: list[Lot], to: str = "") -> list[Shortfall]:
    return [
        Shortfall(
            container=container,
            brood=lot.brood,
            stage=lot.stage,
            number=lot.number,
            at=entry.at,
            entry=entry.id,
            instar=lot.instar,
            sex=lot.sex,
            to=to,
            hunger=lot.hunger,
        )
        for lot in lots
    ]


def entered(bench: Bench, brood: str, stage: str, number: int) -> None:
    """Count animals of a brood into a stage."""
    tally = bench.tallies.setdefault(brood, Tally())
    tally.entered[stage] = tally.entered.get(stage, 0) + number


def fared(bench: Bench, fate: str, lots: list[Lot]) -> None:
    """Count what became of animals."""
    for lot in lots:
        by_stage = bench.tallies.setdefault(lot.brood, Tally()).fates.setdefault(fate, {})
        by_stage[lot.stage] = by_stage.get(lot.stage, 0) + lot.number


def turned_up(bench: Bench, one: Shortfall, number: int) -> None:
    """So many of those that escaped did not end thus after all."""
    by_stage = bench.tallies.setdefault(one.brood, Tally()).fates.setdefault("escaped", {})
    by_stage[one.stage] = max(0, by_stage.get(one.stage, 0) - number)


def clear_empty_founders(bench: Bench, lots: list[Lot]) -> None:
    """A founder that is gone needs no deadline; of several that nobody can tell apart, none until all are gone."""
    for lot in lots:
        for code in members(lot.brood):
            if code == lot.brood or not any(_may_hold(container, code) for container in bench.standing()):
                bench.release_by.pop(code, None)


def _may_hold(container: Container, code: str) -> bool:
    return any(code in members(lot.brood) for lot in container.lots)
