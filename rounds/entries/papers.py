"""Entries about the work itself: rounds, permits, plan, settings, corrections."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from msgspec import Meta, field

from rounds.entries.base import MAXIMUM_COUNT, Code, Count, Entry, Hours, Kept, Purpose, Stage
from rounds.entries.slots import Slots

# Values of the Establishment Means vocabulary, TDWG 2025, http://rs.tdwg.org/dwcem/
Establishment = Literal["", "native", "nativeEndemic", "nativeReintroduced", "introduced", "introducedAssistedColonisation",
                        "vagrant", "uncertain"]  # fmt: skip


class RoundStarted(Entry, frozen=True, kw_only=True, tag="round started"):
    """One walk along the bench begins; its name goes with every entry said in it."""

    name: Annotated[str, Meta(min_length=1, max_length=20, description="morning, midday, evening")]

    slots = Slots(words=("name",))


class StopSkipped(Entry, frozen=True, kw_only=True, tag="skipped"):
    """A stop, or one check of it, passed over, with the reason; it comes back."""

    why: Annotated[str, Meta(min_length=1, max_length=200, description="no light, asleep, not touched, no time")]
    container: str = ""
    shelf: str = ""
    check: Annotated[str, Meta(max_length=40, description="which check; all of them where not given")] = ""

    slots = Slots(words=("why",), verbs=("skip",))


class RoundFinished(Entry, frozen=True, kw_only=True, tag="round finished"):
    """The walk is done."""


class Permit(Entry, frozen=True, kw_only=True, tag="permit"):
    """A permit and its limits, as its paper says."""

    number: Code
    holder: str = ""
    body: Annotated[str, Meta(max_length=120, description="who issued it")] = ""
    taxon: str = ""
    females: Count | None = None
    eggs: Annotated[int, Meta(ge=0, le=MAXIMUM_COUNT, description="how many eggs may be taken")] | None = None
    eggs_kept: Annotated[int, Meta(ge=0, le=MAXIMUM_COUNT, description="how many may be kept; the rest is to be released")] | None = (
        None
    )
    hold_hours: Hours | None = None
    expires: Annotated[datetime, Meta(description="its last day, or the hour at which it ends")] | None = None
    closed: Annotated[bool, Meta(description="ended or given back: it says nothing more")] | None = None

    slots = Slots(
        words=("number",), after={"by": "body", "from": "body", "for": "taxon", "to": "holder"}, leading={"expires": "expires"}
    )


class Taxon(Entry, frozen=True, kw_only=True, tag="taxon"):
    """What the keeper holds true of a species: said once, every container that holds it knows."""

    name: Annotated[str, Meta(min_length=1, max_length=120, description="scientific name")]
    short: Annotated[str, Meta(max_length=16, description="short name for the bench line")] = ""
    family: str = ""
    instars: Annotated[int, Meta(ge=3, le=12, description="usual number of instars")] = 5
    overwinters_as: Literal["", "egg", "larva", "pupa", "adult"] = ""
    protected: Annotated[bool, Meta(description="its places are not to be shown exactly")] = False
    grid_degrees: Annotated[float, Meta(gt=0, le=10, description="grid of its places in what leaves the bench, degrees")] = 0.1
    establishment: Annotated[Establishment, Meta(description="how it came to live here, in Darwin Core's words")] = ""
    stinging: Annotated[bool, Meta(description="hairs or spines that sting")] = False
    cannibalistic: Annotated[bool, Meta(description="larvae eat each other")] = field(name="eats_its_own", default=False)
    gregarious: Annotated[bool, Meta(description="young larvae live together")] = False
    no_adult_food: Annotated[bool, Meta(description="adults take no food")] = False
    night_fed: Annotated[bool, Meta(description="adults are fed from dusk on")] = False
    lays_without_plant: Annotated[bool, Meta(description="females lay without a plant")] = False

    slots = Slots(numbers=("instars",), words=("name",), is_name=True)


class ThermalConstants(Entry, frozen=True, kw_only=True, tag="constants"):
    """How much warmth a stage needs: lower threshold and degree-days, from a paper or own trials; goes before what ships."""

    taxon: Annotated[str, Meta(min_length=1, max_length=120, description="scientific name")]
    stage: Annotated[
        Literal["egg", "larva", "pupa", "L1", "L2", "L3", "L4", "L5", "L6", "L7"], Meta(description="which stage or instar")
    ]
    lower_c: Annotated[float, Meta(ge=-10, le=30, description="no development below, C")]
    constant_dd: Annotated[float, Meta(gt=0, le=20_000, description="degree-days from begin to end of the stage")]
    source: Annotated[str, Meta(max_length=200, description="who says so")] = ""

    slots = Slots(words=("taxon",), is_name=True)


class PlantKnown(Entry, frozen=True, kw_only=True, tag="plant"):
    """What the keeper holds true of a host plant: how long it keeps, by how it is kept."""

    name: Annotated[str, Meta(min_length=1, max_length=80, description="which plant")]
    kept: Kept
    hours: Hours
    irritant: Annotated[bool, Meta(description="sap or hairs that irritate: gloves")] = False

    slots = Slots(numbers=("hours",), words=("name",), is_name=True)


class PlanChanged(Entry, frozen=True, kw_only=True, tag="plan"):
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

    slots = Slots(words=("check",))


class Setting(Entry, frozen=True, kw_only=True, tag="setting"):
    """A setting of the book."""

    name: Code
    value: Annotated[str, Meta(max_length=200, description="its value")]


class Struck(Entry, frozen=True, kw_only=True, tag="struck"):
    """An earlier line no longer counts; the original stays. Striking a strike brings the line back."""

    entry: Code
    why: Annotated[str, Meta(max_length=200, description="why")] = ""

    slots = Slots(words=("entry",), verbs=("strike",))
