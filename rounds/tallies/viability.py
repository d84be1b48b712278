"""How large a share of a species' eggs hatch."""

from __future__ import annotations

from rounds.bench.codes import members
from rounds.bench.state import Bench

VIABLE_SHARE = 0.8  # of eggs that hatch where the bench's own do not tell; our estimate, no source
VIABLE_WEIGHS = 10.0  # eggs that the usual share counts for; our estimate


def viable_share(bench: Bench, taxon: str) -> float:
    """The share of a species' eggs known of that hatched here, drawn toward the usual share while
    they are few."""
    hatched = ended = 0
    for code, tally in bench.tallies.items():
        if bench.taxon_of(code) in (taxon, *members(taxon)) and code in bench.broods:
            died = tally.fates.get("died", {}).get("egg", 0)
            out = sum(
                stage_completion.number
                for stage_completion in bench.passed
                if stage_completion.brood == code
                and stage_completion.stage == "egg"
                and not stage_completion.by_hatching
            )
            hatched, ended = hatched + out, ended + out + died
    return (VIABLE_SHARE * VIABLE_WEIGHS + hatched) / (VIABLE_WEIGHS + ended)
