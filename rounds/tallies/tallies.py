"""What went by, added up: each file is a small fold over the journal."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, tzinfo
from itertools import islice
from typing import Any

from rounds.bench.movements import AdultsWithStems, Carried, Movement
from rounds.bench.state import Bench, StemsGone
from rounds.entries import registry as k
from rounds.tallies.batch_losses import BatchLosses, Cutting
from rounds.tallies.broods import Lookback
from rounds.tallies.cohorts import Cohorts, Course, SeenAlive
from rounds.tallies.detection import SharesFound
from rounds.tallies.egg_finds import EggSearch
from rounds.tallies.female_days import FemaleDays, OnHost
from rounds.tallies.host_evidence import Evidence, evidence_of
from rounds.tallies.journal import Journal
from rounds.tallies.laying_changes import LayingChange
from rounds.tallies.laying_days import Day, LayingDays
from rounds.tallies.mean_temperature import CourseTemperatures
from rounds.tallies.records import Record
from rounds.tallies.stems_in import StemsIn
from rounds.tallies.stood_before import StoodBefore
from rounds.tallies.warmth import Series


class Tallies:
    """All that looks back on a bench.

    It goes on where it was, and begins anew only if what went by was changed.
    """

    def __init__(self) -> None:
        self._bench = Bench()
        self._zone: tzinfo = UTC
        self._journal = Journal()
        self._begin()

    def _begin(self) -> None:
        self._free = lay_without_plant(self._bench)
        self._at = (id(self._journal), self._journal.cuts)
        self._done = 0
        self.airs: dict[str, list[k.Air]] = {}  # what was read by hand, by place, in order
        self._cohorts = Cohorts()
        self._seen: list[Evidence] = []  # what lines themselves say of animals and their plants
        self._evidence: tuple[Evidence, ...] | None = None
        self._batches = BatchLosses()
        self._days = LayingDays(self._zone, self._free)
        self._on_hosts = FemaleDays(self._free)
        self._course: Course | None = None
        self._cuttings: list[Cutting] | None = None
        self._folds: dict[type[Record], tuple[Callable[[Any], None], ...]] = {
            Movement: (self._cohorts.take, self._batches.take),
            Carried: (self._cohorts.take,),
            SeenAlive: (self._cohorts.take,),
            AdultsWithStems: (self._on_hosts.take, self._days.take),
            EggSearch: (self._on_hosts.take, self._days.take),
            LayingChange: (self._days.take,),
            StemsIn: (self._batches.take, self._cohorts.take),
            Evidence: (self._seen.append,),
            k.HostOut: (self._batches.take, self._cohorts.take),
            k.Closed: (self._batches.take, self._cohorts.take),
            k.Looked: (self._batches.take,),
            k.Air: (self._read,),
            **dict.fromkeys((StemsGone, StoodBefore), ()),  # exports alone ask for them
        }

    def _read(self, air: k.Air) -> None:
        self.airs.setdefault(air.container or air.shelf, []).append(air)

    def up_to(self, bench: Bench, journal: Journal, zone: tzinfo) -> Tallies:
        """Go on to the bench as it stands."""
        self.go_on(bench, journal, zone)
        return self

    def go_on(self, bench: Bench, journal: Journal, zone: tzinfo, most: int | None = None) -> float:
        """Go on towards the bench as it stands.

        Args:
            most: how many records are added at most; all where not given.

        Returns:
            The share of all that is added up now.
        """
        is_as_before = (
            (id(journal), journal.cuts) == self._at
            and zone == self._zone
            and lay_without_plant(bench) == self._free
        )
        self._bench, self._journal, self._zone = bench, journal, zone
        if not is_as_before:
            self._begin()
        before, whole = self._done, len(journal)
        for record in islice(journal.since(before), most):
            for take in self._folds[type(record)]:
                take(record)
        self._done = whole if most is None else min(whole, before + most)
        if self._done > before or (self._course and self._course.bench is not bench):
            self._course = self._cuttings = self._evidence = None
        return self._done / whole if whole else 1.0

    @property
    def course(self) -> Course:
        """What became of every animal."""
        if self._course is None:
            self._course = self._cohorts.course(self._bench)
        return self._course

    @property
    def evidence(self) -> tuple[Evidence, ...]:
        """What is known of animals and their plants, in the order in which things happened."""
        if self._evidence is None:
            found = [*self._seen, *evidence_of(self.course.passages)]
            self._evidence = tuple(sorted(found, key=lambda one: one.at))
        return self._evidence

    @property
    def cuttings(self) -> list[Cutting]:
        """Every cutting that was put in anywhere, the newest first, with what was lost of those
        that it fed."""
        if self._cuttings is None:
            self._cuttings = self._batches.cuttings(self.course.ended)
        return self._cuttings

    def on_hosts(self, now: datetime, shares: SharesFound | None = None) -> list[OnHost]:
        """Every species on every host that it was offered, the most female-days first in each
        species; ``shares`` are those that searches of this bench find, where they were reckoned
        before."""
        return self._on_hosts.on_hosts(self._bench, now, shares)

    def days(self, now: datetime, most: int = 0) -> dict[str, list[Day]]:
        """Every species' laying day by day; its last days alone, so many, unless 0."""
        return self._days.days(self._bench, now, most)

    def look_back(self, logged: Callable[[str], Series] | None = None) -> Lookback:
        """The course of every animal with its warmth and plants; ``logged`` gives what loggers
        wrote at a place."""
        return Lookback(
            self.course,
            CourseTemperatures(self.course, self.airs, self._zone, logged),
            self.evidence,
        )


def lay_without_plant(bench: Bench) -> frozenset[str]:
    """The species whose females lay without a plant; said late, it holds from the first."""
    return frozenset(name for name, taxon in bench.taxa.items() if taxon.lays_without_plant)
