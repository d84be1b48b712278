"""How long warm, fed females stood with a plant since its last egg, however often its stems were
renewed."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.bench.state import Bench, Container, Lot, WithoutEggs

ONE_DAY = timedelta(days=1)
# after a drink a female counts as fed; fed once a day is the floor of a warm one, trade practice
FED_FOR = timedelta(hours=24)
# nothing is laid below, as keepers of temperate species say; common practice, no source
LAYS_FROM_C = 18.0
# the warmest that was read so lately is that in which she lays; our estimate
READ_FOR = timedelta(hours=36)
MAX_READ = 12  # readings of a place that are looked at


def stand(
    bench: Bench, container: Container, females: list[Lot], since: datetime, at: datetime
) -> None:
    """Count the time of females in the light with each plant that stands there."""
    for plant in {host.plant for host in container.hosts}:
        begun = max(since, min(host.put_in for host in container.hosts if host.plant == plant))
        if at <= begun:
            continue
        known = container.without_eggs.setdefault(plant, WithoutEggs(begun))
        read = _warmest_read(bench, container, at)
        for lot in females:
            days, fed = lot.number * ((at - begun) / ONE_DAY), _fed_days(bench, lot, begun, at)
            if read is None:
                known.unread += days
            if read is not None and read < LAYS_FROM_C:
                known.cool += days
            else:
                known.female_days += fed
                known.hungry += days - fed


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


def _warmest_read(bench: Bench, container: Container, at: datetime) -> float | None:
    """The warmest that was read lately where a container stands, in the nearest place; None where
    nothing was."""
    for place in bench.places_of(container.code):
        lately = [
            one
            for one in bench.air.get(place, [])[-MAX_READ:]
            if timedelta(0) <= at - one.at <= READ_FOR
        ]
        told = [air.temperature_c if air.high_c is None else air.high_c for air in lately]
        known = [one for one in told if one is not None]
        if known:
            return max(known)
    return None
