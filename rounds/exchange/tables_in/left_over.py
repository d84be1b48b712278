"""Eggs, larvae and pupae that are left at the end of a table and of which no line tells what became
of them: one answer for all of it, whatever shape it has.

A table that tells how some ended, as a column or a word, would have told it of these too: they are
not known. One that tells of none means the dead by those that it counts no more.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from rounds.bench.plurals import of_stage
from rounds.entries.which_animals import NOT_KNOWN
from rounds.exchange.tables_in.unclear import UnclearTable

# Under what the answers are remembered: of all, or of some alone, which goes before that.
LEFT, OF_EGGS, OF_OTHERS = "left", "eggs left", "larvae and pupae left"
DEAD, LIVING = "dead", "living"
ANSWERS = (DEAD, NOT_KNOWN, LIVING)
LEFT_ANSWERS = (LEFT, OF_EGGS, OF_OTHERS)
STAGES_LEFT = ("egg", "larva", "pupa")
MAX_NAMED = 5  # broods that are named


@dataclass
class LeftOver:
    """How many are left in a table, and what they are taken for.

    Attributes:
        answers: what the keeper said, by what it is about.
        tells_ends: whether the table tells of any how they died, left or lived on.
        numbers: how many of each stage are left, by brood.

    Raises:
        UnclearTable: what was said is none of the answers.
    """

    answers: Mapping[str, str] = field(default_factory=dict)
    tells_ends: bool = False
    numbers: dict[str, Counter[str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Refuse what is no answer."""
        for about in LEFT_ANSWERS:
            if about in self.answers and self.answers[about] not in ANSWERS:
                raise self._asked(about, "those that are left")

    @property
    def usual(self) -> str:
        """What they are taken for where the keeper says nothing."""
        return NOT_KNOWN if self.tells_ends else DEAD

    def taken_for(self, stage: str) -> str:
        """What those of a stage are taken for: ``dead``, ``not known``, ``living``."""
        return self.answers.get(self._about(stage), self.usual)

    def _about(self, stage: str) -> str:
        """Which answer holds for a stage."""
        own = OF_EGGS if stage == "egg" else OF_OTHERS
        return own if own in self.answers else LEFT

    def add(self, broods: Iterable[str], stage: str, number: int) -> None:
        """So many are left."""
        self.numbers.setdefault(" or ".join(broods), Counter())[stage] += number

    def question(self) -> UnclearTable | None:
        """What is asked of those that are left; None where there are none, or it was said."""
        if all(self._about(stage) in self.answers for stage in self._in_all()):
            return None
        return self._asked(LEFT, f"{_listed(self._in_all())} ({self._broods()})")

    def _asked(self, about: str, whom: str) -> UnclearTable:
        others = [one for one in ANSWERS if one != self.usual]
        return UnclearTable(
            f"of {whom} no line tells what became of them, and {self._why()}: are they {DEAD},"
            f" {NOT_KNOWN} or still {LIVING} when it ends?",
            "names",
            about,
            (self.usual, *others),
            f"say it with --as '{about}={self.usual}' (or {', or '.join(others)})",
            also=LEFT_ANSWERS,
        )

    def _why(self) -> str:
        """By what it is known what is usual."""
        others, none = "what became of others", "of no death and no other fate"
        return f"the table tells {others if self.tells_ends else none}"

    def sentence(self) -> str:
        """How many are left, where, and what they are taken for; empty where none are."""
        in_all = self._in_all()
        if not in_all:
            return ""
        taken: dict[str, Counter[str]] = {}
        for stage, number in in_all.items():
            taken.setdefault(self.taken_for(stage), Counter())[stage] = number
        told = ", ".join(f"{_listed(some)} taken as {words}" for words, some in taken.items())
        about = {self._about(stage): self.taken_for(stage) for stage in in_all}
        why = f", for {self._why()}" if LEFT in about and LEFT not in self.answers else ""
        ways = []
        for name, words in about.items():
            one, other = (answer for answer in ANSWERS if answer != words)
            ways.append(f"--as '{name}={one}' (or {other})")
        return (
            f"no line tells what became of those left in {self._broods()}: {told}{why}; else say"
            f" {' and '.join(ways)}"
        )

    def _in_all(self) -> Counter[str]:
        """How many of each stage are left."""
        found: Counter[str] = Counter()
        for stage in STAGES_LEFT:
            number = sum(one[stage] for one in self.numbers.values())
            if number:
                found[stage] = number
        return found

    def _broods(self) -> str:
        names = list(self.numbers)
        more = f" and {len(names) - MAX_NAMED} more" if len(names) > MAX_NAMED else ""
        return f"{', '.join(names[:MAX_NAMED])}{more}"


def _listed(numbers: Mapping[str, int]) -> str:
    """``5 eggs, 13 larvae and 12 pupae``."""
    *first, last = (of_stage(number, stage) for stage, number in numbers.items())
    return f"{', '.join(first)} and {last}" if first else last
