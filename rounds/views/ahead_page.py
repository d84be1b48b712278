"""What is coming, drawn over time: a line each, with what it rests on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from functools import partial

from rich.cells import cell_len

from rounds.bench.measures import Measures, measures_of
from rounds.bench.plurals import percent
from rounds.bench.state import Bench
from rounds.checks import food, host, leaf
from rounds.checks.base import What
from rounds.checks.due import chosen
from rounds.checks.due_state import Due, pressing
from rounds.checks.round_clock import Moment
from rounds.checks.timeline import Item
from rounds.checks.why import why
from rounds.forecasts.kept_stems import OVER_WINTER
from rounds.forecasts.outcomes import ForecastOutcome, Score, score
from rounds.forecasts.stage_ends import ComingChange
from rounds.forecasts.warmth import LONGEST_HOLE_DAYS
from rounds.views.cells import Cell, Column, Line, Row, Tone, aside, labelled, line, row_of
from rounds.views.kept_chance import chance_in_short
from rounds.views.time_axis import LEGEND, Axis, axis_of, drawn, rounds_row, tick_row
from rounds.views.words import begun, day_and_time, literal, number

SPANS: tuple[tuple[str, timedelta], ...] = (
    ("a day", timedelta(days=1)),
    ("three days", timedelta(days=3)),
    ("a week", timedelta(days=7)),
    ("two weeks", timedelta(days=14)),
    ("six weeks", timedelta(days=42)),
)
USUAL_SPAN = 2
HOUR = timedelta(hours=1)
SOON = 14 * HOUR  # to the end of the next round
SOON_SIGN = "!"
INK = 3  # so many signs of the legend tell how many may do it
FORECAST = ("hatch", "moult", "pupation", "emergence")


PAST, ROUNDS = "past", "rounds"  # the keys of the two lines that are no item
GATHERED_BY_NOW = "more than half of them need: who is left began later or needs more"
OVERDUE = (
    "most of those that live should have come by the last look: these may be dead or at rest; the"
    " date is that of living ones"
)
SHOULD_HAVE = "should have happened: look"
LEAST_THING, MAX_THING, NUMBER = 12, 18, 4  # cells of what stands before the drawing
LEAST_ROOM = 12
BESIDE = 3 + 1 + 1 + 1 + 1  # the list's edge, its gaps, its end and its bar
ASKED: dict[What, str] = {
    "hatch": "look",
    "moult": "look",
    "pupation": "look",
    "emergence": "look",
    "do not disturb ends": "look",
    "change cut": "host",
    "look at plant": "host",
    "moat low": "ants",
    "release by": "release",
    "permit ends": "permit",
    "keep until": "frass",
}


def is_past(item: Item, now: datetime) -> bool:
    """Whether it should have happened by now, to the last of them."""
    end = item.last or item.at
    return end is not None and end < now


def ordered(items: Iterable[Item], now: datetime) -> list[Item]:
    """What is past first, then what animals will do, then what a keeper has to do; each as it
    comes."""
    return sorted(items, key=lambda item: (not is_past(item, now), item.what not in FORECAST))


def thing_words(item: Item) -> str:
    """What comes where, as short as it can be: ``E4 hatch``, ``S7 keep ZR of K2``."""
    what: str = "undisturbed" if item.what == "do not disturb ends" else item.what
    if item.what == "keep until" and item.subject.strip():
        of = f" of {literal(item.source)}" if item.source not in ("", item.where) else ""
        what = f"keep {literal(item.subject.split()[-1])}{of}"
    return f"{literal(item.where)} {what}"


def thing_room(items: Iterable[Item]) -> int:
    """How many cells what comes where takes before the drawing."""
    return max([LEAST_THING, *(min(MAX_THING, cell_len(thing_words(item))) for item in items)])


def axis_in(items: Iterable[Item], moment: Moment, span: timedelta, width: int) -> Axis:
    """The axis of the drawing on a screen of that width."""
    room = max(LEAST_ROOM, width - BESIDE - thing_room(items) - NUMBER)
    return axis_of(moment.now, moment.zone, span, room)


def ahead_columns(items: Iterable[Item], axis: Axis) -> tuple[Column, ...]:
    """The columns; the drawing's heading is its axis."""
    thing = thing_room(items)
    return (
        Column("", thing, least=thing),
        Column("", NUMBER, right=True),
        Column(tick_row(axis), axis.cells, grows=1),
    )


def ahead_rows(
    items: Sequence[Item], axis: Axis, moment: Moment, *, with_past: bool, with_rounds: bool
) -> tuple[Row, ...]:
    """A line for each thing that is coming, above them one for all that should have happened, below
    the rounds.

    Args:
        items: in the order of ``ordered``.
        with_past: whether the lines of what is past are shown too.
    """
    past = [item for item in items if is_past(item, moment.now)]
    if past:
        rows = [
            row_of(
                PAST,
                Cell(PAST, "late"),
                str(len(past)),
                Cell(past_words(past, axis.cells), "late"),
            )
        ]
    else:
        rows = []
    rows += [
        row_of(
            f"{position}",
            Cell(thing_words(item), _tone(item, moment), literal(item.where)),
            str(item.number or ""),
            Cell(drawn(item, axis), _tone(item, moment)),
            sign=_sign(item, moment),
        )
        for position, item in enumerate(items)
        if with_past or not is_past(item, moment.now)
    ]
    walked = rounds_row(axis, moment) if with_rounds else ""
    if walked:
        rows.append(row_of(ROUNDS, Cell(ROUNDS, "quiet"), "", Cell(walked, "quiet")))
    return tuple(rows)


def past_words(past: Sequence[Item], room: int) -> str:
    """What should have happened, in as many names as fit."""
    animals = [item for item in past if item.what in FORECAST]
    names = [thing_words(item) for item in animals or past]
    lead = SHOULD_HAVE if animals else "over"
    for shown in range(len(names), -1, -1):
        more = [f"{len(past) - shown} more"] if shown < len(past) else []
        text = (
            f"{lead}   {', '.join([*names[:shown], *(more if shown else [])])}" if shown else lead
        )
        if cell_len(text) <= room:
            return text
    return lead


def asked_of(bench: Bench, item: Item, dues: Iterable[Due], moment: Moment) -> Due | None:
    """The check that looks after what is coming; None where nothing is asked there."""
    if item.due is not None:
        return item.due
    here = {due.check: due for due in dues if due.where == item.where}
    container = bench.at(item.where)
    check = ASKED[item.what]
    if (
        item.what == "hatch"
        and leaf.CHECK.name in here
        and pressing(here[leaf.CHECK.name], moment.now) != "ahead"
    ):
        check = leaf.CHECK.name
    elif check == host.CHECK.name and container is not None and container.count("larva"):
        check = food.CHECK.name
    if check in here or container is None:
        return here.get(check)
    return chosen(bench, here.values(), moment, check, item.where)


def item_line(item: Item, moment: Moment, measures: Measures) -> str:
    """What is coming in a line of words, as it is read out."""
    if item.what not in FORECAST:
        text = f": {literal(item.subject)}" if item.subject else ""
        words: str = "do not disturb until" if item.what == "do not disturb ends" else item.what
        if item.what == "moat low" and item.at and item.first is None and is_past(item, moment.now):
            words = "moat low since"
        if item.over_winter:
            return f"{literal(item.where)}, {OVER_WINTER}{text}"
        limits = ""
        if item.first and item.last:
            limits = f" (first {dated(item.first, moment)}, last {dated(item.last, moment)})"
        return (
            f"{literal(item.where)}, {words}"
            f" {dated(item.at, moment) if item.at else 'no date'}{limits}{text}"
        )
    what = f"{literal(item.where)}, {item.what} of {item.number}"
    if item.at is None:
        why_not = measures.in_words(literal(item.coming.why_not)) if item.coming else ""
        return f"{what}: no date{f', {why_not}' if why_not else ''}"
    was = is_past(item, moment.now)
    first, half, last = (dated(at, moment) for at in (item.first, item.at, item.last))
    if first == last:
        return f"{what}: {'should have happened ' if was else ''}about {half}"
    if was:
        return f"{what}: should have begun {first} and ended {last}, half by {half}"
    return f"{what}: first {first}, half by {half}, last {last}"


def span_words(change: ComingChange, moment: Moment) -> str:
    """When the first, half and the last of them will, or should have; of one alone, about when."""
    first, half, last = (dated(at, moment) for at in (change.first, change.half, change.last))
    was = (end := change.last or change.half) is not None and end < moment.now
    if change.number == 1 or first == last:
        return f"{'should have happened ' if was else ''}about {half}"
    if was:
        return f"should have begun {first} and ended {last}"
    return f"first {first}, half {half}, last {last}"


def legend_line(width: int) -> Line:
    """What the signs mean, as far as there is room; that of what comes soon in its colour."""
    soon = f"{SOON_SIGN} within {SOON // HOUR} h"
    parts = [*LEGEND[:INK], soon, *LEGEND[INK:]]
    while len(parts) > 1 and len("  ".join(parts)) > width - 2:
        parts.pop()
    return line(
        *(
            Cell(f"  {one}" if place else one, "due" if one == soon else "quiet")
            for place, one in enumerate(parts)
        )
    )


def _tone(item: Item, moment: Moment) -> Tone:
    if item.at is None:
        return "quiet"
    end = item.last or item.at
    if end < moment.now:
        return "late"
    return "due" if (item.first or item.at) <= moment.now + SOON else "plain"


def dated(at: datetime | None, moment: Moment) -> str:
    """A day and time that cannot be taken for one a week before or after: ``Wed 25 18:00`` in this
    month, ``3 Dec 18:00`` in another, ``18:00 today``."""
    if at is None:
        return "-"
    instant = at.astimezone(moment.zone)
    if instant.date() == moment.today:
        return f"{instant:%H:%M} today"
    if (instant.year, instant.month) == (moment.today.year, moment.today.month):
        return f"{instant:%a} {instant.day} {instant:%H:%M}"
    year = f"{instant:%Y} " if instant.year != moment.now.astimezone(moment.zone).year else ""
    return f"{instant.day} {instant:%b} {year}{instant:%H:%M}"


def _sign(item: Item, moment: Moment) -> str:
    """What begins soon has a sign of its own, for where colours are not seen."""
    return SOON_SIGN if _tone(item, moment) == "due" else " "


def ahead_head(
    outcomes: list[ForecastOutcome], moment: Moment, span_words: str, width: int, *, done: bool
) -> tuple[Line, ...]:
    """What is shown, in one row; beside what came, how well forecasts did so far."""
    when = f"   {day_and_time(moment.now, moment.zone)}"
    if done:
        return line(f"what came, and what was expected{when}"), line(
            score_words(score(outcomes)), tone="quiet"
        )
    title, span = "what is coming", f"   {span_words}"
    fits = (way for way in (f"{title}{when}", title) if len(way) + len(span) <= width)
    return (line(next(fits, ""), Cell(span, "quiet")),)


def score_words(found: Score | None) -> str:
    """How well forecasts of this bench did."""
    if found is None:
        return "No forecast has come due yet on this bench."
    late = "late" if found.mean_error_days >= 0 else "early"
    return (
        f"forecasts so far: {found.within} of {found.animals} inside the window"
        f" ({percent(found.share_within)}),"
        f" animals {number(abs(found.mean_error_days))} d {late} on average"
    )


def item_why(bench: Bench, item: Item, moment: Moment) -> tuple[Line, ...]:
    """What a line rests on."""
    if item.coming is not None:
        return _coming_why(item.coming, moment, measures_of(bench.settings))
    if item.chance is not None:
        return chance_in_short(item.subject, item.chance, moment)
    if item.due is not None:
        told = why(item.due, bench, moment)
        return (
            labelled("why", f"{told.rule}. {begun(told.last)}"),
            labelled("", told.arithmetic),
            aside("from", told.source),
        )
    return (labelled("why", literal(item.subject) or "as it was recorded"),)


def _bridged(hole: timedelta) -> str:
    """What stands in for the readings of a hole."""
    if hole > timedelta(days=LONGEST_HOLE_DAYS):
        return "the mean of the rest"
    return "a straight line across"


def _coming_why(change: ComingChange, moment: Moment, measures: Measures) -> tuple[Line, ...]:
    said = partial(dated, moment=moment)
    whose = (
        f"{change.number} of {literal(change.brood)}, begun between {said(change.begun_from)} and"
        f" {said(change.begun_to)}"
    )
    if not change.begun_known:
        whose += "; they came in begun, when is not known"
    if change.own:
        when = f"first {said(change.first)}, last {said(change.last)}"
        return labelled("when", when), labelled("who", whose), labelled("why", literal(change.own))
    if change.need is None or change.half is None:
        return labelled("who", whose), labelled(
            "why", measures.in_words(literal(change.why_not)), "late"
        )
    need = change.need
    gathered, heat = (measures.heat_number(one) for one in (change.degree_days, need.constant_dd))
    to = f" to {said(change.gathered_to)}" if change.gathered_to else ""
    earlier = "; earlier as where they stood then" if change.moved else ""
    expected = span_words(change, moment)
    if not expected.startswith("should"):
        expected = f"expected {expected}"
    lines = [
        labelled(
            "when",
            f"{expected}; at the earliest {said(change.low)}, at the latest {said(change.high)}"
            " (9 in 10 animals)",
        ),
        labelled("who", whose),
        labelled(
            "why",
            f"{gathered} of {heat} degree-days above"
            f" {measures.warmth(round(need.lower_c, 1))} gathered{to}; {need.off_words}, its"
            f" animals differ by {percent(need.spread)}",
        ),
        labelled(
            "warm",
            f"{measures.in_words(literal(change.warmth))}{earlier}; then as the mean of the last"
            " days, with how far these differ",
        ),
        aside("from", measures.in_words(literal(need.words))),
    ]
    if change.overdue:
        lines.insert(4, labelled("but", OVERDUE, "late"))
    elif change.degree_days >= need.constant_dd:
        lines.insert(4, labelled("but", GATHERED_BY_NOW, "late"))
    if change.beyond:
        lines.insert(4, labelled("but", measures.in_words(change.beyond), "late"))
    if change.holes:
        text = "; ".join(
            f"{said(start)} to {said(end)} ({_bridged(end - start)})"
            for start, end in change.holes[-2:]
        )
        lines.insert(4, labelled("holes", f"nothing read {text}", "late"))
    return tuple(lines)


def _off_words(outcome: ForecastOutcome) -> str:
    how = "late" if outcome.error_days > 0 else "early"
    return f"{number(abs(outcome.error_days))} d {how}"


def outcome_rows(outcomes: list[ForecastOutcome], moment: Moment) -> tuple[Row, ...]:
    """Every finished change beside its forecast: whether it came true."""
    said = partial(dated, moment=moment)

    def day(at: datetime) -> str:
        return (
            said(at).rsplit(" ", 1)[0]
            if at.astimezone(moment.zone).date() != moment.today
            else "today"
        )

    return tuple(
        row_of(
            f"{position}",
            Cell(literal(outcome.where), "strong"),
            outcome.change,
            str(outcome.number),
            f"{day(outcome.said_low)} to {day(outcome.said_high)}",
            said(outcome.said_half),
            said(outcome.came_half),
            Cell("came true", "good") if outcome.held else Cell(_off_words(outcome), "late"),
        )
        for position, outcome in enumerate(outcomes)
    )


OUTCOME_COLUMNS = (
    Column("where", 5),
    Column("what", 9),
    Column("n", 3, right=True),
    Column("expected", 16, grows=1),
    Column("half by", 12, grows=1),
    Column("half came", 12, grows=1),
    Column("so", 12),
)
HOW_MEASURED = (
    labelled(
        "how",
        "Each forecast as it stood when its stage had begun: without the temperatures that came"
        " after, and without what this brood and later ones taught. Expected: from when to when"
        " 9 in 10 were, and by when half. 'came true': most came inside that window; else how much"
        " earlier or later half came than they were expected.",
    ),
)


def table_rows(items: list[Item], moment: Moment) -> tuple[Row, ...]:
    """The same as text: first, half and last in words."""
    said = partial(dated, moment=moment)
    return tuple(
        row_of(
            f"{position}",
            Cell(literal(item.where), "strong"),
            Cell(item.what, _tone(item, moment)),
            str(item.number) if item.number else "",
            said(item.first),
            said(item.at),
            said(item.last),
            sign=_sign(item, moment),
        )
        for position, item in enumerate(items)
    )


TABLE_COLUMNS = (
    Column("where", 8),
    Column("what", 19),  # 'do not disturb ends'
    Column("n", 3, right=True),
    Column("first", 13, grows=1),
    Column("half, or day", 13, grows=1),
    Column("last", 13, grows=1),
)
