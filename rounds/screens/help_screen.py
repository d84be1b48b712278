"""The help: all keys of the page on one screen; then every word, and finding in both."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import chain
from typing import ClassVar, Literal

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from rounds.app.guide import page, topics
from rounds.screens.lines import Lines
from rounds.screens.prompt import Words
from rounds.views.actions import Scope
from rounds.views.cells import Cell, Line, line
from rounds.views.help_page import SCOPE_WORDS, help_found, help_lines, page_lines
from rounds.views.key_page import key_page
from rounds.views.words import literal

FOOT = {
    "keys": "? words, and what is highlighted   / find   Esc back",
    "words": "? keys   / find   Space on   b up   Esc back",
    "found": "/ find   Space on   b up   Esc all words",
}


class HelpScreen(ModalScreen[None]):
    """The keys of the page it was called from; again, what is highlighted there and every word."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "leave", "back"),
        Binding("question_mark", "other", "words"),
        Binding("slash", "find", "find"),
        Binding("up,k", "scroll(-1)", "up", show=False),
        Binding("down,j", "scroll(1)", "down", show=False),
        Binding("space,pagedown", "scroll(15)", "on", show=False),
        Binding("b,pageup", "scroll(-15)", "back up", show=False),
    ]

    MAY_REPEAT: ClassVar[frozenset[str]] = frozenset({"space", "b", "j", "k"})

    def __init__(
        self,
        scopes: Sequence[Scope],
        about: Sequence[Line],
        settings: Mapping[str, str],
        only: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__()
        self._scopes = scopes
        self._about = about
        self._settings = settings
        self._only = only
        self._shown: Literal["keys", "words", "found"] = "keys"
        self._wanted = ""

    def compose(self) -> ComposeResult:
        """A title, the page below it, a line for words to find, the keys."""
        yield Lines(id="head", markup=False)
        with VerticalScroll(id="reading"):
            yield Lines(id="help", markup=False)
        yield Words(id="words")
        yield Static("", id="keys", markup=False)

    def on_mount(self) -> None:
        """Begin with the keys."""
        self.query_one(Words).display = False
        self._show()

    def on_resize(self) -> None:
        """The groups side by side where they have room."""
        self._show()

    def _show(self) -> None:
        title = f"keys {SCOPE_WORDS[self._scopes[-1]]}"
        lines: Sequence[Line] = key_page(
            self._scopes, self._settings, self.size.width - 2, self._only
        )
        if self._shown != "keys":
            title = "what is highlighted, and every key, check and word"
            pages = chain.from_iterable(page_lines(page(topic)) for topic in topics())
            lines = [*help_lines(self._scopes, self._settings, self._about), *pages]
        if self._shown == "found":
            title = f"help with '{literal(self._wanted)}'"
            lines = help_found(lines, self._wanted)
        self.query_one("#head", Lines).show((line(Cell(title, "strong")),))
        self.query_one("#help", Lines).show(lines)
        self.query_one("#keys", Static).update(FOOT[self._shown])
        self.query_one("#reading", VerticalScroll).scroll_home(animate=False)
        self.set_focus(self.query_one("#reading"))

    def action_other(self) -> None:
        """Keys, or words."""
        self._shown = "words" if self._shown == "keys" else "keys"
        self._show()

    def action_find(self) -> None:
        """Ask for words to find."""
        self.query_one(Words).begin("find in keys, checks and words", self._find, "find")

    def _find(self, words: str) -> None:
        self._wanted = words.strip()
        self._shown = "found" if self._wanted else "words"
        self._show()

    @on(Words.Left)
    def _words_left(self, event: Words.Left) -> None:
        self.set_focus(self.query_one("#reading"))
        if event.then:
            event.then(event.typed)

    def action_leave(self) -> None:
        """From what was found back to all words; else to where it was opened."""
        if self._shown == "found":
            self._shown = "words"
            self._show()
        else:
            self.dismiss()

    def action_scroll(self, lines: int) -> None:
        """Read on, or back."""
        self.query_one("#reading", VerticalScroll).scroll_relative(y=lines, animate=False)
