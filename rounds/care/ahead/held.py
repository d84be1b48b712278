"""Held sprigs: how likely they still bear viable eggs, and until when to keep them."""

from __future__ import annotations

from datetime import datetime
from functools import partial

from msgspec import Struct

from rounds.bench.folding.tending import SHOWN
from rounds.bench.state import Bench, Held
from rounds.biology.forecast import Trace
from rounds.biology.hidden_eggs import USUAL_DETECTION, Detection, hidden_viable, learned_detection, prior_from_laying
from rounds.care.ahead.needs import Need
from rounds.care.ahead.stages import instant_of
from rounds.record.warmth import day_of

USUAL_EGGS_A_DAY = 1.0  # eggs per female-day until the bench's own tell; a setting; our estimate
USUAL_WEIGHS = 2.0  # female-days that the usual rate counts for; our estimate
VIABLE_SHARE = 0.8  # of eggs that hatch where the bench's own do not tell; our estimate, no source
SEEN_BY_A_LOOK = 0.9  # share of hatches that one look for droppings shows; our estimate, no source
LOOKS_AFTER = 4  # looks a day apart once they should have hatched, for the day until which to keep them; our estimate
AIM = 0.01  # sprigs may go when the chance is under this
UNKNOWN_NEED = Need(8.0, 120.0, 0.2, 0.3, "nothing known of this species' eggs: ten days at 20 C assumed, our estimate")


class Chance(Struct, frozen=True):
    """The chance that held sprigs bear viable eggs, until when to keep them, and every number behind it.

    ``keep_until`` is None where neither the warmth assumed nor any waiting brings the chance under the aim; it counts on
    looks for droppings, of which ``looks_after`` were made once half of the eggs should have hatched.
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


def laying_rate_on(bench: Bench, taxon: str, plant: str) -> tuple[float, int, float]:
    """Eggs per female-day on a plant: own eggs and female-days, with the usual rate for a couple of female-days before them."""
    laid = bench.laid.get(taxon, {}).get(plant)
    eggs, days = (laid.eggs, laid.female_days) if laid else (0, 0.0)
    usual = number_setting(bench, "usual eggs", USUAL_EGGS_A_DAY, 0.01, 1000)
    return (USUAL_WEIGHS * usual + eggs) / (USUAL_WEIGHS + days), eggs, days


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
        if bench.taxon_of(code) == taxon and code in bench.broods:
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
    rate, eggs, days = laying_rate_on(bench, held.taxon, held.plant)
    prior = prior_from_laying(rate=rate, female_days=held.female_days)
    searches = tuple((one.aid, detection_of(bench, one.aid).share) for one in held.searches)
    viable = viable_share(bench, held.taxon)
    start = trace.heat_at(day_of(held.taken_out))
    # Warmth up to the last look speaks: droppings that came since then could not have been seen.
    looked = max([one for one in held.frass_looks if one <= now], default=held.taken_out)
    gone = max(0.0, trace.heat_at(day_of(max(looked, held.taken_out))) - start)
    spread = need.constant_dd * (need.spread**2 + need.uncertainty**2) ** 0.5
    after = sum(trace.heat_at(day_of(one)) - start >= need.constant_dd for one in held.frass_looks if one <= now)
    hidden = partial(
        hidden_viable,
        prior=prior,
        detections=[share for _, share in searches],
        viable_share=viable,
        degree_days=gone,
        hatch_dd=need.constant_dd,
        hatch_sd_dd=spread,
        aim=AIM,
    )
    found = hidden(frass_seen_share=1 - (1 - SEEN_BY_A_LOOK) ** max(1, after))
    enough = hidden(frass_seen_share=1 - (1 - SEEN_BY_A_LOOK) ** LOOKS_AFTER)
    keep_dd = enough.keep_until_dd if enough.keep_until_dd is not None else need.constant_dd + 3 * spread
    until = trace.day_of(start + keep_dd) if keep_dd > 0 else day_of(held.taken_out)
    keep_until = instant_of(until)
    shown = held.frass in SHOWN
    return Chance(
        1.0 if shown else found.chance,
        None if keep_until is None else max(keep_until, held.taken_out),
        prior,
        rate,
        eggs,
        days,
        searches,
        viable,
        gone,
        need.constant_dd,
        found.hatched_share,
        need,
        warmth,
        shown,
        after,
    )
