"""Leaving while something is not saved: what it is, and what is to become of it."""

from __future__ import annotations

from typing import ClassVar, Literal

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from rounds.app.desk import Desk
from rounds.bench.plurals import count
from rounds.screens.lines import Lines
from rounds.views.cells import Cell, Line, line
from rounds.views.words import literal

Left = Literal["saved", "kept", "printed", "stays"]
KEYS = "r tries again   k keeps them for the next start and leaves   Esc stays"
SAVED = "q leaves   Esc stays"
NOT_KEPT = "r tries again   k tries to keep them   p prints them and leaves   Esc stays"


class LeavingScreen(ModalScreen[Left]):
    """Asks before the app is left; nothing that was said is let go of."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("r", "again", "try again", priority=True),
        Binding("k", "keep", "keep and leave", priority=True),
        Binding("p", "print", "print and leave", priority=True),
        Binding("q", "dismiss('saved')", "leave", priority=True),
        Binding("escape", "dismiss('stays')", "stay", priority=True),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._trouble = ""
        self._is_saved = False

    def compose(self) -> ComposeResult:
        """What is not saved, and the keys."""
        with VerticalScroll(id="reading", can_focus=False):
            yield Lines(id="page", markup=False)
        yield Static("", id="message", markup=False)
        yield Static("", id="keys", markup=False)

    def on_mount(self) -> None:
        """Ask."""
        self._show("")

    def _show(self, told: str) -> None:
        waiting = self._desk.unsaved.entries
        lines: list[Line] = [
            line(Cell(f"{count(len(waiting), 'entry', 'entries')} not saved", "danger")),
            line(""),
        ]
        lines += [
            Line((Cell(f"   {literal(self._desk.told([entry]))}"),), hang=3) for entry in waiting
        ]
        self.query_one("#page", Lines).show(lines)
        message = self.query_one("#message", Static)
        message.set_classes("-late" if told else "")
        message.update(literal(told))
        self.query_one("#keys", Static).update(NOT_KEPT if self._trouble else KEYS)

    def settle(self) -> None:
        """Where all was saved meanwhile it is said, and nothing is to be kept any more."""
        if not self._desk.unsaved.entries and not self._is_saved:
            self._is_saved = True
            self.query_one("#page", Lines).show([line(Cell("all is saved now", "good"))])
            self.query_one("#message", Static).update("")
            self.query_one("#keys", Static).update(SAVED)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Once all is saved one can leave, and nothing is to be kept."""
        if action == "dismiss":
            return self._is_saved or parameters == ("stays",)
        return not self._is_saved or action not in ("again", "keep", "print")

    def action_again(self) -> None:
        """Try again to save them."""
        if self._desk.retry():
            self.dismiss("saved")
        else:
            self._show(f"still not saved: {self._desk.unsaved.trouble}")

    def action_keep(self) -> None:
        """Keep them on this machine until the book takes them."""
        self._trouble = self._desk.unsaved.keep()
        if self._trouble:
            self._show(f"they cannot be kept on this machine either: {self._trouble}")
        else:
            self.dismiss("kept")

    def action_print(self) -> None:
        """Leave them on the terminal, where they cannot be kept."""
        if self._trouble:
            self.dismiss("printed")
