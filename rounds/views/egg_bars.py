"""The eggs that searches of a container found, day by day, as bars; the same as a table.

``*`` is an egg, or as many as the scale says; ``0`` is a search that found none, an empty column a
day without a search: these are not the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta

from msgspec import Struct

from rounds.bench.plurals import count
from rounds.checks.round_clock import Moment
from rounds.entries.searching import Searched
from rounds.views.cells import Cell, Line, line

DAY_CELLS = 4  # of a day in the drawing
MAX_DAYS = 14
LABEL = 7  # cells of the numbers before the drawing
STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500)  # eggs a row


class EggDay(Struct, frozen=True):
    """A local day: how many searches there were, and how many eggs they found together."""

    day: date
    searches: int = 0
    eggs: int = 0


def egg_days(searches: Iterable[Searched], moment: Moment, room: int) -> tuple[EggDay, ...]:
    """The last days up to today, as many as fit in so many cells; none if nothing was searched in
    them."""
    found: dict[date, EggDay] = {}
    for searched in searches:
        day = searched.at.astimezone(moment.zone).date()
        known = found.get(day, EggDay(day))
        found[day] = EggDay(
            day, known.searches + (not searched.confirmed), known.eggs + searched.found
        )
    shown = max(1, min(MAX_DAYS, (room - LABEL) // DAY_CELLS))
    days = [moment.today - timedelta(days=back) for back in range(shown - 1, -1, -1)]
    return tuple(found.get(day, EggDay(day)) for day in days) if found.keys() & set(days) else ()


def egg_lines(days: Sequence[EggDay], rows: int) -> tuple[Line, ...]:
    """The bars in about so many rows, the numbers and the days under them."""
    most = max(day.eggs for day in days)
    step = next((step for step in STEPS if -(-most // step) <= rows), STEPS[-1])
    lines = []
    for row in range(-(-most // step), 0, -1):
        drawn = "".join(
            f"{'*' if day.eggs > (row - 1) * step else '':>{DAY_CELLS}}" for day in days
        )
        lines.append(line(Cell(f"{row * step:>{LABEL - 2}} |", "quiet"), drawn))
    numbers = "".join(f"{day.eggs if day.searches else '':>{DAY_CELLS}}" for day in days)
    names = "".join(f"{day.day.day:>{DAY_CELLS}}" for day in days)
    lines.append(line(f"{'eggs':>{LABEL - 1}} ", numbers))
    lines.append(line(f"{f'{days[0].day:%b}':>{LABEL - 1}} {names}", tone="quiet"))
    scale = f"* {count(step, 'egg')}" if step > 1 else "* an egg"
    lines.append(
        line(
            f"{' ' * LABEL}{scale}   0 searched, none found   no number: not searched", tone="quiet"
        )
    )
    return tuple(lines)


def egg_table(days: Sequence[EggDay]) -> Iterator[Line]:
    """The same numbers, a line a day."""
    yield line(f"{'day':<10}{'searches':>9}{'eggs':>7}", tone="quiet")
    for day in days:
        text = f"{day.eggs:>7}" if day.searches else f"{'':>3}not searched"
        yield line(f"{f'{day.day:%a} {day.day.day} {day.day:%b}':<10}{day.searches or '':>9}{text}")


def egg_aloud(days: Sequence[EggDay]) -> str:
    """The bars in a sentence."""
    eggs, searches = sum(day.eggs for day in days), sum(day.searches for day in days)
    return (
        f"{count(eggs, 'egg')} in {count(searches, 'search', 'searches')} of the last"
        f" {count(len(days), 'day')}"
    )
