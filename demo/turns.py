"""The turns of the story: what is seen and done at a container beside the usual, round by round."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from rounds.entries import registry as k
from rounds.entries.base import Entry

if TYPE_CHECKING:
    from .scenario import Story

Turn = Callable[[datetime], None]
Turns = dict[tuple[int, str], dict[str, Turn]]
GAP = timedelta(seconds=20)


def turns(story: Story) -> Turns:
    """Every turn, by round and by the container at whose stop it is told."""
    found: Turns = {}

    def at(day: int, name: str, where: str, *sayings: tuple[type[Entry], dict[str, Any]]) -> None:
        def tell(start: datetime) -> None:
            when = start
            for kind, fields in sayings:
                late = fields.pop("typed", None)
                story.teller.record(kind, when, typed=late, **fields)
                when += timedelta(seconds=1)

        found.setdefault((day, name), {})[where] = tell

    _leaf_butterflies(story, at)
    _blues(story, at)
    _nettle_moth(story, at)
    _slips(story, found, at)
    return found


def _leaf_butterflies(story: Story, at: Callable[..., None]) -> None:
    first, second, third = (story.code(1, f"+/{letter}") for letter in "ABC")
    leaf = {
        "plant": "strobilanthes",
        "part": "leaf",
        "kept": "water",
        "sprigs": 2,
        "batch": "ZL",
    }
    at(-20, "morning", "first egg", (k.BroodBegun, _brood(story, first, (1, 2), -20.6, -18)))
    at(
        -18,
        "evening",
        "K7",
        (k.Moved, {"container": "K7", "to": "E7", "number": 20, "stage": "egg", "brood": first}),
    )
    at(
        -17,
        "morning",
        "K7",
        (k.HostOut, {"container": "K7", "fate": "held", "held_in": "E2"}),
        (
            k.HostIn,
            {
                "container": "K7",
                "plant": "strobilanthes",
                "part": "leaf",
                "kept": "water",
                "sprigs": 4,
            },
        ),
    )
    at(
        -15,
        "evening",
        "E7",
        (k.Looked, {"container": "E7", "sign": "darkening"}),
        (k.HostIn, {"container": "E7", **leaf}),
    )
    at(
        -14,
        "morning",
        "E7",
        (k.Hatched, {"container": "E7", "number": 18}),
        (k.Died, {"container": "E7", "number": 2, "stage": "egg", "cause": "collapsed"}),
        (k.Moved, {"container": "E7", "to": "R2", "number": 18, "stage": "larva"}),
        (
            k.HostOut,
            {"container": "E7", "plant": leaf["plant"], "batch": leaf["batch"], "fate": "binned"},
        ),
        (k.HostIn, {"container": "R2", **leaf}),
        (k.Looked, {"container": "E7", "sign": "as usual"}),
    )
    at(-14, "morning", "first egg", (k.BroodBegun, _brood(story, second, (1, 2), -15, -13)))
    at(
        -11,
        "morning",
        "R2",
        (k.Moulted, {"container": "R2", "number": 17, "instar": 2}),
        (k.Died, {"container": "R2", "number": 1, "cause": "unknown", "instar": 1}),
    )
    at(
        -12,
        "evening",
        "K7",
        (k.Moved, {"container": "K7", "to": "E7", "number": 15, "stage": "egg", "brood": second}),
    )
    at(
        -11,
        "evening",
        "E2",
        (k.FrassSeen, {"container": "E2", "level": "trace"}),
        (k.Searched, {"container": "E2", "found": 0, "aid": "lens", "minutes": 4}),
        (
            k.Stocked,
            {
                "container": "E2",
                "brood": first,
                "stage": "egg",
                "number": 3,
                "origin": "hidden on held sprigs",
            },
        ),
        (k.Hatched, {"container": "E2", "number": 3, "brood": first, "evidence": "inferred"}),
        (k.HostOut, {"container": "E2", "fate": "hatched"}),
        (k.Moved, {"container": "E2", "to": "R2", "number": 3, "stage": "larva"}),
    )
    at(
        -9,
        "morning",
        "E7",
        (k.Hatched, {"container": "E7", "number": 13, "evidence": "inferred"}),
        (k.Died, {"container": "E7", "number": 2, "stage": "egg", "cause": "collapsed"}),
        (k.Moved, {"container": "E7", "to": "R7", "number": 13, "stage": "larva"}),
        (k.HostIn, {"container": "R7", **leaf}),
    )
    at(
        -8,
        "morning",
        "R2",
        (k.Moulted, {"container": "R2", "number": 16, "instar": 3}),
        (k.Note, {"container": "R2", "text": "one small, keeps to the stem"}),
    )
    at(-9, "morning", "first egg", (k.BroodBegun, _brood(story, third, (1, 2), -10, -4)))
    at(
        -7,
        "morning",
        "K7",
        (k.Moved, {"container": "K7", "to": "H7", "number": 10, "stage": "egg", "brood": third}),
    )
    at(-7, "evening", "R2", (k.Moulted, {"container": "R2", "number": 3, "instar": 2}))
    at(-3, "morning", "R2", (k.Moulted, {"container": "R2", "number": 4, "instar": 3}))
    at(-6, "morning", "R7", (k.Moulted, {"container": "R7", "number": 13, "instar": 2}))
    at(
        -5,
        "morning",
        "R2",
        (k.Moulted, {"container": "R2", "number": 11, "instar": 4}),
        (k.Died, {"container": "R2", "number": 1, "cause": "injury", "instar": 3}),
    )
    at(
        -4,
        "evening",
        "first sick",
        (
            k.SetUp,
            {
                "container": "R5",
                "purpose": "rearing",
                "shelf": "rearing",
                "place": 5,
                "volume_ml": 1000,
                "lid": "gauze",
            },
        ),
        (k.Moved, {"container": "R2", "to": "R5", "number": 4, "instar": 3, "stage": "larva"}),
        (k.HostIn, {"container": "R5", **leaf}),
    )
    at(
        -3,
        "evening",
        "first sick",
        (
            k.SetUp,
            {
                "container": "X7",
                "purpose": "isolation",
                "shelf": "cold",
                "place": 9,
                "volume_ml": 500,
                "lid": "gauze",
            },
        ),
        (k.Moved, {"container": "R5", "to": "X7", "number": 2, "stage": "larva"}),
        (k.HostIn, {"container": "X7", **leaf}),
        (k.Suspect, {"container": "R5", "sign": "two slow, pale, off food"}),
        (k.Note, {"container": "X7", "text": "moved here with their leaf; own forceps, own cloth"}),
    )
    at(
        -3,
        "morning",
        "R7",
        (k.Moulted, {"container": "R7", "number": 12, "instar": 3}),
        (k.Died, {"container": "R7", "number": 1, "cause": "unknown", "instar": 2}),
    )
    at(
        -2,
        "morning",
        "R2",
        (k.Moulted, {"container": "R2", "number": 9, "instar": 5}),
        (k.Photo, {"container": "R2", "file": "R2-last-instar.jpg", "stage": "larva"}),
    )
    at(
        -2,
        "morning",
        "H7",
        (k.Hatched, {"container": "H7", "number": 9}),
        (k.Died, {"container": "H7", "number": 1, "stage": "egg", "cause": "collapsed"}),
        (k.HostIn, {"container": "H7", **leaf}),
    )
    at(-4, "morning", "first egg", (k.BroodBegun, _brood(story, story.code(3, "/A"), (3,), -5, -1)))
    at(
        -3,
        "morning",
        "K7",
        (k.Moved, {"container": "K7", "to": "E7", "number": 34, "stage": "egg", "brood": third}),
    )
    # The plant that she would not have goes out after five days; one change at a time.
    at(
        -5,
        "evening",
        "K2",
        (k.HostOut, {"container": "K2", "fate": "held", "held_in": "E2"}),
        (
            k.HostIn,
            {
                "container": "K2",
                "plant": "strobilanthes",
                "part": "leaf",
                "kept": "water",
                "sprigs": 3,
            },
        ),
        (
            k.Note,
            {
                "container": "K2",
                "text": "no egg on ruellia in five days; tries strobilanthes from now",
            },
        ),
    )
    at(
        -1,
        "evening",
        "K2",
        (
            k.SetUp,
            {
                "container": "E5",
                "purpose": "eggs",
                "shelf": "egg",
                "place": 3,
                "volume_ml": 250,
                "lid": "closed",
            },
        ),
        (k.Moved, {"container": "K2", "to": "E5", "number": 12, "stage": "egg"}),
    )


def _blues(story: Story, at: Callable[..., None]) -> None:
    first, second = story.code(4, "+/A"), story.code(4, "+/B")
    pot = {"plant": "oxalis", "part": "leaf", "kept": "potted", "sprigs": 1}
    at(-20, "morning", "first blue", (k.BroodBegun, _brood(story, first, (4, 5, 6), -20.6, -18)))
    at(
        -17,
        "evening",
        "K3",
        (k.Moved, {"container": "K3", "to": "R3", "number": 22, "stage": "egg", "brood": first}),
        (k.HostIn, {"container": "R3", **pot}),
    )
    at(
        -15,
        "morning",
        "R3",
        (k.Hatched, {"container": "R3", "number": 19, "evidence": "inferred"}),
        (k.Died, {"container": "R3", "number": 3, "stage": "egg", "cause": "collapsed"}),
    )
    at(
        -12,
        "morning",
        "R3",
        (k.Moulted, {"container": "R3", "number": 18, "instar": 2}),
        (k.Died, {"container": "R3", "number": 1, "instar": 1, "cause": "dry"}),
    )
    at(-12, "morning", "first egg", (k.BroodBegun, _brood(story, second, (4, 5, 6), -13, -11)))
    at(
        -10,
        "evening",
        "K3",
        (k.Died, {"container": "K3", "number": 1, "brood": story.code(4), "cause": "old age"}),
    )
    at(-9, "morning", "R3", (k.Moulted, {"container": "R3", "number": 18, "instar": 3}))
    at(
        -9,
        "evening",
        "first egg",
        (
            k.SetUp,
            {
                "container": "H2",
                "purpose": "hatchlings",
                "inside": "R3",
                "volume_ml": 120,
                "lid": "perforated",
            },
        ),
        (k.Moved, {"container": "K3", "to": "H2", "number": 8, "stage": "egg", "brood": second}),
        (
            k.HostIn,
            {
                "container": "H2",
                "plant": "oxalis",
                "part": "leaf",
                "kept": "damp paper",
                "sprigs": 3,
            },
        ),
    )
    at(
        -7,
        "morning",
        "H2",
        (k.Hatched, {"container": "H2", "number": 7}),
        (k.Died, {"container": "H2", "number": 1, "stage": "egg", "cause": "unknown"}),
    )
    at(-6, "morning", "R3", (k.Moulted, {"container": "R3", "number": 18, "instar": 4}))
    at(
        -4,
        "morning",
        "R3",
        (k.Moved, {"container": "R3", "to": "P7", "number": 10, "stage": "larva"}),
        (k.Looked, {"container": "P7", "sign": "wandering"}),
    )
    at(
        -3,
        "morning",
        "P7",
        (k.Pupated, {"container": "P7", "number": 6}),
        (k.Looked, {"container": "P7", "sign": "soft pupa"}),
        (k.LeaveBe, {"container": "P7", "until": story.day(-2, "07:00"), "why": "soft pupae"}),
    )
    at(-2, "morning", "H2", (k.Moulted, {"container": "H2", "number": 7, "instar": 2}))
    at(-2, "evening", "P7", (k.Looked, {"container": "P7", "sign": "hanging"}))
    # A neighbour's pupae emerge: brothers and sisters.
    at(
        -3,
        "morning",
        "M7",
        (k.Emerged, {"container": "M7", "number": 3, "sex": "male"}),
        (k.Looked, {"container": "M7", "sign": "wings up"}),
    )
    at(
        -2,
        "morning",
        "M7",
        (k.Emerged, {"container": "M7", "number": 2, "sex": "female"}),
        (k.Looked, {"container": "M7", "sign": "wings up"}),
        (
            k.SetUp,
            {
                "container": "K4",
                "purpose": "pairing",
                "shelf": "window",
                "place": 4,
                "volume_ml": 4000,
                "lid": "gauze",
            },
        ),
        (k.Moved, {"container": "M7", "to": "K4", "number": 5, "stage": "adult"}),
        (
            k.Note,
            {"container": "K4", "text": "all from one mother; pair them only if no others emerge"},
        ),
        (
            k.PairingPlanned,
            {
                "female": story.code(80, "/A"),
                "male": story.code(80, "/A"),
                "why": "the only young adults of both sexes now",
            },
        ),
        (
            k.PairingPlanned,
            {
                "female": story.code(80, "/A"),
                "male": first,
                "why": "if those in P7 emerge while she is fresh",
            },
        ),
    )
    at(
        -1,
        "morning",
        "M7",
        (k.Died, {"container": "M7", "number": 1, "stage": "pupa", "cause": "parasitised"}),
        (k.Looked, {"container": "M7", "sign": "colouring"}),
    )


def _nettle_moth(story: Story, at: Callable[..., None]) -> None:
    brood = story.code(7, "/A")
    leaf = {"plant": "persimmon", "part": "leaf", "kept": "dry", "sprigs": 3}
    at(-7, "morning", "first egg", (k.BroodBegun, _brood(story, brood, (7,), -8, -3)))
    at(
        -6,
        "evening",
        "K5",
        (
            k.SetUp,
            {
                "container": "R4",
                "purpose": "rearing",
                "shelf": "rearing",
                "place": 4,
                "volume_ml": 1500,
                "lid": "gauze",
            },
        ),
        (k.Moved, {"container": "K5", "to": "R4", "number": 40, "stage": "egg", "brood": brood}),
        (k.Note, {"container": "R4", "text": "spines sting even in cast skins: gloves"}),
    )
    at(
        -1,
        "morning",
        "R4",
        (k.Hatched, {"container": "R4", "number": 34}),
        (k.Died, {"container": "R4", "number": 6, "stage": "egg", "cause": "collapsed"}),
        (k.HostIn, {"container": "R4", **leaf}),
    )
    at(
        -2,
        "evening",
        "K5",
        (
            k.SetUp,
            {
                "container": "E3",
                "purpose": "eggs",
                "shelf": "egg",
                "place": 4,
                "volume_ml": 250,
                "lid": "closed",
            },
        ),
        (k.Moved, {"container": "K5", "to": "E3", "number": 26, "stage": "egg", "brood": brood}),
    )


def _slips(story: Story, found: Turns, at: Callable[..., None]) -> None:
    """What went wrong, and how the last round left things."""
    late = timedelta(hours=2, minutes=35)
    at(
        -13,
        "morning",
        "first late",
        (k.Note, {"text": "ants on the window frame outside; syrup wiped up", "typed": late}),
    )
    at(-6, "evening", "first late", (k.Misted, {"container": "K7", "typed": late}))
    slot = (-1, "evening") if story.due_name == "morning" else (0, "morning")

    def wrong_cup(start: datetime) -> None:
        story.teller.say_and_strike(
            k.Died,
            start,
            "wrong cup: it was in R2, and it only moulted",
            container="R7",
            number=1,
            cause="unknown",
        )

    found.setdefault((-4, "morning"), {})["first slip"] = wrong_cup
    say = story.teller.record

    def keep(where: str, then: Turn) -> None:
        before = found.setdefault(slot, {}).get(where)

        def both(start: datetime) -> None:
            if before:
                before(start)
            then(start + GAP)

        found[slot][where] = both

    def darkening(start: datetime) -> None:
        say(k.Looked, start, container="E7", sign="darkening")

    def still(start: datetime) -> None:
        say(k.Looked, start, container="R7", sign="still")
        say(
            k.LeaveBe,
            start + GAP,
            container="R7",
            until=start + timedelta(hours=24),
            why="moulting",
        )

    def wilted(start: datetime) -> None:
        say(k.HostSeen, start, container="R5", state="limp", left="half")

    def one_short(start: datetime) -> None:
        there = story.teller.bench.containers["R3"].count("larva")
        say(k.Counted, start, container="R3", number=there - 1, stage="larva")

    def one_worn(start: datetime) -> None:
        say(k.Note, start, container="K7", text="one worn, tip of the left forewing gone")

    for where, turn in {
        "E7": darkening,
        "R7": still,
        "R5": wilted,
        "R3": one_short,
        "K7": one_worn,
    }.items():
        keep(where, turn)


def _brood(
    story: Story, code: str, mothers: tuple[int, ...], laid_from: float, laid_to: float
) -> dict[str, Any]:
    noon = story.day(0, "12:00")
    return {
        "code": code,
        "taxon": story.teller.bench.taxon_of(story.code(mothers[0])),
        "mothers": tuple(story.code(one) for one in mothers),
        "laid_from": noon + timedelta(days=laid_from),
        "laid_to": noon + timedelta(days=laid_to),
    }
