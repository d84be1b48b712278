"""What a book's own records say about its plan: what may be eased, what should be tightened, what
is not known well enough.

Nothing changes by itself: an ``Offer`` is a line that the keeper may say. A rule that guards life
is never eased because nothing was seen; only what was measured (how long a plant stays fit) moves
its hours.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import floor
from typing import Any

from msgspec import Struct

from rounds.bench.folding.freshness import key_of as freshness_key
from rounds.bench.measures import measures_of
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Looks
from rounds.biology.proportions import exact_share
from rounds.biology.survival import kaplan_meier
from rounds.checks.ants import all_moats
from rounds.checks.host import CHECK as HOST
from rounds.checks.plan import LEARNED, PlanLine, plan_of
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.checks.time_format import hours_words
from rounds.checks.worth import duration, question_of
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.forecasts.moats import loss_basis, loss_rate, lowering
from rounds.tallies.detection import shares_found_anywhere

# a setting 'offer.clean' is how much evidence there was when the keeper wanted no more of it
OFFER_SETTING = "offer."
LEAST_LOOKS = 30  # that found nothing; our estimate
LEAST_GONE_OFF = 8  # plants seen to go off; our estimate
LEAST_READINGS = 4  # of a moat; our estimate
LEAST_EGGS = 20
RARELY = 0.05  # so often it would be found, to tell how surprising it is that it was not
STEP_H = 12.0
MAX_EVERY_H = 96.0


class Offer(Struct, frozen=True):
    """Something to take over into the plan, with its evidence.

    Args:
        id: names it; ``weight`` is how much evidence there is, so that one that was declined comes
            back once that doubled.
        rule, records, plan, may_be: what it is about, what the records say, the hours of now, and
        those that may be.
        eases: asked less often; else more often, or sooner late.
        why: the evidence in sentences, what it saves, and what it may cost.
        kind, fields: the line that takes it over.
    """

    id: str
    weight: int
    rule: str
    records: str
    plan: str
    may_be: str
    eases: bool
    why: tuple[str, ...]
    kind: type[Entry]
    fields: dict[str, Any]


class Open(Struct, frozen=True):
    """Something that is not known well enough, or that no records may ease: what would make it
    enough, or why."""

    rule: str
    records: str
    wants: str


def offers(bench: Bench, moment: Moment) -> tuple[Offer, ...]:
    """What may be taken over, but for what the keeper declined and whose evidence has not doubled
    since."""
    result = (*_where_nothing_was_found(bench, moment), *_plants(bench, moment))
    return tuple(offer for offer in result if offer.weight >= 2 * declined(bench, offer.id))


def declined(bench: Bench, offer_id: str) -> float:
    """How much evidence there was when the keeper wanted no more of an offer; 0 where that was
    never said."""
    try:
        return float(bench.settings.get(f"{OFFER_SETTING}{offer_id}", "0") or 0)
    except ValueError:
        return 0.0


def not_settled(bench: Bench, moment: Moment) -> tuple[Open, ...]:
    """What is not on record well enough, and what is never eased by what was not seen."""
    known = {offer.id for offer in offers(bench, moment)}
    return (
        *_easing_wants(bench, known),
        *_plants_want(bench, known),
        *_moats(bench, moment),
        *_searches(bench),
        *_guards(bench),
    )


def looks_of(bench: Bench, question: str) -> Looks:
    """All answers to a question."""
    result = [one for key, one in bench.looks_made.items() if key.startswith(f"{question}|")]
    made, found = sum(one.made for one in result), sum(one.found for one in result)
    timed, seconds = sum(one.timed for one in result), sum(one.seconds for one in result)
    first = min((one.first for one in result if one.first), default=None)
    last = max((one.last for one in result if one.last), default=None)
    return Looks(made, found, timed, seconds, first, last)


def _learned(moment: Moment, words: str) -> str:
    now = moment.now.astimezone(moment.zone)
    return f"{LEARNED} {now.day} {now:%b %Y}: {words}"


# where nothing was ever found


def _easy() -> Iterator[str]:
    return (check.name for check in CHECKS.values() if check.value.eases)


def _where_nothing_was_found(bench: Bench, moment: Moment) -> Iterator[Offer]:
    for name in _easy():
        looks, lines = looks_of(bench, question_of(name)), _lines(bench, name)
        standing = [line for line in lines if not line.off]
        if not standing:
            continue
        every = min(line.rule.period_h or 12.0 for line in standing)
        changes = [change for change in bench.plan if change.check == name]
        is_learned = any(change.why.startswith(LEARNED) for change in changes)
        enough = looks.made >= LEAST_LOOKS and 2 * every <= MAX_EVERY_H
        if looks.found and is_learned:
            yield _back_again(moment, name, looks, every)
        elif enough and not (looks.found or is_learned):
            yield _half_as_often(moment, name, looks, every)


def _lines(bench: Bench, name: str) -> list[PlanLine]:
    plan = plan_of(bench)
    return [
        plan.line(rule, purpose)
        for rule in CHECKS[name].rules
        if rule.every_h != 0  # what is asked at once is not asked less often
        for purpose in rule.purposes or ("",)
    ]


def _half_as_often(moment: Moment, name: str, looks: Looks, every: float) -> Offer:
    made, usual = looks.made, CHECKS[name].value.seconds
    seconds = looks.seconds / looks.timed if looks.timed else usual
    chance = (1 - RARELY) ** made
    most = exact_share(0, made).high
    took = duration(made * seconds)
    estimate = "" if looks.timed else " (by the usual time it takes)"
    records = f"nothing found in {made} of {made}"
    return Offer(
        name,
        made,
        CHECKS[name].label,
        records,
        hours_words(every),
        hours_words(2 * every),
        True,
        (
            (
                f"It was done {count(made, 'time')}{_span(looks, moment)} and took {took} in"
                f" all{estimate}."
            ),
            (
                f"Nothing was found. If it were found 1 time in 20, to see none in {made} would"
                f" happen {100 * chance:.1f} times in 100."
            ),
            (
                f"Every {hours_words(2 * every)} saves {duration(made * seconds / 2)} in such a"
                f" time. It may cost: something in at most 1 of {1 / most:.0f} is found half of"
                " that time later."
            ),
            (
                f"If anything is found later, this page shows it and offers {hours_words(every)}"
                " again."
            ),
        ),
        k.PlanChanged,
        {"check": name, "every_h": 2 * every, "why": _learned(moment, records)},
    )


def _back_again(moment: Moment, name: str, looks: Looks, every: float) -> Offer:
    usual = min(rule.period_h or 12.0 for rule in CHECKS[name].rules if rule.every_h != 0)
    records = f"{looks.found} of {looks.made} found something"
    return Offer(
        f"{name} again",
        looks.found,
        CHECKS[name].label,
        records,
        hours_words(every),
        hours_words(usual),
        False,
        (
            f"{records}, after it was asked less often for finding nothing.",
            "What was learned is taken back by it.",
        ),
        k.PlanChanged,
        {"check": name, "every_h": usual, "why": _learned(moment, records)},
    )


def _span(looks: Looks, moment: Moment) -> str:
    if looks.first is None or looks.last is None:
        return ""
    first, last = (at.astimezone(moment.zone) for at in (looks.first, looks.last))
    return f" from {first.day} {first:%b} to {last.day} {last:%b %Y}"


def _easing_wants(bench: Bench, known: set[str]) -> Iterator[Open]:
    for name in _easy():
        looks = looks_of(bench, question_of(name))
        if looks.made and name not in known and not looks.found and looks.made < LEAST_LOOKS:
            records = f"nothing found {looks.made} times of {looks.made}"
            yield Open(CHECKS[name].label, records, f"{LEAST_LOOKS - looks.made} more needed")


# plants


def _plants(bench: Bench, moment: Moment) -> Iterator[Offer]:
    for key, stays in bench.stayed_fresh.items():
        plant, _, kept = key.partition("|")
        gone_off = sum(stayed_fresh.went_off for stayed_fresh in stays)
        if gone_off < LEAST_GONE_OFF:
            continue
        curve = kaplan_meier([stay.hours for stay in stays], [fresh.went_off for fresh in stays])
        if curve.median is None or curve.median_low is None:
            continue
        now = _keeps(bench, plant, kept)
        learned = max(STEP_H, floor(curve.median_low / STEP_H) * STEP_H)
        if now is None or abs(learned - now) < STEP_H:
            continue
        high = f" to {_days(curve.median_high)}" if curve.median_high is not None else " or more"
        records = f"fit for {_days(curve.median)} d ({_days(curve.median_low)}{high})"
        known = bench.plants.get(plant, {}).get(kept)
        yield Offer(
            f"plant {freshness_key(plant, kept)}",
            len(stays),
            f"{plant}, {kept}",
            records,
            hours_words(now),
            hours_words(learned),
            learned > now,
            (
                (
                    f"{count(gone_off, 'cutting')} of {len(stays)} were seen to go limp, yellow or"
                    " mouldy; the others came out before."
                ),
                (
                    f"Half are fit for {_days(curve.median)} days, with 95 % limits (Kaplan and"
                    " Meier); what may be is the lower limit."
                ),
                "It is looked at each round as before; by these hours it is late.",
            ),
            k.PlantKnown,
            {
                "name": plant,
                "kept": kept,
                "hours": learned,
                "irritant": bool(known and known.irritant),
                "why": _learned(moment, records),
            },
        )


def _keeps(bench: Bench, plant: str, kept: str) -> float | None:
    """How long a plant is held to keep: as the keeper said, else by the rule of the host."""
    known = bench.plants.get(plant, {}).get(kept)
    if known is not None:
        return float(known.hours)
    wet = "host in water" if kept == "water" else "host cut dry"
    rule = next((rule for rule in HOST.rules if rule.condition == wet), None)
    return rule.amber_h if rule is not None else None


def _plants_want(bench: Bench, known: set[str]) -> Iterator[Open]:
    for key, stays in bench.stayed_fresh.items():
        plant, _, kept = key.partition("|")
        gone_off = sum(stayed_fresh.went_off for stayed_fresh in stays)
        if f"plant {key}" not in known and gone_off < LEAST_GONE_OFF:
            records = f"{gone_off} of {count(len(stays), 'cutting')} limp or yellow"
            wants = f"{LEAST_GONE_OFF - gone_off} more have to be seen so before this says anything"
            yield Open(f"{plant}, {kept}", records, wants)


def _days(hours: float) -> str:
    return f"{hours / 24:.1f}"


# moats


def _moats(bench: Bench, moment: Moment) -> Iterator[Open]:
    """What each moat loses by its own readings: it moves when the barrier is asked by itself."""
    for name, moat in all_moats(bench):
        low = lowering(bench, moat, moment.now)
        if low is None or low.loss.rests_on != "own readings":
            continue
        loss = low.loss
        records = f"loss {loss_rate(loss, measures_of(bench.settings), limits=True)}"
        wants = "asked by that already, sooner if it is low"
        if loss.readings < LEAST_READINGS:
            wants = f"{LEAST_READINGS - loss.readings} more readings"
        yield Open(f"moat of {name}", records, f"{loss_basis(loss)}; {wants}")


# what no records ease


def _searches(bench: Bench) -> Iterator[Open]:
    for aid, known in shares_found_anywhere(bench).items():
        made = known.eggs
        if not made:
            continue
        records = (
            f"finds {10 * known.share:.0f} of 10 ({10 * known.low:.0f} to {10 * known.high:.0f})"
        )
        wants = (
            f"{LEAST_EGGS - made} more eggs"
            if made < LEAST_EGGS
            else "over all plants; kept stems go by that of their plant"
        )
        yield Open(f"search by {aid}", records, wants)


def _guards(bench: Bench) -> Iterator[Open]:
    """The questions that guard life and were answered most."""
    seen: set[str] = set()
    for check in CHECKS.values():
        question = question_of(check.name)
        guards = check.severity >= 2 or any(rule.harm_h for rule in check.rules)
        if not guards or not question or question in seen or check.value.chance >= 1.0:
            continue
        seen.add(question)
        looks = looks_of(bench, question)
        if looks.made >= LEAST_LOOKS:
            records = f"{looks.found} of {looks.made} found something"
            yield Open(check.label, records, "guards life: not eased by what was not seen")


def since_words(bench: Bench, moment: Moment) -> str:
    """How many answers there are, since when."""
    made = sum(one.made for one in bench.looks_made.values())
    firsts = [looks.first for looks in bench.looks_made.values() if looks.first]
    if not firsts:
        return "no answers yet"
    first = min(firsts).astimezone(moment.zone)
    return f"{count(made, 'answer')} since {first.day} {first:%b %Y}"
