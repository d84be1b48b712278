"""What is due is told again without a reckoning as long as nothing has changed; whatever changes, it is what a reckoning tells."""

from __future__ import annotations

import json
import os
import random
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.stories.telling import Ran, Story, tell
from tests.stories.test_check_and_due_agree import WRONG


@pytest.fixture(autouse=True)
def _long_ago(monkeypatch: pytest.MonkeyPatch) -> None:
    """What was written just now was written long ago."""
    monkeypatch.setattr("rounds.daybook.unchanged.JUST_THEN_NS", -10_000_000_000)


@pytest.fixture
def bench(story: Story) -> Story:
    tell(
        story,
        "K2 set up laying\nK2 founder W2 'Aglais vera' female\nK2 host in violet leaf 2 sprigs\n"
        "K3 set up rearing\nK3 5 larvae L3 of Q2/A 'Aglais vera'\nK3 host in violet leaf 3 sprigs",
    )
    story.clock.on(hours=13)
    return story


def kept(story: Story) -> list[Path]:
    """Where the last reckoning lies."""
    return list(Path(os.environ["XDG_STATE_HOME"]).rglob("*.due"))


def reckoned(story: Story, *arguments: str) -> Ran:
    """What the book itself tells."""
    for file in kept(story):
        file.unlink()
    return story.shell("due", *arguments)


class _Reckoned(Exception):
    """The book was reckoned."""


def is_told_again(story: Story, monkeypatch: pytest.MonkeyPatch) -> bool:
    """Whether the next ``due`` reckons nothing."""

    def refuse(*_: object) -> int:
        raise _Reckoned

    with monkeypatch.context() as patch:
        patch.setattr("rounds.shell.due._reckoned", refuse)
        try:
            story.shell("due")
        except _Reckoned:
            return False
    return True


def test_a_second_time_nothing_is_reckoned_and_the_same_is_told(
    bench: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = bench.shell("due", "--within", "1d", "--exit-code")
    assert "K2" in first.out
    assert is_told_again(bench, monkeypatch)
    assert bench.shell("due", "--within", "1d", "--exit-code") == first
    bench.clock.on(minutes=3)
    assert is_told_again(bench, monkeypatch)
    again = bench.shell("due", "--within", "30h", "--exit-code")
    assert again == reckoned(bench, "--within", "30h", "--exit-code")


def test_what_is_said_is_reckoned(bench: Story, monkeypatch: pytest.MonkeyPatch) -> None:
    before = bench.shell("due")
    assert bench.shell("log", "K2 drank").status == 0
    assert not is_told_again(bench, monkeypatch)
    after = bench.shell("due")
    assert after.out != before.out
    assert after == reckoned(bench)


def test_what_another_laptop_said_is_reckoned(
    bench: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = bench.shell("due")
    (file,) = bench.folder.glob("entries-*")
    line = json.loads(file.read_text().splitlines()[-1])
    at = bench.clock.now.isoformat()
    line |= {"what": "drank", "id": "ZZZZZZZZZZZZZZZZ", "at": at, "logged": at}
    line = {name: line[name] for name in ("what", "id", "at", "logged", "by") if name in line}
    beside = bench.folder / "entries-other222-2026-05.jsonl"
    beside.write_text(json.dumps(line | {"container": "K2"}) + "\n")
    beside.chmod(0o600)
    assert not is_told_again(bench, monkeypatch)
    after = bench.shell("due")
    assert after.out != before.out
    assert after == reckoned(bench)


@pytest.mark.parametrize("change", WRONG, ids=lambda change: change.__name__)
def test_a_book_that_is_not_whole_any_more_is_told(
    bench: Story, change: Callable[[Path], None]
) -> None:
    assert bench.shell("due").status == 0
    assert kept(bench)
    change(bench.folder)
    ran = bench.shell("due")
    assert ran.status == 2
    assert "NOT WHOLE" in ran.out
    assert bench.shell("due") == ran


def test_with_a_clock_set_back_or_another_zone_it_is_reckoned(
    bench: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench.shell("due")
    bench.clock.on(minutes=-2)
    assert not is_told_again(bench, monkeypatch)
    bench.clock.on(minutes=2)
    assert is_told_again(bench, monkeypatch)
    monkeypatch.setattr("tests.stories.telling.ZONE", _another_zone())
    assert not is_told_again(bench, monkeypatch)


def _another_zone() -> object:
    from zoneinfo import ZoneInfo

    return ZoneInfo("Europe/Lisbon")


def test_once_an_hour_of_a_check_may_be_another_it_is_reckoned(
    bench: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench.shell("due")
    bench.clock.on(days=1)
    assert not is_told_again(bench, monkeypatch)


def test_another_book_in_its_place_is_read(bench: Story, tmp_path: Path) -> None:
    first = bench.shell("due")
    away = tmp_path / "away"
    bench.folder.rename(away)
    ran = bench.shell("due")
    assert (ran.status, ran.out) == (2, "")
    shutil.copytree(away, bench.folder)
    assert bench.shell("due").out == first.out  # the same lines, read anew


@pytest.mark.parametrize("seed", range(3))
def test_what_was_kept_and_is_damaged_is_not_believed(
    bench: Story, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    chance = random.Random(seed)
    first = bench.shell("due")
    (file,) = kept(bench)
    data = bytearray(file.read_bytes())
    for _ in range(5):
        place = chance.randrange(len(data) - 1)
        torn = bytearray(data)
        torn[place] ^= 1 << chance.randrange(8)
        for damaged in (torn, data[:place]):
            file.write_bytes(damaged)
            assert not is_told_again(bench, monkeypatch)
    assert bench.shell("due") == first


def test_a_machine_that_can_remember_nothing_any_more_is_told(
    bench: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert not bench.shell("due").err
    monkeypatch.setattr("rounds.daybook.machine_memory.PROBED", 1 << 62)
    really = bytes
    monkeypatch.setattr("rounds.daybook.machine_memory.bytes", lambda _: really(1), raising=False)
    assert "nothing of this book can be remembered" in bench.shell("due").err


def test_another_program_believes_nothing_of_it(
    bench: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench.shell("due")
    monkeypatch.setattr("rounds.app.last_dues.made_by", lambda: "another")
    assert not is_told_again(bench, monkeypatch)
