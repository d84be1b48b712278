"""A true terminal: the command starts, a feeding is logged with one key, it quits, and the entry is on disk."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

import pexpect
import pyte
import pytest

from tests.command import rounds


def screen_of(
    child: pexpect.spawn, screen: pyte.Screen, stream: pyte.ByteStream, wanted: str
) -> str:
    """Feed the terminal until the words are on it."""
    for _ in range(200):
        try:
            stream.feed(child.read_nonblocking(65536, timeout=0.1))
        except pexpect.TIMEOUT:
            pass
        except pexpect.EOF:
            break
        shown = "\n".join(screen.display)
        if wanted in shown:
            return shown
    return "\n".join(screen.display)


def test_a_feeding_is_logged_in_a_real_terminal_and_found_on_disk(tmp_path: Path) -> None:
    book = tmp_path / "book"
    typed = "L2 set up laying\nL2 founder QUE-26-02, Boloria dia female\n"
    assert rounds("log", "-", book=book, typed=typed).returncode in (0, 1)
    screen = pyte.Screen(80, 24)
    stream = pyte.ByteStream(screen)
    installed = Path(sys.executable).with_name(
        "rounds"
    )  # the command as it is installed beside the interpreter
    child = pexpect.spawn(
        str(installed),
        ["--book", str(book), "--by", "KM"],
        dimensions=(24, 80),
        env=os.environ | {"TERM": "xterm-256color", "TZ": "Europe/Paris"},
        timeout=20,
    )
    shown = screen_of(child, screen, stream, "Not recorded yet")
    assert "1 female Boloria dia" in shown
    assert "Not recorded yet" in shown

    child.send("d")
    shown = screen_of(child, screen, stream, "saved")
    assert "L2 drank" in shown

    child.send("q")
    child.expect(pexpect.EOF)
    child.close()

    assert child.exitstatus == 0
    entries = [
        json.loads(line) for file in book.glob("*.jsonl") for line in file.read_text().splitlines()
    ]
    assert [entry["by"] for entry in entries if entry["what"] == "drank"] == ["KM"]


def test_a_terminal_that_is_hung_up_loses_nothing(tmp_path: Path) -> None:
    book = tmp_path / "book"
    typed = "L2 set up laying\nL2 founder QUE-26-02, Boloria dia female\n"
    rounds("log", "-", book=book, typed=typed)
    screen = pyte.Screen(80, 24)
    stream = pyte.ByteStream(screen)
    child = pexpect.spawn(
        sys.executable, ["-m", "rounds", "--book", str(book)], dimensions=(24, 80),
        env=os.environ | {"TERM": "xterm-256color", "TZ": "Europe/Paris"}, timeout=20,
    )  # fmt: skip
    screen_of(child, screen, stream, "r round")
    child.send("d")
    assert "saved" in screen_of(child, screen, stream, "saved")

    child.kill(9)
    child.wait()

    assert "not recorded yet" not in rounds(book=book).stdout


@pytest.mark.parametrize("words", ["Old shed", "oo"])
def test_letters_typed_before_the_first_page_stands_arrive(tmp_path: Path, words: str) -> None:
    rounds("log", "-", book=tmp_path / "book", typed="L2 set up laying\n")
    child = pexpect.spawn(
        sys.executable, ["-m", "rounds", "--book", str(tmp_path / "book")], dimensions=(24, 80), timeout=30,
        env=os.environ | {"TERM": "xterm-256color"},
    )  # fmt: skip
    child.delaybeforesend = None
    child.send(f"/{words}")
    screen = pyte.Screen(80, 24)
    shown = screen_of(child, screen, pyte.ByteStream(screen), f" {words} ")
    child.sendcontrol("c")
    child.expect(pexpect.EOF)

    assert f" {words} " in shown
