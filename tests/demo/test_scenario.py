"""The demo's story: always live, always balanced, the same for the same moment."""

from __future__ import annotations

from collections import Counter
from datetime import datetime, timedelta
from typing import get_args
from zoneinfo import ZoneInfo

import msgspec
import pytest

from demo.scenario import scenario
from rounds.app.bench_clock import round_anchors
from rounds.bench.incremental_fold import History
from rounds.bench.permits import to_be_freed
from rounds.checks.due import all_dues
from rounds.checks.due_state import standing
from rounds.checks.round_clock import Moment
from rounds.entries import registry as k
from rounds.entries.base import Purpose
from rounds.entries.validation import refusal
from tests.conftest import MORNING, PARIS
from tests.plain_fold import fold

TOKYO = ZoneInfo("Asia/Tokyo")


def test_the_same_moment_gives_the_same_story() -> None:
    assert scenario(MORNING, PARIS) == scenario(MORNING, PARIS)


# Every hour in one of two zones; in the other it is told at length.
HOURS = [
    pytest.param(hour, zone, marks=[pytest.mark.long] if (hour + turn) % 2 else [])
    for hour in range(24)
    for turn, zone in enumerate((PARIS, TOKYO))
]


@pytest.mark.parametrize(("hour", "zone"), HOURS)
def test_at_any_hour_it_is_live_balanced_and_never_ahead(hour: int, zone: ZoneInfo) -> None:
    now = datetime(2026, 11, 25, hour, 40, tzinfo=zone)
    entries = scenario(now, zone)
    bench = fold(entries)

    assert bench.oddities == []
    assert max(entry.at for entry in entries) <= now
    assert max(entry.logged for entry in entries) <= now + timedelta(hours=3)
    assert bench.open_round is None
    states = Counter(
        standing(due, now) for due in all_dues(bench, Moment(now, zone, round_anchors(bench)))
    )
    assert states["due"] >= 9
    assert 1 <= states["late"] + states["urgent"] <= 14


def test_it_stands_on_about_two_dozen_containers_over_every_purpose() -> None:
    bench = fold(scenario(MORNING, PARIS))

    assert {container.purpose for container in bench.standing()} == set(get_args(Purpose))
    assert 20 <= sum(1 for _ in bench.standing()) <= 28
    assert any(container.inside for container in bench.standing())


def test_everything_of_the_story_is_there() -> None:
    entries = scenario(MORNING, PARIS)
    bench = fold(entries)

    assert {entry.by for entry in entries} == {"HY", "MT"}
    assert sum(entry.logged - entry.at > timedelta(hours=1) for entry in entries) >= 2
    assert sum(isinstance(entry, k.CrossedOut) for entry in entries) == 1
    starts = [entry.at for entry in entries if isinstance(entry, k.RoundStarted)]
    assert max(
        later - earlier for earlier, later in zip(starts, starts[1:], strict=False)
    ) > timedelta(hours=22)
    assert bench.shelves["window"].moat.state == "low"
    assert len(bench.shelves["window"].moat.depths) >= 5
    assert any(host.state == "limp" for container in bench.standing() for host in container.hosts)
    assert [(one.container, one.number) for one in bench.shortfalls] == [("R3", 1)]
    assert bench.containers["E7"].sign == "darkening"
    assert bench.containers["R7"].leave_be_until is not None
    assert bench.containers["R5"].suspect_since is not None
    assert bench.containers["E2"].held
    assert to_be_freed(bench)
    assert bench.permits
    assert {taxon.protected for taxon in bench.taxa.values()} == {True, False}
    assert any(taxon.stinging for taxon in bench.taxa.values())
    assert [change.off for change in bench.plan] == [True, True]
    on_held = [
        entry for entry in entries if isinstance(entry, k.Stocked) and "held" in entry.origin
    ]
    assert on_held
    tried = {
        host.plant
        for entry in entries
        if isinstance(entry, k.HostIn) and entry.container == "K2"
        for host in [entry]
    }
    assert tried == {"ruellia", "strobilanthes"}


def test_three_broods_stand_in_different_stages() -> None:
    bench = fold(scenario(MORNING, PARIS))
    stages: dict[str, set[str]] = {}
    for container in bench.standing():
        for lot in container.lots:
            stages.setdefault(lot.brood, set()).add(lot.stage)

    assert {"egg"} in stages.values() or any("egg" in found for found in stages.values())
    assert any("larva" in found for found in stages.values())
    assert any("pupa" in found for found in stages.values())
    assert len([brood for brood in stages if "/" in brood]) >= 3


def test_every_line_would_have_been_let_in_at_the_door() -> None:
    history = History()
    struck = {entry.entry for entry in scenario(MORNING, PARIS) if isinstance(entry, k.CrossedOut)}
    for entry in scenario(MORNING, PARIS):
        if entry.id in struck:
            continue
        assert refusal(history.bench, entry, entry.logged) is None, msgspec.to_builtins(entry)
        if not isinstance(entry, k.CrossedOut):
            assert history.take([entry])
