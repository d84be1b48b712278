"""Time drawn in letters: days along a line, and what is coming on it.

Ink is likelihood and never alarm: ``.`` few animals may do it by then, ``o`` many, ``O`` half have.
``---`` runs until ``X``, the day by which something is to be kept or done. The signs of states (``#
= :``) are never
used here.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, time, timedelta, tzinfo
from typing import Literal

from msgspec import Struct

from rounds.bench.plurals import count
from rounds.checks.round_clock import Moment
from rounds.checks.timeline import Item

LEGEND = (". few", "o many", "O half by then", "--- until X", "^ now", "r round")
STEPS_H = (0.5, 1, 2, 3, 4, 6, 8, 12, 24, 48)  # hours a letter
BY_HOURS = timedelta(days=3)  # a span as short begins near now, a longer one at midnight
QUARTER = timedelta(hours=6)  # a short one begins at one of these
# of the span: rather its last hours are left out than every letter made to hold more
NEARLY_ALL = 0.93
ROUNDS_UP_TO_H = 6.0  # hours a letter beyond which rounds would stand in every letter


class Axis(Struct, frozen=True):
    """So many letters of time; the first begins at ``start``."""

    now: datetime
    zone: tzinfo
    start: datetime
    step: timedelta
    cells: int

    def place(self, at: datetime) -> int:
        """The letter in which an instant falls; below 0 and from ``cells`` on it falls outside."""
        return (at - self.start) // self.step

    @property
    def step_words(self) -> str:
        """``3 hours a cell``."""
        hours = self.step / timedelta(hours=1)
        if hours < 1:
            return "half an hour a cell"
        if hours < 24:
            return f"{count(int(hours), 'hour')} a cell"
        return f"{count(int(hours / 24), 'day')} a cell"

    def midnights(self) -> Iterator[datetime]:
        """The midnights on it, where the bench stands."""
        day = self.start.astimezone(self.zone).date()
        while True:
            at = datetime.combine(day, time(0), tzinfo=self.zone)
            if self.place(at) >= self.cells:
                return
            if self.place(at) >= 0:
                yield at
            day += timedelta(days=1)


def axis_of(now: datetime, zone: tzinfo, span: timedelta, room: int) -> Axis:
    """The axis that shows so much time in so many letters or fewer, in round hours a letter."""
    instant = now.astimezone(zone)
    hour = instant.hour // 6 * 6 if span <= BY_HOURS else 0
    start = instant.replace(hour=hour, minute=0, second=0, microsecond=0)
    whole = span + QUARTER if span <= BY_HOURS else span
    steps = [timedelta(hours=hours) for hours in STEPS_H]
    step = next((step for step in steps if whole * NEARLY_ALL <= step * room), steps[-1])
    return Axis(now, zone, start, step, min(room, -(-whole // step)))


def axis_before(now: datetime, zone: tzinfo, span: timedelta, room: int) -> Axis:
    """The axis that shows the days up to now, whole days where the bench stands, the last of them
    today."""
    instant = now.astimezone(zone)
    today = instant.replace(hour=0, minute=0, second=0, microsecond=0)
    start = datetime.combine(today.date() - span + timedelta(days=1), time(0), tzinfo=zone)
    steps = [timedelta(hours=hours) for hours in STEPS_H]
    step = next((step for step in steps if -(-span // step) <= room), steps[-1])
    return Axis(now, zone, start, step, min(room, -(-span // step)))


def day_row(axis: Axis) -> str:
    """The days at their midnights, and the hours between where there is room, each where it fits in
    whole."""
    signs = [" "] * axis.cells
    for at, words in [*_days(axis), *_hours(axis)]:
        position = axis.place(at)
        around = signs[max(0, position - 1) : position + len(words) + 1]
        if position + len(words) <= axis.cells and all(sign == " " for sign in around):
            signs[position : position + len(words)] = words
    return "".join(signs).rstrip()


def _days(axis: Axis) -> Iterator[tuple[datetime, str]]:
    """Each day by its weekday and number, the first of a month by the month's name."""
    for at in axis.midnights():
        yield at, f"{at.day} {at:%b}" if at.day == 1 else f"{at:%a} {at.day}"


def _hours(axis: Axis) -> Iterator[tuple[datetime, str]]:
    if axis.step <= timedelta(hours=1):
        for midnight in (
            datetime.combine(axis.start.date(), time(0), tzinfo=axis.zone) + timedelta(days=more)
            for more in range(3)
        ):
            for hour in (6, 12, 18):
                at = midnight.replace(hour=hour)
                if axis.place(at) >= 0:
                    yield at, f"{hour:02d}:00"


def tick_row(axis: Axis) -> str:
    """``+`` at each midnight, at Mondays where days are narrow, and ``^`` at now."""
    signs = ["-"] * axis.cells
    for at in axis.midnights():
        if axis.step <= QUARTER or at.weekday() == 0:
            signs[axis.place(at)] = "+"
    signs[max(0, min(axis.cells - 1, axis.place(axis.now)))] = "^"
    return "".join(signs)


def rounds_row(axis: Axis, moment: Moment) -> str:
    """``r`` at each round to come; empty where they would stand in every letter."""
    if axis.step > timedelta(hours=ROUNDS_UP_TO_H) or not moment.anchors:
        return ""
    signs = [" "] * axis.cells
    at = moment.next_anchor(moment.now)
    while (position := axis.place(at)) < axis.cells:
        signs[max(0, position)] = "r"
        at = moment.next_anchor(at)
    return "".join(signs).rstrip()


def drawn(item: Item, axis: Axis) -> str:
    """One line of the drawing; what lies beyond the axis is told by its day at the right end, or
    why there is none."""
    if item.at is None:
        return "over the winter" if item.over_winter else "no date"
    if item.first is None or item.last is None:
        return _until(item.at, axis)
    begins, ends = (
        min(filter(None, (item.first, item.low))),
        max(filter(None, (item.last, item.high))),
    )
    if axis.place(begins) >= axis.cells:
        return _beyond(item.at, axis, " ")
    signs = [" "] * axis.cells
    _fill(signs, axis, item.low or item.first, item.high or item.last, ".")
    _fill(signs, axis, item.first, item.last, "o")
    _fill(signs, axis, item.at, item.at, "O")
    if axis.place(ends) < 0:
        return f"over by {_day(ends, axis)}"
    return "".join(signs).rstrip()


def _until(at: datetime, axis: Axis) -> str:
    """Dashes from now to the day."""
    end = axis.place(at)
    if end < 0:
        return f"since {_day(at, axis)}"
    if end >= axis.cells:
        return _beyond(at, axis, "-")
    begin = min(axis.place(axis.now), end)
    return f"{' ' * begin}{'-' * (end - begin)}X"


def _beyond(at: datetime, axis: Axis, fill: Literal[" ", "-"]) -> str:
    words = f" {_day(at, axis)}"
    before = max(0, axis.place(axis.now))
    return f"{' ' * before}{fill * max(0, axis.cells - before - len(words))}{words}"


def _day(at: datetime, axis: Axis) -> str:
    local = at.astimezone(axis.zone)
    return f"{local:%a} {local.day} {local:%b}"


def _fill(signs: list[str], axis: Axis, start: datetime, end: datetime, sign: str) -> None:
    for position in range(max(0, axis.place(start)), min(axis.cells, axis.place(end) + 1)):
        signs[position] = sign
