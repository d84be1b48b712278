"""A question as it is asked, its answers, and what an answer says."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any, Literal, NamedTuple

from msgspec import Struct

from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench, Container
from rounds.checks.due_state import Due, container_of
from rounds.entries.base import Entry, Saying
from rounds.forecasts.foresight import Forecasts

ALL = "."  # typed in place of a number of animals: all that are there


class Number(Struct, frozen=True):
    """A kind of number that an answer takes.

    ``words`` is how a question shows it. Animals that are on record may be ``ALL``; of them, and of
    some other things that something happened to, 0 is none. A count may be 0 as it is. Degrees and
    other measures may have a fraction, degrees be two numbers, as 15/24.
    """

    words: str
    sort: Literal["animals", "some", "count", "measure", "degrees"] = "animals"

    @property
    def none_at_0(self) -> bool:
        """Whether 0 of them means that it did not happen."""
        return self.sort in ("animals", "some")

    @property
    def is_whole(self) -> bool:
        """Whether it has no fraction."""
        return self.sort in ("animals", "some", "count")

    def refusal(self, typed: str) -> str:
        """Why what was typed is no such number, in one line; empty where it is one."""
        if typed == ALL and self.sort == "animals":
            return ""
        parts = typed.split("/")
        if not all(_is_number(part) for part in parts):
            return f"'{typed}' is not a number; type digits, as 12 or 21.4"
        if len(parts) > (2 if self.sort == "degrees" else 1):
            return f"'{typed}' is more than one number; this takes one, as 12"
        if self.is_whole and float(typed) % 1:
            return f"'{typed}' is no whole number; this takes {self.words}, as 12"
        return ""


HOW_MANY = Number("how many")
STEMS = Number("stems", "some")
EGGS_FOUND = Number("eggs found", "count")
DEPTH = Number("depth in mm", "measure")
DEGREES = Number("degrees C", "degrees")


class Amount(Struct, frozen=True):
    """A number as it was typed: one, two as 15/24, or all that are there."""

    number: float | None = None
    second: float | None = None
    every: bool = False

    @classmethod
    def of(cls, typed: str) -> Amount:
        """Read digits that no number refused; nothing typed is no number."""
        if typed == ALL:
            return cls(every=True)
        first, _, second = typed.partition("/")
        return cls(float(first) if first else None, float(second) if second else None)

    @property
    def is_given(self) -> bool:
        """Whether anything was typed."""
        return self.every or self.number is not None


class AnswerContext(Struct, frozen=True):
    """A question as it is asked: of what, about what, and any number typed."""

    bench: Bench
    due: Due
    now: datetime
    number: float | None = None
    second: float | None = None  # typed after a stroke, as 15/24
    foresight: Forecasts | None = None  # where the desk has one, which knows what loggers wrote
    every: bool = False  # all that are there, typed in place of a number

    @property
    def container(self) -> Container | None:
        """The container that is asked about."""
        return container_of(self.bench, self.due)

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

    def saying(self, kind: type[Entry], **fields: Any) -> Saying:
        """An entry about this place."""
        return kind, self.here | fields

    @property
    def whole(self) -> int | None:
        """The number typed, as a count."""
        return None if self.number is None else round(self.number)

    @property
    def subject_brood(self) -> dict[str, Any]:
        """The brood asked about, where the check has one."""
        known = self.due.subject in self.bench.broods or self.due.subject in self.bench.founders
        return {"brood": self.due.subject} if known else {}


Says = Callable[[AnswerContext], list[Saying]]  # the entries that an answer makes


class Begun(NamedTuple):
    """A line that is begun for the keeper, and how it goes on by what is on record; '' where that
    must be typed."""

    text: str
    likely: str = ""


class Answer(Struct, frozen=True):
    """One key's answer.

    ``takes`` is the kind of number that may be typed before the key; where it ``must`` be given and
    was not, it is asked for. ``by_enter`` is the answer of a question that asks for a number
    itself: that number and Enter. ``none`` says what 0 of them means; without it 0 records nothing.
    A ``loss`` is an answer that ends animals.
    """

    key: str
    label: str
    says: Says
    takes: Number | None = None
    must: bool = False
    by_enter: bool = False
    usual: bool = False
    loss: bool = False
    stays: bool = False  # sets how the question is asked, and leaves it open
    none: Says | None = None
    touches: bool = False  # hands come in for it
    sure: str = ""  # what is asked once before it is said, for it is of more than this place
    is_which: bool = False  # says which one is meant, so that it is not asked again
    # opens the prompt with this begun instead of saying
    prompt: Callable[[AnswerContext], Begun] | None = None


class Question(Struct, frozen=True):
    """A question and its answers.

    ``seen`` is what a look has seen if the usual answer holds, where one answers several checks;
    ``no_usual`` is why Space answers nothing, of several places whose usual answers differ.
    ``first`` are the keys of answers that are likelier here and now than their order says: they are
    shown first, and have the same keys as ever.
    """

    text: str
    answers: tuple[Answer, ...]
    no_usual: str = ""
    seen: str = ""
    first: tuple[str, ...] = ()

    @property
    def usual(self) -> Answer | None:
        """The answer that Space gives."""
        return next((answer for answer in self.answers if answer.usual), None)

    @property
    def by_likelihood(self) -> tuple[Answer, ...]:
        """The answers in the order in which they are shown."""
        place = {key: at for at, key in enumerate(self.first)}
        return tuple(sorted(self.answers, key=lambda answer: place.get(answer.key, len(place))))

    @property
    def by_enter(self) -> Answer | None:
        """The answer that a number and Enter give, where the question asks for a number itself."""
        return next((answer for answer in self.answers if answer.by_enter), None)

    @property
    def takers(self) -> tuple[Answer, ...]:
        """The answers with a key that take a number."""
        return tuple(answer for answer in self.answers if answer.takes and answer.key != "enter")

    @property
    def number_words(self) -> tuple[str, str] | None:
        """How a number is given here, and which; None where none is taken."""
        answer = self.by_enter
        if answer is not None and answer.takes is not None:
            return "number, Enter", answer.takes.words
        taken = self.takers[0].takes if self.takers else None
        if taken is None:
            return None
        return "number", f"{taken.words}; {ALL} is all" if taken.sort == "animals" else taken.words

    def takes_sign(self, typed: str, sign: str) -> bool:
        """Whether this sign goes on with the number begun; a digit that is an answer's own key
        begins none."""
        if not typed and any(answer.key == sign for answer in self.answers):
            return False
        return len(typed) < MAX_SIGNS and any(answer.takes for answer in self.answers)

    def digit_refusal(self, sign: str) -> str:
        """What a digit that names none of the lots or choices here wants; empty for any other
        sign."""
        keys = [answer.key for answer in self.answers]
        digits = [key for key in keys if key.isdigit() and key != "0"]
        if not digits or not sign.isdigit():
            return ""
        if len(digits) == 1:
            return f"there is only {digits[0]} here"
        return f"there is no {sign} here; there is {digits[0]} to {digits[-1]}"

    def number_refusal(self, typed: str, answer: Answer) -> str:
        """Why these signs are no number for that answer, in one line; empty where they are."""
        if answer.takes is None:
            takers = ", ".join(one.label for one in self.answers if one.takes)
            none = f"'{answer.label}' takes no number, and {typed} was typed"
            return f"{none}; a number goes with: {takers}" if takers else none
        return answer.takes.refusal(typed)

    def enter_refusal(self, typed: str) -> str:
        """What a number and Enter want where the question does not ask for one."""
        keys = ", ".join(f"{answer.key} {answer.label}" for answer in self.takers)
        return f"{typed} and Enter record nothing here; type {typed}, then: {keys}"


MAX_SIGNS = 12
NUMBER_SIGNS = frozenset("0123456789./")


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
