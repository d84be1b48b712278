"""The round as a page: where you are, what is asked, what was answered, and how it ends."""

from __future__ import annotations

from msgspec import Struct

from rounds.bench.measures import measures_of
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Container, Round
from rounds.checks.due import Due, all_dues, because, last_answered, pressing
from rounds.checks.due_state import place_name
from rounds.checks.facts import left_be_until
from rounds.checks.question import Question
from rounds.checks.questions import question_for
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.checks.supplies import supplies
from rounds.checks.walk import Left, Stop, closing_words, left_before
from rounds.forecasts.foresight import Foresight
from rounds.views.bench_page import stock_words, without_stock
from rounds.views.card import not_seen
from rounds.views.cautions import care_lines, cautions_at
from rounds.views.cells import Cell, Line, Tone, labelled, line
from rounds.views.kept_page import kept_lines, unsure_lines
from rounds.views.keys import handed
from rounds.views.states import SIGNS, TONES, WORSE_THAN_DUE, state_of
from rounds.views.supplies_page import arithmetic_words, need_words
from rounds.views.words import ago, clock, literal

MOST_LEFT = 6  # stops of a round that was left, by name
QUIET_WORDS = {"still": "not moving (moult?)", "hanging": "hanging up (prepupa)", "soft pupa": "fresh pupa"}
NOTHING_ASKED = "Nothing on this bench is asked about now."


class RoundPage(Struct, frozen=True):
    """A stop of the round as it is shown."""

    head: tuple[Line, ...]
    card: tuple[Line, ...]
    checks: tuple[Line, ...]
    question: Question | None
    asked: Due | None
    care: tuple[Line, ...] = ()
    wash: bool = False
    done: bool = False


def is_open(stop: Stop) -> bool:
    """Whether a stop has anything left to ask."""
    return bool(stop.open_checks)


def round_page(
    bench: Bench, moment: Moment, walk: Round, stops: tuple[Stop, ...], place: int, washed: bool, foresight: Foresight
) -> RoundPage:
    """The page of the stop at that place.

    Args:
        washed: whether hands were washed since the group before; else a stop of a dirtier group asks first.
    """
    head = _head(moment, walk, stops, place)
    before = left_before(bench, moment)
    begins = tuple(line(Cell(words, "late")) for words in left_words(before, moment)) if before else ()
    if not stops or place >= len(stops):
        return RoundPage(head, begins + ended(bench, moment, stops, foresight), (), None, None, done=True)
    stop = stops[place]
    if stop.wash_before and not washed:
        return RoundPage(head, begins + _wash_lines(stop), (), None, None, wash=True)
    waiting = stop.open_checks
    asked = waiting[0] if waiting else None
    return RoundPage(
        head,
        begins + _card(bench, stop, moment, foresight),
        (*(_check_line(bench, due, stop, asked, moment) for due in stop.checks), *_why(bench, asked, moment)),
        handed(question_for(bench, asked, moment.now), bench.settings) if asked else None,
        asked,
        tuple(labelled("care", words, "strong") for words in cautions_at(asked.check, walk)) if asked else (),
    )


def left_words(left: Left, moment: Moment) -> tuple[str, ...]:
    """That a round which was left is over, and what it left open."""
    at = clock(left.walk.ended, moment.now, moment.zone)
    over = f"The {literal(left.walk.name)} round ended {at}, at its last answer."
    names = [literal(place_name(stop)) for stop in left.open]
    if not names:
        return (f"{over} It left nothing open.",)
    more = f" and {count(len(names) - MOST_LEFT, 'more stop')}" if len(names) > MOST_LEFT else ""
    return over, f"It left open: {', '.join(names[:MOST_LEFT])}{more}. That is asked with all that is due."


def _head(moment: Moment, walk: Round, stops: tuple[Stop, ...], place: int) -> tuple[Line, ...]:
    done = sum(1 for stop in stops if not is_open(stop))
    in_front = next((at for at, stop in enumerate(stops) if is_open(stop)), len(stops))
    number = (done if place == in_front else place) + 1  # one that comes before others out of its order is no earlier stop
    where = f"stop {min(number, len(stops))} of {len(stops)}"
    group = stops[place].group if place < len(stops) else ""
    begun = f"since {clock(walk.started, moment.now, moment.zone)} {literal(walk.by)}".rstrip()
    return (
        line(
            Cell(f"{literal(walk.name)} round", "strong"),
            f"   {where}   ",
            Cell(f"{done} done", "quiet"),
            f"   {group}   ",
            Cell(begun, "quiet"),
        ),
    )


def _wash_lines(stop: Stop) -> tuple[Line, ...]:
    return (
        line(""),
        line(Cell("Wash your hands.", "strong")),
        line(f"Next: {stop.group}. Soap and water, also what you touched: tools, lamp switch, keyboard."),
        line(""),
        line(Cell("Enter when washed.", "due")),
    )


def _why(bench: Bench, asked: Due | None, moment: Moment) -> tuple[Line, ...]:
    if asked is None:
        return ()
    told = measures_of(bench.settings).in_words(because(asked, bench, moment))
    return (line(""), labelled("why", literal(told), "quiet"))


def _card(bench: Bench, stop: Stop, moment: Moment, foresight: Foresight) -> tuple[Line, ...]:
    container = bench.at(stop.where) if stop.place_kind == "container" else None
    if container is None:
        return (line(Cell(literal(place_name(stop)), "strong")),)
    inside = f", inside {literal(container.inside)}" if container.inside else ""
    where = f"shelf {literal(container.shelf)}, place {container.place}{inside}" if container.shelf else ""
    lines = [
        line(
            Cell(f"{literal(container.code)}", "strong"),
            f"   {container.purpose}   {stock_words(bench, container) or without_stock(container)}   ",
            Cell(where, "quiet"),
        )
    ]
    if stop.out_of_turn:
        lines.append(line(Cell(f"{literal(container.code)} comes first in its group: in danger.", "strong")))
    lines.extend(not_seen(bench, container, moment))
    lines.extend(unsure_lines(container, moment))
    lines.extend(kept_lines(container, moment, foresight))
    if container.suspect_since:
        lines.append(line(Cell(f"{f'SUSPECT {literal(container.suspect_sign)}'.rstrip()}: own tools, hands after", "late")))
    lines.extend(_not_to_be_disturbed(container, moment))
    lines.extend(care_lines(bench, container))
    lines.extend(
        line(Cell(f"{clock(note.at, moment.now, moment.zone)} {literal(note.by)}: '{literal(note.text)}'", "quiet"))
        for note in reversed(container.notes)
    )
    return tuple(lines)


def _not_to_be_disturbed(container: Container, moment: Moment) -> list[Line]:
    until = left_be_until(container, moment.now)
    if until is None:
        return []
    told = f"do not disturb until {clock(until, moment.now, moment.zone)}"
    if container.sign in QUIET_WORDS and container.sign_since is not None:
        since = clock(container.sign_since, moment.now, moment.zone)
        told += f", since {since}: {QUIET_WORDS[container.sign]}"
    elif container.leave_be_why:
        told += f": {literal(container.leave_be_why)}"
    order = "Leave the lid on. Do not move, clean, count or mist. Look from outside."
    return [line(Cell(f"~ {told}", "strong")), line(Cell(order, "strong"))]


def _check_line(bench: Bench, due: Due, stop: Stop, asked: Due | None, moment: Moment) -> Line:
    """A check with its sign and how pressing it is, when it was last answered, and from when on it is worse."""
    name = f"{CHECKS[due.check].label:<9} "
    if due.check in stop.answered:
        return line(Cell(f"   {'done':<12}", "good"), Cell(f"{name}{before_words(due, bench, moment)}", "quiet"))
    if due.check in stop.skipped:
        return line(Cell(f"   {'skipped':<12}", "late"), Cell(f"{name}{before_words(due, bench, moment)}; comes back", "quiet"))
    state = state_of(due, moment.now)
    word = "due" if state == "in order" else state  # it falls due before the next round
    mark = f"{'>' if due is asked else ' '}{SIGNS[word]} "
    since = pressing_words(due, moment)
    told = f"{before_words(due, bench, moment)}; {since}" if since else before_words(due, bench, moment)
    tone: Tone = "strong" if due is asked else "plain"
    state_tone = TONES[word] if word in WORSE_THAN_DUE else tone
    gap = " " * (12 - len(word))
    return Line((Cell(mark, "strong"), Cell(word, state_tone), Cell(gap + name, tone), Cell(told)), hang=25)


def before_words(due: Due, bench: Bench, moment: Moment) -> str:
    """How long ago a check was last answered."""
    last = last_answered(due, bench)
    return ago(last, moment.now) if last else "not yet"


def pressing_words(due: Due, moment: Moment) -> str:
    """Since when a check is late, urgent or in danger, and when it gets worse; empty where it is only due."""
    state = pressing(due, moment.now)
    begun = {"in danger": due.harm, "urgent": due.red, "late": due.amber}.get(state)
    told = [f"{state} since {clock(begun, moment.now, moment.zone)}"] if begun else []
    worse = [("urgent", due.red)] if state == "late" and due.harm is None else [("in danger", due.harm)]
    for word, at in worse:
        near = begun is not None or (at is not None and at < moment.round_after)
        if at is not None and at > moment.now and near:
            told.append(f"{word} from {clock(at, moment.now, moment.zone)}")
    return ", ".join(told)


def ended(bench: Bench, moment: Moment, stops: tuple[Stop, ...], foresight: Foresight) -> tuple[Line, ...]:
    """What the end of a round says, and nothing else."""
    left = [literal(place_name(stop)) for stop in stops if is_open(stop)]
    over = "The walk is done." if stops else NOTHING_ASKED
    lines = [line(""), line(Cell("The end of the walk." if left else over, "strong"))]
    if left:
        lines.append(line(Cell(f"Not answered: {', '.join(left)}", "late")))
    lines.extend(line(words) for words in closing_words(bench, moment, foresight))
    lines += [line(""), line(Cell("Enter ends the round.", "due")), line("")]
    return (*lines, *supply_lines(bench, moment, foresight))


def supply_lines(bench: Bench, moment: Moment, foresight: Foresight) -> list[Line]:
    """What to cut and mix for the next round and for tomorrow, as a guess; its arithmetic stands below."""
    found = supplies(bench, moment, all_dues(bench, moment, foresight=foresight))
    measures = measures_of(bench.settings)
    plans = (("next", found.coming), ("then", found.tomorrow))
    lines = [line(Cell("To have ready, a guess: for the next round, then for tomorrow.", "quiet"))] if found.tomorrow else []
    lines += [labelled(label, ", ".join(need_words(one, measures) for one in needs)) for label, needs in plans if needs]
    for label, needs in plans:
        told = [f"{need_words(one, measures)}: {arithmetic_words(one, measures)}" for one in needs]
        lines += [labelled("" if place else label, words, "quiet") for place, words in enumerate(told)]
    return lines


def washes_needed(stops: tuple[Stop, ...], place: int) -> int:
    """How often hands must have been washed by the stop at that place: once for each gate before it."""
    return sum(1 for stop in stops[: place + 1] if stop.wash_before)
