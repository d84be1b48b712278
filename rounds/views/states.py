"""How a state is written and drawn: one rule for every page.

A state is a word, a sign and a fill, each sufficient alone. The signs are a scale of ink: one
point, two points, two strokes, four strokes; ``~`` lies flat and is no part of it. Signs are never
read aloud; the words are.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Literal, get_args

from rounds.checks.due_state import (
    AtPlace,
    Due,
    Pressing,
    Timed,
    comes,
    past_limit,
    place_name,
    pressing,
    time_left,
)
from rounds.checks.round_clock import Moment
from rounds.entries.check_labels import label_of
from rounds.views.cells import Tone
from rounds.views.words import age, literal

State = Literal["in danger", "urgent", "late", "do not disturb", "due", "in order"]
STATES: tuple[State, ...] = get_args(State)  # the worst first
SIGNS: dict[State, str] = {
    "in danger": "#",
    "urgent": "=",
    "late": ":",
    "due": ".",
    "in order": " ",
    "do not disturb": "~",
}
TONES: dict[State, Tone] = {
    "in danger": "danger",
    "urgent": "urgent",
    "late": "late",
    "due": "due",
    "in order": "quiet",
    "do not disturb": "due",
}
_OF_PRESSING: dict[Pressing, State] = {
    "in danger": "in danger",
    "urgent": "urgent",
    "late": "late",
    "due": "due",
    "ahead": "in order",
}
WORSE_THAN_DUE: frozenset[State] = frozenset({"in danger", "urgent", "late"})  # what wants a hand
DAY = timedelta(days=1)  # a bar is drawn only where danger is nearer than that
LIST_BAR = 6  # cells of the bar in a list: 4 h each
# cells of the edge of a cup on the map without danger within a day
EDGE_OF_OTHERS = 1
PAST = "past the limit"  # of a permit or a promise


def state_of(due: Timed | None, now: datetime, *, undisturbed: bool = False) -> State:
    """The state of a check, or of what it is about.

    Args:
        due: the check, the most urgent one of a container; without one all is in order.
        undisturbed: whether the container is to be left alone now. It is said where nothing is
            late.
    """
    state = "in order" if due is None else _OF_PRESSING[pressing(due, now)]
    return "do not disturb" if undisturbed and state not in WORSE_THAN_DUE else state


def when_words(due: Timed, moment: Moment) -> str:
    """How late a check is, in danger from when on; ``now`` where it is only due, or when it
    comes."""
    state = state_of(due, moment.now)
    if state == "in order":
        return moment.clock(comes(due, moment.now))
    if state == "due":
        return "now"
    return f"{state}, {PAST}" if past_limit(due, moment.now) else state


def state_word(due: Timed, moment: Moment) -> str:
    """The same in a word, for a list: ``in danger``, ``urgent``, ``late``, ``now``, or when it
    comes."""
    return when_words(due, moment).removesuffix(f", {PAST}")


def harm_words(due: Timed, moment: Moment) -> str:
    """Since when it is in danger, or how long until it is; empty where no harm is expected within a
    day.

    ``since 17:04``, ``1 h 26 left``.
    """
    left = time_left(due, moment.now)
    if left is None or left >= DAY:
        return ""
    if left <= timedelta(0):
        return f"since {moment.clock(moment.now + left)}"
    hours, minutes = divmod(int(left.total_seconds() // 60), 60)
    return f"{hours} h {minutes:02d} left" if hours else f"{minutes} min left"


def left_words(left: timedelta | None) -> str:
    """The time left until harm as a list has it: ``6 h``, ``40 min``, ``none``; empty where it is a
    day or more."""
    if left is None or left >= DAY:
        return ""
    if left <= timedelta(0):
        return "none"
    hours = int(left.total_seconds() // 3600)
    return f"{hours} h" if hours else age(left)


def filled(left: timedelta | None, cells: int) -> int:
    """How many cells of a bar are filled: floor((24 h - left) / cell), a cell being 24 h /
    ``cells``.

    At least one where danger is nearer than 24 h, all of them only where no time is left, none
    beyond a day.
    """
    if left is None or left >= DAY:
        return 0
    if left <= timedelta(0):
        return cells
    return max(1, min(cells - 1, (DAY - left) * cells // DAY))


def bar(state: State, left: timedelta | None, cells: int = LIST_BAR) -> str:
    """The time left until harm, drawn in the sign of the state: the longer, the less is left;
    ``====``. Empty where a day or more is left."""
    return SIGNS[state] * filled(left, cells)


def edge(state: State, left: timedelta | None, cells: int) -> str:
    """The edge of a cup on a map, at most that many cells: the same bar.

    Without danger inside a day: one cell, as the longest time inside a day. Do not disturb: all.
    In order: none.
    """
    if state == "in order":
        return ""
    if state == "do not disturb":
        return SIGNS[state] * cells
    return bar(state, left, cells) or SIGNS[state] * min(EDGE_OF_OTHERS, cells)


def read_there(due: Due) -> str:
    """A check beside its place: the room's, which is called as its place, by what is read."""
    label = label_of(due.check)
    return "temperature" if label == place_words(due) else label


def check_at(due: Due) -> str:
    """A check with its place: ``K3 drink``; the room's, which is called as its place, once."""
    place, label = literal(place_name(due)), label_of(due.check)
    return place if label == place.removeprefix("the ") else f"{place} {label}"


def place_words(due: AtPlace) -> str:
    """Where a check is: the container's code, the shelf, the room, the book."""
    return literal(place_name(due)).removeprefix("the ")
