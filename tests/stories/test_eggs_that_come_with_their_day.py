"""Eggs that come in say when they were laid, in the forms a keeper writes it."""

from __future__ import annotations

from datetime import datetime

import pytest

from tests.stories.telling import ZONE, Story

EGG_CUPS = ("E2", "E3", "E4")


@pytest.fixture
def noon(story: Story) -> Story:
    return story.at("2027-06-01 12:00")


def laid(story: Story, cup: str = "L2") -> tuple[str, str]:
    """Between when the eggs of a cup were laid, as its only brood and its lot both say."""
    (lot,) = story.desk.bench.at(cup).lots
    brood = story.desk.bench.broods[lot.brood]
    assert brood.laid_from
    assert brood.laid_to
    assert (lot.begun_after, lot.latest) == (brood.laid_from, brood.laid_to)
    return tuple(f"{at.astimezone(ZONE):%d %b %H:%M}" for at in (brood.laid_from, brood.laid_to))


@pytest.mark.parametrize(
    ("said", "since", "until"),
    [
        ("laid 28 May", "28 May 00:00", "28 May 23:59"),
        (", laid 28 May", "28 May 00:00", "28 May 23:59"),
        ("laid on 28 May", "28 May 00:00", "28 May 23:59"),
        ("laid on the 28 May", "28 May 00:00", "28 May 23:59"),
        ("laid yesterday", "31 May 00:00", "31 May 23:59"),
        ("laid today", "01 Jun 00:00", "01 Jun 12:00"),
        ("laid 3 days ago", "29 May 00:00", "29 May 23:59"),
        ("laid Saturday", "29 May 00:00", "29 May 23:59"),
        ("laid 30 May 18:00", "30 May 18:00", "30 May 18:00"),
        ("laid 28-30 May", "28 May 00:00", "30 May 23:59"),
        ("laid 28 to 30 May", "28 May 00:00", "30 May 23:59"),
        ("laid between 28 and 30 May", "28 May 00:00", "30 May 23:59"),
        ("laid 28 May to 30 May", "28 May 00:00", "30 May 23:59"),
        ("laid since 28 May", "28 May 00:00", "01 Jun 12:00"),
        ("from Mill ditch laid 28 May", "28 May 00:00", "28 May 23:59"),
        ("laid 28 May from Mill ditch", "28 May 00:00", "28 May 23:59"),
    ],
)
def test_a_day_of_laying(noon: Story, said: str, since: str, until: str) -> None:
    noon.type(f"L2 20 eggs Papilio machaon {said}")
    assert laid(noon) == (since, until)
    assert noon.desk.bench.taxon_of(noon.desk.bench.at("L2").lots[0].brood) == "Papilio machaon"


def test_plant_and_time_of_the_line_stand_beside_it(noon: Story) -> None:
    noon.type("L2 20 eggs Papilio machaon laid 28 May on fennel yesterday 18:00")
    cup = noon.desk.bench.at("L2")
    assert laid(noon) == ("28 May 00:00", "28 May 23:59")
    assert [host.plant for host in cup.hosts] == ["fennel"]
    assert cup.since == datetime(2027, 5, 31, 18, 0, tzinfo=ZONE)


def test_larvae_tell_when_their_eggs_were_laid(noon: Story) -> None:
    noon.type("L2 3 larvae Papilio machaon laid 18 May")
    (brood,) = noon.desk.bench.broods.values()
    assert brood.laid_from
    assert f"{brood.laid_from.astimezone(ZONE):%d %b}" == "18 May"


def test_the_forecast_counts_from_that_day(noon: Story) -> None:
    """Whether the day is said with the eggs or of their brood before: one hatch, and one duration
    to learn from."""
    for day in ("27 May", "28 May", "29 May", "30 May", "31 May", "1 Jun"):
        noon.type(f"{day} 07:00 room 16/24")
    noon.type(
        "28 May 18:00 E2 8 eggs Pieris napi laid 27 May 20:00",
        "28 May 18:00 E3 set up eggs",
        "28 May 18:00 brood PN9 taxon='Pieris napi' laid_from='27 May 20:00' laid_to='27 May 20:00'",
        "28 May 18:00 E3 stocked 8 eggs PN9",
        "28 May 18:00 E4 8 eggs Pieris napi laid 27 May 08:00 to 27 May 20:00",
    )
    hatches = [noon.desk.foresight.coming(noon.desk.bench.containers[cup])[0] for cup in EGG_CUPS]
    begun = [
        tuple(f"{at.astimezone(ZONE):%d %H}" for at in (it.begun_from, it.begun_to))
        for it in hatches
    ]
    assert begun == [("27 20", "27 20"), ("27 20", "27 20"), ("27 08", "27 20")]
    assert hatches[0].half == hatches[1].half
    assert hatches[0].half
    assert hatches[2].half
    assert hatches[2].half < hatches[0].half
    noon.type("E2 hatched 8", "E3 hatched 8")
    said, of_brood = noon.desk.bench.passed[-2:]
    assert (said.begun_from, said.begun_to) == (of_brood.begun_from, of_brood.begun_to)


def test_of_two_kinds_each_has_its_day(noon: Story) -> None:
    noon.type("L2 20 eggs Papilio machaon laid 28 May, 6 eggs Pieris napi laid 30 May")
    days = [lot.begun_after for lot in noon.desk.bench.at("L2").lots]
    assert [f"{day.astimezone(ZONE):%d}" for day in days if day] == ["28", "30"]


def test_the_first_start_takes_it_too(noon: Story) -> None:
    typed = "My bench\n49.2N 0.4W Europe/Paris\n1\nL2 eggs\n20 eggs Papilio machaon laid 28 May\n\n"
    ran = noon.shell("begin", typed=typed)
    noon.reopen()
    assert noon.desk.bench.at("L2").count("egg") == 20, ran.out + ran.err
    assert laid(noon)[0] == "28 May 00:00"


def test_of_a_cup_that_stands_here_they_are_moved(noon: Story) -> None:
    noon.type("L2 1 female Pieris napi on cress")
    asked = noon.refused("E5 20 eggs Pieris laid on 28 May from L2")
    assert "L2 moved 20 eggs to new E5" in asked


def test_no_egg_is_laid_after_it_came(noon: Story) -> None:
    assert "before they come in" in noon.refused("L2 20 eggs Papilio machaon laid 30 to 28 May")


def test_on_the_day_they_came_they_were_laid_until_then(noon: Story) -> None:
    """The line is written down later, with its time."""
    noon.type("31 May 08:00 L2 20 eggs Papilio machaon laid 31 May")
    assert laid(noon) == ("31 May 00:00", "31 May 08:00")
    told = noon.refused("30 May 08:00 L3 20 eggs Papilio machaon laid 31 May")
    assert told == "eggs are laid before they come in, and on the earlier day first"
