"""The walk: its stops in order, what each asks, what counts as answered, and what the end of it says."""

from __future__ import annotations

from collections.abc import Callable

from rounds.app.desk import Desk
from rounds.checks.due_state import PRESSING, Due
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import utc
from rounds.checks.round_summary import closing
from rounds.checks.walk import Stop, asked_by, stops
from rounds.checks.walking_order import walking_order
from rounds.entries.registry import Cleared, HandsWashed
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock

MORE = """
Q2 set up quarantine shelf=A place=1
X2 set up isolation shelf=A place=1
W2 set up overwintering shelf=A place=2
S2 set up host store
Q2 stocked 2 L3 QUE-26-02/A
X2 stocked 2 L3 QUE-26-02/A
E3 stocked 20 eggs QUE-26-02/A
R4 host in violet leaf
R4 stocked 9 L4 QUE-26-02/A
R7 host in violet leaf
R7 stocked 9 L4 QUE-26-02/A
S2 host in violet leaf fridge
L2 host in violet leaf water
"""


def begin(desk: Desk, clock: Clock, story: str = "") -> None:
    """A bench with something in every group, a day later, and a walk begun."""
    tell(desk, clock, BEGIN + MORE + story)
    clock.on(hours=24)
    desk.start_round()


def walk_stops(desk: Desk) -> tuple[Stop, ...]:
    """The stops as they stand now."""
    walk = desk.bench.open_round
    assert walk is not None
    return stops(desk.bench, desk.moment(), walk)


def stop_at(desk: Desk, where: str) -> Stop:
    """The stop at a place."""
    return next(stop for stop in walk_stops(desk) if stop.where == where)


def asked(desk: Desk, where: str) -> list[str]:
    """The checks still open at a place."""
    return [due.check for due in stop_at(desk, where).open_checks]


def order(desk: Desk) -> list[str]:
    """Where the walk goes."""
    return [stop.where or stop.place_kind for stop in walk_stops(desk)]


def test_clean_stock_comes_before_new_new_before_suspect_and_sick_last(
    desk: Desk, clock: Clock
) -> None:
    begin(desk, clock, "R7 suspect limp")

    assert order(desk) == ["room", "B", "E3", "R4", "L2", "S2", "Q2", "R7", "X2"]


def test_hands_are_washed_before_each_dirtier_group(desk: Desk, clock: Clock) -> None:
    begin(desk, clock, "R7 suspect limp")

    assert [stop.where for stop in walk_stops(desk) if stop.wash_before] == ["Q2", "R7", "X2"]


def test_hands_are_washed_on_the_way_back_from_a_dirtier_group(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    for check in ("look", "food", "clean"):
        tell(desk, clock, f"skipped container=R4 check={check} why=asleep")

    found = walk_stops(desk)

    assert found[-1].where == "R4"
    assert found[-1].wash_before


def test_what_stands_inside_another_comes_right_after_it(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        """
        shelf set up B
        T2 set up rearing shelf=B place=1
        T9 set up rearing shelf=B place=2
        A7 set up rearing inside=T9
        A8 set up rearing inside=T2 place=4
        A9 set up rearing inside=T2 place=3
        T3 set up rearing
        """,
    )

    assert [one.code for one in walking_order(desk.bench)] == ["T2", "A9", "A8", "T9", "A7", "T3"]


def is_asked_along(due: Due) -> bool:
    """Whether it is seen or done in passing at a stop, and not asked each round anyway."""
    check = CHECKS[due.check]
    return (check.along or check.glance is not None) and not (due.rule and due.rule.each_round)


def test_each_check_is_asked_once_and_all_that_falls_due_before_the_next_round(
    desk: Desk, clock: Clock
) -> None:
    begin(desk, clock, "L2 drank\nL2 feeder changed\nL2 searched 0\nL2 host seen\nL2 looked")
    walk = desk.bench.open_round
    assert walk is not None

    until = asked_by(desk.moment(), walk)

    assert until.astimezone(desk.zone).hour == 18
    # Drink was due twelve hours after; the others a day after. What is late comes first.
    assert asked(desk, "L2") == ["drink", "look", "feeder", "host", "eggs"]
    after = desk.moment().next_anchor(until)
    assert all(
        due.due < until or (due.due < after and is_asked_along(due))
        for stop in walk_stops(desk)
        for due in stop.checks
    )
    names = [(stop.where, due.check) for stop in walk_stops(desk) for due in stop.checks]
    assert len(names) == len(set(names))


def test_a_check_due_between_two_rounds_is_asked_in_the_first(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + MORE)
    clock.on(hours=19)  # half past two in the night
    tell(desk, clock, "E3 lid opened")
    clock.on(hours=28)  # a quarter to seven two mornings on
    desk.start_round()
    assert "air" not in [
        due.check for due in stop_at(desk, "E3").checks if due.due < utc(clock.now)
    ]

    assert "air" in asked(desk, "E3")  # due in the afternoon, 36 h after: before the evening round


def test_an_answer_closes_its_check_and_the_stop_stays_in_the_count(
    desk: Desk, clock: Clock
) -> None:
    begin(desk, clock)
    before = order(desk)
    assert "look" in asked(desk, "R4")

    tell(desk, clock, "R4 moulted 3 L5")

    assert "look" not in asked(desk, "R4")
    assert "look" in stop_at(desk, "R4").answered
    tell(desk, clock, "R4 looked\nR4 host seen plenty\nR4 cleaned")
    assert asked(desk, "R4") == []
    assert order(desk) == before


def test_a_walk_that_was_broken_off_goes_on_where_it_was_left(
    open_desk: Callable[..., Desk], desk: Desk, clock: Clock
) -> None:
    begin(desk, clock)
    tell(
        desk,
        clock,
        "room air 21C\nB barrier full\nE3 looked\nE3 lid opened\nE3 host in lathyrus leaf\nR4 looked",
    )
    left_at = next((stop for stop in walk_stops(desk) if stop.open_checks), None)
    assert left_at is not None
    assert (left_at.where, left_at.open_checks[0].check) == ("R4", "food")

    again = open_desk("bbbb2222")

    assert walk_stops(again) == walk_stops(desk)


def test_the_same_checks_are_asked_however_long_the_walk_takes(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    before = order(desk)

    clock.on(hours=9)  # after the evening round has come near

    assert order(desk) == before


def test_some_that_drank_leave_the_question_open_until_all_have_or_the_rest_refused(
    desk: Desk, clock: Clock
) -> None:
    begin(desk, clock, "L2 stocked 3 adults female QUE-26-02/A")
    tell(desk, clock, "L2 drank 2")
    assert "drink" in asked(desk, "L2")

    tell(desk, clock, "L2 drank 2")
    assert "drink" not in asked(desk, "L2")


def test_a_refusal_closes_the_question_and_the_hours_go_on(desk: Desk, clock: Clock) -> None:
    begin(desk, clock, "L2 stocked 3 adults female QUE-26-02/A\nL2 drank")
    drank = desk.bench.containers["L2"].all_drank
    tell(desk, clock, "L2 drank 2\nL2 refused 2")

    assert "drink" not in asked(desk, "L2")
    assert desk.bench.containers["L2"].all_drank == drank
    due = next(due for due in stop_at(desk, "L2").checks if due.check == "drink")
    assert due.since == drank


def test_a_failed_moat_stays_asked_until_it_is_topped_up(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    tell(desk, clock, "B barrier dry")
    assert asked(desk, "B") == ["ants"]

    tell(desk, clock, "B topped up 20mm")

    assert asked(desk, "B") == []


def test_a_low_moat_is_an_answer_the_second_time(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    tell(desk, clock, "B barrier low 8mm")
    assert asked(desk, "B") == ["ants"], "it is to be filled up"

    tell(desk, clock, "B barrier low 8mm")
    assert asked(desk, "B") == []


def test_ants_above_a_shelf_moat_are_asked_at_the_shelf_only(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    tell(desk, clock, "B barrier breached 2 above")

    assert asked(desk, "B") == ["ants"]
    assert "ants" not in asked(desk, "L2")


def test_animals_not_seen_at_a_count_are_asked_for_at_once(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    tell(desk, clock, "R4 cleaned\nR4 counted 8")
    assert "balance" in asked(desk, "R4")

    tell(desk, clock, "R4 settled dead 1")

    assert "balance" not in asked(desk, "R4")


def test_a_room_read_too_warm_asks_what_was_done(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    tell(desk, clock, "room air 34C")
    room = next(stop for stop in walk_stops(desk) if stop.place_kind == "room")

    assert [due.check for due in room.open_checks] == ["heat"]


def test_a_suspect_goes_to_the_end_now(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    assert order(desk).index("R4") < order(desk).index("L2")

    tell(desk, clock, "R4 suspect limp and dark")

    assert order(desk).index("R4") > order(desk).index("Q2")
    assert "look" in asked(desk, "R4")


def test_a_cleared_one_goes_back_among_the_healthy(desk: Desk, clock: Clock) -> None:
    begin(desk, clock, "R4 suspect limp")
    desk.record(Cleared, container="R4")

    assert stop_at(desk, "R4").group == "healthy broods"


def test_what_is_passed_over_comes_back_at_the_end_once(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    last = order(desk)[-1]
    tell(desk, clock, "skipped container=E3 why=asleep")
    assert order(desk)[-1] == "E3"
    assert "look" in asked(desk, "E3")
    assert last == order(desk)[-2]

    tell(desk, clock, "skipped container=E3 why=asleep")

    assert asked(desk, "E3") == []
    assert "look" in stop_at(desk, "E3").skipped
    assert closing(desk.bench, desk.moment()).passed_over == (("E3", "skipped (asleep)"),)


def test_one_check_passed_over_lets_the_others_be_answered_first(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    tell(desk, clock, "skipped container=R4 check=look why=asleep")
    assert asked(desk, "R4") == ["food"]  # to be cleaned it waits for a moult that is expected
    assert order(desk)[-1] != "R4"

    tell(desk, clock, "R4 host seen plenty")

    assert order(desk)[-1] == "R4"
    assert asked(desk, "R4") == ["look"]


def test_put_off_in_the_walk_counts_as_answered_and_before_it_is_not_asked(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + MORE)
    clock.on(hours=24)
    tell(desk, clock, "put off container=L2 check=eggs until=+8h why=dark")
    desk.start_round()
    assert "eggs" not in asked(desk, "L2")

    tell(desk, clock, "put off container=L2 check=feeder until=+8h why=dark")

    assert "feeder" in stop_at(desk, "L2").answered


def test_the_walk_ends_when_nothing_is_left_to_ask(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    found = walk_stops(desk)
    for stop in found:
        where = (
            f"container={stop.where}" if stop.place_kind == "container" else f"shelf={stop.where}"
        )
        for due in stop.checks:
            place = where if stop.where else ""
            tell(desk, clock, f"put off {place} check={due.check} until=+9h why=later")

    assert not any(stop.open_checks for stop in walk_stops(desk))


def test_washing_hands_belongs_to_no_stop(desk: Desk, clock: Clock) -> None:
    begin(desk, clock)
    before = order(desk)
    desk.record(HandsWashed)

    assert order(desk) == before


def test_the_end_says_what_is_open_the_night_lamps_and_when_to_be_back(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + MORE)
    desk.start_round()
    desk.finish_round()
    clock.on(hours=11)
    desk.start_round()
    tell(
        desk,
        clock,
        """
        L2 searched 11
        R4 died 1 dry
        E3 looked darkening
        L2 light lamp on
        L2 drank
        """,
    )
    told = closing(desk.bench, desk.moment())

    assert len(told.open) > 3
    states = [PRESSING.index(state) for _, state in told.open]
    assert states == sorted(states), "the worst first"
    ahead = dict(told.ahead)
    assert ahead["E3"].endswith(" may hatch; no tender leaf is in yet")
    assert ahead["L2"].startswith("a lamp is on, since ")
    assert told.back == desk.moment().round_after
    assert told.sooner is None or desk.now() < told.sooner[0] < told.back


def test_the_end_of_a_quiet_walk_is_short(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, "T2 set up rearing")

    told = closing(desk.bench, desk.moment())
    assert (told.open, told.passed_over, told.ahead) == ((), (), ())


def test_an_old_host_that_is_seen_fresh_is_answered_and_a_limp_one_is_not(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf")
    clock.on(days=6)
    desk.start_round()

    def asked() -> set[str]:
        walk = desk.bench.open_round
        assert walk is not None
        return {
            due.check
            for stop in stops(desk.bench, desk.moment(), walk)
            if stop.where == "L2"
            for due in stop.open_checks
        }

    assert "host" in asked()
    tell(desk, clock, "L2 host seen limp")
    assert "host" in asked()
    tell(desk, clock, "L2 host seen fresh")
    assert "host" not in asked()
