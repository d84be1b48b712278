"""The shelves drawn, one cup of them highlighted and walked with the arrows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.message import Message

from rounds.screens.lines import Lines
from rounds.views.shelf_map import Band, Layout, MapShelf, layout, map_lines, rows_of, window


class ShelfMap(Lines, can_focus=True):
    """The shelves drawn, one cup of them highlighted; it scrolls by rows of cups."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "beside(-1)", "left", show=False),
        Binding("right", "beside(1)", "right", show=False),
        Binding("up", "above(-1)", "up", show=False),
        Binding("down", "above(1)", "down", show=False),
        Binding("pageup", "above(-3)", "up", show=False),
        Binding("pagedown", "above(3)", "down", show=False),
        Binding("home", "end(False)", "first of the shelf", show=False),
        Binding("end", "end(True)", "last of the shelf", show=False),
    ]

    class Highlighted(Message):
        """Another cup is highlighted, or other shelves are in sight."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id, markup=False)
        self.shelves: tuple[MapShelf, ...] = ()
        self.key = ""
        self.shown: Sequence[Band] = ()  # what is in sight
        self._layout = Layout((), 1)
        self._top = 0

    def show_shelves(self, shelves: tuple[MapShelf, ...]) -> None:
        """Show these shelves; the highlight stays on its cup while that stands there."""
        self.shelves = shelves
        self._lay_out()

    @property
    def rows(self) -> int:
        """How many rows all shelves take."""
        return rows_of(self._layout.bands)

    def highlight(self, code: str) -> bool:
        """Highlight a cup; False where it is not on the map."""
        if not any(cup.code == code for shelf in self.shelves for cup in shelf.cups):
            return False
        self.key = code
        self._place()
        return True

    def on_resize(self) -> None:
        """Other room, other places: from the first shelf on that leaves the highlight in sight."""
        self._top = 0
        self._lay_out()

    def _lay_out(self) -> None:
        self._layout = layout(self.shelves, self.size.width)
        self._place()

    def _place(self) -> None:
        bands = self._layout.bands
        at, column = self._layout.at(self.key)
        if bands:
            self.key = bands[at].cups[column].code
        self._top, end = window(bands, self._top, at, self.size.height)
        self.shown = bands[self._top : end]
        self.show(map_lines(self._layout, self.shown, self.key, self.size.width))
        self.post_message(self.Highlighted())

    def action_beside(self, steps: int) -> None:
        """Go along the shelf."""
        self._go(lambda: self._layout.beside(self.key, steps))

    def action_above(self, steps: int) -> None:
        """Go to the shelf above or below."""
        self._go(lambda: self._layout.above(self.key, steps))

    def action_end(self, last: bool) -> None:
        """Go to the first or last cup of the shelf."""
        self._go(lambda: self._layout.end(self.key, last=last))

    def _go(self, where: Callable[[], str]) -> None:
        if self._layout.bands and (code := where()) != self.key:
            self.highlight(code)
