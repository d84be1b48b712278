"""Each cutting of host plant, what it fed, and what was lost there since."""

from __future__ import annotations

from collections.abc import Iterator

from rounds.bench.plurals import count, in_a_row, of_stage
from rounds.checks.round_clock import Moment
from rounds.tallies.batch_losses import Cutting
from rounds.views.ahead_page import dated
from rounds.views.cells import Cell, CellsLater, Column, Line, Row, headed, labelled, line
from rounds.views.words import age, literal

COLUMNS = (
    Column("batch", 5),
    Column("plant", 14, grows=1),
    Column("cut", 13),
    Column("fed", 18, grows=2),
    Column("died in 24 h", 13, right=True),
    Column("since", 6, right=True),
)


def batches_head(found: list[Cutting], moment: Moment) -> tuple[Line, ...]:
    """What is shown, and whether any cutting stands out."""
    marked = [one for one in found if one.several_soon]
    first = headed("cuttings and what they fed", dated(moment.now, moment))
    if not found:
        return first, line("No host plant was put in yet.")
    if not marked:
        return first, line("No cutting was followed by several deaths within a day.", tone="quiet")
    names = ", ".join(
        f"{literal(cutting.plant)} {literal(cutting.batch)}" for cutting in marked[:3]
    )
    return first, line(
        f"Several died within a day of: {names}. What it means is not known from this.", tone="late"
    )


def batch_rows(found: list[Cutting], moment: Moment) -> tuple[Row, ...]:
    """A line for each cutting; its words are made when it is drawn."""
    return tuple(_row(cutting, moment) for cutting in found)


def _row(cutting: Cutting, moment: Moment) -> Row:
    def made() -> tuple[Cell, ...]:
        soon = cutting.died_soon
        return (
            Cell(literal(cutting.batch) or "-", "strong"),
            Cell(literal(cutting.plant)),
            Cell("not known" if cutting.cut_not_known else dated(cutting.cut, moment)),
            _fed_cell(cutting),
            Cell(f"{soon} DIED", "late") if cutting.several_soon else Cell(f"{soon or '-'}"),
            Cell(str(sum(fed.died_since for fed in cutting.fed) or "-")),
        )

    return Row(cutting.key, CellsLater(made, made, None))


def _fed_cell(cutting: Cutting) -> Cell:
    codes = tuple(dict.fromkeys(fed.container for fed in cutting.fed))
    return Cell(literal(", ".join(codes)) or "nothing yet", short=count(len(codes), "container"))


def batch_lines(cutting: Cutting, moment: Moment) -> Iterator[Line]:
    """One cutting: where it was cut, and each container that got it, with what stood there and what
    was lost."""
    yield labelled(
        "from",
        literal(cutting.source) or "where it was cut is not recorded",
        "quiet" if cutting.source else "late",
    )
    for fed in reversed(cutting.fed):
        if fed.taken_out:
            until = f"out {dated(fed.taken_out, moment)}"
        else:
            until = f"still in, {age(moment.now - fed.put_in)}"
        lost = "none died within a day"
        if fed.died_soon:
            lost = f"{count(fed.died_soon, 'death')} within a day"
        more = ""
        if fed.died_since > fed.died_soon:
            more = f", {fed.died_since} while it was in or within a day after"
        moved = ", ".join(f"{number} in {where}" for where, number in fed.died_elsewhere.items())
        more += f" ({literal(moved)}, moved there since)" if moved else ""
        signs = f"; seen {', '.join(dict.fromkeys(fed.signs))}" if fed.signs else ""
        came = [of_stage(number, stage) for stage, number in fed.joined.items()]
        joined = f", {in_a_row(came)} joined" if came else ""
        yield labelled(
            literal(fed.container),
            f"{dated(fed.put_in, moment)}, {until}; {fed.stock or 'no animals then'}{joined};"
            f" {lost}{more}{signs}",
            "late" if fed.died_soon else "plain",
        )
    if cutting.several_soon:
        yield labelled(
            "note",
            "Several at once after one cutting is worth a look at what else got it. Keep some"
            " of it back; this shows what was recorded, not why they died.",
        )
