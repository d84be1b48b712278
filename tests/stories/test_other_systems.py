"""A system that has neither the locks nor the ways of opening a file that others have: the book is kept all the same."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

# Modules and names that Python has on some systems only. The standard library and the packages may use what this one has.
ELSEWHERE = """
import asyncio, os, subprocess, sys, tempfile
import tinydb
class Refuse:
    def find_spec(self, name, path=None, target=None):
        if name in ("fcntl", "termios", "pwd", "grp", "resource"):
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)
for name in ("fcntl", "termios", "pwd", "grp", "resource"):
    sys.modules.pop(name, None)
sys.meta_path.insert(0, Refuse())
for name in ("pread", "pwrite", "O_NOFOLLOW", "O_NONBLOCK", "O_CLOEXEC", "O_DIRECTORY"):
    delattr(os, name)
"""
RUN = ELSEWHERE + "from rounds.shell.main import run\nrun()\n"


def elsewhere(code: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", code, *arguments],
        capture_output=True,
        text=True,
        input="",
        check=False,
    )


def test_a_book_is_kept_and_read(tmp_path: Path) -> None:
    book = tmp_path / "book"
    done = elsewhere(RUN, "--book", str(book), "log", "K2", "set", "up", "laying")
    assert done.returncode == 0, done.stderr
    for _ in range(3):
        assert elsewhere(RUN, "--book", str(book), "log", "K2", "note", "seen").returncode == 0
    lines = [
        json.loads(line)
        for file in book.glob("entries-*.jsonl")
        for line in file.read_text().splitlines()
    ]
    assert sorted(line["what"] for line in lines) == [
        "note",
        "note",
        "note",
        "set up",
        "setting",
    ]
    due = elsewhere(RUN, "--book", str(book), "due", "--within", "3d")
    assert (due.returncode, due.stderr) == (0, "")
    shown = elsewhere(RUN, "--book", str(book))
    assert "K2" in shown.stdout, shown.stderr


def test_it_is_backed_up_merged_and_carried_on_where_there_are_locks(tmp_path: Path) -> None:
    book = tmp_path / "book"
    assert elsewhere(RUN, "--book", str(book), "log", "K2", "set", "up", "laying").returncode == 0
    env = os.environ | {"ROUNDS_BOOK": str(book)}
    here = subprocess.run(
        [sys.executable, "-m", "rounds", "log", "K2", "note", "here"],
        capture_output=True,
        text=True,
        env=env,
        check=False,
    )
    assert here.returncode == 0, here.stderr
    copy = tmp_path / "copy.zip"
    assert elsewhere(RUN, "--book", str(book), "backup", str(copy)).returncode == 0
    merged = elsewhere(RUN, "--book", str(tmp_path / "other"), "merge", str(copy))
    assert merged.returncode == 0, merged.stderr
    assert "K2" in elsewhere(RUN, "--book", str(tmp_path / "other")).stdout


def test_the_screens_can_be_loaded() -> None:
    done = elsewhere(
        ELSEWHERE + "import rounds.screens.app, rounds.screens.round_screen\nprint('loaded')\n"
    )
    assert done.stdout == "loaded\n", done.stderr
