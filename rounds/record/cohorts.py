"""Animals followed through the entries: who began a stage when, where they stood meanwhile, and how the stage ended.

The bench counts animals; it does not know one from another. Here those that began a stage first are taken to end it
first; those that died, left or were not seen are taken evenly from all that stood there, for nobody knows which they
were and the oldest are no likelier to die. Where all come through, the mean of a duration is the same whoever is whose,
and only shortest and longest rest on that; where dead ones are noticed long after the others went on, durations come out
longer than they were.

Animals of which nobody knows which they are ('W2 or W3') are followed under that code. What became of them counts once
for their species; of each of W2 and W3 alone no more is known than that it was alive until then (``mixed``).
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from rounds.bench import kinds as k
from rounds.bench.folding import apply
from rounds.bench.folding.unsure import Regrouped, regroup
from rounds.bench.kept_lots import named
from rounds.bench.kinds.base import Entry, Sex
from rounds.bench.state import OR, Bench, Shortfall, members, one_of
from rounds.record.replay import that_count
from rounds.record.warmth import places_of

GROWTH = (k.Hatched, k.Moulted, k.Pupated, k.Emerged)
MOVES = (k.Moved, k.Split, k.Merged)
LEAVING = (k.Died, k.Escaped, k.Released, k.Preserved)
COMING = (k.FounderIntake, k.Stocked, k.Searched)
NOT_SEEN = "not seen"
ESTIMATED = "fewer by an estimate"

Key = tuple[str, str, str, int, str]  # container, brood, stage, instar, sex


@dataclass(frozen=True, slots=True)
class Stay:
    """In which container from when on, and where temperatures that hold for it may have been read, the nearest first."""

    container: str
    places: tuple[str, ...]
    since: datetime


@dataclass(frozen=True, slots=True)
class Cohort:
    """Animals of one brood that began a stage together; eggs and what was brought in began it between two times."""

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

    @property
    def came(self) -> datetime:
        """When they came on the bench: found as eggs, or brought in."""
        return self.stays[0].since if self.stays else self.begun_from

    @property
    def begun(self) -> datetime:
        """The middle of the time between which the stage began."""
        return self.begun_from + (self.begun_to - self.begun_from) / 2


@dataclass(frozen=True, slots=True)
class Entered:
    """Animals that came to a stage from outside: found as eggs, put in, or more than on record in a count."""

    cohort: Cohort
    at: datetime
    by_count: bool = False


@dataclass(frozen=True, slots=True)
class Passage:
    """Animals that ended a stage and began another."""

    cohort: Cohort
    to: str
    at: datetime
    evidence: str = "seen"


@dataclass(frozen=True, slots=True)
class Ended:
    """Animals that are no longer on the bench: when, by what fate, of what cause."""

    cohort: Cohort
    fate: str
    at: datetime
    cause: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True)
class Mixed:
    """Animals that from then on nobody could tell from those of other broods."""

    cohort: Cohort
    at: datetime


@dataclass(slots=True)
class Part:
    """What became of the animals of some broods; ``mixed`` those that nobody can tell from others any more."""

    entered: list[Entered] = field(default_factory=list)
    passages: list[Passage] = field(default_factory=list)
    ended: list[Ended] = field(default_factory=list)
    alive: list[Cohort] = field(default_factory=list)
    not_seen: list[Cohort] = field(default_factory=list)
    mixed: list[Mixed] = field(default_factory=list)

    @property
    def number(self) -> int:
        """How many are here, not seen or ended."""
        cohorts = (*self.alive, *self.not_seen, *(one.cohort for one in self.ended))
        return sum(cohort.number for cohort in cohorts)

    def add(self, other: Part) -> None:
        """Take in what became of others."""
        self.entered += other.entered
        self.passages += other.passages
        self.ended += other.ended
        self.alive += other.alive
        self.not_seen += other.not_seen
        self.mixed += other.mixed


@dataclass(slots=True)
class Course:
    """What became of every animal, up to now."""

    bench: Bench = field(default_factory=Bench)
    entered: list[Entered] = field(default_factory=list)
    passages: list[Passage] = field(default_factory=list)
    ended: list[Ended] = field(default_factory=list)
    alive: list[Cohort] = field(default_factory=list)
    not_seen: list[Cohort] = field(default_factory=list)
    mixed: list[Mixed] = field(default_factory=list)
    air: dict[str, list[k.Air]] = field(default_factory=dict)  # by place, in order
    _parts: dict[str, Part] = field(default_factory=dict)

    def of(self, broods: Collection[str]) -> Part:
        """What became of the animals of some broods only."""
        if not self._parts:
            self._sort_out()
        found = Part()
        for brood in dict.fromkeys(broods):
            found.add(self._parts.get(brood, Part()))
        if self.mixed:
            self._tell_mixed(found, set(broods))
        return found

    def _tell_mixed(self, found: Part, broods: set[str]) -> None:
        """Where all that an animal may be of are asked about, it does not matter which of them it was.

        Of the others those count of whom it is sure: where one of ten died, five of each brood, four of each live.
        """
        found.mixed = [one for one in found.mixed if not broods.issuperset(self.mixed_with(one.cohort.brood))]
        for code, part in self._parts.items():
            if OR in code and broods.issuperset(members(code)):
                found.add(part)
            elif OR in code and not broods.isdisjoint(members(code)):
                sure = _sure(part, *self._share_in(code, broods))
                found.add(sure)
                found.mixed = _fewer(found.mixed, broods & set(members(code)), sure.number)

    def _share_in(self, code: str, broods: set[str]) -> tuple[int, int]:
        """How many of those that nobody can tell apart are of these broods, and how many they are in all; 0 if not known."""
        if any(OR in other and other != code and set(members(other)) & set(members(code)) for other in self._parts):
            return 0, 0
        numbers = dict.fromkeys(members(code), 0)
        for one in self.mixed:
            if one.cohort.brood in numbers:
                numbers[one.cohort.brood] += one.cohort.number
        in_all = sum(numbers.values())
        if in_all != self._parts[code].number:
            return 0, 0
        return sum(number for brood, number in numbers.items() if brood in broods), in_all

    def told_apart(self, brood: str) -> Part:
        """What became of those of a brood or founder that are known one by one."""
        if not self._parts:
            self._sort_out()
        return self._parts.get(brood, Part())

    def mixed_with(self, brood: str) -> tuple[str, ...]:
        """The broods, itself among them, that some of its animals cannot be told from."""
        codes = [code for code in self._parts if OR in code and brood in members(code)]
        return members(one_of(codes)) if codes else (brood,)

    def mixed_parts(self, brood: str) -> list[Part]:
        """What became of the animals that may be of this brood or of another."""
        return [part for code, part in self._parts.items() if OR in code and brood in members(code)]

    def _sort_out(self) -> None:
        parts: defaultdict[str, Part] = defaultdict(Part)
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
        self._parts = dict(parts)


def stage_name(stage: str, instar: int) -> str:
    """``egg``, ``L3``, ``larva`` where the instar is not known, ``pupa``, ``adult``."""
    return f"L{instar}" if stage == "larva" and instar else stage


def course(entries: Iterable[Entry]) -> Course:
    """Follow every animal through a set of entries, whatever order they are given in; struck ones do not count."""
    follower = _Follower()
    for entry in that_count(entries):
        follower.take(entry)
    return follower.done()


class _Follower:
    """Compares what stands in the containers before and after each entry."""

    def __init__(self) -> None:
        self.course = Course()
        self.bench = self.course.bench
        self.here: dict[Key, list[Cohort]] = {}
        self.lost: dict[str, list[Cohort]] = {}  # not seen, by the container they were missed from
        self.searched: dict[str, datetime] = {}
        self.apart: set[str] = set()  # founders that were told apart again from those they were mixed with
        self.back: list[tuple[Key, Cohort]] = []  # those that turned up with this entry

    def take(self, entry: Entry) -> None:
        """Fold one entry in and follow what it did."""
        if isinstance(entry, k.Air):
            self.course.air.setdefault(entry.container or entry.shelf, []).append(entry)
        codes = _containers_of(entry)
        if not codes:
            apply(self.bench, entry)
            return
        for change in regroup(self.bench, entry):
            self._regrouped(entry, change)
        before = self._stock(codes)
        open_before, out_before = self._open(entry, self.bench.shortfalls), self._open(entry, self.bench.escaped)
        apply(self.bench, entry)
        self.back = self._no_longer_missing(open_before, self._open(entry, self.bench.shortfalls))
        self.back += self._no_longer_escaped(out_before - self._open(entry, self.bench.escaped))
        after = self._stock(codes)
        gone = {key: number - after.get(key, 0) for key, number in before.items() if number > after.get(key, 0)}
        come = {key: number - before.get(key, 0) for key, number in after.items() if number > before.get(key, 0)}
        if gone or come or isinstance(entry, k.Settled):
            self._follow(entry, gone, come)
        if isinstance(entry, k.Changed) and (entry.shelf is not None or entry.inside is not None):
            self._carried(entry)
        if isinstance(entry, k.Searched):
            self.searched[entry.container] = entry.at

    def done(self) -> Course:
        """The course, with those that are still there."""
        for code in self.apart:
            self._is_none_of(code)
        self.course.alive = [cohort for cohorts in self.here.values() for cohort in cohorts]
        self.course.not_seen = [cohort for cohorts in self.lost.values() for cohort in cohorts]
        return self.course

    def _regrouped(self, entry: Entry, change: Regrouped) -> None:
        """Under another code from now on: mixed with others, or told apart again."""
        lot = change.lot
        key = (change.container, lot.brood, lot.stage, lot.instar, lot.sex)
        cohorts = self._out(key, lot.number)
        for cohort in cohorts:
            as_now = replace(cohort, brood=change.code, sex=change.sex)
            self.here.setdefault((key[0], change.code, *key[2:4], change.sex), []).append(as_now)
            if OR not in cohort.brood and change.code != lot.brood:
                self.course.mixed.append(Mixed(cohort, entry.at))
        if OR not in change.code and change.code != lot.brood:
            self._not_mixed(change.code, lot.number)
            if change.code in self.bench.founders:
                self.apart.add(change.code)

    def _not_mixed(self, brood: str, number: int) -> None:
        """So many of a brood are told apart again."""
        self.course.mixed = _fewer(self.course.mixed, {brood}, number)

    def _is_none_of(self, founder: str) -> None:
        """A founder that was told apart is none of those that nobody could tell from it, however they ended."""
        for place, ended in enumerate(self.course.ended):
            brood = ended.cohort.brood
            if OR in brood and founder in members(brood):
                code = one_of(one for one in members(brood) if one != founder)
                self.course.ended[place] = replace(ended, cohort=replace(ended.cohort, brood=code))
                if OR not in code:
                    self._not_mixed(code, ended.cohort.number)

    def _open(self, entry: Entry, out_of_sight: Iterable[Shortfall]) -> Counter[Key]:
        """What is not seen, or escaped, by the container that it was missed from, where an entry may settle some of it."""
        open_ones: Counter[Key] = Counter()
        if isinstance(entry, k.Counted | k.Settled):
            for one in out_of_sight:
                open_ones[one.container, one.brood, one.stage, one.instar, one.sex] += one.number
        return open_ones

    def _no_longer_missing(self, before: Counter[Key], after: Counter[Key]) -> list[tuple[Key, Cohort]]:
        found: list[tuple[Key, Cohort]] = []
        for key, number in (before - after).items():
            lost = self.lost.get(key[0], [])
            alike = [one for one in lost if (one.brood, one.stage, one.sex) == (key[1], stage_name(key[2], key[3]), key[4])]
            back, rest = _parted(alike, number)
            self.lost[key[0]] = [one for one in lost if one not in alike] + rest
            found += [(key, cohort) for cohort in back]
        return found

    def _no_longer_escaped(self, back: Counter[Key]) -> list[tuple[Key, Cohort]]:
        """Those that escaped and were found again: the newest of those that ended thus did not end."""
        found: list[tuple[Key, Cohort]] = []
        for key, number in back.items():
            for ended in list(reversed(self.course.ended)):
                one = ended.cohort
                is_alike = (one.brood, one.stage, one.sex) == (key[1], stage_name(key[2], key[3]), key[4])
                if not number or ended.fate != "escaped" or not is_alike or one.stays[-1].container != key[0]:
                    continue
                share = min(number, one.number)
                number -= share
                self.course.ended.remove(ended)
                if one.number > share:
                    self.course.ended.append(replace(ended, cohort=replace(one, number=one.number - share)))
                found.append((key, replace(one, number=share)))
        return found

    def _stock(self, codes: tuple[str, ...]) -> dict[Key, int]:
        found: dict[Key, int] = {}
        for code in codes:
            container = self.bench.containers.get(code)
            for lot in container.lots if container else ():
                found[code, lot.brood, lot.stage, lot.instar, lot.sex] = lot.number
        return found

    def _follow(self, entry: Entry, gone: dict[Key, int], come: dict[Key, int]) -> None:
        is_of_any = isinstance(entry, (*LEAVING, k.Missing, k.Counted))
        taken = [(key, cohort) for key, number in gone.items() for cohort in self._out(key, number, of_any=is_of_any)]
        if isinstance(entry, GROWTH):
            self._grow(entry, taken, come)
        elif isinstance(entry, MOVES):
            self._move(entry, taken, come)
        elif isinstance(entry, LEAVING):
            found_dead = isinstance(entry, k.Preserved) and bool(entry.cause)
            self._end(entry, [cohort for _, cohort in taken], "died" if found_dead else entry.what)
        elif isinstance(entry, k.Settled):
            self._settle(entry, come)
        elif isinstance(entry, COMING):
            self._come(entry, come)
        elif isinstance(entry, k.Counted):
            self._count(entry, taken, come)
        elif isinstance(entry, k.Missing):
            self._miss(taken)
        else:
            self._end(entry, [cohort for _, cohort in taken], ESTIMATED)

    def _out(self, key: Key, number: int, *, of_any: bool = False) -> list[Cohort]:
        """That many out of those that began the stage first; ``of_any``: evenly out of all."""
        waiting = sorted(self.here.pop(key, []), key=lambda cohort: cohort.begun)
        first, rest = _parted_evenly(waiting, number) if of_any else _parted(waiting, number)
        if rest:
            self.here[key] = rest
        return first

    def _in(self, key: Key, cohort: Cohort, at: datetime) -> None:
        """Into a container: its stay begins where it stood elsewhere before."""
        code = key[0]
        if not cohort.stays or cohort.stays[-1].container != code:
            cohort = replace(cohort, stays=(*cohort.stays, Stay(code, places_of(self.bench, code), at)))
        self.here.setdefault(key, []).append(cohort)

    def _carried(self, entry: k.Changed) -> None:
        """A container was put elsewhere, with all that stands in it: other readings hold for its animals from then on."""
        for key, cohorts in self.here.items():
            places = places_of(self.bench, key[0])
            if entry.container in places:
                self.here[key] = [
                    replace(one, stays=(*one.stays, Stay(key[0], places, entry.at))) if one.stays[-1].places != places else one
                    for one in cohorts
                ]

    def _grow(self, entry: Entry, taken: list[tuple[Key, Cohort]], come: dict[Key, int]) -> None:
        for key, number in come.items():
            stage = stage_name(key[2], key[3])
            mine = [cohort for _, cohort in taken if cohort.brood == key[1]]
            for old in _parted(mine, number)[0]:
                self.course.passages.append(Passage(old, stage, entry.at, getattr(entry, "evidence", "seen")))
                hatched = entry.at if isinstance(entry, k.Hatched) else old.hatched
                young = replace(
                    old, stage=stage, begun_from=entry.at, begun_to=entry.at, sex=_sex(key), hatched=hatched, begin_known=True
                )
                self._in(key, young, entry.at)

    def _move(self, entry: Entry, taken: list[tuple[Key, Cohort]], come: dict[Key, int]) -> None:
        waiting = list(taken)
        for key, number in come.items():
            same = [pair for pair in waiting if pair[0][1:] == key[1:]]
            waiting = [pair for pair in waiting if pair[0][1:] != key[1:]]
            arrived, rest = _parted([cohort for _, cohort in same], number)
            for cohort in arrived:
                self._in(key, cohort, entry.at)
            waiting += [(same[0][0], cohort) for cohort in rest]
        self._miss(waiting)

    def _miss(self, taken: list[tuple[Key, Cohort]]) -> None:
        for key, cohort in taken:
            self.lost.setdefault(key[0], []).append(cohort)

    def _end(self, entry: Entry, cohorts: list[Cohort], fate: str) -> None:
        for cohort in cohorts:
            self.course.ended.append(Ended(cohort, fate, entry.at, getattr(entry, "cause", ""), getattr(entry, "place", "")))

    def _found(self, entry: Entry, key: Key, number: int) -> int:
        """Those that turned up again come back first; returns how many more came."""
        alike = {(*key[1:3], instar, key[4]) for instar in (0, key[3])}  # a count may tell the instar
        mine = [cohort for was, cohort in self.back if was[1:] in alike]
        self.back = [(was, cohort) for was, cohort in self.back if was[1:] not in alike]
        for cohort in mine:
            self._in(key, replace(cohort, stage=stage_name(key[2], key[3])), entry.at)
        return number - sum(cohort.number for cohort in mine)

    def _settle(self, entry: k.Settled, come: dict[Key, int]) -> None:
        for key, number in come.items():
            self._found(entry, key, number)
        fate = {"dead": "died", "given up": "missing"}.get(entry.fate, entry.fate)
        self._end(entry, [cohort for _, cohort in self.back], fate)

    def _count(self, entry: k.Counted, taken: list[tuple[Key, Cohort]], come: dict[Key, int]) -> None:
        waiting = list(taken)
        for key, number in come.items():
            unnamed = [pair for pair in waiting if pair[0][1:3] == key[1:3] and pair[0][3] == 0]
            waiting = [pair for pair in waiting if pair not in unnamed]
            named, rest = _parted([cohort for _, cohort in unnamed], number)
            for cohort in named:  # the instar is now known
                self._in(key, replace(cohort, stage=stage_name(key[2], key[3])), entry.at)
            waiting += [(unnamed[0][0], cohort) for cohort in rest]
            left = number - sum(cohort.number for cohort in named)
            left = self._found(entry, key, left) if left else 0
            if left:
                self._come(entry, {key: left})
        if entry.method == "exact":
            self._miss(waiting)
        else:
            self._end(entry, [cohort for _, cohort in waiting], ESTIMATED)

    def _come(self, entry: Entry, come: dict[Key, int]) -> None:
        for key, number in come.items():
            laid = self._laid(entry, key)
            begun = laid if laid and key[2] == "egg" else (entry.at, entry.at)
            known = laid is not None and key[2] == "egg"
            cohort = Cohort(key[1], stage_name(key[2], key[3]), number, *begun, sex=_sex(key), laid=laid, begin_known=known)
            self.course.entered.append(Entered(cohort, entry.at, isinstance(entry, k.Counted)))
            self._in(key, cohort, entry.at)

    def _laid(self, entry: Entry, key: Key) -> tuple[datetime, datetime] | None:
        """Between when they were laid: eggs found since the search before, the rest as their brood says."""
        told = self.bench.broods.get(key[1])
        if isinstance(entry, k.Searched):
            container = self.bench.containers[entry.container]
            lots = [held for _, held in named(self.bench, container, entry.lots)]
            if lots:  # laid while the stems stood with females, not since somebody searched this container
                return min(held.offered for held in lots), max(held.taken_out for held in lots)
            begun = [self.searched.get(entry.container), told.laid_from if told else None, container.since]
            begun += [min((host.put_in for host in container.hosts), default=None)] if not any(begun[:2]) else []
            return max(one for one in begun if one and one <= entry.at), entry.at
        if told and told.laid_from and told.laid_to and told.laid_from <= entry.at:
            return told.laid_from, min(max(told.laid_from, told.laid_to), entry.at)
        return None


def _sure(part: Part, own: int, in_all: int) -> Part:
    """Of animals that nobody can tell apart, what is sure of so many of them whatever happened to which.

    Of a number with the same fate at least those are its own for which the others do not suffice. Since when each was in its
    stage is not known.
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
    found = Part()
    for (what, *_), some in alike.items():
        left = max(0, own - (in_all - sum(_cohort_of(one).number for one in some)))
        for one in some:
            share = min(left, _cohort_of(one).number)
            left -= share
            cohort = replace(_cohort_of(one), number=share, begin_known=False)
            if share and what == "alive":
                found.alive.append(cohort)
            elif share and what == "not seen":
                found.not_seen.append(cohort)
            elif share and what == "ended":
                found.ended.append(replace(one, cohort=cohort))
            elif share:
                found.passages.append(replace(one, cohort=replace(cohort, hatched=None, laid=None)))
    return found


def _cohort_of(one: Cohort | Ended | Passage) -> Cohort:
    return one if isinstance(one, Cohort) else one.cohort


def _fewer(mixed: list[Mixed], broods: set[str], number: int) -> list[Mixed]:
    """What is left of those of some broods that nobody can tell from others, once so many are sure."""
    left = []
    for one in mixed:
        share = min(one.cohort.number, number) if one.cohort.brood in broods else 0
        number -= share
        if one.cohort.number > share:
            left.append(replace(one, cohort=replace(one.cohort, number=one.cohort.number - share)))
    return left


def _sex(key: Key) -> Sex:
    return "female" if key[4] == "female" else "male" if key[4] == "male" else ""


def _is_of(stage: str, said: str) -> bool:
    return stage == said or (said == "larva" and stage.startswith("L"))


def _parted(cohorts: list[Cohort], number: int) -> tuple[list[Cohort], list[Cohort]]:
    """The first so many animals, and the rest."""
    first: list[Cohort] = []
    rest: list[Cohort] = []
    for cohort in cohorts:
        share = min(cohort.number, number)
        number -= share
        if share:
            first.append(replace(cohort, number=share))
        if cohort.number > share:
            rest.append(replace(cohort, number=cohort.number - share))
    return first, rest


def _parted_evenly(cohorts: list[Cohort], number: int) -> tuple[list[Cohort], list[Cohort]]:
    """So many animals out of all cohorts by their size, the larger remainders and then the younger first; and the rest."""
    total = sum(cohort.number for cohort in cohorts)
    number = min(number, total)
    shares = [cohort.number * number // total for cohort in cohorts] if total else []
    remainders = [cohort.number * number % total for cohort in cohorts] if total else []
    places = sorted(range(len(cohorts)), key=lambda place: (remainders[place], place), reverse=True)
    for place in places[: number - sum(shares)]:
        shares[place] += 1
    sized = list(zip(cohorts, shares, strict=True))
    first = [replace(cohort, number=share) for cohort, share in sized if share]
    return first, [replace(cohort, number=cohort.number - share) for cohort, share in sized if cohort.number > share]


def _containers_of(entry: Entry) -> tuple[str, ...]:
    """Every container that an entry can change the stock of."""
    named = [getattr(entry, "container", ""), getattr(entry, "to", "")]
    named += [*getattr(entry, "into", ()), *getattr(entry, "sources", ())]
    return tuple(dict.fromkeys(code for code in named if code))
