"""When a moat will be low: from its own depth readings, else from the room's air."""

from __future__ import annotations

import math
from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.measures import Measures
from rounds.bench.plurals import count
from rounds.bench.state import FAILED_STATES, WANTING, Bench, Depth, Moat
from rounds.entries.base import Barrier
from rounds.forecasts.kept_stems import number_setting
from rounds.surroundings.moat import (
    DEFAULT_LOSS_MM_A_DAY,
    LOW_MM,
    Loss,
    days_until,
    limits_until,
    loss_from_air,
    loss_from_readings,
)
from rounds.tallies.warmth import day_of

DRY_MM = 2.0  # an ant wades from here; our estimate, no source
MOST_DAYS = 3_000  # that are told as a date
ANTS_PAST = "ants past it"


class MoatForecast(Struct, frozen=True):
    """How deep a moat is by now, when it will be low and when dry, and how fast it loses water.

    ``low_first`` and ``low_last`` are the limits of ``low_at``: a moat is asked about at the first.
    """

    depth_mm: float
    by_now_mm: float
    low_mm: float
    low_at: datetime | None
    low_first: datetime | None
    low_last: datetime | None
    dry_at: datetime | None
    loss: Loss


def loss_words(loss: Loss, measures: Measures, *, limits: bool = False) -> str:
    """How fast a moat loses water, and what that rests on: ``3.0 mm a day from 5 own readings
    over 12 days``."""
    basis = loss_basis(loss)
    return f"{loss_rate(loss, measures, limits=limits)}{', ' * (basis == 'assumed') or ' '}{basis}"


def loss_rate(loss: Loss, measures: Measures, *, limits: bool = False) -> str:
    """How fast a moat loses water: ``3.0 mm a day (2.4 to 3.7)``."""
    digits = 1 if measures.length == "mm" else 2
    rate, low, high = (
        f"{measures.told(one, 'mm a day'):.{digits}f}"
        for one in (loss.mm_a_day, loss.low, loss.high)
    )
    return f"{rate} {measures.unit('mm a day')}{f' ({low} to {high})' if limits else ''}"


def loss_basis(loss: Loss) -> str:
    """What a loss rests on: ``from 5 own readings over 12 days``."""
    if loss.rests_on == "assumed":
        return "assumed"
    over = f"{loss.over_days:.0f} days" if loss.over_days >= 1.5 else f"{loss.over_days * 24:.0f} h"
    if loss.rests_on == "own readings" and loss.readings:
        return f"from {count(loss.readings, 'own reading')} over {over}"
    return f"from {loss.rests_on}"


def state_at(bench: Bench, depth_mm: float, said: str = "full") -> str:
    """The state of a moat that is so deep: dry at nothing, low from the keeper's mark [mm] down,
    else what was said of it.

    A moat that was called low stays so at any depth.
    """
    if depth_mm <= 0:
        return "dry"
    return "low" if depth_mm <= number_setting(bench, "moat low", LOW_MM, 0, 100) else said


def lowering(bench: Bench, moat: Moat, now: datetime) -> MoatForecast | None:
    """None where its depth was never read, or is not known since it was filled; or where a later
    look saw how it stood when it should have been dry."""
    low_mm = number_setting(bench, "moat low", LOW_MM, 0, 100)
    last = _last_depth(moat, low_mm) if moat.depths else None
    if last is None:
        return None
    loss = _loss(bench, moat)
    gone = max(0.0, (now - last.at) / timedelta(days=1))
    by_now = max(0.0, last.mm - loss.mm_a_day * gone)
    low_at, dry_at = (_when(last.at, last.mm, mark, loss) for mark in (low_mm, DRY_MM))
    if moat.seen is not None and dry_at is not None and max(last.at, dry_at) < moat.seen:
        return None
    first, end = (
        None if span is None else last.at + span for span in _limits(last.mm, low_mm, loss)
    )
    return MoatForecast(last.mm, by_now, low_mm, low_at, first, end, dry_at, loss)


class BarrierStanding(Struct, frozen=True):
    """How a barrier stands now: what the last look saw, or what is left of its water by now.

    Args:
        state: as last seen (full, sound, low, dry, dirty, bridged, breached, or that ants were past
            it); low or dry where its water is lost by now; empty if never seen.
        depth_mm: how deep its water is by now; None where it was never read.
        is_reckoned: whether that depth is another than the one last read.
        is_seen: whether the state is that of the last look.
    """

    state: str = ""
    depth_mm: float | None = None
    is_reckoned: bool = False
    is_seen: bool = True

    @property
    def has_failed(self) -> bool:
        """Whether ants can pass it."""
        return self.state in FAILED_STATES or self.state == ANTS_PAST

    @property
    def wants(self) -> bool:
        """Whether it wants a hand, failed or not."""
        return self.state in WANTING or self.has_failed


def barrier_standing(bench: Bench, barrier: Barrier, moat: Moat, now: datetime) -> BarrierStanding:
    """The one rule of how a barrier stands, for lists, map, cards, questions and scripts alike.

    That ants can pass holds until the next look; what a look saw otherwise holds until the
    forecast of its water says worse.
    """
    seen = ANTS_PAST if moat.ants_above else moat.state
    water = lowering(bench, moat, now) if barrier == "moat" else None
    if water is None:
        return BarrierStanding(seen)
    reckoned = round(water.by_now_mm) != round(water.depth_mm)
    depth = math.floor(water.by_now_mm) if reckoned else water.depth_mm
    standing, state = BarrierStanding(seen), seen
    if reckoned and water.by_now_mm <= DRY_MM and not standing.has_failed:
        state = "dry"
    elif water.by_now_mm <= water.low_mm and not standing.wants:
        state = "low"
    return BarrierStanding(state, depth, reckoned, state == seen)


def full_mm(moat: Moat) -> float | None:
    """How deep it is when full, in mm: the most it held lately when topped up or called full; None
    where neither was read."""
    return max((depth.mm for depth in moat.depths if depth.filled or depth.full), default=None)


class MoatDuration(Struct, frozen=True):
    """How long a moat lasts once it is full: at least until low, at least until dry, and likeliest
    until dry [None: it loses nothing].

    At least is the first of the limits that it has on the bench too: nobody is there to look.
    """

    full_mm: float
    low_first: timedelta | None
    dry_first: timedelta | None
    until_dry: timedelta | None
    loss: Loss


def lasting(bench: Bench, moat: Moat) -> MoatDuration | None:
    """None where nobody read how deep it is when full: a depth read in between, or of a dirty one,
    is none of full."""
    full, loss = full_mm(moat), _loss(bench, moat)
    if full is None:
        return None
    low_mm = number_setting(bench, "moat low", LOW_MM, 0, 100)
    low_first, dry_first = (_limits(full, mark, loss)[0] for mark in (low_mm, DRY_MM))
    return MoatDuration(full, low_first, dry_first, _span(full, DRY_MM, loss), loss)


def _last_depth(moat: Moat, low_mm: float) -> Depth | None:
    """The last depth read; a later look that found it full means as deep as it was last filled,
    which nobody knows where it was only ever read low."""
    last = moat.depths[-1]
    if moat.full is None or moat.full < last.at:
        return last
    if moat.full == last.at and (last.filled or last.full or last.mm > low_mm):
        return last
    deep = [depth for depth in moat.depths if depth.mm > low_mm]
    deepest = max((depth.mm for depth in deep), default=None)
    full = next((depth.mm for depth in reversed(deep) if depth.filled), deepest)
    return None if full is None else Depth(moat.full, max(full, last.mm), filled=True)


def _when(read: datetime, depth: float, mark: float, loss: Loss) -> datetime | None:
    span = _span(depth, mark, loss)
    return None if span is None else read + span


def _limits(depth: float, mark: float, loss: Loss) -> tuple[timedelta | None, timedelta | None]:
    first, last = limits_until(depth_mm=depth, low_mm=mark, loss=loss) or (None, None)
    return _days(first), _days(last)


def _span(depth: float, mark: float, loss: Loss) -> timedelta | None:
    return _days(
        days_until(depth_mm=depth, low_mm=min(mark, 500), loss_mm_a_day=min(loss.mm_a_day, 100))
    )


def _days(number: float | None) -> timedelta | None:
    return None if number is None or number > MOST_DAYS else timedelta(days=number)


def _loss(bench: Bench, moat: Moat) -> Loss:
    own = loss_from_readings(
        [(day_of(depth.at), depth.mm) for depth in moat.depths],
        [day_of(depth.at) for depth in moat.depths if depth.anew],
    )
    if own is not None:
        return own
    for reading in reversed(bench.air.get("", [])):
        if (
            reading.temperature_c is not None
            and reading.humidity_percent
            and 0 <= reading.temperature_c <= 45
        ):
            return loss_from_air(
                temperature_c=reading.temperature_c, humidity_percent=reading.humidity_percent
            )
    return Loss(
        DEFAULT_LOSS_MM_A_DAY, DEFAULT_LOSS_MM_A_DAY / 2, DEFAULT_LOSS_MM_A_DAY * 2, "assumed"
    )
