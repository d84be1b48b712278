"""One check, one file: nothing else names a check by its string, so that a new one is its file and a line of the registry."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest

import rounds
from rounds.checks.registry import CHECKS
from rounds.entries.base import Purpose

ROOT = Path(rounds.__file__).parent
# Names of checks that are also words for something else: alone they tell nothing, so they count where they stand for a
# check (compared with one, looked up in a table of checks, listed beside others).
OTHER_MEANINGS = {
    "drink": "what animals do",
    "eggs": "a purpose, and several of a stage",
    "quarantine": "a purpose",
    "still": "a sign on the card",
    "air": "a kind of entry",
    "frass": "a kind of entry",
    "permit": "a kind of entry",
    "room": "a kind of place",
    "count": "a kind of number",
    "solution": "something to have ready",
    "food": "a field of an entry",
    "host": "a plant: a heading and a line of the card",
    "store": "the short word for a purpose",
    "feeder": "where eggs are found",
    "ants": "a cause of death, and a heading",
    "heat": "a cause of death",
    "lamp": "how a container is lit",
    "release": "a caution",
    "look": "a word for a key, and what is counted",
    "change": "an action of the plan page",
    "keep": "an action on leaving",
}
PURPOSES = set(get_args(Purpose))
TABLES = {"CHECKS", "QUESTIONS", "HELPED", "ANSWERED_BY", "checks"}
# Where several of these words stand side by side and none of them means a check.
NO_CHECKS = {
    "tallies/batch_losses.py": "causes of death",
    "app/running_bench.py": "headings of a column",
    "exchange/tables/daybook.py": "headings of a table",
    "exchange/tables_in/record.py": "causes of death",
    "entries": "the language of the daybook, which knows no checks",
}


def names_of_checks(source: str, own: str = "") -> Iterator[str]:
    """The names of checks that a module says, but for its own."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Constant):
            found = {node.value} - OTHER_MEANINGS.keys() if isinstance(node.value, str) else set()
        elif isinstance(node, ast.Compare) and any(
            is_check(side) for side in (node.left, *node.comparators)
        ):
            found = strings_in(node)
        elif isinstance(node, ast.Subscript) and name_of(node.value) in TABLES:
            found = strings_in(node.slice)
        elif isinstance(node, ast.keyword) and node.arg == "check":
            found = strings_in(node.value)
        elif isinstance(node, ast.Set | ast.Tuple | ast.List | ast.Dict):
            said = {
                one.value for one in listed(node) if isinstance(one, ast.Constant)
            } & CHECKS.keys()
            found = said if len(said) > 1 and not said <= PURPOSES else set()
        else:
            continue
        yield from sorted((found & CHECKS.keys()) - {own})


def is_check(side: ast.expr) -> bool:
    return name_of(side) == "check"


def name_of(node: ast.expr) -> str:
    return (
        node.attr
        if isinstance(node, ast.Attribute)
        else node.id
        if isinstance(node, ast.Name)
        else ""
    )


def listed(node: ast.Set | ast.Tuple | ast.List | ast.Dict) -> list[ast.expr]:
    return [
        one for one in (node.keys if isinstance(node, ast.Dict) else node.elts) if one is not None
    ]


def strings_in(node: ast.AST) -> set[str]:
    return {
        one.value
        for one in ast.walk(node)
        if isinstance(one, ast.Constant) and isinstance(one.value, str)
    }


def own_name(module: Path) -> str:
    """The check that a module of ``checks/`` holds."""
    name = module.stem.replace("_", " ")
    return name if module.parent.name == "checks" and name in CHECKS else ""


@pytest.mark.parametrize("name", CHECKS)
def test_a_check_is_in_the_file_of_its_name(name: str) -> None:
    assert (ROOT / "checks" / f"{name.replace(' ', '_')}.py").exists()


def test_no_other_module_names_a_check() -> None:
    modules = [
        one
        for one in ROOT.rglob("*.py")
        if not {"bench", "entries", "calculations"} & set(one.relative_to(ROOT).parts)
    ]
    allowed = {ROOT / name for name in NO_CHECKS}
    named = {
        str(one.relative_to(ROOT)): found
        for one in modules
        if one not in allowed and (found := [*names_of_checks(one.read_text(), own_name(one))])
    }

    assert len(modules) > 150
    assert not named


@pytest.mark.parametrize(
    "source",
    [
        'hours = {"clean": 12}',
        'if due.check == "eggs": pass',
        'if check in ("host", "food"): pass',
        'CHECKS["room"].label',
        'Due(where="L2", check="ants")',
        '_KEEPERS = frozenset({"release", "permit"})',
        'WORDS = {"food": "add", "host": "add"}',
    ],
)
def test_a_name_of_a_check_is_noticed(source: str) -> None:
    assert [*names_of_checks(source)]


@pytest.mark.parametrize(
    "source", ['container.purpose == "eggs"', 'say(k.Looked, sign="still")', 'place_kind == "room"']
)
def test_another_meaning_of_the_word_is_not(source: str) -> None:
    assert not [*names_of_checks(source)]


def test_each_word_with_another_meaning_is_a_check() -> None:
    assert OTHER_MEANINGS.keys() <= CHECKS.keys()
