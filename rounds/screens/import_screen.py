"""An old table comes in: what each column becomes, what is asked about it, and then all of it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.geometry import Region
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from rounds.app.desk import Desk, Outcome, Recorded
from rounds.bench.plurals import count
from rounds.daybook.safe_files import read_given
from rounds.exchange.tables_in.columns import FIELDS
from rounds.exchange.tables_in.dialogue import TableDialogue, as_typed
from rounds.exchange.tables_in.report import (
    column_rows,
    left_out_words,
    problem_lines,
    recorded_words,
    row_lines,
    standing_words,
    sum_lines,
)
from rounds.exchange.tables_in.sheet import FileTable, is_spreadsheet, read_sheet
from rounds.exchange.tables_in.table_import import TableImport
from rounds.exchange.tables_in.unclear import UnclearTable
from rounds.screens.lines import Lines, tell_below
from rounds.views.cells import Line, Tone, line
from rounds.views.words import literal

HELP = (
    "Each column of the table becomes what stands beside it. Up and Down choose a column; type"
    " another meaning and Enter; of a word, WORD=MEANING. What is asked stands below; F2 takes"
    " the first proposed; F5 goes back. Of all lines: year 2019, species NAME, laid DAY. If"
    " letters come out wrong: encoding cp1250; of several sheets: tab NAME."
    " Page Down reads on. F3 shows what each line becomes, those that cannot be read first;"
    " F4 leaves these out. F10 records all of it or nothing. Taken in again, nothing is doubled."
)


class _Answer(Input):
    """The line for an answer; ``?`` opens the help, for no answer has one."""

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """Every sign is typed but that one."""
        return character != "?" and super().check_consume_key(key, character)


class ImportScreen(ModalScreen[tuple[Outcome | None, str]]):
    """Nothing is recorded before F10; then all of it, or nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "leave", priority=True),
        Binding("f10", "record", "record", priority=True),
        Binding("f2", "propose", "yes", priority=True),
        Binding("f3", "each_line", "each line", priority=True),
        Binding("f4", "leave_out", "leave out", priority=True),
        Binding("f5", "back", "back", priority=True),
        Binding("question_mark,f1", "explain", "help", priority=True),
        Binding("up", "move(-1)", "column above", priority=True),
        Binding("down", "move(1)", "column below", priority=True),
        Binding("pageup", "page(-1)", "page up", priority=True),
        Binding("pagedown", "page(1)", "page down", priority=True),
    ]

    def __init__(self, desk: Desk, file: str) -> None:
        super().__init__()
        self._desk = desk
        self._path = Path(file).expanduser()
        self._sheet: FileTable | None = None
        self._dialogue: TableDialogue | None = None
        self._at = 0
        self._row_of_chosen = 0
        self._shows_lines = self._explains = False

    def compose(self) -> ComposeResult:
        """How many lines are understood, the columns or the lines, what is asked, the answer."""
        yield Static("", id="head", markup=False)
        with VerticalScroll(id="reading", can_focus=False):
            yield Lines(id="page", markup=False)
        yield Lines(id="asked", markup=False)
        yield _Answer(id="answer", select_on_focus=False)
        yield Static("", id="message", markup=False)
        yield Static("", id="keys", markup=False)

    def on_mount(self) -> None:
        """Read the file; what is wrong with it is said in its place."""
        self.set_focus(self.query_one(Input))
        self._open()

    def _open(self, tab: str = "", encoding: str = "") -> bool:
        """Read the file, or a sheet of it, or in an encoding; whether that could be done."""
        try:
            sheet = read_sheet(self._path, read_given(self._path), tab, encoding)
        except UnclearTable as unclear:
            tell_below(self, unclear.line)
        except OSError as trouble:
            tell_below(self, f"{self._path} cannot be read: {trouble.strerror or trouble}")
        else:
            self._keep()
            self._sheet, self._at = sheet, 0
            name = sheet.name(self._path.name)
            self._dialogue = TableDialogue(self._desk, self._desk.book.folder, name, sheet)
            kept = self._dialogue.kept
            told = f"{count(kept, 'answer')} kept from the last time; F5 takes one back"
            tell_below(self, told if kept else "")
            self._show()
            return True
        self._show()
        return False

    @property
    def _table(self) -> TableImport | None:
        """What the table becomes; None as long as something is asked."""
        return self._dialogue.table if self._dialogue else None

    @property
    def _unclear(self) -> UnclearTable | None:
        """What is asked."""
        return self._dialogue.unclear if self._dialogue else None

    def _show(self) -> None:
        self.query_one("#head", Static).update(literal(self._head()))
        self.query_one("#page", Lines).show(self._page())
        self.query_one("#asked", Lines).show(self._asked())
        hint = "another meaning of the column" if self._unclear is None else "the answer"
        self.query_one(Input).placeholder = hint
        self.query_one("#keys", Static).update(self._keys())

    def _keys(self) -> str:
        """The keys that do something now."""
        if self._unclear is not None:
            keys = ["Enter answer", *(["F2 yes"] if self._unclear.choices else [])]
        elif self._table is not None:
            keys = ["F10 record", "Up Down column", "F3 each line"]
            keys += ["F4 leave out"] if self._table.problems else []
        else:
            keys = []
        if self._dialogue is not None and self._dialogue.can_go_back:
            keys.append("F5 back")
        return "  ".join([*keys, "Esc leave", "? help"])

    def _head(self) -> str:
        if self._sheet is None:
            return f"import   {self._path.name}"
        sheet = self._sheet
        size = f"{count(len(sheet.rows), 'line')}, {count(len(sheet.headings), 'column')}"
        return f"import   {sheet.name(self._path.name)}   {size}; nothing is recorded"

    def _page(self) -> list[Line]:
        if self._explains:
            fields = [line(f"  {name:17} {about}", hang=20) for name, about in FIELDS.items()]
            return [line(HELP), line(""), *fields]
        if self._table is None:
            return []
        if self._shows_lines:
            return [line(literal(text), hang=2) for text in self._each_line()]
        rows = [
            line(f"  {literal(text)}", hang=4)
            if place != self._at
            else line(f"> {literal(text)}", tone="strong", hang=4)
            for place, text in enumerate(column_rows(self._table))
        ]
        problems = self._told(map(as_typed, problem_lines(self._table)), "late")
        sums = self._told(map(as_typed, sum_lines(self._table)))
        dates = line(literal(f"  dates: {self._table.dates_told}"), tone="quiet")
        top = self._told([standing_words(self._table)], "strong")
        dropped = self._told(filter(None, [left_out_words(self._table)]))
        above = [*top, *sums, *dropped, line("")]
        self._row_of_chosen = len(above) + self._at
        return [*above, *rows, dates, line(""), *problems[:6]]

    def _told(self, texts: Iterable[str], tone: Tone = "quiet") -> list[Line]:
        return [line(literal(text), tone=tone, hang=2) for text in texts]

    def _each_line(self) -> list[str]:
        assert self._table is not None
        return [as_typed(text) for text in row_lines(self._table, self._desk.measures)]

    def _asked(self) -> list[Line]:
        """Which sheets are not read, or which quotes, and what is asked."""
        read_as = self._sheet.read_as if self._sheet else ""
        beside = as_typed(read_as) if "; " in read_as else ""
        return [*self._told(filter(None, [beside])), *self._question()]

    def _question(self) -> list[Line]:
        """What is not clear, with what may be answered; else the column that is chosen."""
        if self._unclear is not None:
            assert self._dialogue is not None
            place = f"{self._dialogue.place()}: " if self._unclear.option else ""
            said = self._told([f"{place}{self._unclear.line}"], "late")
            choices = ", ".join(self._unclear.choices[:8])
            if choices:
                said.append(line(literal(f"  F2 {choices}"), tone="quiet"))
            return said
        if self._table is None:
            return []
        use = self._table.uses[self._at]
        return [line(f"'{literal(use.heading)}' is {use.field}. Another meaning? Press ? for all")]

    @on(Input.Submitted, "#answer")
    def _answered(self, event: Input.Submitted) -> None:
        event.stop()
        text = event.value.strip()
        if text:
            self._take(text)

    def _take(self, text: str) -> None:
        dialogue, why = self._dialogue, ""
        if dialogue is None:
            return
        how = "tab" if is_spreadsheet(self._path) else "encoding"
        if text.casefold().startswith(f"{how} "):
            if self._open(**{how: text[len(how) :].strip(" '")}):
                self.query_one(Input).value = ""
            return
        if dialogue.unclear is not None:
            why = dialogue.answer(text)
        elif dialogue.table is not None:
            column = dialogue.table.uses[self._at].heading
            why = dialogue.say_typed(text, column) or ""
        tell_below(self, as_typed(why))
        self._show()
        if not why:  # what cannot be stays to be mended
            self.query_one(Input).value = ""

    def action_back(self) -> None:
        """The question before, its answer taken back."""
        if self._dialogue is not None:
            tell_below(self, "" if self._dialogue.back() else "nothing was answered yet")
            self._show()

    def action_propose(self) -> None:
        """The first answer that is proposed."""
        if self._unclear is not None and self._unclear.choices:
            self._take(self._unclear.choices[0])

    def action_move(self, step: int) -> None:
        """Choose another column; among lines and in the help, read on."""
        if self._shows_lines or self._explains:
            self.query_one("#reading", VerticalScroll).scroll_relative(y=5 * step, animate=False)
        elif self._table is not None:
            self._at = (self._at + step) % len(self._table.uses)
            self._show()
            self.call_after_refresh(self._scroll_to_chosen)

    def _turn(self) -> None:
        """Show the other page from its beginning; the columns where one is chosen."""
        self._show()
        self.query_one("#reading", VerticalScroll).scroll_home(animate=False)
        if not self._shows_lines and not self._explains:
            self.call_after_refresh(self._scroll_to_chosen)

    def _scroll_to_chosen(self) -> None:
        row = self.query_one("#page", Lines).row_of(self._row_of_chosen)
        reading = self.query_one("#reading", VerticalScroll)
        reading.scroll_to_region(Region(0, row, 1, 1), animate=False)

    def action_page(self, step: int) -> None:
        """Read on by a page, or back."""
        reading = self.query_one("#reading", VerticalScroll)
        reading.scroll_relative(y=step * max(1, reading.size.height - 1), animate=False)

    def action_each_line(self) -> None:
        """What each line becomes; again for the columns."""
        self._shows_lines, self._explains = not self._shows_lines, False
        self._turn()

    def action_explain(self) -> None:
        """How this page is used, and what a column can be; again for the columns."""
        self._explains, self._shows_lines = not self._explains, False
        self._turn()

    def action_leave_out(self) -> None:
        """Leave out the lines that cannot be read, or no longer."""
        if self._dialogue is None or self._table is None:
            return
        leaves = not self._table.leaves_out
        self._dialogue.leave_out(leaves=leaves)
        self._show()
        tell_below(self, "lines that cannot be read are left out" if leaves else "")

    def action_record(self) -> None:
        """All of it, or nothing."""
        table = self._table
        if table is None or self._unclear is not None:
            tell_below(self, "first answer what is asked, or Esc leaves")
            return
        if table.is_known:
            tell_below(self, "the book has all of it already")
            return
        outcome = table.record(self._desk)
        if isinstance(outcome, Recorded):
            self._keep(recorded=True)
            self.dismiss((outcome, "; ".join(recorded_words(table, outcome))))
        else:
            mend = "; mend them in the table, or F4 leaves them out" if table.problems else ""
            tell_below(self, f"{outcome.line}{mend}")

    def action_leave(self) -> None:
        """Close the help or the lines where they are shown; else leave, nothing is recorded."""
        if self._explains or self._shows_lines:
            self._explains = self._shows_lines = False
            self._turn()
            return
        self._keep()
        self.dismiss((None, ""))

    def _keep(self, *, recorded: bool = False) -> None:
        """What was answered is not asked again the next time."""
        if self._dialogue is not None:
            self._dialogue.keep(recorded=recorded)
