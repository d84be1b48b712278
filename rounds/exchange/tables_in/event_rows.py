"""Rows that tell one event each: on a day, in a container, so many did something.

``egg 30`` or ``laid 30`` are new eggs; the name of a later stage, or of what begins it, are so many
that reached it. Where no number stands beside what counts animals, words of one mean one; else it
is asked.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from rounds.bench.old_records import place_note
from rounds.bench.plurals import PLURALS
from rounds.bench.state import Container, Lot
from rounds.entries.registry import Cleaned, Counted, Moulted, Moved
from rounds.exchange.tables_in.columns import CENSUS
from rounds.exchange.tables_in.events import (
    LEAVING,
    NOTED_AS,
    EventRow,
    moults_told,
    moved_to,
    name_of,
    names_animals,
    number_in,
    words_of,
)
from rounds.exchange.tables_in.lines_ahead import ONE_BROOD, LinesAhead
from rounds.exchange.tables_in.past_entries import NotSo
from rounds.exchange.tables_in.record import Catch, PastRecord, cause_of, likely_words
from rounds.exchange.tables_in.rows import TableRow
from rounds.exchange.tables_in.told_beside import NO_INSTAR, NOWHERE
from rounds.exchange.tables_in.unclear import AS_ABOVE, UnclearTable
from rounds.exchange.tables_in.values import STAGES, sex_in, stage_in, whole
from rounds.exchange.tables_in.vocabulary import ALL, bare, code_key, has
from rounds.grouping import summed

NO_SPECIES = "no species"  # what an empty cell may mean
PAUSE = timedelta(days=90)  # after which new ones are another brood; our choice
_LEFT_AS = {
    "died": "died",
    "escaped": "escaped",
    "released": "were released",
    "kept": "were kept",
    "given away": "were given away",
    "not known": "are missing",
}
_BECAME = {"egg": "were laid", "larva": "hatched", "pupa": "pupated", "adult": "emerged"}
OTHERS = "others"  # than those that are left of a brood elsewhere
ONE_EACH, EVERY, ONE_BY_ONE = "1 each", "all", "one by one"  # of all lines of a word
OF_HOW_MANY = ("reached", "comes out", "moulted", "moved", *LEAVING)  # what 0 did, nobody did


@dataclass
class EventTeller:
    """Tells the bench of the past one event after the other.

    Attributes:
        events: all that are told, in the order of time.
        answers: what the keeper said of lines without a number, by their words.
        above: the species of the line above, of each line that says none.
        here: the container that a name of the table means now.
        letters: how many broods without a name each container has had.
        taxa: the species of each name of a container, as it was said last.
        last: the last line of the table about each container.
        reached: when animals of each container reached a stage last, eggs as they came.
        wrong: by line, what cannot have been so at the end.
    """

    record: PastRecord
    events: Sequence[EventRow]
    answers: Mapping[str, str] = field(default_factory=dict)
    above: Mapping[int, str] = field(default_factory=dict)
    here: dict[str, str] = field(default_factory=dict)
    letters: dict[str, int] = field(default_factory=dict)
    taxa: dict[str, str] = field(default_factory=dict)
    last: dict[str, int] = field(default_factory=dict)
    reached: dict[str, dict[str, datetime]] = field(default_factory=dict)
    wrong: dict[int, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Look at all lines once."""
        self._ahead = LinesAhead(self.events)
        self._moults_told = moults_told(self.events)

    def tell(self, event: EventRow) -> None:
        """Tell one event.

        Raises:
            NotSo: it cannot have been so.
        """
        row = event.row
        name = name_of(event)
        if event.taxon:
            self.taxa[code_key(name)] = event.taxon
        code = self._container(name, event)
        self._refuse_other_species(code, event)
        since = self.record.told.get(code)
        self.last[code] = row.number
        self._follow(code, name, event)
        if event.plant:
            self.record.feed(code, event.plant, event.at)
        if event.number == 0 and event.action in OF_HOW_MANY:
            self._note_words(code, event, "0")
        elif event.number is None:  # all that are left by those that died
            self._bury(code, event)
            self._act(code, name, event)
        else:
            self._act(code, name, event)
            self._bury(code, event)
        mean = row.amount("mean temperature")
        self.record.air(
            code,
            event.at,
            mean if mean is not None else row.amount("temperature"),
            row.amount("humidity"),
            since if mean is not None else None,
        )
        self._note(code, event)

    def finish(self) -> None:
        """Every record ends at its last line.

        What cannot end so is a problem of the container's last line (``wrong``).
        """
        for code in [one.code for one in self.record.past.bench.standing()]:
            try:
                unknown = self.record.finish(code, self.record.told[code])
            except NotSo as wrong:
                self.wrong[self.last[code]] = str(wrong)
                continue
            if unknown:
                self.record.beside.left[code].update(unknown)

    def _container(self, name: str, event: EventRow, *, arrive: bool = False) -> str:
        """The container that a name means: set up where none is, or where other animals come than
        those that it held.

        Args:
            arrive: whether they are moved there.
        """
        code = self.here.get(code_key(name), "")
        if code and self._goes_on(code, event, arrive=arrive):
            return code
        stage = event.stage or "larva"
        self.here[code_key(name)] = self.record.set_up(name, stage, event.at)
        return self.here[code_key(name)]

    def _goes_on(self, code: str, event: EventRow, *, arrive: bool) -> bool:
        """Whether a line is of those that a container holds. Others came where it stood empty in
        another year; or where new ones come long after all that is left was left behind."""
        told, lots = self.record.told[code], self._stands(code).lots
        if event.action in LEAVING or event.at - told < PAUSE:
            return bool(lots) or event.action in LEAVING or told.year == event.at.year
        if not lots:
            return told.year == event.at.year
        left = all(self._is_over(code, lot.stage) for lot in lots)
        in_all = sum(lot.number for lot in lots)
        come = arrive or (event.action == "reached" and event.stage == "egg")
        if come and event.at - told > ONE_BROOD:
            return False  # eggs of another year are of another brood
        return not (left and (come or (event.number or 0) > in_all))

    def _is_over(self, code: str, stage: str) -> bool:
        """Whether those of a stage are what was left behind: others went on since the last came to
        it. Of adults it always is."""
        reached = self.reached.get(code, {})
        if stage == "adult":
            return True
        later = reached.get(STAGES[STAGES.index(stage) + 1])
        return later is not None and later >= reached.get(stage, later)

    def _act(self, code: str, name: str, event: EventRow) -> None:
        number = event.number
        match event.action:
            case "reached":
                for one in event.of_each_sex():
                    self._reach(code, name, one, event.stage, one.number)
            case "comes out":
                self._reach(code, name, event, self._came_out(code, event), number)
            case "moulted":
                self._moult(code, name, event, number)
            case "moved":
                self._move(code, event, number)
            case "counted":
                self._count(code, event, number)
            case "cleaned":
                self.record.say(Cleaned, code, event.at)
            case action if action in LEAVING:
                for one in event.of_each_sex():
                    self._leave(code, one, action, one.number)
            case "":
                self._without_words(code, name, event)

    def _without_words(self, code: str, name: str, event: EventRow) -> None:
        """A row of numbers alone: how many of each stage there are now, or how many in all."""
        row = event.row
        now = list(_counted(event))
        died = row.number_of("deaths")
        if not now:
            if died:
                self._leave(code, event, "died", died)
            elif event.number is not None:
                self._count(code, event, event.number)
            return
        self._census(code, name, event, now, died or 0)

    def _census(
        self, code: str, name: str, event: EventRow, now: Sequence[EventRow], died: int
    ) -> None:
        """How many of each stage there are now: those who are more reached it from the one before,
        new eggs were laid, those who are fewer and reached no other died, or are not known; of a
        stage that is not counted where a later one is, so many as died beside."""
        came_first = not self._stands(code).lots
        if not died and all(one.number == self._here(code, one, one.stage) for one in now):
            for one in now:
                self._count(code, one, one.number)
            return
        for one in reversed(now):
            more = (one.number or 0) - self._here(code, one, one.stage)
            if more > 0 and (came_first or one.stage == "egg"):
                self._stock(code, name, one, one.stage, more)
            elif more > 0:
                self._reach(code, name, one, one.stage, more)
        for one in now:
            fewer = self._here(code, one, one.stage) - (one.number or 0)
            dead = min(died, max(0, fewer))
            died -= dead
            self._lose_some(code, one, "died", dead)
            self._lose_some(code, one, "", fewer - dead)
        counted = {one.stage for one in now}
        for stage in reversed(STAGES[: STAGES.index(now[-1].stage)]):
            dead = min(died, self._here(code, event, stage)) if stage not in counted else 0
            died -= dead
            self._lose_some(code, replace(event, stage=stage), "died", dead)
        if died > 0:
            raise NotSo(f"{died} more died than are missing by the numbers; mend one of them")

    def _lose_some(self, code: str, event: EventRow, fate: str, number: int) -> None:
        """So many of a stage, and of a sex where it is told, are gone; perhaps none.

        Args:
            fate: empty where no line says what became of them.
        """
        if number <= 0:
            return
        for brood, share in self._shares(code, event, event.stage, number):
            if not fate and event.stage != "adult":
                self.record.leave_over(code, brood, event.stage, share, event.at)
                continue
            sex, left_as = sex_in(event.row.text("sex")), fate or "not known"
            self.record.leave(code, brood, left_as, event.stage, share, event.at, sex=sex)

    def _here(self, code: str, event: EventRow, stage: str) -> int:
        sex = sex_in(event.row.text("sex")) if stage == "adult" else ""
        return sum(lot.number for lot in self._lots(code, event, stage) if sex in ("", lot.sex))

    def _lots(self, code: str, event: EventRow, stage: str = "") -> list[Lot]:
        """The animals that a row can mean."""
        named = event.row.text("brood")
        brood = self.record.broods.get(code_key(named), named) if named else ""
        return [
            lot
            for lot in self._stands(code).lots
            if (not stage or lot.stage == stage) and (not brood or brood in lot.codes)
        ]

    def _stands(self, code: str) -> Container:
        return self.record.container(code)

    def _reach(self, code: str, name: str, event: EventRow, stage: str, number: int | None) -> None:
        """Animals reach a stage; where none can that are here, new ones came in it, but for those
        that reached it before and are named again: they are counted."""
        earlier = [
            one
            for one in STAGES[: STAGES.index(stage)]
            if sum(lot.number for lot in self._lots(code, event, one))
        ]
        grown = not {*STAGES[: STAGES.index(stage)]}.isdisjoint(self.reached.get(code, ()))
        if grown and self._is_again(code, event, stage, earlier, number):
            self._census(code, name, event, [replace(event, stage=stage)], 0)
            return
        if not earlier:
            self._refuse_backwards(code, event, stage)
            self._stock(code, name, event, stage, number)
            return
        source = earlier[-1]
        if number is None:
            number = self._how_many(code, event, source, _BECAME[stage])
        for reached in STAGES[STAGES.index(source) + 1 : STAGES.index(stage) + 1]:
            self.reached.setdefault(code, {})[reached] = event.at
        between = STAGES[STAGES.index(source) + 1 : STAGES.index(stage)]
        for brood, share in self._shares(code, event, source, number):
            for reached in (*between, stage):
                self.record.grow(
                    code,
                    brood,
                    reached,
                    share,
                    event.at,
                    dated=reached == stage,
                    sex=sex_in(event.row.text("sex")),
                    moults_told=(code_key(name), event.at.year) in self._moults_told,
                )

    def _is_again(
        self, code: str, event: EventRow, stage: str, earlier: Sequence[str], number: int | None
    ) -> bool:
        """Whether animals are only named that reached their stage before, no more than are here,
        and more than are left of the stages before: they are counted."""
        left = sum(self._here(code, event, one) for one in earlier)
        here = self._here(code, event, stage)
        return names_animals(_says(event)) and left < (number or 0) <= here + left and here > 0

    def _refuse_backwards(self, code: str, event: EventRow, stage: str) -> None:
        """Animals that would reach a stage which those that are here have behind them, where no new
        ones are named."""
        if stage == "egg" or event.taxon or event.row.text("brood"):
            return
        here = [
            lot for lot in self._lots(code, event) if STAGES.index(lot.stage) > STAGES.index(stage)
        ]
        if stage in ("pupa", "adult") and self.reached.get(code) and not self._stands(code).lots:
            raise NotSo(
                f"{_plural(stage)}, but {code} is empty by the lines before; mend one of them, or"
                " name the species of new ones"
            )
        if not here:
            return
        there = " and ".join(dict.fromkeys(_plural(lot.stage) for lot in here))
        raise NotSo(
            f"{_plural(stage)}, but {code} holds {there} alone by the lines before; write what they"
            " became, or name the species of new ones"
        )

    def _refuse_other_species(self, code: str, event: EventRow) -> None:
        """A species of which none are there, where the line names no brood and tells of no new
        ones."""
        is_new = event.action == "reached" and event.stage == "egg"
        if not event.taxon or is_new or event.row.text("brood") or not event.action:
            return
        taxon_of = self.record.past.bench.taxon_of
        there = [
            taxon_of(one)
            for lot in self._stands(code).lots
            if not event.stage or STAGES.index(lot.stage) <= STAGES.index(event.stage)
            for one in lot.codes
        ]
        if there and event.taxon not in there:
            raise NotSo(
                f"{event.taxon}, but {code} holds {there[0]} by the lines before; mend one of them"
            )

    def _shares(
        self, code: str, event: EventRow, stage: str, number: int | None
    ) -> list[tuple[str, int]]:
        """How many of which brood: all of each where no number is given.

        Raises:
            NotSo: several broods are meant, or there are fewer.
        """
        lots = self._lots(code, event, stage)
        there = summed((lot.brood, lot.number) for lot in lots)
        in_all = sum(there.values())
        if number is None or number == in_all:
            return list(there.items())
        if number > in_all:
            animals = f"{in_all or 'no'} {_plural(stage) if stage else 'animals'}"
            raise NotSo(
                f"{number}, but {code} holds {animals} by the lines before; mend one of them"
            )
        if len(there) > 1:
            raise NotSo(
                f"{number} of the {in_all} in {code}: of which brood is not said; there are"
                f" {' and '.join(there)}; name it in a column of broods"
            )
        return [(brood, number) for brood in there] if number else []

    def _stock(self, code: str, name: str, event: EventRow, stage: str, number: int | None) -> None:
        if not number:
            raise NotSo(
                f"how many {_plural(stage)} came to {name} is not given; give the number in its"
                " column"
            )
        brood = self._brood(code, name, event, stage)
        self.reached.setdefault(code, {})[stage] = event.at
        laid = (event.at, event.at) if stage == "egg" else None
        sex = sex_in(event.row.text("sex")) if stage == "adult" else ""
        just_hatched = stage == "larva" and event.action == "comes out"
        moults_told = (code_key(name), event.at.year) in self._moults_told
        instar = event.instar or int(just_hatched and moults_told)
        self.record.stock(code, brood, stage, number, event.at, laid=laid, instar=instar, sex=sex)

    def _brood(self, code: str, name: str, event: EventRow, stage: str) -> str:
        """The brood of animals that come: as the row names it, else that of those that are here,
        else a new one."""
        named = event.row.text("brood")
        key = code_key(name)
        taxon = event.taxon or self.taxa.get(key, "")
        if named and code_key(named) in self.record.broods:
            return self.record.begin_brood(named, event.taxon, event.at)
        here = {lot.brood for lot in self._stands(code).lots if lot.stage == stage}
        if not named and len(here) == 1 and not _is_other(self.record, here, event.taxon):
            return here.pop()
        if not taxon:
            taxon = self._species_above(event)
        if not taxon:
            raise NotSo(
                "of which species is not recorded; add a column, or say it of all: --species NAME"
            )
        self.taxa[key] = taxon
        laid = (event.at, event.at) if stage == "egg" else None
        mother, catch = event.row.text("mother"), Catch.of(event.row)
        if named:
            return self.record.begin_brood(named, taxon, event.at, laid, mother, catch)
        self.letters[code] = self.letters.get(code, 0) + 1
        own = f"{code}{chr(ord('A') + self.letters[code] - 1)}"
        return self.record.begin_brood(own, taxon, event.at, laid, mother, catch)

    def _species_above(self, event: EventRow) -> str:
        """The species of the line above, where the keeper said that an empty cell means it.

        Raises:
            UnclearTable: it must be asked.
        """
        above = self.above.get(event.row.number, "")
        heading = event.row.headings.get("species", "")
        said = self.answers.get(f"empty {heading}", "")
        if above and said not in (AS_ABOVE, NO_SPECIES):
            lines = f"line {event.row.number}, where new ones came"
            raise UnclearTable.of_empty(lines, heading, NO_SPECIES)
        return above if said == AS_ABOVE else ""

    def _moult(self, code: str, name: str, event: EventRow, number: int | None) -> None:
        if not event.instar:
            self.record.beside.lines[NO_INSTAR].append(event.row.number)
            self._note_words(code, event, event.row.text("number"))
            return
        larvae = self._lots(code, event, "larva")
        if not larvae and not self._lots(code, event, "egg"):
            self._stock(code, name, event, "larva", number)
            return
        if not larvae:
            self._reach(code, name, event, "larva", number)
        younger = [lot for lot in self._lots(code, event, "larva") if lot.instar < event.instar]
        in_all = sum(lot.number for lot in younger)
        if number is not None and number > in_all:
            raise NotSo(
                f"{number} L{event.instar}, but {code} holds {in_all or 'no'} younger larvae by the"
                " lines before; mend one of them"
            )
        for brood in dict.fromkeys(lot.brood for lot in younger):
            there = sum(lot.number for lot in younger if lot.brood == brood)
            share = there if number is None else min(number, there)
            self.record.say(Moulted, code, event.at, number=share, instar=event.instar, brood=brood)

    def _leave(self, code: str, event: EventRow, fate: str, number: int | None) -> None:
        if number is None:
            event = self._of_stage(code, event, fate)
            number = event.number
        stage = event.stage or self._likely_stage(code, event, number)
        if number is None:
            number = self._how_many(code, event, stage, _LEFT_AS[fate])
        self._lose(code, event, fate, stage, number)

    def _of_stage(self, code: str, event: EventRow, fate: str) -> EventRow:
        """A line without a number, with the stage of those that left and how many, as the keeper
        answered where several stages are there.

        Raises:
            UnclearTable: it must be asked.
        """
        stages = self._stages_here(code, event)
        adults = event.action == "released" and stages[0] == "adult"
        if event.stage or len(stages) == 1 or adults:
            return event
        said = self.answers.get(words_of(event.row), "")
        if (stage := stage_in(said)) in stages:
            return replace(event, stage=stage, number=number_in(said))
        here = " and ".join(
            f"{self._here(code, event, stage)} {_plural(stage)}" for stage in reversed(stages)
        )
        choices = tuple(f"1 {stage}" for stage in stages)
        raise UnclearTable(
            f"line {event.row.number}, {words_of(event.row)}: of which stage, and how many"
            f" {_LEFT_AS[fate]} is not written; by the lines before {here} are there. Which?",
            "names",
            words_of(event.row),
            choices,
            why=f"no {_plural(other)} are there"
            if (other := stage_in(said))
            else "it names no stage",
        )

    def _how_many(self, code: str, event: EventRow, stage: str, became: str) -> int | None:
        """How many of a stage left or went on where no number is written: the one that is there, so
        many as the keeper answered; all, where it says so, or where they were let go; None for all.

        Raises:
            NotSo: later lines tell that some of those that left live on.
            UnclearTable: it must be asked.
        """
        here = self._here(code, event, stage)
        what = _says(event)
        of_word = f"{what} without a number"
        said_of_word = self.answers.get(of_word, "")
        said = self.answers.get(words_of(event.row), "") or said_of_word
        if (number := whole(said)) is not None:
            return number
        others = {lot.stage for lot in self._lots(code, event)} - {stage}
        leaves = event.action in LEAVING
        later = self._ahead.goes_on(event, stage, others) if leaves else None
        is_all = has(ALL, bare(said)) or event.says_all
        if is_all and later is not None and here > 1:
            raise NotSo(
                f"all {here} {_plural(stage)} of {code} {became}, but line"
                f" {later.row.number} says that some live on; write how many"
            )
        let_go = event.action in ("released", "kept") and later is None
        if here <= 1 or is_all or let_go:
            return None
        alike = [one for one in self.events if one.number is None and _says(one) == what]
        if len(alike) > 1 and said_of_word != ONE_BY_ONE:
            raise UnclearTable(
                f"{len(alike)} lines say '{what}' without a number, as line {event.row.number},"
                f" {words_of(event.row)}, where {here} {_plural(stage)} are there: how many"
                f" {became} in each ({ONE_EACH}, {EVERY} that are there, or asked {ONE_BY_ONE})?",
                "names",
                of_word,
                (ONE_EACH, EVERY, ONE_BY_ONE),
            )
        raise UnclearTable(
            f"line {event.row.number}, {words_of(event.row)}: how many {became} is not"
            f" written; by the lines before {here} {_plural(stage)} are there. 1, all, or how"
            " many?",
            "names",
            words_of(event.row),
            ("1", "all"),
            f"say it of this line with --as '{words_of(event.row)}=1' (or all, or how many), or of"
            f" each '{what}' without a number with --as '{of_word}={ONE_EACH}'",
        )

    def _bury(self, code: str, event: EventRow) -> None:
        """Those that died beside what happened."""
        if event.dead:
            dead = replace(event, action="died")  # whatever the others did
            stage = self._likely_stage(code, dead, event.dead)
            self._lose(code, event, "died", stage, event.dead)

    def _lose(self, code: str, event: EventRow, fate: str, stage: str, number: int | None) -> None:
        how = event.row.text("what happened") if event.action == "died" else ""
        cause = cause_of(event.row.text("cause")) or cause_of(how)
        shares = self._shares(code, event, stage, number)
        if not shares:
            raise NotSo(f"{code} holds no {_plural(stage)} by the lines before; mend one of them")
        for brood, share in shares:
            sex = sex_in(event.row.text("sex"))
            self.record.leave(code, brood, fate, stage, share, event.at, cause, sex)

    def _stages_here(self, code: str, event: EventRow) -> list[str]:
        """The stages that are here, the oldest first; of those that escaped the ones that can.

        Raises:
            NotSo: there is none.
        """
        there = {lot.stage for lot in self._lots(code, event)}
        if not there:
            raise NotSo(f"{code} is empty by the lines before; mend one of them")
        can = there - {"egg", "pupa"} if event.action == "escaped" else there
        return sorted(can or there, key=STAGES.index, reverse=True)

    def _likely_stage(self, code: str, event: EventRow, number: int | None) -> str:
        """Of which stage those are of whom that is not written: the oldest of which the later lines
        leave so many; of the dead it is said that nobody wrote it.

        Raises:
            NotSo: there are no animals.
        """
        stages = self._stages_here(code, event)
        adults = event.action == "released" and stages[0] == "adult"
        if number is None or len(stages) == 1 or adults:
            return stages[0]
        here = {stage: self._here(code, event, stage) for stage in stages}
        pupae = bool(here.get("pupa"))
        left = {
            stage: here[stage] - self._ahead.needed(event, stage, pupae=pupae) for stage in stages
        }
        many = [stage for stage in stages if here[stage] >= number]
        likely = next((stage for stage in stages if left[stage] >= number), [*many, stages[0]][0])
        if event.action in LEAVING:
            self.record.beside.likely[likely] += number
            self.record.note(code, event.at, likely_words(number, likely))
        return likely

    def _came_out(self, code: str, event: EventRow) -> str:
        """What came out: larvae of eggs, or adults of pupae. Eggs that had not hatched when others
        of their age did are past hatching.

        Raises:
            NotSo: it can be either.
        """
        eggs, pupae = self._here(code, event, "egg"), self._here(code, event, "pupa")
        number = event.number or 0
        if not eggs and not pupae:
            came = self._ahead.is_of(event) or event.stage
        elif not eggs:
            came = "adult" if number <= pupae else "larva"
        elif not pupae:
            came = "larva"
        elif self._is_over(code, "egg"):
            came = "adult"
        else:
            fits = {"larva": number <= eggs, "adult": number <= pupae}
            came = next((stage for stage in fits if fits[stage]), "") if number else ""
            came = "" if all(fits.values()) else came
        if not came:
            raise NotSo(
                "whether larvae or adults came out is not clear; write larvae hatched, or emerged"
            )
        return came

    def _follow(self, code: str, name: str, event: EventRow) -> None:
        """Those of a named brood that a line tells of where none are that it can mean: no more than
        are left of it elsewhere were moved, though no line says so.

        Raises:
            UnclearTable: they are more, or can have come from several containers.
        """
        named = event.row.text("brood")
        brood = self.record.broods.get(code_key(named), "") if named else ""
        stages = _stages_before(event)
        if not brood or any(lot.stage in stages for lot in self._lots(code, event)):
            return
        lots = [
            (other.code, lot)
            for other in self.record.past.bench.standing()
            for lot in other.lots
            if other.code != code and lot.stage in stages and lot.brood == brood
        ]
        if not lots or event.number == 0:
            return
        stage = max((lot.stage for _, lot in lots), key=STAGES.index)
        left = summed((other, lot.number) for other, lot in lots if lot.stage == stage)
        in_all = sum(left.values())
        number = in_all if event.number is None else event.number
        about, from_here = f"{named} in {name}", [one for one in left if left[one] >= number]
        said = self.answers.get(about, "")
        if said == OTHERS:
            return
        if said in from_here or (len(left) == 1 and from_here):
            left = {said or from_here[0]: number}
        elif number != in_all:
            raise UnclearTable(
                f"line {event.row.number}, {about}: {number} {_says(event)} there, but"
                f" {in_all} {_plural(stage)} are left of it elsewhere, in {' and '.join(left)};"
                f" from where did they come, or are they {OTHERS} that no line names?",
                "names",
                about,
                (*from_here, OTHERS),
            )
        for other, share in left.items():
            self._go(other, code, event, stage, {brood: share})
            words = f"{share} {_plural(stage)} of {brood} from {other} to {code}"
            self.record.beside.followed.append(f"line {event.row.number} ({words})")
            self.record.note(code, event.at, f"{words}: moved by now, though no line says so")

    def _go(
        self, code: str, target: str, event: EventRow, stage: str, shares: Mapping[str, int]
    ) -> None:
        """So many of each brood go from one container to another."""
        for brood, share in shares.items():
            self.record.say(
                Moved, code, event.at, to=target, number=share, brood=brood, stage=stage
            )
        there = self.reached.setdefault(target, {})
        for known, at in self.reached.get(code, {}).items():
            there[known] = max(at, there.get(known, at))
        for one in (code, target):
            self.record.told[one] = max(event.at, self.record.told[one])
        self.last[target] = event.row.number

    def _move(self, code: str, event: EventRow, number: int | None) -> None:
        to = moved_to(event)
        if not to:
            self.record.beside.lines[NOWHERE].append(event.row.number)
            self._note_words(code, event, event.row.text("number"))
            return
        stages = [event.stage] if event.stage else self._stages_here(code, event)
        if number is not None and len(stages) > 1:
            stages = [self._likely_stage(code, event, number)]
        target = self._container(to, event, arrive=True)
        if target == code:
            raise NotSo(f"{to} is where they were; give another container")
        for stage in stages:
            self._go(code, target, event, stage, dict(self._shares(code, event, stage, number)))

    def _count(self, code: str, event: EventRow, number: int | None) -> None:
        if number is None:
            raise NotSo("how many were counted is not given; give the number in its column")
        stage = event.stage or self._likely_stage(code, event, number)
        broods = {lot.brood for lot in self._lots(code, event, stage)}
        brood = broods.pop() if len(broods) == 1 else ""
        self.record.say(Counted, code, event.at, number=number, stage=stage, brood=brood)

    def _note_words(self, code: str, event: EventRow, number: str) -> None:
        """What the row says happened, where nothing else comes of it."""
        words = _says(event)
        self.record.note(code, event.at, f"{words}: {number}" if number else words)

    def _note(self, code: str, event: EventRow) -> None:
        row, cause = event.row, event.row.text("cause")
        words, mother = row.text("what happened"), row.text("mother")
        is_words = event.action in ("noted", "measured", "fed")
        here = {brood for lot in self._stands(code).lots for brood in lot.codes}
        is_known = any(self.record.is_mother(mother, brood) for brood in here)
        self.record.note(
            code,
            event.at,
            _with_its_number(words, row) if is_words and not event.plant else "",
            row.text("note"),
            f"{row.headings['fate']}: {row.text('fate')}" if row.text("fate") else "",
            place_note(row.text("place")),
            *self.record.not_of_mother(row, here),
            f"cause: {cause}" if cause and not cause_of(cause) else "",
            f"mother: {mother}" if mother and not is_known else "",
            row.estimates(),
        )


def _counted(event: EventRow) -> Iterator[EventRow]:
    """A row of counts as one for each stage that it counts, for each sex of adults by itself."""
    for stage, name in zip(STAGES, CENSUS, strict=True):
        number = event.row.number_of(name)
        if number is not None:
            sexes = tuple(event.row.sexes().items()) if stage == "adult" else ()
            yield from replace(event, stage=stage, number=number, sexes=sexes).of_each_sex()


def _stages_before(event: EventRow) -> Sequence[str]:
    """The stages in which those of a line may have been where they were before; none of new eggs,
    and of what tells of none."""
    match event.action:
        case "reached":
            is_there = names_animals(_says(event))
            return STAGES[: STAGES.index(event.stage) + is_there] if event.stage != "egg" else ()
        case "comes out":
            return ("egg", "pupa")
        case "moulted":
            return ("egg", "larva")
        case action if action == "counted" or action in LEAVING:
            return (event.stage,) if event.stage else STAGES
    return ()


def _is_other(record: PastRecord, broods: set[str], taxon: str) -> bool:
    return bool(taxon) and any(record.past.bench.taxon_of(brood) != taxon for brood in broods)


def _with_its_number(words: str, row: TableRow) -> str:
    """What is noted, with the number in its column."""
    noted = words.removeprefix(NOTED_AS)
    return f"{noted}: {row.text('number')}" if row.text("number") else noted


def _says(event: EventRow) -> str:
    """What a row says happened."""
    return event.row.text("what happened") or event.row.text("stage") or event.action


def _plural(stage: str) -> str:
    return PLURALS.get(stage, "animals")
