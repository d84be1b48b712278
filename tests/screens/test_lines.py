"""Running text takes as many rows as it was said to take before it was drawn."""

from __future__ import annotations

from hypothesis import example, given
from hypothesis import strategies as st
from textual.content import Content

from rounds.screens.lines import rows_of

WORDS = st.text(st.sampled_from("ab·é蛾"), min_size=1, max_size=30)
TEXTS = st.builds(
    lambda begin, words, gaps: (
        begin + "".join(word + gap for word, gap in zip(words, gaps, strict=False))
    ),
    st.sampled_from(["", " ", "   "]),
    st.lists(WORDS | st.text("x", min_size=1, max_size=8), max_size=12),
    st.lists(st.sampled_from([" ", " ", "  ", "", "\n"]), min_size=12, max_size=12),
)


@given(text=TEXTS, width=st.integers(10, 40))
@example(text="aaaa bbbb cccc   ", width=14)
@example(text=" " * 12 + "aa", width=10)
def test_a_text_takes_as_many_rows_as_it_is_wrapped_in(text: str, width: int) -> None:
    assert rows_of(text, width) == len(Content(text).wrap(width))
