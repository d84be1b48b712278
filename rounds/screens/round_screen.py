"""The round: one stop after another, each check asked in turn."""

from __future__ import annotations

from functools import partial
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.containers import VerticalScroll

from rounds.bench import kinds as k
from rounds.bench.state import Round
from rounds.care.due import Due
from rounds.care.walk import Stop, stops
from rounds.desk import Refused, Said, Unsaved
from rounds.screens.asking import Asking
from rounds.screens.lines import Lines
from rounds.screens.page import bindings_of
from rounds.screens.question import QuestionBar
from rounds.views.actions import Scope
from rounds.views.answers import SKIP_QUESTION
from rounds.views.round_page import is_open, place_name, round_page, washes_needed


class RoundScreen(Asking):
    """The walk along the bench."""

    SCOPES: ClassVar[tuple[Scope, ...]] = ("everywhere", "round")
    BINDINGS = bindings_of(*SCOPES)

    def __init__(self) -> None:
        super().__init__()
        self._stops: tuple[Stop, ...] = ()
        self._looking_at = ""  # a stop looked at out of turn
        self._place = 0
        self._skipping: str | None = None

    def body(self) -> ComposeResult:
        """The stop's card, its checks, the question."""
        with VerticalScroll(id="walk", can_focus=False):
            yield Lines(id="stop", markup=False)
            yield Lines(id="checks", markup=False)
        yield QuestionBar(id="question")

    def on_mount(self) -> None:
        """The question has the keys."""
        self.query_one(QuestionBar).focus()

    @property
    def walk(self) -> Round | None:
        """The round that is open."""
        return self.desk.bench.open_round

    def show(self) -> None:
        """Draw the present stop from the desk."""
        walk = self.walk
        if walk is None:
            return
        moment = self.desk.moment()
        self._stops = stops(self.desk.bench, moment, walk)
        self._place = self._present()
        needed = washes_needed(self._stops, self._place)
        done = sum(1 for _, kind in walk.done if kind == "hands washed")
        page = round_page(self.desk.bench, moment, walk, self._stops, self._place, done >= needed)
        self.query_one("#head", Lines).show(page.head)
        self.query_one("#stop", Lines).show(page.card)
        self.query_one("#checks", Lines).show(page.checks)
        self._page = page
        self._show_question()

    def _show_question(self) -> None:
        bar = self.query_one(QuestionBar)
        due = self._page.asked
        if self._skipping is not None and due is not None:
            bar.ask(SKIP_QUESTION, due, "Skip this stop. " if self._skipping == "stop" else "Skip. ")
        elif self._page.question and due is not None:
            bar.ask(self._page.question, due, f"{place_name(self._stops[self._place])}: ")
        else:
            bar.clear()

    def _present(self) -> int:
        """The stop looked at out of turn, else the first with anything left to ask."""
        for place, stop in enumerate(self._stops):
            if self._looking_at and _key(stop) == self._looking_at:
                return place
        return next((place for place, stop in enumerate(self._stops) if is_open(stop)), len(self._stops))

    def here(self) -> str:
        """The container of this stop."""
        stop = self._stop()
        return stop.where if stop and stop.place_kind == "container" else ""

    def _stop(self) -> Stop | None:
        return self._stops[self._place] if self._place < len(self._stops) else None

    def after_answer(self) -> None:
        """The next question, or the next stop."""
        self._skipping = None
        stop = self._stop()
        self.show()
        now_at = self._stop()
        if stop and now_at and _key(stop) == _key(now_at) and not now_at.open_checks:
            self._looking_at = ""
            self.show()

    def on_key(self, event: events.Key) -> None:
        """Enter goes on where nothing is asked; up and down read on where the page is longer than the screen."""
        if event.key in ("up", "down"):
            step = 1 if event.key == "down" else -1
            self.query_one("#walk", VerticalScroll).scroll_relative(y=step, animate=False)
        if event.key != "enter" or self.focused is not self.query_one(QuestionBar):
            return
        event.stop()
        if self._page.wash:
            self.answered(self.desk.say(k.HandsWashed))
            self.show()
        elif self._page.done:
            self._finish()
        elif self._page.asked is None:
            self._looking_at = ""
            self.show()
        else:
            self.answered(Refused("answer with a key below, or pass over it with - and a reason"))

    def _finish(self) -> None:
        outcome = self.desk.finish_round()
        if isinstance(outcome, Said | Unsaved):
            self.rounds_app.show_bench()
        self.answered(outcome)

    def action_skip_check(self) -> None:
        """Ask why this check is passed over."""
        self._begin_skipping("check")

    def action_skip_stop(self) -> None:
        """Ask why this stop is passed over."""
        self._begin_skipping("stop")

    def _begin_skipping(self, what: str) -> None:
        if self._page.asked is None:
            self.tell("nothing is asked here")
            return
        self._skipping = None if self._skipping == what else what
        self._show_question()

    @on(QuestionBar.Answered)
    def _skipped(self, event: QuestionBar.Answered) -> None:
        if self._skipping is None:
            return
        event.prevent_default()
        event.stop()
        if event.answer.key == "o":
            self.ask_words("why is it passed over?", partial(self._skip, event.due))
        else:
            self._skip(event.due, event.answer.label)

    def _skip(self, due: Due, why: str) -> None:
        if not why.strip():
            self.answered(Refused("say why, in a word or two"))
            return
        stop = self._stop()
        if stop is None:
            return
        checks = [due] if self._skipping == "check" else list(stop.open_checks)
        place = {"container": stop.where} if stop.place_kind == "container" else {}
        place = {"shelf": stop.where} if stop.place_kind == "shelf" else place
        sayings = [(k.StopSkipped, place | {"check": one.check, "why": why.strip()}) for one in checks]
        self.answered(self.desk.say_many(sayings))
        self._looking_at = ""
        self.after_answer()

    def action_suspect(self) -> None:
        """Mark the container suspect: it goes to the end of the walk now."""
        code = self.here()
        if not code:
            self.tell("only a container can be suspect")
            return
        self._looking_at = ""
        self.answered(self.desk.say(k.Suspect, container=code))
        self.show()

    def action_next_stop(self) -> None:
        """Look at the next stop."""
        self._look(1)

    def action_previous_stop(self) -> None:
        """Look at the stop before."""
        self._look(-1)

    def _look(self, steps: int) -> None:
        place = self._place + steps
        self._skipping = None
        if 0 <= place < len(self._stops):
            self._looking_at = _key(self._stops[place])
        else:
            self._looking_at = ""
        self.show()

    def action_leave(self) -> None:
        """Back to the bench; the round goes on where it was left."""
        if self._skipping is not None:
            self._skipping = None
            self._show_question()
            return
        self.rounds_app.show_bench()

    def back_to_work(self) -> None:
        """The keys go to the question."""
        self.query_one(QuestionBar).focus()
        self.show()


def _key(stop: Stop) -> str:
    return f"{stop.place_kind} {stop.where}"
