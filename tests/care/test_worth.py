"""What a check is worth: the chance that it finds something, what is lost if it is left, the seconds that it takes."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rounds.app.desk import Desk
from rounds.bench.state import Looks
from rounds.checks.due_state import Due
from rounds.checks.worth import START_LOOKS, Worth, drawn, seconds_of, worth_of
from tests.bench.test_stories import tell
from tests.conftest import Clock
from tests.plain_fold import fold

CUP = """
R4 set up rearing
brood B1 taxon='Boloria dia'
R4 stocked 6 L3 B1
R4 host in violet leaf water
R4 looked
R4 host seen plenty
"""


def due_of(desk: Desk, check: str, where: str = "R4") -> Due:
    """The check of that name."""
    return next(due for due in desk.dues() if (due.check, due.where) == (check, where))


def worth(desk: Desk, check: str, where: str = "R4") -> Worth:
    """What it is worth now."""
    return worth_of(desk.bench, due_of(desk, check, where), desk.moment(), desk.foresight)


def half_days(desk: Desk, clock: Clock, *lines: str) -> None:
    """One line each twelve hours, and twelve hours after the last."""
    for words in lines:
        clock.on(hours=12)
        tell(desk, clock, words)
    clock.on(hours=12)


def test_answers_that_are_alike_are_counted(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, CUP)
    half_days(desk, clock, "R4 looked", "R4 looked", "R4 looked weak", "R4 looked")

    found = worth(desk, "look")

    assert (found.found, found.looks) == (1, 4)
    assert found.words.startswith("1 of 4 looks found something; 6 animals at stake; about ")
    assert found.chance == pytest.approx(
        (1 + START_LOOKS * found.start) / (4 + START_LOOKS)
    )  # each answer counted once
    assert found.start == pytest.approx(0.05)  # half of the usual one, long before it is late


def test_a_sign_that_is_there_as_before_is_nothing_new(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, CUP)
    half_days(desk, clock, "R4 looked weak", "R4 looked weak", "R4 looked weak")

    assert (worth(desk, "look").found, worth(desk, "look").looks) == (1, 3)


def test_what_is_only_to_be_left_alone_was_no_find(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, CUP)
    half_days(desk, clock, "R4 looked still", "R4 moulted 2 L4", "R4 looked hanging")

    assert (worth(desk, "look").found, worth(desk, "look").looks) == (0, 3)


def test_several_lines_of_one_look_are_one_look(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, CUP)
    half_days(desk, clock, "R4 looked\nR4 moulted 2 L4\nR4 died 1 not known", "R4 looked")

    assert (worth(desk, "look").found, worth(desk, "look").looks) == (1, 2)


def test_a_crossed_out_answer_counts_no_more(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, CUP)
    half_days(desk, clock, "R4 looked", "R4 looked weak")
    desk.strike_last()

    looks = [one for key, one in desk.bench.looks_made.items() if key.startswith("look|")]
    assert [(one.found, one.made) for one in looks] == [(0, 1)]


def test_food_is_told_apart_by_plant_and_by_hours(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, CUP)
    half_days(desk, clock, "R4 host seen limp", "R4 host seen limp")
    keys = sorted(desk.bench.looks_made)

    assert "host|L3-L4|1|violet" in keys
    assert worth(desk, "food").looks == 2
    clock.on(hours=12)
    assert worth(desk, "food").looks == 0  # a day is not half a day


def test_an_act_wants_doing_whatever_was_answered(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, "L2 set up laying\nL2 founder W2 Boloria dia female\nL2 drank")
    half_days(desk, clock, "L2 drank", "L2 drank", "L2 drank")

    assert worth(desk, "drink", "L2").chance == 1.0


@pytest.mark.parametrize(("purpose", "weighs"), [("laying", 11), ("emergence", 1)])
def test_with_a_female_that_is_to_lay_her_eggs_are_lost(
    desk: Desk, clock: Clock, purpose: str, weighs: int
) -> None:
    tell(desk, clock, f"L2 set up {purpose}\nL2 founder W2 Boloria dia female\nL2 drank")
    clock.on(hours=24)
    found = worth(desk, "drink", "L2")
    assert found.lost == pytest.approx(weighs * found.stake * found.chance * found.each)
    assert ("x 11 with the eggs to come" in found.arithmetic) == (purpose == "laying")


def test_more_is_lost_the_nearer_danger_comes(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, "L2 set up laying\nL2 founder W2 Boloria dia female\nL2 drank")
    lost = []
    for _ in range(3):
        lost.append(worth(desk, "drink", "L2").lost)
        clock.on(hours=24)  # the same time of day, so that the next round is as far away

    assert lost == sorted(lost)
    assert lost[0] < 0.1 < 2.0 < lost[-1] <= 11.0  # with her the ten eggs that she would still lay


def test_seconds_are_learned_from_the_times_of_answers_in_rounds(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, CUP)
    start = seconds_of(desk.bench, due_of(desk, "look"))
    for _ in range(20):
        clock.on(hours=12)
        desk.start_round()
        clock.on(minutes=2)
        tell(desk, clock, "R4 looked")
        desk.finish_round()

    assert start == 20.0
    assert seconds_of(desk.bench, due_of(desk, "look")) == pytest.approx(
        (20 * 110 + 5 * 20) / 25
    )  # less ten for the way


def test_an_answer_after_a_pause_tells_no_seconds(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, CUP)
    clock.on(hours=12)
    desk.start_round()
    clock.on(minutes=40)
    tell(desk, clock, "R4 looked")

    assert seconds_of(desk.bench, due_of(desk, "look")) == 20.0


def test_seconds_of_a_drink_are_of_each_female(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, "L2 set up laying\nL2 founder W2 Boloria dia female\nL3 set up laying")
    tell(
        desk,
        clock,
        "L3 founder W3 Boloria dia female\nL3 founder W4 Boloria dia female\nL2 drank\nL3 drank",
    )

    assert seconds_of(desk.bench, due_of(desk, "drink", "L3")) == 2 * seconds_of(
        desk.bench, due_of(desk, "drink", "L2")
    )


def test_a_barrier_guards_all_that_stands_behind_it(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        "shelf set up B moat\nR4 set up rearing shelf=B\nR5 set up rearing shelf=B\nbrood B1 taxon='Boloria dia'",
    )
    tell(desk, clock, "R4 stocked 6 L3 B1\nR5 stocked 3 L3 B1\nshelf B moat full")
    clock.on(hours=12)

    assert worth(desk, "ants", "B").stake == 9


def test_the_counts_are_those_of_a_fold_from_nothing(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, CUP)
    half_days(desk, clock, "R4 looked", "R4 looked weak", "R4 host seen limp")
    tell(desk, clock, "R4 looked -20h")
    entries = [entry for entry in desk.reading.history.tail if entry.id not in desk.struck]

    assert fold(entries).looks_made == desk.bench.looks_made


@given(st.floats(0, 1), st.lists(st.tuples(st.integers(0, 500), st.integers(0, 500)), max_size=3))
def test_a_chance_stays_one_and_lies_between_start_and_records(
    start: float, rows: list[tuple[int, int]]
) -> None:
    chance = start
    for found, usual in rows:
        before = chance
        chance = drawn(chance, found, found + usual)
        share = found / (found + usual) if found + usual else before
        assert min(before, share) - 1e-12 <= chance <= max(before, share) + 1e-12
    assert 0 <= chance <= 1


def test_a_start_counts_as_so_many_looks() -> None:
    assert drawn(0.25, 0, START_LOOKS) == pytest.approx(0.125)
    assert Looks().made == 0


def test_what_is_left_without_harm_hours_goes_by_the_estimate_of_its_check(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, CUP)
    clock.on(hours=60)
    found = worth(desk, "look")

    assert (found.stake, found.chance, found.of) == (6, pytest.approx(0.5, abs=0.01), "animals")
    assert found.lost == pytest.approx(6 * found.chance * found.each)
    assert found.seconds == 20
    assert "estimate" in found.arithmetic
    assert timedelta(0) < timedelta(seconds=found.seconds)


def test_one_animal_is_told_as_one(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, CUP.replace("6", "1"))

    assert "1 animal at stake" in worth(desk, "look").words


def test_eggs_that_do_not_hatch_by_the_next_round_are_not_at_stake_for_a_leaf(
    desk: Desk, clock: Clock
) -> None:
    tell(
        desk,
        clock,
        "E3 set up eggs\nbrood B1 taxon='Boloria dia'\nE3 stocked 20 eggs B1\nE3 expected hatch"
        " on 2026-05-26 until 2026-05-29",
    )
    clock.on(hours=1)
    stakes = []
    for _ in range(30):
        clock.on(hours=12)
        found = [one for one in desk.dues() if (one.check, one.where) == ("leaf", "E3")]
        stakes += [worth(desk, "leaf", "E3").stake for _ in found]
    assert stakes == sorted(stakes), "more of them, the nearer it is"
    assert stakes[0] < 5
    assert stakes[-1] == pytest.approx(20, abs=0.5)
