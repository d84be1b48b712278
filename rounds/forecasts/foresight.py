"""Looking ahead from one bench: each forecast is made once, when first asked for."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, datetime, timedelta, tzinfo
from functools import cached_property
from typing import Any

from msgspec.structs import replace

from rounds.bench.diapause import has_rested, hidden_eggs_winter, rests
from rounds.bench.folding.stage_completions import begun, hatched_between
from rounds.bench.state import Bench, Container, EarlierPlace, KeptLot, Lot, Moat, StageCompletion
from rounds.bench.thermal_needs import ThermalNeed, instars_of, known_need, pauses
from rounds.bench.winter import winter_after
from rounds.biology.degree_days import Thresholds
from rounds.biology.forecast import HeatTrace, StageForecast, forecast, joined
from rounds.biology.thermal_constants import Z90, beyond
from rounds.biology.thermal_time import StageEnds
from rounds.forecasts.kept_stems import Chance, chance_of
from rounds.forecasts.moats import MoatForecast, lowering
from rounds.forecasts.needs import LONGEST_STAGE, bettered, not_yet, seen_of
from rounds.forecasts.no_eggs import LaidRecord
from rounds.forecasts.outcomes import WHAT, ForecastOutcome, grouped, half_of
from rounds.forecasts.stage_ends import (
    CHANGES,
    INSTAR_VARIES,
    Change,
    ComingChange,
    as_expected,
    begun_within,
    coming_change,
    end_of_stage,
    instant_of,
    instar_of,
    later_of,
    of_those_left,
    rest_of,
    scaled,
    undated,
)
from rounds.forecasts.warmth import Logged, PlaceTemperatures, no_loggers, warmth_at
from rounds.grouping import grouped as by_first
from rounds.tallies.warmth import day_of

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
FURTHEST_BACK = LONGEST_STAGE
A_DAY = timedelta(days=1)
HALF_AN_HOUR = timedelta(minutes=30)
# the last days by which it is told that it is colder or warmer than was tested
LATELY_DAYS, MAX_LATELY = 3.0, 1_000


def warm_until(bench: Bench) -> datetime:
    """Up to when it is told how warm it was: the end of the half hour in which anything was said
    last, so that what is said within it moves no forecast by seconds."""
    newest = bench.newest
    return EPOCH if newest is None else newest + (EPOCH - newest) % HALF_AN_HOUR


def _whole_stage(stage: str) -> str:
    """The stage of which an instar is a part: what one needs is told from what all of them do."""
    return "larva" if stage.startswith("L") else stage


def _stage_before(stage: str) -> str:
    """The stage or instar that ends where one begins; empty of eggs."""
    if stage in ("larva", "L1"):
        return "egg"
    return f"L{int(stage[1:]) - 1}" if stage[:1] == "L" else {"pupa": "larva"}.get(stage, "")


class Forecasts:
    """What is coming on a bench as it stands; a changed bench wants a new one.

    Args:
        bench: as it stands; it is only read.
        zone: the bench's, for the hours at which days are coldest and warmest.
        logged: what loggers wrote of a place, where they were read.
    """

    def __init__(self, bench: Bench, zone: tzinfo, logged: Logged = no_loggers) -> None:
        self.bench = bench
        self._zone = zone
        self.logged = logged
        self.until = warm_until(bench)
        self._places_at: dict[tuple[str, str], tuple[str, ...]] = {}
        self._warmth: dict[tuple[str, ...], PlaceTemperatures] = {}
        self._traces: dict[tuple[tuple[str, ...], Thresholds], HeatTrace] = {}
        self._traces_then: dict[
            tuple[tuple[str, ...], Thresholds, datetime, datetime], HeatTrace
        ] = {}
        self._known: dict[tuple[str, str], ThermalNeed | None] = {}
        self._needs: dict[tuple[str, str, str], ThermalNeed | None] = {}
        self._seen: dict[tuple[str, str, Thresholds], dict[str, tuple[StageEnds, ...]]] = {}
        self._coming: dict[str, tuple[ComingChange, ...]] = {}
        self._foretold: dict[tuple[object, ...], tuple[HeatTrace, StageForecast]] = {}
        self._chances: dict[tuple[int, datetime] | None, Chance] = {}
        self._mean_and_warmest: dict[tuple[str, ...], tuple[float, float]] = {}

    def is_behind(self, bench: Bench) -> bool:
        """Whether more is known on the bench by now of how warm it was than these go by."""
        return self.until != warm_until(bench)

    def looked_at(self, seen: Mapping[str, datetime]) -> set[str]:
        """Forget what was reckoned of these containers, and of all that a look at them tells of; no
        animal moved and nothing was read, so that the rest is as it was.

        Args:
            seen: by container, when it was looked at last before.

        Returns:
            The containers of which anything was forgotten.
        """
        touched = set(seen)
        anew = {
            code
            for code, before in seen.items()
            if (container := self.bench.at(code)) is not None and container.last_look != before
        }
        tells_of = {
            (taxon, _whole_stage(stage))
            for (taxon, stage), lots in (self._unfinished.items() if anew else ())
            if any(container.code in anew for container, _ in lots)
        }
        if tells_of:
            for kept in (self._needs, self._seen):
                for key in [key for key in kept if (key[0], _whole_stage(key[1])) in tells_of]:
                    del kept[key]  # type: ignore[arg-type]
            touched |= {
                container.code
                for container in self.bench.standing()
                if any(
                    lot.stage != "adult" and (self.bench.taxon_of(lot.brood), lot.stage) in tells_of
                    for lot in container.lots
                )
                or any((held.taxon, "egg") in tells_of for held in container.held)
            }
        for code in touched:
            self._coming.pop(code, None)
        self._chances.clear()
        self.__dict__.pop("laid", None)
        self.__dict__.pop("_left_out", None)
        return touched

    def warmth(self, code: str) -> PlaceTemperatures:
        """The temperatures where a container stands; it says so where they were read in another
        place."""
        place_temperatures = self._warmth_of(self._places(code, ""))
        unread = self.unread_place(code)
        return (
            replace(
                place_temperatures,
                used=f"{place_temperatures.used}; nothing was read of {unread}, where it stands",
            )
            if unread
            else place_temperatures
        )

    def unread_place(self, code: str) -> str:
        """The place apart from the room where a container stands, if nothing was ever read there;
        else empty."""
        container = self.bench.at(code)
        shelf = self.bench.shelf_of(container) if container is not None else None
        if shelf is None or not shelf.apart or any(self._places(code, "")):
            return ""
        return shelf.name

    def _warmth_of(self, places: tuple[str, ...]) -> PlaceTemperatures:
        if places not in self._warmth:
            until = self._since if self.bench.newest is None else self.until
            self._warmth[places] = warmth_at(
                self.bench, places, self._zone, self._since, until, self.logged
            )
        return self._warmth[places]

    def _places(self, code: str, shelf: str) -> tuple[str, ...]:
        """Where temperatures were read that hold for it; of a container that is gone, its shelf and
        the room besides.

        Places where nothing was read are left out, so that all containers of a room share what is
        made of its readings.
        """
        key = code, shelf
        known = self._places_at.get(key)
        if known is None:
            known = self._places_at[key] = self._read_of((*self.bench.places_of(code), shelf))
        return known

    def _read_of(self, near: Iterable[str]) -> tuple[str, ...]:
        """Those of some places that were read, the nearest first, and the room; not that where one
        apart from it was read."""
        places = [place for place in dict.fromkeys(near) if place]
        texts = [place for place in places if place in self._read]
        own = texts and any(self.bench.is_apart(place) for place in places)
        return tuple(texts if own or "" not in self._read else [*texts, ""])

    @cached_property
    def _read(self) -> set[str]:
        """The places where temperatures were read."""
        return {
            place
            for read in (self.bench.air, self.bench.logged)
            for place, readings in read.items()
            if readings
        }

    @cached_property
    def laid(self) -> LaidRecord:
        """What is on record of laying."""
        return LaidRecord(self.bench)

    @cached_property
    def _since(self) -> datetime:
        """From when warmth matters: when the first of what is here began."""
        bench = self.bench
        newest = self.until
        begun = [
            lot.since
            for container in bench.standing()
            for lot in container.lots
            if lot.stage != "adult" and lot.since
        ]
        begun += [held.offered for one in bench.standing() for held in one.held]
        gone = [brood.laid_from for brood in bench.broods.values() if brood.laid_from]
        gone += [stage_completion.begun_from for stage_completion in bench.passed]
        furthest = newest - FURTHEST_BACK
        begun += [one for one in gone if one >= furthest]
        return max(min(begun, default=newest), furthest) - A_DAY

    def trace(self, code: str, above: Thresholds, shelf: str = "") -> HeatTrace:
        """Heat above a threshold where a container stands."""
        return self._trace_of(self._places(code, shelf), above)

    def _trace_of(self, places: tuple[str, ...], above: Thresholds) -> HeatTrace:
        key = places, above
        if key not in self._traces:
            self._traces[key] = self._warmth_of(places).trace(above)
        return self._traces[key]

    def along(
        self, code: str, shelf: str, stays: tuple[EarlierPlace, ...], above: Thresholds
    ) -> HeatTrace:
        """Heat above a threshold along the places where animals stood, up to where they stand."""
        last = self.trace(code, above, shelf)
        if all(self._places_of(stay) == self._places(code, shelf) for stay in stays):
            return last
        parts = [
            (self._trace_of(self._places_of(stay), above), day_of(stay.until)) for stay in stays
        ]
        return joined(parts, last, start=min(day_of(self._since), parts[0][1]))

    def _along_then(self, ended: StageCompletion, above: Thresholds) -> HeatTrace:
        """Heat above a threshold along the places where animals stood that ended a stage; of years
        ago from what was read then."""
        if ended.begun_from >= self._since:
            return self.along(ended.container, ended.shelf, ended.stays, above)
        since, until = self._spans_then[ended.container]
        since = min([since, *(stay.until for stay in ended.stays)]) - A_DAY

        def trace_at(places: tuple[str, ...]) -> HeatTrace:
            key = places, above, since, until
            if key not in self._traces_then:
                then = warmth_at(self.bench, places, self._zone, since, until, self.logged)
                self._traces_then[key] = then.trace(above)
            return self._traces_then[key]

        last = trace_at(self._places(ended.container, ended.shelf))
        parts = [(trace_at(self._places_of(stay)), day_of(stay.until)) for stay in ended.stays]
        return joined(parts, last, start=day_of(since)) if parts else last

    @cached_property
    def _spans_then(self) -> dict[str, tuple[datetime, datetime]]:
        """Between when animals of each container ended stages that they began there."""
        spans: dict[str, tuple[datetime, datetime]] = {}
        for one in self.bench.passed:
            since, until = spans.get(one.container, (one.begun_from, one.at))
            spans[one.container] = min(since, one.begun_from), max(until, one.at)
        return spans

    def _places_of(self, stay: EarlierPlace) -> tuple[str, ...]:
        still = self.bench.at(stay.container)
        if still is not None and still.shelf == stay.shelf:
            return self._places(stay.container, stay.shelf)
        return self._read_of((stay.container, stay.shelf))

    def need(self, taxon: str, stage: str, brood: str = "") -> ThermalNeed | None:
        """What a stage of a species needs, bettered by the bench's own broods; of a brood by its
        own animals above all.

        An instar of which nothing is known by itself is its usual share of larval life; None for
        the last, which ends with it.
        """
        key = taxon, stage, brood
        if key not in self._needs:
            known = self._before_broods(taxon, stage, brood)
            if known is None:
                self._needs[key] = None
            else:
                broods = self._seen_of(taxon, stage, known.thresholds)
                this = list(broods).index(brood) if brood in broods else None
                if brood and this is None:
                    self._needs[key] = self.need(taxon, stage)
                else:
                    left_out = self._left_out.get((taxon, stage), 0)
                    self._needs[key] = bettered(known, stage, list(broods.values()), this, left_out)
        return self._needs[key]

    def own_broods(self, taxon: str, stage: str) -> Mapping[str, tuple[StageEnds, ...]]:
        """What each brood of the bench says of the warmth that a stage or instar takes, above the
        threshold of ``need``."""
        known = self._before_broods(taxon, stage, "")
        return {} if known is None else self._seen_of(taxon, stage, known.thresholds)

    def _before_broods(self, taxon: str, stage: str, brood: str) -> ThermalNeed | None:
        return self._known_need(taxon, stage) or self._part_of_larva(taxon, stage, brood)

    def _known_need(self, taxon: str, stage: str) -> ThermalNeed | None:
        key = taxon, stage
        if key not in self._known:
            self._known[key] = known_need(self.bench, taxon, stage)
        return self._known[key]

    def _part_of_larva(self, taxon: str, stage: str, brood: str) -> ThermalNeed | None:
        """An instar before the last as a share of larval life, to be bettered by own broods."""
        instar, instars = (
            int(stage[1:]) if stage[1:].isdigit() else 0,
            instars_of(self.bench, taxon),
        )
        if not 0 < instar < instars:
            return None
        larva = self.need(taxon, "larva", brood)
        return instar_of(larva, instar, instars)

    def _seen_of(
        self, taxon: str, stage: str, above: Thresholds
    ) -> dict[str, tuple[StageEnds, ...]]:
        """What each brood of a species says of a stage: its animals that ended it, and those that
        have not yet."""
        key = taxon, stage, above
        if key not in self._seen:
            found = {
                brood: seen_of(
                    passages,
                    lambda stage_completion: self._along_then(stage_completion, above),
                )
                for (brood, ended), passages in self._finished.items()
                if ended == stage and passages[0].taxon == taxon
            }
            for container, lot in self._unfinished.get((taxon, stage), ()):
                begun_to = self._begun_to(container, lot, stage)
                looked = container.last_look
                if begun_to < looked <= begun_to + LONGEST_STAGE:
                    trace = self.along(container.code, "", lot.stays, above)
                    found[lot.brood] = (
                        *found.get(lot.brood, ()),
                        not_yet(trace, begun_to, looked, lot.number),
                    )
            self._seen[key] = found
        return self._seen[key]

    @cached_property
    def _left_out(self) -> Counter[tuple[str, str]]:
        """How many animals are or were longer in a stage than any can be, by species and stage."""
        found: Counter[tuple[str, str]] = Counter()
        for passed in self.bench.passed:
            if passed.at - passed.begun_to > LONGEST_STAGE:
                found[passed.taxon, passed.stage] += passed.number
        for (taxon, stage), lots in self._unfinished.items():
            for container, lot in lots:
                begun_to = self._begun_to(container, lot, stage)
                if container.last_look - begun_to > LONGEST_STAGE:
                    found[taxon, stage] += lot.number
        return found

    def _begun_to(self, container: Container, lot: Lot, stage: str) -> datetime:
        """By when animals had begun a stage or instar."""
        hatched = self._hatched.get(lot.brood) if stage == "larva" else None
        return (hatched or begun(self.bench, lot, container.since))[1]

    @cached_property
    def _hatched(self) -> dict[str, tuple[datetime, datetime]]:
        """From when to when each brood hatched, as far as the bench saw it."""
        eggs = by_first((one.brood, one) for one in self.bench.passed if one.stage == "egg")
        between = {brood: hatched_between(hatches) for brood, hatches in eggs.items()}
        return {brood: hatched for brood, hatched in between.items() if hatched}

    @cached_property
    def _unfinished(self) -> dict[tuple[str, str], list[tuple[Container, Lot]]]:
        """Lots that are in a stage and were seen to begin it, by species and stage; resting stock
        aside."""
        found: dict[tuple[str, str], list[tuple[Container, Lot]]] = {}
        for container in self.bench.standing():
            for lot in container.lots:
                if (
                    lot.brood not in self.bench.broods
                    or lot.stage == "adult"
                    or has_rested(self.bench, container, lot)
                ):
                    continue
                taxon = self.bench.taxon_of(lot.brood)
                if self._rests(taxon, lot) or pauses(self.bench, taxon, lot.stage):
                    continue
                if lot.stage != "larva" or lot.instar:
                    stage = f"L{lot.instar}" if lot.stage == "larva" else lot.stage
                    last = lot.stage == "larva" and lot.instar >= instars_of(
                        self.bench, taxon, lot.brood
                    )  # ends with larval life
                    if not lot.began_before and not last:
                        found.setdefault((taxon, stage), []).append((container, lot))
                if lot.stage == "larva" and lot.brood in self._hatched and lot.rested is None:
                    found.setdefault((taxon, "larva"), []).append((container, lot))
        return found

    def _rests(self, taxon: str, lot: Lot) -> bool:
        """Whether a lot is in the stage in which its species winters or rests in summer."""
        known = self.bench.taxa.get(taxon)
        return known is not None and bool(known.rests_as(lot.stage))

    def _need_before(
        self, taxon: str, stage: str, out: str, before: datetime
    ) -> ThermalNeed | None:
        """The need as it was known before an instant, without one brood."""
        known = self._known_need(taxon, stage)
        if known is None:
            return None
        above = known.thresholds
        own = [
            seen_of(
                passages,
                lambda stage_completion: self._along_then(stage_completion, above),
                before,
            )
            for (brood, ended), passages in self._finished.items()
            if ended == stage and brood != out and passages[0].taxon == taxon
        ]
        return bettered(known, stage, [ends for ends in own if ends])

    @cached_property
    def _finished(self) -> dict[tuple[str, str], list[StageCompletion]]:
        return grouped(self.bench)

    def coming(self, container: Container) -> tuple[ComingChange, ...]:
        """Every change that is coming in a container; resting stock has none."""
        if container.code not in self._coming:
            changes = self._changes(self.bench.containers.get(container.code, container))
            self._coming[container.code] = tuple(
                as_expected(self.bench, change) for change in changes
            )
        return self._coming[container.code]

    def _changes(self, container: Container) -> list[ComingChange]:
        changes: list[ComingChange] = []
        for lot in container.lots:
            taxon = self.bench.taxon_of(lot.brood)
            if lot.stage == "adult":
                continue
            if rests(self.bench, container, lot) or (
                lot.stage != "larva" and self._rests(taxon, lot)
            ):
                # what rests has no date but the keeper's own
                told = self.bench.expected.get(lot.brood, {}).values()
                fits = [
                    expected.change
                    for expected in told
                    if expected.change == CHANGES.get(lot.stage, expected.change)
                ]
                changes += [
                    coming_change(
                        self.bench, container, lot, fit, None, None, self.warmth(container.code)
                    )
                    for fit in fits
                ]
                continue
            if lot.stage == "larva":
                changes += self._of_larvae(container, lot, taxon)
            else:
                coming = self._one(
                    container, lot, CHANGES[lot.stage], self.need(taxon, lot.stage, lot.brood)
                )
                why_not = pauses(self.bench, taxon, lot.stage)
                changes.append(undated(coming, why_not) if why_not else coming)
        return changes

    def _of_larvae(self, container: Container, lot: Lot, taxon: str) -> Iterator[ComingChange]:
        """The next moult, and pupation: of the last instar by its own constants where there are
        some, else by larval life."""
        instars = instars_of(self.bench, taxon, lot.brood)
        instar, larva = lot.instar or 1, self.need(taxon, "larva", lot.brood)
        own = self.need(taxon, f"L{instar}", lot.brood)
        usual = instar_of(larva, instar, instars)
        part = own or usual
        moult = self._one(container, lot, "moult", part) if instar < instars else None
        if moult is not None:
            yield moult
        stage = part if lot.instar else larva
        rest = own if own is not None and instar >= instars else rest_of(larva, instar, instars)
        by_itself = self._known_need(taxon, f"L{instar}") is not None
        stage_dd = stage.constant_dd if stage else None
        whole = None if rest is own else larva
        coming = self._one(container, lot, "pupation", rest, stage_dd, whole)
        if (
            moult is not None
            and moult.half is not None
            and rest is not None
            and usual is not None
            and not by_itself
        ):
            longer_dd = self._late_to_moult(container, lot, usual)
            if longer_dd > 0:
                late = scaled(
                    rest, 1 + longer_dd / rest.constant_dd, "later by the moult that is late"
                )
                # one wait tells of both: that they are late to moult, or that they do not pupate
                coming = later_of(coming, self._one(container, lot, "pupation", late, look=False))
        # those that have wintered have their summer before them
        if self._rests(taxon, lot) and lot.rested is None:
            pauses = (
                f"its larvae rest {self.bench.taxa[taxon].rests_as('larva')}: no date for pupation,"
                " for nobody can tell from warmth whether these pause first"
            )
            coming = undated(coming, pauses)
        yield coming

    def _late_to_moult(self, container: Container, lot: Lot, need: ThermalNeed) -> float:
        """By how much later than their instar takes larvae are seen unmoulted [C day], for they are
        no nearer to pupation; nought where nobody looked.

        While moults of their brood are logged, they are as late as they are seen to be, and behind
        their sisters. From then on up to as late as nine in ten moult: who is later moulted unseen,
        and larval life goes on.

        Args:
            need: their instar as the share of larval life that pupation counts it as.
        """
        since, until = begun_within(self.bench, lot, container.since, self._not_begun_before(lot))
        looked = container.last_look
        if looked <= until:
            return 0.0
        trace = self.along(container.code, "", lot.stays, need.thresholds)
        by_now = trace.heat_at((day_of(since) + day_of(until)) / 2) + need.constant_dd
        logged = min(looked, self._moult_logged.get(lot.brood, until))
        behind = max(0.0, trace.heat_at(day_of(logged)) - by_now)
        since_then = max(0.0, trace.heat_at(day_of(looked)) - by_now - behind)
        return behind + min(since_then, need.constant_dd * (math.exp(Z90 * INSTAR_VARIES) - 1))

    @cached_property
    def _moult_logged(self) -> dict[str, datetime]:
        """When larvae of each brood were last seen to have moulted."""
        return {
            one.brood: one.at
            for one in sorted(self.bench.passed, key=lambda one: one.at)
            if one.stage.startswith("L") and one.evidence == "seen"
        }

    def instars(self, lot: Lot, first: int, end: int) -> tuple[str, ...]:
        """The instars from one up to another that a species has, but that one and the last."""
        last = instars_of(self.bench, self.bench.taxon_of(lot.brood), lot.brood)
        return tuple(f"L{instar}" for instar in range(first, min(end, last)))

    def through(
        self, container: Container, lot: Lot, begun_at: datetime, stages: Iterable[str]
    ) -> datetime | None:
        """When the first of some larvae can be through these stages or instars at the earliest,
        one after the other, begun at an instant [UTC]; None where that is not known."""
        earliest: datetime | None = begun_at
        for stage in stages:
            if earliest is None:
                return None
            hours = {"since": earliest, "begun_after": earliest, "latest": earliest}
            there = replace(lot, **hours, began_before=False)
            need = self.need(self.bench.taxon_of(lot.brood), stage, lot.brood)
            earliest = self._one(container, there, "moult", need).not_before
        return earliest

    def _one(
        self,
        container: Container,
        lot: Lot,
        change: Change,
        need: ThermalNeed | None,
        stage_dd: float | None = None,
        whole: ThermalNeed | None = None,
        look: bool = True,
    ) -> ComingChange:
        """One change that is coming to a lot, of those that are left by the last look.

        Args:
            whole: what all of larval life needs, where it ends with the change.
            look: whether the last look is held against it.
        """
        trace = self.along(container.code, "", lot.stays, need.thresholds) if need else None
        coming = coming_change(
            self.bench,
            container,
            lot,
            change,
            need,
            trace,
            self.warmth(container.code),
            stage_dd,
            self._foretell,
            self._not_begun_before(lot),
        )
        text = (
            beyond(need.tested, *self._lately(container.code), need.thresholds.upper_c)
            if need is not None and coming.half is not None
            else ""
        )
        coming = replace(coming, beyond=text) if text else coming
        if need is None or trace is None or not look:
            return coming
        seen, came = container.last_look, None
        if lot.began_before:
            came = lot.since
        else:
            seen = max(seen, coming.begun_to)  # when they were seen in the stage
        # eggs of several days share a cup and its last look; of larvae just seen in their instar a
        # window that is cut there holds too few (tests/calibration)
        if change != "hatch" and not lot.began_before and seen <= coming.begun_to:
            return coming
        begun_to = coming.begun_to if whole is None else self._begun_to(container, lot, "larva")
        waited = trace.heat_at(day_of(begun_to)) + (whole or need).up_to
        return of_those_left(coming, seen, instant_of(trace.day_of(waited)), came)

    def _not_begun_before(self, lot: Lot) -> datetime | None:
        """When the animals of a lot can have begun their stage or instar at the earliest; None
        where nothing tells that but when it was looked."""
        if lot.began_before or lot.since is None:
            return None
        stage = f"L{lot.instar or 1}" if lot.stage == "larva" else lot.stage
        return self._not_ended_before(lot.brood, stage, lot.since, lot.latest or lot.since)

    def _not_ended_before(
        self, brood: str, stage: str, since: datetime, until: datetime
    ) -> datetime | None:
        """When the first of those of a brood that were seen to begin a stage between two instants
        can have ended the one before, by how long that was foretold to take (``not_before``)."""
        before = _stage_before(stage)
        earliest = []
        for ended in self._finished.get((brood, before), ()):
            if not since <= ended.at <= until:
                continue
            need = self.need(ended.taxon, before, brood)
            if need is None or pauses(self.bench, ended.taxon, _whole_stage(before)):
                return None
            begun_from, begun_to = ended.begun_from, ended.begun_to
            earlier = self._not_ended_before(brood, before, begun_from, begun_to)
            found = end_of_stage(
                need,
                self._along_then(ended, need.thresholds),
                begun_from=day_of(min(begun_to, max(begun_from, earlier or begun_from))),
                begun_to=day_of(begun_to),
                number=ended.number,
                foretell=self._foretell,
            )
            earliest.append(instant_of(found.not_before) or ended.begun_from)
        return min(earliest, default=None)

    def _foretell(self, trace: HeatTrace, **asked: Any) -> StageForecast:
        """When a stage ends, reckoned once for all lots that are alike."""
        key = (id(trace), *asked.items())
        if key not in self._foretold:
            self._foretold[key] = trace, forecast(trace, **asked)  # the trace lives on with its id
        return self._foretold[key][1]

    def _lately(self, code: str) -> tuple[float, float]:
        """The mean and the warmest of the last days where a container stands."""
        places = self._places(code, "")
        if places not in self._mean_and_warmest:
            readings = self._warmth_of(places).readings
            since = readings[-1][0] - LATELY_DAYS
            told = [temperature for day, temperature in readings[-MAX_LATELY:] if day >= since]
            self._mean_and_warmest[places] = math.fsum(told) / len(told), max(told)
        return self._mean_and_warmest[places]

    def _need_of_eggs(self, held: KeptLot) -> ThermalNeed:
        """What eggs on kept stems need: as their mothers' others that hatched, where these are of
        one brood; else as of any brood."""
        hers = [
            code
            for code, brood in self.bench.broods.items()
            if brood.mothers and set(brood.mothers) == set(held.mothers)
        ]
        need = self.need(held.taxon, "egg", hers[0] if len(hers) == 1 else "")
        assert need is not None  # of eggs something is always known, be it of any species
        return need

    def _along_stems(self, container: Container, held: KeptLot, need: ThermalNeed) -> HeatTrace:
        """The heat where stems stood before they were kept, and since."""
        source = self.bench.containers.get(held.source)
        stood = (
            (EarlierPlace(source.code, source.shelf, held.taken_out),) if source is not None else ()
        )
        return self.along(container.code, "", (*stood, *held.stays), need.thresholds)

    def first_hatch(self, container: Container, held: KeptLot) -> datetime | None:
        """When the first egg on kept stems hatches at the earliest (``not_before``), of as many as
        were found on them; None if that cannot be told.

        Eggs that all rest over the winter do not before its middle, nor while it is too cold.
        """
        need = self._need_of_eggs(held)
        trace = self._along_stems(container, held, need)
        rest = hidden_eggs_winter(self.bench, container, held)[1]
        past_middle = winter_after(self.bench, held.laid_to)[0]
        stage_forecast = end_of_stage(
            need,
            trace.since(day_of(past_middle)) if rest else trace,
            begun_from=day_of(held.offered),
            begun_to=day_of(held.laid_to),
            number=max(1, held.eggs),
        )
        earliest = instant_of(stage_forecast.not_before)
        return max(past_middle, earliest or self.until + A_DAY) if rest else earliest

    def chance(self, container: Container, held: KeptLot, now: datetime) -> Chance:
        """The chance that kept stems bear viable eggs, or some that are asked about as if they were
        kept."""
        # only what lasts as long as the bench
        key = (id(held), now) if any(lot is held for lot in container.held) else None
        if key not in self._chances:
            need = self._need_of_eggs(held)
            trace = self._along_stems(container, held, need)
            winters = hidden_eggs_winter(self.bench, container, held)[0]
            chance = chance_of(
                self.bench,
                held,
                need,
                trace,
                self.warmth(container.code).used,
                now,
                winter_after(self.bench, held.laid_to)[1] if winters else None,
            )
            if key is None:
                return chance
            self._chances[key] = chance
        return self._chances[key]

    def moat(self, moat: Moat, now: datetime) -> MoatForecast | None:
        """When a moat will be low."""
        return lowering(self.bench, moat, now)

    def outcomes(self) -> list[ForecastOutcome]:
        """Every finished change of a brood beside the forecast as it stood when its stage had
        begun, the newest first."""
        outcomes = []
        for (brood, stage), passages in self._finished.items():
            outcome = self._outcome(brood, stage, passages) if stage in WHAT else None
            if outcome is not None:
                outcomes.append(outcome)
        return sorted(outcomes, key=lambda one: one.came_half, reverse=True)

    def _outcome(
        self, brood: str, stage: str, passages: list[StageCompletion]
    ) -> ForecastOutcome | None:
        first = passages[0]
        begun_to = max(
            passage.begun_to
            for passage in passages
            if passage.begun_to <= min(two.at for two in passages)
        )
        need = self._need_before(first.taxon, stage, brood, begun_to)
        if need is None or begun_to < self._since:  # of years ago: nobody forecast it here
            return None
        began_in = (
            self._places_of(first.stays[0])
            if first.stays
            else self._places(first.container, first.shelf)
        )
        trace = self._warmth_of(began_in).trace(need.thresholds, until=day_of(begun_to))
        number = sum(stage_completion.number for stage_completion in passages)
        stage_forecast = end_of_stage(
            need,
            trace,
            begun_from=day_of(min(one.begun_from for one in passages)),
            begun_to=day_of(begun_to),
            number=number,
        )
        low, half, high = (
            instant_of(stage_forecast.low),
            instant_of(stage_forecast.half),
            instant_of(stage_forecast.high),
        )
        if low is None or half is None or high is None:
            return None
        within = sum(completion.number for completion in passages if low <= completion.at <= high)
        return ForecastOutcome(
            first.container, WHAT[stage], number, low, half, high, half_of(passages), within
        )
