"""Whose brood a brood can be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rounds.bench.state import Bench
from rounds.bench.taxon_names import are_two

if TYPE_CHECKING:
    from rounds.entries.arrivals import BroodBegun


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
