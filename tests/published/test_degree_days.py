"""Degree-days. The source of each row stands beside it in values/degree_days.json."""

from __future__ import annotations

from datetime import date

import pytest

from rounds.biology import degree_days as dd
from tests.published.rows import Row, row, rows

METHODS = {"sine": dd.single_sine_1969, "triangle": dd.single_triangle_1977}
SEATTLE = {"ddyear", "ddcross"}


@pytest.mark.parametrize(
    "check", [one for one in rows("degree_days", "dd") if one.values[0]["id"][2].isdigit()]
)
def test_each_way_in_which_a_day_lies_across_two_thresholds(check: Row) -> None:
    given, expected = check["inputs"], check["expected"]
    day = {"low_c": given["Tmin"], "high_c": given["Tmax"], "lower_c": given["L"]}

    for name, method in METHODS.items():
        for cutoff in ("none", "horizontal", "vertical"):
            found = method(**day, upper_c=given["U"], cutoff=cutoff)  # type: ignore[arg-type]
            assert found == pytest.approx(expected[f"{name}_{cutoff}"], abs=1e-6), (name, cutoff)
    assert dd.simple_average(**day) == pytest.approx(expected["simple_average"], abs=1e-6)
    assert dd.clipped_average(**day, upper_c=given["U"]) == pytest.approx(
        expected["clipped_average"], abs=1e-6
    )


@pytest.mark.parametrize("check", rows("degree_days", "ddq"))
def test_the_quarter_rule_of_meteorological_services(check: Row) -> None:
    given = check["inputs"]

    found = dd.quarter_rule(low_c=given["Tmin"], high_c=given["Tmax"], lower_c=given["base"])

    assert found == pytest.approx(check["expected"], abs=1e-9)


def seattle(year: int) -> list[tuple[date, float, float]]:
    """Daily extremes of a year from the open data set seattle-weather (vega_datasets, NOAA)."""
    from vega_datasets import local_data

    frame = local_data.seattle_weather()
    return [
        (day.date(), low, high)
        for day, low, high in zip(frame["date"], frame["temp_min"], frame["temp_max"], strict=True)
        if day.year == year
    ]


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("check", rows("degree_days", "ddyear"))
def test_a_year_of_open_data(check: Row) -> None:
    days = seattle(check["inputs"]["year"])
    assert len(days) == check["inputs"]["days"]
    sums = {
        "sine_none": sum(
            dd.single_sine_1969(low_c=low, high_c=high, lower_c=10) for _, low, high in days
        ),
        "sine_horizontal": sum(
            dd.single_sine_1969(low_c=low, high_c=high, lower_c=10, upper_c=30)
            for _, low, high in days
        ),
        "sine_vertical": sum(
            dd.single_sine_1969(low_c=low, high_c=high, lower_c=10, upper_c=30, cutoff="vertical")
            for _, low, high in days
        ),
        "triangle_none": sum(
            dd.single_triangle_1977(low_c=low, high_c=high, lower_c=10) for _, low, high in days
        ),
        "simple_average": sum(
            dd.simple_average(low_c=low, high_c=high, lower_c=10) for _, low, high in days
        ),
    }

    for name, value in check["expected"].items():
        assert sums[name] == pytest.approx(value, abs=1e-3), name


@pytest.mark.filterwarnings("ignore")
def test_the_days_on_which_sums_are_reached() -> None:
    expected = row("degree_days", "ddcross2012")["expected"]
    total = 0.0
    reached: dict[str, str] = {}
    at_351 = 0.0
    for day, low, high in seattle(2012):
        total += dd.single_sine_1969(low_c=low, high_c=high, lower_c=10)
        for goal in (50, 100, 351, 500):
            if total >= goal and f"first_day_ge_{goal}" not in reached:
                reached[f"first_day_ge_{goal}"] = day.isoformat()
                at_351 = total if goal == 351 else at_351

    assert reached == {name: value for name, value in expected.items() if name.startswith("first")}
    assert at_351 == pytest.approx(expected["cum_at_351"], abs=1e-5)
