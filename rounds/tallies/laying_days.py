"""Laying day by day: female-days and eggs of each local day, with what was changed on it, so that
changes can be judged."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from datetime import date, datetime, time, timedelta, tzinfo

from msgspec import Struct, field
from msgspec.structs import replace

from rounds.bench.codes import members
from rounds.bench.movements import AdultsWithStems
from rounds.bench.state import Bench
from rounds.tallies.egg_finds import EggSearch
from rounds.tallies.female_days import by_taxon, offered, still_standing
from rounds.tallies.laying_changes import LayingChange

Plants = tuple[str, ...]  # that stand in a container


class Day(Struct):
    """One local day of a species' females: female-days with any host, eggs found, and what was
    changed.

    ``either`` are eggs found that are of it or of another species, nobody knows of which.
    """

    day: date
    female_days: float = 0.0
    eggs: int = 0
    searches: int = 0
    either: int = 0
    changes: list[str] = field(default_factory=list)


class LayingDays:
    """Adds up days.

    Args:
        zone: the bench's, for its local midnights.
        free: the species that lay without a plant.
    """

    def __init__(self, zone: tzinfo, free: Collection[str] = ()) -> None:
        self._zone = zone
        self._free = free
        self._days: dict[str, dict[date, Day]] = {}
        # By species, day and container: the plants before the first change of a day and after its
        # last.
        self._plants: dict[str, dict[date, dict[str, tuple[Plants, Plants]]]] = {}

    def take(self, one: AdultsWithStems | EggSearch | LayingChange) -> None:
        """Add a span of time, a search, or a change."""
        if isinstance(one, AdultsWithStems):
            self._stood(one)
        elif isinstance(one, LayingChange):
            self._changed(one)
        elif one.laid_by is not None:
            for taxon, eggs, _ in one.found:
                self._found(taxon, one.laid_by, eggs, searches=int(one.is_search))
        else:
            for kept_eggs in one.on_kept:
                self._found(
                    kept_eggs.taxon,
                    kept_eggs.laid_to,
                    kept_eggs.eggs,
                    searches=int(one.is_search),
                )

    def days(self, bench: Bench, now: datetime, most: int = 0) -> dict[str, list[Day]]:
        """Every species' days from its first female with a host, or first change, to now.

        Args:
            most: only its last ones, so many; all of them where 0.
        """
        known = LayingDays(self._zone, self._free)
        for taxon, days in self._days.items():
            first = _first_of(days, most)
            known._days[taxon] = {
                day: replace(one, changes=list(one.changes))
                for day, one in days.items()
                if day >= first
            }
        for span in still_standing(bench, now):
            known._stood(span)
        for taxon, changed in self._plants.items():
            first = _first_of(known._days.get(taxon, ()), most)
            for day in changed:
                if day >= first:
                    known._tell_plants(taxon, day, changed[day])
        return {
            taxon: [days[day] for day in sorted(days)[-most:]]
            for taxon, days in known._days.items()
        }

    def _tell_plants(
        self, taxon: str, day: date, changed: Mapping[str, tuple[Plants, Plants]]
    ) -> None:
        """What went out and came in on a day, by container."""
        for code, (before, after) in changed.items():
            words = [f"{plant} out" for plant in sorted({*before} - {*after})]
            words += [f"{plant} in" for plant in sorted({*after} - {*before})]
            if words:
                self._day(taxon, day).changes.append(f"{code} {', '.join(words)}")

    def _day(self, taxon: str, day: date) -> Day:
        return self._days.setdefault(taxon, {}).setdefault(day, Day(day))

    def _local(self, at: datetime) -> date:
        return at.astimezone(self._zone).date()

    def _stood(self, span: AdultsWithStems) -> None:
        for taxon, adults in by_taxon(span).items():
            females = sum(adult.number for adult in adults if adult.female)
            if females and offered(span.stems, taxon, self._free):
                for day, length in by_day(span.since, span.until, self._zone):
                    self._day(taxon, day).female_days += females * length / timedelta(days=1)

    def _found(self, taxon: str, laid_by: datetime, eggs: int, searches: int) -> None:
        """Eggs count on the last day on which a female can have laid them."""
        day = self._day(taxon, self._local(laid_by))
        day.eggs += eggs
        day.searches += searches
        for one in members(taxon) if len(members(taxon)) > 1 else ():
            # the second epithet of 'Melitaea gemina or similina' names no species by itself
            if " " not in one:
                continue
            its = self._day(one, self._local(laid_by))
            its.either += eggs
            its.searches += searches

    def _changed(self, laying_change: LayingChange) -> None:
        """Fresh stems of the same plant are no change."""
        day = self._local(laying_change.at)
        if laying_change.plants is None:
            self._day(laying_change.taxon, day).changes.append(laying_change.words)
        else:
            changed = self._plants.setdefault(laying_change.taxon, {}).setdefault(day, {})
            before, _ = changed.get(laying_change.container, (laying_change.plants, ()))
            changed[laying_change.container] = before, laying_change.plants


def _first_of(days: Collection[date], most: int) -> date:
    """The first of so many last days; any before them where there are no more."""
    return sorted(days)[-most] if 0 < most <= len(days) else date.min


def by_day(since: datetime, until: datetime, zone: tzinfo) -> Iterator[tuple[date, timedelta]]:
    """A span cut at local midnights."""
    start = since
    while start < until:
        day = start.astimezone(zone).date()
        midnight = datetime.combine(day + timedelta(days=1), time(0), tzinfo=zone).astimezone(
            start.tzinfo
        )
        end = min(until, midnight)
        yield day, end - start
        start = end
