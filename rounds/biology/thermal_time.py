"""How much warmth a stage takes, from animals that were only looked at now and then, and from some
that are not there yet.

The warmth that one animal needs is log-normal: log y = mu + brood + animal, with normal parts. Of
each animal is known between which two amounts of gathered warmth it ended the stage (two looks;
when it began is between
two looks too), or that it had not ended it by some amount. Leaving out the unfinished would measure
the quick ones only.

One brood: maximum of the likelihood of interval- and right-censored normal data with a conjugate
prior on mean and variance, by expectation and maximisation (Dempster, Laird & Rubin 1977, J. R.
Statist. Soc. B 39:1-38;
interval-censored: Turnbull 1976, J. R. Statist. Soc. B 38:290-295; information: Louis 1982, B
44:226-233). Some never end it
(infertile, resting, dead unseen), so that who is long overdue counts less and less: a cured share
(Boag 1949, B 11:15-53), learned from the brood itself beside what is usual.

Several broods: mu, how far the species is off here from the constant that was known before, is as
far off as was measured on other species (nine in ten within the two sides that are given, what
broods differ by among it), with the skew and the long tails of that: Tukey's g-and-h (Hoaglin 1985,
in Exploring Data Tables, Trends and Shapes, ch. 11). What is known then of mu is added up over its
quantiles, each by how well it explains what was seen. By how much broods differ about it their own
scatter tells alone, whatever they took (restricted likelihood: Patterson & Thompson 1971,
Biometrika 58:545-554), and of few of them hardly: they draw the constant as if broods differed as
much as they well may, and the window is added up over all that they may differ by. Titles and
pages from memory.
The tests hold it against general libraries and against simulated broods of a known truth.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from math import erfc, exp, expm1, floor, hypot, inf, log, pi, sqrt

from msgspec import Struct
from msgspec.structs import replace

from rounds.biology.distributions import normal_quantile
from rounds.limits import within

# What the standard deviation of the logarithm between broods may be, each as likely before any
# brood; our choice, by which the window, and what a brood needs, hold where broods differ by a
# twentieth and by a fifth (tests/calibration/test_own_broods.py): not so little as few broods that
# happen to be alike would have it.
BROODS_MAY_DIFFER = tuple(0.03 * 1.16**step for step in range(17))
AS_MUCH_AS_THEY_MAY = 0.95  # chance that broods differ by less than they are weighed by
USUALLY_DIFFER = 0.12  # taken of broods of which none ended the stage yet; our choice
# of how far a brood may be off, at most so much is told to be of broods, the rest of the species
MOST_OF_BROODS = 0.8
LEAST_OF_SPECIES = 0.5  # and at least so much is of the species, however broods differ; our choice
TAILS = 0.25  # Tukey's h of how far collected species are off, as measured
Z90 = 1.6448536269514722  # standard normal deviate of the 95th percentile
FURTHEST, COARSE, FINE = 6.0, 48, 64  # deviates of mu; steps over all of them, then where it is
NEGLIGIBLE = -16.0  # logarithm of a weight beside the highest that is not looked at more closely
SPREAD_WEIGHS = 8.0  # animals that the usual spread counts for; our choice
NEVER = 0.1  # share that never is there, as a rule; our estimate, no source
NEVER_WEIGHS = 2.0  # animals that it counts for; our choice (tests/calibration/test_own_broods.py)
LEAST_HEAT, MOST_HEAT = 1e-3, 20_000  # of any constant [C day]
LEAST_SPREAD = 0.02
STEPS = 200
HALVINGS = 30
WIDE = 2.0  # of a brood's mean before it is looked at: the data alone speak
HARDLY = 0.1  # broods nearer to what was known weigh as if they were so far off
CLOSE = 1e-6
ROOT_OF_2, ROOT_OF_2_PI = sqrt(2), sqrt(2 * pi)
# by how much a wait grows from step to step, and how many are looked through for that which tells
# most
WAIT_STEP, WAIT_STEPS = 0.02, 200
LEAST_SHARE = 1e-300


class StageEnds(Struct, frozen=True):
    """So many animals that ended a stage between two amounts of warmth [C day]; ``high`` is
    infinite for those not yet there."""

    low: float
    high: float
    number: int = 1


class Brood(Struct, frozen=True):
    """One brood: mean logarithm and its variance as the data alone have it, and what it says of the
    spread of animals.

    ``number`` animals, those not yet there in part, with ``squares`` about their mean.
    ``precision`` is nought where nothing is known.
    """

    mean: float
    precision: float
    spread: float
    number: float
    squares: float
    finished: int


class Estimate(Struct, frozen=True):
    """A constant and how sure it is, for animals of a brood.

    ``shorter`` and ``longer`` are standard deviations of the logarithm of what a brood needs on
    either side, the difference between broods among them; ``spread`` is of animals within a brood.
    ``weight`` is the share that own broods have in it, ``between`` by how much they are taken to
    differ where they draw it, as a standard deviation of the logarithm, ``differ`` the same in how
    far off another brood may be. Animals of the brood itself
    that are not there yet weigh by their warmth ``up_to`` [C day], beyond which they are rather
    taken for such as never are.
    """

    constant_dd: float
    shorter: float
    longer: float
    spread: float
    broods: int
    weight: float
    between: float = 0.0
    up_to: float = inf
    differ: float = 0.0


def _any_ended(seen: tuple[StageEnds, ...]) -> bool:
    return any(ends.high < inf for ends in seen)


def half_took(constant_dd: float, spread: float = 0.1) -> tuple[StageEnds, ...]:
    """A brood of which is known what half of it took: as animals that differ as usual, as many as
    the usual spread counts for."""
    animals = int(SPREAD_WEIGHS)
    ends = (constant_dd * exp(spread), constant_dd * exp(-spread))
    return tuple(StageEnds(one, one, animals // 2) for one in ends)


def _upper(z: float) -> float:
    return 0.5 * erfc(z / ROOT_OF_2)


def _between(low: float, high: float) -> tuple[float, float, float]:
    """Probability, mean and variance of a standard normal deviate that lies between two bounds;
    the tails and densities are written out, for it is asked for so often."""
    sign = -1.0 if high < 0 else 1.0  # from the side on which the tail is small: nothing cancels
    if high < 0:
        low, high = -high, -low
    share = 0.5 * erfc(low / ROOT_OF_2) - (0.5 * erfc(high / ROOT_OF_2) if high < inf else 0.0)
    if share < 1e-300 or high - low < 1e-4:
        middle = (max(low, -40.0) + min(high, 40.0)) / 2 if high - low < 1e-4 else min(high, 40.0)
        return max(share, 1e-300), sign * middle, 0.0
    at_low = exp(-low * low / 2) / ROOT_OF_2_PI if abs(low) < 38 else 0.0
    at_high = exp(-high * high / 2) / ROOT_OF_2_PI if high < 38 else 0.0
    mean = (at_low - at_high) / share
    edge = (low * at_low if at_low else 0.0) - (high * at_high if at_high else 0.0)
    return share, sign * mean, max(0.0, 1 + edge / share - mean * mean)


@lru_cache(maxsize=4096)
def one_brood(
    seen: tuple[StageEnds, ...],
    prior: float,
    prior_sd: float,
    spread: float = 0.1,
    never: float = NEVER,
) -> Brood:
    """What one brood says of the warmth that its animals need.

    Args:
        seen: its animals, those that ended the stage and those not yet there.
        prior, prior_sd: what was known of its mean logarithm before.
        spread: usual standard deviation of the logarithm of animals; it counts for eight of them.
        never: share that never ends the stage, as a rule, 0 to 0.9; it counts for two animals.
            Where it is 0 all end it.

    Raises:
        ValueError: bounds that are not in order, or out of range.
    """
    within("spread", spread, LEAST_SPREAD, 1)
    within("share that never ends it", never, 0, 0.9)
    within("standard deviation known before", prior_sd, 1e-4, 10)
    parts = [
        (
            log(max(LEAST_HEAT, ends.low)),
            log(max(LEAST_HEAT, ends.high)) if ends.high < inf else inf,
            ends.number,
        )
        for ends in seen
    ]
    for low, high, _ in parts:
        if high < low:
            raise ValueError(
                f"ended between {exp(low):g} and {exp(high):g} degree-days; the first must be the"
                " lower"
            )
    mean, sd, gone = prior, spread, never
    number = squares = precision = 0.0
    animals = sum(count for *_, count in parts)
    for _ in range(STEPS):
        number = total = precision = 0.0
        # of the information what tells of the share that never is there, and of it with the mean
        of_gone = NEVER_WEIGHS * (never / gone**2 + (1 - never) / (1 - gone) ** 2) if never else inf
        of_both = 0.0
        moments = []
        for low, high, count in parts:
            share, middle, variance = _between((low - mean) / sd, (high - mean) / sd)
            if high < inf:
                there = 1.0
                of_gone += count / (1 - gone) ** 2
            else:
                waits = gone + (1 - gone) * share
                there = (1 - gone) * share / waits
                of_gone += count * ((1 - share) / waits) ** 2
                of_both += count * there * middle / ((1 - gone) * sd * waits)
            weighs = count * there
            number += weighs
            total += weighs * (mean + sd * middle)
            precision += weighs * (1 - variance - (1 - there) * middle * middle) / (sd * sd)
            moments.append((weighs, mean + sd * middle, variance * sd * sd))
        precision -= of_both**2 / of_gone
        held = sd * sd / (prior_sd * prior_sd)
        new = (total + held * prior) / (number + held)
        squares = sum(weighs * ((at - new) ** 2 + variance) for weighs, at, variance in moments)
        new_sd = max(
            LEAST_SPREAD, sqrt((SPREAD_WEIGHS * spread**2 + squares) / (SPREAD_WEIGHS + number))
        )
        now_gone = (NEVER_WEIGHS * never + animals - number) / (NEVER_WEIGHS + animals)
        now_gone = now_gone if never else 0.0
        moved = abs(new - mean) + abs(new_sd - sd) + abs(now_gone - gone)
        mean, sd, gone = new, new_sd, now_gone
        if moved < CLOSE:
            break
    finished = sum(one.number for one in seen if one.high < inf)
    if precision <= CLOSE / (prior_sd * prior_sd):
        return Brood(mean, 0.0, sd, number, squares, finished)
    pull = (mean - prior) / (prior_sd * prior_sd)  # equal to the data's own pull, at the maximum
    return Brood(mean + pull / precision, precision, sd, number, squares, finished)


def estimated(
    constant_dd: float,
    *,
    shorter: float,
    longer: float,
    broods: Sequence[tuple[StageEnds, ...]] = (),
    this: int | None = None,
    spread: float = 0.1,
    never: float = NEVER,
) -> Estimate:
    """A constant that was known before, drawn toward own broods, the more the more there are.

    Of broods of which some ended the stage each has its mean with the variance of that; the others
    say only that the first of them needs more than was gathered, unless they never end it. Of the
    brood itself, while none ended it, the constant is that of those that do: it never falls as they
    wait longer.

    Args:
        constant_dd: known before [C day].
        shorter, longer: how far off what a brood needs may be, as standard deviations of the
            logarithm on either side: nine in ten lie within 1.645 of them.
        broods: the animals of each own brood.
        this: which of them the estimate is for; None for another brood.
        spread: usual standard deviation of the logarithm of animals within a brood.
        never: share that never ends the stage, as a rule, and the chance that a whole brood does
            not.

    Raises:
        ValueError: out of range.
    """

    def with_lots(brood: tuple[StageEnds, ...]) -> Estimate:
        those = broods if this is None else [*broods[:this], brood, *broods[this + 1 :]]
        return _estimated(constant_dd, shorter, longer, those, this, spread, never)

    own = () if this is None else broods[this]
    found = with_lots(own)
    waited = max((lot.low for lot in own), default=0.0)
    if waited <= LEAST_HEAT or _any_ended(own):
        return found

    def up_to(most: float) -> Estimate:
        return replace(
            with_lots(tuple(replace(lot, low=min(lot.low, most)) for lot in own)), up_to=most
        )

    def at(step: int) -> float:
        return constant_dd * (1 + WAIT_STEP) ** step

    high = floor(log(waited / constant_dd) / log(1 + WAIT_STEP))
    if up_to(at(high)).constant_dd <= found.constant_dd * (1 + CLOSE):
        return found
    low = high - WAIT_STEPS  # the constant rises with the wait, then falls
    while high > low:
        middle = (low + high) // 2
        if up_to(at(middle)).constant_dd > up_to(at(middle + 1)).constant_dd * (1 + CLOSE):
            high = middle
        else:
            low = middle + 1
    return up_to(at(low))


def _estimated(
    constant_dd: float,
    shorter: float,
    longer: float,
    broods: Sequence[tuple[StageEnds, ...]],
    this: int | None,
    spread: float,
    never: float,
) -> Estimate:
    """As ``estimated``, by all that the animals of the brood itself waited."""
    within("thermal constant", constant_dd, LEAST_HEAT, MOST_HEAT, "degree-days")
    for side in (shorter, longer):
        within("uncertainty", side, 1e-4, 2)
    known = log(constant_dd)
    # of a brood that nobody of ended it is only weighed how long it waits
    told = [
        one_brood(seen, known, WIDE, spread, never) if _any_ended(seen) else None for seen in broods
    ]
    done = [one for one in told if one is not None and one.precision > 0]
    weighs = SPREAD_WEIGHS + sum(one.number for one in done)
    squares = SPREAD_WEIGHS * spread**2 + sum(one.squares for one in done)
    animals = max(LEAST_SPREAD, sqrt(squares / weighs))
    waiting = tuple(
        tuple(_first_of(lot, known, min(shorter, longer), animals) for lot in brood)
        for brood in broods
        if brood and not _any_ended(brood)
    )
    own = None if this is None or told[this] not in done else told[this]
    seen = tuple(
        (one.mean - known, (animals / one.spread) ** 2 / one.precision)
        for place, one in enumerate(told)
        if one is not None and one in done and (own is None or place != this)
    )
    if own is None and not seen and not waiting:
        return Estimate(constant_dd, shorter, longer, animals, 0, 0.0)
    found = _known_better((shorter, longer), seen, waiting, never)
    middle, below, above = found.middle, found.below, found.above
    if own is not None:  # its own animals, about what the other broods foretold of it
        at, variance = own.mean - known, (animals / own.spread) ** 2 / own.precision
        side = above if at > middle else below
        share = side**2 / (side**2 + variance)
        middle += share * (at - middle)
        below, above = (hypot((1 - share) * one, share * sqrt(variance)) for one in (below, above))
    constant = exp(min(max(known + middle, log(LEAST_HEAT)), log(MOST_HEAT)))
    of_broods = {"between": found.between, "differ": found.differ}
    return Estimate(constant, below, above, animals, len(done), found.weight, **of_broods)


class _NextBrood(Struct, frozen=True):
    """How far off from the constant known before another brood is: the middle of the logarithm and
    its standard deviation on either side; the share that broods have in it, by how much they are
    taken to differ where they draw it, and by how much in those deviations."""

    middle: float
    below: float
    above: float
    weight: float
    between: float
    differ: float = 0.0


@lru_cache(maxsize=1024)  # each brood of a species asks for it
def _known_better(
    sides: tuple[float, float],
    seen: tuple[tuple[float, float], ...],
    waiting: tuple[tuple[tuple[float, float], ...], ...],
    never: float,
) -> _NextBrood:
    """What is known of another brood by those with a mean, each with its variance, and those that
    are not there yet (``_first_of`` of each lot). Before them it was off by so much on either
    side."""
    if not seen and not waiting:
        return _NextBrood(0.0, *sides, 0.0, 0.0)
    most = MOST_OF_BROODS * hypot(*sides) / sqrt(2)
    if not seen:
        between = min(USUALLY_DIFFER, MOST_OF_BROODS * min(sides))
        low, middle, high = _species(sides, between, (), waiting, never)
        below, above = (hypot(one / Z90, between) for one in (middle - low, high - middle))
        return _NextBrood(middle, below, above, 0.0, between)
    may_differ = _may_differ(seen)
    logs = [log(one) for one in BROODS_MAY_DIFFER]
    between = min(most, exp(_at_share(logs, may_differ, AS_MUCH_AS_THEY_MAY)))
    middle, mean = _species(sides, between, seen, waiting, never)[1], _mean(seen, between)
    far, drawn = mean, middle
    if abs(mean) < HARDLY:  # else the share is that of rounding
        far, moved = HARDLY, tuple((at + HARDLY - mean, variance) for at, variance in seen)
        drawn = _species(sides, between, moved, waiting, never)[1]
    weight = min(1.0, max(0.0, drawn / far))
    below, above = (_side(side, weight, between, may_differ, seen) for side in sides)
    squares = sum(w * one * one for w, one in zip(may_differ, BROODS_MAY_DIFFER, strict=True))
    return _NextBrood(middle, below, above, weight, between, sqrt(squares))


def _of_species(side: float, differ: float) -> float:
    """Of how far a brood may be off, what is of its species where broods differ so."""
    return sqrt(max(side**2 - differ**2, (LEAST_OF_SPECIES * side) ** 2))


def _species(
    sides: tuple[float, float],
    between: float,
    seen: tuple[tuple[float, float], ...],
    waiting: tuple[tuple[tuple[float, float], ...], ...],
    never: float,
) -> tuple[float, float, float]:
    """How far a species is off here where broods differ so: 5th percentile, median and 95th."""
    shorter, longer = sides
    off_at = _quantiles(_of_species(shorter, between), _of_species(longer, between))
    fits = [(at, between**2 + variance) for at, variance in seen]
    step, deviates = 2 * FURTHEST / COARSE, _spaced(-FURTHEST, FURTHEST, COARSE)
    for zoomed in (False, True):
        logs = []
        for deviate in deviates:
            off = off_at(deviate)
            fit = sum(_not_yet(lots, off, never) for lots in waiting) - deviate**2 / 2
            logs.append(fit - sum((at - off) ** 2 / variance for at, variance in fits) / 2)
        top = max(logs)
        if not zoomed:
            near = [one for one, fit in zip(deviates, logs, strict=True) if fit > top + NEGLIGIBLE]
            deviates = _spaced(near[0] - step, near[-1] + step, FINE)
    weights = [exp(one - top) for one in logs]
    low, middle, high = (off_at(_at_share(deviates, weights, p)) for p in (0.05, 0.5, 0.95))
    return low, middle, high


def _may_differ(seen: Sequence[tuple[float, float]]) -> list[float]:
    """How likely broods differ by each of ``BROODS_MAY_DIFFER``, by their scatter about their own
    mean."""
    logs = []
    for differ in BROODS_MAY_DIFFER:
        variances = [differ**2 + own for _, own in seen]
        mean, held = _mean(seen, differ), sum(1 / one for one in variances)
        fit = sum(
            log(one) + (at - mean) ** 2 / one for (at, _), one in zip(seen, variances, strict=True)
        )
        logs.append(-(fit + log(held)) / 2)
    weights = [exp(one - max(logs)) for one in logs]
    return [one / sum(weights) for one in weights]


def _side(
    side: float,
    weight: float,
    between: float,
    may_differ: Sequence[float],
    seen: Sequence[tuple[float, float]],
) -> float:
    """How far off another brood is on one side, so that nine in ten lie within 1.645 of it: of its
    species what own broods have not moved, of their mean, and of itself, added up over all that
    broods may differ by."""
    shares = [1 / (between**2 + own) for _, own in seen]
    squares = sum(one * one for one in shares) / sum(shares) ** 2
    of_own = sum(w * w * own for w, (_, own) in zip(shares, seen, strict=True)) / sum(shares) ** 2
    off = [
        sqrt(
            ((1 - weight) * _of_species(side, differ)) ** 2
            + weight**2 * (squares * differ**2 + of_own)
            + differ**2
        )
        for differ in BROODS_MAY_DIFFER
    ]
    low, high = 0.0, Z90 * max(off)
    for _ in range(HALVINGS):
        half = (low + high) / 2
        beyond = sum(w * _upper(half / one) for w, one in zip(may_differ, off, strict=True))
        low, high = (half, high) if beyond > 0.05 else (low, half)
    return high / Z90


def _quantiles(shorter: float, longer: float) -> Callable[[float], float]:
    """How far off a species is at a standard normal deviate: nought at the middle, both sides met
    at the 5th and 95th percentile, long tails beyond."""
    skew = log(longer / shorter) / Z90
    wide = Z90 * longer / _skewed(Z90, skew) / exp(TAILS * Z90**2 / 2)
    return lambda deviate: wide * _skewed(deviate, skew) * exp(TAILS * deviate**2 / 2)


def _skewed(deviate: float, skew: float) -> float:
    return expm1(skew * deviate) / skew if abs(skew) > CLOSE else deviate


def _spaced(first: float, last: float, steps: int) -> list[float]:
    return [first + (last - first) * step / steps for step in range(steps + 1)]


def _at_share(deviates: Sequence[float], weights: Sequence[float], share: float) -> float:
    """The deviate up to which so large a share of the weights lies, each spread evenly about its
    own."""
    so_far, wanted, step = 0.0, share * sum(weights), deviates[1] - deviates[0]
    for deviate, weight in zip(deviates, weights, strict=True):
        if so_far + weight >= wanted:
            return deviate + step * ((wanted - so_far) / weight - 0.5)
        so_far += weight
    return deviates[-1]


def _mean(seen: Sequence[tuple[float, float]], between: float) -> float:
    weights = [1 / (between**2 + variance) for _, variance in seen]
    return sum(w * at for w, (at, _) in zip(weights, seen, strict=True)) / sum(weights)


def _first_of(
    lot: StageEnds, known: float, least_side: float, spread: float
) -> tuple[float, float]:
    """Of a lot that is not there yet: how far off the species is, as a logarithm, where its first
    is as likely before the last look as after, and how far that varies."""
    first = spread * normal_quantile(0.625 / (lot.number + 0.25)) if lot.number > 1 else 0.0
    between = min(USUALLY_DIFFER, MOST_OF_BROODS * least_side)
    varies = hypot(between, spread / sqrt(max(1.0, 2 * log(lot.number))))
    return log(max(LEAST_HEAT, lot.low)) - known - first, varies


def _not_yet(lots: tuple[tuple[float, float], ...], off: float, never: float) -> float:
    """The logarithm of how likely no animal of a brood was there yet, by the lot that tells most;
    all of them never are with the chance ``never``."""
    least = _upper(max([(middle - off) / varies for middle, varies in lots]))
    return log(max(LEAST_SHARE, never + (1 - never) * least))
