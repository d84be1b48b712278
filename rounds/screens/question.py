"""The question that is asked, and the keys that answer it: while it is asked, these and the
footer's keys alone are alive."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from textual import events
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from rounds.checks.due_state import Due
from rounds.checks.question import NUMBER_SIGNS, Amount, Answer, Question
from rounds.screens.key_queue import MOVING
from rounds.screens.lines import content_of, sign_pressed
from rounds.views.fitting import Fitted
from rounds.views.question_lines import Below, question_lines

# where it has the room that it wants; BESIDE is what else a page shows
MAX_ROWS, LEAST_ROWS, BESIDE = 10, 2, 6
NOTHING_BELOW = Below()
LayOut = Callable[[Question, str, str, Below, int, int, int], Fitted]


class QuestionBar(Static, can_focus=True):
    """Asks one question; a letter, a number with Enter, or Space answers it."""

    class Answered(Message):
        """An answer was chosen, with any number typed before it."""

        def __init__(self, due: Due, answer: Answer, amount: Amount) -> None:
            super().__init__()
            self.due, self.answer, self.amount = due, answer, amount

    class Unanswered(Message):
        """A number was given where it answers nothing."""

        def __init__(self, line: str) -> None:
            super().__init__()
            self.line = line

    class Pressed(Message):
        """A key of the footer was pressed; the action that it does."""

        def __init__(self, action: str) -> None:
            super().__init__()
            self.action = action

    class Meaningless(Message):
        """A key that means nothing here was pressed; a number that was begun goes with it."""

        def __init__(self, key: str, gone: str = "") -> None:
            super().__init__()
            self.key, self.gone = key, gone

    class PartsChanged(Message):
        """There is room for more or less of it at once."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__("", id=id, markup=False)
        self.question: Question | None = None
        self.due: Due | None = None
        self.typed = ""
        self.about = ""  # what stands before the question
        self.enter_keys = {"enter"}
        self.actions: Mapping[str, str] = {}  # the footer's keys, and what each does
        self.below = NOTHING_BELOW
        self.fills = False  # whether it has all the room that a page leaves it, and no less
        self.part = 0  # which part is shown of what has no room at once
        self.parts = 1
        self.lay_out: LayOut = question_lines

    def ask(
        self, question: Question, due: Due, about: str = "", below: Below = NOTHING_BELOW
    ) -> None:
        """Ask this question; a number begun for the same question stays."""
        same = self.due is not None and self.question is not None
        if not same or _what(self.question, self.due) != _what(question, due):
            self.typed = ""
            self.part = 0
        self.question, self.due, self.about, self.below = question, due, about, below
        self.draw()

    def clear(self) -> None:
        """Ask nothing."""
        self.question = self.due = None
        self.typed = ""
        self.part, self.parts = 0, 1
        self.update("")

    def draw(self) -> None:
        """Draw the question into the room that there is."""
        if self.question is None:
            return
        width = max(20, self.content_size.width or self.app.size.width - 2)
        rows = (self.fills and self.content_size.height) or self._most_rows
        asked = self.question, self.typed, self.about, self.below
        fitted = self.lay_out(*asked, width, rows, self.part)
        self.parts = fitted.parts
        self.update(Content("\n").join(content_of(line) for line in fitted.lines))

    @property
    def _most_rows(self) -> int:
        return max(LEAST_ROWS, min(MAX_ROWS, self.app.size.height - BESIDE))

    def wanted(self, width: int) -> int:
        """How many rows the question and its answers want, in that width."""
        if self.question is None:
            return 0
        asked = self.question, self.typed, self.about, NOTHING_BELOW
        return len(self.lay_out(*asked, width, 1_000, 0).lines)

    def on_resize(self) -> None:
        """Lay out anew."""
        before = self.parts
        self.draw()
        if self.parts != before:
            self.post_message(self.PartsChanged())

    def gathers(self, event: events.Key) -> bool:
        """Whether this key goes on with a number, or takes a sign of it back."""
        if self.question is None:
            return False
        if event.key == "backspace":
            return bool(self.typed)
        sign = event.character
        return sign in NUMBER_SIGNS and self.question.takes_sign(self.typed, str(sign))

    def on_key(self, event: events.Key) -> None:
        """Letters answer, digits gather, the footer's keys do what they say; nothing else means
        anything."""
        if self.question is None or self.due is None:
            return
        if event.key in MOVING and event.key not in self.actions:
            return
        event.stop()
        event.prevent_default()
        keys, is_back = (event.character, event.key), event.key == "backspace"
        answer = next((one for one in self.question.answers if one.key in keys), None)
        if self.gathers(event):
            self._type(self.typed[:-1] if is_back else f"{self.typed}{event.character}")
        elif event.key == "escape" and self.typed:
            self._type("")
        elif event.key == "space" and self.question.usual:
            self._give(self.question.usual)
        elif event.key == "space" and self.question.no_usual:
            self.post_message(self.Unanswered(f"Space is {self.question.no_usual}; ask each alone"))
        elif event.key in self.enter_keys:
            self._enter()
        elif answer is not None:
            self._give(answer)
        elif event.key in self.actions:
            self.post_message(self.Pressed(self.actions[event.key]))
        elif refusal := self.question.digit_refusal(event.character or ""):
            self.post_message(self.Unanswered(refusal))
        else:
            gone, self.typed = self.typed, ""  # it would go before the next number
            self.draw()
            self.post_message(self.Meaningless(sign_pressed(event), gone))

    def _type(self, typed: str) -> None:
        self.typed = typed
        self.draw()

    def _enter(self) -> None:
        assert self.question is not None
        answer = self.question.by_enter
        if not self.typed:
            self.post_message(self.Meaningless("enter"))
        elif answer is not None:
            self._give(answer)
        else:
            self.post_message(self.Unanswered(self.question.enter_refusal(self.typed)))

    def _give(self, answer: Answer) -> None:
        assert self.due is not None
        assert self.question is not None
        wrong = self.question.number_refusal(self.typed, answer) if self.typed else ""
        due, typed = self.due, self.typed
        self._type("")
        self.post_message(
            self.Unanswered(wrong) if wrong else self.Answered(due, answer, Amount.of(typed))
        )


def _what(question: Question | None, due: Due | None) -> tuple[str, str, str]:
    """What tells one question from another."""
    return (question.text if question else "", due.where if due else "", due.check if due else "")
