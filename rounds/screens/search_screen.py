"""Finding anything by its words, and going there."""

from __future__ import annotations

from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from rounds.app.desk import Desk
from rounds.screens.lines import Lines
from rounds.screens.prompt import Pasted
from rounds.screens.rowlist import RowList
from rounds.views.cells import line
from rounds.views.search import COLUMNS, OLDER, SearchHit, found, rows_of, things
from rounds.views.words import literal


class SearchScreen(ModalScreen[SearchHit | None]):
    """A line to type in, and below it all that has those words."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss(None)", "back", priority=True)
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._whole = False
        self._things: tuple[SearchHit, ...] = ()
        self._listed: dict[str, SearchHit] = {}

    def compose(self) -> ComposeResult:
        """The line, the list, the keys."""
        yield Pasted(
            placeholder="a code, brood, plant, or words of a note", id="wanted", compact=True
        )
        yield RowList(id="rows")
        yield Lines(id="line", markup=False)
        yield Static("Enter go there   Up Down choose   Esc back", id="keys", markup=False)

    def on_mount(self) -> None:
        """Everything is listed until words are typed."""
        self.query_one(RowList).can_focus = False
        self.set_focus(self.query_one("#wanted"))
        self._look()

    def _look(self) -> None:
        desk = self._desk
        self._things = things(
            desk.bench,
            (*desk.entries(whole=self._whole), *desk.reading.of_the_future),
            desk.struck,
            desk.zone,
            desk.now(),
        )
        self._list(self.query_one("#wanted", Input).value)

    @on(Input.Changed, "#wanted")
    def _typed(self, event: Input.Changed) -> None:
        self._list(event.value)

    def _list(self, words: str) -> None:
        listed = found(self._things, words)
        self._listed = {search_hit.key: search_hit for search_hit in listed}
        rows = self.query_one(RowList)
        rows.show(COLUMNS, rows_of(listed, older=self._desk.reading.has_older and not self._whole))
        rows.cursor = 0

    @on(RowList.Highlighted)
    def _highlighted(self, event: RowList.Highlighted) -> None:
        """Of the highlighted row, all that is about it: the list may have no room for it."""
        hit = self._listed.get(event.key)
        self.query_one("#line", Lines).show([line(literal(hit.about))] if hit else [])

    def on_key(self, event: events.Key) -> None:
        """Up and down choose while the line has the keys."""
        steps = {"up": -1, "down": 1, "pageup": -10, "pagedown": 10}
        if event.key in steps:
            event.stop()
            self.query_one(RowList).action_move(steps[event.key])

    @on(Input.Submitted, "#wanted")
    def _chosen(self) -> None:
        key = self.query_one(RowList).key
        if key == OLDER:
            self._whole = True
            self._look()
        elif key in self._listed:
            self.dismiss(self._listed[key])
