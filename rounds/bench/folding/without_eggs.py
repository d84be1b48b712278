"""How long warm, fed females stood with a plant since its last egg, however often its stems were
renewed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import pairwise, takewhile

from msgspec.structs import replace

from rounds.bench.state import Bench, Container, Lot, WithoutEggs

ONE_DAY = timedelta(days=1)
# after a drink a female counts as fed; fed once a day is the floor of a warm one, trade practice
FED_FOR = timedelta(hours=24)
# nothing is laid below, as keepers of temperate species say; common practice, no source
LAYS_FROM_C = 18.0
# the warmest that was read so lately is that in which she lays; our estimate
READ_FOR = timedelta(hours=36)


def stand(
    bench: Bench, container: Container, females: list[Lot], since: datetime, at: datetime
) -> None:
    """Count the time of females in the light with each plant that stands there, up to then; each
    part of it by what was read then, and by who had drunk."""
    since, container.waited = max(since, container.waited or since), at
    for plant in {host.plant for host in container.hosts}:
        begun = max(since, min(host.put_in for host in container.hosts if host.plant == plant))
        if at <= begun:
            continue
        known = container.without_eggs.setdefault(plant, WithoutEggs(begun))
        for start, end, read in _as_read(bench, container, begun, at):
            for lot in females:
                days = lot.number * ((end - start) / ONE_DAY)
                fed = _fed_days(bench, lot, start, end)
                if read is None:
                    known.unread += days
                known.hungry += days - fed
                if read is not None and read < LAYS_FROM_C:
                    known.cool += days
                    known.cool_and_hungry += days - fed
                else:
                    known.female_days += fed


def up_to(
    bench: Bench, container: Container, females: list[Lot], at: datetime
) -> dict[str, WithoutEggs]:
    """The same up to an instant; the bench stays as it is."""
    copied = replace(
        container,
        without_eggs={
            plant: replace(without_eggs) for plant, without_eggs in container.without_eggs.items()
        },
    )
    stand(bench, copied, females, container.accounted or container.since, at)
    return copied.without_eggs


def _fed_days(bench: Bench, lot: Lot, begun: datetime, at: datetime) -> float:
    """Female-days up to a day after each drank last; all of them where they take no food or it is
    not known."""
    if not bench.is_fed(lot) or not lot.hunger:
        return lot.number * ((at - begun) / ONE_DAY)
    known = sum(
        hunger.number * max(0.0, (min(at, hunger.since + FED_FOR) - begun) / ONE_DAY)
        for hunger in lot.hunger
    )
    others = max(0, lot.number - sum(one.number for one in lot.hunger))
    return known + others * ((at - begun) / ONE_DAY)


def _as_read(
    bench: Bench, container: Container, begun: datetime, at: datetime
) -> Iterator[tuple[datetime, datetime, float | None]]:
    """The parts of a span from one reading to the next, as long as it speaks for: from when, till
    when, and the warmest that was read lately at its end."""
    places = [_warm_readings(bench, place, begun) for place in bench.places_of(container.code)]
    told = {then for read in places for one, _ in read for then in (one, one + READ_FOR)}
    ends = [*sorted(then for then in told if begun < then < at), at]
    for start, end in pairwise([begun, *ends]):
        yield start, end, _warmest_read(places, start)


def _warm_readings(bench: Bench, place: str, begun: datetime) -> list[tuple[datetime, float]]:
    """What was read at a place since then, or so shortly before that it still speaks for it: when,
    and the warmest of it."""
    lately = takewhile(lambda air: air.at >= begun - READ_FOR, reversed(bench.air.get(place, ())))
    warmest = ((air.at, air.temperature_c if air.high_c is None else air.high_c) for air in lately)
    return [(then, warm) for then, warm in warmest if warm is not None]


def _warmest_read(places: list[list[tuple[datetime, float]]], at: datetime) -> float | None:
    """The warmest that was read lately, in the nearest place; None where nothing was."""
    for read in places:
        lately = [warm for then, warm in read if timedelta(0) <= at - then < READ_FOR]
        if lately:
            return max(lately)
    return None
