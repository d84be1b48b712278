"""What is known of a brood: parents, when it was laid, where it stands, what became of each animal,
what it ate."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime

from msgspec import Struct, field

from rounds.bench.codes import in_order, members
from rounds.bench.mates import fathers_in_words
from rounds.bench.state import Shortfall
from rounds.entries.registry import BroodBegun, FounderIntake
from rounds.grouping import summed
from rounds.tallies.cohorts import NOT_KNOWN, Cohort, Course, rank
from rounds.tallies.host_evidence import Evidence, Grade
from rounds.tallies.mean_temperature import CourseTemperatures
from rounds.tallies.pedigree import Inbreeding, own_inbreeding

NOT_KNOWN_WHICH = "not known which"


class Lookback(Struct, frozen=True):
    """What went by: the course of every animal, its warmth, and its plants."""

    course: Course
    warmth: CourseTemperatures
    evidence: tuple[Evidence, ...]

    def broods_of(self, taxon: str) -> list[str]:
        """The broods of a species, as their codes are listed."""
        bench = self.course.bench
        return sorted(
            (code for code in bench.broods if bench.taxon_of(code) == taxon), key=in_order
        )


class StandingAnimals(Struct, frozen=True):
    """Animals of a brood in one container now."""

    container: str
    stage: str
    sex: str
    crippled: bool
    number: int


class HostRecord(Struct, frozen=True):
    """What a plant is known to be to some broods: its grade of evidence, and how many eggs, moults
    or animals show it.

    ``alone`` is False where several plants stood together for some of them and it is not known
    which was used.
    """

    plant: str
    grade: Grade
    number: int
    alone: bool


class Balance(Struct):
    """What came and what became of it: both sides are the same number.

    ``came`` by stage in which they came; ``became`` by fate, each by stage: 'alive' those here now,
    'not seen' those that are an open shortfall, ``NOT_KNOWN_WHICH`` those that nobody can tell from
    others any more, by the stage in which they were when they last could. ``by_count`` of those
    that came are only known by counts that found more than were on record.
    """

    came: dict[str, int] = field(default_factory=dict)
    became: dict[str, dict[str, int]] = field(default_factory=dict)
    by_count: int = 0

    @property
    def in_all(self) -> int:
        """How many ever came."""
        return sum(self.came.values())

    @property
    def alive(self) -> int:
        """How many of them are on the bench now; of those that nobody can tell from others only
        those of which it is sure."""
        return self.of_fates("alive")

    def of_fates(self, *fates: str) -> int:
        """How many met one of these fates."""
        return sum(sum(self.became.get(fate, {}).values()) for fate in fates)

    @property
    def accounted(self) -> int:
        """How many of them are somewhere in the balance."""
        return sum(sum(stages.values()) for stages in self.became.values())


class Mixture(Struct, frozen=True):
    """Founders or broods of which some animals cannot be told apart, and what became of those
    together.

    ``became`` is by fate, each by stage, 'in K1' for those that are in a container now.
    """

    codes: tuple[str, ...]
    became: dict[str, dict[str, int]]


class BroodRecord(Struct, frozen=True):
    """A brood, or a founder as a brood of one."""

    code: str
    taxon: str
    begun: BroodBegun | None
    founder: FounderIntake | None
    standing: tuple[StandingAnimals, ...]
    balance: Balance
    shortfalls: tuple[Shortfall, ...]
    mixed: Mixture | None = None
    fathers: tuple[str, ...] = ()  # in words
    inbred: Inbreeding | None = None

    @property
    def alive(self) -> int:
        """How many are on the bench now, of which it is known that they are of it."""
        return sum(standing.number for standing in self.standing)


def brood_record(found: Course, code: str) -> BroodRecord:
    """All that the entries say of one brood or founder.

    Raises:
        KeyError: neither a brood nor a founder.
    """
    bench = found.bench
    if code not in bench.broods and code not in bench.founders:
        raise KeyError(code)
    begun = bench.broods.get(code)
    return BroodRecord(
        code,
        bench.taxon_of(code),
        begun,
        bench.founders.get(code),
        _standing(found, code),
        balance(found, [code]),
        tuple(shortfall for shortfall in bench.shortfalls if code in members(shortfall.brood)),
        _mixture(found, code),
        tuple(fathers_in_words(bench, code)) if begun else (),
        own_inbreeding(bench, code),
    )


def founder_fate(found: Course, code: str) -> tuple[str, tuple[datetime, ...]]:
    """What became of a founder: how it ended and when, ``on the bench``, ``not seen`` or ``not
    known``.

    Of some that nobody can tell apart each ended as all of them did; the times are then those at
    which one of them ended so.
    """
    mine = found.of([code])
    if not mine.ended:
        where = "on the bench" if mine.alive else "not seen" if mine.not_seen else NOT_KNOWN
        return where, ()
    fate = mine.ended[-1].fate
    if known := found.told_apart(code).ended:
        return fate, (known[-1].at,)
    ended = [one for part in found.mixed_parts(code) for one in part.ended if one.fate == fate]
    return fate, tuple(sorted({one.at for one in ended}))


def _mixture(found: Course, code: str) -> Mixture | None:
    if not found.of([code]).mixed:
        return None
    became: dict[str, dict[str, int]] = {}
    parts = found.mixed_parts(code)
    fates = [(ended.fate, ended.cohort) for part in parts for ended in part.ended]
    fates += [("not seen", cohort) for part in parts for cohort in part.not_seen]
    fates += [
        (f"in {cohort.stays[-1].container}", cohort) for part in parts for cohort in part.alive
    ]
    for fate, cohort in fates:
        stages = became.setdefault(fate, {})
        stages[cohort.stage] = stages.get(cohort.stage, 0) + cohort.number
    return Mixture(found.mixed_with(code), became)


def _standing(followed: Course, code: str) -> tuple[StandingAnimals, ...]:
    found = summed(
        ((cohort.stays[-1].container, cohort.stage, cohort.sex, cohort.crippled), cohort.number)
        for cohort in followed.told_apart(code).alive
    )
    ordered = sorted(found.items(), key=lambda pair: (pair[0][0], rank(pair[0][1]), *pair[0][2:]))
    return tuple(StandingAnimals(*key, number) for key, number in ordered)


def balance(followed: Course, broods: Collection[str]) -> Balance:
    """What came and what became of it, for some broods together."""
    result = Balance()

    def became(fate: str, cohort: Cohort) -> None:
        stages = result.became.setdefault(fate, {})
        stages[cohort.stage] = stages.get(cohort.stage, 0) + cohort.number

    mine = followed.of(broods)
    for entered in mine.entered:
        stage = entered.cohort.stage
        result.came[stage] = result.came.get(stage, 0) + entered.cohort.number
        result.by_count += entered.cohort.number if entered.by_count else 0
    for cohort in mine.alive:
        became("alive", cohort)
    for ended in mine.ended:
        became(ended.fate, ended.cohort)
    for cohort in mine.not_seen:
        became("not seen", cohort)
    for mixed in mine.mixed:
        became(NOT_KNOWN_WHICH, mixed.cohort)
    return result


def hosts_of(evidence: Iterable[Evidence], broods: Collection[str]) -> tuple[HostRecord, ...]:
    """The plants of some broods by grade of evidence, summed."""
    numbers: dict[tuple[str, Grade], int] = {}
    alone: dict[tuple[str, Grade], bool] = {}
    for one in evidence:
        if one.brood in broods:
            key = one.plant, one.grade
            numbers[key] = numbers.get(key, 0) + one.number
            alone[key] = alone.get(key, True) and one.alone
    return tuple(
        HostRecord(plant, grade, number, alone[plant, grade])
        for (plant, grade), number in numbers.items()
    )
