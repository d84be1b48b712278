"""A checkpoint only saves time: whatever becomes of it or of the files behind it, the bench is that of the files."""

from __future__ import annotations

import fcntl
import os
import random
import time
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from rounds.app.desk import Desk, Recorded
from rounds.bench.state import Bench
from rounds.daybook import Daybook, checkpoint, full_read
from rounds.entries import codec as written
from rounds.entries.registry import CrossedOut, Note
from tests.benchmarks.bench_due import NOW
from tests.benchmarks.long_book import write_book
from tests.conftest import PARIS, Clock
from tests.durability.books import settled
from tests.plain_fold import fold

OpenDesk = Callable[..., Desk]


@pytest.fixture
def folder(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    """A book of two laptops and three thousand entries, or as many as are asked for."""
    write_book(tmp_path / "book", getattr(request, "param", 3_000), 12)
    return tmp_path / "book"


@pytest.fixture
def opened(folder: Path) -> OpenDesk:
    """Opens a desk at it."""
    clock = Clock(NOW)

    def open_one(**wanted: bool) -> Desk:
        return Desk(
            Daybook.open(folder, "aaaa1111"),
            clock=clock,
            entropy=os.urandom,
            zone=PARIS,
            keeper="KM",
            **wanted,
        )

    return open_one


def from_nothing(folder: Path) -> Bench:
    """The plain reading of all lines."""
    lines = [
        line for path in folder.glob("entries-*.jsonl") for line in path.read_bytes().splitlines()
    ]
    found = [written.read(line) for line in lines]
    return fold(one for one in found if one is not None)


def plain(bench: Bench) -> Bench:
    return settled(bench)


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How often a book was read from its beginning."""
    times: list[int] = []
    real = full_read.FullRead

    def noted(*args: object) -> object:
        times.append(1)
        return real(*args)  # type: ignore[arg-type]

    monkeypatch.setattr(full_read, "FullRead", noted)
    return times


def test_the_second_start_reads_no_history(
    folder: Path, opened: OpenDesk, counted: list[int]
) -> None:
    first = opened()
    assert len(counted) == 1
    assert (folder / "checkpoint-aaaa1111").stat().st_mode & 0o777 == 0o600

    second = opened()

    assert len(counted) == 1
    assert plain(second.bench) == plain(first.bench) == plain(from_nothing(folder))
    assert [one.id for one in second.entries()] == [one.id for one in first.entries()]


def test_what_was_said_since_is_added(folder: Path, opened: OpenDesk, counted: list[int]) -> None:
    desk = opened()
    said = desk.record(Note, text="after the checkpoint")
    assert isinstance(said, Recorded)
    late = Note(
        id="0late", at=NOW - timedelta(days=2), logged=NOW, text="typed on the other laptop"
    )
    Daybook.open(folder, "bbbb2222").append_many([written.write(late)])

    again = opened()
    outcome = again.strike(said.entry.id)

    assert isinstance(outcome, Recorded)
    assert len(counted) == 1
    assert plain(opened().bench) == plain(again.bench) == plain(from_nothing(folder))
    assert again.bench.notes[-1].text != "after the checkpoint"


def test_a_line_from_before_all_snapshots_reads_the_book_again(
    folder: Path, opened: OpenDesk, counted: list[int]
) -> None:
    opened()
    first = min(folder.glob("entries-*.jsonl")).read_bytes().splitlines()[60]
    target = written.read(first)
    assert target is not None
    Daybook.open(folder, "bbbb2222").append_many([
        written.write(CrossedOut(id="zstrike", at=NOW, logged=NOW, entry=target.id)),
        written.write(Note(id="0old", at=NOW - timedelta(days=900), logged=NOW, text="long ago")),
    ])  # fmt: skip

    desk = opened()

    assert target.id in desk.struck
    assert plain(desk.bench) == plain(from_nothing(folder))


FOLLOWS = Note(id="zlast", at=NOW, logged=NOW, text="just now")
LATE = Note(id="0late", at=NOW - timedelta(days=2), logged=NOW, text="typed on the other laptop")


@pytest.mark.parametrize("is_spoilt", [False, True])
@pytest.mark.parametrize("said", ["nothing", "follows", "late", "struck"])
def test_what_was_left_out_of_it_is_taken_up_where_a_line_wants_it(
    folder: Path, opened: OpenDesk, counted: list[int], said: str, is_spoilt: bool
) -> None:
    first = opened()
    lines = {
        "follows": [FOLLOWS],
        "late": [FOLLOWS, LATE],
        "struck": [CrossedOut(id="zstrike", at=NOW, logged=NOW, entry=first.entries()[-9].id)],
    }.get(said, [])
    if lines:
        Daybook.open(folder, "bbbb2222").append_many([written.write(one) for one in lines])
    path = folder / "checkpoint-aaaa1111"
    if is_spoilt:  # in what was left out, which is found once it is wanted
        data = path.read_bytes()
        path.write_bytes(data[:-1] + bytes([data[-1] ^ 1]))

    desk = opened(looks_back=False)

    wants_all = said not in ("nothing", "follows")
    assert len(counted) == 1 + (is_spoilt and wants_all)
    assert plain(desk.bench) == plain(from_nothing(folder))
    assert len(desk.entries()) == len(opened().entries())


@pytest.mark.parametrize("folder", [9_000], indirect=True)
def test_a_line_under_an_id_that_may_be_sealed_wants_what_was_left_out(
    folder: Path, opened: OpenDesk, counted: list[int]
) -> None:
    sealed = next(iter(opened().book.entries()))
    again = Note(id=sealed.id, at=NOW, logged=NOW, text="another line under the id of an old one")
    Daybook.open(folder, "bbbb2222").append_many([written.write(again)])

    desk = opened(looks_back=False)

    assert not desk.reading.history.left_out
    assert plain(desk.bench) == plain(opened().bench)


def test_a_head_longer_than_what_is_read_first_is_read_to_its_end(
    opened: OpenDesk, counted: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = opened()
    monkeypatch.setattr(checkpoint, "FIRST_READ", 200)

    assert plain(opened(looks_back=False).bench) == plain(whole.bench)
    assert len(counted) == 1


def test_a_line_about_an_earlier_time_is_held_against_the_bench_as_it_stood_then(
    opened: OpenDesk, counted: list[int]
) -> None:
    opened()
    asked, whole = opened(looks_back=False), opened()
    then = NOW - timedelta(hours=30)

    assert plain(asked.bench_of(then)) == plain(whole.bench_of(then)) != plain(whole.bench)
    assert isinstance(asked.record(Note, at=then, text="said late"), Recorded)
    assert plain(asked.bench) == plain(opened().bench)
    assert len(counted) == 1


@pytest.mark.parametrize("wanted", [{"looks_back": False}, {}])
def test_enough_that_was_said_since_makes_a_checkpoint_whoever_opens_it(
    folder: Path, opened: OpenDesk, counted: list[int], wanted: dict[str, bool]
) -> None:
    opened()
    notes = [
        Note(id=f"z{number:04}", at=NOW - timedelta(seconds=2_000 - number), logged=NOW, text="dry")
        for number in range(1_100)
    ]
    Daybook.open(folder, "bbbb2222").append_many([written.write(one) for one in notes])
    before = (folder / "checkpoint-aaaa1111").read_bytes()

    desk = opened(**wanted)

    assert (folder / "checkpoint-aaaa1111").read_bytes() != before
    again = opened()
    assert plain(again.bench) == plain(desk.bench) == plain(from_nothing(folder))
    assert list(again.reading.went_by(object)) == list(desk.reading.went_by(object))
    assert len(counted) == 1


def _edit_keeping_size_and_time(folder: Path) -> None:
    path = max(folder.glob("entries-aaaa1111-*.jsonl"))
    about = path.stat()
    data = path.read_bytes()
    place = data.rfind(b'"at":"20')
    path.write_bytes(data[: place + 8] + b"1" + data[place + 9 :])
    os.utime(path, ns=(about.st_atime_ns, about.st_mtime_ns))


def _edit_in_the_middle(folder: Path) -> None:
    path = min(folder.glob("entries-*.jsonl"))
    path.write_bytes(path.read_bytes().replace(b'"looked"', b'"misted"', 1))


def _cut_short(folder: Path) -> None:
    path = max(folder.glob("entries-*.jsonl"))
    data = path.read_bytes()
    path.write_bytes(data[: data.rfind(b"\n", 0, -2) + 1])


@pytest.mark.parametrize(
    "change",
    [
        _edit_keeping_size_and_time,
        _edit_in_the_middle,
        _cut_short,
        lambda folder: min(folder.glob("entries-*.jsonl")).unlink(),
        lambda folder: (folder / "checkpoint-aaaa1111").unlink(),
        lambda folder: (folder / "checkpoint-aaaa1111").write_bytes(b""),
        lambda folder: (folder / "checkpoint-aaaa1111").write_bytes(b"[" * 100_000),
    ],
)
def test_it_is_not_believed_where_a_file_behind_it_changed(
    folder: Path, opened: OpenDesk, counted: list[int], change: Callable[[Path], object]
) -> None:
    opened()
    change(folder)

    again = opened()

    assert len(counted) == 2
    assert plain(again.bench) == plain(from_nothing(folder))


def test_any_flipped_bit_in_it_costs_one_reading_at_most(folder: Path, opened: OpenDesk) -> None:
    right = plain(opened().bench)
    path = folder / "checkpoint-aaaa1111"
    good = path.read_bytes()
    chance = random.Random(7)
    for _ in range(25):
        place = chance.choice([chance.randrange(3_000), chance.randrange(len(good))])
        path.write_bytes(
            good[:place] + bytes([good[place] ^ (1 << chance.randrange(8))]) + good[place + 1 :]
        )

        assert plain(opened().bench) == right


def test_one_of_another_version_is_not_believed(
    opened: OpenDesk, counted: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    opened()
    monkeypatch.setattr(checkpoint, "_code_stamp", lambda: "another")
    opened()  # the files of the code are others, and say the same
    assert len(counted) == 1

    monkeypatch.setattr(checkpoint, "reckoning_version", lambda: "another")

    opened()

    assert len(counted) == 2


def test_the_version_follows_the_code_that_folds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = checkpoint.reckoning_version.__wrapped__()
    for name in ("bench", "daybook", "entries", "tallies"):
        (tmp_path / name).mkdir()
    monkeypatch.setattr(checkpoint, "__file__", str(tmp_path / "daybook" / "checkpoint.py"))
    code = tmp_path / "bench" / "state.py"
    code.write_text("x = 1")
    one = checkpoint.reckoning_version.__wrapped__()
    code.write_text("x = 2")

    assert len({before, one, checkpoint.reckoning_version.__wrapped__()}) == 3


def test_code_is_known_to_be_the_same_by_the_times_of_its_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("bench", "daybook", "entries", "tallies"):
        (tmp_path / name).mkdir()
    monkeypatch.setattr(checkpoint, "__file__", str(tmp_path / "daybook" / "checkpoint.py"))
    code = tmp_path / "bench" / "state.py"
    code.write_text("x = 1")
    assert checkpoint._code_stamp() == ""  # it may be written again in the same tick
    later = time.time_ns() + 2_000_000_000
    monkeypatch.setattr(time, "time_ns", lambda: later)
    stamp = checkpoint._code_stamp()
    assert stamp
    assert checkpoint._code_stamp() == stamp

    code.write_text("x = 2")
    monkeypatch.setattr(time, "time_ns", lambda: 2 * later)
    assert checkpoint._code_stamp() not in ("", stamp)


def test_a_file_that_was_found_whole_is_read_for_it_once(
    folder: Path, opened: OpenDesk, counted: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    opened()  # its files were written just before, so that their times prove nothing
    later = time.time_ns() + 2_000_000_000
    monkeypatch.setattr(time, "time_ns", lambda: later)
    digested: list[int] = []
    holds = checkpoint.holds_pieces
    monkeypatch.setattr(
        checkpoint,
        "holds_pieces",
        lambda descriptor, pieces: digested.append(descriptor) or holds(descriptor, pieces),
    )
    opened()
    assert digested
    digested.clear()

    opened()

    assert not digested
    assert len(counted) == 1

    path = next(folder.glob("entries-*.jsonl"))
    data = path.read_bytes()
    path.write_bytes(data.replace(b'"by":"KM"', b'"by":"KN"', 1))
    opened()

    assert digested
    assert len(counted) == 2


def test_where_another_process_writes_one_nobody_waits(folder: Path, opened: OpenDesk) -> None:
    beside = folder / "checkpoint-aaaa1111.part"
    with beside.open("wb") as other:
        fcntl.flock(other, fcntl.LOCK_EX)
        desk = opened()

    assert not (folder / "checkpoint-aaaa1111").exists()
    assert plain(desk.bench) == plain(from_nothing(folder))
    opened()
    assert (folder / "checkpoint-aaaa1111").exists()
    assert not beside.exists()


def test_problems_of_the_files_are_remembered(
    folder: Path, opened: OpenDesk, counted: list[int]
) -> None:
    path = min(folder.glob("entries-*.jsonl"))
    path.write_bytes(b"not an entry\n" + path.read_bytes())

    first, second = opened(), opened()

    assert len(counted) == 1
    assert (
        first.reading.problems
        == second.reading.problems
        == [f"{path.name} line 1: is not an entry; an entry begins with {{"]
    )


def test_reading_a_long_book_tells_how_far_it_is_and_may_be_stopped(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rounds.daybook.full_read.TELL_EVERY", 10_000)
    told: list[tuple[int, int]] = []
    Daybook.open(folder, "aaaa1111").load(lambda done, whole: told.append((done, whole)))
    assert len(told) > 20
    assert told == sorted(told)
    assert (
        told[-1][0]
        == told[-1][1]
        == 2 * sum(path.stat().st_size for path in folder.glob("entries-*.jsonl"))
    )

    def stop(done: int, whole: int) -> None:
        raise KeyboardInterrupt

    before = sorted(folder.iterdir())
    with pytest.raises(KeyboardInterrupt):
        Daybook.open(folder, "aaaa1111").load(stop)
    assert sorted(folder.iterdir()) == before


def test_looking_back_does_not_lose_what_others_say_meanwhile(
    folder: Path, opened: OpenDesk
) -> None:
    desk = opened()
    Daybook.open(folder, "bbbb2222").append_many(
        [written.write(Note(id="zother", at=NOW, logged=NOW, text="from the other"))]
    )

    assert [one.id for one in desk.entries(whole=True)][-1] == "zother"
    assert desk.hear()
    assert desk.bench.notes[-1].text == "from the other"
