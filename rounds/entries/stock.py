"""Animals that are here: where they are put, and how many there are."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta
from msgspec.structs import replace

from rounds.bench.codes import like_codes, names_of
from rounds.bench.diapause import rested_until
from rounds.bench.folding.lots import (
    chosen,
    container_for,
    matching,
    move,
    new_lot,
    note_inconsistency,
)
from rounds.bench.folding.not_seen import count_words, counted_lots, may_be, told_by_count, turn_up
from rounds.bench.folding.stage_completions import laid_as_said, stayed
from rounds.bench.folding.stock import Moves, emptied, lose
from rounds.bench.folding.unsure import (
    all_seen,
    maybe_of,
    meant,
    regroup,
    seen_to_be,
    unsure_of_instar,
)
from rounds.bench.measures import Measures
from rounds.bench.movements import COUNTED, ESTIMATED, INSTAR_KNOWN, MOVED, NOT_SEEN, shares
from rounds.bench.state import Bench, Container, Hunger, Lot
from rounds.entries.another_plant import on_another_plant
from rounds.entries.base import (
    Among,
    BroodCode,
    Code,
    ContainerEntry,
    Count,
    Entry,
    Instar,
    NotKnown,
    Number,
    OfAnimals,
    Said,
    Saying,
    Stage,
)
from rounds.entries.places import Suspect
from rounds.entries.questions import WhichAnimals
from rounds.entries.slots import Slots, each, say
from rounds.entries.validation import (
    grown_to,
    holds,
    known_brood,
    listed,
    standing,
    standing_codes,
    which_refusals,
)
from rounds.entries.wording import animals, comma_joined, taken_words, unknown_words, wings_words

ToAnotherPlant = Annotated[
    bool, Meta(description="larvae to a plant that they have not eaten on record, and meant so")
]


class Moved(OfAnimals, frozen=True, kw_only=True, tag="moved"):
    """Animals go from one container to another; fewer arriving than leaving opens a shortfall."""

    to: Code
    number: Number
    arrived: (
        Annotated[int, Meta(ge=0, description="how many were found in the new place")] | None
    ) = None
    sure: ToAnotherPlant = False

    takes = True
    slots = Slots(
        several=True,
        numbers=("number", "arrived"),
        leading={"to": "to", "into": "to", "arrived": "arrived"},
        idle=each("more"),
        synonyms=say("move, moved out"),
    )

    @property
    def containers(self) -> tuple[str, ...]:
        return self.container, self.to

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        return [*_suspect_too(bench, [said.get("container")], [said.get("to")]), (cls, said)]

    @classmethod
    def question(cls, bench: Bench, container: Container, said: Said) -> WhichAnimals | None:
        """Whether they are meant to come to another plant."""
        return on_another_plant(bench, _going(container, said), [said.get("to")], said)

    def refusals(self, bench: Bench) -> Iterator[str]:
        if bench.at(self.to) is None and self.to not in bench.closed and like_codes(self.to):
            none = f"no container is called {self.to}; there {listed(standing_codes(bench))}; "
            container = bench.containers[self.container]
            if self.stage == "egg" and container.females and not container.count("egg"):
                yield (
                    f"{none}{self.container} holds no eggs on record; found just now, as:"
                    f" {self.container} {self.number} eggs to new {self.to}"
                )
            yield (
                f"{none}to set it up like {self.container}, say: {self.container} moved"
                f" {taken_words(self)} to new {self.to}"
                if container.lots
                else f"{self.container} holds nothing on record that could be moved"
            )
        yield from standing(bench, self.to)
        if self.to == self.container:
            yield f"{self.container} to {self.to} is no move; give another container"
        if self.arrived is not None and self.arrived > self.number:
            yield f"{self.arrived} arrived but {self.number} left; no more can arrive than left"

    def effect(self, bench: Bench) -> Moves:
        """Animals change container; those that did not arrive are missing from where they left."""
        source = container_for(bench, self.container, self)
        renamed = regroup(bench, self)
        renamed += seen_to_be(bench, self, source)
        lots = meant(source, self)
        leaving = sum(number for _, number in chosen(bench, self, source, self.number, lots))
        arrived = leaving if self.arrived is None else min(self.arrived, leaving)
        # of which instar those are that got lost nobody knows, nor those that nobody told apart
        if leaving == sum(lot.number for lot in lots) and arrived:
            renamed += unsure_of_instar(bench, self, source, lots, leaving - arrived)
            lots = sorted(meant(source, self), key=_instar_is_known, reverse=True)
        elif self.which == "not known":
            renamed += unsure_of_instar(bench, self, source, lots, leaving)
            lots = meant(source, self)
        carried = _carry(
            bench, self, source, container_for(bench, self.to, self), shares(lots, arrived)
        )
        lost = lose(bench, self, source, shares(lots, leaving - arrived), self.to)
        emptied(source, self)
        return renamed + carried + lost

    def wording(self, measures: Measures) -> str:
        arrived = (
            f"{self.arrived} arrived"
            if self.arrived is not None and self.arrived != self.number
            else ""
        )
        return comma_joined(
            f"moved {taken_words(self)} to {self.to}",
            self.sex or "",
            wings_words(self),
            unknown_words(self),
            arrived,
        )


class Split(OfAnimals, frozen=True, kw_only=True, tag="split"):
    """One lot becomes several: codes and numbers in the same order."""

    into: Annotated[tuple[str, ...], Meta(min_length=1, description="containers, comma between")]
    numbers: Annotated[
        tuple[int, ...], Meta(min_length=1, description="how many into each, comma between")
    ]
    missing: Annotated[int, Meta(ge=0, description="not found while splitting")] = 0
    sure: ToAnotherPlant = False

    takes = parts = True
    slots = Slots(leading={"into": "into", "to": "into"}, idle=each("more"))

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        return [*_suspect_too(bench, [said.get("container")], said.get("into", ())), (cls, said)]

    @property
    def containers(self) -> tuple[str, ...]:
        return self.container, *self.into

    @property
    def number(self) -> int:
        """How many leave the lots as they were: those put anywhere, and those that were not
        found."""
        return sum(self.numbers) + self.missing

    @classmethod
    def question(cls, bench: Bench, container: Container, said: Said) -> WhichAnimals | None:
        """Whether they are meant to come to another plant."""
        return on_another_plant(bench, _going(container, said), said.get("into") or (), said)

    def refusals(self, bench: Bench) -> Iterator[str]:
        unknown = [code for code in self.into if not bench.at(code) and code not in bench.closed]
        if unknown:
            span = f"{unknown[0]}-{unknown[-1]}"
            text = span if len(unknown) > 1 and names_of(span, ()) == unknown else ",".join(unknown)
            them = "it" if len(unknown) == 1 else "them"
            shares = [f"{number}" for number in self.numbers]
            alike = len({*shares}) == 1
            many = f"{shares[0]} each" if alike and len(unknown) > 1 else ",".join(shares)
            line = f"{self.container} split {many} into new {text}"
            if len(unknown) < len(self.into):  # others stand already
                line = f"{text} set up {bench.containers[self.container].purpose}"
            like = f"to set {them} up like {self.container}"
            yield f"no container is called {text}; {like}, say: {line}"
        for code in self.into:
            yield from standing(bench, code)
        if len(self.into) != len(self.numbers):
            one = f", or say '{self.numbers[0]} each'" if len(self.numbers) == 1 else ""
            yield (
                f"{len(self.into)} containers but {len(self.numbers)} numbers; give one number for"
                f" each{one}"
            )
        if any(number < 0 for number in self.numbers):
            yield "a number is below zero; give how many went into each"

    def effect(self, bench: Bench) -> Moves:
        source = container_for(bench, self.container, self)
        movements = regroup(bench, self)
        for code, number in zip(self.into, self.numbers, strict=False):
            going = chosen(bench, self, source, number, meant(source, self))
            movements += _carry(bench, self, source, container_for(bench, code, self), going)
        if self.missing:
            movements += lose(
                bench, self, source, chosen(bench, self, source, self.missing, meant(source, self))
            )
        emptied(source, self)
        return movements


class Merged(ContainerEntry, frozen=True, kw_only=True, tag="merged"):
    """Everything in other containers comes into this one."""

    sources: Annotated[tuple[str, ...], Meta(min_length=1, description="containers, comma between")]
    number: Annotated[int, Meta(ge=0, description="how many arrived; all if not given")] | None = (
        None
    )
    sure: ToAnotherPlant = False

    changes_company = True
    slots = Slots(numbers=("number",), leading={"from": "sources"})

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        return [*_suspect_too(bench, said.get("sources", ()), [said.get("container")]), (cls, said)]

    @property
    def containers(self) -> tuple[str, ...]:
        return self.container, *self.sources

    @classmethod
    def question(cls, bench: Bench, container: Container, said: Said) -> WhichAnimals | None:
        """Whether they are meant to come to another plant."""
        sources = [one for code in said.get("sources") or () if (one := bench.at(str(code)))]
        lots = [lot for source in sources for lot in source.lots]
        return on_another_plant(bench, lots, [container.code], said)

    def refusals(self, bench: Bench) -> Iterator[str]:
        for code in self.sources:
            yield from standing(bench, code)
            if code == self.container:
                yield f"{code} cannot be merged into itself"
        there = sum(bench.containers[code].count() for code in self.sources)
        if self.number is not None and self.number > there:
            yield (
                f"{self.number} arrived, but the sources hold {there}; no more can arrive than left"
            )
        kinds = {
            (lot.brood, lot.stage, lot.instar, lot.sex)
            for code in self.sources
            for lot in bench.containers[code].lots
        }
        if self.number is not None and self.number < there and len(kinds) > 1:
            code = self.sources[0]
            yield (
                f"the sources hold several kinds; say first what is missing of which, as: {code}"
                f" missing 1 {_example(bench, code)}"
            )
        yield from which_refusals(bench, self)

    def effect(self, bench: Bench) -> Moves:
        target = container_for(bench, self.container, self)
        left_to_arrive = self.number
        movements: Moves = []
        for code in self.sources:
            source = container_for(bench, code, self)
            if source is target:
                continue
            lots, there = list(source.lots), source.count()
            arrived = there if left_to_arrive is None else min(left_to_arrive, there)
            if left_to_arrive is not None:
                left_to_arrive -= arrived
            movements += _carry(bench, self, source, target, shares(lots, arrived))
            movements += lose(bench, self, source, shares(lots, there - arrived))
            source.emptied = self.at
        return movements


class Counted(ContainerEntry, frozen=True, kw_only=True, tag="counted"):
    """A count; fewer than the book says opens a shortfall until it is settled."""

    number: Count
    brood: BroodCode = ""
    stage: Stage | None = None
    instar: Instar | None = None
    method: Literal["exact", "estimate", "photo"] = "exact"
    which: NotKnown = ""
    among: Among = ()

    answers = "count"
    changes_company = True
    regroups = True
    slots = Slots(
        numbers=("number",),
        idle=each("here left there"),
        short=dict.fromkeys(
            ("about", "roughly", "around", "approx", "approximately", "ca", "ca.", "some"),
            "estimate",
        ),
        synonyms=(
            say("count")
            | say("about, roughly, around, approximately", method="estimate")
            | say("all there, all here", number="all")
            | say("larvae, larva, caterpillars, caterpillar", stage="larva")
            | say("pupae, pupa", stage="pupa")
            | say("adults, adult", stage="adult")
        ),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        container = bench.at(str(said.get("container", "")))
        if container and said.get("which") and not said.get("brood"):
            lots = matching(container, stage=said.get("stage") or None, instar=said.get("instar"))
            codes = sorted({code for lot in lots for code in lot.codes})
            is_all = said.get("number") == sum(lot.number for lot in lots)
            said["among"] = tuple(codes) if len(codes) > 1 and not is_all else ()
        return [(cls, said)]

    def refusals(self, bench: Bench) -> Iterator[str]:
        for code in (self.brood, *self.among):
            yield from known_brood(bench, code)
        container = bench.containers[self.container]
        lots = matching(container, brood=self.brood, stage=self.stage)
        lots += (
            []
            if lots and self.number == sum(lot.number for lot in lots)
            else maybe_of(container, self)
        )
        kinds = {(lot.brood if not self.among else "", lot.stage) for lot in lots}
        if len(kinds) > 1 and self.number != sum(lot.number for lot in lots):
            broods = sorted({brood for brood, _ in kinds})
            stages = sorted({stage for _, stage in kinds})
            ask = f"brood={broods[0]}" if len(broods) > 1 else f"stage={stages[0]}"
            yield f"{self.container} holds {holds(container)}; say which were counted, as {ask}"
        if (
            not lots
            and self.number
            and self.stage
            and (grown := grown_to(container, self.stage, self.number))
        ):
            yield f"{self.container} holds {holds(container)}; {grown}"
        elif not lots and self.number and not (self.brood and self.stage):
            yield (
                f"{self.container} holds {holds(container)}; say which brood and stage were counted"
            )
        yield from _of_another_instar(container, self)

    def effect(self, bench: Bench) -> Moves:
        """A count: what is short stays open, what is over closes what was short."""
        container = container_for(bench, self.container, self)
        movements = regroup(bench, self)
        if self.instar and self.stage in (None, "larva"):
            movements += _say_instar(bench, container, self)
        lots = counted_lots(container, self)
        fewer = sum(lot.number for lot in lots) - self.number
        if fewer > 0:
            movements += unsure_of_instar(bench, self, container, lots, fewer)
            likely = [*reversed(counted_lots(container, self))]
            missed = shares(sorted(likely, key=_instar_is_known), fewer)
            if self.method == "exact":
                movements += lose(bench, self, container, missed, how=NOT_SEEN)
            else:
                movements += [
                    move(bench, self, ESTIMATED, lot, number, source=container)
                    for lot, number in missed
                ]
        elif fewer < 0:
            movements += _found_again(bench, self, container, -fewer, lots)
        return movements

    def wording(self, measures: Measures) -> str:
        method = "" if self.method == "exact" else f"by {self.method}"
        return comma_joined(
            f"counted {animals(self.number, self.stage, self.brood, self.instar)}",
            unknown_words(self),
            method,
        )

    def aside(self, bench: Bench) -> str:
        return count_words(bench, self)

    def unusual(self, bench: Bench) -> bool:
        """Fewer or more than are on record."""
        return self.number != sum(
            lot.number for lot in counted_lots(bench.containers[self.container], self)
        )


def _instar_is_known(lot: Lot) -> bool:
    return lot.stage != "larva" or lot.instar > 0


def _example(bench: Bench, code: str) -> str:
    lots = bench.containers[code].lots
    return lots[0].stage if lots else "larva"


def _of_another_instar(container: Container, entry: Counted) -> Iterator[str]:
    """More of an instar than on record, where others of it are there: those moulted, or were
    counted with them."""
    if not entry.instar or entry.stage not in (None, "larva"):
        return
    there = [*counted_lots(container, entry), *told_by_count(container, entry)]
    more = entry.number - sum(lot.number for lot in there)
    whole = Counted(**(msgspec.structs.asdict(entry) | {"instar": None, "stage": "larva"}))
    others = [
        lot
        for lot in (*counted_lots(container, whole), *maybe_of(container, whole))
        if lot not in there
    ]
    if more <= 0 or not others:
        return
    code, brood = entry.container, f" {entry.brood}" if entry.brood else ""
    known = sum(lot.number for lot in there)
    holds_now = ", ".join(animals(lot.number, lot.stage, lot.brood, lot.instar) for lot in others)
    younger = min(more, sum(lot.number for lot in others if lot.instar < entry.instar))
    first = (
        f"if they moulted, first: {code} moulted {younger} L{entry.instar}{brood}; or "
        if younger
        else ""
    )
    yield (
        f"{code} holds {holds_now}, {known or 'no'} L{entry.instar}; {first}count them all: "
        f"{code} counted {known + sum(lot.number for lot in others)} larvae{brood}"
    )


def _going(container: Container, said: Said) -> list[Lot]:
    """The lots of which animals may go."""
    return matching(
        container,
        brood=str(said.get("brood") or ""),
        stage=said.get("stage") or None,
        instar=said.get("instar") or None,
    )


def _suspect_too(bench: Bench, sources: Iterable[Any], targets: Iterable[Any]) -> list[Saying]:
    """What animals of a suspect container are put into is suspect as well, for the same sign; those
    in isolation are anyway."""
    ill = next(
        (one for code in sources if (one := bench.at(str(code))) and one.suspect_since), None
    )
    if ill is None:
        return []
    sign = comma_joined(ill.suspect_sign, f"from {ill.code}")
    well = [
        code
        for code in targets
        if code
        and not (
            (container := bench.at(str(code)))
            and (container.suspect_since or container.purpose == "isolation")
        )
    ]
    return [(Suspect, {"container": code, "sign": sign}) for code in well]


def _carry(
    bench: Bench, entry: Entry, source: Container, to: Container, lots: list[tuple[Lot, int]]
) -> Moves:
    return [
        move(
            bench,
            entry,
            MOVED,
            lot,
            number,
            source=source,
            to=to,
            stays=stayed(lot, source, entry),
            came=entry.at,
            unfed=(
                None if source.purpose == "overwintering" else lot.unfed
            ),  # what rests needs no food
            fed=None if source.purpose == "overwintering" else lot.hungry_since,
            rested=rested_until(bench, source, lot, entry.at),
        )
        for lot, number in lots
    ]


def _say_instar(bench: Bench, container: Container, entry: Counted) -> Moves:
    """A count that names the instar tells it for so many larvae whose instar was not known."""
    wanting = entry.number - sum(lot.number for lot in counted_lots(container, entry))
    unknown = shares(
        [lot for lot in container.lots_of("larva", entry.brood) if lot.instar == 0], max(0, wanting)
    )
    return [
        move(
            bench,
            entry,
            INSTAR_KNOWN,
            lot,
            share,
            source=container,
            to=container,
            instar=entry.instar,
        )
        for lot, share in unknown
    ]


def _found_again(
    bench: Bench, entry: Counted, container: Container, more: int, lots: list[Lot]
) -> Moves:
    movements = turn_up(bench, entry, container, more, may_be(bench, entry, container, lots))
    more -= sum(movement.number for movement in movements)
    movements += all_seen(bench, entry, container)
    if not more:
        return movements
    if entry.method == "exact":
        note_inconsistency(
            bench, entry, f"{container.code} holds {more} more than the book says", fits=True
        )
    if lots:  # more of a lot than were on record, of whom nobody knows since when; nor, who drank
        lot = replace(lots[0], came=entry.at, hunger=(), mates=(), began=(), of_instars=())
        if lot.stage == "adult":
            lot.hunger, lot.since, lot.latest = (Hunger(entry.at, more),), entry.at, entry.at
    elif entry.brood and entry.stage:
        lot = new_lot(entry.brood, entry.stage, entry.at, instar=entry.instar or 0)
    else:
        return movements
    laid = laid_as_said(bench, lot.brood, entry.at)
    return [*movements, move(bench, entry, COUNTED, lot, more, to=container, laid=laid)]
