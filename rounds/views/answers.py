"""The question of every check, and what each answer key says in the daybook.

Answer keys belong to the question that is asked. A number typed before a key goes with it; typed before Enter
it goes with the answer that takes numbers. Space gives the usual answer, where there is one that a look alone
can give.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any, Literal

from rounds.bench import kinds as k
from rounds.bench.kinds.base import Entry
from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench, Container, Host
from rounds.care.due import Due
from rounds.views.held_answers import bin_those_kept_long_enough, hatchlings_of_shown

Saying = tuple[type[Entry], dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Asked:
    """A question as it is asked: of what, about what, and any number typed."""

    bench: Bench
    due: Due
    now: datetime
    number: float | None = None
    second: float | None = None  # typed after a stroke, as 15/24

    @property
    def container(self) -> Container | None:
        """The container that is asked about."""
        return self.bench.at(self.due.where) if self.due.place_kind == "container" else None

    @property
    def measures(self) -> Measures:
        """The units in which numbers were typed."""
        return measures_of(self.bench.settings)

    @property
    def here(self) -> dict[str, Any]:
        """The place, as the fields of an entry say it."""
        if self.due.place_kind == "shelf":
            return {"shelf": self.due.where}
        return {"container": self.due.where} if self.due.place_kind == "container" else {}

    @property
    def whole(self) -> int | None:
        """The number typed, as a count."""
        return None if self.number is None else round(self.number)

    @property
    def subject_brood(self) -> dict[str, Any]:
        """The brood asked about, where the check has one."""
        known = self.due.subject in self.bench.broods or self.due.subject in self.bench.founders
        return {"brood": self.due.subject} if known else {}


@dataclass(frozen=True, slots=True)
class Answer:
    """One key's answer."""

    key: str
    label: str
    says: Callable[[Asked], list[Saying]]
    number: Literal["", "may", "must"] = ""
    usual: bool = False
    prompt: Callable[[Asked], str] | None = None  # opens the prompt with this begun instead of saying


@dataclass(frozen=True, slots=True)
class Question:
    """A question and its answers."""

    text: str
    answers: tuple[Answer, ...]
    takes: str = ""  # what a number typed means, in words


def _say(kind: type[Entry], **fields: Any) -> Callable[[Asked], list[Saying]]:
    return lambda asked: [(kind, asked.here | fields)]


def _with_number(kind: type[Entry], name: str, **fields: Any) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        given = {name: asked.whole} if asked.number is not None else {}
        return [(kind, asked.here | fields | given)]

    return says


def _put_off(hours: float, why: str) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        until = asked.now + timedelta(hours=hours)
        return [(k.PutOff, asked.here | {"check": asked.due.check, "until": until, "why": why})]

    return says


def _depth(kind: type[Entry], **fields: Any) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        given = {"depth_mm": asked.measures.millimetres(asked.number)} if asked.number is not None else {}
        return [(kind, asked.here | fields | given)]

    return says


def _ants_above(asked: Asked) -> list[Saying]:
    return [(k.BarrierSeen, asked.here | {"state": "breached", "ants_above": asked.whole or 1})]


def _found(asked: Asked) -> list[Saying]:
    return [(k.Searched, asked.here | {"found": asked.whole or 0} | asked.subject_brood)]


def _newest_host(asked: Asked) -> Host | None:
    container = asked.container
    return max(container.hosts, key=lambda host: host.cut, default=None) if container else None


def _fresh_host(asked: Asked, host: Host) -> dict[str, Any]:
    sprigs = asked.whole if asked.number is not None else host.sprigs
    return asked.here | {"plant": host.plant, "part": host.part, "kept": host.kept, "sprigs": sprigs}


def _added(asked: Asked) -> list[Saying]:
    host = _likely_host(asked)
    return [(k.HostIn, _fresh_host(asked, host))] if host else []


def _changed(fate: str) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        host = _likely_host(asked)
        container = asked.container
        if host is None or container is None:
            return []
        old = [
            (k.HostOut, asked.here | {"plant": one.plant, "batch": one.batch, "fate": fate} | _held_in(asked, fate))
            for one in container.hosts
        ]
        return [*old, (k.HostIn, _fresh_host(asked, host))]

    return says


def _held_in(asked: Asked, fate: str) -> dict[str, Any]:
    """Held sprigs go where this container's sprigs went before, else where sprigs are held, else to an empty egg cup."""
    if fate != "held":
        return {}
    cups = [one for one in asked.bench.standing() if one.purpose == "eggs" and not one.lots]
    from_here = [one for one in cups if any(held.source == asked.due.where for held in one.held)]
    chosen = next(iter(from_here or [one for one in cups if one.held] or cups), None)
    return {"held_in": chosen.code} if chosen else {}


def _begin_host(asked: Asked) -> str:
    return f"{asked.due.where} host in "


def _likely_host(asked: Asked) -> Host | None:
    """The plant here; else what others of the same species feed on; else nothing."""
    here = _newest_host(asked)
    container = asked.container
    if here or container is None:
        return here
    taxa = {asked.bench.taxon_of(lot.brood) for lot in container.lots}
    others = [
        host
        for one in asked.bench.standing()
        if one.purpose != "host store" and taxa & {asked.bench.taxon_of(lot.brood) for lot in one.lots}
        for host in one.hosts
    ]
    return max(others, key=lambda host: host.cut, default=None)


def _tender_leaf(asked: Asked) -> list[Saying]:
    host = _likely_host(asked)
    if host is None:
        return []
    return [(k.HostIn, asked.here | {"plant": host.plant, "part": "tender leaf", "kept": "damp paper", "sprigs": 1})]


def _cleaned(asked: Asked) -> list[Saying]:
    said: list[Saying] = [(k.Cleaned, asked.here)]
    if asked.number is not None:
        said.append((k.Counted, asked.here | {"number": asked.whole}))
    return said


def _all_there(asked: Asked) -> list[Saying]:
    container = asked.container
    there = container.count() if container else 0
    return [(k.Counted, asked.here | {"number": asked.whole if asked.number is not None else there})]


def _released(asked: Asked) -> list[Saying]:
    founder = asked.bench.founders.get(asked.due.subject)
    place = founder.place if founder else ""
    return [(k.Released, asked.here | asked.subject_brood | {"number": asked.whole or 1, "place": place})]


def _settled(fate: str) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        open_here = sum(one.number for one in asked.bench.shortfalls if one.container == asked.due.where)
        return [(k.Settled, asked.here | asked.subject_brood | {"fate": fate, "number": asked.whole or open_here})]

    return says


def _air(asked: Asked) -> list[Saying]:
    if asked.number is None:
        return []
    celsius = asked.measures.celsius
    if asked.second is None:
        return [(k.Air, asked.here | {"temperature_c": celsius(asked.number)})]
    return [(k.Air, asked.here | {"low_c": celsius(asked.number), "high_c": celsius(asked.second)})]


def _grown(kind: type[Entry], **fields: Any) -> Callable[[Asked], list[Saying]]:
    def says(asked: Asked) -> list[Saying]:
        return [(kind, asked.here | fields | {"number": asked.whole or 1})]

    return says


def _next_instar(asked: Asked) -> list[Saying]:
    container = asked.container
    youngest = min((lot.instar for lot in container.lots_of("larva")), default=1) if container else 1
    return [(k.Moulted, asked.here | {"number": asked.whole or 1, "instar": max(2, youngest + 1)})]


def _same_sign(asked: Asked) -> list[Saying]:
    """Hanging larvae seen unchanged still hang."""
    sign = asked.container.sign if asked.container else "still"
    return [(k.Looked, asked.here | {"sign": sign if sign in ("still", "hanging") else "still"})]


def _moulted_all(asked: Asked) -> list[Saying]:
    container = asked.container
    number = asked.whole if asked.number is not None else (container.count("larva") if container else 1)
    return _next_instar(replace(asked, number=number))


_LOOK = Answer("s", "as usual", _say(k.Looked, sign="as usual"), usual=True)
_WEAK = Answer("k", "weak", _say(k.Looked, sign="weak"))
_MOULD = Answer("m", "mould", _say(k.Looked, sign="mould"))
_WET = Answer("f", "wet inside", _say(k.Looked, sign="condensation"))
_STRANGER = Answer("v", "a stranger", _say(k.Looked, sign="stranger"))
_DEAD = Answer("d", "found dead", _grown(k.Died), number="may")

LOOKS: dict[str, tuple[Answer, ...]] = {
    "egg": (
        _LOOK,
        Answer("c", "darkening", _say(k.Looked, sign="darkening")),
        Answer("h", "hatched", _grown(k.Hatched), number="may"),
        Answer("i", "hatched, by signs", _grown(k.Hatched, evidence="inferred"), number="may"),
        _MOULD,
        _WET,
        _STRANGER,
    ),
    "larva": (
        _LOOK,
        Answer("l", "still", _say(k.Looked, sign="still")),
        Answer("y", "moulted", _next_instar, number="may"),
        Answer("r", "wandering", _say(k.Looked, sign="wandering")),
        Answer("h", "hanging", _say(k.Looked, sign="hanging")),
        Answer("p", "pupated", _grown(k.Pupated), number="may"),
        _DEAD,
        _WEAK,
        _WET,
        _MOULD,
        _STRANGER,
    ),
    "pupa": (
        _LOOK,
        Answer("c", "colouring", _say(k.Looked, sign="colouring")),
        Answer("e", "emerged", _grown(k.Emerged), number="may"),
        Answer("p", "soft pupa", _say(k.Looked, sign="soft pupa")),
        _DEAD,
        _MOULD,
        _WET,
        _STRANGER,
    ),
    "adult": (_LOOK, _WEAK, _DEAD, _WET, _STRANGER),
    "": (_LOOK, _MOULD, _WET, _STRANGER),
}

QUESTIONS: dict[str, Question] = {
    "drink": Question(
        "Did she drink?",
        (
            Answer("d", "drank", _with_number(k.Drank, "number"), number="may", usual=True),
            Answer("h", "when helped", _with_number(k.Drank, "number", how="when helped"), number="may"),
            Answer("r", "refused", _with_number(k.Refused, "number"), number="may"),
            Answer("o", "only offered", _say(k.Offered)),
        ),
        takes="how many of them",
    ),
    "feeder": Question("The feeder?", (Answer("c", "changed", _say(k.FeederChanged), usual=True),)),
    "ants": Question(
        "The ant barrier?",
        (
            Answer("f", "full", _depth(k.BarrierSeen, state="full"), number="may", usual=True),
            Answer("p", "topped up", _depth(k.ToppedUp), number="may"),
            Answer("l", "low", _depth(k.BarrierSeen, state="low"), number="may"),
            Answer("d", "dry", _say(k.BarrierSeen, state="dry")),
            Answer("r", "dirty", _say(k.BarrierSeen, state="dirty")),
            Answer("b", "bridged", _say(k.BarrierSeen, state="bridged")),
            Answer("a", "ant above water", _ants_above, number="may"),
        ),
        takes="depth in mm",
    ),
    "eggs": Question("How many eggs found?", (Answer("0", "none", _found, number="must"),), takes="eggs found"),
    "change": Question(
        "No eggs so far. Change one thing?",
        (
            Answer("p", "wait another day", _put_off(24, "wait another day"), usual=True),
            Answer("c", "another host", lambda asked: [], prompt=_begin_host),
            Answer("s", "into sun", _say(k.Light, to="sun")),
            Answer("h", "into shade", _say(k.Light, to="shade")),
        ),
    ),
    "food": Question(
        "Food left?",
        (
            Answer("p", "plenty", _say(k.HostSeen, left="plenty"), usual=True),
            Answer("a", "new added", _added, number="may"),
            Answer("c", "changed", _changed("binned"), number="may"),
            Answer("l", "little", _say(k.HostSeen, left="little")),
            Answer("b", "bare", _say(k.HostSeen, state="eaten", left="none")),
            Answer("m", "limp", _say(k.HostSeen, state="limp")),
        ),
        takes="sprigs",
    ),
    "clean": Question("Cleaned?", (Answer("c", "cleaned", _cleaned, number="may", usual=True),), takes="how many counted"),
    "air": Question("Lid opened for air?", (Answer("o", "aired", _say(k.LidOpened), usual=True),)),
    "leaf": Question(
        "A tender leaf in?",
        (
            Answer("l", "leaf put in", _tender_leaf),
            Answer("c", "another plant", lambda asked: [], prompt=_begin_host),
            Answer("h", "hatched", _grown(k.Hatched), number="may"),
        ),
        takes="how many hatched",
    ),
    "frass": Question(
        "Droppings on the held sprigs?",
        (
            Answer("o", "none", _say(k.FrassSeen, level="none"), usual=True),
            Answer("r", "a trace", _say(k.FrassSeen, level="trace")),
            Answer("p", "plain", _say(k.FrassSeen, level="plain")),
        ),
    ),
    "keep": Question(
        "Kept long enough. Bin the held sprigs?",
        (
            Answer("k", "keep another day", _put_off(24, "keep another day"), usual=True),
            Answer("b", "binned", bin_those_kept_long_enough),
        ),
    ),
    "turn": Question(
        "Droppings: hidden eggs hatched. Hatchlings of their own brood?",
        (Answer("y", "hatchlings", hatchlings_of_shown, number="may"), Answer("l", "look again later", _put_off(3, "look again"))),
        takes="how many seen; one at least is taken",
    ),
    "mist": Question("Misted?", (Answer("m", "misted", _say(k.Misted), usual=True),)),
    "wings": Question(
        "Wings?",
        (
            Answer("p", "up", _say(k.Looked, sign="wings up"), usual=True),
            Answer("o", "not up yet", _say(k.Looked, sign="wings not up")),
            Answer("d", "drank", _with_number(k.Drank, "number"), number="may"),
        ),
    ),
    "count": Question("How many are there?", (Answer("c", "all there", _all_there, number="may"),), takes="how many counted"),
    "release": Question(
        "Her time is up. Released?",
        (
            Answer("r", "released", _released, number="may"),
            Answer("k", "not yet", _put_off(2, "not yet released"), usual=True),
        ),
    ),
    "permit": Question("A permit ends soon.", (Answer("s", "seen", _put_off(24, "seen"), usual=True),)),
    "lamp": Question(
        "A lamp is on.",
        (
            Answer("o", "switched off", _say(k.Light, to="lamp off")),
            Answer("k", "stays on an hour", _put_off(1, "stays on"), usual=True),
        ),
    ),
    "balance": Question(
        "Some were not seen. Check lid, seam and paper before binning. What became of them?",
        (
            Answer("f", "found", _settled("found"), number="may"),
            Answer("d", "dead", _settled("dead"), number="may"),
            Answer("e", "escaped", _settled("escaped"), number="may"),
            Answer("a", "taken", _settled("taken"), number="may"),
            Answer("s", "still not seen", _put_off(12, "still not seen"), usual=True),
        ),
    ),
    "room": Question(
        "The room? Type now, as 21.4, or lowest and highest since last, as 15/24, then Enter.",
        (Answer("enter", "read", _air, number="must"),),
        takes="degrees C",
    ),
    "heat": Question(
        "Outside the comfortable band.",
        (
            Answer("s", "into shade", _say(k.Light, to="shade")),
            Answer("o", "lid opened", _say(k.LidOpened)),
            Answer("k", "looked, all well", _put_off(2, "looked, all well"), usual=True),
            Answer("enter", "read again", _air, number="must"),
        ),
        takes="degrees C",
    ),
    "still": Question(
        "Still for long.",
        (
            Answer("l", "still, not limp", _same_sign, usual=True),
            Answer("y", "moulted", _moulted_all, number="may"),
            Answer("p", "pupated", _grown(k.Pupated), number="may"),
            _DEAD,
        ),
        takes="how many",
    ),
    "store": Question(
        "The store?",
        (
            Answer("g", "still good", _say(k.HostSeen, state="fresh"), usual=True),
            Answer("b", "binned", _say(k.HostOut, fate="binned")),
            Answer("a", "new added", lambda asked: [], prompt=_begin_host),
        ),
    ),
    "solution": Question(
        "The solution is old. Smell it.",
        (
            Answer("m", "made new", _say(k.FoodMade)),
            Answer("g", "still sweet", _put_off(24, "smelled, still sweet"), usual=True),
        ),
    ),
    "quarantine": Question(
        "Quarantine time is up.",
        (
            Answer("c", "cleared", _say(k.Cleared)),
            Answer("k", "keep another day", _put_off(24, "keep another day"), usual=True),
        ),
    ),
    "hatch late": Question(
        "Past the expected hatch.",
        (
            Answer("s", "no change", _put_off(24, "no change"), usual=True),
            Answer("h", "hatched", _grown(k.Hatched), number="may"),
            Answer("d", "collapsed", _grown(k.Died, cause="collapsed"), number="may"),
        ),
        takes="how many",
    ),
    "emerge late": Question(
        "Past the expected emergence.",
        (
            Answer("s", "no change", _put_off(24, "no change"), usual=True),
            Answer("e", "emerged", _grown(k.Emerged), number="may"),
            Answer("d", "found dead", _grown(k.Died), number="may"),
        ),
        takes="how many",
    ),
}

_LAYING_HOST = (
    Answer("f", "fresh", _say(k.HostSeen, state="fresh"), usual=True),
    Answer("a", "new added", _added, number="may"),
    Answer("c", "changed, old held", _changed("held"), number="may"),
    Answer("l", "limp", _say(k.HostSeen, state="limp")),
    Answer("y", "yellow", _say(k.HostSeen, state="yellow")),
    Answer("p", "another plant", lambda asked: [], prompt=_begin_host),
)


_LEAF_AHEAD = Question(
    "The first may hatch before the next round. Are they dark?",
    (
        Answer("k", "not dark yet", _put_off(10, "eggs not dark yet"), usual=True),
        Answer("c", "darkening", _say(k.Looked, sign="darkening")),
        *QUESTIONS["leaf"].answers[:1],
        *QUESTIONS["leaf"].answers[2:],
    ),
    takes="how many hatched",
)


def question_for(bench: Bench, due: Due) -> Question:
    """The question that a due check asks, with the answers that fit what is there."""
    if due.check == "leaf" and due.rule is not None and due.rule.condition == "may hatch":
        return _LEAF_AHEAD
    if due.check == "look":
        return Question("What do you see?", looks_for(bench.at(due.where)), takes="how many")
    if due.check == "host":
        return Question("The host plant?", _LAYING_HOST, takes="sprigs")
    return _in_units(QUESTIONS[due.check], measures_of(bench.settings))


def _in_units(question: Question, measures: Measures) -> Question:
    """A question about warmth or depth in the keeper's own units."""
    takes, text = question.takes, question.text
    if takes == "degrees C" and measures.temperature == "F":
        takes, text = "degrees F", text.replace("21.4", "70.5").replace("15/24", "59/75")
    if takes == "depth in mm" and measures.length == "in":
        takes = "depth in inches"
    return replace(question, takes=takes, text=text)


# Signs that last over several looks; a look that finds nothing new must not wipe them off the card.
LASTING_SIGNS = frozenset({"darkening", "still", "hanging", "soft pupa", "colouring"})


def looks_for(container: Container | None) -> tuple[Answer, ...]:
    """The answers to a look that fit what is in the container, each key once; unchanged is said as what it was."""
    found: dict[str, Answer] = {}
    if container is not None and container.sign in LASTING_SIGNS and container.lots:
        sign = container.sign
        found["s"] = Answer("s", f"{sign} as before", _say(k.Looked, sign=sign), usual=True)
        found["o"] = Answer("o", "as usual again", _say(k.Looked, sign="as usual"))
    stages: list[str] = sorted({lot.stage for lot in container.lots}) if container else []
    for stage in stages or [""]:
        for answer in LOOKS[stage]:
            found.setdefault(answer.key, answer)
    return tuple(found.values())


# What the keys of a skip say is only the reason; the screen knows what is passed over.
OTHER_WORDS = "other words"
SKIP_QUESTION = Question(
    "Why?",
    (
        Answer("l", "no light", lambda asked: []),
        Answer("s", "asleep", lambda asked: []),
        Answer("d", "not touched", lambda asked: []),
        Answer("m", "no time", lambda asked: []),
        Answer("k", "looked, not needed", lambda asked: []),
        Answer("o", OTHER_WORDS, lambda asked: []),
    ),
)
