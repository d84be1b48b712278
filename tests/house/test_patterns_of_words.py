"""A pattern that is asked only of lines with one of its words matches what it matches without that."""

from __future__ import annotations

import gc
import re

from hypothesis import given, settings
from hypothesis import strategies as st

import rounds.app.prompt_line
import rounds.entries.phrase.parser  # noqa: F401 - all of them are declared then
from rounds.late import OfWords

PATTERNS = [one for one in gc.get_objects() if isinstance(one, OfWords)]
MATCHES = [
    st.tuples(st.just(one), st.from_regex(re.compile(one._text, one._flags))) for one in PATTERNS
]


@settings(max_examples=500)
@given(st.one_of(MATCHES))
def test_what_it_matches_has_one_of_its_words(drawn: tuple[OfWords, str]) -> None:
    pattern, text = drawn
    assert pattern.search(text)
    plain = re.compile(pattern._text, pattern._flags).fullmatch(text)
    assert bool(pattern.fullmatch(text)) == bool(plain)


def test_a_line_without_them_is_not_looked_at() -> None:
    assert len(PATTERNS) >= 8
    assert not any(one.search("C0 drank") or one.fullmatch("drank") for one in PATTERNS)
