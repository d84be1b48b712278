"""A book that was told a small story, and names that would do harm if anything obeyed them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from rounds.app.desk import Desk, Recorded
from rounds.entries.base import Entry
from rounds.exchange.source import Source
from rounds.shell.log import say_phrase
from rounds.shell.main import main
from tests.conftest import Clock

# Each would be obeyed by something: a terminal, a page, a spreadsheet, a calendar, an XML reader, a reader's eye.
HOSTILE = (
    "<script>alert(1)</script>",
    "</style><img src=x onerror=alert(1)>",
    '=HYPERLINK("http://x.invalid","y")',
    "+1+1",
    "-2+3",
    "@SUM(1)",
    "]]><!ENTITY x SYSTEM 'file:///x'>&x;",
    "a\x1b[2Jb",
    "END:VEVENT;BEGIN:VALARM,\\n",
    "\u202egnp.exe",
    "zero\u200bwidth",
    "tab\tand \u2028line",
    "[bold red]markup[/]",
)


class Told:
    """A desk to which lines are said as at the prompt, each at its time."""

    def __init__(self, desk: Desk, clock: Clock) -> None:
        self.desk = desk
        self.clock = clock

    def on(self, **span: float) -> datetime:
        """Let time pass."""
        return self.clock.on(**span)

    def log(self, *lines: str) -> Entry:
        """Say lines; the last entry comes back."""
        for line in lines:
            outcome = say_phrase(self.desk, line)
            assert isinstance(outcome, Recorded), f"{line}: {outcome}"
            entry = outcome.entry
        return entry

    def record(self, kind: type[Entry], **fields: Any) -> Entry:
        """Say one thing by its fields."""
        outcome = self.desk.record(kind, **fields)
        assert isinstance(outcome, Recorded), outcome
        return outcome.entry

    def source(self, **how: Any) -> Source:
        """The book as an export sees it."""
        return Source(self.desk, **how)


@pytest.fixture
def told(desk: Desk, clock: Clock) -> Told:
    """A desk at an empty book that can be told things."""
    return Told(desk, clock)


@pytest.fixture
def export(
    desk: Desk, clock: Clock, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Callable[..., Path]:
    """Runs ``rounds export`` on the desk's book, as at its clock; the file comes back."""

    def run(what: str, name: str, *options: str, status: int = 0) -> Path:
        monkeypatch.setattr("rounds.shell.export.desk_of", lambda book, **_: desk)
        monkeypatch.setenv("ROUNDS_BOOK", str(desk.book.folder))
        out = tmp_path / "out"
        out.mkdir(exist_ok=True)
        assert main(["export", what, str(out / name), *options]) == status
        return out / name

    return run
