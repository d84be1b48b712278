"""The question that is asked, and the keys that answer it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rich.cells import cell_len
from textual import events
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from rounds.care.due import Due
from rounds.views.actions import sign_of
from rounds.views.asked import Answer, Question

NUMBER_SIGNS = "0123456789./"
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
        number: float | None
        second: float | None

    @dataclass
    class Unanswered(Message):
        """Enter was pressed where it answers nothing."""

        line: str

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__("", id=id, markup=False)
        self.question: Question | None = None
        self.due: Due | None = None
        self.typed = ""
        self.enter_keys = {"enter"}
        self.spread = False  # an answer a column entry with space around it, for large text

    def ask(self, question: Question, due: Due, about: str = "") -> None:
        """Ask this question; a number begun for the same question stays."""
        if self.due is None or (self.due.where, self.due.check) != (due.where, due.check):
            self.typed = ""
        self.question, self.due, self._about = question, due, about
        self._draw()

    def clear(self) -> None:
        """Ask nothing."""
        self.question = self.due = None
        self.typed = ""
        self.update("")

    def _draw(self) -> None:
        if self.question is None:
            return
        number = f"  {self.typed}▏" if self.typed else ""
        parts: list[tuple[str, str]] = [(f"{self._about}{self.question.text}", "bold"), (number, "bold $primary")]
        told = [(sign_of(answer.key), answer.label) for answer in self.question.answers]
        if self.question.takes:
            told.append((self.question.number_sign, self.question.takes))
        usual = self._usual()
        if usual:
            told.append(("Space", usual.label))
        for before, sign, label in self._laid_out(told):
            parts += [(before, ""), (sign, "bold $primary"), (f" {label}", "bold" if self.spread else "")]
        self.update(Content.assemble(*parts))

    def _laid_out(self, told: list[tuple[str, str]]) -> Iterator[tuple[str, str, str]]:
        """What stands before each key and its label, so that the two are never torn apart at the end of a line."""
        width = max(20, self.content_size.width or self.app.size.width - 2)
        columns = max(1, min(SPREAD_COLUMNS, width // SPREAD_COLUMN)) if self.spread else 0
        asked_lines = 1 + cell_len(f"{self._about}{self.question.text if self.question else ''}") // width
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

    def _usual(self) -> Answer | None:
        answers = self.question.answers if self.question else ()
        return next((answer for answer in answers if answer.usual), None)

    def on_key(self, event: events.Key) -> None:
        """Letters answer, digits gather; what is none of this goes on to the screen's own keys."""
        if self.question is None or self.due is None:
            return
        if event.character and event.character in NUMBER_SIGNS and self._gathers(event.character):
            self.typed += event.character
            self._draw()
            event.stop()
        elif event.key == "backspace" and self.typed:
            self.typed = self.typed[:-1]
            self._draw()
            event.stop()
        elif event.key == "space":
            self._answer_usual(event)
        elif event.key in self.enter_keys:
            self._answer_enter(event)
        else:
            self._answer_letter(event)

    def _gathers(self, sign: str) -> bool:
        takes_numbers = bool(self.question and any(answer.number for answer in self.question.answers))
        own_key = not self.typed and any(answer.key == sign for answer in self.question.answers) if self.question else False
        return takes_numbers and not own_key and len(self.typed) < 12

    def _answer_usual(self, event: events.Key) -> None:
        usual = self._usual()
        if usual:
            event.stop()
            self._give(usual)

    def _answer_enter(self, event: events.Key) -> None:
        if not self.typed or self.question is None:
            return
        event.stop()
        taker = next((answer for answer in self.question.answers if answer.number == "must"), None)
        taker = taker or next((answer for answer in self.question.answers if answer.number), None)
        if taker:
            self._give(taker)

    def _answer_letter(self, event: events.Key) -> None:
        answers = self.question.answers if self.question else ()
        chosen = next((answer for answer in answers if answer.key in (event.character, event.key)), None)
        if chosen:
            event.stop()
            self._give(chosen)

    def _give(self, answer: Answer) -> None:
        assert self.due is not None
        wrong = self.question.number_refusal(self.typed, answer) if self.typed and self.question else ""
        if wrong:
            self.post_message(self.Unanswered(wrong))
            self.typed = ""
            self._draw()
            return
        first, _, second = self.typed.partition("/")
        number, other = float(first) if first else None, float(second) if second else None
        due = self.due
        self.typed = ""
        self._draw()
        self.post_message(self.Answered(due, answer, number, other))
