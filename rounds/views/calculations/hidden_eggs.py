"""Hidden eggs: how likely, and how long to keep the stem."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from msgspec.structs import replace

from rounds.bench.plurals import count, percent
from rounds.biology.hidden_eggs import (
    MOST_SEARCHES,
    PRIOR_WEIGHT,
    REST_IN_THEIR_OWN_TIME,
    Case,
    Detection,
    Hatching,
    Laying,
    cases_of,
    hidden_viable,
    keep_until_dd,
    learned_detection,
    looks_until_under,
    searches_needed,
    searches_until_under,
)
from rounds.views.calculations.frame import (
    Calculation,
    CalculationResult,
    Figure,
    InputRefused,
    inputs,
)

MAX_PRIOR = 0.999999
_BY_CASE = ("rate", "rate-eggs", "lays", "missed", "likely")  # inputs that may differ by case
_LOOKS = (2, 3, 5, 10, 30, 365)  # that are tried where one does not do


def _hidden(given: Mapping[str, Any]) -> CalculationResult:
    learned = learned_detection(
        usual=given["share-found"],
        found=given["own-found"],
        missed=given["own-missed"],
        counted=given["share-eggs"],
    )
    _refuse_what_contradicts(given)
    layings, female_days = _laying(given)
    cases = _cases(given, layings, learned)
    hatching = Hatching(
        degree_days=given["degree-days"],
        hatch_dd=given["hatch"],
        spread=given["hatch-spread"],
        shorter=given["hatch-shorter"],
        longer=given["hatch-longer"],
        looks=max(1, given["looks"]),
        laid_over=given["laid-over"],
        larvae=given["larvae"],
        larvae_from=given["larvae-from"],
        larvae_at=given["larvae-at"],
    )
    aim = given["aim"]
    stems: dict[str, Any] = {
        "laying": cases,
        "female_days": female_days,
        "found": given["found"],
        "viable_share": given["viable"],
    }
    known = hidden_viable(**stems, hatching=hatching)
    keep, kept = _keep(given, stems, hatching, known.chance)
    words = ["none seen is not none there", kept]
    words += [REST_IN_THEIR_OWN_TIME] if hatching.larvae else []
    needed = searches_needed(detection=learned.share, counted=learned.counted)
    words.append(
        f"{count(needed, 'search', 'searches')} would make it 95 % certain that an egg had been"
        " found"
        if needed
        else f"no {MOST_SEARCHES} searches would make it 95 % certain that an egg had been found"
    )
    until = (
        searches_until_under(
            laying=layings[0], female_days=female_days, detection=learned, chance=aim
        )
        if len(layings) == 1 and not given["found"]
        else None
    )
    if until is not None:
        words.append(
            f"{count(until, 'search', 'searches')} in all that find none make any egg on it less"
            f" likely than {aim:g}"
        )
    by = f"95 %, as by counting {learned.counted:.3g} eggs"
    return CalculationResult(
        (
            Figure("chance of viable eggs", known.chance),
            Figure("share of hatches due by now", known.hatched_share),
            Figure("share that one search finds", learned.share, "", learned.low, learned.high, by),
            Figure("keep until", keep, "C day", digits=1),
            Figure("chance of eggs before any search", known.before),
            Figure(
                "eggs expected, if they lay",
                female_days
                * sum(one.weight * one.laying.rate for one in cases)
                / sum(one.weight for one in cases),
            ),
            Figure("share of eggs that searches miss", known.missed),
        ),
        words,
    )


def _keep(
    given: Mapping[str, Any], stems: Mapping[str, Any], hatching: Hatching, now: float
) -> tuple[float | None, str]:
    """Until how many degree-days to keep it, in words too: by days since the next look, with one
    a day, where the warmth of a day is given, as the bench has it; else with one look then."""
    aim, looks = given["aim"], given["looks"]
    under = f"under {percent(aim, 2)}"
    if (given["next-look"] is None) != (given["warmth-a-day"] is None):
        raise InputRefused("--next-look and --warmth-a-day belong together; give both or neither")
    stays_to = hatching.high_dd if given["unsearched"] else 0.0
    if now < aim and hatching.degree_days >= stays_to:
        return 0.0, f"{under} already"
    first, a_day = given["next-look"], given["warmth-a-day"]
    if first is None:
        keep = keep_until_dd(**stems, hatching=hatching, aim=aim)
        if keep is not None:
            keep = _whole_tenths(max(keep, stays_to))
            then = "with a look for frass then" if looks <= 1 else f"with {looks} looks for frass"
            return keep, f"keep it until {keep:g} C day from laying, {then}: {under}"
        for more in _LOOKS:
            keep = keep_until_dd(**stems, hatching=replace(hatching, looks=more), aim=aim)
            if keep is not None:
                keep = _whole_tenths(max(keep, stays_to))
                return keep, (
                    f"keep it until {keep:g} C day from laying, with {more} looks for frass"
                    f" since half should have hatched: {under}"
                )
        return None, f"no waiting brings it {under}, with a look a day: frass does not tell enough"

    def chance(heat: float, more: int) -> float:
        at = replace(hatching, degree_days=heat, looks=max(1, looks + more))
        return 1.0 if heat < stays_to else hidden_viable(**stems, hatching=at).chance

    left = hatching.hatch_dd - first
    days = looks_until_under(
        chance,
        heat_at=lambda look: first + look * a_day,
        hatch_in=0.0 if left <= 0 else left / a_day if a_day else None,
        aim=aim,
    )
    if days is None:
        return None, f"no waiting brings it {under}, with a look a day for a year"
    keep = _whole_tenths(first + days * a_day)
    after = f"{count(days, 'day')} after " if days else ""
    return keep, (
        f"keep it until {after}the next look, at {keep:g} C day, with a look for frass a day:"
        f" {under}"
    )


def _whole_tenths(heat: float) -> float:
    """Degree-days up to the next tenth, so that figure and words say one number, and it does."""
    return math.ceil(round(heat * 10, 6)) / 10


def _laying(given: Mapping[str, Any]) -> tuple[list[Laying], float]:
    """What is known of laying in each case, and the female-days; a chance of eggs before any search
    stands for that many in one."""
    if (given["rate"] is None) != (given["female-days"] is None):
        raise InputRefused("--rate and --female-days belong together; give both, or --prior")
    lays = given["lays"] or (1.0,)
    if given["rate"] is None and min(lays) < 1:
        raise InputRefused(
            "--lays goes with --rate and --female-days; --prior is the chance of eggs with it in"
        )
    if given["rate"] is None:
        return [Laying(-math.log1p(-given["prior"]))], 1.0
    each = _one_a_case(given, given["rate"], given["rate-eggs"] or (math.inf,), lays)
    return [Laying(*one) for one in each], given["female-days"]


def _one_a_case(given: Mapping[str, Any], *lists: Sequence[Any]) -> list[tuple[Any, ...]]:
    """The values case by case; one alone holds in each."""
    several = {name: given[name] for name in _BY_CASE if given[name] and len(given[name]) > 1}
    cases = max((len(values) for values in several.values()), default=1)
    for name, values in several.items():
        if len(values) != cases:
            raise InputRefused(
                f"--{name} has {len(values)} values; one a case is {cases}, or one for all"
            )
    if cases > 1 and not given["missed"]:
        raise InputRefused(
            f"{cases} cases: --missed says what share of the eggs the searches leave in each"
        )
    whole = [tuple(values) * (cases if len(values) == 1 else 1) for values in lists]
    return list(zip(*whole, strict=True))


def _cases(
    given: Mapping[str, Any], layings: Sequence[Laying], learned: Detection
) -> tuple[Case, ...]:
    """How well eggs are seen: as --missed says, else by all that one search may find."""
    if not given["missed"]:
        return cases_of(layings[0], learned, given["searches"], given["found"])
    likely = given["likely"] or (1.0,)
    if not max(likely):
        raise InputRefused("--likely has no case above 0; one must be")
    each = _one_a_case(given, likely, given["missed"], layings)
    return tuple(Case(*one) for one in each)


def _refuse_what_contradicts(given: Mapping[str, Any]) -> None:
    """Eggs found where the other inputs say that there can be none."""
    found, by_rate = given["found"], given["rate"] is not None
    needed = {
        "a rate above 0 is": by_rate and not any(given["rate"]),
        "female-days above 0 are": by_rate and not given["female-days"],
        "a chance above 0 that they lay here is": given["lays"] and not any(given["lays"]),
        "a prior above 0 is": not by_rate and not given["prior"],
    }
    for what, lacks in needed.items():
        if found and lacks:
            raise InputRefused(
                f"{found} found though none can have been laid: {what} needed, or --found 0"
            )
    if found and given["missed"] and min(given["missed"]) == 1:
        raise InputRefused(
            f"{found} found by searches that miss all: --missed under 1 is needed, or --found 0"
        )


CALCULATIONS = (
    Calculation(
        "hidden-eggs",
        "the chance that a stem still bears viable eggs, and how long to keep it",
        inputs(f"""
            prior 0..{MAX_PRIOR} = 0.5 | chance of eggs before any search
            rate? numbers 0..1000 eggs per female-day | laying rate, for a prior from it; one a case
                where it differs by how well eggs are seen
            female-days? 0..1e6 | on this stem, for a prior from it
            rate-eggs? numbers 0.01..1e6 | eggs counted that leave the rate so uncertain; without it
                it is exact
            lays? numbers 0..1 | chance that they lay on this plant at all; without it certain
            searches count 0..1000 = 0 | of this stem, each of what the one before left
            share-found 0.001..0.999 = 0.5 | of the eggs there, by one search
            share-eggs 0.1..1e7 = {PRIOR_WEIGHT:g} | eggs counted that leave that share so uncertain
            missed? numbers 0..1 | share of the eggs that the searches leave, in their place; one a
                case where it is uncertain
            likely? numbers 0..1 | how likely each case is, but for this stem; without it alike
            found count 0..1000000 = 0 | eggs found on this stem
            own-found count 0..1000000 = 0 | eggs that searches found, to learn from
            own-missed count 0..1000000 = 0 | eggs that searches missed, to learn from
            viable 0..1 = 0.6 | share of eggs that hatch
            degree-days 0..1e5 C day = 0.0 | from the last laying to the last look for frass
            laid-over 0..1e5 C day = 0.0 | degree-days before that over which they were laid
            larvae count 0..1000000 = 0 | that hatched on it of eggs nobody had found
            larvae-from 0..1e5 C day = 0.0 | degree-days as above up to the last look before them,
                which saw none
            larvae-at 0..1e5 C day = 0.0 | the same, up to when the last of them were seen
            hatch 1e-06..1e5 C day = 80.0 | when half of them hatch
            aim 1e-09..0.5 = 0.01 | chance of eggs under which it may go
            hatch-spread 0.001..2 = 0.1 | of eggs, as a share of that
            hatch-shorter 0..2 = 0.0 | how far off that may be, if less is needed, as a share
            hatch-longer 0..2 = 0.0 | the same, if more is needed
            looks count 0..1000 = 1 | for frass since half should have hatched, each of which shows
                90 %
            next-look? 0..1e5 C day | degree-days at the next look, from which on one is made a day
            warmth-a-day? 0..100 C day | degree-days that each day brings from then on
            unsearched yes or no = no | whether a female sat on it since its last search: it stays
                until a look past when 95 of 100 should have hatched
            """),
        _hidden,
        "1 - exp(-rate x female-days x missed x viable x (1 - hatched x frass seen)), missed ="
        " (1 - share found)^searches; averaged over the share (beta), rate, whether they lay, and"
        " time to hatching, weighed together by Bayes' rule; the eggs found are a Poisson count"
        " about rate x female-days x share found",
        "Kingman 1993, Poisson Processes, 5.1 (from memory); McArdle 1990, Oikos 57:276-277; Gelman"
        " et al. 2013, 2.4 and 2.6 (learning); usual shares: our estimate, no source",
        "--prior 0.4 --searches 2 --degree-days 60",
    ),
)
