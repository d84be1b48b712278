"""What is said of a thing bit by bit: a shelf, a species, a plant, a permit, the plan, a setting, a
container. What a line does not say stays as it was, whoever said that.

A line names the fields that it says, and for each the line that had said it before as far as its
writer knew. So what two laptops apart say of different fields joins when they meet, and that they
said different things of one is told until one who knows of both says which holds. A line without
these names is from before, and says the whole.
"""

from collections.abc import Iterable, Iterator, MutableMapping, Sequence
from datetime import datetime
from typing import Any, ClassVar, Literal, TypeVar

import msgspec

from rounds.bench.permits import ends_at_midnight
from rounds.bench.state import Bench, SaidBy
from rounds.entries.base import Entry
from rounds.entries.schema import OWN

_Known = TypeVar("_Known", bound="SaidOfOne")
_Part = TypeVar("_Part", bound="Piecewise")


class SaidOfOne(Entry, frozen=True, kw_only=True):
    """An entry that says what is held true of one thing, or of several alike.

    ``says`` names what it says, each with the id of the line that had said it before, or with an
    empty one; before that with those of what another had said otherwise, and of what was typed last
    of an earlier time.
    """

    says: tuple[tuple[str, str], ...] = ()

    @property
    def of_what(self) -> str:
        """How a line about the same begins: ``shelf set up rack``."""
        raise NotImplementedError

    def said_on(self, bench: Bench) -> MutableMapping[str, SaidBy]:
        """Who said what of the same; on the bench before it."""
        return bench.said_by.get(self.of_what, {})

    def to_note_on(self, bench: Bench) -> MutableMapping[str, SaidBy]:
        """As ``said_on``, where it is noted."""
        return bench.said_by.setdefault(self.of_what, {})

    def names_said(self, bench: Bench) -> Iterable[str]:
        """What it says, by name; on the bench before it."""
        raise NotImplementedError

    def knowing(self: _Known, bench: Bench) -> _Known:
        """The same, with the lines that it goes beyond; on the bench before it."""
        before, says = self.said_on(bench), []
        for name in self.names_said(bench):
            says += [(name, line) for line in _known(before.get(name))]
        return msgspec.structs.replace(self, says=tuple(says))

    def _lines_of(self, name: str) -> list[str]:
        """The lines that its writer knew to have said it, the one that held last."""
        return [line for said, line in self.says if said == name]


class Piecewise(SaidOfOne, frozen=True, kw_only=True):
    """An entry that says some of what is held true of one thing, a field at a time."""

    beside_it: ClassVar[frozenset[str]] = frozenset({"why"})  # fields that may differ untold
    # fields of which the more careful value holds until one who knows of both says which does: the
    # larger of what guards, the smaller of what limits
    guarding: ClassVar[frozenset[str]] = frozenset()
    limiting: ClassVar[frozenset[str]] = frozenset()

    def names_said(self, bench: Bench) -> Iterable[str]:
        return dict.fromkeys(name for name, _ in sorted(self.says))

    def says_unknown(self) -> str:
        """Why it cannot be read; empty where it says fields of its own kind alone."""
        known = set(_fields(self))
        strange = next((name for name, _ in self.says if name not in known), None)
        return f"says '{strange}', which is no field of its kind" if strange is not None else ""

    def joined(self: _Part, known: object | None) -> _Part:
        """The whole that holds after it, given what was known before."""
        if not self.says:
            return self
        said = dict(self.says)
        return self.with_unsaid(known, [name for name in _fields(self) if name not in said])

    def with_unsaid(self: _Part, known: object | None, unsaid: Iterable[str]) -> _Part:
        """The same with fields that it does not say as they stood before it."""
        kept = {name: getattr(known, name) for name in unsaid if hasattr(known, name)}
        return msgspec.structs.replace(self, **kept)

    def noted(self: _Part, bench: Bench, known: object | None) -> _Part:
        """As ``joined``, and who said what is noted."""
        self.note(bench, known)
        return self.joined(known).with_the_careful(bench, known)

    def with_the_careful(self: _Part, bench: Bench, known: object | None) -> _Part:
        """The same with the more careful values of those that two laptops said apart; once it is
        noted."""
        by = self.said_on(bench)
        careful: dict[str, Any] = {}
        for name in (self.guarding | self.limiting) & by.keys():
            values = [getattr(one, name) for one in (self, known) if hasattr(one, name)]
            held = [one for one in values if typed(one) == by[name].both[0]]
            if by[name].other and held:
                careful[name] = held[0]
        return msgspec.structs.replace(self, **careful)

    def note(self, bench: Bench, known: object | None) -> None:
        """Note on the bench who said what, so that two that differ are told.

        Args:
            known: what has fields of the same names as they stood before it.
        """
        by = self.to_note_on(bench)
        for name, before in self._goes_beyond(by, known).items():
            tells = name not in self.beside_it and hasattr(known, name)
            was = typed(getattr(known, name)) if tells else ""
            last, guards = by.get(name), self._care_of(name)
            if guards and last:
                was = last.value
            noted = _said_after(last, self.id, before, typed(getattr(self, name)), was)
            by[name] = msgspec.structs.replace(noted, guards=guards)

    def _care_of(self, name: str) -> Literal["", "larger", "smaller"]:
        """Which of two values of a field is the more careful; empty where neither is."""
        return "larger" if name in self.guarding else "smaller" if name in self.limiting else ""

    def _goes_beyond(
        self, by: MutableMapping[str, SaidBy], known: object | None
    ) -> dict[str, list[str]]:
        """By field that it says the lines that its writer knew to have said it, the one that held
        last."""
        beyond = {name: self._lines_of(name) for name, _ in self.says}
        if not self.says:
            for name in _fields(self):
                if known is None or getattr(known, name, None) != getattr(self, name):
                    beyond[name] = _known(by.get(name))
        return {name: one for name, one in beyond.items() if getattr(self, name) is not None}


class SaidWhole(SaidOfOne, frozen=True, kw_only=True):
    """An entry that says one value of all that it is about: a date with its end, a threshold with
    its constant. What it does not say does not stay."""

    @property
    def value(self) -> str:
        """All that it says of each, as it is typed."""
        raise NotImplementedError

    def names_said(self, bench: Bench) -> Iterable[str]:
        """Of which it says it; on the bench before it."""
        return ("value",)

    def note(self, bench: Bench) -> None:
        """Note who said it of each, so that two that differ are told."""
        by = self.to_note_on(bench)
        for name in self.names_said(bench):
            last = by.get(name)
            before = self._lines_of(name) or [line for _, line in self.says] or _known(last)
            by[name] = _said_after(last, self.id, before, self.value, last.value if last else "")


def _said_after(
    last: SaidBy | None, line: str, before: Sequence[str], value: str, was: str
) -> SaidBy:
    """What is noted of a line that says a value.

    Args:
        last: what was noted before it.
        before: the lines that its writer knew to have said it, the one that held last.
        was: the value that held before it; empty where it may differ untold.
    """
    noted = SaidBy(line, max(line, last.newest if last else ""), before[-1], value)
    if last and was:
        other, aside = _set_aside(line, last, before, was)
        if other and other != value:
            noted = msgspec.structs.replace(noted, other=other, aside=aside)
    return noted


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
    """A value as it is typed; in double quotes where it has a single one, with a backslash before
    those of its own."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        value = f"{value:%Y-%m-%d}" if ends_at_midnight(value) else f"{value:%Y-%m-%d %H:%M}"
    text = f"{value:g}" if isinstance(value, float) else str(value)
    if text and not set(text) & {" ", "\t", "\n"} and text[0] not in "'\"":
        return text
    if "'" not in text:
        return f"'{text}'"
    return '"{}"'.format(text.replace('"', '\\"'))


def fields_typed(entry: Entry, names: Iterable[str]) -> str:
    """Fields of an entry as they are typed, without those that say nothing."""
    said = {name: getattr(entry, name) for name in names}
    return " ".join(f"{name}={typed(one)}" for name, one in said.items() if one not in ("", None))
