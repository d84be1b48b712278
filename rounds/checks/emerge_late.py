"""Pupae past their expected emergence."""

from __future__ import annotations

from rounds.checks.answers import DEAD, EMERGED, unchanged
from rounds.checks.base import Check, Value
from rounds.checks.facts import NOT_RESTING
from rounds.checks.late_stage import late_stage
from rounds.checks.question import Question
from rounds.checks.rule import AWAKE, DAY, Rule, hours

CHECK = Check(
    name="emerge late",
    help="A pupa in its second winter may be alive: weigh it before you discard it.",
    value=Value(20, 0.2, 0.002, "pupae"),
    severity=1,
    place=240,
    answered_by=("emerged", "died"),
    in_passing=True,
    own_end=True,
    rules=(
        Rule(
            AWAKE,
            "pupa",
            NOT_RESTING,
            **hours(21 * DAY, late=21 * DAY, urgent=28 * DAY),
            computed=True,
            basis=(
                "half as long again as forecast, urgent at twice: our estimate; without a"
                " forecast fourteen days are taken: pupae of the large white took 7.5 at "
                "30 C, about 40 at 12.5 C (David & Gardiner 1962), so that under 15 C only a"
                " forecast says"
            ),
        ),
    ),
    reckon=late_stage,
    question=Question("Past the expected emergence.", (unchanged("no change"), EMERGED, DEAD)),
)
