"""One container on a screen of its own, the next and the one before by the arrows."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from rounds.checks.due_state import Due
from rounds.checks.walking_order import walking_order
from rounds.entries.base import Entry
from rounds.screens.lines import Lines
from rounds.screens.page import Page
from rounds.screens.question_page import QuestionPage
from rounds.views.bench_page import most_urgent
from rounds.views.card_page import card_page
from rounds.views.cells import Cell, Line, line
from rounds.views.words import literal

PAGE = 10  # lines that a key reads on


class CardScreen(QuestionPage, scope="card"):
    """The card of one container: its state, its warmth, and all that is known of it."""

    GOES_BY_SIZE = True

    def __init__(self) -> None:
        super().__init__()
        self._code = ""
        self._as_table = False
        self._turn = 0  # which drawing stands first
        self._drawn = 0  # how many there are
        self._dues: list[Due] = []

    def begin_at(self, code: str) -> None:
        """Show this container."""
        self._code = code

    def body(self) -> ComposeResult:
        """The page."""
        with VerticalScroll(id="reading", can_focus=False):
            yield Lines(id="page", markup=False)
        yield self.bar

    def show(self) -> None:
        desk = self.desk
        self._dues = desk.dues()
        width, height = self.size.width - 4, self.size.height
        page = card_page(
            desk.bench,
            self._dues,
            desk.moment(),
            desk.foresight,
            self._code,
            self._entries(),
            width,
            height,
            as_table=self._as_table,
            turn=self._turn,
        )
        lines = page.lines or (
            line(Cell(f"{literal(self._code)} does not stand here any more", "late")),
        )
        self.pane("head").show(self.head_lines(lines[:1]))
        self.pane("page").show(lines[1:])
        self._drawn = page.drawn
        self.call_after_refresh(self.refold)

    def folded(self) -> frozenset[str]:
        """Where nothing is drawn, or one thing alone, there is no other way to see it; where all of
        it is on the screen there is nothing to read on."""
        useless = {"next_drawing"} if self._drawn < 2 else set[str]()
        if not self._drawn:
            useless.add("as_table")
        return self.read_on_of("reading") | useless

    def _entries(self) -> list[Entry]:
        entries = (one for one in self.desk.entries() if one.id not in self.desk.struck)
        return [one for one in entries if getattr(one, "container", "") == self._code]

    def here(self) -> str:
        """The container."""
        return self._code

    def about(self) -> tuple[Line, ...]:
        """The container, and its most urgent check."""
        return self.about_due(self._due())

    def _due(self) -> Due | None:
        return most_urgent(self._dues, self.desk.now()).get(self._code)

    def action_answer_next(self) -> None:
        """Ask the most urgent check here."""
        due = self._due()
        if due is None:
            self.tell("nothing is asked of this container")
            return
        self.ask_due(due)

    def action_next_card(self) -> None:
        """The next container of the walk."""
        self._go(1)

    def action_previous_card(self) -> None:
        """The container before in the walk."""
        self._go(-1)

    def _go(self, steps: int) -> None:
        codes = [container.code for container in walking_order(self.desk.bench)]
        if not codes:
            return
        position = codes.index(self._code) + steps if self._code in codes else 0
        if not 0 <= position < len(codes):
            self.tell("this is the last container" if steps > 0 else "this is the first container")
            return
        self._code = codes[position]
        self.tell("")
        self.query_one("#reading", VerticalScroll).scroll_home(animate=False)
        self.show()

    def go_to(self, code: str) -> None:
        """Show a container, as its label was scanned or its code typed."""
        self._code = code
        self.back_to_work()
        self.show()

    def action_as_table(self) -> None:
        """The drawing as a table of numbers, or drawn again."""
        self._as_table = not self._as_table
        self.show()

    def action_next_drawing(self) -> None:
        """Another drawing first: eggs, window, warmth, moat."""
        self._turn += 1
        self.show()

    def action_read_on(self) -> None:
        """Read on; from the end again from the beginning."""
        page = self.query_one("#reading", VerticalScroll)
        if page.scroll_y >= page.max_scroll_y:
            page.scroll_home(animate=False)
        else:
            page.scroll_relative(y=PAGE, animate=False)

    def action_back_card(self) -> None:
        """Back to where it was opened, at this container."""
        self.app.pop_screen()
        page = self.app.screen
        if isinstance(page, Page):
            page.begin_at(self._code)
