"""Whatever was said, care can be reckoned: properties that hold for any bench."""

from __future__ import annotations

from datetime import UTC, timedelta
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from rounds.bench.state import Round
from rounds.checks.away import away
from rounds.checks.due import all_dues
from rounds.checks.due_state import standing, time_left
from rounds.checks.plan import plan_lines
from rounds.checks.registry import CHECKS, DEFAULT_PLAN
from rounds.checks.round_clock import Moment
from rounds.checks.round_summary import closing
from rounds.checks.supplies import supplies
from rounds.checks.walk import stops
from rounds.checks.why import why
from rounds.entries.base import Entry
from tests.bench.strategies import START, histories
from tests.care.test_moment import ANCHORS
from tests.plain_fold import fold

moments = st.builds(
    lambda minutes, zone: Moment(START + timedelta(minutes=minutes), ZoneInfo(zone), ANCHORS),
    st.integers(0, 60 * 24 * 40),
    st.sampled_from(["UTC", "Europe/Paris", "Australia/Lord_Howe", "America/St_Johns"]),
)


@settings(max_examples=60, deadline=None)
@given(histories(), moments)
def test_every_check_of_any_bench_is_whole(said: list[Entry], moment: Moment) -> None:
    bench = fold(said)
    dues = all_dues(bench, moment)

    names = [(due.place_kind, due.where, due.check, due.subject) for due in dues]
    assert len(names) == len(set(names))
    for due in dues:
        assert due.check in CHECKS
        instants = [
            at
            for at in (due.due, due.late, due.urgent, due.danger, due.since, due.put_off_until)
            if at
        ]
        assert all(at.tzinfo is UTC for at in instants), due
        if due.rule in DEFAULT_PLAN and due.late and due.urgent:
            assert due.late <= due.urgent <= (due.danger or due.urgent), due
        told = why(due, bench, moment)
        assert all(
            "\n" not in words for words in (told.rule, told.last, told.arithmetic, told.source)
        )
        left = time_left(due, moment.now)
        assert (left is None) == (due.danger is None)
        assert standing(due, moment.now) in ("ahead", "due", "late", "urgent")


@settings(max_examples=40, deadline=None)
@given(histories(), moments)
def test_any_walk_has_an_end(said: list[Entry], moment: Moment) -> None:
    bench = fold(said)
    begun = Round(id="r", name="morning", started=moment.now, by="KM", answered=moment.now)
    walk = bench.rounds[-1] if bench.rounds else begun
    found = stops(bench, moment, walk)

    places = [(stop.place_kind, stop.where) for stop in found]
    assert len(places) == len(set(places))
    for stop in found:
        assert not stop.answered & stop.skipped
        asked = [due.check for due in stop.checks]
        assert len(asked) == len(set(asked))
    told = closing(bench, moment)
    assert all("\n" not in words for _, words in (*told.passed_over, *told.ahead))


@settings(max_examples=40, deadline=None)
@given(histories(), moments, st.integers(1, 400))
def test_supplies_and_absence_of_any_bench(said: list[Entry], moment: Moment, hours: int) -> None:
    bench = fold(said)
    needs = supplies(bench, moment)
    assert all(need.number > 0 and need.arithmetic for need in (*needs.coming, *needs.tomorrow))
    leave = moment.now + timedelta(hours=3)
    found = away(bench, moment, leave, leave + timedelta(hours=hours))
    for one in found.breaks:
        harmed = one.danger or one.urgent
        assert harmed is not None
        assert harmed < found.back
    assert plan_lines(bench)
