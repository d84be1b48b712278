"""The care plan and the settings as a list: every rule, its hours, and where each value comes
from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from msgspec.structs import replace

from rounds.bench.measures import Measures, measures_of
from rounds.bench.plurals import PLURALS
from rounds.bench.state import Bench
from rounds.checks.plan import PlanLine, plan_lines
from rounds.checks.registry import CHECKS
from rounds.entries.check_labels import called, quoted_label
from rounds.grouping import grouped
from rounds.views.actions import ACTIONS, sign_of
from rounds.views.cells import GAP, Cell, Column, Line, Row, Tone, aside, labelled, line, row_of
from rounds.views.keys import KEY_SETTING
from rounds.views.queries import with_words
from rounds.views.settings import SETTINGS, setting_refusal
from rounds.views.words import literal, number

DEFAULT = "default"  # by whom a line is set that the keeper did not change
FEMALE_DAYS = "of all summed: two females make 3 d in a day and a half"
CHANGED = ("yours", "changed")  # what is typed for those that were
COLUMNS = (
    Column("check", 8),
    Column("for", 30, grows=2),
    Column("every", 11),
    Column("late", 4, right=True),
    Column("urgent", 6, right=True),
    Column("set by", 9),
)
FOR = COLUMNS[1].width
# of a setting, whose value has the room of all hours
SETTING_COLUMNS = (*COLUMNS[:2], Column("", 11 + 4 + 6 + 2 * GAP), COLUMNS[-1])


@dataclass(frozen=True, slots=True)
class PlanPage:
    """The rows, with what each begins in the prompt and what its pane says."""

    rows: tuple[Row, ...]
    begun: dict[str, str]
    panes: dict[str, tuple[Line, ...]]
    rules: dict[str, PlanLine]


def plan_page(bench: Bench, words: str = "") -> PlanPage:
    """Every rule and setting as it stands, or those with all of these words; ``yours`` and
    ``changed`` are what the keeper changed."""
    page = _whole_page(bench)
    if not words:
        return page
    typed = words.split()
    fits = with_words(" ".join(word for word in typed if word.casefold() not in CHANGED))
    only_changed = any(word.casefold() in CHANGED for word in typed)
    searched = {
        row.key: " ".join(
            [cell.text for cell in row.cells] + [line.text for line in page.panes[row.key]]
        )
        for row in page.rows
    }
    rows = tuple(
        row
        for row in page.rows
        if fits({"text": searched[row.key]})
        and not (only_changed and row.cells[-1].text == DEFAULT)
    )
    return PlanPage(rows, page.begun, page.panes, page.rules)


def _whole_page(bench: Bench) -> PlanPage:
    rows: list[Row] = []
    begun: dict[str, str] = {}
    panes: dict[str, tuple[Line, ...]] = {}
    rules: dict[str, PlanLine] = {}
    # those together that differ in nothing but the purpose
    rules_alike = grouped((replace(one, purpose=""), one) for one in plan_lines(bench))
    for position, (of_any, alike) in enumerate(rules_alike.items()):
        key = f"rule {position}"
        plan_line = alike[0] if len(alike) == 1 else of_any
        rows.append(_rule_row(key, plan_line, [one.purpose for one in alike]))
        begun[key] = f"plan {quoted_label(plan_line.rule.check)}{_scope(plan_line)} every_h="
        panes[key] = _rule_pane(alike, measures_of(bench.settings))
        rules[key] = plan_line
    for known in SETTINGS:
        value = bench.settings.get(known.name, "")
        row = _setting_row("setting", known.name, value, known.default or "not set")
        rows.append(row)
        begun[row.key] = f"setting {known.name} "
        panes[row.key] = (
            line(f"{known.name}: {known.about}", tone="strong"),
            labelled("now", literal(value or known.default or "not set")),
            *_unusable(known.name, value, bench),
        )
    for action in list({action.id: action for action in ACTIONS}.values()):
        name = f"{KEY_SETTING}{action.id}"
        value = bench.settings.get(name, "")
        row = _setting_row(
            "key",
            _KEY_NAMES.get(action.id, action.id.replace("_", " ")),
            value,
            sign_of(action.key),
        )
        rows.append(row)
        begun[row.key] = f"setting {name} "
        panes[row.key] = (
            line(action.help, tone="strong"),
            labelled("now", literal(value) if value else f"{sign_of(action.key)}, its own"),
            aside("as", f"setting {name} f5; an empty value gives its own key back"),
            *_unusable(name, value, bench),
        )
    return PlanPage(tuple(rows), begun, panes, rules)


# keys that the book calls by a word that is none of the screen
_KEY_NAMES = {"strike": "cross out", "strike_last": "undo"}


def _setting_row(sort: str, name: str, value: str, default: str) -> Row:
    where = Cell("book" if value else DEFAULT, "strong" if value else "quiet")
    said = literal(value or default)
    cells = (Cell(sort, "quiet"), Cell(name, "strong"), Cell(said), where)
    return Row(f"{sort} {name}", cells, columns=SETTING_COLUMNS)


def _unusable(name: str, value: str, bench: Bench) -> tuple[Line, ...]:
    """A value that came from elsewhere and cannot be used is told, and passed over."""
    refused = setting_refusal(name, value, bench.settings) if value else None
    return (labelled("", f"not used: {refused}", "late"),) if refused else ()


def _scope(plan_line: PlanLine) -> str:
    if plan_line.container:
        return f" container={plan_line.container}"
    name = called(plan_line.purpose)
    named = f"'{name}'" if " " in name else name
    purpose = f" purpose={named}" if name else ""
    return f"{purpose}{f' stage={plan_line.rule.stage}' if plan_line.rule.stage else ''}"


def _rule_row(key: str, plan_line: PlanLine, purposes: Sequence[str]) -> Row:
    rule = plan_line.rule
    names = ", ".join(map(called, purposes))
    whom = literal(plan_line.container or names or "everything")
    named = rule.condition.startswith(PLURALS.get(rule.stage, ()))  # "larvae with food in"
    stage = f", {rule.stage}" if rule.stage and not named else ""
    condition = f", {rule.condition}" if rule.condition else ""
    every = "off" if plan_line.off else rule.words
    is_default = plan_line.from_where == DEFAULT
    tone: Tone = "quiet" if is_default else "late"
    return row_of(
        key,
        Cell(CHECKS[rule.check].label, "strong"),
        Cell(
            f"{whom}{stage}{condition}",
            short=_in_little_room(
                f"{len(purposes)} purposes" if len(purposes) > 1 else whom,
                "" if named else rule.stage,
                rule.condition,
            ),
        ),
        Cell(
            every,
            tone if plan_line.off else "plain",
            f"{hours(rule.every_h)} each" if rule.female_days else "",
        ),
        hours(rule.amber_h),
        hours(rule.red_h),
        Cell(plan_line.from_where, "quiet" if is_default else "strong"),
    )


def _in_little_room(whom: str, stage: str, condition: str) -> str:
    """For whom, of which stage and if what: of that as much as the column holds, the condition
    first; the pane has all of it."""
    first = condition.split(",")[0]
    ways = (
        (whom, stage, condition),
        (whom, condition),
        (stage, condition),
        (condition,),
        (whom, stage, first),
        (first,),
    )
    told = [", ".join(filter(None, way)) for way in ways]
    return next((one for one in told if len(one) <= FOR), told[-1])


def hours(value: float | None) -> str:
    """Hours, or days where they are whole and many."""
    if value is None:
        return "-"
    return f"{number(value / 24)} d" if value >= 72 and value % 24 == 0 else f"{number(value)} h"


def _rule_pane(alike: Sequence[PlanLine], measures: Measures) -> tuple[Line, ...]:
    plan_line = alike[0]
    check = CHECKS[plan_line.rule.check]
    purposes = ", ".join(called(one.purpose) for one in alike)
    alone = f"plan {quoted_label(plan_line.rule.check)}{_scope(plan_line)} every_h="
    together = (
        (labelled("for", f"{purposes}. One of them alone: {alone}"),) if len(alike) > 1 else ()
    )
    rule = plan_line.rule
    condition = ", ".join(filter(None, (rule.stage, rule.condition))) if rule.condition else ""
    harm = "-"
    if plan_line.rule.harm_h:
        harm = f"{hours(plan_line.rule.harm_h)} after it was last done, in danger"
    return (
        line(Cell(check.question.text, "strong"), f"   {measures.in_words(check.help)}"),
        *together,
        *([labelled("if", condition)] if condition else []),
        *([aside("hours", FEMALE_DAYS)] if plan_line.rule.female_days else []),
        labelled("basis", measures.in_words(plan_line.rule.basis)),
        labelled("harm", harm),
    )
