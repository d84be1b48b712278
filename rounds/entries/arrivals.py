"""Animals that come in: founders, broods, those that are put on record."""

from collections.abc import Iterator
from datetime import datetime
from typing import Annotated, Any, Literal, TypeVar

from msgspec import Meta
from msgspec.structs import replace

from rounds.bench.codes import INSTAR, names_of
from rounds.bench.dates import beside, dated, is_after
from rounds.bench.entry_ids import first_id
from rounds.bench.folding.codes_given_twice import is_written_anew
from rounds.bench.folding.kept_stems import SHOWN, hidden_hatched, hidden_on, larvae_found_on
from rounds.bench.folding.lots import container_for, move, new_lot, note_inconsistency
from rounds.bench.folding.removal import learn_missed
from rounds.bench.folding.stage_completions import date_as_laid, laid_as_said
from rounds.bench.folding.stock import Moves, came_in
from rounds.bench.mates import WILD, possible_fathers
from rounds.bench.measures import Measures
from rounds.bench.movements import CAUGHT, PUT_IN
from rounds.bench.parents import foreign_mother
from rounds.bench.permits import came_after_end, past_with
from rounds.bench.plurals import PLURALS
from rounds.bench.state import NO_MARK, STAGES, Bench, Container, KeptLot
from rounds.bench.whose_eggs import brood_taxon
from rounds.entries.base import (
    Code,
    ContainerEntry,
    Country,
    Entry,
    Instar,
    Latitude,
    Longitude,
    Metres,
    Number,
    Province,
    Saying,
    Sex,
    Stage,
    Words,
    kinds,
)
from rounds.entries.brood_of_eggs import is_mother, next_brood_code
from rounds.entries.schema import OWN
from rounds.entries.slots import SAME_AGAIN, Slots, say
from rounds.entries.slots import listed as listed_words
from rounds.entries.validation import (
    alike_in,
    impossible_parents,
    known_brood,
    known_permit,
    listed,
    new_code,
    no_mother,
    standing_codes,
)
from rounds.entries.wording import animals, comma_joined

_MEAN_SOMETHING = frozenset(
    {
        *STAGES,
        *PLURALS.values(),
        "male",
        "males",
        "female",
        "females",
        "all",
        "each",
        "not",
        "known",
        "unmarked",
        "missing",
        "others",
        "sure",
        "or",
        "and",
        "of",
        "to",
        "in",
        "on",
    }
)
Mark = Annotated[
    str, Meta(max_length=24, description="one word by which it is known again: red, A7")
]
Record = TypeVar("Record", "FounderIntake", "BroodBegun")
# The origin of eggs laid here that nobody found before they hatched on kept stems; the tool's own
# words, no place.
HIDDEN_ON_STEMS = "hidden on held sprigs"
CATCH_VERBS = listed_words("caught found collected taken netted")
# What the record of a catch says, of a founder and of young ones that were stocked alike.
OF_A_CATCH = listed_words(
    "id at logged by round container stage place country province latitude longitude uncertainty_m"
    " caught collector permit found_on"
)


def last_said(bench: Bench, one: Record, other: Record) -> Record:
    """Of two lines that stand for the same one the one that was said later; where they say another
    thing of a founder, that is told."""
    first, last = sorted((one, other), key=lambda line: (line.logged, line.id))
    bench.said_anew.setdefault(one.code, []).append(first.id)
    if not isinstance(last, FounderIntake) or first_id(first.id) == first.id:
        return last  # the first record of all was bettered
    code = one.code
    if first.taxon != last.taxon:
        bench.records_apart[code] = (
            f"two laptops differ: {code} was called {first.taxon} on one laptop and {last.taxon} on"
            f" another, which counts as the later one; say which, as: {code} is {last.taxon}"
        )
    elif other_fields := [
        name
        for name in type(last).__struct_fields__
        if name not in OWN and getattr(first, name) != getattr(last, name)
    ]:
        bench.records_apart[code] = (
            f"two laptops differ: the {', '.join(other_fields)} of {code} was recorded on two"
            f" laptops, and the later record counts; say it again, as: {code} at Tannmoos wear"
            " fresh"
        )
    return last


class FounderIntake(ContainerEntry, frozen=True, kw_only=True, tag="founder"):
    """A wild-caught animal comes in; its code is never used again."""

    code: Code
    taxon: Annotated[str, Meta(max_length=120, description="scientific name, as the keeper has it")]
    place: Annotated[str, Meta(max_length=200, description="where it was caught")] = ""
    country: Country = ""
    province: Province = ""
    latitude: Latitude | None = None
    longitude: Longitude | None = None
    uncertainty_m: Metres | None = None
    caught: Annotated[datetime, Meta(description="when it was caught")] | None = None
    collector: Annotated[str, Meta(max_length=80, description="who caught it")] = ""
    stage: Stage = "adult"
    sex: Sex = "female"
    wear: Literal["", "fresh", "slight", "worn", "very worn"] = ""
    inspected: Annotated[
        Literal["", "none seen", "found", "not looked"],
        Meta(description="egg parasitoids riding on her"),
    ] = ""
    permit: Annotated[str, Meta(max_length=60, description="permit number")] = ""
    found_on: Annotated[
        str, Meta(max_length=80, description="the plant it was found on in the wild, egg or larva")
    ] = ""
    mark: Mark = ""

    cautions = ("protected",)
    gives_code = True
    changes_company = True
    names_species = "taxon"
    names_plant = "found_on"
    slots = Slots(
        words=("code", "taxon"),
        is_name=True,
        after={
            "at": "place",
            "from": "place",
            "near": "place",
            "in": "place",
            "on": "found_on",
            "by": "collector",
        },
        leading=dict.fromkeys(CATCH_VERBS, "caught"),
        synonyms=say("same again, same, another, one more", taxon=SAME_AGAIN),
    )

    @property
    def he_or_she(self) -> str:
        """The word for it: of one that came in young, or whose sex nobody knows, it."""
        return {"male": "he", "female": "she"}.get(self.sex if self.stage == "adult" else "", "it")

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        if said.get("stage", "adult") != "adult" and not said.get("sex"):
            said["sex"] = ""  # nobody sees the sex of an egg or a larva
        return [(cls, said)]

    def refusals(self, bench: Bench) -> Iterator[str]:
        if self.code in bench.founders and self.taxon != bench.founders[self.code].taxon:
            yield (
                f"code {self.code} was used before and is never used again; choose the next free"
                f" one; what is known better of her: {self.code} is NAME, or {self.code} at"
                " Tannmoos wear fresh"
            )
        yield from _brood_code_used(bench, self.code)
        yield from _known_of_founder(bench, self)

    def refusals_of_record(self, bench: Bench) -> Iterator[str]:
        yield from _known_of_founder(bench, self)
        yield from _parent_of_that_sex(bench, self)

    def aside(self, bench: Bench) -> str:
        ended = f"permit {self.permit} had ended by then" if came_after_end(bench, self) else ""
        is_hers = self.stage == "adult" and self.sex != "male" and self.code not in bench.founders
        permits = [bench.permits[self.permit]] if self.permit in bench.permits else []
        return comma_joined(ended, past_with(bench, permits, females=int(is_hers)))

    def effect(self, bench: Bench) -> Moves:
        known = bench.founders.get(self.code)
        if known is not None:
            bench.founders[self.code] = last_said(bench, known, self)
            return []  # the same animal, whose record two laptops apart wrote anew
        bench.founders[self.code] = self
        if self.mark:
            bench.marks[self.code] = self.mark
        container = container_for(bench, self.container, self)
        her = new_lot(
            self.code, self.stage, self.at, sex=self.sex, began_before=self.stage != "adult"
        )
        return [move(bench, self, CAUGHT, her, 1, to=container)]

    def wording(self, measures: Measures) -> str:
        place, degrees, found_on, caught, by, permit = _of_catch(self)
        return comma_joined(
            f"founder {self.code}",
            self.taxon,
            self.sex,
            place,
            degrees,
            found_on if self.stage != "adult" else "",
            caught,
            by,
            self.wear,
            permit,
        )


class BroodBegun(Entry, frozen=True, kw_only=True, tag="brood"):
    """A brood gets its code: offspring of named parents, laid between two times."""

    code: Code
    taxon: Annotated[
        str, Meta(max_length=120, description="scientific name, as the keeper has it")
    ] = ""
    mothers: Annotated[
        tuple[str, ...], Meta(description="codes, comma between; one of them if several")
    ] = ()
    fathers: Annotated[
        tuple[str, ...],
        Meta(description="codes; 'wild' one that never came in; empty if mated in the wild"),
    ] = ()
    laid_from: datetime | None = None
    laid_to: datetime | None = None

    gives_code = True
    names_species = "taxon"
    changes_company = True
    slots = Slots(
        words=("code",),
        is_name=True,
        after={"of": "taxon"},
        leading={"from": "mothers", "mothers": "mothers"},
    )

    def refusals(self, bench: Bench) -> Iterator[str]:
        known = bench.broods.get(self.code)
        if known and known.mothers and self.taxon not in ("", bench.taxon_of(self.code)):
            yield (
                f"code {self.code} was used before and is never used again; choose the next free"
                f" one; if its name is known better, say it of its mother: {known.mothers[0]} is"
                " NAME"
            )
        yield from _brood_code_used(bench, self.code)
        for parent in (*self.mothers, *(father for father in self.fathers if father != WILD)):
            if parent not in bench.founders and parent not in bench.broods:
                yield f"no founder or brood is called {parent}; name parents that came in before"
        yield from impossible_parents(bench, self.mothers, self.fathers)
        if foreign := foreign_mother(bench, self):
            yield f"{foreign.partition(':')[0]}; name its own mother, or leave the taxon away"
        if self.laid_from and self.laid_to and self.laid_from > self.laid_to:
            yield "laid-from is after laid-to; the first must be the earlier"

    def effect(self, bench: Bench) -> None:
        for parent in (*self.mothers, *self.fathers):
            came_in(bench, self, parent)
        foreign = foreign_mother(bench, self)
        if foreign and not any(mother in bench.said_anew for mother in self.mothers):
            note_inconsistency(bench, self, foreign)
        known = bench.broods.setdefault(self.code, self)
        if known.at < self.at and first_id(known.id) == first_id(self.id):
            bench.broods[self.code] = _with_earlier_finds(self, known)
        elif is_written_anew(known, self):
            bench.broods[self.code] = last_said(bench, known, self)
        for container in bench.containers.values():  # eggs of it that came in before its line
            for lot in container.lots:
                if lot.brood == self.code:
                    date_as_laid(bench, lot)


class Stocked(ContainerEntry, frozen=True, kw_only=True, tag="stocked"):
    """Animals put in from outside the bench's own counts."""

    brood: Code
    stage: Stage
    number: Number
    instar: Instar = 0
    sex: Sex = ""
    origin: Words = ""
    place: Annotated[
        str, Meta(max_length=200, description="where they were taken from the wild")
    ] = ""
    country: Country = ""
    province: Province = ""
    latitude: Latitude | None = None
    longitude: Longitude | None = None
    uncertainty_m: Metres | None = None
    caught: Annotated[datetime, Meta(description="when they were taken from the wild")] | None = (
        None
    )
    collector: Annotated[str, Meta(max_length=80, description="who took them")] = ""
    permit: Annotated[str, Meta(max_length=60, description="permit number")] = ""
    found_on: Annotated[
        str, Meta(max_length=80, description="the plant they were found on in the wild")
    ] = ""
    laid_from: (
        Annotated[
            datetime, Meta(description="between when these eggs were laid, if not as their brood")
        ]
        | None
    ) = None
    laid_to: datetime | None = None

    changes_company = True
    slots = Slots(
        numbers=("number",),
        words=("brood",),
        after={"from": "origin", "at": "place", "near": "place"},
        leading=dict.fromkeys(CATCH_VERBS, "caught"),
    )

    def catch(self, taxon: str) -> FounderIntake | None:
        """Of animals taken from the wild the record of their catch, as that of a founder under the
        code of their brood; None where no line says that they were."""
        said = self.place or self.caught or self.found_on or self.permit
        if not said and self.latitude is None:
            return None
        return FounderIntake(
            taxon=taxon,
            code=self.brood,
            sex=self.sex,
            **{name: getattr(self, name) for name in OF_A_CATCH},
        )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        if said.get("stage") != "adult" and is_mother(bench, str(said.get("brood", "")), ()):
            return _young_of(bench, said, at)
        return [(cls, said)]

    def refusals(self, bench: Bench) -> Iterator[str]:
        yield from known_brood(bench, self.brood)
        yield from known_permit(bench, self.permit)
        if _is_caught_after(self):
            yield "they were caught after they came in; give the catch an earlier time"
        founder = bench.founders.get(self.brood)
        if self.stage != "adult" and founder and founder.stage == "adult":
            yield from no_mother(bench, self.brood)
        if (self.laid_from or self.laid_to) and self.stage != "egg":
            yield "only eggs are put in with the time of laying; leave laid_from and laid_to away"
        elif (self.laid_from is None) != (self.laid_to is None):
            yield "laid_from and laid_to belong together; give both"
        elif self.laid_from and self.laid_to and not self.laid_from <= self.laid_to <= self.at:
            yield "laid_from comes before laid_to, and both before they were put in"

    def _laid(self, bench: Bench) -> tuple[datetime, datetime] | None:
        """Between when these eggs were laid, as they say themselves, else as their brood does."""
        if self.laid_from and self.laid_to:
            return self.laid_from, self.laid_to
        return laid_as_said(bench, self.brood, self.at)

    def aside(self, bench: Bench) -> str:
        permits = [bench.permits[self.permit]] if self.permit in bench.permits else []
        females = self.number if self.stage == "adult" and self.sex != "male" else 0
        eggs = self.number if self.stage == "egg" else 0
        return past_with(bench, permits, females=females, eggs=eggs)

    def effect(self, bench: Bench) -> Moves:
        """Animals put in, which began their stage before; of eggs they or their brood may say
        between when they were laid."""
        container = container_for(bench, self.container, self)
        hidden_eggs_shown(bench, container, self)
        larvae_found(bench, container, self)
        self._laid_also(bench)
        if catch := self.catch(bench.taxon_of(self.brood)):
            bench.catches.setdefault(self.brood, []).append(catch)
        lot = new_lot(
            self.brood,
            self.stage,
            self.laid_to or self.at,
            instar=self.instar,
            sex=self.sex,
            began_before=self.stage != "adult" and self.laid_to is None,
            begun_after=self.laid_from,
        )
        lot.came = self.at
        date_as_laid(bench, lot)
        return [
            move(
                bench,
                self,
                PUT_IN,
                lot,
                self.number,
                to=container,
                laid=self._laid(bench),
            )
        ]

    def _laid_also(self, bench: Bench) -> None:
        """Eggs that say themselves when they were laid: their brood was laid then too."""
        brood = bench.broods.get(self.brood)
        if brood and brood.laid_from and brood.laid_to and self.laid_from and self.laid_to:
            bench.broods[self.brood] = replace(
                brood,
                laid_from=min(self.laid_from, brood.laid_from),
                laid_to=max(self.laid_to, brood.laid_to),
            )

    def wording(self, measures: Measures) -> str:
        return comma_joined(
            f"stocked {animals(self.number, self.stage, self.brood, self.instar)}",
            self.sex,
            f"from {self.origin}" if self.origin and self.origin != HIDDEN_ON_STEMS else "",
            *_of_catch(self),
            f"laid until {dated(self.laid_to, self.at)}" if self.laid_to else "",
        )


class Marked(ContainerEntry, frozen=True, kw_only=True, tag="marked"):
    """One of several got a mark, or was seen to have one: the mark names it from then on; none: it
    lost its mark."""

    brood: Annotated[
        str, Meta(min_length=1, max_length=24, description="whose mark it is: a founder's code")
    ]
    mark: Annotated[
        str,
        Meta(
            min_length=1,
            max_length=24,
            description="one word by which it is known again: red, A7; none",
        ),
    ]

    changes_company = True
    slots = Slots(words=("brood", "mark"))

    def refusals(self, bench: Bench) -> Iterator[str]:
        if self.brood not in bench.founders:
            yield (
                f"a mark is one animal's, and no founder is called {self.brood}; there"
                f" {listed(bench.founders)}"
            )
        yield from _new_mark(bench, self.mark, self.brood)

    def effect(self, bench: Bench) -> None:
        """A mark by which one is known; the newest word holds."""
        bench.marks.pop(self.brood, None)
        if self.mark.casefold() != NO_MARK:
            bench.marks[self.brood] = self.mark


def _of_catch(entry: FounderIntake | Stocked) -> tuple[str, ...]:
    """What is told of a catch: place, coordinates, plant, time, collector, permit."""
    located = entry.latitude is not None and entry.longitude is not None
    return (
        entry.place,
        f"{entry.latitude:.8g} {entry.longitude:.8g}" if located else "",
        f"found on {entry.found_on}" if entry.found_on else "",
        f"caught {beside(entry.caught, entry.at)}" if entry.caught else "",
        f"by {entry.collector}" if entry.collector else "",
        entry.permit,
    )


def _with_earlier_finds(brood: BroodBegun, known: BroodBegun) -> BroodBegun:
    """A brood with the eggs of it that were found before its line, on record later."""
    spans = [(one.laid_from, one.laid_to) for one in (known, brood)]
    return replace(
        brood,
        laid_from=min((since for since, _ in spans if since), default=None),
        laid_to=max((until for _, until in spans if until), default=None),
    )


def is_instar(code: str) -> bool:
    """Whether it names an instar, and so no animals: a count of it would be read as one of
    these."""
    return INSTAR.match(code) is not None


def _brood_code_used(bench: Bench, code: str) -> Iterator[str]:
    if code.casefold() == WILD:
        yield f"{code} means a male from the wild that never came in; choose another code"
    if code in bench.founders or code in bench.broods:
        yield f"code {code} was used before and is never used again; choose the next free one"
    if is_instar(code):
        yield f"{code} is an instar; animals need a name that no instar has"
    alike = alike_in(code, bench.containers) or alike_in(code, bench.closed)
    if alike:
        yield f"{alike} is a container; animals need a name that no container has"
    yield from new_code(code, "brood")
    several = names_of(code, ())
    if code.casefold() == f"{several[0]}-{several[-1]}".casefold():  # W26-30 is one code, of a year
        yield (
            f"{code} are {len(several)} codes, and a line brings in one: say {several[0]}; for the"
            " next, 'same again'"
        )


def _is_caught_after(entry: FounderIntake | Stocked) -> bool:
    return entry.caught is not None and is_after(entry.caught, entry.at)


def _known_of_founder(bench: Bench, entry: FounderIntake) -> Iterator[str]:
    if _is_caught_after(entry):
        one = entry.he_or_she
        yield f"{one} was caught after {one} came in; give the catch an earlier time"
    if entry.taxon != entry.code and entry.taxon in bench.founders:
        called = bench.founders[entry.taxon].taxon
        yield f"{entry.taxon} is a founder's code, no species; as: {entry.code} is {called}"
    yield from known_permit(bench, entry.permit)
    yield from _new_mark(bench, entry.mark, entry.code)


def _parent_of_that_sex(bench: Bench, entry: FounderIntake) -> Iterator[str]:
    """A male that eggs on record are of, or a female that is their father."""
    code = entry.code
    if entry.sex == "male":
        laid = [brood for brood in bench.broods.values() if code in brood.mothers]
        for brood in laid:
            others = [mother for mother in brood.mothers if mother != code] or [
                one
                for one in bench.founders
                if one != code and bench.sex_of(one) == "female"
                if bench.taxon_of(one) == entry.taxon
            ]
            first = (
                f"whose are they? First, as: {brood.code} is of {', '.join(others)}"
                if others
                else "cross out the line of their find first, in the daybook"
            )
            yield f"{code} is the mother of {brood.code} on record; {first}"
    if entry.sex == "female":
        sired = [brood.code for brood in bench.broods.values() if code in brood.fathers]
        if sired:
            yield (
                f"{code} is the father of {' and '.join(sired)} on record; cross out the line that"
                " says so first, in the daybook"
            )


def _is_a_word(mark: str) -> bool:
    return not (any(sign.isspace() or sign in ",=\"'" for sign in mark) or mark.isdecimal())


def _means_something(mark: str) -> bool:
    word = mark.casefold()
    return word in _MEAN_SOMETHING or any(word == kind.__struct_config__.tag for kind in kinds())


def names_by_mark(mark: str) -> bool:
    """Whether a mark names its animal in a line; one of a book of others may be a number or a
    word of the line."""
    return _is_a_word(mark) and not _means_something(mark)


def _new_mark(bench: Bench, mark: str, code: str) -> Iterator[str]:
    """A mark is one word that means nothing else in a line, and no other's that is here."""
    if mark.casefold() in ("", NO_MARK):
        return
    if not _is_a_word(mark):
        yield f"'{mark}' cannot be a mark; give one word, as red or A7"
    if _means_something(mark) or alike_in(
        mark, (*standing_codes(bench), *bench.founders, *bench.broods)
    ):
        yield f"'{mark}' means something else in a line; give the mark another word, as red or A7"
    other = bench.marked(mark)
    if other not in ("", code) and any(
        other in lot.codes for container in bench.standing() for lot in container.lots
    ):
        yield f"{mark} is the mark of {other}; give another"


def hidden_eggs_shown(bench: Bench, container: Container, entry: Stocked) -> None:
    """Hidden eggs were missed by every search of their stems; frass of a lot not known has its
    larvae now."""
    lots = hidden_on(bench, container, entry)
    _hatched_on(bench, lots, entry)
    larvae_found_on(container, lots)


def larvae_found(bench: Bench, container: Container, entry: Stocked) -> None:
    """Young larvae put on record where stems of their mothers showed frass are those that it told
    of."""
    brood = bench.broods.get(entry.brood)
    if entry.stage == "larva" and brood:
        theirs = [held for held in container.held if set(held.mothers) & set(brood.mothers)]
        _hatched_on(bench, [held for held in theirs if held.frass in SHOWN], entry)
        larvae_found_on(container, theirs)


def _hatched_on(bench: Bench, lots: list[KeptLot], entry: Stocked) -> None:
    if len(lots) == 1:
        learn_missed(bench, lots[0], entry.number)
    hidden_hatched(lots, entry.number, entry.at)


def _young_of(
    bench: Bench, said: dict[str, Any], at: datetime
) -> list[tuple[type[Entry], dict[str, Any]]]:
    """Young animals of a female that is named are of her newest brood, else of a new one."""
    mothers = (str(said["brood"]),)
    known = [code for code, brood in bench.broods.items() if brood.mothers == mothers]
    if known:
        return [(Stocked, said | {"brood": known[-1]})]
    code, fathers = next_brood_code(bench, mothers), possible_fathers(bench, mothers, until=at)
    begun = {
        "code": code,
        "taxon": brood_taxon(bench, mothers),
        "mothers": mothers,
        "fathers": fathers.codes,
    }
    return [(BroodBegun, begun), (Stocked, said | {"brood": code})]
