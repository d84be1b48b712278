"""A list of rows drawn line by line: as fast with five hundred rows as with five."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar, get_args

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from rounds.views.cells import EDGE, GAP, Cell, Column, Row, Tone, widths
from rounds.views.states import SIGNS, WORSE_THAN_DUE
from rounds.views.words import literal

HEAVY_SIGNS = frozenset(SIGNS[state] for state in WORSE_THAN_DUE)  # bold, as their words are


class RowList(ScrollView, can_focus=True, inherit_bindings=False):
    """Rows under a heading, one of them highlighted, some of them marked.

    Some that matter most may stand above the heading and stay there while the others are scrolled;
    each is about something that has its own row below.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = {f"rows--{one}" for one in ("heading", *get_args(Tone))}
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(-1)", "up", show=False),
        Binding("down", "move(1)", "down", show=False),
        Binding("pageup", "page(-1)", "page up", show=False),
        Binding("pagedown", "page(1)", "page down", show=False),
        Binding("home", "move(-1000000)", "first", show=False),
        Binding("end", "move(1000000)", "last", show=False),
    ]

    cursor: reactive[int] = reactive(0, repaint=False)

    def gathers(self, event: events.Key) -> bool:
        """Whether this is a digit of a number, in which the same may come twice."""
        return self.gathers_digits and event.key.isdecimal()

    class Highlighted(Message):
        """Another row is highlighted."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id)
        self._columns: tuple[Column, ...] = ()
        self._rows: tuple[Row, ...] = ()
        self._above: tuple[Row, ...] = ()
        self._heads: Row | None = None
        self._place: dict[str, int] = {}
        self.marked: set[str] = set()
        self.gathers_digits = False  # where a number goes with a key
        # told at once where the highlight moves, or the list gets more or less room
        self.moved: Callable[[], None] = lambda: None
        self._strips: dict[tuple[int, bool, bool], Strip] = {}
        self._styles: dict[tuple[Tone, Style], Style] = {}

    def show(
        self,
        columns: tuple[Column, ...],
        rows: tuple[Row, ...],
        *,
        above: tuple[Row, ...] = (),
        heading: Row | None = None,
    ) -> None:
        """Show these rows; the highlight stays on its row where that is still there, else on
        another about the same.

        Args:
            above: rows that stay above the heading.
            heading: the headings where they are not those of the columns, one each.
        """
        key, was_above = self.key, self.cursor < len(self._above)
        before, after = (*self._above, *self._rows), (*above, *rows)
        marked = set(self.marked)
        form = columns, heading, len(above), len(rows)
        if form != (self._columns, self._heads, len(self._above), len(self._rows)):
            changed = None
            self._strips.clear()
        else:
            drawn = {place for place, *_ in self._strips}
            changed = [place for place in drawn if before[place] != after[place]]
        self._columns, self._rows, self._above, self._heads = columns, rows, above, heading
        self._place = {row.key: position for position, row in enumerate(rows, len(above))}
        self.marked &= self._place.keys() | {row.key for row in above}
        self.virtual_size = Size(0, len(rows) + 1 + len(above))
        held = {row.key: place for place, row in enumerate(above)}
        known = {**self._place, **held} if was_above else {**held, **self._place}
        place = known.get(key, min(self.cursor, max(0, len(after) - 1)))
        if place != self.cursor:
            self.cursor = place
        elif self.key != key:
            self.post_message(self.Highlighted(self.key))
        if changed is None or marked != self.marked:
            self.refresh()
            return
        for place in changed:
            self._forget(place)
            self._refresh_row(place)

    def _draw_anew(self) -> None:
        """Forget all drawn lines, what Textual keeps of them too: it is told of no row that changes
        and that is not known here to be drawn."""
        self._strips.clear()
        self.refresh()

    def _forget(self, place: int) -> None:
        for cursor in (False, True):
            for marked in (False, True):
                self._strips.pop((place, cursor, marked), None)

    @property
    def key(self) -> str:
        """The key of the highlighted row, or empty where there is none."""
        row = self._row(self.cursor)
        return row.key if row else ""

    def _row(self, place: int) -> Row | None:
        above = len(self._above)
        if place < above:
            return self._above[place]
        return self._rows[place - above] if place - above < len(self._rows) else None

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows of the list."""
        return self._rows

    @property
    def above(self) -> tuple[Row, ...]:
        """The rows above the heading."""
        return self._above

    @property
    def place_words(self) -> str:
        """How far the list goes, ``18 of 23``; empty where all of it is seen."""
        seen = self.size.height - 1 - len(self._above)
        number = len(self._rows)
        if number <= seen:
            return ""
        return f"{min(number, round(self.scroll_offset.y) + seen)} of {number}"

    def highlight(self, key: str) -> bool:
        """Highlight the row of that key; False where it is not shown."""
        if key not in self._place:
            return False
        self.cursor = self._place[key]
        return True

    def highlight_first(self, key: str) -> None:
        """Highlight the first row of that key, above the heading too; where there is none the first
        of all."""
        keys = [row.key for row in (*self._above, *self._rows)]
        self.cursor = keys.index(key) if key in keys else 0

    def toggle_mark(self) -> None:
        """Mark the highlighted row, or take its mark away, and go to the next."""
        if self.key:
            self.marked ^= {self.key}
            self._refresh_row(self.cursor)
            self.action_move(1)

    def clear_marks(self) -> None:
        """Take all marks away."""
        if self.marked:
            self.marked.clear()
            self.refresh()

    def action_move(self, steps: int) -> None:
        """Move the highlight by so many rows."""
        self.cursor = max(0, min(len(self._above) + len(self._rows) - 1, self.cursor + steps))

    def action_page(self, pages: int) -> None:
        """Move the highlight by so many pages."""
        self.action_move(pages * max(1, self.size.height - 2 - len(self._above)))

    def watch_cursor(self, before: int, after: int) -> None:
        """Draw the two rows anew and keep the highlighted one in sight."""
        self._refresh_row(before)
        self._refresh_row(after)
        self._keep_in_sight()
        self.moved()
        self.post_message(self.Highlighted(self.key))

    def _keep_in_sight(self) -> None:
        """Scroll to the highlighted row."""
        above = len(self._above)
        if self.cursor >= above:  # what stands above and the heading hide as many rows
            sight = Region(0, self.cursor - above, 1, above + 2)
            self.scroll_to_region(sight, animate=False, force=True, immediate=True)

    def _refresh_row(self, place: int) -> None:
        above = len(self._above)  # they are not scrolled
        self.refresh_line(place + self.scroll_offset.y if place < above else place + 1)

    def notify_style_update(self) -> None:
        """Forget drawn lines when colours change."""
        super().notify_style_update()
        self._draw_anew()
        self._styles.clear()

    def on_resize(self) -> None:
        """Forget drawn lines when the width changes; with the height others are seen."""
        self._draw_anew()
        self._keep_in_sight()
        self.moved()

    def render_line(self, y: int) -> Strip:
        """One line of the screen: those above, the heading, then the rows from where the list is
        scrolled to."""
        width = self.scrollable_content_region.width
        above = len(self._above)
        if y == above:
            return self._heading(width)
        position = y if y < above else y - 1 + self.scroll_offset.y
        row = self._row(position)
        if row is None:
            return Strip.blank(width, self.rich_style)
        key = (position, position == self.cursor, row.key in self.marked)
        strip = self._strips.get(key)
        if strip is None:
            strip = self._strips[key] = self._drawn(row, width, cursor=key[1], marked=key[2])
        return strip

    def _heading(self, width: int) -> Strip:
        cells = tuple(Cell(column.heading, "quiet") for column in self._columns)
        row = self._heads or Row("", cells, columns=self._columns)
        edge = [Segment(" " * EDGE, self.rich_style)]
        return self._line(row, width, edge, self.get_component_rich_style("rows--heading"))

    def _drawn(self, row: Row, width: int, *, cursor: bool, marked: bool) -> Strip:
        under = self.get_component_rich_style("rows--cursor") if cursor else Style.null()
        strong = self._style_of(row.tone or "strong", under)
        calm = self._style_of(row.tone or "plain", under)
        edge = [
            Segment(">" if cursor else " ", strong),
            Segment(row.sign, strong if row.sign in HEAVY_SIGNS else calm),
            Segment("*" if marked else " ", strong),
        ]
        return self._line(row, width, edge, under)

    def _line(self, row: Row, width: int, edge: list[Segment], under: Style) -> Strip:
        segments = [*edge]
        columns = row.columns or self._columns
        sizes = widths(columns, width - EDGE - 1)
        between = self._style_of(row.tone, under) if row.tone else self.rich_style + under
        shown = [one for one in zip(row.cells, sizes, columns, strict=False) if one[1]]
        for position, (cell, size, column) in enumerate(shown):
            if position:
                segments.append(Segment(" " * GAP, between))
            segments += self._inked(cell, _fitted(cell, size, right=column.right), under)
        drawn = Strip(segments)
        if cell_len(drawn.text.rstrip()) > width:  # columns that had no room end in a sign
            drawn = Strip([*drawn.crop(0, width - 1), Segment("…", between)])
        return drawn.adjust_cell_length(width, between)

    def _inked(self, cell: Cell, text: str, under: Style) -> list[Segment]:
        """A cell's words in its tone; where only its last words have it, the rest is plain."""
        lead, ink, end = text.rpartition(cell.stressed) if cell.stressed else ("", "", text)
        toned = self._style_of(cell.tone, under)
        if ink:
            plain = self._style_of("plain", under)
            parts = ((lead, plain), (ink, toned), (end, plain))
        else:  # no line is drawn under what only fills the column up
            words = text.rstrip()
            filled = text[len(words) :], toned + Style(underline=False)
            parts = ("", toned), (words, toned), filled
        return [Segment(words, style) for words, style in parts if words]

    def _style_of(self, tone: Tone, under: Style) -> Style:
        """The tone on the row; a state keeps its own fill there."""
        known = self._styles.get((tone, under))
        if known is None:
            known = self.get_component_rich_style(f"rows--{tone}")
            if not self.get_component_styles(f"rows--{tone}").background.a:
                known += under
            self._styles[(tone, under)] = known
        return known


def _fitted(cell: Cell, size: int, *, right: bool) -> str:
    text = literal(cell.text)
    length = cell_len(text)
    if length > size and cell.short:
        text = literal(cell.short)
        length = cell_len(text)
    if length > size:
        return set_cell_size(text, size - 1) + "…"
    return " " * (size - length) + text if right else text + " " * (size - length)
