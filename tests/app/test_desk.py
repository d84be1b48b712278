"""The one door: what is said is on disk first, late and struck lines count rightly, others are heard."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from rounds.app.desk import Desk, Recorded, Refusal, Unsaved
from rounds.app.prompt_line import say_phrase
from rounds.daybook import NotSaved
from rounds.entries.registry import Drank, Note, Searched, Setting
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock
from tests.plain_fold import fold

Open = Callable[..., Desk]


def test_what_is_said_is_there_after_a_restart(desk: Desk, open_desk: Open, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 drank")

    again = open_desk()

    assert again.bench == desk.bench
    assert again.bench.containers["L2"].all_drank is not None
    assert again.reading.problems == []


def test_a_late_line_keeps_both_times(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN)
    clock.on(hours=3)

    outcome = desk.record(Drank, clock.now - timedelta(hours=2), container="L2")

    assert isinstance(outcome, Recorded)
    assert outcome.entry.logged - outcome.entry.at == timedelta(hours=2)
    assert desk.bench.containers["L2"].all_drank == outcome.entry.at


def test_a_late_line_does_not_undo_a_newer_one(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN)
    clock.on(hours=5)
    newer = desk.record(Drank, container="L2")
    assert isinstance(newer, Recorded)

    desk.record(Drank, clock.now - timedelta(hours=2), container="L2")

    assert desk.bench.containers["L2"].all_drank == newer.entry.at


def test_striking_the_last_takes_a_whole_answer_back_and_striking_again_the_one_before(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN)
    desk.record(Drank, container="L2")
    desk.say_many(
        [(Note, {"container": "L2", "text": "a"}), (Note, {"container": "L2", "text": "b"})]
    )

    assert isinstance(desk.strike_last(), Recorded)
    assert desk.bench.containers["L2"].notes == []
    assert desk.bench.containers["L2"].all_drank is not None

    assert isinstance(desk.strike_last("wrong cup"), Recorded)
    assert desk.bench.containers["L2"].all_drank is None


def test_a_strike_can_be_struck(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN)
    said = desk.record(Drank, container="L2")
    assert isinstance(said, Recorded)
    strike = desk.strike(said.entry.id, "wrong cup")
    assert isinstance(strike, Recorded)
    assert desk.bench.containers["L2"].all_drank is None

    desk.strike(strike.entry.id)

    assert desk.bench.containers["L2"].all_drank == said.entry.at


def test_an_answer_is_kept_whole_or_not_at_all(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN)
    before = len(desk.entries())

    outcome = desk.say_many(
        [(Note, {"container": "L2", "text": "a"}), (Drank, {"container": "R4"})]
    )

    assert isinstance(outcome, Refusal)
    assert len(desk.entries()) == before


def test_another_laptop_is_heard_and_both_end_at_the_same_bench(
    open_desk: Open, clock: Clock
) -> None:
    ours, theirs = open_desk("aaaa1111", "KM"), open_desk("bbbb2222", "TO")
    told: list[int] = []
    ours.listen(lambda: told.append(1))
    tell(ours, clock, BEGIN)
    assert theirs.hear()
    told.clear()

    theirs.record(Drank, container="L2")

    assert ours.hear()
    assert told == [1]
    assert not ours.hear()
    assert ours.bench.containers["L2"].last["drank"].by == "TO"
    assert ours.bench == theirs.bench
    assert ours.bench == fold(ours.entries(whole=True))


def test_what_cannot_be_saved_is_kept_said_so_and_tried_again(
    desk: Desk, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    tell(desk, clock, BEGIN)
    storage = desk.book.table._storage
    full = OSError(28, os.strerror(28))

    def no_room(descriptor: int, data: bytes) -> int:
        raise full

    monkeypatch.setattr(storage, "_write", no_room)
    outcome = desk.record(Drank, container="L2")

    assert isinstance(outcome, Unsaved)
    assert outcome.line.startswith("the disk is full; make room")
    assert len(desk.unsaved.entries) == 1
    assert desk.bench.containers["L2"].all_drank is None
    assert not desk.retry()

    monkeypatch.undo()

    assert desk.retry()
    assert desk.unsaved.entries == []
    assert desk.bench.containers["L2"].all_drank is not None
    assert NotSaved is not None


def test_eggs_found_begin_a_brood_of_the_females_that_are_there(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN.replace("brood QUE-26-02/A mothers=QUE-26-02\n", ""))

    outcome = desk.record(Searched, container="L2", found=4)

    assert isinstance(outcome, Recorded)
    assert [entry.what for entry in outcome.entries] == ["brood", "searched"]
    brood = desk.bench.broods["QUE-26-02/A"]
    assert (brood.mothers, brood.taxon) == (("QUE-26-02",), "Boloria dia")
    assert desk.bench.containers["L2"].count("egg") == 4


def test_a_damaged_line_is_told_and_the_rest_is_read(
    desk: Desk, open_desk: Open, clock: Clock
) -> None:
    tell(desk, clock, BEGIN)
    (file,) = desk.book.folder.glob("entries-*.jsonl")
    lines = file.read_bytes().split(b"\n")
    lines[2] = lines[2].replace(b'"purpose":"laying"', b'"purpose":"laid"')
    lines.insert(3, b'{"what":"a kind of a newer version","id":"zz","at":"x"}')
    file.write_bytes(b"\n".join(lines))

    again = open_desk()

    assert len(again.reading.problems) == 2  # the line, and that one of its own was edited
    assert again.reading.problems[0].startswith(
        f"{file.name} line 3: purpose is 'laid'; it can be eggs"
    )
    assert "R4" in again.bench.containers


def test_the_zone_and_initials_of_the_book_hold(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, "setting zone Asia/Tokyo\nsetting evening 19:30")

    assert str(desk.zone) == "Asia/Tokyo"
    assert desk.now().utcoffset() == timedelta(hours=9)
    assert [f"{at:%H:%M}" for _, at in desk.moment().anchors] == ["07:00", "19:30"]
    for name, value in (("zone", "No/Where"), ("evening", "late")):
        assert isinstance(say_phrase(desk, f"setting {name} {value}"), Refusal)
        desk.record(Setting, name=name, value=value)  # as another version may have written it
    assert desk.now().utcoffset() == timedelta(hours=9)  # in which the book was written last
    assert "setting zone" in desk.clock.zone_not_known
    assert [f"{at:%H:%M}" for _, at in desk.moment().anchors] == ["07:00", "18:00"]


def test_ids_grow_even_where_the_clock_goes_back(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN)
    clock.on(days=-0.01)

    before = max(entry.id for entry in desk.entries(whole=True))

    outcome = desk.record(Note, text="earlier by the clock")

    assert isinstance(outcome, Recorded)
    assert outcome.entry.id > before


def test_time_since_she_drank_is_of_real_hours_over_a_clock_change(
    desk: Desk, clock: Clock
) -> None:
    # In France clocks went back an hour on 25 October 2026 (EU summer time rules).
    clock.now = datetime(2026, 10, 24, 18, 0, tzinfo=ZoneInfo("Europe/Paris"))
    tell(desk, clock, BEGIN)
    desk.record(Drank, container="L2")
    clock.on(hours=14)

    drank = desk.bench.containers["L2"].all_drank

    assert drank is not None
    assert desk.now() - drank == timedelta(hours=14)
    assert desk.now().hour == 7
