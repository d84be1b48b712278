"""Whose brood a brood can be, and which of the wild it goes back to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rounds.bench.codes import members
from rounds.bench.state import Bench
from rounds.bench.taxon_names import are_two

if TYPE_CHECKING:
    from rounds.entries.arrivals import BroodBegun, FounderIntake


def foreign_mother(bench: Bench, brood: BroodBegun) -> str:
    """What contradicts a brood that is said to be of another species than each of its parents;
    empty where nothing does."""
    parents = [(code, bench.taxon_of(code)) for code in (*brood.mothers, *brood.fathers)]
    known = [(code, taxon) for code, taxon in parents if taxon]
    if not brood.taxon or not known or not all(are_two(brood.taxon, taxon) for _, taxon in known):
        return ""
    code, taxon = known[0]
    return (
        f"{brood.code} is {brood.taxon}, its mother {code} {taxon}: cross it out and say brood"
        f" {brood.code} taxon='{brood.taxon}' mothers= with its own mother, who came in under"
        " another code"
    )


def line_of(bench: Bench, code: str) -> list[FounderIntake]:
    """The wild-caught animals that a founder or brood goes back to by its mothers, nearest first;
    of a brood without mothers those that were taken from the wild under its code."""
    found: dict[str, FounderIntake] = {}
    waiting, seen = list(members(code)), set()
    while waiting:
        one = waiting.pop(0)
        if one in seen:
            continue
        seen.add(one)
        if one in bench.founders:
            found[one] = bench.founders[one]
        elif one in bench.broods and bench.broods[one].mothers:
            waiting.extend(bench.broods[one].mothers)
        else:
            found |= {catch.id: catch for catch in bench.catches.get(one, ())}
    return list(found.values())
