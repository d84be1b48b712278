"""The walk: its order, its stops, washing hands, what comes back, going on after a stop."""

from __future__ import annotations

from collections.abc import Callable

from rounds.bench.kinds import Drank, Looked, StopSkipped, Suspect
from rounds.care.order import GROUPS, group_of, walking_order
from rounds.care.walk import Stop, closing_words, stops
from rounds.desk import Desk
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock


def walk_of(desk: Desk) -> tuple[Stop, ...]:
    """The stops of the open round."""
    walk = desk.bench.open_round
    assert walk is not None
    return stops(desk.bench, desk.moment(), walk)


BENCH = (
    BEGIN
    + """
R4 host in violet leaf
R4 stocked 9 L3 QUE-26-02/A
E3 stocked 20 eggs QUE-26-02/A
Q2 set up quarantine shelf=B place=9
Q2 stocked 2 L3 QUE-26-02/A
X2 set up isolation
X2 stocked 1 L3 QUE-26-02/A
R7 host in violet leaf
R7 stocked 3 L3 QUE-26-02/A
"""
)


def test_it_goes_from_clean_to_dirty_and_by_shelf_and_place(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BENCH + "R4 suspect pale")

    order = [container.code for container in walking_order(desk.bench)]

    assert order == ["E3", "R7", "L2", "Q2", "R4", "X2"]
    groups = [GROUPS.index(group_of(container)) for container in walking_order(desk.bench)]
    assert groups == sorted(groups)


def test_hands_are_washed_before_each_dirtier_group(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BENCH + "R4 suspect pale")
    clock.on(hours=11)
    desk.start_round()

    washes = {stop.where for stop in walk_of(desk) if stop.wash_before}

    assert washes == {"Q2", "R4", "X2"}


def test_a_suspect_flagged_on_the_way_goes_to_the_end_now(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BENCH)
    clock.on(hours=11)
    desk.start_round()
    before = [stop.where for stop in walk_of(desk)]
    assert before.index("R7") < before.index("L2")

    desk.say(Suspect, container="R7", sign="limp")

    after = [stop.where for stop in walk_of(desk)]
    assert after.index("R7") > after.index("Q2")
    assert after[-1] == "X2"


def test_what_was_answered_stays_answered_after_a_kill(desk: Desk, open_desk: Callable[..., Desk], clock: Clock) -> None:
    tell(desk, clock, BENCH)
    clock.on(hours=11)
    desk.start_round()
    clock.on(minutes=1)
    desk.say(Drank, container="L2")
    desk.say(Looked, container="L2")

    again = open_desk()
    (stop,) = [stop for stop in walk_of(again) if stop.where == "L2"]

    assert {"drink", "look"} <= stop.answered
    assert "drink" not in {due.check for due in stop.open_checks}


def test_a_skipped_stop_comes_back_at_the_end(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BENCH)
    clock.on(hours=24)
    desk.start_round()
    first = next(stop for stop in walk_of(desk) if stop.place_kind == "container")
    for due in first.open_checks:
        desk.say(StopSkipped, container=first.where, check=due.check, why="no light")

    after = walk_of(desk)

    assert after[-1].where == first.where
    assert after[-1].open_checks
    assert desk.bench.open_round is not None
    assert desk.bench.open_round.skipped[0][2] == "no light"


def test_each_check_is_asked_once_a_walk(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BENCH)
    clock.on(hours=30)
    desk.start_round()

    for stop in walk_of(desk):
        names = [due.check for due in stop.checks]
        assert len(names) == len(set(names)), stop.where


def test_what_comes_due_before_the_next_round_is_asked_now(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BENCH + "L2 drank")
    clock.on(hours=11, minutes=30)  # half an hour before she is due, in the evening round
    desk.start_round()

    (stop,) = [stop for stop in walk_of(desk) if stop.where == "L2"]

    assert "drink" in {due.check for due in stop.checks}


def test_a_dry_moat_stays_open_until_it_is_filled(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BENCH)
    clock.on(hours=11)
    desk.start_round()
    clock.on(minutes=1)
    tell(desk, clock, "B barrier dry")
    shelf = lambda: next(stop for stop in walk_of(desk) if stop.where == "B")  # noqa: E731
    assert shelf().open_checks

    tell(desk, clock, "B topped up 22mm")

    assert not shelf().open_checks


def test_the_end_tells_what_is_open_the_night_the_lamp_and_when_to_be_back(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BENCH + "E3 looked darkening\nL2 light lamp on\nL2 drank")
    clock.on(hours=11)
    desk.start_round()

    words = closing_words(desk.bench, desk.moment())

    assert "May hatch before morning: E3. Tender leaf NOT in yet." in words
    assert any(word.startswith("A lamp is still on at L2") for word in words)
    assert any(word.startswith("Be back by ") for word in words)
    assert sum(word.startswith("Open: ") for word in words) == 3
