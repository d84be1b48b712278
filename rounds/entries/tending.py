"""Entries about tending: food and drink, host, barrier, eggs, air, light."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from msgspec import Meta

from rounds.entries.base import (
    MAXIMUM_COUNT,
    Celsius,
    Code,
    Count,
    Entry,
    Here,
    Kept,
    Millilitres,
    Millimetres,
    Minutes,
    Percent,
)
from rounds.entries.slots import PLANT_THERE, Slots, each, say

HowMany = Annotated[int, Meta(ge=0, description="how many adults; all of them where not given")]
Plant = Annotated[str, Meta(min_length=1, max_length=80, description="which plant")]
Batch = Annotated[str, Meta(max_length=8, description="batch letter of the cutting")]
KeptLots = Annotated[tuple[str, ...], Meta(description="which kept lots, as 2 or 1,3 or all")]


class Offered(Here, frozen=True, kw_only=True, tag="offered"):
    """Food put before her; it does not say that she drank."""

    food: Annotated[str, Meta(max_length=60, description="sugar, honey, fruit, nectar plant")] = ""

    slots = Slots(words=("food",))


class Drank(Here, frozen=True, kw_only=True, tag="drank"):
    """Seen to drink."""

    number: HowMany = 0
    how: Literal["by herself", "when helped"] = "by herself"
    minutes: Minutes | None = None
    female: Annotated[str, Meta(max_length=24, description="which female, where one is meant")] = ""
    of: Annotated[int, Meta(ge=0, le=MAXIMUM_COUNT, description="of how many adults; the females where not given")] = 0

    slots = Slots(
        numbers=("number",),
        idle=each("adults drank drunk female females"),
        synonyms=(
            say("fed, feed, drink, drinks, drinking, drunk, has drunk")
            | say("fed by hand, hand fed, drank by hand", how="when helped")
        ),
    )


class Refused(Here, frozen=True, kw_only=True, tag="refused"):
    """Offered and not taken."""

    number: HowMany = 0
    female: Annotated[str, Meta(max_length=24, description="which female, where one is meant")] = ""

    slots = Slots(
        numbers=("number",),
        idle=each("adults drank drink drunk female females"),
        synonyms=say(
            "not drunk, did not drink, didn't drink, has not drunk, not drinking, won't drink, "
            "would not drink, no drink, refuses, drank nothing, drank none"
        ),
    )


class FeederChanged(Here, frozen=True, kw_only=True, tag="feeder changed"):
    """A fresh swab, tissue or sponge."""

    food: Annotated[str, Meta(max_length=60, description="sugar, honey, fruit")] = ""
    strength_percent: Percent | None = None
    made: Annotated[datetime, Meta(description="when the solution was made")] | None = None

    slots = Slots(
        numbers=("strength_percent",),
        words=("food",),
        synonyms=say(
            "swab changed, new swab, fresh swab, changed swab, swab renewed, swab new, "
            "sponge changed, new sponge, tissue changed, new feeder, fresh feeder, feeder new, "
            "feeder fresh, changed feeder, feeder renewed"
        ),
    )


class FoodMade(Entry, frozen=True, kw_only=True, tag="food made"):
    """A stock of solution made up."""

    food: Annotated[str, Meta(max_length=60, description="sugar, honey, fructose")] = "sugar"
    strength_percent: Percent | None = None
    volume_ml: Millilitres | None = None

    slots = Slots(numbers=("strength_percent", "volume_ml"), words=("food",))


class HostIn(Here, frozen=True, kw_only=True, tag="host in"):
    """Host plant put in: cut, potted, or living where it grows, with the letter of its batch."""

    plant: Plant
    part: Annotated[str, Meta(max_length=40, description="bud, leaf, flower, shoot, stem")] = ""
    batch: Batch = ""
    cut: Annotated[datetime, Meta(description="when it was cut; now where not given")] | None = None
    kept: Kept = "water"
    sprigs: Count | None = None
    source: Annotated[str, Meta(max_length=120, description="where it was cut, by whom, washed or not")] = ""

    slots = Slots(
        numbers=("sprigs",),
        words=("plant",),
        is_name=True,
        after={"from": "source", "by": "source"},
        leading={"batch": "batch", "cut": "cut"},
        idle=each("cut fresh freshly"),
        synonyms=(
            say("leaf in, leaves in", part="leaf")
            | say("plant in, food in")
            | say(
                "leaf added, leaves added, plant added, food added, new leaf, new leaves, new plant, "
                "new food, new leaf added, new leaves added, new plant added, new food added, "
                "new leaf in, new leaves in, new food in, fresh leaf in, fresh leaves in, "
                "fresh food in, added leaf, added leaves, added food",
                plant=PLANT_THERE,
            )
            | say(
                "food changed, host changed, leaf changed, leaves changed, plant changed, "
                "changed food, changed plant, changed host, changed leaf, changed leaves",
                plant=PLANT_THERE,
                changed=True,
            )
        ),
    )


class HostSeen(Here, frozen=True, kw_only=True, tag="host seen"):
    """The host looked at: its state, and how much is left."""

    state: Literal["fresh", "limp", "yellow", "mouldy", "eaten"] = "fresh"
    left: Literal["", "none", "little", "half", "plenty"] = ""
    plant: str = ""

    slots = Slots(
        words=("plant",),
        is_name=True,
        idle=each("food host leaf leaves left plant"),
        short={"ok": "fresh", "fine": "fresh", "good": "fresh", "bare": "eaten", "some": "little", "half left": "half"},
        synonyms=(
            say("limp, wilted, wilting, host limp, host wilted, plant limp, leaf limp, leaves limp, food limp", state="limp")
            | say("yellow, host yellow, plant yellow, leaves yellow, leaf yellow", state="yellow")
            | say("mouldy, host mouldy, plant mouldy, leaf mouldy, leaves mouldy, food mouldy", state="mouldy")
            | say("eaten, host eaten, all eaten, eaten up, eaten bare, leaves eaten, leaf eaten, plant eaten", state="eaten")
            | say("host fresh, plant fresh, leaf fresh, leaves fresh, plant ok, host ok", state="fresh")
            | say("no food, no food left, food gone, nothing left, no leaf left, no leaves left, none left", left="none")
            | say("half eaten, half gone, half left, food half", left="half")
            | say("plenty, plenty left, plenty of food, food plenty, enough food", left="plenty")
            | say("little food, food low, little left, food little", left="little")
        ),
    )


class HostOut(Here, frozen=True, kw_only=True, tag="host out"):
    """Host plant taken out, or kept stems moved to another container or discarded; with a number, so many stems."""

    fate: Literal["binned", "held", "fridge", "hatched"] = "held"
    batch: Batch = ""
    plant: Annotated[str, Meta(max_length=80, description="which plant; all of it where not given")] = ""
    held_in: Annotated[str, Meta(max_length=24, description="the container that holds it now")] = ""
    sprigs: Count | None = None
    sure: Annotated[bool, Meta(description="discarded though eggs may still be on it")] = False
    lots: KeptLots = ()

    slots = Slots(
        numbers=("sprigs",),
        words=("plant",),
        is_name=True,
        leading={
            "batch": "batch",
            "held in": "held_in",
            "in": "held_in",
            "to": "held_in",
            "into": "held_in",
            "lot": "lots",
            "lots": "lots",
        },
        synonyms=say("kept stems, kept sprigs, held sprigs, held stems", lots=("all",)),
    )


class BarrierSeen(Entry, frozen=True, kw_only=True, tag="barrier"):
    """The ant barrier looked at, of a container or of a whole shelf."""

    state: Annotated[
        Literal["full", "low", "dry", "dirty", "bridged", "breached", "sound"],
        Meta(description="full, low: a moat; sound: a sticky band or grease that holds all round"),
    ]
    container: str = ""
    shelf: str = ""
    depth_mm: Millimetres | None = None
    ants_below: Annotated[int, Meta(ge=0, description="ants below the water")] = 0
    ants_above: Annotated[int, Meta(ge=0, description="ants above the water: the alarm")] = 0

    slots = Slots(
        numbers=("depth_mm",),
        idle=each("ant ants band deep depth grease moat"),
        short={
            "ok": "full",
            "fine": "full",
            "good": "full",
            "empty": "dry",
            "broken": "breached",
            "sticky": "sound",
            "holds": "sound",
            "dusty": "dirty",
        },
        verbs=("moat", "band", "grease"),
    )


class ToppedUp(Entry, frozen=True, kw_only=True, tag="topped up"):
    """The moat filled, or the sticky band or grease renewed."""

    container: str = ""
    shelf: str = ""
    depth_mm: Millimetres | None = None
    washed: Annotated[bool, Meta(description="emptied and washed first")] = False
    renewed: Annotated[bool, Meta(description="a sticky band or grease put on anew")] = False

    slots = Slots(
        numbers=("depth_mm",),
        idle=each("deep moat water"),
        verbs=("topped",),
        synonyms=say(
            "filled, filled up, refilled, moat filled, filled moat, fill moat, top up, "
            "moat topped, top up moat, moat topped up, topped up moat, renewed, band renewed, "
            "grease renewed"
        ),
    )


class Searched(Here, frozen=True, kw_only=True, tag="searched"):
    """Looked for eggs on purpose; none found is worth as much as some. What is not sure waits for a lens or a photo."""

    found: Count
    minutes: Minutes | None = None
    aid: Literal["naked eye", "lens", "macro photo"] = "naked eye"
    where: Annotated[str, Meta(max_length=60, description="host, gauze, wall, paper, feeder, pot")] = ""
    brood: Annotated[str, Meta(max_length=24, description="brood that the eggs belong to")] = ""
    plant: Annotated[str, Meta(max_length=80, description="which plant they were on")] = ""
    lots: KeptLots = ()
    unsure: Annotated[Count, Meta(description="seen, and not sure to be eggs")] = 0
    confirmed: Annotated[bool, Meta(description="of those not sure so many are eggs, the rest are none")] = False
    which: Annotated[
        Literal["", "not known", "unmarked"],
        Meta(description="not known: nobody knows which of the females laid them; unmarked: one of those without a mark"),
    ] = ""
    among: Annotated[tuple[str, ...], Meta(description="females one of which laid them, nobody knows which: W2,W3")] = ()

    slots = Slots(
        numbers=("found",),
        words=("where",),
        after={"on": "where", "in": "where", "under": "where"},
        leading={"on lot": "lots", "brood": "brood", "lot": "lots", "lots": "lots"},
        idle=each("again another egg eggs extra found laid more new seen"),
        synonyms=(say("confirmed", confirmed=True) | say("not eggs", confirmed=True, found=0) | say("laid, search, searching")),
    )


class FrassSeen(Here, frozen=True, kw_only=True, tag="frass"):
    """Looked for frass (droppings): under which kept lots; seen without a lot where several are kept, none of them ends."""

    level: Literal["none", "trace", "plain"]
    lots: KeptLots = ()

    slots = Slots(
        leading={"under": "lots", "under lot": "lots", "lot": "lots", "lots": "lots"},
        short={"some": "trace", "no": "none", "0": "none", "a little": "trace", "much": "plain", "lots": "plain", "plenty": "plain"},
        verbs=("droppings",),
        synonyms=say("no frass, no droppings, frass no", level="none"),
    )


class Looked(Here, frozen=True, kw_only=True, tag="looked"):
    """Looked at, and what was seen."""

    sign: Literal[
        "as usual",
        "darkening",
        "still",
        "wandering",
        "hanging",
        "soft pupa",
        "colouring",
        "wings not up",
        "wings up",
        "weak",
        "condensation",
        "mould",
        "intruder",
        "stranger",  # as an intruder was called before
    ] = "as usual"
    number: Annotated[int, Meta(ge=0, le=MAXIMUM_COUNT, description="how many show it; not said where 0")] = 0

    slots = Slots(
        numbers=("number",),
        idle=each("adults egg eggs female larva larvae looks one pupa pupae seen"),
        synonyms=(
            say(
                "ok, all ok, fine, all fine, all well, as usual, all as usual, no change, nothing new, feeding, eating, all feeding",
                sign="as usual",
            )
            | say(
                "look, looks, looking, seems, seen, wandering, weak, condensation, colouring, hanging, "
                "darkening, soft pupa, wings up, wings not up"
            )
            | say("eggs dark, eggs darkening, eggs darkened, eggs black, dark eggs", sign="darkening")
            | say("hanging up, prepupa, prepupae, prepupal", sign="hanging")
            | say("not moving, moulting, motionless", sign="still")
            | say("fresh pupa", sign="soft pupa")
        ),
    )


class Air(Entry, frozen=True, kw_only=True, tag="air"):
    """Temperature and humidity: now, or lowest and highest since last read; of a container, shelf or the room."""

    container: str = ""
    shelf: str = ""
    temperature_c: Celsius | None = None
    humidity_percent: Percent | None = None
    low_c: Celsius | None = None
    high_c: Celsius | None = None
    sure: Annotated[bool, Meta(description="read so, though it was asked about")] = False

    slots = Slots(
        numbers=("temperature_c", "humidity_percent"),
        leading={"temperature": "temperature_c", "temp": "temperature_c", "humidity": "humidity_percent"},
        synonyms=say("temperature, temp, humidity"),
    )


class LoggerRead(Entry, frozen=True, kw_only=True, tag="logger read"):
    """A logger's readings taken in; they lie in a file of the book: of a container, shelf or the room."""

    file: Annotated[str, Meta(min_length=1, max_length=80, description="the file in the book that holds them")]
    rows: Annotated[int, Meta(ge=1, le=100_000_000, description="how many readings")]
    since: Annotated[datetime, Meta(description="the first of them")]
    until: Annotated[datetime, Meta(description="the last of them")]
    low_c: Celsius
    high_c: Celsius
    digest: Annotated[str, Meta(max_length=64, description="SHA-256 of the file")] = ""
    source: Annotated[str, Meta(max_length=200, description="the logger's own file")] = ""
    container: str = ""
    shelf: str = ""


class LidOpened(Here, frozen=True, kw_only=True, tag="lid opened"):
    """Aired: the lid opened for a while."""

    slots = Slots(synonyms=say("aired, lid off, lid open, opened lid"))


class Covered(Here, frozen=True, kw_only=True, tag="covered"):
    """Covered, or the lid shut."""

    how: Annotated[str, Meta(max_length=60, description="half, with what")] = ""

    slots = Slots(
        words=("how",),
        after={"with": "how", "by": "how"},
        synonyms=(say("lid on, lid shut, lid closed, closed lid") | say("half covered", how="half")),
    )


class Misted(Here, frozen=True, kw_only=True, tag="misted"):
    """A light spray on gauze, plant or lining."""

    slots = Slots(synonyms=say("sprayed, spray, mist, moistened"))


_MOVED_INTO = {
    f"{moved} {into} {to}": {"to": to.removeprefix("the ")}
    for moved in ("moved", "put", "set", "placed", "stood")
    for into in ("to", "into", "in")
    for to in ("sun", "shade", "dark", "the sun", "the shade", "the dark")
}


class Light(Here, frozen=True, kw_only=True, tag="light"):
    """Moved into sun, shade or dark, or a lamp switched."""

    to: Literal["sun", "shade", "dark", "lamp on", "lamp off"]

    slots = Slots(
        synonyms=(
            _MOVED_INTO
            | say("sun, in sun, in the sun, into sun, into the sun, to sun", to="sun")
            | say("shade, in shade, in the shade, into shade, into the shade, to shade, shaded", to="shade")
            | say("in the dark, into the dark, to the dark", to="dark")
            | say("lamp on, light on, lights on", to="lamp on")
            | say("lamp off, light off, lights off", to="lamp off")
        )
    )


class PutOff(Entry, frozen=True, kw_only=True, tag="put off"):
    """A check put off until a time, with the reason."""

    check: Code
    until: datetime
    why: Annotated[str, Meta(min_length=1, max_length=200, description="why")]
    container: str = ""
    shelf: str = ""

    slots = Slots(words=("check",), leading={"until": "until"})
