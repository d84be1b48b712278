"""A round walked by a script: stop by stop, question by question, the same entries as on the
screen."""

from __future__ import annotations

from typing import Literal

from rounds.app.desk import Desk, Outcome
from rounds.app.desk import Recorded as DeskSaid
from rounds.app.desk import Refusal as DeskRefused
from rounds.app.round import NOT_KNOWN, Walking, led_to_all
from rounds.checks.question import Answer as Choice
from rounds.checks.question import Question as Asks
from rounds.entries import registry as k
from rounds.scripting.outcome import recorded
from rounds.scripting.results import Answer, Question, Recorded, Refused, Stop
from rounds.views.plain_round import TypedAnswer, read_answer
from rounds.views.round_page import RoundPage

WASH = "Wash your hands."
END = "The walk is done."


class Round:
    """An open round.

    Args:
        desk: at the open book.
        name: of the round that begins; that of the hour if it is empty.
        minutes: that there are; 0 for as long as it takes.

    Raises:
        Refused: no round can begin.
    """

    def __init__(self, desk: Desk, name: str = "", minutes: float = 0) -> None:
        self._desk = desk
        self._walking = Walking(desk, glances=False)
        if self._walking.walk is None:
            self._kept(desk.start_round(name, minutes))
        self._page = self._walking.answered()

    @property
    def is_over(self) -> bool:
        """Whether the round has ended."""
        return self._page is None

    @property
    def stop(self) -> Stop | None:
        """Where the round stands; None at its end."""
        stop = self._walking.stop
        if stop is None or self._page is None:
            return None
        return Stop(
            where=stop.where or stop.place_kind,
            group=stop.group,
            number=self._walking.place + 1,
            of=len(self._walking.stops),
            open_checks=tuple(check.check for check in stop.open_checks),
        )

    @property
    def question(self) -> Question | None:
        """What is asked now; None once the round has ended."""
        page = self._page
        if page is None:
            return None
        if page.question is None or page.asked is None:
            return Question(
                "", WASH if page.wash else END, (Answer("enter", "goes on", "", usual=True),)
            )
        answers = tuple(
            Answer(answer.key, answer.label, _number(answer), answer.usual)
            for answer in page.question.answers
        )
        return Question(page.asked.check, page.question.text, answers)

    @property
    def answers(self) -> tuple[Answer, ...]:
        """The answers of the question that is asked now."""
        question = self.question
        return question.answers if question else ()

    def answer(
        self, key: str = " ", number: float | str | None = None, which: str = ""
    ) -> Recorded:
        """Answer what is asked.

        Args:
            key: of the answer; a space for the usual one, 'enter' where hands are washed or the
                walk is done.
            number: that goes with it, two as '22/26', or 'all'.
            which: of the animals, where a container holds several broods or stages: the words or
                the key of the choice.

        Raises:
            Refused: it is no answer here, or it cannot be recorded; nothing was written.
        """
        page = self._open_page()
        if page.question is None or page.asked is None:
            outcome = self._desk.record(k.HandsWashed) if page.wash else self._desk.finish_round()
            return self._kept(outcome)
        typed = f"{'' if number is None else _plain(number)} {'' if key == 'enter' else key}"
        given = read_answer(
            page.question, typed if key == " " and number is None else typed.strip()
        )
        if isinstance(given, str):
            raise Refused(given)
        return self._kept(self._say(given, page, which))

    def skip(self, reason: str, *, whole_stop: bool = False) -> Recorded:
        """Pass over the question, or the whole stop, with a reason; it comes back at the end.

        Raises:
            Refused: nothing is asked, or no reason is given.
        """
        page = self._open_page()
        if page.asked is None:
            raise Refused("nothing is asked here that could be skipped")
        return self._kept(self._walking.skip([page.asked], reason, whole_stop=whole_stop))

    def leave(self) -> None:
        """Leave the round open; it goes on where it was left."""
        self._page = None

    def finish(self) -> Recorded:
        """End the round, whatever is left open.

        Raises:
            Refused: it has ended already.
        """
        self._open_page()
        return self._kept(self._desk.finish_round())

    def _open_page(self) -> RoundPage:
        if self._page is None:
            raise Refused("this round has ended; begin another one")
        return self._page

    def _say(self, given: TypedAnswer, page: RoundPage, which: str) -> Outcome:
        assert page.asked is not None
        if given.answer.prompt:
            raise Refused(
                f"'{given.answer.label}' wants words: record it as a phrase, then skip this"
                " question or go on"
            )
        led = led_to_all(self._desk, given.answer, [page.asked], given.amount, self._desk.now())
        if isinstance(led, Asks):
            chosen = read_answer(led, which) if which else ""
            if not isinstance(chosen, TypedAnswer):
                wants = "which" if led.by_enter is None else "number"
                choices = ", ".join(answer.label for answer in led.answers)
                return DeskRefused(
                    f"{led.text} Give {wants}{f', one of: {choices}' if wants == 'which' else ''}"
                )
            return self._say(chosen, page, "")
        if isinstance(led, str):
            return DeskRefused(led)
        return self._desk.say_many(led) if led else DeskRefused(NOT_KNOWN)

    def _kept(self, outcome: Outcome) -> Recorded:
        done = recorded(self._desk, outcome)
        if isinstance(outcome, DeskSaid):
            self._page = self._walking.answered()
        return done


def _number(answer: Choice) -> Literal["", "may", "must"]:
    if answer.takes is None:
        return ""
    return "must" if answer.must else "may"


def _plain(number: float | str) -> str:
    return number if isinstance(number, str) else f"{number:g}"
