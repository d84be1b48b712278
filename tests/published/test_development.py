"""Thermal constants and fits. The source of each row stands beside it in values/."""

from __future__ import annotations

from math import log

import pytest

from rounds.biology import thermal_constants
from rounds.biology.degree_days import Thresholds
from rounds.biology.development import days_at, ikemoto_takai_fit, x_intercept_fit
from rounds.biology.forecast import forecast, steady_trace
from rounds.biology.thermal_constants import (
    WHOLE,
    Z90,
    combined,
    constants_for,
    lines_of,
    named,
    published,
    winters_as,
)
from tests.published.errors_of_lines import any_error, measured, near_error
from tests.published.rows import Row, row, rows


@pytest.mark.parametrize("check", rows("rate_fit"))
def test_fits(check: Row) -> None:
    points = list(zip(check["inputs"]["T"], check["inputs"]["D"], strict=True))
    expected = check["expected"]
    fit = x_intercept_fit(points)

    assert fit.lower_c == pytest.approx(expected["T0"], rel=1e-6)
    assert fit.constant_dd == pytest.approx(expected["K"], rel=1e-6)
    if "RMA_T0" in expected:
        lower, constant = ikemoto_takai_fit(points)
        assert (lower, constant) == (
            pytest.approx(expected["RMA_T0"], rel=1e-6),
            pytest.approx(expected["RMA_K"], rel=1e-6),
        )
    if "SE_T0" in expected:
        assert fit.se_lower_c == pytest.approx(expected["SE_T0"], rel=1e-6, abs=1e-6)
        assert fit.se_constant_dd == pytest.approx(expected["SE_K"], rel=1e-6, abs=1e-5)
    if "R2" in expected:
        assert fit.r_squared == pytest.approx(expected["R2"], rel=1e-6)
    if expected.get("SE"):
        assert fit.se_lower_c is None


def test_a_beetle_studied_at_four_temperatures() -> None:
    # Honek, Jarosik & Martinkova 2003, Eur. J. Entomol. 100:295-300 (abstract): threshold 7.1 C, 304.6 degree-days.
    fit = x_intercept_fit([(18, 28.2), (21.5, 21.6), (25, 16.1), (28, 15.0)])

    assert fit.lower_c == pytest.approx(7.1, abs=0.05)
    assert fit.constant_dd == pytest.approx(304.6, abs=0.05)


@pytest.mark.parametrize("check", rows("thermal_constants", "tcpred"))
def test_durations_from_published_constants(check: Row) -> None:
    given = check["inputs"]
    found = days_at(temperature_c=given["T"], lower_c=given["T0"], constant_dd=given["K"])

    assert found == pytest.approx(check["expected"]["days"], abs=1e-9)


def test_two_end_points_foretell_the_days_between() -> None:
    # David & Gardiner 1962 (authors from memory), larvae of Pieris brassicae at 12.5 and 30 C foretell 20 C.
    printed, derived = (
        row("thermal_constants", "tc07")["expected"],
        row("thermal_constants", "tc07b")["expected"],
    )
    fit = x_intercept_fit(
        [(12.5, printed["larva_days"]["12.5"]), (30, printed["larva_days"]["30"])]
    )
    pupa = x_intercept_fit([(12.5, printed["pupa_days"]["12.5"]), (30, printed["pupa_days"]["30"])])

    assert (fit.lower_c, fit.constant_dd) == (
        pytest.approx(derived["larva_T0"]),
        pytest.approx(derived["larva_K"]),
    )
    assert (pupa.lower_c, pupa.constant_dd) == (
        pytest.approx(derived["pupa_T0"]),
        pytest.approx(derived["pupa_K"]),
    )
    at_20 = days_at(temperature_c=20, lower_c=fit.lower_c, constant_dd=fit.constant_dd)
    assert at_20 == pytest.approx(derived["larva_days_at_20"], abs=1e-5)
    low, high = printed["larva_days"]["20"]
    assert low - 1 <= at_20 <= high + 1


# Which printed pair stands in our table under which species and stage.
SHIPPED = [
    ("tc01", "egg", "Panchala ganesa", "egg"), ("tc01", "larva", "Panchala ganesa", "larva"),
    ("tc01", "pupa", "Panchala ganesa", "pupa"), ("tc02", "egg", "Shijimiaeoides divinus", "egg"),
    ("tc02", "larva", "Shijimiaeoides divinus", "larva"), ("tc03", "immature", "Atrophaneura alcinous", "larva"),
    ("tc04", "larva+pupa", "Delias nigrina", "larva and pupa"), ("tc09", "total", "Plutella xylostella", "egg to adult"),
    ("tc10", "total_cauliflower", "Plutella xylostella", "egg to adult"), ("tc11", "egg", "Helicoverpa armigera", "egg"),
    ("tc11", "larva", "Helicoverpa armigera", "larva"), ("tc11", "pupa", "Helicoverpa armigera", "pupa"),
    ("tc13", "egg", "Heliothis viriplaca", "egg"), ("tc13", "larva", "Heliothis viriplaca", "larva"),
    ("tc13", "pupa", "Heliothis viriplaca", "pupa"), *((("tc14", s, "Orthosia hibisci", s)) for s in
    ("egg", "L1", "L2", "L3", "L4", "L5")), ("tc14", "pupa", "Orthosia hibisci", "pupa after winter"), ("tc15", "egg", "Lacanobia subjuncta", "egg"),
    ("tc15", "larva", "Lacanobia subjuncta", "larva"), ("tc15", "pupa", "Lacanobia subjuncta", "pupa"),
    ("tc17", "soybean", "Spodoptera litura", "egg to adult"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "printed", "species", "stage"), SHIPPED)
def test_shipped_constants_are_as_printed(
    name: str, printed: str, species: str, stage: str
) -> None:
    values = tuple(row("thermal_constants", name)["expected"][printed])

    ships = {
        (one.lower_c, one.constant_dd)
        for one in published()
        if (one.species, one.stage) == (species, stage)
    }
    if name == "tc15":  # the abstract rounds what the study's own line gives
        assert any(
            lower == values[0] and constant == pytest.approx(values[1], abs=0.51)
            for lower, constant in ships
        )
    else:
        assert values in ships


def test_other_published_figures_agree_with_what_is_shipped() -> None:
    streblote = row("thermal_constants", "tc16")["expected"]
    monarch = row("thermal_constants", "tc18")["expected"]
    found = {one.species: one for one in published() if one.stage == "egg to adult"}

    assert (found["Streblote panda"].lower_c, found["Streblote panda"].constant_dd) == (
        streblote["total_T0"], streblote["total_K"],
    )  # fmt: skip
    assert found["Danaus plexippus"].lower_c == pytest.approx(monarch["T0_approx"], abs=1)
    assert found["Danaus plexippus"].constant_dd == pytest.approx(monarch["K_approx"], abs=20)
    assert "from memory" in found["Danaus plexippus"].source


def test_published_species_differ_as_much_as_the_default_uncertainty_and_more() -> None:
    # Rows not shipped as constants: they show how far populations, diets and day lengths lie apart.
    iran = row("thermal_constants", "tc10")["expected"]
    korea, slovakia = (
        row("thermal_constants", "tc12")["expected"],
        row("thermal_constants", "tc11")["expected"],
    )
    light = row("thermal_constants", "tc08")["expected"]
    hosts = [pair[1] for pair in row("thermal_constants", "tc17")["expected"].values()]

    assert iran["total_cauliflower"][1] != iran["total_cabbage"][1]
    assert abs(korea["larva"][1] - slovakia["larva"][1]) / slovakia["larva"][1] > 0.08
    assert light["T0_12h"] - light["T0_18h"] == pytest.approx(1.7)
    assert max(hosts) / min(hosts) > 1.3
    assert (
        row("thermal_constants", "tc05")["expected"]["larva_T0"]
        == row("thermal_constants", "tc06")["expected"]["P_rapae_T0"]
    )
    assert row("thermal_constants", "tc19")["expected"]["detrimental_above"] == 29
    days = row("thermal_constants", "tc20")["expected"]["days"]
    assert days[-1] == max(days)
    assert row("thermal_constants", "tc21")["expected"]["egg"] == 3


def test_own_lines_go_before_the_genus_and_that_before_any_species() -> None:
    own = constants_for("ORTHOSIA hibisci", "egg")
    near = constants_for("Orthosia gothica", "egg")
    far = constants_for("Mamestra brassicae", "egg")
    assert own is not None
    assert own.whose == "own"
    assert near is not None
    assert near.whose == "genus"
    assert "a guess from Orthosia hibisci" in near.words
    assert far is not None
    assert far.whose == "any"
    assert "a guess from" in far.words
    assert constants_for("Papilio machaon", "L3") is None


def test_a_name_that_a_source_printed_finds_the_species() -> None:
    # Helicoverpa armigera was long printed as Heliothis armigera, and is in several of the collected studies.
    assert constants_for("heliothis Armigera", "egg") == constants_for(
        "Helicoverpa armigera", "egg"
    )


def test_every_row_says_its_source_and_how_it_was_read() -> None:
    assert len({one.species for one in published()}) >= 50
    assert all(one.source.strip(" .") for one in published())
    assert all(one.constant_dd > 0 or one.days for one in published())
    assert "pupa" in winters_as("Orthosia hibisci")


# Medians over species of the collected rows, each species first reduced to the median of its own lines, by the collection's own
# reckoning: days at 20 and 25 C, species and lines.
@pytest.mark.parametrize(
    ("stage", "species", "at_20", "at_25"),
    [("egg", 34, 6.58, 4.39), ("larva", 32, 30.04, 20.71), ("pupa", 31, 18.74, 12.76)],
)
def test_the_median_of_all_species_follows_from_the_rows(
    stage: str, species: int, at_20: float, at_25: float
) -> None:
    from statistics import median

    each = [median(1 / one.rate(20) for one in lines) for lines in lines_of(stage).values()]
    assert len(each) == species
    assert median(each) == pytest.approx(at_20, rel=0.03)  # rows read twice count once here
    found = constants_for("Zerynthia nova", stage)
    assert found is not None
    assert 1 / found.constants.rate(20) == pytest.approx(at_20, rel=0.05)
    assert 1 / found.constants.rate(25) == pytest.approx(at_25, rel=0.05)


def test_the_egg_of_the_cotton_bollworm_is_that_of_its_many_lines_not_of_the_outlier() -> None:
    # One study gives 12.4 days at 20 C where the other lines give about five.
    found = constants_for("Helicoverpa armigera", "egg")
    assert found is not None
    assert found.lines >= 7
    # a line at 2.5 times the others tells nothing of how far studies differ either
    assert all(1 / line.rate(20) < 6 for line in lines_of("egg")["helicoverpa armigera"])
    assert 1 / found.constants.rate(20) == pytest.approx(5.0, abs=0.5)


def inside(told: float, true: float, sides: tuple[float, float]) -> bool:
    """Whether true days lie in the nine-in-ten window of foretold ones."""
    off = log(true / told)
    return -Z90 * sides[0] <= off <= Z90 * sides[1]


@pytest.mark.parametrize("at", [20.0, 25.0])
def test_windows_hold_what_was_left_out(at: float) -> None:
    """Each species foretold from others, each study from the others of its species; sides measured without it too."""
    held: dict[str, list[bool]] = {"own": [], "genus": [], "any": []}
    for stage in WHOLE:
        lines = lines_of(stage)
        for name, own in lines.items():
            true = 1 / combined(own).rate(at)
            others = {other: combined(rows) for other, rows in lines.items() if other != name}
            held["any"].append(
                inside(1 / combined(list(others.values())).rate(at), true, any_error(stage, name))
            )
            near = [one for other, one in others.items() if other.split()[0] == name.split()[0]]
            if near:
                held["genus"].append(
                    inside(1 / combined(near).rate(at), true, near_error(stage, name))
                )
            studies = {one.study for one in own}
            for study in studies if len(studies) > 1 else ():
                rest = combined([one for one in own if one.study != study])
                left_out = combined([one for one in own if one.study == study])
                off = near_error(stage, name, len(studies) - 1)
                held["own"].append(inside(1 / rest.rate(at), 1 / left_out.rate(at), off))
    for basis, each in held.items():
        assert len(each) >= 60, basis
        assert 0.85 <= sum(each) / len(each) <= 0.95, (basis, sum(each) / len(each))


@pytest.mark.parametrize("stage", [*WHOLE, "L1"])
def test_what_is_nearer_is_never_told_less_sure(stage: str) -> None:
    """A species' own study as a relative, several surer, a relative no wider than any species; with one of them left out too."""
    for out in ("", *lines_of(stage)):
        near, far = near_error(stage, out), any_error(stage, out)
        assert near[0] <= far[0], out
        assert near[1] <= far[1], out
    sides = {
        found.whose: (found.shorter, found.longer)
        for name in ("Helicoverpa armigera", "Helicoverpa nova", "Nova incognita")
        if (found := constants_for(name, stage)) is not None
    }
    studies = len({one.study for one in lines_of(stage).get("helicoverpa armigera", ())})
    assert sides.get("own") in (thermal_constants.near_error(stage, max(1, studies)), None)
    assert sides.get("genus") in (thermal_constants.near_error(stage), None)
    assert sides.get("any") in (thermal_constants.any_error(stage), None)
    assert stage not in WHOLE or len(sides) == 3


def test_a_study_that_two_compilations_quote_is_one() -> None:
    """Guppy 1969 is quoted twice in Buckley et al. 2017, appendix S3, with initials spaced otherwise, Doerr 2002 with and without
    its other authors."""
    assert {one.study for one in lines_of("egg")["lacanobia subjuncta"]} == {"doerr 2002"}
    found = constants_for("Mythimna unipuncta", "egg")
    assert found is not None
    assert found.shorter == thermal_constants.near_error("egg", 2)[0]
    assert "and 1 more" in found.words


@pytest.mark.parametrize("stage", WHOLE)
def test_what_is_kept_of_the_errors_is_what_the_rows_give(stage: str) -> None:
    """Reckoned anew from every row that ships; where rows came, what is kept wants to be written anew."""
    near, far = measured(stage)
    kept = (*thermal_constants.near_error(stage), *thermal_constants.any_error(stage))
    assert kept == pytest.approx((*near, *far), rel=1e-12)


def test_no_species_is_without_a_date_for_egg_larva_or_pupa() -> None:
    for name in {named(one.species) for one in published()} | {"", "zerynthia nova"}:
        assert all(constants_for(name, stage) is not None for stage in ("egg", "larva", "pupa"))


@pytest.mark.parametrize(
    ("stage", "lower", "constant", "days"),
    # Shijimiaeoides divinus barine at 30 C: Entomological Science, doi 10.1111/j.1479-8298.2009.00355.x (abstract).
    [("egg", 9.6, 82.6, 4.0), ("larva", 10.7, 306.8, 15.8)],
)
def test_a_forecast_at_constant_30_c_lands_where_the_paper_says(
    stage: str, lower: float, constant: float, days: float
) -> None:
    found = forecast(
        steady_trace(temperature_c=30, above=Thresholds(lower)),
        begun_from=0,
        begun_to=0,
        constant_dd=constant,
    )

    assert found.half == pytest.approx(days, rel=0.02), stage


def test_a_stage_by_stage_forecast_at_constant_15_c() -> None:
    # Judd et al. 1994, Can. Entomol. 126(5):1263-1275, Orthosia hibisci: K / (T - T0) at 15 C, and the larval sum.
    stages = row("thermal_constants", "tc14")["expected"]
    expected = {
        "egg": 8.53,
        "L1": 4.29,
        "L2": 4.26,
        "L3": 4.6,
        "L4": 4.97,
        "L5": 6.19,
        "pupa": 5.02,
    }
    found = {}
    for stage, (lower, constant) in stages.items():
        trace = steady_trace(temperature_c=15, above=Thresholds(lower))
        found[stage] = forecast(trace, begun_from=0, begun_to=0, constant_dd=constant).half

    for stage, days in expected.items():
        assert found[stage] == pytest.approx(days, abs=0.006), stage
    larva = sum(days for stage, days in found.items() if stage.startswith("L") and days is not None)
    assert larva == pytest.approx(
        sum(days for stage, days in expected.items() if stage.startswith("L")), abs=0.02
    )
