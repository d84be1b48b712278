"""What the keeper holds true: permits, species, plants, the plan and settings."""

from collections.abc import Iterator
from datetime import datetime
from itertools import pairwise
from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta, field

from rounds import late
from rounds.bench.entry_ids import time_of_id
from rounds.bench.measures import Measures
from rounds.bench.state import Bench
from rounds.bench.taxon_names import full_name
from rounds.entries.base import (
    MAXIMUM_COUNT,
    Code,
    Count,
    Hours,
    Kept,
    Purpose,
    Saying,
    Stage,
)
from rounds.entries.check_labels import called, label_of, named_check
from rounds.entries.names import known_species, species_named
from rounds.entries.piecewise import Piecewise, SaidWhole, fields_typed, typed
from rounds.entries.schema import typed_name
from rounds.entries.slots import Slots, listed
from rounds.entries.wording import comma_joined

PERMIT_VALUES = listed("holder body taxon females eggs eggs_kept hold_hours expires closed")
PLAN_VALUES = ("every_h", "amber_h", "red_h", "harm_h", "off")
# How settings begin that each keeper has otherwise, or that the tool keeps for itself.
OF_ONE_SCREEN = ("theme", "text", "hand", "bell", "photos", "search aid", "key.", "offer.")
# Values of the Establishment Means vocabulary, TDWG 2025, http://rs.tdwg.org/dwcem/
Establishment = Literal[
    "",
    "native",
    "nativeEndemic",
    "nativeReintroduced",
    "introduced",
    "introducedAssistedColonisation",
    "vagrant",
    "uncertain",
]


class Permit(Piecewise, frozen=True, kw_only=True, tag="permit"):
    """A permit and its limits, as its paper says."""

    number: Code
    holder: str = ""
    body: Annotated[str, Meta(max_length=120, description="who issued it")] = ""
    taxon: str = ""
    females: Count | None = None
    eggs: (
        Annotated[int, Meta(ge=0, le=MAXIMUM_COUNT, description="how many eggs may be taken")]
        | None
    ) = None
    eggs_kept: (
        Annotated[
            int,
            Meta(
                ge=0,
                le=MAXIMUM_COUNT,
                description="how many may be kept; the rest is to be released",
            ),
        ]
        | None
    ) = None
    hold_hours: Hours | None = None
    expires: (
        Annotated[datetime, Meta(description="its last day, or the hour at which it ends")] | None
    ) = None
    closed: (
        Annotated[bool, Meta(description="ended or given back: it says nothing more")] | None
    ) = None
    sure: Annotated[bool, Meta(description="of another species than was recorded before")] = False

    beside_it = frozenset({"why", "sure"})
    limiting = frozenset({"females", "eggs", "eggs_kept", "hold_hours", "expires"})
    names_species = "taxon"
    slots = Slots(
        words=("number",),
        is_name=True,
        after={"by": "body", "from": "body", "for": "taxon", "to": "holder"},
        leading=dict.fromkeys(
            listed(
                "expires, expires on, expiring, until, valid until, valid to, ends, ends on",
                by=", ",
            ),
            "expires",
        ),
    )

    def refusals(self, bench: Bench) -> Iterator[str]:
        several = self.number.replace(",", " ").split()
        if not any(map(str.isalnum, self.number)):
            yield f"which number has the permit? '{self.number}' is none, as: permit 24-118"
        elif "," in self.number or (len(several) > 1 and set(several) <= bench.permits.keys()):
            yield f"one permit a line, as: permit {several[0]} expires 8 Oct"
        begun, note, text = self.number.partition(" note ")
        if note and begun in bench.permits and self.number not in bench.permits:
            yield f"a note is a line of its own, as: note {begun}: {text}"
        if self.number in known_species(bench) and self.number not in bench.permits:
            yield (
                f"which number has the permit? {self.number} is a species, as: permit 24-118 for"
                f" {self.number}"
            )
        # of two names in quotes the second is read as words of the number
        number, joined, behind = self.number.partition(" and ")
        if told := several_species(bench, number, f"{self.taxon}{joined}{behind}"):
            yield told
        yield from self._another_species(bench)

    def _another_species(self, bench: Bench) -> Iterator[str]:
        """A permit's species is not replaced by another unasked; of two that two laptops said, one
        is."""
        before, said = bench.permits.get(self.number), self.said_on(bench).get("taxon")
        if self.sure or not (before and before.taxon and self.taxon) or (said and said.other):
            return
        taxa = list(bench.taxa.values())
        if full_name(before.taxon, taxa) != full_name(self.taxon, taxa):
            yield (
                f"permit {self.number} is for {before.taxon}; another species counts under a number"
                f" of its own, as: permit {_part(self.number, 'b')} for {self.taxon} (the return"
                f" joins both); if {before.taxon} was wrong, add 'sure'"
            )

    @property
    def of_what(self) -> str:
        return f"permit {typed(self.number)}"

    def effect(self, bench: Bench) -> None:
        """A permit; said again, the newer words hold, and what was not said again stays: no limit
        is lost by a correction. Of two limits said apart the lower holds."""
        before = bench.permits.get(self.number)
        self.note(bench, before)
        unsaid = [name for name in PERMIT_VALUES if getattr(self, name) in ("", None)]
        whole = self.with_unsaid(before, unsaid)
        bench.permits[self.number] = whole.with_the_careful(bench, before)


_BETWEEN_SPECIES = late.pattern(r"\s*(?:[;/&+,]\s*(?:and\s+)?|\s(?:and|or)\s)\s*")
_SPECIES = late.pattern(r"^[A-Z][a-z]*\.? [a-z][a-z-]+(?: [a-z][a-z-]+)?$")


def is_species(bench: Bench, name: str) -> bool:
    """Whether it has the form of a genus, also shortened, and an epithet, or the book knows it."""
    return _SPECIES.match(name) is not None or bool(species_named(bench, name))


def several_species(bench: Bench, number: str, taxon: str) -> str:
    """How a permit of several species is said: each with a number of its own, where its limits
    count by species, else without any; empty where it names one."""
    names = [name for name in _BETWEEN_SPECIES.split(taxon) if name]
    if len(names) < 2 or not all(is_species(bench, name) for name in names):
        return ""
    lines = (
        f"permit {_part(number, letter)} for {name}"
        for letter, name in zip("abcdefghijklmnopqrstuvwxyz", names, strict=False)
    )
    return (
        f"one species a permit line, each with its own limits, as: {'; then '.join(lines)}; or with"
        f" limits for all together no species is named, as: permit {typed(number)} females 5"
    )


def _part(number: str, letter: str) -> str:
    """The number of one species of a permit, as it is typed."""
    return typed(f"{number}{letter}")


FINEST_GRID = 0.1  # degrees, some 11 km: a cell that gives no place away; our choice


class Taxon(Piecewise, frozen=True, kw_only=True, tag="taxon"):
    """What the keeper holds true of a species, recorded once for every container of it."""

    name: Annotated[str, Meta(min_length=1, max_length=120, description="scientific name")]
    short: Annotated[str, Meta(max_length=16, description="short name for the bench line")] = ""
    family: str = ""
    instars: Annotated[int, Meta(ge=3, le=12, description="usual number of instars")] = 5
    overwinters_as: Literal["", "egg", "larva", "pupa", "adult"] = ""
    rests_in_summer_as: Literal["", "egg", "larva", "pupa", "adult"] = ""
    protected: Annotated[bool, Meta(description="its places are not to be shown exactly")] = False
    grid_degrees: Annotated[
        float, Meta(gt=0, le=10, description="grid of its places in what leaves the bench, degrees")
    ] = FINEST_GRID  # lines from before may say a finer one, which leaves as this
    establishment: Annotated[
        Establishment, Meta(description="how it came to live here, in Darwin Core's words")
    ] = ""
    stinging: Annotated[bool, Meta(description="hairs or spines that sting")] = False
    cannibalistic: Annotated[bool, Meta(description="larvae eat each other")] = field(
        name="eats_its_own", default=False
    )
    gregarious: Annotated[bool, Meta(description="young larvae live together")] = False
    no_adult_food: Annotated[bool, Meta(description="adults take no food")] = False
    night_fed: Annotated[bool, Meta(description="adults are fed from dusk on")] = False
    lays_without_plant: Annotated[bool, Meta(description="females lay without a plant")] = False

    names_species = "name"
    guarding = frozenset({"protected", "grid_degrees", "stinging", "cannibalistic"})
    slots = Slots(numbers=("instars",), words=("name",), is_name=True)

    @property
    def of_what(self) -> str:
        return f"taxon {typed(self.name)}"

    def refusals(self, bench: Bench) -> Iterator[str]:
        """A grid so fine that it would give the place away."""
        if self.grid_degrees < FINEST_GRID and "grid_degrees" in dict(self.says):
            yield (
                f"a grid of {self.grid_degrees:g} degrees gives a protected place away; give"
                f" {FINEST_GRID:g} or more (an export with --exact-localities holds exact places)"
            )

    def rests_as(self, stage: str) -> str:
        """When it rests in a stage, whatever the warmth: in winter, in summer; empty where not."""
        if not stage:
            return ""
        winters, rests = self.overwinters_as == stage, self.rests_in_summer_as == stage
        return " and ".join(
            filter(None, ("in winter" if winters else "", "in summer" if rests else ""))
        )

    def effect(self, bench: Bench) -> None:
        bench.taxa[self.name] = self.noted(bench, bench.taxa.get(self.name))


class ThermalConstants(SaidWhole, frozen=True, kw_only=True, tag="constants"):
    """How much warmth a stage needs: lower threshold and degree-days, from a paper or own trials;
    replaces the built-in one."""

    taxon: Annotated[str, Meta(min_length=1, max_length=120, description="scientific name")]
    stage: Annotated[
        Literal[
            "egg",
            "larva",
            "pupa",
            "L1",
            "L2",
            "L3",
            "L4",
            "L5",
            "L6",
            "L7",
            "egg to adult",
            "larva and pupa",
        ],
        Meta(description="which stage or instar, or several together"),
    ]
    lower_c: Annotated[float, Meta(ge=-10, le=30, description="no development below, C")]
    constant_dd: Annotated[
        float, Meta(gt=0, le=20_000, description="degree-days from begin to end of it")
    ]
    source: Annotated[str, Meta(max_length=200, description="who says so")] = ""
    upper_c: (
        Annotated[float, Meta(ge=0, le=60, description="above it no faster, or slower, C")] | None
    ) = None
    cutoff: Annotated[
        Literal["horizontal", "intermediate", "vertical"],
        Meta(description="what warmth above it does: as much as there, less and less, nothing"),
    ] = "horizontal"

    names_species = "taxon"
    slots = Slots(words=("taxon",), is_name=True)

    def refusals(self, bench: Bench) -> Iterator[str]:
        """An upper threshold that is none."""
        if self.upper_c is not None and self.upper_c <= self.lower_c:
            yield (
                f"upper threshold {self.upper_c:g} C is not above the lower {self.lower_c:g} C;"
                " raise it"
            )

    @property
    def value(self) -> str:
        return fields_typed(self, ("lower_c", "constant_dd", "upper_c", "cutoff", "source"))

    @property
    def of_what(self) -> str:
        return f"constants {typed(self.taxon)} stage={typed(self.stage)}"

    def effect(self, bench: Bench) -> None:
        """How much warmth a stage of a species needs, as the keeper holds it."""
        self.note(bench)
        bench.constants.setdefault(self.taxon, {})[self.stage] = self


class PlantKnown(Piecewise, frozen=True, kw_only=True, tag="plant"):
    """What the keeper holds true of a host plant: how long it keeps, by how it is kept."""

    name: Annotated[str, Meta(min_length=1, max_length=80, description="which plant")]
    kept: Kept
    hours: Hours
    irritant: Annotated[bool, Meta(description="sap or hairs that irritate: gloves")] = False
    why: Annotated[str, Meta(max_length=200, description="on what that rests")] = ""

    names_plant = "name"
    slots = Slots(numbers=("hours",), words=("name",), is_name=True)

    @property
    def of_what(self) -> str:
        return f"plant {typed(self.name)} {self.kept}"

    def effect(self, bench: Bench) -> None:
        known = bench.plants.setdefault(self.name, {})
        known[self.kept] = self.noted(bench, known.get(self.kept))


class PlanChanged(Piecewise, frozen=True, kw_only=True, tag="plan"):
    """A rule of the care plan changed: for the whole book, one purpose, or one container."""

    check: Code
    container: str = ""
    purpose: Purpose | None = None
    stage: Stage | None = None
    every_h: Hours | None = None
    amber_h: Hours | None = None
    red_h: Hours | None = None
    harm_h: Hours | None = None
    off: bool | None = None
    why: str = ""

    of_now = True
    slots = Slots(words=("check",))

    @property
    def of_what(self) -> str:
        scope = (("container", self.container), ("purpose", self.purpose), ("stage", self.stage))
        return " ".join(
            (f"plan {self.check}", *(f"{name}={typed(one)}" for name, one in scope if one))
        )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        return [(cls, said | named_check(said))]

    def refusals(self, bench: Bench) -> Iterator[str]:
        hours = (("amber_h", self.amber_h), ("red_h", self.red_h), ("harm_h", self.harm_h))
        given = [(typed_name(name), value) for name, value in hours if value is not None]
        for (name, value), (later_name, later) in pairwise(given):
            if value > later:
                yield (
                    f"{name}={value:g} is above {later_name}={later:g}; late comes before urgent,"
                    " urgent before in danger"
                )

    def effect(self, bench: Bench) -> None:
        """A rule changed; what was not said again for the same scope stays as it was said
        before."""
        before = next((one for one in bench.plan if one.of_what == self.of_what), None)
        self.note(bench, before)
        unsaid = [name for name in PLAN_VALUES if getattr(self, name) is None]
        bench.plan = [one for one in bench.plan if one is not before]
        bench.plan.append(self.with_unsaid(before, unsaid))

    def wording(self, measures: Measures) -> str:
        hours = (
            ("every", self.every_h),
            ("late after", self.amber_h),
            ("urgent after", self.red_h),
            ("in danger after", self.harm_h),
        )
        texts = [f"{name} {value:g} h" for name, value in hours if value is not None]
        switched = "" if self.off is None else ("switched off" if self.off else "switched on")
        return comma_joined(
            f"plan: {label_of(self.check)}",
            called(self.purpose or ""),
            self.stage,
            *texts,
            switched,
            self.why,
        )


class Setting(Piecewise, frozen=True, kw_only=True, tag="setting"):
    """A setting of the book."""

    name: Code
    value: Annotated[str, Meta(max_length=200, description="its value")]

    @property
    def of_what(self) -> str:
        return f"setting {self.name}"

    def effect(self, bench: Bench) -> None:
        before = bench.settings.get(self.name)
        if not self.name.startswith(OF_ONE_SCREEN):
            known = None if before is None else msgspec.structs.replace(self, value=before)
            said = msgspec.structs.replace(self, says=()) if self._begins_book(bench) else self
            said.note(bench, known)
        bench.settings[self.name] = self.value

    def _begins_book(self, bench: Bench) -> bool:
        """Whether it is the zone of a book's first line, which in books from before the machine's
        stands in front of, of the same moment and unknown to it."""
        last = self.said_on(bench).get("value")
        if self.name != "zone" or last is None or self.at != self.logged:
            return False
        made, made_before = time_of_id(self.id), time_of_id(last.line)
        return made is not None and made_before is not None and 0 <= made - made_before <= 1

    def wording(self, measures: Measures) -> str:
        return f"setting {self.name}: {self.value}"
