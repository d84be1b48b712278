"""The help: every key, every word."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from rounds.screens.lines import Lines
from rounds.views.actions import Scope
from rounds.views.cells import Line
from rounds.views.help_page import help_lines


class HelpScreen(ModalScreen[None]):
    """A page to read; any of the leaving keys goes back to where it was opened."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,question_mark,q", "dismiss", "back"),
        Binding("up,k", "scroll(-1)", "up", show=False),
        Binding("down,j", "scroll(1)", "down", show=False),
        Binding("space,pagedown", "scroll(15)", "on", show=False),
        Binding("b,pageup", "scroll(-15)", "back up", show=False),
    ]

    MAY_REPEAT: ClassVar[frozenset[str]] = frozenset({"space", "b", "j", "k"})

    def __init__(
        self, scopes: Sequence[Scope], about: Sequence[Line], settings: Mapping[str, str]
    ) -> None:
        super().__init__()
        self._scopes = scopes
        self._about = about
        self._settings = settings

    def compose(self) -> ComposeResult:
        """One long page."""
        with VerticalScroll(id="reading"):
            yield Lines(id="help", markup=False)
        yield Static("Space on   b up   Esc back", id="keys", markup=False)

    def on_mount(self) -> None:
        """Fill the page."""
        self.query_one("#help", Lines).show(help_lines(self._scopes, self._settings, self._about))
        self.set_focus(self.query_one("#reading"))

    def action_scroll(self, lines: int) -> None:
        """Read on, or back."""
        self.query_one("#reading", VerticalScroll).scroll_relative(y=lines, animate=False)
