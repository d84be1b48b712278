"""What is late, the worst first."""

from __future__ import annotations

from datetime import timedelta
from functools import partial

from textual import on
from textual.app import ComposeResult

from rounds.app.desk import Refusal
from rounds.checks.due_state import Due
from rounds.checks.question import AnswerContext
from rounds.checks.questions import question_for
from rounds.entries import registry as k
from rounds.entries.check_labels import quoted_label
from rounds.screens.lines import Lines
from rounds.screens.question_page import QuestionPage
from rounds.screens.rowlist import RowList
from rounds.views.about import why_lines
from rounds.views.cells import Line
from rounds.views.overdue_page import COLUMNS, key_of, late_ones, overdue_head, overdue_rows
from rounds.views.states import place_words

PUT_OFF_HOURS = 2


class OverdueScreen(QuestionPage, scope="overdue"):
    """Every late check: do it, put it off, or change its rule."""

    def __init__(self) -> None:
        super().__init__()
        self._late: dict[str, Due] = {}

    def body(self) -> ComposeResult:
        """The list, and the why of the highlighted check."""
        yield RowList(id="rows")
        yield Lines(id="card", markup=False, reads_on="??")
        yield self.bar

    def show(self) -> None:
        moment = self.desk.moment()
        late = late_ones(self.desk.dues(), moment)
        self._late = {key_of(due): due for due in late}
        self.pane("head").show(overdue_head(late, moment, is_whole=not self.desk.gaps))
        self.rows.show(COLUMNS, overdue_rows(self.desk.bench, late, moment))
        self._show_why()
        self.refold()

    def folded(self) -> frozenset[str]:
        """Where nothing is late, nothing is done about it."""
        return frozenset(() if self._late else ("do", "put_off", "change_rule"))

    @on(RowList.Highlighted)
    def _show_why(self) -> None:
        self.moved_on()
        due = self._chosen()
        lines = (
            why_lines(self.desk.bench, due, self.desk.moment(), self.desk.foresight) if due else ()
        )
        self.pane("card").show(lines)

    def _chosen(self) -> Due | None:
        return self._late.get(self.rows.key)

    def _chosen_or_told(self) -> Due | None:
        due = self._chosen()
        if due is None:
            self.tell("nothing is late")
        return due

    def about(self) -> tuple[Line, ...]:
        """The highlighted check."""
        return self.about_due(self._chosen())

    def here(self) -> str:
        """The container of the highlighted check."""
        due = self._chosen()
        return due.where if due and due.place_kind == "container" else ""

    def action_do(self) -> None:
        """Ask the question of the highlighted check."""
        due = self._chosen_or_told()
        if due:
            self.ask(
                question_for(self.desk.bench, due, self.desk.now()), due, f"{place_words(due)}: "
            )

    def action_put_off(self) -> None:
        """Ask why the check is put off."""
        due = self._chosen_or_told()
        if due:
            self.ask_words(f"why is it put off by {PUT_OFF_HOURS} h?", partial(self._put_off, due))

    def _put_off(self, due: Due, why: str) -> None:
        if not why.strip():
            self.answered(Refusal("say why, in a word or two"))
            return
        fields = AnswerContext(self.desk.bench, due, self.desk.now()).here | {
            "check": due.check,
            "until": self.desk.now() + timedelta(hours=PUT_OFF_HOURS),
            "why": why.strip(),
        }
        self.answered(self.desk.record(k.PutOff, **fields))

    def action_change_rule(self) -> None:
        """Open the prompt with this rule for this container."""
        due = self._chosen_or_told()
        if due:
            scope = f" container={due.where}" if due.place_kind == "container" else ""
            self.open_prompt(f"plan {quoted_label(due.check)}{scope} every_h=")
