"""The round as a page: where you are, what is asked, what was answered, and how it ends."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct, structs

from rounds.bench.folding.looks_made import STEP_S
from rounds.bench.measures import measures_of
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Round
from rounds.checks import frass, keep
from rounds.checks.due_state import Due, container_of, place_name, pressing
from rounds.checks.glance import glance_question, glanced
from rounds.checks.question import Question
from rounds.checks.questions import question_for
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.checks.short_round import WASH_S
from rounds.checks.walk import LeftRound, Stop, worst_elsewhere
from rounds.checks.why import because
from rounds.checks.worth import seconds_of
from rounds.entries.base import Entry
from rounds.forecasts.foresight import Forecasts
from rounds.views.actions import sign_of
from rounds.views.cautions import cautions_at
from rounds.views.cells import Cell, Line, line
from rounds.views.kept_page import kept_aloud, kept_lines
from rounds.views.keys import handed, key_label
from rounds.views.question_lines import Below
from rounds.views.round_end import end_head, end_sections
from rounds.views.short_round_page import left_out_lines, limit_words, minutes
from rounds.views.stop_page import (
    alert_lines,
    before_lines,
    changed_lines,
    check_line,
    done_lines,
    expected_lines,
    here_line,
    note_lines,
    quiet_lines,
    waiting_lines,
    worst_line,
)
from rounds.views.words import literal

MAX_LEFT = 6  # stops of a round that was left, by name
LOTS = 5  # which of the sections is that of kept stems
OF_LOTS = frass.CHECK.name, keep.CHECK.name
BAR, LEAST_BAR = 20, 8  # cells of the bar of how far the round is


class StopSources(Struct, frozen=True):
    """What a page is made from besides the bench: its checks, what is coming, the entries that
    count, the newest first, and the round that was left before this one."""

    dues: tuple[Due, ...]
    foresight: Forecasts
    entries: Iterable[Entry] = ()
    left: LeftRound | None = None
    is_whole: bool = True  # whether all of the book could be read


class RoundPage(Struct, frozen=True):
    """A stop of the round as it is shown; ``dues`` are the checks that the question is about,
    ``asked`` the first of them.

    ``worst`` names what is in danger or urgent elsewhere. ``sections`` stand above the question,
    the most needed first: what is here, whether it may be disturbed, how each check stands, and the
    rest. ``below`` stands with the question.
    """

    head: tuple[Line, ...]
    sections: tuple[tuple[Line, ...], ...]
    question: Question | None = None
    asked: Due | None = None
    dues: tuple[Due, ...] = ()
    below: Below = Below()
    lots_aloud: tuple[str, ...] = ()  # the section of kept stems, as it is read aloud
    asks_of_lots: bool = False  # whether anything at this stop is asked of kept stems
    where: str = ""  # the place in a few words
    worst: tuple[Line, ...] = ()
    wash: bool = False
    done: bool = False
    between: bool = False  # what a short round took is done, and what it left out is not begun

    @property
    def is_glance(self) -> bool:
        """Whether the question asks at once what one look answers."""
        return len(self.dues) > 1


def is_open(stop: Stop) -> bool:
    """Whether a stop has anything left to ask."""
    return bool(stop.open_checks)


def round_page(
    bench: Bench,
    moment: Moment,
    walk: Round,
    stops: tuple[Stop, ...],
    place: int,
    washed: bool,
    known: StopSources,
    *,
    glances: bool = True,
    pauses: bool = False,
) -> RoundPage:
    """The page of the stop at that place.

    Args:
        washed: whether hands are clean for this stop; else it asks for that first.
        glances: whether what one look answers is asked at once.
        pauses: whether what a short round left out stands on a page before it is asked.
    """
    head = _head(bench, walk, stops, place)
    before = known.left
    begins = (
        tuple(line(words, tone="late") for words in left_words(before, moment)) if before else ()
    )
    if not stops or place >= len(stops):
        sections = end_sections(bench, moment, stops, known.foresight, is_whole=known.is_whole)
        return RoundPage(end_head(walk, stops, moment), (begins, *sections), done=True)
    stop = stops[place]
    if pauses and (left := _left_out(walk, stops)):
        return RoundPage(
            end_head(walk, _part(stops, rest=False)[0], moment),
            (begins, left_out_lines(bench, walk, left, moment, known.foresight)),
            between=True,
        )
    begins += _part_done(walk, stops)
    worst = _worst_first(bench, stops, place, moment)
    if not washed:
        return RoundPage(head, (begins, *_wash_lines(stop)), wash=True, worst=worst)
    waiting = stop.open_checks
    dues = (glanced(bench, waiting, moment.now) if glances else ()) or waiting[:1]
    sections = (begins, *_sections(bench, stop, walk, moment, known, dues))
    stands = here_line(bench, stop).right
    where = f"{literal(place_name(stop))}{f', {stands}' if stands else ''}"
    if not dues:
        return RoundPage(head, sections, where=where, worst=worst)
    if len(dues) > 1:
        question = glance_question(bench, dues, moment.now)
    else:
        question = question_for(bench, dues[0], moment.now)
    question = handed(question, bench.settings)
    container = container_of(bench, stop)
    aloud = tuple(kept_aloud(container, moment, known.foresight, dues)) if container else ()
    return RoundPage(
        head,
        sections,
        question,
        dues[0],
        dues,
        _below(bench, question, dues, walk, moment),
        aloud,
        any(due.check in OF_LOTS for due in waiting),
        where,
        worst,
    )


def _sections(
    bench: Bench,
    stop: Stop,
    walk: Round,
    moment: Moment,
    known: StopSources,
    dues: tuple[Due, ...],
) -> tuple[tuple[Line, ...], ...]:
    container = container_of(bench, stop)
    checks = [
        check_line(bench, due, stop, moment)
        for due in stop.checks
        if due.check not in stop.answered
    ]
    return (
        (here_line(bench, stop),),
        tuple(quiet_lines(container, moment)),
        tuple(alert_lines(bench, container, stop, moment)),
        (
            *checks,
            *done_lines(stop),
            *waiting_lines(bench, stop, known.dues, moment),
            *expected_lines(container, moment, known.foresight),
        ),
        tuple(kept_lines(container, moment, known.foresight, dues)),
        (
            *changed_lines(bench, container, walk, moment),
            *before_lines(bench, known.entries, stop, walk, moment),
            *note_lines(container, moment),
        ),
    )


def _below(
    bench: Bench, question: Question, dues: tuple[Due, ...], walk: Round, moment: Moment
) -> Below:
    cautions = dict.fromkeys(words for due in dues for words in cautions_at(due.check, walk))
    in_words = measures_of(bench.settings).in_words
    gravest = max(dues, key=lambda due: (due.severity, due.danger is not None))
    one_look = f"one look shows it; {CHECKS[gravest.check].label}: " if len(dues) > 1 else ""
    why = literal(f"{one_look}{in_words(because(gravest, bench, moment))}")
    hints: tuple[str, ...] = ()
    if len(dues) > 1:
        key = key_label(bench.settings, "round", "one_by_one")
        taker = next(iter(question.takers), None)
        number = f"Type the number first: 2 {sign_of(taker.key)}. " if taker else ""
        hints = (f"{number}Other checks are asked next. Key {key} asks one by one.",)
    return Below(
        tuple(line(f"  {words}", hang=2) for words in cautions),
        hints,
        (line(Cell("  why   ", "quiet"), Cell(why, "quiet"), hang=8),) if why else (),
    )


def left_words(left: LeftRound, moment: Moment) -> tuple[str, ...]:
    """That a round which was left is over, and what it left open."""
    at = moment.clock(left.walk.ended)
    over = f"The {literal(left.walk.name)} round ended {at}, at its last answer."
    names = [literal(place_name(stop)) for stop in left.open]
    if not names:
        return (f"{over} It left nothing open.",)
    more = f" and {count(len(names) - MAX_LEFT, 'more stop')}" if len(names) > MAX_LEFT else ""
    they_are = "It is" if len(names) == 1 else "They are"
    goes_on = (
        f"{they_are} asked in the next round." if left.stays else "All of it was answered since."
    )
    return (over, f"It left open: {', '.join(names[:MAX_LEFT])}{more}. {goes_on}")


def _head(bench: Bench, walk: Round, stops: tuple[Stop, ...], place: int) -> tuple[Line, ...]:
    """The round, how far it is, drawn too, and how much is left."""
    here = stops[place] if place < len(stops) else None
    number, of = _numbered(stops, here)
    stops, is_rest = _part(stops)
    left = sum(len(stop.open_checks) for stop in stops)
    took = f", about {minutes(_seconds_left(bench, stops))} min" if left else ""
    comes_back = here is not None and here.comes_back
    part = ", passed over before" if comes_back else ", the rest" if is_rest else ""
    name = f"{literal(walk.name)} round{part}   "
    return (
        line(
            name,
            f"stop {number} of {of}   ",
            Cell(_bar(number, of, BAR), "quiet"),
            f"   {count(left, 'check')}{took}",
        ),
    )


def _bar(number: int, of: int, size: int) -> str:
    """How far the round is, drawn in so many cells: one at least behind the first stop."""
    full = max(min(1, number - 1), size * (number - 1) // of)
    return f"[{'-' * full}{' ' * (size - full)}]"


def _numbered(stops: tuple[Stop, ...], here: Stop | None) -> tuple[int, int]:
    """Which stop of how many one is; at the end of the walk the last."""
    stops, _ = _part(stops)
    place = next(
        (place for place, stop in enumerate(stops) if here and _same(stop, here)), len(stops)
    )
    again = [stop for stop in stops if stop.comes_back]
    if here is not None and here.comes_back:
        # what was passed over stands at the end as a part of its own
        at = next((at for at, stop in enumerate(again, 1) if _same(stop, here)), 1)
        return at, max(1, len(again))
    # One that comes before others out of its order is no earlier stop: those that are done stand
    # first, then those that are open, each in its order; what was passed over is behind.
    is_ahead = here is None or is_open(here)
    number = 1 + sum(1 for stop in stops[:place] if is_open(stop) == is_ahead)
    if is_ahead:
        number += sum(1 for stop in stops if not is_open(stop) or stop.comes_back)
    of = max(1, len(stops))
    return min(number, of), of


def _worst_first(
    bench: Bench, stops: tuple[Stop, ...], place: int, moment: Moment
) -> tuple[Line, ...]:
    """What is in danger or urgent and worse than this stop, and the key that goes there first."""
    worst = worst_elsewhere(stops, place, moment.now)
    if worst is None:
        return ()
    position, due = worst
    key = key_label(bench.settings, "round", "to_worst")
    number, _ = _numbered(stops, stops[position])
    at = "passed over" if stops[position].comes_back else f"stop {number}"
    others = [stop for there, stop in enumerate(stops) if there not in (place, position)]
    more = sum(any(_is_grave(due, moment) for due in stop.open_checks) for stop in others)
    besides = (
        f", {count(more, 'more stop')} {'is' if more == 1 else 'are'} pressing" if more else ""
    )
    return (worst_line(due, f"{at}; key {key} goes there first{besides}", moment),)


def _is_grave(due: Due, moment: Moment) -> bool:
    return pressing(due, moment.now) in ("in danger", "urgent")


def _part(stops: tuple[Stop, ...], *, rest: bool = True) -> tuple[tuple[Stop, ...], bool]:
    """The stops that are counted: of a round in some minutes what it took, until that is done, then
    what it left out."""
    if not any(stop.left_out for stop in stops):
        return stops, False
    taken = tuple(_taken(stop) for stop in stops if not stop.checks or _taken(stop).checks)
    if not rest or any(is_open(stop) for stop in taken):
        return taken, False
    return tuple(stop for stop in stops if stop.left_out or is_open(stop)), True


def _left_out(walk: Round, stops: tuple[Stop, ...]) -> list[tuple[Stop, Due]]:
    """What a short round left out, once all it took is done and until any of the rest is answered
    or passed over."""
    counted, is_rest = _part(stops)
    rest = [(stop, due) for stop in counted for due in stop.checks if due.check in stop.left_out]
    begun = any(
        due.check in stop.answered or (stop.where, due.check) in {skip[:2] for skip in walk.skipped}
        for stop, due in rest
    )
    still = [(stop, due) for stop, due in rest if due in stop.open_checks]
    return still if is_rest and not begun else []


def _taken(stop: Stop) -> Stop:
    """A stop with what the minutes are for."""
    return structs.replace(
        stop, checks=tuple(due for due in stop.checks if due.check not in stop.left_out)
    )


def _same(stop: Stop, other: Stop) -> bool:
    return (stop.place_kind, stop.where) == (other.place_kind, other.where)


def _part_done(walk: Round, stops: tuple[Stop, ...]) -> tuple[Line, ...]:
    """That what the minutes were for is done, and what is left."""
    counted, is_rest = _part(stops)
    left = [stop for stop in counted if is_open(stop)]
    if not is_rest or not left:
        return ()
    limit = f"{limit_words(walk.minutes)}'{'s' if walk.minutes == 1 else ''}"
    verb = "is" if len(left) == 1 else "are"
    return (
        line(
            f"The {limit} part is done; {count(len(left), 'stop')} {verb} left. Answer on, or"
            " leave.",
            tone="late",
        ),
    )


def _seconds_left(bench: Bench, stops: tuple[Stop, ...]) -> float:
    """How long what is open takes, with the ways: by what answers took in this book's rounds, else
    by a starting estimate."""
    open_stops = [stop for stop in stops if is_open(stop)]
    return sum(
        STEP_S
        + (WASH_S if stop.wash_before else 0.0)
        + sum(seconds_of(bench, due) for due in stop.open_checks)
        for stop in open_stops
    )


def fitting_head(head: tuple[Line, ...], width: int) -> tuple[Line, ...]:
    """The head in one row: in little room with a shorter drawing of how far the round is, then
    without, then the stop alone."""
    if len(head[0].cells) < 4:
        return head  # its end
    name, stop, drawn, left = head[0].cells
    spare = width - sum(len(cell.text) for cell in (name, stop, left)) - 2
    if spare >= LEAST_BAR:
        _, number, _, of = stop.text.split()
        shorter = _bar(int(number), int(of), min(BAR, spare))
        return (line(name, stop, Cell(shorter, drawn.tone), left), *head[1:])
    for cells in ((name, stop, Cell(left.text.strip())), (stop, Cell(left.text.strip()))):
        if sum(len(cell.text) for cell in cells) <= width:
            return (Line(cells), *head[1:])
    return (line(stop), *head[1:])


def _wash_lines(stop: Stop) -> tuple[tuple[Line, ...], ...]:
    wash = "Soap and water, also what you touched: tools, lamp switch, keyboard."
    return (
        (line("Wash your hands.", tone="strong"),),
        (line(f"Next: {stop.group}. {wash}"),),
        (line("Enter when washed.", tone="due"),),
    )
