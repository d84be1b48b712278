"""Stages, durations, temperatures, hosts and lives of a small brood, told as a keeper would."""

from __future__ import annotations

import pytest
from lifelines import KaplanMeierFitter
from scipy.stats import binomtest, linregress

from rounds.app.desk import Desk
from rounds.tallies.broods import HostRecord, Lookback, brood_record, hosts_of
from rounds.tallies.development import development
from rounds.tallies.lifespans import curve_of, female_lives
from rounds.tallies.stages import causes, durations, so_far, stage_counts, survival_to_adult
from rounds.tallies.warmth import Series, day_of
from tests.added_up import tallies_of
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import PARIS, Clock

BROOD = "QUE-26-02/A"


def days(desk: Desk, clock: Clock, *stories: str, temperature: float = 24) -> None:
    """A story a day, with a reading of the room each morning and evening."""
    for story in stories:
        tell(desk, clock, f"air {temperature}C\n{story}")
        clock.on(hours=12)
        tell(desk, clock, f"air {temperature}C")
        clock.on(hours=12, minutes=-2 - len([text for text in story.splitlines() if text.strip()]))


@pytest.fixture
def reared(desk: Desk, clock: Clock) -> Lookback:
    """Twenty eggs of which eight come through; one is not seen, one escapes, one is still a pupa."""
    tell(desk, clock, BEGIN + "L2 host in violet leaf")
    clock.on(days=1, minutes=-8)
    days(
        desk,
        clock,
        "L2 searched 20\nL2 moved 20 eggs to E3",
        "",
        "",
        "E3 hatched 16\nE3 died 4 eggs collapsed\nE3 moved 16 larvae to R4\nR4 host in violet leaf",
        "",
        "R4 moulted 15 L2\nR4 died 1 L1 dry",
        "R4 host out violet binned sure\nR4 host in sorrel leaf\nR4 counted 14",
        "R4 moulted 13 L4\nR4 escaped 1 L2 others",
        "R4 pupated 12",
        "R4 died 2 pupae parasitised",
        "",
        "R4 emerged 8 female",
        "L2 released 1 female",
    )
    return tallies_of(desk.entries(whole=True), PARIS).look_back()


def test_every_stage_balances_and_its_share_has_exact_limits(reared: Lookback) -> None:
    counts = {one.stage: one for one in stage_counts(reared.course, [BROOD])}

    assert [
        (name, one.entered, one.passed, one.died, one.left, one.not_seen, one.here)
        for name, one in counts.items()
    ] == [
        ("egg", 20, 16, 4, 0, 0, 0),
        ("L1", 16, 15, 1, 0, 0, 0),
        ("L2", 15, 13, 0, 1, 1, 0),
        ("L4", 13, 12, 0, 0, 0, 1),
        ("pupa", 12, 8, 2, 0, 0, 2),
        ("adult", 8, 0, 0, 0, 0, 8),
    ]
    share = counts["egg"].came_through
    theirs = binomtest(16, 20).proportion_ci(method="exact")
    assert share is not None
    assert (share.value, share.low, share.high) == pytest.approx((0.8, theirs.low, theirs.high))
    assert counts["L2"].through == pytest.approx(16 / 20 * 15 / 16 * 1)
    assert counts["L4"].through is None, "one is in it still: what comes of it nobody knows"
    assert counts["pupa"].came_through is None
    assert counts["adult"].came_through is None


def test_a_stage_that_nobody_looked_at_still_counts_but_has_no_duration(reared: Lookback) -> None:
    found = {one.stage: one for one in durations(reared.course, [BROOD], reared.warmth)}

    assert "L2" not in found  # they were next seen as L4
    assert found["L1"].number == 15
    assert found["L1"].mean == pytest.approx(2.0, abs=0.01)
    assert found["L4"].mean == pytest.approx(1.0, abs=0.01)
    assert found["pupa"].mean == pytest.approx(3.0, abs=0.01)
    assert found["larva"].mean == pytest.approx(5.0, abs=0.01)
    assert found["egg"].mean == pytest.approx(
        3.5, abs=0.01
    )  # laid in the day before they were found
    assert found["egg to adult"].mean == pytest.approx(11.5, abs=0.02)
    assert found["egg"].temperature_c == pytest.approx(24.0, abs=0.01)


def test_the_curve_is_that_of_a_general_library(reared: Lookback, clock: Clock) -> None:
    ours = survival_to_adult(reared.course, [BROOD], clock.now)
    assert ours is not None
    ages = [3.5] * 4 + [5.5] + [9.5] * 2 + [5.4] + [7.5] + [12.5] * 1 + [12.5] * 2 + [12.5] * 8
    dead = [True] * 7 + [
        False
    ] * 13  # the one not seen is followed to when it was last seen to moult
    theirs = KaplanMeierFitter().fit(ages, dead)
    assert [round(step.time, 1) for step in ours.steps] == [3.5, 5.5, 9.5]
    for step in ours.steps:
        assert step.survival == pytest.approx(float(theirs.predict(round(step.time, 1))), abs=1e-9)


def test_causes_are_told_stage_by_stage(reared: Lookback) -> None:
    table = causes(reared.course, [BROOD])
    assert table is not None
    assert [(row.stage, row.entered, row.died) for row in table.rows] == [
        ("egg: collapsed", 20, 4),
        ("L1: dry", 16, 1),
    ]
    assert so_far(reared.course, [BROOD]) == ["pupa: parasitised 2; 2 still in it, no share yet"]


def test_what_each_plant_is_known_to_be(reared: Lookback, desk: Desk) -> None:
    back = tallies_of(desk.entries(whole=True), PARIS).look_back()
    assert set(hosts_of(back.evidence, [BROOD])) >= {
        HostRecord("violet", "laid on", 20, True),
        HostRecord(
            "violet", "fed on", 28, False
        ),  # 15 moults on it alone, 13 after sorrel was given
        HostRecord("sorrel", "fed on", 13, False),
        HostRecord("sorrel", "pupated", 12, True),  # the violet went out an instar ago
    }
    assert (
        brood_record(reared.course, BROOD).alive == 11
    )  # 20 less 7 dead, one escaped, one not seen


def test_captive_females_live_until_they_die_or_go_out_of_sight(
    reared: Lookback, clock: Clock
) -> None:
    lives = female_lives(reared.course, clock.now)

    assert [(one.code, one.wild, one.number, one.died, one.end) for one in lives] == [
        ("QUE-26-02", True, 1, False, "released"),
        (BROOD, False, 8, False, "alive"),
    ]
    curve = curve_of([one for one in lives if one.wild])
    assert curve is not None
    assert curve.deaths == 0
    assert curve_of([]) is None


def test_who_is_no_brood_is_a_key_error(reared: Lookback) -> None:
    with pytest.raises(KeyError):
        brood_record(reared.course, "QUE-26-09")


def test_own_broods_at_three_temperatures_give_the_line_of_a_general_library(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN)
    for place, (temperature, gone) in enumerate(((18.0, 8), (22.0, 6), (27.0, 4))):
        code = f"QUE-26-0{place + 3}/A"
        laid = clock.now.isoformat()
        tell(
            desk,
            clock,
            f"brood {code} taxon='Boloria dia' laid_from={laid} laid_to={laid}\nE3 stocked 10 eggs {code}",
        )
        clock.on(minutes=-2)
        days(desk, clock, *[""] * gone, temperature=temperature)
        tell(desk, clock, f"E3 hatched 10 brood={code}\nE3 moved 10 larvae to R4 brood={code}")
    back = tallies_of(desk.entries(whole=True), PARIS).look_back()
    found = back.course
    broods = [code for code in found.bench.broods if code != BROOD]
    (eggs,) = [
        one for one in development(found, broods, "Boloria dia", back.warmth) if one.stage == "egg"
    ]

    assert eggs.fit is not None
    line = linregress(
        [point.temperature_c for point in eggs.points], [1 / point.days for point in eggs.points]
    )
    assert eggs.fit.lower_c == pytest.approx(-line.intercept / line.slope)
    assert eggs.fit.constant_dd == pytest.approx(1 / line.slope)
    assert [round(point.temperature_c) for point in eggs.points] == [18, 22, 27]
    (one,) = [
        one
        for one in development(found, broods[:1], "Boloria dia", back.warmth)
        if one.stage == "egg"
    ]
    assert one.fit is None
    assert "a line needs two or more" in one.why_no_fit


def test_temperatures_follow_the_animals_from_container_to_shelf_and_room(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "R7 changed shelf=B\nE3 stocked 4 eggs QUE-26-02/A\nE3 hatched 4")
    for _ in range(4):
        tell(desk, clock, "E3 air 20C\nshelf B air 30C\nair 10C")
        clock.on(hours=12, minutes=-3)
    tell(desk, clock, "E3 moved 4 larvae to R7\nE3 air 20C\nshelf B air 30C")
    for _ in range(4):
        tell(desk, clock, "E3 air 20C\nshelf B air 30C")
        clock.on(hours=12, minutes=-2)
    tell(desk, clock, "shelf B air 30C\nR7 moulted 4 L2")
    back = tallies_of(desk.entries(whole=True), PARIS).look_back()
    found = back.course
    (first,) = [one for one in durations(found, [BROOD], back.warmth) if one.stage == "L1"]

    assert first.mean == pytest.approx(4.0, abs=0.05)
    assert first.temperature_c == pytest.approx(25.0, abs=0.2)  # two days at 20, two at 30


def test_no_temperature_is_told_where_nobody_read_one(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "E3 stocked 4 eggs QUE-26-02/A\nE3 hatched 4\nair 20C")
    clock.on(days=5)
    tell(desk, clock, "E3 moulted 4 L2")
    back = tallies_of(desk.entries(whole=True), PARIS).look_back()
    found = back.course
    (first,) = [one for one in durations(found, [BROOD], back.warmth) if one.stage == "L1"]

    assert first.temperature_c is None
    assert first.read == 0


def test_a_logger_goes_before_what_was_read_by_hand(desk: Desk, clock: Clock) -> None:
    begun = clock.now
    tell(desk, clock, BEGIN + "E3 stocked 4 eggs QUE-26-02/A\nE3 hatched 4")
    for _ in range(4):
        tell(desk, clock, "air 10C")
        clock.on(hours=12, minutes=-1)
    tell(desk, clock, "air 10C\nE3 moulted 4 L2 sure")
    start = day_of(begun)
    hourly = Series("E3", [start + hour / 24 for hour in range(60)], [28.0] * 60)
    back = tallies_of(desk.entries(whole=True), PARIS).look_back(
        lambda place: hourly if place == "E3" else Series(place)
    )
    (first,) = [one for one in durations(back.course, [BROOD], back.warmth) if one.stage == "L1"]

    assert first.temperature_c == pytest.approx(28.0)
