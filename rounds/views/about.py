"""What a highlighted thing is, why it is due, and what the rule says."""

from __future__ import annotations

from rounds.bench.measures import measures_of
from rounds.bench.state import Bench
from rounds.checks.due_state import Due
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.checks.time_format import hours_words
from rounds.checks.why import why
from rounds.checks.worth import worth_of
from rounds.entries.base import Entry, Purpose
from rounds.entries.check_labels import called, quoted_label
from rounds.entries.schema import describe
from rounds.forecasts.foresight import Forecasts
from rounds.views.bench_page import stock_words
from rounds.views.cautions import care_lines, cautions_of
from rounds.views.cells import Cell, Line, aside, labelled, line
from rounds.views.words import begun, literal

PURPOSES: dict[Purpose, str] = {
    "holding": "females kept for a while before they are set to lay, or until they are taken back",
    "laying": "females with a host plant, to lay on",
    "pairing": "males and females together",
    "trial": "several hosts side by side, to see which she takes",
    "eggs": "eggs, or stems that may bear eggs",
    "hatchlings": "larvae in their first days: looked at, hardly touched",
    "rearing": "larvae that feed",
    "pupation": "larvae about to pupate, and fresh pupae: left alone",
    "emergence": "pupae about to give adults: a free climb",
    "overwintering": "stages in diapause: cool, and seldom disturbed",
    "quarantine": "new stock, apart from the rest for a time",
    "isolation": "animals that look ill: own tools, last in the walk",
    "host store": "cut or potted host plant, kept for use",
}


def about_lines(
    bench: Bench, code: str, due: Due | None, moment: Moment, foresight: Forecasts
) -> tuple[Line, ...]:
    """A container and one of its checks; or a check of a shelf, the room or the book."""
    lines: list[Line] = []
    container = bench.at(code) if code else None
    if container is not None:
        held = stock_words(bench, container) or "empty"
        lines.append(
            line(
                Cell(literal(code), "strong"),
                f"   {called(container.purpose)}: {PURPOSES[container.purpose]}. Now: {held}.",
            )
        )
        lines += care_lines(bench, container)
    if due is None:
        return tuple(lines)
    check = CHECKS[due.check]
    lines += [
        line(Cell(check.question.text, "strong"), f"   {check.help}"),
        *why_lines(bench, due, moment, foresight),
        aside("", worth_of(bench, due, moment, foresight).arithmetic),
        *_rule(due),
    ]
    lines += [labelled("care", text) for text in cautions_of(due.check)]
    return tuple(lines)


def why_lines(bench: Bench, due: Due, moment: Moment, foresight: Forecasts) -> tuple[Line, ...]:
    """Why a check stands as it does: the rule, the last entry, the arithmetic, what it is worth,
    the source."""
    told = why(due, bench, moment)
    basis = due.rule.basis if due.rule else ""
    if basis:
        source = told.source.replace(basis, measures_of(bench.settings).in_words(basis))
    else:
        source = told.source
    return (
        labelled("why", literal(f"{told.rule}. {begun(told.last)}")),
        labelled("", literal(told.arithmetic)),
        aside("worth", worth_of(bench, due, moment, foresight).words),
        aside("from", literal(source)),
    )


def _rule(due: Due) -> list[Line]:
    """The rule's hours, and how to change it."""
    rule = due.rule
    if rule is None:
        return []
    limits = (("late", rule.amber_h), ("urgent", rule.red_h), ("in danger", rule.harm_h))
    hours = ", ".join(
        f"{name} after {hours_words(value)}" for name, value in limits if value is not None
    )
    scope = f" container={literal(due.where)}" if due.place_kind == "container" else ""
    text = (
        f"{rule.words}{f'; {hours}' if hours else ''}. Yours to change: plan"
        f" {quoted_label(rule.check)}{scope}"
        " every_h="
    )
    return [labelled("rule", text)]


def entry_about(entry: Entry) -> tuple[Line, ...]:
    """What a kind of entry is."""
    described = describe(type(entry))
    return (line(Cell(called(described.name), "strong"), f"   {described.help}"),)
