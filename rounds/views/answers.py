"""The question of every check, and what each answer key says in the daybook.

Answer keys belong to the question that is asked. A number typed before a key goes with it; typed before Enter
it goes with the answer that takes numbers. Space gives the usual answer, where there is one that a look alone
can give.
"""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from rounds.bench import kinds as k
from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench, Container
from rounds.care.due import Due
from rounds.care.here import left_be_until
from rounds.views.asked import Answer, Question
from rounds.views.held_answers import bin_those_kept_long_enough, eggs_question, frass_question, hatchlings_of_shown
from rounds.views.sayings import (
    added,
    air,
    all_there,
    ants_above,
    begin_host,
    changed,
    cleaned,
    depth,
    found,
    grown,
    moulted_all,
    next_instar,
    put_off,
    released,
    same_sign,
    say,
    settled,
    tender_leaf,
    with_number,
)

_LOOK = Answer("s", "as usual", say(k.Looked, sign="as usual"), usual=True)
_WEAK = Answer("k", "weak", say(k.Looked, sign="weak"))
_MOULD = Answer("m", "mould", say(k.Looked, sign="mould"))
_WET = Answer("f", "wet inside", say(k.Looked, sign="condensation"))
_STRANGER = Answer("v", "a stranger", say(k.Looked, sign="stranger"))
_DEAD = Answer("d", "found dead", grown(k.Died), number="may")

LOOKS: dict[str, tuple[Answer, ...]] = {
    "egg": (
        _LOOK,
        Answer("c", "darkening", say(k.Looked, sign="darkening")),
        Answer("h", "hatched", grown(k.Hatched), number="may"),
        Answer("i", "hatched, by signs", grown(k.Hatched, evidence="inferred"), number="may"),
        _MOULD,
        _WET,
        _STRANGER,
    ),
    "larva": (
        _LOOK,
        Answer("l", "still", say(k.Looked, sign="still")),
        Answer("y", "moulted", next_instar, number="may"),
        Answer("r", "wandering", say(k.Looked, sign="wandering")),
        Answer("h", "hanging", say(k.Looked, sign="hanging")),
        Answer("p", "pupated", grown(k.Pupated), number="may"),
        _DEAD,
        _WEAK,
        _WET,
        _MOULD,
        _STRANGER,
    ),
    "pupa": (
        _LOOK,
        Answer("c", "colouring", say(k.Looked, sign="colouring")),
        Answer("e", "emerged", grown(k.Emerged), number="may"),
        Answer("p", "soft pupa", say(k.Looked, sign="soft pupa")),
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
            Answer("d", "drank", with_number(k.Drank, "number"), number="may", usual=True),
            Answer("h", "when helped", with_number(k.Drank, "number", how="when helped"), number="may"),
            Answer("r", "refused", with_number(k.Refused, "number"), number="may"),
            Answer("o", "only offered", say(k.Offered)),
        ),
        takes="how many of them",
    ),
    "feeder": Question("The feeder?", (Answer("c", "changed", say(k.FeederChanged), usual=True),)),
    "ants": Question(
        "The ant barrier?",
        (
            Answer("f", "full", depth(k.BarrierSeen, state="full"), number="may", usual=True),
            Answer("p", "topped up", depth(k.ToppedUp), number="may"),
            Answer("l", "low", depth(k.BarrierSeen, state="low"), number="may"),
            Answer("d", "dry", say(k.BarrierSeen, state="dry")),
            Answer("r", "dirty", say(k.BarrierSeen, state="dirty")),
            Answer("b", "bridged", say(k.BarrierSeen, state="bridged")),
            Answer("a", "ant above water", ants_above, number="may"),
        ),
        takes="depth in mm",
    ),
    "eggs": Question("How many eggs found?", (Answer("0", "none", found, number="must"),), takes="eggs found"),
    "change": Question(
        "No eggs so far. Change one thing?",
        (
            Answer("p", "wait another day", put_off(24, "wait another day"), usual=True),
            Answer("c", "another host", lambda asked: [], prompt=begin_host),
            Answer("s", "into sun", say(k.Light, to="sun")),
            Answer("h", "into shade", say(k.Light, to="shade")),
        ),
    ),
    "food": Question(
        "Food left?",
        (
            Answer("p", "plenty", say(k.HostSeen, left="plenty"), usual=True),
            Answer("a", "new added", added, number="may"),
            Answer("c", "changed", changed("binned"), number="may"),
            Answer("l", "little", say(k.HostSeen, left="little")),
            Answer("b", "bare", say(k.HostSeen, state="eaten", left="none")),
            Answer("m", "limp", say(k.HostSeen, state="limp")),
        ),
        takes="sprigs",
    ),
    "clean": Question("Cleaned?", (Answer("c", "cleaned", cleaned, number="may", usual=True),), takes="how many counted"),
    "air": Question("Lid opened for air?", (Answer("o", "aired", say(k.LidOpened), usual=True),)),
    "leaf": Question(
        "A tender leaf in?",
        (
            Answer("l", "leaf put in", tender_leaf),
            Answer("c", "another plant", lambda asked: [], prompt=begin_host),
            Answer("h", "hatched", grown(k.Hatched), number="may"),
        ),
        takes="how many hatched",
    ),
    "frass": Question(
        "Frass (droppings) under the kept stems?",
        (
            Answer("o", "none", say(k.FrassSeen, level="none"), usual=True),
            Answer("r", "a trace", say(k.FrassSeen, level="trace")),
            Answer("p", "plain", say(k.FrassSeen, level="plain")),
        ),
    ),
    "keep": Question(
        "Kept long enough. Discard the kept stems that may go?",
        (
            Answer("k", "keep another day", put_off(24, "keep another day"), usual=True),
            Answer("b", "discarded", bin_those_kept_long_enough),
        ),
    ),
    "turn": Question(
        "Frass: hidden eggs hatched. Young larvae of their own brood?",
        (Answer("y", "young larvae", hatchlings_of_shown, number="may"), Answer("l", "look again later", put_off(3, "look again"))),
        takes="how many seen; one at least is taken",
    ),
    "mist": Question("Misted?", (Answer("m", "misted", say(k.Misted), usual=True),)),
    "wings": Question(
        "Wings?",
        (
            Answer("p", "up", say(k.Looked, sign="wings up"), usual=True),
            Answer("o", "not up yet", say(k.Looked, sign="wings not up")),
            Answer("d", "drank", with_number(k.Drank, "number"), number="may"),
        ),
    ),
    "count": Question("How many are there?", (Answer("c", "all there", all_there, number="may"),), takes="how many counted"),
    "release": Question(
        "Her time is up. Released?",
        (
            Answer("r", "released", released, number="may"),
            Answer("k", "not yet", put_off(2, "not yet released"), usual=True),
        ),
    ),
    "permit": Question("A permit ends soon.", (Answer("s", "seen", put_off(24, "seen"), usual=True),)),
    "lamp": Question(
        "A lamp is on.",
        (
            Answer("o", "switched off", say(k.Light, to="lamp off")),
            Answer("k", "stays on an hour", put_off(1, "stays on"), usual=True),
        ),
    ),
    "balance": Question(
        "Some were not seen. Check lid, seam and paper before binning. What became of them?",
        (
            Answer("f", "found", settled("found"), number="may"),
            Answer("d", "dead", settled("dead"), number="may"),
            Answer("e", "escaped", settled("escaped"), number="may"),
            Answer("a", "taken", settled("taken"), number="may"),
            Answer("s", "still not seen", put_off(12, "still not seen"), usual=True),
        ),
    ),
    "room": Question(
        "The thermometer? Type now, as 21.4, or lowest and highest since last, as 15/24, then Enter.",
        (Answer("enter", "read", air, number="must"),),
        takes="degrees C",
    ),
    "heat": Question(
        "Outside the comfortable band.",
        (
            Answer("s", "into shade", say(k.Light, to="shade")),
            Answer("o", "lid opened", say(k.LidOpened)),
            Answer("k", "looked, all well", put_off(2, "looked, all well"), usual=True),
            Answer("enter", "read again", air, number="must"),
        ),
        takes="degrees C",
    ),
    "still": Question(
        "Still for long.",
        (
            Answer("l", "still, not limp", same_sign, usual=True),
            Answer("y", "moulted", moulted_all, number="may"),
            Answer("p", "pupated", grown(k.Pupated), number="may"),
            _DEAD,
        ),
        takes="how many",
    ),
    "store": Question(
        "The store?",
        (
            Answer("g", "still good", say(k.HostSeen, state="fresh"), usual=True),
            Answer("b", "binned", say(k.HostOut, fate="binned")),
            Answer("a", "new added", lambda asked: [], prompt=begin_host),
        ),
    ),
    "solution": Question(
        "The solution is old. Smell it.",
        (
            Answer("m", "made new", say(k.FoodMade)),
            Answer("g", "still sweet", put_off(24, "smelled, still sweet"), usual=True),
        ),
    ),
    "quarantine": Question(
        "Quarantine time is up.",
        (
            Answer("c", "cleared", say(k.Cleared)),
            Answer("k", "keep another day", put_off(24, "keep another day"), usual=True),
        ),
    ),
    "hatch late": Question(
        "Past the expected hatch.",
        (
            Answer("s", "no change", put_off(24, "no change"), usual=True),
            Answer("h", "hatched", grown(k.Hatched), number="may"),
            Answer("d", "collapsed", grown(k.Died, cause="collapsed"), number="may"),
        ),
        takes="how many",
    ),
    "emerge late": Question(
        "Past the expected emergence.",
        (
            Answer("s", "no change", put_off(24, "no change"), usual=True),
            Answer("e", "emerged", grown(k.Emerged), number="may"),
            Answer("d", "found dead", grown(k.Died), number="may"),
        ),
        takes="how many",
    ),
}

_ADDED = Answer("a", "new added", added, number="may")
_ANOTHER = Answer("p", "another plant", lambda asked: [], prompt=begin_host)
_WAIT = Answer("k", "wait, do not disturb", put_off(10, "not to be disturbed"))
_READ_AGAIN = QUESTIONS["heat"].answers[-1]
_ALL_WELL = Answer("k", "looked, all well", put_off(2, "looked, all well"), usual=True)
_COOLER_PLACE = Answer("v", "moved to a cooler place", put_off(1, "moved to a cooler place"))
# The room and a shelf hold many cups: what was done is kept as the reason, and the air is to be read again.
_HOT_PLACE = (
    Answer("s", "shaded", put_off(1, "shaded")),
    Answer("o", "lids opened", put_off(1, "lids opened")),
    _COOLER_PLACE,
    Answer("c", "room made cooler", put_off(1, "room made cooler")),
    _ALL_WELL,
    _READ_AGAIN,
)
_COLD = (
    Answer("v", "moved to a warmer place", put_off(1, "moved to a warmer place")),
    Answer("c", "room made warmer", put_off(1, "room made warmer")),
    _ALL_WELL,
    _READ_AGAIN,
)


def _heat(due: Due) -> Question:
    """What was done about warmth or cold at this place; asked again in an hour unless it is read again."""
    if due.reason.endswith("too cold to lay"):
        return Question("Too cold to lay. What did you do? It is asked again in an hour.", _COLD, "degrees C")
    if due.place_kind == "container":
        shade, opened, *others = QUESTIONS["heat"].answers
        return replace(QUESTIONS["heat"], answers=(shade, opened, _COOLER_PLACE, *others))
    return Question("Too warm. What did you do? It is asked again in an hour.", _HOT_PLACE, "degrees C")


_LAYING_HOST = (
    Answer("f", "fresh", say(k.HostSeen, state="fresh"), usual=True),
    _ADDED,
    Answer("c", "changed, old held", changed("held"), number="may"),
    Answer("l", "limp", say(k.HostSeen, state="limp")),
    Answer("y", "yellow", say(k.HostSeen, state="yellow")),
    _ANOTHER,
)


_LEAF_AHEAD = Question(
    "The first may hatch before the next round. Are they dark?",
    (
        Answer("k", "not dark yet", put_off(10, "eggs not dark yet"), usual=True),
        Answer("c", "darkening", say(k.Looked, sign="darkening")),
        *QUESTIONS["leaf"].answers[:1],
        *QUESTIONS["leaf"].answers[2:],
    ),
    takes="how many hatched",
)


_NOTHING_IN = {"food": "No food is in, on record. Put some in?", "host": "No host plant is in, on record. Put one in?"}
_TOUCHES = frozenset({"new added", "changed", "changed, old held", "another plant"})


def question_for(bench: Bench, due: Due, now: datetime | None = None) -> Question:
    """The question that a due check asks, with the answers that fit what is there.

    Args:
        now: when it is asked; without it, as if nothing were to be left undisturbed.
    """
    container = bench.at(due.where) if due.place_kind == "container" else None
    undisturbed = container is not None and now is not None and left_be_until(container, now) is not None
    question = _question_for(bench, due, container)
    return _through_the_lid(question, due.check) if undisturbed else question


def _through_the_lid(question: Question, check: str) -> Question:
    """Only what a look from outside can answer; where there is nothing to see, to wait is an answer."""
    if check not in ("look", "food", "host"):
        return question
    if question.text == _NOTHING_IN.get(check):
        return replace(question, answers=(_WAIT, *(one for one in question.answers if one.prompt)), takes="")
    kept = tuple(one for one in question.answers if one.label not in _TOUCHES)
    asked = {"look": "What do you see through the lid?", "food": "Food left, seen through the lid?"}
    takes = question.takes if check == "look" else ""
    return Question(asked.get(check, "The host plant, seen through the lid?"), kept, takes)


def _question_for(bench: Bench, due: Due, container: Container | None) -> Question:
    if due.check in _NOTHING_IN and container is not None and not container.hosts:
        return Question(_NOTHING_IN[due.check], (_ADDED, _ANOTHER), takes="stems")
    if due.check == "heat":
        return _in_units(_heat(due), measures_of(bench.settings))
    if due.check == "leaf" and due.rule is not None and due.rule.condition == "may hatch":
        return _LEAF_AHEAD
    if due.check == "look":
        return Question("What do you see?", looks_for(bench.at(due.where)), takes="how many")
    if due.check == "host":
        return Question("The host plant?", _LAYING_HOST, takes="sprigs")
    if due.check == "frass":
        return frass_question(bench.at(due.where), QUESTIONS["frass"])
    if due.check == "eggs":
        return eggs_question(bench.at(due.where), QUESTIONS["eggs"])
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
        found["s"] = Answer("s", f"{sign} as before", say(k.Looked, sign=sign), usual=True)
        found["o"] = Answer("o", "as usual again", say(k.Looked, sign="as usual"))
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
