"""A time to come as a keeper says it who knows it no better than to a part of the day."""

from __future__ import annotations

from datetime import datetime, timedelta

from rounds.checks.round_clock import Moment

TO_THE_HOUR = timedelta(hours=12)  # a forecast whose window is no longer is told by its hour
NEAR = timedelta(days=1)  # what is nearer is told by its hour too, if only about it
# Until which hour of the day a part lasts, what it is called of today, and of another day.
PARTS = (
    (6, "early today", "early {}"),
    (12, "this morning", "{} morning"),
    (18, "this afternoon", "{} afternoon"),
    (21, "this evening", "{} evening"),
    (24, "tonight", "{} late evening"),
)


def roughly(at: datetime, span: timedelta, moment: Moment) -> str:
    """An instant as certain as its forecast is: ``22:00``, ``tonight about 22:00``, ``Thu 3 Jun
    morning``.

    The hours before dawn are early on their date, never the night of it, which begins only when
    that day ends.

    Args:
        span: how long the window of the forecast is.
    """
    is_sure = span <= TO_THE_HOUR
    by_hour = is_sure or abs(at - moment.now) < NEAR
    local = (at + timedelta(minutes=30) * by_hour).astimezone(moment.zone)
    of_today, of_a_day = next((today, day) for until, today, day in PARTS if local.hour < until)
    hour = f"{local:%H}:00" if is_sure else f"about {local:%H}:00"
    if local.date() == moment.today:
        return hour if is_sure else f"{of_today} {hour}"
    year = f" {local.year}" if local.year != moment.today.year else ""
    day = f"{local:%a} {local.day} {local:%b}{year}"
    return f"{day} {hour}" if by_hour else of_a_day.format(day)
