"""A thousand forecasts over a sixty-day hourly trace.

Run: python -m tests.benchmarks.bench_forecast
"""

from __future__ import annotations

import math

from rounds.biology.degree_days import Thresholds, integral_over_readings
from rounds.biology.forecast import forecast, trace_of
from tests.benchmarks.measure import heading, paired, row, seconds


def hourly(days: int) -> list[tuple[float, float]]:
    """A made-up trace: days and nights, and a slow wave of weather."""
    return [
        (hour / 24, 18 + 6 * math.sin(hour / 24 * 2 * math.pi) + 4 * math.sin(hour / 170))
        for hour in range(days * 24)
    ]


def main() -> None:
    """Print how long it takes, and against a thousand plain integrals of the same trace."""
    readings = hourly(60)

    def thousand() -> None:
        trace = trace_of(readings, above=Thresholds(9.6))
        for number in range(1_000):
            forecast(
                trace,
                begun_from=number / 50,
                begun_to=number / 50 + 0.5,
                constant_dd=82.6,
                number=40,
            )

    print(heading())
    whole = min(seconds(thousand) for _ in range(5))
    print(f"   1,000 forecasts of a 60-day hourly trace: {whole * 1000:.0f} ms (target 1,000)")
    ratios = paired(
        thousand, lambda: [integral_over_readings(readings, lower_c=9.6) for _ in range(10)], 5
    )
    print(row("1,000 forecasts, against ten plain integrals of the trace", ratios, ""))


if __name__ == "__main__":
    main()
