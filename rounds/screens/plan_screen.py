"""The care plan and the settings."""

from __future__ import annotations

from functools import partial

from textual import on
from textual.app import ComposeResult

from rounds.app.desk import Refusal
from rounds.app.round import SAY_WHY
from rounds.checks.plan import PlanLine
from rounds.checks.registry import CHECKS
from rounds.entries import registry as k
from rounds.screens.lines import Lines
from rounds.screens.page import Page
from rounds.screens.rowlist import RowList
from rounds.views.cells import Cell, Line, line
from rounds.views.plan_page import COLUMNS, PlanPage, plan_page
from rounds.views.words import literal


class PlanScreen(Page, scope="plan"):
    """Every rule with where its value comes from; every setting."""

    _page: PlanPage
    _words = ""  # that every line shown has

    def body(self) -> ComposeResult:
        """The list, and what the highlighted rule rests on."""
        yield RowList(id="rows")
        yield Lines(id="card", markup=False, reads_on="??")

    def show(self) -> None:
        self._page = plan_page(self.desk.bench, self._words)
        about = "   every value is yours to change"
        if self._words:
            those = f"{len(self._page.rows)} with '{literal(self._words)}'"
            about = f"   {those}; {self.sign('back_plan')} shows all"
        self.pane("head").show((line(Cell("plan and settings", "strong"), Cell(about, "quiet")),))
        self.rows.show(COLUMNS, self._page.rows)
        self._show_basis()

    @on(RowList.Highlighted)
    def _show_basis(self) -> None:
        self.pane("card").show(self._page.panes.get(self.rows.key, ()))

    def about(self) -> tuple[Line, ...]:
        """The highlighted rule or setting."""
        return self._page.panes.get(self.rows.key, ())

    def action_change(self) -> None:
        """Open the prompt with this rule or setting."""
        begun = self._page.begun.get(self.rows.key)
        if begun:
            self.open_prompt(begun)

    def action_switch_off(self) -> None:
        """Switch the rule off, which asks why, or on again."""
        rule = self._page.rules.get(self.rows.key)
        if rule is None:
            self.tell(f"a setting cannot be switched off; {self.sign('change')} changes it")
            return
        if rule.off:
            self._switch(rule, "")
        else:
            asked = f"why is '{CHECKS[rule.rule.check].label}' switched off?"
            self.ask_words(asked, partial(self._switch, rule))

    def _switch(self, rule: PlanLine, why: str) -> None:
        if not rule.off and not why.strip():
            self.answered(Refusal(f"{SAY_WHY}; nothing is switched off"))
            return
        outcome = self.desk.record(
            k.PlanChanged,
            check=rule.rule.check,
            container=rule.container,
            purpose=rule.purpose or None,
            stage=rule.rule.stage or None,
            off=not rule.off,
            why=why.strip(),
        )
        self.answered(outcome)

    def find(self, words: str) -> None:
        """Only lines with these words."""
        self._words = words.strip()
        self.show_those_left()

    def action_theme(self) -> None:
        """The next theme; it stays with the book."""
        self.host.next_theme()

    def action_back_plan(self) -> None:
        """All lines again, else back to the bench."""
        if self._words:
            self.find("")
        else:
            self.host.show_bench()
