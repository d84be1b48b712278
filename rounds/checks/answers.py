"""Answers that several questions share.

A word has the same key in every question. d is always drank, h hand-fed, l limp, m moulted, s not
moving, 0 none; f is found dead, and no answer that ends animals is one key. A number typed before a
key goes with it; a number and Enter are an answer only where the question asks for that number.
Space gives the usual answer, where there is one that a look alone can give.
"""

from __future__ import annotations

from msgspec.structs import replace

from rounds.bench.state import Container
from rounds.checks.answer_entries import (
    added,
    air,
    begin_host,
    grown,
    moulted,
    offered,
    put_off,
    say,
    with_number,
)
from rounds.checks.question import DEGREES, HOW_MANY, STEMS, Answer, Number, Question
from rounds.entries import registry as k

DEAD_KEY = "f"
HOW_MANY_DRANK = Number("how many drank")
COUNTED_THERE = Number("how many counted", "count")

DRANK = Answer("d", "drank", with_number(k.Drank), HOW_MANY_DRANK, none=offered)
HATCHED = Answer("y", "hatched", grown(k.Hatched), takes=HOW_MANY)
MOULTED = Answer("m", "moulted", moulted, takes=HOW_MANY)
PUPATED = Answer("p", "pupated", grown(k.Pupated), takes=HOW_MANY)
EMERGED = Answer("e", "emerged", grown(k.Emerged), takes=HOW_MANY)
DEAD = Answer(DEAD_KEY, "found dead", grown(k.Died), takes=HOW_MANY, must=True, loss=True)
DARKENING = Answer("k", "darkening", with_number(k.Looked, sign="darkening"), takes=HOW_MANY)
LIMP = Answer("l", "limp", say(k.HostSeen, state="limp"))
NEW_ADDED = Answer("a", "new added", added, takes=STEMS, touches=True)
ANOTHER_PLANT = Answer("p", "another plant", lambda context: [], prompt=begin_host, touches=True)
INTO_SHADE = Answer("k", "into shade", say(k.Light, to="shade"))
LID_OPENED = Answer("a", "lid opened", say(k.LidOpened))
READ_AGAIN = Answer("enter", "read again", air, DEGREES, must=True, by_enter=True)
DISCARDED = "discarded"

_WAIT = Answer("b", "wait, do not disturb", put_off(10, "not to be disturbed"))
LID_STAYS_ON = Answer(
    "space", "wait, the lid stays on", put_off(2, "not to be disturbed"), usual=True
)


A_DAY_LATER_H = 21  # so that a round as early as any is asked a day later


def unchanged(label: str) -> Answer:
    """Space puts the check off to the round a day later; its words are the reason."""
    return Answer("space", label, put_off(A_DAY_LATER_H, label), usual=True)


def none_in(text: str) -> Question:
    """What is asked where no plant is in on record."""
    return Question(text, (replace(NEW_ADDED, label="plant put in"), ANOTHER_PLANT))


def or_opened(question: Question, container: Container) -> Question:
    """Of a container that is not to be disturbed: to wait is the usual answer, and all others
    stand."""
    others = tuple(
        replace(answer, usual=False)
        for answer in question.answers
        if answer.key != LID_STAYS_ON.key
    )
    return Question(
        f"The lid stays on: wait? Or opened all the same: {question.text}", (LID_STAYS_ON, *others)
    )


def seen_through_lid(question: Question, text: str, *beside: Answer) -> Question:
    """Only what a look from outside can answer; where there is nothing to see, to wait is an
    answer."""
    if not any(answer.usual for answer in question.answers):
        return replace(question, answers=(_WAIT, *(one for one in question.answers if one.prompt)))
    return Question(text, (*(one for one in question.answers if not one.touches), *beside))
