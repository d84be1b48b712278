"""The round in large letters: the question and the two likeliest answers fill the screen, to be
read with a butterfly in hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec import Struct

from rounds.checks.question import Question
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.views.block_letters import block_letters, half_letters
from rounds.views.cells import Cell, Line, line
from rounds.views.fitting import Fitted, joined, wrapped
from rounds.views.question_lines import Below, keys_and_labels
from rounds.views.round_page import RoundPage
from rounds.views.states import SIGNS, TONES, WORSE_THAN_DUE, State, place_words, state_of
from rounds.views.stop_page import since_words

GAP = "      "
LARGE_AT_ONCE = 2  # answers that are drawn large


def state_row(page: RoundPage, moment: Moment, width: int) -> tuple[Line, ...]:
    """Where one is and how the check stands, in one row; what is in danger fills it whole."""
    stop = page.head[0].cells[1].text.strip()
    if page.asked is None:
        return (line(stop),)
    state = state_of(page.asked, moment.now)
    word: State = "due" if state == "in order" else state
    before, said = (
        f"{stop}   {page.where}   {SIGNS[word]} ",
        since_words(page.asked, moment) or word,
    )
    if word == "in danger":
        return (line(f"{before}{said}".ljust(width), tone=TONES[word]),)
    return (line(before, Cell(said, TONES[word] if word in WORSE_THAN_DUE else "plain")),)


def large_heading(page: RoundPage, width: int) -> tuple[Line, ...]:
    """What a page is where nothing is asked."""
    words = "wash hands" if page.wash else "the end" if page.done else "all done"
    return tuple(line(row, tone="strong") for row in block_letters(words, width))


def large_words(page: RoundPage) -> str:
    """What is asked of which place in a word or two, that can be read from two metres."""
    if page.asked is None:
        return "as usual?"
    what = "as usual" if page.is_glance else CHECKS[page.asked.check].label.rstrip("?")
    place = place_words(page.asked)
    return f"{what}?" if what.startswith(place) else f"{place} {what}?"


class Large(Struct, frozen=True):
    """How the question of a page is laid out in large letters; what it wants besides is asked in
    its own words."""

    of: Question
    words: str

    def __call__(
        self,
        question: Question,
        typed: str,
        about: str,
        below: Below,
        width: int,
        rows: int,
        part: int = 0,
    ) -> Fitted:
        """What is asked, then two answers with their keys, both in the size that fits both, so that
        none is larger than the usual one before it; the others below in capitals.

        The next part has the next two answers large.
        """
        told = keys_and_labels(question)
        parts = max(1, -(-len(told) // LARGE_AT_ONCE))
        begin = min(part, parts - 1) * LARGE_AT_ONCE
        chosen, others = (
            told[begin : begin + LARGE_AT_ONCE],
            told[:begin] + told[begin + LARGE_AT_ONCE :],
        )
        asked = self._asked(question, typed, about, width)
        lines = list(asked)
        room = rows - len(asked) - (1 if others else 0)
        large = _in_one_size(chosen, width)
        for position, (sign, label) in enumerate(chosen):
            after = len(chosen) - position - 1  # rows that the other wants at the least
            drawn = large[position] if large else []
            if not drawn or room - after < len(drawn):
                drawn = _in_capitals(sign, label, width)
            room -= len(drawn)
            lines += drawn
        care = [row for one in below.care for row in wrapped(one, width)]
        small = [*care, *_small(question, others, width)][: max(1, rows - len(lines))]
        blank = [line("")] if rows > len(lines) + len(small) else []
        return Fitted((*lines, *blank, *small), parts)

    def _asked(self, question: Question, typed: str, about: str, width: int) -> list[Line]:
        number = f"   number {typed}_" if typed else ""
        whole = line(
            f"  {about}{question.text}   {question.seen}".rstrip(), Cell(number, "due"), hang=2
        )
        letters = (block_letters, half_letters) if question is self.of else ()
        drawn = next((rows for one in letters if (rows := one(self.words, width))), ())
        if not drawn:
            return wrapped(
                line(
                    Cell(f"  {about}{question.text}".upper(), "strong"), Cell(number, "due"), hang=2
                ),
                width,
            )
        return [*(line(row, tone="strong") for row in drawn), *wrapped(whole, width)]


def _in_one_size(chosen: Sequence[tuple[str, str]], width: int) -> list[list[Line]]:
    """Answers in the largest letters in which all of them fit; none where they fit in none."""
    for letters in (block_letters, half_letters):
        drawn = [_drawn(sign, label, width, letters) for sign, label in chosen]
        if all(drawn):
            return drawn
    return []


def _drawn(
    sign: str, label: str, width: int, letters: Callable[[str, int], tuple[str, ...]]
) -> list[Line]:
    """An answer in large letters with an empty row above, which has the name of a key that is no
    letter. Of one that is too long for a row its first words are drawn, and all of it stands above;
    nothing where those are too long too.
    """
    named = len(sign) > 1
    key = "" if named else f"{sign}: "  # 'a leaf put in' would read as an article
    first = label.partition(",")[0]
    above = sign if named else ""
    rows = letters(f"{key}{label}", width)
    if not rows and first != label:
        above, rows = f"{sign}  {label.upper()}", letters(f"{key}{first}", width)
    return [line(above, tone="due"), *(line(row, tone="due") for row in rows)] if rows else []


def _in_capitals(sign: str, label: str, width: int) -> list[Line]:
    return wrapped(line(f"  {sign}  {label.upper()}", tone="due"), width)


def _small(question: Question, told: Sequence[tuple[str, str]], width: int) -> list[Line]:
    number = question.number_words
    words = [f"{sign}  {label.upper()}" for sign, label in told] + (
        [f"{number[0]}  {number[1]}"] if number else []
    )
    rows = joined(words, width - 2, GAP)
    return [row for one in rows for row in wrapped(line(f"  {one}"), width)]
