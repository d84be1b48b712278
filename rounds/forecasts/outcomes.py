"""How well forecasts did: each finished change beside the forecast as it stood when the stage had
begun."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.state import Bench, StageCompletion
from rounds.forecasts.stage_ends import Change

WHAT: dict[str, Change] = {"egg": "hatch", "larva": "pupation", "pupa": "emergence"}


class ForecastOutcome(Struct, frozen=True):
    """A change that came: what was expected when its stage had begun, and when it was seen."""

    where: str
    change: Change
    number: int
    said_low: datetime
    said_half: datetime
    said_high: datetime
    came_half: datetime
    within: int

    @property
    def error_days(self) -> float:
        """How many days later it came than was expected; below nought where earlier."""
        return (self.came_half - self.said_half) / timedelta(days=1)

    @property
    def held(self) -> bool:
        """Whether most of them came inside the stated window."""
        return 2 * self.within > self.number


class Score(Struct, frozen=True):
    """How well forecasts of this bench did."""

    animals: int
    within: int
    mean_error_days: float

    @property
    def share_within(self) -> float:
        """The share of animals whose change came inside the stated window, which should be about 90
        %."""
        return self.within / self.animals if self.animals else 0.0


def score(outcomes: list[ForecastOutcome]) -> Score | None:
    """All outcomes together; None where nothing finished yet."""
    if not outcomes:
        return None
    return Score(
        sum(outcome.number for outcome in outcomes),
        sum(one.within for one in outcomes),
        sum(one.error_days for one in outcomes) / len(outcomes),
    )


def grouped(bench: Bench) -> dict[tuple[str, str], list[StageCompletion]]:
    """What ended a stage that it is known to have begun, by brood and stage, in the order seen;
    founders' own stages aside, and those in which they were in diapause, and eggs of which nobody
    knew before they had hatched."""
    found: dict[tuple[str, str], list[StageCompletion]] = {}
    for stage_completion in bench.passed:
        if (
            stage_completion.brood in bench.broods
            and stage_completion.begin_known
            and not stage_completion.rested
            and not stage_completion.by_hatching
        ):
            found.setdefault((stage_completion.brood, stage_completion.stage), []).append(
                stage_completion
            )
    return found


def half_of(passages: list[StageCompletion]) -> datetime:
    """When half of them had made the change."""
    total, so_far = sum(stage_completion.number for stage_completion in passages), 0
    for completion in sorted(passages, key=lambda passage: passage.at):
        so_far += completion.number
        if 2 * so_far >= total:
            return completion.at
    return passages[-1].at
