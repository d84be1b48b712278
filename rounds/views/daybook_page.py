"""The daybook as a list: what was said, newest first; when typed late, shown late; struck lines
stay."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime, timedelta, tzinfo

from rounds.bench.instants import COUNTS_AHEAD
from rounds.bench.measures import METRIC, Measures
from rounds.entries.base import Entry
from rounds.entries.registry import CrossedOut
from rounds.entries.wording import saying, saying_among
from rounds.views.cells import Cell, Column, Line, Row, aside, labelled, line, row_of
from rounds.views.queries import about, with_words
from rounds.views.words import age, day_and_time, literal

COLUMNS = (
    Column("when", 16),
    Column("by", 4),
    Column("what was recorded", 30, grows=1),
)
TYPED_LATE = timedelta(minutes=15)


def daybook_rows(
    entries: Iterable[Entry],
    struck: frozenset[str],
    zone: tzinfo,
    now: datetime,
    words: str = "",
    container: str = "",
    measures: Measures = METRIC,
    misfits: Collection[str] = (),
) -> tuple[Row, ...]:
    """A line for each entry that has the words, newest first; those of the future, and the ids in
    ``misfits``, are marked."""
    known = {entry.id: entry for entry in entries}
    newest_first = sorted(known.values(), key=lambda entry: entry.order, reverse=True)
    is_of, has_words = about(container), with_words(words)
    rows = []
    for entry in newest_first:
        if not is_of({name: getattr(entry, name, "") for name in ("container", "to")}):
            continue
        text = literal(saying_among(entry, known, measures))
        if has_words({"text": f"{text} {entry.by} {entry.what}"}):
            rows.append(_row(entry, text, entry.id in struck, entry.id in misfits, zone, now))
    return tuple(rows)


def _row(
    entry: Entry, told: str, is_struck: bool, is_misfit: bool, zone: tzinfo, now: datetime
) -> Row:
    late = entry.logged - entry.at
    typed = f"   typed {age(late)} later" if late > TYPED_LATE else ""
    is_ahead = entry.at > now + COUNTS_AHEAD
    if is_struck:
        mark = "NO LONGER COUNTS: "
    elif is_ahead:
        mark = "OF THE FUTURE: "
    elif is_misfit:
        mark = "DOES NOT FIT: "
    else:
        mark = ""
    return row_of(
        entry.id,
        Cell(
            day_and_time(entry.at, zone, now),
            "quiet",
            f"{entry.at.astimezone(zone):%Y-%m-%d %H:%M}",
        ),
        Cell(literal(entry.by), "quiet"),
        Cell(f"{mark}{told}{typed}", "quiet" if is_struck else "late" if mark else "plain"),
    )


def entry_lines(
    entry: Entry,
    struck_by: CrossedOut | None,
    is_struck: bool,
    zone: tzinfo,
    now: datetime,
    measures: Measures = METRIC,
    misfit: str = "",
) -> tuple[Line, ...]:
    """One entry in full, for the pane; ``misfit`` is why it does not fit, where it does not."""
    lines = [
        line(literal(saying(entry, measures)), tone="strong"),
        labelled(
            "when",
            f"{day_and_time(entry.at, zone, now)}, typed {day_and_time(entry.logged, zone, now)} by"
            f" {literal(entry.by) or '-'}",
        ),
        aside(
            "id",
            f"{literal(entry.id)}{f', in round {literal(entry.round)}' if entry.round else ''}",
        ),
    ]
    if is_struck and struck_by:
        why = f": {literal(struck_by.why)}" if struck_by.why else ""
        lines.append(
            labelled(
                "",
                f"crossed out {day_and_time(struck_by.at, zone, now)} by"
                f" {literal(struck_by.by) or '-'}{why}",
                "late",
            )
        )
    if misfit:
        does = "counts only as far as it fits; cross it out, or bring back what it rests on"
        lines.append(labelled("", f"does not fit: {literal(misfit)}; it {does}", "late"))
    return tuple(lines)
