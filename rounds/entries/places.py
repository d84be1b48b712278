"""Entries about the bench itself: containers, shelves, cleaning, hands."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from msgspec import Meta

from rounds.entries.base import (
    Barrier,
    Code,
    Entry,
    Here,
    Instar,
    Millilitres,
    Place,
    Purpose,
    Words,
)
from rounds.entries.slots import Slots, say


class SetUp(Here, frozen=True, kw_only=True, tag="set up"):
    """A container takes its place on the bench."""

    purpose: Purpose
    shelf: Annotated[str, Meta(max_length=24, description="the shelf it stands on")] = ""
    place: Place = 0
    inside: Annotated[str, Meta(max_length=24, description="the container it stands in")] = ""
    volume_ml: Millilitres = 0
    lid: Annotated[str, Meta(max_length=60, description="gauze, closed, perforated")] = ""
    lining: Annotated[str, Meta(max_length=60, description="what lies on the floor")] = ""
    barrier: Annotated[Barrier, Meta(description="its own ant barrier; its shelf's counts too")] = "none"

    slots = Slots(
        numbers=("place",),
        leading={"shelf": "shelf", "on": "shelf", "inside": "inside", "in": "inside", "place": "place", "for": "purpose"},
        verbs=("setup",),
        synonyms=say("stands, new container"),
    )


class Changed(Here, frozen=True, kw_only=True, tag="changed"):
    """A container gets another purpose, place, lid or barrier; what is not given stays."""

    purpose: Purpose | None = None
    shelf: Annotated[str, Meta(max_length=24, description="the shelf it stands on")] | None = None
    place: Place | None = None
    inside: Annotated[str, Meta(max_length=24, description="the container it stands in")] | None = None
    lid: Annotated[str, Meta(max_length=60, description="gauze, closed, perforated")] | None = None
    lining: Annotated[str, Meta(max_length=60, description="what lies on the floor")] | None = None
    barrier: Barrier | None = None

    slots = Slots(
        numbers=("place",),
        leading={"shelf": "shelf", "on": "shelf", "inside": "inside", "in": "inside", "place": "place", "to": "purpose"},
        synonyms=say("diapause, in diapause, dormant, aestivating, estivating, lying over, lies over", purpose="overwintering"),
    )


class Closed(Here, frozen=True, kw_only=True, tag="closed"):
    """An empty container leaves the bench to be washed."""


class ShelfSetUp(Entry, frozen=True, kw_only=True, tag="shelf set up"):
    """A shelf or other place, with the barrier that all its containers share, its place in the walk, and its own limits."""

    shelf: Code
    barrier: Barrier = "none"
    place: Place = 0
    apart: Annotated[bool, Meta(description="not in the room: outdoors, a shed, a second room, a cellar")] = False
    cold_c: Annotated[float, Meta(ge=-40, le=60, description="too cold below, C")] | None = None
    warm_c: Annotated[float, Meta(ge=-40, le=60, description="too warm from, C")] | None = None
    hot_c: Annotated[float, Meta(ge=-40, le=60, description="dangerous from, C")] | None = None

    slots = Slots(
        numbers=("place",),
        words=("shelf",),
        leading={
            "barrier": "barrier",
            "with": "barrier",
            "place": "place",
            "at place": "place",
            "cold": "cold_c",
            "warm": "warm_c",
            "hot": "hot_c",
        },
    )


class Cleaned(Here, frozen=True, kw_only=True, tag="cleaned"):
    """Droppings and old food taken out."""

    slots = Slots(synonyms=say("clean, cleaned out, frass out, frass removed, droppings out"))


class HandsWashed(Entry, frozen=True, kw_only=True, tag="hands washed"):
    """Hands washed between two groups of the walk."""

    slots = Slots(verbs=("washed", "washed hands"))


class LeaveBe(Here, frozen=True, kw_only=True, tag="leave be"):
    """Do not disturb until a time: nothing is cleaned or moved, only looked at; it ends by itself."""

    until: Annotated[datetime, Meta(description="when it ends by itself")]
    why: Annotated[str, Meta(max_length=200, description="moulting, hanging to pupate, soft pupa")] = ""

    slots = Slots(
        words=("why",), leading={"until": "until"}, verbs=("do not disturb",), synonyms=say("leave alone, leave, not to be disturbed")
    )


class Suspect(Here, frozen=True, kw_only=True, tag="suspect"):
    """Something looks wrong: own tools, last in the walk, hands washed after."""

    sign: Words = ""

    slots = Slots(words=("sign",))


class Cleared(Here, frozen=True, kw_only=True, tag="cleared"):
    """No longer suspect, or released from quarantine."""

    sign: Words = ""

    slots = Slots(words=("sign",))


class Note(Entry, frozen=True, kw_only=True, tag="note"):
    """Anything worth a line."""

    text: Annotated[str, Meta(min_length=1, max_length=2000, description="the note")]
    container: str = ""
    brood: str = ""

    slots = Slots(text="text")


class Photo(Entry, frozen=True, kw_only=True, tag="photo"):
    """A picture taken, by its file name."""

    file: Annotated[str, Meta(min_length=1, max_length=400, description="file name")]
    container: str = ""
    brood: str = ""
    stage: Literal["", "egg", "larva", "pupa", "adult"] = ""
    instar: Instar | None = None

    slots = Slots(words=("file",))
