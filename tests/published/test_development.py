"""Thermal constants and fits. The source of each row stands beside it in values/."""

from __future__ import annotations

import pytest

from rounds.biology.development import days_at, ikemoto_takai_fit, x_intercept_fit
from rounds.biology.forecast import forecast, steady_trace
from rounds.biology.thermal_constants import CONSTANTS, constants_for
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
        assert (fit.se_intercept, fit.se_slope) == (
            pytest.approx(expected["se_a"], rel=1e-6), pytest.approx(expected["se_b"], rel=1e-6)
        )  # fmt: skip
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
    printed, derived = row("thermal_constants", "tc07")["expected"], row("thermal_constants", "tc07b")["expected"]
    fit = x_intercept_fit([(12.5, printed["larva_days"]["12.5"]), (30, printed["larva_days"]["30"])])
    pupa = x_intercept_fit([(12.5, printed["pupa_days"]["12.5"]), (30, printed["pupa_days"]["30"])])

    assert (fit.lower_c, fit.constant_dd) == (pytest.approx(derived["larva_T0"]), pytest.approx(derived["larva_K"]))
    assert (pupa.lower_c, pupa.constant_dd) == (pytest.approx(derived["pupa_T0"]), pytest.approx(derived["pupa_K"]))
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
    ("egg", "L1", "L2", "L3", "L4", "L5", "pupa")), ("tc15", "egg", "Lacanobia subjuncta", "egg"),
    ("tc15", "larva", "Lacanobia subjuncta", "larva"), ("tc15", "pupa", "Lacanobia subjuncta", "pupa"),
    ("tc17", "soybean", "Spodoptera litura", "egg to adult"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "printed", "species", "stage"), SHIPPED)
def test_shipped_constants_are_as_printed(name: str, printed: str, species: str, stage: str) -> None:
    values = tuple(row("thermal_constants", name)["expected"][printed])

    assert values in {(one.lower_c, one.constant_dd) for one in CONSTANTS if (one.species, one.stage) == (species, stage)}


def test_other_published_figures_agree_with_what_is_shipped() -> None:
    streblote = row("thermal_constants", "tc16")["expected"]
    monarch = row("thermal_constants", "tc18")["expected"]
    found = {one.species: one for one in CONSTANTS if one.stage == "egg to adult"}

    assert (found["Streblote panda"].lower_c, found["Streblote panda"].constant_dd) == (
        streblote["total_T0"], streblote["total_K"],
    )  # fmt: skip
    assert found["Danaus plexippus"].lower_c == pytest.approx(monarch["T0_approx"], abs=1)
    assert found["Danaus plexippus"].constant_dd == pytest.approx(monarch["K_approx"], abs=20)
    assert "from memory" in found["Danaus plexippus"].source


def test_published_species_differ_as_much_as_the_default_uncertainty_and_more() -> None:
    # Rows not shipped as constants: they show how far populations, diets and day lengths lie apart.
    iran = row("thermal_constants", "tc10")["expected"]
    korea, slovakia = row("thermal_constants", "tc12")["expected"], row("thermal_constants", "tc11")["expected"]
    light = row("thermal_constants", "tc08")["expected"]
    hosts = [pair[1] for pair in row("thermal_constants", "tc17")["expected"].values()]

    assert iran["total_cauliflower"][1] != iran["total_cabbage"][1]
    assert abs(korea["larva"][1] - slovakia["larva"][1]) / slovakia["larva"][1] > 0.08
    assert light["T0_12h"] - light["T0_18h"] == pytest.approx(1.7)
    assert max(hosts) / min(hosts) > 1.3
    assert row("thermal_constants", "tc05")["expected"]["larva_T0"] == row("thermal_constants", "tc06")["expected"]["P_rapae_T0"]
    assert row("thermal_constants", "tc19")["expected"]["detrimental_above"] == 29
    days = row("thermal_constants", "tc20")["expected"]["days"]
    assert days[-1] == max(days)
    assert row("thermal_constants", "tc21")["expected"]["egg"] == 3


def test_at_least_eight_species_and_never_a_relative_as_its_own() -> None:
    assert len({one.species for one in CONSTANTS if "memory" not in one.source}) >= 8
    own = constants_for("Orthosia hibisci", "egg")
    near = constants_for("Orthosia gothica", "egg")
    family = constants_for("Mamestra brassicae", "egg", "Noctuidae")
    assert own is not None
    assert own.whose == "own"
    assert near is not None
    assert near.whose == "genus"
    assert "NOT its own: those of Orthosia hibisci" in near.words
    assert family is not None
    assert family.whose == "family"
    assert constants_for("Papilio machaon", "egg", "Papilionidae") is None


@pytest.mark.parametrize(
    ("stage", "lower", "constant", "days"),
    # Shijimiaeoides divinus barine at 30 C: Entomological Science, doi 10.1111/j.1479-8298.2009.00355.x (abstract).
    [("egg", 9.6, 82.6, 4.0), ("larva", 10.7, 306.8, 15.8)],
)
def test_a_forecast_at_constant_30_c_lands_where_the_paper_says(stage: str, lower: float, constant: float, days: float) -> None:
    found = forecast(steady_trace(temperature_c=30, lower_c=lower), begun_from=0, begun_to=0, lower_c=lower, constant_dd=constant)

    assert found.half == pytest.approx(days, rel=0.02), stage


def test_a_stage_by_stage_forecast_at_constant_15_c() -> None:
    # Judd et al. 1994, Can. Entomol. 126(5):1263-1275, Orthosia hibisci: K / (T - T0) at 15 C, and the larval sum.
    stages = row("thermal_constants", "tc14")["expected"]
    expected = {"egg": 8.53, "L1": 4.29, "L2": 4.26, "L3": 4.6, "L4": 4.97, "L5": 6.19, "pupa": 5.02}
    found = {}
    for stage, (lower, constant) in stages.items():
        trace = steady_trace(temperature_c=15, lower_c=lower)
        found[stage] = forecast(trace, begun_from=0, begun_to=0, lower_c=lower, constant_dd=constant).half

    for stage, days in expected.items():
        assert found[stage] == pytest.approx(days, abs=0.006), stage
    larva = sum(days for stage, days in found.items() if stage.startswith("L") and days is not None)
    assert larva == pytest.approx(sum(days for stage, days in expected.items() if stage.startswith("L")), abs=0.02)
