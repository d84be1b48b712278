"""Development against temperature: the lower threshold and the thermal constant from durations, and
back."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from rounds.biology.distributions import student_t_quantile
from rounds.limits import within


class ThermalFit(Struct, frozen=True):
    """A lower threshold [C] and thermal constant [C day] with standard errors; None where points
    are too few."""

    lower_c: float
    constant_dd: float
    se_lower_c: float | None
    se_constant_dd: float | None
    r_squared: float
    points: int

    @property
    def limits_lower_c(self) -> tuple[float, float] | None:
        """95 % limits of the threshold [C], by Student's t; None where points are too few."""
        return self._limits(self.lower_c, self.se_lower_c)

    @property
    def limits_constant_dd(self) -> tuple[float, float] | None:
        """95 % limits of the constant [C day], by Student's t; None where points are too few."""
        return self._limits(self.constant_dd, self.se_constant_dd)

    def _limits(self, value: float, se: float | None) -> tuple[float, float] | None:
        if se is None:
            return None
        t = student_t_quantile(0.975, self.points - 2)
        return value - t * se, value + t * se


def _checked(points: Sequence[tuple[float, float]]) -> None:
    if len({temperature for temperature, _ in points}) < 2:
        raise ValueError(
            "durations at one temperature only; a threshold needs two or more different"
            " temperatures"
        )
    for temperature, days in points:
        within("temperature", temperature, -20, 50, "C")
        within("duration", days, 1e-3, 5000, "days")


def x_intercept_fit(points: Sequence[tuple[float, float]]) -> ThermalFit:
    """Threshold and constant by a straight line through rates: 1/D = a + b T, T0 = -a/b, K = 1/b.

    Source: Campbell, Frazer, Gilbert, Gutierrez & Mackauer 1974, J. Appl. Ecol. 11:431-438,
        standard errors there
    (the same as the delta method with the covariance of a and b).

    Args:
        points: (temperature C, duration days).

    Raises:
        ValueError: one temperature only, or no rise of rate with temperature.
    """
    _checked(points)
    number = len(points)
    xs = [temperature for temperature, _ in points]
    rates = [1 / days for _, days in points]
    mean_x, mean_r = sum(xs) / number, sum(rates) / number
    sxx = sum((x - mean_x) ** 2 for x in xs)
    slope = sum((x - mean_x) * (rate - mean_r) for x, rate in zip(xs, rates, strict=True)) / sxx
    if slope <= 0:
        raise ValueError(
            "development is no faster where it is warmer; give durations from the range where it is"
        )
    intercept = mean_r - slope * mean_x
    residual = sum((rate - intercept - slope * x) ** 2 for x, rate in zip(xs, rates, strict=True))
    total = sum((rate - mean_r) ** 2 for rate in rates)
    lower, constant = -intercept / slope, 1 / slope
    if number < 3:
        return ThermalFit(lower, constant, None, None, 1.0, number)
    variance = residual / (number - 2)
    se_slope = math.sqrt(variance / sxx)
    se_lower = mean_r / slope * math.sqrt(variance / (number * mean_r**2) + (se_slope / slope) ** 2)
    return ThermalFit(
        lower,
        constant,
        se_lower,
        se_slope / slope**2,
        1 - residual / total,
        number,
    )


def ikemoto_takai_fit(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Threshold [C] and constant [C day] by the reduced major axis of D T against D: D T = K + T0
    D.

    Source: Ikemoto & Takai 2000, Environ. Entomol. 29:671-682.
    """
    _checked(points)
    number = len(points)
    xs = [days for _, days in points]
    ys = [days * temperature for temperature, days in points]
    mean_x, mean_y = sum(xs) / number, sum(ys) / number
    sxx = sum((x - mean_x) ** 2 for x in xs)
    syy = sum((y - mean_y) ** 2 for y in ys)
    sxy = sum((x - mean_x) * (y - mean_y) for x, y in zip(xs, ys, strict=True))
    if sxx == 0:
        raise ValueError("all durations are equal; a threshold needs durations that differ")
    lower = math.copysign(math.sqrt(syy / sxx), sxy)
    return lower, mean_y - lower * mean_x


def days_at(*, temperature_c: float, lower_c: float, constant_dd: float) -> float | None:
    """How long a stage takes at a constant temperature [days]: K / (T - T0); None at or under the
    threshold.

    Source: the linear model with a thermal constant, as Ikemoto & Takai 2000, Environ. Entomol.
        29:671-682, eq. 1.
    Holds in the middle range of temperatures only, roughly 15 to 30 C, and not for resting stages.
    """
    within("temperature", temperature_c, -20, 50, "C")
    within("lower threshold", lower_c, -20, 40, "C")
    within("thermal constant", constant_dd, 1e-3, 20_000, "degree-days")
    return None if temperature_c <= lower_c else constant_dd / (temperature_c - lower_c)
