"""Forty kills of the thousand that `python -m tests.durability.kills` makes; in a process of its own, for it forks."""

from __future__ import annotations

import subprocess
import sys


def test_what_was_acknowledged_outlives_a_kill_at_any_moment() -> None:
    command = [sys.executable, "-m", "tests.durability.kills", "--times", "40", "--seed", "3"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr
    assert "none lost, none doubled" in done.stdout
