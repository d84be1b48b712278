"""Kept stems: how likely they still bear viable eggs, and until when to keep them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from functools import lru_cache
from math import ceil, exp, prod
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.folding.kept_stems import PERHAPS, SHOWN
from rounds.bench.folding.sought import A_MOMENT, AIDS, days_with, share_found, with_fresh
from rounds.bench.state import Bench, KeptLot, LayingSum
from rounds.bench.thermal_needs import ThermalNeed
from rounds.biology.forecast import HeatTrace
from rounds.biology.hidden_eggs import (
    Case,
    Detection,
    Hatching,
    Laying,
    Stem,
    hidden_viable,
    learned_laying,
    log_of_found,
    looks_until_under,
    none_found,
    ways_seen,
)
from rounds.biology.laying import FEMALES_VARY
from rounds.tallies.detection import on_record, shares_found
from rounds.tallies.viability import viable_share
from rounds.tallies.warmth import day_of

# Eggs per female-day of those that lay, until the bench's own tell; a setting. In cages 137 to 278
# a female were laid, some 17 a day (collected studies of brush-footed and swallowtail butterflies),
# at a window far fewer: our estimate, worth a quarter of a day on record, for species differ a
# hundredfold.
USUAL_EGGS_A_DAY = 2.0
USUAL_WEIGHS = 0.5  # eggs counted that the usual rate is worth; our estimate
DAYS_VARY = 4.0  # the same of one female's days; our estimate
# Of wild females 39 of 48 laid (Schultz, Dzurisin & Russell 2009, J. Insect Conservation
# 13:309-315), and 7 of 8 (Wells
# et al. 2011, Psyche 940280); not each of them on the plant that she is given: our estimate.
LAY_THERE = 0.7
LAY_WEIGHS = 3.0  # females that this counts for; our estimate
SEEN_BY_A_LOOK = 0.9  # share of hatches that one look for frass shows; our estimate, no source
A_DAY = timedelta(days=1)
AIM = 0.01  # stems may go when the chance is under this
LOOK_A_DAY = " with a look a day"
OVER_WINTER = "keep over the winter, its eggs may rest"  # in words, where there is no date


class Chance(Struct, frozen=True):
    """The chance that a kept lot bears viable eggs, until when to keep it, and every number behind
    it.

    ``keep_until`` counts on a look for frass a day from ``next_look`` on, none seen: a day after
    the last fact on record (the last look, or when a female was there last), or as many whole days
    after it as have gone by without a look. So it waits for the looks: those that were not made
    move it, and before it has come the lot may not go. It is None if no looks of a year bring the
    chance under the aim.
    ``before`` is the chance of any egg before a search. ``known`` is what is known of the laying of
    these females otherwise. ``female_days`` are those with these stems, ``sex_not_known`` days of
    adults that may be females among them; ``sought`` are they by the searches made since, of which
    ``missed`` is the share of eggs that these leave, ``usually_missed`` that by ``shares`` alone,
    what one search finds, by aid, not by how many were found; ``found`` what was found on them.
    ``hatching`` counts the warmth up to the last look, and the looks made once half should have
    hatched; ``by_now`` is the warmth up to now. ``perhaps``: frass was seen, perhaps of this
    lot. ``winter_over`` is when the winter is over in which its eggs may rest: warmth counts from
    then on; None where they do not rest. ``over_winter``: it is kept till then at the least,
    without a date so far. ``unsearched``: a female sat on it after its last search, and no look for
    frass was made past hatching (``Hatching.past_hatching``); how she laid elsewhere is no sight of
    it, for one that laid none may begin any day. ``next_dd`` is the warmth at the next look,
    ``a_day_dd`` that of a day from then until ``keep_until``; None where it is kept
    for no look.
    """

    chance: float
    keep_until: datetime | None
    before: float
    known: LayingKnown
    female_days: float
    sex_not_known: float
    sought: dict[str, float]
    shares: dict[str, Detection]
    cases: tuple[Case, ...]
    missed: float
    usually_missed: float
    found: int
    viable: float
    hatching: Hatching
    looks_after: int
    hatched_share: float
    by_now: float
    need: ThermalNeed
    warmth: str
    shown: bool = False
    perhaps: bool = False
    winter_over: datetime | None = None
    over_winter: bool = False
    unsearched: bool = False
    next_dd: float | None = None
    a_day_dd: float | None = None
    next_look: datetime | None = None

    @property
    def any_laid(self) -> float:
        """The chance that any egg was laid on it: certain once one was found, or hatched there."""
        return 1.0 if self.found or self.hatching.larvae else self.before

    @property
    def hatched_by_now(self) -> float:
        """The chance that it bore viable eggs, times the share of hatches due by now."""
        before = replace(self.hatching, degree_days=0.0, looks=1, larvae=0.0)
        due = replace(before, degree_days=self.by_now, laid_over=0.0).shares()
        bore = Stem(self.cases, self.female_days, self.found, self.viable).chance(before)
        return bore * sum(share * weight for share, weight in due)

    @property
    def may_go(self) -> bool:
        """Whether the lot may be discarded: the chance is under the aim, no frass speaks for it,
        and somebody looked for eggs or frass since a female left it."""
        return self.chance < AIM and not (self.shown or self.perhaps or self.unsearched)


class LayingKnown(Struct, frozen=True):
    """What is known of how some females lay on a plant, but for one lot: ``laying``, and what it is
    made of.

    ``eggs`` of these females in so many ``days``, each times the share that searches found;
    ``other_eggs`` of ``laid`` other females (or groups) that laid there, in ``other_days``;
    ``idle`` others of whom none was found. ``likely`` is ln of how likely all that was found is, up
    to a constant.
    """

    laying: Laying
    eggs: int
    days: float
    other_eggs: int
    other_days: float
    laid: int
    idle: int
    likely: float = 0.0


class _Laid(NamedTuple):
    """Eggs found, and the days by the searches made since."""

    eggs: int
    sought: tuple[tuple[str, float], ...]

    @classmethod
    def of(cls, told: LayingSum | KeptLot) -> _Laid:
        return cls(told.eggs, tuple(told.sought.items()))


class _Told(NamedTuple):
    """All that tells how the females that stood with a lot lay on its plant, as values: what of the
    lot, of what they laid there, and others, what one search finds, by aid, and how fast females
    lay as a rule."""

    held: _Laid
    days: float
    mine: tuple[_Laid, ...]
    others: tuple[_Laid, ...]
    shares: tuple[tuple[str, Detection], ...]
    usual_eggs: float

    @classmethod
    def on(cls, bench: Bench, held: KeptLot, shares: Mapping[str, Detection]) -> _Told:
        mothers = set(held.mothers)
        mine: list[_Laid] = []
        others: list[_Laid] = []
        for plant in on_record(bench, held.taxon, held.plant):
            for codes, laid in plant.laid.items():
                whose = others if mothers.isdisjoint(codes.split(",")) else mine
                whose.append(_Laid.of(laid))
        return cls(
            _Laid.of(held),
            days_with(held),
            tuple(mine),
            tuple(others),
            tuple(shares.items()),
            number_setting(bench, "usual eggs", USUAL_EGGS_A_DAY, 0.01, 1000),
        )

    @property
    def ways_searched(self) -> set[str]:
        """The searches that were made since of any days, a letter each."""
        laid = (self.held, *self.mine, *self.others)
        return {way for one in laid for way, _ in one.sought}


def _days(sought: Iterable[tuple[str, float]], known: Mapping[str, float]) -> float:
    return max(0.0, sum([days * known[searches] for searches, days in sought]))


@lru_cache(maxsize=512)  # of values alone; entries that tell nothing of laying leave them alike
def known_laying(told: _Told) -> LayingKnown:
    """How the females that stood with a lot lay on its plant, by all that is known but of the lot
    itself, where eggs are seen as well as usual.

    How fast: from other females that laid there, and from the usual rate; then from these. Whether
    at all: from how many others did, and the usual share; then from these. Adults whose sex is not
    known are taken for
    females: what is discarded with eggs on it is lost.
    """
    shares = dict(told.shares)
    return _known_laying(told, {ways: share_found(ways, shares) for ways in told.ways_searched})


def _known_laying(told: _Told, known: Mapping[str, float]) -> LayingKnown:
    """The same where the searches of some days, a letter each, find so large a share."""
    others = [(laid.eggs, _days(laid.sought, known)) for laid in told.others]
    layers = [other for other in others if other[0]]
    other_eggs, other_days = sum(eggs for eggs, _ in layers), sum(days for _, days in layers)
    usual = Laying(told.usual_eggs, USUAL_WEIGHS)
    mean = learned_laying(usual, eggs=other_eggs, searched_days=other_days, vary=FEMALES_VARY)
    idle = [1 - none_found(mean, days) for eggs, days in others if not eggs]
    willing = (LAY_THERE * LAY_WEIGHS + len(layers)) / (LAY_WEIGHS + len(layers) + sum(idle))
    eggs = max(0, sum(one.eggs for one in told.mine) - told.held.eggs)
    searched = sum(_days(one.sought, known) for one in told.mine)
    days = max(0.0, searched - _days(told.held.sought, known))
    laying = learned_laying(
        replace(mean, willing=willing), eggs=eggs, searched_days=days, vary=DAYS_VARY
    )
    found = (usual, other_eggs, other_days), (mean, eggs, days)
    likely = sum(log_of_found(one, eggs=number, searched_days=day) for one, number, day in found)
    return LayingKnown(laying, eggs, days, other_eggs, other_days, len(layers), len(idle), likely)


@lru_cache(maxsize=512)  # of values alone, as above
def cases_seen(told: _Told) -> tuple[tuple[Case, ...], float]:
    """How well eggs are seen: each case with how likely it is by how many were found elsewhere on
    its plant (Bayes' rule: where many were, searches found more of them than usual), how its
    females lay if so, and what the lot's searches miss. And the share that they miss by what is
    known of searches alone."""
    shares, ways_searched = dict(told.shares), told.ways_searched
    days, usual = told.days, 0.0
    cases: list[tuple[float, Case]] = []
    for part, weight in ways_seen():
        missed_by = {letter: 1 - shares[aid].at(part) for letter, aid in AIDS.items()}
        known = {ways: 1 - prod(missed_by[letter] for letter in ways) for ways in ways_searched}
        so = _known_laying(told, known)
        missed = 1 - min(1.0, _days(told.held.sought, known) / days) if days else 1.0
        usual += weight * missed
        cases.append((so.likely, Case(weight, missed, so.laying)))
    most = max(likely for likely, _ in cases)
    return tuple(
        replace(case, weight=case.weight * exp(likely - most)) for likely, case in cases
    ), usual


def number_setting(bench: Bench, name: str, usual: float, least: float, most: float) -> float:
    """A setting that is a number, within its range; the usual one where it was not set."""
    try:
        return min(most, max(least, float(bench.settings.get(name, ""))))
    except ValueError:
        return usual


def chance_of(
    bench: Bench,
    held: KeptLot,
    need: ThermalNeed,
    trace: HeatTrace,
    warmth: str,
    now: datetime,
    winter_over: datetime | None = None,
) -> Chance:
    """The chance for one lot of kept stems, now: ``hidden_viable`` of all that is known of the lot.

    Larvae that hatched on it of eggs nobody had found raise it, by how many they are and how early
    they came (the formula is there); they were seen by a look of that time.

    Args:
        need: how much warmth the eggs need.
        trace: the heat where they are held, above the need's threshold; ``warmth`` says what it
            rests on. It counts from ``winter_over`` on where eggs on them may rest over the winter.
    """
    shares, sought = shares_found(bench, held.taxon, held.plant), with_fresh(held)
    told, days = _Told.on(bench, held, shares), days_with(held)
    cases, usually_missed = cases_seen(told)
    viable = viable_share(bench, held.taxon)
    if winter_over is not None:
        trace = trace.since(day_of(winter_over))
    start = trace.heat_at(day_of(held.laid_to))
    laid_over = max(0.0, start - trace.heat_at(day_of(held.offered)))
    looks = _looks_that_count(held, now)
    seen_at = [held.larvae_at] if held.larvae_at is not None else []
    larvae_from, larvae_at = (
        max(0.0, trace.heat_at(day_of(instant)) - start) if instant is not None else 0.0
        for instant in (held.larvae_from, held.larvae_at)
    )
    # Warmth up to the last look speaks: frass that came since then could not have been seen.
    looked = max([held.laid_to, *looks, *seen_at])
    after = sum(trace.heat_at(day_of(instant)) - start >= need.constant_dd for instant in looks)
    by_now = max(0.0, trace.heat_at(day_of(now)) - start)

    def hatching(heat: float, looks_after: int) -> Hatching:
        gone = max(0.0, heat - start)
        off = need.uncertainty, need.above
        return Hatching(
            gone,
            need.constant_dd,
            need.spread,
            *off,
            max(1, looks_after),
            SEEN_BY_A_LOOK,
            laid_over,
            held.larvae,
            larvae_from,
            larvae_at,
        )

    stem, fresh = Stem(cases, days, held.eggs, viable), sought[""] > A_MOMENT

    def chance_after(heat: float, looks_after: int) -> float:
        at = hatching(heat, looks_after)
        return 1.0 if fresh and not at.past_hatching else stem.chance(at)

    at_look = hatching(trace.heat_at(day_of(looked)), after)
    present = hidden_viable(
        laying=cases, female_days=days, found=held.eggs, viable_share=viable, hatching=at_look
    )
    unsearched = fresh and not at_look.past_hatching
    keep_until: datetime | None = looked
    # those of the days that went by without a look cannot be made any more
    following = looked + max(1, ceil((now - looked) / A_DAY)) * A_DAY
    next_dd, a_day_dd = None, None
    is_open = unsearched or present.chance >= AIM
    over_winter = is_open and winter_over is not None and now < winter_over
    if over_winter:
        keep_until = None
    elif is_open:
        half = trace.day_of(start + need.constant_dd)
        more = looks_until_under(
            lambda heat, more: chance_after(heat, after + more),
            heat_at=lambda look: trace.heat_at(day_of(following) + look),
            hatch_in=None if half is None else half - day_of(following),
            aim=AIM,
        )
        keep_until = None if more is None else following + more * A_DAY
        end = day_of(following) + (more or 1)
        next_dd = trace.heat_at(day_of(following)) - start
        a_day_dd = (trace.heat_at(end) - start - next_dd) / (more or 1)
    shown = held.frass in SHOWN
    return Chance(
        chance=1.0 if shown else present.chance,
        keep_until=keep_until,
        before=present.before,
        known=known_laying(told),
        female_days=days,
        sex_not_known=held.sex_not_known,
        sought=sought,
        shares=shares,
        cases=cases,
        missed=present.missed,
        usually_missed=usually_missed,
        found=held.eggs,
        viable=viable,
        hatching=at_look,
        looks_after=after,
        hatched_share=present.hatched_share,
        by_now=by_now,
        need=need,
        warmth=warmth,
        shown=shown,
        perhaps=held.frass == PERHAPS,
        winter_over=winter_over,
        over_winter=over_winter,
        unsearched=unsearched,
        next_dd=next_dd,
        a_day_dd=a_day_dd,
        next_look=following if is_open else None,
    )


def _looks_that_count(held: KeptLot, now: datetime) -> list[datetime]:
    """Looks for frass under a lot; those from before frass was seen under one of several lots say
    nothing any more."""
    since = held.frass_unknown
    return [
        instant
        for instant in held.frass_looks
        if instant <= now and (since is None or instant > since)
    ]
