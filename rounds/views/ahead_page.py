"""What is coming, drawn over time: a line each, with what it rests on."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, time, timedelta, tzinfo

from rounds.bench.state import Bench
from rounds.checks.due import why
from rounds.checks.round_clock import Moment
from rounds.checks.time_format import chance_words
from rounds.checks.timeline import Item
from rounds.forecasts.kept_stems import Chance
from rounds.forecasts.outcomes import Outcome, Score, score
from rounds.forecasts.stage_ends import Coming
from rounds.forecasts.warmth import LONGEST_HOLE_DAYS
from rounds.views.cells import Cell, Column, Line, Row, Tone, labelled, line
from rounds.views.words import age, day_and_time, literal, number

SPANS: tuple[tuple[str, timedelta], ...] = (
    ("a day", timedelta(days=1)),
    ("three days", timedelta(days=3)),
    ("a week", timedelta(days=7)),
    ("two weeks", timedelta(days=14)),
    ("six weeks", timedelta(days=42)),
)
USUAL_SPAN = 2
LEFT, RIGHT = 31, 15  # what stands beside the drawing: edge, where, what, how many; and when
LEAST_ROOM = 20
FORECAST = ("hatch", "moult", "pupation", "emergence")


def drawing_room(width: int) -> int:
    """How many columns the drawing has on a screen of that width."""
    return max(LEAST_ROOM, width - LEFT - RIGHT)


def ahead_columns(moment: Moment, span: timedelta, room: int) -> tuple[Column, ...]:
    """The columns; the drawing's heading is its axis."""
    axis = axis_words(moment.now, moment.zone, span, room)
    return Column("where", 6), Column("what", 13), Column("", 4, right=True), Column(axis, room), Column("half by", 13, grows=1)


def ahead_rows(items: list[Item], moment: Moment, span: timedelta, room: int) -> tuple[Row, ...]:
    """A line for each thing that is coming."""
    return tuple(
        Row(
            f"{place}",
            (
                Cell(literal(item.where), "strong"),
                Cell(item.what, _tone(item, moment)),
                Cell(str(item.number) if item.number else ""),
                Cell(drawn(item, moment.now, span, room), _tone(item, moment)),
                Cell(*_when(item, moment)),
            ),
        )
        for place, item in enumerate(items)
    )


def _tone(item: Item, moment: Moment) -> Tone:
    if item.at is None:
        return "quiet"
    end = item.last or item.at
    if end < moment.now:
        return "late"
    return "due" if (item.first or item.at) <= moment.now + timedelta(hours=14) else "plain"


def _when(item: Item, moment: Moment) -> tuple[str, Tone]:
    if item.at is None:
        return "no date", "quiet"
    end = item.last or item.at
    if end < moment.now:
        gone = moment.now - item.at  # of half, as its column says; the last is past too
        return f"{f'{gone.days} d' if gone.days >= 2 else age(gone)} past", "late"
    return dated(item.at, moment), "plain"


def dated(at: datetime | None, moment: Moment) -> str:
    """A day and time that cannot be taken for one a week before or after: ``Wed 25 18:00``, today only the time."""
    if at is None:
        return "-"
    here = at.astimezone(moment.zone)
    if here.date() == moment.today:
        return f"today {here:%H:%M}"
    if abs((at - moment.now).days) < 25:
        return f"{here:%a} {here.day} {here:%H:%M}"
    year = f"{here:%Y} " if here.year != moment.now.astimezone(moment.zone).year else ""
    return f"{here.day} {here:%b} {year}{here:%H:%M}"


def drawn(item: Item, now: datetime, span: timedelta, room: int) -> str:
    """One line of the drawing: '[' the first, 'O' half, ']' the last, dots for where one animal may fall; '|' a deadline."""
    signs = [" "] * room

    def place(at: datetime) -> int:
        return int((at - now) / span * room)

    def put(at: datetime | None, sign: str) -> None:
        if at is not None:
            where = place(at)
            signs[max(0, min(room - 1, where))] = "<" if where < 0 else ">" if where >= room else sign

    def fill(start: datetime | None, end: datetime | None, sign: str) -> None:
        if start is not None and end is not None:
            for column in range(max(0, place(start)), min(room, place(end) + 1)):
                signs[column] = sign

    if item.at is None:
        return ""
    if item.first is None or item.last is None:
        put(item.at, "|")
        return "".join(signs)
    fill(item.low, item.high, ".")
    fill(item.first, item.last, "=")
    for at, sign in ((item.first, "["), (item.last, "]"), (item.at, "O")):
        if 0 <= place(at) < room:
            put(at, sign)
    if "".join(signs).isspace():
        put(item.at, "O")
    return "".join(signs)


def axis_words(now: datetime, zone: tzinfo, span: timedelta, room: int) -> str:
    """Days, or hours where a day or two are shown, at their places."""
    signs = [" "] * room
    signs[:3] = "now"
    for at, words in _ticks(now, zone, span):
        place = int((at - now) / span * room)
        fits = place + len(words) <= room and all(sign == " " for sign in signs[max(0, place - 1) : place + len(words)])
        if place >= 4 and fits:
            signs[place : place + len(words)] = words
    return "".join(signs).rstrip()


def _ticks(now: datetime, zone: tzinfo, span: timedelta) -> Iterable[tuple[datetime, str]]:
    day = now.astimezone(zone).date()
    for more in range(span.days + 2):
        then = day + timedelta(days=more)
        midnight = datetime.combine(then, time(0), tzinfo=zone)
        if now < midnight <= now + span:
            yield midnight, f"{then:%a} {then.day}"
    if span <= timedelta(days=3):
        for more in range(span.days + 2):
            for hour in (12, 6, 18) if span <= timedelta(days=1) else (12,):
                at = datetime.combine(day + timedelta(days=more), time(hour), tzinfo=zone)
                if now < at <= now + span:
                    yield at, f"{hour:02d}h"


def ahead_head(outcomes: list[Outcome], moment: Moment, span_words: str, done: bool) -> tuple[Line, ...]:
    """What is shown, and how well forecasts did so far."""
    title = "what came, and what was expected" if done else "what is coming"
    told = line(Cell(title, "strong"), f"   {day_and_time(moment.now, moment.zone)}", Cell(f"   {span_words}", "quiet"))
    return told, line(Cell(score_words(score(outcomes)), "quiet"))


def score_words(found: Score | None) -> str:
    """How well forecasts of this bench did."""
    if found is None:
        return "No forecast has come due yet on this bench."
    late = "late" if found.mean_error_days >= 0 else "early"
    return (
        f"forecasts so far: {found.within} of {found.animals} inside the window ({found.share_within:.0%}), "
        f"{number(abs(found.mean_error_days))} d {late} on average"
    ).replace("%", " %", 1)


def item_why(bench: Bench, item: Item, moment: Moment) -> tuple[Line, ...]:
    """What a line rests on."""
    if item.coming is not None:
        return _coming_why(item.coming, moment)
    if item.chance is not None:
        return chance_why(item.subject, item.chance, moment)
    if item.due is not None:
        told = why(item.due, bench, moment)
        return labelled("why", f"{told.rule}. {told.last}"), labelled("", told.arithmetic), labelled("from", told.source, "quiet")
    return (labelled("why", literal(item.subject) or "as it was said"),)


def _bridged(hole: timedelta) -> str:
    """What stands in for the readings of a hole."""
    return "the mean of the rest" if hole > timedelta(days=LONGEST_HOLE_DAYS) else "a straight line across"


def _coming_why(one: Coming, moment: Moment) -> tuple[Line, ...]:
    def said(at: datetime | None) -> str:
        return dated(at, moment)

    whose = f"{one.number} of {literal(one.brood)}, begun between {said(one.begun_from)} and {said(one.begun_to)}"
    if not one.begun_known:
        whose += "; they came in begun, when is not known"
    if one.need is None or one.half is None:
        return labelled("who", whose), labelled("why", literal(one.why_not), "late")
    need = one.need
    to = f" to {said(one.gathered_to)}" if one.gathered_to else ""
    earlier = "; earlier as where they stood then" if one.moved else ""
    lines = [
        labelled("when", f"first {said(one.first)}, half {said(one.half)}, last {said(one.last)}; 9 in 10 animals "
                 f"{said(one.low)} to {said(one.high)}"),
        labelled("who", whose),
        labelled("why", f"{one.degree_days:.0f} of {need.constant_dd:.0f} degree-days above {need.lower_c:g} C gathered{to}; animals "
                 f"differ by {need.spread:.0%}, the figure by {need.uncertainty:.0%}".replace("%", " %")),
        labelled("warm", f"{literal(one.warmth)}{earlier}; goes on as the last days' mean"),
        labelled("from", literal(need.words).replace("%", " %"), "quiet"),
    ]  # fmt: skip
    if one.holes:
        told = "; ".join(f"{said(start)} to {said(end)} ({_bridged(end - start)})" for start, end in one.holes[-2:])
        lines.insert(4, labelled("holes", f"nothing read {told}", "late"))
    return tuple(lines)


def chance_why(name: str, chance: Chance, moment: Moment) -> tuple[Line, ...]:
    """The chance that held sprigs bear viable eggs, with every number behind it."""
    until = dated(chance.keep_until, moment) if chance.keep_until else "no date"
    searches = ", ".join(f"{aid} finds {share:.0%}" for aid, share in chance.searches) or "not searched"
    rest = chance.sex_not_known
    others = f", and {rest:.1f} days of adults whose sex is not known, taken for females" if rest >= 0.05 else ""
    return (
        labelled("held", f"{literal(name)}: chance of viable eggs {chance_words(chance.chance)}; keep until {until}, then under 1 %"),
        labelled("why", f"{chance.prior:.0%} before any search: {chance.rate:.2g} eggs a female-day here ({chance.eggs} in "
                 f"{chance.female_days:.1f}{others}); {searches}; {chance.viable:.0%} of eggs hatch; {chance.degree_days:.0f} of "
                 f"{chance.hatch_dd:.0f} degree-days gone by the last look without droppings"),
        labelled("from", f"Bayes' rule over independent searches; {literal(chance.need.words)}; {literal(chance.warmth)}", "quiet"),
    )  # fmt: skip


def outcome_rows(outcomes: list[Outcome], moment: Moment) -> tuple[Row, ...]:
    """Every finished change beside its forecast: whether it came true."""

    def said(at: datetime) -> str:
        return dated(at, moment)

    return tuple(
        Row(
            f"{place}",
            (
                Cell(literal(one.where), "strong"),
                Cell(one.change),
                Cell(str(one.number)),
                Cell(f"{said(one.said_low)} to {said(one.said_high)}"),
                Cell(said(one.came_half)),
                Cell("came true" if one.held else f"{number(abs(one.error_days))} d {'late' if one.error_days > 0 else 'early'}",
                     "good" if one.held else "late"),
            ),
        )
        for place, one in enumerate(outcomes)
    )  # fmt: skip


OUTCOME_COLUMNS = (
    Column("where", 5),
    Column("what", 9),
    Column("n", 3, right=True),
    Column("9 in 10 were expected", 29, grows=1),
    Column("half came", 12),
    Column("so", 10),
)
HOW_MEASURED = (
    labelled("how", "Each forecast as it stood when its stage had begun: without the temperatures that came after, and without what "
             "this brood and later ones taught. 'came true': most came inside the window that 9 in 10 were expected in."),
)  # fmt: skip


def table_rows(items: list[Item], moment: Moment) -> tuple[Row, ...]:
    """The same as text: first, half and last in words."""

    def said(at: datetime | None) -> str:
        return dated(at, moment)

    return tuple(
        Row(
            f"{place}",
            (
                Cell(literal(item.where), "strong"),
                Cell(item.what, _tone(item, moment)),
                Cell(str(item.number) if item.number else ""),
                Cell(said(item.first)),
                Cell(said(item.at)),
                Cell(said(item.last)),
            ),
        )
        for place, item in enumerate(items)
    )


TABLE_COLUMNS = (
    Column("where", 8),
    Column("what", 13),
    Column("n", 4, right=True),
    Column("first", 14, grows=1),
    Column("half, or the day", 16, grows=1),
    Column("last", 14, grows=1),
)
