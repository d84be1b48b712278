"""Cuttings of host plant: what each fed, and what was lost since."""

from __future__ import annotations

from textual import on
from textual.app import ComposeResult
from textual.containers import VerticalScroll

from rounds.screens.lines import Lines
from rounds.screens.page import Page
from rounds.screens.rowlist import RowList
from rounds.tallies.batch_losses import Cutting
from rounds.views.batches_page import COLUMNS, batch_lines, batch_rows, batches_head


class BatchesScreen(Page, scope="batches"):
    """The list of cuttings, and the containers that got the highlighted one."""

    def __init__(self) -> None:
        super().__init__()
        self._found: dict[str, Cutting] = {}

    def body(self) -> ComposeResult:
        """The list above, the trace below."""
        yield RowList(id="rows")
        with VerticalScroll(id="trace", can_focus=False):
            yield Lines(id="page", markup=False)

    def on_mount(self) -> None:
        """Name the key that reads on once it is known how long the trace is."""
        trace = self.query_one("#trace")
        self.watch(trace, "virtual_size", self._refold_later, init=False)

    def _refold_later(self) -> None:
        self.call_later(self.refold)

    def show(self) -> None:
        if not self.has_added_up():
            return
        moment = self.desk.moment()
        cuttings = self.desk.reckoning.tallies.cuttings
        self._found = {cutting.key: cutting for cutting in cuttings}
        self.pane("head").show(batches_head(cuttings, moment))
        self.rows.show(COLUMNS, batch_rows(cuttings, moment))
        self._show_trace()

    @on(RowList.Highlighted)
    def _show_trace(self) -> None:
        chosen = self._found.get(self.rows.key)
        self.pane("page").show(tuple(batch_lines(chosen, self.desk.moment())) if chosen else ())

    def folded(self) -> frozenset[str]:
        """Where all of the trace is on the screen there is nothing to read on."""
        return self.read_on_of("trace")

    def action_read_on(self) -> None:
        """Read the trace on where it is longer than its room; from its end back to its
        beginning."""
        trace = self.query_one("#trace", VerticalScroll)
        trace.scroll_to(
            y=0 if trace.scroll_y >= trace.max_scroll_y else trace.scroll_y + 6, animate=False
        )
