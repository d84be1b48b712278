"""A question as it is asked, its answers, and what an answer says."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any, Literal

from msgspec import Struct

from rounds.bench.kinds.base import Entry
from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench, Container
from rounds.care.ahead.foresight import Foresight
from rounds.care.due import Due

Saying = tuple[type[Entry], dict[str, Any]]


class Asked(Struct, frozen=True):
    """A question as it is asked: of what, about what, and any number typed."""

    bench: Bench
    due: Due
    now: datetime
    number: float | None = None
    second: float | None = None  # typed after a stroke, as 15/24
    foresight: Foresight | None = None  # where the desk has one, which knows what loggers wrote

    @property
    def container(self) -> Container | None:
        """The container that is asked about."""
        return self.bench.at(self.due.where) if self.due.place_kind == "container" else None

    @property
    def measures(self) -> Measures:
        """The units in which numbers were typed."""
        return measures_of(self.bench.settings)

    @property
    def here(self) -> dict[str, Any]:
        """The place, as the fields of an entry say it."""
        if self.due.place_kind == "shelf":
            return {"shelf": self.due.where}
        return {"container": self.due.where} if self.due.place_kind == "container" else {}

    @property
    def whole(self) -> int | None:
        """The number typed, as a count."""
        return None if self.number is None else round(self.number)

    @property
    def subject_brood(self) -> dict[str, Any]:
        """The brood asked about, where the check has one."""
        known = self.due.subject in self.bench.broods or self.due.subject in self.bench.founders
        return {"brood": self.due.subject} if known else {}


class Answer(Struct, frozen=True):
    """One key's answer."""

    key: str
    label: str
    says: Callable[[Asked], list[Saying]]
    number: Literal["", "may", "must"] = ""
    usual: bool = False
    prompt: Callable[[Asked], str] | None = None  # opens the prompt with this begun instead of saying


class Question(Struct, frozen=True):
    """A question and its answers."""

    text: str
    answers: tuple[Answer, ...]
    takes: str = ""  # what a number typed means, in words

    @property
    def number_sign(self) -> str:
        """How a number is given: before a key, or with Enter alone where only one answer takes it."""
        takers = [answer for answer in self.answers if answer.number]
        by_enter = len(takers) == 1 and takers[0].number == "must" and takers[0].key != "enter"
        return "number, Enter" if by_enter else "number"

    def number_refusal(self, typed: str, answer: Answer) -> str:
        """Why these digits are no number for that answer, in one line; empty where they are. Two, as 15/24, only for degrees."""
        if not answer.number:
            takers = ", ".join(one.label for one in self.answers if one.number)
            return f"'{answer.label}' takes no number, and {typed} was typed; a number goes with: {takers}"
        parts = typed.split("/")
        if not all(_is_number(part) for part in parts):
            return f"'{typed}' is not a number; type digits, as 12 or 21.4"
        if len(parts) > (2 if self.takes.startswith("degrees") else 1):
            return f"'{typed}' is more than one number; this takes one, as 12"
        if not self.takes.startswith(("degrees", "depth")) and float(parts[0]) % 1:
            return f"'{typed}' is no whole number; this takes {self.takes}, as 12"
        return ""


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
