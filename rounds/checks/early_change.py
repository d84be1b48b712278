"""A hatch, moult, pupation or emergence that is seen long before any can come: asked about once, in
words and keys alike, for a slip is likelier."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from types import SimpleNamespace
from typing import Any

from rounds.bench.folding.unsure import meant
from rounds.bench.plurals import PLURALS
from rounds.bench.state import Bench, Lot
from rounds.checks.round_clock import utc
from rounds.entries.base import Entry, Stage
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.stage_ends import Change, ComingChange

# A part of the time that the fastest of them take by the forecast; our estimate. Of eggs and pupae
# few species stray from it; moults and pupation rest on shares of larval life.
TOO_EARLY: dict[Change, float] = {"hatch": 0.5, "moult": 0.33, "pupation": 0.33, "emergence": 0.5}
_ENDS: dict[Stage, Change] = {"egg": "hatch", "larva": "pupation", "pupa": "emergence"}


def change_of(kind: type[Entry]) -> Change | None:
    """The change that a kind of entry tells; None where it tells none."""
    if kind.moults:
        return "moult"
    return _ENDS.get(kind.grows_from) if kind.grows_from and kind.grows_to else None


def too_early_to_change(
    bench: Bench, kind: type[Entry], fields: Mapping[str, Any], at: datetime, foresight: Forecasts
) -> str:
    """That none of the animals meant can have changed yet, by how much; empty where some can, or
    nobody knows.

    Args:
        bench: as it stood before the change.
        fields: those of the entry.
        at: when the change was seen.
    """
    change = change_of(kind)
    container = bench.at(str(fields.get("container", "")))
    if change is None or container is None or fields.get("sure"):
        return ""
    simple_namespace = SimpleNamespace(
        brood=fields.get("brood") or "",
        among=tuple(fields.get("among") or ()),
        instar=fields.get("instar") or 0,
        moults=kind.moults,
        number=fields.get("number") or 1,
        grows_from=kind.grows_from,
        takes=False,
    )
    lots = meant(container, simple_namespace)
    coming = {
        (one.brood, one.instar): one for one in foresight.coming(container) if one.change == change
    }
    spans = [_span(coming.get((lot.brood, lot.instar)), lot, at) for lot in lots]
    known = [span for span in spans if span is not None]
    if (
        not known
        or len(known) < len(spans)
        or any(gone >= TOO_EARLY[change] * least for gone, least in known)
    ):
        return ""
    gone, least = max(known, key=lambda one: one[0] / one[1])
    who = PLURALS[kind.grows_from or "egg"]
    return (
        f"{_days(gone)} after they began, and the first {change} of these {who} is not expected"
        f" before {_days(least)}"
    )


def _span(coming: ComingChange | None, lot: Lot, at: datetime) -> tuple[float, float] | None:
    """How long ago a stage began at the earliest, and how long it takes at the least [days]; None
    if that is not known."""
    earliest = coming.not_before if coming else None
    if coming is None or earliest is None or not coming.begun_known or lot.began_before:
        return None
    if lot.came is not None and utc(lot.came) >= utc(
        at
    ):  # put on record with what came of them, as young larvae on kept stems
        return None
    begun = utc(coming.begun_from)
    return (utc(at) - begun).total_seconds() / 86_400, max(
        0.0, (earliest - begun).total_seconds() / 86_400
    )


def _days(days: float) -> str:
    return f"{days * 24:.0f} h" if days < 2 else f"{days:.1f} days"
