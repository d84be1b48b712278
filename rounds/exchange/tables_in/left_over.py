"""Eggs, larvae and pupae that are left at the end of a table and of which no line says what became
of them: one answer for all of it, whatever shape it has.

A table that tells how some larvae or pupae ended, or any others, as a column or a word, would have
told it of these too: they are not known. One that tells of none means the dead by those that it
counts no more. Eggs that did not hatch stay where they are, and few write of each that it is dead:
only a table that tells how some eggs ended leaves it open of the others.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Set
from dataclasses import dataclass, field

from rounds.bench.plurals import and_more, in_a_row, of_stage
from rounds.entries.which_animals import NOT_KNOWN
from rounds.exchange.tables_in.unclear import UnclearTable

# Under what the answers are remembered: of all, or of some alone, which goes before that.
LEFT, OF_EGGS, OF_OTHERS = "left", "eggs left", "larvae and pupae left"
DEAD, LIVING = "dead", "living"
ANSWERS = (DEAD, NOT_KNOWN, LIVING)
EACH_AS_USUAL = f"eggs {DEAD} and others {NOT_KNOWN}"  # where the table says ends, but of no egg
LEFT_ANSWERS = (LEFT, OF_EGGS, OF_OTHERS)
STAGES_LEFT = ("egg", "larva", "pupa")
MAX_NAMED = 5  # broods that are named


@dataclass
class LeftOver:
    """How many are left in a table, and what they are taken for.

    Attributes:
        answers: what the keeper said, by what it is about.
        ends_told: of which stages the table says how some died, left or lived on; empty text where
            it does not tell the stage.
        numbers: how many of each stage are left, by brood.

    Raises:
        UnclearTable: what was said is none of the answers.
    """

    answers: Mapping[str, str] = field(default_factory=dict)
    ends_told: Set[str] = frozenset()
    numbers: dict[str, Counter[str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Refuse what is no answer."""
        for about in LEFT_ANSWERS:
            may_be = (*ANSWERS, EACH_AS_USUAL) if about == LEFT else ANSWERS
            if self.answers.get(about, DEAD) not in may_be:
                raise _asked(about, "those that are left", ANSWERS)

    def taken_for(self, stage: str) -> str:
        """What those of a stage are taken for: ``dead``, ``not known``, ``living``."""
        said = self.answers.get(self._about(stage), "")
        if said == EACH_AS_USUAL:
            return DEAD if stage == "egg" else NOT_KNOWN
        return said or self._usual(stage)

    def _usual(self, stage: str) -> str:
        """What they are taken for where the keeper says nothing."""
        told = "egg" in self.ends_told if stage == "egg" else bool(self.ends_told)
        return NOT_KNOWN if told else DEAD

    def _about(self, stage: str) -> str:
        """Which answer holds for a stage."""
        own = _own(stage)
        return own if own in self.answers else LEFT

    def _is_said(self, stage: str) -> bool:
        return self._about(stage) in self.answers

    def add(self, broods: Iterable[str], stage: str, number: int) -> None:
        """So many are left."""
        self.numbers.setdefault(" or ".join(broods), Counter())[stage] += number

    def question(self) -> UnclearTable | None:
        """What is asked of those that are left; None where there are none, or it was said."""
        open_ones = {
            stage: number for stage, number in self._in_all().items() if not self._is_said(stage)
        }
        if not open_ones:
            return None
        usual = {self._usual(stage): None for stage in open_ones}
        first = EACH_AS_USUAL if len(usual) > 1 else next(iter(usual))
        whom = f"{_listed(open_ones)} ({self._broods()})"
        why = self._why(open_ones)
        return _asked(LEFT, whom, dict.fromkeys((first, *ANSWERS)), why)

    def _why(self, stages: Iterable[str]) -> str:
        """By what it is known what is usual of these stages."""
        if not self.ends_told:
            return "the table names no death and no other fate"
        if any(self._usual(stage) == DEAD for stage in stages):
            others = "" if {*stages} == {"egg"} else ", but what became of others"
            return f"the table says of no egg how it ended{others}"
        return "the table says what became of others"

    def sentence(self) -> str:
        """How many are left, where, and what they are taken for; empty where none are."""
        in_all = self._in_all()
        if not in_all:
            return ""
        taken: dict[str, Counter[str]] = {}
        for stage, number in in_all.items():
            taken.setdefault(self.taken_for(stage), Counter())[stage] = number
        told = ", ".join(f"{_listed(some)} taken as {words}" for words, some in taken.items())
        unsaid = [stage for stage in in_all if not self._is_said(stage)]
        why = f", for {self._why(unsaid)}" if unsaid else ""
        differ = {self._about(stage) for stage in in_all} == {LEFT} and len(taken) > 1
        about = {
            _own(stage) if differ else self._about(stage): self.taken_for(stage) for stage in in_all
        }
        ways = []
        for name, words in about.items():
            one, other = (answer for answer in ANSWERS if answer != words)
            ways.append(f"--as '{name}={one}' (or {other})")
        return (
            f"no line says what became of those left in {self._broods()}: {told}{why}; else say"
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
        return ", ".join(names[:MAX_NAMED]) + and_more(len(names), MAX_NAMED)


def _own(stage: str) -> str:
    """Under what an answer about a stage alone is remembered."""
    return OF_EGGS if stage == "egg" else OF_OTHERS


def _asked(about: str, whom: str, answers: Iterable[str], why: str = "") -> UnclearTable:
    """The question what became of some; the first of the answers is the usual one."""
    return UnclearTable(
        f"of {whom} no line says what became of them{why and f', and {why}'}: are they {DEAD},"
        f" {NOT_KNOWN} or still {LIVING} when it ends?",
        "names",
        about,
        tuple(answers),
        also=LEFT_ANSWERS,
    )


def _listed(numbers: Mapping[str, int]) -> str:
    """``5 eggs, 13 larvae and 12 pupae``."""
    return in_a_row(of_stage(number, stage) for stage, number in numbers.items())
