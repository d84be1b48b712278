"""When a stage will end: first, half and last of n, from thermal constants and a temperature trace.

Nothing here is random: spread is carried by quantiles and a fixed grid, so that the same input
gives the same output to the last digit.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import pairwise
from math import exp, hypot, sqrt

from msgspec import Struct
from msgspec.structs import replace

from rounds.biology.degree_days import Gap, Thresholds, far_apart, in_order
from rounds.biology.distributions import normal_quantile
from rounds.limits import within

MAX_DAYS_AHEAD = 400.0
HOLD_MEAN_OF_DAYS = 3.0  # the last days' mean day continues the trace; our estimate
DAYS_BACK = 14  # whole days by which it is told how much one differs from another; our choice
DAYS_DIFFER_C, DAYS_WEIGH = 1.0, 2.0  # usual difference, and days it counts for; our estimate
# Who was late to begin a stage is slow in it too: the correlation of the two, between none and
# all; our estimate, no source.
PACE_LASTS = 0.5
COARSE_STEP_DAYS = 1.0
WEATHER_STEPS = 2  # the days ahead of a bound are those up to it; further steps move it by hours
SURE = 0.95  # that the first comes not before its bound


class HeatTrace(Struct, frozen=True):
    """Heat gathered over a temperature trace above one threshold: times [days] and degree-days
    gathered by then.

    ``varies`` is how far the mean of the days ahead may be off from ``rate_ahead``, as a standard
    deviation [C day a day]. Days are like those before them, so that it is about as much as one day
    differs from another, however many are ahead: of days that correlate by 0.6 to 0.8, the mean of
    2 to 22 lies 0.8 to 0.9 of that off the mean of the three before.
    """

    times: tuple[float, ...]
    gathered: tuple[float, ...]
    rate_ahead: float
    gaps: tuple[Gap, ...]
    varies: float = 0.0

    def heat_at(self, day: float) -> float:
        """Degree-days gathered by a time; before the trace and after it at its steady rate."""
        if day <= self.times[0]:
            return (day - self.times[0]) * self.rate_ahead
        if day >= self.times[-1]:
            return self.gathered[-1] + (day - self.times[-1]) * self.rate_ahead
        position = bisect_right(self.times, day)
        start, end = self.times[position - 1], self.times[position]
        low, high = self.gathered[position - 1], self.gathered[position]
        return low + (high - low) * (day - start) / (end - start)

    def day_of(self, heat: float) -> float | None:
        """When so many degree-days are gathered; None where that never comes."""
        if heat <= self.gathered[0]:
            return (
                self.times[0] + (heat - self.gathered[0]) / self.rate_ahead
                if self.rate_ahead > 0
                else self.times[0]
            )
        if heat > self.gathered[-1]:
            if self.rate_ahead <= 0:
                return None
            ahead = (heat - self.gathered[-1]) / self.rate_ahead
            return self.times[-1] + ahead if ahead <= MAX_DAYS_AHEAD else None
        position = bisect_left(self.gathered, heat)
        low, high = self.gathered[position - 1], self.gathered[position]
        start, end = self.times[position - 1], self.times[position]
        return start + (end - start) * (heat - low) / (high - low) if high > low else start

    def ahead_varies(self, heat: float) -> float:
        """How far the heat gathered by when so much is expected may be off [C day]; nought up to
        the end of the trace."""
        ahead = heat - self.gathered[-1]
        return self.varies * ahead / self.rate_ahead if ahead > 0 and self.rate_ahead > 0 else 0.0

    def since(self, day: float) -> HeatTrace:
        """The same trace in which warmth counts from a day on: before it, back to two of the
        longest forecasts, animals rest."""
        at, later = self.heat_at(day), bisect_right(self.times, day)
        return replace(
            self,
            times=(day - 2 * MAX_DAYS_AHEAD, day, *self.times[later:]),
            gathered=(0.0, 0.0, *(heat - at for heat in self.gathered[later:])),
        )


def trace_of(
    readings: Sequence[tuple[float, float]],
    *,
    above: Thresholds,
    longest_gap_days: float = 0.5,
) -> HeatTrace:
    """A trace from readings (time in days, temperature in C), with straight lines between them.

    Over a gap the mean rate of the rest is used, and the gap is told; where all readings lie so far
    apart, the lines between them are all there is. It goes on at the rate of its last days.

    Raises:
        ValueError: fewer than two readings.
    """
    known = in_order(readings)
    if len(known) < 2:
        raise ValueError(f"{len(known)} reading; a trace needs two or more at different times")
    rates = [above.heat(first, second) for (_, first), (_, second) in pairwise(known)]
    spans = [end - start for (start, _), (end, _) in pairwise(known)]
    holes = [far_apart(start, end, longest_gap_days) for (start, _), (end, _) in pairwise(known)]
    gaps = [
        Gap(start, end)
        for ((start, _), (end, _)), hole in zip(pairwise(known), holes, strict=True)
        if hole
    ]
    sure = [(rate, span) for rate, span, hole in zip(rates, spans, holes, strict=True) if not hole]
    rest = sure or list(zip(rates, spans, strict=True))
    mean = sum(rate * span for rate, span in rest) / sum(span for _, span in rest)
    gathered = [0.0]
    for rate, span, hole in zip(rates, spans, holes, strict=True):
        gathered.append(gathered[-1] + (mean if sure and hole else rate) * span)
    times = tuple(day for day, _ in known)
    found = HeatTrace(times, tuple(gathered), _last_rate(times, gathered, mean), tuple(gaps))
    return replace(found, varies=_days_differ(found))


def _days_differ(trace: HeatTrace) -> float:
    """The standard deviation of the heat of the last whole days, the usual one counting for some
    days beside them [C day a day]."""
    end, whole = trace.times[-1], min(DAYS_BACK, int(trace.times[-1] - trace.times[0]))
    heat = [trace.heat_at(end - back) for back in range(whole + 1)]
    days = [later - earlier for later, earlier in pairwise(heat)]
    mean = sum(days) / len(days) if days else 0.0
    squares = DAYS_WEIGH * DAYS_DIFFER_C**2 + sum((day - mean) ** 2 for day in days)
    return sqrt(squares / (DAYS_WEIGH + max(0, len(days) - 1)))


def _last_rate(times: Sequence[float], gathered: Sequence[float], mean: float) -> float:
    """The mean rate of the last whole days, so that day and night weigh as they do."""
    whole = min(HOLD_MEAN_OF_DAYS, float(int(times[-1] - times[0])))
    if whole < 1:
        return mean
    start = times[-1] - whole
    position = bisect_right(times, start)
    low = gathered[position - 1] + (gathered[position] - gathered[position - 1]) * (
        start - times[position - 1]
    ) / (times[position] - times[position - 1])
    return (gathered[-1] - low) / whole


def steady_trace(*, temperature_c: float, above: Thresholds, start: float = 0.0) -> HeatTrace:
    """The trace of an assumed constant temperature."""
    within("temperature", temperature_c, -40, 60, "C")
    rate = above.heat(temperature_c, temperature_c)
    return HeatTrace((start, start + COARSE_STEP_DAYS), (0.0, rate), rate, ())


def joined(parts: Sequence[tuple[HeatTrace, float]], last: HeatTrace, *, start: float) -> HeatTrace:
    """The trace of animals that changed place: the heat of each place up to when they left it, then
    that of the last.

    Args:
        parts: (trace of a place, when they left it [days]), in that order; all above one threshold.
        start: from when on it matters [days], before the first leaving.
    """
    times, gathered = [start], [0.0]
    begun = start
    for trace, until in (*parts, (last, max(last.times[-1], parts[-1][1] if parts else start))):
        base, before = gathered[-1], trace.heat_at(begun)
        for day in (*(day for day in trace.times if begun < day < until), until):
            if day > times[-1]:
                times.append(day)
                gathered.append(base + trace.heat_at(day) - before)
        begun = max(begun, until)
    if len(times) < 2:
        times.append(start + COARSE_STEP_DAYS)
        gathered.append(last.rate_ahead * COARSE_STEP_DAYS)
    return replace(last, times=tuple(times), gathered=tuple(gathered))


class StageForecast(Struct, frozen=True):
    """When a stage ends [days on the trace's clock]; None where that never comes at these
    temperatures.

    ``low`` and ``high`` bound the time of one animal in nine of ten. ``first`` and
    ``last`` are when the first and the last of them are expected; the first comes after
    ``not_before`` in 95 of 100 and by ``first_by`` in as many, the last after ``last_after`` and
    by ``last_by``.
    """

    first: float | None
    half: float | None
    last: float | None
    low: float | None
    high: float | None
    not_before: float | None = None
    first_by: float | None = None
    last_after: float | None = None
    last_by: float | None = None


def forecast(
    trace: HeatTrace,
    *,
    begun_from: float,
    begun_to: float,
    constant_dd: float,
    spread: float = 0.10,
    uncertainty: float = 0.08,
    longer: float | None = None,
    number: int = 1,
) -> StageForecast:
    """When animals that began a stage between two times will end it.

    The heat that one animal needs is normal about the constant with the spread of individuals; when
    it began is even between the two times, and who began late takes longer (``PACE_LASTS``). The
    logarithm of the constant itself is uncertain, on the longer side perhaps by more (a split
    normal: Wallis 2014, Statist. Sci. 29:106-112, from memory), and so is the warmth of the days
    ahead (``HeatTrace.varies``); distances from the middle are added in squares. The first and the
    last of n are at Blom's plotting positions, 0.625 / (n + 0.25) (Blom 1958), of the individuals
    alone; half is the middle. The first of n comes after the quantile 1 - 0.95^(1/n) of individuals
    in 95 of 100, and after 1 - 0.05^(1/n) in 5; the last of n mirrors it.

    Args:
        begun_from, begun_to: the interval in which it began [days]: two searches.
        spread: standard deviation of individuals as a share of the constant, 0 to 1.
        uncertainty, longer: standard deviations of the constant's logarithm below and above it, 0
        to 2; the same without
            ``longer``.
        number: how many animals, 1 or more.

    Raises:
        ValueError: the interval ends before it begins, or out of range.
    """
    if begun_to < begun_from:
        raise ValueError(
            f"begun between {begun_from:g} and {begun_to:g}; the first must be the earlier"
        )
    within("thermal constant", constant_dd, 1e-3, 20_000, "degree-days")
    within("spread", spread, 0, 1)
    within("uncertainty", uncertainty, 0, 2)
    longer = within("uncertainty", uncertainty if longer is None else longer, 0, 2)
    within("number", number, 1, 1e6)
    start, end = trace.heat_at(begun_from), trace.heat_at(begun_to)
    own, begin = spread * constant_dd, (end - start) / 12**0.5
    together = sqrt(own * own + begin * begin + 2 * PACE_LASTS * own * begin)
    edge = normal_quantile(0.625 / (number + 0.25)) if number > 1 else 0.0
    sure = normal_quantile(SURE)
    mean = (start + end) / 2 + constant_dd

    def bound(deviate: float, individuals: float) -> float:
        """The heat that stands so many deviates off the middle, below nought on the shorter
        side."""
        side, constant = (-1.0, uncertainty) if deviate < 0 else (1.0, longer)
        off = hypot(individuals * together, constant_dd * (exp(deviate * constant) - 1))
        at = mean + side * off
        for _ in range(WEATHER_STEPS):
            at = mean + side * hypot(off, deviate * trace.ahead_varies(at))
        return at

    def when(heat: float) -> float | None:
        found = trace.day_of(heat)
        return None if found is None else max(found, begun_from)

    # between what the first of n lies in nine times in ten, in deviates off where it is expected
    early, late = (normal_quantile(1 - share ** (1 / number)) - edge for share in (SURE, 1 - SURE))
    first, last = edge * together, -edge * together
    return StageForecast(
        when(mean + first),
        when(mean),
        when(mean + last),
        when(bound(-sure, sure)),
        when(bound(sure, sure)),
        when(first + bound(-sure, early)),
        when(first + bound(sure, late)),
        when(last + bound(-sure, late)),
        when(last + bound(sure, early)),
    )
