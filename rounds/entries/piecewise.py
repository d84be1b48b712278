"""What is said of a shelf, a species or a plant bit by bit: what a line does not say stays as it
was, whoever said that.

A line names the fields that it says, and for each the line that had said it before as far as its
writer knew. So what two laptops apart say of different fields joins when they meet, and that they
said different things of one is told. A line without these names is from before, and says the whole.
"""

from collections.abc import Iterator
from typing import Any, TypeVar

import msgspec

from rounds.bench.state import Bench, SaidBy
from rounds.entries.base import Entry
from rounds.entries.schema import OWN

_Known = TypeVar("_Known", bound="Piecewise")


class Piecewise(Entry, frozen=True, kw_only=True):
    """An entry that says some of what is held true of one thing.

    ``says`` are the fields that it says, each with the id of the line that had said it before, or
    with an empty one.
    """

    says: tuple[tuple[str, str], ...] = ()

    @property
    def of_what(self) -> str:
        """How a line about the same begins: ``shelf set up rack``."""
        raise NotImplementedError

    def knowing(self: _Known, bench: Bench) -> _Known:
        """The same, with the lines that it goes beyond; on the bench before it."""
        before = bench.said_by.get(self.of_what, {})
        says = tuple(
            (name, before[name].line if name in before else "") for name, _ in sorted(self.says)
        )
        return msgspec.structs.replace(self, says=says)

    def joined(self: _Known, known: object | None) -> _Known:
        """The whole that holds after it, given what was known before."""
        if known is None or not self.says:
            return self
        said = dict(self.says)
        kept = {
            name: getattr(known, name)
            for name in _fields(self)
            if name not in said and hasattr(known, name)
        }
        return msgspec.structs.replace(self, **kept)

    def noted(self: _Known, bench: Bench, known: object | None) -> _Known:
        """As ``joined``, and who said what is noted on the bench, so that two that differ are
        told."""
        whole = self.joined(known)
        by = bench.said_by.setdefault(self.of_what, {})
        said = dict(self.says) or {
            name: by[name].line if name in by else ""
            for name in _fields(self)
            if known is None or getattr(known, name, None) != getattr(self, name)
        }
        for name, before in said.items():
            last, was = by.get(name), getattr(known, name, None)
            is_apart = last is not None and last.line > before and last.before < self.id
            differs = hasattr(known, name) and was != getattr(self, name)
            words = self._told_apart(name, was) if is_apart and differs else ""
            by[name] = SaidBy(self.id, before, words)
        return whole

    def _told_apart(self, name: str, other: Any) -> str:
        about = self.of_what.replace("shelf set up", "shelf", 1)
        return (
            f"{about}: {name} is {typed(getattr(self, name))}, said last; another laptop had said"
            f" {typed(other)}; say which holds, as: {self.of_what} {name}={typed(other)}"
        )


def _fields(entry: Entry) -> Iterator[str]:
    return (name for name in entry.__struct_fields__ if name not in OWN)


def typed(value: Any) -> str:
    """A value as it is typed."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = f"{value:g}" if isinstance(value, float) else str(value)
    return f"'{text}'" if " " in text or not text else text
