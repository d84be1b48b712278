"""The first start on the screen: what was answered so far, the question, and a line to type in."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from rounds.app.first_start import WELCOME, FirstStart
from rounds.screens.lines import Lines
from rounds.screens.prompt import Pasted
from rounds.views.cells import Cell, Line, line
from rounds.views.words import literal

KEYS = "Enter on an empty line takes the usual answer   Esc to the empty bench"
SET_IN = 3  # where the words of a question begin, behind its number


class FirstStartScreen(ModalScreen[str]):
    """Five questions to the first container; what was typed stays until it fits."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss('left')", "bench", priority=True)
    ]

    def __init__(self, start: FirstStart) -> None:
        """Ask on from where these questions have come to."""
        super().__init__()
        self._start = start

    def compose(self) -> ComposeResult:
        """The questions, the line, the keys."""
        with VerticalScroll(id="reading", can_focus=False):
            yield Lines(id="page", markup=False)
        yield Static("", id="message", markup=False)
        yield Pasted(id="wanted", compact=True)
        yield Static(KEYS, id="keys", markup=False)

    def on_mount(self) -> None:
        """Ask."""
        self.set_focus(self.query_one("#wanted"))
        self._show()

    def _show(self) -> None:
        lines: list[Line] = [
            line(Cell("a new book", "strong")),
            line(""),
            *(line(words) for words in WELCOME),
            line(""),
        ]
        lines += [line(Cell(f"   {text}", "good")) for text in self._start.told]
        asking = self._start.asking
        if asking:
            lines += [
                line(""),
                line(asking.text, tone="strong", hang=SET_IN),
                line(f"   {asking.hint}", tone="quiet", hang=SET_IN),
            ]
        self.query_one("#page", Lines).show(lines)
        self.query_one("#reading", VerticalScroll).scroll_end(animate=False)

    @on(Input.Changed, "#wanted")
    def _typed(self, event: Input.Changed) -> None:
        """What was wrong with an answer goes once another is typed."""
        if event.value:
            self.query_one("#message", Static).update("")

    @on(Input.Submitted, "#wanted")
    def _answered(self, event: Input.Submitted) -> None:
        wrong = self._start.take(event.value)
        message = self.query_one("#message", Static)
        message.set_classes("-late" if wrong else "")
        message.update(literal(wrong))
        if wrong:
            event.input.select_all()  # typing answers anew, a move of the cursor mends it
            return
        event.input.value = ""
        if self._start.wants_demo:
            self.dismiss("demo")
        elif self._start.wants_list:
            self.dismiss("list")
        elif self._start.wants_import:
            self.dismiss(f"import {self._start.wants_import}")
        elif self._start.asking is None:
            self.dismiss("round")
        else:
            self._show()
