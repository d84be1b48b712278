"""What became of some, and how many are left: ``E2 hatched 10, 2 left``, ``R1 7 left``."""

from __future__ import annotations

from typing import Final

from rounds import late
from rounds.bench.plurals import PLURALS, count
from rounds.bench.state import Container
from rounds.entries.base import Stage
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.short_forms import ShortForm
from rounds.entries.phrase.synonyms import digits_of

_LEFT = late.of_words(
    r"(?:(?:(?P<first>\w+) (?:eggs? |larvae? |pupae? )?(?P<did>hatched|pupated|emerged)"
    r"|(?P<verb>hatched|pupated|emerged) (?P<number>\w+)))"
    r",? (?:and )?(?P<left>\w+) (?:eggs? |larvae? |pupae? |more )?(?P<word>left|to go|remaining)"
)
_ALIVE = late.of_words(r"(?P<left>\w+) (?:still )?(?P<word>left|alive|remaining|there)")
_OF: Final[dict[str, Stage]] = {"hatched": "egg", "pupated": "larva", "emerged": "pupa"}


def so_many_left(reader: Reader, form: ShortForm, container: Container) -> list[str]:
    """It without those that are left, where the bench has as many; nothing of any other line.

    Raises:
        PhraseProblem: it has more or fewer.
    """
    if (alone := _ALIVE.fullmatch(form.said)) and digits_of(alone["left"]):
        stages = {lot.stage for lot in container.lots}
        one = stages.pop() if len(stages) == 1 else "adult"  # of adults those that left are gone
        return ["counted", digits_of(alone["left"]), PLURALS[one]] if one != "adult" else []
    told = _LEFT.fullmatch(form.said)
    if told is None:
        return []
    number, left = (int(digits_of(told[name] or "") or 0) for name in ("number", "left"))
    number = number or int(digits_of(told["first"] or "") or 0)
    verb = told["did"] or told["verb"]
    there = container.count(_OF[verb])
    if number and left and number <= there and there != number + left:
        raise PhraseProblem(
            f"{form.code} holds {count(there, _OF[verb])} on record, of which {number} {verb} leave"
            f" {there - number}, not {left}; as: {form.code} {verb} {number}; or first"
            f" {form.code} counted {number + left} {PLURALS[_OF[verb]]}"
        )
    return [verb, str(number)] if number and left else []
