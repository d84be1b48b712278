"""Each check: when it is due, amber and red, and why."""

from __future__ import annotations

from datetime import timedelta

import pytest

from rounds.app.desk import Desk
from rounds.bench import plants_of
from rounds.bench.state import Bench
from rounds.checks.due import all_dues
from rounds.checks.due_state import Due, standing, time_left
from rounds.checks.why import why
from tests.bench.test_stories import BEGIN, tell
from tests.care.test_ahead import due_of
from tests.conftest import Clock


def hours_from(due: Due | None, start: object) -> tuple[float | None, ...]:
    """Due, amber, red and harm in hours after an instant."""
    assert due is not None
    return tuple(
        None if at is None else round((at - start).total_seconds() / 3600, 2)  # type: ignore[operator]
        for at in (due.due, due.late, due.urgent, due.danger)
    )


def test_drink_counts_from_when_all_drank_not_from_when_food_was_offered(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN)
    drank = clock.now
    tell(desk, clock, "L2 drank")
    clock.on(hours=6)
    tell(desk, clock, "L2 offered sugar\nL2 refused")

    assert hours_from(due_of(desk, "drink", "L2"), drank) == (12, 14, 24, 31)


@pytest.mark.parametrize(
    ("hours", "state"), [(11, "ahead"), (12.5, "due"), (14.5, "late"), (24.5, "urgent")]
)
def test_how_a_check_stands(desk: Desk, clock: Clock, hours: float, state: str) -> None:
    tell(desk, clock, BEGIN + "L2 drank")
    clock.on(hours=hours)
    due = due_of(desk, "drink", "L2")
    assert due is not None

    assert standing(due, clock.now) == state
    left = time_left(due, clock.now)
    assert left is not None
    assert left == timedelta(hours=31) - timedelta(hours=hours, minutes=1)


@pytest.mark.parametrize(("kept", "state"), [("dry", "late"), ("water", "urgent")])
def test_a_limp_host_is_late_at_once_and_red_in_water(
    desk: Desk, clock: Clock, kept: str, state: str
) -> None:
    # Common practice, no source: one that hangs its leaves though it stands in water will not recover.
    tell(desk, clock, BEGIN + f"L2 host in violet {kept}")
    clock.on(hours=4)
    assert standing(due_of(desk, "host", "L2"), clock.now) == "ahead"  # type: ignore[arg-type]

    tell(desk, clock, "L2 host seen limp")

    due = due_of(desk, "host", "L2")
    assert due is not None
    assert standing(due, clock.now) == state
    assert due.reason == "violet seen limp"


def test_a_plant_keeps_as_long_as_its_keeper_says(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "plant clover dry 10h\nL2 host in clover dry")

    due = due_of(desk, "host", "L2")

    assert hours_from(due, due.since)[1:3] == (10, 15)  # type: ignore[union-attr]


def test_no_eggs_asks_to_change_one_thing_and_eggs_silence_it(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet water")
    due = due_of(desk, "change", "L2")
    assert hours_from(due, due.since) == (24, 96, None, None)  # type: ignore[union-attr]
    clock.on(hours=20)

    tell(desk, clock, "L2 searched 2")

    assert hours_from(due_of(desk, "change", "L2"), clock.now)[0] == pytest.approx(
        72, abs=0.1
    )  # it begins anew


def test_darkening_eggs_want_a_leaf_until_one_is_in(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "E3 stocked 20 eggs QUE-26-02/A\nE3 looked darkening")
    due = due_of(desk, "leaf", "E3")
    assert due is not None
    assert standing(due, clock.now) == "due"

    tell(desk, clock, "E3 host in violet tender leaf")

    assert due_of(desk, "leaf", "E3") is None


@pytest.mark.parametrize(
    ("instar", "hours"),
    [(1, (24, 36, 40, 48)), (2, (24, 36, 40, 48)), (4, (24, 30, 36, 47)), (5, (24, 26, 28, 36))],
)
def test_food_goes_by_instar(
    desk: Desk, clock: Clock, instar: int, hours: tuple[float, ...]
) -> None:
    tell(desk, clock, BEGIN + f"R4 host in violet leaf\nR4 stocked 9 L{instar} QUE-26-02/A")
    fed = clock.now
    tell(desk, clock, "R4 host seen plenty")

    assert hours_from(due_of(desk, "food", "R4"), fed) == hours


def test_larvae_without_any_food_are_asked_for_at_once(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN)
    arrived = clock.now
    tell(desk, clock, "R4 stocked 9 L1 QUE-26-02/A")

    assert hours_from(due_of(desk, "food", "R4"), arrived) == (0, 6, 12, 24)


def test_a_bare_plant_is_red_and_a_little_left_is_late(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN + "R4 host in violet leaf\nR4 stocked 9 L5 QUE-26-02/A\nR4 host seen little",
    )
    assert standing(due_of(desk, "food", "R4"), clock.now) == "late"  # type: ignore[arg-type]

    tell(desk, clock, "R4 host seen eaten none")

    assert standing(due_of(desk, "food", "R4"), clock.now) == "urgent"  # type: ignore[arg-type]


def test_larvae_that_hang_are_not_fed(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "R4 stocked 9 L5 QUE-26-02/A\nR4 looked hanging")

    assert due_of(desk, "food", "R4") is None
    assert due_of(desk, "still", "R4") is not None


def test_leaving_be_takes_cleaning_away_and_ends_by_itself(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN + "R4 host in violet leaf\nR4 stocked 9 L4 QUE-26-02/A\nR4 leave be +24h -- moulting",
    )
    assert due_of(desk, "clean", "R4") is None
    assert due_of(desk, "count", "R4") is None
    assert due_of(desk, "look", "R4") is not None

    clock.on(hours=25)

    assert due_of(desk, "clean", "R4") is not None


def test_one_look_at_a_shelf_moat_clears_all_on_it(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "B barrier full 22mm")
    clock.on(hours=25)
    due = due_of(desk, "ants", "B")
    assert due is not None
    assert standing(due, clock.now) == "due"

    tell(desk, clock, "B barrier full 20mm")

    assert standing(due_of(desk, "ants", "B"), clock.now) == "ahead"  # type: ignore[arg-type]
    assert due_of(desk, "ants", "L2") is None


def test_an_ant_above_the_water_turns_all_on_the_shelf_red_at_once(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "B barrier breached 1 above")

    for where in ("B", "L2", "R4"):
        due = due_of(desk, "ants", where)
        assert due is not None, where
        assert standing(due, clock.now) == "urgent"
        assert due.reason == "ants above the water"
    assert due_of(desk, "ants", "R7") is None


@pytest.mark.parametrize("barrier", ["none", "not applicable", "closed lid"])
def test_what_is_no_moat_asks_nothing(desk: Desk, clock: Clock, barrier: str) -> None:
    tell(
        desk,
        clock,
        f"T2 set up laying barrier='{barrier}'\nbrood QUE-26-02/A\nT2 stocked 1 adult female QUE-26-02/A",
    )

    assert [due for due in all_dues(desk.bench, desk.moment()) if due.check == "ants"] == []


def test_put_off_is_ahead_until_then(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 drank")
    clock.on(hours=15)
    tell(desk, clock, "put off container=L2 check=drink until=+2h why=asleep")
    assert standing(due_of(desk, "drink", "L2"), clock.now) == "ahead"  # type: ignore[arg-type]

    clock.on(hours=3)

    assert standing(due_of(desk, "drink", "L2"), clock.now) == "late"  # type: ignore[arg-type]


def test_resting_pupae_are_never_late_for_age(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        """
        taxon Boloria dia overwinters_as=pupa
        W2 set up overwintering
        brood QA-26-02/A taxon="Boloria dia"
        W2 stocked 8 pupae QA-26-02/A
        """,
    )
    for _ in range(12):
        clock.on(days=9)
        tell(desk, clock, "W2 looked\nW2 misted")
    late = [
        due
        for due in all_dues(desk.bench, desk.moment())
        if standing(due, clock.now) in ("late", "urgent")
    ]

    assert [due.check for due in late if due.where == "W2"] == []


def test_deadlines_shortfalls_lamps_and_papers_come_up(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN
        + """
        L2 release by +20h
        R4 stocked 5 L3 QUE-26-02/A
        R4 counted 4
        L2 light lamp on
        permit P-12 expires=2026-05-24
        food made sugar
        room air 34C
        E3 host in violet
        """,
    )
    start = clock.now

    release = due_of(desk, "release", "L2")
    assert release is not None
    assert (release.urgent, release.subject) == (release.danger, "QUE-26-02")
    assert hours_from(release, release.urgent)[:2] == (-12, -12)
    assert due_of(desk, "balance", "R4").reason == "1 larva of QUE-26-02/A not seen"  # type: ignore[union-attr]
    assert due_of(desk, "lamp", "L2") is not None
    assert due_of(desk, "permit", "").subject == "P-12"  # type: ignore[union-attr]
    assert due_of(desk, "solution", "").due > start  # type: ignore[union-attr]
    heat = due_of(desk, "heat", "")
    assert heat is not None
    assert standing(heat, clock.now) == "late"
    assert heat.reason == "read 34 C"
    clock.on(hours=2)
    tell(desk, clock, "room air 33.5C")
    assert standing(due_of(desk, "heat", ""), clock.now) == "urgent"  # type: ignore[arg-type]


def test_held_sprigs_are_looked_at_daily_and_may_go_at_once_where_no_female_stood_with_them(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf\nL2 host out held in E3")
    taken = clock.now - timedelta(minutes=1)

    assert hours_from(due_of(desk, "keep", "E3"), taken)[0] == 0
    late, urgent, danger = hours_from(due_of(desk, "frass", "E3"), taken)[1:]
    assert late is not None
    assert late > 84, "not before the first egg can have hatched"
    assert (urgent, danger) == (late + 24, late + 48)


def test_a_first_feed_waits_for_the_day_after_emergence(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "M2 set up emergence\nM2 stocked 3 pupae QUE-26-02/A")
    emerged = clock.now
    tell(desk, clock, "M2 emerged 1 female")

    assert hours_from(due_of(desk, "drink", "M2"), emerged)[0] == 24


def test_why_gives_rule_last_entry_arithmetic_and_source(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 drank")
    clock.on(hours=15)
    due = due_of(desk, "drink", "L2")
    assert due is not None

    told = why(due, desk.bench, desk.moment())

    assert told.rule == "drink every 12 h (plan: laying)"
    assert told.last == "it was last recorded 07:11: drank, KM"
    assert (
        told.arithmetic
        == "since 07:11, 15 h 01 min ago, due 19:11, late from 21:11, urgent from Thu 07:11, in danger from about Thu 14:11"
    )
    assert "Oregon Zoo" in told.source
    assert "our estimate" in told.source


def test_a_missed_round_is_told(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 changed pairing\nL2 looked")
    clock.on(hours=25)
    due = due_of(desk, "look", "L2")
    assert due is not None

    assert "1 round missed" in why(due, desk.bench, desk.moment()).arithmetic


def test_the_bench_is_gone_through_once_for_the_plants_of_its_species(
    desk: Desk, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in range(4):
        tell(desk, clock, f"R{number} set up rearing on sill\nM{number} set up rearing on sill")
        tell(desk, clock, f"R{number} 5 L3 Brenthis daphne on bramble")
        tell(desk, clock, f"R{number} 4 L3 Melitaea cinxia on plantain")
    gone_through: list[int] = []
    real = plants_of._on_record

    def noted(bench: Bench) -> dict[str, set[str]]:
        gone_through.append(1)
        return real(bench)

    monkeypatch.setattr(plants_of, "_on_record", noted)
    all_dues(desk.bench, desk.moment())

    assert len(gone_through) == 1
