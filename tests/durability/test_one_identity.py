"""Small runs of `python -m tests.durability.one_identity` and `python -m tests.durability.weather`, in processes of their own."""

from __future__ import annotations

import subprocess
import sys

import pytest


@pytest.mark.parametrize("which", ["two", "one home", "clones"])
def test_every_acknowledged_line_is_in_both_copies(which: str) -> None:
    command = [
        sys.executable,
        "-m",
        "tests.durability.one_identity",
        "--times",
        "1",
        "--each",
        "60",
        "--only",
        which,
    ]
    done = subprocess.run(command, capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr
    assert (
        f"{which}: 1 times, 120 entries were acknowledged; all in both copies, none lost"
        in done.stdout
    )


def test_kills_in_any_weather_lose_nothing() -> None:
    command = [sys.executable, "-m", "tests.durability.weather", "--times", "40", "--seed", "5"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr
    assert "40 kills" in done.stdout
