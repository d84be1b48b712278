"""What is left out until it is used says what it would say at once."""

from __future__ import annotations

import re

from rounds.entries.phrase import dates, number_first, spelling_out, times
from rounds.late import _OfFigures

WORDS = [
    "",
    "3",
    "12.",
    "1st",
    "f",
    "2M",
    "~30",
    "-20m",
    "+1h30",
    "7:30",
    "3.6.",
    "3/4",
    "2026-05-20",
    "18°",
    "12eggs",
    "7.30",
    "1999",
    "2026.5.20",
    "3,5",
    "٣",
    "drank",
    "C0",
    "<3",
    "-",
    ".",
]


def test_a_pattern_of_figures_finds_what_it_finds_where_it_is_asked_of_each_word() -> None:
    patterns = [
        one
        for module in (dates, number_first, spelling_out, times)
        for one in vars(module).values()
        if isinstance(one, _OfFigures)
    ]
    assert len(patterns) > 15
    for one in patterns:
        at_once = re.compile(one._text, one._flags)
        found = [at_once.match(word) for word in WORDS]
        assert any(found), one._text
        assert [bool(one.match(word)) for word in WORDS] == list(map(bool, found)), one._text
