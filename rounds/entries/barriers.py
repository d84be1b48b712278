"""Ant barriers: looked at, filled, renewed."""

from collections.abc import Iterator
from datetime import datetime
from typing import Annotated, Any, Literal

from msgspec import Meta

from rounds.bench.folding.lots import container_for, note_inconsistency
from rounds.bench.measures import Measures
from rounds.bench.plurals import count
from rounds.bench.state import NOT_LOW, Bench, Depth, Moat
from rounds.entries.base import BARRIERS_LOOKED_AT, STICKY, Entry, Millimetres, Said, Saying
from rounds.entries.slots import Slots, each, say
from rounds.entries.validation import listed
from rounds.entries.wording import comma_joined

MAX_DEPTHS = 20
IN_ORDER = ("full", "sound", NOT_LOW)
ANTS_ALONE = frozenset({"ants", "no ants"})  # said where there is no barrier


class OfBarrier(Entry, frozen=True, kw_only=True):
    """What is said of the barrier of a container or of a whole shelf."""

    container: str = ""
    shelf: str = ""
    depth_mm: Millimetres | None = None

    is_look = False
    answers = "barrier"

    def refusals(self, bench: Bench) -> Iterator[str]:
        if not self.container and not self.shelf:
            there = listed(bench.shelves)
            yield f"say whose barrier: a container, or shelf=; shelves there {there}"
        if self.container and self.shelf:
            yield "say one: a container or a shelf, not both"
        yield from _no_water(bench, self)


class BarrierSeen(OfBarrier, frozen=True, kw_only=True, tag="barrier"):
    """The ant barrier looked at, of a container or of a whole shelf."""

    state: Annotated[
        Literal[
            "full",
            "not low",
            "low",
            "dry",
            "dirty",
            "bridged",
            "breached",
            "sound",
            "ants",
            "no ants",
        ],
        Meta(
            description="full, not low, low: a moat; sound: a sticky band or grease that holds"
            " all round; ants, no ants: seen though there is no barrier"
        ),
    ]
    ants_below: Annotated[int, Meta(ge=0, description="ants below the water")] = 0
    ants_above: Annotated[int, Meta(ge=0, description="ants above the water: the alarm")] = 0

    slots = Slots(
        numbers=("depth_mm",),
        idle=each("ant ants band deep depth grease moat seen there") | {"no ants"},
        short={
            "ok": "full",
            "fine": "full",
            "good": "full",
            "empty": "dry",
            "broken": "breached",
            "sticky": "sound",
            "holds": "sound",
            "dusty": "dirty",
            **dict.fromkeys(("nearly dry", "almost dry", "nearly empty", "almost empty"), "low"),
        },
        verbs=("moat", "band", "grease"),
        synonyms=say(
            "bridged, moat bridged, leaf across the moat, leaf over the moat", state="bridged"
        ),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        said = said | _whose_barrier(bench, said)
        # a sticky band or grease that is as it should be is sound, not full
        if said.get("state") in IN_ORDER:
            moat = said["state"].replace("sound", "full")
            said = said | {"state": "sound" if _is_sticky(bench, said) else moat}
        return [(cls, said)]

    def effect(self, bench: Bench) -> None:
        moat = _moat(bench, self)
        if moat is None:
            return
        moat.ants_below, moat.ants_above = self.ants_below, self.ants_above
        moat.look(self, "" if self.state == "no ants" else self.state)
        depth = 0.0 if self.state == "dry" and not self.depth_mm else self.depth_mm
        if depth is not None and bench.barrier_named(self.container, self.shelf) not in STICKY:
            _read_depth(moat, Depth(self.at, depth, full=self.state == "full"))

    def wording(self, measures: Measures) -> str:
        if self.state == "ants":
            return f"{count(self.ants_above, 'ant') if self.ants_above else 'ants'} seen"
        return comma_joined(
            self.state if self.state == "no ants" else f"barrier {self.state}",
            measures.depth(self.depth_mm) if self.depth_mm is not None else "",
            f"{count(self.ants_below, 'ant')} below" if self.ants_below else "",
            f"{count(self.ants_above, 'ant')} above" if self.ants_above else "",
        )

    def unusual(self, bench: Bench) -> bool:
        return self.state not in (*IN_ORDER, "no ants")


class ToppedUp(OfBarrier, frozen=True, kw_only=True, tag="topped up"):
    """The moat filled, or the sticky band or grease renewed."""

    washed: Annotated[bool, Meta(description="emptied and washed first")] = False
    renewed: Annotated[bool, Meta(description="a sticky band or grease put on anew")] = False

    finds = True
    slots = Slots(
        numbers=("depth_mm",),
        idle=each("deep moat water"),
        verbs=("topped",),
        synonyms=say(
            "filled, filled up, refilled, moat filled, moat filled up, moat refilled, filled moat, "
            "fill moat, top up, "
            "moat topped, top up moat, moat topped up, topped up moat, renewed, band renewed, "
            "grease renewed"
        ),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        said = said | _whose_barrier(bench, said)
        return [(cls, said | ({"renewed": True} if _is_sticky(bench, said) else {}))]

    def effect(self, bench: Bench) -> None:
        """The barrier filled or renewed; that also means it was looked at."""
        moat = _moat(bench, self)
        if moat is None:
            return
        if self.renewed:
            moat.ants_above = 0
        moat.look(self, "sound" if self.renewed else "full")
        moat.topped = self.at
        if self.washed:
            moat.washed = self.at
        if self.depth_mm is not None:
            _read_depth(moat, Depth(self.at, self.depth_mm, filled=True))

    def wording(self, measures: Measures) -> str:
        if self.renewed:
            return "barrier renewed"
        depth = f"to {measures.depth(self.depth_mm)}" if self.depth_mm is not None else ""
        return comma_joined(f"topped up {depth}".strip(), "washed" if self.washed else "")


def _no_water(bench: Bench, entry: OfBarrier) -> Iterator[str]:
    """What has no barrier is not looked at for one; a sticky band or grease has no depth, is not
    low, and is not filled up."""
    barrier = bench.barrier_named(entry.container, entry.shelf)
    whose = entry.container or entry.shelf
    if barrier in BARRIERS_LOOKED_AT and getattr(entry, "state", "") in ANTS_ALONE:
        yield (
            f"{whose} is behind a {barrier}: say how the {barrier} stands, as: {whose} barrier"
            " dirty"
        )
    if (
        barrier == "none"
        and not _tells_ants(entry)
        and (entry.shelf in bench.shelves or entry.container in bench.containers)
    ):
        first = f"shelf set up {whose} moat" if entry.shelf else f"{whose} changed barrier=moat"
        yield f"{whose} has no barrier on record; first: {first}"
    wet = (
        entry.depth_mm is not None
        or getattr(entry, "state", "") == "low"
        or getattr(entry, "washed", False)
    )
    if barrier in STICKY and wet:
        yield (
            f"{whose} has {'a ' if barrier == 'sticky band' else ''}{barrier}, no water; say sound,"
            " dirty, dry, bridged, or renewed"
        )


def _tells_ants(entry: OfBarrier) -> bool:
    """Whether it says that ants were there, which may be said of any place."""
    return isinstance(entry, BarrierSeen) and bool(
        entry.ants_above
        or entry.ants_below
        or entry.state in ("bridged", "breached")
        or entry.state in ANTS_ALONE
    )


def _moat(bench: Bench, entry: OfBarrier) -> Moat | None:
    if entry.shelf in bench.shelves:
        return bench.shelves[entry.shelf].moat
    if entry.container:
        container = container_for(bench, entry.container, entry)
        return bench.moat_of(container)[2]
    note_inconsistency(bench, entry, f"no shelf is called {entry.shelf or 'nothing'}")
    return None


def _read_depth(moat: Moat, depth: Depth) -> None:
    last = moat.depths[-1] if moat.depths else None
    if last and moat.topped and moat.topped <= depth.at:
        depth.anew = last.at < moat.topped or (last.at == moat.topped and not last.filled)
    moat.depths.append(depth)
    del moat.depths[:-MAX_DEPTHS]


def _whose_barrier(bench: Bench, said: Said) -> dict[str, Any]:
    """The shelf or outer container whose barrier guards a container that has none of its own."""
    container = bench.at(str(said.get("container", "")))
    if container is None or said.get("shelf"):
        return {}
    whose, barrier, _ = bench.moat_of(container)
    if barrier == "none" or whose == container.code:
        return {}
    return (
        {"container": "", "shelf": whose}
        if whose in bench.shelves and whose not in bench.containers
        else {"container": whose}
    )


def _is_sticky(bench: Bench, said: Said) -> bool:
    return bench.barrier_named(str(said.get("container", "")), str(said.get("shelf", ""))) in STICKY
