"""An acknowledgement that cannot be written: the entry is on disk, and the error says so, so that nobody says it twice."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest


@pytest.mark.skipif(
    not os.path.exists("/dev/full"), reason="the device that is always full is there on Linux alone"
)
def test_the_error_says_that_the_entry_is_saved(tmp_path: Path) -> None:
    with open("/dev/full", "w") as full:
        command = [
            sys.executable,
            "-m",
            "rounds",
            "log",
            "--book",
            str(tmp_path / "book"),
            "note",
            "once",
        ]
        ran = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True, check=False)

    lines = [
        json.loads(line)
        for file in (tmp_path / "book").glob("entries-*")
        for line in file.read_text().splitlines()
    ]
    assert [line["text"] for line in lines if line["what"] == "note"] == ["once"]
    assert "IS saved" in ran.stderr
    assert lines[-1]["id"] in ran.stderr
    assert "Traceback" not in ran.stderr
    assert ran.returncode == 1
