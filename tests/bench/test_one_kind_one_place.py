"""A kind of entry is in the file of its family, and nothing else lists kinds: who adds one touches no table elsewhere."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import rounds
from rounds.entries import registry
from rounds.entries.base import Entry, kinds
from rounds.entries.registry import KIND_BY_NAME, KINDS

ROOT = Path(rounds.__file__).parent
CLASSES = {kind.__name__ for kind in KINDS}
FEW = 2  # so many beside one another are a choice between two, not a table
OWN_HOOKS = ("effect", "wording", "refusals", "defaults", "question", "slots")


def tables_of_kinds(source: str) -> Iterator[tuple[str, ...]]:
    """Every set, sequence or mapping in a module that names more than a few kinds, by their names or classes."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Dict):
            parts = [one for one in node.keys if one is not None]
        elif isinstance(node, ast.Set | ast.Tuple | ast.List):
            parts = node.elts
        elif (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Name)
            and node.func.id == "isinstance"
        ):
            parts = [one for one in ast.walk(node) if isinstance(one, ast.Attribute | ast.Name)]
        elif (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Name)
            and node.func.id in ("each", "listed")
            and isinstance(node.args[0], ast.Constant)
        ):
            words = re.split("[ ,]+", str(node.args[0].value))
            parts = [ast.Constant(word) for word in words]
        else:
            continue
        named = {name for part in parts if (name := kind_named(part))}
        if len(named) > FEW:
            yield tuple(sorted(named))


def kind_named(node: ast.expr) -> str:
    """The kind that one part of a table names; empty where it names none."""
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) and node.value in KIND_BY_NAME else ""
    name = (
        node.attr
        if isinstance(node, ast.Attribute)
        else node.id
        if isinstance(node, ast.Name)
        else ""
    )
    return name if name in CLASSES else ""


# Modules that name several kinds, each for a reason of its own that a new kind seldom shares.
ALLOWED: dict[str, str] = {
    "bench/movements.py": "how an animal came to be what it is, in words of which some are those of kinds",
    "checks/heat.py": "what answers it, as each check says",
    "checks/look.py": "what answers it, as each check says",
    "checks/registry.py": "the files of checks, of which some are called as kinds are",
    "checks/still.py": "what answers it, as each check says",
    "checks/store.py": "what answers it, as each check says",
    "checks/wings.py": "what answers it, as each check says",
    "exchange/archive/measurements.py": "what is a measurement in Darwin Core",
    "exchange/archive/occurrences.py": "what is an occurrence in Darwin Core",
    "exchange/permit_return.py": "what a permit's return counts",
    "exchange/tables_in/columns.py": "fields of an old table, in words of which some are those of kinds",
    "exchange/tables_in/events.py": "what happened, in words of which some are those of kinds",
    "exchange/tables_in/event_rows.py": "which rows of an old table end an animal",
    "exchange/tables_in/fates.py": "what became of them, by the words of old tables",
    "exchange/tables_in/record.py": "what became of them, by the words of old tables",
    "exchange/tables_in/unknown_dates.py": "fields of an old table, in words of which some are those of kinds",
    "tallies/records.py": "of which kinds looking back keeps the line itself",
    "tallies/seen_alive.py": "of which lines looking back knows who was alive",
    "tallies/stood_before.py": "what is an occurrence, by the bench before it",
    "tallies/tallies.py": "which tally follows which of those lines",
}


def test_no_table_elsewhere_lists_kinds() -> None:
    modules = [one for one in ROOT.rglob("*.py") if one.relative_to(ROOT).parts[0] != "entries"]
    found = {
        name: tables
        for one in modules
        if (name := str(one.relative_to(ROOT))) not in ALLOWED
        and (tables := [*tables_of_kinds(one.read_text())])
    }

    assert len(modules) > 200
    assert not found


def test_what_is_allowed_is_needed() -> None:
    assert all([*tables_of_kinds((ROOT / name).read_text())] for name in ALLOWED)


def test_a_kind_has_all_its_own_in_one_file() -> None:
    for kind in KINDS:
        owners = {
            base.__module__ for base in kind.__mro__ for hook in OWN_HOOKS if hook in vars(base)
        }
        assert owners <= {kind.__module__, Entry.__module__}, kind


def test_the_registry_has_every_kind_by_its_class() -> None:
    declared = {*kinds()}

    assert len(declared) > 60
    assert declared == {*KINDS}
    assert all(getattr(registry, kind.__name__) is kind for kind in declared)


def test_a_small_kind_is_its_family_and_its_name_in_the_registry() -> None:
    parts = [
        one
        for folder in ("entries", "bench", "tallies", "app")
        for one in (ROOT / folder).rglob("*.py")
    ]
    naming = {
        one.name for one in parts if re.search(r"\bweighed\b", one.read_text(), re.IGNORECASE)
    }

    assert naming == {"stages.py", "registry.py"}


def test_a_table_is_seen() -> None:
    assert [*tables_of_kinds("TABLE = {k.Drank: 1, k.Moved: 2, k.Note: 3}")] == [
        ("Drank", "Moved", "Note")
    ]
    assert [*tables_of_kinds("TABLE = ('drank', 'moved', 'host in')")] == [
        ("drank", "host in", "moved")
    ]
    assert not [*tables_of_kinds("PAIR = ('drank', 'moved')")]
