"""Answers that several questions share, and what they record: the entries that each makes from what
was asked and typed.

A word has the same key in every question. d is always drank, h hand-fed, l limp, m moulted, s not
moving, 0 none, ' condensation; f is found dead, and no answer that ends animals is one key. A
number typed before a key goes with it; a number and Enter are an answer only where the question
asks for that number. Space gives the usual answer, where there is one that a look alone can give.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from msgspec.structs import replace

from rounds.bench.plants_of import plants_for
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Container, Host, Lot
from rounds.checks.question import (
    DEGREES,
    HOW_MANY,
    STEMS,
    Answer,
    AnswerContext,
    Begun,
    Number,
    Question,
    Says,
)
from rounds.checks.stems import likely_host, likely_hosts
from rounds.entries import registry as k
from rounds.entries.base import Entry, Saying, Stage

AGAIN = "b"  # of what was seen to fail, or is reckoned to: it is good again, or yet


def say(kind: type[Entry], **fields: Any) -> Says:
    return lambda context: [context.saying(kind, **fields)]


def counted_or_one(context: AnswerContext) -> int:
    """The number typed; one where none was."""
    return 1 if context.whole is None else context.whole


def with_number(kind: type[Entry], **fields: Any) -> Says:
    def says(context: AnswerContext) -> list[Saying]:
        given = {} if context.whole is None else {"number": context.whole}
        return [(kind, context.here | fields | given)]

    return says


def offered(context: AnswerContext) -> list[Saying]:
    """None of them drank: food was put before them."""
    return [(k.Offered, context.here)]


def seen_failing(question: Question, good: str = "again") -> Question:
    """The same question of what was seen to fail: Space says nothing, what is new comes first, and
    that it is good again after all has a letter."""
    usual = question.usual
    if usual is None:
        return question
    again = replace(usual, key=AGAIN, label=f"{usual.label} {good}", usual=False)
    renewed = [one for one in question.answers if one.takes is STEMS or one.prompt is not None]
    others = [one for one in question.answers if one is not usual and one not in renewed]
    return replace(question, answers=(*renewed, *others, again))


def put_off(hours: float, why: str) -> Says:
    def says(context: AnswerContext) -> list[Saying]:
        until = context.now + timedelta(hours=hours)
        return [(k.PutOff, context.here | {"check": context.due.check, "until": until, "why": why})]

    return says


def fresh_host(context: AnswerContext, host: Host) -> Saying:
    sprigs = context.whole if context.number is not None else host.sprigs
    return context.saying(k.HostIn, plant=host.plant, part=host.part, kept=host.kept, sprigs=sprigs)


def added(context: AnswerContext) -> list[Saying]:
    hosts = likely_hosts(context.bench, context.container)
    return [fresh_host(context, host) for host in hosts]


def changed(fate: str, *, here: bool = False, sure: bool = False) -> Says:
    """All that stood there comes out, and each of its plants goes in fresh.

    Args:
        here: kept stems stay in the container.
        sure: they are discarded though young larvae may be on them, for they were looked over.
    """

    def says(context: AnswerContext) -> list[Saying]:
        host = likely_host(context.bench, context.container)
        container = context.container
        if host is None or container is None:
            return []
        cut = [one for one in container.hosts if one.kept != "living"]
        old = {(one.plant, one.batch): one for one in cut}
        how = ({} if here else held_in(context, fate)) | ({"sure": True} if sure else {})
        out = [
            context.saying(k.HostOut, plant=one.plant, batch=one.batch, fate=fate, **how)
            for one in old.values()
        ]
        newest = {one.plant: one for one in sorted(cut, key=lambda one: one.cut)} or {
            host.plant: host
        }
        return [*out, *(fresh_host(context, one) for one in newest.values())]

    return says


def held_in(context: AnswerContext, fate: str) -> dict[str, Any]:
    """Kept stems go where this container's stems went before, else to a host store, else where
    stems are kept, else to an empty egg cup; never among stems or animals of another species, whose
    young larvae nobody could tell apart."""
    if fate != "held" or context.container is None:
        return {}
    taxa = _taxa_on_stems(context.bench, context.container)
    standing = [
        container
        for container in context.bench.standing()
        if container is not context.container and _goes_with(context.bench, container, taxa)
    ]
    stores = [one for one in standing if one.is_store]
    cups = [one for one in standing if one.purpose == "eggs" and (one.held or not one.lots)]
    from_here = [
        one for one in stores + cups if any(held.source == context.due.where for held in one.held)
    ]
    containers = [cup for cup in cups if cup.held]
    chosen = next(iter(from_here or stores or containers or cups), None)
    return {"held_in": chosen.code} if chosen else {}


def _taxa_on_stems(bench: Bench, container: Container) -> set[str]:
    """The species that laid, or may have, on what stands in a container."""
    mothers = [mother for host in container.hosts for mother in host.mothers]
    return {bench.taxon_of(code) for code in (*mothers, *(lot.brood for lot in container.lots))} - {
        ""
    }


def _goes_with(bench: Bench, container: Container, taxa: set[str]) -> bool:
    """Whether nothing of another species lives or may hatch in a container."""
    there = {held.taxon for held in container.held} | {
        bench.taxon_of(lot.brood) for lot in container.lots
    }
    return not taxa or there - {""} <= taxa


def begin_host(context: AnswerContext) -> Begun:
    """What is put in, of the one plant that is likely or on record, with the stems counted."""
    likely = likely_hosts(context.bench, context.container)
    return begun(context, [one.plant for one in likely] or _on_record(context))


def begin_another(context: AnswerContext) -> Begun:
    """The same, of no plant that stands there."""
    there = {host.plant for host in context.container.hosts} if context.container else set()
    return begun(context, [plant for plant in _on_record(context) if plant not in there])


def _on_record(context: AnswerContext) -> list[str]:
    return plants_for(context.bench, context.container)


def begun(context: AnswerContext, plants: list[str]) -> Begun:
    """A line that puts a plant in, with the stems counted; which is typed unless one is likely."""
    text = f"{context.due.where} host in "
    stems = "" if context.whole is None else f"{count(context.whole, 'sprig')} "
    return Begun(text, f"{stems}'{plants[0]}'") if len(plants) == 1 else Begun(f"{text}{stems}")


def air(context: AnswerContext) -> list[Saying]:
    if context.number is None:
        return []
    celsius = context.measures.celsius
    read = celsius(context.number)
    if context.second is None:
        return [context.saying(k.Air, temperature_c=read)]
    return [context.saying(k.Air, low_c=read, high_c=celsius(context.second))]


def there(context: AnswerContext, stage: Stage | None) -> int:
    """How many of a stage are here on record; of any stage where none is named."""
    return context.container.count(stage) if context.container else 0


def grown(kind: type[Entry], **fields: Any) -> Says:
    def says(context: AnswerContext) -> list[Saying]:
        number = there(context, kind.grows_from) if context.every else counted_or_one(context)
        return [(kind, context.here | fields | {"number": number})]

    return says


def moulted(context: AnswerContext) -> list[Saying]:
    """One moulted, unless a number or all were typed: then each lot by itself, the oldest instar
    first."""
    larvae = context.container.lots_of("larva") if context.container else []
    if context.every:
        return [
            _moult_of(context, one, larvae) for one in sorted(larvae, key=lambda lot: -lot.instar)
        ]
    youngest = min((lot.instar for lot in larvae), default=1)
    number, instar = counted_or_one(context), max(2, youngest + 1)
    return [context.saying(k.Moulted, number=number, instar=instar)]


def _moult_of(context: AnswerContext, lot: Lot, larvae: list[Lot]) -> Saying:
    brood = {"brood": lot.brood} if len({one.brood for one in larvae}) > 1 else {}
    instar = max(2, lot.instar + 1)
    return context.saying(k.Moulted, number=lot.number, instar=instar, **brood)


DEAD_KEY = "f"
HOW_MANY_DRANK = Number("how many drank")
COUNTED_THERE = Number("how many counted", "count")

DRANK = Answer("d", "drank", with_number(k.Drank), HOW_MANY_DRANK, none=offered)
HATCHED = Answer("y", "hatched", grown(k.Hatched), takes=HOW_MANY)
MOULTED = Answer("m", "moulted", moulted, takes=HOW_MANY)
PUPATED = Answer("p", "pupated", grown(k.Pupated), takes=HOW_MANY)
EMERGED = Answer("e", "emerged", grown(k.Emerged), takes=HOW_MANY)
DEAD = Answer(DEAD_KEY, "found dead", grown(k.Died), takes=HOW_MANY, must=True, loss=True)
DARKENING = Answer("k", "darkening", with_number(k.Looked, sign="darkening"), takes=HOW_MANY)
LIMP = Answer("l", "limp", say(k.HostSeen, state="limp"))
NEW_ADDED = Answer("a", "new added", added, takes=STEMS, touches=True)
ANOTHER_PLANT = Answer("p", "another plant", lambda context: [], prompt=begin_another, touches=True)
# another than what, where none is in
_USUAL_PLANT = replace(NEW_ADDED, label="the usual plant")
_NAMED = replace(ANOTHER_PLANT, label="name the plant", prompt=begin_host)
INTO_SHADE = Answer("k", "into shade", say(k.Light, to="shade"))
LID_OPENED = Answer("a", "lid opened", say(k.LidOpened))
READ_AGAIN = Answer("enter", "read again", air, DEGREES, must=True, by_enter=True)
DISCARDED = "discarded"

_WAIT = Answer("b", "wait, do not disturb", put_off(10, "not to be disturbed"))
LID_STAYS_ON = Answer(
    "space", "wait, the lid stays on", put_off(2, "not to be disturbed"), usual=True
)


A_DAY_LATER_H = 21  # so that a round as early as any is asked a day later


def unchanged(label: str) -> Answer:
    """Space puts the check off to the round a day later; its words are the reason."""
    return Answer("space", label, put_off(A_DAY_LATER_H, label), usual=True)


def none_in(text: str) -> Question:
    """What is asked where no plant is in on record."""
    return Question(text, (_USUAL_PLANT, _NAMED))


def if_known(question: Question, bench: Bench, container: Container) -> Question:
    """The same without 'the usual plant' where no plant is on record for those that are there; the
    stems that are counted are then of the one that is named."""
    if likely_hosts(bench, container) or plants_for(bench, container):
        return question
    known = tuple(
        replace(answer, takes=STEMS) if answer is _NAMED else answer
        for answer in question.answers
        if answer is not _USUAL_PLANT
    )
    return replace(question, answers=known)


def or_opened(question: Question, container: Container) -> Question:
    """Of a container that is not to be disturbed: to wait is the usual answer, and all others
    stand."""
    others = tuple(
        replace(answer, usual=False)
        for answer in question.answers
        if answer.key != LID_STAYS_ON.key
    )
    return Question(
        f"Does the lid stay on? If you opened it: {question.text}", (LID_STAYS_ON, *others)
    )


def seen_through_lid(question: Question, text: str, *beside: Answer) -> Question:
    """Only what a look from outside can answer; where there is nothing to see, to wait is an
    answer."""
    if not any(answer.usual or answer.key == AGAIN for answer in question.answers):
        return replace(question, answers=(_WAIT, *(one for one in question.answers if one.prompt)))
    return Question(text, (*(one for one in question.answers if not one.touches), *beside))
