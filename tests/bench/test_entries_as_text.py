"""Entries that a checkpoint holds are read once they are asked for, and are the same then."""

from __future__ import annotations

import msgspec
import pytest

from rounds.app.desk import Desk
from rounds.bench.incremental_fold import bench_of, bytes_of, entries_of
from rounds.entries.as_text import entry_of, read


def test_each_line_is_read_by_its_kind(demo_desk: Desk) -> None:
    entries = list(demo_desk.book.entries())
    assert len({one.what for one in entries}) > 20
    assert [entry_of(bytes_of(one)) for one in entries] == entries == entries_of(bytes_of(entries))


def test_a_bench_that_was_written_down_is_the_same(demo_desk: Desk) -> None:
    bench = demo_desk.bench
    again = bench_of(bytes_of(bench))
    assert bytes_of(bench_of(bytes_of(again))) == bytes_of(again)  # while nothing of it is read
    assert again == bench
    assert bench == bench_of(bytes_of(again))
    code, container = next((code, one) for code, one in bench.containers.items() if one.last)
    what = next(iter(container.last))
    known = again.containers[code].last
    assert known.get(what) is known[what] is dict(known.items())[what]
    assert known.get("no kind") is None
    known[what] = msgspec.structs.replace(known[what], by="ZZ")
    assert again != bench


@pytest.mark.parametrize("text", [b'{"what":"flown off"}', b'{"id":"1","what":"drank"}', b"[]"])
def test_what_is_no_line_of_ours_is_refused(text: bytes) -> None:
    assert entry_of(text) is None
    with pytest.raises(msgspec.MsgspecError):
        read([msgspec.Raw(text)])
