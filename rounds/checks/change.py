"""No eggs so far: one thing may be changed, and that is the keeper's to decide."""

from __future__ import annotations

from rounds.checks.answer_entries import say
from rounds.checks.answers import ANOTHER_PLANT, INTO_SHADE, unchanged
from rounds.checks.base import Check
from rounds.checks.due_state import Due
from rounds.checks.facts import FEMALE, Condition, Here, Reckoning
from rounds.checks.question import Answer, Question
from rounds.checks.reckon import Timed, applies_from, make_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import COMMON, LAYING, Rule
from rounds.checks.value import Value
from rounds.entries import registry as k


def reckon(reckoning: Reckoning, here: Here, rule: Timed) -> Due | None:
    """Counts from the last change: females in, another host in, more or less light; none in the dark."""
    container = here.container
    if container.lit == "dark":
        return None
    hosts = container.hosts
    plant = hosts[-1].plant
    start = utc(hosts[0].put_in)
    if len(hosts) > 1:
        start = min([utc(host.put_in) for host in hosts if host.plant == plant])
    start = max(start, applies_from(reckoning, here, rule))
    if container.lit_since is not None:
        start = max(start, utc(container.lit_since))
    if container.eggs_found is not None and utc(container.eggs_found) >= start:
        return None
    return make_due(reckoning, here, rule, start, None, None, plant)


CHECK = Check(
    name="change", label="change", verb="change?",
    help="After two or three fed, warm days: one change at a time, and yours to decide.",
    value=Value(75, 0.3, 0.5, "eggs to be laid"),
    severity=1, place=130, answered_by=("host in", "light"), disturbs=True, discards=True,
    in_passing=True, own_end=True,
    rules=(
        Rule(LAYING, "adult", Condition("no eggs", lambda facts: bool(facts.stages & FEMALE) and facts.kept != ""),
             every_h=48, amber_h=48, red_h=72,
             basis=f"two to three fed, warm days are the usual patience: {COMMON}; the keeper decides"),
    ),
    reckon=reckon,
    question=Question(
        "No eggs so far. Change one thing?",
        (unchanged("wait another day"), ANOTHER_PLANT, Answer("b", "into sun", say(k.Light, to="sun")), INTO_SHADE),
    ),
)  # fmt: skip
