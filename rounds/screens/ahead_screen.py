"""What is coming, drawn over hours to weeks; each line opens what it rests on."""

from __future__ import annotations

from typing import ClassVar, Literal

from textual import on
from textual.app import ComposeResult

from rounds.checks.timeline import Item, timeline
from rounds.screens.lines import Lines
from rounds.screens.page import Page, bindings_of
from rounds.screens.rowlist import RowList
from rounds.views.actions import Scope
from rounds.views.ahead_page import (
    FORECAST,
    HOW_MEASURED,
    OUTCOME_COLUMNS,
    SPANS,
    TABLE_COLUMNS,
    USUAL_SPAN,
    ahead_columns,
    ahead_head,
    ahead_rows,
    drawing_room,
    item_why,
    outcome_rows,
    table_rows,
)


class AheadScreen(Page):
    """The timeline, the same as a table, and how forecasts did."""

    SCOPES: ClassVar[tuple[Scope, ...]] = ("everywhere", "ahead")
    BINDINGS = bindings_of(*SCOPES)

    def __init__(self) -> None:
        super().__init__()
        self._span = USUAL_SPAN
        self._shown: Literal["drawn", "table", "came"] = "drawn"
        self._only_forecasts = False
        self._items: list[Item] = []

    def body(self) -> ComposeResult:
        """The list, and what the highlighted line rests on."""
        yield RowList(id="rows")
        yield Lines(id="card", markup=False)

    def on_mount(self) -> None:
        """Begin on the list."""
        self.set_focus(self.query_one(RowList))

    def on_resize(self) -> None:
        """The drawing takes the room there is."""
        self.show()

    def show(self) -> None:
        """Draw from the desk."""
        moment, foresight = self.desk.moment(), self.desk.foresight
        items = timeline(self.desk.bench, moment, foresight, self.desk.dues())
        self._items = [one for one in items if not self._only_forecasts or one.what in FORECAST]
        words, span = SPANS[self._span]
        outcomes = foresight.outcomes()
        self.query_one("#head", Lines).show(ahead_head(outcomes, moment, words, self._shown == "came"))
        rows = self.query_one(RowList)
        room = drawing_room(self.size.width)
        if self._shown == "came":
            rows.show(OUTCOME_COLUMNS, outcome_rows(outcomes, moment))
        elif self._shown == "table":
            rows.show(TABLE_COLUMNS, table_rows(self._items, moment))
        else:
            rows.show(ahead_columns(moment, span, room), ahead_rows(self._items, moment, span, room))
        self._show_why()

    @on(RowList.Highlighted)
    def _show_why(self) -> None:
        item = self._chosen()
        if self._shown == "came":
            self.query_one("#card", Lines).show(HOW_MEASURED)
            return
        self.query_one("#card", Lines).show(item_why(self.desk.bench, item, self.desk.moment()) if item else ())

    def _chosen(self) -> Item | None:
        key = self.query_one(RowList).key
        if self._shown == "came" or not key or int(key) >= len(self._items):
            return None
        return self._items[int(key)]

    def here(self) -> str:
        """The container of the highlighted line."""
        item = self._chosen()
        return item.where if item and self.desk.bench.at(item.where) else ""

    def action_nearer(self) -> None:
        """Show a shorter time."""
        self._span = max(0, self._span - 1)
        self.show()

    def action_further(self) -> None:
        """Show a longer time."""
        self._span = min(len(SPANS) - 1, self._span + 1)
        self.show()

    def action_as_table(self) -> None:
        """Show the drawing as a table, or the table as a drawing."""
        self._shown = "drawn" if self._shown == "table" else "table"
        self.show()

    def action_what_came(self) -> None:
        """Show how forecasts did, or what is coming again."""
        self._shown = "drawn" if self._shown == "came" else "came"
        self.show()

    def action_only_changes(self) -> None:
        """Show only what animals will do, or everything."""
        self._only_forecasts = not self._only_forecasts
        self.show()

    def action_back_reading(self) -> None:
        """Back to the bench."""
        self.host.show_bench()

    def back_to_work(self) -> None:
        """The keys go to the list."""
        self.set_focus(self.query_one(RowList))
