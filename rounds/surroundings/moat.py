"""A moat: how fast it loses water, and when it will be low."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Collection, Sequence
from functools import lru_cache
from itertools import accumulate, pairwise
from typing import Literal, NamedTuple

from msgspec import Struct

from rounds.limits import within
from rounds.surroundings.air import vapour_pressure_deficit_kpa

SPREAD_OF_STILL_AIR = 0.4  # a small dish departs this much from the formula; from memory, no source
READ_TO_MM = 1.0  # a depth is read to the millimetre
RISE_MM = 0.5  # a rise by more is a topping-up, by less an error of reading
# by what share the loss of one day may differ from that of another, each as likely; our estimate,
# no source
DAYS_DIFFER = (0.15, 0.3, 0.6)
USUALLY_DIFFER = 0.4  # the same as one number, their root mean square
STEP_OFF = READ_TO_MM / math.sqrt(2)  # of what is lost between two depths that were read
LAST_STEPS = 40  # from reading to reading, that tell how days differ
LEAST_APART = 0.2  # days between two readings that tell a loss
DEFAULT_LOSS_MM_A_DAY = 3.0  # where nothing is known of the room; our estimate
USUAL_VARIES = 1.5  # of moats, as a standard deviation of the logarithm; our estimate, no source
LEAST_LOSS, MAX_LOSS = 0.02, 100.0  # mm a day between which it is sought, of a few readings
GRID = 120  # losses that are tried
LOW_MM = 8.0  # a moat is low from here; a setting; our estimate, no source


class Loss(Struct, frozen=True):
    """How fast a moat loses water [mm a day], between a low and a high, and what that rests on;
    by what share one day differs from another. ``over_days`` is from the first of its own readings
    to the last."""

    mm_a_day: float
    low: float
    high: float
    rests_on: Literal["own readings", "temperature and humidity", "assumed"]
    readings: int = 0
    days_differ: float = USUALLY_DIFFER
    over_days: float = 0.0


def open_water_loss_mm_a_day(
    *, temperature_c: float, humidity_percent: float, wind_m_s: float = 0.0
) -> float:
    """Evaporation of open water by the air's drying power alone [mm a day].

    Source: Penman 1948 (Proc. R. Soc. A 193:120-145) in the metric form of Shuttleworth 1993
        (Handbook of
    Hydrology, ch. 4), E = 6.43 (1 + 0.536 u) D / lambda with lambda = 2.501 - 0.002361 T MJ/kg;
    coefficients from memory. It was made for extended water; a small dish loses more by its edge,
    less below its
    rim.

    Args:
        temperature_c: of water and air, 0 to 45.
        humidity_percent: 0 to 100.
        wind_m_s: 0 to 20; still air in a closed room is 0.
    """
    within("temperature", temperature_c, 0, 45, "C")
    within("wind", wind_m_s, 0, 20, "m/s")
    deficit = vapour_pressure_deficit_kpa(
        temperature_c=temperature_c, humidity_percent=humidity_percent
    )
    latent_heat = 2.501 - 0.002361 * temperature_c
    return 6.43 * (1 + 0.536 * wind_m_s) * deficit / latent_heat


def loss_from_air(*, temperature_c: float, humidity_percent: float) -> Loss:
    """The loss of a moat in still air, with the spread that small dishes show."""
    rate = open_water_loss_mm_a_day(temperature_c=temperature_c, humidity_percent=humidity_percent)
    return Loss(
        rate,
        rate * (1 - SPREAD_OF_STILL_AIR),
        rate * (1 + SPREAD_OF_STILL_AIR),
        "temperature and humidity",
    )


def loss_from_readings(
    readings: Sequence[tuple[float, float]], filled: Collection[float] = ()
) -> Loss | None:
    """The loss from a keeper's own depth readings: its median, and limits that hold it in 95 of 100
    moats or more.

    From one topping-up to the next, first and last reading tell what was lost over that time. Days
    differ: what is lost is taken for a gamma process (van Noortwijk 2009, Reliability Engineering &
    System Safety 94:2-21, from memory), which never gains and whose parts add up, so that over all
    runs, T days, it is gamma distributed with the shape T / s^2 and the mean T x loss, s the share
    by which one day differs from another (``DAYS_DIFFER``). A depth is read to the millimetre: each
    end of a run is off by up to half of one, so that what was lost lies about the difference by
    +- sqrt(runs / 2). A moat that reads nought was dry by then: from the reading before it, it lost
    at least what was there, and nobody knows when (interval censoring); the next run begins at the
    next depth. With a wide prior about the usual loss (``USUAL_VARIES``) Bayes' rule gives the
    share of each loss, on a grid.

    Args:
        readings: (time in days, depth in mm), in any order.
        filled: times between readings, or at one, at which it was topped up; a rise in depth is a
            topping-up too.

    By how much days differ is told alike, by what was lost from each reading to the next.

    Returns:
        None where no run is some hours long.
    """
    return _loss_from(tuple(sorted(readings)), tuple(sorted(filled)))


@lru_cache(maxsize=64)  # asked for at each look ahead, and seldom changed
def _loss_from(readings: tuple[tuple[float, float], ...], filled: tuple[float, ...]) -> Loss | None:
    lost = _lost(readings, filled)
    if lost is None:
        return None
    # over a long time even what cannot be read off tells how little was lost
    slowest = min([LEAST_LOSS, READ_TO_MM / 10 / lost.days] if lost.days else [LEAST_LOSS])
    least, most = math.log(slowest), math.log(MAX_LOSS)
    # the plain quotient is among those tried first: over years it may lie between two of the grid
    quotient = lost.mm / lost.days if lost.days else DEFAULT_LOSS_MM_A_DAY
    plain = math.log(min(MAX_LOSS, max(slowest, quotient)))
    logs = sorted([*_grid(least, most), plain])
    shares = _shares(lost, logs)
    likely = [log for log, share in zip(logs, shares, strict=True) if share > 1e-7 * max(shares)]
    step = (most - least) / GRID  # again, where it is likely at all
    logs = _grid(max(least, likely[0] - step), min(most, likely[-1] + step))
    shares = _shares(lost, logs)
    sums = list(accumulate((one + other) / 2 for one, other in pairwise([0.0, *shares])))
    middle, low, high = (_at_share(logs, sums, share) for share in (0.5, 0.025, 0.975))
    differ = _days_differ(lost, middle)
    over = readings[-1][0] - readings[0][0]
    return Loss(middle, low, high, "own readings", len(readings), differ, over)


def _days_differ(lost: _Lost, rate: float) -> float:
    """The root mean square of ``DAYS_DIFFER``, each weighed by how well it explains the steps."""
    likely = [
        math.prod(
            _share_under(mm + STEP_OFF, days, rate, differ)
            - _share_under(mm - STEP_OFF, days, rate, differ)
            for days, mm in lost.steps[-LAST_STEPS:]
        )
        for differ in DAYS_DIFFER
    ]
    whole = sum(likely)
    if whole <= 0:  # steps that none of them explains
        return DAYS_DIFFER[-1]
    squares = sum(one * differ**2 for one, differ in zip(likely, DAYS_DIFFER, strict=True))
    return math.sqrt(squares / whole)


class _Lost(NamedTuple):
    """What readings tell: ``mm`` lost in ``days`` of so many ``runs``; and of each time a moat was
    found dry the days since the reading before it, and what was there then. ``steps`` are the
    days and mm from one reading to the next."""

    mm: float
    days: float
    runs: int
    dry: tuple[tuple[float, float], ...]
    steps: tuple[tuple[float, float], ...]


def _lost(readings: tuple[tuple[float, float], ...], filled: tuple[float, ...]) -> _Lost | None:
    """None where no run is some hours long."""
    runs: list[list[tuple[float, float]]] = [[]]
    dry = []
    for day, depth in readings:
        within("depth", depth, 0, 500, "mm")
        last = runs[-1][-1] if runs[-1] else None
        anew = last is not None and (
            depth > last[1] + RISE_MM or any(last[0] < time <= day for time in filled)
        )
        if depth > 0:
            runs[-1:] = [runs[-1], [(day, depth)]] if anew else [[*runs[-1], (day, depth)]]
            continue
        if last is not None and not anew and day > last[0]:
            dry.append((day - last[0], last[1]))
        runs.append([])
    spans = [(run[-1][0] - run[0][0], run[0][1] - run[-1][1]) for run in runs if len(run) > 1]
    told = [(days, mm) for days, mm in spans if days >= LEAST_APART]
    dry = [(days, depth) for days, depth in dry if days >= LEAST_APART]
    if not told and not dry:
        return None
    mm, days = sum(mm for _, mm in told), sum(days for days, _ in told)
    steps = tuple(
        (after[0] - one[0], one[1] - after[1])
        for run in runs
        for one, after in pairwise(run)
        if after[0] - one[0] >= LEAST_APART
    )
    return _Lost(max(0.0, mm), days, len(told), tuple(dry), steps)


def _grid(least: float, most: float) -> list[float]:
    return [least + (most - least) * position / (GRID - 1) for position in range(GRID)]


def _shares(lost: _Lost, logs: list[float]) -> list[float]:
    """How likely each loss of these logarithms is beside the others."""
    usual = math.log(DEFAULT_LOSS_MM_A_DAY)
    return [
        math.exp(-(((log - usual) / USUAL_VARIES) ** 2) / 2)
        * sum(_likelihood(lost, math.exp(log), share) for share in DAYS_DIFFER)
        for log in logs
    ]


def _likelihood(lost: _Lost, rate: float, differ: float) -> float:
    likelihood = 1.0
    if lost.runs:
        off = READ_TO_MM * math.sqrt(lost.runs / 2)
        likelihood = _share_under(lost.mm + off, lost.days, rate, differ) - _share_under(
            lost.mm - off, lost.days, rate, differ
        )
    for days, depth in lost.dry:
        likelihood *= 1 - _share_under(depth - READ_TO_MM / 2, days, rate, differ)
    return likelihood


def _share_under(mm: float, days: float, rate: float, differ: float) -> float:
    """The chance that no more was lost in some days: a gamma distribution by the cube root.

    Wilson & Hilferty 1931, Proc. Natl. Acad. Sci. 17:684-688.
    """
    if mm <= 0:
        return 0.0
    shape = days / differ**2
    root = math.cbrt(mm / (rate * days))
    normal = 3 * math.sqrt(shape) * (root - 1 + 1 / (9 * shape))
    return 0.5 * (1 + math.erf(normal / math.sqrt(2)))


def _at_share(logs: list[float], sums: list[float], share: float) -> float:
    """Where so much of the whole lies below, between two steps of the grid."""
    wanted = share * sums[-1]
    after = min(max(1, bisect_left(sums, wanted)), len(sums) - 1)
    part = (wanted - sums[after - 1]) / max(sums[after] - sums[after - 1], 1e-300)
    return math.exp(logs[after - 1] + min(1.0, max(0.0, part)) * (logs[after] - logs[after - 1]))


def days_until(*, depth_mm: float, low_mm: float, loss_mm_a_day: float) -> float | None:
    """How many days until a moat of that depth is at its low mark; 0 where it is; None where it
    loses nothing.

    Args:
        depth_mm, low_mm: 0 to 500.
        loss_mm_a_day: 0 to 100.
    """
    within("depth", depth_mm, 0, 500, "mm")
    within("low mark", low_mm, 0, 500, "mm")
    within("loss", loss_mm_a_day, 0, 100, "mm a day")
    if depth_mm <= low_mm:
        return 0.0
    return None if loss_mm_a_day == 0 else (depth_mm - low_mm) / loss_mm_a_day


# deviates that stand for the error of the loss, and for that of the water above the mark [mm], with
# their weights: both depths are read to the millimetre, each off by up to half of one
_OF_LOSS = [(value, math.exp(-value * value / 2)) for value in (-2.4, -1.2, 0.0, 1.2, 2.4)]
_OF_WATER = [(-2 / 3 * READ_TO_MM, 2 / 9), (0.0, 5 / 9), (2 / 3 * READ_TO_MM, 2 / 9)]


@lru_cache(maxsize=256)  # asked for at each look ahead, and seldom changed
def limits_until(*, depth_mm: float, low_mm: float, loss: Loss) -> tuple[float, float] | None:
    """Between how many days a moat of that depth will be at its mark, in 95 of 100 moats; None
    where it loses nothing.

    A prediction: the loss lies between its limits (log-normal on either side), the days to come
    differ as ``days_differ`` says (the gamma process of ``loss_from_readings``), and both depths
    are read to the millimetre. The chance to be at the mark within t days is that of losing as much
    as the water above it.

    Args:
        depth_mm, low_mm: 0 to 500.
    """
    middle = days_until(depth_mm=depth_mm, low_mm=low_mm, loss_mm_a_day=min(loss.mm_a_day, 100))
    if middle is None or middle == 0:
        return None if middle is None else (0.0, 0.0)
    shorter, longer = math.log(loss.mm_a_day / loss.low), math.log(loss.high / loss.mm_a_day)
    cases = [
        (
            depth_mm - low_mm + off,
            loss.mm_a_day * math.exp(value * (longer if value > 0 else shorter) / 1.96),
            of_loss * of_water,
        )
        for value, of_loss in _OF_LOSS
        for off, of_water in _OF_WATER
    ]
    whole = sum(weight for _, _, weight in cases)

    def reached(days: float) -> float:
        return sum(
            weight * (1 - _share_under(mm, days, rate, loss.days_differ))
            for mm, rate, weight in cases
        )

    def days_at(share: float) -> float:
        least, most = math.log(middle) - 8, math.log(middle) + 8
        for _ in range(30):
            half = (least + most) / 2
            least, most = (
                (least, half) if reached(math.exp(half)) >= share * whole else (half, most)
            )
        return math.exp(most)

    return min(middle, days_at(0.025)), max(middle, days_at(0.975))
