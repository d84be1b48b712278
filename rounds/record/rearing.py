"""From which stage on an animal was reared: what a pin label calls ex ovo, ex larva, ex pupa."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from rounds.bench.kinds import FounderIntake, Searched, Stocked
from rounds.bench.kinds.base import Entry, Stage
from rounds.bench.state import STAGES, Bench, members

Reared = Literal["", "ex ovo", "ex larva", "ex pupa"]
_WORDS: dict[Stage, Reared] = {"egg": "ex ovo", "larva": "ex larva", "pupa": "ex pupa", "adult": ""}


def first_stages(entries: Iterable[Entry]) -> dict[str, Stage]:
    """The latest stage in which animals of each brood or founder first came to be counted.

    Where some came as eggs and others as larvae only the later can be said of any one of them.
    """
    found: dict[str, Stage] = {}
    for entry in entries:
        if isinstance(entry, FounderIntake):
            code, stage = entry.code, entry.stage
        elif isinstance(entry, Stocked):
            code, stage = entry.brood, entry.stage
        elif isinstance(entry, Searched) and entry.found and entry.brood:
            code, stage = entry.brood, "egg"
        else:
            continue
        known = found.get(code, stage)
        found[code] = max(known, stage, key=STAGES.index)
    return found


def reared(stages: dict[str, Stage], code: str, stage: Stage = "adult") -> Reared:
    """From what an animal of that founder or brood was reared to a stage; empty where it came in it, or that is not known."""
    return _WORDS[stages[code]] if code in stages and stages[code] != stage else ""


def line_of(bench: Bench, code: str) -> list[FounderIntake]:
    """The wild-caught animals that a founder or brood goes back to by its mothers, nearest first."""
    found: dict[str, FounderIntake] = {}
    waiting, seen = list(members(code)), set()
    while waiting:
        one = waiting.pop(0)
        if one in seen:
            continue
        seen.add(one)
        if one in bench.founders:
            found[one] = bench.founders[one]
        elif one in bench.broods:
            waiting.extend(bench.broods[one].mothers)
    return list(found.values())
