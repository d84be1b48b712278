"""What a book's records say about its plan, and taking it over."""

from __future__ import annotations

from collections.abc import Mapping

from textual import on
from textual.app import ComposeResult

from rounds.app.desk import Refusal
from rounds.checks.learned import OFFER_SETTING, Offer
from rounds.entries import registry as k
from rounds.screens.lines import Lines
from rounds.screens.page import Page
from rounds.screens.rowlist import RowList
from rounds.views.actions import Action
from rounds.views.cells import Line
from rounds.views.learned_page import COLUMNS, LearnedPage, learned_page

NOTHING = "nothing is offered on this line"


class LearnedScreen(Page, scope="learned"):
    """Evidence, plan, and what may be, a line a rule."""

    _page: LearnedPage

    def body(self) -> ComposeResult:
        """The list, and the evidence of the highlighted line."""
        yield RowList(id="rows")
        yield Lines(id="card", markup=False, reads_on="??")

    def show(self) -> None:
        self._page = learned_page(self.desk.bench, self.desk.moment())
        self.pane("head").show(self._page.head)
        self.rows.show(COLUMNS, self._page.rows)
        self._show_evidence()

    @on(RowList.Highlighted)
    def _show_evidence(self) -> None:
        self.pane("card").show(self.about())
        self.show_keys()

    def actions(self) -> tuple[Action, ...]:
        """What can be done with an offer, only on a line that has one."""
        known = super().actions()
        if hasattr(self, "_page") and self._offer is None:
            return tuple(action for action in known if action.id not in ("take_over", "decline"))
        return known

    def only_keys(self) -> Mapping[str, str]:
        """The same on the page of keys."""
        return {action.id: action.words for action in self.actions()}

    def about(self) -> tuple[Line, ...]:
        """The evidence of the highlighted line."""
        return self._page.panes.get(self.rows.key, ())

    @property
    def _offer(self) -> Offer | None:
        return self._page.offers.get(self.rows.key)

    def action_take_over(self) -> None:
        """Take the highlighted offer over into the plan."""
        offer = self._offer
        self.answered(
            Refusal(NOTHING) if offer is None else self.desk.record(offer.kind, **offer.fields)
        )

    def action_decline(self) -> None:
        """Do not offer it again until there is twice the evidence."""
        offer = self._offer
        if offer is None:
            self.answered(Refusal(NOTHING))
            return
        self.answered(
            self.desk.record(k.Setting, name=f"{OFFER_SETTING}{offer.id}", value=str(offer.weight))
        )
