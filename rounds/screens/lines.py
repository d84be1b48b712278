"""Running text and the line of keys, drawn from the views' cells."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from typing import Any

from rich.cells import cell_len
from rich.segment import Segment
from textual import events
from textual.color import Color
from textual.content import Content
from textual.css.styles import RulesMap
from textual.filter import LineFilter
from textual.screen import Screen
from textual.selection import Selection
from textual.strip import Strip
from textual.style import Style
from textual.visual import RenderOptions, Visual
from textual.widgets import Static

from rounds.views.actions import Action, sign_of
from rounds.views.cells import Cell, Line, Tone
from rounds.views.fitting import dates_held
from rounds.views.words import is_obeyed, literal

GAP = "   "  # between what was said and the keys
MORE = " …"  # ends a pane that has no room for all
# Styles are names from the stylesheet's palette, so that every theme has its own.
STYLE_OF_TONE: dict[Tone, str] = {
    "plain": "",
    "quiet": "$text-muted",
    "strong": "bold",
    "due": "bold $primary",
    "late": "bold $warning",
    "urgent": "bold underline $urgent-ink on $urgent-fill",
    "danger": "bold $danger-ink on $danger-fill",
    "good": "$success",
    "cursor": "bold on $panel",
}


def content_of(line: Line) -> Content:
    """A line of cells as text that is never read as markup, and never obeyed."""
    return Content.assemble(
        *((literal(cell.text), STYLE_OF_TONE[cell.tone]) for cell in line.cells)
    )


def wrapped(whole: Content, hang: int, width: int) -> list[Content]:
    """A line in as many as it needs, the later ones set in so that its label stands alone.

    Args:
        hang: how many cells of it are the label; 0 where it has none.
    """
    if not hang or not width or whole.cell_length <= width:
        return [whole]
    label, rest = whole[:hang], whole[hang:]
    parts = _parts(rest, _beside(hang, width))
    return [
        (Content(" " * hang) if position else label) + part for position, part in enumerate(parts)
    ]


def _parts(rest: Content, width: int) -> Iterator[Content]:
    """The rows of a text, none of which ends between a day and its month."""
    held, begin = dates_held(rest.plain), 0
    for part in Content(held).wrap(width):
        row = part.plain.rstrip()
        begin = held.index(row, begin)
        yield rest[begin : begin + len(row)]
        begin += len(row)


def _beside(hang: int, width: int) -> int:
    return max(10, width - hang)


def rows_of(text: str, width: int) -> int:
    """How many rows a text takes, as ``Content.wrap`` has it; without making them where that can be
    told."""
    text = dates_held(text)
    if not (text.isascii() and text.isprintable()):
        return len(Content(text).wrap(width))
    end, rows, start = len(text.rstrip()), 1, 0
    while end - start > width:
        space = text.rfind(" ", start, start + width + 1)
        if space < 0 or not text[start:space].strip():  # a word longer than a row
            return len(Content(text).wrap(width))
        start, rows = space + 1, rows + 1
        while text[start] == " ":
            start += 1
    return rows


class Drawn(LineFilter):
    """The last place before the terminal: nothing that it would obey is drawn, from wherever it
    came.

    Text is made visible where it becomes cells (``content_of`` and the rows of a list); here the
    cells are counted already, so that a sign of no width is left out and any other is a ``?``.
    """

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments in as many cells."""
        if all(segment.control or segment.text.isprintable() for segment in segments):
            return segments
        return [one if one.control else Segment(_harmless(one.text), one.style) for one in segments]


def _harmless(text: str) -> str:
    return "".join("?" * cell_len(sign) if is_obeyed(sign) else sign for sign in text)


class _Drawable:
    """A line whose length is known before it is coloured."""

    def __init__(self, line: Line) -> None:
        self._line, self.hang = line, line.hang
        self.plain = "".join([literal(cell.text) for cell in line.cells])
        self.cell_length = cell_len(self.plain)

    @cached_property
    def whole(self) -> Content:
        """It with its tones."""
        return content_of(self._line)

    def wrapped(self, width: int) -> list[Content]:
        """It in as many rows as it needs."""
        return wrapped(self.whole, self.hang, width)

    def height(self, rules: RulesMap, width: int) -> int:
        """How many rows it takes."""
        hang = self.hang
        if self.cell_length <= width:
            return 1
        if hang and _beside(hang, width) == width - hang:
            return rows_of(self.plain[hang:], _beside(hang, width))
        return sum(max(1, part.get_height(rules, width)) for part in self.wrapped(width))


class PageOfLines(Visual):
    """Lines of which only those are drawn that are seen: of a page of thousands some twenty."""

    def __init__(self, lines: Sequence[Line], mark: str = MORE) -> None:
        self._mark = mark
        self._lines = [_Drawable(line) for line in lines]
        self._width = 0  # for which rows were asked for last
        self._rows_at: tuple[int, list[tuple[int, int]]] = (-1, [])  # at which width

    def __str__(self) -> str:
        return self.whole.plain

    @property
    def whole(self) -> Content:
        """All of it as one text, as it is wrapped."""
        return Content("\n").join(
            part for line in self._lines for part in line.wrapped(self._width)
        )

    def _rows(self, rules: RulesMap, width: int) -> list[tuple[int, int]]:
        """For each row which line it is of, and its place in that."""
        if self._rows_at[0] != width:
            rows = [
                (position, row)
                for position, line in enumerate(self._lines)
                for row in range(line.height(rules, width))
            ]
            self._width, self._rows_at = width, (width, rows)
        return self._rows_at[1]

    def get_height(self, rules: RulesMap, width: int) -> int:
        """How many rows it takes."""
        return len(self._rows(rules, width))

    def get_optimal_width(self, rules: RulesMap, container_width: int) -> int:
        """The cells of its longest line."""
        return max((line.cell_length for line in self._lines), default=0)

    def get_minimal_width(self, rules: RulesMap) -> int:
        """The cells of its longest word."""
        return max((line.whole.get_minimal_width(rules) for line in self._lines), default=0)

    def render_strips(
        self, width: int, height: int | None, style: Style, options: RenderOptions
    ) -> list[Strip]:
        """Its rows, each drawn when it is asked for; all at once where a part is selected."""
        if not width:
            return []
        rows = self._rows(options.rules, width)
        if options.selection is not None:
            return self.whole.render_strips(width, height, style, options)

        def drawn(position: int) -> list[Strip]:
            return [
                strip
                for part in self._lines[position].wrapped(width)
                for strip in part.render_strips(width, None, style, options)
            ]

        if height is None or len(rows) <= height or height < 1:
            return DrawnWhenSeen(rows, drawn)
        last_line, last_row = rows[height - 1]
        parts = self._lines[last_line].wrapped(width)
        last = [row for part in parts for row in part.wrap(width) or [part]][last_row]
        end = _with_mark(last, self._mark, width).render_strips(width, None, style, options)
        return [*DrawnWhenSeen(rows[: height - 1], drawn), *end]


def _with_mark(row: Content, mark: str, width: int) -> Content:
    """The last row that has room, ended at a word by the mark that there is more, and where."""
    room = width - cell_len(mark)
    kept = row.rstrip()
    while kept.cell_length > room and " " in kept.plain.strip():
        kept = kept[: kept.plain.rindex(" ")].rstrip()
    return kept[:room] + Content(mark)


class DrawnWhenSeen(list[Strip]):
    """Rows of text that are drawn one by one when they are asked for."""

    def __init__(
        self, rows: Sequence[tuple[int, int]], drawn: Callable[[int], list[Strip]]
    ) -> None:
        super().__init__()
        self._rows, self._drawn = rows, drawn
        self._known: dict[int, list[Strip]] = {}

    def __len__(self) -> int:
        return len(self._rows)

    def __iter__(self) -> Iterator[Strip]:
        return (self[place] for place in range(len(self)))

    def __getitem__(self, place: Any) -> Any:
        if isinstance(place, slice):
            return [self[one] for one in range(*place.indices(len(self)))]
        position, row = self._rows[place]
        known = self._known.get(position)
        if known is None:
            known = self._known[position] = self._drawn(position)
        return known[row]


class Lines(Static):
    """Some lines of running text; what has no room ends in a mark, with the keys that show all.

    Args:
        reads_on: those keys and what they show, as ``??``.
    """

    auto_links = False  # there are none, and looking for them would draw all of it
    _lines: Sequence[Line] = ()

    def __init__(self, *content: str, reads_on: str = "", **static: Any) -> None:
        super().__init__(*content, **static)
        self._mark = f"{MORE} more: {reads_on}" if reads_on else MORE

    def show(self, lines: Sequence[Line]) -> None:
        """Show these lines."""
        if lines != self._lines:
            self._lines = lines
            is_as_high_as_it_is_long = self.styles.height is None or self.styles.height.is_auto
            self.update(PageOfLines(lines, self._mark), layout=is_as_high_as_it_is_long)

    def row_of(self, position: int) -> int:
        """In which row a line begins."""
        above = PageOfLines(self._lines[:position])
        return above.get_height(self.styles.get_rules(), self.content_size.width)

    def get_selection(self, selection: Selection) -> tuple[str, str] | None:
        """The words that are selected."""
        return selection.extract(str(self.visual)), "\n"


def sign_pressed(event: events.Key) -> str:
    """The key that was pressed as it is told: a sign by itself, any other by its name."""
    character = event.character or ""
    return character if event.is_printable and not character.isspace() else event.key


class KeysLine(Static):
    """The last row: what was just said where there is something to say, the keys that do something
    here, how far a list goes.

    It never wraps.
    """

    _actions: Sequence[Action] = ()
    _while_typing: Sequence[Action] = ()
    _told = Cell("")
    _place = ""
    _drawn = Content("")

    def show(self, actions: Sequence[Action]) -> None:
        """Show as many keys as fit, the first ones first; the key to the help always."""
        self._actions = tuple(actions)
        self._draw()

    def type(self, actions: Sequence[Action]) -> None:
        """Show the keys of a line that is typed, as long as it is; with none, those of the page."""
        self._while_typing = tuple(actions)
        self._draw()

    @property
    def _alive(self) -> Sequence[Action]:
        return self._while_typing or self._actions

    def tell(self, told: Cell) -> bool:
        """Begin the row with these words; False, and nothing is shown, where they and the key to
        the help do not fit in it."""
        room = (self.size.width or self.app.size.width) - sum(
            _width(action) for action in self._alive if action.id == "help"
        )
        fits = "\n" not in told.text and cell_len(told.text) + len(GAP) <= room
        self._told = told if fits else Cell("")
        self._draw()
        return fits

    def place(self, words: str) -> None:
        """End the row with how far a list goes, ``18 of 23``; empty where all of it is seen."""
        if words != self._place:
            self._place = words
            self._draw()

    def on_resize(self) -> None:
        """Fit the line anew."""
        self._draw()

    def _draw(self) -> None:
        width = self.size.width
        if not width:
            return
        shown = [action for action in self._alive if action.label]
        last = [action for action in shown if action.id == "help"]
        shown = [action for action in shown if action.id != "help"]
        told = f"{literal(self._told.text)}{GAP}" if self._told.text else ""
        room = width - cell_len(told)
        has_room = sum(_width(action) for action in last) + cell_len(self._place) <= room
        place = self._place if has_room else ""
        while shown and sum(_width(action) for action in shown + last) + cell_len(place) > room:
            shown.pop()
        parts: list[tuple[str, str]] = [(told, STYLE_OF_TONE[self._told.tone])]
        for action in shown + last:
            parts += [(sign_of(action.key), "bold $primary"), (f" {action.label}  ", "$text-muted")]
        gap = width - sum(cell_len(text) for text, _ in parts) - cell_len(place)
        row = Content.assemble(*parts, (" " * max(0, gap) + place, "$text-muted"))
        if row != self._drawn or row.spans != self._drawn.spans:
            self._drawn = row
            self.update(row, layout=False)  # it is one row, whatever it says


def _width(action: Action) -> int:
    return cell_len(sign_of(action.key)) + cell_len(action.label) + 3


def tell_below(screen: Screen[Any], text: str) -> None:
    """Show a message of a screen, such as why something was refused; none where it is empty."""
    message = screen.query_one("#message", Static)
    message.set_classes("-late" if text else "")
    message.update(literal(text))
