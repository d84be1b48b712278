"""Animals followed through the entries: who began a stage when, where they stood meanwhile, and how
the stage ended.

The bench counts animals; it does not know one from another. Here those that began a stage first are
taken to end it first; of those that began it together, those that died, left or were not seen are
taken evenly, for nobody knows which they were. Where all come through, the mean of a duration is
the same whoever is whose, and only shortest and longest rest on that; where dead ones are noticed
long after the others went on, durations come out longer than they were.

Animals of which nobody knows which they are ('W2 or W3') are followed under that code. What became
of them counts once for their species; of each of W2 and W3 alone no more is known than that it was
alive until then (``mixed``).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator
from datetime import datetime, timedelta
from itertools import groupby
from typing import Any

from msgspec import Struct, field
from msgspec.structs import replace

from rounds.bench.beginnings import even_parts
from rounds.bench.codes import OR, in_order, members, one_of
from rounds.bench.folding.stage_completions import SAME_LOOK
from rounds.bench.folding.unsure import surely_of
from rounds.bench.movements import (
    BACK,
    COUNTED,
    ESCAPED,
    GROWN,
    HATCHED,
    INSTAR_KNOWN,
    INSTAR_UNKNOWN,
    MISCOUNTED,
    MOULTED,
    MOVED,
    NOT_DATED,
    NOT_SEEN,
    PUPATED,
    RENAMED,
    SEEN_AGAIN,
    Carried,
    Group,
    Movement,
    shares,
    stage_name,
)
from rounds.bench.state import Bench
from rounds.entries.base import Sex
from rounds.entries.registry import Closed, HostOut
from rounds.tallies.plants_had import PlantsHad
from rounds.tallies.stems_in import StemsIn

IN_HAND = (MOVED, SEEN_AGAIN, BACK)  # who goes thus, and stays in its stage, is seen alive
NOT_KNOWN = "not known"  # the fate of those whose record ends


_RANKS = {"egg": 0, "larva": 1, "pupa": 100, "adult": 101}
# no butterfly or moth pupates before its third instar: common practice, no source
LAST_INSTAR_AT_LEAST = 4  # the rank of L3


def rank(stage: str) -> int:
    """Where a stage stands in the order of a life."""
    return _RANKS[stage] if stage in _RANKS else 1 + int(stage[1:])


def is_instar(stage: str) -> bool:
    """Whether a stage is a larval instar by its number."""
    return stage not in _RANKS


class Stay(Struct, frozen=True):
    """In which container from when on, and where temperatures that hold for it may have been read,
    the nearest first."""

    container: str
    places: tuple[str, ...]
    since: datetime


class Name(Struct, frozen=True):
    """What animals were known as, until when."""

    until: datetime
    brood: str
    sex: Sex = ""
    crippled: bool = False


class Cohort(Struct, frozen=True):
    """Animals of one brood that began a stage together; eggs and what was brought in began it
    between two times."""

    brood: str
    stage: str
    number: int
    begun_from: datetime
    begun_to: datetime
    sex: Sex = ""
    laid: tuple[datetime, datetime] | None = None
    hatched: datetime | None = None
    stays: tuple[Stay, ...] = ()
    begin_known: bool = True  # not for what came in from outside after its stage had begun
    rested: tuple[str, ...] = ()  # the stages in which they were in diapause
    may_be: tuple[str, ...] = ()  # in which instars, where nobody knows
    was_instar: str = ""  # the instar they were in before nobody knew it
    by_hatching: bool = False  # nobody knew of them as eggs before they had hatched
    ate: tuple[str, ...] = ()  # the host plants that they had in the stages before, as larvae
    seen: datetime | None = None  # when a line last saw them all alive, in this stage or before
    was_brood: str = ""  # of those that nobody could tell from others: the brood they were known as
    was_sex: Sex = ""  # and the sex
    crippled: bool = False  # an adult whose wings failed
    named: tuple[Name, ...] = ()  # what they were known as before they were told apart, or mixed

    @property
    def last_known(self) -> datetime:
        """Until when it is known that they were alive: of those that are not seen any more."""
        return max(self.begun_to, self.seen or self.begun_to)

    @property
    def came(self) -> datetime:
        """When they came on the bench: found as eggs, or brought in."""
        return self.stays[0].since if self.stays else self.begun_from

    @property
    def laid_and_seen(self) -> tuple[datetime, datetime] | None:
        """Between when they were laid, of those that were known of as eggs: with the others, none
        that died as eggs came."""
        return None if self.by_hatching else self.laid

    @property
    def begun(self) -> datetime:
        """The middle of the time between which the stage began."""
        return self.begun_from + (self.begun_to - self.begun_from) / 2


class Entered(Struct, frozen=True):
    """Animals that came to a stage from outside: found as eggs, put in, or more than on record in a
    count."""

    cohort: Cohort
    at: datetime
    by_count: bool = False


class Passage(Struct, frozen=True):
    """Animals that ended a stage and began another; ``at_least`` so many, where nobody wrote down
    how many did; ``in_days`` where it was said how long the stage took, though not when it
    began: its begin is reckoned back from its end, which may be not dated itself."""

    cohort: Cohort
    to: str
    at: datetime
    evidence: str = "seen"
    entry: str = ""  # the line that said so
    plants: tuple[str, ...] = ()  # those that larvae had in the stage, else that stood there then
    at_least: bool = False
    in_days: bool = False


class Ended(Struct, frozen=True):
    """Animals that are no longer on the bench: when, by what fate, of what cause."""

    cohort: Cohort
    fate: str
    at: datetime
    cause: str = ""
    entry: str = ""  # the line that said so
    plants: tuple[str, ...] = ()  # the host plants that stood with them then


class SeenAlive(Struct, frozen=True, tag_field="what", tag="seen alive"):
    """All animals of these groups were seen alive: a count found them, or those of an answer were
    all there are."""

    at: datetime
    groups: tuple[Group, ...]


class Mixed(Struct, frozen=True):
    """Animals that from then on nobody could tell from those of other broods."""

    cohort: Cohort
    at: datetime


class CourseShare(Struct):
    """What became of the animals of some broods; ``mixed`` those that nobody can tell from others
    any more."""

    entered: list[Entered] = field(default_factory=list)
    passages: list[Passage] = field(default_factory=list)
    ended: list[Ended] = field(default_factory=list)
    alive: list[Cohort] = field(default_factory=list)
    not_seen: list[Cohort] = field(default_factory=list)
    mixed: list[Mixed] = field(default_factory=list)

    @property
    def number(self) -> int:
        """How many are here, not seen or ended."""
        cohorts = (*self.alive, *self.not_seen, *(ending.cohort for ending in self.ended))
        return sum(cohort.number for cohort in cohorts)

    def cohorts(self) -> list[Cohort]:
        """All of them, as often as something became of them."""
        cohorts = [passage.cohort for passage in self.passages] + [
            ending.cohort for ending in self.ended
        ]
        cohorts += [mixed.cohort for mixed in self.mixed] + [
            entered.cohort for entered in self.entered
        ]
        return [*cohorts, *self.alive, *self.not_seen]

    @property
    def lacks_instars(self) -> bool:
        """Whether some became pupae of whom no moult was written down, though they must have had
        some: of none of them is known in which instar it died or was."""
        of_larvae = [one for one in self.passages if is_instar(one.cohort.stage)]
        return any(
            one.to in ("pupa", "adult") and rank(one.cohort.stage) < LAST_INSTAR_AT_LEAST
            for one in of_larvae
        ) and not any(is_instar(one.to) for one in of_larvae)

    def with_larvae_as_one(self) -> CourseShare:
        """The same animals, all larvae in one stage."""

        def pooled(stage: str) -> str:
            return "larva" if rank("larva") <= rank(stage) < rank("pupa") else stage

        def of_all(cohort: Cohort) -> Cohort:
            return replace(cohort, stage=pooled(cohort.stage), may_be=())

        passages = [
            replace(one, cohort=of_all(one.cohort), to=pooled(one.to)) for one in self.passages
        ]
        return CourseShare(
            [replace(one, cohort=of_all(one.cohort)) for one in self.entered],
            [one for one in passages if one.to != one.cohort.stage],
            [replace(one, cohort=of_all(one.cohort)) for one in self.ended],
            [of_all(cohort) for cohort in self.alive],
            [of_all(cohort) for cohort in self.not_seen],
            [replace(one, cohort=of_all(one.cohort)) for one in self.mixed],
        )

    def add(self, other: CourseShare) -> None:
        """Take in what became of others."""
        for name in CourseShare.__struct_fields__:
            getattr(self, name).extend(getattr(other, name))


class Course(CourseShare, kw_only=True):
    """What became of every animal, up to now."""

    bench: Bench = field(default_factory=Bench)
    _sorted: dict[str, CourseShare] = field(default_factory=dict)

    def of(self, broods: Collection[str], *, one_by_one: bool = False) -> CourseShare:
        """What became of the animals of some broods only.

        Args:
            one_by_one: those alone that are known; of the others only that nobody can tell them
                from others any more.
        """
        course_share = CourseShare()
        for brood in dict.fromkeys(broods):
            course_share.add(self._parts.get(brood, CourseShare()))
        if self.mixed:
            self._tell_mixed(course_share, set(broods), one_by_one=one_by_one)
        return course_share

    def _tell_mixed(self, found: CourseShare, broods: set[str], *, one_by_one: bool) -> None:
        """Where all that an animal may be of are asked about, it does not matter which of them it
        was.

        Of the others those count of whom it is sure: where one of ten died, five of each brood,
        four of each live.
        """
        found.mixed = [
            mixed
            for mixed in found.mixed
            if not broods.issuperset(self.mixed_with(mixed.cohort.brood))
        ]
        for code, part in self._parts.items():
            if OR in code and broods.issuperset(members(code)):
                found.add(part)
            elif OR in code and not broods.isdisjoint(members(code)) and not one_by_one:
                sure = _sure(part, *self._share_in(code, broods))
                found.add(sure)
                found.mixed = _fewer(found.mixed, broods & set(members(code)), sure.number)

    def _share_in(self, code: str, broods: set[str]) -> tuple[int, int]:
        """How many of those that nobody can tell apart are of these broods, and how many they are
        in all; 0 if not known."""
        if any(
            OR in other and other != code and set(members(other)) & set(members(code))
            for other in self._parts
        ):
            return 0, 0
        numbers = dict.fromkeys(members(code), 0)
        for mixed in self.mixed:
            if mixed.cohort.brood in numbers:
                numbers[mixed.cohort.brood] += mixed.cohort.number
        in_all = sum(numbers.values())
        if in_all != self._parts[code].number:
            return 0, 0
        return sum(number for brood, number in numbers.items() if brood in broods), in_all

    @property
    def codes(self) -> tuple[str, ...]:
        """Every founder and brood that animals are of, and ``A or B`` where nobody knows which."""
        return tuple(self._parts)

    def told_apart(self, brood: str) -> CourseShare:
        """What became of those of a brood or founder that are known one by one."""
        return self._parts.get(brood, CourseShare())

    def mixed_with(self, brood: str) -> tuple[str, ...]:
        """The broods, itself among them, that some of its animals cannot be told from."""
        codes = [code for code in self._parts if OR in code and brood in members(code)]
        return members(one_of(codes)) if codes else (brood,)

    def mixed_parts(self, brood: str) -> list[CourseShare]:
        """What became of the animals that may be of this brood or of another."""
        return [self._parts[code] for code in self.unsure_codes([brood])]

    def unsure_codes(self, broods: Collection[str]) -> list[str]:
        """The codes (``A or B``) of animals that may be of one of these broods or of another beside
        them."""
        wanted = set(broods)
        unsure = (
            code
            for code in self._parts
            if OR in code and wanted & set(members(code)) and not wanted.issuperset(members(code))
        )
        return sorted(unsure, key=in_order)

    def codes_of_either(self) -> list[str]:
        """The codes (``A or B``) of all animals that may be of one brood or of another, founders
        aside.

        Those of whom a count has shown since which brood each is of are counted there, and have no
        code here.
        """
        unsure = (code for code in self._parts if OR in code and not self._all_told(code))
        founders = self.bench.founders.keys()
        return sorted((code for code in unsure if not founders & set(members(code))), key=in_order)

    def counted_together(self) -> dict[str, tuple[str, ...]]:
        """All broods of whom some cannot be told from others', by each of them and by each code
        (``A or B``) of these."""
        found: dict[str, tuple[str, ...]] = {}
        for code in self.codes_of_either():
            joined = dict.fromkeys(
                other for brood in members(code) for other in (brood, *found.get(brood, ()))
            )
            together = tuple(sorted(joined))
            found |= dict.fromkeys(together, together)
        return found | {code: found[members(code)[0]] for code in self.codes_of_either()}

    def _all_told(self, code: str) -> bool:
        """Whether it is known of each animal under ``A or B`` which of them it is of."""
        part = self._parts[code]
        told = sum(_sure(part, *self._share_in(code, {brood})).number for brood in members(code))
        return told == part.number

    @property
    def _parts(self) -> dict[str, CourseShare]:
        """What became of the animals of each brood, sorted out once it is asked for."""
        if not self._sorted:
            self._sorted = self._sort_out()
        return self._sorted

    def _sort_out(self) -> dict[str, CourseShare]:
        parts: defaultdict[str, CourseShare] = defaultdict(CourseShare)
        for entered in self.entered:
            parts[entered.cohort.brood].entered.append(entered)
        for passage in self.passages:
            parts[passage.cohort.brood].passages.append(passage)
        for ended in self.ended:
            parts[ended.cohort.brood].ended.append(ended)
        for cohort in self.alive:
            parts[cohort.brood].alive.append(cohort)
        for cohort in self.not_seen:
            parts[cohort.brood].not_seen.append(cohort)
        for mixed in self.mixed:
            parts[mixed.cohort.brood].mixed.append(mixed)
        lack = {one for code, part in parts.items() if part.lacks_instars for one in members(code)}
        return {
            code: part if lack.isdisjoint(members(code)) else part.with_larvae_as_one()
            for code, part in parts.items()
        }


class Cohorts:
    """Follows cohorts through what moves."""

    def __init__(self) -> None:
        self._entered: list[Entered] = []
        self._passages: list[Passage] = []
        self._ended: list[Ended] = []
        self._mixed: list[Mixed] = []
        self._here: dict[Group, list[Cohort]] = {}  # on the bench, or not seen
        self._plants = PlantsHad()
        # those that were told apart again from those they were mixed with
        self._apart: set[str] = set()

    def take(self, one: Movement | Carried | SeenAlive | StemsIn | HostOut | Closed) -> None:
        """Follow one movement, a container carried elsewhere, animals that were seen, or stems that
        come or go."""
        if isinstance(one, Movement):
            self._follow(one)
        elif isinstance(one, Carried):
            self._carried(one)
        elif isinstance(one, SeenAlive):
            for group in one.groups:
                cohorts = self._here.get(group, [])
                self._here[group] = [replace(cohort, seen=one.at) for cohort in cohorts]
        else:
            self._plants.take(one)

    def course(self, bench: Bench) -> Course:
        """What became of every animal up to now."""
        course = Course(
            list(self._entered),
            list(self._passages),
            list(self._ended),
            mixed=list(self._mixed),
            bench=bench,
        )
        for code in self._apart & bench.founders.keys():
            _is_none_of(course, code)
        for group, cohorts in self._here.items():
            (course.not_seen if group.missing else course.alive).extend(cohorts)
        return course

    def _follow(self, movement: Movement) -> None:
        those = self._those(movement)
        if movement.how == INSTAR_KNOWN and movement.after:
            those = self._known_as(those, movement.after.stage_name)
        for cohort, is_newly_come in _newly_come_first(those, movement.by_hatching):
            after = movement.after
            if movement.how == MISCOUNTED and self._never_came(cohort):
                continue
            if after is None:
                is_lost = movement.how == NOT_KNOWN and movement.before and movement.before.missing
                self._ended.append(
                    Ended(
                        _known_by(cohort, movement),
                        movement.how,
                        cohort.last_known if is_lost else movement.at,
                        movement.cause,
                        movement.entry,
                        movement.plants,
                    )
                )
                continue
            now = replace(cohort, seen=movement.at) if movement.how in IN_HAND else cohort
            if movement.how == RENAMED:
                now = self._renamed(cohort, after, movement.at)
            elif is_newly_come:
                now = replace(
                    cohort,
                    stage=after.stage_name,
                    begun_from=movement.at,
                    begun_to=movement.at,
                    begin_known=False,
                    by_hatching=True,
                )
                self._came_hatched(cohort, now)
            elif movement.how in GROWN:
                if movement.rested:
                    cohort = replace(cohort, rested=(*cohort.rested, cohort.stage))
                plants = self._plants_had(cohort, movement)
                self._passages.append(
                    Passage(
                        _begun_by_days(cohort, movement),
                        after.stage_name,
                        movement.at,
                        movement.evidence,
                        movement.entry,
                        plants,
                        movement.at_least,
                        movement.days is not None,
                    )
                )
                now = replace(
                    cohort,
                    stage=after.stage_name,
                    begun_from=movement.at,
                    begun_to=movement.at,
                    sex=after.sex,
                    crippled=after.crippled,
                    hatched=_hatched_at(movement, cohort),
                    begin_known=movement.evidence != NOT_DATED,
                    may_be=(),
                    was_instar="",
                    ate=tuple(dict.fromkeys((*cohort.ate, *plants)))
                    if movement.how in (MOULTED, PUPATED)
                    else cohort.ate,
                )
            elif movement.how == INSTAR_KNOWN:
                now = replace(cohort, stage=after.stage_name, may_be=(), was_instar="")
                if not cohort.may_be:
                    self._came_as(cohort, now.stage)
            elif movement.how == INSTAR_UNKNOWN:
                now = replace(
                    cohort,
                    stage=after.stage_name,
                    may_be=tuple(stage_name("larva", instar) for instar in movement.instars),
                    was_instar=cohort.was_instar if cohort.may_be else cohort.stage,
                )
            if movement.places and (not now.stays or now.stays[-1].container != after.container):
                now = replace(
                    now, stays=(*now.stays, Stay(after.container, movement.places, movement.at))
                )
            self._here.setdefault(after, []).append(now)
        if movement.how == RENAMED and movement.before and movement.after:
            self._told_apart(movement.before.brood, movement.after.brood, movement.number)

    def _known_as(self, those: list[Cohort], stage: str) -> list[Cohort]:
        """Larvae that turn out to be of an instar: where they were taken for those of another, some
        of it are among those that died or are missing, and change with them."""
        known = []
        for cohort in those:
            left = cohort.number
            if cohort.was_instar not in ("", stage):
                for other in self._taken_for_others(cohort, stage):
                    left -= other.number
                    known.append(replace(other, stays=cohort.stays, seen=cohort.seen))
            known += [replace(cohort, number=left)] if left else []
        return known

    def _taken_for_others(self, cohort: Cohort, stage: str) -> Iterator[Cohort]:
        """Those of an instar that died or are missing, in whose place as many of a cohort are put
        that were taken for it."""
        left = cohort.number
        for place, ended in enumerate(list(self._ended)):
            if share := _exchanged(cohort, ended.cohort, stage, left):
                left -= share
                now, *rest = _with_exchanged(ended.cohort, cohort, share)
                self._ended[place] = replace(ended, cohort=now)
                self._ended += [replace(ended, cohort=one) for one in rest]
                yield replace(ended.cohort, number=share)
        for cohorts in [several for group, several in self._here.items() if group.missing]:
            for place, other in enumerate(list(cohorts)):
                if share := _exchanged(cohort, other, stage, left):
                    left -= share
                    cohorts[place], *rest = _with_exchanged(other, cohort, share)
                    cohorts += rest
                    yield replace(other, number=share)

    def _plants_had(self, cohort: Cohort, movement: Movement) -> tuple[str, ...]:
        """What larvae had in the stage that they end; of others what stands with them then."""
        if movement.how not in (MOULTED, PUPATED):
            return movement.plants
        return self._plants.during(cohort.stays, cohort.begun_from, movement.at, movement.plants)

    def _those(self, movement: Movement) -> list[Cohort]:
        """The cohorts that a movement is of."""
        before = movement.before
        if before is None:
            return [self._came(movement)]
        if movement.how == BACK:
            return self._not_escaped(before, movement.number)
        waiting = sorted(
            self._here.pop(before, []),
            key=lambda cohort: (
                not movement.by_hatching or movement.at - cohort.came >= SAME_LOOK,
                _is_told_otherwise(movement, cohort),
                _is_of_another_instar(movement, cohort),
                cohort.begun,
            ),
        )
        of_any = not before.missing and (
            movement.after is None or movement.how in (NOT_SEEN, INSTAR_UNKNOWN)
        )
        if movement.how == MOVED or (of_any and not movement.first):
            out = _even_shares(waiting, movement.number)
        elif of_any:
            out = _shares_of_any(waiting, movement.number)
        else:
            out = shares(waiting, movement.number)
        gone = {id(cohort): share for cohort, share in out}
        rest = [
            replace(cohort, number=left)
            for cohort in waiting
            if (left := cohort.number - gone.get(id(cohort), 0))
        ]
        if rest:
            self._here[before] = rest
        return [replace(cohort, number=share) for cohort, share in out]

    def _not_escaped(self, group: Group, number: int) -> list[Cohort]:
        """Those that escaped and were found again: the newest of those that ended thus did not
        end."""
        cohorts = []
        for ended in list(reversed(self._ended)):
            cohort = ended.cohort
            is_alike = (cohort.brood, cohort.stage, cohort.sex, cohort.crippled) == (
                group.brood,
                group.stage_name,
                group.sex,
                group.crippled,
            )
            if (
                not number
                or ended.fate != ESCAPED
                or not is_alike
                or cohort.stays[-1].container != group.container
            ):
                continue
            share = min(number, cohort.number)
            number -= share
            self._ended.remove(ended)
            if cohort.number > share:
                self._ended.append(
                    replace(ended, cohort=replace(cohort, number=cohort.number - share))
                )
            cohorts.append(replace(cohort, number=share))
        return cohorts

    def _came(self, movement: Movement) -> Cohort:
        assert movement.after is not None
        known = movement.laid is not None and movement.after.stage == "egg"
        begun = movement.laid if movement.laid and known else (movement.at, movement.at)
        came = Cohort(
            movement.after.brood,
            movement.after.stage_name,
            movement.number,
            *begun,
            movement.after.sex,
            movement.laid,
            begin_known=known,
            crippled=movement.after.crippled,
        )
        self._entered.append(Entered(came, movement.at, movement.how == COUNTED))
        return came

    def _never_came(self, cohort: Cohort) -> bool:
        """Take those that were never there off those that came, first off those that only a count
        brought; False where they have grown since, so that what they passed stays told."""
        theirs = [
            entered
            for entered in self._entered
            if (entered.cohort.brood, entered.cohort.stage) == (cohort.brood, cohort.stage)
        ]
        is_as_it_came = any(entered.cohort.begun == cohort.begun for entered in theirs)
        if not is_as_it_came or sum(one.cohort.number for one in theirs) < cohort.number:
            return False
        theirs.sort(key=lambda entered: (entered.by_count, entered.at), reverse=True)
        left = cohort.number
        for entered in theirs:
            position, came = self._entered.index(entered), entered.cohort
            share = min(left, came.number)
            left -= share
            self._entered[position] = replace(
                entered, cohort=replace(came, number=came.number - share)
            )
        self._entered = [entered for entered in self._entered if entered.cohort.number]
        return True

    def _came_as(self, cohort: Cohort, stage: str) -> None:
        """What came as larvae, nobody said of which instar, came in the one that is known now."""
        theirs = [
            entered
            for entered in self._entered
            if entered.cohort.brood in members(cohort.brood)
            and (entered.cohort.stage, entered.cohort.begun) == (cohort.stage, cohort.begun)
        ]
        self._came_otherwise(theirs, cohort.number, stage=stage)

    def _came_hatched(self, eggs: Cohort, now: Cohort) -> None:
        """What was put on record as eggs that had hatched came as larvae."""
        theirs = [
            entered
            for entered in self._entered
            if (entered.at, entered.cohort.brood, entered.cohort.stage)
            == (eggs.came, eggs.brood, eggs.stage)
        ]
        self._came_otherwise(theirs, now.number, stage=now.stage, by_hatching=True)

    def _came_otherwise(self, theirs: list[Entered], number: int, **now: Any) -> None:
        """So many of those that came were other than was said as they came."""
        for entered in theirs:
            came = entered.cohort
            if share := min(number, came.number):
                position = self._entered.index(entered)
                self._entered[position] = replace(
                    entered, cohort=replace(came, number=share, **now)
                )
                if came.number > share:
                    self._entered.append(
                        replace(entered, cohort=replace(came, number=came.number - share))
                    )
                number -= share

    def _renamed(self, cohort: Cohort, now: Group, at: datetime) -> Cohort:
        """Under another code from now on: mixed with others, or told apart again."""
        if OR not in cohort.brood and now.brood != cohort.brood:
            self._mixed.append(Mixed(cohort, at))
        return replace(
            cohort,
            brood=now.brood,
            sex=now.sex,
            crippled=now.crippled,
            named=(*cohort.named, Name(at, cohort.brood, cohort.sex, cohort.crippled)),
            was_brood=cohort.was_brood or (cohort.brood if OR in now.brood else ""),
            was_sex=cohort.was_sex or ("" if now.sex else cohort.sex),
        )

    def _told_apart(self, before: str, brood: str, number: int) -> None:
        """So many of a brood are told apart again."""
        if OR not in brood and brood != before:
            known = sum(mixed.cohort.number for mixed in self._mixed if mixed.cohort.brood == brood)
            self._mixed = _fewer(self._mixed, {brood}, number)
            self._named_after_all(brood, number - known)
            self._apart.add(brood)

    def _named_after_all(self, brood: str, number: int) -> None:
        """So many more of a brood were told apart than were mixed with others: they came when
        nobody could tell."""
        for position, one in enumerate(self._entered if number > 0 else ()):
            cohort = one.cohort
            share = (
                min(number, cohort.number)
                if OR in cohort.brood and brood in members(cohort.brood)
                else 0
            )
            if share:
                number -= share
                self._entered[position] = replace(
                    one, cohort=replace(cohort, number=cohort.number - share)
                )
                self._entered.append(
                    replace(one, cohort=replace(cohort, brood=brood, number=share))
                )
        self._entered = [entered for entered in self._entered if entered.cohort.number]

    def _carried(self, carried: Carried) -> None:
        for group, cohorts in self._here.items():
            if group.container == carried.container and not group.missing:
                stay = Stay(carried.container, carried.places, carried.at)
                self._here[group] = [
                    (
                        replace(cohort, stays=(*cohort.stays, stay))
                        if cohort.stays[-1].places != carried.places
                        else cohort
                    )
                    for cohort in cohorts
                ]


def _hatched_at(movement: Movement, cohort: Cohort) -> datetime | None:
    """When animals hatched that go on now; None where that is not known."""
    if movement.how != HATCHED:
        return cohort.hatched
    return None if movement.evidence == NOT_DATED else movement.at


def _begun_by_days(cohort: Cohort, movement: Movement) -> Cohort:
    """Animals that end a stage, begun so long before as was said that it took."""
    if movement.days is None:
        return cohort
    begun = movement.at - timedelta(days=movement.days)
    return replace(cohort, begun_from=begun, begun_to=begun, begin_known=True)


def _newly_come_first(cohorts: list[Cohort], number: int) -> Iterator[tuple[Cohort, bool]]:
    """Cohorts, and whether they came on record at the very look that took their hatch from their
    signs, as so many of the first did."""
    for cohort in cohorts:
        newly = min(number, cohort.number)
        number -= newly
        for share, is_newly_come in ((newly, True), (cohort.number - newly, False)):
            if share:
                one = cohort if share == cohort.number else replace(cohort, number=share)
                yield one, is_newly_come


def _is_of_another_instar(movement: Movement, cohort: Cohort) -> bool:
    """Of larvae whose instar is known again: whether they were known as of another before."""
    is_known = movement.how == INSTAR_KNOWN and movement.after is not None
    return bool(is_known and movement.after and cohort.was_instar != movement.after.stage_name)


def _is_alike(cohort: Cohort, other: Cohort) -> bool:
    """Whether nobody can tell of which instar the larvae of two cohorts are."""
    return bool(other.may_be) and (cohort.brood, cohort.stage) == (other.brood, other.stage)


def _exchanged(cohort: Cohort, other: Cohort, stage: str, most: int) -> int:
    """How many of another cohort, of an instar, may as well be of this one."""
    may_be = _is_alike(cohort, other) and other.was_instar == stage
    return min(most, other.number) if may_be else 0


def _with_exchanged(other: Cohort, cohort: Cohort, number: int) -> list[Cohort]:
    """So many of a cohort where those of another were, and what is left of those."""
    left = other.number - number
    rest = [replace(other, number=left)] if left else []
    return [replace(cohort, number=number, stays=other.stays, seen=other.seen), *rest]


def _is_told_otherwise(movement: Movement, cohort: Cohort) -> int:
    """Of animals that are told apart again: 0 for those that were known as that sex and brood
    before, 2 for those of another, 1 where it was never known."""
    after = movement.after
    if movement.how != RENAMED or after is None:
        return 0
    pairs = ((cohort.was_sex, after.sex), (cohort.was_brood, after.brood))
    return max(
        (0 if was == now else 2 if was else 1 for was, now in pairs if now and OR not in now),
        default=0,
    )


def _shares_of_any(cohorts: list[Cohort], number: int) -> list[tuple[Cohort, int]]:
    """So many animals out of all cohorts: those that began first, and evenly out of those that
    began together."""
    found = []
    for _, some in groupby(cohorts, key=lambda cohort: cohort.begun):
        together = list(some)
        shared = _even_shares(together, number)
        number -= sum(share for _, share in shared)
        found += shared
    return found


def _even_shares(cohorts: list[Cohort], number: int) -> list[tuple[Cohort, int]]:
    """So many animals out of all cohorts, as the bench takes them (``bench.beginnings``): evenly of
    those that began together, then of each of these."""
    together = [
        list(some) for _, some in groupby(cohorts, key=lambda one: (one.begun_from, one.begun_to))
    ]
    found = []
    sizes = [sum(cohort.number for cohort in some) for some in together]
    for some, part in zip(together, even_parts(sizes, number), strict=True):
        parts = even_parts([cohort.number for cohort in some], part)
        found += [(cohort, share) for cohort, share in zip(some, parts, strict=True) if share]
    return found


def _known_by(cohort: Cohort, movement: Movement) -> Cohort:
    """Those that left by what their end told of them: an adult that died crippled was one whose
    wings failed, whether or not that was said as it emerged."""
    if movement.cause != "crippled" or cohort.stage != "adult" or cohort.crippled:
        return cohort
    before = Name(movement.at, cohort.brood, cohort.sex)
    return replace(cohort, crippled=True, named=(*cohort.named, before))


def _is_none_of(found: Course, founder: str) -> None:
    """A founder that was told apart is none of those that nobody could tell from it, however they
    ended."""
    for position, ended in enumerate(found.ended):
        brood = ended.cohort.brood
        if OR in brood and founder in members(brood):
            code = one_of(member for member in members(brood) if member != founder)
            found.ended[position] = replace(ended, cohort=replace(ended.cohort, brood=code))
            if OR not in code:
                found.mixed = _fewer(found.mixed, {code}, ended.cohort.number)


def _sure(part: CourseShare, own: int, in_all: int) -> CourseShare:
    """Of animals that nobody can tell apart, what is sure of so many of them whatever happened to
    which.

    Of a number with the same fate at least those are its own for which the others do not suffice;
    none if it is not known how many are its own. Since when each was in its stage is not known.
    """
    alike: defaultdict[tuple[str, ...], list[Any]] = defaultdict(list)
    for cohort in part.alive:
        alike["alive", cohort.stage].append(cohort)
    for cohort in part.not_seen:
        alike["not seen", cohort.stage].append(cohort)
    for ended in part.ended:
        alike["ended", ended.fate, ended.cohort.stage].append(ended)
    for passage in part.passages:
        alike["passage", passage.cohort.stage, passage.to].append(passage)
    course_share = CourseShare()
    for (what, *_), some in alike.items():
        number = sum(_cohort_of(one).number for one in some)
        left = surely_of(own, in_all, number) if own else 0
        for one in some:
            share = min(left, _cohort_of(one).number)
            left -= share
            cohort = replace(_cohort_of(one), number=share, begin_known=False)
            if share and what == "alive":
                course_share.alive.append(cohort)
            elif share and what == "not seen":
                course_share.not_seen.append(cohort)
            elif share and what == "ended":
                course_share.ended.append(replace(one, cohort=cohort))
            elif share:
                course_share.passages.append(
                    replace(one, cohort=replace(cohort, hatched=None, laid=None))
                )
    return course_share


def _cohort_of(one: Cohort | Ended | Passage) -> Cohort:
    return one if isinstance(one, Cohort) else one.cohort


def _fewer(mixed: list[Mixed], broods: set[str], number: int) -> list[Mixed]:
    """What is left of those of some broods that nobody can tell from others, once so many are
    sure."""
    left = []
    for one in mixed:
        share = min(one.cohort.number, number) if one.cohort.brood in broods else 0
        number -= share
        if one.cohort.number > share:
            left.append(replace(one, cohort=replace(one.cohort, number=one.cohort.number - share)))
    return left
