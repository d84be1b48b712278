"""What is due as plain lines."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from rounds.bench.codes import counted
from rounds.checks import eggs
from rounds.checks.due_state import Due, standing, urgency
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.views.gaps import of_what_is_read
from rounds.views.states import harm_words, place_words, state_of, when_words
from rounds.views.words import literal


def due_now(dues: list[Due], moment: Moment, within: timedelta) -> list[Due]:
    """What is due by then, the most urgent first."""
    by = moment.now + within
    held = [due for due in dues if not (due.put_off_until and due.put_off_until > by)]
    result = [due for due in held if due.due <= by or standing(due, moment.now) != "ahead"]
    return sorted(
        result, key=lambda due: (*urgency(due, moment.now), counted(due.where), due.check)
    )


def _which_plant(due: Due) -> str:
    """Which of several plants alone is to be searched."""
    return f", {literal(due.reason)}" if due.check == eggs.CHECK.name and due.subject else ""


def due_lines(dues: list[Due], moment: Moment, *, is_whole: bool = True) -> Iterator[str]:
    """A line for each: where, what, and how late it is, now, or when."""
    if not dues:
        yield of_what_is_read("nothing is due", is_whole=is_whole)
    for due in dues:
        state = state_of(due, moment.now)
        harm = ""
        if state == "in danger":
            harm = f" {harm_words(due, moment)}"
        elif due.harm and state != "due":
            harm = f", in danger from {moment.clock(due.harm)}"
        yield (
            f"{place_words(due):<10}  {CHECKS[due.check].label:<8}  {when_words(due, moment)}{harm}"
            f"{_which_plant(due)}"
        )
