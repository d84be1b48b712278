"""What is kept beside the bench, written down, taken up again and read from the beginning: always the fold from nothing."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rounds.bench import incremental_fold
from rounds.bench.incremental_fold import History, PersistedFold
from rounds.entries.base import Entry
from rounds.entries.registry import CrossedOut, Note
from tests.bench.strategies import START, histories, plain
from tests.plain_fold import fold


@pytest.fixture(autouse=True)
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    """Few entries are kept, so that short histories reach beyond them."""
    monkeypatch.setattr(incremental_fold, "KEPT", 3)
    monkeypatch.setattr(incremental_fold, "NEAR", 2)
    monkeypatch.setattr(incremental_fold, "MAX_SEALED", 3)


def written_down(desk: History) -> History:
    """The history after a restart."""
    return History(msgspec.json.decode(msgspec.json.encode(desk.kept()), type=PersistedFold))


def said(desk: History, before: list[Entry], entries: list[Entry]) -> History:
    """Entries added, the history read again where they reach back too far."""
    if desk.take(entries):
        return desk
    again = History()
    assert again.take([*before, *entries])
    return again


@given(histories(most=40), st.data())
@settings(max_examples=150, deadline=None)
def test_any_order_with_restarts_between(entries: list[Entry], data: st.DataObject) -> None:
    order = data.draw(st.permutations(entries)) if data.draw(st.booleans()) else entries
    desk, before, place = History(), [], 0
    while place < len(order):
        size = data.draw(st.integers(1, 9))
        desk = said(desk, before, order[place : place + size])
        before.extend(order[place : place + size])
        place += size
        if data.draw(st.booleans()):
            desk = written_down(desk)

    assert plain(desk.bench) == plain(fold(entries))
    assert (
        desk.tail
        == tuple(sorted(entries, key=lambda one: one.order))[len(entries) - len(desk.tail) :]
    )


@given(histories(most=40), histories(most=6), st.data())
@settings(max_examples=100, deadline=None)
def test_read_from_the_beginning_in_parts_then_added_to(
    entries: list[Entry], more: list[Entry], data: st.DataObject
) -> None:
    inorder = sorted(entries, key=lambda one: one.order)
    cut = data.draw(st.integers(0, len(inorder)))
    strikes = {one.id: one.entry for one in entries if isinstance(one, CrossedOut)}
    desk = History.read([inorder[:cut], inorder[cut:]], len(inorder), strikes)
    assert plain(desk.bench) == plain(fold(entries))

    others = [msgspec.structs.replace(one, id=f"x{one.id}") for one in more]
    desk = said(desk, entries, others)

    assert plain(desk.bench) == plain(fold([*entries, *others]))


@given(histories(most=20), st.data())
@settings(max_examples=80, deadline=None)
def test_lines_that_come_twice_count_once(entries: list[Entry], data: st.DataObject) -> None:
    again = data.draw(st.lists(st.sampled_from(entries), max_size=10))
    desk, before = History(), []
    for one in [*entries, *again]:
        desk = said(desk, before, [one])
        before.append(one)

    assert plain(desk.bench) == plain(fold(entries))
    assert plain(fold([*again, *entries])) == plain(fold(entries))


def note(number: int, text: str, entry_id: str = "") -> Note:
    return Note(
        id=entry_id or f"id{number:05d}", at=START.replace(minute=number), logged=START, text=text
    )


@pytest.mark.parametrize("turned", [False, True])
def test_of_two_lines_under_one_id_the_earlier_counts_whichever_came_first(turned: bool) -> None:
    pair = [note(5, "late", "id"), note(1, "early", "id")]
    desk = History()
    for one in reversed(pair) if turned else pair:
        assert desk.take([one])

    assert [one.text for one in desk.bench.notes] == ["early"]
    assert plain(desk.bench) == plain(fold(pair)) == plain(fold(pair[::-1]))


def test_what_is_sealed_keeps_late_lines_cheap_and_what_is_older_is_told() -> None:
    desk = History()
    for number in range(2, 40):
        assert desk.take([note(number, f"n{number}")])
    assert desk.reaches_back

    assert desk.take([note(30, "late", "idx")])
    assert desk.knows("id00030")
    assert not desk.knows("id00003")
    assert not History(desk.kept()).take([note(1, "before all that is kept", "idy")])
    assert not History(desk.kept()).take(
        [CrossedOut(id="idz", at=START.replace(minute=50), logged=START, entry="id00003")]
    )
    assert desk.take(
        [CrossedOut(id="idz", at=START.replace(minute=50), logged=START, entry="id00031")]
    )
    assert "n31" not in [one.text for one in desk.bench.notes]
