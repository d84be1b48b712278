"""Eggs past their expected hatch."""

from __future__ import annotations

from msgspec.structs import replace

from rounds.checks.answers import DEAD, HATCHED, grown, unchanged
from rounds.checks.base import Check, Value
from rounds.checks.facts import NOT_RESTING
from rounds.checks.late_stage import late_stage
from rounds.checks.question import Question
from rounds.checks.rule import COMMON, DAY, Rule, hours
from rounds.entries import registry as k

CHECK = Check(
    name="hatch late",
    help="Overwintering eggs are not late: they wait for spring.",
    value=Value(20, 0.3, 0.002, "eggs"),
    severity=1,
    place=230,
    answered_by=("hatched", "died"),
    in_passing=True,
    own_end=True,
    rules=(
        Rule(
            ("eggs", "hatchlings"),
            "egg",
            NOT_RESTING,
            **hours(20 * DAY, late=20 * DAY, urgent=30 * DAY),
            computed=True,
            basis=(
                f"half as long again as forecast, urgent at twice: {COMMON}; where others of the"
                " brood hatched there, which shows how long they take, soon after the last was to"
                " hatch: our estimate; without a forecast 20"
                " days, for those of fritillaries take 14 to 20 (raisingbutterflies.org;"
                " ZooAmerica 2025)"
            ),
        ),
    ),
    reckon=late_stage,
    question=Question(
        "Past the expected hatch.",
        (
            unchanged("no change"),
            HATCHED,
            replace(DEAD, label="collapsed", says=grown(k.Died, cause="collapsed", stage="egg")),
        ),
    ),
)
