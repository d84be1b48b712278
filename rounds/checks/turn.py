"""Frass was seen under kept stems: hidden eggs hatched, and their young larvae want food and a
brood of their own."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from msgspec.structs import replace

from rounds.bench.folding.kept_stems import PERHAPS, SHOWN, stems_of
from rounds.bench.kept_lots import found_at
from rounds.bench.mates import possible_fathers
from rounds.bench.state import Bench, Container, KeptLot
from rounds.checks import frass
from rounds.checks.answer_entries import counted_or_one, put_off
from rounds.checks.answers import or_opened
from rounds.checks.base import Check, Helped
from rounds.checks.due_state import Due
from rounds.checks.facts import FRASS_SEEN, ContainerContext, DueContext, has
from rounds.checks.held_lots import foresight_of, has_shown, lot_words
from rounds.checks.question import Answer, AnswerContext, Number, Question, Saying
from rounds.checks.reckon import TimedRule, make_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import Rule
from rounds.checks.value import Value
from rounds.entries import registry as k
from rounds.entries.arrivals import HIDDEN_ON_STEMS, BroodBegun
from rounds.entries.brood_of_eggs import began_before, next_brood_code
from rounds.forecasts.foresight import Forecasts

LIKELY = (
    0.05  # a lot less likely than this to be the one that hatched gives no mothers; our estimate
)
HOW_MANY_SEEN = Number("how many seen", "some")


def reckon(reckoning: DueContext, context: ContainerContext, rule: TimedRule) -> Due:
    """Counts from the look that first saw frass under kept stems; a look that sees none after that
    ends nothing."""
    lots = context.container.held
    shown = next((held for held in lots if held.frass in SHOWN), None)
    lot = shown or next(held for held in lots if held.frass == PERHAPS)
    seen = utc(lot.frass_since or lot.taken_out)
    reason = (
        f"frass seen under {lot_words(lots, lot)}"
        if shown
        else "frass seen, the lot is not known: all stay"
    )
    return make_due(reckoning, context, rule, seen, None, seen, lot.plant, reason, seen)


def _on_record_already(context: AnswerContext) -> list[Saying]:
    """It was of larvae that are on record, here or where they were moved to."""
    container = context.container
    held = container.held if container else []
    shown = tuple(one.lot for one in held if one.frass in SHOWN)
    return [
        (
            k.FrassSeen,
            context.here
            | {"level": "trace", "on_record": True}
            | ({"lots": shown} if shown else {}),
        )
    ]


def ask(
    bench: Bench, due: Due, container: Container | None, now: datetime | None = None
) -> Question:
    """Whether they are those on record is asked only where some of their mothers' are."""
    grown = [
        lot for place in bench.standing() for lot in place.lots if lot.stage not in ("egg", "adult")
    ]
    shown = [one for one in container.held if has_shown(one)] if container else []
    theirs = stems_of(bench, container, grown) if container else []
    if any(one is held for one in shown for held in theirs):
        return CHECK.question
    answers = tuple(one for one in CHECK.question.answers if one.key != _THOSE.key)
    return replace(CHECK.question, answers=answers)


def _young_larvae(context: AnswerContext) -> list[Saying]:
    if context.container is None:
        return []
    return young_larvae(
        context.bench,
        context.container,
        counted_or_one(context),
        foresight_of(context),
        context.now,
    )


def young_larvae(
    bench: Bench,
    container: Container,
    number: int,
    foresight: Forecasts,
    now: datetime,
    seen_on: Sequence[KeptLot] = (),
) -> list[Saying]:
    """Lots that showed frass, or on which larvae were seen, become young larvae: a brood of their
    mothers, laid while they stood with the stems.

    Where the lot is not known the likeliest give the brood. Every lot stays on watch: the rest of
    its eggs may hatch yet.
    """
    here = {"container": container.code}
    shown = list(seen_on) or [held for held in container.held if held.frass in SHOWN]
    likely = shown or _likely(foresight, container, now)
    if not likely:
        return []
    to_record: list[Saying] = []
    mothers = tuple(sorted({mother for held in likely for mother in held.mothers}))
    taxa = {held.taxon for held in likely}
    brood = _running_brood(bench, mothers, likely)
    if not brood:
        brood = next_brood_code(bench, mothers) if mothers else ""
        offered, taken_out = (
            min(held.offered for held in likely),
            max(held.taken_out for held in likely),
        )
        fathers = possible_fathers(bench, mothers, until=taken_out, since=offered)
        to_record.append(
            (
                k.BroodBegun,
                {
                    "code": brood,
                    "taxon": taxa.pop() if len(taxa) == 1 else "",
                    "mothers": mothers,
                    "fathers": fathers.codes,
                    "laid_from": max(offered, fathers.since or offered),
                    "laid_to": taken_out,
                },
            )
        )
    known = _on_record(bench, shown, brood, number)
    to_record += [
        (
            k.Moved,
            {
                "container": code,
                "to": container.code,
                "number": share,
                "brood": brood,
                "stage": "egg",
            },
        )
        for code, share in known.items()
        if code != container.code
    ]
    if hidden := number - sum(known.values()):
        to_record.append(
            (
                k.Stocked,
                here
                | {
                    "brood": brood,
                    "stage": "egg",
                    "number": hidden,
                    "origin": HIDDEN_ON_STEMS,
                },
            )
        )
    hatched = here | {"number": number, "brood": brood, "evidence": "inferred"}
    to_record.append(
        (k.Hatched, hatched | ({"lots": tuple(held.lot for held in shown)} if shown else {}))
    )
    if container.purpose == "eggs" and not container.count("egg"):
        to_record.append((k.Changed, here | {"purpose": "hatchlings"}))
    return to_record


def _on_record(bench: Bench, shown: list[KeptLot], brood: str, number: int) -> dict[str, int]:
    """How many of those that hatched on lots are of the eggs that were found on these before, by
    where they are on record."""
    found: dict[str, int] = {}
    for code in dict.fromkeys(
        search.place for held in shown for search in held.searches if search.found
    ):
        container = bench.at(code)
        eggs = container.count("egg", brood) if container else 0
        share = min(number - sum(found.values()), eggs, sum(found_at(held, code) for held in shown))
        if share > 0:
            found[code] = share
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


def _running_brood(bench: Bench, mothers: tuple[str, ...], shown: list[KeptLot]) -> str:
    """The brood of the same mothers that was laid while these stems stood with them, where there is
    one."""
    offered, taken_out = min(held.offered for held in shown), max(held.taken_out for held in shown)
    theirs = [
        code for code, brood in bench.broods.items() if tuple(sorted(brood.mothers)) == mothers
    ]
    laid = [code for code in theirs if began_before(bench.broods[code], taken_out)]
    return next((code for code in reversed(laid) if _went_on(bench.broods[code], offered)), "")


def _went_on(brood: BroodBegun, offered: datetime) -> bool:
    return brood.laid_from is not None and brood.laid_to is not None and offered <= brood.laid_to


_THOSE = Answer("r", "those on record", _on_record_already)
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
            every_h=0,
            amber_h=6,
            red_h=12,
            harm_h=24,
            basis=(
                "young larvae unfed: more swallowtails died after one day, browns after "
                "one to four (study of satyrid eggs, Ecological Entomology); gypsy and "
                "nun moths lived a few days at 30 C (US Forest Service); hours our "
                "estimate, for the weakest"
            ),
        ),
    ),
    reckon=reckon,
    question=Question(
        "Frass: hidden eggs hatched. Young larvae of their own brood?",
        (
            Answer("y", "young larvae, one at least", _young_larvae, HOW_MANY_SEEN),
            _THOSE,
            Answer("a", "look again later", put_off(3, "look again")),
        ),
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
