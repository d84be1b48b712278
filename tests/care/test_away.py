"""Going away: what to do before, what breaks first, and the helper's sheet."""

from __future__ import annotations

from datetime import timedelta

import pytest

from rounds.app.desk import Desk
from rounds.checks.away import Away, away
from rounds.checks.visits import VisitPlace
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock

STOCK = """
L2 host in violet leaf water
R4 host in violet leaf
R4 stocked 9 L5 QUE-26-02/A
R7 host in violet leaf
R7 stocked 9 L2 QUE-26-02/A
E3 stocked 20 eggs QUE-26-02/A
L2 drank
R4 host seen plenty
R7 host seen plenty
B barrier full 20mm
"""


def gone(desk: Desk, clock: Clock, hours: float, leave_in: float = 2) -> Away:
    """Going away for some hours, some hours from now."""
    leave = clock.now + timedelta(hours=leave_in)
    return away(desk.bench, desk.moment(), leave, leave + timedelta(hours=hours))


def line_of(found: Away, where: str) -> VisitPlace:
    """What the sheet asks at a place."""
    return next(place for place in found.visits.places if place.where == where)


def asked(place: VisitPlace) -> dict[str, tuple[int, ...]]:
    """The checks of a place with their visits."""
    return {task.check: task.at for task in place.tasks}


def test_what_endangers_an_animal_first_breaks_first(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + STOCK)
    found = gone(desk, clock, 72)
    harmed = [
        (one.where, one.check, (one.danger - found.leave) / timedelta(hours=1))
        for one in found.breaks
        if one.danger
    ]

    # Hours of the starter plan after leaving: a female 31, the last instar 36, young larvae 48.
    assert harmed == [("L2", "drink", 31), ("R4", "food", 36), ("R7", "food", 48)]
    assert found.breaks[1].reason == "if it is done on leaving, urgent 28 h later"


def test_a_short_absence_breaks_nothing(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + STOCK)

    assert gone(desk, clock, 8).breaks == ()


def test_a_limit_that_falls_into_the_absence_breaks_and_is_to_be_done_before(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + STOCK + "L2 release by +30h")
    found = gone(desk, clock, 72)
    release = next(one for one in found.breaks if one.check == "release")

    assert release.reason == "its time comes, whatever was done before"
    assert release.danger is not None
    assert "release" in [due.check for due in found.before]


def test_before_leaving_comes_all_that_falls_due_before_the_round_that_nobody_walks(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + STOCK + "L2 light lamp on")
    found = gone(desk, clock, 72)
    before = {(due.where, due.check) for due in found.before}

    assert ("L2", "lamp") in before
    assert ("L2", "drink") not in before  # due after 19:00, when the round of 18:00 has gone by
    later = gone(desk, clock, 72, leave_in=12)
    assert ("L2", "drink") in {(due.where, due.check) for due in later.before}


def test_the_sheet_goes_in_walking_order_without_codes_of_broods_and_the_keepers_own_work(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + STOCK)
    found = gone(desk, clock, 72).visits

    # Place by place: all that stands on B, then what stands on no shelf.
    assert [place.where or place.place_kind for place in found.places] == [
        "room",
        "B",
        "R4",
        "L2",
        "E3",
        "R7",
    ]
    female = line_of(gone(desk, clock, 72), "L2")
    assert female.animals == (("adult", 1),)
    assert "drink" in asked(female)
    assert "eggs" not in asked(female)  # a search is the keeper's


def test_visits_are_the_rounds_between_leaving_and_the_return(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + STOCK)
    found = gone(desk, clock, 72)

    assert len(found.visits.at) == 6
    assert all(found.leave < visit < found.back for visit in found.visits.at)
    assert gone(desk, clock, 3).visits.at == ()


def test_nothing_is_asked_of_what_is_not_to_be_disturbed_until_it_may_be(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + STOCK + "R4 leave be +48h -- moulting\nM2 set up emergence")
    found = gone(desk, clock, 72)
    closed = line_of(found, "R4")

    assert closed.closed_until is not None
    first = min(
        number for number, visit in enumerate(found.visits.at) if visit >= closed.closed_until
    )
    assert first > 0
    from_outside = {"look", "food beside"}
    assert from_outside <= asked(closed).keys()
    assert (
        min(
            number
            for check, at in asked(closed).items()
            if check not in from_outside
            for number in at
        )
        == first
    )
    assert line_of(found, "R7").closed_until is None
    assert "M2" not in [place.where for place in found.visits.places]  # empty, nothing to do


def test_suspects_come_last_on_the_sheet(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + STOCK + "R4 suspect limp")
    last = gone(desk, clock, 72).visits.places[-1]

    assert (last.where, last.group) == ("R4", "suspects")


@pytest.mark.parametrize(
    ("leave_in", "hours", "line"),
    [
        (-1, 5, "leaving is in the past; it must be from now on"),
        (2, 0, "the return is not after the leaving; it must be later"),
        (2, -3, "the return is not after the leaving; it must be later"),
    ],
)
def test_times_that_make_no_absence_are_refused(
    desk: Desk, clock: Clock, leave_in: float, hours: float, line: str
) -> None:
    with pytest.raises(ValueError, match="must be") as refused:
        gone(desk, clock, hours, leave_in)

    assert str(refused.value) == line


SAID_BY_THE_SHEET = {"room", "ants", "pot"}  # limits, depths and plants are put in there
# Only the keeper decides or judges these; a helper is not asked to.
KEEPERS = {
    "release", "permit", "keep", "hatch late", "emerge late", "change", "balance", "quarantine", "count", "eggs",
    "solution", "lamp", "heat", "wings", "still", "weigh",
}  # fmt: skip


def test_every_check_has_words_for_a_helper_or_is_the_keepers() -> None:
    from rounds.checks.registry import CHECKS, HELPED

    assert {name for name, check in CHECKS.items() if not check.helped} == KEEPERS
    assert {name for name, task in HELPED.items() if not task.words} == SAID_BY_THE_SHEET
