"""Animals that leave: dead, escaped, missing, released, kept as specimens; and what came of the
missing."""

import itertools
from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Annotated, Any, Literal

from msgspec import Meta

from rounds.bench.codes import catalogue_numbers, listed_numbers, members, one_of
from rounds.bench.dates import dated
from rounds.bench.folding.lots import clear_empty_founders, container_for, move, note_inconsistency
from rounds.bench.folding.not_seen import escaped_here, lot_of, of_one_of, open_here, turn_up
from rounds.bench.folding.stock import Moves, emptied, lose
from rounds.bench.folding.unsure import all_seen, regroup, taken_as_meant
from rounds.bench.measures import Measures
from rounds.bench.movements import GIVEN_UP, NOT_SEEN, shares
from rounds.bench.plurals import PLURALS
from rounds.bench.state import Bench, Container, SaidBy
from rounds.entries.base import (
    Among,
    BroodCode,
    Code,
    ContainerEntry,
    Entry,
    NotKnown,
    Number,
    OfAnimals,
    Said,
    Saying,
    Stage,
)
from rounds.entries.piecewise import SaidWhole, fields_typed
from rounds.entries.questions import Choice, WhichAnimals
from rounds.entries.slots import Slots, each, say
from rounds.entries.validation import known_brood, known_permit, listed, which_refusals
from rounds.entries.which_animals import missed, number_said, or_not_known
from rounds.entries.wording import animals, comma_joined, taken_words, unknown_words, wings_words

Whose = Annotated[
    Literal["", "missing", "others"],
    Meta(description="missing: of those that were not seen; others: of those that were"),
]
SAME_HOST = timedelta(days=2)  # a death so short before the parasitoid is its host's; our choice
Voucher = Annotated[str, Meta(max_length=60, description="specimen number")]
Depository = Annotated[str, Meta(max_length=120, description="where it is kept")]
Determiner = Annotated[
    str, Meta(max_length=80, description="who determined it, if not that of the settings")
]
Cause = Literal[
    "",
    "dry",
    "heat",
    "cold",
    "starved",
    "drowned",
    "injury",
    "ants",
    "eaten",
    "old age",
    "collapsed",
    "mould",
    "disease suspected",
    "parasitised",
    "moult",
    "crippled",
    "infertile",
    "unhatched",
    "unknown",
]


class Settled(ContainerEntry, frozen=True, kw_only=True, tag="settled"):
    """What became of animals that were not seen."""

    fate: Annotated[
        Literal["found", "dead", "escaped", "taken", "given up", "not known", "miscounted"],
        Meta(
            description=(
                "given up: taken for dead; not known: the record ends, dead or alive; miscounted:"
                " never there, a count was wrong"
            )
        ),
    ]
    number: Number
    brood: BroodCode = ""
    stage: Stage | None = None
    cause: Cause = ""
    which: NotKnown = ""
    among: Among = ()

    changes_company = True
    slots = Slots(
        numbers=("number",),
        idle=each("more"),
        short={"died": "dead", "found dead": "dead", "not found": "given up", "lost": "given up"}
        | dict.fromkeys(("miscount", "never there", "count was wrong"), "miscounted"),
        synonyms=(
            say("missing found dead, missing one found dead", fate="dead")
            | say("missing found, missing found alive, missing one found", fate="found")
        ),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        if said.get("which") and not said.get("brood"):
            missed = open_here(bench, said["container"], "", said.get("stage") or None)
            codes = sorted({code for shortfall in missed for code in members(shortfall.brood)})
            said["among"] = tuple(codes) if len(codes) > 1 else ()
        return [(cls, said)]

    @classmethod
    def question(cls, bench: Bench, container: Container, said: Said) -> WhichAnimals | None:
        return _which_missing(bench, container, said)

    def refusals(self, bench: Bench) -> Iterator[str]:
        missed = sum(
            shortfall.number
            for shortfall in open_here(bench, self.container, self.brood, self.stage)
        )
        out = sum(one.number for one in escaped_here(bench, self.container, self.brood, self.stage))
        may_come_back = out if self.fate == "found" else 0
        if self.number > missed + may_come_back:
            escaped = f" and {out} escaped" if may_come_back else ""
            yield f"{self.container} has {missed} not seen{escaped}; settle no more than that"
        yield from which_refusals(bench, self)

    def effect(self, bench: Bench) -> Moves:
        container = container_for(bench, self.container, self)
        missed = open_here(bench, container.code, self.brood, self.stage)
        renamed = of_one_of(bench, self, missed, self.among)
        missed = open_here(bench, container.code, self.brood, self.stage)
        if self.fate == "found":
            out = escaped_here(bench, container.code, self.brood, self.stage)
            movements = turn_up(bench, self, container, self.number, [*missed, *out])
        else:
            fate = {"dead": "died", "given up": GIVEN_UP}.get(self.fate, self.fate)
            movements = [
                move(bench, self, fate, lot_of(shortfall, self.at), number, source=shortfall)
                for shortfall, number in shares(missed, self.number)
            ]
        more = self.number - sum(movement.number for movement in movements)
        if more:
            note_inconsistency(
                bench,
                self,
                f"{more} more {'found' if self.fate == 'found' else 'settled'} than were missing"
                f" from {container.code}",
            )
        return [*renamed, *movements, *all_seen(bench, self, container)]

    def wording(self, measures: Measures) -> str:
        if not self.among:
            return ""
        which = animals(self.number, self.stage, one_of(self.among))
        return comma_joined(f"settled: {which} {self.fate}", unknown_words(self), self.cause)


class Leaving(OfAnimals, frozen=True, kw_only=True):
    """Some animals are no longer in their container."""

    number: Number

    takes = True

    def effect(self, bench: Bench) -> Moves:
        """They leave the bench for good."""
        container = container_for(bench, self.container, self)
        movements = regroup(bench, self)
        told, leaving = taken_as_meant(bench, self, container)
        movements += told
        for lot, number in leaving:
            movements.append(move(bench, self, self.fate, lot, number, source=container))
        clear_empty_founders(
            bench,
            [
                movement.before.brood
                for movement in movements
                if movement.before and not movement.after
            ],
        )
        emptied(container, self)
        return movements

    @property
    def fate(self) -> str:
        """How they ended, as a movement says it."""
        return self.what

    def wording(self, measures: Measures) -> str:
        cause = getattr(self, "cause", "")
        dead = "found dead, " if isinstance(self, Preserved) and cause else ""
        rest = [
            f"{dead}{'cause not known' if cause == 'unknown' else cause}",
            *(str(getattr(self, name, "") or "") for name in ("place", "voucher", "depository")),
        ]
        others = "not of the missing" if getattr(self, "whose", "") == "others" else ""
        return comma_joined(
            f"{self.what} {taken_words(self)}",
            self.sex or "",
            wings_words(self),
            unknown_words(self),
            others,
            *rest,
        )


class OrOfTheMissing(Leaving, frozen=True, kw_only=True):
    """Some animals are no longer there, or are of those that were missing already."""

    whose: Whose = ""

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        if said.get("whose") == "missing" and missed(bench, said):
            return _of_the_missing(bench, cls, said)
        return [_as_specimen(said) if said.get("voucher") else (cls, said)]

    @classmethod
    def question(cls, bench: Bench, container: Container, said: Said) -> WhichAnimals | None:
        return None if said.get("whose") else _missing_or_others(bench, container, said)


class Died(OrOfTheMissing, frozen=True, kw_only=True, tag="died"):
    """Found dead."""

    cause: Cause = ""
    voucher: Voucher = ""
    depository: Depository = ""

    gravity = 1
    answers = "look"
    finds = True
    slots = Slots(
        numbers=("number",),
        short={
            "accident": "injury",
            "killed": "injury",
            "killed by keeper": "injury",
            "crushed": "injury",
            "deformed": "crippled",
            "malformed": "crippled",
            "moulting": "moult",
            "predator": "eaten",
        },
        verbs=("found dead",),
        idle=each("more"),
        synonyms=(
            say("collapsed, collapse", cause="collapsed")
            | say("drowned", cause="drowned")
            | say("squashed, crushed", cause="injury")
            | say("eaten by a spider, eaten by spider, eaten by ants", cause="eaten")
            | say("starved", cause="starved")
            | say("unhatched", cause="unhatched", stage="egg")
            | say("infertile", cause="infertile", stage="egg")
            | say("dead, death")
        ),
    )

    @classmethod
    def stage_meant(cls, container: Container, said: Said) -> Stage | None:
        """Where nothing walks, one that is crippled is an adult: its wings failed."""
        is_crippled = said.get("cause") == "crippled" and not container.count("larva")
        return "adult" if is_crippled else None

    def refusals(self, bench: Bench) -> Iterator[str]:
        if self.whose == "missing":
            yield (
                f"none of {self.container} is missing on record; without 'missing' they are of"
                " those that are there"
            )


class Escaped(OrOfTheMissing, frozen=True, kw_only=True, tag="escaped"):
    """Known to have got out."""

    gravity = 2
    walks = True
    slots = Slots(numbers=("number",), idle=each("more"))


class Missing(Leaving, frozen=True, kw_only=True, tag="missing"):
    """Not found, fate unknown: a shortfall until settled."""

    whose: Annotated[
        Literal["", "others"], Meta(description="others: more than a count showed missing")
    ] = ""

    gravity = 3
    slots = Slots(numbers=("number",), idle=each("more"))

    @classmethod
    def question(cls, bench: Bench, container: Container, said: Said) -> WhichAnimals | None:
        return None if said.get("whose") else _missing_by_count(bench, container, said)

    def effect(self, bench: Bench) -> Moves:
        container = container_for(bench, self.container, self)
        renamed = regroup(bench, self)
        movements, gone = taken_as_meant(bench, self, container)
        return renamed + movements + lose(bench, self, container, gone, how=NOT_SEEN)


class Released(Leaving, frozen=True, kw_only=True, tag="released"):
    """Let go, with the place."""

    place: Annotated[
        str, Meta(max_length=200, description="where; her own source site stands on her line")
    ] = ""

    gravity = 10
    cautions = ("release", "protected")
    asks_of_crippled = True
    slots = Slots(
        numbers=("number",),
        words=("place",),
        after={"at": "place", "in": "place", "near": "place", "on": "place", "by": "place"},
        idle=each("more"),
        synonyms=say("freed, let go, set free, let out, release"),
    )

    @classmethod
    def stage_meant(cls, container: Container, said: Said) -> Stage | None:
        return "adult"


class Preserved(Leaving, frozen=True, kw_only=True, tag="preserved"):
    """Kept as a specimen: killed for it, or with a cause found dead."""

    voucher: Voucher = ""
    depository: Depository = ""
    cause: Annotated[Cause, Meta(description="what it died of, if it was found dead")] = ""
    determiner: Determiner = ""

    slots = Slots(
        numbers=("number",),
        words=("voucher",),
        is_name=True,
        after={"in": "depository", "at": "depository"},
        idle=each("more"),
        synonyms=say(
            "pinned, for the collection, for collection, kept for the collection,"
            " kept for collection, kept as specimen, kept as a specimen, kept as voucher,"
            " kept as a voucher, killed for the collection, killed for collection,"
            " killed as specimen, killed as a specimen, killed as voucher,"
            " as a voucher, as voucher, as a specimen, as specimen"
        ),
    )

    @property
    def kept_numbers(self) -> list[str]:
        """The catalogue number of each specimen kept; '' where none was given."""
        return catalogue_numbers(self.voucher, self.number)

    def refusals(self, bench: Bench) -> Iterator[str]:
        yield from _number_given(bench, self, self.number)

    @property
    def fate(self) -> str:
        return "died" if self.cause else self.what

    def effect(self, bench: Bench) -> Moves:
        _give_number(bench, self)
        return super().effect(bench)

    def aside(self, bench: Bench) -> str:
        return _numbered(self)


class Parasitoid(ContainerEntry, frozen=True, kw_only=True, tag="parasitoid"):
    """Parasitoids that came out of animals here: no animals of the brood.

    The host is recorded dead on a line of its own. Of many only some may be kept: 14, 3 kept.
    """

    number: Number
    taxon: Annotated[
        str,
        Meta(
            max_length=120,
            description="what they are, as far as the keeper knows: wasp, fly, a name",
        ),
    ] = ""
    brood: Annotated[str, Meta(max_length=24, description="the host's brood")] = ""
    stage: Annotated[Stage, Meta(description="the host's stage")] | None = None
    instar: Annotated[int, Meta(ge=0, le=12, description="the host's instar")] | None = None
    hosts: Annotated[int, Meta(ge=1, description="out of how many hosts")] | None = None
    kept: (
        Annotated[int, Meta(ge=1, description="how many of them are kept as specimens, if not all")]
        | None
    ) = None
    voucher: Voucher = ""
    depository: Depository = ""
    determiner: Determiner = ""

    changes_company = True
    names_parasitoid = "taxon"
    slots = Slots(
        numbers=("number",),
        words=("taxon",),
        is_name=True,
        after={"in": "depository", "at": "depository"},
        leading={"out of": "hosts", "from": "hosts"},
        idle=each("a an came emerged hatched eclosed of out the") | {"out of"},
    )

    @property
    def is_kept(self) -> bool:
        """Whether some of them are specimens."""
        return bool(self.kept or self.voucher or self.depository)

    @property
    def kept_numbers(self) -> list[str]:
        """The catalogue number of each one kept; '' where none was given."""
        return catalogue_numbers(self.voucher, self.kept or self.number)

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        container = bench.at(str(said.get("container", "")))
        return [(cls, said | _only_ones(container, said) if container else said)]

    def refusals(self, bench: Bench) -> Iterator[str]:
        for code in members(self.brood):
            yield from known_brood(bench, code)
        container = bench.containers[self.container]
        broods = sorted({lot.brood for lot in container.lots})
        if not broods and not (self.brood and container.emptied):
            # of several none is the example: it would be taken as it stands
            several = f"say which: {' or '.join(f'brood={one}' for one in bench.broods)}"
            one = f"{self.container} parasitoid {self.number} brood={next(iter(bench.broods), '')}"
            yield (
                f"{self.container} is empty; say the cup that the host was in, or whose host it was"
                f" if it died there: {one if len(bench.broods) == 1 else several}"
                if container.emptied
                else f"{self.container} is empty and always was; say the cup that the host was in"
            )
        if not self.brood and len(broods) > 1:
            yield (
                f"{self.container} holds several broods; say which the host was of:"
                f" brood={' or brood='.join(broods)}"
            )
        if self.kept and self.kept > self.number:
            yield f"{self.kept} are kept of {self.number}; give as many as came out, or fewer"
        yield from _number_given(bench, self, self.number)

    def effect(self, bench: Bench) -> None:
        _give_number(bench, self)
        bench.parasitoids.append(self)

    def aside(self, bench: Bench) -> str:
        return "; ".join(filter(None, (_numbered(self), self._host_alive(bench))))

    def _host_alive(self, bench: Bench) -> str:
        """That the host is still among the living here, with the line that says it dead; '' where
        nothing that it can be is alive here, or such a death was the last that was said."""
        container = bench.containers[self.container]
        stage = self.stage or "larva"
        alive = sum(
            lot.number
            for lot in container.lots
            if lot.stage == stage and set(lot.codes) & set(members(self.brood) or lot.codes)
        )
        hosts = self.hosts or 1
        deaths = [container.last.get(kind) for kind in ("died", "preserved")]
        if not alive or any(
            death is not None
            and getattr(death, "cause", "") == "parasitised"
            and self.at - death.at <= SAME_HOST
            for death in deaths
        ):
            return ""
        dead = min(hosts, alive)
        what = stage if dead == 1 else PLURALS[stage]
        of = f" brood={self.brood}" if self.brood and len(container.lots) > 1 else ""
        return (
            f"the host{'s are' if hosts > 1 else ' is'} still alive on record; dead, as:"
            f" {self.container} died {dead} {what} cause=parasitised{of}"
        )

    def wording(self, measures: Measures) -> str:
        host = animals(self.hosts or 1, self.stage or "host", self.brood, self.instar)
        out_of = host if self.hosts else host.removeprefix("1 ")
        return comma_joined(
            f"parasitoid: {self.number} {self.taxon}".strip(),
            f"out of {out_of}",
            ("kept" if self.kept == self.number else f"{self.kept} of them kept")
            if self.kept
            else "",
            self.voucher,
            self.depository,
        )


class ReleaseBy(SaidWhole, frozen=True, kw_only=True, tag="release by"):
    """A deadline to bring her back."""

    container: Code
    until: Annotated[datetime, Meta(description="when she must be free")]
    code: Annotated[str, Meta(max_length=24, description="which founder; all if not given")] = ""
    permit: Annotated[str, Meta(max_length=60, description="permit number")] = ""

    is_look = False
    of_now = True
    names_animals = ("code",)
    changes_company = True
    slots = Slots(
        words=("code",),
        leading={"until": "until", "by": "until"},
        verbs=("release until", "release before"),
    )

    def refusals(self, bench: Bench) -> Iterator[str]:
        if self.code and self.code not in bench.founders:
            yield f"no founder is called {self.code}; there {listed(bench.founders)}"
        yield from known_permit(bench, self.permit)

    @property
    def value(self) -> str:
        return fields_typed(self, ("until", "permit"))

    def said_on(self, bench: Bench) -> dict[str, SaidBy]:
        return bench.dates_said.get(self.what, {})

    def to_note_on(self, bench: Bench) -> dict[str, SaidBy]:
        return bench.dates_said.setdefault(self.what, {})

    def names_said(self, bench: Bench) -> list[str]:
        """The founder that is named, else every founder in the container, else that itself."""
        container = bench.containers.get(self.container)
        lots = container.lots if container else ()
        here = [code for lot in lots for code in lot.codes if code in bench.founders]
        return [self.code] if self.code else list(dict.fromkeys(here)) or [self.container]

    def effect(self, bench: Bench) -> None:
        """A deadline for one founder, or for every founder in the container."""
        container_for(bench, self.container, self)
        self.note(bench)
        for code in self.names_said(bench):
            bench.release_by[code] = self

    def wording(self, measures: Measures) -> str:
        permit = f"permit {self.permit}" if self.permit else ""
        return comma_joined(f"release by {dated(self.until, self.at)}", self.code, permit)


def _numbers(entry: Preserved | Parasitoid) -> list[str]:
    """The number of each specimen, where any was given."""
    return entry.kept_numbers if entry.voucher else []


def _number_given(bench: Bench, entry: Preserved | Parasitoid, taken: int) -> Iterator[str]:
    """A number is of one specimen; labels and archive would take two for one."""
    yield from _as_many_numbers(entry, taken)
    numbers = _numbers(entry)
    for number in dict.fromkeys(numbers):
        if numbers.count(number) > 1:
            yield f"{number} is given to two of them; each has its own"
        if (of := bench.specimens.get(number.casefold())) is not None:
            free = next(
                name
                for after in itertools.count(2)
                if (name := f"{number}.{after}").casefold() not in bench.specimens
            )
            yield (
                f"{number} is the number of a specimen from {of}; each has its own, as"
                f" voucher={free}"
            )


def _as_many_numbers(entry: Preserved | Parasitoid, number: int) -> Iterator[str]:
    """Numbers that are listed are as many as there are specimens; one number is of all."""
    listed, kept = listed_numbers(entry.voucher), len(entry.kept_numbers)
    if len(listed) < 2 or len(listed) == kept:
        return
    told = (
        f"{entry.voucher} are {len(listed)} numbers, and {kept} {'is' if kept == 1 else 'are'} kept"
    )
    if isinstance(entry, Parasitoid) and len(listed) < number:
        yield f"{told}; how many of the {number} are kept? As: kept={len(listed)}"
    elif kept < len(listed):
        yield f"{told}; as: voucher={','.join(listed[:kept])}, or number={len(listed)}"
    else:
        yield f"{told}; as: number={len(listed)}, and the others on a line of their own"


def _give_number(bench: Bench, entry: Preserved | Parasitoid) -> None:
    for number in _numbers(entry):
        bench.specimens.setdefault(number.casefold(), entry.container)


def _numbered(entry: Preserved | Parasitoid) -> str:
    """Of several specimens under one number, that of each."""
    listed = entry.kept_numbers
    if len(listed) < 2 or listed[0] != f"{entry.voucher}.1":
        return ""
    return f"numbered {listed[0]} {'and' if len(listed) == 2 else 'to'} {listed[-1]}"


def _only_ones(container: Container, said: dict[str, Any]) -> dict[str, Any]:
    """The brood and stage of the animals here, where there is only one of each and neither was
    said."""
    broods = {lot.brood for lot in container.lots}
    stages = {lot.stage for lot in container.lots if lot.stage != "adult"}
    fields: dict[str, Any] = (
        {"brood": broods.pop()} if len(broods) == 1 and not said.get("brood") else {}
    )
    return fields | ({"stage": stages.pop()} if len(stages) == 1 and not said.get("stage") else {})


def _as_specimen(said: dict[str, Any]) -> tuple[type[Entry], dict[str, Any]]:
    """Found dead and kept: a specimen with its cause of death."""
    rest = {name: value for name, value in said.items() if name != "whose"}
    return Preserved, rest | {"cause": said.get("cause") or "unknown"}


def _of_the_missing(
    bench: Bench, kind: type[Entry], said: dict[str, Any]
) -> list[tuple[type[Entry], dict[str, Any]]]:
    """Dead or escaped ones that were missing settle what was missing; more than that died or
    escaped beside."""
    number = number_said(kind, said)
    missed = open_here(bench, said["container"], said.get("brood") or "", said.get("stage"))
    share = min(number, sum(shortfall.number for shortfall in missed))
    to_record: list[tuple[type[Entry], dict[str, Any]]]
    missed_ones = {
        name: said[name] for name in ("container", "brood", "stage", "which") if said.get(name)
    }
    missed_ones |= {"number": share}
    if said.get("voucher"):
        to_record = [(Settled, missed_ones | {"fate": "found"})] if share else []
        return [*to_record, _as_specimen(said)]
    fate = (
        {"fate": "escaped"}
        if kind is Escaped
        else {"fate": "dead", "cause": said.get("cause") or ""}
    )
    to_record = [(Settled, missed_ones | fate)] if share else []
    if number > share:
        to_record.append((kind, said | {"number": number - share, "whose": "others"}))
    return to_record


def _which_missing(bench: Bench, container: Container, fields: Said) -> WhichAnimals | None:
    """Of which missing ones it is known what became of them, if not of all."""
    missed = open_here(
        bench, container.code, fields.get("brood") or "", fields.get("stage") or None
    )
    if number_said(Settled, fields) >= sum(shortfall.number for shortfall in missed):
        return None
    stages = sorted({one.stage for one in missed}, key=list(PLURALS).index)
    if len(stages) > 1:
        line = f"{container.code} misses {' and '.join(PLURALS[one] for one in stages)}; say which"
        return WhichAnimals(
            line, tuple(Choice(PLURALS[stage], {"stage": stage}) for stage in stages)
        )
    broods = sorted({one.brood for one in missed})
    if len(broods) > 1 and not fields.get("which"):
        choices = [Choice(f"brood={brood}", {"brood": brood}) for brood in broods]
        return WhichAnimals(
            f"{container.code} misses animals of several broods; say which", or_not_known(choices)
        )
    return None


def _missing_by_count(bench: Bench, container: Container, fields: Said) -> WhichAnimals | None:
    """Whether those that are said to be missing are more than the newest count showed."""
    newest = container.last.get("counted")
    shortfalls = open_here(
        bench, container.code, fields.get("brood") or "", fields.get("stage") or None
    )
    number = sum(
        shortfall.number
        for shortfall in shortfalls
        if newest is not None and shortfall.entry == newest.id
    )
    if not number:
        return None
    of_it = (
        "is missing already, by the count" if number == 1 else "are missing already, by the count"
    )
    more = (
        "one more of the others is"
        if number_said(Missing, fields) == 1
        else "more of the others are"
    )
    return WhichAnimals(
        f"{number} of {container.code} {of_it}; if {more} missing, add",
        (Choice("others", {"whose": "others"}),),
    )


def _missing_or_others(bench: Bench, container: Container, fields: Said) -> WhichAnimals | None:
    number = missed(bench, fields)
    if not number:
        return None
    line = (
        f"{number} of {container.code} {'is' if number == 1 else 'are'} missing; say whether it is"
        " of them"
    )
    return WhichAnimals(
        line, (Choice("missing", {"whose": "missing"}), Choice("others", {"whose": "others"}))
    )
