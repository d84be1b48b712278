"""The round: one stop after another, each check asked in turn."""

from __future__ import annotations

from functools import cached_property

from msgspec.structs import replace
from textual import events, on
from textual.app import ComposeResult
from textual.widget import Widget

from rounds.app.desk import Recorded, Refusal, Unsaved
from rounds.app.round import NOTHING_WORSE, Walking, key_of
from rounds.checks.questions import OTHER_WORDS, skip_question
from rounds.entries import registry as k
from rounds.screens.lines import KeysLine, Lines
from rounds.screens.page import Page
from rounds.screens.question import QuestionBar
from rounds.screens.question_page import QuestionPage
from rounds.views.actions import Scope
from rounds.views.cells import Line
from rounds.views.fitting import fitted
from rounds.views.keys import enter_keys, handed, key_label
from rounds.views.large_page import Large, large_heading, large_words, state_row
from rounds.views.question_lines import question_lines
from rounds.views.round_page import RoundPage, fitting_head
from rounds.views.settings import setting_of
from rounds.views.words import clock, literal

FOOTER = ("skip_check", "more", "strike_last", "suspect", "when", "note", "large", "leave")
Place = tuple[str, str, bool]  # a stop, the checks that are asked, whether to wash first
NOWHERE: Place = ("", "", False)
ROOMY = 20  # rows from which on the rule has a place of its own
RULE_ROW, ROOMY_AS_DRAWN = 14, 24


class RoundScreen(QuestionPage, scope="round"):
    """The walk along the bench."""

    page: RoundPage  # the stop as it is shown

    def __init__(self) -> None:
        super().__init__()
        self._skipping: str | None = None
        self._place = NOWHERE  # the stop and the checks in front
        self._newest = ""  # the last line about the stop as it came to be asked
        self._by_another = ""  # that they were answered elsewhere: the next key only goes on
        self._head_rows = 1
        self._part, self._parts = 0, 1  # which part is shown of what has no room at once

    @cached_property
    def walking(self) -> Walking:
        """The open round, stop by stop."""
        return Walking(self.desk, pauses=True)

    def body(self) -> ComposeResult:
        """What is known of the stop, and the question below the rule."""
        yield Lines(id="stop", markup=False)
        self.bar.fills = True
        yield self.bar

    def work(self) -> Widget | None:
        """The question has the keys, also where nothing is asked."""
        return self.bar

    def show(self) -> None:
        """Draw the present stop from the desk."""
        if self._by_another:
            self._by_another = ""
            self.tell("")
            self.after_answer()
        else:
            self._draw(self.walking.see())

    def show_by_itself(self) -> None:
        """Draw it anew and stay at the stop that is in front: a hand is on its way to a key.

        What was asked there and is asked no more is shown as answered until a key goes on.
        """
        page = self.walking.stay()
        was_asked = self._place[1] or self._place[2]
        if page is not None and was_asked and self._place_of(page) != self._place:
            self._by_another = self._by_another or self._answered_words()
            self.tell(self._by_another, "strong")
        self._draw(page)

    def _answered_words(self) -> str:
        """Who answered what was asked, and when."""
        stop = self._place[0]
        last = self.walking.last_of(stop)
        what = literal(stop.partition(" ")[2] or f"the {stop.strip()}")
        if last is None or last.id == self._newest:  # the clock did it
            return f"something else is asked of {what} now; any key goes on"
        at = clock(last.at, self.desk.now(), self.desk.zone)
        return f"{literal(last.by) or 'another'} answered {what} {at}; any key goes on"

    def _place_of(self, page: RoundPage) -> Place:
        stop = self.walking.stop
        checks = " ".join(due.check for due in page.dues)
        return key_of(stop) if stop else "", checks, page.wash

    def _draw(self, page: RoundPage | None) -> None:
        if page is None:
            if self.is_current:
                key = key_label(self.desk.bench.settings, "bench", "round")
                self.host.leave_round(f"{self.walking.over_words()} {key} begins the next.")
            return
        if self._by_another:
            if self._place_of(page)[0] != self._place[0]:
                self.bar.clear()  # this walk stops there no more: what was seen last stays
                return
            page = replace(page, question=None, asked=None, dues=(), wash=False)
        room = self.size.width - 2
        if self._is_large and page.question is not None:
            head = self.head_lines(state_row(page, self.desk.moment(), room))
        else:
            head = self.head_lines(fitting_head(page.head, room))
        self._head_rows = len(head)
        self.pane("head").show(head)
        self.page = page
        place = self._place_of(page)
        if place != self._place:
            self._place = place
            if not self._by_another:
                last = self.walking.last_of(place[0])
                self._newest = last.id if last else ""
            self._part = 0
            self.moved_on()
            self.show_keys()
        self._show_question()
        self._lay_out()

    def _lay_out(self) -> None:
        """What is known above the rule, which is always in the same row, and the question below
        it."""
        page = self.page
        large = self._is_large and page.question is not None
        self.bar.lay_out = question_lines
        if self._is_large and page.question is not None:
            self.bar.lay_out = Large(page.question, large_words(page))
        above = 0 if large or page.question is None else self._rows_above()
        self.set_class(large, "-large")
        self.set_class(page.question is None, "-nothing-asked")
        stop = self.pane("stop")
        rows = above or max(1, self.size.height - self._rows_around())
        heading = large_heading(page, self.size.width - 2) if self._is_large else ()
        told = fitted((heading, page.worst, *page.sections), self.size.width - 2, rows, self._part)
        stop.styles.height = above or "1fr"
        stop.show(told.lines)
        self.bar.part = self._part
        self.bar.draw()
        parts = max(told.parts, self.bar.parts)
        if self._part >= parts:
            self._part = parts - 1
        if parts != self._parts:
            self._parts = parts
            self.show_keys()

    def _rows_on_top(self) -> int:
        """The rows of the title and of what stands above it."""
        gaps = self._gaps.count("\n") + 1 if self._gaps else 0
        return gaps + self._head_rows

    def _rows_around(self) -> int:
        """The rows of the title, of what stands above it, of the message and of the keys."""
        message = self.query_one("#message")
        return self._rows_on_top() + (message.outer_size.height if message.display else 0) + 1

    def _rows_above(self) -> int:
        """How many rows are above the rule: it stands in row 14 of 24, lower where there are more;
        of few the question comes first."""
        height = self.size.height
        if height >= ROOMY:
            return max(1, RULE_ROW - 1 + (height - ROOMY_AS_DRAWN) // 2 - self._rows_on_top())
        return max(1, height - self._rows_around() - 1 - self.bar.wanted(self.size.width - 2))

    @property
    def scopes(self) -> tuple[Scope, ...]:
        """What can be done beside answering is the same at every stop."""
        return self.SCOPES

    def _show_question(self) -> None:
        due = self.page.asked
        stop = self.walking.stop
        if self._skipping is not None and due is not None:
            question = handed(skip_question(due), self.desk.bench.settings)
            self.put(question, due, "Skip this stop. " if self._skipping == "stop" else "Skip. ")
        elif self.page.question and due is not None and stop is not None:
            self.put(self.page.question, due, "", self.page.below)
        else:
            self.bar.clear()

    def about(self) -> tuple[Line, ...]:
        """What is asked here."""
        return self.about_due(self.page.asked)

    def here(self) -> str:
        """The container of this stop."""
        return self.walking.here

    def after_answer(self) -> None:
        """The next question, or the next stop."""
        self._skipping = None
        self._draw(self.walking.answered())

    def on_key(self, event: events.Key) -> None:
        """Enter goes on where nothing is asked; any key where it was answered elsewhere."""
        if self._by_another and self.focused is self.bar:
            event.stop()
            event.prevent_default()
            self.show()
            return
        if event.key not in enter_keys(self.desk.bench.settings) or self.focused is not self.bar:
            return
        event.stop()
        if self.walking.walk is None:
            self.show()
        elif self.page.wash:
            self.answered(self.desk.record(k.HandsWashed))
            self.show()
        elif self.page.done:
            self._finish()
        else:
            self.walking.go_on() if self.page.between else self.walking.in_turn()
            self.show()

    def show_keys(self) -> None:
        """The keys, those that a hand wants most first; reading on only where there is more, and
        passing over only where something is asked."""
        idle = set() if self._parts > 1 else {"more", "less"}
        idle |= set() if self._place[1] else {"skip_check", "skip_stop"}
        self._folded = self._needless()
        idle |= self._folded
        known = {action.id: action for action in self.actions() if action.id not in idle}
        first = [known[name] for name in FOOTER if name in known]
        self.query_one(KeysLine).show(
            [*first, *(action for action in known.values() if action.id not in FOOTER)]
        )

    def on_question_bar_parts_changed(self) -> None:
        """Less or more room leaves more or less to read on to, which the keys tell."""
        self._lay_out()

    def action_more(self) -> None:
        """Show what had no room, of what is known and of the answers; behind the last comes the
        first again."""
        self._part = (self._part + 1) % self._parts
        self._lay_out()

    def action_less(self) -> None:
        """Back to what was shown before."""
        self._part = max(0, self._part - 1)
        self._lay_out()

    def no_key(self, key: str, gone: str = "") -> None:
        """Enter answers nothing here by itself, which is told."""
        if key == "enter" and self.is_asking:
            skip = self.sign("skip_check")
            self.answered(
                Refusal(
                    f"answer with one of the keys shown, or pass over it with {skip} and a reason"
                )
            )
        else:
            super().no_key(key, gone)

    def _finish(self) -> None:
        outcome = self.desk.finish_round()
        if isinstance(outcome, Recorded | Unsaved):
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
        if self.page.asked is None:
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
            self.ask_words("why is it passed over?", self._skip)
        else:
            self._skip(event.answer.label)

    def _skip(self, why: str) -> None:
        outcome = self.walking.skip(self.page.dues, why, whole_stop=self._skipping == "stop")
        self.answered(outcome)
        if not isinstance(outcome, Refusal):
            self.after_answer()

    def folded(self) -> frozenset[str]:
        """A shelf or the room is not suspect."""
        stop = self.walking.stop
        is_container = stop is not None and stop.place_kind == "container"
        return frozenset(() if is_container else ("suspect",))

    def action_suspect(self) -> None:
        """Mark the container suspect: it goes to the end of the walk now."""
        self.answered(self.walking.suspect())
        self.show()

    def action_one_by_one(self) -> None:
        """Ask each check of this stop by itself, or again at once what one look answers."""
        if not self.walking.ask_one_by_one():
            self.tell("here each check is asked by itself anyway")
        self._skipping = None
        self.show()

    def action_to_worst(self) -> None:
        """Look at the stop that is in danger, else urgent."""
        self._skipping = None
        if not self.walking.go_to_worst():
            self.tell(NOTHING_WORSE)
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
        text = "normal" if self._is_large else "large"
        self.answered(self.desk.record(k.Setting, name="text", value=text))
        self.show()

    def action_leave(self) -> None:
        """Back to the bench; the round goes on where it was left. Where a short round has done what
        it took, it ends."""
        if self.asked_before():
            return
        if self.page.between:
            self._finish()
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
