"""What animals become: hatched, moulted, pupated, emerged, their sex and weight."""

from collections.abc import Iterator
from datetime import datetime
from typing import Annotated, Any, Literal

from msgspec import Meta

from rounds.bench.codes import one_of
from rounds.bench.dates import beside
from rounds.bench.diapause import rested_until
from rounds.bench.folding.kept_stems import PERHAPS, SHOWN, larvae_found_on, stems_of
from rounds.bench.folding.lots import chosen, container_for, matching, move, part_of
from rounds.bench.folding.signs import SHOWN_BY
from rounds.bench.folding.stage_completions import STAGE_BEFORE, look_before, passed
from rounds.bench.folding.stock import Moves
from rounds.bench.folding.unsure import (
    furthest_first,
    meant,
    of_how_many,
    regroup,
    seen_to_be,
    tell_sex,
    unsexed,
)
from rounds.bench.kept_lots import named
from rounds.bench.measures import Measures
from rounds.bench.movements import NOT_DATED
from rounds.bench.plurals import PLURALS
from rounds.bench.state import Bench, Container, Lot, SaidBy
from rounds.entries.base import (
    Among,
    BroodCode,
    Code,
    ContainerEntry,
    Entry,
    KeptLots,
    Number,
    Saying,
    Sex,
    Stage,
    Which,
)
from rounds.entries.piecewise import SaidWhole, typed
from rounds.entries.slots import Slots, each, say
from rounds.entries.validation import holds, known_brood, more_than_may_be
from rounds.entries.wording import animals, comma_joined, unknown_words

Sure = Annotated[bool, Meta(description="seen so, though it was asked about")]
Seen = Annotated[
    Literal["seen", "inferred", "not dated"],
    Meta(
        description=(
            "seen, or inferred from shells, frass or nibbling; not dated: nobody knows when, so"
            " that no duration rests on it"
        )
    ),
]


AtLeast = Annotated[bool, Meta(description="more may have: how many did in all, nobody wrote down")]
StageDays = Annotated[
    Annotated[float, Meta(ge=0)] | None,
    Meta(
        description=(
            "how many days the stage that ended took, if that is known though no line says when"
            " it began"
        ),
    ),
]


class GoesOn(ContainerEntry, frozen=True, kw_only=True):
    """Some animals of a container end a stage or instar and begin the next."""

    number: Number
    brood: BroodCode = ""
    evidence: Seen = "seen"
    which: Which = ""
    among: Among = ()
    sure: Sure = False
    at_least: AtLeast = False
    stage_days: StageDays = None

    answers = "look"
    changes_company = True

    def wording(self, measures: Measures) -> str:
        evidence = self.evidence if self.evidence in ("inferred", NOT_DATED) else ""
        brood = one_of(self.among) or self.brood
        of_brood = f" of {brood}" if brood else ""
        crippled = (
            f"{self.crippled} crippled" if isinstance(self, Emerged) and self.crippled else ""
        )
        return comma_joined(
            f"{self.what} {self.number}{of_brood}",
            "instar not known" if getattr(self, "instar_not_known", False) else "",
            getattr(self, "sex", ""),
            crippled,
            unknown_words(self),
            evidence,
            "at least" if getattr(self, "at_least", False) else "",
            f"{self.stage_days:g} d as {self.grows_from}" if self.stage_days is not None else "",
        )

    def aside(self, bench: Bench) -> str:
        return of_how_many(bench, self)


class Hatched(GoesOn, frozen=True, kw_only=True, tag="hatched"):
    """Eggs become first-instar larvae; larvae of no known instar if none of their moults is on
    record. Of kept stems that are named, frass that was seen has its larvae; they stay on
    watch."""

    instar_not_known: Annotated[
        bool, Meta(description="nobody wrote down their moults: their instar is not known")
    ] = False
    lots: KeptLots = ()

    gravity = 5
    finds = True
    grows_from, grows_to = "egg", "larva"
    slots = Slots(
        several=True,
        numbers=("number",),
        idle=each("egg eggs larva larvae more"),
        synonyms=say("hatch") | say("first larva, first caterpillar, first hatchling", number=1),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        """Frass that was seen under stems of the same mothers is of the eggs on record there that
        hatched."""
        container = bench.at(str(said.get("container", "")))
        if container is None or said.get("lots"):
            return [(cls, said)]
        eggs = matching(container, brood=str(said.get("brood") or ""), stage="egg")
        lots = stems_of(bench, container, eggs)
        told = tuple(held.lot for held in lots if held.frass in (PERHAPS, *SHOWN))
        return [(cls, said | ({"lots": told} if told else {}))]

    def effect(self, bench: Bench) -> Moves:
        container = container_for(bench, self.container, self)
        instar = 0 if self.instar_not_known else 1
        larvae_found_on(container, [held for _, held in named(bench, container, self.lots)])
        return regroup(bench, self) + _grow(bench, self, meant(container, self), "larva", instar)


class Moulted(GoesOn, frozen=True, kw_only=True, tag="moulted"):
    """Larvae reach an instar."""

    instar: Annotated[int, Meta(ge=2, le=12, description="the instar they are in now")]

    gravity = 8
    grows_from, grows_to = "larva", "larva"
    moults = True
    slots = Slots(
        numbers=("number",),
        idle=each("caterpillars larva larvae more"),
        synonyms=say("moult, molted, molt"),
    )

    def effect(self, bench: Bench) -> Moves:
        """Larvae of the instar before, else the nearest younger ones, reach the instar said."""
        container = container_for(bench, self.container, self)
        renamed = regroup(bench, self) + seen_to_be(bench, self, container)
        younger = sorted(meant(container, self), key=furthest_first)
        return renamed + _grow(bench, self, younger, "larva", self.instar)

    def wording(self, measures: Measures) -> str:
        return comma_joined(
            f"moulted {self.number} to L{self.instar}",
            one_of(self.among) or self.brood,
            unknown_words(self),
        )


class Pupated(GoesOn, frozen=True, kw_only=True, tag="pupated"):
    """Larvae become pupae."""

    gravity = 7
    grows_from, grows_to = "larva", "pupa"
    slots = Slots(
        numbers=("number",),
        idle=each("caterpillars larva larvae more"),
        synonyms=say("first pupa", number=1),
    )

    def effect(self, bench: Bench) -> Moves:
        container = container_for(bench, self.container, self)
        renamed = regroup(bench, self)
        larvae = sorted(meant(container, self), key=furthest_first)
        return renamed + _grow(bench, self, larvae, "pupa")


class Emerged(GoesOn, frozen=True, kw_only=True, tag="emerged"):
    """Pupae become adults."""

    sex: Sex = ""
    crippled: Annotated[int, Meta(ge=0, description="how many with wings that failed")] = 0

    gravity = 6
    finds = True
    grows_from, grows_to = "pupa", "adult"
    slots = Slots(
        numbers=("number",),
        idle=each("adult adults pupa pupae more"),
        verbs=("eclosed",),
        synonyms=say("emerge, eclose") | say("first adult, first imago", number=1),
    )

    def refusals(self, bench: Bench) -> Iterator[str]:
        if self.crippled > self.number:
            yield (
                f"{self.crippled} crippled of {self.number} emerged; no more can be crippled than"
                " emerged"
            )

    def effect(self, bench: Bench) -> Moves:
        container = container_for(bench, self.container, self)
        return regroup(bench, self) + _grow(bench, self, meant(container, self), "adult")


class Expected(SaidWhole, frozen=True, kw_only=True, tag="expected"):
    """The keeper's own date for a change that is coming; it replaces the forecast, until
    the change has come."""

    container: Code
    change: Annotated[
        Literal["hatch", "moult", "pupation", "emergence"], Meta(description="which change")
    ]
    begins: Annotated[datetime, Meta(description="when the first of them is expected")]
    until: Annotated[
        datetime | None, Meta(description="when the last is; with the first if it is not given")
    ] = None
    brood: BroodCode = ""
    why: Annotated[str, Meta(max_length=200, description="on what that rests")] = ""

    is_look = False
    slots = Slots(
        words=("change",),
        leading={"on": "begins", "from": "begins", "until": "until", "to": "until"},
        verbs=("expect", "expects"),
    )

    def refusals(self, bench: Bench) -> Iterator[str]:
        yield from known_brood(bench, self.brood)
        if self.until is not None and self.until < self.begins:
            yield "the last cannot be expected before the first; give 'until' a later time"
        if not self._meant(bench):
            what = PLURALS[STAGE_BEFORE[self.change]]
            yield (
                f"no {what} of {self.brood or 'any brood'} are in {self.container}, and"
                f" {self.change} is of {what}"
            )

    def _meant(self, bench: Bench) -> list[str]:
        container = bench.containers.get(self.container)
        return [
            lot.brood
            for lot in (container.lots if container else ())
            if lot.stage == STAGE_BEFORE[self.change] and self.brood in ("", lot.brood)
        ]

    @property
    def value(self) -> str:
        until = f" until {typed(self.until)}" if self.until else ""
        return f"on {typed(self.begins)}{until}"

    def said_on(self, bench: Bench) -> dict[str, SaidBy]:
        return bench.dates_said.get(self.change, {})

    def to_note_on(self, bench: Bench) -> dict[str, SaidBy]:
        return bench.dates_said.setdefault(self.change, {})

    def names_said(self, bench: Bench) -> list[str]:
        return list(dict.fromkeys(self._meant(bench)))

    def effect(self, bench: Bench) -> None:
        container_for(bench, self.container, self)
        self.note(bench)
        for brood in self.names_said(bench):
            bench.expected.setdefault(brood, {})[self.change] = self

    def wording(self, measures: Measures) -> str:
        until = f" until {beside(self.until, self.at)}" if self.until else ""
        return comma_joined(
            f"{self.change} expected {beside(self.begins, self.at)}{until}", self.brood, self.why
        )


class Sexed(ContainerEntry, frozen=True, kw_only=True, tag="sexed"):
    """The sex of some that stand here is known now: of adults that emerged unseen, or of young ones
    if their stage is given."""

    number: Number
    sex: Annotated[Literal["female", "male"], Meta(description="what they are")]
    brood: BroodCode = ""
    stage: Stage | None = None

    changes_company = True
    slots = Slots(numbers=("number",))

    def refusals(self, bench: Bench) -> Iterator[str]:
        yield from known_brood(bench, self.brood)
        container = bench.containers[self.container]
        lots = unsexed(container, self)
        there = sum(lot.number for lot in lots)
        if self.number > there:
            what = f"{there or 'no'} {PLURALS[self.stage or 'adult']}"
            yield (
                f"{container.code} holds {what} whose sex is not known; it holds {holds(container)}"
            )
        yield from more_than_may_be(container, self, lots, self.sex, min(self.number, there))
        broods = sorted({code for lot in lots for code in lot.codes})
        if len(broods) > 1 and not self.brood and self.number < there:
            yield (
                f"{container.code} holds several broods; say which:"
                f" {' or '.join(f'brood={brood}' for brood in broods)}"
            )

    def effect(self, bench: Bench) -> Moves:
        return tell_sex(bench, container_for(bench, self.container, self), self)


class Weighed(ContainerEntry, frozen=True, kw_only=True, tag="weighed"):
    """Weighed: the mass of all that lay on the scale together."""

    mass_mg: Annotated[float, Meta(gt=0, le=1_000_000, description="mg")]
    number: Number = 1
    brood: BroodCode = ""
    stage: Stage | None = None

    slots = Slots(numbers=("mass_mg",))

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        container = bench.at(str(said.get("container", "")))
        if container and len(kinds := {(lot.brood, lot.stage) for lot in container.lots}) == 1:
            said = dict(zip(("brood", "stage"), *kinds, strict=True)) | said
        return [(cls, said)]

    def refusals(self, bench: Bench) -> Iterator[str]:
        yield from known_brood(bench, self.brood)
        container = bench.containers[self.container]
        there = sum(lot.number for lot in matching(container, brood=self.brood, stage=self.stage))
        if self.number > there:
            yield (
                f"{self.number} weighed, but {self.container} holds {holds(container)}; weigh what"
                " is there"
            )

    def wording(self, measures: Measures) -> str:
        return comma_joined(
            f"weighed {self.mass_mg:g} mg", animals(self.number, self.stage, self.brood)
        )


def _grow(
    bench: Bench,
    entry: GoesOn,
    lots: list[Lot],
    stage: Stage,
    instar: int = 0,
) -> Moves:
    container = container_for(bench, entry.container, entry)
    movements: Moves = []
    now: dict[str, Any] = {
        "began_before": entry.evidence == NOT_DATED,
        "begun_after": look_before(container, entry),
        "mates": (),
        "hunger": (),
    }
    now |= {"stage": stage, "instar": instar, "since": entry.at, "latest": entry.at}
    if not isinstance(entry, Moulted):
        now |= {"stays": (), "came": entry.at, "unfed": None, "fed": None}
    if isinstance(entry, Emerged) and entry.sex:
        now["sex"] = entry.sex
    left = entry.crippled if isinstance(entry, Emerged) else 0
    for lot, number in chosen(bench, entry, container, entry.number, lots):
        passed(bench, entry, container, part_of(lot, number, first=True), number)
        now["rested"] = (
            rested_until(bench, container, lot, entry.at) if isinstance(entry, Moulted) else None
        )
        spoilt = min(number, left)
        left -= spoilt
        for part, crippled in ((number - spoilt, False), (spoilt, True)):
            if part:
                now["crippled"] = crippled
                movements.append(
                    move(bench, entry, entry.what, lot, part, source=container, to=container, **now)
                )
    went_on(container, entry)
    return movements


_ENDS: dict[type[Entry], tuple[str, ...]] = {
    Hatched: ("darkening",),
    Moulted: ("still",),
    Pupated: ("still", "wandering", "hanging"),
    Emerged: ("soft pupa", "colouring"),
}


def went_on(container: Container, entry: GoesOn) -> None:
    """A hatch, moult, pupation or emergence ends the sign that told of it, for those that made
    it."""
    ends = _ENDS.get(type(entry), ())
    if "still" in ends:
        container.moulting = min(
            container.moulting - entry.number, _waiting(container, "larva", entry)
        )
        if container.moulting <= 0:
            container.moult_seen = None
    if container.sign not in ends:
        return
    left = container.sign_left - entry.number
    container.sign_left = min(left, _waiting(container, SHOWN_BY[container.sign], entry))
    if container.sign_left <= 0:
        container.sign, container.sign_since, container.quiet_seen = "as usual", entry.at, None


def _waiting(container: Container, stage: Stage, entry: GoesOn) -> int:
    """How many of a stage did not go on; of a moult those of a younger instar."""
    lots = container.lots_of(stage)
    if isinstance(entry, Moulted):
        lots = [lot for lot in lots if lot.instar < entry.instar]
    return sum(lot.number for lot in lots)
