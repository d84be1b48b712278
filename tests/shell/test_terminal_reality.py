"""Terminals as they are: no colour, few letters, streams closed or full, stopped and brought back, hung up."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path

import pexpect
import pyte
import pytest

from tests.command import rounds
from tests.shell.test_terminal import screen_of

HOSTILE = "L2 note ümlaut \u202eevil\u202c zero\u200bwidth \U0001f98b"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with one laying cup and a note that a terminal could stumble over."""
    folder = tmp_path / "book"
    typed = f"L2 set up laying\nL2 founder BOL-26-01, Boloria dia female\n{HOSTILE}\n"
    assert rounds("log", "-", book=folder, typed=typed).returncode == 0
    return folder


def entries(book: Path) -> list[dict[str, str]]:
    """What is on disk."""
    return [
        json.loads(line)
        for file in book.glob("entries-*.jsonl")
        for line in file.read_text("utf-8").splitlines()
    ]


def start(book: Path, **environment: str) -> pexpect.spawn:
    """The screens in a true terminal."""
    return pexpect.spawn(
        sys.executable, ["-m", "rounds", "--book", str(book)], dimensions=(24, 80),
        env=os.environ | {"TERM": "xterm-256color", "TZ": "Europe/Paris"} | environment, timeout=30,
    )  # fmt: skip


def shell(command: str, book: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """A line as a shell runs it, with its redirections."""
    line = command.replace("rounds", f"{sys.executable} -m rounds", 1)
    env = os.environ | {"ROUNDS_BOOK": str(book)} | environment
    return subprocess.run(
        ["bash", "-c", line],
        capture_output=True,
        text=True,
        errors="replace",
        env=env,
        check=False,
        timeout=60,
    )


@pytest.mark.parametrize(
    "command",
    ["rounds", "rounds due", "rounds check", "rounds round --plain", "rounds log L2 drank"],
)
@pytest.mark.parametrize(
    "streams", ["<&-", ">&- </dev/null", "2>&- </dev/null", "<&- >&- 2>&-", ">/dev/full </dev/null"]
)
def test_streams_that_are_closed_or_full_end_no_work(
    book: Path, command: str, streams: str
) -> None:
    done = shell(f"{command} {streams}", book)

    assert "Traceback" not in done.stderr + done.stdout
    assert done.returncode in (0, 1)
    if " log " in command:
        assert entries(book)[-1]["what"] == "drank"


@pytest.mark.parametrize(
    "command",
    ["rounds", "rounds due", "rounds log L2 note 'ümlaut'", "rounds calc", "rounds sheet --to +1d"],
)
def test_a_terminal_with_few_letters_gets_the_nearest_ones(book: Path, command: str) -> None:
    done = shell(
        f"{command} </dev/null",
        book,
        PYTHONUTF8="0",
        PYTHONCOERCECLOCALE="0",
        LC_ALL="C",
        PYTHONIOENCODING="ascii",
    )

    assert done.returncode == 0, done.stderr
    assert done.stdout.isascii()
    assert "Traceback" not in done.stderr
    if " log " in command:
        assert entries(book)[-1]["text"] == "ümlaut", "what was typed is kept whole"


def test_a_reader_that_stops_reading_is_no_trouble(book: Path) -> None:
    done = shell("rounds | head -n 1; echo ${PIPESTATUS[0]}", book)

    assert done.stdout.splitlines()[-1] == "0"
    assert done.stderr == ""


def test_text_from_outside_cannot_hide_or_turn_round_in_a_pipe(book: Path) -> None:
    told = rounds("log", "L2", "note", "a\u202eb\u200bc\x1b[31md", book=book).stdout

    assert "a‹202E›b‹200B›c‹001B›[31md" in told


def test_without_colour_the_words_tell_all(book: Path) -> None:
    child = start(book, NO_COLOR="1")
    screen = pyte.Screen(80, 24)
    shown = screen_of(child, screen, pyte.ByteStream(screen), "1 female Boloria dia")
    child.sendcontrol("c")
    child.expect(pexpect.EOF)

    assert "1 female Boloria dia" in shown
    cells = [cell for row in screen.buffer.values() for cell in row.values()]
    assert {cell.fg for cell in cells} | {cell.bg for cell in cells} == {"default"}
    assert any(cell.bold for cell in cells)


def test_a_screen_with_few_letters_still_tells_and_takes(book: Path) -> None:
    child = start(
        book, PYTHONUTF8="0", PYTHONCOERCECLOCALE="0", LC_ALL="C", PYTHONIOENCODING="ascii"
    )
    screen = pyte.Screen(80, 24)
    stream = pyte.ByteStream(screen)
    assert "1 female Boloria dia" in screen_of(child, screen, stream, "1 female Boloria dia")
    child.send("d")
    assert "L2 drank" in screen_of(child, screen, stream, "saved")
    child.send("q")
    child.expect(pexpect.EOF)
    child.close()

    assert child.exitstatus == 0
    assert entries(book)[-1]["what"] == "drank"


def test_stopped_with_ctrl_z_and_brought_back(book: Path) -> None:
    child = pexpect.spawn(
        "/bin/bash", ["--norc", "--noprofile", "-i"], dimensions=(24, 80), timeout=30, encoding="utf-8",
        env=os.environ | {"TERM": "xterm-256color", "PS1": "ready> ", "ROUNDS_BOOK": str(book)},
    )  # fmt: skip
    child.expect("ready> ")
    child.sendline(f"{sys.executable} -m rounds")
    child.expect("drank")
    child.sendcontrol("z")
    child.expect("Stopped")
    child.sendline("fg")
    child.expect("drank")
    child.send("d")
    child.expect("saved")
    child.send("q")
    child.expect("ready> ")
    told = child.before or ""
    child.sendline("exit")
    child.expect(pexpect.EOF)

    assert "Traceback" not in told
    assert entries(book)[-1]["what"] == "drank"


@pytest.mark.parametrize("heeds", [True, False], ids=["hung up", "hang-up ignored"])
def test_a_terminal_that_is_gone_ends_the_screens_and_loses_nothing(
    book: Path, heeds: bool
) -> None:
    child = pexpect.spawn(
        sys.executable, ["-m", "rounds", "--book", str(book)], dimensions=(24, 80), timeout=30, ignore_sighup=not heeds,
        env=os.environ | {"TERM": "xterm-256color"},
    )  # fmt: skip
    screen = pyte.Screen(80, 24)
    stream = pyte.ByteStream(screen)
    screen_of(child, screen, stream, "r round")
    child.send("d")
    assert "saved" in screen_of(child, screen, stream, "saved")

    child.ptyproc.fileobj.close()  # the terminal's window is closed; by its owner, who would close the number a second time
    ended = time.monotonic() + 20
    while child.isalive() and time.monotonic() < ended:
        os.sched_yield()
    alive = child.isalive()
    child.close(force=True)

    assert not alive
    assert entries(book)[-1]["what"] == "drank"
    assert rounds("check", book=book).returncode == 0


def test_a_reader_that_leaves_early_changes_no_status(book: Path) -> None:
    """What is late, or that the book is not whole, is said by the status, whoever reads the rest."""
    entries = next(book.glob("entries-*.jsonl"))
    entries.write_text(entries.read_text() + '{"what":"torn\n')
    commands = "'due --exit-code' 'sheet --from now --to 2d' 'export occurrences -' shelves 'round --plain'"
    ran = "rounds $asked 2>/dev/null | true; echo ${PIPESTATUS[0]}"
    done = shell(f"for asked in {commands}; do {ran}; done </dev/null", book)

    assert done.stdout.split() == ["2"] * 5, done.stderr
    assert done.stderr == ""
