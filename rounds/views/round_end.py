"""How a round ends: when to be back, what still wants a person, the hours until then, and what to
have ready."""

from __future__ import annotations

from collections.abc import Sequence

from rounds.bench.measures import measures_of
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Round
from rounds.checks.due import all_dues
from rounds.checks.due_state import Due, place_name
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.checks.round_summary import Closing, closing
from rounds.checks.stores import stems_stored
from rounds.checks.supplies import SupplyNeed, supplies
from rounds.checks.walk import Stop
from rounds.checks.why import because
from rounds.forecasts.foresight import Forecasts
from rounds.views.cells import Cell, Line, Tone, line
from rounds.views.states import SIGNS, TONES, WORSE_THAN_DUE, state_of
from rounds.views.supplies_page import arithmetic_words
from rounds.views.words import age, day_and_time, literal, number, of_what_is_read

MAX_OPEN = 6  # by name
NOON = 12
PLACE = 7  # cells of a place
THING = 24  # cells of a thing to have ready
NOTHING_ASKED = "Nothing on this bench is asked about now."
# what is wanted by its name, and what is done with it
THINGS = {
    "sprigs": ("stems", ""),
    "solution": ("sugar solution", "mix it"),
    "swabs": ("swabs", "lay them out"),
    "tubes": ("tubes", "fill them"),
    "lining": ("lining", "cut it"),
}


def end_head(walk: Round, stops: Sequence[Stop], moment: Moment) -> tuple[Line, ...]:
    """The round, how long it took, and how much of it was answered."""
    checks = sum(len(stop.checks) for stop in stops)
    answered = sum(len(stop.answered) for stop in stops)
    passed = {(where, check) for where, check, _ in walk.skipped}
    not_answered = [
        (stop, due)
        for stop in stops
        for due in stop.checks
        if due.check in stop.skipped and due.check not in stop.answered
    ]
    left_out = sum(
        1
        for stop, due in not_answered
        if due.check in stop.left_out and not passed & {(stop.where, due.check), (stop.where, "")}
    )
    skipped = len(not_answered) - left_out
    text = (
        f"{count(len(stops), 'stop')}, {answered} of {count(checks, 'check')}"
        f"{f', {skipped} skipped' if skipped else ''}"
        f"{f', {left_out} left out' if left_out else ''}"
    )
    at = moment.clock(moment.now)
    return (line(f"{literal(walk.name)} round   {at}, {age(moment.now - walk.started)}   {text}"),)


def end_sections(
    bench: Bench,
    moment: Moment,
    stops: Sequence[Stop],
    foresight: Forecasts,
    *,
    is_whole: bool = True,
) -> tuple[tuple[Line, ...], ...]:
    """What the end of a round says, and nothing that was recorded."""
    left = closing(bench, moment, foresight)
    back = _back_words(left, moment)
    if not stops:
        back = f"{of_what_is_read(NOTHING_ASKED, is_whole=is_whole)} {back}"
    return (
        (
            line(f"  {back}", tone="strong", hang=2),
            line("  Enter ends the round.", tone="due"),
        ),
        _open_lines(bench, left, moment),
        _ahead_lines(left, moment),
        supply_lines(bench, moment, foresight),
        tuple(line(f"  {literal(words)}", tone="quiet", hang=2) for words in left.changes),
    )


def _back_words(left: Closing, moment: Moment) -> str:
    text = f"Be back on {day_and_time(left.back, moment.zone, moment.now)}."
    if left.sooner is not None:
        at, due = left.sooner
        when = moment.clock(at)
        text += (
            f" Sooner, if you can: {literal(place_name(due))} at {when}, when"
            f" {CHECKS[due.check].label} turns late."
        )
    return text


def _open_lines(bench: Bench, left: Closing, moment: Moment) -> tuple[Line, ...]:
    """What is open, the worst first, a line a place; then what was passed over."""
    lines: list[Line] = []
    for due, _ in left.open[:MAX_OPEN]:
        lines.append(_open_line(bench, due, moment))
    if len(left.open) > MAX_OPEN:
        lines.append(
            line(
                f"  {'':<{PLACE}}and {count(len(left.open) - MAX_OPEN, 'more check')}", tone="quiet"
            )
        )
    lines += [_place_line(where, words) for where, words in left.passed_over]
    return (line("  still open", tone="quiet"), *lines) if lines else ()


def _open_line(bench: Bench, due: Due, moment: Moment) -> Line:
    state = state_of(due, moment.now)
    tone: Tone = TONES[state] if state in WORSE_THAN_DUE else "plain"
    name = literal(place_name(due))
    why = f": {literal(because(due, bench, moment))}" if due.reason else ""
    return line(
        f"{SIGNS[state]} {name:<{PLACE - 1}} {CHECKS[due.check].label} ",
        Cell(state, tone),
        why,
        hang=PLACE + 2,
    )


def _place_line(where: str, words: str) -> Line:
    return line(f"  {literal(where):<{PLACE - 1}} {literal(words)}", hang=PLACE + 2)


def _ahead_lines(left: Closing, moment: Moment) -> tuple[Line, ...]:
    """What may happen before the next round, so that nobody is surprised."""
    heading = "tonight" if moment.now.astimezone(moment.zone).hour >= NOON else "until then"
    if left.ahead:
        return (line(f"  {heading}", tone="quiet"), *(_place_line(*one) for one in left.ahead))
    return ()


def supply_lines(bench: Bench, moment: Moment, foresight: Forecasts) -> tuple[Line, ...]:
    """What to have ready for the next round, a guess: needed, what the host store has, and what to
    do, with the arithmetic."""
    result = supplies(bench, moment, all_dues(bench, moment, foresight=foresight))
    if not result.coming:
        return ()
    stored = [_stored(bench, need) for need in result.coming]
    has = any(one is not None for one in stored)
    when = moment.clock(result.round_begins)
    have = f"{'have':>6}" if has else ""
    lines = [line(f"  {f'for {when}, estimated':<{THING}}{'needed':>8}{have}   so", tone="quiet")]
    for need, there in zip(result.coming, stored, strict=True):
        lines.append(_need_line(bench, need, there, has=has))
    return tuple(lines)


def _need_line(bench: Bench, need: SupplyNeed, there: int | None, *, has: bool) -> Line:
    measures = measures_of(bench.settings)
    name, do = THINGS[need.what]
    thing = literal(need.of) or name
    needed = measures.bulk(need.number) if need.what == "solution" else number(need.number)
    have = f"{'' if there is None else there:>6}" if has else ""
    short = need.number - (there or 0)
    do = do or ("enough" if short <= 0 else f"cut {number(short)}")
    before = f"  {thing:<{THING}}{needed:>8}{have}   "
    return line(before, f"{do}: {arithmetic_words(need, measures)}", hang=len(before))


def _stored(bench: Bench, need: SupplyNeed) -> int | None:
    """How many stems of a plant stand in host stores; None where that is not known."""
    if need.what != "sprigs":
        return None
    return stems_stored(bench, need.of)
