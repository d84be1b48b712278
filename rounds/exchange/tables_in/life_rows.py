"""Rows that tell a whole life each: of a brood, an animal, or what was in a container.

When each stage began is told by dates, by the days that stages took, or by both; how many reached
it by counts, by the dead, or, of one animal, by whether it died. What a row does not tell is not
made up: a stage without a date is not dated, and those who were lost nobody knows when are not
known.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from itertools import pairwise

from rounds.bench.old_records import place_note
from rounds.bench.plurals import PLURALS
from rounds.entries.registry import Counted
from rounds.exchange.tables_in.columns import (
    BEGINS,
    CENSUS,
    COUNTS,
    DAYS_AS_INSTAR,
    DEAD_IN,
    GONE_IN,
    SINCE_LAID,
    SPANS,
)
from rounds.exchange.tables_in.fates import (
    FATES,
    NO_MORE,
    NOT_KNOWN,
    fate_in,
    left_as,
    says_emerged,
)
from rounds.exchange.tables_in.past_entries import NotSo
from rounds.exchange.tables_in.record import Catch, PastRecord, cause_of, likely_words
from rounds.exchange.tables_in.rows import TableRow
from rounds.exchange.tables_in.told_beside import NO_DAY, NO_STAGE, ToldBeside
from rounds.exchange.tables_in.values import (
    ALL_INSTARS,
    INSTARS,
    STAGES,
    amount,
    bound_in,
    dead_stage_in,
    instar_in,
    numbers_of_stages,
    says_all,
    says_not_known,
    sex_in,
    spans_in,
    stage_in,
    without_death,
)
from rounds.exchange.tables_in.vocabulary import DEAD, WINTERS, bare, code_key, has

A_DAY = timedelta(days=1)
SAME_DAYS = 1.01  # dates and days that are given both may differ by so many days; our choice
MAX_DAYS = 1_000  # that a stage, or all of them, may take; our limit
AT_ONCE = 0.01  # days: a sum that is so near is the same
LEFT_AS = ("escaped", "released", "kept", "given away")  # fates of those that left
_SAYS_STAGE = ("fate", "stage")  # in which a row can say in which stage an animal died
_INSTAR_TOOK_IN = dict(zip(ALL_INSTARS, DAYS_AS_INSTAR, strict=True))
_ALL_TOOK_IN = {**SPANS, **_INSTAR_TOOK_IN}
_TOLD_BY = (
    *_ALL_TOOK_IN.values(),
    *SINCE_LAID.values(),
    *(BEGINS[one] for one in STAGES if one != "egg"),
    "stages",
)


@dataclass(frozen=True, slots=True)
class LifeStep:
    """So many reach a stage or instar, or, ``at_least``, more, which nobody wrote down: when, or,
    not ``dated``, by when at the latest."""

    stage: str
    number: int
    at: datetime
    dated: bool
    at_least: bool = False


@dataclass(slots=True)
class RowLife:
    """What one row tells: animals that begin in a stage, go on, die, and how the rest ends."""

    stage: str
    number: int
    begun: datetime
    laid_to: datetime
    ended: datetime
    steps: list[LifeStep] = field(default_factory=list)
    deaths: list[tuple[str, int, datetime]] = field(default_factory=list)
    gone: dict[str, tuple[str, int]] = field(default_factory=dict)  # left in which stage, and how
    fate: str = ""
    losses: int = 0  # died nobody wrote in which stage
    no_day: bool = False  # died nobody wrote when
    likely: Counter[str] = field(default_factory=Counter)  # of those, in which it is taken to be
    assumed: dict[str, int] = field(default_factory=dict)  # went on for all that nobody wrote

    @property
    def furthest(self) -> str:
        """The latest stage that some reached."""
        reached = [step.stage for step in self.steps if step.stage in STAGES]
        return reached[-1] if reached else self.stage

    @property
    def came(self) -> datetime:
        """When they were there first: when the last were laid, or what is told of them first."""
        told = [*(step.at for step in self.steps), *(at for *_, at in self.deaths)]
        return min([self.laid_to, *told])

    @property
    def laid(self) -> tuple[datetime, datetime] | None:
        """Between when they were laid; None where they came later."""
        return (self.begun, self.laid_to) if self.stage == "egg" else None


def life_of(
    row: TableRow,
    laid: datetime | None,
    *,
    marks_only: bool = False,
    days_are_whole: bool = False,
    none_is_egg: bool = False,
) -> RowLife:
    """What a row tells; of a laying that failed, that there were none.

    Args:
        laid: from when days count in a row without any date, as the keeper said.
        marks_only: the column of fates has marks for the dead alone; without one it lives.
        days_are_whole: days stand under stages alone that were gone through; who died did so in the
            one after.
        none_is_egg: the dead without any days died in the stage in which the row begins.

    Raises:
        NotSo: in one line, what cannot be so.
    """
    by_none = none_is_egg or (days_are_whole and "days in all" not in row.headings)
    return _LifeReader(
        row, laid, marks_only=marks_only, days_are_whole=days_are_whole, by_none=by_none
    ).life()


class _LifeReader:
    """Reads one row.

    Its chain are the stages one after another, with those instars that the table has columns for,
    or whose days the row tells. Where it tells these, ``larva`` in it is the first instar.
    """

    def __init__(
        self,
        row: TableRow,
        laid: datetime | None,
        *,
        marks_only: bool,
        days_are_whole: bool,
        by_none: bool,
    ) -> None:
        self._row, self._days_are_whole, self._by_none = row, days_are_whole, by_none
        self._begun = {stage: row.date(name) for stage, name in BEGINS.items()}
        self._counts = self._counted()
        for instar in INSTARS:
            self._read_instar(instar)
        self._came_as = ""  # the stage in which the day of the row begins
        if all(at is None for at in self._begun.values()):
            self._came_as = stage_in(row.text("stage") or row.text("what happened")) or "egg"
            self._begun[self._came_as] = row.date("date") or laid
        laid_at = self._begun["egg"]
        for stage, name in SINCE_LAID.items():
            days = row.amount(name)
            _refuse_days(days)
            if days is not None and laid_at is not None and self._begun[stage] is None:
                self._begun[stage] = laid_at + days * A_DAY
        self._dead = {stage: row.number_of(name) for stage, name in DEAD_IN.items()}
        self._in_all = row.amount("days in all")
        _refuse_days(self._in_all)
        self._fate = _fate(row, marks_only=marks_only)
        self._took = _took(row)
        self._at_least = next(
            (one for one in reversed(SPANS) if bound_in(row.text(SPANS[one]))), ""
        )
        self._lives_in = self._where_it_lives()
        self._fill_by_difference()
        self._by_instars = [one for one in ALL_INSTARS if one in self._took]
        self._chain = _chain(row, self._instars_gone_through())
        self._fill_backwards()

    def _counted(self) -> dict[str, int | None]:
        """How many reached each stage; as many as the one before where it says all."""
        counts: dict[str, int | None] = {}
        before = self._row.number_of("number")
        for stage, name in PLURALS.items():
            is_all = before is not None and says_all(self._row.text(name))
            counts[stage] = before if is_all else self._row.number_of(name)
            before = before if counts[stage] is None else counts[stage]
        return counts

    def _read_instar(self, instar: str) -> None:
        """A cell under an instar is the day on which it was reached, or how many did."""
        cell = self._row.text(instar)
        is_number = amount(cell) is not None
        self._counts[instar] = self._row.number_of(instar) if is_number else None
        self._begun[instar] = None if is_number else self._row.date(instar)

    def _instars_gone_through(self) -> tuple[str, ...]:
        """The instars that a row tells by their days, with the next where it ends in it.

        The days of the larva are those of its instars where all of these are told; of one that came
        no further they are not those of the stage.

        Raises:
            NotSo: they contradict each other.
        """
        if not self._by_instars:
            return ()
        furthest = ALL_INSTARS.index(self._by_instars[-1]) + 1
        told = [one for one, days in _INSTAR_TOOK_IN.items() if days in self._row.headings]
        later = ("pupa", "adult")
        is_over = (
            any(self._begun[one] or self._counts[one] or self._took.get(one) for one in later)
            or self._by_instars[-1:] == told[-1:]
            or ("larva" in self._took and self._fate != "died")
        )
        if not is_over:
            self._took.pop("larva", None)
            return ALL_INSTARS[: furthest + 1]
        if len(self._by_instars) == furthest:
            in_all = sum(self._took[one] for one in self._by_instars)
            if abs(self._took.setdefault("larva", in_all) - in_all) > SAME_DAYS:
                raise NotSo(
                    f"the days of the instars are {in_all:g}, but {self._took['larva']:g} as larva;"
                    " mend one of them"
                )
        return ALL_INSTARS[:furthest]

    def _lasted(self, stage: str) -> float | None:
        """How many days the row gives a stage of its chain."""
        if self._by_instars and stage == "larva":
            return self._took.get("L1")
        return self._took.get(stage)

    def _next(self, stage: str) -> str:
        """The stage or instar behind one whose days are told."""
        chain = self._chain if self._by_instars else STAGES
        return chain[chain.index(stage) + 1]

    def _days_told(self) -> float:
        """All days that the row gives stages, those of instars where they are not of the larva."""
        among = ALL_INSTARS if "larva" in self._took else ()
        return sum(days for stage, days in self._took.items() if stage not in among)

    def _fill_backwards(self) -> None:
        """When a stage began of which only the end and the days are given."""
        for stage, later in reversed(list(pairwise(STAGES))):
            end = self._begun[later]
            if self._begun[stage] is None and end is not None and stage in self._took:
                self._begun[stage] = end - self._took[stage] * A_DAY

    def _fill_by_difference(self) -> None:
        """The days of the one stage that are not told of those that emerged, where those in all
        are."""
        missing = [stage for stage in SPANS if stage not in self._took]
        is_dated = any(self._begun[stage] is not None for stage in STAGES[1:])
        emerged = self._counts["adult"] if any(map(self._row.text, COUNTS)) else self._emerged()
        if self._in_all is None or len(missing) != 1 or is_dated or not emerged:
            return
        left = self._in_all - sum(self._took[stage] for stage in SPANS if stage not in missing)
        if left > AT_ONCE:
            self._took[missing[0]] = left

    def _where_it_lives(self) -> str:
        """The stage in which an animal still lives by its fate; days that are told of that are no
        more than its age: they do not end it. Empty where there is none such."""
        words = bare(self._row.text("fate"))
        told = [stage for stage in SPANS if stage in self._took]
        if self._is_so_old(told):
            return self._at_least
        if self._fate != NO_MORE or says_emerged(words):
            return ""
        stage = stage_in(words) or (self._winters_in(told) if has(WINTERS, words) else "")
        later = STAGES[STAGES.index(stage) + 1 :] if stage else ()
        if not stage or any(one in told or self._begun[one] for one in later):
            return ""
        if stage in told:
            if self._in_all is None:
                self._in_all = sum(self._took[one] for one in told)
            del self._took[stage]
        return stage

    def _is_so_old(self, told: Sequence[str]) -> bool:
        """Whether the row ends with an animal that has been in a stage for at least so many days.

        Raises:
            NotSo: there are more in all, so that it may have gone on.
        """
        stage, row = self._at_least, self._row
        later = STAGES[STAGES.index(stage) + 1 :] if stage else ()
        goes_on = any(one in told or self._begun[one] or self._counts[one] for one in later)
        if not stage or goes_on or self._fate not in (NO_MORE, "") or sex_in(row.text("sex")):
            return False
        heading, cell = row.headings[SPANS[stage]], row.text(SPANS[stage])
        age = sum(self._took[one] for one in told)
        age += found.value if (found := amount(cell)) else 0
        if self._in_all is None:
            self._in_all = age
        if self._in_all - age > AT_ONCE and stage_in(row.text("fate")) != stage:
            raise NotSo(
                f"{heading} is '{cell}' of {self._in_all:g} days in all; write the days, or as what"
                " it lives"
            )
        return True

    def _winters_in(self, told: Sequence[str]) -> str:
        """The stage of those that winter: the last of which days are told, or the one behind it
        where there are more days in all."""
        if not told:
            return ""
        more = (self._in_all or 0) - sum(self._took[one] for one in told)
        is_further = more > AT_ONCE and told[-1] != "pupa"
        return STAGES[STAGES.index(told[-1]) + is_further]

    def _emerged(self) -> bool:
        """Whether an animal became an adult for all that no date tells: by its fate, by a sex in a
        table without days of emergence, or by the days of all stages but one."""
        row = self._row
        if self._fate == "died" or self._lives_in:
            return False
        if says_emerged(row.text("fate")):
            return True
        if not self._took or "emerged" in row.headings:
            return False
        missing = [stage for stage in SPANS if stage not in self._took]
        is_left = self._fate == "released" or (self._fate == NO_MORE and missing != ["pupa"])
        return bool(sex_in(row.text("sex"))) or (len(missing) == 1 and is_left)

    def _came_to(self, first: str) -> str:
        """The furthest stage that an animal that did not die came to, by what is told but dates:
        the one behind the last of which there are days."""
        if self._fate == "died":
            return first
        if self._emerged():
            return "adult"
        lasted = [stage for stage in self._chain if self._lasted(stage) is not None]
        came = self._next(lasted[-1]) if lasted else first
        return max(came, self._lives_in or came, key=self._chain.index)

    def _after(self, stage: str) -> Sequence[str]:
        return self._chain[self._chain.index(stage) + 1 :]

    def life(self) -> RowLife:
        """What the row tells."""
        row, counts = self._row, self._counts
        first = next((stage for stage in STAGES if self._begun[stage] is not None), None)
        start = self._begun[first] if first else None
        if first is None or start is None:
            raise NotSo(
                "no date says when it began; give the day of laying, or one for all: --laid DAY"
            )
        earlier = self._chain[: self._chain.index(first)]
        if any(counts[stage] is not None for stage in earlier):
            raise NotSo(
                f"{PLURALS[earlier[0]]} are given, but not when they were laid; give the day"
            )
        counted = any(number is not None for number in counts.values())
        number = counts[first] if counts[first] is not None else row.number_of("number")
        if counted or number not in (None, 1):
            if number is None:
                raise NotSo(
                    f"how many there were as {first} is not given; name a column of numbers"
                )
            life = self._several(first, start, number)
        else:
            life = self._one(first, start)
        self._date_by_next(life)
        self._refuse_short(life)
        self._end(life)
        return life

    def _end(self, life: RowLife) -> None:
        """Between when they were laid, and the last day that is told of."""
        row = self._row
        life.laid_to = row.date("laid until") or life.begun
        if life.laid_to < life.begun:
            raise NotSo("the last day of laying is before the first; swap them")
        life.steps = [
            replace(one, at=life.laid_to) if one.at == life.begun and not one.dated else one
            for one in life.steps
        ]
        life.deaths = [
            (stage, number, life.laid_to if at == life.begun else at)
            for stage, number, at in life.deaths
        ]
        told = [life.begun, life.laid_to, *(step.at for step in life.steps)]
        told += [at for _, _, at in life.deaths]
        told += [life.begun + self._in_all * A_DAY] if self._in_all is not None else []
        last = row.date("ended") or row.date("died")
        life.ended = max([*told, *([last] if last else [])])
        _refuse_backwards(life)

    def _ends(self, stage: str, later: str, start: datetime) -> datetime | None:
        """When a stage ended, by its date or its days.

        Raises:
            NotSo: they contradict each other.
        """
        took = self._took
        by_date = self._begun[later]
        begun = self._begun[stage] or start
        by_days = begun + took[stage] * A_DAY if stage in took and later in STAGES else None
        if self._by_instars and stage in self._chain[1:-2]:
            days = self._lasted(stage) if self._next(stage) == later else None
            is_known = self._begun[stage] is not None and days is not None
            by_days = begun + (days or 0) * A_DAY if is_known else None
        if later == "pupa" and stage in INSTARS and "larva" in took:
            hatched = self._begun["larva"]
            by_days = hatched + took["larva"] * A_DAY if hatched else None
        if by_date is not None and by_days is not None:
            apart = abs(by_date - by_days) / A_DAY
            if apart > SAME_DAYS:
                raise NotSo(
                    f"{BEGINS[later]} is {apart:g} days from what the days of the stage say;"
                    " mend one of them"
                )
        end = by_date if by_date is not None else by_days
        if end is not None and self._begun[later] is None:
            self._begun[later] = end
        return end

    def _one(self, first: str, start: datetime) -> RowLife:
        """The life of one animal."""
        life = RowLife(first, 1, start, start, start, fate=self._fate)
        last = start + self._in_all * A_DAY if self._in_all is not None else None
        is_dead = self._fate == "died"
        dies_in = self._dies_in(first) if is_dead and self._tells_how_far(first) else ""
        life.losses = int(is_dead and not dies_in)
        came_to = self._chain.index(self._came_to(first))
        at, known = start, True  # whether it is known when the stage it is in began
        for stage, later in pairwise(self._chain[self._chain.index(first) :]):
            if stage == dies_in:
                break
            end = self._ends(stage, later, at) if known else self._begun[later]
            goes_on = end is not None or dies_in or any(map(self._begun.get, self._after(later)))
            goes_on = goes_on or came_to >= self._chain.index(later)
            is_over = last is None or (last - at) / A_DAY <= AT_ONCE
            is_over = is_over or bool(self._lives_in)
            if not goes_on and (is_over or not self._emerges_after(stage)):
                break  # the row tells no more of it
            if end is None and last is not None and later == "adult" and not dies_in:
                end = last
            if end is None and later in INSTARS:
                continue  # a moult that nobody wrote down
            took = 0 if dies_in else self._lasted(stage) or 0
            known, at = end is not None, end or at + took * A_DAY
            life.steps.append(LifeStep(later, 1, at, known))
        if dies_in:
            days = self._lasted(dies_in)
            lasted = at + days * A_DAY if days is not None and known else at
            told = self._last_day()
            ended = self._row.date("died") or last or max(lasted, told or lasted)
            life.no_day = told is None and last is None and days is None
            life.deaths.append((dies_in, 1, ended))
        return life

    def _tells_how_far(self, first: str) -> bool:
        """Whether a row tells how far a dead animal came: by days, dates or its stage, or, where
        that is so, by none."""
        row = self._row
        is_told = any(map(row.text, ("stage", "days in all", "died", "ended"))) or self._took
        is_further = any(self._begun[stage] is not None for stage in self._after(first))
        return bool(
            is_told
            or self._at_least
            or is_further
            or self._by_none
            or dead_stage_in(row.text("fate"))
        )

    def _emerges_after(self, stage: str) -> bool:
        """Whether days in all that are more than those of the stages end with an adult: where it
        lived, or came as far as the pupa; else nobody knows in what they ended."""
        return stage == "pupa" or self._fate in (NO_MORE, "released")

    def _dies_in(self, first: str) -> str:
        """In which stage an animal died: as the row says, else in the last that it tells of; where
        the days in all are more than those of the stages, in the one after."""
        said = stage_in(self._row.text("fate"))
        if not self._came_as or self._came_as == "egg":
            said = said or stage_in(self._row.text("stage"))
        if said and said != "larva":
            return said
        place = self._chain.index
        reached = [stage for stage in self._chain if self._begun[stage] is not None]
        lasted = [stage for stage in self._chain if self._lasted(stage) is not None]
        at_least = [self._at_least] if self._at_least else []
        furthest = max([first, *reached[-1:], *lasted[-1:], *at_least], key=place)
        if not said and furthest == "egg" and dead_stage_in(self._row.text("fate")):
            return furthest
        if said:
            instars = [one for one in (*reached, *lasted) if one in INSTARS]
            furthest = max([said, *instars], key=place)
            said_instar = next(filter(None, map(instar_in, map(self._row.text, _SAYS_STAGE))), 0)
            is_next = self._by_instars and self._next(furthest) == f"L{said_instar}"
            return self._next(furthest) if is_next else furthest
        if lasted and furthest == lasted[-1] and furthest != "adult":
            left = self._in_all - self._days_told() if self._in_all is not None else 0
            if left > AT_ONCE or (self._in_all is None and self._days_are_whole):
                return self._next(furthest)
        return furthest

    def _several(self, first: str, start: datetime, number: int) -> RowLife:
        """The life of several animals: how many reached each stage, and what became of the
        others."""
        counts, dead = self._counts, self._dead
        last = start + self._in_all * A_DAY if self._in_all is not None else None
        life = RowLife(first, number, start, start, start, fate=self._fate)
        stage, at, here, known, more_may = first, start, number, True, False
        lost: list[tuple[str, int, datetime]] = []  # in this stage or a later one
        for later in self._after(first):
            end = self._ends(stage, later, at) if known else self._begun[later]
            further = [
                one for name in (later, *self._after(later)) if (one := counts[name]) is not None
            ]
            goes_on = end is not None or further or any(map(self._begun.get, self._after(later)))
            is_over = last is None or dead.get(stage) is not None
            is_over = is_over or bool(self._lives_in)
            if not goes_on and (is_over or not self._emerges_after(stage)):
                break
            if later in INSTARS and end is None and counts[later] is None:
                continue  # a moult that nobody wrote down
            if end is None and last is not None and later == "adult":
                end = last
            reached = self._reach(stage, later, here)
            here -= self._go(life, stage, here - reached)
            known = end is not None
            at = end or at + (self._lasted(stage) or 0) * A_DAY
            uncounted = counts[later] is None and dead.get(stage) is None
            if uncounted and later in INSTARS and further and reached < here:
                # of the larvae that a later count lacks nobody knows in which instar they died
                died = self._lose(life, stage, here - reached, at, counted=True)
                if died:
                    life.likely["L1" if stage == "larva" else stage] += died
                here = reached
            is_empty = PLURALS.get(later) in self._row.headings
            if uncounted and is_empty and not further:
                reached = min(here, 1)  # some did, on that day; the cell for how many is empty
            more_may = uncounted and (more_may or reached < here)
            if reached:
                life.steps.append(LifeStep(later, reached, at, known, more_may))
            if uncounted and later in STAGES and not further and not is_empty:
                life.assumed[later] = reached  # all, for nobody wrote how many
            if more_may and reached < here:
                lost.append((stage, here - reached, at))
            else:
                self._lose(life, stage, here - reached, at, counted=counts[later] is not None)
            stage, here = later, reached
            if not here:
                break
        here -= self._go(life, stage, here)
        is_uncounted = all(one is None for one in (*counts.values(), *dead.values()))
        is_told = bool(dead.get(stage) is not None or self._row.text("deaths"))
        all_died = is_uncounted or (stage != "adult" and not is_told)
        if here and self._fate == "died" and all_died:
            life.deaths.append((stage, here, self._last_day() or at))
            here = 0
        if here and dead.get(stage) and not any(died_in == stage for died_in, _, _ in life.deaths):
            self._lose(life, stage, here, self._last_day() or at, counted=False)
        self._all_deaths(life, here, lost)
        return life

    def _gone_in(self, stage: str) -> int:
        """How many left in a stage, of larvae in their last instar; 0 where the row tells none."""
        larval = self._chain[self._chain.index("pupa") - 1]
        of_stages = {larval if one == "larva" else one: name for one, name in GONE_IN.items()}
        return self._row.number_of(of_stages[stage]) or 0 if stage in of_stages else 0

    def _go(self, life: RowLife, stage: str, lost: int) -> int:
        """Of those that did not go on, how many left otherwise than dead."""
        number = 0 if stage in life.gone else self._gone_in(stage)
        name = GONE_IN.get(stage, GONE_IN["larva"])
        if number > lost:
            raise NotSo(f"{number} {name}, but only {lost} did not go on; mend one of them")
        if number:
            life.gone[stage] = left_as(self._row.headings[name]), number
        return number

    def _last_day(self) -> datetime | None:
        return self._row.date("died") or self._row.date("ended")

    def _reach(self, stage: str, later: str, here: int) -> int:
        """How many reach the next stage: as counted, else all but the dead, at most as many as
        later ones were counted where the dead are not."""
        counted, died = self._counts[later], self._dead.get(stage)
        stay = here - self._gone_in(stage)
        if counted is not None:
            if counted > here:
                raise NotSo(f"{counted} {_many(later)} of {here} {_many(stage)}; mend one of them")
            return counted
        if (died or 0) > here:
            raise NotSo(f"{died} {DEAD_IN[stage]} of {here}; mend one of them")
        later_counts = [
            one for name in self._after(later) if (one := self._counts[name]) is not None
        ]
        if died is not None or not later_counts:
            return max(0, stay - (died or 0))
        return min(stay, max(later_counts))

    def _lose(self, life: RowLife, stage: str, lost: int, at: datetime, *, counted: bool) -> int:
        """Of those that did not go on: the dead as they are given; all of them where the row gives
        the dead of all stages, or says that all died, and the next stage was counted. How many."""
        dead = self._dead.get(stage)
        if dead is not None and dead > lost and counted:
            raise NotSo(f"{dead} {DEAD_IN[stage]}, but only {lost} did not go on; mend one of them")
        tells_all = self._row.text("deaths") or self._fate == "died"
        died = dead if dead is not None else lost if counted and tells_all else 0
        if died:
            life.deaths.append((stage, died, at))
        return died

    def _all_deaths(self, life: RowLife, here: int, lost: list[tuple[str, int, datetime]]) -> None:
        """Deaths of which the row does not say in which stage: first of those that nobody knows to
        have gone on; they are taken to have died in the stage in which they were last counted.

        Args:
            here: how many are left in the last stage.
            lost: in which stage or a later one how many are, who did not come as far as that.
        """
        all_dead = self._row.number_of("deaths")
        if all_dead is None:
            return
        told = sum(number for _, number, _ in life.deaths)
        more = all_dead - told
        at_most = here + sum(number for _, number, _ in lost)
        if more < 0 or more > at_most:
            can = f"{told} did" if more < 0 else f"at most {told + at_most} can have"
            raise NotSo(f"{all_dead} died, but by the other numbers {can}; mend one of them")
        for stage, number, at in lost:
            died = min(more, number)
            more -= died
            if died:
                life.deaths.append((stage, died, at))
                life.likely[stage] += died
        stage = life.steps[-1].stage if life.steps else life.stage
        if more and stage == life.stage:  # they reached no other: they died in it
            life.deaths.append((stage, more, self._last_day() or life.begun))
        else:
            life.losses = more

    def _date_by_next(self, life: RowLife) -> None:
        """What is not dated was so by the next that is; so were those lost before it."""
        known = [step.at for step in life.steps if step.dated] + [at for _, _, at in life.deaths]
        before = dict(
            zip(
                (step.stage for step in life.steps),
                [life.stage, *(step.stage for step in life.steps)],
                strict=False,
            )
        )
        for place, step in enumerate(life.steps):
            if step.dated:
                continue
            coming = [one.at for one in life.steps[place + 1 :] if one.dated]
            by = coming[0] if coming else max([step.at, *known])
            life.steps[place] = replace(step, at=by)
            life.deaths = [
                (stage, number, max(at, by) if stage == before[step.stage] else at)
                for stage, number, at in life.deaths
            ]

    def _refuse_short(self, life: RowLife) -> None:
        """Days in all that are fewer than those of the stages."""
        told = [step.at for step in life.steps if step.dated]
        if self._in_all is None:
            return
        of_dates = (max(told) - life.begun) / A_DAY if told else 0
        stages = max(of_dates, self._days_told() if life.stage == "egg" else 0)
        if stages - self._in_all > AT_ONCE:
            raise NotSo(
                f"{self._in_all:g} days in all are fewer than the {stages:g} of its stages; mend"
                " one of them"
            )


def _chain(row: TableRow, gone_through: Sequence[str]) -> list[str]:
    """The stages, with the instars that the table has columns for, and those gone through."""
    instars = [instar for instar in INSTARS if instar in row.headings or instar in gone_through]
    return [*STAGES[:2], *instars, *STAGES[2:]]


def _many(stage: str) -> str:
    return PLURALS.get(stage, stage)


def _took(row: TableRow) -> dict[str, float]:
    """How long each stage took [days]."""
    took = dict(spans_in(row.text("stages")) or {})
    if row.text("stages") and not took:
        raise NotSo(
            f"'{row.text('stages')}' is not understood; it must be as: egg 3 d, larva 21 d, pupa 9"
            " d"
        )
    for stage, name in _ALL_TOOK_IN.items():
        days = row.amount(name)
        if days is not None:
            took[stage] = days
    for took_days in took.values():
        _refuse_days(took_days)
    order = ("egg", "larva", *ALL_INSTARS, "pupa", "adult")
    lasted = [stage for stage in order if took.get(stage)]
    furthest = order.index(lasted[-1]) if lasted else -1
    return {  # no days in the last ones: it did not come so far
        stage: days for stage, days in took.items() if days or order.index(stage) < furthest
    }


def tells_days_of_instars(row: TableRow) -> bool:
    """Whether a row, or the table it is of, tells how long an instar took."""
    in_text = not {*ALL_INSTARS}.isdisjoint(spans_in(row.text("stages")) or ())
    return in_text or not {*_INSTAR_TOOK_IN.values()}.isdisjoint(row.headings)


def _refuse_days(days: float | None) -> None:
    if days is not None and not 0 <= days <= MAX_DAYS:
        raise NotSo(f"{days:g} days; it must be from 0 to {MAX_DAYS:,}")


def _fate(row: TableRow, *, marks_only: bool) -> str:
    """What became of it: a word of ours; nothing where the row does not say, or nobody knows.

    Raises:
        NotSo: its cell is not understood.
    """
    cell = row.text("fate")
    if not cell:
        died = row.text("died") or (row.text("cause") and "fate" not in row.headings)
        return "died" if died else NO_MORE if marks_only else ""
    found = fate_in(cell, row.headings["fate"])
    if found is None:
        raise NotSo(f"{row.headings['fate']} is '{cell}'; it can be {', '.join(FATES)}")
    return "" if found == NOT_KNOWN else found


def _refuse_backwards(life: RowLife) -> None:
    """A stage that ends before it begins."""
    before, what = life.begun, BEGINS[life.stage]
    for step in life.steps:
        name = BEGINS.get(step.stage, step.stage)
        if step.at < before:
            raise NotSo(
                f"{name} {step.at:%d %b %Y} is before {what} {before:%d %b %Y}; mend one of them"
            )
        before, what = step.at, name
    for stage, _, at in life.deaths:
        begun = next((step.at for step in life.steps if step.stage == stage), life.begun)
        if at < begun:
            a = "an" if stage[0] in "aeL" else "a"
            raise NotSo(
                f"died {at:%d %b %Y} is before it was {a} {stage}, {begun:%d %b %Y}; mend one of"
                " them"
            )


@dataclass(frozen=True, slots=True)
class LifeRow:
    """A row with what it tells, and of which brood and container it is."""

    row: TableRow
    life: RowLife
    taxon: str
    plant: str
    brood: str
    container: str


@dataclass(slots=True)
class BroodTold:
    """What all rows of a brood tell: the last day, between when its eggs were laid, and when the
    last left each stage for the next one."""

    ended: datetime
    laid: tuple[datetime, datetime] | None = None
    went_on: dict[str, datetime] = field(default_factory=dict)

    def hear(self, life: RowLife) -> None:
        """Add what another row tells."""
        self.ended = max(self.ended, life.ended)
        if life.laid:
            since, until = self.laid or life.laid
            self.laid = min(since, life.laid[0]), max(until, life.laid[1])
        for step in life.steps:
            if step.stage in STAGES:
                left = STAGES[STAGES.index(step.stage) - 1]
                self.went_on[left] = max(step.at, self.went_on.get(left, step.at))


def broods_told(rows: Sequence[LifeRow]) -> dict[str, BroodTold]:
    """What is told of each brood, over all its rows."""
    broods: dict[str, BroodTold] = {}
    for one in rows:
        broods.setdefault(code_key(one.brood), BroodTold(one.life.ended)).hear(one.life)
    return broods


def ends_told_of(row: TableRow, life: RowLife) -> set[str]:
    """Of which stages a row tells how some died or left, or that they lived on before they were
    adults; empty text for a stage that it does not tell."""
    ends = {stage for stage, _, _ in life.deaths}
    ends |= {stage for stage, name in (*DEAD_IN.items(), *GONE_IN.items()) if row.text(name)}
    if life.losses or any(map(row.text, ("deaths", "died", "cause"))):
        ends.add("")
    lives = bool(row.text("fate")) and life.fate == NO_MORE and life.furthest != "adult"
    if life.fate in LEFT_AS or lives:
        ends.add(life.furthest)
    return ends


def tell_life(record: PastRecord, one: LifeRow, told: BroodTold) -> None:
    """Tell the bench of the past what a row tells.

    Args:
        told: what all rows of its brood tell.

    Raises:
        NotSo: it cannot have been so.
    """
    row, life = one.row, one.life
    begun = told.laid[0] if told.laid else life.begun
    brood = record.begin_brood(
        one.brood, one.taxon, begun, told.laid, row.text("mother"), Catch.of(row)
    )
    record.expect_end(brood, told.went_on, told.ended)
    code, came = record.set_up(one.container, life.stage, life.came), life.came
    if one.plant:
        record.feed(code, one.plant, came)
    sex = sex_in(row.text("sex"))
    if life.number:
        record.stock(
            code,
            brood,
            life.stage,
            life.number,
            came,
            laid=(life.begun, came) if life.laid else None,
            sex=sex if life.stage == "adult" else "",
        )
    else:
        record.say(Counted, code, came, number=0, stage=life.stage, brood=brood)
    stage = life.stage
    moults_told = any(step.stage in INSTARS for step in life.steps) or tells_days_of_instars(row)
    days_alone = {} if moults_told else _days_alone(one)
    for step in life.steps:
        sexes = row.sexes() if step.stage == "adult" else {}
        for which, number in (sexes or {sex: step.number}).items():
            if not number:
                continue
            record.grow(
                code,
                brood,
                step.stage,
                number,
                step.at,
                dated=step.dated,
                sex=which,
                moults_told=moults_told,
                at_least=step.at_least,
                days=days_alone.get(step.stage),
            )
        _tell_deaths(record, one, code, brood, stage)
        _tell_gone(record, life, code, brood, stage, step.at)
        stage = step.stage
    _tell_deaths(record, one, code, brood, stage)
    _tell_gone(record, life, code, brood, stage, life.ended)
    record.air(code, life.ended, row.amount("temperature"), row.amount("humidity"), life.begun)
    _tell_rest(record, one, code, brood)
    ended: tuple[str, ...] = ()
    if row.text("fate") or life.fate in (*LEFT_AS, "died"):
        ended = life.furthest, life.fate if life.fate in LEFT_AS else ""
    _keep_beside(record.beside, one, record.finish(code, life.ended, *ended))


def _keep_beside(beside: ToldBeside, one: LifeRow, left: Mapping[str, int]) -> None:
    """Keep what is told beside a row, and how many of it are not known at its end."""
    line, life = one.row.number, one.life
    beside.not_used += [f"line {line}: {words}" for words in days_not_used(one)]
    beside.likely.update(life.likely)
    beside.lines[NO_STAGE] += [line] if life.losses else []
    beside.lines[NO_DAY] += [line] if life.no_day else []
    for stage, number in life.assumed.items():
        beside.assumed[stage][one.container] += number
    if left:
        beside.left[one.container].update(left)


def _tell_gone(
    record: PastRecord, life: RowLife, code: str, brood: str, stage: str, at: datetime
) -> None:
    """Those that left in a stage, when the others went on."""
    if stage in life.gone:
        fate, number = life.gone[stage]
        record.leave(code, brood, fate, stage, number, at)


def _tell_deaths(record: PastRecord, one: LifeRow, code: str, brood: str, stage: str) -> None:
    cause = cause_of(one.row.text("cause") or one.row.text("fate"))
    for died_in, number, at in one.life.deaths:
        if died_in == stage:
            if one.life.no_day:
                at = record.last_day_of_left(code, brood, stage, at)
            record.leave(code, brood, "died", stage, number, at, cause)


def _tell_rest(record: PastRecord, one: LifeRow, code: str, brood: str) -> None:
    """What the row says beside: as a note."""
    row = one.row
    cause = row.text("cause")
    mother = row.text("mother")
    fate = row.text("fate")
    says_more = len(fate.split()) > 1 or has(WINTERS, bare(fate))  # than the word for it
    record.note(
        code,
        one.life.ended,
        row.text("note"),
        place_note(row.text("place")),
        *record.not_of_mother(row, (brood,)),
        f"cause: {cause}" if cause and not cause_of(cause) else "",
        f"{row.headings['fate']}: {row.text('fate')}" if says_more else "",
        f"mother: {mother}" if mother and not record.is_mother(mother, brood) else "",
        row.estimates(),
        f"{one.life.losses} died, not written in which stage" if one.life.losses else "",
        *(likely_words(number, stage) for stage, number in one.life.likely.items()),
        *(f"{assumed_words(stage)} {number}" for stage, number in one.life.assumed.items()),
    )


def _days_alone(one: LifeRow) -> dict[str, float]:
    """The days of stages of which nothing tells when they began or ended, by the stage that they
    ended with: the keeper's own, which count by themselves."""
    dated = {one.life.stage: one.life.stage == "egg"}
    dated |= {step.stage: step.dated for step in one.life.steps}
    return {
        later: days
        for (stage, name), later in zip(SPANS.items(), STAGES[1:], strict=True)
        if (days := one.row.amount(name)) and later in dated
        if not (dated.get(stage) and dated[later])
    }


def days_not_used(one: LifeRow) -> Iterator[str]:
    """The days that a row gives and that nothing in the book rests on, each with why: it tells not
    when a stage began, nor that it ended, or all of them have fewer than it gives in all."""
    came = {one.life.stage, *(step.stage for step in one.life.steps)}
    dated = {step.stage: step.dated for step in one.life.steps}
    for (stage, name), later in zip(SPANS.items(), STAGES[1:], strict=True):
        is_known = dated.get(stage, stage == "egg") or stage not in came or later in came
        if one.row.amount(name) and not is_known:
            why = f"when they {BEGINS[stage]} is not written"
            yield f"{one.row.headings[name]} '{one.row.text(name)}' is not used, for {why}"
    in_all, name = one.row.amount("days in all"), "days in all"
    days = [one.row.amount(of_stage) or 0 for of_stage in SPANS.values()]
    if in_all and all(days) and "adult" in came and in_all - sum(days) > AT_ONCE:
        why = f"its stages have {sum(days):g}"
        yield f"{one.row.headings[name]} '{one.row.text(name)}' is not used, for {why}"


def assumed_words(stage: str) -> str:
    """That nobody wrote how many came so far."""
    return f"how many {BEGINS[stage]} is not written; taken for all that were left:"


def dead_in_or_after(rows: Sequence[TableRow]) -> list[TableRow]:
    """The rows of dead animals whose last days may be those of the stage in which they died, or of
    the one before: without days in all or another sign, in a table that gives others of the dead no
    days at all, as if only days of stages stood there that were gone through; or that tells it both
    ways of others."""
    dead = [
        row
        for row in rows
        if not any(map(row.text, ("stage", "died", "ended", *CENSUS)))
        and fate_in(row.text("fate"), row.headings.get("fate", "")) == "died"
        and not stage_in(row.text("fate"))
    ]
    no_sum = [row for row in dead if not row.text("days in all")]
    with_days = [row for row in no_sum if any(map(row.text, _ALL_TOOK_IN.values()))]
    none_told = any(not any(map(row.text, _TOLD_BY)) for row in no_sum)
    told = days_end_behind(rows)
    return with_days if told == {True, False} or (none_told and not told) else []


def with_dead_of_stages(row: TableRow) -> TableRow:
    """A row that tells the dead of each stage in fields of their own where one cell tells all."""
    of_each = numbers_of_stages(row.text("deaths"))
    if not of_each or not of_each.keys() <= DEAD_IN.keys():
        return row
    for stage, number in of_each.items():
        name = DEAD_IN[stage]
        row = row if row.text(name) else row.with_text(name, str(number))
    return row.without("deaths")


def with_deaths_among_dates(row: TableRow) -> TableRow:
    """A row of one animal that says that it died where a cell under what it came to next says so
    instead of a date: ``†``, ``tot``, ``† 20.6.21``."""
    before = {BEGINS[then]: stage for stage, then in pairwise(STAGES)}
    before |= dict.fromkeys(INSTARS, "larva")
    if any(map(row.text, COUNTS)):
        return row
    for name, stage in before.items():
        cell = row.text(name)
        if not has(DEAD, bare(cell)):
            continue
        headings = {"fate": row.headings[name], "died": row.headings[name], **row.headings}
        row = replace(row.without(name), headings=headings)
        row = row.with_note(f"{row.headings[name]}: {cell}")
        if not row.text("fate"):
            row = row.with_text("fate", "died").with_text("stage", stage)
        day = without_death(cell)
        return row.with_text("died", day) if day and not row.text("died") else row
    return row


def dead_without_days(rows: Sequence[TableRow], *, days_are_whole: bool) -> list[TableRow]:
    """The rows of dead animals of which nothing tells how far they came, in a table that tells the
    days that others were eggs: who wrote none of them may mean that it died as one.

    Args:
        days_are_whole: days stand under stages alone that were gone through.
    """
    told = ("number", "stage", "died", "ended", "days in all", "deaths", *CENSUS, *_TOLD_BY)
    dead = [
        row
        for row in rows
        if not any(_tells(row, name) for name in told)
        and fate_in(row.text("fate"), row.headings.get("fate", "")) == "died"
        and not dead_stage_in(row.text("fate"))
    ]
    is_known = days_are_whole and all("days in all" not in row.headings for row in dead)
    are_told = any(_tells(row, "days as egg") for row in rows)
    return dead if are_told and not is_known else []


def went_beyond(row: TableRow, stage: str) -> bool:
    """Whether an animal came further than a stage, by its own days and dates."""
    later = STAGES[STAGES.index(stage) + 1 :]
    names = [*(BEGINS[one] for one in later), *(SPANS[one] for one in later[:-1])]
    if "larva" in later:
        names += [*INSTARS, *DAYS_AS_INSTAR]
    if any(_tells(row, name) for name in names):
        return True
    gone_through = [SPANS[one] for one in STAGES[:-1] if one not in later]
    took = [one.value if (one := amount(row.text(name))) else 0 for name in gone_through]
    whole = amount(row.text("days in all"))
    return bool(whole and took and took[-1] and whole.value - sum(took) > AT_ONCE)


def _tells(row: TableRow, name: str) -> bool:
    """Whether something but a nought stands there: no days are of a stage that was not reached."""
    found = amount(row.text(name))
    return bool(row.text(name)) and (found is None or found.value > 0)


def days_end_behind(rows: Sequence[TableRow]) -> set[bool]:
    """What the dead with days in all tell: whether these end behind the days of their stages, so
    that only those of stages stand there that were gone through, or with them."""
    told = set()
    for row in rows:
        names = SPANS if row.text("days as larva") else {**_ALL_TOOK_IN, "larva": ""}
        days = [amount(row.text(name)) for name in names.values()]
        whole = amount(row.text("days in all"))
        if any(bound_in(row.text(name)) for name in names.values()):
            continue
        if whole is None or fate_in(row.text("fate"), row.headings.get("fate", "")) != "died":
            continue
        more = whole.value - sum(one.value for one in days if one)
        told.update({more > AT_ONCE} if more >= -AT_ONCE else set())
    return told


def marks_for_the_dead_alone(rows: Sequence[TableRow]) -> bool:
    """Whether the column of fates has a mark for some and nothing for the others."""
    cells = [row.text("fate") for row in rows]
    filled = {cell for cell in cells if cell and not says_not_known(cell)}
    heading = next((row.headings["fate"] for row in rows if "fate" in row.headings), "")
    return (
        bool(filled) and not all(cells) and all(fate_in(one, heading) == "died" for one in filled)
    )
