"""How many there are by now, said without a count: ``R1 7 left``, ``E2 hatched 10, 2 left``, ``R2 1
more pupa``, ``E5 2 more eggs``."""

from __future__ import annotations

from typing import Final

from rounds import late
from rounds.bench.plurals import PLURALS, count
from rounds.bench.state import Container
from rounds.entries.base import Stage
from rounds.entries.losses import Leaving
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.short_forms import ShortForm
from rounds.entries.phrase.synonyms import MEANT, digits_of
from rounds.entries.phrase.verbs import VERBS, lays
from rounds.entries.registry import KIND_BY_NAME

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


_MORE = late.of_words(
    r"(?:counted )?(?P<number>\w+) (?P<word>more)"
    r" (?P<kind>eggs?|larvae?|caterpillars?|pupae?|adults?|l(?P<instar>[1-9]))(?P<behind> .*)?"
)


def more_counted(reader: Reader, form: ShortForm, container: Container) -> list[str]:
    """It as pupated or emerged, or as a count of all that are there then; nothing of any other
    line. Beside females and kept stems eggs are found by a search."""
    more = _MORE.fullmatch(form.said)
    seen = int(digits_of(more["number"]) or 0) if more else 0
    if more is None or not seen:
        return []
    stage, instar = _stage(more["kind"]), int(more["instar"] or 0)
    behind = (more["behind"] or "").split()
    if behind and _leaves(behind[0].rstrip(",")):
        return []  # '1 more larva dead'
    becomes = _BECOMES.get(stage)
    if becomes and container.count(becomes[0]):
        return [becomes[1], str(seen), "more", *behind]
    lots = container.lots_of(stage)
    there = sum(lot.number for lot in lots if not instar or lot.instar == instar)
    laid_here = lays(container) or container.held
    if not there or len({lot.brood for lot in lots}) > 1 or (stage == "egg" and laid_here):
        return []
    return ["counted", str(there + seen), more["kind"], *behind]


def _leaves(word: str) -> bool:
    """Whether a word says that animals leave: they died, escaped, were let go."""
    kind = VERBS.get(word) or MEANT.get(word, ("",))[0]
    return kind in KIND_BY_NAME and issubclass(KIND_BY_NAME[kind], Leaving)


_BECOMES: dict[Stage, tuple[Stage, str]] = {
    "pupa": ("larva", "pupated"),
    "adult": ("pupa", "emerged"),
}


def _stage(kind: str) -> Stage:
    stages: tuple[Stage, ...] = ("egg", "pupa", "adult")
    return next((stage for stage in stages if kind.startswith(stage)), "larva")
