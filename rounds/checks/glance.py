"""One look, one key: what a single glance at a container answers is asked as one question.

Space gives the usual answer of each check that was shown. An answer that differs is given to its
own check alone; the others are asked on. What wants a hand (drank, searched, counted, cleaned), and
what is in danger or urgent before it, is asked by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from typing import TypeVar, get_args

from msgspec.structs import replace

from rounds.bench.plurals import in_a_row, of_stage
from rounds.bench.state import Bench
from rounds.checks.due_state import Due, container_of, pressing
from rounds.checks.facts import left_be_until
from rounds.checks.question import Answer, AnswerContext, Question
from rounds.checks.questions import question_for
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import EARLY
from rounds.entries.base import Saying, Stage

MAX_ANSWERS = 12  # beside the usual one and found dead: as many letters as one hand has
A_DAY_AND_A_HALF = timedelta(hours=36)
LIKELIEST = 3  # answers of the first check that stand before those of the others
T = TypeVar("T")


def glanced(bench: Bench, open_checks: Sequence[Due], now: datetime) -> tuple[Due, ...]:
    """The checks that one look answers together with the first of these; none where that is asked
    by itself."""
    dues = [due for due in open_checks if _is_seen(bench, due, now)]
    return tuple(dues) if len(dues) > 1 and dues[0] is open_checks[0] else ()


def asked_along(
    bench: Bench, dues: Sequence[Due], asked: Sequence[Due], now: datetime, before: datetime
) -> list[Due]:
    """What is done at a stop in passing, though it is not due yet: what its look answers too, and
    what takes a moment. Nobody comes again for it in the next round.

    Args:
        dues: of one container, none of which was put off.
        asked: those of them that are asked anyway; nothing that is looked at is asked along unless
            a look answers one of them, or it is sprayed or aired: who stands before it looks.
        before: when the round after the next begins.
    """
    looks = any(CHECKS[due.check].along or _is_seen(bench, due, now) for due in asked)
    checks = {due.check for due in asked}
    return [
        due
        for due in dues
        if due.check not in checks
        and (
            (CHECKS[due.check].along and _is_half_over(due, now, before))
            or (looks and _is_half_over(due, now, before, EARLY) and _is_seen(bench, due, now))
        )
    ]


def _is_half_over(
    due: Due, now: datetime, before: datetime, early: timedelta = timedelta(0)
) -> bool:
    """Whether half of the time from the last answer to the next has gone by, and that is before
    some instant; never of what is asked each round anyway.

    Args:
        early: so long before half of two days or more, for rounds are never quite as far apart.
    """
    if due.since is None or (due.rule is not None and due.rule.each_round):
        return False
    span = due.due - due.since
    margin = early if span > A_DAY_AND_A_HALF else timedelta(0)
    return due.due < before + margin and now + margin - due.since >= span / 2


def _is_seen(bench: Bench, due: Due, now: datetime) -> bool:
    state = pressing(due, now)
    if state == "in danger" or (state == "urgent" and due.danger is not None):
        return False
    usual = question_for(bench, due, now).usual
    return bool(_sight(bench, due, now)) and usual is not None and not usual.touches


def _sight(bench: Bench, due: Due, now: datetime) -> str:
    glance, container = CHECKS[due.check].glance, container_of(bench, due)
    return glance(bench, due, container, now) if glance and container else ""


def glance_question(bench: Bench, dues: Sequence[Due], now: datetime) -> Question:
    """The one question of several checks that one look answers.

    Of two answers with one key the first stands; what is left out is there where each is asked by
    itself.
    """
    in_order = sorted(dues, key=lambda due: (not CHECKS[due.check].leads, CHECKS[due.check].place))
    asked = [(due, question_for(bench, due, now)) for due in in_order]
    usual = _usual(bench, asked, now)
    answers = {usual.key: usual} | _differing(asked)
    first = CHECKS[asked[0][0].check]
    quiet = _is_left_be(bench, dues[0], now)
    text = asked[0][1].text if first.leads else "Is all as before?" if quiet else "Is all as usual?"
    sights = [_sight(bench, due, now) for due, _ in asked]
    seen = ", ".join(sights)
    return Question(text, tuple(answers.values()), seen=f"{seen[0].upper()}{seen[1:]}.")


def _meant(bench: Bench, due: Due) -> str:
    """What a check is about, by name; of some their animals."""
    container = container_of(bench, due)
    there = {lot.stage for lot in container.lots} if container is not None else set()
    if not CHECKS[due.check].by_animals or not there:
        return CHECKS[due.check].label
    in_order = (stage for stage in get_args(Stage) if stage in there)
    return in_a_row([of_stage(2, stage).removeprefix("2 ") for stage in in_order])


def _recorded(bench: Bench, due: Due, question: Question) -> str:
    """What the usual answer records of a check: ``adults as usual``, ``host fresh``."""
    label = question.usual.label if question.usual is not None else ""
    name = _meant(bench, due)
    return label if name in label.split() else f"{name} {label}"


def _differing(asked: Sequence[tuple[Due, Question]]) -> dict[str, Answer]:
    """What differs, by its key, each given to its own check: the likeliest of the first, all of the
    others, then the rest.

    Of two with one key what happened to animals stands before plants and barriers, and these before
    signs.
    """

    def told(due: Due, question: Question, *, is_named: bool) -> list[Answer]:
        differing = (answer for answer in question.by_likelihood if not answer.usual)
        return [_about(answer, due, is_named=is_named) for answer in differing]

    first = told(*asked[0], is_named=False)
    others = [answer for one in asked[1:] for answer in told(*one, is_named=True)]
    happened = [answer for answer in first if answer.takes is not None] or first
    wins: dict[str, Answer] = {}
    for answer in (*happened, *others, *first):
        wins.setdefault(answer.key, answer)
    likely = first if CHECKS[asked[0][0].check].leads else happened[:LIKELIEST]
    in_order = dict.fromkeys((*likely, *others, *first))
    kept = [answer for answer in in_order if wins[answer.key] is answer]
    losses = [answer for answer in kept if answer.loss]
    return {
        answer.key: answer
        for answer in kept
        if answer.loss or kept.index(answer) < MAX_ANSWERS + len(losses)
    }


def _usual(bench: Bench, asked: Sequence[tuple[Due, Question]], now: datetime) -> Answer:
    """The answer that says of each check that it is as usual."""
    due, question = asked[0]
    own = question.usual
    leads = own is not None and CHECKS[due.check].leads
    label = f"yes, {', '.join(_recorded(bench, due, question) for due, question in asked)}"
    if _is_left_be(bench, due, now):
        label = "as before, nothing changed"
    return Answer(
        own.key if own and leads else "space",
        own.label if own and leads else label,
        lambda context: _all_usual(context, asked),
        usual=True,
    )


def _is_left_be(bench: Bench, due: Due, now: datetime) -> bool:
    container = container_of(bench, due)
    return container is not None and left_be_until(container, now) is not None


def _all_usual(context: AnswerContext, questions: Sequence[tuple[Due, Question]]) -> list[Saying]:
    """What the usual answer of each says."""
    return [
        saying
        for due, question in questions
        if question.usual is not None
        for saying in question.usual.says(replace(context, due=due))
    ]


def _about(answer: Answer, due: Due, *, is_named: bool) -> Answer:
    """An answer that is given to its own check, whichever was asked first."""

    def of_it(says: Callable[[AnswerContext], T]) -> Callable[[AnswerContext], T]:
        return lambda context: says(replace(context, due=due))

    label = CHECKS[due.check].label
    # leaf put in; and a look answers with what is seen
    says_itself = answer.label.startswith(f"{label} ") or CHECKS[due.check].by_animals
    return replace(
        answer,
        label=answer.label if not is_named or says_itself else f"{label}: {answer.label}",
        says=of_it(answer.says),
        none=of_it(answer.none) if answer.none else None,
        prompt=of_it(answer.prompt) if answer.prompt else None,
    )
