"""Which question a due check asks, as it fits what is there, in the keeper's own units."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from msgspec.structs import replace

from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench
from rounds.checks.due_state import Due, container_of, place_name
from rounds.checks.facts import left_be_until
from rounds.checks.question import DEGREES, DEPTH, Answer, Number, Question
from rounds.checks.registry import CHECKS

QUESTIONS: dict[str, Question] = {check.name: check.question for check in CHECKS.values()}
# What the keys of a skip say is only the reason; the screen knows what is passed over.
OTHER_WORDS, ASLEEP = "other words", "animals asleep"
SKIP_QUESTION = Question(
    "Why?",
    tuple(
        Answer(key, reason, lambda context: [])
        for key, reason in (
            ("l", "no light"),
            ("s", ASLEEP),
            ("b", "do not disturb"),
            ("m", "no time"),
            ("k", "looked, not needed"),
            ("o", OTHER_WORDS),
        )
    ),
)


def skip_question(due: Due) -> Question:
    """Why a check is passed over; only of a container its animals may be asleep."""
    if due.place_kind == "container":
        return SKIP_QUESTION
    left = tuple(answer for answer in SKIP_QUESTION.answers if answer.label != ASLEEP)
    return replace(SKIP_QUESTION, answers=left)


def question_for(bench: Bench, due: Due, now: datetime | None = None) -> Question:
    """The question that a due check asks, with the answers that fit what is there.

    Args:
        now: when it is asked; without it, as if nothing were to be left undisturbed.
    """
    check = CHECKS[due.check]
    container = container_of(bench, due)
    asked = check.question if check.ask is None else check.ask(bench, due, container, now)
    question = _in_units(asked, measures_of(bench.settings))
    undisturbed = (
        container is not None and now is not None and left_be_until(container, now) is not None
    )
    if container is None or not undisturbed or check.through_lid is None:
        return question
    return check.through_lid(question, container)


def question_for_all(bench: Bench, dues: Sequence[Due], now: datetime | None = None) -> Question:
    """The question that the same check of several places asks at once, with the answers that fit
    every one of them.

    An answer that says something of its own of one place, as of the lots kept there, is not among
    them.
    """
    questions = [question_for(bench, due, now) for due in dues]
    first, *others = questions
    shared = tuple(one for one in first.answers if all(one in other.answers for other in others))
    alike = all(other.text == first.text for other in others)
    text = first.text if alike else CHECKS[dues[0].check].question.text
    likeliest = first.first if all(other.first == first.first for other in others) else ()
    usual = {
        question.usual.label: place_name(due)
        for due, question in zip(reversed(dues), reversed(questions), strict=True)
        if question.usual
    }
    if len(usual) < 2 or any(answer.usual for answer in shared):
        return Question(text, shared, first=likeliest)
    told = ", ".join(f"{label} ({where})" for label, where in reversed(usual.items()))
    return Question(text, shared, f"not for all: {told}", first=likeliest)


def _in_units(question: Question, measures: Measures) -> Question:
    """A question about warmth or depth in the keeper's own units."""
    text, answers = question.text, question.answers
    if measures.temperature == "F":
        text = text.replace("21.4", "70.5").replace("15/24", "59/75")
        answers = _taking(answers, DEGREES, "degrees F")
    if measures.length == "in":
        answers = _taking(answers, DEPTH, "depth in inches")
    return replace(question, text=text, answers=answers)


def _taking(answers: tuple[Answer, ...], number: Number, words: str) -> tuple[Answer, ...]:
    return tuple(
        replace(answer, takes=replace(number, words=words)) if answer.takes == number else answer
        for answer in answers
    )
