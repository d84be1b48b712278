"""What to have ready, reckoned by hand for small benches. The numbers used up are our estimates; no source."""

from __future__ import annotations

import pytest

from rounds.app.desk import Desk
from rounds.checks.supplies import Supplies, SupplyNeed, coming_round, supplies
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock


def needed(needs: tuple[SupplyNeed, ...]) -> dict[tuple[str, str], float]:
    """How much of each thing."""
    return {(need.what, need.of): need.number for need in needs}


def reckoned(desk: Desk) -> Supplies:
    """The supplies of a desk now."""
    return supplies(desk.bench, desk.moment())


def test_a_hand_fed_cup_with_a_feeder(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 stocked 3 adults female QUE-26-02/A\nL2 drank\nL2 feeder changed")
    clock.on(hours=10, minutes=30)  # shortly before the evening round

    found = reckoned(desk)

    # This evening: four animals at 0.5 ml are 2 ml; the feeder is a day's. With a fifth 2.4, rounded up to 5.
    assert found.round_begins.astimezone(desk.zone).hour == 18
    assert needed(found.coming) == {("solution", ""): 5, ("swabs", ""): 1}
    # Tomorrow: twice 2 ml and one feeder of 2 ml are 6 ml; with a fifth 7.2, rounded up to 10.
    assert needed(found.tomorrow) == {("solution", ""): 10, ("swabs", ""): 3}
    assert (
        found.tomorrow[0].arithmetic
        == "L2 4 x 0.5 (2 times), L2 feeder 2 = 6 ml, a fifth to spare, rounded up"
    )


def test_laying_host_is_cut_anew_as_much_as_stands_there(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf water 3 sprigs")
    assert ("sprigs", "violet") not in needed(reckoned(desk).coming)

    clock.on(hours=46)  # shortly before the morning round in which it is 48 h old

    found = reckoned(desk)
    assert needed(found.coming)["sprigs", "violet"] == needed(found.coming)["tubes", ""] == 3
    assert found.coming[0].arithmetic == "L2 holds 3 now"


def test_a_host_of_unknown_number_is_one_sprig_at_a_guess(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf dry")
    clock.on(hours=22)

    assert [need.arithmetic for need in reckoned(desk).coming if need.what == "sprigs"] == [
        "L2 holds about 1 now"
    ]


@pytest.mark.parametrize(
    ("instar", "number", "words"),
    [
        (2, 1, "R4 12 L1-L2 x 0.02 a day = 1"),
        (4, 3, "R4 12 L3-L4 x 0.25 a day = 3"),
        (5, 6, "R4 12 last instar x 1 a day x 0.5 d = 6"),
    ],
)
def test_larvae_eat_by_age(desk: Desk, clock: Clock, instar: int, number: int, words: str) -> None:
    tell(
        desk,
        clock,
        BEGIN + f"R4 host in violet leaf damp paper\nR4 stocked 12 L{instar} QUE-26-02/A",
    )
    clock.on(hours=23)

    sprigs = next(need for need in reckoned(desk).coming if need.what == "sprigs")

    assert (sprigs.of, sprigs.number, sprigs.arithmetic) == ("violet", number, words)


@pytest.mark.parametrize("instar", [2, 4, 5])
def test_the_unfed_eat_no_more_than_those_with_food(desk: Desk, clock: Clock, instar: int) -> None:
    stocked = f"R4 stocked 12 L{instar} QUE-26-02/A"
    tell(
        desk,
        clock,
        BEGIN + f"{stocked}\nR4 host in violet leaf damp paper\nR4 host out discarded sure",
    )
    clock.on(hours=23)
    unfed = [(need.number, need.arithmetic.partition(" (")[0]) for need in both_days(desk)]
    tell(desk, clock, "R4 host in violet leaf damp paper")
    clock.on(hours=24)

    assert unfed == [(need.number, need.arithmetic.partition(" (")[0]) for need in both_days(desk)]


def both_days(desk: Desk) -> list[SupplyNeed]:
    """The stems for R4 in the coming round and tomorrow."""
    told = reckoned(desk)
    return [need for need in (*told.coming, *told.tomorrow) if need.what == "sprigs"]


@pytest.mark.parametrize("host", ["", "R4 host in violet leaf damp paper\n"])
def test_larvae_of_no_known_instar_are_not_taken_for_hatchlings(
    desk: Desk, clock: Clock, host: str
) -> None:
    tell(desk, clock, BEGIN + host + "R4 stocked 12 larvae QUE-26-02/A")
    clock.on(hours=23)

    sprigs = next(need for need in reckoned(desk).coming if need.what == "sprigs")

    assert sprigs.arithmetic == "R4 12 of no known instar x 0.25 a day = 3"


def test_a_potted_plant_wants_no_scissors(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "R4 host in violet plant potted\nR4 stocked 12 L4 QUE-26-02/A")
    clock.on(hours=23)

    assert "sprigs" not in {need.what for need in reckoned(desk).coming}


def test_larvae_without_food_get_what_their_like_get_elsewhere(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN + "R7 host in clover leaf\nR7 stocked 1 L4 QUE-26-02/A\nR4 stocked 12 L1 QUE-26-02/A",
    )

    assert ("sprigs", "clover") in needed(reckoned(desk).coming)


def test_darkening_eggs_want_one_tender_leaf(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "E3 stocked 20 eggs QUE-26-02/A\nE3 looked darkening")

    leaf = next(need for need in reckoned(desk).coming if need.what == "sprigs")

    assert (leaf.of, leaf.number, leaf.arithmetic) == ("plant not on record", 1, "E3 1 tender leaf")


def test_lining_is_changed_at_each_clean(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN
        + "R4 changed lining=tissue\nR4 host in violet leaf\nR4 stocked 9 L5 QUE-26-02/A\nR4 cleaned",
    )
    clock.on(hours=22)

    assert ("lining", "tissue") in needed(reckoned(desk).coming)


def test_the_coming_round_is_the_next_once_this_one_was_begun(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN)
    assert coming_round(desk.bench, desk.moment()).astimezone(desk.zone).hour == 7

    desk.start_round()

    assert coming_round(desk.bench, desk.moment()).astimezone(desk.zone).hour == 18


def test_an_empty_bench_needs_nothing(desk: Desk) -> None:
    assert (reckoned(desk).coming, reckoned(desk).tomorrow) == ((), ())
