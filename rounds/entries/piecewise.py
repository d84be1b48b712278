"""What is said of a thing bit by bit: a shelf, a species, a plant, a permit, the plan, a setting, a
container. What a line does not say stays as it was, whoever said that.

A line names the fields that it says, and for each the line that had said it before as far as its
writer knew. So what two laptops apart say of different fields joins when they meet, and that they
said different things of one is told until one who knows of both says which holds. A line without
these names is from before, and says the whole.
"""

from collections.abc import Iterator, MutableMapping, Sequence
from datetime import datetime
from typing import Any, ClassVar, TypeVar

import msgspec

from rounds.bench.permits import ends_at_midnight
from rounds.bench.state import Bench, SaidBy
from rounds.entries.base import Entry
from rounds.entries.schema import OWN

_Known = TypeVar("_Known", bound="Piecewise")


class Piecewise(Entry, frozen=True, kw_only=True):
    """An entry that says some of what is held true of one thing.

    ``says`` are the fields that it says, each with the id of the line that had said it before, or
    with an empty one; before that with those of what another had said otherwise, and of what was
    typed last of an earlier time.
    """

    says: tuple[tuple[str, str], ...] = ()

    beside_it: ClassVar[frozenset[str]] = frozenset({"why"})  # fields that may differ untold

    @property
    def of_what(self) -> str:
        """How a line about the same begins: ``shelf set up rack``."""
        raise NotImplementedError

    def said_on(self, bench: Bench) -> MutableMapping[str, SaidBy]:
        """Who said what of the same; on the bench before it."""
        return bench.said_by.get(self.of_what, {})

    def knowing(self: _Known, bench: Bench) -> _Known:
        """The same, with the lines that it goes beyond; on the bench before it."""
        before, says = self.said_on(bench), []
        for name in dict.fromkeys(name for name, _ in sorted(self.says)):
            says += [(name, line) for line in _known(before.get(name))]
        return msgspec.structs.replace(self, says=tuple(says))

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
        """As ``joined``, and who said what is noted."""
        bench.said_by.setdefault(self.of_what, {})
        self.note(bench, known)
        return self.joined(known)

    def note(self, bench: Bench, known: object | None) -> None:
        """Note on the bench who said what, so that two that differ are told.

        Args:
            known: what has fields of the same names as they stood before it.
        """
        by = self.said_on(bench)
        for name, before in self._goes_beyond(by, known).items():
            value, last = getattr(self, name), by.get(name)
            newest = max(self.id, last.newest if last else "")
            noted = SaidBy(self.id, newest, before[-1], typed(value))
            if last and name not in self.beside_it and hasattr(known, name):
                other, aside = _set_aside(self.id, last, before, typed(getattr(known, name)))
                if other and other != noted.value:
                    noted = msgspec.structs.replace(noted, other=other, aside=aside)
            by[name] = noted

    def _goes_beyond(
        self, by: MutableMapping[str, SaidBy], known: object | None
    ) -> dict[str, list[str]]:
        """By field that it says the lines that its writer knew to have said it, the one that held
        last."""
        beyond: dict[str, list[str]] = {}
        for name, line in self.says:
            beyond.setdefault(name, []).append(line)
        if not self.says:
            for name in _fields(self):
                if known is None or getattr(known, name, None) != getattr(self, name):
                    beyond[name] = _known(by.get(name))
        return {name: one for name, one in beyond.items() if getattr(self, name) is not None}


def _known(last: SaidBy | None) -> list[str]:
    """The lines that one goes beyond who knows of what was said last, which comes last."""
    if last is None:
        return [""]
    late = [last.newest] if last.newest > last.line else []
    return [*([last.aside] if last.other else []), *late, last.line]


def _set_aside(line: str, last: SaidBy, before: Sequence[str], was: str) -> tuple[str, str]:
    """What another laptop said of a field, and in which line, that the writer of a new line did
    not know of; empty where there is none."""
    if last.line not in before and last.line > before[-1] and last.before < line:
        return was, last.line
    return (last.other, last.aside) if last.other and last.aside not in before else ("", "")


def _fields(entry: Entry) -> Iterator[str]:
    return (name for name in entry.__struct_fields__ if name not in OWN)


def typed(value: Any) -> str:
    """A value as it is typed."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        value = f"{value:%Y-%m-%d}" if ends_at_midnight(value) else f"{value:%Y-%m-%d %H:%M}"
    text = f"{value:g}" if isinstance(value, float) else str(value)
    return f"'{text}'" if " " in text or not text else text
