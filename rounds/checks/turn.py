"""Frass was seen under kept stems: hidden eggs hatched, and their young larvae want food and a
brood of their own."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from msgspec.structs import replace

from rounds.bench.folding.kept_stems import PERHAPS, SHOWN, stems_of
from rounds.bench.kept_lots import found_at
from rounds.bench.mates import possible_fathers
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Container, KeptLot
from rounds.checks import frass
from rounds.checks.answers import counted_or_one, or_opened, put_off
from rounds.checks.base import Check, Helped, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import FRASS_SEEN, ContainerContext, has
from rounds.checks.food import UNFED_BASIS
from rounds.checks.question import Answer, AnswerContext, Number, Question, Says
from rounds.checks.reckon import TimedRule, make_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import Rule, hours
from rounds.checks.stems import foresight_of, has_shown, lot_words
from rounds.entries import registry as k
from rounds.entries.arrivals import HIDDEN_ON_STEMS
from rounds.entries.base import Saying
from rounds.entries.brood_of_eggs import began_before, next_brood_code
from rounds.forecasts.foresight import Forecasts

# a lot less likely than this to be the one that hatched gives no mothers; our estimate
LIKELY = 0.05
HOW_MANY_SEEN = Number("how many seen", "some")


def reckon(context: ContainerContext, rule: TimedRule) -> Due:
    """Counts from the look that first saw frass under kept stems; a look that sees none after that
    ends nothing."""
    lots = context.container.held
    shown = next((held for held in lots if held.frass in SHOWN), None)
    lot = shown or next(held for held in lots if held.frass == PERHAPS)
    seen = utc(lot.frass_since or lot.taken_out)
    where = f" under {lot_words(lots, lot)}" if shown else ", the lot is not known: all stay"
    reason = f"frass seen{where}"
    return make_due(context, rule, seen, None, seen, lot.plant, reason, seen)


def _on_record_already(context: AnswerContext) -> list[Saying]:
    """It was of larvae that are on record, here or where they were moved to."""
    container = context.container
    held = container.held if container else []
    shown = tuple(one.lot for one in held if one.frass in SHOWN)
    under = {"lots": shown} if shown else {}
    return [context.saying(k.FrassSeen, level="trace", on_record=True, **under)]


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """Whether they are those on record is asked only where some of their mothers' are; whether they
    are of hidden eggs only where eggs on record may have hatched."""
    if container is None:
        return CHECK.question
    grown = [
        lot for place in bench.standing() for lot in place.lots if lot.stage not in ("egg", "adult")
    ]
    shown = [one for one in container.held if has_shown(one)]
    theirs = stems_of(bench, container, grown)
    those = (_THOSE,) if any(one is held for one in shown for held in theirs) else ()
    eggs = sum(_on_record(bench, container, shown).values())
    if not eggs:
        return replace(CHECK.question, answers=(_YOUNG_LARVAE, *those, _LATER))
    of_eggs = replace(_YOUNG_LARVAE, label=f"young larvae, of the {count(eggs, 'egg')} on record")
    text = f"Frass, and {count(eggs, 'egg')} on record. Have some of these hatched?"
    return Question(text, (of_eggs, _OF_HIDDEN, *those, _LATER))


def _young_larvae(*, hidden: bool = False) -> Says:
    def says(context: AnswerContext) -> list[Saying]:
        bench, container, number = context.bench, context.container, counted_or_one(context)
        if container is None:
            return []
        foresight = foresight_of(context)
        return young_larvae(bench, container, number, foresight, context.now, hidden=hidden)

    return says


def seen_on_stems(
    bench: Bench,
    container: Container,
    number: int,
    foresight: Forecasts,
    now: datetime,
    lots: Sequence[KeptLot] = (),
) -> list[Saying]:
    """Young larvae seen on kept stems: frass is said first where none was, of the lot that is
    named, or of the first."""
    first = (*lots, *container.held)[0]
    if any(held.frass not in ("", "none") for held in lots or container.held):
        return young_larvae(bench, container, number, foresight, now, lots)
    frass = {"container": container.code, "level": "trace", "lots": (first.lot,)}
    larvae = young_larvae(bench, container, number, foresight, now, (first,))
    return [(k.FrassSeen, frass), *larvae]


def young_larvae(
    bench: Bench,
    container: Container,
    number: int,
    foresight: Forecasts,
    now: datetime,
    seen_on: Sequence[KeptLot] = (),
    *,
    hidden: bool = False,
) -> list[Saying]:
    """Lots that showed frass, or on which larvae were seen, become young larvae: of the eggs on
    record that are theirs as far as these go, the rest a brood of their mothers, laid while they
    stood with the stems.

    Where the lot is not known the likeliest give the brood. Every lot stays on watch: the rest of
    its eggs may hatch yet.

    Args:
        hidden: of eggs that are not on record, all of them.
    """
    here: dict[str, Any] = {"container": container.code}
    shown = list(seen_on) or [held for held in container.held if held.frass in SHOWN]
    likely = shown or _likely(foresight, container, now)
    if not likely:
        return []
    known = {} if hidden else _on_record(bench, container, list(seen_on), number)
    lots = {"lots": tuple(held.lot for held in shown)} if shown else {}
    to_record: list[Saying] = []
    for (code, of_brood), share in known.items():
        eggs: dict[str, Any] = {"number": share, "brood": of_brood}
        if code != container.code:
            moved = {"container": code, "to": container.code, "stage": "egg"}
            to_record.append((k.Moved, moved | eggs))
        to_record.append((k.Hatched, here | eggs | {"evidence": "inferred"} | lots))
    hatched = sum(share for (code, _), share in known.items() if code == container.code)
    number -= sum(known.values())
    all_out = container.purpose == "eggs" and container.count("egg") <= hatched
    for_larvae: list[Saying] = [(k.Changed, here | {"purpose": "hatchlings"})] if all_out else []
    if not number:
        return to_record + for_larvae
    mothers = tuple(sorted({mother for held in likely for mother in held.mothers}))
    taxa = {held.taxon for held in likely}
    brood = _running_brood(bench, mothers, likely)
    if not brood:
        brood = next_brood_code(bench, mothers) if mothers else ""
        offered, taken_out = _stood(likely)
        fathers = possible_fathers(bench, mothers, until=taken_out, since=offered)
        begun = {
            "code": brood,
            "taxon": taxa.pop() if len(taxa) == 1 else "",
            "mothers": mothers,
            "fathers": fathers.codes,
            "laid_from": max(offered, fathers.since or offered),
            "laid_to": taken_out,
        }
        to_record.append((k.BroodBegun, begun))
    theirs = here | {"brood": brood, "number": number}
    to_record.append((k.Stocked, theirs | {"stage": "egg", "origin": HIDDEN_ON_STEMS}))
    to_record.append((k.Hatched, theirs | {"evidence": "inferred"} | lots))
    return to_record + for_larvae


def _on_record(
    bench: Bench, container: Container, shown: Sequence[KeptLot], number: int | None = None
) -> dict[tuple[str, str], int]:
    """How many of so many (of any number, without one) that hatched on lots are of the eggs on
    record, by where these are and their brood: those that lie beside the lots first, then those
    that were found on these before; of those found on the plant in use none did."""
    lots = list(shown) or [held for held in container.held if has_shown(held)]
    found: dict[tuple[str, str], int] = {}
    searched = (search.place for held in lots for search in held.searches if search.found)
    for code in dict.fromkeys((container.code, *searched)):
        place = bench.at(code)
        most = sum(found_at(held, code) for held in lots)
        not_in_use = place.count("egg") - sum(host.eggs for host in place.hosts) if place else 0
        most = max(most, not_in_use) if place is container else min(most, not_in_use)
        for lot in place.lots_of("egg") if place else ():
            theirs = stems_of(bench, container, [lot])
            on_these = any(one is held for one in lots for held in theirs)
            if lot.brood not in bench.broods or not on_these:
                continue
            left = min(lot.number, most)
            most -= left
            if number is not None:
                left = min(left, number - sum(found.values()))
            if left > 0:
                found[code, lot.brood] = found.get((code, lot.brood), 0) + left
    return found


def _likely(foresight: Forecasts, container: Container, now: datetime) -> list[KeptLot]:
    """Of lots one of which showed frass, those that by eggs and warmth may have hatched: the older
    ones, as a rule."""
    unknown = [held for held in container.held if held.frass == PERHAPS]
    weights = [foresight.chance(container, held, now).hatched_by_now for held in unknown]
    return [
        held
        for held, weight in zip(unknown, weights, strict=True)
        if weight >= LIKELY * sum(weights)
    ]


def _stood(lots: list[KeptLot]) -> tuple[datetime, datetime]:
    """From when until when any of these stems stood with females."""
    return min(held.offered for held in lots), max(held.laid_to for held in lots)


def _running_brood(bench: Bench, mothers: tuple[str, ...], shown: list[KeptLot]) -> str:
    """The brood of the same mothers that was laid while these stems stood with them, where there is
    one."""
    offered, taken_out = _stood(shown)
    broods = bench.broods.items()
    theirs = [code for code, brood in broods if tuple(sorted(brood.mothers)) == mothers]
    laid = [code for code in theirs if began_before(bench.broods[code], taken_out)]
    until = {code: bench.broods[code].laid_to for code in laid if bench.broods[code].laid_from}
    went_on = [code for code, last in until.items() if last is not None and offered <= last]
    return went_on[-1] if went_on else ""


_YOUNG_LARVAE = Answer("y", "young larvae, one at least", _young_larvae(), HOW_MANY_SEEN)
_OF_HIDDEN = Answer("b", "of eggs that nobody found", _young_larvae(hidden=True), HOW_MANY_SEEN)
_THOSE = Answer("r", "those on record", _on_record_already)
_LATER = Answer("a", "look again later", put_off(3, "look again"))
CHECK = Check(
    name="turn",
    help=(
        "Frass shows that hidden eggs hatched: young larvae with a brood of their mothers, laid"
        " while the stems stood with them."
    ),
    value=Value(90, 1.0, 0.15),
    severity=3,
    place=180,
    answered_by=("hatched", "host out"),
    closes="gone",
    goes_before=lambda other: other.name == frass.CHECK.name,
    rules=(
        Rule(
            when=has("frass seen", FRASS_SEEN),
            **hours(0, late=6, urgent=12, danger=24),
            basis=UNFED_BASIS,
        ),
    ),
    reckon=reckon,
    question=Question(
        "Frass: hidden eggs hatched. Are the young larvae a brood of their own?",
        (_YOUNG_LARVAE, _OF_HIDDEN, _THOSE, _LATER),
    ),
    ask=ask,
    through_lid=or_opened,
    helped=(
        Helped(
            "Open, add one small leaf of {}, telephone: caterpillars may be on the stems.",
            opens=True,
            touches=True,
            plant=True,
        ),
    ),
)
