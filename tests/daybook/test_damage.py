"""Damaged books: never a crash, always a word about it, the rest is read."""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rounds.daybook import Daybook, new_id, time_of_id
from rounds.daybook.ids import ALPHABET
from tests.daybook.test_table import entry

GOOD = json.dumps(entry(1)).encode()
ALSO = json.dumps(entry(2)).encode()


def book_of(tmp_path: Path, data: bytes, laptop: str = "bbbb2222", age_s: float = 3_600) -> Daybook:
    """A book with one file of these bytes, which last grew so long ago."""
    folder = tmp_path / "book"
    folder.mkdir(mode=0o700, exist_ok=True)
    file = folder / f"entries-{laptop}-2026-05.jsonl"
    file.write_bytes(data)
    os.utime(file, (time.time() - age_s,) * 2)
    return Daybook.open(folder, "aaaa1111")


@pytest.mark.parametrize(
    ("data", "read", "said"),
    [
        (GOOD + b"\n" + ALSO + b"\n", 2, ""),
        (b"\xef\xbb\xbf" + GOOD + b"\r\n" + ALSO + b"\r\n", 2, ""),
        (GOOD + b"\n\n\n" + ALSO + b"\n", 2, ""),
        (GOOD + b"\n" + b"\0" * 40 + b"\n" + ALSO + b"\n", 2, "line 2: holds zero bytes"),
        (GOOD + b"\nnot an entry\n" + ALSO + b"\n", 2, "line 2: is not an entry"),
        (
            GOOD + b"\n{" + b"x" * 1_000_001 + b"\n" + ALSO + b"\n",
            2,
            "line 2: is 1000002 bytes long",
        ),
        (
            GOOD + b"\n" + ALSO,
            1,
            f": its last line has no end ({len(ALSO)} bytes); it may still be being copied",
        ),
        (b"", 0, ": is empty: it did not come whole"),
    ],
)
def test_each_kind_of_damage_is_told_with_its_place(
    tmp_path: Path, data: bytes, read: int, said: str
) -> None:
    batch = book_of(tmp_path, data).new_lines()

    assert len(batch.lines) == read
    assert len(batch.problems) == bool(said)
    if said:
        place = "" if said.startswith(":") else " "
        assert f"entries-bbbb2222-2026-05.jsonl{place}{said}" in str(batch.problems[0])


def test_our_own_torn_line_is_set_aside_and_said_so(tmp_path: Path) -> None:
    book = book_of(tmp_path, GOOD + b'\n{"id":"id0', laptop="aaaa1111")

    batch = book.new_lines()

    assert len(batch.lines) == 1
    assert "its last line was torn; 10 bytes set aside in aside/" in str(batch.problems[0])
    (kept,) = (book.folder / "aside").iterdir()
    assert kept.read_bytes() == b'{"id":"id0'
    book.append_many([entry(3)])
    assert len(Daybook.open(book.folder, "aaaa1111").new_lines().lines) == 2


def test_a_file_under_our_name_that_is_still_being_copied_is_left_alone(tmp_path: Path) -> None:
    book = book_of(tmp_path, GOOD + b'\n{"id":"id0', laptop="aaaa1111", age_s=5)

    (problem,) = book.new_lines().problems
    assert "may still be being copied" in problem.text
    (file,) = book.folder.iterdir()
    assert file.read_bytes() == GOOD + b'\n{"id":"id0'


def test_a_line_that_comes_in_two_halves_is_read_once_whole(tmp_path: Path) -> None:
    book = book_of(tmp_path, GOOD + b"\n" + ALSO[:20])
    assert len(book.new_lines().lines) == 1

    with (book.folder / "entries-bbbb2222-2026-05.jsonl").open("ab") as file:
        file.write(ALSO[20:] + b"\n")

    assert [json.loads(line.raw)["id"] for line in book.new_lines().lines] == ["id002"]


def test_a_copy_that_a_synchroniser_made_adds_only_what_is_new(tmp_path: Path) -> None:
    book = book_of(tmp_path, GOOD + b"\n")
    copy = book.folder / "entries-bbbb2222-2026-05.sync-conflict-20260520.jsonl"
    copy.write_bytes(GOOD + b"\n" + ALSO + b"\n")
    (book.folder / ".syncing.tmp").write_bytes(b"half")

    assert [json.loads(line.raw)["id"] for line in book.new_lines().lines] == ["id001", "id002"]


def test_a_rewritten_file_is_read_again_and_told(tmp_path: Path) -> None:
    book = book_of(tmp_path, GOOD + b"\n")
    book.new_lines()
    (book.folder / "entries-bbbb2222-2026-05.jsonl").write_bytes(ALSO + b"\n" + GOOD + b"\n")

    batch = book.new_lines()

    assert len(batch.lines) == 2
    assert "was rewritten" in str(batch.problems[0])


@given(st.binary(max_size=400))
@settings(max_examples=150, deadline=None)
def test_no_bytes_stop_a_start(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    folder = tmp_path_factory.mktemp("any")
    batch = book_of(folder, data).new_lines()

    assert all(b"\n" not in line.raw for line in batch.lines)
    assert book_of(folder, data, laptop="aaaa1111").new_lines() is not None


WRITER = """
import sys
from pathlib import Path
from rounds.daybook import Daybook
book = Daybook.open(Path(sys.argv[1]), sys.argv[2])
number = 0
while True:
    number += 1
    book.append_many([{"id": f"{sys.argv[2]}-{number:06d}", "at": "x", "logged": "2026-05-20T07:00:00+02:00", "what": "drank"}])
    print(number, flush=True)
"""


def test_killed_while_it_writes_a_book_keeps_all_that_it_said(tmp_path: Path) -> None:
    chance = random.Random(5)
    said = 0
    for turn in range(8):
        laptop = f"kill{turn}"
        child = subprocess.Popen(
            [sys.executable, "-c", WRITER, str(tmp_path / "book"), laptop],
            stdout=subprocess.PIPE,
            text=True,
        )
        assert child.stdout is not None
        child.stdout.readline()
        time.sleep(chance.uniform(0.0, 0.05))
        os.kill(child.pid, signal.SIGKILL)
        rest = child.stdout.read().split()
        child.wait()
        child.stdout.close()
        said = int(rest[-1]) if rest and rest[-1].isdigit() else 1

        book = Daybook.open(tmp_path / "book", laptop)
        ids = [json.loads(line.raw)["id"] for line in book.new_lines().lines]
        mine = [one for one in ids if one.startswith(laptop)]

        assert len(mine) == len(set(mine)) >= said


def test_writers_at_once_lose_nothing_and_double_nothing(tmp_path: Path) -> None:
    limited = WRITER.replace("while True:", "while number < 150:")
    children = [
        subprocess.Popen(
            [sys.executable, "-c", limited, str(tmp_path / "book"), laptop],
            stdout=subprocess.DEVNULL,
        )
        for laptop in ("same", "same", "other", "third")
    ]
    for child in children:
        assert child.wait() == 0

    batch = Daybook.open(tmp_path / "book", "reader").new_lines()

    assert batch.problems == []
    assert len(batch.lines) == 600


@given(
    st.lists(
        st.tuples(st.integers(0, 2**44), st.binary(min_size=8, max_size=8)), min_size=1, max_size=30
    )
)
@settings(max_examples=100, deadline=None)
def test_ids_always_grow_whatever_the_clock_does(times: list[tuple[int, bytes]]) -> None:
    last = ""
    for now_ms, entropy in times:
        fresh = new_id(now_ms, entropy, last)
        assert fresh > last
        assert (time_of_id(fresh) or 0) >= now_ms
        last = fresh


def test_ids_read_well() -> None:
    assert not set("01ilo") & set(ALPHABET)
    assert time_of_id("not an id") is None
