"""The care plan and the settings as a list: every rule, its hours, and where each value comes from."""

from __future__ import annotations

from dataclasses import dataclass

from rounds.bench.state import Bench
from rounds.care.checks import CHECKS
from rounds.care.plan import PlanLine, plan_lines
from rounds.views.cells import Cell, Column, Line, Row, labelled, line
from rounds.views.words import literal, number

COLUMNS = (
    Column("check", 9),
    Column("for", 22, grows=2),
    Column("every", 11),
    Column("amber", 7, right=True),
    Column("red", 7, right=True),
    Column("set by", 11, grows=1),
)

# Every setting, what it means, and what holds where it was never set.
SETTINGS: tuple[tuple[str, str, str], ...] = (
    ("bench", "name of the bench", ""),
    ("morning", "when the morning round begins, local time", "07:00"),
    ("evening", "when the evening round begins, local time", "18:00"),
    ("zone", "time zone of the bench, as Europe/Paris; this machine's where not set", ""),
    ("latitude", "degrees north", ""),
    ("longitude", "degrees east", ""),
    ("sill", "which way the sill faces, degrees from north", ""),
    ("obstruction", "how high houses or trees opposite the sill stand above the horizon, degrees", "0"),
    ("usual temperature", "C, taken where nothing was read", "20"),
    ("usual eggs", "eggs per female-day until your own tell", "1"),
    ("moat low", "mm of water under which a moat is low", "8"),
    ("strength", "percent sugar by weight that you mix", "15"),
    ("inbreeding", "broods page warns of a planned pairing from this inbreeding on: 0.125 half sibs, 0.25 full sibs", "0.125"),
    ("keeper", "initials that go with every line on this book", ""),
    ("theme", "light, dark, contrast, red", "dark"),
)


@dataclass(frozen=True, slots=True)
class PlanPage:
    """The rows, with what each begins in the prompt and what its pane says."""

    rows: tuple[Row, ...]
    begun: dict[str, str]
    panes: dict[str, tuple[Line, ...]]
    rules: dict[str, PlanLine]


def plan_page(bench: Bench) -> PlanPage:
    """Every rule and setting as it stands."""
    rows: list[Row] = []
    begun: dict[str, str] = {}
    panes: dict[str, tuple[Line, ...]] = {}
    rules: dict[str, PlanLine] = {}
    for place, one in enumerate(plan_lines(bench)):
        key = f"rule {place}"
        rows.append(_rule_row(key, one))
        scope = _scope(one)
        begun[key] = f"plan {one.rule.check}{scope} every_h="
        panes[key] = _rule_pane(one)
        rules[key] = one
    for name, about, default in SETTINGS:
        value = bench.settings.get(name, "")
        key = f"setting {name}"
        rows.append(
            Row(
                key,
                (
                    Cell("setting", "quiet"),
                    Cell(name, "strong"),
                    Cell(literal(value or default or "not set")),
                    Cell(""),
                    Cell(""),
                    Cell("book" if value else "default", "quiet"),
                ),
            )
        )
        begun[key] = f"setting {name} "
        panes[key] = (
            line(Cell(f"{name}: {about}", "strong")),
            labelled("now", literal(value or default or "not set")),
        )
    return PlanPage(tuple(rows), begun, panes, rules)


def _scope(one: PlanLine) -> str:
    if one.container:
        return f" container={one.container}"
    purpose = f" purpose='{one.purpose}'" if one.purpose and " " in one.purpose else ""
    if one.purpose and not purpose:
        purpose = f" purpose={one.purpose}"
    return f"{purpose}{f' stage={one.rule.stage}' if one.rule.stage else ''}"


def _rule_row(key: str, one: PlanLine) -> Row:
    rule = one.rule
    whom = literal(one.container or one.purpose or "everything")
    stage = f", {rule.stage}" if rule.stage else ""
    condition = f", {rule.condition}" if rule.condition else ""
    every = "off" if one.off else rule.words
    return Row(
        key,
        (
            Cell(CHECKS[rule.check].label, "strong"),
            Cell(f"{whom}{stage}{condition}"),
            Cell(every, "late" if one.off else "plain"),
            Cell(hours(rule.amber_h)),
            Cell(hours(rule.red_h)),
            Cell(one.from_where, "quiet" if one.from_where == "default" else "strong"),
        ),
    )


def hours(value: float | None) -> str:
    """Hours, or days where they are whole and many."""
    if value is None:
        return "-"
    return f"{number(value / 24)} d" if value >= 72 and value % 24 == 0 else f"{number(value)} h"


def _rule_pane(one: PlanLine) -> tuple[Line, ...]:
    check = CHECKS[one.rule.check]
    return (
        line(Cell(check.question, "strong"), f"   {check.help}"),
        labelled("basis", one.rule.basis),
        labelled("harm", f"{hours(one.rule.harm_h)} after it was last done, in danger" if one.rule.harm_h else "-"),
    )
