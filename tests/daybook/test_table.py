"""The daybook as TinyDB: asking works as its documentation says, changing in place is refused."""

from __future__ import annotations

import json
import stat
from pathlib import Path
from typing import Any

import pytest
from tinydb import Query, where
from tinydb.queries import QueryLike

from rounds.daybook import AppendOnly, Daybook, NotSaved
from rounds.daybook.storage import POINTER, number_of


def entry(
    number: int,
    what: str = "drank",
    container: str = "L2",
    logged: str = "2026-05-20T07:00:00+02:00",
) -> dict[str, Any]:
    """A plain entry."""
    return {
        "id": f"id{number:03d}",
        "at": logged,
        "logged": logged,
        "by": "KM",
        "what": what,
        "container": container,
    }


@pytest.fixture
def book(tmp_path: Path) -> Daybook:
    """An empty book."""
    return Daybook.open(tmp_path / "book", "aaaa1111")


# What TinyDB's documentation ("Usage", "Queries") states of reading a table.
ASKED: list[tuple[QueryLike, list[str]]] = [
    (where("what") == "searched", ["id002"]),
    (Query().container == "L2", ["id001", "id003"]),
    (Query().container != "L2", ["id002"]),
    ((Query().container == "L2") & (Query().id > "id001"), ["id003"]),
    ((Query().what == "searched") | (Query().id == "id001"), ["id001", "id002"]),
    (~(Query().container == "L2"), ["id002"]),
    (Query().container.matches("R[0-9]"), ["id002"]),
    (Query().container.one_of(["R4", "R7"]), ["id002"]),
    (Query().found.exists(), ["id002"]),
    (Query().found.test(lambda found: found > 2), ["id002"]),
    (Query().fragment({"what": "drank", "container": "L2"}), ["id001", "id003"]),
    (Query().noop(), ["id001", "id002", "id003"]),
]


@pytest.mark.parametrize(("query", "ids"), ASKED)
def test_queries_find_what_they_ask_for(book: Daybook, query: QueryLike, ids: list[str]) -> None:
    book.append_many([entry(1), entry(2, "searched", "R4") | {"found": 3}, entry(3)])

    assert [found["id"] for found in book.table.search(query)] == ids
    assert book.table.count(query) == len(ids)
    assert book.table.contains(query)
    found = book.table.get(query)
    assert found is not None
    assert found["id"] == ids[0]  # type: ignore[call-overload,index]


def test_all_len_and_iteration(book: Daybook) -> None:
    book.append_many([entry(1), entry(2)])

    assert [one["id"] for one in book.table.all()] == ["id001", "id002"]
    assert [one["id"] for one in book.table] == ["id001", "id002"]
    assert len(book.table) == 2
    assert book.table.get(doc_id=number_of("id002"))["id"] == "id002"  # type: ignore[call-overload,index]
    assert book.table.search(Query().id == "none") == []
    assert book.table.get(Query().id == "none") is None


def test_insert_says_a_number_and_is_on_disk_when_it_returns(book: Daybook) -> None:
    assert book.table.insert(entry(1)) == number_of("id001")
    assert book.table.insert_multiple([entry(2), entry(3)]) == [
        number_of("id002"),
        number_of("id003"),
    ]

    (file,) = book.folder.glob("entries-*.jsonl")
    assert [json.loads(line)["id"] for line in file.read_text().splitlines()] == [
        "id001",
        "id002",
        "id003",
    ]


@pytest.mark.parametrize(
    "change",
    [
        lambda book: book.table.update({"by": "X"}),
        lambda book: book.table.update_multiple([({"by": "X"}, Query().id == "id001")]),
        lambda book: book.table.upsert(entry(1), Query().id == "id001"),
        lambda book: book.table.remove(doc_ids=[1]),
        lambda book: book.table.truncate(),
        lambda book: book._db.drop_table("_default"),
        lambda book: book._db.drop_tables(),
        lambda book: book._db.storage.write({}),
    ],
)
def test_changing_in_place_is_refused_with_a_pointer_to_striking(
    book: Daybook, change: Any
) -> None:
    book.append_many([entry(1)])
    before = [path.read_bytes() for path in sorted(book.folder.glob("*.jsonl"))]

    with pytest.raises(AppendOnly) as refused:
        change(book)

    assert str(refused.value) == POINTER
    assert [path.read_bytes() for path in sorted(book.folder.glob("*.jsonl"))] == before


def test_one_file_a_laptop_and_month_private_to_its_owner(tmp_path: Path) -> None:
    for laptop in ("aaaa1111", "bbbb2222"):
        book = Daybook.open(tmp_path / "book", laptop)
        book.append_many([entry(1), entry(2, logged="2026-06-01T07:00:00+02:00")])

    names = sorted(path.name for path in (tmp_path / "book").glob("*.jsonl"))
    assert names == [
        "entries-aaaa1111-2026-05.jsonl",
        "entries-aaaa1111-2026-06.jsonl",
        "entries-bbbb2222-2026-05.jsonl",
        "entries-bbbb2222-2026-06.jsonl",
    ]
    assert stat.S_IMODE((tmp_path / "book").stat().st_mode) == 0o700
    assert {stat.S_IMODE(path.stat().st_mode) for path in (tmp_path / "book").glob("*.jsonl")} == {
        0o600
    }


def test_a_book_that_others_may_read_is_pointed_out(tmp_path: Path) -> None:
    Daybook.open(tmp_path / "book", "aaaa1111")
    (tmp_path / "book").chmod(0o755)

    problems = Daybook.open(tmp_path / "book", "aaaa1111").new_lines().problems

    assert [str(problem) for problem in problems] == [
        "book: others may read this book (mode 755); chmod 700 it"
    ]


def test_another_writers_lines_are_picked_up_live(tmp_path: Path) -> None:
    ours = Daybook.open(tmp_path / "book", "aaaa1111")
    theirs = Daybook.open(tmp_path / "book", "bbbb2222")
    assert ours.new_lines().lines == []

    theirs.append_many([entry(1)])
    first = ours.new_lines()
    second = ours.new_lines()

    assert [json.loads(line.raw)["id"] for line in first.lines] == ["id001"]
    assert second.lines == []


def test_an_entry_without_an_id_is_refused(book: Daybook) -> None:
    with pytest.raises(ValueError, match="an entry needs an 'id'"):
        book.append_many([{"what": "drank"}])


def test_what_json_cannot_hold_is_refused_and_nothing_is_written(book: Daybook) -> None:
    with pytest.raises(ValueError, match="not JSON compliant"):
        book.append_many([entry(1), entry(2) | {"depth_mm": float("nan")}])

    assert list(book.folder.glob("*.jsonl")) == []


@pytest.mark.parametrize("number", [28, 30, 5])  # ENOSPC, EROFS, EIO
def test_a_failing_disk_leaves_the_file_as_it_was(tmp_path: Path, number: int) -> None:
    import os

    Daybook.open(tmp_path / "book", "aaaa1111").append_many([entry(1)])
    (file,) = (tmp_path / "book").glob("*.jsonl")
    before = file.read_bytes()

    def half_write(descriptor: int, data: bytes) -> int:
        os.write(descriptor, data[: len(data) // 2])
        raise OSError(number, os.strerror(number))

    failing = Daybook(tmp_path / "book", "aaaa1111", write=half_write)
    with pytest.raises(NotSaved) as trouble:
        failing.append_many([entry(2)])

    assert file.name in str(trouble.value)
    assert "\n" not in str(trouble.value)
    assert file.read_bytes() == before


def test_a_flush_that_fails_is_not_said_to_be_saved(tmp_path: Path) -> None:
    def no_flush(descriptor: int) -> None:
        raise OSError(5, "Input/output error")

    book = Daybook(Daybook.open(tmp_path / "book", "aaaa1111").folder, "aaaa1111", flush=no_flush)
    with pytest.raises(NotSaved, match="the disk failed while writing"):
        book.append_many([entry(1)])

    assert book.new_lines().lines == []


def test_a_vanished_folder_is_said_to_be_gone(book: Daybook) -> None:
    book.folder.rmdir()

    with pytest.raises(NotSaved, match="the book's folder is gone; bring it back"):
        book.append_many([entry(1)])


def test_odd_signs_change_nothing_of_the_month_that_a_line_is_filed_under(book: Daybook) -> None:
    written = [
        entry(n, "note", logged=f"2026-0{n}-20T07:00:00+02:00") | {"text": text, text: n}
        for n, text in enumerate(("Bj\u00f6rn\udcff", "a\x00b\u2028", "\U0001f98b"), start=1)
    ]
    book.append_many(written)
    files = {path.name: path.read_bytes() for path in book.folder.glob("entries-*")}
    assert len(files) == len(written)
    for path in book.folder.glob("entries-*"):
        path.unlink()
    book.append_lines([line for data in files.values() for line in data.splitlines()])
    months = {path.name[-13:]: path.read_bytes() for path in book.folder.glob("entries-*")}
    assert months == {name[-13:]: data for name, data in files.items()}
