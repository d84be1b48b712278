"""The question that is asked, and the keys that answer it: while it is asked, these and the footer's keys alone are alive."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rich.cells import cell_len
from textual import events
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from rounds.checks.due import Due
from rounds.checks.question import NUMBER_SIGNS, Amount, Answer, Question
from rounds.screens.key_queue import MOVING
from rounds.views.actions import sign_of

GAP = "   "
SPREAD_COLUMNS, SPREAD_COLUMN = 3, 26
ROOMY_LINES = 9  # a question whose answers want more lines than this has them without space between


class QuestionBar(Static, can_focus=True):
    """Asks one question; a letter, a number with Enter, or Space answers it."""

    @dataclass
    class Answered(Message):
        """An answer was chosen, with any number typed before it."""

        due: Due
        answer: Answer
        amount: Amount

    @dataclass
    class Unanswered(Message):
        """A number was given where it answers nothing."""

        line: str

    @dataclass
    class Pressed(Message):
        """A key of the footer was pressed; the action that it does."""

        action: str

    @dataclass
    class Meaningless(Message):
        """A key was pressed that means nothing here."""

        key: str

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__("", id=id, markup=False)
        self.question: Question | None = None
        self.due: Due | None = None
        self.typed = ""
        self.about = ""  # what stands before the question
        self.enter_keys = {"enter"}
        self.actions: Mapping[str, str] = {}  # the footer's keys, and what each does
        self.spread = False  # an answer a column entry with space around it, for large text

    def ask(self, question: Question, due: Due, about: str = "") -> None:
        """Ask this question; a number begun for the same question stays."""
        same = self.due is not None and self.question is not None
        if not same or _what(self.question, self.due) != _what(question, due):
            self.typed = ""
        self.question, self.due, self.about = question, due, about
        self._draw()

    def clear(self) -> None:
        """Ask nothing."""
        self.question = self.due = None
        self.typed = ""
        self.update("")

    def _draw(self) -> None:
        if self.question is None:
            return
        number = f"  number {self.typed}_" if self.typed else ""
        parts: list[tuple[str, str]] = [(f"{self.about}{self.question.text}", "bold"), (number, "bold $primary")]
        told = [(sign_of(one.key), one.label) for one in self.question.answers if one.key not in ("enter", "space")]
        if self.question.number_words:
            told.append(self.question.number_words)
        usual = self.question.usual
        if usual:
            told.append(("Space", usual.label))
        elif self.question.no_usual:
            told.append(("Space", self.question.no_usual))
        for before, sign, label in self._laid_out(told):
            parts += [(before, ""), (sign, "bold $primary"), (f" {label}", "bold" if self.spread else "")]
        self.update(Content.assemble(*parts))

    def _laid_out(self, told: list[tuple[str, str]]) -> Iterator[tuple[str, str, str]]:
        """What stands before each key and its label, so that the two are never torn apart at the end of a line."""
        width = max(20, self.content_size.width or self.app.size.width - 2)
        columns = max(1, min(SPREAD_COLUMNS, width // SPREAD_COLUMN)) if self.spread else 0
        asked_lines = 1 + cell_len(f"{self.about}{self.question.text if self.question else ''}") // width
        roomy = self.spread and asked_lines + 2 * -(-len(told) // columns) <= ROOMY_LINES
        used = 0
        for place, (sign, label) in enumerate(told):
            size = cell_len(f"{sign} {label}")
            column = width // columns if columns else used + len(GAP)
            ends = place % columns == 0 if columns else used + len(GAP) + size > width
            if not place or ends:
                yield "\n\n" if roomy else "\n", sign, label
                used = size
            else:
                gap = max(1, (place % columns) * column - used) if columns else len(GAP)
                yield " " * gap, sign, label
                used += gap + size

    def on_resize(self) -> None:
        """Lay out anew."""
        self._draw()

    def gathers(self, event: events.Key) -> bool:
        """Whether this key goes on with a number, or takes a sign of it back."""
        if self.question is None:
            return False
        if event.key == "backspace":
            return bool(self.typed)
        return event.character in NUMBER_SIGNS and self.question.takes_sign(self.typed, str(event.character))

    def on_key(self, event: events.Key) -> None:
        """Letters answer, digits gather, the footer's keys do what they say; nothing else means anything."""
        if self.question is None or self.due is None:
            return
        if event.key in MOVING and event.key not in self.actions:
            return
        event.stop()
        event.prevent_default()
        answer = next((one for one in self.question.answers if one.key in (event.character, event.key)), None)
        if self.gathers(event):
            self._type(self.typed[:-1] if event.key == "backspace" else f"{self.typed}{event.character}")
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
        else:
            self.post_message(self.Meaningless(event.key))

    def _type(self, typed: str) -> None:
        self.typed = typed
        self._draw()

    def _enter(self) -> None:
        assert self.question is not None
        asked = self.question.by_enter
        if not self.typed:
            self.post_message(self.Meaningless("enter"))
        elif asked is not None:
            self._give(asked)
        else:
            self.post_message(self.Unanswered(self.question.enter_refusal(self.typed)))

    def _give(self, answer: Answer) -> None:
        assert self.due is not None
        assert self.question is not None
        wrong = self.question.number_refusal(self.typed, answer) if self.typed else ""
        due, typed = self.due, self.typed
        self._type("")
        self.post_message(self.Unanswered(wrong) if wrong else self.Answered(due, answer, Amount.of(typed)))


def _what(question: Question | None, due: Due | None) -> tuple[str, str, str]:
    """What tells one question from another."""
    return (question.text if question else "", due.where if due else "", due.check if due else "")
