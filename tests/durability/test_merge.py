"""Two books that were used apart become one: nothing lost, nothing doubled, and what does not agree is told."""

from __future__ import annotations

import os
from datetime import timedelta
from pathlib import Path
from time import process_time

import pytest

from rounds.app.desk import Recorded
from rounds.daybook import Daybook, NotSaved
from rounds.entries.registry import Note, SetUp
from rounds.exchange.atomic_file import ExportRefused
from rounds.exchange.merge import MergeReport, merge
from tests.benchmarks.bench_due import NOW
from tests.benchmarks.long_book import write_book
from tests.conftest import Clock
from tests.durability.books import bench_of, content, desk_at, lines_of, note, plain


def merged(into: Path, other: Path, laptop: str = "aaaa1111") -> MergeReport:
    return merge(Daybook.open(into, laptop), other, lambda done, whole: None)


@pytest.fixture
def pair(tmp_path: Path) -> tuple[Path, Path]:
    """One book, copied, and then used apart on two laptops."""
    ours, theirs = tmp_path / "ours", tmp_path / "theirs"
    for folder in (ours, theirs):
        write_book(folder, 400, 4)
    clock = Clock(NOW + timedelta(minutes=1))
    for folder, laptop in ((ours, "aaaa1111"), (theirs, "bbbb2222")):
        desk = desk_at(folder, laptop, clock)
        for number in range(5):
            clock.on(minutes=1)
            assert isinstance(desk.record(Note, text=f"{laptop} {number}"), Recorded)
    return ours, theirs


def test_the_union_whichever_way_round(pair: tuple[Path, Path], tmp_path: Path) -> None:
    ours, theirs = pair
    lines = {
        line for folder in pair for data in content(folder).values() for line in data.splitlines()
    }

    done = merged(ours, theirs)
    merged(theirs, ours, "bbbb2222")

    assert done.lines == 5
    assert not done.files
    assert not done.conflicts
    assert bench_of(ours) == bench_of(theirs)
    for folder in pair:
        assert {line for data in content(folder).values() for line in data.splitlines()} == lines


def test_twice_changes_nothing(pair: tuple[Path, Path]) -> None:
    ours, theirs = pair
    merged(ours, theirs)
    before = content(ours)

    again = merged(ours, theirs)

    assert content(ours) == before
    assert (again.lines, again.files, again.beside) == (0, [], [])


@pytest.mark.parametrize("name", ["photos", "series", "x.jpg", "run.sh", "Copy of the book.jsonl"])
def test_entries_come_in_under_a_name_of_entries(
    pair: tuple[Path, Path], tmp_path: Path, name: str
) -> None:
    ours, theirs = pair
    (file,) = (one for one in theirs.iterdir() if one.name.startswith("entries-bbbb2222"))
    odd = tmp_path / "odd"
    odd.mkdir()
    file.rename(odd / name)

    done = merged(ours, odd)
    assert done.within == 5
    assert not (ours / name).exists()
    (came,) = done.files
    assert came.startswith(f"entries-{name}.")
    assert came.endswith(".jsonl")
    before = bench_of(ours)
    again = merged(ours, odd)
    assert (again.known, again.files, again.lines) == (1, [], 0)
    assert bench_of(ours) == before


def test_lines_go_only_into_this_laptops_own_files(pair: tuple[Path, Path]) -> None:
    ours, theirs = pair
    before = content(ours)

    merged(ours, theirs, "cccc3333")

    after = content(ours)
    assert {name: after[name] for name in before} == before
    assert all(name.startswith("entries-cccc3333-") for name in after.keys() - before.keys())


def test_a_running_desk_hears_what_was_merged(pair: tuple[Path, Path]) -> None:
    ours, theirs = pair
    desk = desk_at(ours)
    merged(ours, theirs)

    assert desk.hear()
    assert plain(desk) == bench_of(ours)


def test_two_containers_under_one_code_are_told(pair: tuple[Path, Path]) -> None:
    ours, theirs = pair
    clock = Clock(NOW + timedelta(hours=1))
    for folder, laptop in ((ours, "aaaa1111"), (theirs, "bbbb2222")):
        clock.on(minutes=5)
        assert isinstance(
            desk_at(folder, laptop, clock).record(SetUp, container="K9", purpose="laying"), Recorded
        )

    done = merged(ours, theirs)

    assert len(done.conflicts) == 1
    assert "two containers had the code K9" in done.conflicts[0]
    assert {"K9", "K9b"} <= set(desk_at(ours).bench.containers)
    assert merged(theirs, ours, "bbbb2222").conflicts == done.conflicts, (
        "the other keeper is told too"
    )
    assert not merged(theirs, ours, "bbbb2222").conflicts, "what is known is not told again"


def test_other_files_are_told_apart_by_their_content(pair: tuple[Path, Path]) -> None:
    ours, theirs = pair
    for folder, picture in ((ours, b"ours"), (theirs, b"theirs")):
        (folder / "photos").mkdir()
        (folder / "photos" / "same.jpg").write_bytes(b"same")
        (folder / "photos" / "K7.jpg").write_bytes(picture)
    (theirs / "series").mkdir()
    (theirs / "series" / "B.csv").write_bytes(b"series")

    first, second = merged(ours, theirs), merged(ours, theirs)

    assert (ours / "photos" / "K7.jpg").read_bytes() == b"ours"
    (kept,) = (ours / "photos").glob("K7.*.jpg")
    assert kept.read_bytes() == b"theirs"
    assert first.files == ["series/B.csv"]
    assert first.beside == [f"photos/K7.jpg here is another; theirs is now photos/{kept.name}"]
    assert (second.files, second.beside) == ([], [])


@pytest.mark.parametrize("name", ["photos/{}.jpg", "series/{}.csv", "entries-b{}-2026-05.jsonl"])
def test_many_small_files_cost_no_more_than_their_number(tmp_path: Path, name: str) -> None:
    def cost(files: int) -> float:
        ours, theirs = tmp_path / f"ours{files}", tmp_path / f"theirs{files}"
        for folder in (ours, theirs):
            folder.mkdir(mode=0o700)
            (folder / "entries-aaaa1111-2026-05.jsonl").write_bytes(lines_of([note(1)]))
        for number in range(2, files + 2):
            path = theirs / name.format(1_000 + number)
            path.parent.mkdir(exist_ok=True)
            path.write_bytes(lines_of([note(number)]))
        began = process_time()
        assert len(merged(ours, theirs).files) == files
        return process_time() - began

    cost(20)
    assert cost(320) < 8 * cost(80) + 0.05


def test_damage_in_the_other_book_is_told_and_the_rest_taken_in(tmp_path: Path) -> None:
    ours, theirs = tmp_path / "ours", tmp_path / "theirs"
    for folder in (ours, theirs):
        folder.mkdir(mode=0o700)
    name = "entries-bbbb2222-2026-05.jsonl"
    (ours / name).write_bytes(lines_of([note(1)]))
    (theirs / name).write_bytes(b"not an entry\n" + lines_of([note(1), note(2)]) + b'{"id":"tor')

    done = merged(ours, theirs)

    assert done.lines == 1
    assert done.problems == [
        f"{name} line 1: is not an entry; an entry begins with {{; kept in a file of its own",
        f"{name}: its last line has no end (10 bytes); kept in a file of its own",
    ]
    (kept,) = ours.glob("entries-damaged.*")
    assert kept.read_bytes() == b'not an entry\n{"id":"tor'
    assert merged(ours, theirs).problems == done.problems
    assert len(list(ours.glob("entries-damaged.*"))) == 1
    assert [one.text for one in desk_at(ours).bench.notes] == ["note 1", "note 2"]


def test_kinds_of_a_newer_version_come_along_byte_by_byte(tmp_path: Path) -> None:
    ours, theirs = tmp_path / "ours", tmp_path / "theirs"
    for folder in (ours, theirs):
        folder.mkdir(mode=0o700)
    newer = b'{"what":"sung to",  "id":"n1","at":"2026-05-20T07:00:00+02:00","logged":"2026-05-20T07:00:00+02:00","song":[1]}\n'
    (ours / "entries-bbbb2222-2026-05.jsonl").write_bytes(lines_of([note(1)]))
    (theirs / "entries-bbbb2222-2026-05.jsonl").write_bytes(newer)

    merged(ours, theirs)
    merged(ours, theirs)

    assert (ours / "entries-aaaa1111-2026-05.jsonl").read_bytes() == newer


def test_what_is_no_book_or_the_same_is_refused(pair: tuple[Path, Path], tmp_path: Path) -> None:
    ours, _ = pair
    (tmp_path / "empty").mkdir()
    with pytest.raises(ExportRefused, match="there is no book"):
        merged(ours, tmp_path / "empty")
    with pytest.raises(ExportRefused, match="this book itself"):
        merged(ours, ours)


def test_nothing_is_written_through_a_link(pair: tuple[Path, Path], tmp_path: Path) -> None:
    ours, theirs = pair
    (tmp_path / "outside").mkdir()
    (ours / "photos").symlink_to(tmp_path / "outside")
    (theirs / "photos").mkdir()
    (theirs / "photos" / "K7.jpg").write_bytes(b"theirs")
    (theirs / "secret.jpg").symlink_to("/etc/hostname")

    with pytest.raises(ExportRefused, match="is a link to somewhere else"):
        merged(ours, theirs)
    assert list((tmp_path / "outside").iterdir()) == []

    (ours / "photos").unlink()
    assert merged(ours, theirs).problems == [
        "secret.jpg: is a link to somewhere else; it is not followed; not taken in"
    ]
    assert not (ours / "secret.jpg").exists()


def test_a_merge_that_broke_off_is_finished_by_doing_it_again(
    pair: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    ours, theirs = pair
    monkeypatch.setattr("rounds.exchange.merge.AT_ONCE", 2)
    budget = iter(range(2))

    def failing(descriptor: int, data: bytes) -> int:
        if next(budget, None) is None:
            os.write(descriptor, data[:30])
            raise OSError(28, "No space left on device")
        return os.write(descriptor, data)

    with pytest.raises(NotSaved, match="the disk is full"):
        merge(Daybook(ours, "aaaa1111", write=failing), theirs, lambda done, whole: None)

    done = merged(ours, theirs)

    assert done.lines == 1
    texts = [one.text for one in desk_at(ours).bench.notes]
    assert [f"bbbb2222 {number}" for number in range(5)] == [
        one for one in texts if one.startswith("bbbb")
    ]
