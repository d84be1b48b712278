"""Hidden eggs: how likely a stem still bears viable eggs that no search found, and how long to keep
it."""

from __future__ import annotations

import math
import operator
from bisect import bisect_left
from collections.abc import Callable, Sequence
from functools import lru_cache
from math import exp, expm1, log1p
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from rounds.biology.distributions import beta_quantile, normal_share
from rounds.biology.thermal_constants import Z90
from rounds.limits import within

# How large a share of the eggs that are there one search finds, until own sprigs tell; our
# estimate, no source.
USUAL_DETECTION = {"naked eye": 0.4, "lens": 0.6, "macro photo": 0.7}
LEAST_GONE = 0.1  # of the warmth that eggs need; less than that is told alike
LEAST_SHARE = 1e-12  # that has hatched, where larvae were seen all the same
# deviates that stand for the error of the time to hatching: from -3.2 to 3.2
ERRORS, ERRORS_APART = 17, 0.4
# What is assumed where larvae were seen: ``hidden_viable`` is reckoned with what they tell of the
# time to hatching and without, and the higher is told; our estimate, no source.
REST_IN_THEIR_OWN_TIME = (
    "larvae were seen: the rest need not hatch when they did, so it is reckoned with and without"
    " them and the higher chance is told"
)
LAID_PARTS = 4  # moments that stand for the time over which they were laid
MOST_LOOKS = 365  # looks a day apart that are counted ahead
# where their number is sought first: so many after half should have hatched; and the least
# logarithm that it goes by
SEEN_AFTER, LEAST_LOG = 5, -6.0
MOST_SEARCHES = 1000  # that are counted ahead
SHARE_STEPS = 500  # of the share found, to sum over where more eggs may be left
PRIOR_WEIGHT = 4.0  # the usual share counts as much as four eggs of one's own; our estimate


# How well eggs are seen is open over a grid of normal deviates: the trapezoid rule, whose error
# falls off exponentially for what is smooth (Trefethen & Weideman 2014, SIAM Review 56:385-458;
# from memory). Its ends are far out, for searches that find none where many are expected speak for
# them.
APART, OUT_TO = 0.75, 4.5
FINER, FINEST, FARTHEST = 0.5, 0.02, 7.0  # where the rate may be exact


@lru_cache(maxsize=64)
def ways_seen(apart: float = APART, out_to: float = OUT_TO) -> tuple[tuple[float, float], ...]:
    """How well eggs are seen beside what is known of it, as (part of what may be, its weight).

    Args:
        apart, out_to: deviates from one to the next, and the last.
    """
    places = math.floor(out_to / apart + 1e-9)
    deviates = [apart * place for place in range(-places, places + 1)]
    weights = [math.exp(-deviate * deviate / 2) for deviate in deviates]
    whole = sum(weights)
    return tuple(
        (normal_share(deviate), weight / whole)
        for deviate, weight in zip(deviates, weights, strict=True)
    )


class Detection(Struct, frozen=True):
    """The share of eggs that one search with an aid finds, with limits, and what it was learned
    from: ``eggs`` of one's own. It is as uncertain as ``counted`` eggs leave it, beta distributed.
    """

    share: float
    low: float
    high: float
    eggs: int
    counted: float

    def at(self, part: float) -> float:
        """The share that one search finds, above which it lies with the chance 1 - ``part``."""
        return _share_at(part, self.share, self.counted)

    def left_by(self, searches: int) -> float:
        """The share of eggs that so many searches miss, by all that is known of one."""
        return share_missed(share=self.share, searches=searches, counted=self.counted)


class Unwatched(Struct, frozen=True):
    """Eggs found on stems of which nobody knows how many are left: how many, by how many searches
    with one aid, and the share of eggs that searches with others leave.

    ``silent`` is the share of the eggs left that could not have shown by themselves yet: all where
    nobody waited for that, those that never hatch where somebody did. ``shown``: on so many such
    stems, each with so many eggs found, one or more of the others showed, nobody knows how many.
    """

    eggs: int
    searches: int
    others_leave: float = 1.0
    silent: float = 1.0
    shown: int = 0

    def log_at(self, share: float) -> float:
        """Ln of how likely they are where one search finds that share, beside what tells which
        search found which of them."""
        left = self.others_leave * (1 - share) ** self.searches
        any_left, silent_left = math.log1p(-left), math.log1p(-left * self.silent)
        if not self.shown:
            return -self.eggs * silent_left
        apart = any_left - silent_left
        some = -math.expm1(self.eggs * apart) if self.eggs else -apart
        return self.shown * (math.log(max(some, LEAST_SHARE)) - self.eggs * any_left)


@lru_cache(maxsize=256)  # its limits are halved toward, and each kept lot asks for them
def learned_detection(
    *,
    usual: float,
    found: int,
    missed: int,
    unwatched: tuple[Unwatched, ...] = (),
    eggs: int | None = None,
    counted: float = PRIOR_WEIGHT,
) -> Detection:
    """The share found, learned from stems searched again and again, or that later showed eggs.

    Where all eggs that were there are known it is a beta-binomial update of the usual share
    (conjugate updating of a beta distribution by counts: Gelman et al. 2013, Bayesian Data
    Analysis, 2.4). Where eggs may be left unseen, one found by the k-th of K searches, each of
    which finds the share s, tells of s as

        s (1 - s)^(k - 1) / (1 - (1 - s)^K),

    its chance among those that any of them found (removal estimation: Moran 1951, Biometrika
    38:307-311; Zippin 1956, Biometrics 12:163-189; from memory): the sum over all numbers of eggs
    that may be left, where any number laid is as likely as another on a logarithm. With M for what
    all searches miss, that sum over n eggs found is (1 - M)^-n; where larvae of the rest were seen
    or waited for in vain, only those that never hatch may be left, a share q: (1 - q M)^-n, n with
    the larvae; where frass showed that one or more were left, the sum without those of which none
    would show: (1 - M)^-n - (1 - q M)^-n, and ln((1 - q M) / (1 - M)) where n is 0. How many were
    found in all, beside what is laid elsewhere, is weighed apart (``log_of_found``). The product is
    summed over s and told as the beta distribution of the same mean and variance.

    Args:
        usual: the share before, 0.001 to 0.999. found, missed: eggs that searches found, and times
            that one missed an egg that showed later.
        unwatched: those of the eggs found that were on stems where more may be left.
        eggs: on how many own eggs it rests; found and missed where it is not said.
        counted: the share before is as uncertain as so many eggs leave it.
    """
    within("usual share", usual, 0.001, 0.999)
    within("eggs counted", counted, 0.1, 1e7)
    within("found", found, 0, 1e6)
    within("missed", missed, 0, 1e6)
    a, b = usual * counted + found, (1 - usual) * counted + missed
    if unwatched:
        a, b = _beta_like(a, b, unwatched)
    limits = beta_quantile(0.025, a, b), beta_quantile(0.975, a, b)
    return Detection(a / (a + b), *limits, found + missed if eggs is None else eggs, a + b)


def _beta_like(a: float, b: float, unwatched: Sequence[Unwatched]) -> tuple[float, float]:
    """The beta distribution with mean and variance of beta(a, b) over the chances that eggs are
    found at all."""
    shares = [(step + 0.5) / SHARE_STEPS for step in range(SHARE_STEPS)]
    logs = [
        (a - 1) * math.log(share)
        + (b - 1) * math.log1p(-share)
        + sum(one.log_at(share) for one in unwatched)
        for share in shares
    ]
    most = max(logs)
    weights = [math.exp(log - most) for log in logs]
    whole = sum(weights)
    mean = sum(map(operator.mul, weights, shares)) / whole
    apart = sum(weight * (share - mean) ** 2 for weight, share in zip(weights, shares, strict=True))
    counted = mean * (1 - mean) / max(apart / whole, SHARE_STEPS**-2 / 12) - 1
    return mean * counted, (1 - mean) * counted


@lru_cache(maxsize=4096)  # many parts of a few shares
def _share_at(part: float, share: float, counted: float) -> float:
    return beta_quantile(part, share * counted, (1 - share) * counted)


def share_missed(*, share: float, searches: int, counted: float = math.inf) -> float:
    """The share of eggs that so many searches miss, where what one finds is itself uncertain.

    Every search of a plant shares the one unknown share s, so that n miss the mean of (1 - s)^n,
    not (1 - mean)^n: of a beta distribution with a = share x counted and b = (1 - share) x counted
    it is the product of (b + i) / (a + b + i) over i from 0 to n - 1 (its moments: Johnson, Kotz &
    Balakrishnan 1995, Continuous Univariate Distributions 2, ch. 25; from memory).

    Args:
        share: what one search finds, 0 to 1.
        counted: the share is as uncertain as so many eggs leave it; inf where it is exact.
    """
    within("share found", share, 0, 1)
    if counted == math.inf:
        return (1 - share) ** searches
    within("eggs counted", counted, 1e-6, 1e9)
    missed = (1 - share) * counted
    return math.prod((missed + turn) / (counted + turn) for turn in range(searches))


def chance_after_searches(*, prior: float, detections: Sequence[float]) -> float:
    """The chance that eggs are there after searches that found none: Bayes' rule with independent
    searches.

    prior x prod(1 - p) / (prior x prod(1 - p) + 1 - prior).
    """
    within("prior chance", prior, 0, 1)
    missed = math.prod(1 - within("share found", value, 0, 1) for value in detections)
    return _share(prior * missed, 1 - prior)


def _share(eggs: float, none: float) -> float:
    """The share of one of two weights; each is taken by itself, so that it cannot round above
    one."""
    return eggs / (eggs + none) if eggs + none > 0 else 1.0


def searches_needed(
    *, detection: float, certainty: float = 0.95, counted: float = math.inf
) -> int | None:
    """How many searches without finding make it that certain that one egg would have been found.

    Source: McArdle 1990, Oikos 57:276-277; Reed 1996, Conserv. Biol. 10:1283-1285: n = ln(1 -
        certainty) / ln(1 - p), where p is exact; else by ``share_missed``.

    Args:
        counted: as for ``share_missed``.

    Returns:
        None where ``MOST_SEARCHES`` do not.
    """
    within("share found", detection, 0, 1)
    within("certainty", certainty, 0.5, 0.999999)
    aim = (1 - certainty) * (1 + 1e-12)

    def enough(searches: int) -> bool:
        return share_missed(share=detection, searches=searches, counted=counted) <= aim

    return _first(enough)


class Laying(Struct, frozen=True):
    """How fast females lay on a plant, as far as is known: a gamma distribution, and the chance
    that they lay there at all.

    Attributes:
        rate: mean of those that lay [eggs per female-day].
        counted: the rate is as uncertain as so many eggs counted leave it (the shape of the gamma);
            inf where it is exact.
        willing: the chance that these females lay on this plant at all, 0 to 1.
    """

    rate: float
    counted: float = math.inf
    willing: float = 1.0


def learned_laying(
    usual: Laying, *, eggs: float, searched_days: float, vary: float = math.inf
) -> Laying:
    """What is known of laying after eggs were found, or none, in female-days of which searches
    found a share.

    Conjugate updating of a gamma distribution by a Poisson count (Gelman et al. 2013, Bayesian Data
    Analysis, 2.6), and Bayes' rule for whether they lay at all: once an egg was found they do.

    Args:
        searched_days: female-days, each times the share of its eggs that the searches found.
        vary: females and days differ as much as so many eggs counted would leave open, however well
            the mean is known.
    """
    within("eggs", eggs, 0, 1e9)
    within("female-days searched", searched_days, 0, 1e9)
    shape, exposure = usual.counted + eggs, usual.counted / usual.rate + searched_days
    none = none_found(usual, searched_days)
    willing = 1.0 if eggs else chance_after_searches(prior=usual.willing, detections=[1 - none])
    return Laying(shape / exposure, min(shape, vary), willing)


def none_found(laying: Laying, searched_days: float) -> float:
    """The chance that females who lay there are found to have laid none: a Poisson count about a
    rate that is uncertain."""
    return math.exp(-_none(laying, searched_days, 0))


def log_of_found(laying: Laying, *, eggs: float, searched_days: float) -> float:
    """Ln of how likely so many eggs are found in female-days, each times the share that searches
    find of its eggs, by those that lay; up to what hangs on the number alone.

    A Poisson count over the gamma distributed rate, which is a negative binomial one (Gelman et al.
    2013, Bayesian Data Analysis, 2.6). Eggs in no days at all say nothing.
    """
    within("eggs", eggs, 0, 1e9)
    within("female-days searched", searched_days, 0, 1e9)
    if eggs and not laying.rate * searched_days:
        return 0.0
    return _log_of_eggs(laying, eggs, searched_days) - _none(laying, searched_days, eggs)


class Hatching(Struct, frozen=True):
    """When eggs hatch, and what looks for frass saw of it by now: larvae that were taken off, and
    none but these.

    Attributes:
        degree_days: from when the last can have been laid up to the last look [C day].
        laid_over: they were laid evenly over so many degree-days before that [C day].
        hatch_dd: when half of them hatch [C day].
        spread: of eggs, as a standard deviation of the logarithm.
        shorter, longer: how far off ``hatch_dd`` may be, on either side, alike; all eggs of a stem
        share it.
        looks: looks made once half should have hatched; each shows a hatch with the chance
            ``seen_by_a_look``.
        larvae: how many hatched of eggs that no search had found, were seen and taken off.
        larvae_from: degree-days as above, up to the last look before them, which saw none.
        larvae_at: the same, up to when the last of them were seen.
    """

    degree_days: float = 0.0
    hatch_dd: float = 80.0
    spread: float = 0.1
    shorter: float = 0.0
    longer: float = 0.0
    looks: int = 1
    seen_by_a_look: float = 0.9
    laid_over: float = 0.0
    larvae: float = 0.0
    larvae_from: float = 0.0
    larvae_at: float = 0.0

    def shares(self) -> list[tuple[float, float]]:
        """How large a share has hatched, over errors of ``hatch_dd``, with the weight of each."""
        within("degree-days", self.degree_days, 0, 1e5)
        within("hatch", self.hatch_dd, 1e-6, 1e5, "degree-days")
        within("spread of hatch", self.spread, 1e-6, 2)
        within("shorter", self.shorter, 0, 2)
        within("longer", self.longer, 0, 2)
        return self._shares_at(self.degree_days)

    def logs_of_larvae(self) -> list[float]:
        """Ln of how likely so many larvae are by then, over the same errors of ``hatch_dd``, up to
        a constant: larvae x ln(share that hatched between the two looks)."""
        within("larvae", self.larvae, 0, 1e7)
        within("larvae seen at", self.larvae_at, 0, 1e5, "degree-days")
        if not self.larvae:
            return [0.0 for _ in _errors(self.shorter, self.longer)]
        within("larvae from", self.larvae_from, 0, 1e5, "degree-days")
        before, then = self._shares_at(self.larvae_from), self._shares_at(self.larvae_at)
        return [
            self.larvae * math.log(max(share - (none if self.larvae_from else 0), LEAST_SHARE))
            for (share, _), (none, _) in zip(then, before, strict=True)
        ]

    def _shares_at(self, degree_days: float) -> list[tuple[float, float]]:
        within("laid over", self.laid_over, 0, 1e5, "degree-days")
        parts = (
            [(part + 0.5) / LAID_PARTS for part in range(LAID_PARTS)] if self.laid_over else [0.0]
        )
        gone = [
            math.log(max((degree_days + part * self.laid_over) / self.hatch_dd, LEAST_GONE))
            for part in parts
        ]
        errors, spread, root = _errors(self.shorter, self.longer), self.spread, math.sqrt(2)
        return [  # the share of a normal distribution, written out for it is asked for so often
            (
                sum([math.erfc((off - value) / spread / root) for value in gone]) / 2 / len(gone),
                weight,
            )
            for off, weight in errors
        ]

    @property
    def high_dd(self) -> float:
        """When 95 of 100 eggs should have hatched, by how far off the time may be too: only a look
        past that is a sight of eggs of which nothing else is known [C day]."""
        return self.hatch_dd * math.exp(Z90 * math.hypot(self.spread, self.longer))

    @property
    def past_hatching(self) -> bool:
        """Whether the last look came past ``high_dd``."""
        return self.degree_days >= self.high_dd

    @property
    def would_show(self) -> float:
        """The chance that frass of a hatch that was would have been seen by now."""
        within("looks", self.looks, 0, 1e6)
        within("share of hatches that a look shows", self.seen_by_a_look, 0, 1)
        return 1 - (1 - self.seen_by_a_look) ** max(1, self.looks)


def _errors(shorter: float, longer: float) -> list[tuple[float, float]]:
    """Errors on a logarithm with their weights, out to three standard deviations: it is the far
    ones that cost an egg."""
    if not shorter and not longer:
        return [(0.0, 1.0)]
    return [(value * (longer if value > 0 else shorter), weight) for value, weight in _DEVIATES]


_STEPS = [ERRORS_APART * (position - ERRORS // 2) for position in range(ERRORS)]
_WEIGHTS = [math.exp(-value * value / 2) for value in _STEPS]
_DEVIATES = [
    (value, weight / sum(_WEIGHTS)) for value, weight in zip(_STEPS, _WEIGHTS, strict=True)
]
NO_LOOK = Hatching()  # nothing has hatched, nothing was looked for


class Case(Struct, frozen=True):
    """One case of how well eggs are seen: how likely it is but for what this stem tells (up to a
    constant), the share of the eggs on it that its searches miss then, and how fast females lay if
    it is so."""

    weight: float
    missed: float
    laying: Laying


def cases_of(
    laying: Laying, detection: Detection, searches: int, found: int = 0
) -> tuple[Case, ...]:
    """The cases of a stem that was searched so often, by all that may be of what one search finds:
    the closer to one another the more the eggs found tell of that."""
    tells = 1 / (1 / laying.counted + 1 / found) if found else 0.0
    apart = max(FINEST, min(FINER, 2 / math.sqrt(tells))) if tells else FINER
    return tuple(
        Case(weight, (1 - detection.at(part)) ** searches, laying)
        for part, weight in ways_seen(apart, FARTHEST)
    )


class HiddenEggs(Struct, frozen=True):
    """The chance of viable eggs now, that of any eggs before a search, how large a share should
    have hatched, and the share of the eggs that searches miss, by all that is known."""

    chance: float
    before: float
    hatched_share: float
    missed: float


@lru_cache(maxsize=4096)  # each line that is said asks for all kept lots anew
def hidden_viable(
    *,
    laying: Laying | tuple[Case, ...],
    female_days: float,
    missed: float = 1.0,
    found: int = 0,
    viable_share: float = 1.0,
    hatching: Hatching = NO_LOOK,
) -> HiddenEggs:
    """The chance that a stem bears one viable egg or more that nobody found.

    Eggs on a stem are a number, Poisson about rate x female-days. What searches miss, of that what
    is viable, and of that what no frass has shown, are thinned counts of the same kind (Kingman
    1993, Poisson Processes,
    5.1; from memory): with the rate known exactly, e eggs expected, n searches that each find the
    share s and the share v
    viable the chance is 1 - exp(-e v (1 - s)^n). It is averaged over what is open, each case
    weighed by how well it
    explains what was seen (Bayes' rule): how well eggs are seen and with it the rate, for searches
    that find fewer or more than are expected tell of either; whether they lay there at all, and by
    how much the time to hatching is off. With both known, what is left hangs on nothing that was
    found; as they are not, F eggs found are a count: with the gamma of shape k and mean r, in d
    female-days times the share found, the weight of a case is Gamma(k + F) / Gamma(k) (r d / k)^F
    (1 + r d / k)^-(k + F). Larvae that hatched on it, L of them while the share h of its
    eggs hatched, are one more such count: with the gamma of shape k and mean r the weight of a case
    is h^L (1 + r d / k)^-(k + found + L), d the female-days whose eggs were found, or hatched and
    seen, by now, and of a days left there is none with the chance
    ((1 + r d / k) / (1 + r (d + a) / k))^(k + found + L). They raise the number; that they also
    tell the time to hatching never brings the chance below what it is without them, for not all of
    a stem need hatch at one time: our estimate.

    Args:
        laying: how females lay; or cases of it and of how well eggs are seen.
        female_days: how long females stood with it.
        missed: share of the eggs laid on it that the searches miss, 0 to 1, where no cases say it.
        found: eggs that they found on it (``log_of_found``).
        viable_share: share of eggs that hatch, 0 to 1.
    """
    cases = laying if isinstance(laying, tuple) else (Case(1.0, missed, laying),)
    for case in cases:
        within("rate", case.laying.rate, 0, 1e6, "eggs per female-day")
        within("eggs counted", min(case.laying.counted, 1e9), 1e-6, 1e9)
        within("chance that they lay", case.laying.willing, 0, 1)
        within("share missed", case.missed, 0, 1)
        within("weight", case.weight, 0, math.inf)
    within("female-days", female_days, 0, 1e6)
    within("found", found, 0, 1e7)
    within("viable share", viable_share, 0, 1)
    stem = Stem(cases, female_days, found, viable_share)
    weighed = stem.weighed(hatching)
    counted, would_show, shares = found + hatching.larvae, hatching.would_show, hatching.shares()
    eggs = left_of = 0.0
    for case, weights in zip(cases, weighed.weights, strict=True):
        there, searched = female_days * case.missed * viable_share, female_days * (1 - case.missed)
        of_case = sum(
            weight * _eggs_a_day(case.laying, searched + there * share * would_show, counted)
            for weight, (share, _) in zip(weights, shares, strict=True)
        )
        eggs, left_of = eggs + of_case, left_of + of_case * case.missed
    likely = sum(one.weight for one in cases)
    before = sum(
        one.weight * one.laying.willing * -math.expm1(-_none(one.laying, female_days, 0))
        for one in cases
    )
    return HiddenEggs(
        stem.at_least(weighed, hatching),
        before / likely if likely else 0.0,
        sum(share * weight for share, weight in shares),
        left_of / eggs if eggs else cases[0].missed,
    )


class _Weighed(NamedTuple):
    """The chance of viable eggs, and the weight of each case at each error of the time to
    hatching."""

    chance: float
    weights: list[list[float]]


class Stem:
    """A stem of which all is known but when eggs hatch: ``hidden_viable`` of many such times, of
    which each costs little, for what hangs on none of them is reckoned once."""

    def __init__(
        self, cases: tuple[Case, ...], female_days: float, found: int, viable_share: float
    ) -> None:
        self._stem = cases, female_days, found, viable_share
        self._idle = 0.0 if found else sum(one.weight * (1 - one.laying.willing) for one in cases)
        self._of_cases: dict[float, list[tuple[float, float, float, float, float]]] = {}

    def chance(self, hatching: Hatching) -> float:
        """The chance that it bears one viable egg or more that nobody found."""
        return self.at_least(self.weighed(hatching), hatching)

    def at_least(self, weighed: _Weighed, hatching: Hatching) -> float:
        """The same, no less than without the larvae that were seen."""
        without = self.weighed(replace(hatching, larvae=0.0)).chance if hatching.larvae else 0.0
        return min(1.0, max(weighed.chance, without))

    def weighed(self, hatching: Hatching) -> _Weighed:
        """The cases weighed by all that was seen."""
        would_show, larvae = hatching.would_show, hatching.larvae
        shows = [share * would_show for share, _ in hatching.shares()]
        tells = [
            math.log(weight) + of_larvae
            for (_, weight), of_larvae in zip(
                _errors(hatching.shorter, hatching.longer), hatching.logs_of_larvae(), strict=True
            )
        ]
        logs, lefts = [], []
        for of_case, shape, searched, there, none_at_all in self._cases_with(larvae):
            if shape == math.inf:
                nones = [searched + there * seen for seen in shows]
            else:
                nones = [shape * log1p(searched + there * seen) for seen in shows]
            logs.append([of_case + tell - none for tell, none in zip(tells, nones, strict=True)])
            lefts.append([-expm1(none - none_at_all) for none in nones])
        idle = 0.0 if larvae else self._idle
        top = max(_log(idle), *map(max, logs))
        weights = [[exp(value - top) if top > -math.inf else 0.0 for value in of] for of in logs]
        whole = sum(map(sum, weights)) + (exp(_log(idle) - top) if idle else 0.0)
        left = sum(sum(map(operator.mul, *of)) for of in zip(weights, lefts, strict=True))
        return _Weighed(left / whole if whole > 0 else 0.0, weights)

    def _cases_with(self, larvae: float) -> list[tuple[float, float, float, float, float]]:
        """Of each case with so many larvae: ln of its weight, the shape of its gamma, the eggs of
        the days searched and of those left over that shape (or as they are where the rate is
        exact), and -ln of the chance that none is laid in any of these days."""
        if larvae not in self._of_cases:
            cases, days, found, viable = self._stem
            counted = found + larvae
            searched_any = any(days * (1 - case.missed) > 0 for case in cases)
            of_cases = []
            for case in cases:
                searched, there = days * (1 - case.missed), days * case.missed * viable
                of_case = _log(case.weight * case.laying.willing)
                of_case += _log_of_eggs(case.laying, counted) + _times_log(larvae, case.missed)
                of_case += _times_log(found, searched) if searched_any else 0.0
                shape, a_day = case.laying.counted, case.laying.rate
                a_day /= 1 if shape == math.inf else shape
                at_all = _none(case.laying, searched + there, counted)
                of_cases.append((of_case, shape + counted, a_day * searched, a_day * there, at_all))
            self._of_cases[larvae] = of_cases
        return self._of_cases[larvae]


def _log(value: float) -> float:
    return math.log(value) if value > 0 else -math.inf


def _times_log(number: float, value: float) -> float:
    """Number x ln(value); none of what cannot be is as likely as anything."""
    return number * _log(value) if number else 0.0


def _log_of_eggs(laying: Laying, eggs: float, days: float = 1.0) -> float:
    """Ln of how likely so many eggs are in female-days, as far as ``_none`` does not say it."""
    shape, expected = laying.counted, laying.rate * days
    if not eggs:
        return 0.0
    if shape == math.inf:
        return _times_log(eggs, expected)
    return math.lgamma(shape + eggs) - math.lgamma(shape) + _times_log(eggs, expected / shape)


def _eggs_a_day(laying: Laying, days: float, found: float) -> float:
    """The mean rate once so many eggs were seen in so many female-days."""
    if laying.counted == math.inf or not laying.rate:
        return laying.rate
    return (laying.counted + found) / (laying.counted / laying.rate + days)


def _none(laying: Laying, days: float, found: float) -> float:
    """-ln of the chance of no egg in so many female-days, after so many were found, up to a
    constant."""
    if laying.counted == math.inf:
        return laying.rate * days
    return (laying.counted + found) * math.log1p(days * laying.rate / laying.counted)


def keep_until_dd(
    *,
    laying: Laying | tuple[Case, ...],
    female_days: float,
    viable_share: float,
    hatching: Hatching,
    missed: float = 1.0,
    found: int = 0,
    aim: float = 0.01,
) -> float | None:
    """Until when to keep a stem [degree-days from laying], with one look then: the chance is under
    the aim.

    Returns:
        0 where it is under it already; None where no waiting brings it there.
    """
    within("aim", aim, 1e-9, 0.5)

    def over(degree_days: float) -> bool:
        at = replace(hatching, degree_days=degree_days)
        known = hidden_viable(
            laying=laying,
            female_days=female_days,
            missed=missed,
            found=found,
            viable_share=viable_share,
            hatching=at,
        )
        return known.chance >= aim

    low, high = 0.0, min(1e5, hatching.hatch_dd * math.exp(8 * (hatching.spread + hatching.longer)))
    if not over(low):
        return 0.0
    if over(high):
        return None
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if over(middle) else (low, middle)
    return high


def looks_until_under(
    chance: Callable[[float, int], float],
    *,
    heat_at: Callable[[int], float],
    hatch_in: float | None,
    aim: float = 0.01,
) -> int | None:
    """How many more looks a day apart, after the next, that see no frass bring the chance under the
    aim; None where a year of them does not.

    Args:
        chance: of live eggs, by the heat gathered at the last look and the looks made from now on
            once half should have hatched.
        heat_at: the heat at the next look (0), at that a day later (1), and so on.
        hatch_in: days from the next look until half should have hatched; None where that never
            comes.
    """
    half = None if hatch_in is None else max(0, math.ceil(hatch_in))

    def at(looks: int) -> float:
        return chance(heat_at(looks), 0 if half is None else max(0, looks + 1 - half))

    # False position on logarithms (the Illinois way: Dowell & Jarratt 1971, BIT 11:168-174; from
    # memory), for each chance costs much.
    over, under = -1, MOST_LOOKS
    of_over = of_under = 0.0  # ln of the chance over the aim there
    looks = min((half or 0) + SEEN_AFTER, MOST_LOOKS - 1)
    while under - over > 1:
        there = at(looks)
        value = max(LEAST_LOG, _log(there / aim))
        if there < aim:
            of_over, under, of_under = of_over / 2, looks, value
        else:
            of_under, over, of_over = of_under / 2, looks, value
        if under == MOST_LOOKS:
            looks = min(2 * looks + 1, MOST_LOOKS - 1)
        elif over < 0:
            looks //= 2
        else:
            apart = under - over
            part = of_over / (of_over - of_under) if of_over > of_under else 0.5
            looks = over + min(max(round(part * apart), 1), apart - 1)
    return under if under < MOST_LOOKS else None


def searches_until_under(
    *, laying: Laying, female_days: float, detection: Detection, chance: float
) -> int | None:
    """How many searches without finding bring the chance of any egg down to that; None where
    ``MOST_SEARCHES`` do not."""
    within("chance aimed at", chance, 1e-9, 0.999)

    def under(searches: int) -> bool:
        cases = cases_of(laying, detection, searches)
        return hidden_viable(laying=cases, female_days=female_days).chance <= chance

    return _first(under)


def _first(enough: Callable[[int], bool]) -> int | None:
    """The fewest searches that are enough."""
    if not enough(MOST_SEARCHES):
        return None
    return bisect_left(range(MOST_SEARCHES + 1), True, key=enough)
