"""The map: the bench as it stands, walked with the arrows."""

from __future__ import annotations

from textual import on
from textual.app import ComposeResult
from textual.widget import Widget

from rounds.app.desk import Refusal
from rounds.checks import ants
from rounds.checks.due import chosen
from rounds.checks.due_state import Due, urgency
from rounds.screens.lines import Lines
from rounds.screens.question_page import QuestionPage
from rounds.screens.rowlist import RowList
from rounds.screens.shelf_map import ShelfMap
from rounds.views.bench_page import most_urgent
from rounds.views.card import card
from rounds.views.cells import EDGE, Line, line
from rounds.views.shelf_map import (
    count_words,
    cup_of,
    found,
    legend,
    map_head,
    map_table,
    shelves_of,
)
from rounds.views.words import of_what_is_read

CARD_ROWS = 9  # the card stands below where the map leaves so many rows free
OTHER_ROWS = 5  # title, legend, the cup in words, message, keys
BESIDE = EDGE + 1 + 2  # cells of a row that no column has: its edge, its end, the list's bar


class MapScreen(QuestionPage, scope="map"):
    """The shelves as they stand; the most urgent check of each cup is asked there."""

    GOES_BY_SIZE = True

    def __init__(self) -> None:
        super().__init__()
        self._dues: dict[str, Due] = {}
        self._all: list[Due] = []
        self._counts = ""  # of states
        self._begins_at = ""
        self._is_table = False
        self._told = ""  # the cup whose line was shown last

    def begin_at(self, code: str) -> None:
        """Highlight this container, now or first."""
        self._begins_at = code
        if self.is_mounted:
            self.query_one(ShelfMap).highlight(code)
            self.rows.highlight(code)

    def body(self) -> ComposeResult:
        """The map or its table, the legend, the highlighted cup in words, and its card where there
        is room."""
        yield ShelfMap(id="map")
        yield RowList(id="rows")
        yield Lines(id="legend", markup=False)
        yield Lines(id="line", markup=False)
        yield Lines(id="card", markup=False)
        yield self.bar

    def on_mount(self) -> None:
        """Begin on the map."""
        self.query_one("#rows").display = False

    def show(self) -> None:
        desk, moment = self.desk, self.desk.moment()
        self._all = desk.dues()
        self._dues = most_urgent(self._all, moment.now)
        self._counts = count_words(self._all, moment.now, is_whole=not desk.gaps)
        shelves = shelves_of(desk.bench, self._all, moment)
        shelf_map = self.query_one(ShelfMap)
        if not shelf_map.key:
            worst = min(self._dues.values(), key=lambda due: urgency(due, moment.now), default=None)
            shelf_map.key = self._begins_at or (worst.where if worst else "")
        shelf_map.show_shelves(shelves)
        self.rows.show(*map_table(shelves, self.size.width - BESIDE))
        self.pane("legend").show((legend(self.size.width),))
        self._show_card()
        if not shelves:
            nothing = "Nothing stands on this bench yet."
            self.tell(of_what_is_read(nothing, is_whole=not desk.gaps))

    @on(ShelfMap.Highlighted)
    def _map_moved(self) -> None:
        shelf_map = self.query_one(ShelfMap)
        shown, moment, room = shelf_map.shown, self.desk.moment(), self.size.width - 2
        head = map_head(shelf_map.shelves, shown, moment, self._counts, room)
        self.pane("head").show(self.head_lines((head,)))
        self._highlighted()

    @on(RowList.Highlighted)
    def _highlighted(self) -> None:
        code = self.here()
        if code != self._told:
            self._told = code
            self.moved_on()
        cup = cup_of(self.query_one(ShelfMap).shelves, code)
        self.pane("line").show((line(cup.line(self.size.width - 2)),) if cup else ())
        self._show_card()

    def _show_card(self) -> None:
        shelf_map, pane = self.query_one(ShelfMap), self.pane("card")
        free = self.size.height - OTHER_ROWS - shelf_map.rows
        opens = free >= CARD_ROWS and not self.is_asking and not self._is_table
        pane.display = opens
        if opens:
            pane.styles.height = free
            desk = self.desk
            moment, foresight = desk.moment(), desk.foresight
            pane.show(card(desk.bench, self._all, moment, self.here(), foresight))

    @property
    def _walked(self) -> RowList | ShelfMap:
        """The map, or its table."""
        return self.rows if self._is_table else self.query_one(ShelfMap)

    def about(self) -> tuple[Line, ...]:
        """The highlighted container, and its most urgent check."""
        return self.about_due(self._dues.get(self.here()))

    def here(self) -> str:
        """The highlighted container."""
        return self._walked.key

    def go_to(self, code: str) -> None:
        """Highlight a container here, as its label was scanned or its code typed."""
        self._is_table = False
        self._show_form()
        if self.query_one(ShelfMap).highlight(code):
            self.back_to_work()
        else:
            super().go_to(code)

    def action_answer_next(self) -> None:
        """Ask the most urgent check of the highlighted cup."""
        due = self._dues.get(self.here())
        if due is None:
            nothing = "nothing is asked of this container"
            self.tell(nothing if self.here() else "no container is highlighted")
            return
        self._ask(due)

    def action_ask_ants(self) -> None:
        """Ask about the barrier that guards the highlighted cup, its shelf's where that guards
        it."""
        if self.here():
            self._ask(
                chosen(self.desk.bench, self._all, self.desk.moment(), ants.CHECK.name, self.here())
            )

    def _ask(self, due: Due) -> None:
        self.ask_due(due)
        self._show_card()

    def action_card(self) -> None:
        """Open the card of the highlighted cup."""
        if self.here():
            self.host.open_page("card", self.here())

    def action_as_table(self) -> None:
        """The map as a table, or drawn again; the highlight stays."""
        code = self.here()
        self._is_table = not self._is_table
        self._show_form()
        self._walked.highlight(code)
        self.back_to_work()

    def _show_form(self) -> None:
        self.query_one("#rows").display = self._is_table
        for name in ("#map", "#legend"):
            self.query_one(name).display = not self._is_table
        self._show_card()

    def find(self, words: str) -> None:
        """Go to the next cup that has these words."""
        code = found(self.query_one(ShelfMap).shelves, words, self.here())
        if not words.strip():
            return
        if not code:
            self.answered(Refusal(f"No container has '{words.strip()}'."))
            return
        self._walked.highlight(code)

    def action_round(self) -> None:
        """Begin the round, or go on."""
        self.host.open_round()

    def action_back_map(self) -> None:
        """Back to the list, at the same container."""
        if self.here():
            self.host.show_container(self.here())
        else:
            self.host.show_bench()

    def work(self) -> Widget | None:
        """The question while one is asked; else the map, or its table."""
        return self.bar if self.is_asking else self._walked
