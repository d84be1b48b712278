"""The default plan against the trade's usual hours, and the keeper's changes to it."""

from __future__ import annotations

from typing import get_args

import pytest

from rounds.bench.kinds.base import Purpose
from rounds.care.checks import CHECKS
from rounds.care.due import _BY_CHECK
from rounds.care.plan import DEFAULT_PLAN, Rule, plan_lines, plan_of
from rounds.care.rules import DAY
from rounds.desk import Desk
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock

# Check, purpose, condition, stage; due every, amber and red in hours. Common practice, no source.
USUAL = [
    ("drink", "laying", "", "adult", 12, 14, 24),
    ("drink", "holding", "", "adult", 24, 24, 48),
    ("host", "laying", "host cut dry", "", None, 24, 36),
    ("host", "laying", "host in water", "", None, 48, 72),
    ("change", "laying", "no eggs", "adult", 48, 48, 72),
    ("eggs", "laying", "", "adult", None, 24, 48),
    ("air", "eggs", "", "egg", 36, 48, 72),
    ("food", "rearing", "unfed", "larva", 0, 6, 12),
    ("food", "hatchlings", "L1-L2", "larva", 24, 36, 48),
    ("food", "rearing", "L3-L4", "larva", 24, 30, 36),
    ("food", "rearing", "last instar", "larva", 12, 14, 16),
    ("still", "rearing", "still", "larva", 24, 48, 72),
    ("mist", "pupation", "", "pupa", 36, 48, 72),
    ("wings", "emergence", "wings not up", "adult", 0.5, 2, 4),
    ("look", "overwintering", "", "pupa", 7 * DAY, 16 * DAY, 21 * DAY),
    ("look", "overwintering", "half-grown", "larva", 3.5 * DAY, 5 * DAY, 7 * DAY),
    ("look", "overwintering", "first instar", "larva", 5 * DAY, 7 * DAY, 10 * DAY),
    ("look", "overwintering", "", "egg", 5 * DAY, 7 * DAY, 10 * DAY),
    ("quarantine", "quarantine", "", "", 7 * DAY, 14 * DAY, None),
    ("ants", "laying", "barrier", "", None, 24, 48),
    ("store", "host store", "", "", None, 5 * DAY, 7 * DAY),
    ("solution", "laying", "solution", "", 5 * DAY, 5 * DAY, 7 * DAY),
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
    check: str, purpose: str, condition: str, stage: str, every: float | None, amber: float, red: float | None
) -> None:
    (rule,) = rules_like(purpose, check, condition, stage)

    assert (rule.every_h, rule.amber_h, rule.red_h) == (every, amber, red)


def test_every_purpose_is_looked_at_or_searched() -> None:
    for purpose in get_args(Purpose):
        asked = {rule.check for rule in DEFAULT_PLAN if not rule.purposes or purpose in rule.purposes}
        assert {"look", "store"} & asked, purpose


def test_every_rule_names_a_check_its_basis_and_hours_in_order() -> None:
    for rule in DEFAULT_PLAN:
        assert rule.check in CHECKS
        assert rule.basis
        hours = [value for value in (rule.amber_h, rule.red_h, rule.harm_h) if value is not None]
        assert hours == sorted(hours, reverse=rule.before_limit), rule


def test_rules_that_wait_for_a_forecast_say_that_they_are_fixed() -> None:
    for check in ("hatch late", "emerge late", "keep"):
        assert all(rule.basis.startswith("fixed default") for rule in DEFAULT_PLAN if rule.check == check)


def test_every_check_of_a_container_is_reckoned() -> None:
    elsewhere = {"ants", "balance", "release", "permit", "room", "heat", "solution"}

    assert {rule.check for rule in DEFAULT_PLAN} <= _BY_CHECK.keys() | elsewhere
    assert {rule.check for rule in DEFAULT_PLAN} == CHECKS.keys()


def test_a_container_goes_before_a_purpose_and_a_purpose_before_the_book(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN)
    drink = lambda: next(  # noqa: E731
        rule for rule in plan_of(desk.bench).rules_for(desk.bench.containers["L2"]) if rule.check == "drink"
    )
    assert drink().every_h == 12

    tell(desk, clock, "plan drink every_h=11")
    assert drink().every_h == 11
    tell(desk, clock, "plan drink every_h=10 purpose=laying")
    assert drink().every_h == 10
    tell(desk, clock, "plan drink every_h=9 container=L2")
    assert (drink().every_h, drink().red_h) == (9, 24)
    tell(desk, clock, "plan drink every_h=13")
    assert drink().every_h == 9


def test_a_rule_can_be_switched_off_and_on(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "plan drink off=yes container=L2")
    assert "drink" not in {rule.check for rule in plan_of(desk.bench).rules_for(desk.bench.containers["L2"])}

    tell(desk, clock, "plan drink off=no container=L2")

    assert "drink" in {rule.check for rule in plan_of(desk.bench).rules_for(desk.bench.containers["L2"])}


def test_the_list_says_where_each_value_comes_from(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN + "plan ants amber_h=12\nplan drink every_h=10 purpose=laying\nplan drink every_h=9 container=L2",
    )

    lines = {(line.rule.check, line.purpose, line.container): line.from_where for line in plan_lines(desk.bench)}

    assert lines["ants", "", ""] == "book"
    assert lines["drink", "laying", ""] == "purpose"
    assert lines["drink", "pairing", ""] == "default"
    assert lines["drink", "laying", "L2"] == "container"
