"""Female-days that add themselves up, and what is said of them."""

from __future__ import annotations

from datetime import timedelta

import pytest

from rounds.app.desk import Desk
from rounds.tallies.female_days import NO_HOST, HostShare, OnHost
from rounds.views.laying_page import laying_lines, verdict
from tests.added_up import tallies_of
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import PARIS, Clock


def days_on(desk: Desk, clock: Clock) -> dict[str, float]:
    """Female-days by plant."""
    return {
        one.plant: round(one.female_days, 2)
        for one in tallies_of(desk.entries(whole=True)).on_hosts(clock.now)
    }


def test_only_time_together_alive_and_in_the_light_counts(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 founder QUE-26-03, Boloria dia female")
    clock.on(days=1)  # no host yet
    tell(desk, clock, "L2 host in violet leaf")
    clock.on(days=1)  # two females
    tell(desk, clock, "L2 light dark")
    clock.on(days=1)  # in the dark
    tell(desk, clock, "L2 light sun\nL2 died 1 brood=QUE-26-03")
    clock.on(days=1)  # one female
    tell(desk, clock, "L2 searched 0\nL2 host out violet binned sure")
    clock.on(days=1)  # no host

    assert days_on(desk, clock) == {"violet": 3.0}


def test_hosts_side_by_side_each_get_the_time_and_eggs_need_their_plant(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf\nL2 host in sorrel leaf")
    clock.on(days=2)
    tell(desk, clock, "L2 searched 5 plant=violet\nL2 searched 2 not known")
    record = {one.plant: one for one in tallies_of(desk.entries(whole=True)).on_hosts(clock.now)}

    times = {
        plant: sum(part.female_days + part.doubtful for part in one.parts)
        for plant, one in record.items()
    }
    assert times["violet"] == pytest.approx(times["sorrel"], abs=0.01)
    assert record["sorrel"].female_days == pytest.approx(0, abs=0.01)  # two eggs may be on it
    assert {plant: one.eggs for plant, one in record.items()} == {
        "violet": 5,
        "sorrel": 0,
        NO_HOST: 2,
    }


def test_holding_and_rearing_do_not_count_and_struck_lines_do_not_either(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf")
    desk.strike_last()
    clock.on(days=3)
    assert days_on(desk, clock) == {"violet": 0.0} or days_on(desk, clock) == {}
    tell(desk, clock, "L2 changed holding\nL2 host in violet leaf")
    clock.on(days=3)

    assert days_on(desk, clock) in ({}, {"violet": 0.0})


# The chances are twice the smaller tail of scipy's binomtest(k, n, share of the time): 0.00027, 0.7706, 0.0556; those of none
# seen are exp(-rate x female-days x share found), Poisson.
def host(plant: str, days: float, eggs: int, females: int = 1) -> OnHost:
    """A sum on a host."""
    by_code = {f"W-{number}": days / females for number in range(females)}
    part = HostShare("L2", days, eggs, 3, by_code=by_code)
    return OnHost("Boloria dia", plant, [part], share_found=0.5)


@pytest.mark.parametrize(
    ("hosts", "words"),
    [
        ([host("violet", 1.0, 0)], ["violet: too early to say, 1.0 female-days, searches find 50 % of the eggs."]),
        ([host("violet", 5.5, 0)], ["violet: none found in 5.5 female-days, searches find 50 % of the eggs: under 1.34 laid a day (two-sided 95 %).",
          "If they laid 1 a day on violet, the chance of having seen none by now is 6.4 %."]),
        ([host("violet", 7.5, 0), host("sorrel", 6.0, 11)],
         ["violet: none found in 7.5 female-days, searches find 50 % of the eggs: under 0.98 laid a day (two-sided 95 %).",
          "If they laid 1 a day on violet, the chance of having seen none by now is 2.4 %.",
          "sorrel against violet: p = 0.0003 (exact): these females laid more on sorrel; of so few (1 female and 1) that says little about the plants. A change is yours to decide, one at a time."]),
        ([host("violet", 7.5, 0, 3), host("sorrel", 6.0, 11, 3)],
         ["violet: none found in 7.5 female-days, searches find 50 % of the eggs: under 0.98 laid a day (two-sided 95 %).",
          "If they laid 1 a day on violet, the chance of having seen none by now is 2.4 %.",
          "sorrel against violet: p = 0.0003 (exact): on sorrel more was laid than chance gives, and than females differ (p = 0.034); a change is yours to decide, one at a time."]),
        ([host("violet", 6.0, 10, 3), host("sorrel", 6.0, 25, 3)],
         ["sorrel against violet: p = 0.0167 (exact): these females laid more on sorrel; but females differ as much by themselves (p = 0.2). A change is yours to decide, one at a time."]),
        ([host("violet", 5.0, 4), host("sorrel", 6.0, 7)],
         ["sorrel against violet: p = 0.7706 (exact); about 57 more female-days would settle a two-fold difference."]),
        ([host("violet", 5.0, 0), host("sorrel", 1.0, 2)],
         ["violet: none found in 5.0 female-days, searches find 50 % of the eggs: under 1.48 laid a day (two-sided 95 %).",
          "If they laid 1 a day on violet, the chance of having seen none by now is 8.2 %.",
          "sorrel: too early to say, 1.0 female-days, searches find 50 % of the eggs.",
          "sorrel against violet: too little to say; p = 0.0556 counts each egg alone."]),
    ],
)  # fmt: skip
def test_what_can_be_said_is_said_and_the_keeper_decides(
    hosts: list[OnHost], words: list[str]
) -> None:
    assert list(verdict(hosts)) == words


def test_the_page_fits_a_narrow_terminal_and_shows_the_sum(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf")
    clock.on(days=4)
    tell(desk, clock, "L2 searched 9")
    record = tallies_of(desk.entries(whole=True)).on_hosts(clock.now)
    lines = list(laying_lines(record, PARIS, clock.now))
    table = [line.text for line in lines if not line.hang]

    assert max(map(len, table)) <= 74
    assert any(
        "sum" in line.text
        and "L2, QUE-26-02 alone, 4.0" in line.text
        and "9 eggs in 1 search" in line.text
        for line in lines
    )
    *_, last = laying_lines([], PARIS, clock.now + timedelta(days=1))
    assert "No female has stood with a host" in last.text


def test_eggs_that_show_on_held_sprigs_count_where_the_sprigs_stood(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf batch=B")
    clock.on(days=2)
    tell(desk, clock, "L2 host out violet held in E3")
    left = clock.now.date()
    clock.on(days=1)
    tell(desk, clock, "E3 searched 3 lens brood=QUE-26-02/A\nE3 searched 0")
    clock.on(days=4)
    tell(
        desk,
        clock,
        "E3 frass plain\nE3 stocked 2 eggs QUE-26-02/A\nE3 hatched 5\nE3 stocked 4 pupae QUE-26-02/A",
    )
    (violet,) = tallies_of(desk.entries(whole=True)).on_hosts(clock.now)
    (days,) = tallies_of(desk.entries(whole=True), PARIS).days(clock.now).values()

    assert violet.female_days == pytest.approx(2.0, abs=0.01)
    (hers,) = desk.bench.laid["Boloria dia"]["violet"].laid.values()
    assert hers.eggs == 3  # by search; the two that hatched unseen were missed by it
    assert (violet.plant, violet.eggs, violet.searches) == ("violet", 5, 2)
    assert {day.day: day.eggs for day in days if day.eggs} == {left: 5}
