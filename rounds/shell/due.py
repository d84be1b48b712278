"""``rounds due``: what is due, for people and for scripts."""

from __future__ import annotations

import sys
from datetime import timedelta
from typing import TYPE_CHECKING

from rounds import late
from rounds.app.desk import Desk
from rounds.checks.due_state import Due, standing, time_left
from rounds.checks.registry import CHECKS
from rounds.shell.open_book import desk_of, in_words, tell_gaps
from rounds.shell.terminal import refused, warn
from rounds.views.due_lines import due_lines, due_now
from rounds.views.json_out import as_json
from rounds.views.states import state_of

if TYPE_CHECKING:
    import argparse

MAX_AHEAD = timedelta(days=3_660)
_SPAN = late.pattern(r"^(?:(\d+)d)?(?:(\d+)h)?(?:(\d+)m)?$")


def due(options: argparse.Namespace) -> int:
    """Print what is due; status 1 where something is late and that was asked for, 2 where the book
    cannot be read wholly."""
    within = read_span(options.within)
    if within is None:
        return refused(
            f"--within is '{options.within}'; it must be as 2h, 90m or 1d, at most"
            f" {MAX_AHEAD.days}d",
            2,
        )
    try:
        desk = desk_of(options, may_begin=False, looks_back=False, says=False)
    except OSError as trouble:
        return refused(f"{in_words(trouble)}; what is due is not known", 2)
    has_gaps = tell_gaps(desk, sys.stderr if options.json else sys.stdout)
    if not has_gaps and not desk.bench.containers and not desk.bench.closed:
        warn("this book is empty; 'rounds begin' leads to the first container")
    moment = desk.moment()
    dues = due_now(desk.dues(), moment, within)
    if options.json:
        now = moment.now.astimezone(desk.zone).isoformat()
        told = [as_data(desk, one) for one in dues]
        print(as_json("due", {"now": now, "whole": not has_gaps, "due": told}))
    else:
        lines = due_lines(dues, moment, is_whole=not has_gaps)
        sys.stdout.writelines(f"{text}\n" for text in lines)
    if has_gaps:
        return 2
    late = any(standing(one, moment.now) in ("late", "red") for one in dues)
    return 1 if options.exit_code and late else 0


def read_span(text: str) -> timedelta | None:
    """A span as 2h, 90m or 1d12h, at most ten years; None where it is not one."""
    match = _SPAN.match(text.strip().lower())
    if not match or not text.strip():
        return None
    days, hours, minutes = (int(part or 0) for part in match.groups())
    try:
        span = timedelta(days=days, hours=hours, minutes=minutes)
    except OverflowError:
        return None
    return span if span <= MAX_AHEAD else None


def as_data(desk: Desk, one: Due) -> dict[str, object]:
    """One due check as data: instants as RFC 3339 in the bench's zone."""
    from rounds.checks.why import why
    from rounds.checks.worth import worth_of

    moment = desk.moment()
    told, worth = why(one, desk.bench, moment), worth_of(desk.bench, one, moment, desk.foresight)
    left = time_left(one, moment.now)
    instants = {"due": one.due, "amber": one.amber, "red": one.red, "harm": one.harm}
    return {
        "where": one.where,
        "place": one.place_kind,
        "check": one.check,
        "label": CHECKS[one.check].label,
        "question": CHECKS[one.check].question.text,
        "standing": standing(one, moment.now),
        "state": state_of(one, moment.now),
        "severity": one.severity,
        **{
            name: at.astimezone(desk.zone).isoformat() if at else None
            for name, at in instants.items()
        },
        "hours_until_harm": round(left.total_seconds() / 3600, 2) if left is not None else None,
        "rule": told.rule,
        "last": told.last,
        "arithmetic": told.arithmetic,
        "source": told.source,
        "worth": worth.words,
        "lost_if_left": round(worth.lost, 4),
        "seconds": round(worth.seconds),
    }
