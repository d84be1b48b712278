"""Other people's text: nothing that a terminal obeys, that hides, or that turns round what stands beside it gets through."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from rounds.views.words import MAX_MARKS, literal

# Bidirectional controls after Unicode Standard Annex 9, table 'Explicit Directional Formatting Characters', and the
# zero-width characters of The Unicode Standard, chapter 23.2.
BIDI = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c"
ZERO_WIDTH = "\u200b\u200c\u200d\u2060\ufeff\u00ad\u180e\U000e0041"
DRAWN_AS_NOTHING = "\u115f\u1160\u3164\uffa0\u2800\u034f"


@pytest.mark.parametrize(
    "sign", [*BIDI, *ZERO_WIDTH, *DRAWN_AS_NOTHING, "\x1b", "\x9b", "\x07", "\x7f", "\ue000"]
)
def test_what_hides_turns_round_or_is_obeyed_is_made_visible(sign: str) -> None:
    assert literal(f"a{sign}b") == f"a‹{ord(sign):04X}›b"


@pytest.mark.parametrize(
    "text",
    ["Boloria dia", "Müller", "Mu\u0308ller", "חסר", "شجرة", "蝶", "🦋", "5 °C × 2", "½", "Phở"],
)
def test_every_language_reads_as_it_was_written(text: str) -> None:
    assert literal(text) == text


@pytest.mark.parametrize(
    ("text", "shown"), [("a\nb", "a b"), ("a\r\nb", "a  b"), ("a\tb", "a b"), ("", "")]
)
def test_lines_and_tabs_become_spaces(text: str, shown: str) -> None:
    assert literal(text) == shown


def test_marks_do_not_climb_over_other_lines() -> None:
    told = literal("e" + "\u0301" * 40)

    assert sum(1 for sign in told if unicodedata.category(sign) == "Mn") == MAX_MARKS
    assert literal("\u0301e") == "‹0301›e"


@given(st.text())
def test_nothing_a_terminal_obeys_comes_through(text: str) -> None:
    told = literal(text)

    assert not {unicodedata.category(sign) for sign in told} & {
        "Cc",
        "Cf",
        "Cs",
        "Co",
        "Cn",
        "Zl",
        "Zp",
    }
    assert cell_len(told) >= sum(
        1 for sign in told if unicodedata.category(sign) not in ("Mn", "Me", "Mc", "Lo", "Sk")
    )
    assert literal(told) == told or any(unicodedata.category(sign) in ("Mn", "Me") for sign in text)
