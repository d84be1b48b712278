"""Asking a question on a screen, and saying its answer at the desk."""

from __future__ import annotations

from datetime import datetime, timedelta

from textual import on

from rounds.bench.phrase import read_time
from rounds.care.due import Due
from rounds.desk import Refused, Said, Unsaved
from rounds.screens.page import Page
from rounds.screens.question import QuestionBar
from rounds.views.asked import Asked, Question
from rounds.views.cautions import cautions_at
from rounds.views.cells import Cell, Line, line
from rounds.views.keys import handed
from rounds.views.walking import NOT_KNOWN, NUMBER_FIRST, sayings_of
from rounds.views.words import clock, count


class Asking(Page):
    """A page that can ask questions."""

    _when: datetime | None = None

    def ask(self, question: Question, due: Due, about: str = "") -> None:
        """Ask; the keys go to the question until it is answered."""
        bar = self.query_one(QuestionBar)
        bar.display = True
        bar.ask(handed(question, self.desk.bench.settings), due, about)
        self.set_focus(bar)
        cautions = cautions_at(due.check, self.desk.open_round)
        if cautions:
            self.tell(" ".join(cautions), "strong")

    def stop_asking(self) -> None:
        """Close the question and go back to work."""
        bar = self.query_one(QuestionBar)
        bar.clear()
        bar.display = False
        self.back_to_work()

    def others_asked(self, due: Due) -> list[Due]:
        """All that the same answer is said of."""
        return [due]

    def when(self) -> datetime | None:
        """When the answers happened, where that is not now."""
        return self._when

    def head_lines(self, head: tuple[Line, ...]) -> tuple[Line, ...]:
        """The head, and as long as it holds: what is not saved, and that the next answers do not happen now."""
        if self.desk.unsaved and "NOT SAVED" not in head[0].text:
            waits = f"NOT SAVED: {count(len(self.desk.unsaved), 'line')}, kept and tried again each second"
            head = (line(Cell(waits, "red")), *head[1:])
        if self._when is None:
            return head
        told = f"the next answers happened at {clock(self._when, self.desk.now(), self.desk.zone)}; {self.sign('when')} again for now"
        return (*head[:1], line(Cell(told, "due")))

    @on(QuestionBar.Answered)
    def _answered(self, event: QuestionBar.Answered) -> None:
        now = self.desk.now()
        if event.answer.prompt:
            asked = Asked(self.desk.bench, event.due, now, event.number, event.second)
            self.open_prompt(event.answer.prompt(asked))
            return
        sayings = sayings_of(self.desk, event.answer, self.others_asked(event.due), event.number, event.second, now)
        if not sayings:
            self._cannot(event)
            return
        outcome = self.desk.say_many(sayings, at=self.when())
        self.answered(outcome)
        if isinstance(outcome, Said | Unsaved):
            self.after_answer()

    def _cannot(self, event: QuestionBar.Answered) -> None:
        if event.answer.number == "must":
            self.answered(Refused(NUMBER_FIRST))
            return
        self.answered(Refused(NOT_KNOWN))
        self.open_prompt(f"{event.due.where} host in ")

    @on(QuestionBar.Unanswered)
    def _unanswered(self, event: QuestionBar.Unanswered) -> None:
        self.answered(Refused(event.line))

    def after_answer(self) -> None:
        """What follows an answer."""

    def action_when(self) -> None:
        """Ask when the next answers happened; asked again, it is now again."""
        if self._when:
            self._when = None
            self.tell("the next answers happened now")
            self.show()
            return
        self.ask_words("when did it happen? -20m, 7:40, yesterday 18:10", self._set_when)

    def _set_when(self, typed: str) -> None:
        found = read_time(typed, now=self.desk.now(), zone=self.desk.zone)
        if not isinstance(found, datetime):
            self.answered(Refused(found.message))
            return
        if found > self.desk.now() + timedelta(minutes=2):
            self.answered(Refused("that is ahead of now; give a time that has passed, as -20m or 7:40"))
            return
        self._when = found
        self.tell(f"the next answers happened at {clock(found, self.desk.now(), self.desk.zone)}; {self.sign('when')} again for now")
        self.show()
