"""The loss of a moat from depth readings, against scipy's gamma distribution and in simulation."""

from __future__ import annotations

import random

import numpy
import pytest
from scipy import stats

from rounds.surroundings import moat

SHARES = (0.5, 0.025, 0.975)
NEAR = (
    0.04  # the cube root (Wilson & Hilferty 1931) is that near to a gamma distribution of few days
)


def by_scipy(
    mm: float, days: float, runs: int = 1, dry: tuple[tuple[float, float], ...] = ()
) -> tuple[float, float, float]:
    """A gamma process seen to the millimetre, on a fine grid: scipy's gamma and log-normal distributions."""
    grid = numpy.exp(numpy.linspace(numpy.log(0.02), numpy.log(100), 4_000))
    likely = numpy.zeros_like(grid)
    for differ in moat.DAYS_DIFFER:
        v, off = differ**2, (runs / 2) ** 0.5
        one = numpy.ones_like(grid)
        if runs:
            lost = stats.gamma(days / v, scale=grid * v)
            one *= lost.cdf(mm + off) - lost.cdf(max(0.0, mm - off))
        for since, depth in dry:
            one *= stats.gamma(since / v, scale=grid * v).sf(depth - 0.5)
        likely += one
    likely *= stats.norm(numpy.log(3), moat.USUAL_VARIES).pdf(numpy.log(grid))
    below = numpy.cumsum(likely) / likely.sum()
    return tuple(float(numpy.interp(share, below, grid)) for share in SHARES)  # type: ignore[return-value]


def told(
    readings: list[tuple[float, float]], filled: tuple[float, ...] = ()
) -> tuple[float, float, float]:
    found = moat.loss_from_readings(readings, filled)
    assert found is not None
    assert (found.rests_on, found.readings) == ("own readings", len(readings))
    return found.mm_a_day, found.low, found.high


def test_what_was_lost_over_the_time_is_gamma_distributed() -> None:
    chance = random.Random(1379)
    for _ in range(25):
        days = [0.5 * turn + chance.uniform(0, 0.09) for turn in range(chance.randint(3, 9))]
        depths = [60 - 3 * day + chance.uniform(-0.2, 0.2) for day in days]
        assert told(list(zip(days, depths, strict=True))) == pytest.approx(
            by_scipy(depths[0] - depths[-1], days[-1] - days[0]), rel=NEAR
        )


def test_a_topping_up_begins_anew() -> None:
    """By hand: 20 to 17 in a day is 3; after the topping-up 30 to 26 in a day is 4; none across."""
    assert told([(0, 20), (1, 17), (1.1, 30), (2.1, 26)]) == pytest.approx(
        by_scipy(7, 2, 2), rel=NEAR
    )


def test_a_topping_up_whose_depth_was_not_read_begins_anew() -> None:
    """By hand: 3 mm in a day before it and 4 in a day after it, not 2 mm in three."""
    assert told([(0, 20), (1, 17), (2, 22), (3, 18)], (1.5,)) == pytest.approx(
        by_scipy(7, 2, 2), rel=NEAR
    )
    assert told([(0, 20), (1, 17), (2, 17), (3, 13)], (1.5,)) == pytest.approx(
        by_scipy(7, 2, 2), rel=NEAR
    )


def test_a_rise_within_half_a_millimetre_is_a_reading_error() -> None:
    """By hand: 2 mm lost in 2 days."""
    assert told([(0, 20.0), (1, 20.4), (2, 18.0)]) == pytest.approx(by_scipy(2, 2), rel=NEAR)


def test_a_moat_that_reads_dry_was_dry_by_then() -> None:
    """By hand: 5 mm lost in a day; then 15 or more within four, nobody knows when; dry days tell no more."""
    dried = told([(0, 20), (1, 15), (5, 0)])
    assert dried == pytest.approx(by_scipy(5, 1, dry=((4, 15),)), rel=NEAR)
    assert told([(0, 20), (1, 15), (5, 0), (6, 0), (20, 0)]) == pytest.approx(dried, rel=1e-9)
    assert told([(0, 20), (2, 0)]) == pytest.approx(by_scipy(0, 0, 0, ((2, 20),)), rel=NEAR)
    again = told([(0, 20), (1, 15), (5, 0), (6, 20), (7, 15)])
    assert again == pytest.approx(by_scipy(10, 2, 2, ((4, 15),)), rel=NEAR)


def a_moat(chance: random.Random, readings: int, differ: float) -> tuple[float, list]:
    """A simulated moat read to the millimetre, filled up when it is low or found dry."""
    rate, depth, day = float(numpy.exp(chance.uniform(-0.9, 2.1))), chance.uniform(18, 30), 0.0
    apart, read = chance.choice((0.5, 1.0)), []
    for _ in range(readings):
        read.append((day, float(max(0, round(depth)))))
        if depth < 5 and len(read) < readings:
            depth = chance.uniform(18, 30)
            read.append((day, float(round(depth))))
        depth -= max(0.0, chance.gauss(rate, differ * rate / apart**0.5)) * apart
        day += apart
    return rate, read


@pytest.mark.parametrize("readings", [2, 3, 5, 10])
@pytest.mark.parametrize("differ", [0.0, 0.3, 0.4])
def test_limits_hold_the_loss_in_95_of_100_moats(readings: int, differ: float) -> None:
    """Simulated: a loss of 0.4 to 8 mm a day that differs by none, three, or four tenths from day to day."""
    chance = random.Random(100 * readings + int(10 * differ))
    slower = faster = 0
    for _ in range(400):
        rate, read = a_moat(chance, readings, differ)
        found = moat.loss_from_readings(read)
        assert found is not None
        slower, faster = slower + (rate < found.low), faster + (rate > found.high)
    assert slower + faster <= 0.05 * 400
    assert faster <= slower + 0.025 * 400  # not mostly where it dries sooner than told


def days_to_the_mark(chance: random.Random, water: float, rate: float, differ: float) -> float:
    """How long so much water lasts where each day loses otherwise, evenly within it."""
    day = 0.0
    while True:
        lost = max(0.0, chance.gauss(rate, differ * rate))
        if lost >= water:
            return day + water / lost
        water, day = water - lost, day + 1


@pytest.mark.parametrize("readings", [2, 3, 8])
@pytest.mark.parametrize("differ", [0.0, 0.15, 0.3])
def test_limits_hold_the_day_when_it_is_low_in_95_of_100_moats(
    readings: int, differ: float
) -> None:
    """Simulated: read once a day, the last 1 to 3 mm above the mark, a loss of 0.8 to 4 mm a day."""
    chance, moats = random.Random(100 * readings + int(100 * differ)), 400
    sooner = later = 0
    for _ in range(moats):
        now = 0.0
        while round(now) <= 8:
            rate, water = chance.uniform(0.8, 4), chance.uniform(1, 3)
            depths = [now := 8 + water]
            for _ in range(readings - 1):
                depths.append(depths[-1] + max(0.0, chance.gauss(rate, differ * rate)))
        read = [(float(day), float(round(depth))) for day, depth in enumerate(reversed(depths))]
        loss = moat.loss_from_readings(read)
        assert loss is not None
        limits = moat.limits_until(depth_mm=read[-1][1], low_mm=8, loss=loss)
        assert limits is not None
        so = days_to_the_mark(chance, water, rate, differ)
        sooner, later = sooner + (so < limits[0]), later + (so > limits[1])
    assert sooner <= 0.03 * moats
    assert sooner + later <= 0.05 * moats


def test_more_readings_and_even_days_narrow_the_limits() -> None:
    few, many = (
        moat.loss_from_readings([(day, 20.0 - 2 * day) for day in range(count)]) for count in (2, 6)
    )
    assert few is not None
    assert many is not None
    widths = []
    for loss in (few, many):
        limits = moat.limits_until(depth_mm=16, low_mm=8, loss=loss)
        assert limits is not None
        assert limits[0] < 8 / loss.mm_a_day < limits[1]
        widths.append(limits[1] - limits[0])
    assert widths[1] < 0.6 * widths[0]
    assert many.days_differ < few.days_differ < moat.USUALLY_DIFFER
    uneven = moat.loss_from_readings([(0, 20), (1, 20), (2, 14), (3, 13), (4, 9)])
    assert uneven is not None
    assert uneven.days_differ > 0.5


def test_at_its_mark_or_without_loss_there_is_nothing_to_predict() -> None:
    usual = moat.Loss(3, 1.5, 6, "assumed")
    assert moat.limits_until(depth_mm=8, low_mm=8, loss=usual) == (0, 0)
    none = moat.Loss(0, 0, 0, "temperature and humidity")
    assert moat.limits_until(depth_mm=20, low_mm=8, loss=none) is None


def test_readings_too_near_each_other_tell_nothing() -> None:
    assert moat.loss_from_readings([(0, 20), (0.19, 19)]) is None
    assert moat.loss_from_readings([(0, 20), (0.2, 19)]) is not None
    assert moat.loss_from_readings([]) is None


def test_two_equal_readings_do_not_mean_never() -> None:
    assert told([(0, 20), (1, 20)]) == pytest.approx(by_scipy(0, 1), rel=NEAR)
    assert told([(0, 20), (1, 20)])[2] > 1  # half a millimetre may have gone unseen at either end
    assert told([(0, 20), (1, 20.3)]) == told([(0, 20), (1, 20)])


def test_still_air_is_no_wind() -> None:
    still = moat.open_water_loss_mm_a_day(temperature_c=20, humidity_percent=50)

    assert still == moat.open_water_loss_mm_a_day(temperature_c=20, humidity_percent=50, wind_m_s=0)
    assert moat.loss_from_air(temperature_c=20, humidity_percent=50) == moat.Loss(
        still, pytest.approx(0.6 * still), pytest.approx(1.4 * still), "temperature and humidity"
    )


def test_at_its_mark_it_is_low_now() -> None:
    assert moat.days_until(depth_mm=8, low_mm=8, loss_mm_a_day=3) == 0
    assert moat.days_until(depth_mm=8, low_mm=8, loss_mm_a_day=0) == 0
    assert moat.days_until(depth_mm=20, low_mm=8, loss_mm_a_day=3) == 4
    assert moat.days_until(depth_mm=20, low_mm=8, loss_mm_a_day=0) is None
