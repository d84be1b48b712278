"""What a container is like as far as the plan asks, and which rules fit it.

Containers that are alike share one short table of rules, so that each is only asked what can apply to it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.folding.tending import PERHAPS, SHOWN
from rounds.bench.kinds import PutOff, Taxon
from rounds.bench.kinds.base import ROOTED
from rounds.bench.state import Bench, Container, Host, Lot
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment, utc
from rounds.checks.rules import DEFAULT_PLAN, EMERGING, Rule
from rounds.forecasts.foresight import Foresight
from rounds.forecasts.stage_ends import USUAL_INSTARS

QUIET_SIGNS = frozenset({"still", "hanging", "soft pupa"})
QUIET_FOR = timedelta(hours=24)  # common practice, no source: a moult, a hang, a soft pupa is left be a day
ILL_SIGNS = frozenset({"weak", "mould", "intruder", "stranger"})

EGG, LARVA, PUPA, ADULT, FEMALE = 1, 2, 4, 8, 16
_STAGE_BITS = {"egg": EGG, "larva": LARVA, "pupa": PUPA, "adult": ADULT}
HELD, LAMP, SUSPECT, UNFED, LEFT_BE, DROPPINGS = 1, 2, 4, 8, 16, 32
FED, FED_BY_DAY, WANTS_HOST, CROWDED = 64, 128, 256, 512  # of adults, of females, and of larvae that eat each other
FEMALES_LEFT = 1024  # stems stand here on which females sat that are gone
NO_LARVAE, FIRST, YOUNG, MIDDLE, LAST = range(5)


class Timed(Struct, frozen=True, gc=False):
    """A rule made ready: its hours as spans, and the kinds of entry that answer it."""

    rule: Rule
    check: str
    kinds: tuple[str, ...]
    severity: int
    every: timedelta
    amber: timedelta | None
    red: timedelta | None
    harm: timedelta | None
    each_round: bool
    daily: bool


def _span(hours: float | None) -> timedelta | None:
    return None if hours is None else timedelta(hours=hours)


@cache
def timed(rule: Rule) -> Timed:
    """A rule made ready."""
    check = CHECKS[rule.check]
    return Timed(
        rule,
        rule.check,
        check.answered_by,
        rule.severity or check.severity,
        timedelta(hours=rule.every_h or 0),
        _span(rule.amber_h),
        _span(rule.red_h),
        _span(rule.harm_h),
        rule.each_round,
        rule.daily,
    )


class SpeciesFacts(NamedTuple):
    """What checks go by: the last instar, the stage that overwinters, flags of its adults and females, and its larvae."""

    instars: int = USUAL_INSTARS
    overwinters_as: str = ""
    adult: int = FED | FED_BY_DAY
    female: int = WANTS_HOST
    cannibalistic: bool = False


class Species(dict[str, SpeciesFacts]):
    """What is known of each brood's species; each found once."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench

    def __missing__(self, brood: str) -> SpeciesFacts:
        taxon = self._bench.species_of(brood)
        found = self[brood] = _facts(taxon) if taxon else SpeciesFacts()
        return found


def _facts(taxon: Taxon) -> SpeciesFacts:
    adult = 0 if taxon.no_adult_food else FED if taxon.night_fed else FED | FED_BY_DAY
    # One that takes no food mostly lays on anything; a plant that stands there is looked at all the same.
    female = 0 if taxon.lays_without_plant or taxon.no_adult_food else WANTS_HOST
    return SpeciesFacts(taxon.instars, taxon.overwinters_as, adult, female, taxon.cannibalistic)


class Reckoning(Struct):
    """What all checks of one reckoning share; ``put_off`` is by place, then by check."""

    bench: Bench
    moment: Moment
    put_off: dict[str, dict[str, PutOff]]
    species: Species
    late_winter: bool
    foresight: Foresight


class Here(Struct, gc=False):
    """A container with what its checks need over and over.

    ``begun`` is the earliest instant from which hours can count: when it was set up, or last emptied. ``settled`` is the
    latest: since then neither its purpose nor the stage, instar or place of any animal in it changed.
    """

    code: str
    container: Container
    begun: datetime
    settled: datetime
    host: Host | None
    put_off: dict[str, PutOff] | None


class Facts(NamedTuple):
    """What decides which rules fit a container."""

    purpose: str
    stages: int
    larvae: int
    sign: str
    kept: str
    flags: int


def look_at(reckoning: Reckoning, container: Container) -> tuple[Here, tuple[str, int, int, str, str, int]]:
    """A container, and its facts as a plain tuple in the order of ``Facts``."""
    stages = larvae = flags = cannibals = 0
    newest: datetime | None = None
    for lot in container.lots:
        stage = lot.stage
        for at in (lot.since, lot.came):
            if at is not None and (newest is None or at > newest):
                newest = at
        if stage == "larva":
            stages |= LARVA
            instar = lot.instar
            species = reckoning.species[lot.brood]
            if species.cannibalistic:
                cannibals += lot.number
            if instar >= 3:
                age = LAST if instar >= species.instars else MIDDLE
            else:
                age = FIRST if instar == 1 else YOUNG
            if age > larvae:
                larvae = age
        elif stage == "adult":
            species = reckoning.species[lot.brood]
            flags |= species.adult
            if lot.sex == "male":
                stages |= ADULT
            else:
                stages |= ADULT | FEMALE
                flags |= species.female
        else:
            stages |= _STAGE_BITS[stage]
    begun = container.since.astimezone(UTC)
    emptied = container.emptied
    if emptied is not None and (emptied := emptied.astimezone(UTC)) > begun:
        begun = emptied
    settled = begun
    if newest is not None and newest > settled:
        settled = newest.astimezone(UTC)
    if container.purpose_since is not None and container.purpose_since > settled:
        settled = container.purpose_since.astimezone(UTC)
    hosts = container.hosts
    host = None
    if hosts:
        host = hosts[0] if len(hosts) == 1 else min(hosts, key=_when_cut)
        if not stages & FEMALE and container.females_left is not None:
            flags |= FEMALES_LEFT
    if cannibals > 1:
        flags |= CROWDED
    if container.held:
        flags |= HELD
        if any(held.frass in SHOWN or held.frass == PERHAPS for held in container.held):
            flags |= DROPPINGS
    if container.lamp_since is not None:
        flags |= LAMP
    if container.suspect_since is not None:
        flags |= SUSPECT
    purpose = container.purpose
    may_be_new = stages & ADULT and purpose in EMERGING
    if may_be_new and not any(one.drank for lot in container.lots for one in lot.hunger):
        flags |= UNFED
    sign = container.sign
    may_be_left = container.leave_be_until is not None or sign in QUIET_SIGNS
    if may_be_left and left_be_until(container, reckoning.moment.now):
        flags |= LEFT_BE
    code = container.code
    put_off = reckoning.put_off.get(code) if reckoning.put_off else None
    here = Here(code, container, begun, settled, host, put_off)
    return here, (purpose, stages, larvae, sign, host.kept if host else "", flags)


def _when_cut(host: Host) -> datetime:
    return utc(host.cut)


def left_be_until(container: Container, now: datetime) -> datetime | None:
    """Until when a container is to be left be: as it was said, or a day from a moult, a hang, a soft pupa.

    Returns:
        None where it may be disturbed now.
    """
    until = container.leave_be_until
    if container.sign in QUIET_SIGNS and container.sign_since is not None:
        quiet = utc(container.sign_since) + QUIET_FOR
        until = quiet if until is None or quiet > until else until
    return until if until is not None and until > now else None


_CONDITIONS: dict[str, Callable[[Facts], bool]] = {
    "": lambda facts: True,
    "first feed": lambda facts: bool(facts.flags & UNFED),
    "no eggs": lambda facts: bool(facts.stages & FEMALE) and facts.kept != "",
    "no host": lambda facts: bool(facts.flags & WANTS_HOST) and facts.kept == "",
    "fed at night": lambda facts: not facts.flags & FED_BY_DAY,
    "kept apart": lambda facts: bool(facts.flags & CROWDED),
    "females left": lambda facts: bool(facts.flags & FEMALES_LEFT),
    "host cut dry": lambda facts: facts.kept in ("dry", "damp paper"),
    "host in water": lambda facts: facts.kept in ("water", "fridge"),
    "host potted": lambda facts: facts.kept in ROOTED,
    "suspect": lambda facts: bool(facts.flags & SUSPECT),
    "ill": lambda facts: bool(facts.flags & SUSPECT) or facts.sign in ILL_SIGNS,
    "darkening": lambda facts: facts.sign == "darkening",
    "colouring": lambda facts: facts.sign == "colouring",
    "still": lambda facts: facts.sign in ("still", "hanging"),
    "wings not up": lambda facts: facts.sign == "wings not up",
    "held sprigs": lambda facts: bool(facts.flags & HELD),
    "droppings": lambda facts: bool(facts.flags & DROPPINGS),
    "may hatch": lambda facts: facts.kept == "" and facts.sign != "darkening",
    "lamp on": lambda facts: bool(facts.flags & LAMP),
    "unfed": lambda facts: facts.kept == "",
    "L1-L2": lambda facts: facts.larvae in (FIRST, YOUNG),
    "L3-L4": lambda facts: facts.larvae == MIDDLE,
    "last instar": lambda facts: facts.larvae == LAST,
    "first instar": lambda facts: facts.larvae == FIRST,
    "half-grown": lambda facts: facts.larvae > FIRST,
    "not resting": lambda facts: True,
}
_NEEDS: dict[str, Callable[[Facts], bool]] = {
    "eggs": lambda facts: bool(facts.stages & FEMALE or facts.flags & FEMALES_LEFT),
    "drink": lambda facts: bool(facts.flags & FED),
    "feeder": lambda facts: bool(facts.flags & FED),
    "look": lambda facts: bool(facts.stages or facts.flags & HELD),
    "food": lambda facts: _eats(facts),
    "clean": lambda facts: _eats(facts),
    "quarantine": lambda facts: facts.stages > 0,
    "store": lambda facts: facts.kept != "",
}


def _eats(facts: Facts) -> bool:
    """Larvae that hang, wander or were put to pupate have stopped feeding; those that are still will feed again."""
    return facts.sign not in ("hanging", "wandering") and (facts.purpose != "pupation" or facts.kept != "")


def fits(rule: Rule, facts: Facts, late_winter: bool) -> bool:
    """Whether a rule applies to a container with those facts."""
    if rule.stage and not facts.stages & _STAGE_BITS[rule.stage]:
        return False
    if facts.flags & LEFT_BE and CHECKS[rule.check].disturbs:
        return False
    if rule.condition in ("early winter", "late winter"):
        return late_winter == (rule.condition == "late winter")
    needs = _NEEDS.get(rule.check)
    return _CONDITIONS[rule.condition](facts) and (needs is None or needs(facts))


def chosen(rules: list[Rule]) -> list[Rule]:
    """One rule a check: one with a condition before one without, then the one that asks most often."""
    found: dict[str, Rule] = {}
    for rule in rules:
        known = found.get(rule.check)
        if known is None or _preference(rule) < _preference(known):
            found[rule.check] = rule
    return list(found.values())


def _preference(rule: Rule) -> tuple[bool, float]:
    often = 12.0 if rule.each_round else 24.0 if rule.daily else (rule.every_h or 0.0)
    return rule.condition == "", often


# Which animals of its stage a check is about, where it is not all of them.
_ABOUT: dict[str, Callable[[Reckoning, Lot], bool]] = {
    "drink": lambda reckoning, lot: bool(reckoning.species[lot.brood].adult & FED),
    "feeder": lambda reckoning, lot: bool(reckoning.species[lot.brood].adult & FED),
    "eggs": lambda reckoning, lot: lot.sex != "male",
    "host": lambda reckoning, lot: lot.sex != "male" and bool(reckoning.species[lot.brood].female & WANTS_HOST),
}


def _about(reckoning: Reckoning, container: Container, check: str, stage: str) -> Container:
    """A container with only the animals that a check is about."""
    wanted = _ABOUT.get(check) if stage == "adult" and len(container.lots) > 1 else None
    if wanted is None:
        return container
    return replace(container, lots=[lot for lot in container.lots if lot.stage == stage and wanted(reckoning, lot)])


def arrived(container: Container, stage: str) -> datetime | None:
    """When the first animals of a stage that are in a container came to be there in it, without animals the first kept
    stems; None where there are none.
    """
    came = [utc(lot.came) for lot in container.lots if lot.came is not None and (not stage or lot.stage == stage)]
    if not container.lots:
        came = [utc(held.stays[-1].until if held.stays else held.taken_out) for held in container.held]
    return min(came, default=None)


def purpose_began(container: Container, purposes: Collection[str]) -> datetime | None:
    """When a container came to serve one of these purposes; None where it did so from the first, or they are all.

    A check that already applied under the purpose before goes on counting.
    """
    since = container.purpose_since
    if since is None or not purposes or container.purpose_before in purposes:
        return None
    return utc(since)


def applies_from(reckoning: Reckoning, here: Here, rule: Rule) -> datetime:
    """When a rule began to apply: the container in its place, its purpose, animals of the stage and instar."""
    container, start = _about(reckoning, here.container, rule.check, rule.stage), here.begun
    for at in (purpose_began(container, rule.purposes), _grown(reckoning, container, rule) or arrived(container, rule.stage)):
        if at is not None and at > start:
            start = at
    return start


def begins_to_need(reckoning: Reckoning, here: Here, check: str, stage: str, since: datetime | None = None) -> datetime:
    """When animals here began to need what a check asks about: hunger and thirst go on when a purpose changes for another
    under which they are fed too, and where they began before the animals came, at ``since``.
    """
    came = max(here.begun, arrived(_about(reckoning, here.container, check, stage), stage) or here.begun)
    woken = purpose_began(here.container, purposes_with(check))
    return max(filter(None, (since or came, woken)))


@cache
def purposes_with(check: str) -> frozenset[str]:
    return frozenset(purpose for rule in DEFAULT_PLAN if rule.check == check for purpose in rule.purposes)


def _grown(reckoning: Reckoning, container: Container, rule: Rule) -> datetime | None:
    """When the first larvae here reached the instar that a rule is about; None where it goes by none, or it is not known."""
    least = 3 if rule.condition == "L3-L4" else 0
    found: list[datetime] = []
    for lot in container.lots if least or rule.condition == "last instar" else ():
        wanted = least or reckoning.species[lot.brood].instars
        if lot.stage == "larva" and lot.instar >= wanted and lot.since is not None and lot.came is not None:
            # Those that moulted since are past it for longer than their moult tells.
            found.append(utc(max(lot.since, lot.came) if lot.instar == wanted else lot.came))
    return min(found, default=None)
