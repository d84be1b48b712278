"""What is known of a brood: parents, when it was laid, where it stands, what became of each animal, what it ate."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field

from rounds.bench.kinds import BroodBegun, FounderIntake
from rounds.bench.state import Shortfall
from rounds.record.cohorts import Cohort, Course
from rounds.record.stages import rank


@dataclass(frozen=True, slots=True)
class Standing:
    """Animals of a brood in one container now."""

    container: str
    stage: str
    sex: str
    number: int


@dataclass(frozen=True, slots=True)
class HostEvidence:
    """What a plant is known to be to a brood, by grade of evidence, and for how many animals.

    ``alone`` is False where several plants stood together and it is not known which was used.
    """

    plant: str
    grade: str  # laid on, fed on, pupated on, adult reared on
    number: int
    alone: bool


@dataclass(slots=True)
class Balance:
    """What came and what became of it: both sides are the same number.

    ``came`` by stage in which they came; ``became`` by fate, each by stage: 'alive' those here now, 'not seen' those that
    are an open shortfall.
    """

    came: dict[str, int] = field(default_factory=dict)
    became: dict[str, dict[str, int]] = field(default_factory=dict)

    @property
    def in_all(self) -> int:
        """How many ever came."""
        return sum(self.came.values())

    @property
    def accounted(self) -> int:
        """How many of them are somewhere in the balance."""
        return sum(sum(stages.values()) for stages in self.became.values())


@dataclass(frozen=True, slots=True)
class BroodRecord:
    """A brood, or a founder as a brood of one."""

    code: str
    taxon: str
    begun: BroodBegun | None
    founder: FounderIntake | None
    standing: tuple[Standing, ...]
    balance: Balance
    shortfalls: tuple[Shortfall, ...]
    hosts: tuple[HostEvidence, ...]

    @property
    def alive(self) -> int:
        """How many are on the bench now."""
        return sum(one.number for one in self.standing)


def brood_record(course: Course, code: str) -> BroodRecord:
    """All that the entries say of one brood or founder.

    Raises:
        KeyError: neither a brood nor a founder.
    """
    bench = course.bench
    if code not in bench.broods and code not in bench.founders:
        raise KeyError(code)
    return BroodRecord(
        code,
        bench.taxon_of(code),
        bench.broods.get(code),
        bench.founders.get(code),
        _standing(course, code),
        balance(course, [code]),
        tuple(one for one in bench.shortfalls if one.brood == code),
        host_evidence(course, [code]),
    )


def _standing(course: Course, code: str) -> tuple[Standing, ...]:
    found: dict[tuple[str, str, str], int] = {}
    for cohort in course.alive:
        if cohort.brood == code:
            key = (cohort.stays[-1].container, cohort.stage, cohort.sex)
            found[key] = found.get(key, 0) + cohort.number
    ordered = sorted(found.items(), key=lambda pair: (pair[0][0], rank(pair[0][1]), pair[0][2]))
    return tuple(Standing(*key, number) for key, number in ordered)


def balance(course: Course, broods: Collection[str]) -> Balance:
    """What came and what became of it, for some broods together."""
    found = Balance()

    def became(fate: str, cohort: Cohort) -> None:
        stages = found.became.setdefault(fate, {})
        stages[cohort.stage] = stages.get(cohort.stage, 0) + cohort.number

    for entered in course.entered:
        if entered.cohort.brood in broods:
            stage = entered.cohort.stage
            found.came[stage] = found.came.get(stage, 0) + entered.cohort.number
    for cohort in course.alive:
        if cohort.brood in broods:
            became("alive", cohort)
    for ended in course.ended:
        if ended.cohort.brood in broods:
            became(ended.fate, ended.cohort)
    for cohort in course.not_seen:
        if cohort.brood in broods:
            became("not seen", cohort)
    return found


def host_evidence(course: Course, broods: Collection[str]) -> tuple[HostEvidence, ...]:
    """The plants of some broods: what stood with the eggs when they were found, and with the larvae when they grew.

    A plant that larvae had when they moulted or pupated was fed on; it is an adult's food plant only where it was the
    only one that the brood ever had.
    """
    numbers: dict[tuple[str, str], int] = {}
    alone: dict[tuple[str, str], bool] = {}

    def add(grade: str, plants: Collection[str], number: int) -> None:
        for plant in plants:
            numbers[plant, grade] = numbers.get((plant, grade), 0) + number
            alone[plant, grade] = alone.get((plant, grade), True) and len(plants) == 1

    eaten: dict[str, dict[str, int]] = {}  # by plant: how many grew out of each stage with it
    for entered in course.entered:
        if entered.cohort.brood in broods and entered.cohort.stage == "egg":
            add("laid on", entered.hosts, entered.cohort.number)
    for passage in course.passages:
        if passage.cohort.brood not in broods or passage.cohort.stage in ("egg", "pupa"):
            continue
        for plant in passage.hosts:
            stages = eaten.setdefault(plant, {})
            stages[passage.cohort.stage] = stages.get(passage.cohort.stage, 0) + passage.cohort.number
        add("fed on", passage.hosts, 0)
        if passage.to == "pupa":
            add("pupated on", passage.hosts, passage.cohort.number)
    for plant, stages in eaten.items():
        numbers[plant, "fed on"] = max(stages.values())
    emerged = sum(one.cohort.number for one in course.passages if one.cohort.brood in broods and one.to == "adult")
    if emerged and len(eaten) == 1:
        add("adult reared on", eaten, emerged)
    return tuple(HostEvidence(plant, grade, number, alone[plant, grade]) for (plant, grade), number in numbers.items())
