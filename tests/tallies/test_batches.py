"""What a cutting fed, and what was lost there since."""

from __future__ import annotations

from rounds.app.desk import Desk
from rounds.tallies.batch_losses import Cutting
from rounds.views.batches_page import batch_lines, batches_head
from tests.added_up import tallies_of
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock

STOCK = (
    BEGIN
    + """
R4 stocked 9 larvae QUE-26-02/A
R7 stocked 8 larvae QUE-26-02/A
R4 host in violet leaf batch=F source=hedge-by-the-lane
R7 host in violet leaf batch=F
E3 host in violet leaf batch=G
"""
)


def found(desk: Desk) -> dict[str, Cutting]:
    """Every cutting by its letter."""
    return {one.batch: one for one in tallies_of(desk.entries(whole=True)).cuttings}


def test_a_cutting_knows_every_container_that_got_it(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, STOCK)

    assert [fed.container for fed in found(desk)["F"].fed] == ["R4", "R7"]
    assert found(desk)["F"].source == "hedge-by-the-lane"
    assert found(desk)["F"].fed[0].stock == "9 larvae"


def test_several_deaths_within_a_day_are_pointed_out_without_saying_why(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, STOCK)
    clock.on(hours=5)
    tell(desk, clock, "R4 died 2\nR7 died 1")
    clock.on(days=3)
    tell(desk, clock, "R4 died 1")
    cutting = found(desk)["F"]

    assert (cutting.died_soon, cutting.several_soon) == (3, True)
    assert sum(fed.died_since for fed in cutting.fed) == 4
    assert not found(desk)["G"].several_soon
    told = " ".join(
        line.text
        for line in (*batches_head([cutting], desk.moment()), *batch_lines(cutting, desk.moment()))
    )
    assert "Several died within a day of: violet F." in told
    assert "not why they died" in told


def test_a_death_days_after_the_cutting_was_taken_out_is_not_laid_to_it(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, STOCK + "R4 host out violet binned sure")
    clock.on(days=3)
    tell(desk, clock, "R4 died 2")

    assert sum(fed.died_since for fed in found(desk)["F"].fed) == 0


def test_a_store_is_not_fed_and_eggs_do_not_eat(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        STOCK
        + "S4 set up host store\nS4 host in violet leaf batch=F\nE3 stocked 4 eggs QUE-26-02/A",
    )
    tell(desk, clock, "E3 died 2 eggs")

    assert [fed.container for fed in found(desk)["F"].fed] == ["R4", "R7"]
    assert found(desk)["G"].died_soon == 0


def test_one_death_after_two_meals_of_one_cutting_is_one(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "R4 stocked 6 L3 QUE-26-02/A\nR4 host in violet leaf batch=B")
    clock.on(hours=11)
    tell(desk, clock, "R4 host out violet binned sure\nR4 host in violet leaf batch=B")
    clock.on(hours=2)
    tell(desk, clock, "R4 died 1")
    (cutting,) = tallies_of(desk.entries(whole=True)).cuttings

    assert [(one.died_soon, one.died_since) for one in cutting.fed] == [(0, 0), (1, 1)]
    assert (cutting.died_soon, cutting.several_soon) == (1, False)
