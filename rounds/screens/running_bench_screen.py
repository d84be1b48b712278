"""A bench that already runs: a table is typed or pasted, read as it stands, and recorded whole."""

from __future__ import annotations

from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static, TextArea

from rounds.app.desk import Desk, Outcome, Refusal
from rounds.app.row_fields import COLUMNS, fields_of
from rounds.app.running_bench import (
    HOW_TO_TYPE,
    CupProblem,
    CupTable,
    aligned,
    checked,
    head_of,
    heading,
    next_code,
    record,
    told_beside,
    with_gap,
)
from rounds.bench.plurals import count
from rounds.screens.lines import Lines, tell_below
from rounds.views.cells import Cell, Line, line
from rounds.views.words import literal

KEYS = "F10 record all   Tab field   F2 yes to the question   Esc leave   F1 help"
KEYS_OF_HELP = "Esc back to the list   F10 record all"


class TableOfCups(TextArea):
    """Where the table is typed: Tab or two spaces go to the next field, under its heading, Tab on
    an empty line past the next code; letters, also the same one twice, are text."""

    table = CupTable()  # as it was understood

    def gathers(self, event: events.Key) -> bool:
        """Every key is text here."""
        return True

    async def _on_key(self, event: events.Key) -> None:  # what is not taken here TextArea takes
        row, column = self.cursor_location
        text = self.document[row]
        at_end = column == len(text)
        full = len(fields_of(text)) >= len(self.table.columns or COLUMNS)
        if event.key == "tab" and not at_end:
            self.insert("\t" if "\t" in text else "  ")
        elif event.key == "tab" and not full:
            self.put_to_end(row, with_gap(text or next_code(self.table, row), row, self.table))
        elif event.key in ("enter", "tab") and at_end:  # behind the last field a new line begins
            self.put(row, aligned(text, row, self.table))
            self.insert("\n", (row, len(self.document[row])))
        elif event.key == "space" and at_end and text.strip() and text.endswith(" "):
            if not text.endswith("  "):  # the second begins the next field
                self.put_to_end(row, with_gap(text.rstrip(), row, self.table))
        elif event.key == "backspace" and at_end and text.endswith("  "):
            self.put_to_end(row, text.rstrip())  # the gap between two fields as one sign
        else:
            return
        event.stop()
        event.prevent_default()

    async def _on_paste(self, event: events.Paste) -> None:  # TextArea's own puts it in after this
        self.call_after_refresh(self.put_all_in_order)

    def put(self, row: int, text: str) -> None:
        """Put a line in the place of another."""
        if text != self.document[row]:
            self.replace(text, (row, 0), (row, len(self.document[row])))

    def put_to_end(self, row: int, text: str) -> None:
        """The same, and go on behind it."""
        self.put(row, text)
        self.move_cursor((row, len(text)))

    def put_all_in_order(self) -> None:
        """Every line but that of the cursor with its fields under the headings."""
        for row in range(self.document.line_count):
            if row != self.cursor_location[0]:
                self.put(row, aligned(self.document[row], row, self.table))


class RunningBenchScreen(ModalScreen[tuple[Outcome | None, str]]):
    """Nothing is recorded before F10; then all of it, or nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "leave", priority=True),
        Binding("f10", "record", "record", priority=True),
        Binding("f2", "mend", "yes", priority=True),
        Binding("f1", "explain", "help", priority=True),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._typed, self._row = desk.listed.text, 0
        self._is_recorded = False
        self._explains = False
        self._table = CupTable()

    def compose(self) -> ComposeResult:
        """What was understood so far, the table, what is asked about it, the keys."""
        yield Static("", id="head", markup=False)
        yield Static("", id="headings", markup=False)
        yield TableOfCups(
            self._desk.listed.text, id="table", tab_behavior="indent", soft_wrap=True, compact=True
        )
        with VerticalScroll(id="understood", can_focus=False):
            yield Lines(id="asked", markup=False)
        yield Static("", id="message", markup=False)
        yield Static(KEYS, id="keys", markup=False)

    def on_mount(self) -> None:
        """Begin at the end of what was begun before."""
        area = self.query_one(TableOfCups)
        area.indent_width = 12
        self.query_one("#headings", Static).update(heading())
        self.set_focus(area)
        area.move_cursor(area.document.end)
        self._look()

    @on(TextArea.Changed)
    def _changed(self) -> None:
        tell_below(self, "")
        self._look()

    @on(TextArea.SelectionChanged)
    def _moved(self) -> None:
        row = self.query_one(TableOfCups).cursor_location[0]
        if row != self._row:
            self._row = row
            self._keep()
        self._show()

    def _look(self) -> None:
        area = self.query_one(TableOfCups)
        self._typed = area.text
        self._table = area.table = checked(self._desk, self._typed)
        self._show()

    def _show(self) -> None:
        self.query_one("#head", Static).update(head_of(self._table))
        self.query_one("#asked", Lines).show(self._lines())

    def _lines(self) -> list[Line]:
        if self._explains:
            return [line(one) for one in HOW_TO_TYPE]
        if not self._typed.strip():
            return [line(Cell(one, "quiet")) for one in HOW_TO_TYPE[:2]]
        here = self.query_one(TableOfCups).cursor_location[0]
        lines = [
            line(
                Cell(f"{literal(one.code) or f'line {one.row + 1}'}: ", "late"),
                Cell(literal(one.line), "late"),
                "   F2 yes" if one.mended else "",
                hang=2,
            )
            for one in self._troubles(here)
        ]
        if row := self._table.row_at(here):
            words = literal(row.words(self._desk.now(), self._desk.zone))
            lines.append(line(words, tone="quiet", hang=2))
        return [*lines, *(line(one, hang=2) for one in told_beside(self._table))]

    def _troubles(self, row: int) -> list[CupProblem]:
        """What is not understood, that of a line first."""
        return sorted(self._table.troubles, key=lambda problem: problem.row != row)

    def action_record(self) -> None:
        """All of it, or nothing."""
        outcome = record(self._desk, self._table)
        if isinstance(outcome, Refusal):
            tell_below(self, outcome.line)
        else:
            self._is_recorded = True
            self._keep()
            self.dismiss((outcome, ""))

    def action_mend(self) -> None:
        """Yes to the question about this line, else to the first that is asked."""
        area = self.query_one(TableOfCups)
        troubles = self._troubles(area.cursor_location[0])
        if mends := next((one for one in troubles if one.mended), None):
            area.put(mends.row, mends.mended)

    def action_explain(self) -> None:
        """How a line is typed; again for what was understood."""
        self._explains = not self._explains
        self.set_class(self._explains, "-explains")  # the help has all rows
        self.query_one("#keys", Static).update(KEYS_OF_HELP if self._explains else KEYS)
        if not self._explains:
            self.set_focus(self.query_one(TableOfCups))
        self._show()

    def action_leave(self) -> None:
        """Close the help where it is shown; else back: what was typed is there again when the page
        is opened again."""
        if self._explains:
            self.action_explain()
            return
        trouble = self._keep()
        rows = sum(1 for row in self._typed.splitlines() if row.strip())
        where = f"lost if rounds is left: {trouble}" if trouble else "the list shows them again"
        told = f"{count(rows, 'line')} typed, not recorded yet; {where}"
        self.dismiss((None, told if rows else ""))

    def _keep(self) -> str:
        """Keep what was typed until it is recorded; why that cannot be, in words."""
        text = "" if self._is_recorded else self._typed
        return self._desk.listed.keep(text) if text != self._desk.listed.text else ""

    def on_unmount(self) -> None:
        """Whatever ends this page, what was typed is there again."""
        self._keep()
