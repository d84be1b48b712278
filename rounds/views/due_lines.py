"""What is due as plain lines.

A line can be told again later, as long as the hours of its check hold, without anything that these
were reckoned by.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.codes import counted
from rounds.checks.due_state import AnyTimed, Due, PlaceKind, standing, urgency
from rounds.checks.round_clock import Moment
from rounds.views.states import harm_words, place_words, state_of, when_words
from rounds.views.words import literal, of_what_is_read


class DueLine(Struct, frozen=True, array_like=True, gc=False):
    """What a line says of a check: all that it goes by is the check's own.

    ``label`` is what the check is called, ``plant`` which of several plants alone is to be
    searched.
    """

    where: str
    place_kind: PlaceKind
    check: str
    label: str
    plant: str
    due: datetime
    late: datetime | None
    urgent: datetime | None
    danger: datetime | None
    severity: int
    since: datetime | None
    put_off_until: datetime | None
    is_limit: bool


def lines_of(dues: Iterable[Due]) -> Iterator[DueLine]:
    """What is told of each of these checks."""
    from rounds.checks import eggs  # not where they are only told again
    from rounds.checks.registry import CHECKS

    for due in dues:
        is_of_one = due.check == eggs.CHECK.name and due.subject
        yield DueLine(
            due.where,
            due.place_kind,
            due.check,
            CHECKS[due.check].label,
            due.reason if is_of_one else "",
            due.due,
            due.late,
            due.urgent,
            due.danger,
            due.severity,
            due.since,
            due.put_off_until,
            due.is_limit,
        )


def due_now(dues: Iterable[AnyTimed], moment: Moment, within: timedelta) -> list[AnyTimed]:
    """What is due by then, the most urgent first."""
    by = moment.now + within
    held = [due for due in dues if not (due.put_off_until and due.put_off_until > by)]
    result = [due for due in held if due.due <= by or standing(due, moment.now) != "ahead"]
    return sorted(
        result, key=lambda due: (*urgency(due, moment.now), counted(due.where), due.check)
    )


def due_lines(dues: list[DueLine], moment: Moment, *, is_whole: bool = True) -> Iterator[str]:
    """A line for each: where, what, and how late it is, now, or when; the same of several animals
    is told once, with how many these are."""
    if not dues:
        yield of_what_is_read("nothing is due", is_whole=is_whole)
    for told, times in Counter(_told(due, moment) for due in dues).items():
        yield f"{told}, of {times} animals" if times > 1 else told


def _told(due: DueLine, moment: Moment) -> str:
    state = state_of(due, moment.now)
    harm = ""
    if state == "in danger":
        harm = f" {harm_words(due, moment)}"
    elif due.danger and state != "due":
        harm = f", in danger from {moment.clock(due.danger)}"
    plant = f", {literal(due.plant)}" if due.plant else ""
    return f"{place_words(due):<10}  {due.label:<8}  {when_words(due, moment)}{harm}{plant}"
