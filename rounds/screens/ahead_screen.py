"""What is coming, drawn over hours to weeks; what is to be done about each line is asked there."""

from __future__ import annotations

from typing import Literal

from msgspec.structs import replace
from textual import on
from textual.app import ComposeResult

from rounds.checks.due_state import Due
from rounds.checks.registry import CHECKS
from rounds.checks.timeline import Item, timeline
from rounds.screens.lines import Lines
from rounds.screens.question_page import QuestionPage
from rounds.screens.rowlist import RowList
from rounds.views.actions import Action
from rounds.views.ahead_page import (
    FORECAST,
    HOW_MEASURED,
    NUMBER,
    OUTCOME_COLUMNS,
    PAST,
    ROUNDS,
    SPANS,
    TABLE_COLUMNS,
    USUAL_SPAN,
    ahead_columns,
    ahead_head,
    ahead_rows,
    asked_of,
    axis_in,
    is_past,
    item_line,
    item_why,
    legend_line,
    ordered,
    outcome_rows,
    table_rows,
    thing_room,
)
from rounds.views.cells import EDGE, Cell, Line, line
from rounds.views.time_axis import day_row

ROOMY = 32  # rows of a screen that shows what the highlighted line rests on without being asked


class AheadScreen(QuestionPage, scope="ahead"):
    """The timeline, the same as a table, and how forecasts did."""

    GOES_BY_SIZE = True

    def __init__(self) -> None:
        super().__init__()
        self._span = USUAL_SPAN
        self._shown: Literal["drawn", "table", "came"] = "drawn"
        self._only_forecasts = self._with_past = self._with_why = False
        self._items: list[Item] = []
        self._past: list[Item] = []  # of them, as they were counted in the line that folds them
        self._dues: list[Due] = []
        self._told: str | None = None  # the line whose words were shown last

    def body(self) -> ComposeResult:
        """The days, the list under them, the legend, the highlighted line in words, and what it
        rests on."""
        yield Lines(id="axis", markup=False)
        yield RowList(id="rows")
        yield Lines(id="legend", markup=False)
        yield Lines(id="line", markup=False)
        yield Lines(id="card", markup=False)
        yield self.bar

    def show(self) -> None:
        moment, foresight = self.desk.moment(), self.desk.foresight
        self._dues = self.desk.dues()
        items = timeline(self.desk.bench, moment, foresight, self._dues)
        self._items = ordered(
            (item for item in items if not self._only_forecasts or item.what in FORECAST),
            moment.now,
        )
        self._past = [item for item in self._items if is_past(item, moment.now)]
        words, span = SPANS[self._span]
        rows = self.rows
        axis = axis_in(self._items, moment, span, self.size.width)
        outcomes = foresight.outcomes()
        span_words = f"{words}, {axis.step_words}" if self._shown == "drawn" else "as a table"
        head = ahead_head(
            outcomes, moment, span_words, self.size.width - 2, done=self._shown == "came"
        )
        self.pane("head").show(self.head_lines(head))
        for name in ("#axis", "#legend"):
            self.query_one(name).display = self._shown == "drawn"
        if self._shown == "came":
            rows.show(OUTCOME_COLUMNS, outcome_rows(outcomes, moment))
        elif self._shown == "table":
            rows.show(TABLE_COLUMNS, table_rows(self._items, moment))
        else:
            before = " " * (EDGE + thing_room(self._items) + 1 + NUMBER + 1)
            self.pane("axis").show((line(Cell(f"{before}{day_row(axis)}", "quiet")),))
            self.pane("legend").show((legend_line(self.size.width),))
            how = {"with_past": self._with_past, "with_rounds": not self._only_forecasts}
            drawn = ahead_rows(self._items, axis, moment, **how)
            rows.show(ahead_columns(self._items, axis), drawn)
        self._show_line()

    @on(RowList.Highlighted)
    def _show_line(self) -> None:
        item, key = self._chosen(), self.rows.key
        pane = self.pane("card")
        pane.display = self._shown == "came" or (
            (self._with_why or self.size.height >= ROOMY) and not self.is_asking
        )
        if self._shown == "came":
            pane.show(HOW_MEASURED)
            self._told = None
            self.pane("line").show(())
            self.show_keys()
            return
        if pane.display:
            bench, moment = self.desk.bench, self.desk.moment()
            pane.show(item_why(bench, item, moment) if item else self._past_lines(key))
        if key != self._told:
            self._told = key
            self.moved_on()
        words = (
            item_line(item, self.desk.moment(), self.desk.measures)
            if item
            else self._other_line(key)
        )
        self.pane("line").show((line(words),) if words else ())
        self.show_keys()

    def folded(self) -> frozenset[str]:
        """Where there is room what a line rests on is always shown; spans are of the drawing."""
        why = ("why",) if self.size.height >= ROOMY or self._shown == "came" else ()
        span = ("nearer", "further") if self._shown != "drawn" else ()
        return frozenset((*why, *span, *(("only_changes",) if self._shown == "came" else ())))

    def _is_idle(self, action: str) -> bool:
        """Whether a key would change what is not shown now, which is told."""
        if action not in self.folded() or action == "why":
            return False
        back = "what_came" if self._shown == "came" else "as_table"
        self.tell(f"{self.sign(action)} does nothing here. {self.sign(back)} goes back.")
        return True

    def _other_line(self, key: str) -> str:
        """The words of the two lines that are of no single thing."""
        moment = self.desk.moment()
        if key == PAST:
            return (
                f"{len(self._past)} should have happened by now; {self.sign('do')}"
                f" {'folds' if self._with_past else 'shows'} them"
            )
        next_round = moment.clock(moment.next_anchor(moment.now))
        return f"the next round is at {next_round}" if key == ROUNDS else ""

    def _past_lines(self, key: str) -> tuple[Line, ...]:
        """What should have happened, a line each, at the line that folds it."""
        moment = self.desk.moment()
        past = self._past if key == PAST else []
        return tuple(line(item_line(item, moment, self.desk.measures)) for item in past)

    def actions(self) -> tuple[Action, ...]:
        """The keys; what Enter does is named after the highlighted line, where it does anything."""
        label = self._label()
        return tuple(
            replace(action, label=label) if action.id == "do" else action
            for action in super().actions()
            if label or action.id != "do"
        )

    def _label(self) -> str:
        key = self.rows.key if self.is_mounted else ""
        if self._shown == "came":
            return ""
        if key == PAST:
            return "fold" if self._with_past else "unfold"
        if key == ROUNDS:
            return "round"
        due = self._due()
        return CHECKS[due.check].label if due else ""

    def _chosen(self) -> Item | None:
        key = self.rows.key
        if self._shown == "came" or not key.isdecimal() or int(key) >= len(self._items):
            return None
        return self._items[int(key)]

    def _due(self) -> Due | None:
        item = self._chosen()
        return asked_of(self.desk.bench, item, self._dues, self.desk.moment()) if item else None

    def here(self) -> str:
        """The container of the highlighted line."""
        item = self._chosen()
        return item.where if item and self.desk.bench.at(item.where) else ""

    def action_do(self) -> None:
        """What the highlighted line wants: its check, the round, or the lines of what is past."""
        key, due = self.rows.key, self._due()
        if key == PAST and self._shown == "drawn":
            self._with_past = not self._with_past
            self.show()
            self.show_keys()
        elif key == ROUNDS and self._shown == "drawn":
            self.host.open_round()
        elif due is not None:
            self.ask_due(due)
            self._show_line()
        else:
            self.tell("nothing is asked of this line")

    def action_nearer(self) -> None:
        """Show a shorter time."""
        if not self._is_idle("nearer"):
            self._look(self._span - 1)

    def action_further(self) -> None:
        """Show a longer time."""
        if not self._is_idle("further"):
            self._look(self._span + 1)

    def _look(self, span: int) -> None:
        if not 0 <= span < len(SPANS):
            words, _ = SPANS[self._span]
            self.tell(f"{words.capitalize()} is the {'longest' if span > 0 else 'shortest'}.")
            return
        self._span = span
        self.show()

    def action_why(self) -> None:
        """Show what the highlighted line rests on, or fold it."""
        self._with_why = not self._with_why
        self._show_line()

    def action_as_table(self) -> None:
        """Show the drawing as a table, or the table as a drawing."""
        self.tell("")
        self._shown = "drawn" if self._shown == "table" else "table"
        self.show()

    def action_what_came(self) -> None:
        """Show how forecasts did, or what is coming again."""
        self.tell("")
        self._shown = "drawn" if self._shown == "came" else "came"
        self.show()

    def action_only_changes(self) -> None:
        """Show only what animals will do, or everything."""
        if self._is_idle("only_changes"):
            return
        self._only_forecasts = not self._only_forecasts
        self.show()
