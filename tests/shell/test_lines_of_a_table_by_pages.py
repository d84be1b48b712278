"""What each line of an old table becomes is shown by pages where the terminal is full."""

from __future__ import annotations

import io
import os
import shutil
import sys

import pytest

from rounds.shell.import_table import _print_by_pages

LINES = [f"line {one}: laid" for one in range(1, 13)]


@pytest.mark.parametrize(
    ("typed", "shown", "asked"), [("\n\n\n", 12, 2), ("stop\n", 5, 1), ("", 5, 1)]
)
def test_it_waits_at_the_end_of_each_page(
    typed: str,
    shown: int,
    asked: int,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr(shutil, "get_terminal_size", lambda *_, **__: os.terminal_size((40, 7)))
    monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
    _print_by_pages(LINES)
    out = capsys.readouterr().out
    assert out.count(": laid") == shown
    assert out.count("Enter goes on, stop ends the lines") == asked
