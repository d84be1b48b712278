"""A bench on which nothing stands: only what can be done."""

from __future__ import annotations

from msgspec import Struct

from rounds.bench.state import Bench
from rounds.checks.round_clock import Moment
from rounds.views.cells import Cell, Column, Line, Row, line, row_of
from rounds.views.keys import key_label
from rounds.views.words import day_and_time, literal, of_what_is_read

TALL = 16  # rows of a terminal that have room for the words around the ways in


class Way(Struct, frozen=True):
    """A way in: the action of the bench whose key it has, what it does, what it costs; only of a
    new book, or ever."""

    action: str
    does: str
    costs: str
    is_first: bool = False


WAYS = (
    Way("ask_ants", "Add the first container", "five questions, each with a hint", is_first=True),
    Way("ask_look", "List a bench that already runs", "one line a container, typed or pasted"),
    Way(
        "only_due",
        "Follow an earlier book",
        "its species, plants and plan: from FOLDER",
        is_first=True,
    ),
    Way("prompt", "Type one line", "as: L2 set up laying; import old.xlsx"),
    Way(
        "suspect",
        "Explore an invented bench",
        "a copy to try; nothing of yours changes",
        is_first=True,
    ),
)
COLUMNS = (Column("", 2), Column("", 31), Column("", 41))
NARROW = (Column("", 2), Column("", 31))


def is_empty(bench: Bench) -> bool:
    """Whether nothing stands here now."""
    return not any(True for _ in bench.standing())


def is_new(bench: Bench) -> bool:
    """Whether nothing ever stood here."""
    return not bench.containers and not bench.closed


def ways_in(bench: Bench, *, is_whole: bool = True) -> dict[str, Way]:
    """What can be done, by its key; a book that cannot be read wholly has begun."""
    new = is_whole and is_new(bench)
    return {
        key_label(bench.settings, "bench", way.action): way
        for way in WAYS
        if new or not way.is_first
    }


def empty_head(
    bench: Bench, moment: Moment, height: int, *, is_whole: bool = True
) -> tuple[Line, ...]:
    """The words above: that nothing stands here, and what a container is."""
    new = is_whole and is_new(bench)
    name = literal(bench.settings.get("bench", "")) or ("a new bench" if new else "the bench")
    nothing = of_what_is_read(
        "Nothing stands here yet." if new else "Nothing stands here now.", is_whole=is_whole
    )
    top = line(
        Cell(name, "quiet"),
        "   ",
        day_and_time(moment.now, moment.zone),
        *(("   ", Cell("0 containers", "quiet")) if is_whole else ()),
    )
    sentence = line("  ", Cell(nothing, "strong"))
    if height < TALL or not is_whole:
        return top, sentence
    what = (
        "  A container is a cup, jar, tub or cage with something alive in it. Add the",
        "  one that worries you most; the first check comes right after it.",
    )
    return (top, line(""), line(""), sentence, line(""), *(line(words) for words in what), line(""))


def empty_rows(
    bench: Bench, width: int, *, is_whole: bool = True
) -> tuple[tuple[Column, ...], tuple[Row, ...]]:
    """A row for each way in, with its key."""
    columns = COLUMNS if width >= sum(column.width + 1 for column in COLUMNS) + 3 else NARROW
    return columns, tuple(
        row_of(way.action, Cell(key, "due"), way.does, Cell(way.costs, "quiet"))
        for key, way in ways_in(bench, is_whole=is_whole).items()
    )
