"""Going away: what to do before, what breaks first, and the sheet for a helper."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from rounds.bench.plurals import count
from rounds.bench.state import Bench
from rounds.checks.away import away
from rounds.checks.due_state import Due, place_name
from rounds.checks.round_clock import Moment
from rounds.forecasts.foresight import Forecasts
from rounds.views.cells import Cell, Line, Tone, aside, labelled, line, section
from rounds.views.sheet import WIDTH, sheet, sheet_pages, sheet_warnings
from rounds.views.states import read_there
from rounds.views.words import day_and_time, literal

LEAST = 60  # cells under which the boxes of the sheet leave no room for its words


def away_lines(
    bench: Bench,
    moment: Moment,
    leave: datetime,
    back: datetime,
    dues: Iterable[Due],
    room: int = WIDTH,
    foresight: Forecasts | None = None,
) -> tuple[Line, ...]:
    """The keeper's page: before leaving, what breaks first, what the sheet will say; ``room`` is
    its width in cells.

    Raises:
        ValueError: in one line, where the times cannot be.
    """
    plan = away(bench, moment, leave, back, dues, foresight)
    zone = moment.zone
    span = f"   {day_and_time(leave, zone)} to {day_and_time(back, zone)}"
    asked = "what is not on record by then is asked at the first visit"
    lines = [line(Cell("going away", "strong"), span)]
    lines += section("before you leave", f"{count(len(plan.before), 'check')} to answer; {asked}")
    lines += _before_lines(plan.before, moment) or [line("   nothing more than the last round")]
    lines += section("what breaks first, if nobody comes")
    lines += _breaks_lines(plan.breaks, moment) or [line("   nothing before you are back")]
    lines += section("the helper's sheet", "as 'rounds sheet' prints it")
    told = sheet(bench, plan, zone)
    lines += [line(f"! {warning}", tone="late") for warning in sheet_warnings(told)]
    for page in sheet_pages(told, max(LEAST, min(room, WIDTH))):
        lines += [line(""), *(line(text) for text in page)]
    return tuple(lines)


def _before_lines(dues: tuple[Due, ...], moment: Moment) -> list[Line]:
    """A line a place: what it wants, and by when where that is not now."""
    by_place: dict[str, list[str]] = {}
    for due in dues:
        when = f" {moment.clock(due.due)}" if due.due > moment.now else ""
        by_place.setdefault(literal(place_name(due)), []).append(f"{read_there(due)}{when}")
    lines = [labelled(f"   {place:<13}", ", ".join(texts)) for place, texts in by_place.items()]
    return [aside(f"   {'go to':<13}", "and answer"), *lines] if lines else []


def _breaks_lines(breaks: Iterable[Due], moment: Moment) -> list[Line]:
    """A line for each check, with what it counts from."""
    lines = [_breaks_line(broken, moment) for broken in breaks]
    what = f"   {'place':<13}{'check':<11} "
    heading = line(f"{what}from when on   why", tone="quiet", hang=len(what))
    return [heading, *lines] if lines else []


def _breaks_line(broken: Due, moment: Moment) -> Line:
    what = f"   {literal(place_name(broken)):<13}{read_there(broken):<11} "
    words = []
    for name, at in (
        ("late", broken.late),
        ("urgent", broken.urgent),
        ("in danger from about", broken.danger),
    ):
        if at is not None:
            words.append(f"{name} {moment.clock(at)}")
    tone: Tone = "late" if broken.danger else "plain"
    return line(
        what, Cell(", ".join(words), tone), Cell(f"   {broken.reason}", "quiet"), hang=len(what)
    )


def next_days(moment: Moment) -> tuple[datetime, datetime]:
    """What is shown before times are given: leaving in an hour, back in two days."""
    return moment.now + timedelta(hours=1), moment.now + timedelta(days=2)
