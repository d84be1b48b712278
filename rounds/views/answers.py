"""The question of every check, and what each answer key says in the daybook.

A word has the same key in every question: d is always drank, h hand-fed, l limp, m moulted, s not moving, 0 none; f is found
dead, and no answer that ends animals is one key. A number typed before a key goes with it; a number and Enter are an answer
only where the question asks for that number. Space gives the usual answer, where there is one that a look alone can give.
"""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from rounds.bench import kinds as k
from rounds.bench.kinds.base import STICKY
from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench, Container
from rounds.checks.due import Due
from rounds.checks.due_context import left_be_until
from rounds.forecasts.tonight import is_open_lid
from rounds.views.asked import DEGREES, DEPTH, EGGS_FOUND, HOW_MANY, STEMS, Answer, Number, Question
from rounds.views.held_answers import bin_those_kept_long_enough, eggs_question, frass_question, hatchlings_of_shown
from rounds.views.sayings import (
    added,
    aid_of,
    air,
    all_there,
    ants_above,
    barrier_seen,
    begin_host,
    changed,
    cleaned,
    found,
    fresh_branch,
    grown,
    moulted,
    offered,
    put_off,
    released,
    same_sign,
    say,
    search_with,
    settled,
    taken_out,
    tender_leaf,
    topped_up,
    with_number,
)

DEAD_KEY = "f"
HOW_MANY_DRANK = Number("how many drank")
HOW_MANY_SEEN = Number("how many seen", "some")
HOW_MANY_ANTS = Number("how many ants", "some")
COUNTED_THERE = Number("how many counted", "count")

_LOOK = Answer("space", "as usual", say(k.Looked, sign="as usual"), usual=True)
_WEAK = Answer("a", "weak", say(k.Looked, sign="weak"))
_MOULD = Answer("g", "mould", say(k.Looked, sign="mould"))
_CONDENSATION = Answer("c", "condensation", say(k.Looked, sign="condensation"))
_INTRUDER = Answer("i", "intruder", say(k.Looked, sign="intruder"))
_DARKENING = Answer("k", "darkening", say(k.Looked, sign="darkening"))
_HATCHED = Answer("y", "hatched", grown(k.Hatched), takes=HOW_MANY)
_MOULTED = Answer("m", "moulted", moulted, takes=HOW_MANY)
_PUPATED = Answer("p", "pupated", grown(k.Pupated), takes=HOW_MANY)
_EMERGED = Answer("e", "emerged", grown(k.Emerged), takes=HOW_MANY)
_DEAD = Answer(DEAD_KEY, "found dead", grown(k.Died), takes=HOW_MANY, must=True, loss=True)
_LIMP = Answer("l", "limp", say(k.HostSeen, state="limp"))
_ADDED = Answer("a", "new added", added, takes=STEMS)
_ANOTHER_PLANT = Answer("p", "another plant", lambda asked: [], prompt=begin_host)
_INTO_SHADE = Answer("k", "into shade", say(k.Light, to="shade"))
_LID_OPENED = Answer("a", "lid opened", say(k.LidOpened))
_DISCARDED = "discarded"

LOOKS: dict[str, tuple[Answer, ...]] = {
    "egg": (
        _LOOK,
        _DARKENING,
        _HATCHED,
        Answer("v", "hatched, inferred", grown(k.Hatched, evidence="inferred"), takes=HOW_MANY),
        _MOULD,
        _CONDENSATION,
        _INTRUDER,
    ),
    "larva": (
        _LOOK,
        Answer("s", "not moving", say(k.Looked, sign="still")),
        _MOULTED,
        Answer("r", "wandering", say(k.Looked, sign="wandering")),
        Answer("h", "hanging up", say(k.Looked, sign="hanging")),
        _PUPATED,
        _DEAD,
        _WEAK,
        _CONDENSATION,
        _MOULD,
        _INTRUDER,
    ),
    "pupa": (
        _LOOK,
        Answer("b", "colouring", say(k.Looked, sign="colouring")),
        _EMERGED,
        Answer("l", "fresh pupa", say(k.Looked, sign="soft pupa")),
        _DEAD,
        _MOULD,
        _CONDENSATION,
        _INTRUDER,
    ),
    "adult": (_LOOK, _WEAK, _DEAD, _CONDENSATION, _INTRUDER),
    "": (_LOOK, _MOULD, _CONDENSATION, _INTRUDER),
}

QUESTIONS: dict[str, Question] = {
    "drink": Question(
        "Did they drink?",
        (
            Answer("d", "drank", with_number(k.Drank), HOW_MANY_DRANK, by_enter=True, usual=True, none=offered),
            Answer("h", "hand-fed", with_number(k.Drank, how="when helped"), HOW_MANY_DRANK, none=offered),
            Answer("r", "refused", with_number(k.Refused), HOW_MANY),
            Answer("o", "only offered", say(k.Offered)),
        ),
    ),
    "feeder": Question("The feeder?", (Answer("c", "changed", say(k.FeederChanged), usual=True),)),
    "ants": Question(
        "The ant barrier?",
        (
            Answer("space", "full", barrier_seen("full"), DEPTH, by_enter=True, usual=True),
            Answer("p", "topped up", topped_up, DEPTH),
            Answer("k", "low", barrier_seen("low"), DEPTH),
            Answer("e", "dry", barrier_seen("dry")),
            Answer("r", "dirty", barrier_seen("dirty")),
            Answer("b", "bridged", barrier_seen("bridged")),
            Answer("a", "ant above water", ants_above, HOW_MANY_ANTS),
        ),
    ),
    "eggs": Question(
        "How many eggs found?",
        (
            Answer("0", "none", found, EGGS_FOUND, by_enter=True),
            Answer("e", "by eye", search_with("naked eye"), stays=True),
            Answer("g", "by lens", search_with("lens"), stays=True),
            Answer("p", "by photo", search_with("macro photo"), stays=True),
        ),
    ),
    "change": Question(
        "No eggs so far. Change one thing?",
        (
            Answer("space", "wait another day", put_off(24, "wait another day"), usual=True),
            _ANOTHER_PLANT,
            Answer("b", "into sun", say(k.Light, to="sun")),
            _INTO_SHADE,
        ),
    ),
    "food": Question(
        "Food left?",
        (
            Answer("space", "plenty", say(k.HostSeen, left="plenty"), usual=True),
            _ADDED,
            Answer("c", "changed", changed("binned"), STEMS),
            Answer("k", "low", say(k.HostSeen, left="little")),
            Answer("e", "bare", say(k.HostSeen, state="eaten", left="none")),
            _LIMP,
        ),
    ),
    "clean": Question("Cleaned?", (Answer("c", "cleaned", cleaned, COUNTED_THERE, usual=True),)),
    "air": Question("Lid opened for air?", (replace(_LID_OPENED, usual=True),)),
    "leaf": Question(
        "A tender leaf in?",
        (Answer("a", "leaf put in", tender_leaf), _ANOTHER_PLANT, _HATCHED),
    ),
    "frass": Question(
        "Frass (droppings) under the kept stems?",
        (
            Answer("0", "none", say(k.FrassSeen, level="none"), usual=True),
            Answer("r", "a trace", say(k.FrassSeen, level="trace")),
            Answer("p", "plain", say(k.FrassSeen, level="plain")),
        ),
    ),
    "keep": Question(
        "Kept long enough. Discard the kept stems that may go?",
        (
            Answer("space", "keep another day", put_off(24, "keep another day"), usual=True),
            Answer("b", _DISCARDED, bin_those_kept_long_enough),
        ),
    ),
    "turn": Question(
        "Frass: hidden eggs hatched. Young larvae of their own brood?",
        (
            Answer("y", "young larvae, one at least", hatchlings_of_shown, HOW_MANY_SEEN),
            Answer("a", "look again later", put_off(3, "look again")),
        ),
    ),
    "mist": Question("Misted?", (Answer("v", "misted", say(k.Misted), usual=True),)),
    "wings": Question(
        "Wings?",
        (
            Answer("space", "up", say(k.Looked, sign="wings up"), usual=True),
            Answer("k", "not up yet", say(k.Looked, sign="wings not up")),
            Answer("d", "drank", with_number(k.Drank), HOW_MANY_DRANK, none=offered),
        ),
    ),
    "count": Question(
        "How many are there?",
        (Answer("c", "all there", all_there, COUNTED_THERE, by_enter=True),),
    ),
    "release": Question(
        "Her time is up. Released?",
        (
            Answer("r", "released", released, HOW_MANY),
            Answer("space", "not yet", put_off(2, "not yet released"), usual=True),
        ),
    ),
    "permit": Question("A permit ends soon.", (Answer("space", "seen", put_off(24, "seen"), usual=True),)),
    "lamp": Question(
        "A lamp is on.",
        (
            Answer("e", "switched off", say(k.Light, to="lamp off")),
            Answer("space", "stays on an hour", put_off(1, "stays on"), usual=True),
        ),
    ),
    "balance": Question(
        "Some were not seen. Check lid, seam and paper before you discard any. What became of them?",
        (
            Answer("y", "found, alive", settled("found"), HOW_MANY),
            replace(_DEAD, says=settled("dead")),
            Answer("e", "escaped", settled("escaped"), HOW_MANY, must=True, loss=True),
            Answer("v", "taken", settled("taken"), HOW_MANY, must=True, loss=True),
            Answer("space", "still not seen", put_off(12, "still not seen"), usual=True),
        ),
    ),
    "room": Question(
        "The thermometer? Type now, as 21.4, or lowest and highest since last, as 15/24, then Enter.",
        (Answer("enter", "read", air, DEGREES, must=True, by_enter=True),),
    ),
    "heat": Question(
        "Outside the comfortable band.",
        (
            _INTO_SHADE,
            _LID_OPENED,
            Answer("space", "looked, all well", put_off(2, "looked, all well"), usual=True),
            Answer("enter", "read again", air, DEGREES, must=True, by_enter=True),
        ),
    ),
    "still": Question(
        "Not moving for long.",
        (
            Answer("space", "not moving, not limp", same_sign, usual=True),
            _MOULTED,
            _PUPATED,
            _DEAD,
        ),
    ),
    "store": Question(
        "The store?",
        (
            Answer("space", "still good", say(k.HostSeen, state="fresh"), usual=True),
            Answer("b", _DISCARDED, say(k.HostOut, fate="binned")),
            Answer("a", "new added", lambda asked: [], prompt=begin_host),
        ),
    ),
    "solution": Question(
        "The solution is old. Smell it.",
        (
            Answer("c", "made new", say(k.FoodMade)),
            Answer("space", "still sweet", put_off(24, "smelled, still sweet"), usual=True),
        ),
    ),
    "quarantine": Question(
        "Quarantine time is up.",
        (
            Answer("c", "cleared", say(k.Cleared)),
            Answer("space", "keep another day", put_off(24, "keep another day"), usual=True),
        ),
    ),
    "hatch late": Question(
        "Past the expected hatch.",
        (
            Answer("space", "no change", put_off(24, "no change"), usual=True),
            _HATCHED,
            replace(_DEAD, label="collapsed", says=grown(k.Died, cause="collapsed", stage="egg")),
        ),
    ),
    "emerge late": Question(
        "Past the expected emergence.",
        (Answer("space", "no change", put_off(24, "no change"), usual=True), _EMERGED, _DEAD),
    ),
}

_WAIT = Answer("b", "wait, do not disturb", put_off(10, "not to be disturbed"))
_LID_STAYS_ON = Answer("space", "wait, the lid stays on", put_off(2, "not to be disturbed"), usual=True)
_SET_BESIDE = replace(_ADDED, label="fresh set beside them", takes=None)
_READ_AGAIN = QUESTIONS["heat"].answers[-1]
_ALL_WELL = Answer("space", "looked, all well", put_off(2, "looked, all well"), usual=True)
_COOLER_PLACE = Answer("v", "moved to a cooler place", put_off(1, "moved to a cooler place"))
# The room and a shelf hold many cups: what was done is kept as the reason, and the air is to be read again.
_HOT_PLACE = (
    Answer("k", "shaded", put_off(1, "shaded")),
    Answer("a", "lids opened", put_off(1, "lids opened")),
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
        return Question("Too cold to lay. What did you do? It is asked again in an hour.", _COLD)
    if due.place_kind == "container":
        shade, opened, *others = QUESTIONS["heat"].answers
        return replace(QUESTIONS["heat"], answers=(shade, opened, _COOLER_PLACE, *others))
    return Question("Too warm. What did you do? It is asked again in an hour.", _HOT_PLACE)


QUESTIONS["host"] = Question(
    "The host plant?",
    (
        Answer("space", "fresh", say(k.HostSeen, state="fresh"), usual=True),
        _ADDED,
        Answer("c", "changed, old kept", changed("held"), STEMS),
        _LIMP,
        Answer("y", "yellow", say(k.HostSeen, state="yellow")),
        _ANOTHER_PLANT,
    ),
)


_LEAF_AHEAD = Question(
    "The first may hatch before the next round. Are they dark?",
    (
        Answer("space", "not dark yet", put_off(10, "eggs not dark yet"), usual=True),
        _DARKENING,
        *QUESTIONS["leaf"].answers[:1],
        *QUESTIONS["leaf"].answers[2:],
    ),
)


_STEMS_LEFT = Question(
    "No female is here any more. The stems that she sat on?",
    (Answer("v", "out and kept", taken_out, usual=False), *(one for one in QUESTIONS["host"].answers if one.key != "c")),
)

# A living tree or planted host stays: nothing is changed; a sleeve on it comes to another branch.
_HOST_THAT_GROWS = Question(
    "The plant?", tuple(one for one in QUESTIONS["host"].answers if one.label not in ("new added", "changed, old kept"))
)
_FOOD_THAT_GROWS = Question(
    "What is left to eat?",
    (
        *(one for one in QUESTIONS["food"].answers if one.label in ("plenty", "low", "bare", "limp")),
        Answer("v", "moved to a fresh branch", fresh_branch),
        _ANOTHER_PLANT,
    ),
)
_STICKY = Question(
    "The sticky band?",
    (
        Answer("space", "sound all round", barrier_seen("sound"), usual=True),
        Answer("p", "renewed", topped_up),
        *(one for one in QUESTIONS["ants"].answers if one.label in ("dry", "dirty", "bridged")),
        Answer("a", "ant past it", ants_above, HOW_MANY_ANTS),
    ),
)


def _named(due: Due) -> tuple[str, str]:
    """The container and the shelf that a check is about, one of them empty."""
    return ("", due.where) if due.place_kind == "shelf" else (due.where, "")


_NOTHING_IN = {"food": "No food is in, on record. Put some in?", "host": "No host plant is in, on record. Put one in?"}
_TOUCHES = frozenset({"new added", "changed", "changed, old kept", "another plant"})


def question_for(bench: Bench, due: Due, now: datetime | None = None) -> Question:
    """The question that a due check asks, with the answers that fit what is there.

    Args:
        now: when it is asked; without it, as if nothing were to be left undisturbed.
    """
    container = bench.at(due.where) if due.place_kind == "container" else None
    undisturbed = container is not None and now is not None and left_be_until(container, now) is not None
    question = _question_for(bench, due, container)
    return _through_the_lid(question, due.check, container) if undisturbed else question


def _through_the_lid(question: Question, check: str, container: Container | None) -> Question:
    """Only what a look from outside can answer; where there is nothing to see, to wait is an answer. Those that may still eat
    can have food set beside them, one that is thirsty can drink through gauze.
    """
    if check == "drink" and container is not None and is_open_lid(container):
        kept = tuple(replace(one, usual=False) for one in question.answers if one.label in ("drank", "only offered"))
        return Question("A drink through the gauze, the lid on?", (_LID_STAYS_ON, *kept))
    if check in ("drink", "leaf", "turn"):
        others = tuple(replace(one, usual=False) for one in question.answers if one.key != _LID_STAYS_ON.key)
        return Question(f"The lid stays on: wait? Or opened all the same: {question.text}", (_LID_STAYS_ON, *others))
    if check not in ("look", "food", "host"):
        return question
    if question.text == _NOTHING_IN.get(check):
        return replace(question, answers=(_WAIT, *(one for one in question.answers if one.prompt)))
    beside = (_SET_BESIDE,) if check == "food" else ()
    kept = (*(one for one in question.answers if one.label not in _TOUCHES), *beside)
    asked = {"look": "What do you see through the lid?", "food": "Food left, seen through the lid?"}
    return Question(asked.get(check, "The host plant, seen through the lid?"), kept)


def _question_for(bench: Bench, due: Due, container: Container | None) -> Question:
    if due.check in _NOTHING_IN and container is not None and not container.hosts:
        return Question(_NOTHING_IN[due.check], (_ADDED, _ANOTHER_PLANT))
    if due.check == "heat":
        return _in_units(_heat(due), measures_of(bench.settings))
    if due.check == "leaf" and due.rule is not None and due.rule.condition == "may hatch":
        return _LEAF_AHEAD
    if due.check == "look":
        return Question("What do you see?", looks_for(bench.at(due.where)))
    if due.check in ("host", "food") and container is not None and all(host.kept == "living" for host in container.hosts):
        return _FOOD_THAT_GROWS if due.check == "food" else _HOST_THAT_GROWS
    if due.check == "host" and container is not None and container.females_left is not None:
        return _STEMS_LEFT
    if due.check == "ants" and (barrier := bench.barrier_named(*_named(due))) in STICKY:
        return replace(_STICKY, text=f"The {barrier}?")
    if due.check == "frass":
        return frass_question(bench.at(due.where), QUESTIONS["frass"])
    if due.check == "eggs":
        by_aid = replace(QUESTIONS["eggs"], text=f"How many eggs found, by {aid_of(bench)}?")
        return eggs_question(bench.at(due.where), by_aid)
    return _in_units(QUESTIONS[due.check], measures_of(bench.settings))


def _in_units(question: Question, measures: Measures) -> Question:
    """A question about warmth or depth in the keeper's own units."""
    text, answers = question.text, question.answers
    if measures.temperature == "F":
        text = text.replace("21.4", "70.5").replace("15/24", "59/75")
        answers = _taking(answers, DEGREES, "degrees F")
    if measures.length == "in":
        answers = _taking(answers, DEPTH, "depth in inches")
    return replace(question, text=text, answers=answers)


def _taking(answers: tuple[Answer, ...], number: Number, words: str) -> tuple[Answer, ...]:
    return tuple(replace(one, takes=replace(number, words=words)) if one.takes == number else one for one in answers)


# Signs that last over several looks; a look that finds nothing new must not wipe them off the card.
LASTING_SIGNS = frozenset({"darkening", "still", "hanging", "soft pupa", "colouring"})
SIGN_WORDS = {"still": "not moving", "hanging": "hanging up", "soft pupa": "fresh pupa"}


def looks_for(container: Container | None) -> tuple[Answer, ...]:
    """The answers to a look that fit what is in the container, each key once; unchanged is said as what it was."""
    found: dict[str, Answer] = {}
    if container is not None and container.sign in LASTING_SIGNS and container.lots:
        sign = container.sign
        found["space"] = Answer("space", f"{SIGN_WORDS.get(sign, sign)} as before", say(k.Looked, sign=sign), usual=True)
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
        Answer("b", "not touched", lambda asked: []),
        Answer("m", "no time", lambda asked: []),
        Answer("k", "looked, not needed", lambda asked: []),
        Answer("o", OTHER_WORDS, lambda asked: []),
    ),
)
