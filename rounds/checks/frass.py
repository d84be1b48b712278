"""Looking for frass (droppings) under kept stems: the first sign of eggs that nobody found."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.bench.folding.kept_stems import watched_for_frass
from rounds.bench.state import Bench, Container, KeptLot
from rounds.checks import eggs
from rounds.checks.answers import say
from rounds.checks.base import Check, Helped, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import KEPT_STEMS, LEFT_STANDING, ContainerContext
from rounds.checks.question import Answer, Begun, Question, Says
from rounds.checks.reckon import TimedRule, make_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import COMMON, ESTIMATE, Rule, hours
from rounds.checks.stems import has_shown, looked_under, lot_words
from rounds.entries import registry as k

# under that chance of live eggs a lot is looked under every other day; our estimate
FEW = 0.1
A_DAY = timedelta(days=1)


def reckon(context: ContainerContext, rule: TimedRule) -> Due | None:
    """Each lot has its own watch: counts from the last look under the lot that waits longest for
    one that can show anything."""
    lots = watched_for_frass(context.bench, context.container)
    if not lots:
        return None
    since = {held.lot: _watched_from(context, rule, held) for held in lots}
    later = {held.lot: _later(context, held) for held in lots}
    waits = min(lots, key=lambda held: since[held.lot] + later[held.lot])
    looked, start = looked_under(waits), since[waits.lot]
    reasons = [f"{lot_words(lots, waits)} waits longest"] if len(lots) > 1 else []
    first = None
    if start > looked:  # asked in the first round in which there can be any
        hatch = start + rule.every
        first = context.moment.next_two(hatch)[0]
        reasons.append(f"few can hatch before {context.moment.clock(hatch)}")
    elif later[waits.lot]:
        reasons.append("hardly any live egg on it by all that is known, so every other day")
    last = context.container.last.get("frass")
    start += later[waits.lot]
    due = make_due(context, rule, start, last, first, waits.plant, ", ".join(reasons))
    return replace(due, since=looked)


def _watched_from(context: ContainerContext, rule: TimedRule, held: KeptLot) -> datetime:
    """From when the hours of a lot count: from the last look, but no earlier than a look before the
    first egg that may be hidden on it can hatch, for nothing that is not hatched leaves frass or
    starves; once frass showed they have."""
    looked = looked_under(held)
    first = None if has_shown(held) else context.foresight.first_hatch(context.container, held)
    return looked if first is None else max(looked, utc(first) - rule.every)


def _later(context: ContainerContext, held: KeptLot) -> timedelta:
    """How much later a lot is looked under that hardly bears any live egg, none of which showed."""
    chance = context.foresight.chance(context.container, held, context.moment.told_now)
    few = not has_shown(held) and not chance.unsearched and chance.chance < FEW
    return A_DAY if few else timedelta(0)


def _under(lots: tuple[str, ...], level: str = "trace") -> Says:
    return say(k.FrassSeen, level=level, **({"lots": lots} if lots else {}))


_NONE_UNDER_ANY, _UNDER_ONE = _under((), "none"), _under(())


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """Asked lot by lot where several are kept: each has its own watch, and an unknown lot ends
    none. What may be eggs on them is settled here too."""
    question = _by_lot(due, container)
    if not container or not container.held or not container.unsure:
        return question
    seen, of = container.unsure[0], eggs.unsure_words(container)
    more = (
        Answer("e", f"{of}: eggs", eggs.settled(seen.number, seen), stays=True),
        Answer("o", f"{of}: no eggs", eggs.settled(0, seen), stays=True),
    )
    return replace(question, answers=(*question.answers, *more))


def _by_lot(due: Due, container: Container | None) -> Question:
    held = container.held if container else []
    if len(held) < 2:
        stem_words = "the kept stems" if held else "the stems that she left"
        text = CHECK.question.text.replace("the kept stems", stem_words)
        return replace(CHECK.question, text=text)
    lots = tuple(
        Answer(str(lot.number), f"under lot {lot.number}", _under((lot.lot,)))
        for lot in held
        if lot.number <= 9
    )
    begun = Begun(f"{due.where} frass trace lot=")
    more = [Answer("b", "under another lot", lambda context: [], prompt=lambda context: begun)]
    answers = (
        Answer("0", "none under any lot", _NONE_UNDER_ANY, usual=True),
        *lots,
        *(more if len(held) > len(lots) else []),
        Answer("a", "under all lots", _under(tuple(lot.lot for lot in held))),
        Answer("y", "lot not known, all stay", _UNDER_ONE),
    )
    return Question("Is there frass (droppings) on the paper?", answers)


def glance(bench: Bench, due: Due, container: Container, now: datetime) -> str:
    """That there is no frass, where nothing but kept stems is there and none was seen before."""
    shown = any(has_shown(held) for held in container.held)
    return "" if container.lots or shown else "no frass on the paper"


CHECK = Check(
    name="frass",
    undone=("not been looked at for frass", "has not been looked at for frass", "look for frass"),
    help="Pinprick frass under a kept stem is the first sign of eggs that nobody found.",
    value=Value(20, 0.1, 0.3, "kept stems"),
    severity=2,
    place=190,
    answered_by=("frass", "hatched"),
    rules=(
        Rule(
            when=KEPT_STEMS,
            **hours(late=36, urgent=60, danger=84),
            daily=True,
            basis=(
                f"kept stems looked at for frass every day: {COMMON}; every other day if the"
                f" chance of live eggs is under {FEW:.0%}; hours: our estimate"
            ),
        ),
        Rule(
            when=LEFT_STANDING,
            **hours(late=36, urgent=60, danger=84),
            daily=True,
            basis=f"stems left by females may bear hidden eggs as kept stems do: {ESTIMATE}",
        ),
    ),
    reckon=reckon,
    glance=glance,
    at_risk=("larvae may be on kept stems: look for frass", "larvae on kept stems? look for frass"),
    leads=True,
    question=Question(
        "Is there frass (droppings) under the kept stems?",
        (
            Answer("0", "none", say(k.FrassSeen, level="none"), usual=True),
            Answer("r", "a little", say(k.FrassSeen, level="trace")),
            Answer("p", "clearly there", say(k.FrassSeen, level="plain")),
        ),
    ),
    ask=ask,
    helped=(Helped("Black specks under the stems? Telephone.", outside=True),),
)
