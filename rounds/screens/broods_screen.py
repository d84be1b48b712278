"""Broods: the pedigree from founders on, and one brood or species with all its numbers."""

from __future__ import annotations

from textual import on
from textual.app import ComposeResult

from rounds.screens.lines import Lines
from rounds.screens.page import Page
from rounds.screens.reference_screens import ReadingScreen
from rounds.screens.rowlist import RowList
from rounds.views.brood_page import PlotRoom, brood_lines, taxon_lines
from rounds.views.broods_page import CODE, COLUMNS, PAIR, TAXON, broods_page
from rounds.views.cells import Cell, Line, line

LEAST_PLOT, MAX_PLOT = 13, 26  # lines of a plot
BESIDE_PLOT = 12  # lines of the screen that are left for what stands around a plot


class BroodsScreen(Page, scope="broods"):
    """Founders and broods as a tree; planned pairings first."""

    def __init__(self) -> None:
        super().__init__()
        self._panes: dict[str, tuple[Line, ...]] = {}

    def body(self) -> ComposeResult:
        """The tree, and what is known of the highlighted line."""
        yield RowList(id="rows")
        yield Lines(id="card", markup=False)

    def show(self) -> None:
        if not self.has_added_up():
            return
        page = broods_page(self.desk.reckoning.look_back(), self.desk.zone)
        self._panes = page.panes
        self.pane("head").show(page.head)
        self.rows.show(COLUMNS, page.rows)
        self._show_pane()

    @on(RowList.Highlighted)
    def _show_pane(self) -> None:
        nothing = (
            line(
                "No female came in and no brood began yet: 'L2 founder CODE, species female' in the"
                " prompt."
            ),
        )
        self.pane("card").show(self._panes.get(self.rows.key, () if self._panes else nothing))

    def action_open_brood(self) -> None:
        """All the numbers of the highlighted brood, founder or species; of a pairing, those of its
        mother."""
        key = self.rows.key
        if key.startswith(PAIR):
            key = f"{CODE}{key.removeprefix(PAIR).split(' ')[0]}"
        if key:
            self.app.push_screen(BroodScreen(key))

    def action_plan_pairing(self) -> None:
        """Open the prompt with a pairing begun."""
        begin_pairing(self, self.rows.key)


def begin_pairing(page: Page, key: str) -> None:
    """Open the prompt with a pairing begun, of the brood or founder of that key where it is one."""
    code = key.removeprefix(CODE) if key.startswith(CODE) else ""
    page.open_prompt(f"pairing planned {code} with " if code else "pairing planned ")


class BroodScreen(ReadingScreen, scope="brood"):
    """One brood, or all of a species."""

    GOES_BY_SIZE = True

    def __init__(self, key: str) -> None:
        super().__init__()
        self._key = key
        self._as_table = False

    def show(self) -> None:
        if not self.has_added_up():
            return
        back = self.desk.reckoning.look_back()
        now, zone = self.desk.now(), self.desk.zone
        plot = max(LEAST_PLOT, min(MAX_PLOT, self.size.height - BESIDE_PLOT))
        room = PlotRoom(self.size.width - 6, plot, self._as_table)
        try:
            if self._key.startswith(TAXON):
                self.fill(tuple(taxon_lines(back, self._key.removeprefix(TAXON), now, room)))
            else:
                self.fill(brood_lines(back, self._key.removeprefix(CODE), now, zone, room))
        except KeyError:
            self.fill((line(Cell("it was crossed out", "late")),))

    def action_as_table(self) -> None:
        """Plots as tables of numbers, or drawn again."""
        self._as_table = not self._as_table
        self.show()

    def action_plan_pairing(self) -> None:
        """Open the prompt with a pairing begun."""
        begin_pairing(self, self._key)

    def action_back_brood(self) -> None:
        """Back to the tree."""
        self.app.pop_screen()
