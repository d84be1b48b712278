"""From which stage on an animal was reared: what a pin label calls ex ovo, ex larva, ex pupa."""

from __future__ import annotations

from typing import Literal, NamedTuple

from rounds.bench.codes import members
from rounds.bench.state import STAGES, Bench
from rounds.entries.base import Stage
from rounds.tallies.cohorts import Course

Reared = Literal["", "ex ovo", "ex larva", "ex pupa"]
_WORDS: dict[Stage, Reared] = {"egg": "ex ovo", "larva": "ex larva", "pupa": "ex pupa", "adult": ""}


def first_stages(course: Course) -> dict[str, Stage]:
    """The latest stage in which animals of each brood or founder first came to be counted.

    What was known by hatching alone was laid here all the same. Where some came as eggs and others
    as larvae only the later can be said of any one of them.
    """
    result: dict[str, Stage] = {}
    for entered in course.entered:
        if not entered.by_count:
            came = "egg" if entered.cohort.by_hatching else entered.cohort.stage
            stage = plain_stage(came)
            result[entered.cohort.brood] = max(
                result.get(entered.cohort.brood, stage), stage, key=STAGES.index
            )
    return result


def plain_stage(name: str) -> Stage:
    """The stage of animals by its name, in which a larva's is its instar (``L3``)."""
    return next((stage for stage in STAGES if stage == name), "larva")


def reared(stages: dict[str, Stage], code: str, stage: Stage = "adult") -> Reared:
    """From what an animal of that founder or brood was reared to a stage; empty where it came in
    it, or that is not known.

    Of one of several broods (``W2/A or W3/A``) only the latest can be said.
    """
    came = [
        stages[fromkey] for fromkey in dict.fromkeys((code, *members(code))) if fromkey in stages
    ]
    first = max(came, key=STAGES.index, default=stage)
    return _WORDS[first] if first != stage else ""


class Parents(NamedTuple):
    """All females and males that can be the parents of an animal."""

    mothers: tuple[str, ...]
    fathers: tuple[str, ...]


def parents_of(bench: Bench, code: str) -> Parents:
    """The possible parents of a brood, of one of several broods those of each."""
    begun = [bench.broods[member] for member in members(code) if member in bench.broods]
    mothers = dict.fromkeys(mother for brood in begun for mother in brood.mothers)
    fathers = dict.fromkeys(father for brood in begun for father in brood.fathers)
    return Parents(tuple(mothers), tuple(fathers))
