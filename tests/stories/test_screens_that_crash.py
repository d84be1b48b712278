"""The program meets what nobody foresaw: one line says so, all is on disk, the details lie in a private file."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.command import rounds
from tests.stories.test_book_in_a_real_terminal import Terminal

# A fault in the program itself, so that it cannot be told through keys alone: where it strikes, and the key that meets it.
FAULTS = {
    "a key": ("from rounds.screens.app import RoundsApp as one; one.open_help = broken", "?"),
    "a drawing": ("from rounds.screens.lines import Drawn as one; one.apply = broken", ""),
    "a look at what others wrote": (
        "from rounds.screens.app import RoundsApp as one; one.hear = broken",
        "",
    ),
    "a checkpoint": (
        "import rounds.screens.app as app; from rounds.app.reading import BookReading as one; app.REST_EVERY_S = 0.3; "
        "one.rest = lambda reading: None; one.to_keep = lambda reading: broken",
        "",
    ),
}
RUN = """
import sys
def broken(*things, **named):
    raise {error}
{fault}
from rounds.shell.main import run
run()
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with one cup and a female."""
    folder = tmp_path / "book"
    assert (
        rounds(
            "log",
            "-",
            book=folder,
            typed="setting zone UTC\nK2 set up laying\nK2 founder W2 'Boloria dia'\n",
        ).returncode
        == 0
    )
    return folder


def crash(
    book: Path, fault: str, error: str = "KeyError('a leg')", keys: str = ""
) -> tuple[int | None, str]:
    code, key = FAULTS[fault]
    terminal = Terminal(book, "-c", RUN.format(fault=code, error=error))
    if key:
        assert terminal.shows("? keys")
        terminal.child.send(keys + key)
    status, written = terminal.end()
    assert b"\x1b[?1049l" in written, "the other screen is left"
    assert b"\x1b[?25h" in written.rpartition(b"\x1b[?1049l")[2], "the cursor is there again"
    return status, written.rpartition(b"\x1b[?1049l")[2].decode()


@pytest.mark.parametrize("fault", FAULTS)
def test_it_says_what_happened_and_where_the_details_are(book: Path, fault: str) -> None:
    status, told = crash(book, fault)

    assert status not in (0, None), told
    assert "Traceback" not in told
    assert "KeyError: 'a leg'" in told, told
    assert "all that was acknowledged is on disk" in " ".join(told.split())
    (details,) = (Path(os.environ["XDG_STATE_HOME"]) / "rounds").glob("crashes/*")
    assert str(details) in told.replace("\r\n", "")
    assert "Traceback" in details.read_text()
    assert "in broken" in details.read_text()
    assert (details.stat().st_mode & 0o777, details.parent.stat().st_mode & 0o777) == (0o600, 0o700)


def test_a_system_error_that_nobody_foresaw_is_told_alike_and_its_words_are_not_obeyed(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Here nothing can be written about it either."""
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "file"))
    status, told = crash(book, "a key", error=r"OSError(5, '\x1b[31mred')", keys="d")

    assert status not in (0, None)
    assert "red" in told
    assert "\x1b[31m" not in told
    assert "in broken" in told, "the details"
    lines = [
        json.loads(line)
        for file in book.glob("entries-*")
        for line in file.read_text().splitlines()
    ]
    assert [line["container"] for line in lines if line["what"] == "drank"] == ["K2"]


def test_a_command_that_crashes_says_so_alike(book: Path) -> None:
    code = RUN.format(
        fault="from rounds.app.desk import Desk as one; one.dues = broken",
        error="KeyError('a leg')",
    )
    done = subprocess.run(
        [sys.executable, "-c", code, "due", "--book", str(book)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.startswith("rounds: crashed (KeyError: 'a leg')")
    assert len(done.stderr.splitlines()) == 1
