"""Stage by stage: how many entered and came through, and how long each took at what temperature."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Collection, Iterator
from datetime import datetime, timedelta
from itertools import accumulate

from msgspec import Struct

from rounds.bench.movements import NOT_DATED
from rounds.biology.life_table import StageTable, stage_table
from rounds.biology.proportions import Share, exact_share
from rounds.biology.survival import SurvivalCurve, kaplan_meier
from rounds.grouping import grouped, summed
from rounds.tallies.cohorts import (
    NOT_KNOWN,
    Cohort,
    Course,
    CourseShare,
    Ended,
    Passage,
    Stay,
    is_instar,
    rank,
)
from rounds.tallies.mean_temperature import CourseTemperatures

A_DAY = timedelta(days=1)
# fates that count as dead; a missing one that was given up on is taken for dead
DEAD = "died", "missing", "dead"
IN_DIAPAUSE = ", in diapause"  # behind the name of a stage


class StageCount(Struct):
    """One stage of a brood: how many entered it, and what is known of them.

    ``entered`` counts those too that were first seen in a later stage; ``passed`` went on, ``died``
    in it, ``left`` the bench alive in it (released, escaped, taken), of ``unknown`` the record ends
    and nobody knows what became of them, ``kept`` were kept as specimens, ``not_seen`` are an open
    shortfall, ``here`` are in it now; ``either`` are of those that nobody can tell from another
    brood's or another instar's: what became of them is in no other number of the stage, also not
    where later lines name more of the other brood than came; where ``is_unsure`` some that came
    here or ended here may be of this brood or instar or of another, so that no share can be said;
    ``by_hatching``, of eggs, are those of which nobody knew before they had hatched: they are in no
    other number of the stage, for those among them that died will never be known; ``at_least``
    where nobody wrote down how many reached the stage: more may have, of those that are counted in
    the one before, so that neither has a share.
    """

    stage: str
    entered: int = 0
    passed: int = 0
    died: int = 0
    left: int = 0
    unknown: int = 0
    kept: int = 0
    not_seen: int = 0
    here: int = 0
    either: int = 0
    by_hatching: int = 0
    is_unsure: bool = False
    at_least: bool = False
    through: float | None = None  # share of the first stage that came as far as this one's end

    @property
    def known(self) -> int:
        """How many of them are known to have come through the stage or died in it."""
        return self.passed + self.died

    @property
    def is_running(self) -> bool:
        """Whether some are in it that may yet die in it or go on."""
        return bool(self.here)

    @property
    def is_last(self) -> bool:
        """Whether none goes on from it: all who are not taken out of it die in it."""
        return self.stage == "adult"

    @property
    def came_through(self) -> Share | None:
        """The share of those whose end is known that came through, with exact limits.

        None where none is known, of the last stage, while some are in the stage (who dies early
        would stand for all), and where it is not known of some whether they are of another brood.
        """
        has_share = self.known and not (self.is_last or self.is_running or self.is_unsure)
        return exact_share(self.passed, self.known) if has_share else None


def stage_counts(course: Course, broods: Collection[str]) -> list[StageCount]:
    """The stages of some broods together, from the first to the last that any of them reached.

    Larvae are one stage where of some of them the instar is not known.
    """
    counts: dict[str, StageCount] = {}

    def of(stage: str) -> StageCount:
        return counts.setdefault(stage, StageCount(stage))

    mine = _in_stages_of_all(course.of(broods))
    seen = {entered.cohort.stage for entered in mine.entered} | {one.to for one in mine.passages}
    instars = sorted((stage for stage in seen if is_instar(stage)), key=rank)
    for entry in mine.entered:
        of(entry.cohort.stage).entered += entry.cohort.number
        if entry.cohort.by_hatching:
            of("egg").by_hatching += entry.cohort.number
    for passage in mine.passages:
        between = [
            instar
            for instar in instars
            if rank(passage.cohort.stage) < rank(instar) < rank(passage.to)
        ]
        for stage in (passage.cohort.stage, *between):
            of(stage).passed += passage.cohort.number
        for stage in (*between, passage.to):
            of(stage).entered += passage.cohort.number
        of(passage.to).at_least |= passage.at_least
    for ended in mine.ended:
        stage_count = of(ended.cohort.stage)
        if ended.fate in DEAD:
            stage_count.died += ended.cohort.number
        elif ended.fate == "preserved":
            stage_count.kept += ended.cohort.number
        elif ended.fate == NOT_KNOWN:
            stage_count.unknown += ended.cohort.number
        else:
            stage_count.left += ended.cohort.number
    for cohort in mine.not_seen:
        of(cohort.stage).not_seen += cohort.number
    for cohort in mine.alive:
        of(cohort.stage).here += cohort.number
    unsure = {*_unsure_ranks(course, broods), *_ranks_of_unknown_instars(mine)}
    if "larva" in counts and any(rank("larva") < one < rank("pupa") for one in unsure):
        unsure.add(rank("larva"))
    for one in mine.passages:
        if one.at_least:
            unsure |= {*range(rank(one.cohort.stage), rank(one.to) + 1)}
    for stage_count in counts.values():
        told = (
            stage_count.known
            + stage_count.left
            + stage_count.unknown
            + stage_count.kept
            + stage_count.not_seen
            + stage_count.here
        )
        stage_count.entered = max(stage_count.entered, told)
        stage_count.either = stage_count.entered - told
        stage_count.is_unsure = stage_count.either > 0 or rank(stage_count.stage) in unsure
    return _with_shares(sorted(counts.values(), key=lambda count: rank(count.stage)))


def _in_stages_of_all(mine: CourseShare) -> CourseShare:
    """The same animals, all larvae in one stage where of some no instar was ever told: nobody can
    say which instars those came through, and none of them passes that stage twice."""
    if not any(cohort.stage == "larva" and not cohort.may_be for cohort in mine.cohorts()):
        return mine
    return mine.with_larvae_as_one()


def _unsure_ranks(course: Course, broods: Collection[str]) -> range:
    """The stages, by rank, in which animals stood or ended that may be of these broods or of
    others."""
    ranks: list[int] = []
    for code in course.unsure_codes(broods):
        part = course.told_apart(code)
        stages = [cohort.stage for cohort in part.cohorts()] + [
            passage.to for passage in part.passages
        ]
        ranks += [rank(stage) for stage in stages]
    return range(min(ranks), max(ranks) + 1) if ranks else range(0)


def _ranks_of_unknown_instars(mine: CourseShare) -> Iterator[int]:
    """The instars, by rank, in which larvae may have ended or gone of which nobody knows which they
    were."""
    for cohort in (*mine.alive, *mine.not_seen, *(ended.cohort for ended in mine.ended)):
        if cohort.may_be:
            yield from (rank(stage) for stage in (cohort.stage, *cohort.may_be))


def _with_shares(counts: list[StageCount]) -> list[StageCount]:
    through = 1.0
    for stage_count in counts:
        if stage_count.by_hatching and not stage_count.entered:
            continue
        share = stage_count.came_through
        if share is None:
            break
        through *= share.value
        stage_count.through = through
    return counts


def causes(course: Course, broods: Collection[str]) -> StageTable | None:
    """What killed how many, cause after cause in each stage in the order in which each was first
    seen.

    Only those whose end in the stage is known count as having entered it. None where none died in a
    stage that has a share.
    """
    rows: list[tuple[str, float, float]] = []
    for count, deaths in _deaths(course, broods):
        if count.came_through is None:
            continue
        left = float(count.known)
        for cause, died in deaths.items():
            rows.append((f"{count.stage}: {cause}", left, float(died)))
            left -= died
    return stage_table(rows) if rows else None


def dead_of_either(course: Course, broods: Collection[str]) -> dict[str, int]:
    """How many died of which that may be of these broods or of others: by code (``A or B``)."""
    dead = {code: course.told_apart(code).ended for code in course.unsure_codes(broods)}
    numbers = {
        code: sum(ending.cohort.number for ending in ended if ending.fate in DEAD)
        for code, ended in dead.items()
    }
    return {code: number for code, number in numbers.items() if number}


def dead_not_laid_here(course: Course, broods: Collection[str]) -> int:
    """How many died young of which nobody knows when they were laid, where others were laid here:
    in no curve with those."""
    mine = course.of(broods, one_by_one=True)
    if not any(entered.cohort.laid_and_seen for entered in mine.entered):
        return 0
    others = [
        ending.cohort
        for ending in mine.ended
        if ending.fate in DEAD and not ending.cohort.laid_and_seen
    ]
    return sum(cohort.number for cohort in others if cohort.stage != "adult")


def _undated(mine: CourseShare) -> set[str]:
    """The broods of which some change is not dated: nobody knows at what age their dead died."""
    return {one.cohort.brood for one in mine.passages if one.evidence == NOT_DATED}


def dead_as_adults(course: Course, broods: Collection[str]) -> int:
    """How many died when they were grown: in no curve up to the adult."""
    dead = [one.cohort for one in course.of(broods).ended if one.fate in DEAD]
    return sum(cohort.number for cohort in dead if cohort.stage == "adult")


def dead_at_no_known_age(course: Course, broods: Collection[str]) -> int:
    """How many died young of broods of which some change is not dated: in no curve."""
    mine = course.of(broods, one_by_one=True)
    undated = _undated(mine)
    dead = [
        ending.cohort
        for ending in mine.ended
        if ending.fate in DEAD and ending.cohort.brood in undated
    ]
    return sum(cohort.number for cohort in dead if cohort.stage != "adult")


def so_far(course: Course, broods: Collection[str]) -> list[str]:
    """What died in stages that have no share for it: ``L3: mould 1; 5 still in it, no share yet``;
    of adults, who all die, there is none at all."""
    return [
        f"{count.stage}: {', '.join(f'{cause} {died}' for cause, died in deaths.items())}; "
        + (f"{count.here} still in it, no share yet" if count.is_running else "no share of adults")
        for count, deaths in _deaths(course, broods)
        if (count.is_running or count.is_last) and deaths
    ]


def _deaths(course: Course, broods: Collection[str]) -> Iterator[tuple[StageCount, dict[str, int]]]:
    """Each stage with its dead by cause."""
    ended = sorted(_in_stages_of_all(course.of(broods)).ended, key=lambda one: one.at)
    for count in stage_counts(course, broods):
        dead = (one for one in ended if one.cohort.stage == count.stage and one.fate in DEAD)
        yield count, summed((_cause(one), one.cohort.number) for one in dead)


def _cause(ended: Ended) -> str:
    """Of what animals died, as far as it is on record."""
    if ended.cause:
        return ended.cause
    return "never seen again" if ended.fate == "missing" else "cause not recorded"


class Span(Struct, frozen=True):
    """Some animals' time in a stage: from when to when, and where they stood."""

    stage: str
    number: int
    since: datetime
    until: datetime
    stays: tuple[Stay, ...]
    inferred: bool = False

    @property
    def days(self) -> float:
        """How long [days]."""
        return (self.until - self.since) / A_DAY


def timed_passages(passages: Collection[Passage]) -> frozenset[Passage]:
    """Those of some broods whose stage was seen to begin and to end, none being passed over; larvae
    of which nobody tells instars are in one stage from hatching to pupation."""
    last = max((rank(one.cohort.stage) for one in passages if one.to == "pupa"), default=0)

    def next_one(passage: Passage) -> bool:
        begun = rank(passage.cohort.stage)
        hatch_known = passage.cohort.hatched is not None or passage.in_days
        is_whole = passage.cohort.stage == "larva" and hatch_known
        to_pupa = passage.to == "pupa" and (is_whole or begun == last > rank("L1"))
        return passage.cohort.stage == "egg" or rank(passage.to) == begun + 1 or to_pupa

    return frozenset(
        one
        for one in passages
        if one.cohort.begin_known and (one.in_days or one.evidence != NOT_DATED) and next_one(one)
    )


def spans(course: Course, broods: Collection[str]) -> Iterator[Span]:
    """Every stage that animals of these broods were seen to begin and to end; larvae as a whole and
    egg to adult too.

    Eggs begin in the middle of the time between which they were laid; all else begins and ends when
    it was seen; what is not dated ends and begins none of which it is not said how long it took.
    What was in diapause meanwhile is told apart, for warmth says nothing of how long that took.
    """

    def named(stage: str, rested: bool) -> str:
        return f"{stage}{IN_DIAPAUSE}" if rested else stage

    mine = course.of(broods).passages
    timed = timed_passages(mine)
    for passage in mine:
        if passage.evidence == NOT_DATED and not passage.in_days:
            continue
        cohort = passage.cohort
        inferred = passage.evidence == "inferred"
        if passage in timed:
            stage = named(cohort.stage, cohort.stage in cohort.rested)
            yield Span(stage, cohort.number, cohort.begun, passage.at, cohort.stays, inferred)
        is_told = passage in timed and cohort.stage == "larva"
        if passage.to == "pupa" and cohort.hatched and not is_told:
            stage = named("larva", any(one not in ("egg", "pupa") for one in cohort.rested))
            yield Span(
                stage,
                cohort.number,
                cohort.hatched,
                passage.at,
                cohort.stays,
                inferred,
            )
        if passage.to == "adult" and cohort.laid and passage.evidence != NOT_DATED:
            begun = cohort.laid[0] + (cohort.laid[1] - cohort.laid[0]) / 2
            stage = named("egg to adult", bool(cohort.rested))
            yield Span(stage, cohort.number, begun, passage.at, cohort.stays, inferred)


class Duration(Struct):
    """How long a stage took: number, mean, median, least and most [days], and the mean temperature
    [C] of those that were warmed.

    ``read`` is the number for which a temperature was read, ``mean_read`` how long those took
    [days]; ``inferred`` how many ends were inferred, not seen.
    """

    stage: str
    number: int = 0
    mean: float = 0.0
    median: float = 0.0
    least: float = 0.0
    most: float = 0.0
    temperature_c: float | None = None
    read: int = 0
    mean_read: float = 0.0
    inferred: int = 0


def durations(
    course: Course, broods: Collection[str], warmth: CourseTemperatures
) -> list[Duration]:
    """The durations of every stage of some broods together, in the order of a life."""
    by_stage = grouped((span.stage, span) for span in spans(course, broods))
    return [_duration(stage, by_stage[stage], warmth) for stage in sorted(by_stage, key=_row)]


def _row(stage: str) -> tuple[int, str]:
    """Where a stage stands in a table of a life; those that were in diapause in it come behind the
    others."""
    plain = stage.removesuffix(IN_DIAPAUSE)
    return 200 if plain == "egg to adult" else 50 if plain == "larva" else rank(plain), stage


def _duration(stage: str, found: list[Span], warmth: CourseTemperatures) -> Duration:
    number = sum(span.number for span in found)
    heat = read = days_read = 0.0
    for span in found:
        felt = warmth.felt(span.stays, span.since, span.until)
        if felt is not None:
            heat += span.number * felt
            read += span.number
            days_read += span.number * span.days
    return Duration(
        stage,
        number,
        sum(span.number * span.days for span in found) / number,
        _median(found, number),
        min(span.days for span in found),
        max(span.days for span in found),
        heat / read if read else None,
        int(read),
        days_read / read if read else 0.0,
        sum(span.number for span in found if span.inferred),
    )


def _median(found: list[Span], number: int) -> float:
    """The days of the middle one of all animals, of an even number the mean of the middle two."""
    ordered = sorted(found, key=lambda span: span.days)
    ends = list(accumulate(span.number for span in ordered))
    middle = ((number - 1) // 2, number // 2)
    low, high = (ordered[bisect_right(ends, place)].days for place in middle)
    return (low + high) / 2


def survival_to_adult(
    course: Course, broods: Collection[str], now: datetime
) -> SurvivalCurve | None:
    """Survival by age [days since laying, else since they came in] up to the adult.

    Died and given up on is an end; released, escaped, kept, not seen, mixed with others or still
    young is out of sight alive; those that emerged count as alive to the end of the curve. None is
    at risk before it was first counted, or came as more than an egg. Where it is known of some when
    they were laid, those of whom it is not stay out, and so do those of which nobody knew before
    they hatched, and broods of which some change is not dated. None where there is no animal.
    """
    mine = course.of(broods, one_by_one=True)
    undated = _undated(mine)
    laid = any(entered.cohort.laid_and_seen for entered in mine.entered)

    def counts(cohort: Cohort) -> bool:
        return bool(cohort.laid_and_seen) == laid and cohort.brood not in undated

    last = [(ended.cohort, ended.at, ended.fate in DEAD) for ended in mine.ended]
    last += [(cohort, now, False) for cohort in mine.alive]
    last += [(cohort, cohort.last_known, False) for cohort in mine.not_seen]
    last += [(mixed.cohort, mixed.at, False) for mixed in mine.mixed]
    last = [one for one in last if counts(one[0])]
    ages = [_age(cohort, at) for cohort, at, _ in last if cohort.stage != "adult"]
    ages += [_age(one.cohort, one.at) for one in mine.passages if counts(one.cohort)]
    end = max(ages, default=0.0)
    # eggs are found dead or alive; of others, and in a count, those alone that lived till then
    later = {one.at for one in mine.entered if one.by_count or one.cohort.stage != "egg"}
    lives: list[tuple[float, bool, float]] = []
    for cohort, at, dead in last:
        grown = cohort.stage == "adult"
        age = end if grown else _age(cohort, at)
        came = _age(cohort, cohort.came) if cohort.came in later else 0.0
        # one that died at the look that first counted it was there
        came = min(came, math.nextafter(age, 0.0) if dead else age)
        lives += [(age, dead and not grown, came)] * cohort.number
    return kaplan_meier(*zip(*lives, strict=True)) if lives else None


def _age(cohort: Cohort, at: datetime) -> float:
    laid = cohort.laid_and_seen
    begun = laid[0] + (laid[1] - laid[0]) / 2 if laid else cohort.came
    return max(0.0, (at - begun) / A_DAY)
