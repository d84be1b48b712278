"""Where a rule begins and ends: at the very instant, at the very number, in the very cup."""

from __future__ import annotations

from datetime import timedelta

from msgspec.structs import replace

from rounds.app.desk import Desk
from rounds.checks import round_summary
from rounds.checks.due_state import Due
from rounds.forecasts.tonight import NIGHTS_BACK, tonight
from rounds.surroundings.air import dew_point_c
from rounds.views.card import not_seen
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock

HOUR = timedelta(hours=1)


def test_a_low_counts_for_three_nights_and_fogs_from_the_dew_point_down(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, "room air low_c=15 high_c=25\nroom air 24C 90%")
    low, read = desk.bench.air[""]
    night = tonight(desk.bench, low.at + NIGHTS_BACK)
    assert night is not None
    assert (night.low_c, night.condensing) == (15, True)
    assert tonight(desk.bench, low.at + NIGHTS_BACK + timedelta(seconds=1)) is None
    dew = dew_point_c(temperature_c=24, humidity_percent=90)
    for low_c, condensing in ((dew, True), (dew + 0.001, False)):
        desk.bench.air[""] = [replace(low, low_c=low_c), read]
        found = tonight(desk.bench, read.at)
        assert found is not None
        assert found.condensing is condensing


def test_a_card_tells_what_is_not_seen_in_its_own_cup_alone(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "R4 stocked 3 L2 QUE-26-02/A\nR7 stocked 3 L2 QUE-26-02/A")
    tell(desk, clock, "R4 counted 1 larva\nR7 counted 2 larvae")
    told = {
        code: [str(line) for line in not_seen(desk.bench, cup, desk.moment())]
        for code, cup in desk.bench.containers.items()
    }
    assert {code: len(lines) for code, lines in told.items() if lines} == {"R4": 1, "R7": 1}
    assert "2 larvae" in told["R4"][0]
    assert "1 larva" in told["R7"][0]


def test_what_turns_late_before_the_next_round_is_told_if_it_matters(desk: Desk) -> None:
    moment = desk.moment()
    back = moment.now + 10 * HOUR
    slight, grave = (
        Due("R4", "container", name, moment.now, moment.now + hours * HOUR, severity=severity)
        for name, hours, severity in (("clean", 1, 1), ("food", 2, 2))
    )
    assert round_summary._sooner(moment, [slight, grave], back) == (grave.late, grave)
    assert round_summary._sooner(moment, [slight], back) is None
    assert round_summary._sooner(moment, [replace(grave, late=back)], back) is None
    assert round_summary._sooner(moment, [replace(grave, late=moment.now)], back) is None


def test_the_first_is_expected_up_to_its_very_instant(desk: Desk) -> None:
    moment = desk.moment()
    assert round_summary._first(moment.now, moment).startswith("first expected ")
    past = round_summary._first(moment.now - timedelta(seconds=1), moment)
    assert past.startswith("the first was expected ")
    assert str(moment.now.year) not in past
    last_year = moment.now.replace(year=moment.now.year - 1)
    assert str(last_year.year) in round_summary._first(last_year, moment)


def test_a_round_tells_what_was_typed_after_the_one_before_of_two_days_back(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "R4 stocked 3 L2 QUE-26-02/A\nR4 died 1")
    entry = list(desk.bench.containers["R4"].changes.values())[-1]

    def told(**when: object) -> bool:
        cup = desk.bench.containers["R4"]
        desk.bench.containers["R4"] = replace(cup, changes={entry.id: replace(entry, **when)})
        return bool(list(round_summary._changed_since(desk.bench, before)))

    before, back = entry.at, round_summary.TOLD_LATER
    assert not told(at=before, logged=before)
    assert told(at=before, logged=before + HOUR)
    assert told(at=before + HOUR, logged=before)
    assert not told(at=before - back, logged=before + HOUR)
