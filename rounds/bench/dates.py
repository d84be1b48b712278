"""How an instant is written beside another, or beside today."""

from __future__ import annotations

from datetime import date, datetime, time

NOON = time(12)  # as which a day alone is stored
WEEKDAY_IS_PAST = 3  # days; one that is past for longer would be read as the one to come


def is_clear_by_weekday(day: date, of: date) -> bool:
    """Whether the weekday alone says a day beside another: up to six days ahead of it and three
    days before it."""
    return -WEEKDAY_IS_PAST <= (day - of).days <= 6


def is_after(said: datetime, at: datetime) -> bool:
    """Whether a time that was given lies after another; a day alone, which is stored as its noon,
    does not where it holds the other."""
    same_day = said.date() == at.astimezone(said.tzinfo).date()
    return said > at and not (said.time() == NOON and same_day)


def beside(at: datetime, other: datetime) -> str:
    """An instant as it is said of another: the weekday alone where that is clear, and the year
    where it is not the same."""
    if is_clear_by_weekday(at.date(), other.date()):
        return f"{at:%a %H:%M}"
    return dated(at, other)


def end_beside(at: datetime, since: datetime) -> str:
    """The end of a span as it is said where its beginning stands beside it: without the day where
    that is the same."""
    return f"{at:%H:%M}" if at.date() == since.date() else beside(at, since)


def dated(at: datetime, other: datetime) -> str:
    """Day and time, with the year where it is not that of the other."""
    return f"{at:%a %d %b %H:%M}" if at.year == other.year else f"{at:%a %d %b %Y %H:%M}"


def short(local: datetime, today: date) -> str:
    """An instant as short as it can be: ``18:00`` today, ``Thu 02:00`` up to six days ahead and
    three days ago, else ``3 Dec 02:00``, with the year where it is not this one."""
    if local.date() == today:
        return f"{local:%H:%M}"
    if is_clear_by_weekday(local.date(), today):
        return f"{local:%a %H:%M}"
    return (
        f"{local.day} {local:%b %H:%M}"
        if local.year == today.year
        else f"{local.day} {local:%b %Y %H:%M}"
    )
