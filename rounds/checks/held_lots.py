"""Kept stems as their checks see them: which lot, when it was looked under, which may have
hatched."""

from __future__ import annotations

from datetime import UTC, datetime

from rounds.bench.folding.kept_stems import PERHAPS, SHOWN
from rounds.bench.kept_lots import told
from rounds.bench.state import KeptLot
from rounds.checks.question import AnswerContext
from rounds.checks.round_clock import utc
from rounds.forecasts.foresight import Forecasts


def has_shown(held: KeptLot) -> bool:
    """Whether frass was seen under a lot, or under one of several that it may be."""
    return held.frass in SHOWN or held.frass == PERHAPS


def lot_words(lots: list[KeptLot], lot: KeptLot) -> str:
    """A kept lot by its digit, where there are several, else by its plant."""
    return f"lot {lot.number}, {told(lot)}" if len(lots) > 1 else f"kept {lot.plant}"


def looked_under(held: KeptLot) -> datetime:
    """When somebody last looked for frass under a lot, else when it was taken out."""
    return max(
        [
            utc(held.taken_out),
            *map(utc, held.frass_looks[-1:]),
            *([utc(held.frass_unknown)] if held.frass_unknown else []),
        ]
    )


def foresight_of(context: AnswerContext) -> Forecasts:
    """The desk's own, where it has one."""
    return context.foresight or Forecasts(context.bench, context.now.tzinfo or UTC)
