"""Whatever order entries arrive in, and whatever is struck, the bench is the same."""

from __future__ import annotations

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from rounds.bench import incremental_fold
from rounds.bench.folding import effective_strikes
from rounds.bench.incremental_fold import History
from rounds.entries.base import Entry
from tests.bench.strategies import histories, plain
from tests.plain_fold import fold


@given(histories(), st.randoms(use_true_random=False))
@settings(max_examples=80, deadline=None)
def test_any_permutation_gives_the_same_bench(entries: list[Entry], chance: random.Random) -> None:
    shuffled = list(entries)
    chance.shuffle(shuffled)

    assert plain(fold(shuffled)) == plain(fold(entries))


@given(histories(), st.data())
@settings(max_examples=80, deadline=None)
def test_any_interleaving_of_two_laptops_gives_the_same_bench(
    entries: list[Entry], data: st.DataObject
) -> None:
    ours = [entry for entry in entries if data.draw(st.booleans())]
    theirs = [entry for entry in entries if entry not in ours]
    woven: list[Entry] = []
    first, second = list(ours), list(theirs)
    while first or second:
        source = first if first and (not second or data.draw(st.booleans())) else second
        woven.append(source.pop(0))
    desk = History()
    place = 0
    while place < len(woven):
        size = data.draw(st.integers(1, 5))
        assert desk.take(woven[place : place + size])
        place += size

    assert plain(desk.bench) == plain(fold(entries))


@given(histories(most=30), st.data())
@settings(max_examples=60, deadline=None)
def test_a_bench_kept_from_a_snapshot_stays_equal_to_a_fold_from_nothing(
    entries: list[Entry], data: st.DataObject
) -> None:
    kept = incremental_fold.KEPT
    incremental_fold.KEPT = data.draw(st.integers(1, 6))
    try:
        desk = History()
        said: list[Entry] = []
        for entry in entries:
            said.append(entry)
            if not desk.take([entry]):
                desk = History()
                assert desk.take(said)
    finally:
        incremental_fold.KEPT = kept

    assert plain(desk.bench) == plain(fold(entries))


@given(histories(), histories(most=3, strikes=False))
@settings(max_examples=60, deadline=None)
def test_looking_at_a_bench_with_more_does_not_change_it(
    entries: list[Entry], more: list[Entry]
) -> None:
    desk = History()
    desk.take(entries)
    before = plain(desk.bench)

    desk.bench_with(more)

    assert plain(desk.bench) == before


def test_a_strike_of_a_strike_brings_the_line_back() -> None:
    assert effective_strikes({"b": "a"}) == {"a"}
    assert effective_strikes({"b": "a", "c": "b"}) == {"b"}
    assert effective_strikes({"b": "a", "c": "b", "d": "c"}) == {"a", "c"}


def test_which_id_is_the_greater_says_nothing() -> None:
    assert effective_strikes({"a": "b"}) == {"b"}
    assert effective_strikes({"b": "z", "a": "b"}) == {"b"}
    assert effective_strikes({"a": "b", "b": "c", "c": "z"}) == {"b", "z"}


def test_a_strike_cannot_strike_itself_and_of_a_circle_the_greatest_id_counts() -> None:
    assert effective_strikes({"c": "c"}) == frozenset()
    assert effective_strikes({"a": "b", "b": "a"}) == {"a"}
    assert effective_strikes({"a": "b", "b": "a", "x": "a"}) == {"a"}
