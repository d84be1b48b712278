"""No eggs so far: one thing may be changed, and that is the keeper's to decide."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.bench.folding.female_days import females_here
from rounds.bench.folding.sought import days_searched
from rounds.bench.state import Bench, Container
from rounds.checks.answers import ANOTHER_PLANT, INTO_SHADE, begun, put_off, say, unchanged
from rounds.checks.base import Check, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import FEMALE, Condition, ContainerContext
from rounds.checks.question import Answer, Question
from rounds.checks.reckon import TimedRule, applies_from, make_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import LAYING, Rule, hours
from rounds.entries import registry as k
from rounds.forecasts.no_eggs import (
    LEAST_DAYS,
    MUCH,
    PATIENCE_DAYS,
    SECOND_PLANT_DAYS,
    days_waited,
    lacked,
    laid_before,
    plant_waited_for,
    why_no_eggs,
)


def reckon(context: ContainerContext, rule: TimedRule) -> Due | None:
    """Counts warm, fed female-days with the plant species since its last egg, those that searches
    looked at, however often its stems are renewed; of a plant alone that had no egg a third of the
    hours, as a second may be set beside it; of those hungry for most of the wait not before they
    were fed for as long. Only a search brings it: they count back from the last,
    and while they are too few it comes when another may find enough, if they stay warm and fed. Not
    while something that may be eggs waits to be settled there."""
    container = context.container
    females = [lot for lot in females_here(container) if lot.sex == "female"]
    number = sum(lot.number for lot in females)
    if not number:
        return None
    bench, laid = context.bench, context.foresight.laid
    plant = plant_waited_for(bench, container, females, container.without_eggs, laid)
    if any(unsure.fits(plant, ()) for unsure in container.unsure):
        return None
    waited = container.without_eggs.get(plant)
    searched = days_searched(waited) if waited else 0.0
    counted = timedelta(days=searched / number)
    began, last = applies_from(context, rule), waited.searched_at if waited else None
    stood = timedelta(days=waited.female_days / number if waited else 0.0)
    stood_to = max(utc(at) for at in (began, container.accounted, container.waited) if at)
    anew = max(began, utc(waited.since) if waited else stood_to)
    start = max(anew, utc(last) - counted) if last else anew
    alone = all(host.plant == plant for host in container.hosts)
    before = laid_before(bench, females, plant, laid)
    part = SECOND_PLANT_DAYS / PATIENCE_DAYS if alone and not before.eggs else 1.0
    needed, due = part * rule.every / number, None
    if waited and lacked(waited) == "food":  # fed days are to outweigh the hungry ones first
        fed = waited.hungry / MUCH - waited.amiss
        needed = max(needed, timedelta(days=fed / number))
    if rule.every and last and counted >= needed:
        due = min(utc(last), start + needed)
    elif rule.every:
        due = stood_to - stood + needed
        if context.moment.passed(due):
            return None
    reason = ""
    if waited and searched >= LEAST_DAYS:
        new = "new " if before.eggs else ""
        days = days_waited(bench, females, waited, searched)
        reason = f"no {new}eggs in {days} on {plant}"
    late = start + rule.late / number if rule.late else None
    if late and due:
        late = max(late, due)
    return make_due(context, rule, start, None, due, plant, reason, None, late)


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """Usual is what the evidence favours; whatever it is, the keeper decides."""
    newest = bench.newest
    known = why_no_eggs(bench, container, newest) if container and newest else None
    if known is None:
        return CHECK.question
    text, favoured = f"{known.heading}. {known.verdict}", _ANSWERS.get(known.favoured)
    lacks = known.favoured in ("food", "warmth")  # no plant is to blame yet
    if favoured is None:  # to wait, or what another check asks for
        answers = CHECK.question.answers
        answers = tuple(one for one in answers if not (lacks and one is ANOTHER_PLANT))
        return replace(CHECK.question, text=text, answers=answers)
    if known.favoured == "another plant" and known.best is not None:
        plant = known.best.plant
        favoured = replace(favoured, prompt=lambda asked: begun(asked, [plant]))
    others = tuple(
        replace(answer, usual=False)
        for answer in (_WAIT, ANOTHER_PLANT, _INTO_SUN, INTO_SHADE)
        if answer.key != favoured.key and not (lacks and answer is ANOTHER_PLANT)
    )
    return Question(text, (replace(favoured, usual=True), *others))


_WAIT = Answer("0", "nothing yet", put_off(24, "nothing yet"))
_INTO_SUN = Answer("s", "into sun", say(k.Light, to="sun"))
_ANSWERS = {"another plant": ANOTHER_PLANT, "second plant": ANOTHER_PLANT, "warmth": _INTO_SUN}

CHECK = Check(
    name="change",
    help=(
        "After one warm, fed female-day on one plant, offer a second plant beside it; after three,"
        " change one thing at a time. You decide; i weighs what may be missing."
    ),
    value=Value(75, 0.3, 0.02, "eggs to be laid"),
    severity=1,
    place=130,
    answered_by=("host in", "light"),
    disturbs=True,
    discards=True,
    in_passing=True,
    own_end=True,
    rules=(
        Rule(
            LAYING,
            "adult",
            Condition("no eggs", lambda facts: bool(facts.stages & FEMALE) and facts.kept != ""),
            **hours(72, late=96),
            female_days=True,
            basis=(
                "warm, fed female-days; a third of them if one plant stands alone and had no"
                " eggs, since a second plant beside it costs little (our estimate): first eggs 2 to"
                " 3 days after pairing (David & Gardiner 1962); a first generation from the"
                " wild laid on 3 of 16 days (Lewis & Thomas 2001); the keeper decides"
            ),
        ),
    ),
    reckon=reckon,
    ask=ask,
    question=Question(
        "No eggs were found lately. Do you change one thing?",
        (unchanged("wait another day"), ANOTHER_PLANT, _INTO_SUN, INTO_SHADE),
    ),
)
