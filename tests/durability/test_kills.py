"""Forty kills of the thousand that `python -m tests.durability.kills` makes; in a process of its own, for it forks."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from rounds.bench import incremental_fold
from rounds.entries.registry import Note
from tests.durability import kills
from tests.durability.books import bench_of, desk_at, plain


def test_what_was_acknowledged_outlives_a_kill_at_any_moment() -> None:
    command = [sys.executable, "-m", "tests.durability.kills", "--times", "40", "--seed", "3"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr
    assert "none lost, none doubled" in done.stdout


def test_kills_before_anything_was_acknowledged_prove_nothing(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(kills, "killed", lambda *of: [])
    monkeypatch.setattr(kills, "fresh", lambda *of: tmp_path / "book")
    monkeypatch.setattr(kills.signal, "pthread_sigmask", lambda *of: None)
    for setting in ("KEPT", "MAX_SEALED"):
        monkeypatch.setattr(incremental_fold, setting, getattr(incremental_fold, setting))
    with pytest.raises(AssertionError, match="nothing was acknowledged while saying"):
        kills.run(9, 7, "saying", print)


def test_of_lines_that_count_together_one_alone_is_not_judged_to_count(tmp_path: Path) -> None:
    desk = desk_at(tmp_path)
    desk.say_many([(Note, {"text": "one"}), (Note, {"text": "two"})])
    desk.strike_last()
    whole = bench_of(tmp_path)
    assert len(whole.strikes) == 2
    (file,) = tmp_path.glob("entries-*.jsonl")
    file.write_text("".join(file.read_text().splitlines(keepends=True)[:-1]))
    half = bench_of(tmp_path)
    assert not half.strikes
    assert plain(desk_at(tmp_path, "bbbb2222")) == half  # which wrote none of them
