"""When a rule applies: stage, age, sign, season, barrier, air, and what ends it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from rounds.app.desk import Desk
from rounds.checks.due import all_dues
from rounds.checks.due_state import Due, comes, standing
from rounds.entries.registry import PutOff, Setting
from tests.bench.test_stories import BEGIN, tell
from tests.care.test_due import due_of, hours_from
from tests.conftest import Clock


def checks_of(desk: Desk, where: str) -> set[str]:
    """The names of the checks of a place."""
    return {due.check for due in all_dues(desk.bench, desk.moment()) if due.where == where}


def state_of(desk: Desk, clock: Clock, check: str, where: str) -> str:
    """How a check of a place stands."""
    due = due_of(desk, check, where)
    assert due is not None, (check, where)
    return standing(due, clock.now)


def condition(due: Due | None) -> str:
    """The condition of the rule by which a check is asked."""
    assert due is not None
    assert due.rule is not None
    return due.rule.condition


def test_larvae_of_a_species_with_four_instars_are_last_in_the_fourth(
    desk: Desk, clock: Clock
) -> None:
    tell(
        desk,
        clock,
        BEGIN
        + 'taxon "Boloria dia" instars=4\nR4 host in violet leaf\nR4 stocked 9 L4 QUE-26-02/A',
    )

    assert condition(due_of(desk, "food", "R4")) == "last instar"


def test_the_hungriest_larvae_set_the_hours(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN + "R4 host in violet leaf\nR4 stocked 9 L2 QUE-26-02/A\nR4 stocked 1 L5 QUE-26-02/A",
    )

    assert condition(due_of(desk, "food", "R4")) == "last instar"


def test_larvae_put_to_pupate_are_fed_only_where_a_plant_is_in(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "P2 set up pupation\nP2 stocked 4 L5 QUE-26-02/A")
    assert not {"food", "clean"} & checks_of(desk, "P2")

    tell(desk, clock, "P2 host in violet leaf")

    assert {"food", "clean"} <= checks_of(desk, "P2")


def test_a_fresh_sprig_beside_a_bare_one_is_food(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN + "R4 host in violet leaf\nR4 stocked 9 L5 QUE-26-02/A\nR4 host seen eaten none",
    )
    assert state_of(desk, clock, "food", "R4") == "urgent"

    tell(desk, clock, "R4 host in violet leaf")

    assert state_of(desk, clock, "food", "R4") == "ahead"


@pytest.mark.parametrize("sign", ["still", "hanging", "soft pupa"])
def test_a_moult_a_hang_and_a_soft_pupa_are_left_be_for_a_day(
    desk: Desk, clock: Clock, sign: str
) -> None:
    # Common practice, no source: nothing is done for twenty-four hours, then it is asked again by itself.
    tell(
        desk,
        clock,
        BEGIN
        + f"""
        R4 host in violet leaf
        R4 stocked 9 L4 QUE-26-02/A
        R4 stocked 1 pupae QUE-26-02/A
        R4 looked {sign}
        """,
    )
    assert not {"clean", "count"} & checks_of(desk, "R4")

    clock.on(hours=24)

    assert "count" in checks_of(desk, "R4")


def test_still_for_two_days_is_late_and_for_three_is_red_though_it_was_looked_at(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "R4 host in violet leaf\nR4 stocked 9 L4 QUE-26-02/A")
    seen = clock.now
    tell(desk, clock, "R4 looked still")
    assert hours_from(due_of(desk, "still", "R4"), seen) == (48, 54, 72, None)

    clock.on(hours=47, minutes=30)
    tell(desk, clock, "R4 looked still")
    assert (
        state_of(desk, clock, "still", "R4") == "ahead"
    )  # looked at just now, and not yet two days
    clock.on(hours=24)
    tell(desk, clock, "R4 looked still")
    assert state_of(desk, clock, "still", "R4") == "ahead"  # until the next round
    clock.on(hours=14)

    assert state_of(desk, clock, "still", "R4") == "urgent"


def test_an_emptied_cup_forgets_when_its_last_guests_drank(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 drank\nL2 released 1")
    assert due_of(desk, "drink", "L2") is None
    clock.on(hours=90)
    came = clock.now
    tell(desk, clock, "L2 founder QUE-26-09, Boloria dia female")

    assert hours_from(due_of(desk, "drink", "L2"), came)[:3] == (0, 14, 24)


def test_males_without_females_are_fed_too(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "T2 set up pairing\nT2 stocked 2 adults male QUE-26-02/A")

    assert {"drink", "feeder"} <= checks_of(desk, "T2")
    assert "eggs" not in checks_of(desk, "T2")


def test_no_change_is_asked_in_the_dark_and_a_change_of_light_starts_the_wait_again(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf potted")
    clock.on(hours=40)
    tell(desk, clock, "L2 light dark")
    assert due_of(desk, "change", "L2") is None

    changed = clock.now
    tell(desk, clock, "L2 light sun")

    assert hours_from(due_of(desk, "change", "L2"), changed)[0] == pytest.approx(24, abs=0.1)


def test_a_female_without_a_host_wants_one(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN)

    assert condition(due_of(desk, "host", "L2")) == "no host"
    tell(desk, clock, "L2 host in violet leaf dry")
    assert condition(due_of(desk, "host", "L2")) == "host cut dry"


def test_held_sprigs_are_asked_for_wherever_they_are_held_and_kept_while_they_show_droppings(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf\nL2 host out held")
    assert {"frass", "keep"} <= checks_of(desk, "L2")

    tell(desk, clock, "L2 frass trace")

    assert "frass" in checks_of(desk, "L2")
    assert "keep" not in checks_of(desk, "L2")


@pytest.mark.parametrize(
    ("month", "latitude", "season"),
    [
        (12, "48.1", "early winter"),
        (2, "48.1", "late winter"),
        (6, "-33.9", "early winter"),
        (8, "-33.9", "late winter"),
    ],
)
def test_resting_pupae_are_misted_by_the_season(
    desk: Desk, clock: Clock, month: int, latitude: str, season: str
) -> None:
    clock.now = datetime(2026, month, 1, 9, 0, tzinfo=UTC)
    desk.record(Setting, name="latitude", value=latitude)
    tell(desk, clock, "W2 set up overwintering\nbrood QA-26-02/A\nW2 stocked 8 pupae QA-26-02/A")

    assert condition(due_of(desk, "mist", "W2")) == season


def test_resting_first_instars_and_half_grown_larvae_are_asked_at_their_own_pace(
    desk: Desk, clock: Clock
) -> None:
    tell(
        desk,
        clock,
        BEGIN + "W2 set up overwintering\nW2 stocked 8 L1 QUE-26-02/A\nW3 set up overwintering",
    )
    tell(desk, clock, "W3 stocked 8 L3 QUE-26-02/A")

    assert checks_of(desk, "W2") == {"look"}
    assert condition(due_of(desk, "look", "W2")) == "first instar, late winter"
    assert checks_of(desk, "W3") == {"look", "mist"}
    assert condition(due_of(desk, "look", "W3")) == "half-grown"


def test_resting_eggs_are_not_late_for_their_age(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "E3 stocked 20 eggs QUE-26-02/A")
    assert due_of(desk, "hatch late", "E3") is not None

    tell(desk, clock, 'taxon "Boloria dia" overwinters_as=egg')

    assert due_of(desk, "hatch late", "E3") is None


@pytest.mark.parametrize("where", ["E3", "Q2", "W2"])
def test_a_suspect_is_looked_at_each_round(desk: Desk, clock: Clock, where: str) -> None:
    tell(desk, clock, BEGIN + "Q2 set up quarantine\nW2 set up overwintering")
    tell(desk, clock, f"{where} stocked 5 pupae QUE-26-02/A\n{where} suspect dark")

    due = due_of(desk, "look", where)
    assert due is not None
    assert due.rule is not None
    assert due.rule.each_round


def test_any_sign_of_illness_in_quarantine_is_red(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "Q2 set up quarantine\nQ2 stocked 3 L3 QUE-26-02/A")
    came = clock.now - timedelta(minutes=1)
    assert hours_from(due_of(desk, "quarantine", "Q2"), came)[:3] == (7 * 24, 14 * 24, None)

    tell(desk, clock, "Q2 looked weak")

    assert state_of(desk, clock, "quarantine", "Q2") == "urgent"


def test_a_cleared_one_is_not_asked_again(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "Q2 set up quarantine\nQ2 stocked 3 L3 QUE-26-02/A")
    clock.on(days=8)
    assert state_of(desk, clock, "quarantine", "Q2") == "due"

    tell(desk, clock, "Q2 cleared")

    assert due_of(desk, "quarantine", "Q2") is None


@pytest.mark.parametrize("state", ["dry", "bridged", "breached"])
def test_a_failed_barrier_is_red_at_once_and_in_danger_within_hours(
    desk: Desk, clock: Clock, state: str
) -> None:
    seen = clock.now + timedelta(minutes=7)
    tell(desk, clock, BEGIN + f"B barrier {state}")

    assert hours_from(due_of(desk, "ants", "B"), seen) == (0, 0, 0, 2)


@pytest.mark.parametrize("state", ["low", "dirty"])
def test_a_wanting_barrier_is_late_at_once(desk: Desk, clock: Clock, state: str) -> None:
    tell(desk, clock, BEGIN + f"B barrier {state}")

    assert state_of(desk, clock, "ants", "B") == "late"


def test_a_moat_not_washed_for_a_week_says_so(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "B topped up 20mm washed=yes")
    clock.on(days=8)
    tell(desk, clock, "B barrier full")
    due = due_of(desk, "ants", "B")
    assert due is not None
    assert due.reason.startswith("not washed for a week; moat falls to ")


def test_a_container_with_its_own_moat_is_asked_alone_and_guards_what_stands_in_it(
    desk: Desk, clock: Clock
) -> None:
    tell(
        desk,
        clock,
        """
        T2 set up rearing barrier=moat
        T3 set up rearing inside=T2
        T2 barrier breached 1 above
        """,
    )

    assert state_of(desk, clock, "ants", "T2") == "urgent"
    guarded = due_of(desk, "ants", "T3")
    assert guarded is not None
    assert (standing(guarded, clock.now), guarded.subject) == ("urgent", "T2")


def test_the_plan_of_one_container_holds_for_its_own_moat(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, "T2 set up rearing barrier=moat\nT3 set up rearing barrier=moat")
    tell(desk, clock, "plan ants off=yes container=T2\nplan ants amber_h=6 purpose=rearing")

    assert due_of(desk, "ants", "T2") is None
    seen = desk.bench.containers["T3"].since
    assert hours_from(due_of(desk, "ants", "T3"), seen)[1] == 6


def test_an_alarm_after_a_putting_off_is_not_put_off(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "B barrier low\nput off shelf=B check=ants until=+9h why=later")
    assert state_of(desk, clock, "ants", "B") == "ahead"

    tell(desk, clock, "B barrier dry")

    assert state_of(desk, clock, "ants", "B") == "urgent"


def test_a_hot_cup_is_red_at_once_until_it_is_shaded(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 air 34C")
    assert state_of(desk, clock, "heat", "L2") == "urgent"

    tell(desk, clock, "L2 light shade")

    assert due_of(desk, "heat", "L2") is None


def test_a_reading_says_nothing_any_more_a_day_later(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 air 31C")
    assert state_of(desk, clock, "heat", "L2") == "late"

    clock.on(hours=25)

    assert due_of(desk, "heat", "L2") is None


def test_a_cold_room_matters_only_where_females_are_to_lay(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "room air 16C")
    due = due_of(desk, "heat", "")
    assert due is not None
    assert due.reason == "read 16 C, too cold to lay"

    tell(desk, clock, "L2 released 1")

    assert due_of(desk, "heat", "") is None


def test_a_cold_night_does_not_say_that_it_is_cold_now_but_a_hot_day_does(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "room air low=12 high=24")
    assert due_of(desk, "heat", "") is None

    tell(desk, clock, "room air low=12 high=31")

    assert state_of(desk, clock, "heat", "") == "late"


def test_old_solution_matters_only_while_there_are_adults(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN)
    made = clock.now
    tell(desk, clock, "food made sugar")
    assert hours_from(due_of(desk, "solution", ""), made)[:3] == (72, 96, 120)

    tell(desk, clock, "L2 released 1")

    assert due_of(desk, "solution", "") is None


def test_a_store_gone_bad_is_red(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, "S2 set up host store\nS2 host in violet leaf fridge")
    assert state_of(desk, clock, "store", "S2") == "ahead"

    tell(desk, clock, "S2 host seen yellow")

    assert state_of(desk, clock, "store", "S2") == "urgent"


def test_wings_not_up_are_late_after_two_hours(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN + "M2 set up emergence\nM2 stocked 3 pupae QUE-26-02/A\nM2 emerged 1 female",
    )
    seen = clock.now
    tell(desk, clock, "M2 looked wings not up")
    assert hours_from(due_of(desk, "wings", "M2"), seen) == (0.5, 2, 4, None)

    tell(desk, clock, "M2 looked wings up")

    assert due_of(desk, "wings", "M2") is None


def test_darkening_eggs_and_colouring_pupae_are_looked_at_each_round(
    desk: Desk, clock: Clock
) -> None:
    tell(
        desk,
        clock,
        BEGIN
        + "E3 stocked 20 eggs QUE-26-02/A\nP2 set up pupation\nP2 stocked 3 pupae QUE-26-02/A",
    )
    assert condition(due_of(desk, "look", "E3")) == ""
    assert condition(due_of(desk, "look", "P2")) == "pupae alone"

    tell(desk, clock, "E3 looked darkening\nP2 looked colouring")

    assert condition(due_of(desk, "look", "E3")) == "darkening"
    assert condition(due_of(desk, "look", "P2")) == "colouring"


def test_several_not_seen_of_one_brood_are_one_question(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "R4 stocked 9 L4 QUE-26-02/A\nR4 counted 8\nR4 missing 2 others")
    found = [due for due in all_dues(desk.bench, desk.moment()) if due.check == "balance"]

    assert [due.reason for due in found] == ["3 larvae of QUE-26-02/A not seen"]


def test_a_check_put_off_comes_when_it_was_put_off_until(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "R4 host in violet leaf\nR4 stocked 9 L3 QUE-26-02/A")
    clock.on(hours=40)
    until = clock.now + timedelta(hours=12)
    desk.record(PutOff, container="R4", check="food", until=until, why="asleep")

    due = due_of(desk, "food", "R4")
    assert due is not None
    assert due.due < clock.now
    assert comes(due, clock.now) == until
    assert comes(due, until) == due.due
