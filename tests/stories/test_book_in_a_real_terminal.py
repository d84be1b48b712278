"""In a real terminal: a byte that is no UTF-8, and a friendly order to end, lose nothing and leave the terminal as it was."""

from __future__ import annotations

import json
import os
import signal
import sys
from pathlib import Path

import pexpect
import pyte
import pytest

from tests.command import rounds
from tests.shell.test_terminal import screen_of


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with one cup."""
    folder = tmp_path / "book"
    assert rounds("log", "K2", "set", "up", "laying", book=folder).returncode == 0
    return folder


class Terminal:
    """The screens in a terminal of their own.

    Args:
        python: what the interpreter runs, where it is not the program as it is.
    """

    def __init__(self, book: Path, *python: str) -> None:
        self.screen = pyte.Screen(80, 24)
        self.stream = pyte.ByteStream(self.screen)
        self.child = pexpect.spawn(
            sys.executable,
            [*(python or ("-m", "rounds")), "--book", str(book)],
            dimensions=(24, 80),
            env=os.environ | {"TERM": "xterm-256color", "TZ": "Europe/Paris"},
            timeout=60,
        )

    def shows(self, wanted: str) -> bool:
        return wanted in screen_of(self.child, self.screen, self.stream, wanted)

    def end(self) -> tuple[int | None, bytes]:
        """How it ended, and the last that it wrote."""
        written = b""
        while True:
            try:
                written += self.child.read_nonblocking(65536, timeout=60)
            except pexpect.EOF:
                break
        self.child.close()
        return self.child.exitstatus, written


def test_a_byte_that_is_not_utf_8_is_a_sign_in_the_line(book: Path) -> None:
    terminal = Terminal(book)
    assert terminal.shows("? keys")
    terminal.child.send("t")
    for part in (b"K2 note f", b"\xfc", b"r sie"):
        terminal.child.send(part)
    assert terminal.shows("f�r sie")
    terminal.child.send("\r")
    assert terminal.shows("saved")
    terminal.child.send("q")
    status, _ = terminal.end()

    assert status == 0
    lines = [
        json.loads(line)
        for file in book.glob("entries-*")
        for line in file.read_text().splitlines()
    ]
    assert [line["text"] for line in lines if line["what"] == "note"] == ["f�r sie"]


def test_an_order_to_end_gives_the_terminal_back(book: Path) -> None:
    terminal = Terminal(book)
    assert terminal.shows("? keys")
    terminal.child.kill(signal.SIGTERM)
    status, written = terminal.end()

    assert b"\x1b[?1049l" in written, "the other screen is left"
    assert b"\x1b[?25h" in written, "the cursor is there again"
    assert status == 128 + signal.SIGTERM
