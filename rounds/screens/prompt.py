"""The prompt: one line that takes what a keeper would type."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import events
from textual.message import Message
from textual.suggester import Suggester
from textual.widgets import Input

from rounds.app.desk import Desk

LINE_END = "⏎"
WRITES = "write it"  # what Enter does with words that are recorded


class _Words(Suggester):
    """Completes container codes, verbs, choices and field names."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(use_cache=False, case_sensitive=True)
        self._desk = desk

    async def get_suggestion(self, value: str) -> str | None:
        """The line completed by its first fitting word."""
        return self.completed(value)

    def completed(self, value: str) -> str | None:
        """The line completed by its first fitting word; None where none fits."""
        if not value or value.endswith(" "):
            return None  # nothing is begun; any word shown would be a guess
        from rounds.entries.phrase.suggestions import complete  # no first page needs it

        words = complete(
            value,
            len(value),
            codes=list(self._desk.bench.containers),
            shelves=list(self._desk.bench.shelves),
        )
        if not words:
            return None
        begun = value.rsplit(" ", 1)[-1]
        return f"{value}{words[0][len(begun) :]}" if words[0].startswith(begun) else None


def lines_in(typed: str) -> list[str]:
    """The lines that stand in the prompt: one, or as many as were pasted."""
    return [line.strip() for line in typed.split(LINE_END) if line.strip()]


class Pasted(Input):
    """An input that takes all lines of what is pasted, held together by a sign between them."""

    BETWEEN = " "

    def _on_paste(self, event: events.Paste) -> None:
        """Textual's own takes the first line alone."""
        event.prevent_default()
        event.stop()
        text = self.BETWEEN.join(line.strip() for line in event.text.splitlines() if line.strip())
        self.replace(text, *self.selection)


class Prompt(Pasted):
    """A line to type in; what was typed is never lost.

    Several lines that were pasted stand in it one behind the other.
    """

    BETWEEN = f" {LINE_END} "

    class Left(Message):
        """The prompt was left without saying anything."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(placeholder="container, what happened, numbers, when", id=id, compact=True)
        self._kept: list[str] = []  # earlier lines, shared by all screens
        self._looking_back = 0
        self._begun = ""

    def begin(self, begun: str, desk: Desk, kept: list[str]) -> None:
        """Open with these words begun; ``kept`` holds the lines that can be called back."""
        self.suggester = _Words(desk)
        self._kept = kept
        self.display = True
        self._begun = begun
        self.value = begun
        self.cursor_position = len(begun)
        self._looking_back = 0
        self.select_on_focus = False
        self.screen.set_focus(self)

    @property
    def has_earlier(self) -> bool:
        """Whether a line can be called back."""
        return bool(self._kept)

    @property
    def completes(self) -> bool:
        """Whether a word that is begun can be completed."""
        words = self.suggester
        done = words.completed(self.value) if isinstance(words, _Words) else None
        return done is not None and done != self.value

    @property
    def begun(self) -> str:
        """The code that the line was begun with, as long as it was not deleted."""
        return self._begun

    def watch_value(self, value: str) -> None:
        """What is deleted was not meant."""
        if not value.startswith(self._begun.strip()):
            self._begun = ""

    def said(self, text: str) -> None:
        """Close; the line joins those that can be called back with the up key."""
        self._kept.append(text)
        self.value = ""
        self.display = False

    def keep_rest(self, lines: Sequence[str]) -> None:
        """These were not said; those before them join what can be called back."""
        self._kept.append(self.value)
        with self.prevent(Input.Changed):  # it would take away what is said of them
            self.value = self.BETWEEN.join(lines)
        self.cursor_position = len(lines[0])

    def leave(self) -> None:
        """Close without saying anything; a line begun can be called back too."""
        if self.value.strip():
            self._kept.append(self.value)
        self.value = ""
        self.display = False
        self.post_message(self.Left())

    def on_key(self, event: events.Key) -> None:
        """Escape leaves, up and down call back earlier lines, tab takes the completion."""
        if event.key == "escape":
            event.stop()
            self.leave()
        elif event.key in ("up", "down") and self._kept:
            event.stop()
            step = 1 if event.key == "up" else -1
            self._looking_back = max(0, min(len(self._kept), self._looking_back + step))
            self._begun = ""
            self.value = self._kept[-self._looking_back] if self._looking_back else ""
            self.cursor_position = len(self.value)
        elif event.key == "tab":
            event.stop()
            event.prevent_default()
            self.action_cursor_right() if self.cursor_at_end else self.action_end()


class Words(Pasted):
    """A line for a few words: a reason, a time, what to find."""

    class Left(Message):
        """Closed: with what follows, where words were given."""

        def __init__(self, typed: str, then: Callable[[str], None] | None) -> None:
            super().__init__()
            self.typed, self.then = typed, then

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id, compact=True)
        self._then: Callable[[str], None] | None = None
        self.does = WRITES

    def begin(self, wanted: str, then: Callable[[str], None], does: str = WRITES) -> None:
        """Ask for words; ``does`` is what Enter does with them."""
        self.does = does
        self.placeholder = wanted
        self._then = then
        self.value = ""
        self.display = True
        self.screen.set_focus(self)

    def on_key(self, event: events.Key) -> None:
        """Enter hands the words on, Escape leaves."""
        if event.key in ("enter", "escape"):
            event.stop()
            event.prevent_default()
            typed = self.value
            self.display = False
            self.post_message(self.Left(typed, self._then if event.key == "enter" else None))
