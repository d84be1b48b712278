"""What is coming: dates that follow from published constants by hand, chances that fall, days until which sprigs stay."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from rounds.app.desk import Desk, Recorded, Refusal
from rounds.checks.due import all_dues
from rounds.checks.due_state import Due
from rounds.checks.question import AnswerContext
from rounds.checks.questions import question_for
from rounds.checks.round_summary import closing
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.outcomes import score
from tests.added_up import tallies_of
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock

DIVINUS = """
taxon Shijimiaeoides divinus
E2 set up eggs
E2 air 30C
L3 set up laying
L3 founder DIV-26-01 Shijimiaeoides divinus
"""


def due_of(desk: Desk, check: str, where: str) -> Due | None:
    """The check of that name and place."""
    return next(
        (
            due
            for due in all_dues(desk.bench, desk.moment())
            if (due.check, due.where) == (check, where)
        ),
        None,
    )


def ahead(desk: Desk) -> Forecasts:
    """What is coming on the bench as it stands."""
    return Forecasts(desk.bench, desk.zone)


def warm(desk: Desk, clock: Clock, place: str, degrees: float, days: int) -> None:
    """Read the same temperature morning and evening for some days."""
    for _ in range(2 * days):
        tell(desk, clock, f"{place} air {degrees:g}C")
        clock.on(hours=12)


def laid_at_once(desk: Desk, clock: Clock, eggs: int = 12) -> datetime:
    """A brood whose eggs were all laid within a minute, standing at 30 C; when."""
    tell(desk, clock, DIVINUS)
    at = clock.now
    desk_says = f"brood DIV-26-01/A mothers=DIV-26-01 laid_from={at:%Y-%m-%dT%H:%M} laid_to={at:%Y-%m-%dT%H:%M}"
    tell(desk, clock, f"{desk_says}\nE2 stocked {eggs} eggs DIV-26-01/A")
    return at


def test_a_hatch_at_a_steady_temperature_falls_where_the_papers_constants_put_it(
    desk: Desk, clock: Clock
) -> None:
    """Koda & Nakamura, Entomological Science, doi 10.1111/j.1479-8298.2009.00355.x: 9.6 C and 82.6 degree-days, 4.0 days at 30 C."""
    laid = laid_at_once(desk, clock)
    warm(desk, clock, "E2", 30, 2)

    (coming,) = ahead(desk).coming(desk.bench.containers["E2"])

    assert coming.half is not None
    assert coming.first is not None
    assert coming.last is not None
    days = (coming.half - laid) / timedelta(days=1)
    assert days == pytest.approx(82.6 / (30 - 9.6), abs=0.05)
    assert days == pytest.approx(4.0, rel=0.02)
    assert coming.first < coming.half < coming.last
    assert "own" in coming.need.words
    assert "NOT" not in coming.need.words


def test_eggs_of_which_nothing_is_known_get_an_assumed_window_told_as_assumed(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "E3 stocked 9 eggs QUE-26-02/A")

    coming = ahead(desk).coming(desk.bench.containers["E3"])[0]

    assert coming.need is not None
    assert coming.half is not None
    assert "a guess from 34 other species" in coming.need.words
    assert due_of(desk, "leaf", "E3") is not None
    tell(
        desk,
        clock,
        f"constants {desk.bench.taxon_of(coming.brood)} stage=egg lower=8 constant=70 source=own",
    )
    given = ahead(desk).coming(desk.bench.containers["E3"])[0]
    assert given.need is not None
    assert given.need.words.startswith("the keeper's constants (own)")
    assert (given.need.lower_c, given.need.constant_dd) == (8, 70)


def test_a_relatives_constants_never_pass_for_the_species_own(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, DIVINUS.replace("Shijimiaeoides divinus", "Shijimiaeoides lanty"))
    tell(
        desk,
        clock,
        "brood DIV-26-01/A mothers=DIV-26-01\nE2 stocked 3 eggs DIV-26-01/A\nE2 air 30C\nE2 air 30C",
    )

    (coming,) = ahead(desk).coming(desk.bench.containers["E2"])

    assert coming.need is not None
    assert coming.need.words.startswith("a guess from Shijimiaeoides divinus")


def test_a_finished_hatch_stands_beside_its_forecast_and_betters_the_next(
    desk: Desk, clock: Clock
) -> None:
    laid = laid_at_once(desk, clock)
    warm(desk, clock, "E2", 30, 4)
    tell(desk, clock, "E2 looked")
    warm(desk, clock, "E2", 30, 1)
    tell(desk, clock, "E2 hatched 12")

    (outcome,) = ahead(desk).outcomes()
    told = score([outcome])
    need = ahead(desk).need("Shijimiaeoides divinus", "egg")

    assert outcome.error_days == pytest.approx(
        (clock.now - laid) / timedelta(days=1) - 82.6 / 20.4, abs=0.1
    )
    assert told is not None
    assert told.animals == 12
    assert need is not None
    assert need.broods == 1
    assert 82.6 < need.constant_dd < 5.1 * 20.4


def test_an_instar_past_the_usual_last_is_foretold_as_the_last(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        DIVINUS + "constants Shijimiaeoides divinus stage=larva lower=8 constant=300 source=own",
    )
    tell(
        desk,
        clock,
        "brood DIV-26-01/A mothers=DIV-26-01\nR2 set up rearing\nR3 set up rearing\nR2 air 20C\nR3 air 20C",
    )
    tell(
        desk,
        clock,
        "R2 stocked 5 larvae DIV-26-01/A instar=5\nR3 stocked 5 larvae DIV-26-01/A instar=9",
    )
    clock.on(hours=1)

    usual, beyond = (ahead(desk).coming(desk.bench.containers[code]) for code in ("R2", "R3"))

    assert [one.change for one in beyond] == ["pupation"]
    assert beyond[0].half is not None
    assert beyond[0].half == pytest.approx(usual[0].half, abs=timedelta(minutes=5))
    assert all_dues(desk.bench, desk.moment())


def test_resting_stock_has_no_date(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, DIVINUS + "taxon Shijimiaeoides divinus overwinters_as=egg")
    tell(desk, clock, "brood DIV-26-01/A mothers=DIV-26-01\nE2 stocked 3 eggs DIV-26-01/A")

    assert ahead(desk).coming(desk.bench.containers["E2"]) == ()


def test_eggs_are_late_by_their_forecast(desk: Desk, clock: Clock) -> None:
    laid_at_once(desk, clock)
    warm(desk, clock, "E2", 30, 1)
    coming = ahead(desk).coming(desk.bench.containers["E2"])[0]
    due = due_of(desk, "hatch late", "E2")

    assert due is not None
    last = coming.last_of_all or coming.last
    assert last is not None
    assert due.late == coming.begun_to.astimezone(UTC) + 1.5 * (
        last - coming.begun_to.astimezone(UTC)
    )


def test_a_leaf_is_asked_for_at_the_round_before_the_first_may_hatch(
    desk: Desk, clock: Clock
) -> None:
    laid_at_once(desk, clock)
    warm(desk, clock, "E2", 30, 2)
    coming = ahead(desk).coming(desk.bench.containers["E2"])[0]
    due = due_of(desk, "leaf", "E2")

    assert due is not None
    assert coming.first is not None
    assert coming.not_before is not None
    assert coming.not_before < coming.first
    assert due.due == desk.moment().previous_anchor(coming.not_before)
    tell(desk, clock, "E2 host in sophora leaf")
    assert due_of(desk, "leaf", "E2") is None


HELD = "H2 set up eggs\nL3 host in sophora leaf"


def hold_sprigs(desk: Desk, clock: Clock, days: float = 2) -> None:
    """Sprigs that stood with her for some days, then held in H2."""
    tell(desk, clock, DIVINUS + HELD)
    clock.on(days=days)
    tell(desk, clock, "L3 host out sophora held in H2")
    for _ in range(2):
        tell(desk, clock, "H2 air 30C")


def test_each_search_and_each_warm_day_lowers_the_chance(desk: Desk, clock: Clock) -> None:
    hold_sprigs(desk, clock)
    cup = desk.bench.containers["H2"]

    def chance() -> float:
        return (
            ahead(desk)
            .chance(desk.bench.containers["H2"], desk.bench.containers["H2"].held[0], clock.now)
            .chance
        )

    assert cup.held[0].female_days == pytest.approx(2.0, abs=0.01)
    chances = [chance()]
    for said in ("H2 searched 0", "H2 searched 0 lens", "H2 searched 0 macro"):
        tell(desk, clock, said)
        chances.append(chance())
    warm(desk, clock, "H2", 30, 4)
    tell(desk, clock, "H2 frass none")
    chances.append(chance())
    clock.on(days=2)
    tell(desk, clock, "H2 frass none")
    chances.append(chance())

    assert chances == sorted(chances, reverse=True)
    assert len(set(chances)) == len(chances)
    # By hand: 7 in 10 lay there; two eggs a day, as half an egg counted leaves it: a gamma of shape 0.5, so a Poisson count about
    # it is none with the chance (1 + 2 x 2 female-days x 0.8 viable / 0.5)^-0.5.
    assert chances[0] == pytest.approx(0.7 * (1 - (1 + 2 * 2 * 0.8 / 0.5) ** -0.5), abs=0.01)
    assert chances[-1] < 0.05


def test_binning_before_the_day_asks_once_and_says_the_chance(desk: Desk, clock: Clock) -> None:
    hold_sprigs(desk, clock)

    with pytest.raises(
        AssertionError, match=r"may still bear eggs: 44 %, keep until .* add 'sure'"
    ):
        tell(desk, clock, "H2 host out sophora binned")
    assert desk.bench.containers["H2"].held
    tell(desk, clock, "H2 host out sophora binned sure")
    assert not desk.bench.containers["H2"].held


def test_only_sprigs_kept_long_enough_are_binned(desk: Desk, clock: Clock) -> None:
    hold_sprigs(desk, clock)
    warm(desk, clock, "H2", 30, 8)
    tell(desk, clock, "L3 host in sophora leaf batch=Z")
    for _ in range(3):
        clock.on(days=1)
        tell(desk, clock, "H2 frass none")
    tell(desk, clock, "L3 host out sophora held in H2")
    due = due_of(desk, "keep", "H2")
    assert due is not None
    assert due.due <= clock.now

    answer = next(one for one in question_for(desk.bench, due).answers if one.key == "b")
    outcome = desk.say_many(answer.says(AnswerContext(desk.bench, due, desk.now())))

    assert isinstance(outcome, Recorded), outcome
    assert [held.batch for held in desk.bench.containers["H2"].held] == ["Z"]


def test_droppings_turn_the_holding_into_hatchlings_of_the_right_mother(
    desk: Desk, clock: Clock
) -> None:
    hold_sprigs(desk, clock)
    tell(desk, clock, "H2 searched 0 lens\nH2 frass trace")
    due = due_of(desk, "turn", "H2")
    assert due is not None

    answer = next(one for one in question_for(desk.bench, due).answers if one.key == "y")
    outcome = desk.say_many(answer.says(AnswerContext(desk.bench, due, desk.now(), number=3)))

    assert isinstance(outcome, Recorded), outcome
    cup = desk.bench.containers["H2"]
    brood = desk.bench.broods["DIV-26-01/A"]
    assert (cup.purpose, cup.count("larva"), len(cup.held)) == ("hatchlings", 3, 1)
    assert due_of(desk, "turn", "H2") is None
    assert brood.mothers == ("DIV-26-01",)
    assert brood.laid_from is not None
    assert brood.laid_to is not None
    assert (brood.laid_to - brood.laid_from) / timedelta(days=1) == pytest.approx(2, abs=0.01)
    assert (
        desk.bench.laid["Shijimiaeoides divinus"]["sophora"].detected["lens"].missed == 3
    )  # by its one search
    assert desk.bench.passed[-1].evidence == "inferred"


def test_a_moat_is_low_when_its_own_readings_say(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "B topped up 20mm washed=yes")
    for depth in (18, 16, 14):
        clock.on(hours=12)
        tell(desk, clock, f"B barrier full {depth}mm")
    low = ahead(desk).moat(desk.bench.shelves["B"].moat, clock.now)
    due = due_of(desk, "ants", "B")

    assert low is not None
    assert low.loss.mm_a_day == pytest.approx(4.0, rel=0.01)
    assert low.low_at is not None
    assert (low.low_at - clock.now) / timedelta(hours=1) == pytest.approx(36, abs=0.5)
    assert due is not None
    assert "own readings" in due.reason


def test_a_closed_cup_in_the_sun_is_asked_for_before_the_sun_comes(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "setting latitude 48.86\nsetting longitude 2.35\nsetting sill 180")
    tell(desk, clock, "C3 set up rearing lid=closed\nC3 stocked 4 larvae QUE-26-02/A\nC3 light sun")
    due = due_of(desk, "heat", "C3")

    assert due is not None
    assert due.reason.startswith("sun on the sill ")
    assert due.due > clock.now
    tell(desk, clock, "C3 changed lid=gauze")
    assert due_of(desk, "heat", "C3") is None


def test_a_refusal_to_bin_leaves_nothing_said(desk: Desk, clock: Clock) -> None:
    hold_sprigs(desk, clock)
    before = desk.bench.entries
    from rounds.entries.registry import HostOut

    assert isinstance(desk.record(HostOut, container="H2", fate="binned"), Refusal)
    assert desk.bench.entries == before


def test_the_end_of_a_round_tells_hatches_by_forecast_and_fogging_cups(
    desk: Desk, clock: Clock
) -> None:
    laid_at_once(desk, clock)
    warm(desk, clock, "E2", 30, 3)
    clock.on(hours=11)
    tell(desk, clock, "E2 changed lid=closed\nroom air 24C 90%\nroom air low_c=15 high_c=25")
    words = [words for where, words in closing(desk.bench, desk.moment()).ahead if where == "E2"]

    assert any(
        "may hatch, first expected " in line and "no leaf is in yet" in line for line in words
    )
    assert any(
        line.startswith(
            "cups may fog tonight (dew point 22.3 C, the nights fall to 15 C): open or wipe E2"
        )
        for line in words
    )
    tell(desk, clock, "E2 host in sophora leaf")
    assert any("food is in" in line for _, line in closing(desk.bench, desk.moment()).ahead)


def test_sprigs_of_a_female_that_has_died_still_may_bear_her_eggs(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, DIVINUS + HELD)
    clock.on(days=2)
    tell(desk, clock, "L3 died 1")
    clock.on(days=1)
    tell(desk, clock, "L3 host out sophora held in H2")
    (held,) = desk.bench.containers["H2"].held

    assert held.mothers == ("DIV-26-01",)
    assert held.female_days == pytest.approx(2.0, abs=0.01)
    assert ahead(desk).chance(desk.bench.containers["H2"], held, clock.now).chance > 0.3


def test_females_moved_in_and_out_and_hours_in_the_dark_are_counted_as_the_laying_record_does(
    desk: Desk, clock: Clock
) -> None:
    tell(
        desk,
        clock,
        DIVINUS + HELD + "\nL4 set up holding\nL4 founder DIV-26-02 Shijimiaeoides divinus",
    )
    clock.on(days=1)
    tell(desk, clock, "L4 moved 1 to L3")
    clock.on(days=1)
    tell(desk, clock, "L3 light dark")
    clock.on(days=1)
    tell(desk, clock, "L3 light shade\nL3 moved 1 to L4 brood=DIV-26-02")
    clock.on(days=1)
    tell(
        desk, clock, "L3 host out sophora held in H2\nH2 searched 0"
    )  # effort ends at the search, of the time of these stems
    (held,) = desk.bench.containers["H2"].held
    (counted,) = tallies_of(desk.entries(whole=True)).on_hosts(clock.now)

    assert held.female_days == pytest.approx(1 + 2 + 1, abs=0.02)
    assert held.female_days == pytest.approx(counted.female_days, abs=1e-6)
    sought = [
        one.sought for one in desk.bench.laid["Shijimiaeoides divinus"]["sophora"].laid.values()
    ]
    assert sum(days for one in sought for days in one.values()) == pytest.approx(
        counted.female_days, abs=1e-6
    )


def test_hours_that_the_keeper_gave_go_before_a_forecast(desk: Desk, clock: Clock) -> None:
    hold_sprigs(desk, clock)
    taken_out = desk.bench.containers["H2"].held[0].taken_out
    by_forecast = due_of(desk, "keep", "H2")
    assert by_forecast is not None
    assert by_forecast.rule is not None
    assert by_forecast.rule.words == "by forecast"
    tell(desk, clock, "plan keep container=H2 every_h=72")
    due = due_of(desk, "keep", "H2")

    assert due is not None
    assert due.due == taken_out.astimezone(UTC) + timedelta(hours=72)
    assert due.rule is not None
    assert due.rule.words == "every 3 d"
