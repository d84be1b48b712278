"""What the checks of one reckoning share: the bench, each container with what is asked of it over and over, rules made ready."""

from __future__ import annotations

from collections.abc import Callable, Collection
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.folding.tending import PERHAPS, SHOWN
from rounds.bench.kinds import PutOff, Taxon
from rounds.bench.state import Bench, Container, Host, Lot
from rounds.checks.facts import (
    ADULT,
    CROWDED,
    FED,
    FED_BY_DAY,
    FEMALE,
    FEMALES_LEFT,
    FIRST,
    FRASS_SEEN,
    HELD,
    L3_L4,
    LAMP,
    LARVA,
    LAST,
    LAST_INSTAR,
    LATE_WINTER,
    LEFT_BE,
    MIDDLE,
    STAGE_BITS,
    SUSPECT,
    UNFED,
    WANTS_HOST,
    YOUNG,
)
from rounds.checks.round_clock import Moment, utc
from rounds.checks.rule import EMERGING, Rule
from rounds.forecasts.foresight import Foresight
from rounds.forecasts.stage_ends import USUAL_INSTARS

QUIET_SIGNS = frozenset({"still", "hanging", "soft pupa"})
QUIET_FOR = timedelta(hours=24)  # common practice, no source: a moult, a hang, a soft pupa is left be a day


class Timed(Struct, frozen=True, gc=False):
    """A rule made ready: its hours as spans, the kinds of entry that answer it, and what of its check it wants.

    ``about`` says which adults it is about, if not all; ``purposes`` are those of all rules of the check.
    """

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
    about: Callable[[Reckoning, Lot], bool] | None
    purposes: frozenset[str]


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


def look_at(reckoning: Reckoning, container: Container) -> tuple[Here, tuple[str, int, int, str, str, int]]:
    """A container, and its facts as a plain tuple in the order of ``Facts``."""
    stages = larvae = cannibals = 0
    flags = LATE_WINTER if reckoning.late_winter else 0
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
            stages |= STAGE_BITS[stage]
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
            flags |= FRASS_SEEN
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


def _about(reckoning: Reckoning, container: Container, rule: Timed) -> Container:
    """A container with only the animals that a check is about."""
    about, stage = rule.about, rule.rule.stage
    if about is None or stage != "adult" or len(container.lots) < 2:
        return container
    return replace(container, lots=[lot for lot in container.lots if lot.stage == stage and about(reckoning, lot)])


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


def applies_from(reckoning: Reckoning, here: Here, timed: Timed) -> datetime:
    """When a rule began to apply: the container in its place, its purpose, animals of the stage and instar."""
    rule, container, start = timed.rule, _about(reckoning, here.container, timed), here.begun
    for at in (purpose_began(container, rule.purposes), _grown(reckoning, container, rule) or arrived(container, rule.stage)):
        if at is not None and at > start:
            start = at
    return start


def begins_to_need(reckoning: Reckoning, here: Here, rule: Timed, since: datetime | None = None) -> datetime:
    """When animals here began to need what a check asks about: hunger and thirst go on when a purpose changes for another
    under which they are fed too, and where they began before the animals came, at ``since``.
    """
    came = max(here.begun, arrived(_about(reckoning, here.container, rule), rule.rule.stage) or here.begun)
    woken = purpose_began(here.container, rule.purposes)
    return max(filter(None, (since or came, woken)))


def _grown(reckoning: Reckoning, container: Container, rule: Rule) -> datetime | None:
    """When the first larvae here reached the instar that a rule is about; None where it goes by none, or it is not known."""
    least = 3 if rule.when == L3_L4 else 0
    found: list[datetime] = []
    for lot in container.lots if least or rule.when == LAST_INSTAR else ():
        wanted = least or reckoning.species[lot.brood].instars
        if lot.stage == "larva" and lot.instar >= wanted and lot.since is not None and lot.came is not None:
            # Those that moulted since are past it for longer than their moult tells.
            found.append(utc(max(lot.since, lot.came) if lot.instar == wanted else lot.came))
    return min(found, default=None)
