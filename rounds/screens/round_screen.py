"""The round: one stop after another, each check asked in turn."""

from __future__ import annotations

from functools import cached_property, partial
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.containers import VerticalScroll

from rounds.app.desk import Refused, Said, Unsaved
from rounds.app.round import Walking, key_of
from rounds.checks.due import Due
from rounds.checks.due_state import place_name
from rounds.checks.questions import OTHER_WORDS, SKIP_QUESTION
from rounds.entries import registry as k
from rounds.screens.lines import Lines
from rounds.screens.page import Page, bindings_of
from rounds.screens.question import QuestionBar
from rounds.screens.question_page import Asking
from rounds.views.about import about_lines
from rounds.views.actions import Scope
from rounds.views.cells import Line
from rounds.views.keys import enter_keys, handed, sign_in
from rounds.views.large_page import large_lines
from rounds.views.round_page import RoundPage
from rounds.views.settings import setting_of
from rounds.views.words import literal


class RoundScreen(Asking):
    """The walk along the bench."""

    SCOPES: ClassVar[tuple[Scope, ...]] = ("everywhere", "round")
    BINDINGS = bindings_of(*SCOPES)

    def __init__(self) -> None:
        super().__init__()
        self._skipping: str | None = None
        self._place = ("", "", False)  # the stop and the check in front

    @cached_property
    def walking(self) -> Walking:
        """The open round, stop by stop."""
        return Walking(self.desk)

    def body(self) -> ComposeResult:
        """The stop's card, its checks, the question."""
        with VerticalScroll(id="walk", can_focus=False):
            yield Lines(id="stop", markup=False)
            yield Lines(id="checks", markup=False)
        yield self.bar

    def on_mount(self) -> None:
        """The question has the keys."""
        self.set_focus(self.bar)

    def show(self) -> None:
        """Draw the present stop from the desk."""
        self._draw(self.walking.see())

    def _draw(self, page: RoundPage | None) -> None:
        if page is None:
            if self.is_current:
                key = sign_in(self.desk.bench.settings, "bench", "round")
                self.host.leave_round(f"{self.walking.over_words()} {key} begins the next.")
            return
        self.query_one("#head", Lines).show(self.head_lines(page.head))
        large = self._is_large
        self.set_class(large, "-large")
        width = self.size.width - 2
        moment = self.desk.moment()
        card = large_lines(self.desk.bench, page, self.walking.stop, moment, width) if large else page.card
        self.query_one("#stop", Lines).show(card)
        self.query_one("#checks", Lines).show(() if large else page.checks + page.care)
        self.bar.spread = large
        self._page = page
        stop = self.walking.stop
        place = (key_of(stop) if stop else "", page.asked.check if page.asked else "", page.wash)
        if place != self._place:
            self._place = place
            self.moved_on()
        self._show_question()

    @property
    def scopes(self) -> tuple[Scope, ...]:
        """What can be done beside answering is the same at every stop."""
        return self.SCOPES

    def _show_question(self) -> None:
        due = self._page.asked
        stop = self.walking.stop
        if self._skipping is not None and due is not None:
            question = handed(SKIP_QUESTION, self.desk.bench.settings)
            self.put(question, due, "Skip this stop. " if self._skipping == "stop" else "Skip. ")
        elif self._page.question and due is not None and stop is not None:
            self.put(self._page.question, due, f"{literal(place_name(stop))}: ")
        else:
            self.bar.clear()

    def about(self) -> tuple[Line, ...]:
        """What is asked here."""
        return about_lines(self.desk.bench, self.here(), self._page.asked, self.desk.moment())

    def here(self) -> str:
        """The container of this stop."""
        return self.walking.here

    def after_answer(self) -> None:
        """The next question, or the next stop."""
        self._skipping = None
        self._draw(self.walking.answered())

    def on_key(self, event: events.Key) -> None:
        """Enter goes on where nothing is asked; up and down read on where the page is longer than the screen."""
        if event.key in ("up", "down"):
            step = 1 if event.key == "down" else -1
            self.query_one("#walk", VerticalScroll).scroll_relative(y=step, animate=False)
        if event.key not in enter_keys(self.desk.bench.settings) or self.focused is not self.bar:
            return
        event.stop()
        if self.walking.walk is None:
            self.show()
        elif self._page.wash:
            self.answered(self.desk.say(k.HandsWashed))
            self.show()
        elif self._page.done:
            self._finish()
        else:
            self.walking.in_turn()
            self.show()

    def no_key(self, key: str) -> None:
        """Enter answers nothing here by itself, which is told."""
        if key == "enter" and self.is_asking:
            self.answered(Refused(f"answer with a key below, or pass over it with {self.sign('skip_check')} and a reason"))
        else:
            super().no_key(key)

    def _finish(self) -> None:
        outcome = self.desk.finish_round()
        if isinstance(outcome, Said | Unsaved):
            self.host.leave_round()
        front = self.app.screen
        (front if isinstance(front, Page) else self).answered(outcome)

    def action_skip_check(self) -> None:
        """Ask why this check is passed over."""
        self._begin_skipping("check")

    def action_skip_stop(self) -> None:
        """Ask why this stop is passed over."""
        self._begin_skipping("stop")

    def _begin_skipping(self, what: str) -> None:
        if self.walking.walk is None:
            self.show()
            return
        if self._page.asked is None:
            self.tell("nothing is asked here")
            return
        self._skipping = None if self._skipping == what else what
        self._first = None
        self._show_question()

    @on(QuestionBar.Answered)
    def _skipped(self, event: QuestionBar.Answered) -> None:
        if self._skipping is None:
            return
        event.prevent_default()
        event.stop()
        if event.answer.label == OTHER_WORDS:
            self.ask_words("why is it passed over?", partial(self._skip, event.due))
        else:
            self._skip(event.due, event.answer.label)

    def _skip(self, due: Due, why: str) -> None:
        outcome = self.walking.skip(due, why, whole_stop=self._skipping == "stop")
        self.answered(outcome)
        if not isinstance(outcome, Refused):
            self.after_answer()

    def action_suspect(self) -> None:
        """Mark the container suspect: it goes to the end of the walk now."""
        self.answered(self.walking.suspect())
        self.show()

    def action_next_stop(self) -> None:
        """Look at the next stop."""
        self._look(1)

    def action_previous_stop(self) -> None:
        """Look at the stop before."""
        self._look(-1)

    def _look(self, steps: int) -> None:
        self._skipping = None
        self.walking.look(steps)
        self.show()

    def go_to(self, code: str) -> None:
        """Look at a container's stop; where this walk does not stop there, it says so."""
        if not self.walking.go_to(code):
            self.tell(f"{literal(code)} has nothing to ask in this round", "late")
        self._skipping = None
        self.back_to_work()

    @property
    def _is_large(self) -> bool:
        return setting_of(self.desk.bench.settings, "text") == "large"

    def action_large(self) -> None:
        """Large letters, or the usual page; the book remembers."""
        self.answered(self.desk.say(k.Setting, name="text", value="normal" if self._is_large else "large"))
        self.show()

    def action_leave(self) -> None:
        """Back to the bench; the round goes on where it was left."""
        if self.asked_before():
            return
        if self._skipping is not None:
            self._skipping = None
            self._show_question()
            return
        self.host.show_bench()

    def back_to_work(self) -> None:
        """The keys go to the question."""
        self.set_focus(self.bar)
        self.show()
