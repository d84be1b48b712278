"""Cut host plant in store."""

from __future__ import annotations

from rounds.checks.answers import DISCARDED, begin_host, say
from rounds.checks.base import Check, Helped, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import ContainerContext
from rounds.checks.host import ask_how_old, first_open, last_looked
from rounds.checks.question import Answer, Question
from rounds.checks.reckon import TimedRule, make_due, newest
from rounds.checks.round_clock import utc
from rounds.checks.rule import DAY, Rule, hours
from rounds.entries import registry as k


def reckon(context: ContainerContext, rule: TimedRule) -> Due | None:
    """Looked at once a day; late by the age of what was cut first, urgent where it went bad."""
    cut = context.host
    if cut is None:
        return None
    if not_looked_at := first_open(context.container.hosts):
        return ask_how_old(context, rule, not_looked_at)
    last = newest(context.container.last, rule.kinds)
    looked = last_looked(context, rule, cut, last)
    due = context.moment.next_daily(looked) if rule.daily else looked + rule.every
    bad = next(
        (host for host in context.container.hosts if host.state in ("yellow", "mouldy", "eaten")),
        None,
    )
    if bad is None:
        return make_due(context, rule, utc(cut.cut), last, due, cut.plant)
    seen = utc(bad.seen or bad.put_in)
    reason = f"{bad.plant} seen {bad.state}"
    return make_due(context, rule, utc(bad.cut), last, seen, bad.plant, reason, seen, seen, seen)


CHECK = Check(
    name="store",
    help="Cut host in the cold keeps some days; discard what is slimy or yellow.",
    value=Value(60, 0.3, 0.0, "nothing"),
    severity=1,
    place=260,
    answered_by=("host seen", "host in", "host out"),
    rules=(
        Rule(
            ("host store",),
            **hours(late=5 * DAY, urgent=7 * DAY),
            daily=True,
            basis=(
                "cut host in the cold: milkweed four to five days in bags (University of "
                "Kansas monarch programme); a week at most: our estimate"
            ),
        ),
    ),
    needs=lambda facts: facts.kept != "",
    reckon=reckon,
    question=Question(
        "Are the stored stems still good?",
        (
            Answer("space", "still good", say(k.HostSeen, state="fresh"), usual=True),
            Answer("b", DISCARDED, say(k.HostOut, fate="binned")),
            Answer("a", "new added", lambda context: [], prompt=begin_host),
        ),
    ),
    helped=(Helped("Take out slimy, yellow stems, add water.", touches=True, outside=True),),
    cautions=("insecticide",),
)
