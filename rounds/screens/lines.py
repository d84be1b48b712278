"""Running text and the line of keys, drawn from the views' cells."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.content import Content
from textual.filter import LineFilter
from textual.widgets import Static

from rounds.views.actions import Action, sign_of
from rounds.views.cells import Cell, Line, Tone
from rounds.views.words import is_obeyed, literal

GAP = "   "  # between what was said and the keys
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


def wrapped(line: Line, width: int) -> list[Content]:
    """A line in as many as it needs, the later ones set in so that its label stands alone."""
    whole = content_of(line)
    if not line.hang or not width or whole.cell_length <= width:
        return [whole]
    label, rest = whole[: line.hang], whole[line.hang :]
    parts = rest.wrap(max(10, width - line.hang))
    return [label + parts[0], *(Content(" " * line.hang) + part for part in parts[1:])]


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


class Lines(Static):
    """Some lines of running text."""

    _lines: Sequence[Line] = ()

    def show(self, lines: Sequence[Line]) -> None:
        """Show these lines."""
        if lines != self._lines:
            self._lines = lines
            self._draw()

    def on_resize(self) -> None:
        """Wrap anew."""
        self._draw()

    def _draw(self) -> None:
        width = self.content_size.width
        whole = Content("\n").join(part for line in self._lines for part in wrapped(line, width))
        self.update(whole, layout=self.styles.height is None or self.styles.height.is_auto)


class KeysLine(Static):
    """The last row: what was just said where there is something to say, the keys that do something
    here, how far a list goes.

    It never wraps.
    """

    _actions: Sequence[Action] = ()
    _told = Cell("")
    _place = ""
    _drawn = Content("")

    def show(self, actions: Sequence[Action]) -> None:
        """Show as many keys as fit, the first ones first; the key to the help always."""
        self._actions = tuple(actions)
        self._draw()

    def tell(self, told: Cell) -> bool:
        """Begin the row with these words; False, and nothing is shown, where they and the key to
        the help do not fit in it."""
        room = (self.size.width or self.app.size.width) - sum(
            _width(action) for action in self._actions if action.id == "help"
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
        shown = [action for action in self._actions if action.label]
        last = [action for action in shown if action.id == "help"]
        shown = [action for action in shown if action.id != "help"]
        told = f"{literal(self._told.text)}{GAP}" if self._told.text else ""
        room = width - cell_len(told)
        place = (
            self._place
            if sum(_width(action) for action in last) + cell_len(self._place) <= room
            else ""
        )
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
