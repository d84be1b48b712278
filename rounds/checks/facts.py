"""What a container is like as far as the plan asks, and the conditions of rules that go by it.

Containers that are alike share one short table of rules, so that each is only asked what can apply
to it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from datetime import UTC, datetime, timedelta
from typing import NamedTuple, Protocol

from msgspec import Struct

from rounds.bench.folding.kept_stems import PERHAPS, SHOWN
from rounds.bench.folding.searches import all_searched_since
from rounds.bench.folding.signs import BEFORE_PUPATION, MOULDY, is_cleaned_out, still_eat
from rounds.bench.folding.sought import days_with
from rounds.bench.kept_lots import SAME_STOP
from rounds.bench.plants_of import PlantsOnRecord
from rounds.bench.state import Bench, Container, Host
from rounds.bench.thermal_needs import USUAL_INSTARS
from rounds.checks.round_clock import Moment, utc
from rounds.entries.base import Purpose
from rounds.entries.registry import PutOff, Taxon
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.tonight import is_closed

EGG, LARVA, PUPA, ADULT, FEMALE = 1, 2, 4, 8, 16
STAGE_BITS = {"egg": EGG, "larva": LARVA, "pupa": PUPA, "adult": ADULT}
HELD, LAMP, SUSPECT, UNFED, LEFT_BE, FRASS_SEEN = 1, 2, 4, 8, 16, 32
# of adults, of females, and of larvae that eat each other
FED, FED_BY_DAY, WANTS_HOST, CROWDED = 64, 128, 256, 512
FEMALES_LEFT = 1024  # stems stand here on which females sat that are gone
LATE_WINTER = 2048  # of the whole bench: resting stock is past midwinter
NONE_EATS = 4096  # all larvae here hang or wander
SEALED = 8192  # the lid lets no air through
OTHERS_MOVE = 16384  # cleaned round those that do not move, see ``others_move``
SEARCHED_OUT = 32768  # searches here found eggs, or two in a row none
CLEANED_OUT = 65536  # it was cleaned since mould or wet walls were seen
_NONE, FIRST, YOUNG, MIDDLE, LAST = range(5)
# common practice, no source: a moult, a hang, a soft pupa is left be a day
QUIET_FOR = timedelta(hours=24)
# a butterfly that emerged among food lays none on it before; first eggs come 2 to 3 days after
# pairing (David & Gardiner 1962)
LAYS_AFTER_DAYS = 1.0
EMERGING: tuple[Purpose, ...] = ("rearing", "pupation", "emergence")
ILL_SIGNS = frozenset({"weak", "mould", "intruder", "stranger"})


class Facts(NamedTuple):
    """What decides which rules fit a container; ``kept`` is how the host cut first is kept, ''
    where there is none."""

    purpose: str
    stages: int
    larvae: int
    sign: str
    kept: str
    flags: int


class Condition(Struct, frozen=True):
    """If what a rule holds, in the words of the plan.

    Args:
        began: since when it holds of a container, where a keeper's own word makes it so: hours
            of the rule count from then at the earliest.
    """

    words: str
    holds: Callable[[Facts], bool]
    began: Callable[[Container], datetime | None] | None = None


def has(
    words: str, flag: int, began: Callable[[Container], datetime | None] | None = None
) -> Condition:
    """Whether a flag is set."""
    return Condition(words, lambda facts: bool(facts.flags & flag), began)


def seen(words: str, *signs: str) -> Condition:
    """Whether the sign on the card is one of these."""
    return Condition(words, lambda facts: facts.sign in signs)


def of_place(words: str) -> Condition:
    """The condition of a rule that is asked for by name, as no container's facts decide it."""
    return Condition(words, lambda facts: True)


ALWAYS = of_place("")
# Those that the rules of several checks share.
DARKENING = seen("darkening", "darkening")
NOT_MOVING = seen("not moving", "still", "hanging")
KEPT_STEMS = has("kept stems", HELD)
LEFT_STANDING = Condition(
    "stems left by females",
    lambda facts: facts.flags & (FEMALES_LEFT | HELD) == FEMALES_LEFT and not facts.stages & LARVA,
)
NOT_RESTING = of_place("not in diapause")
FED_AT_NIGHT = Condition("fed at night", lambda facts: not facts.flags & FED_BY_DAY)
L3_L4 = Condition("L3-L4", lambda facts: facts.larvae == MIDDLE)
LAST_INSTAR = Condition("last instar", lambda facts: facts.larvae == LAST)
KEPT_APART = has("kept apart", CROWDED)
FIRST_INSTAR = Condition("first instar", lambda facts: facts.larvae == FIRST)
SEALED_LID = has("sealed lid", SEALED)
HALF_GROWN = Condition("half-grown", lambda facts: facts.larvae > FIRST)


def always(facts: Facts) -> bool:
    """Whatever the container is like."""
    return True


def are_fed(facts: Facts) -> bool:
    """Whether any adult here takes food."""
    return bool(facts.flags & FED)


def eat(facts: Facts) -> bool:
    """Larvae that hang, wander or were put to pupate have stopped feeding; those not moving will
    feed again.

    A cup is asked for those who still eat: one that wanders stops nobody else.
    """
    return not facts.flags & NONE_EATS and (facts.purpose != "pupation" or facts.kept != "")


class SpeciesFacts(NamedTuple):
    """What checks go by: the last instar, the stages that rest in winter or in summer, flags of its
    adults and females, and its larvae."""

    instars: int = USUAL_INSTARS
    rests_as: tuple[str, ...] = ()
    adult: int = FED | FED_BY_DAY
    female: int = WANTS_HOST
    cannibalistic: bool = False


class Species(dict[str, SpeciesFacts]):
    """What is known of each brood's species; each found once.

    The last instar is one that its larvae pupated from.
    """

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench

    def __missing__(self, brood: str) -> SpeciesFacts:
        taxon = self._bench.species_of(brood)
        known = _facts(taxon) if taxon else SpeciesFacts()
        last = min(known.instars, self._bench.pupated_from.get(brood, known.instars))
        found = self[brood] = known if last == known.instars else known._replace(instars=last)
        return found


def _facts(taxon: Taxon) -> SpeciesFacts:
    adult = 0 if taxon.no_adult_food else FED if taxon.night_fed else FED | FED_BY_DAY
    # One that takes no food mostly lays on anything; a plant that stands there is looked at all the
    # same.
    female = 0 if taxon.lays_without_plant or taxon.no_adult_food else WANTS_HOST
    rests = (taxon.overwinters_as, taxon.rests_in_summer_as)
    return SpeciesFacts(taxon.instars, rests, adult, female, taxon.cannibalistic)


def age_of(instar: int, species: SpeciesFacts) -> int:
    """How old larvae of an instar are, in the steps by which rules go; 0 is one not known."""
    if instar >= 3:
        return LAST if instar >= species.instars else MIDDLE
    return FIRST if instar == 1 else YOUNG


class PlanRule(Protocol):
    """What of a rule of the plan checks go by that weigh it against another: when it holds, and its
    hours."""

    @property
    def check(self) -> str:
        """The check's name."""

    @property
    def when(self) -> Condition:
        """The condition besides."""

    @property
    def every_h(self) -> float | None:
        """Hours until it is due."""

    @property
    def amber_h(self) -> float | None:
        """Hours until it is late."""

    @property
    def red_h(self) -> float | None:
        """Hours until it is urgent."""

    @property
    def harm_h(self) -> float | None:
        """Hours until an animal is in danger."""


class DueContext(Struct):
    """What all checks of one reckoning share; ``put_off`` is by place, then by check; ``rules_for``
    is the plan of a container, ``on_record`` the plants of each species."""

    bench: Bench
    moment: Moment
    put_off: dict[str, dict[str, PutOff]]
    species: Species
    late_winter: bool
    foresight: Forecasts
    rules_for: Callable[[Container], Iterable[PlanRule]]
    on_record: PlantsOnRecord


class ContainerContext(Struct, gc=False):
    """A container with what its checks need over and over.

    ``begun`` is the earliest instant from which hours can count: when it was set up, or last
    emptied. ``settled`` is the
    latest: since then neither its purpose nor the stage, instar or place of any animal in it
        changed.
    """

    reckoning: DueContext
    code: str
    container: Container
    begun: datetime
    settled: datetime
    host: Host | None

    @property
    def bench(self) -> Bench:
        """The bench on which it stands."""
        return self.reckoning.bench

    @property
    def moment(self) -> Moment:
        """The present instant."""
        return self.reckoning.moment

    @property
    def foresight(self) -> Forecasts:
        """What is coming on the bench."""
        return self.reckoning.foresight


def facts_of(
    reckoning: DueContext, container: Container
) -> tuple[ContainerContext, tuple[str, int, int, str, str, int]]:
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
            instar = lot.oldest
            species = reckoning.species[lot.brood]
            if species.cannibalistic:
                cannibals += lot.number
            larvae = max(larvae, age_of(instar, species))
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
    emptied = None if container.held else container.emptied  # kept stems are not emptied with it
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
        host = hosts[0] if len(hosts) == 1 else min(hosts, key=lambda one: utc(one.cut))
        if not stages & FEMALE and container.females_left is not None and _may_have_laid(container):
            flags |= FEMALES_LEFT
    if searches_tell(container):
        flags |= SEARCHED_OUT
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
    if is_closed(container):
        flags |= SEALED
    purpose = container.purpose
    may_be_new = stages & ADULT and purpose in EMERGING
    if may_be_new and not any(hunger.drank for lot in container.lots for hunger in lot.hunger):
        flags |= UNFED
    sign = container.sign
    if is_cleaned_out(container):
        flags |= CLEANED_OUT
    if sign in BEFORE_PUPATION and not still_eat(container):
        flags |= NONE_EATS
    may_be_left = container.leave_be_until is not None or container.quiet_seen is not None
    if may_be_left and (until := _left_be(container)) and not reckoning.moment.passed(until):
        flags |= LEFT_BE
        if others_move(container):
            flags |= OTHERS_MOVE
    context = ContainerContext(reckoning, container.code, container, begun, settled, host)
    return context, (purpose, stages, larvae, sign, host.kept if host else "", flags)


def _may_have_laid(container: Container) -> bool:
    """Whether females stood with the stems here long enough to lay: those that emerged among larval
    food and left it within a day did not."""
    return container.purpose not in EMERGING or any(
        days_with(host) >= LAYS_AFTER_DAYS for host in container.hosts
    )


def _same(first: datetime, second: datetime) -> bool:
    return abs(first - second) <= SAME_STOP


def searches_tell(container: Container) -> bool:
    """Whether searches told if those here lay on what stands here: eggs were found on any of the
    plants since the last of them came, or two searches in a row found none; a find on kept stems
    says nothing of them."""
    if not container.searched:
        return False
    last, found = container.searched[-1], container.eggs_found
    if not all_searched_since(container, last - SAME_STOP):
        return False
    came = [lot.came for lot in container.lots if lot.stage == "adult" and lot.came is not None]
    found_here = found if found and any(_same(found, at) for at in container.searched) else None
    if found_here and (_same(found_here, last) or all(at < found_here for at in came)):
        return True
    before = [at for at in container.searched if last - at > SAME_STOP]
    first = max(before, default=None)
    return first is not None and all(at < first for at in came)


def others_move(container: Container) -> bool:
    """Whether larvae here are to be cleaned up after, round those that do not move, who are not
    touched: mould was seen since, or only some hang, which no cleaning frees from a half-shed
    skin; a moult is waited for."""
    if container.leave_be_until is not None:
        return False
    larvae = sum(lot.number for lot in container.lots_of("larva"))
    return container.sign in MOULDY or (
        container.sign == "hanging" and container.sign_left < larvae
    )


def left_be_until(container: Container, now: datetime) -> datetime | None:
    """Until when a container is to be left be: as it was said, or a day from when any was last seen
    to moult, to hang, or as a fresh pupa.

    Returns:
        None where it may be disturbed now.
    """
    until = _left_be(container)
    return until if until is not None and until > now else None


def _left_be(container: Container) -> datetime | None:
    """The same, though it may be over."""
    until = container.leave_be_until
    if container.quiet_seen is not None:
        quiet = utc(container.quiet_seen) + QUIET_FOR
        until = quiet if until is None or quiet > until else until
    return until


def arrived(container: Container, stage: str) -> datetime | None:
    """When the first animals of a stage that are in a container came to be there in it, of any
    stage or the first kept stems; None where there are none."""
    came = [lot.came for lot in container.lots if not stage or lot.stage == stage]
    if not stage:
        came += [held.came for held in container.held]
    return min((utc(at) for at in came if at is not None), default=None)


def purpose_began(container: Container, purposes: Collection[str]) -> datetime | None:
    """When a container came to serve one of these purposes; None where it did so from the first, or
    they are all.

    A check that already applied under the purpose before goes on counting.
    """
    since = container.purpose_since
    if since is None or not purposes or container.purpose_before in purposes:
        return None
    return utc(since)
