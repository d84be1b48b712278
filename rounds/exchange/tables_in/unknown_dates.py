"""Columns of dates of which no heading says what happened then, in a table of whole lives: asked,
with what they can be by where their dates lie between those of the other columns."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime

from rounds.exchange.tables_in import columns as c
from rounds.exchange.tables_in.columns import ColumnUse
from rounds.exchange.tables_in.unclear import UnclearTable
from rounds.exchange.tables_in.values import INSTARS

Days = Sequence[datetime | None]  # of a column, row by row; None where there is no date
BEGINS = ("laid", "hatched", *INSTARS, "pupated", "emerged")  # days on which a stage begins
_ORDER = ("caught", "laid", "laid until", *BEGINS[1:], "died", "ended")
_LIKELY = ("laid", "hatched", "pupated", "emerged", "died", "ended", "laid until", "caught")
_STAGE = {"caught": -1, "laid": 0, "laid until": 0, "hatched": 1, "pupated": 2, "emerged": 3} | {
    name: place for place, name in enumerate(c.CENSUS)
}  # where what a column tells of stands in a life


def ask_of_dates(uses: Sequence[ColumnUse], days: Mapping[int, Days]) -> None:
    """Ask about the first column of dates of which nobody knows what happened then.

    Args:
        days: the dates of each column, by its position.

    Raises:
        UnclearTable: there is one.
    """
    known = {use.field for use in uses if use.field in c.DATES and _has_dates(days, use)}
    known |= {use.field for use in uses} & {"stage", "what happened"}
    for use in uses:
        if not _is_unknown(use, known) or not _has_dates(days, use):
            continue
        choices = (*_likely(use, uses, days), "note", c.LEFT_OUT)
        raise UnclearTable(
            f"{use.heading} holds dates ({', '.join(use.examples[:2])}); the day of what?",
            "map",
            use.heading,
            choices,
        )


def begun(fields: Collection[str]) -> bool:
    """Whether among some fields is the day on which a stage begins; a row needs no other date."""
    return not {*BEGINS}.isdisjoint(fields)


def _has_dates(days: Mapping[int, Days], use: ColumnUse) -> bool:
    return sum(day is not None for day in days[use.position]) >= c.HALF * max(1, use.filled)


def _is_unknown(use: ColumnUse, known: Collection[str]) -> bool:
    """Whether no heading and no keeper says what a column of dates is of; where no other day is
    known on which the row begins, one called a date is that, or one beside the stage of then."""
    if use.field == "date":
        is_told = use.how == "by its name" or not {"stage", "what happened"}.isdisjoint(known)
        return use.how not in c.SAID and (begun(known) or not is_told)
    is_second = use.how in (c.IS_ANOTHER.format("date"), c.NOT_UNDERSTOOD)
    return use.field == c.LEFT_OUT and is_second


def _likely(use: ColumnUse, uses: Sequence[ColumnUse], days: Mapping[int, Days]) -> list[str]:
    """What a column of dates can be, by where they lie; first what fits to the columns beside it,
    then what is told of most."""
    dated = {
        one.field: days[one.position]
        for one in uses
        if one.field in _ORDER and one.position != use.position
    }
    mine = days[use.position]

    def fits(name: str) -> bool:
        place = _ORDER.index(name)
        return all(
            _is_before(theirs, mine) if _ORDER.index(other) < place else _is_before(mine, theirs)
            for other, theirs in dated.items()
        )

    def misplaced(name: str) -> int:
        return sum(
            (one.position < use.position) != (_STAGE[one.field] < _STAGE[name])
            for one in uses
            if name in _STAGE and one.field in _STAGE and _STAGE[one.field] != _STAGE[name]
        )

    fitting = [name for name in _LIKELY if name not in dated and fits(name)]
    instars = [one for one in INSTARS if dated.keys() & set(INSTARS) and one not in dated]
    free = fitting or [name for name in _LIKELY if name not in dated]
    return sorted([*free, *filter(fits, instars)], key=misplaced)


def _is_before(earlier: Days, later: Days) -> bool:
    """Whether in most rows that have both the one day is not behind the other."""
    both = [(one, then) for one, then in zip(earlier, later, strict=True) if one and then]
    return sum(one <= then for one, then in both) >= c.MOSTLY * len(both)
