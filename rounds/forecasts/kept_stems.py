"""Held sprigs: how likely they still bear viable eggs, and until when to keep them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from datetime import datetime, timedelta
from math import ceil, hypot, log

from msgspec import Struct

from rounds.bench.codes import members
from rounds.bench.folding.kept_stems import PERHAPS, SHOWN
from rounds.bench.state import Bench, Held, Laid
from rounds.biology.distributions import normal_share
from rounds.biology.forecast import Trace
from rounds.biology.hidden_eggs import USUAL_DETECTION, Detection, learned_detection, prior_from_laying, viable_unseen
from rounds.forecasts.needs import Need
from rounds.tallies.warmth import day_of

USUAL_EGGS_A_DAY = 1.0  # eggs per female-day until the bench's own tell; a setting; our estimate
USUAL_WEIGHS = 2.0  # female-days that the usual rate counts for; our estimate
VIABLE_SHARE = 0.8  # of eggs that hatch where the bench's own do not tell; our estimate, no source
SEEN_BY_A_LOOK = 0.9  # share of hatches that one look for droppings shows; our estimate, no source
MOST_LOOKS_AHEAD = 365  # looks a day apart that are counted ahead, for the day until which to keep them
LEAST_SHARE = 0.1  # of the warmth that eggs need; with less than that they are told alike
A_DAY = timedelta(days=1)
AIM = 0.01  # sprigs may go when the chance is under this


class Chance(Struct, frozen=True):
    """The chance that a kept lot bears viable eggs, until when to keep it, and every number behind it.

    ``keep_until`` counts on a look for frass a day from now on, none seen: where no look is made it moves on. It is None
    if no looks of a year bring the chance under the aim. ``looks_after`` were made once half of the eggs should have
    hatched; ``degree_days`` are those up to the last look, ``by_now`` those up to now. ``hatched_by_now`` is the chance
    that it bore viable eggs, times the share of hatches due by now. ``perhaps``: frass was seen, perhaps of this lot.
    ``sex_not_known`` are days of adults that may be females, beside the ``female_days`` of those that are.
    """

    chance: float
    keep_until: datetime | None
    prior: float
    rate: float
    eggs: int
    female_days: float
    searches: tuple[tuple[str, float], ...]
    viable: float
    degree_days: float
    hatch_dd: float
    hatched_share: float
    need: Need
    warmth: str
    shown: bool = False
    looks_after: int = 0
    perhaps: bool = False
    by_now: float = 0.0
    hatched_by_now: float = 0.0
    sex_not_known: float = 0.0

    @property
    def may_go(self) -> bool:
        """Whether the lot may be discarded: the chance is under the aim, and no frass speaks for it."""
        return self.chance < AIM and not self.shown and not self.perhaps


def laying_rate_on(bench: Bench, taxon: str, plant: str) -> tuple[float, Laid]:
    """Eggs per female-day on a plant: own eggs and female-days, with the usual rate for a couple of female-days before them.

    Of one of several species (``A or B``) it is that of all of them together. Adults whose sex is not known are taken for
    females: what is discarded with eggs on it is lost.
    """
    known = [bench.laid.get(one, {}).get(plant, Laid()) for one in dict.fromkeys((taxon, *members(taxon)))]
    laid = Laid(*(sum(getattr(one, name) for one in known) for name in Laid.__struct_fields__))
    eggs, days = laid.eggs, laid.female_days + laid.sex_not_known
    usual = number_setting(bench, "usual eggs", USUAL_EGGS_A_DAY, 0.01, 1000)
    return (USUAL_WEIGHS * usual + eggs) / (USUAL_WEIGHS + days), laid


def number_setting(bench: Bench, name: str, usual: float, least: float, most: float) -> float:
    """A setting that is a number, within its range; the usual one where it was not set."""
    try:
        return min(most, max(least, float(bench.settings.get(name, ""))))
    except ValueError:
        return usual


def detection_of(bench: Bench, aid: str) -> Detection:
    """The share of eggs that a search with an aid finds, learned from sprigs that bore eggs after all."""
    known = bench.detected.get(aid)
    usual = USUAL_DETECTION.get(aid, USUAL_DETECTION["naked eye"])
    return learned_detection(usual=usual, found=known.found if known else 0, missed=known.missed if known else 0)


def viable_share(bench: Bench, taxon: str) -> float:
    """The share of a species' eggs that hatched here, drawn toward the usual share while they are few."""
    hatched = ended = 0
    for code, tally in bench.tallies.items():
        if bench.taxon_of(code) in (taxon, *members(taxon)) and code in bench.broods:
            died = tally.fates.get("died", {}).get("egg", 0)
            out = sum(one.number for one in bench.passed if one.brood == code and one.stage == "egg")
            hatched, ended = hatched + out, ended + out + died
    return (VIABLE_SHARE * 10 + hatched) / (10 + ended)


def chance_of(bench: Bench, held: Held, need: Need, trace: Trace, warmth: str, now: datetime) -> Chance:
    """The chance for one lot of held sprigs, now.

    Args:
        need: how much warmth the eggs need.
        trace: the heat where they are held, above the need's threshold; ``warmth`` says what it rests on.
    """
    rate, laid = laying_rate_on(bench, held.taxon, held.plant)
    prior = prior_from_laying(rate=rate, female_days=held.female_days + held.sex_not_known)
    searches = tuple((one.aid, detection_of(bench, one.aid).share) for one in held.searches if not one.unsure)
    viable = viable_share(bench, held.taxon)
    start = trace.heat_at(day_of(held.taken_out))
    looks = _looks_that_count(held, now)
    # Warmth up to the last look speaks: frass that came since then could not have been seen.
    looked = max([held.taken_out, *looks])
    gone = max(0.0, trace.heat_at(day_of(looked)) - start)
    after = sum(trace.heat_at(day_of(one)) - start >= need.constant_dd for one in looks)

    by_now = max(0.0, trace.heat_at(day_of(now)) - start)

    def hatched(degree_days: float) -> float:
        off = log(max(degree_days / need.constant_dd, LEAST_SHARE))
        return normal_share(off / hypot(need.spread, need.uncertainty if off < 0 else need.above))

    def chance(degree_days: float, looks_after: int) -> float:
        return viable_unseen(
            prior=prior,
            detections=[share for _, share in searches],
            viable_share=viable,
            hatched_share=hatched(degree_days),
            frass_seen_share=1 - (1 - SEEN_BY_A_LOOK) ** max(1, looks_after),
        )

    present = chance(gone, after)
    keep_until: datetime | None = looked
    if present >= AIM:
        keep_until = _after_looks(
            lambda heat, more: chance(max(0.0, heat - start), after + more),
            trace,
            max(now, looked + A_DAY),
            trace.day_of(start + need.constant_dd),
        )
    shown = held.frass in SHOWN
    return Chance(
        1.0 if shown else present,
        keep_until,
        prior,
        rate,
        laid.eggs,
        laid.female_days,
        searches,
        viable,
        gone,
        need.constant_dd,
        hatched(gone),
        need,
        warmth,
        shown,
        after,
        held.frass == PERHAPS,
        by_now,
        chance(0.0, 0) * hatched(by_now),
        laid.sex_not_known,
    )


def _looks_that_count(held: Held, now: datetime) -> list[datetime]:
    """Looks for frass under a lot; those from before frass was seen under one of several lots say nothing any more."""
    since = held.frass_unknown
    return [one for one in held.frass_looks if one <= now and (since is None or one > since)]


def _after_looks(chance: Callable[[float, int], float], trace: Trace, first: datetime, hatch_day: float | None) -> datetime | None:
    """When looks a day apart that see no frass bring the chance under the aim; None where a year of them does not.

    Args:
        chance: of live eggs, by the heat gathered at the last look and the looks made once half should have hatched.
        first: the first look that can still be made.
        hatch_day: when half should have hatched; None where that never comes.
    """

    def under(looks: int) -> bool:
        last = day_of(first) + looks
        more = 0 if hatch_day is None else max(0, looks + 1 - max(0, ceil(hatch_day - day_of(first))))
        return chance(trace.heat_at(last), more) < AIM

    looks = bisect_left(range(MOST_LOOKS_AHEAD), True, key=under)
    return first + looks * A_DAY if looks < MOST_LOOKS_AHEAD else None
