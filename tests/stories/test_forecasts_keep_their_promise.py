"""Forecasts: the unfinished count, eggs always have a window, each day's eggs have their own, what has wintered has none."""

from __future__ import annotations

from datetime import datetime, timedelta

import rounds
from rounds.scripting.results import Forecast
from tests.stories.telling import ZONE, Story, tell


def _forecasts(story: Story, where: str) -> list[Forecast]:
    book = rounds.open_book(story.folder, keeper="KM", clock=story.clock, zone=ZONE)
    return [one for one in book.forecasts() if one.container == where]


def _days(story: Story, where: str, begun: datetime) -> float:
    (found,) = _forecasts(story, where)
    assert found.half is not None
    return (found.half - begun) / timedelta(days=1)


def _looks(story: Story, where: str, looks: int) -> None:
    for _ in range(looks):
        story.later(hours=12).type(f"{where} air 20C", f"{where} looked")


def test_the_first_of_ten_pupae_does_not_bring_the_others_forward(story: Story) -> None:
    """Each needs about 165 degree-days above 10 C, 16.5 days at 20 C; the first is out a day and a half before."""
    story.at("2027-06-01 08:00")
    tell(
        story,
        """
        constants 'Boloria inachus' stage=pupa lower=10 constant=165 source=own
        brood R7 taxon='Boloria inachus'
        R3 set up rearing
        R3 stocked 10 larvae R7 instar=5
        R3 air 20C
        R3 looked
        """,
    )
    _looks(story, "R3", 2)
    story.type("R3 pupated 10")
    begun = story.clock.now
    before = _days(story, "R3", begun)
    _looks(story, "R3", 30)
    story.type("R3 emerged 1")

    assert 16.0 < before < 17.0
    assert _days(story, "R3", begun) > 15.8


def test_eggs_of_a_species_of_which_nothing_is_known_get_a_window_told_as_assumed(
    story: Story,
) -> None:
    story.at("2027-06-01 08:00")
    tell(
        story,
        """
        L1 set up laying
        L1 founder W1 'Zerynthia nova'
        L1 host in aristolochia leaf
        room air 20C
        """,
    )
    story.later(hours=12).type("L1 searched 6", "E1 set up eggs", "L1 moved 6 eggs to E1")
    (found,) = _forecasts(story, "E1")

    assert "a guess from" in found.basis
    assert found.low is not None
    assert found.half is not None
    assert found.high is not None
    days = [
        (at - story.clock.now) / timedelta(days=1) for at in (found.low, found.half, found.high)
    ]
    assert 2.5 < days[0] < days[1] < 8 < days[2] < 20
    story.later(days=4)
    assert "leaf" in story.due("E1")  # in time for what is known of other species


def test_eggs_of_each_day_have_a_window_of_their_own_whatever_brood_they_join(story: Story) -> None:
    story.at("2027-06-01 18:00")
    tell(
        story,
        """
        constants 'Boloria inachus' stage=egg lower=10 constant=70 source=own
        L1 set up laying
        L1 founder W1 'Boloria inachus'
        L1 host in viola leaf
        room air 20C
        """,
    )
    halves = []
    for day in range(6):
        story.later(hours=24).type(
            "room air 20C", "L1 searched 5", f"E{day} set up eggs", f"L1 moved 5 eggs to E{day}"
        )
        (found,) = _forecasts(story, f"E{day}")
        assert found.half is not None
        halves.append((found.half - story.clock.now) / timedelta(days=1))

    assert all(
        abs(left - 6.5) < 0.3 for left in halves
    )  # 7 days at 20 C from the middle of the day before
    assert "leaf" not in {
        check for check, row in story.due("E5").items() if row["standing"] in ("late", "danger")
    }


def test_those_that_began_first_are_taken_to_have_ended_first(story: Story) -> None:
    """Five eggs of the first day and five of the fourth in one cup: once five hatched, those left are of the fourth."""
    story.at("2027-06-01 18:00")
    tell(
        story,
        """
        constants 'Boloria inachus' stage=egg lower=10 constant=70 source=own
        L1 set up laying
        L1 founder W1 'Boloria inachus'
        L1 host in viola leaf
        E1 set up eggs
        room air 20C
        """,
    )
    for days in (1, 3):
        story.later(days=days - 1).type("room air 20C", "L1 searched 0")
        story.later(days=1).type("room air 20C", "L1 searched 5", "L1 moved 5 eggs to E1")
    laid = story.clock.now - timedelta(hours=12)
    for _ in range(4):
        story.later(days=1).type("room air 20C", "E1 looked")
    story.type("E1 died 1 eggs", "E1 hatched 5")

    (hatch,) = (one for one in _forecasts(story, "E1") if one.change == "hatch")
    assert hatch.number == 4
    assert hatch.half is not None
    assert abs((hatch.half - laid) / timedelta(days=1) - 7) < 0.3


def test_the_window_is_wider_the_more_days_differ(story: Story) -> None:
    story.at("2027-06-01 08:00")
    tell(
        story,
        """
        constants 'Boloria inachus' stage=pupa lower=10 constant=165 source=own
        brood R7 taxon='Boloria inachus'
        R1 set up rearing
        R2 set up rearing
        R1 stocked 10 larvae R7 instar=5
        R2 stocked 10 larvae R7 instar=5
        """,
    )
    for day in range(8):
        story.type("R1 air 20C", f"R2 air {22 if day % 4 > 1 else 18}C")
        story.later(days=1)
    story.type("R1 pupated 10", "R2 pupated 10")
    (steady,), (changing,) = _forecasts(story, "R1"), _forecasts(story, "R2")
    spans = []
    for one in (steady, changing):
        assert one.low is not None
        assert one.high is not None
        spans.append((one.high - one.low) / timedelta(days=1))

    assert spans[0] + 1 < spans[1]


def test_what_has_wintered_gets_no_date_from_warmth_since_autumn(story: Story) -> None:
    story.at("2027-09-01 08:00")
    tell(
        story,
        """
        brood R7 taxon='Boloria inachus'
        R3 set up overwintering
        R3 stocked 6 pupae R7
        """,
    )
    story.at("2028-03-05 09:00").type("R3 changed purpose=emergence")
    (found,) = _forecasts(story, "R3")

    assert found.half is None
    assert "have wintered" in found.why_not


def test_a_species_that_winters_as_larva_still_has_a_summer(story: Story) -> None:
    story.at("2027-06-01 08:00")
    tell(
        story,
        """
        taxon 'Boloria inachus' overwinters_as=larva
        brood R7 taxon='Boloria inachus'
        R3 set up rearing
        R3 stocked 6 larvae R7 instar=2
        R3 air 20C
        """,
    )
    moult, pupation = _forecasts(story, "R3")

    assert moult.half is not None
    assert pupation.half is None
    assert "its larvae rest in winter" in pupation.why_not


def test_constants_of_the_last_instar_serve_pupation(story: Story) -> None:
    """50 degree-days above 10 C are five days at 20 C, whatever a relative's whole larval life takes."""
    story.at("2027-06-01 08:00")
    tell(
        story,
        """
        constants 'Boloria inachus' stage=L5 lower=10 constant=50 source=own
        brood R7 taxon='Boloria inachus'
        R3 set up rearing
        R3 stocked 6 larvae R7 instar=4
        R3 air 20C
        """,
    )
    story.later(hours=12).type("R3 air 20C", "R3 moulted 6 L5")

    assert 4.0 < _days(story, "R3", story.clock.now) < 5.5


def test_no_window_of_those_left_begins_before_the_look_that_saw_them(story: Story) -> None:
    """Ten eggs that are seen not to have hatched, day by day up to when most should have: nine in ten of them come after the look."""
    tell(story, "constants 'Nova incognita' egg lower=10 constant=60")
    tell(story, "room air 20C\nK1 set up laying\nK1 founder A-1, Nova incognita female")
    story.type("K1 host in plantain", "E1 set up eggs")
    story.later(hours=6).type("K1 searched 10", "K1 moved 10 eggs to E1")
    for _ in range(6):
        story.later(days=1).type("room air 20C", "E1 looked")
        (found,) = story.desk.foresight.coming(story.desk.bench.containers["E1"])
        assert found.low is not None
        assert found.high is not None
        assert story.clock.now <= found.low < found.high
