"""The default plan against the trade's usual hours, and the keeper's changes to it."""

from __future__ import annotations

from typing import get_args

import pytest

from rounds.app.desk import Desk
from rounds.checks.base import Check
from rounds.checks.due import all_dues
from rounds.checks.plan import plan_lines, plan_of
from rounds.checks.registry import CHECKS, DEFAULT_PLAN
from rounds.checks.rule import DAY, Rule
from rounds.checks.why import why
from rounds.entries.base import Purpose
from rounds.entries.registry import KIND_BY_NAME
from rounds.views.cautions import CAUTIONS
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock

# Check, purpose, condition, stage; due every, amber and red in hours. Common practice, no source.
USUAL = [
    ("drink", "laying", "", "adult", 12, 14, 24),
    ("drink", "holding", "", "adult", 24, 24, 48),
    ("drink", "emergence", "first feed", "adult", 24, 48, 60),
    ("feeder", "laying", "", "adult", None, 30, 48),
    ("look", "laying", "", "", None, None, None),
    ("look", "laying", "adults take no food", "adult", None, 16, 48),
    ("look", "holding", "", "", 48, 60, 72),
    ("look", "rearing", "larvae with food in", "larva", None, 30, 48),
    ("look", "rearing", "food in water", "larva", 48, 60, 72),
    ("look", "eggs", "darkening", "egg", None, None, None),
    ("look", "pupation", "colouring", "pupa", None, None, None),
    ("look", "rearing", "suspect", "", None, None, None),
    ("host", "laying", "host potted", "", None, None, None),
    ("leaf", "eggs", "darkening", "egg", 0, 6, 24),
    ("hatch late", "eggs", "not in diapause", "egg", 20 * DAY, 20 * DAY, 30 * DAY),
    ("emerge late", "pupation", "not in diapause", "pupa", 21 * DAY, 21 * DAY, 28 * DAY),
    ("clean", "rearing", "L3-L4", "larva", 48, 60, 72),
    ("clean", "rearing", "last instar", "larva", None, 26, 36),
    ("mist", "overwintering", "early winter", "pupa", 14 * DAY, 16 * DAY, 21 * DAY),
    ("mist", "overwintering", "late winter", "pupa", 7 * DAY, 16 * DAY, 21 * DAY),
    ("mist", "overwintering", "half-grown", "larva", 4 * DAY, 5 * DAY, 7 * DAY),
    ("quarantine", "quarantine", "ill", "", 0, 0, 0),
    ("ants", "laying", "barrier failed", "", 0, 0, 0),
    ("release", "holding", "limit", "", 12, 12, 0),
    ("heat", "laying", "warm or cold", "", 0, 0, None),
    ("heat", "laying", "hot room", "", 0, 0, 2),
    ("heat", "laying", "hot cup", "", 0, 0, 0),
    ("host", "laying", "host cut dry", "", None, 24, 36),
    ("host", "laying", "host in water", "", None, 48, 72),
    ("change", "laying", "no eggs", "adult", 72, 96, None),
    ("eggs", "laying", "", "adult", None, 24, 48),
    ("air", "eggs", "", "egg", 48, 60, 72),
    ("food", "rearing", "unfed", "larva", 0, 6, 12),
    ("food", "hatchlings", "L1-L2", "larva", 24, 36, 40),
    ("food", "rearing", "L3-L4", "larva", 24, 30, 36),
    ("food", "rearing", "last instar", "larva", 12, 14, 16),
    ("still", "rearing", "not moving", "larva", 48, 54, 72),
    ("mist", "pupation", "", "pupa", 36, 48, 72),
    ("wings", "emergence", "wings not up", "adult", 0.5, 2, 4),
    ("look", "overwintering", "", "pupa", 7 * DAY, 16 * DAY, 21 * DAY),
    ("look", "overwintering", "sealed lid", "pupa", 14 * DAY, 30 * DAY, 60 * DAY),
    ("look", "overwintering", "half-grown", "larva", 3.5 * DAY, 5 * DAY, 7 * DAY),
    ("look", "overwintering", "first instar", "larva", 5 * DAY, 7 * DAY, 10 * DAY),
    ("look", "overwintering", "first instar, late winter", "larva", 3 * DAY, 5 * DAY, 7 * DAY),
    ("look", "overwintering", "", "egg", 5 * DAY, 7 * DAY, 10 * DAY),
    ("quarantine", "quarantine", "", "", 7 * DAY, 14 * DAY, None),
    ("ants", "laying", "barrier", "", None, 30, 48),
    ("store", "host store", "", "", None, 5 * DAY, 7 * DAY),
    ("solution", "laying", "solution", "", 3 * DAY, 4 * DAY, 5 * DAY),
]


def rules_like(purpose: str, check: str, condition: str, stage: str) -> list[Rule]:
    """The default rules of that purpose, check, condition and stage."""
    return [
        rule
        for rule in DEFAULT_PLAN
        if rule.check == check
        and rule.condition == condition
        and rule.stage == stage
        and (not rule.purposes or purpose in rule.purposes)
    ]


@pytest.mark.parametrize(("check", "purpose", "condition", "stage", "every", "amber", "red"), USUAL)
def test_the_default_hours_are_the_usual_ones(
    check: str,
    purpose: str,
    condition: str,
    stage: str,
    every: float | None,
    amber: float,
    red: float | None,
) -> None:
    (rule,) = rules_like(purpose, check, condition, stage)

    assert (rule.every_h, rule.amber_h, rule.red_h) == (every, amber, red)


def test_danger_is_about_a_third_beyond_red_where_nothing_better_is_known() -> None:
    for rule in DEFAULT_PLAN:
        if rule.harm_h is not None and "danger hours: our estimate" in rule.basis and rule.red_h:
            assert 1.25 <= rule.harm_h / rule.red_h <= 1.4, rule


def test_every_purpose_is_looked_at_or_searched() -> None:
    for purpose in get_args(Purpose):
        asked = {
            rule.check for rule in DEFAULT_PLAN if not rule.purposes or purpose in rule.purposes
        }
        assert {"look", "store"} & asked, purpose


def test_every_rule_names_a_check_its_basis_and_hours_in_order() -> None:
    for rule in DEFAULT_PLAN:
        assert rule.check in CHECKS
        assert rule.basis
        hours = [value for value in (rule.amber_h, rule.red_h, rule.harm_h) if value is not None]
        assert hours == sorted(hours, reverse=rule.before_limit), rule


def test_rules_that_rest_on_a_forecast_say_what_is_taken_without_one() -> None:
    for check in ("hatch late", "emerge late"):
        assert all(
            "without a forecast" in rule.basis for rule in DEFAULT_PLAN if rule.check == check
        )


@pytest.mark.parametrize("check", CHECKS.values(), ids=list(CHECKS))
def test_a_check_is_whole(check: Check) -> None:
    assert check.rules
    assert check.help
    assert len(check.label) <= 8
    assert check.question.text[-1] in "?."
    assert check.severity in (1, 2, 3)
    assert {answer.key for answer in check.question.answers}, "a question without answers"
    assert check.answered_by
    assert set(check.answered_by + check.closed_by) <= KIND_BY_NAME.keys()
    assert all(
        one in CAUTIONS or one.endswith(".") for one in check.cautions + check.first_cautions
    )
    if check.of_bench is None:
        assert all(rule.when.words or rule.purposes for rule in check.rules), (
            "a rule for every container"
        )


def test_no_two_checks_have_one_place_in_a_stop() -> None:
    places = [check.place for check in CHECKS.values()]

    assert len(places) == len(set(places))


def test_a_container_goes_before_a_purpose_and_a_purpose_before_the_book(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN)
    drink = lambda: next(  # noqa: E731
        rule
        for rule in plan_of(desk.bench).rules_for(desk.bench.containers["L2"])
        if rule.check == "drink"
    )
    assert drink().every_h == 12

    tell(desk, clock, "plan drink every_h=11")
    assert drink().every_h == 11
    tell(desk, clock, "plan drink every_h=10 purpose=laying")
    assert drink().every_h == 10
    tell(desk, clock, "plan drink every_h=9 container=L2")
    assert (drink().every_h, drink().red_h) == (9, 24)
    tell(desk, clock, "plan drink amber_h=10 stage=adult")
    assert (drink().every_h, drink().amber_h) == (9, 10)
    tell(desk, clock, "plan drink every_h=8")
    assert drink().every_h == 9


def test_a_rule_can_be_switched_off_and_on(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "plan drink off=yes container=L2")
    assert "drink" not in {
        rule.check for rule in plan_of(desk.bench).rules_for(desk.bench.containers["L2"])
    }

    tell(desk, clock, "plan drink off=no container=L2")

    assert "drink" in {
        rule.check for rule in plan_of(desk.bench).rules_for(desk.bench.containers["L2"])
    }


def test_the_list_says_where_each_value_comes_from(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN
        + "plan ants amber_h=12\nplan drink every_h=10 purpose=laying\nplan drink every_h=9 container=L2",
    )

    lines = {
        (line.rule.check, line.purpose, line.container): line.from_where
        for line in plan_lines(desk.bench)
    }

    assert lines["ants", "", ""] == "book"
    assert lines["drink", "laying", ""] == "purpose"
    assert lines["drink", "pairing", ""] == "default"
    assert lines["drink", "laying", "L2"] == "container"


def test_hours_that_were_not_said_move_with_those_that_were(desk: Desk, clock: Clock) -> None:
    tell(
        desk, clock, BEGIN + "plan drink every_h=30 container=L2\nplan look every_h=48 container=R4"
    )
    rules = {
        (rule.check, rule.condition): rule
        for rule in plan_of(desk.bench).rules_for(desk.bench.containers["L2"])
    }
    drink = rules["drink", ""]
    assert (drink.every_h, drink.amber_h, drink.red_h, drink.harm_h) == (30, 32, 42, 49), (
        "18 h later, each of them"
    )

    look = next(
        rule
        for rule in plan_of(desk.bench).rules_for(desk.bench.containers["R4"])
        if rule.check == "look" and not rule.condition
    )
    # A quarter over is late and twice as long is red, where only the hours between were said: our estimate.
    assert (look.each_round, look.every_h, look.amber_h, look.red_h) == (False, 48, 60, 96)


def test_a_changed_plan_says_who_changed_it_and_why(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 drank\nplan drink every_h=9 container=L2 why=frail")
    due = next(
        due
        for due in all_dues(desk.bench, desk.moment())
        if (due.check, due.where) == ("drink", "L2")
    )

    told = why(due, desk.bench, desk.moment())

    assert told.rule == "drink every 9 h (plan: L2)"
    assert told.source.startswith("changed for L2 by KM, 'frail'; starter value: ")
