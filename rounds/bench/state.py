"""What the bench holds once every entry is folded in.

These records change only inside the fold; everything else reads them.
"""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Literal, TypeAlias

from msgspec import Struct, field

from rounds.bench.codes import MISREAD, OR, code_after, members, one_of
from rounds.bench.movements import AdultsWithStems, Carried, Movement, shares
from rounds.entries.as_text import ReadLate
from rounds.entries.base import ROOTED, Barrier, Kept, Purpose, Sex, Stage

if TYPE_CHECKING:
    from rounds.entries.arrivals import BroodBegun, FounderIntake
    from rounds.entries.barriers import BarrierSeen, ToppedUp
    from rounds.entries.base import Entry as EntryOrText
    from rounds.entries.climate import Air, LoggerRead
    from rounds.entries.losses import Parasitoid, ReleaseBy
    from rounds.entries.notes import Imported
    from rounds.entries.pairing import Paired, PairingPlanned, Related
    from rounds.entries.plan import Permit, PlanChanged, PlantKnown, Taxon, ThermalConstants
    from rounds.entries.searching import Searched
    from rounds.entries.stages import Expected
    from rounds.entries.walking import PutOff

STAGES: tuple[Stage, ...] = ("egg", "larva", "pupa", "adult")
NO_MARK = "none"  # said of one that lost its mark


class Remembered(Struct, omit_defaults=True):
    """A part of the bench: it is written down without what is as it begins, so that a checkpoint is
    a fifth shorter and sooner read."""


class Eating(Struct, frozen=True):
    """The larvae that ate in a container until then: number by brood and instar, with those that
    may sit in its plant unseen; and how many of the oldest had stopped."""

    until: datetime
    larvae: tuple[tuple[str, int, int], ...]
    stopped: int = 0


class EarlierPlace(Struct, frozen=True):
    """Where animals stood before, and until when: their warmth till then was that of this place."""

    container: str
    shelf: str
    until: datetime


CameIn = tuple[tuple[datetime, int], ...]  # so many at a time, the newest last
Mates = tuple[tuple[str, datetime], ...]  # males by code, each with since when


class Hunger(Struct, frozen=True):
    """So many adults are hungry since then: since they drank last, or, if they never drank, since
    they came."""

    since: datetime
    number: int
    drank: bool = False


def hungriest(hunger: tuple[Hunger, ...], number: int) -> tuple[Hunger, ...]:
    """The hunger of so many of some animals, if nobody knows which of them: that of those who wait
    longest."""
    waiting = sorted(hunger, key=lambda one: one.since)
    return tuple(Hunger(one.since, share, one.drank) for one, share in shares(waiting, number))


class BegunTogether(Struct, frozen=True):
    """So many animals of a lot that began their stage together: the look before they were seen in
    it, when the first of them was, and when the last; ``brood`` of those that nobody can tell apart
    any more is what they were known as then."""

    number: int
    after: datetime | None
    since: datetime | None
    latest: datetime | None
    brood: str = ""


class OfInstar(Struct, frozen=True):
    """So many larvae of an instar, and when the first and the last of them reached it."""

    instar: int
    number: int
    since: datetime | None = None
    latest: datetime | None = None


class Animals(Remembered):
    """Animals of one brood, stage, instar and sex; adults whose wings failed (``crippled``) apart
    from the others.

    ``brood`` may name several (``W2 or W3``): nobody knows which of them these are.

    ``since`` is when the first of them reached the stage, or came in with ``began_before``: nobody
    knows when they reached it. ``latest`` is when the last did. ``stays`` is where they stood
    before, in this stage. ``begun_after`` is the look before the first of them was seen in this
    stage; of eggs found, the search before, or when their stems were put in. ``hunger`` of adults
    is what each is surely hungry since; it goes with them. ``unfed`` is since when the hungriest of
    larvae have had no food, wherever they were since; None while there is some. ``fed`` is when the
    hungriest of larvae last had food enough, as far as was seen. ``rested`` is until when they were
    in diapause in this stage, larvae in whatever instar; None where they were not, or are until
    now. ``at_most`` is how many females and males adults may be whose sex nobody knows any more;
    None where each may be either. ``of_instars`` is how many of each instar larvae are whose instar
    nobody knows any more, together with those of them that are not seen.
    """

    brood: str
    stage: Stage
    number: int
    instar: int = 0
    sex: Sex = ""
    since: datetime | None = None
    latest: datetime | None = None
    began_before: bool = False
    stays: tuple[EarlierPlace, ...] = ()
    begun_after: datetime | None = None
    hunger: tuple[Hunger, ...] = ()
    unfed: datetime | None = None
    fed: datetime | None = None
    rested: datetime | None = None
    at_most: tuple[int, int] | None = None
    of_instars: tuple[OfInstar, ...] = ()
    crippled: bool = False

    @property
    def oldest(self) -> int:
        """The latest instar that larvae may be of; 0 where that is not known."""
        return self.instar or max((one.instar for one in self.of_instars), default=0)

    def may_be(self, sex: Sex) -> int:
        """How many of these may be of a sex."""
        if self.sex or self.at_most is None:
            return self.number if self.sex in ("", sex) else 0
        return min(self.number, self.at_most[sex == "male"])


class Lot(Animals):
    """The animals of one brood, stage, instar and sex in one container.

    ``came`` is when the first of them came to be here in this stage. ``began`` says how many began
    it when; empty where all did together. ``goes_on`` of young ones of which some went on already:
    those that are left are late. ``mates`` are the males that adults, but males, ever stood or
    coupled with, and since when. ``came_in`` says how many of them came on record when, of the last
    hours.
    """

    came: datetime | None = None
    came_in: CameIn = ()
    mates: Mates = ()
    began: tuple[BegunTogether, ...] = ()
    goes_on: bool = False

    @property
    def hungry_since(self) -> datetime | None:
        """When the hungriest of larvae last had food enough, never before they were there: those
        that hatched on an older plant, or came in to one, hunger since then at the earliest."""
        if self.fed is None or self.came is None or self.stays:
            return self.fed
        return max(self.fed, self.came)

    @property
    def codes(self) -> tuple[str, ...]:
        """The founder or brood that these are of; several where nobody knows which of them."""
        return members(self.brood)


class Shortfall(Animals, kw_only=True):
    """Animals that were not seen when they should have been; open until settled.

    ``to`` is where they should have arrived, if they left for another container.
    """

    container: str
    at: datetime
    entry: str
    to: str = ""


class SearchMade(Remembered):
    """One search of stems: when, with what aid, how many eggs were found, how many seen that may be
    none, and in which container the eggs came on record."""

    at: datetime
    aid: str
    found: int
    minutes: float | None = None
    unsure: int = 0
    place: str = ""


class Removal(Struct, frozen=True):
    """Searches of some stems of a species' eggs, since when no female laid on them: the letter of
    each and how many eggs it found, in the order made (``folding.removal``)."""

    taxon: str
    passes: tuple[tuple[str, int], ...] = ()


class StayedFresh(Struct, frozen=True):
    """How long a cut host was fit from its cutting on [h]: until it was seen limp, yellow or
    mouldy, else until it came out."""

    hours: float
    went_off: bool


class Host(Remembered):
    """Host plant standing in a container.

    ``days_of`` is how long females stood with it in the light, by whose they are, its share where
    more of the plant stood beside it; ``not_known_of`` how long adults that may be females;
    ``mothers`` are all those, who stood with it until ``stood_until``; ``searches`` are the last
    ones made of it. ``sought`` are the days by the searches made since (``folding.sought``),
    ``eggs`` those that they found on it, ``removal`` what each of the last ones found. ``seen`` is
    the last look at it, ``failed`` the first that
    saw it not fresh or little left, ``eaten`` the first that saw it bare, until it was seen to be
    food enough again. Where it is ``cut_not_known``, ``cut`` is when it was listed. ``frass`` and
    its looks are as of a ``KeptLot``, from when no female stands with it any more. ``since`` is
    from when its plant stands there, each time renewed at one stop.
    """

    plant: str
    part: str
    batch: str
    kept: Kept
    cut: datetime
    put_in: datetime
    sprigs: int | None = None
    cut_not_known: bool = False
    state: str = "fresh"
    left: str = ""
    seen: datetime | None = None
    failed: datetime | None = None
    eaten: datetime | None = None
    went_off: bool = False  # it was seen limp, yellow or mouldy
    days_of: dict[str, float] = field(default_factory=dict)
    not_known_of: dict[str, float] = field(default_factory=dict)
    mothers: tuple[str, ...] = ()
    stood_until: datetime | None = None
    searches: list[SearchMade] = field(default_factory=list)
    sought: dict[str, float] = field(default_factory=dict)
    eggs: int = 0
    removal: Removal | None = None
    frass: str = ""
    frass_looks: list[datetime] = field(default_factory=list)
    frass_unknown: datetime | None = None
    frass_since: datetime | None = None
    since: datetime | None = None

    @property
    def female_days(self) -> float:
        """How long females stood with it [days]."""
        return sum(self.days_of.values())

    @property
    def sex_not_known(self) -> float:
        """How long adults stood with it that may be females [days]."""
        return sum(self.not_known_of.values())

    @property
    def is_open(self) -> bool:
        """Whether nobody knows how old it is, nor has looked at it since it was listed."""
        return self.cut_not_known and self.seen is None

    @property
    def is_bare(self) -> bool:
        """Whether it was seen to have nothing left to eat."""
        return self.eaten is not None

    def look(self, at: datetime, state: str, left: str) -> None:
        """What a look saw; one that saw less food than enough ends no earlier one that did."""
        self.state, self.left, self.seen = state, left, at
        if state == "fresh" and left not in ("none", "little"):
            self.failed = self.eaten = None
            return
        self.failed = self.failed or at
        if left == "none" or state == "eaten":
            self.eaten = self.eaten or at


class KeptLot(Remembered):
    """A lot of stems taken out of a laying container and kept in case they bear eggs.

    ``lot`` is its name, which no other lot on the bench has; ``number`` is what it is called in its
    container, from when it comes there until it leaves. ``female_days`` is how long females stood
    with them, ``sex_not_known`` adults that may be females, ``laid_until`` when the last of these
    left them, if any was there; ``frass`` the most that was seen under them: it stays until the
    young larvae are found, ``frass_since`` is when it was first seen; ``most_frass`` stays after.
    ``frass_looks`` is when each look was made; those up to ``frass_unknown`` say nothing any more:
    then frass was seen under one of several lots, nobody knows which, or the larvae were found.
    ``stays`` is where they were kept before. ``sought`` are the days by the searches made since
    (``folding.sought``), ``eggs`` those that they found, ``removal`` what each of the last ones
    found; ``larvae`` those that hatched of eggs
    nobody had found, its share where they were of several lots, seen between ``larvae_from``, the
    last look that saw none, and ``larvae_at``.
    """

    plant: str
    batch: str
    source: str
    mothers: tuple[str, ...]
    offered: datetime
    taken_out: datetime
    sprigs: int | None = None
    searches: list[SearchMade] = field(default_factory=list)
    frass: str = ""
    frass_looks: list[datetime] = field(default_factory=list)
    female_days: float = 0.0
    sex_not_known: float = 0.0
    taxon: str = ""
    lot: str = ""
    number: int = 0
    frass_unknown: datetime | None = None
    frass_since: datetime | None = None
    stays: tuple[EarlierPlace, ...] = ()
    sought: dict[str, float] = field(default_factory=dict)
    eggs: int = 0
    removal: Removal | None = None
    larvae: float = 0.0
    larvae_from: datetime | None = None
    larvae_at: datetime | None = None
    laid_until: datetime | None = None
    most_frass: str = ""

    @property
    def laid_to(self) -> datetime:
        """Until when eggs may have been laid on it, at the latest until it came out."""
        return self.laid_until or self.taken_out

    @property
    def came(self) -> datetime:
        """When it came to where it is kept now."""
        return self.stays[-1].until if self.stays else self.taken_out


class StemsGone(Struct, frozen=True, tag_field="what", tag="kept stems gone"):
    """A whole lot of kept stems was discarded, or had hatched: as it was last, and where."""

    at: datetime
    container: str
    kept: KeptLot


Event: TypeAlias = Movement | AdultsWithStems | Carried | StemsGone


class Unsure(Struct, frozen=True):
    """Something seen that may be eggs: how many, when, on which plant and kept lots, with what aid;
    it waits for a lens or a photo."""

    number: int
    at: datetime
    lots: tuple[str, ...] = ()
    plant: str = ""
    aid: str = ""

    def fits(self, plant: str, lots: tuple[str, ...]) -> bool:
        """Whether it may be what was seen on that plant and those lots, as far as they are said."""
        return (not plant or self.plant in ("", plant)) and (
            not lots or not self.lots or bool(set(lots) & set(self.lots))
        )


class Depth(Remembered):
    """One reading of a moat: depth in mm; ``filled`` where it is the depth after topping up,
    ``full`` where it was called so; ``anew`` where it was topped up since the reading before."""

    at: datetime
    mm: float
    filled: bool = False
    full: bool = False
    anew: bool = False


NOT_LOW = "not low"  # a look at a moat, which leaves its water as deep as it was reckoned
WANTING = frozenset({"low", "dirty"})  # states of a barrier that wants a hand
FAILED_STATES = frozenset({"dry", "bridged", "breached", "ants"})  # those that ants can pass


class Moat(Remembered):
    """The ant barrier of a container or shelf, as last seen.

    ``wants_since`` is when it was first seen to want a hand, failed or not, ``failed_since`` when
    ants were first seen past it or able to pass; both last until it is seen in order. ``full`` is
    when it was last filled or called full, and looks since saw it in order.
    """

    state: str = ""
    seen: datetime | None = None
    last: "BarrierSeen | ToppedUp | None" = None
    wants_since: datetime | None = None
    failed_since: datetime | None = None
    topped: datetime | None = None
    full: datetime | None = None
    washed: datetime | None = None
    ants_below: int = 0
    ants_above: int = 0
    depths: list[Depth] = field(default_factory=list)

    @property
    def is_passed(self) -> bool:
        """Whether the last look saw ants past it, or that they can come past it."""
        return bool(self.ants_above) or self.state in FAILED_STATES

    def look(self, entry: "BarrierSeen | ToppedUp", state: str) -> None:
        """What a look saw, once its ants are noted; the same seen again is no younger for that."""
        self.state, self.seen, self.last = state, entry.at, entry
        if state != NOT_LOW:
            self.full = entry.at if state == "full" else None
        failed = self.is_passed
        wants = failed or state in WANTING
        self.failed_since = (self.failed_since or entry.at) if failed else None
        self.wants_since = (self.wants_since or entry.at) if wants else None


class CardNote(Remembered):
    """A note or photo as it stands on a card."""

    at: datetime
    by: str
    text: str
    entry: str


class Look(Struct, frozen=True):
    """The last answer to a question at a place: when, among which answers it was counted, and
    whether it found something."""

    at: datetime
    key: str
    found: bool


class SaidBy(Struct, frozen=True):
    """Which line said a value last, as it is typed, and which one it knew to have said it before.

    ``newest`` is the line about it that was typed last, which may have said it of an earlier time.
    ``other`` is what another laptop said otherwise, in the line ``aside``, and nobody who knew of
    it has said since; empty where none did. ``guards``: meanwhile the more careful of both holds,
    whichever was said last: a yes or the ``larger`` number of what guards, the ``smaller`` number
    or the earlier end of what limits.
    """

    line: str
    newest: str = ""
    before: str = ""
    value: str = ""
    other: str = ""
    aside: str = ""
    guards: Literal["", "larger", "smaller"] = ""

    @property
    def both(self) -> list[str]:
        """What holds, and what was set aside for it where another laptop said otherwise."""
        said = [self.value, self.other] if self.other else [self.value]
        return sorted(said, key=_size, reverse=self.guards == "larger") if self.guards else said


def _size(value: str) -> tuple[float, str]:
    """How large a value is: a number, a yes beside a no, a date, which alone is all of its day."""
    date = value.strip("'")
    if date.count("-") == 2:
        return 0.0, date if ":" in date else f"{date} 24"
    return float({"yes": 1, "no": 0}.get(value, value)), ""


class Looks(Remembered):
    """Answers to one question that are alike: how many, how many found something, and how long
    those took that were timed.

    ``seconds`` is the sum over ``timed`` answers; where a question is asked of each female, of one
    female.
    """

    made: int = 0
    found: int = 0
    timed: int = 0
    seconds: float = 0.0
    first: datetime | None = None
    last: datetime | None = None


class Shelf(Remembered):
    """A shelf or other place: the barrier that its containers share, since when, and its own limits
    of warmth in C.

    ``logged`` is when it was first written down.
    """

    name: str
    logged: datetime | None = None
    barrier: Barrier = "none"
    barrier_since: datetime | None = None
    place: int = 0
    moat: Moat = field(default_factory=Moat)
    apart: bool = False
    cold_c: float | None = None
    warm_c: float | None = None
    hot_c: float | None = None
    answered: dict[str, Look] = field(default_factory=dict)  # by question


class WithoutEggs(Remembered):
    """How long females stood with a plant in the light and none of their eggs was found, since
    when, in female-days.

    ``female_days`` are those in which they were warm and fed, as far as was recorded; ``cool``
    those in which the last reading was too low to lay, ``hungry`` those in which they had not
    drunk lately, ``cool_and_hungry`` those of both; ``unread`` those of all of them in which
    nothing was read. ``sought`` are the warm, fed ones by the searches made since
    (``folding.sought``), the last at ``searched_at``; the rest no search looked at.
    """

    since: datetime
    female_days: float = 0.0
    cool: float = 0.0
    hungry: float = 0.0
    cool_and_hungry: float = 0.0
    unread: float = 0.0
    sought: dict[str, float] = field(default_factory=dict)
    searched_at: datetime | None = None

    @property
    def whole(self) -> float:
        """All of it, warm and fed or not [female-days]."""
        return self.female_days + self.amiss

    @property
    def amiss(self) -> float:
        """Those in which they were cool or hungry [female-days]."""
        return self.cool + self.hungry - self.cool_and_hungry


class Unsearched(Struct, frozen=True):
    """Since when no search for eggs looked at a plant: the last one that did, where one was made,
    else when the plant came to stand there."""

    since: datetime
    last: "Searched | None" = None


class FemaleStay(Remembered):
    """Since when and until when a female stood in a container.

    A time away with no search in it is passed over, for what she laid before is found only now.
    """

    since: datetime
    until: datetime


class Container(Remembered):
    """A container on the bench, with all that was last said of it."""

    code: str
    purpose: Purpose
    since: datetime
    # when it was written down that it stands here: it could not be asked about before
    logged: datetime | None = None
    set_up: str = ""  # the id of the line that set it up
    set_up_by: str = ""  # who typed it
    said: str = ""  # the code that line gave it, where another container had that already
    purpose_since: datetime | None = None  # where another purpose went before
    purpose_before: Purpose | None = None
    shelf: str = ""
    place: int = 0
    inside: str = ""
    volume_ml: float = 0
    lid: str = ""
    lining: str = ""
    barrier: Barrier = "none"
    barrier_since: datetime | None = None
    shelf_since: datetime | None = None
    closed: datetime | None = None
    ate: tuple[Eating, ...] = ()  # who ate here of what was put in last, one spell after another
    accounted: datetime | None = None  # up to when it is accounted for who stood with which plants
    lots: list[Lot] = field(default_factory=list)
    # by female, up to the newest entry of this container
    stood: dict[str, FemaleStay] = field(default_factory=dict)
    hosts: list[Host] = field(default_factory=list)
    held: list[KeptLot] = field(default_factory=list)
    # by plant, from when to when it stood here that came out last
    came_out: dict[str, tuple[datetime, datetime]] = field(default_factory=dict)
    lots_numbered: int = 0  # the highest number of a kept lot since it last held none
    moat: Moat = field(default_factory=Moat)
    last: "dict[str, EntryOrText]" = field(default_factory=dict)  # by kind: its newest entry
    # of the last feed in which all drank, when the first of them did
    all_drank: datetime | None = None
    feed_done: datetime | None = None  # when the last of them did
    # of several lots, nobody knows which
    drank_part: list[tuple[datetime, int]] = field(default_factory=list)
    eggs_found: datetime | None = None
    # by plant, since the last egg on it
    without_eggs: dict[str, WithoutEggs] = field(default_factory=dict)
    waited: datetime | None = None  # up to when that is reckoned
    # by id: the last lines that have a ``gravity``
    changes: "dict[str, EntryOrText]" = field(default_factory=dict)
    searched: tuple[datetime, ...] = ()  # when it was searched for eggs, the last times
    unsearched: dict[str, Unsearched] = field(default_factory=dict)  # by plant; see ``searches``
    unsure: list[Unsure] = field(default_factory=list)
    unsure_gone: list[Unsure] = field(default_factory=list)  # went with stems kept elsewhere
    emptied: datetime | None = None
    feeder_failed: datetime | None = None  # when the feeder was first seen dry, sour or mouldy
    bare_since: datetime | None = None  # when the last host plant was taken out
    sign: str = "as usual"
    sign_since: datetime | None = None
    sign_left: int = 0  # how many of those that showed the sign have not gone on since
    # when any was last seen that moults, hangs or is a fresh pupa
    quiet_seen: datetime | None = None
    # since when larvae are seen not to move, and how many, whatever others showed later; until they
    # moult, or all are seen to eat
    moult_seen: datetime | None = None
    moulting: int = 0
    leave_be_until: datetime | None = None
    leave_be_why: str = ""
    suspect_since: datetime | None = None
    suspect_sign: str = ""
    lit: str = ""
    lamp_since: datetime | None = None
    notes: list[CardNote] = field(default_factory=list)
    photos: list[CardNote] = field(default_factory=list)
    # when something was last written of it, and the time before that
    looks: tuple[datetime, ...] = ()
    answered: dict[str, Look] = field(default_factory=dict)  # by question
    said_by: dict[str, SaidBy] = field(default_factory=dict)  # by field that was changed

    def __post_init__(self) -> None:
        """What a checkpoint holds of its entries stays text until it is asked for."""
        if self.last and not isinstance(self.last, ReadLate):
            self.last = ReadLate(self.last)
        if self.changes and not isinstance(self.changes, ReadLate):
            self.changes = ReadLate(self.changes)

    def seen_unsure(self, plant: str, lots: tuple[str, ...]) -> list[Unsure]:
        """What may be eggs and was seen here on that plant and those lots, as far as they are said;
        where nothing of it is here any more, what went with its stems."""
        here = [one for one in self.unsure if one.fits(plant, lots)]
        return here or [one for one in self.unsure_gone if one.fits(plant, lots)]

    def washed(self) -> "Container":
        """What stands again where it was closed by one and used on by another: what it was set up
        as, empty."""
        return Container(
            code=self.code,
            purpose=self.purpose,
            since=self.since,
            logged=self.logged,
            set_up=self.set_up,
            set_up_by=self.set_up_by,
            said=self.said,
            shelf=self.shelf,
            place=self.place,
            volume_ml=self.volume_ml,
            lid=self.lid,
            lining=self.lining,
            barrier=self.barrier,
        )

    def count(self, stage: Stage | None = None, brood: str = "", sex: Sex | None = None) -> int:
        """How many animals of that stage, brood and sex are here on record."""
        return sum(lot.number for lot in self.lots_of(stage, brood, sex))

    def lots_of(
        self, stage: Stage | None = None, brood: str = "", sex: Sex | None = None
    ) -> list[Lot]:
        """The lots of that stage, brood and sex; what is not given does not choose."""
        return [
            lot
            for lot in self.lots
            if (stage is None or lot.stage == stage)
            and (not brood or lot.brood == brood)
            and (sex is None or lot.sex == sex)
        ]

    @property
    def is_store(self) -> bool:
        """Whether it is a host store: cut plants are ready there, and feed nobody in it."""
        return self.purpose == "host store"

    @property
    def females(self) -> int:
        """Adult females here on record; adults of unknown sex are fed like females."""
        return sum(lot.number for lot in self.lots if lot.stage == "adult" and lot.sex != "male")

    @property
    def females_left(self) -> datetime | None:
        """When the last female left the stems that stand here; None while one is here, or if none
        ever sat on them."""
        if self.females:
            return None
        return max(
            (host.stood_until for host in self.hosts if host.stood_until is not None), default=None
        )

    @property
    def stems(self) -> "list[Host | KeptLot]":
        """All that stands in it, then all that is kept in it."""
        return [*self.hosts, *self.held]

    @property
    def is_made_up(self) -> bool:
        """Whether it was never set up: a line that rests on it was kept all the same."""
        return self.logged is None

    @property
    def last_look(self) -> datetime:
        """When it was last looked at, as far as anything was written of it."""
        return self.looks[-1] if self.looks else self.since

    @property
    def has_food(self) -> bool:
        """Whether a plant stands here that was not seen eaten or bare."""
        return any(not host.is_bare for host in self.hosts)

    @property
    def has_food_enough(self) -> bool:
        """Whether a plant stands here that was not seen to fail, or to be nearly eaten."""
        return any(host.failed is None for host in self.hosts)

    @property
    def food_since(self) -> datetime | None:
        """Since when the newest plant is cut, or was last seen to be fresh, that was not seen to
        fail; None where there is none, or one that grows."""
        good = [host for host in self.hosts if host.failed is None]
        if any(host.kept in ROOTED for host in good):
            return None
        return max((max(host.cut, host.seen or host.cut) for host in good), default=None)

    @property
    def oldest_cut(self) -> Host | None:
        """The host that was cut first, which decides when the host is due."""
        return min(self.hosts, key=lambda host: host.cut, default=None)


MAX_CHANGES = 40  # as many as are made of a container between two rounds

# A walk that nobody answers any more was left: the next round is another one. Our estimates.
ANSWERED_WITHIN = timedelta(hours=6)
LASTS_AT_MOST = timedelta(hours=12)  # however often a line that is said in passing belongs to it


class Round(Remembered):
    """One walk along the bench.

    ``answered`` is when the last entry that belongs to it was made; ``finished`` is None as long as
    nobody ended it. ``minutes`` is how long it may take, 0 where nobody said; ``later`` are the
    checks that it asks only once all others were answered, as 'K3: drink'.
    """

    id: str
    name: str
    started: datetime
    by: str
    answered: datetime
    finished: datetime | None = None
    spoken: datetime | None = None  # when its last entry was typed
    minutes: float = 0
    later: tuple[str, ...] = ()
    said: list[str] = field(default_factory=list)  # entry ids
    done: list[tuple[str, str]] = field(default_factory=list)  # (where, kind)
    skipped: list[tuple[str, str, str]] = field(default_factory=list)  # (where, check, why)

    @property
    def ended(self) -> datetime:
        """When it ended; one that was left ended at its last answer."""
        return self.finished or self.answered

    def goes_on(self, now: datetime) -> bool:
        """Whether it is still under way: nobody ended it, and it was answered in the last hours."""
        return (
            self.finished is None
            and now - self.answered <= ANSWERED_WITHIN
            and now - self.started <= LASTS_AT_MOST
        )


class StageCompletion(Remembered):
    """Animals that ended a stage: when they began it (an interval, if that is known), when the end
    was seen, and where.

    ``looked`` is the look before the end was seen; None in what was written down before looks were
    remembered. ``rested`` where they were in diapause meanwhile: then the time that it took says
    nothing of warmth. ``by_hatching`` of eggs of which nobody knew before they had hatched.
    """

    brood: str
    taxon: str
    stage: str
    container: str
    shelf: str
    number: int
    begun_from: datetime
    begun_to: datetime
    at: datetime
    evidence: str = "seen"
    begin_known: bool = True
    stays: tuple[EarlierPlace, ...] = ()
    looked: datetime | None = None
    rested: bool = False
    by_hatching: bool = False


class LayingSum(Remembered):
    """What some females laid on a plant, as far as searches tell: eggs found, and the days by
    search (``folding.sought``)."""

    eggs: int = 0
    sought: dict[str, float] = field(default_factory=dict)


class OnPlant(Remembered):
    """What is known of a species on a plant: what its females laid, by who they are (codes with a
    comma between).

    ``detected`` are the eggs that searches found or missed, by aid, where more than one looked at
    what was there. ``searched`` are the stems of which that is so, by the searches made of them and
    what showed by itself (a letter each, ``folding.removal``) and the number of all eggs found.
    """

    laid: dict[str, LayingSum] = field(default_factory=dict)
    detected: "dict[str, SearchDetection]" = field(default_factory=dict)
    searched: dict[str, int] = field(default_factory=dict)


class SearchDetection(Remembered):
    """Eggs that were on stems: how many searches with an aid found, how many times they missed one,
    and how many eggs those were."""

    found: int = 0
    missed: int = 0
    eggs: int = 0


class Tally(Remembered):
    """What has become of a brood: numbers by fate, each by stage."""

    entered: dict[str, int] = field(default_factory=dict)
    fates: dict[str, dict[str, int]] = field(default_factory=dict)


class Oddity(Remembered):
    """Something that the entries, taken together, do not agree on.

    ``said`` is the entry in words where it does not fit what came before it: it counts only in
    part, or not at all.
    """

    entry: str
    at: datetime
    text: str
    said: str = ""
    lacks: str = ""  # the code that it rests on, where no line is here that gave it

    @property
    def words(self) -> str:
        """An entry that does not fit, and why."""
        return f"{self.said} ({self.text})"


class CutSpan(Remembered):
    """Between when the stems of one cutting were cut."""

    first: datetime
    newest: datetime


class Bench(Remembered):
    """What the entries add up to."""

    containers: dict[str, Container] = field(default_factory=dict)
    closed: dict[str, datetime] = field(default_factory=dict)
    # by the line that set it up: what was closed last, as another laptop may know it still
    washed: dict[str, Container] = field(default_factory=dict)
    shelves: dict[str, Shelf] = field(default_factory=dict)
    founders: "dict[str, FounderIntake]" = field(default_factory=dict)
    broods: "dict[str, BroodBegun]" = field(default_factory=dict)
    # by brood: where its young ones were taken from the wild, as records of founders
    catches: "dict[str, list[FounderIntake]]" = field(default_factory=dict)
    tallies: dict[str, Tally] = field(default_factory=dict)
    parasitoids: "list[Parasitoid]" = field(default_factory=list)
    specimens: dict[str, str] = field(default_factory=dict)  # by number, as folded: from where
    pairings: "list[Paired]" = field(default_factory=list)
    # by founder or brood: the mates of all that coupled or left
    mated: dict[str, Mates] = field(default_factory=dict)
    planned: "list[PairingPlanned]" = field(default_factory=list)
    # by the codes of both founders, in order, a line each
    related: "dict[str, Related]" = field(default_factory=dict)
    # by brood: how many of it nobody can tell from others
    mixed: dict[str, int] = field(default_factory=dict)
    # by a code that two animals got: the own codes of the later ones
    given_twice: dict[str, list[str]] = field(default_factory=dict)
    # by code, as said: of which of two mothers with one code it is, its animals will tell
    begun_of_either: "dict[str, BroodBegun]" = field(default_factory=dict)
    # by founder or brood: the lines that stand for the same one, and count less than a later one
    said_anew: dict[str, list[str]] = field(default_factory=dict)
    records_apart: dict[str, str] = field(
        default_factory=dict
    )  # by founder what two laptops bettered otherwise, in words
    relabel: list[str] = field(default_factory=list)  # own codes that no label has yet
    shortfalls: list[Shortfall] = field(default_factory=list)
    escaped: list[Shortfall] = field(default_factory=list)  # which may be found again
    # by founder code: the mark that it is known by
    marks: dict[str, str] = field(default_factory=dict)
    # by founder code, else container
    release_by: "dict[str, ReleaseBy]" = field(default_factory=dict)
    permits: "dict[str, Permit]" = field(default_factory=dict)
    taxa: "dict[str, Taxon]" = field(default_factory=dict)
    # by species, then by stage
    constants: "dict[str, dict[str, ThermalConstants]]" = field(default_factory=dict)
    # the keeper's dates, by brood, then by change
    expected: "dict[str, dict[str, Expected]]" = field(default_factory=dict)
    passed: list[StageCompletion] = field(default_factory=list)
    # by brood, the youngest instar that any pupated from
    pupated_from: dict[str, int] = field(default_factory=dict)
    laid: dict[str, dict[str, OnPlant]] = field(default_factory=dict)  # by species, then by plant
    # by plant and how kept
    stayed_fresh: dict[str, list[StayedFresh]] = field(default_factory=dict)
    # by question, stage, hours since the last, plant
    looks_made: dict[str, Looks] = field(default_factory=dict)
    # by name, then by how kept
    plants: "dict[str, dict[str, PlantKnown]]" = field(default_factory=dict)
    # by plant: the species that it was put in for; "" where nobody knows or it is for any
    put_in_for: dict[str, tuple[str, ...]] = field(default_factory=dict)
    # of shelves, species, settings and the like: by how a line of it begins, then by field
    said_by: dict[str, dict[str, SaidBy]] = field(default_factory=dict)
    # of the keeper's own dates: by change, or as 'release by', then by whom it is of
    dates_said: dict[str, dict[str, SaidBy]] = field(default_factory=dict)
    plan: "list[PlanChanged]" = field(default_factory=list)
    settings: dict[str, str] = field(default_factory=dict)
    rounds: list[Round] = field(default_factory=list)
    food_made: dict[str, datetime] = field(default_factory=dict)
    put_off: "list[PutOff]" = field(default_factory=list)
    # by place: container, shelf, or "" for the room
    air: "dict[str, list[Air]]" = field(default_factory=dict)
    logged: "dict[str, list[LoggerRead]]" = field(default_factory=dict)  # by place, as air
    notes: list[CardNote] = field(default_factory=list)
    imports: "list[Imported]" = field(default_factory=list)  # old tables that were taken in
    last_batch: str = ""
    # when each was cut, by plant and letter, the newest last; several where two have it
    cuttings: dict[str, list[CutSpan]] = field(default_factory=dict)
    strikes: dict[str, str] = field(default_factory=dict)  # id of the strike: id of what it strikes
    oddities: list[Oddity] = field(default_factory=list)
    entries: int = 0
    newest: datetime | None = None
    began: datetime | None = None  # when the first of all entries was written down

    def named_as(self, later: "Bench") -> "Bench":
        """This bench of an earlier time, with the names and rules that are known later: codes are
        given for good."""
        for name in (
            "founders",
            "broods",
            "given_twice",
            "begun_of_either",
            "said_anew",
            "related",
            "marks",
            "permits",
            "specimens",
            "taxa",
            "constants",
            "plants",
            "settings",
        ):
            setattr(self, name, dict(getattr(later, name)))
        self.shelves = later.shelves | self.shelves
        self.plan = list(later.plan)
        self.last_batch = later.last_batch
        return self

    def standing(self) -> Iterator[Container]:
        """The containers that stand on the bench now."""
        return (container for container in self.containers.values() if container.closed is None)

    def at(self, code: str) -> Container | None:
        """The standing container of that code."""
        container = self.containers.get(code)
        return container if container and container.closed is None else None

    def free_code(self, letters: str) -> str:
        """The first code with those letters that no container has or had, no animal and no shelf,
        and with no digit that is easily misread on a label: ``E4``."""
        names = (self.containers, self.closed, self.shelves, self.founders, self.broods)
        used, code = {code.casefold() for one in names for code in one}, f"{letters}1"
        while MISREAD & set(code):
            code = code_after(code, used)
        return code

    def marked(self, mark: str) -> str:
        """The founder that is known by a mark, in any case: the one that stands here, else the
        last; '' where none is."""
        fits = [code for code, own in self.marks.items() if own.casefold() == mark.casefold()]
        return (self.bearers(mark) or fits or [""])[-1]

    def bearers(self, mark: str) -> list[str]:
        """The founders that stand here with a mark, in any case: several where laptops apart gave
        it to each of them."""
        return [
            code
            for code, own in self.marks.items()
            if own.casefold() == mark.casefold()
            and any(code in lot.codes for container in self.standing() for lot in container.lots)
        ]

    def unmarked(self, codes: Iterable[str]) -> tuple[str, ...]:
        """Those of these animals that have no mark."""
        return tuple(sorted({code for code in codes if code not in self.marks}))

    def code_alone(self, text: str, here: str = "") -> str:
        """The standing container whose code is all that was typed or scanned; empty where it is
        not.

        ``here`` is the code that the line may have begun with before another was scanned into it.
        """
        words = text.split()
        if len(words) == 2 and words[0] == here:
            del words[0]
        if len(words) != 1:
            return ""
        if self.at(words[0]):
            return words[0]
        alike = [
            container.code
            for container in self.standing()
            if container.code.casefold() == words[0].casefold()
        ]
        return alike[0] if len(alike) == 1 else ""

    def taxon_of(self, code: str) -> str:
        """The taxon of a founder or brood, followed up to its mothers where the brood does not say.

        Where it can be one of several, each is named: ``Aus bus or Cus dus``; '' where nobody said
        it of one of them.
        """
        if code in self.founders:
            return self.founders[code].taxon
        brood = self.broods.get(code)
        if brood and brood.taxon:
            return brood.taxon
        taxa = set(self._taxa(code, set()))
        return "" if "" in taxa else one_of(taxa)

    def _taxa(self, code: str, seen: set[str]) -> Iterator[str]:
        """The taxa that animals of a code can be of, '' if nobody said it."""
        for member in members(code):
            brood = self.broods.get(member)
            if member in self.founders:
                yield self.founders[member].taxon
            elif brood is None or brood.taxon or not brood.mothers:
                yield brood.taxon if brood else ""
            elif member not in seen:
                seen.add(member)
                for mother in brood.mothers:
                    yield from self._taxa(mother, seen)

    def shelf_of(self, container: Container) -> Shelf | None:
        """The shelf on which a container, or what it stands in, stands; None where it was never set
        up."""
        around: Container | None = container
        passed: set[str] = set()
        while around and not around.shelf and around.code not in passed:
            passed.add(around.code)
            around = self.containers.get(around.inside)
        return self.shelves.get(around.shelf) if around else None

    def species_of(self, code: str) -> "Taxon | None":
        """What the keeper holds true of the species of a founder or brood; None where nothing was
        said of it."""
        return self.taxa.get(self.taxon_of(code)) if self.taxa else None

    def is_fed(self, lot: Lot) -> bool:
        """Whether animals of a lot are adults that take food."""
        known = self.species_of(lot.brood) if lot.stage == "adult" else None
        return lot.stage == "adult" and not (known and known.no_adult_food)

    def sex_of(self, code: str) -> Sex:
        """The sex of a founder, as far as it is known; one that came in young was never looked at
        for it unless it says male."""
        founder = self.founders.get(code)
        known = founder and (founder.stage == "adult" or founder.sex == "male")
        return founder.sex if founder and known else ""

    def may_lay(self, lot: Lot) -> tuple[str, ...]:
        """The codes of a lot of adults that may be of females: where nobody knows which of both
        sexes these are, no founder that is a male."""
        if lot.stage != "adult" or lot.sex == "male":
            return ()
        return tuple(code for code in lot.codes if self.sex_of(code) != "male")

    def may_be_females(self, lot: Lot) -> int:
        """How many of a lot may be females at most: of founders no more than came in as such or
        with no known sex."""
        codes = self.may_lay(lot)
        if not codes or lot.sex or any(code not in self.founders for code in lot.codes):
            return lot.number if codes else 0
        return min(lot.number, len(codes))

    def short_name(self, code: str) -> str:
        """The short name for the bench line: the keeper's, else the last word of the taxon, else
        the code."""
        taxa = members(self.taxon_of(code))
        known = [one.short if (one := self.taxa.get(taxon)) else "" for taxon in taxa]
        return (
            OR.join(
                short or taxon.split()[-1]
                for short, taxon in zip(known, taxa, strict=True)
                if taxon
            )
            or code
        )

    def moat_of(self, container: Container) -> tuple[str, Barrier, Moat]:
        """The barrier that guards a container: its own, else that of what it stands in, else its
        shelf's.

        Returns:
            Whose barrier it is (a container or shelf name), what it is, and how it was last seen.
        """
        around: Container | None = container
        passed: set[str] = set()
        while around and around.code not in passed:
            if around.barrier != "none":
                return around.code, around.barrier, around.moat
            passed.add(around.code)
            around = self.containers.get(around.inside)
        shelf = self.shelves.get(container.shelf)
        if shelf and shelf.barrier != "none":
            return shelf.name, shelf.barrier, shelf.moat
        return container.code, container.barrier, container.moat

    def places_of(self, code: str) -> tuple[str, ...]:
        """Where temperatures that hold for a container may have been read: it, what it stands in,
        its shelf, the room ('').

        A shelf's name, or '' for the room, gives that place and the room; what stands apart from
        the room is not as warm.
        """
        texts: list[str] = []
        container = self.containers.get(code)
        shelf = "" if container else code
        while container and container.code not in texts:
            texts.append(container.code)
            shelf = shelf or container.shelf
            container = self.containers.get(container.inside)
        room = () if self.is_apart(shelf) else ("",)
        return tuple(dict.fromkeys([*texts, shelf, *room]))

    def is_apart(self, shelf: str) -> bool:
        """Whether a shelf of that name is a place of its own, apart from the room."""
        return shelf in self.shelves and self.shelves[shelf].apart

    def barrier_named(self, container: str, shelf: str = "") -> Barrier:
        """What kind of barrier a container or a shelf has; 'none' where there is none of that
        name."""
        if shelf in self.shelves:
            return self.shelves[shelf].barrier
        here = self.at(container)
        return self.moat_of(here)[1] if here else "none"

    @property
    def misfits(self) -> list[Oddity]:
        """The entries that do not fit what came before them, the oldest first: a crossed-out or
        late line took it away."""
        return [oddity for oddity in self.oddities if oddity.said]

    @property
    def lacking(self) -> list[str]:
        """The codes of containers and parents that lines speak of and no line that is here gave,
        nor did one that was crossed out."""
        return list(dict.fromkeys(oddity.lacks for oddity in self.oddities if oddity.lacks))

    @property
    def open_round(self) -> Round | None:
        """The round that was started last and not finished."""
        last = self.rounds[-1] if self.rounds else None
        return last if last and last.finished is None else None
