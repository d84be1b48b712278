"""Laying day by day: female-days and eggs of each local day, with what was changed on it, so that changes can be judged."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from datetime import date, datetime, time, timedelta, tzinfo

from msgspec import Struct, field

from rounds.bench import kinds as k
from rounds.bench.folding import apply
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench
from rounds.record.held_eggs import eggs_on_held
from rounds.record.laying_record import COUNTED, LEAST_TIME, females_of, lay_without_plant, laying_in, offered, searched_for
from rounds.record.replay import that_count

Plants = dict[tuple[str, date, str], tuple[set[str], set[str]]]


class Day(Struct):
    """One local day of a species' females: female-days with any host, eggs found, and what was changed."""

    day: date
    female_days: float = 0.0
    eggs: int = 0
    searches: int = 0
    changes: list[str] = field(default_factory=list)

    @property
    def rate(self) -> float | None:
        """Eggs found per female-day; None without time with a host."""
        return self.eggs / self.female_days if self.female_days >= LEAST_TIME else None


def laying_days(entries: Iterable[Entry], now: datetime, zone: tzinfo) -> dict[str, list[Day]]:
    """Every species' days from its first female with a host, or first change, to now."""
    bench = Bench()
    entries = list(entries)
    free = lay_without_plant(entries)
    found: dict[str, dict[date, Day]] = {}
    plants: Plants = {}
    last: datetime | None = None
    for entry in that_count(entries):
        if last is not None and entry.at > last:
            _pass(bench, found, last, entry.at, zone, free)
        _tell(bench, found, entry, zone)
        _tell_held(bench, found, entry, zone)
        before = _plants(bench, entry)
        apply(bench, entry)
        if before is not None:
            _host_changed(bench, plants, entry, before, zone)
        last = entry.at
    if last is not None and now > last:
        _pass(bench, found, last, now, zone, free)
    for (taxon, day, code), (before, after) in plants.items():
        told = [f"{plant} out" for plant in sorted(before - after)] + [f"{plant} in" for plant in sorted(after - before)]
        if told:
            _day(found, taxon, day).changes.append(f"{code} {', '.join(told)}")
    return {taxon: [days[day] for day in sorted(days)] for taxon, days in found.items()}


def _plants(bench: Bench, entry: Entry) -> set[str] | None:
    """The plants in the container that an entry about host is about, as they stand; None for other entries."""
    container = bench.at(getattr(entry, "container", ""))
    if container is None or container.purpose not in COUNTED or not isinstance(entry, k.HostIn | k.HostOut):
        return None
    return {host.plant for host in container.hosts}


def _host_changed(bench: Bench, plants: Plants, entry: Entry, before: set[str], zone: tzinfo) -> None:
    """Remember the plants before the first change of a day and after its last: fresh sprigs of the same plant are no change."""
    container = bench.at(getattr(entry, "container", ""))
    if container is None:
        return
    for taxon in females_of(bench, container):
        key = taxon, entry.at.astimezone(zone).date(), container.code
        plants[key] = plants.get(key, (before, before))[0], {host.plant for host in container.hosts}


def _day(found: dict[str, dict[date, Day]], taxon: str, day: date) -> Day:
    return found.setdefault(taxon, {}).setdefault(day, Day(day))


def _pass(
    bench: Bench, found: dict[str, dict[date, Day]], since: datetime, until: datetime, zone: tzinfo, free: Collection[str]
) -> None:
    for container in laying_in(bench):
        for taxon, females in females_of(bench, container).items():
            if not offered(container, taxon, free):
                continue
            for day, length in _by_day(since, until, zone):
                _day(found, taxon, day).female_days += females * length / timedelta(days=1)


def _by_day(since: datetime, until: datetime, zone: tzinfo) -> Iterator[tuple[date, timedelta]]:
    """A span cut at local midnights."""
    start = since
    while start < until:
        day = start.astimezone(zone).date()
        midnight = datetime.combine(day + timedelta(days=1), time(0), tzinfo=zone).astimezone(start.tzinfo)
        end = min(until, midnight)
        yield day, end - start
        start = end


def _tell(bench: Bench, found: dict[str, dict[date, Day]], entry: Entry, zone: tzinfo) -> None:
    container = bench.at(getattr(entry, "container", ""))
    if isinstance(entry, k.FounderIntake) and container and container.purpose in COUNTED and entry.sex == "female":
        _day(found, entry.taxon, entry.at.astimezone(zone).date()).changes.append(f"{entry.code} in {container.code}")
        return
    _tell_arrival(bench, found, entry, zone)
    if container is None or container.purpose not in COUNTED:
        return
    taxa = list(females_of(bench, container))
    if isinstance(entry, k.Searched) and entry.lots:
        return
    if isinstance(entry, k.Searched):
        stood = container.females_left or entry.at  # eggs were laid while a female was there
        for taxon, eggs in searched_for(bench, container, entry).items():
            day = _day(found, taxon, stood.astimezone(zone).date())
            day.eggs += eggs
            day.searches += 1
        return
    words = _change(entry)
    for taxon in taxa if words else ():
        _day(found, taxon, entry.at.astimezone(zone).date()).changes.append(f"{container.code} {words}")


def _tell_held(bench: Bench, found: dict[str, dict[date, Day]], entry: Entry, zone: tzinfo) -> None:
    """Eggs that showed on held sprigs count on the last day on which the sprigs stood with females."""
    container = bench.at(getattr(entry, "container", ""))
    if container is None or (container.purpose in COUNTED and isinstance(entry, k.Searched) and not entry.lots):
        return
    for held in eggs_on_held(bench, entry):
        day = _day(found, held.taxon, held.taken_out.astimezone(zone).date())
        day.eggs += held.eggs
        day.searches += isinstance(entry, k.Searched)


def _tell_arrival(bench: Bench, found: dict[str, dict[date, Day]], entry: Entry, zone: tzinfo) -> None:
    target = bench.at(entry.to) if isinstance(entry, k.Moved) else None
    source = bench.at(entry.container) if isinstance(entry, k.Moved) else None
    if target is None or source is None or target.purpose not in COUNTED or not isinstance(entry, k.Moved):
        return
    if entry.stage in (None, "adult"):
        for taxon in females_of(bench, source):
            _day(found, taxon, entry.at.astimezone(zone).date()).changes.append(f"{entry.number} into {target.code}")


def _change(entry: Entry) -> str:
    """What was changed besides host, in a few words."""
    match entry:
        case k.Light():
            return entry.to
        case k.Died(stage=None | "adult"):
            return f"{entry.number} died"
        case k.Released():
            return f"{entry.number} released"
        case k.Moved(stage=None | "adult"):
            return f"{entry.number} out to {entry.to}"
        case k.Changed():
            return f"now {entry.purpose}" if entry.purpose else ""
    return ""
