"""What a book's records say about its plan, as a list; the highlighted line's evidence stands below
it."""

from __future__ import annotations

from msgspec import Struct

from rounds.bench.measures import measures_of
from rounds.bench.plurals import count
from rounds.bench.state import Bench
from rounds.checks.learned import Offer, not_settled, offers, since_words
from rounds.checks.round_clock import Moment
from rounds.views.cells import Cell, Column, Line, Row, headed, line, row_of
from rounds.views.words import literal

COLUMNS = (
    Column("rule", 26, grows=1),
    Column("your records", 33, grows=2),
    Column("plan", 6, right=True),
    Column("offered", 8, right=True),
)
NOT_ENOUGH = (
    "Nothing is offered here: too little is on record, or it is a rule that is not relaxed because"
    " nothing was seen."
)


class LearnedPage(Struct, frozen=True):
    """The page: its head, its rows, what the pane says of each, and what each offers."""

    head: tuple[Line, ...]
    rows: tuple[Row, ...]
    panes: dict[str, tuple[Line, ...]]
    offers: dict[str, Offer]


def learned_page(bench: Bench, moment: Moment) -> LearnedPage:
    """All that may be taken over, then what is not settled."""
    result = offers(bench, moment)
    measures = measures_of(bench.settings)
    rows: list[Row] = []
    panes: dict[str, tuple[Line, ...]] = {}
    for one in result:
        cells = (literal(one.rule), measures.in_words(one.records), one.plan, one.may_be)
        rows.append(
            Row(
                one.id,
                tuple(
                    Cell(text, "strong" if position != 2 else "plain")
                    for position, text in enumerate(cells)
                ),
            )
        )
        panes[one.id] = (
            line(f"{literal(one.rule)}: {one.plan} now, may be {one.may_be}", tone="strong"),
            *(line(measures.in_words(literal(words))) for words in one.why),
        )
    for place, open_one in enumerate(not_settled(bench, moment)):
        key = f"open {place}"
        rows.append(
            row_of(
                key,
                Cell(literal(open_one.rule), "quiet"),
                Cell(open_one.records, "quiet"),
                "",
                Cell("-", "quiet"),
            )
        )
        panes[key] = (
            line(literal(open_one.rule), tone="strong"),
            line(f"{open_one.records}; {open_one.wants}."),
            line(""),
            line(NOT_ENOUGH),
        )
    head = (
        headed("what your records say about the plan", since_words(bench, moment)),
        line(f"{_how_many(result)} Nothing changes by itself."),
    )
    return LearnedPage(head, tuple(rows), panes, {offer.id: offer for offer in result})


def _how_many(found: tuple[Offer, ...]) -> str:
    eased = sum(offer.eases for offer in found)
    told = [(eased, "may be eased"), (len(found) - eased, "may be tightened")]
    words = [f"{count(number, 'rule')} {what}" for number, what in told if number]
    return f"{', '.join(words)}." if words else "No rule is offered for change."
