"""``rounds due``: what is due, for people and for scripts."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from datetime import timedelta
from typing import TYPE_CHECKING

from rounds import late
from rounds.app.book_folder import book_folder
from rounds.app.clock import system_clock
from rounds.app.last_dues import LastDues
from rounds.checks.due_state import Due, Timed, standing, time_left
from rounds.shell.terminal import read_or_not, refused, warn
from rounds.views.due_lines import DueLine, due_lines, due_now, lines_of
from rounds.views.states import state_of

if TYPE_CHECKING:
    import argparse

    from rounds.app.desk import Desk
    from rounds.checks.round_clock import Moment

MAX_AHEAD = timedelta(days=3_660)
KEYS = {"late": "amber", "urgent": "red", "danger": "harm"}  # as scripts have them since version 1
_SPAN = late.pattern(r"^(?:(\d+)d)?(?:(\d+)h)?(?:(\d+)m)?$")


def due(options: argparse.Namespace) -> int:
    """Print what is due; status 1 where something is late and that was asked for, 2 where the book
    cannot be read wholly."""
    read_or_not()
    within = read_span(options.within)
    if within is None:
        return refused(
            f"--within is '{options.within}'; it must be as 2h, 90m or 1d, at most"
            f" {MAX_AHEAD.days}d",
            2,
        )
    last = LastDues(book_folder(options.book, os.environ))
    known = None if options.json else last.told(system_clock())
    if known is None:
        return _reckoned(options, within, last)
    lines, moment = known
    shown = due_now(lines, moment, within)
    _print(shown, moment)
    return _status(options, shown, moment)


def _reckoned(options: argparse.Namespace, within: timedelta, last: LastDues) -> int:
    """The same by the book as it stands."""
    from rounds.shell.open_book import desk_of, in_words, tell_gaps

    try:
        desk = desk_of(options, may_begin=False, looks_back=False)
    except OSError as trouble:
        return refused(f"{in_words(trouble)}; what is due is not known", 2)
    has_gaps = tell_gaps(desk, sys.stderr if options.json else sys.stdout)
    if not has_gaps and not desk.bench.containers and not desk.bench.closed:
        warn("this book is empty; 'rounds begin' leads to the first container")
    moment = desk.moment()
    dues = desk.dues(moment)
    shown = due_now(dues, moment, within)
    if options.json:
        _print_data(desk, shown, moment, is_whole=not has_gaps)
    else:
        _print(lines_of(shown), moment, is_whole=not has_gaps)
    last.keep(desk, dues, moment)
    if not desk.reckoning.took_up_checks:
        desk.keep_checks()
    return 2 if has_gaps else _status(options, shown, moment)


def _print(shown: Iterable[DueLine], moment: Moment, *, is_whole: bool = True) -> None:
    lines = due_lines(list(shown), moment, is_whole=is_whole)
    sys.stdout.writelines(f"{text}\n" for text in lines)


def _print_data(desk: Desk, shown: Iterable[Due], moment: Moment, *, is_whole: bool) -> None:
    from rounds.views.json_out import as_json

    now = moment.now.astimezone(desk.zone).isoformat()
    told = [as_data(desk, one) for one in shown]
    print(as_json("due", {"now": now, "whole": is_whole, "due": told}))


def _status(options: argparse.Namespace, shown: Iterable[Timed], moment: Moment) -> int:
    late = any(standing(one, moment.now) in ("late", "urgent") for one in shown)
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
    from rounds.checks.registry import CHECKS
    from rounds.checks.why import why
    from rounds.checks.worth import worth_of

    moment = desk.moment()
    told, worth = why(one, desk.bench, moment), worth_of(desk.bench, one, moment, desk.foresight)
    left = time_left(one, moment.now)
    stands = standing(one, moment.now)
    instants = {
        KEYS.get(name, name): getattr(one, name) for name in ("due", "late", "urgent", "danger")
    }
    return {
        "where": one.where,
        "place": one.place_kind,
        "check": one.check,
        "label": CHECKS[one.check].label,
        "question": CHECKS[one.check].question.text,
        "standing": "red" if stands == "urgent" else stands,
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
