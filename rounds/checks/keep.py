"""How long kept stems are kept."""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from rounds.bench.state import Bench, Container, KeptLot
from rounds.checks.answers import DISCARDED, unchanged
from rounds.checks.base import Check, Value
from rounds.checks.due_state import Due
from rounds.checks.early_discard import hidden_on_lot
from rounds.checks.facts import KEPT_STEMS, ContainerContext
from rounds.checks.question import Answer, AnswerContext, Question
from rounds.checks.reckon import TimedRule, make_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import DAY, Rule
from rounds.checks.stems import foresight_of, has_shown, lot_words, lots_named
from rounds.checks.time_format import chance_words
from rounds.entries import registry as k
from rounds.entries.base import Saying
from rounds.forecasts.kept_stems import Chance


def reckon(context: ContainerContext, rule: TimedRule) -> Due | None:
    """When the first lot may go: once its chance of live eggs is under the aim; none while frass
    shows, or while larvae may be in it that nobody saw or could count."""
    lots = context.container.held
    held = [one for one in lots if not has_shown(one) and not hidden_on_lot(context.bench, one)]
    if not held:
        return None
    oldest = min(held, key=lambda one: utc(one.taken_out))
    if not rule.rule.computed:
        return make_due(context, rule, utc(oldest.taken_out), subject=oldest.plant)
    chances = [(lot, _chance_now(context, lot)) for lot in held]
    dated = [(utc(chance.keep_until), one, chance) for one, chance in chances if chance.keep_until]
    if not dated:
        return None
    until, first, chance = min(dated, key=lambda one: one[0])
    words = (
        f"chance of viable eggs {chance_words(chance.chance)}, keep until"
        f" {context.moment.clock(until)}"
    )
    may_go = [lot for lot, chance in chances if chance.may_go] or [first]
    named = "; ".join(lot_words(lots, lot) for lot in may_go)
    reason = f"{named if len(lots) > 1 else f'{first.plant} {first.batch}'}: {words}"
    if not chance.may_go:  # a look is wanted first, and is asked for by itself
        until = max(until, context.moment.coming_anchor())
    return make_due(context, rule, utc(first.taken_out), None, until, first.plant, reason)


def _chance_now(context: ContainerContext, lot: KeptLot) -> Chance:
    """The chance of a lot; what is told of it here holds until a look that is written down counts,
    or the next is missed, or its winter is over, or it may go."""
    moment = context.moment
    chance = context.foresight.chance(context.container, lot, moment.told_now)
    for instant in (*lot.frass_looks, chance.next_look, chance.winter_over, chance.keep_until):
        if instant is not None:
            moment.passed(instant)
    return chance


def _discarded(context: AnswerContext) -> list[Saying]:
    """Only those lots that the question is about are discarded, as far as they may go; where none
    may, the desk says why, as for a typed line."""
    container = context.container
    if container is None:
        return []
    foresight = foresight_of(context)
    meant = lots_named(container, context.due) or container.held
    gone = tuple(
        held.lot
        for held in meant
        if foresight.chance(container, held, context.now).may_go
        and not hidden_on_lot(context.bench, held)
    )
    every = tuple(held.lot for held in meant)
    return [(k.HostOut, context.here | {"fate": "binned", "lots": gone or every})]


KEEP = unchanged("keep another day")


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """Whether to discard them, by number, plant and cup where others stay; not before they were
    kept long enough, where a look is wanted."""
    if now is not None and due.due > now:
        return Question("These stems were not kept long enough yet.", (KEEP,))
    meant = lots_named(container, due)
    if not container or not meant:
        return CHECK.question
    named = "; ".join(lot_words(container.held, lot) for lot in meant)
    stems = f"{named[0].upper()}{named[1:]}"
    text = f"{stems}: kept long enough. Discard {'them' if len(meant) > 1 else 'it'}?"
    return replace(CHECK.question, text=text)


CHECK = Check(
    name="keep",
    help="Stems are kept until a hidden egg would have hatched.",
    value=Value(60, 1.0, 0.0, "nothing"),
    severity=1,
    place=200,
    answered_by=("host out",),
    disturbs=True,
    discards=True,
    own_end=True,
    rules=(
        Rule(
            when=KEPT_STEMS,
            every_h=14 * DAY,
            computed=True,
            basis=(
                "kept until the chance of viable eggs is under 1 %, by searches and warmth; Bayes'"
                " rule, see Laying"
            ),
        ),
    ),
    reckon=reckon,
    ask=ask,
    question=Question(
        "These stems were kept long enough. Discard them?",
        (KEEP, Answer("b", DISCARDED, _discarded)),
    ),
)
