"""Asking a question on a screen, and saying its answer at the desk."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime, timedelta

from textual import on
from textual.widget import Widget

from rounds.app.desk import Recorded, Refusal, Unsaved
from rounds.bench.plurals import count
from rounds.checks.answers import begin_host
from rounds.checks.due_state import Due, place_name
from rounds.checks.question import Amount, Answer, AnswerContext, Begun, Question
from rounds.checks.questions import question_for, question_for_all
from rounds.screens.page import Page
from rounds.screens.question import NOTHING_BELOW, QuestionBar
from rounds.views.actions import Scope, scopes_of, sign_of
from rounds.views.cautions import cautions_at
from rounds.views.cells import Line, line
from rounds.views.gaps import unsaved_words
from rounds.views.keys import enter_keys, handed
from rounds.views.question_lines import Below, asks_the_same, other_answers, recorded_lately
from rounds.views.words import clock, literal

SAME_ANSWER_S = 60.0  # the same key answers the same check once in this time


class QuestionPage(Page):
    """A page that can ask questions: while one is asked, its answers and the footer's keys alone
    are alive."""

    _when: datetime | None = None
    _further: Question | None = None  # the one more thing
    # what was asked before the answer that wants one more thing told
    _first: tuple[Question, Due, str, Below] | None = None

    def __init__(self) -> None:
        super().__init__()
        self.bar = QuestionBar(id="question")

    def on_mount(self) -> None:
        """A question stands there only while one is asked, but on a page that is made of them."""
        self.bar.display = self.bar.fills

    def work(self) -> Widget | None:
        """The question while one is asked."""
        return self.bar if self.is_asking else super().work()

    @property
    def is_asking(self) -> bool:
        """Whether a question is asked now."""
        return self.bar.question is not None

    @property
    def scopes(self) -> tuple[Scope, ...]:
        """While a question is asked, only what can be done beside answering it."""
        return scopes_of("question") if self.is_asking else self.SCOPES

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The screen's own keys rest while a question is asked; the question hands on those that
        are alive."""
        return not self.is_asking

    def ask(self, question: Question, due: Due, about: str = "") -> None:
        """Ask; the keys go to the question until it is answered."""
        self.bar.display = True
        self.add_class("-asking")
        self.put(handed(question, self.desk.bench.settings), due, about)
        self.set_focus(self.bar)
        cautions = cautions_at(due.check, self.desk.open_round)
        if cautions:
            self.tell(" ".join(cautions), "strong")
            self._stands = "caution"

    def ask_due(self, due: Due) -> None:
        """Ask the question of a check, with the place that it is of."""
        question = question_for(self.desk.bench, due, self.desk.now())
        self.ask(question, due, f"{literal(place_name(due))}: ")

    def about_due(self, due: Due | None) -> tuple[Line, ...]:
        """The container that is meant here, and that check."""
        from rounds.views.about import about_lines

        desk = self.desk
        return about_lines(desk.bench, self.here(), due, desk.moment(), desk.foresight)

    def put(self, question: Question, due: Due, about: str, below: Below = NOTHING_BELOW) -> None:
        """Put a question whose keys are the keeper's; what the last answer still wants told goes
        first."""
        further = self._further if self._first and self._first[1] == due else None
        self._first = (question, due, about, below) if further else None
        bar = self.bar
        if further:
            bar.ask(further, due, about)
        else:
            bar.ask(question, due, about, below)
        bar.enter_keys = enter_keys(self.desk.bench.settings)
        bar.actions = {key: action.id for action in self.actions() for key in action.key.split(",")}
        self.show_keys()

    def stop_asking(self) -> None:
        """Close the question and go back to work; its caution goes with it."""
        self._first = None
        if self._stands == "caution":
            self.tell("")
        self.bar.clear()
        self.bar.display = False
        self.remove_class("-asking")
        self.show_keys()
        self.back_to_work()

    def action_close_question(self) -> None:
        """Back to the question before, else close it."""
        if not self.asked_before():
            self.stop_asking()

    def asked_before(self) -> bool:
        """Ask again what was asked before the answer that wanted one more thing told; False where
        that is not so."""
        if self._first is None:
            return False
        first, self._first = self._first, None
        self.put(*first)
        return True

    def others_asked(self, due: Due) -> list[Due]:
        """All that the same answer is said of."""
        return [due]

    def when(self) -> datetime | None:
        """When the answers happened, where that is not now."""
        return self._when

    def head_lines(self, head: tuple[Line, ...]) -> tuple[Line, ...]:
        """The head, and as long as it holds: what is not saved, and that the next answers do not
        happen now."""
        if self.desk.unsaved.entries and "NOT SAVED" not in head[0].text:
            lines = count(len(self.desk.unsaved.entries), "line")
            waits = f"NOT SAVED: {lines}, {unsaved_words(self.desk.unsaved.are_kept)}"
            head = (line(waits, tone="danger"), *head[1:])
        if self._when is None:
            return head
        return (*head[:1], line(self._happened(self._when), tone="due"))

    def _happened(self, when: datetime) -> str:
        """That the next answers happened then."""
        at = clock(when, self.desk.now(), self.desk.zone)
        return f"the next answers happened at {at}; {self.sign('when')} again for now"

    @on(QuestionBar.Answered)
    def _answered(self, event: QuestionBar.Answered) -> None:
        now, amount, asked = self.desk.now(), event.amount, self.bar.question
        if event.answer.prompt:
            self._go_on_typing(event, event.answer.prompt)
            return
        dues = self.others_asked(event.due)
        checks = [(place_name(due), due.check) for due in dues]
        stays = event.answer.stays and not amount.is_given
        one_key = self._first is None and not stays
        lately = self.answered_lately(checks, event.answer, amount) if one_key else ""
        if lately:
            self.answered(Refusal(lately))
            return
        from rounds.app.round import NOT_KNOWN, led_to_all  # no first page needs it

        led = led_to_all(self.desk, event.answer, dues, amount, now)
        if isinstance(led, Question):
            self._ask_further(led, event.due)
            return
        self.asked_before()
        if isinstance(led, str):
            self.answered(Refusal(led))
        elif not led:
            self.answered(Refusal(NOT_KNOWN))
            self._go_on_typing(event, begin_host)
        else:
            outcome = self.desk.say_many(led, at=self.when())
            self.answered(outcome)
            if stays:
                self.ask_again(event.due)
            elif isinstance(outcome, Recorded | Unsaved):
                self.note_answered(checks, event.answer.key, amount)
                self.after_answer()
                self._tell_still(asked, event.due)

    def _tell_still(self, asked: Question | None, due: Due) -> None:
        """Where the same is asked still after an answer, say so, and what ends it."""
        now, question = self.bar.due, self.bar.question
        same = now is not None and (now.where, now.check) == (due.where, due.check)
        if same and question is not None and asks_the_same(question, asked):
            ends = next(iter(other_answers(question)), None)
            end = f"{sign_of(ends.key)} {ends.label}, " if ends else ""
            skip, undo = self.sign("skip_check"), self.sign("strike_last")
            self.tell(f"saved, still asked: {end}{skip} passes over; {undo} undo", "good")

    def _go_on_typing(
        self, event: QuestionBar.Answered, prompt: Callable[[AnswerContext], Begun]
    ) -> None:
        """Open the prompt with what the answer begins, and the number that was typed."""
        from rounds.app.round import context_of  # no first page needs it

        context = context_of(self.desk, event.due, event.amount, self.desk.now())
        self.open_prompt("".join(prompt(context)))

    def ask_again(self, due: Due) -> None:
        """Ask a question anew as it is asked now."""
        self.ask(question_for_all(self.desk.bench, self.others_asked(due)), due, self.bar.about)

    def _ask_further(self, question: Question, due: Due) -> None:
        bar = self.bar
        assert bar.question is not None
        self._first = self._first or (bar.question, due, bar.about, bar.below)
        self._further = question
        self.put(*self._first)

    def answered_lately(
        self, checks: Iterable[tuple[str, str]], answer: Answer, amount: Amount
    ) -> str:
        """Why the same key says nothing more of a check for a minute; empty where it was not
        pressed for it.

        Both clocks must agree on the minute: one stands still while the machine sleeps, the other
        may be set.
        """
        steady, now = self.host.monotonic(), self.desk.now()
        for where, check in checks:
            then = self.host.answered_lately.get((where, check, answer.key, str(amount)))
            if then is None:
                continue
            a_minute = timedelta(seconds=SAME_ANSWER_S)
            if steady - then[0] < SAME_ANSWER_S and now - then[1] < a_minute:
                return recorded_lately(where, check, answer, self.sign("strike_last"))
        return ""

    def note_answered(self, checks: Iterable[tuple[str, str]], key: str, amount: Amount) -> None:
        """Remember by which key a check was answered."""
        at = (self.host.monotonic(), self.desk.now())
        for where, check in checks:
            self.host.answered_lately[where, check, key, str(amount)] = at

    @on(QuestionBar.Unanswered)
    def _unanswered(self, event: QuestionBar.Unanswered) -> None:
        self.answered(Refusal(event.line))

    @on(QuestionBar.Pressed)
    def _pressed(self, event: QuestionBar.Pressed) -> None:
        getattr(self, f"action_{event.action}")()

    @on(QuestionBar.Meaningless)
    def _meaningless(self, event: QuestionBar.Meaningless) -> None:
        self.no_key(event.key, event.gone)

    def after_answer(self) -> None:
        """What follows an answer: back to the page, as it stands now."""
        self.stop_asking()
        self.show()

    def action_when(self) -> None:
        """Ask when the next answers happened; asked again, it is now again."""
        if self._when:
            self._when = None
            self.tell("the next answers happened now")
            self.show()
            return
        self.ask_words("when did it happen? -20m, 7:40, yesterday 18:10", self._set_when, "set")

    def _set_when(self, typed: str) -> None:
        from rounds.entries.phrase.times import read_time, which_of_two

        result = read_time(typed, now=self.desk.now(), zone=self.desk.zone)
        if not isinstance(result, datetime):
            self.answered(Refusal(result.message))
            return
        if result > self.desk.now() + timedelta(minutes=2):
            usual = "give a time that has passed, as -20m or 7:40"
            self.answered(Refusal(f"that is ahead of now; {usual}"))
            return
        self._when, text = result, self._happened(result)
        twice = which_of_two(typed, result, self.desk.now(), self.desk.zone)
        self.tell(f"{text} ({twice})" if twice else text)
        self.show()
