"""The round as lines to be read aloud: the same words as on the screen, one thing a line, nothing drawn."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rounds.bench.state import Bench
from rounds.checks.due import Due, because, last_answered, why
from rounds.checks.question import ALL, Amount, Answer, Question
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.checks.worth import worth_of
from rounds.views.actions import sign_of
from rounds.views.cells import Line
from rounds.views.keys import sign_in
from rounds.views.round_page import RoundPage, before_words, pressing_words
from rounds.views.words import literal

_GAPS = re.compile(r"\s{2,}")
_AMOUNT = r"-?[0-9][0-9.,/-]*|\.(?=\s|$|[a-z])|all(?=\s|$)"
_TYPED = re.compile(rf"^(?P<number>{_AMOUNT})?\s*(?P<word>.*)$", re.IGNORECASE)
_NUMBER_LAST = re.compile(r"^(?P<word>\S.*?)\s+(?P<number>[0-9]+|all)$", re.IGNORECASE)

# What a line can do besides answering: the same keys as on the screen, what may follow on the line, and what it does.
ON_A_LINE: tuple[tuple[str, str, str], ...] = (
    ("skip_check", "and a reason", "passes over this question; it comes back at the end"),
    ("skip_stop", "and a reason", "passes over the whole stop; it comes back at the end"),
    ("strike_last", "", "strikes what was said last; the line stays in the daybook"),
    ("suspect", "", "marks the container suspect: it goes to the end of the walk now"),
    ("when", "and a time, as -20m or 7:40", "says when the next answers happened; alone, now again"),
    ("note", "and words", "keeps a note of this container"),
    ("photo", "and a path, or newest", "copies a picture into the book"),
    ("prompt", "and a line, as K7 drank 2 -20m", "says anything at all"),
    ("help", "", "says what is asked here, why, and what can be typed"),
    ("quit", "", "leaves; the round goes on where it was left"),
)


@dataclass(frozen=True, slots=True)
class Given:
    """An answer as it was typed, with any number before it."""

    answer: Answer
    amount: Amount


def spoken(line: Line) -> str:
    """A line of the screen as a sentence: where the screen leaves a gap, a comma."""
    return _GAPS.sub(", ", line.text.strip())


def keys_on_a_line(settings: Mapping[str, str]) -> dict[str, str]:
    """The key of each thing that a line can do, by the action's name, as this book has it."""
    return {name: sign_in(settings, "round", name) or sign_in(settings, "bench", name) for name, _, _ in ON_A_LINE}


def opening_line(settings: Mapping[str, str]) -> str:
    """What is said once at the start."""
    key = keys_on_a_line(settings)["help"]
    return f"A space and Enter gives the usual answer, Enter alone says the question again, {key} what else can be typed."


def command_lines(settings: Mapping[str, str]) -> Iterator[str]:
    """What can be typed besides an answer."""
    keys = keys_on_a_line(settings)
    for name, follows, does in ON_A_LINE:
        yield f"{keys[name]}{f' {follows}' if follows else ''}: {does}."


def stop_lines(page: RoundPage) -> Iterator[str]:
    """What is said on coming to a stop."""
    for line in (*page.head, *page.card):
        if line.text.strip():
            yield spoken(line)


def question_lines(page: RoundPage, bench: Bench, moment: Moment, *, again: bool = False) -> Iterator[str]:
    """The question with why it is asked and its caution, then its answers; asked again, without the two."""
    if page.question is None or page.asked is None:
        return
    due = page.asked
    last = before_words(due, bench, moment)
    before = f"last {last}" if last_answered(due, bench) else last
    since = pressing_words(due, moment)
    pressing = f" {since[0].upper()}{since[1:]}." if since else ""
    yield f"{CHECKS[due.check].label}, {before}.{pressing} {page.question.text}"
    if (since or due.reason) and not again:
        yield f"Why: {literal(because(due, bench, moment))}."
    for care in () if again else page.care:
        yield f"Care: {care.cells[-1].text}"
    yield from answer_lines(page.question)


def answer_lines(question: Question) -> Iterator[str]:
    """The answer keys in one line, and what a number means."""
    told = [f"{sign_of(one.key)} {one.label}{' (usual)' if one.usual else ''}" for one in question.answers if one.key != "enter"]
    if question.number_words:
        told.append(": ".join(question.number_words))
    yield ", ".join(told)


def why_spoken(bench: Bench, due: Due, moment: Moment) -> Iterator[str]:
    """What the check is, why it is due, and what the rule rests on."""
    told = why(due, bench, moment)
    yield f"{CHECKS[due.check].question.text} {CHECKS[due.check].help}"
    yield f"Why: {told.rule}. {told.last}. {told.arithmetic}"
    worth = worth_of(bench, due, moment)
    yield f"Worth: {worth.words}. {worth.arithmetic}"
    yield f"From: {told.source}"


def read_answer(question: Question, typed: str) -> Given | str:
    """An answer as it was typed: its key or its words, a number (or all) before or after it; or one line that says what is right.

    A number alone is an answer only where the question asks for that number, as with Enter on the screen.
    """
    if typed and not typed.strip():
        return Given(question.usual, Amount()) if question.usual else f"there is no usual answer here; {_choices(question)}"
    text = typed.strip()
    own = _answer_called(question, text)
    if own is not None:
        return Given(own, Amount())
    found = _NUMBER_LAST.match(text) or _TYPED.match(text)
    number, word = (found["number"] or "", found["word"]) if found else ("", text)
    number = ALL if number.casefold() == "all" else number.replace(",", ".")
    chosen = _answer_called(question, word) if word else question.by_enter
    if chosen is None:
        takes_it = number and not word and question.takers
        return question.enter_refusal(number) if takes_it else f"'{text}' is no answer here; {_choices(question)}"
    wrong = question.number_refusal(number, chosen) if number else ""
    return wrong or Given(chosen, Amount.of(number))


def _answer_called(question: Question, word: str) -> Answer | None:
    """The answer of that key or those words; Enter is no word."""
    named = word.casefold()
    return next((one for one in question.answers if one.key != "enter" and named in (one.key, one.label.casefold())), None)


def _choices(question: Question) -> str:
    keys = [f"{sign_of(one.key)} {one.label}" for one in question.answers if one.key != "enter"]
    if question.number_words:
        keys.append("a number" if question.by_enter else "a number before its key")
    return f"it can be {', '.join(keys)}"
