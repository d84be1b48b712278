"""Distribution functions in plain Python: incomplete gamma and beta functions and their inverses.

Continued fractions and series after Abramowitz & Stegun 1964, 6.5.29, 6.5.31, 26.5.8; inverses by
Chandrupatla's method, which keeps the place between two others and so cannot go astray. Good to
about 1e-12 relative in the ranges used here.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache

_TINY = 1e-300
_EPSILON = 2.3e-16
_MAX_STEPS = 10_000


def regularised_gamma_lower(shape: float, x: float) -> float:
    """P(shape, x), the share of a gamma distribution below x.

    A&S 6.5.29 (series) and 6.5.31 (fraction).
    """
    if x <= 0:
        return 0.0
    if x < shape + 1:
        term = total = 1 / shape
        step = shape
        for _ in range(_MAX_STEPS):
            step += 1
            term *= x / step
            total += term
            if term < total * 1e-17:
                break
        return total * math.exp(-x + shape * math.log(x) - math.lgamma(shape))
    return 1 - _gamma_upper_fraction(shape, x)


def regularised_gamma_upper(shape: float, x: float) -> float:
    """Q(shape, x) = 1 - P, without loss where it is small."""
    if x <= 0:
        return 1.0
    return (
        1 - regularised_gamma_lower(shape, x) if x < shape + 1 else _gamma_upper_fraction(shape, x)
    )


def _gamma_upper_fraction(shape: float, x: float) -> float:
    b = x + 1 - shape
    c = 1 / _TINY
    d = 1 / b
    h = d
    for i in range(1, _MAX_STEPS):
        an = -i * (i - shape)
        b += 2
        d = 1 / (_nonzero(an * d + b))
        c = _nonzero(b + an / c)
        delta = d * c
        h *= delta
        if abs(delta - 1) < 1e-16:
            break
    return h * math.exp(-x + shape * math.log(x) - math.lgamma(shape))


def _nonzero(value: float) -> float:
    return value if abs(value) > _TINY else _TINY


def regularised_beta(a: float, b: float, x: float) -> float:
    """I_x(a, b), the share of a beta distribution below x.

    A&S 26.5.8, by Lentz's method.
    """
    if x <= 0:
        return 0.0
    if x >= 1:
        return 1.0
    front = math.exp(
        math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x)
    )
    if x < (a + 1) / (a + b + 2):
        return front * _beta_fraction(a, b, x) / a
    return 1 - front * _beta_fraction(b, a, 1 - x) / b


def _beta_fraction(a: float, b: float, x: float) -> float:
    c = 1.0
    d = 1 / _nonzero(1 - (a + b) * x / (a + 1))
    h = d
    for m in range(1, _MAX_STEPS):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        d = 1 / _nonzero(1 + even * d)
        c = _nonzero(1 + even / c)
        h *= d * c
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        d = 1 / _nonzero(1 + odd * d)
        c = _nonzero(1 + odd / c)
        delta = d * c
        h *= delta
        if abs(delta - 1) < 1e-16:
            break
    return h


def _inverse(share: Callable[[float], float], p: float, low: float, high: float) -> float:
    """Where a share that grows is p: Chandrupatla 1997, which takes a parabola through the last
    three places where that is safe, and else halves."""
    near, far = high, low
    off, off_far = share(near) - p, share(far) - p
    part = 0.5
    for _ in range(200):
        place = near + part * (far - near)
        found = share(place) - p
        if (found > 0) == (off > 0):
            third, off_third = near, off
        else:
            third, off_third, far, off_far = far, off_far, near, off
        near, off = place, found
        best = near if abs(off) < abs(off_far) else far
        least = _EPSILON * abs(best) / abs(far - near) if far != near else 1.0
        if least > 0.5 or off == 0:
            return best
        along, across = (near - far) / (third - far), (off - off_far) / (off_third - off_far)
        part = 0.5
        if across**2 < along and (1 - across) ** 2 < 1 - along:
            part = off / (off_far - off) * off_third / (off_far - off_third) + (third - near) / (
                far - near
            ) * off / (off_third - off) * off_far / (off_third - off_far)
        part = min(1 - least, max(least, part))
    return best


def gamma_quantile(p: float, shape: float) -> float:
    """Where a gamma distribution of that shape and scale 1 has the share p [0 to 1) below."""
    if p <= 0:
        return 0.0
    high = shape + 10 * math.sqrt(shape) + 50
    while regularised_gamma_lower(shape, high) < p:
        high *= 2
    return _inverse(lambda x: regularised_gamma_lower(shape, x), p, 0.0, high)


def beta_quantile(p: float, a: float, b: float) -> float:
    """Where a beta distribution has the share p below."""
    if p <= 0:
        return 0.0
    if p >= 1:
        return 1.0
    return _inverse(lambda x: regularised_beta(a, b, x), p, 0.0, 1.0)


def chi_square_survival(x: float, df: float) -> float:
    """The chance of a chi-square of at least x."""
    return regularised_gamma_upper(df / 2, x / 2)


@lru_cache(1024)
def normal_quantile(p: float) -> float:
    """Where the standard normal has the share p below: Hastings' approximation (A&S 26.2.23), which
    Halley's steps better to the last digits.

    ``statistics`` has it too, but takes longer to load than all that is foretold at a start.

    Raises:
        ValueError: not above 0 and below 1.
    """
    tail = min(p, 1 - p)
    if tail < 1e-300:
        raise ValueError(f"a share of {p:g} has no quantile; it must be between 0 and 1")
    t = math.sqrt(-2 * math.log(tail))
    upper = ((0.010328 * t + 0.802853) * t + 2.515517) / (
        ((0.001308 * t + 0.189269) * t + 1.432788) * t + 1
    )
    x = t - upper
    for _ in range(3):
        off = (normal_share(-x) - tail) * math.sqrt(2 * math.pi) * math.exp(x * x / 2)
        x += off / (1 - x * off / 2)
    return x if p > 0.5 else -x


def normal_share(p: float) -> float:
    """The share of the standard normal below a value."""
    return 0.5 * math.erfc(-p / math.sqrt(2))


def student_t_quantile(p: float, df: float) -> float:
    """Where Student's t of that many degrees of freedom has the share p below, by the beta function
    (A&S 26.7.1)."""
    if p == 0.5:
        return 0.0
    x = beta_quantile(2 * min(p, 1 - p), df / 2, 0.5)
    value = math.sqrt(df * (1 - x) / x) if x > 0 else math.inf
    return value if p > 0.5 else -value


def binomial_chance(k: int, n: int, p: float) -> float:
    """The chance of exactly k of n."""
    if p <= 0 or p >= 1:
        return float(k == (0 if p <= 0 else n))
    return math.exp(
        math.lgamma(n + 1)
        - math.lgamma(k + 1)
        - math.lgamma(n - k + 1)
        + k * math.log(p)
        + (n - k) * math.log1p(-p)
    )
