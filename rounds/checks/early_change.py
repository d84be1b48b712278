"""A hatch, moult, pupation or emergence that is seen long before any can come: asked about once, in
words and keys alike, for a slip is likelier."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from math import inf
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any, NamedTuple

from rounds.bench.folding.signs import BEFORE_PUPATION
from rounds.bench.folding.stage_completions import hatch_of
from rounds.bench.folding.unsure import meant
from rounds.bench.plurals import PLURALS
from rounds.bench.state import Bench, Container, Lot
from rounds.checks.round_clock import utc
from rounds.entries.base import Entry, Stage

if TYPE_CHECKING:
    from rounds.forecasts.foresight import Forecasts
    from rounds.forecasts.stage_ends import Change, ComingChange

# A part of the time that the fastest of them take by the forecast; our estimate. Of eggs and pupae
# few species stray from it; moults and pupation rest on shares of larval life.
TOO_EARLY: dict[Change, float] = {"hatch": 0.5, "moult": 0.33, "pupation": 0.33, "emergence": 0.5}
# Of several instars together, whose shares err less beside one another; our estimate.
SEVERAL = 0.5
SECONDS_A_DAY = 86_400
LEAST_PUPA_DAYS = 1.0  # no pupa of any species is as short: common practice, no source
LAST_OF_ALL = 99  # no larva has so many instars
_ENDS: dict[Stage, Change] = {"egg": "hatch", "larva": "pupation", "pupa": "emergence"}


def change_of(kind: type[Entry], sign: str = "") -> Change | None:
    """The change that a kind of entry tells, or that a sign goes just before; None where it tells
    none."""
    if kind.moults:
        return "moult"
    if sign in BEFORE_PUPATION:
        return "pupation"
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
    change = change_of(kind, str(fields.get("sign") or ""))
    container = bench.at(str(fields.get("container", "")))
    if change is None or container is None or fields.get("sure"):
        return ""
    stage = kind.grows_from or "larva"
    said = SimpleNamespace(
        brood=fields.get("brood") or "",
        among=tuple(fields.get("among") or ()),
        instar=fields.get("instar") or 0,
        moults=kind.moults,
        number=fields.get("number") or 1,
        grows_from=stage,
        takes=False,
    )
    changes = [one for one in foresight.coming(container) if one.change == change]
    coming = {(one.brood, one.instar): one for one in changes}
    instar = said.instar if kind.moults else 0
    spans = [
        _shortest(foresight, container, lot, coming.get((lot.brood, lot.instar)), instar, at)
        for lot in meant(container, said)
    ]
    known = [span for span in spans if span is not None]
    if not known or len(known) < len(spans) or any(span.gone_part >= 1 for span in known):
        return ""
    span = max(known, key=lambda one: one.gone_part)
    to = f" to L{instar}" if kind.moults and span.wanted == SEVERAL else ""
    return (
        f"{_days(span.gone)} after they {span.began}, and the first {change}{to} of these"
        f" {PLURALS[stage]} is not expected before {_days(span.least)}"
    )


class EarlySpan(NamedTuple):
    """How long ago something began at the earliest, and how long what follows takes at the least
    [days]; ``wanted`` is the part of that without which it is too early."""

    gone: float
    least: float
    began: str
    wanted: float

    @property
    def gone_part(self) -> float:
        """The time that is gone as a part of what is wanted; 1 and more is enough."""
        return self.gone / (self.wanted * self.least) if self.least > 0 else inf


def _shortest(
    foresight: Forecasts,
    container: Container,
    lot: Lot,
    coming: ComingChange | None,
    instar: int,
    at: datetime,
) -> EarlySpan | None:
    """The span of which the least is gone: since they began their stage or instar, and of larvae
    since their hatch, so that one jump too early is no ground for the next; None if that is not
    known.

    Args:
        coming: the next change of that kind.
        instar: that they are said to have moulted to; 0 for another change.
    """
    earliest = coming.not_before if coming else None
    if coming is not None and lot.began_before:
        return _since_they_came(foresight, container, lot, instar, at)
    if coming is None or earliest is None or not coming.begun_known:
        return None
    # put on record with what came of them, as young larvae on kept stems
    if lot.came is not None and utc(lot.came) >= utc(at):
        return None
    wanted = TOO_EARLY[coming.change]
    # by looks alone: what a forecast tells of their beginning is no ground to doubt what was seen
    seen_from = coming.seen_from or coming.begun_from
    earliest -= coming.begun_from - seen_from
    between = foresight.instars(lot, lot.instar + 1, instar) if lot.instar else ()
    earliest = foresight.through(container, lot, earliest, between)
    spans = [_span(seen_from, earliest, at, "began", SEVERAL if between else wanted)]
    if lot.stage == "pupa" and lot.since is not None and spans[0] is not None:
        # it may have been one since the look before, but was said to become one only then
        least = spans[0].least
        gone = (utc(at) - utc(lot.since)).total_seconds() / SECONDS_A_DAY
        spans.append(
            EarlySpan(gone, least, "pupated", LEAST_PUPA_DAYS / max(least, LEAST_PUPA_DAYS))
        )
    hatched = hatch_of(foresight.bench, lot) if lot.stage == "larva" and not coming.own else None
    if hatched is not None:
        stages = foresight.instars(lot, 1, instar) if instar else ("larva",)
        earliest = foresight.through(container, lot, utc(hatched), stages)
        one_instar = instar and len(stages) < 2
        spans.append(_span(hatched, earliest, at, "hatched", wanted if one_instar else SEVERAL))
    return min((span for span in spans if span), key=lambda one: one.gone_part, default=None)


def _since_they_came(
    foresight: Forecasts, container: Container, lot: Lot, instar: int, at: datetime
) -> EarlySpan | None:
    """The span of larvae that came in with their instar begun: it may have ended at once, but those
    between it and the last, or the one that they are said to be in, take their time."""
    if lot.since is None or not lot.instar:
        return None
    between = foresight.instars(lot, lot.instar + 1, instar or LAST_OF_ALL)
    came = utc(lot.since)
    earliest = foresight.through(container, lot, came, between)
    return _span(came, earliest, at, f"came in as L{lot.instar}", SEVERAL) if between else None


def _span(
    begun: datetime, earliest: datetime | None, at: datetime, began: str, wanted: float
) -> EarlySpan | None:
    if earliest is None:
        return None
    begun = utc(begun)
    gone, least = utc(at) - begun, utc(earliest) - begun
    return EarlySpan(
        gone.total_seconds() / SECONDS_A_DAY, least.total_seconds() / SECONDS_A_DAY, began, wanted
    )


def _days(days: float) -> str:
    return f"{days * 24:.0f} h" if days < 2 else f"{days:.1f} days"
