"""The care plan: a table of rules by purpose and stage, every value of it the keeper's to change."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import msgspec
from msgspec import Struct

from rounds.bench.kinds import PlanChanged
from rounds.bench.kinds.base import Purpose
from rounds.bench.state import Bench, Container

DAY = 24.0
COMMON = "common practice, no source"
ESTIMATE = "our estimate, no source"


class Rule(Struct, frozen=True):
    """One check of one purpose and stage.

    Hours count from when the check was last answered, or from what the condition names. ``each_round`` is due
    once each round of the day, ``daily`` once a day at the round nearest to that of the day before. ``harm_h``
    is when an animal is in danger; without it nothing is.
    """

    check: str
    purposes: tuple[Purpose, ...] = ()
    stage: str = ""
    condition: str = ""
    every_h: float | None = None
    each_round: bool = False
    amber_h: float | None = None
    red_h: float | None = None
    harm_h: float | None = None
    basis: str = COMMON
    daily: bool = False

    @property
    def words(self) -> str:
        """How often, in a few words."""
        if self.each_round:
            return "each round"
        if self.daily:
            return "once a day"
        return "when it comes up" if not self.every_h else f"every {_hours(self.every_h)}"


def _hours(value: float) -> str:
    return f"{value / DAY:g} d" if value >= 72 and value % DAY == 0 else f"{value:g} h"


WARM: tuple[Purpose, ...] = ("laying", "pairing", "trial", "emergence", "quarantine", "isolation")
LAYING: tuple[Purpose, ...] = ("laying", "trial")
REARING: tuple[Purpose, ...] = ("hatchlings", "rearing", "pupation", "trial", "quarantine", "isolation", "laying")
AWAKE: tuple[Purpose, ...] = (
    "holding", "laying", "pairing", "trial", "eggs", "hatchlings", "rearing", "pupation", "emergence",
    "quarantine", "isolation",
)  # fmt: skip
LOOKED_AT: tuple[Purpose, ...] = (
    "laying", "pairing", "trial", "hatchlings", "rearing", "emergence", "quarantine", "isolation",
)  # fmt: skip

DEFAULT_PLAN: tuple[Rule, ...] = (
    Rule("drink", WARM, "adult", "", 12, False, 14, 24, 31,
         "fed morning and evening, once a day at the least: common practice, no source; danger hours our estimate"),
    Rule("drink", ("holding",), "adult", "", 24, False, 24, 48, 62,
         "cool and dark, fed once a day: common practice, no source; danger hours our estimate"),
    Rule("feeder", ("laying", "pairing", "trial"), "adult", "", None, False, 30, 48, None,
         "swab or tissue fresh every day: common practice, no source", True),
    Rule("look", LOOKED_AT, "", "", None, True, None, None, None, "looked at each round: common practice, no source"),
    Rule("look", ("holding", "eggs", "pupation"), "", "", None, False, 30, 48, None,
         "looked at once a day: common practice, no source", True),
    Rule("look", ("overwintering",), "pupa", "", 10 * DAY, False, 16 * DAY, 21 * DAY, None,
         "resting pupae: every one to two weeks; common practice, no source"),
    Rule("look", ("overwintering",), "larva", "", 3.5 * DAY, False, 5 * DAY, 7 * DAY, None,
         "half-grown resting larvae: every three to four days; common practice, no source"),
    Rule("look", ("overwintering",), "egg", "", 5 * DAY, False, 7 * DAY, 10 * DAY, None,
         "resting eggs dry and mould easily: every three to seven days; common practice, no source"),
    Rule("look", ("overwintering",), "adult", "", 7 * DAY, False, 10 * DAY, 14 * DAY, None, ESTIMATE),
    Rule("host", LAYING, "", "host cut dry", None, True, 24, 36, None,
         "cut host without water: changed daily, sooner when limp; common practice, no source"),
    Rule("host", LAYING, "", "host in water", None, True, 48, 72, None,
         "cut host in water: two to three days, sooner when limp; common practice, no source"),
    Rule("host", LAYING, "", "host potted", None, True, None, None, None, "potted host: looked at; common practice"),
    Rule("host", LAYING, "adult", "no host", 0, False, 6, 24, None, "she cannot choose what is not there"),
    Rule("eggs", LAYING, "adult", "", None, False, 24, 48, None,
         "searched every day: common practice, no source", True),
    Rule("change", LAYING, "adult", "no eggs", 48, False, 48, 72, None,
         "two to three fed, warm days are the usual patience: common practice, no source; the keeper decides"),
    Rule("release", (), "", "release by", None, False, None, None, None, "the limit that was logged for her"),
    Rule("permit", (), "", "permit", None, False, None, None, None, "the permit's own end"),
    Rule("air", ("eggs",), "egg", "", 36, False, 48, 72, None,
         "lid opened every day or two: common practice, no source"),
    Rule("hatch late", ("eggs",), "egg", "", 15 * DAY, False, 15 * DAY, 20 * DAY, None,
         "fixed default: ten days to hatch, asked at half as long again; no forecast is used yet"),
    Rule("leaf", ("eggs", "hatchlings", "trial", "laying"), "egg", "darkening", 0, False, 6, 24, 30,
         "hatchlings live a day or so unfed: common practice, no source; hours our estimate"),
    Rule("frass", ("eggs",), "", "held sprigs", None, False, 36, 60, 84,
         "held sprigs looked at for droppings every day: common practice, no source; danger our estimate", True),
    Rule("keep", ("eggs",), "", "held sprigs", 14 * DAY, False, None, None, None,
         "fixed default: fourteen days from when they were taken out; no forecast is used yet"),
    Rule("food", REARING, "larva", "unfed", 0, False, 6, 12, 24,
         "hatchlings unfed over 12 h: common practice, no source; danger hours our estimate"),
    Rule("food", REARING, "larva", "L1-L2", 24, False, 36, 48, 62,
         "young larvae left alone a day or two: common practice, no source; danger hours our estimate"),
    Rule("food", REARING, "larva", "L3-L4", 24, False, 30, 36, 47,
         "fed daily: common practice, no source; danger hours our estimate"),
    Rule("food", REARING, "larva", "last instar", 12, False, 14, 16, 21,
         "the last instars eat nearly all that a larva eats: common practice, no source; danger hours our estimate"),
    Rule("clean", REARING, "larva", "L3-L4", 24, False, 36, 48, None, "daily: common practice, no source"),
    Rule("clean", REARING, "larva", "last instar", None, False, 26, 36, None,
         "once or twice a day: common practice, no source", True),
    Rule("count", ("rearing", "hatchlings"), "larva", "", 3 * DAY, False, 5 * DAY, None, None,
         "counted at cleaning: common practice, no source; hours our estimate"),
    Rule("still", REARING, "larva", "still", 24, False, 48, 72, None,
         "a moult or a hang takes about a day, up to two: common practice, no source"),
    Rule("mist", ("pupation", "emergence"), "pupa", "", 36, False, 48, 72, None,
         "light spray daily or every other day: common practice, no source"),
    Rule("mist", ("overwintering",), "pupa", "", 10 * DAY, False, 16 * DAY, 21 * DAY, None,
         "every fortnight early, every week late in winter: common practice, no source"),
    Rule("mist", ("overwintering",), "larva", "", 4 * DAY, False, 5 * DAY, 7 * DAY, None,
         "half-grown resting larvae: every four days at least; common practice, no source"),
    Rule("emerge late", ("pupation", "emergence"), "pupa", "", 21 * DAY, False, 21 * DAY, 28 * DAY, None,
         "fixed default: fourteen days as a pupa, asked at half as long again; no forecast is used yet"),
    Rule("wings", ("emergence", "pupation"), "adult", "wings not up", 0.5, False, 2, 4, None,
         "wings up within two hours: common practice, no source"),
    Rule("quarantine", ("quarantine",), "", "", 7 * DAY, False, 14 * DAY, None, None,
         "new stock apart for one to two weeks: from memory, no source"),
    Rule("ants", (), "", "barrier", None, True, 24, 48, None,
         "looked at each round, topped up every day or two: common practice, no source"),
    Rule("lamp", (), "", "lamp on", 1, False, 2, 4, None, "lamps are timed and never left alone; hours our estimate"),
    Rule("balance", (), "", "shortfall", 0, False, 24, 72, None, ESTIMATE),
    Rule("room", (), "", "room", None, True, None, None, None,
         "lowest and highest each round: common practice, no source"),
    Rule("heat", (), "", "warm or cold", 0, False, 0, 2, 6,
         "30 C and above or under 18 C asks; 33 C and above is danger in a closed cup; our estimate"),
    Rule("store", ("host store",), "", "", None, False, 5 * DAY, 7 * DAY, None,
         "cut host in the cold: five days, a week at most; common practice, no source", True),
    Rule("solution", (), "", "solution", 5 * DAY, False, 5 * DAY, 7 * DAY, None,
         "a week in the cold at most: common practice, no source"),
)  # fmt: skip

CHANGED = ("every_h", "amber_h", "red_h", "harm_h")


@dataclass(frozen=True, slots=True)
class PlanLine:
    """A rule as it stands, for whom, and where its value comes from."""

    rule: Rule
    purpose: str
    container: str
    off: bool
    from_where: str


def _fits(change: PlanChanged, rule: Rule, purpose: str) -> bool:
    return (
        change.check == rule.check
        and (change.purpose is None or change.purpose == purpose)
        and (change.stage is None or change.stage == rule.stage)
    )


def _rank(change: PlanChanged) -> int:
    """Container before purpose and stage before purpose before the whole book."""
    if change.container:
        return 3
    return (1 if change.purpose else 0) + (1 if change.stage else 0)


def _changed(rule: Rule, change: PlanChanged) -> Rule:
    values = {name: value for name in CHANGED if (value := getattr(change, name)) is not None}
    if "every_h" in values:
        values |= {"each_round": False, "daily": False}
    return msgspec.structs.replace(rule, **values) if values else rule


def _applied(rule: Rule, changes: list[PlanChanged]) -> tuple[Rule, bool]:
    off = False
    for change in changes:
        rule = _changed(rule, change)
        off = off if change.off is None else change.off
    return rule, off


class Plan:
    """The default rules with the keeper's changes."""

    def __init__(self, changes: list[PlanChanged]) -> None:
        self._general = sorted((one for one in changes if not one.container), key=_rank)
        self._own: dict[str, list[PlanChanged]] = {}
        for one in changes:
            if one.container:
                self._own.setdefault(one.container, []).append(one)
        self._by_purpose: dict[str, tuple[Rule, ...]] = {}

    def rules_of(self, purpose: str) -> tuple[Rule, ...]:
        """The rules of a purpose, without any container's own."""
        known = self._by_purpose.get(purpose)
        if known is None:
            known = self._by_purpose[purpose] = tuple(self._for_purpose(purpose))
        return known

    def _for_purpose(self, purpose: str) -> Iterator[Rule]:
        for rule in DEFAULT_PLAN:
            if rule.purposes and purpose not in rule.purposes:
                continue
            fits = [one for one in self._general if _fits(one, rule, purpose)]
            changed, off = _applied(rule, fits)
            if not off:
                yield changed

    def rules_for(self, container: Container) -> tuple[Rule, ...]:
        """The rules of a container, its own changes among them."""
        own = self._own.get(container.code)
        if not own:
            return self.rules_of(container.purpose)
        rules = []
        for rule in DEFAULT_PLAN:
            if rule.purposes and container.purpose not in rule.purposes:
                continue
            fits = [one for one in [*self._general, *own] if _fits(one, rule, container.purpose)]
            changed, off = _applied(rule, fits)
            if not off:
                rules.append(changed)
        return tuple(rules)

    def rule_of(self, check: str) -> Rule | None:
        """The rule of a check that belongs to no container: room, solution, permit, ants of a shelf."""
        return next((rule for rule in self.rules_of("") if rule.check == check and not rule.purposes), None)


def plan_of(bench: Bench) -> Plan:
    """The plan of a bench."""
    return Plan(bench.plan)


def plan_lines(bench: Bench) -> list[PlanLine]:
    """Every rule as it stands, by purpose where a purpose changed it, then each container's own changes."""
    general = sorted((one for one in bench.plan if not one.container), key=_rank)
    lines = []
    for rule in DEFAULT_PLAN:
        for purpose in rule.purposes or ("",):
            fits = [one for one in general if _fits(one, rule, purpose)]
            changed, off = _applied(rule, fits)
            where = "default" if not fits else ("purpose" if fits[-1].purpose else "book")
            lines.append(PlanLine(changed, purpose, "", off, where))
    for one in bench.plan:
        if not one.container:
            continue
        container = bench.at(one.container)
        for rule in DEFAULT_PLAN:
            if container and rule.purposes and container.purpose not in rule.purposes:
                continue
            if _fits(one, rule, container.purpose if container else ""):
                changed, off = _applied(rule, [one])
                lines.append(PlanLine(changed, container.purpose if container else "", one.container, off, "container"))
    return lines
