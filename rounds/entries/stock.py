"""Entries about animals: where they come from, where they go, and what becomes of them."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from msgspec import Meta

from rounds.entries.base import (
    Code,
    Count,
    Entry,
    Here,
    Instar,
    Latitude,
    Longitude,
    Metres,
    Number,
    Sex,
    Stage,
    Words,
)
from rounds.entries.slots import SAME_AGAIN, Slots, each, say

BroodCode = Annotated[str, Meta(max_length=24, description="which brood; needed where several share the container")]
Which = Annotated[
    Literal["", "not known", "unmarked"],
    Meta(description="not known: nobody knows which of those that it can have been; unmarked: one of those without a mark"),
]
Whose = Annotated[
    Literal["", "missing", "others"],
    Meta(description="missing: of those that were not seen; others: of those that were"),
]
Mark = Annotated[str, Meta(max_length=24, description="one word by which it is known again: red, A7")]
Among = Annotated[tuple[str, ...], Meta(description="founders or broods one of which it was, nobody knows which: W2,W3,W4")]
Voucher = Annotated[str, Meta(max_length=60, description="specimen number")]
Depository = Annotated[str, Meta(max_length=120, description="where it is kept")]
Seen = Annotated[Literal["seen", "inferred"], Meta(description="seen, or inferred from shells, droppings or nibbling")]
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
    "unknown",
]


class FounderIntake(Here, frozen=True, kw_only=True, tag="founder"):
    """A wild-caught animal comes in; its code is never used again."""

    code: Code
    taxon: Annotated[str, Meta(max_length=120, description="scientific name, as the keeper has it")]
    place: Annotated[str, Meta(max_length=200, description="where it was caught")] = ""
    latitude: Latitude | None = None
    longitude: Longitude | None = None
    uncertainty_m: Metres | None = None
    caught: Annotated[datetime, Meta(description="when it was caught")] | None = None
    collector: Annotated[str, Meta(max_length=80, description="who caught it")] = ""
    stage: Stage = "adult"
    sex: Sex = "female"
    wear: Literal["", "fresh", "slight", "worn", "very worn"] = ""
    inspected: Annotated[Literal["", "none seen", "found", "not looked"], Meta(description="egg parasitoids riding on her")] = ""
    permit: Annotated[str, Meta(max_length=60, description="permit number")] = ""
    found_on: Annotated[str, Meta(max_length=80, description="the plant it was found on in the wild, egg or larva")] = ""
    mark: Mark = ""

    slots = Slots(
        words=("code", "taxon"),
        is_name=True,
        after={"at": "place", "from": "place", "near": "place", "in": "place", "on": "found_on", "by": "collector"},
        leading={"caught": "caught"},
        synonyms=say("same again, same, another, one more", taxon=SAME_AGAIN),
    )

    @property
    def he_or_she(self) -> str:
        """The word for it: of one that came in young, or whose sex nobody knows, it."""
        return {"male": "he", "female": "she"}.get(self.sex if self.stage == "adult" else "", "it")


class Marked(Here, frozen=True, kw_only=True, tag="marked"):
    """One of several got a mark, or was seen to have one: the mark names it from then on; none: it lost its mark."""

    brood: Annotated[str, Meta(min_length=1, max_length=24, description="whose mark it is: a founder's code")]
    mark: Annotated[str, Meta(min_length=1, max_length=24, description="one word by which it is known again: red, A7; none")]

    slots = Slots(words=("brood", "mark"))


class BroodBegun(Entry, frozen=True, kw_only=True, tag="brood"):
    """A brood gets its code: offspring of named parents, laid between two times."""

    code: Code
    taxon: Annotated[str, Meta(max_length=120, description="scientific name, as the keeper has it")] = ""
    mothers: Annotated[tuple[str, ...], Meta(description="codes, comma between; one of them where several")] = ()
    fathers: Annotated[tuple[str, ...], Meta(description="codes; 'wild' one that never came in; empty where mated in the wild")] = ()
    laid_from: datetime | None = None
    laid_to: datetime | None = None

    slots = Slots(words=("code",), is_name=True, after={"of": "taxon"}, leading={"from": "mothers", "mothers": "mothers"})


# The origin of eggs laid here that nobody found before they hatched on kept stems; the tool's own words, no place.
HIDDEN_ON_STEMS = "hidden on held sprigs"


class Stocked(Here, frozen=True, kw_only=True, tag="stocked"):
    """Animals put in from outside the bench's own counts."""

    brood: Code
    stage: Stage
    number: Number
    instar: Instar = 0
    sex: Sex = ""
    origin: Words = ""

    slots = Slots(numbers=("number",), words=("brood",), after={"from": "origin"})


class Moved(Here, frozen=True, kw_only=True, tag="moved"):
    """Animals go from one container to another; fewer arriving than leaving opens a shortfall."""

    to: Code
    number: Number
    brood: BroodCode = ""
    stage: Stage | None = None
    instar: Instar | None = None
    sex: Sex | None = None
    arrived: Annotated[int, Meta(ge=0, description="how many were found in the new place")] | None = None
    which: Which = ""
    among: Among = ()

    slots = Slots(numbers=("number", "arrived"), leading={"to": "to", "arrived": "arrived"}, synonyms=say("move, moved out"))


class Split(Here, frozen=True, kw_only=True, tag="split"):
    """One lot becomes several: codes and numbers in the same order."""

    into: Annotated[tuple[str, ...], Meta(min_length=1, description="containers, comma between")]
    numbers: Annotated[tuple[int, ...], Meta(min_length=1, description="how many into each, comma between")]
    brood: BroodCode = ""
    stage: Stage | None = None
    missing: Annotated[int, Meta(ge=0, description="not found while splitting")] = 0
    instar: Instar | None = None
    sex: Sex | None = None
    which: Which = ""
    among: Among = ()

    slots = Slots(leading={"into": "into"})


class Merged(Here, frozen=True, kw_only=True, tag="merged"):
    """Everything in other containers comes into this one."""

    sources: Annotated[tuple[str, ...], Meta(min_length=1, description="containers, comma between")]
    number: Annotated[int, Meta(ge=0, description="how many arrived; all where not given")] | None = None

    slots = Slots(numbers=("number",), leading={"from": "sources"})


class Counted(Here, frozen=True, kw_only=True, tag="counted"):
    """A count; fewer than the book says opens a shortfall until it is settled."""

    number: Count
    brood: BroodCode = ""
    stage: Stage | None = None
    instar: Instar | None = None
    method: Literal["exact", "estimate", "photo"] = "exact"

    slots = Slots(
        numbers=("number",),
        idle=each("here left there"),
        synonyms=(
            say("count")
            | say("all there, all here", number="all")
            | say("larvae, larva, caterpillars, caterpillar", stage="larva")
            | say("pupae, pupa", stage="pupa")
            | say("adults, adult", stage="adult")
        ),
    )


class Settled(Here, frozen=True, kw_only=True, tag="settled"):
    """What became of animals that were not seen."""

    fate: Literal["found", "dead", "escaped", "taken", "given up"]
    number: Number
    brood: BroodCode = ""
    stage: Stage | None = None
    cause: Cause = ""

    slots = Slots(numbers=("number",), short={"died": "dead", "found dead": "dead", "not found": "given up", "lost": "given up"})


class Hatched(Here, frozen=True, kw_only=True, tag="hatched"):
    """Eggs become first-instar larvae."""

    number: Number
    brood: BroodCode = ""
    evidence: Seen = "seen"
    which: Which = ""
    among: Among = ()

    slots = Slots(numbers=("number",), idle=each("egg eggs larva larvae"), synonyms=say("hatch"))


class Weighed(Here, frozen=True, kw_only=True, tag="weighed"):
    """Weighed: the mass of all that lay on the scale together."""

    mass_mg: Annotated[float, Meta(gt=0, le=1_000_000, description="mg")]
    number: Number = 1
    brood: BroodCode = ""
    stage: Stage | None = None

    slots = Slots(numbers=("mass_mg",))


class Moulted(Here, frozen=True, kw_only=True, tag="moulted"):
    """Larvae reach an instar."""

    number: Number
    instar: Annotated[int, Meta(ge=2, le=12, description="the instar they are in now")]
    brood: BroodCode = ""
    evidence: Seen = "seen"
    which: Which = ""
    among: Among = ()

    slots = Slots(numbers=("number",), idle=each("caterpillars larva larvae"), synonyms=say("moult, molted, molt"))


class Pupated(Here, frozen=True, kw_only=True, tag="pupated"):
    """Larvae become pupae."""

    number: Number
    brood: BroodCode = ""
    evidence: Seen = "seen"
    which: Which = ""
    among: Among = ()

    slots = Slots(numbers=("number",), idle=each("caterpillars larva larvae"))


class Emerged(Here, frozen=True, kw_only=True, tag="emerged"):
    """Pupae become adults."""

    number: Number
    brood: BroodCode = ""
    sex: Sex = ""
    evidence: Seen = "seen"
    crippled: Annotated[int, Meta(ge=0, description="how many with wings that failed")] = 0
    which: Which = ""
    among: Among = ()

    slots = Slots(numbers=("number",), idle=each("adult adults pupa pupae"), verbs=("eclosed",), synonyms=say("emerge, eclose"))


class Sexed(Here, frozen=True, kw_only=True, tag="sexed"):
    """The sex of some that stand here is known now: of adults that emerged unseen, or of young ones where the stage is said."""

    number: Number
    sex: Annotated[Literal["female", "male"], Meta(description="what they are")]
    brood: BroodCode = ""
    stage: Stage | None = None

    slots = Slots(numbers=("number",))


class Died(Here, frozen=True, kw_only=True, tag="died"):
    """Found dead."""

    number: Number
    cause: Cause = ""
    brood: BroodCode = ""
    stage: Stage | None = None
    instar: Instar | None = None
    sex: Sex | None = None
    which: Which = ""
    among: Among = ()
    whose: Whose = ""
    voucher: Voucher = ""
    depository: Depository = ""

    slots = Slots(
        numbers=("number",),
        short={"accident": "injury", "killed": "injury", "killed by keeper": "injury", "crushed": "injury"},
        verbs=("found dead",),
        synonyms=(
            say("collapsed, collapse", cause="collapsed")
            | say("drowned", cause="drowned")
            | say("starved", cause="starved")
            | say("dead, death")
        ),
    )


class Escaped(Here, frozen=True, kw_only=True, tag="escaped"):
    """Known to have got out."""

    number: Number
    brood: BroodCode = ""
    stage: Stage | None = None
    instar: Instar | None = None
    sex: Sex | None = None
    which: Which = ""
    among: Among = ()
    whose: Whose = ""

    slots = Slots(numbers=("number",))


class Missing(Here, frozen=True, kw_only=True, tag="missing"):
    """Not found, fate unknown: a shortfall until settled."""

    number: Number
    brood: BroodCode = ""
    stage: Stage | None = None
    instar: Instar | None = None
    sex: Sex | None = None
    which: Which = ""
    among: Among = ()

    slots = Slots(numbers=("number",))


class Released(Here, frozen=True, kw_only=True, tag="released"):
    """Let go, with the place."""

    number: Number
    place: Annotated[str, Meta(max_length=200, description="where; her own source site stands on her line")] = ""
    brood: BroodCode = ""
    stage: Stage | None = None
    sex: Sex | None = None
    which: Which = ""
    among: Among = ()

    slots = Slots(
        numbers=("number",),
        words=("place",),
        after={"at": "place", "in": "place", "near": "place", "on": "place", "by": "place"},
        synonyms=say("freed, let go, set free, let out, release"),
    )


class Preserved(Here, frozen=True, kw_only=True, tag="preserved"):
    """Kept as a specimen."""

    number: Number
    voucher: Voucher = ""
    depository: Depository = ""
    brood: BroodCode = ""
    stage: Stage | None = None
    sex: Sex | None = None
    instar: Instar | None = None
    which: Which = ""
    among: Among = ()
    cause: Annotated[Cause, Meta(description="what it died of, if it was found dead")] = ""

    slots = Slots(numbers=("number",), words=("voucher",), after={"in": "depository", "at": "depository"})


class Parasitoid(Here, frozen=True, kw_only=True, tag="parasitoid"):
    """Parasitoids that came out of animals here: no animals of the brood. The host is said dead on a line of its own."""

    number: Number
    taxon: Annotated[str, Meta(max_length=120, description="what they are, as far as the keeper knows: wasp, fly, a name")] = ""
    brood: Annotated[str, Meta(max_length=24, description="the host's brood")] = ""
    stage: Annotated[Stage, Meta(description="the host's stage")] | None = None
    instar: Annotated[int, Meta(ge=0, le=12, description="the host's instar")] | None = None
    hosts: Annotated[int, Meta(ge=1, description="out of how many hosts")] | None = None
    voucher: Voucher = ""
    depository: Depository = ""

    slots = Slots(numbers=("number",), words=("taxon",))


class Paired(Here, frozen=True, kw_only=True, tag="paired"):
    """Seen coupled."""

    female: Code
    male: Annotated[Code, Meta(description="his code, or 'wild' where he never came in")]
    until: datetime | None = None
    sure: Annotated[bool, Meta(description="seen so, though it was asked about")] = False

    slots = Slots(words=("female", "male"), leading={"with": "male"}, synonyms=say("mated, coupled"))


class PairingPlanned(Entry, frozen=True, kw_only=True, tag="pairing planned"):
    """A pairing thought of: a member of one brood, or a founder, with one of another; the broods page says how related."""

    female: Annotated[str, Meta(min_length=1, max_length=24, description="her brood, or her code")]
    male: Annotated[str, Meta(min_length=1, max_length=24, description="his brood, or his code; may be the same brood")]
    why: Words = ""

    slots = Slots(words=("female", "male"), leading={"with": "male"})


class Related(Entry, frozen=True, kw_only=True, tag="related"):
    """Two founders known to be related, as larvae of one web; founders are unrelated unless this says otherwise."""

    first: Annotated[str, Meta(min_length=1, max_length=24, description="a founder")]
    second: Annotated[str, Meta(min_length=1, max_length=24, description="another founder")]
    how: Annotated[
        Literal["full sibs", "half sibs", "parent and offspring", "cousins", "unrelated"], Meta(description="how they are related")
    ] = "full sibs"

    slots = Slots(words=("first", "second"), leading={"with": "second", "as": "how"})


class ReleaseBy(Here, frozen=True, kw_only=True, tag="release by"):
    """A deadline to bring her back."""

    until: Annotated[datetime, Meta(description="when she must be free")]
    code: Annotated[str, Meta(max_length=24, description="which founder; all where not given")] = ""
    permit: Annotated[str, Meta(max_length=60, description="permit number")] = ""

    slots = Slots(words=("code",), leading={"until": "until", "by": "until"})
