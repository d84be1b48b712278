"""What went by is the same whether it was written down as it came, late, crossed out, taken up again or from nothing."""

from __future__ import annotations

from datetime import UTC, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rounds.bench import incremental_fold
from rounds.bench.folding import effective_entries
from rounds.bench.incremental_fold import History, PersistedFold
from rounds.bench.state import Bench
from rounds.entries.base import Entry
from rounds.entries.registry import Air, CrossedOut
from rounds.tallies import journal
from rounds.tallies.journal import Journal
from rounds.tallies.records import Record
from rounds.tallies.tallies import Tallies
from tests.added_up import tallies_of
from tests.bench.strategies import START, histories
from tests.plain_fold import fold
from tests.tallies.test_cohorts import stock_histories

NOW = START + timedelta(days=9)


@pytest.fixture(autouse=True)
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    """Few entries and records are kept open, so that short histories reach beyond them."""
    monkeypatch.setattr(incremental_fold, "KEPT", 5)
    monkeypatch.setattr(incremental_fold, "NEAR", 3)
    monkeypatch.setattr(incremental_fold, "MAX_SEALED", 4)
    monkeypatch.setattr(journal, "CHUNK", 4)


@st.composite
def books(draw: st.DrawFn) -> list[Entry]:
    """Entries that move many animals, or any, with some crossed out."""
    found = draw(st.one_of(stock_histories(), histories(most=40)))
    targets = draw(st.lists(st.sampled_from(found), max_size=3))
    crossed_out = [
        CrossedOut(id=f"zz{number:05d}", at=START + timedelta(days=5), logged=START, entry=one.id)
        for number, one in enumerate(targets)
    ]
    return [*found, *crossed_out]


def from_nothing(entries: list[Entry]) -> list[Record]:
    bench, found = Bench(), Journal()
    for entry in effective_entries(entries):
        found.add(bench, entry)
    return list(found.since(0))


def plain(tallies: Tallies) -> list[object]:
    """All that pages show of it."""
    assert tallies.days(NOW, 3) == {name: days[-3:] for name, days in tallies.days(NOW).items()}
    return [
        tallies.course.entered, tallies.course.passages, tallies.course.ended, sorted(map(str, tallies.course.alive)),
        tallies.course.mixed, tallies.evidence, msgspec.to_builtins(tallies.cuttings), msgspec.to_builtins(tallies.days(NOW)),
        msgspec.to_builtins(tallies.on_hosts(NOW)), tallies.airs,
    ]  # fmt: skip


@pytest.mark.parametrize("number", [0, 3])
def test_what_was_taken_up_and_not_read_is_kept_once(number: int) -> None:
    first = Journal()
    for one in range(number):
        first.add(Bench(), Air(id=f"a{one}", at=START, logged=START, temperature_c=20))
    again = Journal(Journal(first.kept()).kept())

    assert len(again) == len(first)
    assert list(again.since(0)) == list(first.since(0))


@given(books(), st.data())
@settings(max_examples=60, deadline=None)
def test_in_any_order_with_restarts_between_and_looks_at_it(
    entries: list[Entry], data: st.DataObject
) -> None:
    order = data.draw(st.permutations(entries)) if data.draw(st.booleans()) else entries
    desk, before, place = History(beside=Journal()), [], 0
    looking = Tallies()
    while place < len(order):
        size = data.draw(st.integers(1, 9))
        more, place = order[place : place + size], place + size
        if not desk.take(more):
            desk = History(beside=Journal())
            assert desk.take([*before, *more])
        before += more
        if data.draw(st.booleans()):
            kept = msgspec.json.decode(msgspec.json.encode(desk.kept()), type=PersistedFold)
            desk = History(kept, Journal(kept.beside))
        if data.draw(st.booleans()):
            assert isinstance(desk.beside, Journal)
            looking.up_to(desk.bench, desk.beside, UTC)
    assert isinstance(desk.beside, Journal)

    assert list(desk.beside.since(0)) == from_nothing(entries)
    assert len(desk.beside) == len(from_nothing(entries))
    assert plain(looking.up_to(desk.bench, desk.beside, UTC)) == plain(tallies_of(entries))


@given(books(), st.integers(0, 9))
@settings(max_examples=60, deadline=None)
def test_a_book_read_from_its_beginning(entries: list[Entry], count: int) -> None:
    inorder = sorted(entries, key=lambda one: one.order)
    strikes = {one.id: one.entry for one in entries if isinstance(one, CrossedOut)}
    parts = [inorder[place : place + 7] for place in range(0, len(inorder), 7)]
    read = History.read(parts, len(entries) - count, strikes, Journal())

    assert isinstance(read.beside, Journal)
    assert list(read.beside.since(0)) == from_nothing(entries)


@given(books())
@settings(max_examples=40, deadline=None)
def test_its_bench_is_the_fold_of_the_same_entries(entries: list[Entry]) -> None:
    bench, found = Bench(), Journal()
    bench.strikes = {one.id: one.entry for one in entries if isinstance(one, CrossedOut)}
    for entry in effective_entries(entries):
        found.add(bench, entry)

    assert msgspec.to_builtins(bench) == msgspec.to_builtins(fold(entries))
