"""What is easily reckoned wrong: several broods in one cup, walks before their hour, stock that came in half-way, long absences."""

from __future__ import annotations

from datetime import UTC, timedelta

import pytest

from rounds.app.desk import Desk, Recorded, Refusal
from rounds.app.round import Walking
from rounds.biology.degree_days import Thresholds
from rounds.checks.away import away
from rounds.checks.question import AnswerContext
from rounds.checks.questions import question_for
from rounds.checks.round_summary import closing
from rounds.entries.registry import HostOut
from rounds.exchange.loggers.intake import new_readings, take_in
from rounds.exchange.loggers.reading import read_log
from rounds.forecasts.kept_stems import Chance
from rounds.tallies.detection import shares_found
from rounds.tallies.warmth import day_of
from tests.added_up import tallies_of
from tests.bench.test_stories import BEGIN, tell
from tests.care.test_ahead import DIVINUS, HELD, ahead, due_of, hold_sprigs, laid_at_once, warm
from tests.conftest import Clock


def test_pupae_are_late_by_their_emergence_not_by_the_pupation_of_their_brothers(
    desk: Desk, clock: Clock
) -> None:
    tell(
        desk,
        clock,
        BEGIN
        + "constants Boloria dia stage=larva lower=8 constant=300\nconstants Boloria dia stage=pupa lower=8 constant=100",
    )
    tell(desk, clock, "R4 air 20C\nR4 stocked 6 L5 QUE-26-02/A\nR4 air 20C\nR4 pupated 2")
    due = due_of(desk, "emerge late", "R4")
    (coming,) = (
        one for one in ahead(desk).coming(desk.bench.containers["R4"]) if one.change == "emergence"
    )

    assert due is not None
    assert coming.last is not None
    assert due.reason.startswith("emergence of the last expected")
    assert due.late == coming.begun_to.astimezone(UTC) + 1.5 * (
        coming.last - coming.begun_to.astimezone(UTC)
    )


def test_a_round_walked_before_its_hour_still_tells_of_the_whole_night(
    desk: Desk, clock: Clock
) -> None:
    """Half of them at 82.6 degree-days above 9.6 C (Koda & Nakamura, as in test_ahead): four days after, at 30 C."""
    laid_at_once(desk, clock)
    warm(desk, clock, "E2", 30, 3)
    first = ahead(desk).coming(desk.bench.containers["E2"])[0].first
    assert first is not None
    evening = desk.moment().previous_anchor(first)
    assert first - evening > timedelta(minutes=15)
    clock.now = (evening - timedelta(hours=1)).astimezone(clock.now.tzinfo)

    assert any(
        "may hatch" in words
        for where, words in closing(desk.bench, desk.moment()).ahead
        if where == "E2"
    )


def test_a_reading_of_humidity_alone_does_not_call_off_the_heat(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "R4 stocked 3 larvae QUE-26-02/A\nR4 air 36C")
    assert due_of(desk, "heat", "R4") is not None
    tell(desk, clock, "R4 air 60%")

    assert due_of(desk, "heat", "R4") is not None
    tell(desk, clock, "R4 air 25C")
    assert due_of(desk, "heat", "R4") is None


def test_eggs_found_among_two_lots_of_sprigs_teach_nothing_of_either(
    desk: Desk, clock: Clock
) -> None:
    hold_sprigs(desk, clock)
    tell(desk, clock, "L3 host in lathyrus leaf")
    clock.on(days=1)
    tell(
        desk,
        clock,
        "L3 host out lathyrus held in H2\nbrood DIV-26-01/A mothers=DIV-26-01\nH2 searched 2 lot=all brood=DIV-26-01/A",
    )
    known = desk.bench.laid["Shijimiaeoides divinus"]
    assert not any(plant.detected for plant in known.values())

    tell(desk, clock, "H2 searched 1 brood=DIV-26-01/A plant=sophora")
    known = desk.bench.laid["Shijimiaeoides divinus"]
    # how many of the two before were on these nobody knows
    assert not any(plant.detected or plant.searched for plant in known.values())

    clock.on(hours=1)
    tell(desk, clock, "H2 searched 1 brood=DIV-26-01/A plant=sophora")
    known = desk.bench.laid["Shijimiaeoides divinus"]
    seen = known["sophora"].detected["naked eye"]
    assert (seen.found, seen.missed, seen.eggs) == (2, 1, 2)
    assert known["sophora"].searched == {"ee2": 1}
    assert not known["lathyrus"].detected
    assert [len(held.searches) for held in desk.bench.containers["H2"].held] == [3, 1]


def test_frass_says_not_that_a_single_egg_was_missed(desk: Desk, clock: Clock) -> None:
    hold_sprigs(desk, clock)

    def finds() -> float:
        return shares_found(desk.bench, "Shijimiaeoides divinus", "sophora")["naked eye"].share

    tell(desk, clock, "brood DIV-26-01/A mothers=DIV-26-01\nH2 searched 4 brood=DIV-26-01/A")
    usual = finds()
    clock.on(days=1)
    tell(desk, clock, "H2 frass trace")
    some = finds()
    tell(desk, clock, "H2 stocked 1 egg DIV-26-01/A")

    assert some < usual < finds()


def test_hatchlings_of_sprigs_of_two_females_have_both_as_possible_mothers(
    desk: Desk, clock: Clock
) -> None:
    tell(
        desk,
        clock,
        DIVINUS
        + HELD
        + "\nL4 set up laying\nL4 founder DIV-26-02 Shijimiaeoides divinus\nL4 host in sophora leaf batch=Q",
    )
    clock.on(days=1)
    tell(desk, clock, "L3 host out held in H2\nL4 host out held in H2\nH2 frass trace")
    due = due_of(desk, "turn", "H2")
    assert due is not None

    answer = next(one for one in question_for(desk.bench, due).answers if one.key == "y")
    assert isinstance(
        desk.say_many(answer.says(AnswerContext(desk.bench, due, desk.now(), number=2))), Recorded
    )

    (brood,) = desk.bench.broods.values()
    assert brood.mothers == ("DIV-26-01", "DIV-26-02")
    assert brood.taxon == "Shijimiaeoides divinus"


def test_where_nobody_looked_the_day_moves_on_and_nothing_may_go(desk: Desk, clock: Clock) -> None:
    hold_sprigs(desk, clock)
    warm(desk, clock, "H2", 30, 12)

    def chance() -> Chance:
        return ahead(desk).chance(
            desk.bench.containers["H2"], desk.bench.containers["H2"].held[0], clock.now
        )

    before = chance()
    assert before.keep_until is not None
    assert before.keep_until > clock.now
    clock.on(days=3)
    after = chance()
    assert after.keep_until is not None
    assert after.keep_until > before.keep_until
    assert not after.may_go

    refused = desk.record(HostOut, container="H2", fate="binned")

    assert isinstance(refused, Refusal)
    assert "nobody looked for frass" in refused.line
    tell(desk, clock, "H2 frass none")
    assert isinstance(
        desk.record(HostOut, container="H2", fate="binned"), Refusal
    )  # one look shows nine in ten
    for _ in range(2):
        clock.on(days=1)
        tell(desk, clock, "H2 frass none")
    tell(desk, clock, "H2 host out sophora binned")


def test_a_leaf_for_a_hatch_while_away_is_to_be_put_in_before_leaving(
    desk: Desk, clock: Clock
) -> None:
    laid_at_once(desk, clock)
    leave = clock.now + timedelta(hours=1)
    found = away(desk.bench, desk.moment(), leave, leave + timedelta(days=6))

    assert ("leaf", "E2") in [(due.check, due.where) for due in found.before]


def test_a_moat_breaks_while_away_when_its_own_loss_dries_it(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 drank\nB topped up 20mm washed=yes")
    for depth in (14, 8):
        clock.on(hours=12)
        tell(desk, clock, f"B barrier full {depth}mm")
    leave = clock.now + timedelta(hours=1)
    found = away(desk.bench, desk.moment(), leave, leave + timedelta(days=5))
    moat = next(one for one in found.breaks if one.check == "ants")

    # 12 mm in a day: from 20 mm to the 2 mm at which an ant wades likeliest in a day and a half, an
    # hour more for what is usual; nobody is there to look, so that it is told from its first limit on
    assert moat.urgent is not None
    hours = (moat.urgent - leave.astimezone(UTC)) / timedelta(hours=1)
    assert 12 < hours < 36
    assert moat.reason.startswith("filled to 20 mm on leaving, 11.7 mm a day from ")
    assert f", {hours:.3g} h at the earliest" in moat.reason


def test_a_washed_cup_does_not_go_on_feeding_its_old_cutting(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN
        + "R7 host in violet leaf batch=B\nR7 stocked 2 L3 QUE-26-02/A\nR7 moved 2 to R4\nR7 closed",
    )
    tell(
        desk,
        clock,
        "R7 set up rearing\nR7 host in violet leaf batch=D\nR7 stocked 3 L3 QUE-26-02/A\nR7 died 2",
    )
    fed = {one.batch: one.fed[0] for one in tallies_of(desk.entries(whole=True)).cuttings}

    assert (fed["D"].died_soon, fed["D"].died_since) == (2, 2)
    assert (fed["B"].died_soon, fed["B"].died_since) == (0, 0)


def a_cold_logger(desk: Desk, clock: Clock, place: str, days: float) -> None:
    """A logger in a cup that reads 11 C every hour for the last days."""
    begun = clock.now - timedelta(days=days)
    times = [begun + timedelta(hours=hour) for hour in range(int(days * 24) + 1)]
    lines = "\n".join(f"{at.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ},11.0,50" for at in times)
    log = read_log(
        f"Time,Temp (C),RH\n{lines}\n".encode(),
        zone=UTC,
        zone_name="UTC",
        zone_said=False,
        now=clock.now.timestamp(),
    )
    assert isinstance(
        take_in(
            desk,
            new_readings(log, desk.reading.logged.readings([])),
            source="log.csv",
            container=place,
        ),
        Recorded,
    )


def test_a_walk_its_end_and_binning_go_by_a_loggers_readings_as_the_bench_does(
    desk: Desk, clock: Clock
) -> None:
    """82.6 degree-days above 9.6 C (as in test_ahead) are four days at the room's 30 C, two months at the logger's 11 C."""
    laid_at_once(desk, clock)
    tell(desk, clock, "E3 set up eggs\nE2 moved 12 to E3")
    warm(desk, clock, "room", 30, 3)
    tell(desk, clock, "E3 looked")
    a_cold_logger(desk, clock, "E3", 3)
    clock.on(hours=4)
    first = desk.foresight.coming(desk.bench.containers["E3"])[0].first
    assert first is not None
    assert first > clock.now + timedelta(days=14)

    desk.start_round()
    walking = Walking(desk)
    assert walking.see() is not None
    asked = [(stop.where, due.check) for stop in walking.stops for due in stop.checks]
    assert ("E3", "air") in asked
    assert ("E3", "leaf") not in asked
    assert not any(
        "may hatch" in words
        for _, words in closing(desk.bench, desk.moment(), desk.foresight).ahead
    )


def test_eggs_that_moved_to_the_cool_had_the_warmth_of_where_they_stood(
    desk: Desk, clock: Clock
) -> None:
    """82.6 degree-days above 9.6 C (as in test_ahead): two days at 30 C give 40.8, the other 41.8 take 4.02 days at 20 C."""
    laid = laid_at_once(desk, clock)
    tell(desk, clock, "E3 set up eggs\nE3 air 20C")
    warm(desk, clock, "E2", 30, 2)
    moved = clock.now
    tell(desk, clock, "E2 moved 12 to E3\nE3 air 20C")
    warm(desk, clock, "E3", 20, 1)
    (coming,) = ahead(desk).coming(desk.bench.containers["E3"])
    warmed = (moved - laid) / timedelta(days=1) * 20.4

    assert coming.half is not None
    assert (coming.half - moved) / timedelta(days=1) == pytest.approx(
        (82.6 - warmed) / 10.4, abs=0.12
    )
    assert coming.moved


def test_a_shelf_left_behind_keeps_its_warmth_too(desk: Desk, clock: Clock) -> None:
    laid = laid_at_once(desk, clock)
    tell(
        desk,
        clock,
        "shelf set up W none\nshelf set up C none\nE3 set up eggs shelf=W\nE2 moved 12 to E3",
    )
    for shelf, degrees in (("W", 30.0), ("C", 15.0)):
        warm(desk, clock, shelf, degrees, 1)
        if shelf == "W":
            tell(desk, clock, "E3 changed shelf=C")
    (lot,) = desk.bench.containers["E3"].lots
    trace = ahead(desk).along("E3", "", lot.stays, Thresholds(9.6))

    # A day and some minutes on the warm shelf, then a day on the cool one; both read twice a day.
    told = trace.heat_at(day_of(clock.now)) - trace.heat_at(day_of(laid))
    assert told == pytest.approx(20.4 + 5.4, abs=0.5)


PUPAE = "constants Boloria dia stage=pupa lower=8 constant=120 source=own\nR4 air 20C\nR4 stocked 6 pupae QUE-26-02/A"


def test_stock_that_came_in_begun_may_change_any_time_and_teaches_nothing(
    desk: Desk, clock: Clock
) -> None:
    """120 degree-days above 8 C are ten days at 20 C: pupae that came in begun have between none and ten of them left,
    with a day and a half gone by without one. Half are there 5.61 days after they came, by four million plain draws
    of the constant, a quarter off either way, and of an age."""
    tell(desk, clock, BEGIN + PUPAE)
    came = desk.bench.containers["R4"].lots[0].since
    warm(desk, clock, "R4", 20, 1)
    clock.on(hours=12)
    tell(desk, clock, "R4 looked as usual\nR4 air 20C")  # a day and a half after, none is there
    clock.on(hours=12)
    (coming,) = ahead(desk).coming(desk.bench.containers["R4"])

    assert came is not None
    assert coming.half is not None
    assert not coming.begun_known
    assert (coming.half - came) / timedelta(days=1) == pytest.approx(5.61, abs=0.2)
    assert coming.first is not None
    assert came <= coming.first < coming.half
    tell(desk, clock, "R4 emerged 6")
    need = ahead(desk).need("Boloria dia", "pupa")
    assert need is not None
    assert (need.broods, need.constant_dd) == (0, 120)
    assert ahead(desk).outcomes() == []


def test_larvae_that_came_in_half_grown_or_skipped_a_moult_teach_nothing_of_the_time_they_took(
    desk: Desk, clock: Clock
) -> None:
    constants = "\n".join(
        f"constants Boloria dia stage={stage} lower=8 constant=200" for stage in ("larva", "L2")
    )
    tell(
        desk,
        clock,
        BEGIN
        + constants
        + "\nE3 stocked 4 eggs QUE-26-02/A\nR4 stocked 3 L5 QUE-26-02/A\nR4 air 20C",
    )
    warm(desk, clock, "R4", 20, 2)
    tell(desk, clock, "R4 pupated 3\nE3 hatched 4\nE3 air 20C")
    warm(desk, clock, "E3", 20, 4)
    tell(desk, clock, "E3 moulted 4 L3 sure")

    for stage in ("larva", "L2"):
        need = ahead(desk).need("Boloria dia", stage)
        assert need is not None
        assert need.broods == 0
        assert need.constant_dd == pytest.approx(
            200, rel=0.001
        )  # those that are there have begun it


def test_eggs_put_in_days_after_they_were_laid_are_as_old_as_their_brood_says(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, DIVINUS)
    at = f"{clock.now:%Y-%m-%dT%H:%M}"
    laid = clock.now
    tell(desk, clock, f"brood DIV-26-01/A mothers=DIV-26-01 laid_from={at} laid_to={at}")
    warm(desk, clock, "E2", 30, 2)
    tell(desk, clock, "E2 stocked 9 eggs DIV-26-01/A")
    (coming,) = ahead(desk).coming(desk.bench.containers["E2"])

    assert coming.half is not None
    assert coming.begun_known
    assert (coming.half - laid) / timedelta(days=1) == pytest.approx(82.6 / 20.4, abs=0.1)
