"""A rule of the care plan: when a check is due, late, urgent and in danger, and what its hours rest
on.

The hours are starter values, every one of them the keeper's to change. Where a basis says 'common
practice' the trade does it so and no source was found; 'our estimate' is a working number of this
program. Danger hours are about a third beyond red where nothing better is known.
"""

from __future__ import annotations

from typing import TypedDict, get_args

from msgspec import Struct

from rounds.checks.facts import ALWAYS, FED_AT_NIGHT, Condition
from rounds.checks.time_format import hours_words
from rounds.entries.base import Purpose

DAY = 24.0
COMMON = "common practice, no source"
ESTIMATE = "our estimate, no source"
DANGER = "danger hours: our estimate"

AWAKE: tuple[Purpose, ...] = tuple(
    purpose for purpose in get_args(Purpose) if purpose not in ("overwintering", "host store")
)
WARM: tuple[Purpose, ...] = tuple(purpose for purpose in AWAKE if purpose != "holding")
LAYING: tuple[Purpose, ...] = ("laying", "trial")
LAYING_OR_PAIRING: tuple[Purpose, ...] = ("laying", "pairing", "trial")
SLOWER: tuple[Purpose, ...] = ("holding", "eggs", "pupation")
LOOKED_AT: tuple[Purpose, ...] = tuple(purpose for purpose in AWAKE if purpose not in SLOWER)
WINTER: tuple[Purpose, ...] = ("overwintering",)


class Rule(Struct, frozen=True):
    """One rule of a check, of some purposes and a stage; of all where none is named.

    Args:
        when: a condition besides; of several rules of a check that hold, one with a condition goes
            first, then the one that asks most often.
        every_h, amber_h, red_h, harm_h: hours until it is due, late, urgent, and until an animal is
            in danger; without ``harm_h`` nothing is. They count from when the check was last
            answered, or from what the condition names; those of a limit count back from it.
        each_round: due once each round of the day; without hours late four hours after the round
            began.
        daily: due once a day, at the round nearest to that of the day before.
        severity: that of the check where it is 0.
        computed: goes by a forecast; its hours only hold where there is none, or once a keeper gave
            them.
        only_forecast: goes by the forecast even then.
        adapts: its hours are moved by what is measured where it is asked, until a keeper gave them.
        off: asked of nobody unless the keeper's plan switches it on.
        stems_a_day: of a rule about food, the stems that one larva uses up in a day; our estimate.
        female_days: its hours are those of each female, warm and fed, added up.
        check: the check's name, which the check itself fills in.
    """

    purposes: tuple[Purpose, ...] = ()
    stage: str = ""
    when: Condition = ALWAYS
    every_h: float | None = None
    amber_h: float | None = None
    red_h: float | None = None
    harm_h: float | None = None
    each_round: bool = False
    daily: bool = False
    basis: str = COMMON
    severity: int = 0
    before_limit: bool = False
    computed: bool = False
    only_forecast: bool = False
    adapts: bool = False
    off: bool = False
    stems_a_day: float = 0.0
    female_days: bool = False
    check: str = ""

    @property
    def condition(self) -> str:
        """If what it holds, in words; empty where always."""
        return self.when.words

    @property
    def period_h(self) -> float | None:
        """How often it is asked [h]; None where nothing says so."""
        if self.every_h is not None:
            return self.every_h
        return DAY if self.daily else DAY / 2 if self.each_round else None

    @property
    def words(self) -> str:
        """How often, in a few words."""
        if self.computed:
            return "by forecast"
        if self.each_round:
            return "each round"
        if self.daily:
            return "once a day"
        if not self.every_h:
            return "at once" if self.every_h == 0 else "when it comes up"
        if self.female_days:
            return f"every {self.every_h / DAY:g} female-days"
        span = hours_words(self.every_h)
        return f"{span} before" if self.before_limit else f"every {span}"


class Hours(TypedDict):
    """Hours of a rule, as its fields are called."""

    every_h: float | None
    amber_h: float | None
    red_h: float | None
    harm_h: float | None


def hours(
    every: float | None = None,
    *,
    late: float | None = None,
    urgent: float | None = None,
    danger: float | None = None,
) -> Hours:
    """Hours until a check is due, late, urgent, and until an animal is in danger."""
    return Hours(every_h=every, amber_h=late, red_h=urgent, harm_h=danger)


def is_of_the_night(rule: Rule) -> bool:
    """Whether a rule is of animals that feed from dusk on, and has no hours of its own."""
    return rule.when == FED_AT_NIGHT and rule.daily
