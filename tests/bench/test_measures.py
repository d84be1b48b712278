"""Units told and typed, against scipy's table of constants; the daybook stays metric."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from rounds.bench.measures import METRIC, Measures, measures_of
from rounds.entries.phrase.parser import read_phrase
from rounds.entries.phrase.reader import Draft
from rounds.surroundings.units import ML_PER_FLUID_OUNCE as ML
from rounds.surroundings.units import MM_PER_INCH, celsius_of

NOW = datetime(2026, 5, 20, 7, 4, tzinfo=ZoneInfo("Europe/Paris"))

CUSTOMARY = Measures("F", "fl oz", "in")


def test_factors_are_those_of_scipys_table() -> None:
    # scipy.constants: inch and fluid_ounce (US) in m and m3, after CODATA and NIST.
    assert pytest.approx(constants.inch * 1000) == MM_PER_INCH
    assert pytest.approx(constants.fluid_ounce * 1e6, rel=1e-12) == ML


@given(st.floats(-40, 140))
def test_fahrenheit_is_scipys(fahrenheit: float) -> None:
    assert celsius_of(fahrenheit) == pytest.approx(
        constants.convert_temperature(fahrenheit, "F", "C"), abs=0.0051
    )
    assert CUSTOMARY.celsius(fahrenheit) == celsius_of(fahrenheit)


@given(st.floats(-40, 60))
def test_what_is_told_reads_back(celsius: float) -> None:
    told = float(CUSTOMARY.warmth_number(celsius))

    assert CUSTOMARY.celsius(told) == pytest.approx(celsius, abs=0.04)


def test_numbers_are_told_in_the_keepers_units() -> None:
    assert (METRIC.warmth(21.4), CUSTOMARY.warmth(21.4)) == ("21.4 C", "70.5 F")
    assert (METRIC.depth(22), CUSTOMARY.depth(22)) == ("22 mm", "0.87 in")
    assert (METRIC.bulk(250), CUSTOMARY.bulk(250)) == ("250 ml", "8.5 fl oz")
    assert CUSTOMARY.span(15, 24) == "59 to 75.2 F"
    assert CUSTOMARY.in_words("33 C and above; mix 30 ml") == "91.4 F and above; mix 1 fl oz"
    assert METRIC.in_words("33 C") == "33 C"


def said(text: str, measures: object) -> dict[str, object]:
    draft = read_phrase(
        text, now=NOW, zone=NOW.tzinfo, codes=["L2"], shelves=["B"], measures=measures
    )  # type: ignore[arg-type]
    assert isinstance(draft, Draft), draft
    return draft.fields


@pytest.mark.parametrize(
    ("typed", "field", "metric", "customary"),
    [
        ("room air 70", "temperature_c", 70, 21.11),
        ("room air 70F", "temperature_c", 21.11, 21.11),
        ("room air 21C", "temperature_c", 21, 21),
        ("L2 topped up 1", "depth_mm", 1, 25.4),
        ("L2 topped up 1in", "depth_mm", 25.4, 25.4),
        ("L2 topped up 1 in", "depth_mm", 25.4, 25.4),
        ("L2 topped up 9mm", "depth_mm", 9, 9),
        ("L2 topped up depth=1", "depth_mm", 1, 25.4),
        ("L2 topped up depth_mm=9", "depth_mm", 9, 9),
        ("food made 15% 8 fl oz", "volume_ml", 8 * ML, 8 * ML),
        ("food made 15% 8oz", "volume_ml", 8 * ML, 8 * ML),
        ("food made 15% 250ml", "volume_ml", 250, 250),
        ("food made 15 8", "volume_ml", 8, round(8 * ML, 2)),
    ],
)
def test_a_number_without_a_unit_is_in_the_keepers_unit(
    typed: str, field: str, metric: float, customary: float
) -> None:
    assert said(typed, METRIC)[field] == pytest.approx(metric)
    assert said(typed, CUSTOMARY)[field] == pytest.approx(customary)


def test_what_a_book_says_of_units_is_taken_and_nonsense_is_metric() -> None:
    assert measures_of({"temperature": "F", "volume": "fl oz", "length": "in"}) == CUSTOMARY
    assert measures_of({"temperature": "K", "volume": "hogshead"}) == METRIC
