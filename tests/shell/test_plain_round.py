"""The round on lines: the same entries as on the screen, every key's meaning, a pipe, a kill in the middle."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pexpect
import pytest

from rounds.app.clock import system_clock
from rounds.app.desk import Desk
from rounds.app.round import Walking
from rounds.app.startup import local_zone, open_desk
from rounds.daybook import NotSaved
from rounds.entries import codec as written
from rounds.shell.demo import told
from rounds.shell.round import PlainRound
from rounds.views.plain_round import read_answer
from tests.command import rounds
from tests.conftest import Clock
from tests.screens.conftest import Opened, opened
from tests.screens.driving import SPECIAL, walk
from tests.screens.test_bench_screen import on_disk

assert opened  # the fixture that opens the screens


def answers(desk: Desk, most: int = 1000) -> Iterator[str]:
    """A line for each thing that the walk asks."""
    walking = Walking(desk)
    for _ in range(most):
        page = walking.answered()
        if page is None:
            return
        asked, question = page.asked, page.question
        if asked is None or question is None:
            yield ""
        else:
            yield (
                " "
                if any(one.usual and not one.prompt for one in question.answers)
                else "".join(SPECIAL[asked.check]).removesuffix("enter")
            )


def meaning(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The entries without what differs between two tellings: ids and the rounds that they name."""
    return [
        {name: value for name, value in one.items() if name not in ("id", "round")}
        for one in entries
    ]


def plain(desk: Desk, lines: Iterator[str] | list[str]) -> tuple[PlainRound, list[str]]:
    """Walk with these lines; what was told."""
    said: list[str] = []
    walked = PlainRound(desk, lines, said.append)
    walked.go()
    return walked, said


@pytest.fixture
def second_demo(tmp_path_factory: pytest.TempPathFactory, clock: Clock) -> Desk:
    """The same demo at the same hour in another book."""
    from rounds.daybook import Daybook
    from tests.conftest import PARIS, demo_told

    counter = iter(range(1, 1_000_000))
    desk = Desk(
        Daybook.open(tmp_path_factory.mktemp("second") / "book", "bbbb1111"),
        clock=clock,
        entropy=lambda size: next(counter).to_bytes(size, "big"),
        zone=PARIS,
        keeper="KM",
    )
    desk.book.append_many(demo_told(clock.now, PARIS))
    desk.hear()
    return desk


async def test_the_whole_round_on_lines_writes_what_the_screen_writes(
    demo_desk: Desk, second_demo: Desk, opened: Opened
) -> None:
    before = len(on_disk(demo_desk))
    walked, said = plain(demo_desk, answers(demo_desk))
    async with opened(second_demo) as (app, pilot):
        await pilot.press("r")
        await walk(pilot, app)

    assert walked.refused == 0
    assert demo_desk.bench.open_round is None
    assert meaning(on_disk(demo_desk)[before:]) == meaning(on_disk(second_demo)[before:])
    assert len(on_disk(demo_desk)) - before > 45
    assert any("Did they drink?" in line for line in said)
    assert all("\n" not in line and "  " not in line for line in said)


def test_it_goes_on_where_the_lines_ended(demo_desk: Desk, open_desk: Callable[..., Desk]) -> None:
    _, said = plain(demo_desk, answers(demo_desk, most=12))
    assert said[-1].startswith("The round is open; it goes on at ")
    place = said[-1].split(" goes on at ")[1].split(".")[0]

    again = open_desk()
    _, said = plain(again, answers(again))

    assert any(line.startswith(f"{place}, ") or line == place for line in said[:16])
    assert again.bench.open_round is None
    assert (
        sum(
            1
            for entry in on_disk(again)
            if entry["what"] == "round started" and entry["logged"][:10] == "2026-05-20"
        )
        == 1
    )


def test_skip_strike_when_suspect_and_note(demo_desk: Desk, clock: Clock) -> None:
    lines = [
        "- no light",
        "z",
        "m",
        "u",
        "? ",
        "w -5m",
        " ",
        "w",
        "n wet floor",
        "t K7 drank 1",
        "t K7 drnk",
        "9999x",
        "q",
    ]
    walked, said = plain(demo_desk, lines)
    new = [entry for entry in on_disk(demo_desk) if entry["logged"][:16] == "2026-05-20T07:04"]

    assert [entry["what"] for entry in new[:3]] == ["round started", "skipped", "skipped"]
    assert [entry["why"] for entry in new[1:3]] == ["no light", "no time"]
    assert "struck" in [entry["what"] for entry in new]
    assert [entry["at"][11:16] for entry in new].count("06:59") >= 1
    assert [entry["text"] for entry in new if entry["what"] == "note"] == ["wet floor"]
    assert new[-1]["what"] == "drank"
    assert walked.refused == 2
    assert any("perhaps drank" in line for line in said)
    assert any(line.startswith("Why: ") for line in said)
    assert demo_desk.bench.open_round is not None


def test_a_suspect_goes_to_the_end_of_the_walk(demo_desk: Desk) -> None:
    def lines() -> Iterator[str]:
        walking = Walking(demo_desk)
        for line in answers(demo_desk):
            walking.see()
            if walking.here:
                yield "x"
                return
            yield line

    plain(demo_desk, lines())

    assert on_disk(demo_desk)[-1]["what"] == "suspect"
    assert demo_desk.bench.containers[on_disk(demo_desk)[-1]["container"]].suspect_since is not None


@pytest.mark.parametrize(
    ("typed", "key", "number", "second"),
    [
        ("d", "d", None, None), ("drank", "d", None, None), ("2 d", "d", 2, None), ("2d", "d", 2, None), ("2", "d", 2, None),
        (" ", "d", None, None), ("hand-fed", "h", None, None), ("1 hand-fed", "h", 1, None), ("h 1", "h", 1, None),
    ],
)  # fmt: skip
def test_an_answer_is_a_key_its_words_or_a_number_first(
    typed: str, key: str, number: float | None, second: float | None
) -> None:
    from rounds.checks.questions import QUESTIONS

    given = read_answer(QUESTIONS["drink"], typed)

    assert not isinstance(given, str)
    assert (given.answer.key, given.amount.number, given.amount.second) == (key, number, second)


def test_what_is_no_answer_is_refused_with_what_would_be() -> None:
    from rounds.checks.questions import QUESTIONS

    assert read_answer(QUESTIONS["drink"], "banana") == (
        "'banana' is no answer here. Space or key d: drank. Key h: hand-fed. Key o: only offered. Key r: refused."
        " Key f: found dead. Or a number, then Enter: how many drank."
    )
    assert (
        read_answer(QUESTIONS["ants"], "22/26")
        == "'22/26' is more than one number; this takes one, as 12"
    )
    assert (
        read_answer(QUESTIONS["eggs"], "2.5")
        == "'2.5' is no whole number; this takes eggs found, as 12"
    )
    assert (
        read_answer(QUESTIONS["eggs"], "1.2.3")
        == "'1.2.3' is not a number; type digits, as 12 or 21.4"
    )
    assert (
        read_answer(QUESTIONS["leaf"], " ")
        == "there is no usual answer here. Key a: leaf put in. Key p: another plant. Key y: hatched. Or a number before key y: how many. Or key full stop before key y: all."
    )


def test_degrees_may_have_a_comma_and_be_below_nought() -> None:
    from rounds.checks.questions import QUESTIONS

    given = read_answer(QUESTIONS["room"], "-2,5/4")

    assert not isinstance(given, str)
    assert (given.amount.number, given.amount.second) == (-2.5, 4)


@pytest.fixture
def demo_book(tmp_path: Path) -> Path:
    """The demo in a book of its own, as its round is due now."""
    book = tmp_path / "book"
    desk = open_desk(book)
    desk.book.append_many(
        [written.write(entry) for entry in told(system_clock(), local_zone(os.environ))]
    )
    return book


def test_a_pipe_walks_too_and_says_what_was_refused(demo_book: Path) -> None:
    done = rounds("round", "--plain", book=demo_book, typed="22/26\nbanana\n")

    assert done.returncode == 1
    assert "Saved" in done.stdout
    assert "> 22/26" in done.stdout
    assert "Not taken: 'banana' is no answer here" in done.stdout
    assert "The round is open" in done.stdout
    assert done.stderr == ""
    assert rounds("round", "--plain", book=demo_book, typed="").returncode == 0


def test_in_a_real_terminal_killed_half_way_it_goes_on(demo_book: Path) -> None:
    def start() -> pexpect.spawn:
        return pexpect.spawn(
            sys.executable, ["-m", "rounds", "round", "--plain", "--book", str(demo_book), "--by", "KM"],
            dimensions=(24, 80), env=os.environ | {"TERM": "xterm-256color"}, timeout=20, encoding="utf-8",
        )  # fmt: skip

    child = start()
    child.expect("What does the thermometer show")
    child.expect("> ")
    child.sendline("22/26")
    child.expect("Saved, .*22 to 26 C")
    child.expect("How is the ant barrier")
    child.kill(9)
    child.wait()

    child = start()
    child.expect("How is the ant barrier")
    child.expect("> ")
    child.sendline("")
    child.expect("How is the ant barrier")
    child.sendline("e")
    child.expect("Saved")
    child.expect("> ")
    child.sendeof()
    child.expect("The round is open; it goes on at ")
    child.expect(pexpect.EOF)
    child.close()

    assert child.exitstatus == 0
    entries = [
        json.loads(line)
        for file in demo_book.glob("*.jsonl")
        for line in file.read_text().splitlines()
    ]
    assert [entry["what"] for entry in entries[-3:]] == ["round started", "air", "barrier"]


def test_ctrl_c_leaves_the_round_open(demo_book: Path) -> None:
    child = pexpect.spawn(
        sys.executable, ["-m", "rounds", "round", "--plain", "--book", str(demo_book)],
        env=os.environ | {"TERM": "xterm"}, timeout=20, encoding="utf-8",
    )  # fmt: skip
    child.expect("What does the thermometer show")
    child.expect("> ")
    child.sendintr()
    child.expect("The round is open; it goes on at the room")
    child.expect(pexpect.EOF)
    child.close()

    assert child.exitstatus == 130
    assert "Traceback" not in (child.before or "")


def test_what_cannot_be_saved_is_said_and_goes_first(
    demo_desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    full = NotSaved("the disk is full")

    def refuse(*_: object) -> None:
        raise full

    append = demo_desk.book.append_many

    def lines() -> Iterator[str]:
        yield from ("22/26", "")
        monkeypatch.setattr(demo_desk.book, "append_many", refuse)
        yield " "
        yield " "
        monkeypatch.setattr(demo_desk.book, "append_many", append)
        yield ""

    before = len(demo_desk.entries())
    walked, said = plain(demo_desk, lines())
    told = [
        words for words in said if words.startswith(("NOT SAVED", "Not taken: first", "Saved now"))
    ]
    assert [words.split(":")[0] for words in told] == ["NOT SAVED", "Not taken", "Saved now"]
    assert walked.refused == 1
    assert len(demo_desk.entries()) == before + 3, (
        "the round begun, the room's air, and the one answer, once"
    )


def test_leaving_with_an_answer_unsaved_does_not_say_that_all_is_saved(
    demo_desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise NotSaved("the disk is full")

    def lines() -> Iterator[str]:
        yield from ("22/26", "")
        monkeypatch.setattr(demo_desk.book, "append_many", refuse)
        yield from (" ", "q")

    _, said = plain(demo_desk, lines())
    assert not any("All that was said is saved" in words for words in said)
    assert said[-1].startswith("NOT SAVED, say it again when the book can be written: ")
