"""Arrows go one way, those that a linter of imports cannot see among them: in functions, for types only, by name."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

import rounds

PACKAGE = Path(rounds.__file__).parent
ROOT = PACKAGE.parent
LAYERS = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]["contracts"][
    0
]["layers"]
RANK = {
    package: rank for rank, layer in enumerate(LAYERS) for package in re.split(r" [:|] ", layer)
}
APART = {
    frozenset((one, other))
    for layer in LAYERS
    if "|" in layer
    for one in layer.split(" | ")
    for other in layer.split(" | ")
}
DOORS = {"rounds": {"scripting"}, "rounds.__main__": {"shell"}}  # what begins with nothing above it
BY_NAME = {"import_module", "__import__", "exec_module", "run_module", "run_path", "load_module"}
STORY = ("rounds._demo.", "demo.")  # the demo's story is data beside the package
FILES = {"os", "pathlib", "shutil", "socket", "subprocess", "tempfile", "urllib"}


def modules() -> dict[str, Path]:
    """Every module of the package by its dotted name."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


MODULES = modules()


class Unreadable(Exception):
    """An import by a name that cannot be read off the source."""


def imports_of(source: str) -> Iterator[str]:
    """The dotted names that a module imports, wherever in it and however.

    Raises:
        Unreadable: an import by name does not say the package it imports from.
    """
    tree = ast.parse(source)
    words = {
        node.value.split(".")[0]
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, "imports are absolute"
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                yield inner if inner in MODULES else str(node.module)
        elif isinstance(node, ast.Call) and name_of(node.func) in BY_NAME:
            yield from imported_by_name(node, words)


def name_of(function: ast.expr) -> str:
    return (
        function.attr
        if isinstance(function, ast.Attribute)
        else function.id
        if isinstance(function, ast.Name)
        else ""
    )


def imported_by_name(call: ast.Call, words: set[str]) -> Iterator[str]:
    """What a call imports: one module, or of one package those that the source names."""
    named = call.args[0] if call.args else None
    if isinstance(named, ast.Constant):
        yield str(named.value)
        return
    begun = named.values[0] if isinstance(named, ast.JoinedStr) else None
    if not (isinstance(begun, ast.Constant) and str(begun.value).endswith(".")):
        raise Unreadable(f"line {call.lineno}: say the package that is imported from")
    package = str(begun.value)
    yield from (
        name for name in MODULES if name.startswith(package) and name.removeprefix(package) in words
    )


@cache
def graph() -> dict[str, set[str]]:
    """What each module imports."""
    return {
        name: {one for one in imports_of(path.read_text()) if one != name}
        for name, path in MODULES.items()
    }


def part_of(module: str) -> str:
    """The package right below the whole that a module lies in."""
    return module.split(".")[1] if module.startswith("rounds.") else ""


def wrong_way(importer: str, imported: str) -> bool:
    """Whether an import goes up the list, or between two that know nothing of each other."""
    above, below = part_of(importer), part_of(imported)
    if not below or above == below or imported.startswith(STORY):
        return False
    if importer in DOORS:
        return below not in DOORS[importer]
    return RANK[above] > RANK[below] or frozenset((above, below)) in APART


def test_no_import_goes_up_the_list() -> None:
    arrows = [
        (one, other) for one, imported in graph().items() for other in imported if part_of(other)
    ]

    assert len(arrows) > 1500
    assert {part_of(name) for name in MODULES} == {"", "__main__", *RANK}
    assert not [f"{one} -> {other}" for one, other in arrows if wrong_way(one, other)]


def only_for_types(module: str) -> set[str]:
    """What a module imports for its annotations alone."""
    blocks = [
        node
        for node in ast.parse(MODULES[module].read_text()).body
        if isinstance(node, ast.If) and name_of(node.test) == "TYPE_CHECKING"
    ]
    return {
        name for block in blocks for part in block.body for name in imports_of(ast.unparse(part))
    }


def test_no_modules_import_one_another_in_a_circle() -> None:
    # Kinds of entry change the bench, which holds entries: there alone an annotation may name what is above it.
    held = {one: only_for_types(one) for one in MODULES if part_of(one) in ("bench", "entries")}
    try:
        order = [
            *TopologicalSorter(
                {
                    one: imported & MODULES.keys() - held.get(one, set())
                    for one, imported in graph().items()
                }
            ).static_order()
        ]
    except CycleError as circle:
        pytest.fail(" -> ".join(circle.args[1]))

    assert set(order) == MODULES.keys()


def test_pages_are_found_behind_their_names() -> None:
    assert {"rounds.screens.plan_screen", "rounds.screens.round_screen"} <= graph()[
        "rounds.screens.registry"
    ]
    assert "rounds.screens.app" not in graph()["rounds.screens.registry"]
    assert "rounds.scripting.book" in graph()["rounds"]


def test_only_screens_know_the_terminal_interface() -> None:
    knows = {
        part_of(name)
        for name, imported in graph().items()
        if any(one.split(".")[0] == "textual" for one in imported)
    }

    assert knows == {"screens"}


def test_views_open_no_file_and_know_no_desk() -> None:
    views = {name: imported for name, imported in graph().items() if part_of(name) == "views"}
    opens = [
        name
        for name in views
        if re.search(r"(?<![\w.])open\(|\.(read|write)_(text|bytes)\(", MODULES[name].read_text())
    ]

    assert len(views) > 30
    assert not {
        name: found
        for name, imported in views.items()
        if (found := {one.split(".")[0] for one in imported} & FILES)
    }
    assert not opens


def test_the_list_for_developers_has_the_order_of_the_arrows() -> None:
    told = re.findall(
        r"^      (\w+)(?:/|\.py) ",
        (ROOT / "DEVELOPERS.md").read_text().split("    demo/")[0],
        re.MULTILINE,
    )

    assert sorted(told) == sorted(RANK)
    assert [RANK[package] for package in told] == sorted(RANK.values())


@pytest.mark.parametrize(
    ("source", "imported"),
    [
        ("def later():\n    from rounds.app import desk", {"rounds.app.desk"}),
        ("if TYPE_CHECKING:\n    import rounds.app.desk as d", {"rounds.app.desk"}),
        ("import_module('rounds.app.desk')", {"rounds.app.desk"}),
        ("importlib.import_module('textual')", {"textual"}),
        ("WHICH = ('desk',)\n__import__(f'rounds.app.{WHICH[0]}')", {"rounds.app.desk"}),
    ],
)
def test_an_import_is_seen_however_it_is_written(source: str, imported: set[str]) -> None:
    assert set(imports_of(source)) == imported
    assert all(wrong_way("rounds.views.words", one) for one in imported if part_of(one))


@pytest.mark.parametrize(
    "source",
    ["import_module(name)", "import_module(f'{name}.desk')", "import_module(f'rounds.a{name}')"],
)
def test_an_import_by_a_name_that_nobody_can_read_is_refused(source: str) -> None:
    with pytest.raises(Unreadable):
        list(imports_of(source))
