"""Who drank, as far as it is known: what goes with each female wherever she is put.

All of them, a named one, or so many of one lot are sure, and are remembered of the lot. So many of
several lots are remembered of the container: they count for all once as many drank within one feed
as there are.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from rounds.bench.folding.female_days import wait_for_eggs
from rounds.bench.state import Bench, Container, Hunger, Lot

if TYPE_CHECKING:
    from rounds.entries.feeding import Drank

# drinks of several females this close together are one feed; our estimate
ONE_FEED = timedelta(hours=6)


def feed(bench: Bench, container: Container, entry: Drank) -> None:
    """Animals of a container drank: a named one, so many of them, or all."""
    wait_for_eggs(bench, container, entry.at)  # till now they were as hungry as they were
    adults = fed_lots(bench, container)
    here = females_first(adults)
    if entry.of > sum(lot.number for lot in here):
        here = adults
    lots = [lot for lot in here if entry.female in ("", lot.brood)] or here
    if entry.female:  # she may be one of those that drank before, nobody knew who
        leave_part(container, entry.number or 1)
    there = sum(lot.number for lot in lots)
    if entry.number == 0 or entry.number >= there:
        for lot in lots if entry.female else container.lots_of("adult"):
            lot.hunger = (Hunger(entry.at, lot.number, drank=True),)
        if len(lots) == len(here):
            _all_drank(container, entry.at, entry.at)
            _went_along(adults, here, entry.at)
            return
    elif len(lots) == 1:
        lots[0].hunger = _some_drank(container, lots[0], entry.number, entry.at)
    else:
        container.drank_part = [*_part_of_feed(container, entry.at), (entry.at, entry.number)]
    _count_feed(container, here, entry.at)
    if container.feed_done == entry.at:
        _went_along(adults, here, entry.at)


def _went_along(adults: list[Lot], told: list[Lot], at: datetime) -> None:
    """Where it was told of the females alone that they drank, the males with them did too."""
    for lot in adults:
        if all(lot is not one for one in told):
            lot.hunger = (Hunger(at, lot.number, drank=True),)


def fed_lots(bench: Bench, container: Container) -> list[Lot]:
    """The adults that take food, of either sex; all of them where none does."""
    adults = container.lots_of("adult")
    return [lot for lot in adults if bench.is_fed(lot)] or adults


def females_first(adults: list[Lot]) -> list[Lot]:
    """Those of whom an entry tells that does not say of how many adults: females and those of
    unknown sex, for whom the males with them go along; males only if they are among themselves."""
    return [lot for lot in adults if lot.sex != "male"] or adults


def of_this_feed(bench: Bench, container: Container, at: datetime) -> int:
    """How many drank in the feed that goes on at a time; 0 once all have, and before any did."""
    known = sum(
        hunger.number
        for lot in fed_lots(bench, container)
        for hunger in lot.hunger
        if _is_of_feed(container, hunger, at)
    )
    return known + sum(number for _, number in _part_of_feed(container, at))


def drank_by_name(bench: Bench, container: Container, at: datetime) -> tuple[list[Lot], list[Lot]]:
    """The lots of which it is known that some drank in the feed that goes on, and the others."""
    lots = females_first(fed_lots(bench, container))
    drank = [lot for lot in lots if any(_is_of_feed(container, one, at) for one in lot.hunger)]
    return drank, [lot for lot in lots if all(lot is not one for one in drank)]


def leave_part(container: Container, number: int) -> None:
    """So many adults leave, perhaps those that drank: of the others so many fewer are sure."""
    for position in reversed(range(len(container.drank_part))):
        at, drank = container.drank_part[position]
        container.drank_part[position] = (at, max(0, drank - number))
        number -= min(drank, number)
    container.drank_part = [(at, drank) for at, drank in container.drank_part if drank]


def _some_drank(container: Container, lot: Lot, number: int, at: datetime) -> tuple[Hunger, ...]:
    """So many of a lot drank: of those who did not in this feed, as far as is known, those that
    drank last."""
    fed = tuple(one for one in lot.hunger if _is_of_feed(container, one, at))
    others = sorted(
        (hunger for hunger in lot.hunger if hunger not in fed),
        key=lambda one: (one.drank, one.since),
        reverse=True,
    )
    left: list[Hunger] = []
    drank = 0
    for other in others:
        share = min(other.number, number - drank)
        drank += share
        if other.number > share:
            left.append(Hunger(other.since, other.number - share, other.drank))
    return (
        *sorted([*left, *fed], key=lambda one: one.since),
        *((Hunger(at, drank, drank=True),) if drank else ()),
    )


def _is_of_feed(container: Container, hunger: Hunger, at: datetime) -> bool:
    done = container.feed_done
    return hunger.drank and at - hunger.since <= ONE_FEED and (done is None or hunger.since > done)


def _part_of_feed(container: Container, at: datetime) -> list[tuple[datetime, int]]:
    return [(then, number) for then, number in container.drank_part if at - then <= ONE_FEED]


def _count_feed(container: Container, lots: list[Lot], at: datetime) -> None:
    """Once as many drank within one feed as there are, all did, those of whom it is not known with
    the first of it."""
    container.drank_part = _part_of_feed(container, at)
    known = [one for lot in lots for one in lot.hunger if _is_of_feed(container, one, at)]
    drank = sum(hunger.number for hunger in known) + sum(
        number for _, number in container.drank_part
    )
    if drank < sum(lot.number for lot in lots):
        return
    first = min([*(one.since for one in known), *(then for then, _ in container.drank_part)])
    for lot in lots:
        fed = tuple(one for one in lot.hunger if one in known)
        others = lot.number - sum(one.number for one in fed)
        lot.hunger = (*((Hunger(first, others, drank=True),) if others else ()), *fed)
    _all_drank(container, first, at)


def _all_drank(container: Container, at: datetime, done: datetime) -> None:
    container.all_drank, container.feed_done = at, done
    container.drank_part = []
