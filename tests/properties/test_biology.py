"""What must hold of the calculations whatever the numbers: symmetries, limits, monotony, refusals."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from rounds.biology import (
    choice,
    degree_days,
    development,
    distributions,
    forecast,
    hidden_eggs,
    increase,
    kinship,
    laying,
    life_table,
    proportions,
    survival,
    thermal_constants,
    thermal_time,
)
from rounds.biology.degree_days import Thresholds

quick = settings(max_examples=120, deadline=None)
temperatures = st.floats(-15, 42)
shares = st.floats(0, 1)


@given(temperatures, st.floats(0, 20), st.floats(0, 20), st.floats(0.5, 20), st.floats(-5, 5))
@quick
def test_a_shift_of_temperature_and_thresholds_changes_nothing(
    low: float, swing: float, lower: float, width: float, by: float
) -> None:
    # a day that just reaches the upper threshold: a vertical cutoff leaps there, by a rounding
    assume(min(abs(low - lower - width), abs(low + swing - lower - width)) > 1e-9)
    for method in (degree_days.single_sine_1969, degree_days.single_triangle_1977):
        for cutoff in degree_days.CUTOFFS:
            here = method(
                low_c=low, high_c=low + swing, lower_c=lower, upper_c=lower + width, cutoff=cutoff
            )
            there = method(
                low_c=low + by,
                high_c=low + swing + by,
                lower_c=lower + by,
                upper_c=lower + width + by,
                cutoff=cutoff,
            )
            assert here == pytest.approx(there, abs=1e-6)


@given(temperatures, st.floats(0, 20), st.floats(0, 20), st.floats(0.5, 20), st.floats(0, 8))
@quick
def test_cutoffs_stand_in_order_and_warmer_is_never_less(
    low: float, swing: float, lower: float, width: float, warmer: float
) -> None:
    for method in (degree_days.single_sine_1969, degree_days.single_triangle_1977):
        none, horizontal, intermediate, vertical = (
            method(low_c=low, high_c=low + swing, lower_c=lower, upper_c=lower + width, cutoff=one)
            for one in ("none", "horizontal", "intermediate", "vertical")
        )
        assert none >= horizontal - 1e-9
        assert horizontal >= intermediate - 1e-9
        assert horizontal >= vertical - 1e-9
        assert vertical >= -1e-9
        assert method(low_c=low + warmer, high_c=low + swing + warmer, lower_c=lower) >= none - 1e-9


@given(
    st.lists(st.tuples(st.floats(0, 4), st.floats(-5, 40)), min_size=2, max_size=12),
    st.randoms(use_true_random=False),
)
@quick
def test_readings_may_come_in_any_order_and_twice(
    readings: list[tuple[float, float]], chance: Any
) -> None:
    assume(len({day for day, _ in readings}) > 1)
    shuffled = (
        readings + readings[:3]
        if len({d for d, _ in readings[:3]}) == len(readings[:3])
        else list(readings)
    )
    known = degree_days.in_order(readings)
    chance.shuffle(shuffled)
    if len({day for day, _ in readings}) == len(readings):
        assert [day for day, _ in degree_days.in_order(shuffled)] == [day for day, _ in known]
    found = degree_days.integral_over_readings(readings, lower_c=10, longest_gap_days=1)
    span = known[-1][0] - known[0][0]
    assert found.days + sum(gap.end - gap.start for gap in found.gaps) == pytest.approx(
        span, abs=1e-9
    )
    assert found.degree_days >= 0


@given(st.integers(0, 300), st.floats(0.1, 500))
@quick
def test_limits_hold_the_rate_and_narrow_with_exposure(eggs: int, exposure: float) -> None:
    one = laying.laying_rate(eggs=eggs, female_days=exposure)
    ten = laying.laying_rate(eggs=eggs * 10, female_days=exposure * 10)
    assert one.low <= one.value <= one.high
    assert ten.high - ten.low < one.high - one.low
    wider = laying.laying_rate(eggs=eggs, female_days=exposure, confidence=0.99)
    assert wider.low <= one.low
    assert wider.high >= one.high


@given(st.integers(0, 40), st.floats(0.5, 60), st.integers(0, 40), st.floats(0.5, 60))
@quick
def test_comparing_two_hosts_the_other_way_round_is_the_same(
    a: int, t: float, b: int, u: float
) -> None:
    assume(a + b > 0)
    one = laying.hosts_compared(
        eggs_first=a, female_days_first=t, eggs_second=b, female_days_second=u
    )
    other = laying.hosts_compared(
        eggs_first=b, female_days_first=u, eggs_second=a, female_days_second=t
    )
    assert one.p_two_sided == pytest.approx(other.p_two_sided, rel=1e-6)
    if one.ratio and other.ratio:
        assert one.ratio == pytest.approx(1 / other.ratio)
        assert one.ratio_low <= one.ratio
    assert one.more_female_days >= 0


@given(
    st.floats(0.01, 60), st.floats(0.1, 50) | st.just(math.inf), shares, st.floats(0, 30), shares, shares, st.floats(0, 300),
    st.floats(0, 0.4), st.integers(1, 5),
)  # fmt: skip
@example(
    1000.0, math.inf, 1.0, 1e6, 1.0, 1.0, 300.0, 0.4, 5
)  # so many that none seen is as good as impossible
@example(1.0, 1.0, 0.0, 3.0, 1.0, 1.0, 0.0, 0.0, 1)
@quick
def test_a_hidden_egg_grows_less_likely_with_all_that_speaks_against_it(
    rate: float,
    counted: float,
    willing: float,
    days: float,
    missed: float,
    viable: float,
    heat: float,
    off: float,
    looks: int,
) -> None:
    def chance(**changed: Any) -> float:
        now = {
            "rate": rate, "willing": willing, "female_days": days, "missed": missed, "viable_share": viable, "degree_days": heat,
            "hatch_dd": 80.0, "looks": looks, "found": 0,
        } | changed  # fmt: skip
        hatching = hidden_eggs.Hatching(
            now["degree_days"], now["hatch_dd"], 0.1, off, off, now["looks"]
        )
        return hidden_eggs.hidden_viable(
            laying=hidden_eggs.Laying(now["rate"], counted, now["willing"]), female_days=now["female_days"], missed=now["missed"],
            found=now["found"], viable_share=now["viable_share"], hatching=hatching,
        ).chance  # fmt: skip

    here = chance()
    assert 0 <= here <= 1
    assert chance(missed=missed * 0.6) <= here + 1e-9
    assert chance(degree_days=heat + 10) <= here + 1e-9
    assert chance(looks=looks + 1) <= here + 1e-9
    assert chance(willing=min(1, willing + 0.1)) >= here - 1e-9
    assert chance(hatch_dd=100.0) >= here - 1e-9
    assert chance(found=3) >= here - 1e-9


@given(st.floats(0.01, 20), st.floats(0.1, 10), shares, st.floats(0, 0.3))
@quick
def test_a_stem_is_kept_until_just_under_the_aim(
    rate: float, days: float, missed: float, off: float
) -> None:
    given_now = {
        "laying": hidden_eggs.Laying(rate, 2.0, 0.7), "female_days": days, "missed": missed, "viable_share": 0.8,
    }  # fmt: skip

    def hatching(heat: float) -> hidden_eggs.Hatching:
        return hidden_eggs.Hatching(degree_days=heat, shorter=off, longer=off, looks=4)

    keep = hidden_eggs.keep_until_dd(**given_now, hatching=hatching(0.0))  # type: ignore[arg-type]
    if keep is not None:
        assert hidden_eggs.hidden_viable(**given_now, hatching=hatching(keep)).chance <= 0.01 + 1e-9  # type: ignore[arg-type]
        if keep > 1:
            assert (
                hidden_eggs.hidden_viable(**given_now, hatching=hatching(keep - 0.5)).chance
                > 0.01 - 1e-9
            )  # type: ignore[arg-type]


@given(st.lists(st.tuples(st.integers(1, 40), st.booleans()), min_size=1, max_size=40))
@quick
def test_survival_never_rises_and_stays_within_its_limits(fates: list[tuple[int, bool]]) -> None:
    curve = survival.kaplan_meier([float(t) for t, _ in fates], [dead for _, dead in fates])
    values = [1.0, *(step.survival for step in curve.steps)]
    assert values == sorted(values, reverse=True)
    for step in curve.steps:
        assert step.low <= step.survival + 1e-12 <= step.high + 2e-12
        assert step.died <= step.at_risk


@st.composite
def pedigrees(draw: st.DrawFn) -> dict[str, tuple[str, str]]:
    """Broods whose parents are founders or earlier broods."""
    known = ["f1", "f2", "f3"]
    found = {}
    for number in range(draw(st.integers(1, 5))):
        found[f"b{number}"] = (draw(st.sampled_from(known)), draw(st.sampled_from(known)))
        known.append(f"b{number}")
    return found


@given(pedigrees())
@quick
def test_kinship_is_symmetric_between_none_and_one_and_a_sum_of_squares(
    pedigree: dict[str, tuple[str, str]],
) -> None:
    codes = ["f1", "f2", "f3", *pedigree]
    for one in codes:
        for other in codes:
            value = kinship.kinship(pedigree, one, other)
            assert value == pytest.approx(kinship.kinship(pedigree, other, one), abs=1e-12)
            assert 0 <= value <= 1


def test_the_kinship_matrix_of_single_animals_is_positive_semi_definite() -> None:
    import numpy as np

    pedigree = {"a": ("f1", "f2"), "b": ("a", "f3"), "c": ("a", "b"), "d": ("c", "c")}
    codes = ["f1", "f2", "f3", *pedigree]
    matrix = np.array([[kinship.kinship(pedigree, one, other) for other in codes] for one in codes])
    # An animal with itself: (1 + its inbreeding) / 2; a brood's own entry above is of two different members.
    for place, code in enumerate(codes):
        mother, father = pedigree.get(code, ("", ""))
        own = (
            kinship.kinship(pedigree, mother, father)
            if mother and mother != father
            else 0.25 * bool(mother)
        )
        matrix[place, place] = (1 + own) / 2
    assert np.linalg.eigvalsh(matrix).min() > -1e-9


@given(st.lists(st.floats(0.1, 30), min_size=2, max_size=5), st.data())
@quick
def test_preferences_add_up_and_indifference_is_nought(
    available: list[float], data: st.DataObject
) -> None:
    used = [data.draw(st.integers(0, 9)) for _ in available]
    assume(sum(used) > 0)
    found = choice.preferences([float(one) for one in used], available)
    assert sum(one.alpha for one in found) == pytest.approx(1)
    assert all(-1 - 1e-9 <= one.epsilon <= 1 + 1e-9 for one in found)
    even = choice.preferences(available, available)
    assert all(
        abs(one.epsilon) < 1e-9 and one.alpha == pytest.approx(1 / len(even)) for one in even
    )


@given(
    st.floats(5, 28),
    st.floats(20, 300),
    st.floats(0, 0.3),
    st.floats(0, 0.3),
    st.integers(1, 500),
    st.floats(0, 3),
)
@quick
def test_a_forecast_stands_in_order_and_is_the_same_again(
    temperature: float, constant: float, spread: float, unsure: float, number: int, laid: float
) -> None:
    trace = forecast.steady_trace(temperature_c=temperature + 10, above=Thresholds(10))

    def made() -> forecast.StageForecast:
        return forecast.forecast(
            trace,
            begun_from=0,
            begun_to=laid,
            constant_dd=constant,
            spread=spread,
            uncertainty=unsure,
            number=number,
        )

    found = made()
    assert found == made()
    assert found.half is not None
    assert found.first is not None
    assert found.last is not None
    assert found.first <= found.half <= found.last
    assert found.low is not None
    assert found.high is not None
    assert found.low <= found.half <= found.high
    assert found.half == pytest.approx(laid / 2 + constant / temperature)


@given(st.lists(st.floats(40, 120), max_size=12), st.floats(50, 100))
@quick
def test_own_broods_draw_the_constant_toward_them(own: list[float], published: float) -> None:
    broods = [(thermal_time.StageEnds(one, one),) for one in own]
    found = thermal_time.estimated(published, shorter=0.08, longer=0.08, broods=broods)
    assert found.broods == len(own)
    assert min([*own, published]) - 1e-9 <= found.constant_dd <= max([*own, published]) + 1e-9
    assert found.weight == 0 if not own else 0 < found.weight < 1


REFUSALS: list[tuple[Callable[[], object], str]] = [
    (lambda: laying.laying_rate(eggs=1, female_days=0), "1 egg in 0 female-days; give the time that females were with the host"),
    (lambda: laying.laying_rate(eggs=1, female_days=1, confidence=2), "confidence is 2; it must be at most 0.9999"),
    (lambda: proportions.exact_share(3, 2), "count is 3; it must be at most 2"),
    (lambda: proportions.exact_share(0, 0), "whole is 0; it must be at least 1"),
    (lambda: hidden_eggs.searches_needed(detection=1.2), "share found is 1.2; it must be at most 1"),
    (lambda: development.days_at(temperature_c=math.nan, lower_c=10, constant_dd=80), "temperature is nan; it must be a finite number"),
    (lambda: development.ikemoto_takai_fit([(20, 10), (25, 10)]), "all durations are equal; a threshold needs durations that differ"),
    (lambda: forecast.trace_of([(0, 20)], above=Thresholds(10)), "1 reading; a trace needs two or more at different times"),
    (lambda: degree_days.in_order([(0, math.inf)]), "a reading is 0: inf; both must be finite numbers"),
    (lambda: survival.kaplan_meier([1], []), "1 times but 0 fates; give one fate for each time"),
    (lambda: survival.kaplan_meier([], []), "no animal was given; give at least one time with its fate"),
    (lambda: survival.log_rank([1], [False], [2], [False]), "no death tells the two groups apart; wait for more, or give more animals"),
    (lambda: life_table.stage_table([]), "no stage was given; give each as name, entered, died"),
    (lambda: increase.increase([1], []), "1 ages but 0 numbers of daughters; give one for each age"),
    (lambda: kinship.inbreeding_after(generations=-1, effective=3), "generations is -1; it must be at least 0"),
    (lambda: development.days_at(temperature_c=51, lower_c=10, constant_dd=80), "temperature is 51 C; it must be at most 50 C"),
    (lambda: development.days_at(temperature_c=-21, lower_c=10, constant_dd=80), "temperature is -21 C; it must be at least -20 C"),
    (lambda: development.days_at(temperature_c=20, lower_c=41, constant_dd=80), "lower threshold is 41 C; it must be at most 40 C"),
    (lambda: development.days_at(temperature_c=20, lower_c=10, constant_dd=0),
     "thermal constant is 0 degree-days; it must be at least 0.001 degree-days"),
    (lambda: development.x_intercept_fit([(20, 6000), (25, 10)]), "duration is 6000 days; it must be at most 5000 days"),
    (lambda: kinship.effective_number(males=0, females=1), "males is 0; it must be at least 1"),
    (lambda: kinship.effective_number(males=1, females=0), "females is 0; it must be at least 1"),
    (lambda: degree_days.simple_average(low_c=-61, high_c=10, lower_c=5), "lowest temperature is -61 C; it must be at least -60 C"),
    (lambda: degree_days.simple_average(low_c=0, high_c=71, lower_c=5), "highest temperature is 71 C; it must be at most 70 C"),
    (lambda: degree_days.simple_average(low_c=0, high_c=10, lower_c=41), "lower threshold is 41 C; it must be at most 40 C"),
    (lambda: laying.chance_of_none_seen(usual_rate=1, female_days=1, share_found=1.1), "share found is 1.1; it must be at most 1"),
    (lambda: choice.preferences([1, 2], [0, 1]), "available is 0; it must be more than 0"),
]  # fmt: skip


@pytest.mark.parametrize(("work", "line"), REFUSALS, ids=[line for _, line in REFUSALS])
def test_what_cannot_be_is_refused_in_one_line(work: Callable[[], object], line: str) -> None:
    with pytest.raises(ValueError) as refused:
        work()

    assert str(refused.value) == line


def test_edges() -> None:
    assert development.days_at(temperature_c=10, lower_c=10, constant_dd=80) is None
    assert hidden_eggs.searches_needed(detection=0) is None
    assert hidden_eggs.searches_needed(detection=1) == 1
    one = hidden_eggs.Laying(1.0)
    for days, usual, found, needed in ((0.001, 0.5, 0, 0), (3, 0.01, 0, None), (3, 0.99, 10**6, 1)):
        detection = hidden_eggs.learned_detection(usual=usual, found=found, missed=0)
        searches = hidden_eggs.searches_until_under(
            laying=one, female_days=days, detection=detection, chance=0.01
        )
        assert searches == needed
    assert hidden_eggs.hidden_viable(laying=one, female_days=0).before == 0
    assert (
        hidden_eggs.learned_laying(
            hidden_eggs.Laying(1.0, 1.0, 0.7), eggs=1, searched_days=9
        ).willing
        == 1
    )
    assert distributions.binomial_chance(0, 5, 0) == 1
    assert distributions.binomial_chance(5, 5, 1) == 1
    assert distributions.regularised_gamma_lower(2, 0) == 0
    assert distributions.regularised_gamma_upper(2, 0) == 1
    assert distributions.normal_share(0) == 0.5
    assert distributions.normal_quantile(0.975) == pytest.approx(
        1.959963985, abs=1e-9
    )  # standard normal table
    assert forecast.steady_trace(temperature_c=5, above=Thresholds(10)).day_of(3) is None
    under = forecast.forecast(
        forecast.steady_trace(temperature_c=5, above=Thresholds(10)),
        begun_from=0,
        begun_to=0,
        constant_dd=80,
    )
    assert under.half is None
    assert thermal_constants.constants_for("", "L3") is None


def test_the_quarter_rule_in_each_of_its_cases() -> None:
    # Met Eireann's page on degree-days, its four cases, here on round numbers by its own arithmetic.
    for low, high, expected in (
        (12, 20, 6.0),
        (2, 8, 0.0),
        (8, 20, 5 - 0.5),
        (2, 14, 1.0),
        (2, 10, 0.0),
        (10, 20, 5.0),
    ):
        assert degree_days.quarter_rule(low_c=low, high_c=high, lower_c=10) == pytest.approx(
            expected
        )


def test_two_points_give_a_line_without_errors_and_more_give_them() -> None:
    two = development.x_intercept_fit([(20, 10), (30, 5)])
    three = development.x_intercept_fit([(20, 10), (25, 7), (30, 5)])
    assert (two.se_lower_c, two.r_squared, two.points) == (None, 1.0, 2)
    assert three.se_lower_c is not None
    assert 0 < three.r_squared <= 1


def test_how_many_more_female_days_settle_a_two_fold_difference() -> None:
    # By its own formula: 68 eggs on both are needed at 95 % and 80 % power (arcsine form, Cohen 1988, from memory).
    z = distributions.normal_quantile(0.975) + distributions.normal_quantile(0.8)
    effect = 2 * math.asin(math.sqrt(2 / 3)) - 2 * math.asin(math.sqrt(1 / 2))
    needed = math.ceil((z / effect) ** 2)
    assert needed == 68
    assert laying.more_female_days_for_two_fold(eggs=10, female_days=10) == pytest.approx(
        needed - 10
    )
    assert laying.more_female_days_for_two_fold(eggs=0, female_days=10) == pytest.approx(
        needed * 20 - 10
    )
    assert laying.more_female_days_for_two_fold(eggs=1000, female_days=10) == 0


def test_a_life_table_counts_from_the_first_and_knows_when_nothing_is_left() -> None:
    table = life_table.stage_table([("egg", 100, 40), ("larva", 60, 60)])
    egg, larva = table.rows
    assert (egg.q, larva.q) == (0.4, 1.0)
    assert larva.k_natural == math.inf
    assert table.survival == 0
    assert egg.q_limits is not None
    assert (egg.q_limits.low, egg.q_limits.high) == (
        proportions.exact_share(40, 100).low,
        proportions.exact_share(40, 100).high,
    )
    assert life_table.stage_table([("egg", 10.5, 2.0)]).rows[0].q_limits is None
    assert life_table.stage_table([("egg", 10, 2.5)]).rows[0].q_limits is None
    assert life_table.stage_table([("egg", 10, 0)]).rows[0].k_natural == 0
    with pytest.raises(ValueError) as refused:
        life_table.stage_table([("egg", 0, 0)])
    assert str(refused.value) == "egg entered is 0; it must be more than 0"
    with pytest.raises(ValueError) as refused:
        life_table.stage_table([("egg", 10, -1)])
    assert str(refused.value) == "egg died is -1; it must be at least 0"


def test_survival_at_its_ends() -> None:
    curve = survival.kaplan_meier([1, 2, 3], [True, True, True])
    assert [step.survival for step in curve.steps] == pytest.approx([2 / 3, 1 / 3, 0], abs=1e-12)
    assert (curve.steps[-1].low, curve.steps[-1].high) == (0.0, 0.0)
    assert (curve.median, curve.number, curve.deaths) == (2, 3, 3)
    alive = survival.kaplan_meier([5, 6], [False, False])
    assert (alive.steps, alive.median) == ((), None)
    with pytest.raises(ValueError) as refused:
        survival.kaplan_meier([-1], [True])
    assert str(refused.value) == "time is -1; it must be at least 0"


@pytest.mark.parametrize(
    ("ages", "daughters", "line"),
    [
        ([0.0], [1.0], "age is 0; it must be more than 0"),
        ([2e5], [1.0], "age is 200000; it must be at most 100000"),
        ([1.0], [-1.0], "daughters is -1; it must be at least 0"),
        ([1.0], [2e7], "daughters is 2e+07; it must be at most 1e+07"),
        ([], [], "0 ages but 0 numbers of daughters; give one for each age"),
    ],
)
def test_increase_refuses(ages: list[float], daughters: list[float], line: str) -> None:
    with pytest.raises(ValueError) as refused:
        increase.increase(ages, daughters)
    assert str(refused.value) == line


@given(st.floats(0.1, 60), st.floats(0.01, 200))
@quick
def test_a_single_pulse_of_daughters_grows_by_its_own_formula(age: float, daughters: float) -> None:
    found = increase.increase([age], [daughters])
    assert found.r == pytest.approx(math.log(daughters) / age, abs=1e-9)
    assert found.r0 == daughters
    assert found.cohort_time == pytest.approx(age)
    assert found.growth == pytest.approx(math.exp(found.r))
    if found.r > 1e-9:
        assert found.doubling_time == pytest.approx(math.log(2) / found.r)
        assert found.generation_time == pytest.approx(age, rel=1e-6)
    if found.r < -1e-9:
        assert found.doubling_time is None
    still = increase.increase([age], [1.0])
    assert (still.r, still.generation_time, still.doubling_time, still.growth) == (
        0.0,
        None,
        None,
        1.0,
    )
