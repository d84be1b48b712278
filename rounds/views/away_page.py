"""Going away: what to do before, what breaks first, and the one-page sheet for a helper."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from rounds.bench.state import Bench
from rounds.care.away import Away, Breaks, SheetLine, away
from rounds.care.checks import CHECKS
from rounds.care.due import Due
from rounds.care.moment import Moment
from rounds.care.order import WASH_BEFORE
from rounds.views.cells import Cell, Line, Tone, labelled, line
from rounds.views.words import clock, count, day_and_time, literal

CAUTIONS = (
    "Wash your hands before you begin, and wherever this sheet says so.",
    "No insect spray, flea drops, plug-ins or mosquito coils in the room or on your hands.",
    "Some hairy or spiny caterpillars sting: gloves, no rubbing of eyes.",
    "Leave lamps as they are. If one smells hot or flickers, switch it off at the wall and ring.",
)


# What a helper reads for the plan's own short words.
HELPERS_WORDS = {
    "read": "read the thermometer, lowest and highest, and write them down:",
    "ants": "look at the water that keeps ants off; fill it up; nothing may bridge it:",
    "drink": "hold each to the sugar water until it has drunk:",
    "feeder": "put a fresh sugar swab in:",
    "host": "see that the plant is stiff and green; change it if it is limp:",
    "food": "see that there is plant left; add fresh beside the old:",
    "clean": "take droppings and old leaves out, counting the caterpillars:",
    "mist": "spray lightly, no drops:",
    "air": "open the lid for a minute:",
    "leaf in": "put a small tender leaf in:",
    "hatched!": "tiny caterpillars may be on these sprigs: put a small tender leaf in, and ring:",
    "frass look": "look for droppings like pinpricks:",
    "store": "look at the cut plants; throw out what is slimy or yellow:",
    "look": "look, without touching:",
}


def _plain(todo: str) -> str:
    """A helper comes and goes; only the keepers know what a round is."""
    todo = todo.replace("each round", "at each visit")
    for short, plain in sorted(HELPERS_WORDS.items(), key=lambda pair: -len(pair[0])):
        if todo.startswith(f"{short} "):
            return plain + todo.removeprefix(short)
    return todo


def away_lines(bench: Bench, moment: Moment, leave: datetime, back: datetime, dues: Iterable[Due]) -> tuple[Line, ...]:
    """The keeper's page: before leaving, what breaks first, what the sheet will say.

    Raises:
        ValueError: in one line, where the times cannot be.
    """
    plan = away(bench, moment, leave, back, dues)
    zone = moment.zone
    lines = [
        line(Cell("going away", "strong"), f"   {day_and_time(leave, zone)} to {day_and_time(back, zone)}"),
        line(""),
        line(Cell("before you leave", "strong"), Cell(f"   {count(len(plan.before), 'thing')}", "quiet")),
    ]
    lines += _before_lines(plan.before, moment) or [line("   nothing more than the last round")]
    lines += [line(""), line(Cell("what breaks first, if nobody comes", "strong"))]
    lines += [_breaks_line(one, moment) for one in plan.breaks] or [line("   nothing before you are back")]
    lines += [line(""), line(Cell("the helper's sheet", "strong"), Cell("   as 'rounds sheet' prints it", "quiet")), line("")]
    lines += [line(text) for text in sheet_text(bench, plan, zone)]
    return tuple(lines)


def _before_lines(dues: tuple[Due, ...], moment: Moment) -> list[Line]:
    """A line a place: what it wants, and by when where that is not now."""
    by_place: dict[str, list[str]] = {}
    for due in dues:
        when = f" {clock(due.due, moment.now, moment.zone)}" if due.due > moment.now else ""
        by_place.setdefault(_place(due.place_kind, due.where), []).append(f"{CHECKS[due.check].verb}{when}")
    return [labelled(f"   {place:<13}", ", ".join(told)) for place, told in by_place.items()]


def _breaks_line(one: Breaks, moment: Moment) -> Line:
    what = f"   {_place(one.place_kind, one.where):<13}{CHECKS[one.check].verb:<11} "
    words = []
    for name, at in (("late", one.amber), ("LATE!", one.red), ("in danger from about", one.harm)):
        if at is not None:
            words.append(f"{name} {clock(at, moment.now, moment.zone)}")
    tone: Tone = "late" if one.harm else "plain"
    return Line((Cell(what), Cell(", ".join(words), tone), Cell(f"   {one.arithmetic}", "quiet")), hang=len(what))


def _place(kind: str, where: str) -> str:
    return f"shelf {literal(where)}" if kind == "shelf" else (literal(where) or f"the {kind}")


@dataclass(frozen=True, slots=True)
class SheetPlace:
    """One place of the helper's sheet, in words; nothing in it is obeyed by a terminal or hidden from the eye."""

    title: str
    hands_off: str
    todo: tuple[str, ...]
    ring_if: str
    last_note: str
    wash_before: bool


TICK = "Walk from top to bottom. Tick what you did and write the time beside it."


def sheet_head(bench: Bench, plan: Away, zone: tzinfo) -> tuple[str, ...]:
    """For whom, from when to when, and whom to ring where the book's setting 'phone' says it."""
    name = literal(bench.settings.get("bench", "")) or "the bench"
    phone = literal(bench.settings.get("phone", ""))
    times = f"from {day_and_time(plan.leave, zone)} to {day_and_time(plan.back, zone)}"
    return (f"For the helper: {name}", times, *([f"ring {phone}"] if phone else []))


def sheet_places(plan: Away, zone: tzinfo) -> list[SheetPlace]:
    """Every place in walking order, in plain words."""
    found = []
    group = ""
    for place in plan.sheet:
        wash = place.group != group and place.group in WASH_BEFORE
        group = place.group
        found.append(_sheet_place(place, zone, wash_before=wash))
    return found


def _sheet_place(place: SheetLine, zone: tzinfo, *, wash_before: bool) -> SheetPlace:
    shelf = f", shelf {literal(place.shelf)}" if place.shelf and place.place_kind == "container" else ""
    hands_off = "look only, do not open" if place.look_only else ""
    if place.leave_be_until:
        hands_off = f"DO NOT OPEN OR MOVE until {day_and_time(place.leave_be_until, zone)}"
    return SheetPlace(
        f"{_place(place.place_kind, place.where)}{shelf}{': ' if place.holds else ''}{literal(place.holds)}",
        hands_off,
        tuple(literal(_plain(todo)) for todo in place.todo),
        f"ring if {', or '.join(place.call_if)}" if place.call_if else "",
        f"last note: {literal(place.last_note)}" if place.last_note else "",
        wash_before,
    )


def sheet_text(bench: Bench, plan: Away, zone: tzinfo) -> list[str]:
    """The helper's sheet as plain text, in walking order: no jargon, cautions first."""
    lines = [*sheet_head(bench, plan, zone), "", *(f"! {caution}" for caution in CAUTIONS), "", TICK]
    for place in sheet_places(plan, zone):
        if place.wash_before:
            lines += ["", "--- wash your hands ---"]
        below = (place.hands_off, *place.todo, place.ring_if, place.last_note)
        lines += ["", f"[ ] {place.title}", *(f"    {words}" for words in below if words)]
    return lines


def next_days(moment: Moment) -> tuple[datetime, datetime]:
    """What is shown before times are given: leaving in an hour, back in two days."""
    return moment.now + timedelta(hours=1), moment.now + timedelta(days=2)
