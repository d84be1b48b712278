"""Rows that tell one event each: on a day, in a container, so many did something.

``egg 30`` or ``laid 30`` are new eggs; the name of a later stage, or of what begins it, are so many
that reached it, all that can where no number stands beside.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, field
from datetime import datetime

from rounds.bench.plurals import PLURALS
from rounds.bench.state import Container, Lot
from rounds.entries.registry import Cleaned, Counted, Moulted, Moved
from rounds.exchange.tables_in.columns import CENSUS
from rounds.exchange.tables_in.past_entries import NotSo
from rounds.exchange.tables_in.record import PastRecord, cause_of, short_name
from rounds.exchange.tables_in.rows import TableRow
from rounds.exchange.tables_in.values import STAGES, instar_in, sex_in, stage_in
from rounds.exchange.tables_in.vocabulary import (
    BEGINNINGS,
    CLEANED,
    COMES_OUT,
    COUNTED,
    DEAD,
    ESCAPED,
    FED,
    GONE,
    KEPT,
    MEASURED,
    MOULTED,
    MOVED,
    NOTED,
    RELEASED,
    bare,
    first_of,
    has,
)

# What a word means, the first that fits: what became of animals goes before what they are called.
_ACTIONS: tuple[tuple[str, str], ...] = (
    ("moved", MOVED),
    ("escaped", ESCAPED),
    ("released", RELEASED),
    ("kept", KEPT),
    ("not known", GONE),
    ("died", DEAD),
    ("counted", COUNTED),
)
_LATER: tuple[tuple[str, str], ...] = (
    ("moulted", MOULTED),
    ("comes out", COMES_OUT),
    ("fed", FED),
    ("cleaned", CLEANED),
    ("measured", MEASURED),
    ("noted", NOTED),
)
MEANINGS = (
    "laid",
    "hatched",
    "L3",
    "pupated",
    "emerged",
    "died",
    "escaped",
    "released",
    "kept as specimen",
    "missing",
    "moved",
    "counted",
    "fed",
    "cleaned",
    "note",
)  # words of ours that a word of the table can mean
_NUMBER = re.compile(r"(?<![\w.,])(\d{1,5})(?![\w.,])")
LEAVING = ("escaped", "released", "kept", "not known", "died")


@dataclass(frozen=True, slots=True)
class EventRow:
    """A row that tells an event: when, what is done, and the names as they are known."""

    row: TableRow
    at: datetime
    action: str  # of those above, or a stage that is reached; empty where the row only tells more
    stage: str
    instar: int
    taxon: str
    plant: str
    number: int | None


def action_of(text: str) -> tuple[str, str, int]:
    """What a word or some words mean: an action or ``reached``, of which stage, which instar.

    The action is empty where the words are not known.
    """
    words = bare(text)
    stage, instar = stage_in(text), instar_in(text)
    action = next((name for name, known in _ACTIONS if has(known, words)), "")
    if action:
        return action, stage, instar
    begins = first_of(BEGINNINGS, words)
    if instar > 1:
        return "moulted", "larva", instar
    if instar == 1:
        return "reached", "larva", 1
    comes_out = has(COMES_OUT, words) and not has(BEGINNINGS["adult"], words)
    if comes_out and stage in ("larva", "adult"):
        return "reached", stage, 0
    if comes_out and stage in ("egg", "pupa"):
        return "reached", STAGES[STAGES.index(stage) + 1], 0
    if begins or stage:
        return "reached", begins or stage, 0
    return next((name for name, known in _LATER if has(known, words)), ""), "", 0


def event_of(row: TableRow, taxon: str, plant: str) -> EventRow:
    """What a row tells.

    Raises:
        NotSo: it has no date, or its stage is none.
    """
    at = row.date("date")
    if at is None:
        raise NotSo("it has no date; give it one")
    what, stage_cell = row.text("what happened"), row.text("stage")
    action, stage, instar = action_of(what) if what else ("", "", 0)
    if stage_cell:
        stage, instar = stage_in(stage_cell) or stage, instar_in(stage_cell) or instar
        if not stage:
            raise NotSo(f"'{stage_cell}' is no stage; it can be egg, larva, L1 to L9, pupa, adult")
        if not action:
            action = "moulted" if instar > 1 else "reached"
    number = row.number_of("number")
    if number is None and what:
        number = _number_in(what)
    return EventRow(row, at, action, stage, instar, taxon, plant, number)


def _number_in(words: str) -> int | None:
    """The one number that stands among words, as in ``28 hatched``."""
    numbers = _NUMBER.findall(words.removesuffix(_target_in(words)))
    return int(numbers[0]) if len(numbers) == 1 else None


@dataclass
class EventTeller:
    """Tells the bench of the past one event after the other.

    Attributes:
        here: the container that a name of the table means now.
        letters: how many broods without a name each container has had.
        taxa: the species of each name of a container, as it was said last.
        last: the last line of the table about each container.
        wrong: by line, what cannot have been so at the end.
        moults_told: the names of containers and the years in which an instar is told of their
            larvae, there or where they were moved.
    """

    record: PastRecord
    moults_told: Set[tuple[str, int]]
    here: dict[str, str] = field(default_factory=dict)
    letters: dict[str, int] = field(default_factory=dict)
    taxa: dict[str, str] = field(default_factory=dict)
    last: dict[str, int] = field(default_factory=dict)
    wrong: dict[int, str] = field(default_factory=dict)

    def tell(self, event: EventRow) -> None:
        """Tell one event.

        Raises:
            NotSo: it cannot have been so.
        """
        row = event.row
        name = _name_of(event)
        code = self._container(name, event)
        since = self.record.told.get(code)
        self.last[code] = row.number
        if event.plant:
            self.record.feed(code, event.plant, event.at)
        self._act(code, name, event)
        mean = row.amount("mean temperature")
        self.record.air(
            code,
            event.at,
            mean if mean is not None else row.amount("temperature"),
            row.amount("humidity"),
            since if mean is not None else None,
        )
        self._note(code, event)

    def finish(self) -> dict[str, dict[str, int]]:
        """Every record ends at its last line; how many are left in each container, by stage.

        What cannot end so is a problem of the container's last line (``wrong``).
        """
        left: dict[str, dict[str, int]] = {}
        for code in [one.code for one in self.record.past.bench.standing()]:
            try:
                unknown = self.record.finish(code, self.record.told[code])
            except NotSo as wrong:
                self.wrong[self.last[code]] = str(wrong)
                continue
            if unknown:
                left[code] = unknown
        return left

    def _container(self, name: str, event: EventRow) -> str:
        """The container that a name means: set up where none is, anew where it stood empty in
        another year."""
        code = self.here.get(bare(name), "")
        if code:
            told, stands = self.record.told[code], self.record.container(code)
            if stands.lots or told.year == event.at.year or event.action in LEAVING:
                return code
            self.record.finish(code, told)
        stage = event.stage or "larva"
        self.here[bare(name)] = self.record.set_up(name, stage, event.at)
        return self.here[bare(name)]

    def _act(self, code: str, name: str, event: EventRow) -> None:
        number = event.number
        match event.action:
            case "reached":
                self._reach(code, name, event, event.stage, number)
            case "comes out":
                out_of = "egg" if self._lots(code, event, "egg") else "pupa"
                self._reach(code, name, event, STAGES[STAGES.index(out_of) + 1], number)
            case "moulted":
                self._moult(code, name, event, number)
            case "moved":
                self._move(code, event, number)
            case "counted":
                self._count(code, event, number)
            case "cleaned":
                self.record.say(Cleaned, code, event.at)
            case action if action in LEAVING:
                self._leave(code, event, action, number)
            case "":
                self._without_words(code, name, event)

    def _without_words(self, code: str, name: str, event: EventRow) -> None:
        """A row of numbers alone: how many of each stage there are now, or how many in all."""
        row = event.row
        now = {stage: row.number_of(field) for stage, field in zip(STAGES, CENSUS, strict=True)}
        died = row.number_of("deaths")
        if all(number is None for number in now.values()):
            if died:
                self._leave(code, event, "died", died)
            elif event.number is not None:
                self._count(code, event, event.number)
            return
        self._census(code, name, event, now, died or 0)

    def _census(
        self, code: str, name: str, event: EventRow, now: Mapping[str, int | None], died: int
    ) -> None:
        """How many of each stage there are now: those who are more reached it from the one before,
        new eggs were laid, those who are fewer and reached no other died, or are not known."""
        came_first = not self._stands(code).lots
        for stage in reversed(STAGES):
            number = now[stage]
            if number is None:
                continue
            more = number - self._here(code, event, stage)
            if more > 0 and (came_first or stage == "egg"):
                self._stock(code, name, event, stage, more)
            elif more > 0:
                self._reach(code, name, event, stage, more)
        for stage in STAGES:
            number = now[stage]
            fewer = self._here(code, event, stage) - number if number is not None else 0
            dead = min(died, fewer)
            died -= max(0, dead)
            for fate, lost in (("died", dead), ("not known", fewer - dead)):
                if lost > 0:
                    for brood, share in self._shares(code, event, stage, lost):
                        self.record.leave(code, brood, fate, stage, share, event.at)
        if died > 0:
            raise NotSo(f"{died} more died than are missing by the numbers; mend one of them")

    def _here(self, code: str, event: EventRow, stage: str) -> int:
        return sum(lot.number for lot in self._lots(code, event, stage))

    def _lots(self, code: str, event: EventRow, stage: str = "") -> list[Lot]:
        """The animals that a row can mean."""
        named = event.row.text("brood")
        brood = self.record.broods.get(bare(named), named) if named else ""
        return [
            lot
            for lot in self._stands(code).lots
            if (not stage or lot.stage == stage) and (not brood or brood in lot.codes)
        ]

    def _stands(self, code: str) -> Container:
        return self.record.container(code)

    def _reach(self, code: str, name: str, event: EventRow, stage: str, number: int | None) -> None:
        """Animals reach a stage; where none can that are here, new ones came in it."""
        earlier = [
            one
            for one in STAGES[: STAGES.index(stage)]
            if sum(lot.number for lot in self._lots(code, event, one))
        ]
        if not earlier:
            self._refuse_backwards(code, event, stage)
            self._stock(code, name, event, stage, number)
            return
        source = earlier[-1]
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
                    moults_told=(bare(name), event.at.year) in self.moults_told,
                )

    def _refuse_backwards(self, code: str, event: EventRow, stage: str) -> None:
        """Animals that would reach a stage which those that are here have behind them, where no new
        ones are named."""
        here = [
            lot for lot in self._lots(code, event) if STAGES.index(lot.stage) > STAGES.index(stage)
        ]
        if not here or stage == "egg" or event.taxon or event.row.text("brood"):
            return
        there = " and ".join(dict.fromkeys(_plural(lot.stage) for lot in here))
        raise NotSo(
            f"{_plural(stage)}, but {code} holds {there} alone by the lines before; write what they"
            " became, or name the species of new ones"
        )

    def _shares(
        self, code: str, event: EventRow, stage: str, number: int | None
    ) -> list[tuple[str, int]]:
        """How many of which brood: all of each where no number is given.

        Raises:
            NotSo: several broods are meant, or there are fewer.
        """
        lots = self._lots(code, event, stage)
        there: dict[str, int] = {}
        for lot in lots:
            there[lot.brood] = there.get(lot.brood, 0) + lot.number
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
        laid = (event.at, event.at) if stage == "egg" else None
        sex = sex_in(event.row.text("sex")) if stage == "adult" else ""
        self.record.stock(
            code, brood, stage, number, event.at, laid=laid, instar=event.instar, sex=sex
        )

    def _brood(self, code: str, name: str, event: EventRow, stage: str) -> str:
        """The brood of animals that come: as the row names it, else that of those that are here,
        else a new one."""
        named = event.row.text("brood")
        key = bare(name)
        taxon = event.taxon or self.taxa.get(key, "")
        if named and bare(named) in self.record.broods:
            return self.record.begin_brood(named, event.taxon, event.at)
        here = {lot.brood for lot in self._stands(code).lots if lot.stage == stage}
        if not named and len(here) == 1 and not _is_other(self.record, here, event.taxon):
            return here.pop()
        if not taxon:
            raise NotSo(
                "of which species is not recorded; add a column, or say it of all: --species NAME"
            )
        self.taxa[key] = taxon
        laid = (event.at, event.at) if stage == "egg" else None
        mother = event.row.text("mother")
        if named:
            return self.record.begin_brood(named, taxon, event.at, laid, mother)
        self.letters[code] = self.letters.get(code, 0) + 1
        own = f"{code}{chr(ord('A') + self.letters[code] - 1)}"
        return self.record.begin_brood(own, taxon, event.at, laid, mother)

    def _moult(self, code: str, name: str, event: EventRow, number: int | None) -> None:
        if not event.instar:
            raise NotSo("moulted to which instar is not said; write it as L3")
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
        stage = event.stage or self._only_stage(code, event)
        cause = cause_of(event.row.text("cause"))
        shares = self._shares(code, event, stage, number)
        if not shares:
            raise NotSo(f"{code} holds no {_plural(stage)} by the lines before; mend one of them")
        for brood, share in shares:
            self.record.leave(code, brood, fate, stage, share, event.at, cause)

    def _only_stage(self, code: str, event: EventRow) -> str:
        stages = {lot.stage for lot in self._lots(code, event)}
        if event.action == "released" and "adult" in stages:
            return "adult"
        if len(stages) > 1:
            ordered = sorted(stages, key=STAGES.index)
            raise NotSo(
                f"{code} holds {' and '.join(_plural(stage) for stage in ordered)} by the lines"
                " before; write which, as: larva died"
            )
        if not stages:
            raise NotSo(f"{code} is empty by the lines before; mend one of them")
        return stages.pop()

    def _move(self, code: str, event: EventRow, number: int | None) -> None:
        to = _moved_to(event)
        if not to:
            raise NotSo("moved where to is not said; add a column, or leave the row out")
        stage = event.stage or self._only_stage(code, event)
        target = self._container(to, event)
        if target == code:
            raise NotSo(f"{to} is where they were; give another container")
        for brood, share in self._shares(code, event, stage, number):
            self.record.say(
                Moved, code, event.at, to=target, number=share, brood=brood, stage=stage
            )
        self.record.told[target] = max(event.at, self.record.told[target])
        self.last[target] = event.row.number

    def _count(self, code: str, event: EventRow, number: int | None) -> None:
        if number is None:
            raise NotSo("how many were counted is not given; give the number in its column")
        stage = event.stage or self._only_stage(code, event)
        broods = {lot.brood for lot in self._lots(code, event, stage)}
        brood = broods.pop() if len(broods) == 1 else ""
        self.record.say(Counted, code, event.at, number=number, stage=stage, brood=brood)

    def _note(self, code: str, event: EventRow) -> None:
        row, cause = event.row, event.row.text("cause")
        words, mother = row.text("what happened"), row.text("mother")
        here = {brood for lot in self._stands(code).lots for brood in lot.codes}
        is_known = any(self.record.is_mother(mother, brood) for brood in here)
        self.record.note(
            code,
            event.at,
            words if event.action in ("noted", "measured", "fed") and not event.plant else "",
            row.text("note"),
            f"place: {row.text('place')}" if row.text("place") else "",
            f"cause: {cause}" if cause and not cause_of(cause) else "",
            f"mother: {mother}" if mother and not is_known else "",
            row.estimates(),
        )


def moults_told(events: Sequence[EventRow]) -> frozenset[tuple[str, int]]:
    """The containers, by name and year, of whose larvae the rows tell an instar, there or where
    they were moved later; rows in the order of time."""
    told: set[tuple[str, int]] = set()
    for event in reversed(events):
        year = event.at.year
        goes_on = event.action == "moved" and (bare(_moved_to(event)), year) in told
        if event.instar or goes_on:
            told.add((bare(_name_of(event)), year))
    return frozenset(told)


def _name_of(event: EventRow) -> str:
    """What the table calls the container that a row is about."""
    row = event.row
    return row.text("container") or row.text("brood") or short_name(event.taxon) or "table"


def _moved_to(event: EventRow) -> str:
    return event.row.text("to") or _target_in(event.row.text("what happened"))


def _target_in(words: str) -> str:
    """Where they were moved to, as in ``3 moved to E2``: the last word, if it is like a code."""
    last = words.split()[-1]
    is_code = len(words.split()) > 2 and (any(map(str.isdigit, last)) or last.isupper())
    return last if is_code else ""


def _is_other(record: PastRecord, broods: set[str], taxon: str) -> bool:
    return bool(taxon) and any(record.past.bench.taxon_of(brood) != taxon for brood in broods)


def _plural(stage: str) -> str:
    return PLURALS.get(stage, "animals")
