"""The daybook: all that was said."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from textual import on
from textual.app import ComposeResult

from rounds.app.desk import Outcome
from rounds.bench.plurals import count
from rounds.entries.base import Entry
from rounds.entries.registry import CrossedOut
from rounds.screens.lines import Lines
from rounds.screens.page import Page
from rounds.screens.rowlist import RowList
from rounds.views.about import entry_about
from rounds.views.cells import Cell, Line, line
from rounds.views.daybook_page import COLUMNS, daybook_rows, entry_lines
from rounds.views.words import literal


class DaybookScreen(Page, scope="daybook"):
    """Browse, find, strike."""

    def __init__(self, words: str = "", entry: str = "") -> None:
        super().__init__()
        self._entries: dict[str, Entry] = {}
        self._misfits: dict[str, str] = {}  # by id: why it does not fit
        self._words = words
        self._begin_at = entry
        self._container = ""
        self._whole = bool(words or entry)

    def body(self) -> ComposeResult:
        """The list, and the highlighted line in full."""
        yield RowList(id="rows")
        yield Lines(id="card", markup=False)

    def show(self) -> None:
        desk = self.desk
        entries = (*desk.entries(whole=self._whole), *desk.reading.of_the_future)
        self._entries = {entry.id: entry for entry in entries}
        self._misfits = {oddity.entry: oddity.text for oddity in desk.bench.misfits}
        only = self._words, self._container
        rows = daybook_rows(
            entries, desk.struck, desk.zone, desk.now(), *only, desk.measures, self._misfits
        )
        told = count(len(rows), "line")
        if self._container:
            told += f" of {literal(self._container)}"
        if self._words:
            told += f" with '{literal(self._words)}'"
        if not self._whole:
            told = f"the newest {told}; {self.sign('older')} reads older ones too"
        self.pane("head").show((line(Cell("the daybook", "strong"), "   ", Cell(told, "quiet")),))
        self.rows.show(COLUMNS, rows)
        if self._begin_at:
            self.rows.highlight(self._begin_at)
            self._begin_at = ""
        self._show_entry()

    @on(RowList.Highlighted)
    def _show_entry(self) -> None:
        desk, entry = self.desk, self._chosen()
        lines: tuple[Line, ...] = ()
        if entry:
            strike, is_struck = self._strike_of(entry), entry.id in desk.struck
            odd = self._misfits.get(entry.id, "")
            lines = entry_lines(entry, strike, is_struck, desk.zone, desk.now(), desk.measures, odd)
        self.pane("card").show(lines)

    def _strike_of(self, entry: Entry) -> CrossedOut | None:
        struck = self.desk.struck
        strikes = [one for one in self._entries.values() if isinstance(one, CrossedOut)]
        those = [one for one in strikes if one.entry == entry.id and one.id not in struck]
        return those[-1] if those else None

    def _chosen(self) -> Entry | None:
        return self._entries.get(self.rows.key)

    def about(self) -> tuple[Line, ...]:
        """The kind of the highlighted line."""
        entry = self._chosen()
        return entry_about(entry) if entry else ()

    def here(self) -> str:
        """The container of the highlighted line."""
        entry = self._chosen()
        return str(getattr(entry, "container", "")) if entry else ""

    def find(self, words: str) -> None:
        """Only lines with these words, from the newest on."""
        self._words = words
        self.show()
        if words:
            self.rows.cursor = 0
        if not self._chosen():
            self.tell(f"no line has '{literal(words)}'; {self.sign('back_daybook')} shows all")

    def action_open_photo(self) -> None:
        """Open the picture of the highlighted line."""
        self.show_photo(str(getattr(self._chosen(), "file", "")))

    def action_only_container(self) -> None:
        """Only this container's lines, or all."""
        if not self._container and not self.here():
            self.tell("this line is of no container")
        self._container = "" if self._container else self.here()
        self.show()

    def action_older(self) -> None:
        """Read everything."""
        self._whole = True
        self.show()

    def action_strike(self) -> None:
        """Strike the line, or bring a struck line back."""
        entry = self._chosen()
        if entry is None:
            self.tell("no line is highlighted")
            return
        desk, is_struck = self.desk, entry.id in self.desk.struck
        say = partial(desk.bring_back if is_struck else desk.strike, entry.id)
        done = "brought back" if is_struck else "crossed out"
        self.ask_words(f"why is it {done}?", lambda why: self._say(say, why))

    def _say(self, say: Callable[[str], Outcome], why: str) -> None:
        self.answered(say(why.strip()))

    def action_back_daybook(self) -> None:
        """Show all again, else back to the bench."""
        if self._words or self._container:
            self._words = self._container = ""
            self.show()
        else:
            self.host.show_bench()
