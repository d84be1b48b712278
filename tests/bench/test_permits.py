"""Permits count themselves: females, eggs, hours held, and their end."""

from __future__ import annotations

from datetime import timedelta

import pytest

from rounds.app.desk import Desk, Recorded, Refusal
from rounds.bench.permits import (
    free_by,
    has_ended,
    permits_of,
    pressing,
    pressing_of_catches,
    uses,
)
from rounds.checks.due_state import Due
from rounds.entries import registry as k
from rounds.views.bench_page import BenchFilter, bench_page
from rounds.views.card import card
from tests.conftest import Clock


def say(desk: Desk, kind: type[k.Entry], **fields: object) -> k.Entry:
    outcome = desk.record(kind, **fields)
    assert isinstance(outcome, Recorded), outcome
    return outcome.entry


def bench_with(desk: Desk, how_many: int, **limits: object) -> None:
    """A laying cup with so many females under permit P-12."""
    say(desk, k.Permit, number="P-12", body="county office", **limits)
    say(desk, k.SetUp, container="L2", purpose="laying")
    for number in range(1, how_many + 1):
        say(
            desk,
            k.FounderIntake,
            container="L2",
            code=f"Q-{number}",
            taxon="Boloria dia",
            permit="P-12",
        )


@pytest.mark.parametrize(
    ("females", "allowed", "state", "words"),
    [
        (1, 5, "", "1 of 5 females"),
        (4, 5, "near", "4 of 5 females, near the limit"),
        (5, 5, "full", "5 of 5 females, none left"),
        (6, 5, "PAST", "6 of 5 females, PAST THE LIMIT"),
        (0, 0, "full", "0 of 0 females, none left"),
    ],
)
def test_females_count_against_the_limit(
    desk: Desk, females: int, allowed: int, state: str, words: str
) -> None:
    bench_with(desk, females, females=allowed)

    (use,) = uses(desk.bench, desk.bench.permits["P-12"])

    assert (use.state, use.words) == (state, words)


def test_a_female_that_died_or_was_released_still_counts_and_males_and_larvae_do_not(
    desk: Desk,
) -> None:
    bench_with(desk, 2, females=5)
    say(
        desk,
        k.FounderIntake,
        container="L2",
        code="Q-8",
        taxon="Boloria dia",
        sex="male",
        permit="P-12",
    )
    say(
        desk,
        k.FounderIntake,
        container="L2",
        code="Q-9",
        taxon="Boloria dia",
        sex="",
        stage="larva",
        permit="P-12",
    )
    say(desk, k.Died, container="L2", number=1, brood="Q-1")
    say(desk, k.Released, container="L2", number=1, brood="Q-2")

    (use,) = uses(desk.bench, desk.bench.permits["P-12"])

    assert use.used == 2


def test_eggs_of_its_females_count_and_those_of_their_daughters_do_not(
    desk: Desk, clock: Clock
) -> None:
    bench_with(desk, 1, eggs=10)
    say(desk, k.SetUp, container="L5", purpose="laying")
    say(desk, k.FounderIntake, container="L5", code="R-1", taxon="Pieris napi")
    say(desk, k.Searched, container="L2", found=9)
    say(desk, k.Searched, container="L5", found=30)
    say(desk, k.BroodBegun, code="Q-1/AA", mothers=("Q-1/A",))
    say(desk, k.Searched, container="L2", found=40, brood="Q-1/AA")

    (use,) = uses(desk.bench, desk.bench.permits["P-12"])

    assert (use.used, use.state) == (9, "near")
    assert [permit.number for permit in permits_of(desk.bench, "Q-1/A")] == ["P-12"]
    assert permits_of(desk.bench, "R-1") == []


def release_due(desk: Desk) -> Due | None:
    return next((due for due in desk.dues() if due.check == "release"), None)


def test_hours_that_a_female_may_be_held_give_her_deadline_by_themselves(
    desk: Desk, clock: Clock
) -> None:
    say(desk, k.Permit, number="P-12", hold_hours=48)
    say(desk, k.SetUp, container="L2", purpose="holding")
    caught = clock.now - timedelta(hours=5)
    say(
        desk,
        k.FounderIntake,
        container="L2",
        code="Q-1",
        taxon="Boloria dia",
        caught=caught,
        permit="P-12",
    )

    due = release_due(desk)

    assert due is not None
    assert due.where == "L2"
    assert due.danger == caught + timedelta(hours=48)
    assert due.reason == "permit P-12 lets her be held 48 h from when she was caught"
    say(desk, k.Released, container="L2", number=1, brood="Q-1")
    assert release_due(desk) is None


def test_the_sooner_of_what_was_logged_and_what_the_permit_gives_holds(
    desk: Desk, clock: Clock
) -> None:
    bench_with(desk, 2, hold_hours=48)
    say(desk, k.ReleaseBy, container="L2", code="Q-1", until=clock.now + timedelta(hours=24))
    say(desk, k.ReleaseBy, container="L2", code="Q-2", until=clock.now + timedelta(hours=72))

    assert [free_by(desk.bench, code).until - clock.now for code in ("Q-1", "Q-2")] == [  # type: ignore[union-attr]
        timedelta(hours=24),
        timedelta(hours=48),
    ]


def test_a_larva_may_be_reared_longer_than_a_female_be_held(desk: Desk) -> None:
    bench_with(desk, 0, hold_hours=48)
    say(
        desk,
        k.FounderIntake,
        container="L2",
        code="Q-9",
        taxon="Boloria dia",
        sex="",
        stage="larva",
        permit="P-12",
    )

    assert free_by(desk.bench, "Q-9") is None


def test_a_permit_said_again_keeps_the_limits_that_were_not_said_again(desk: Desk) -> None:
    bench_with(desk, 0, females=3, hold_hours=48)
    say(desk, k.Permit, number="P-12", females=4)

    permit = desk.bench.permits["P-12"]

    assert (permit.females, permit.hold_hours, permit.body) == (4, 48, "county office")


def test_it_says_so_on_the_females_line_and_card_and_leaves_the_meaning_to_the_body(
    desk: Desk,
) -> None:
    bench_with(desk, 2, females=1)

    page = bench_page(desk.bench, desk.dues(), desk.moment(), BenchFilter())
    lines = [line.text for line in card(desk.bench, desk.dues(), desk.moment(), "L2")]

    assert "permit past its limit" in page.rows[0].cells[2].text
    assert any(
        "P-12: 2 of 1 females, PAST THE LIMIT, ask county office what you may still do" in line
        for line in lines
    )


def test_an_ended_permit_presses_and_a_roomy_one_does_not(desk: Desk, clock: Clock) -> None:
    bench_with(desk, 1, females=5, expires=clock.now + timedelta(hours=1))
    permit = desk.bench.permits["P-12"]
    assert (has_ended(permit, clock.now), pressing(desk.bench, permit, clock.now)) == (False, "")
    assert pressing_of_catches(desk.bench, clock.now) == {}

    clock.on(hours=2)

    assert (has_ended(permit, clock.now), pressing(desk.bench, permit, clock.now)) == (True, "PAST")
    assert pressing_of_catches(desk.bench, clock.now) == {"Q-1": "PAST"}


def test_a_mistyped_permit_is_refused_for_it_would_count_against_no_limit(desk: Desk) -> None:
    bench_with(desk, 0, females=3)

    outcome = desk.record(
        k.FounderIntake, container="L2", code="Q-1", taxon="Boloria dia", permit="P12"
    )

    assert isinstance(outcome, Refusal)
    assert (
        outcome.line == "no permit is called P12; there is P-12; a new one begins with 'permit P12'"
    )


def test_a_permits_number_is_taken_as_it_is_where_none_was_said(desk: Desk) -> None:
    say(desk, k.SetUp, container="L2", purpose="laying")

    say(desk, k.FounderIntake, container="L2", code="Q-1", taxon="Boloria dia", permit="P12")
