"""When the animals of a container will hatch, moult, pupate and emerge."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, time
from math import hypot, inf, sqrt
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.diapause import has_rested
from rounds.bench.folding.stage_completions import A_LOOK_BEFORE, begun
from rounds.bench.instants import FIRST_YEAR, LAST_YEAR
from rounds.bench.plurals import PLURALS, count, percent
from rounds.bench.state import Bench, Container, Lot
from rounds.bench.thermal_needs import ThermalNeed, instars_of, known_need
from rounds.biology.distributions import normal_quantile, normal_share
from rounds.biology.forecast import HeatTrace, StageForecast, forecast
from rounds.biology.thermal_constants import Z90
from rounds.biology.thermal_time import LEAST_HEAT, MOST_HEAT
from rounds.forecasts.needs import LONGEST_STAGE
from rounds.forecasts.warmth import PlaceTemperatures
from rounds.tallies.warmth import day_of

Change = Literal["hatch", "moult", "pupation", "emergence"]
# How long the first instar, each between, and the last take beside one another: medians over the
# four species with published lines of every instar in biology/published_lines.py.
INSTARS_TAKE = (1.0, 0.85, 2.2)
# How far such a share is off, as a standard deviation of the logarithm; measured on the same four
# (tests/calibration/species.py).
SHARE_VARIES = 0.28
# How far an instar before the last is off that is told from any species' larvae, as measured on the
# same four: less than larval life itself, for it is the last instar that makes larvae slow.
INSTAR_VARIES = 0.32
# Larvae that take longer than any species' take it in their last instar: how far the two errors go
# together, on the same four (tests/calibration/species.py).
LAST_MAKES_SLOW = 0.9
MOST_PASSED = 0.95  # of those that should have come by a look; what is left is overdue
NONE_PASSED = 1e-9  # a share that is told as none
EARLIEST_DAY, LATEST_DAY = (
    day_of(datetime(year, 1, 1, tzinfo=UTC)) for year in (FIRST_YEAR, LAST_YEAR + 1)
)
CHANGES: dict[str, Change] = {"egg": "hatch", "pupa": "emergence"}


class ComingChange(Struct, frozen=True):
    """A change that is coming: to how many of which brood, when, and what that rests on.

    All instants are in UTC, of those that are left by the last look; ``first``, ``half`` and
    ``last`` are of all of them, ``low`` and ``high`` bound one animal with 90 %; the first comes
    after ``not_before`` in 95 of 100. ``overdue`` says that nearly all should have come by then,
    and that the date is as of living ones; ``last_of_all`` is the last before that look was held
    against it.
    ``why_not`` says why no date can be given. Where they came in with their stage begun
    (``begun_known`` is false), they may have begun it as long before as it takes. ``moved`` says
    that the warmth before is that of where they stood then. ``own`` says who gave the date where it
    is the keeper's, ``beyond`` that it was colder or warmer than the constants were tested at;
    ``seen_from`` since when they may have begun their stage by looks alone.
    """

    where: str
    change: Change
    brood: str
    number: int
    instar: int
    begun_from: datetime
    begun_to: datetime
    first: datetime | None = None
    half: datetime | None = None
    last: datetime | None = None
    low: datetime | None = None
    high: datetime | None = None
    need: ThermalNeed | None = None
    degree_days: float = 0.0
    gathered_to: datetime | None = None
    warmth: str = ""
    holes: tuple[tuple[datetime, datetime], ...] = ()
    why_not: str = ""
    begun_known: bool = True
    moved: bool = False
    not_before: datetime | None = None
    own: str = ""
    beyond: str = ""
    last_of_all: datetime | None = None
    overdue: bool = False
    seen_from: datetime | None = None


def instar_share(instar: int, instars: int, own: tuple[float, ...] = ()) -> float:
    """The share of larval life that an instar takes: its own, where those of the species are known,
    else as in the species with published lines of every instar (``INSTARS_TAKE``)."""
    if len(own) == instars:
        return own[min(max(1, instar), instars) - 1]
    first, between, last = INSTARS_TAKE
    takes = last if instar >= instars else first if instar == 1 else between
    return takes / (last + (first + between * (instars - 2) if instars > 1 else 0.0))


def left_share(instar: int, instars: int, own: tuple[float, ...] = ()) -> float:
    """The share of larval life from the beginning of an instar on; one past the usual last is taken
    as the last."""
    return sum(
        instar_share(one, instars, own) for one in range(min(max(1, instar), instars), instars + 1)
    )


def scaled(need: ThermalNeed | None, share: float, words: str) -> ThermalNeed | None:
    """What is left of a stage up to its end; the less is left, the less sure is its share."""
    if need is None:
        return None
    varies = _share_varies(need, share)
    together = LAST_MAKES_SLOW if need.whose == "any" else 0.0
    shorter, longer = (
        sqrt(side**2 + varies**2 + 2 * together * side * varies)
        for side in (need.uncertainty, need.above)
    )
    return _part(need, share, shorter, longer, words)


def rest_of(larva: ThermalNeed | None, instar: int, instars: int) -> ThermalNeed | None:
    """What is left of larval life from the beginning of an instar on."""
    if larva is None:
        return None
    share = left_share(instar, instars, larva.shares)
    words = (
        f"{percent(share)} of it left from L{instar} on" if instar > 1 else "the whole larval life"
    )
    return scaled(larva, share, words)


def instar_of(larva: ThermalNeed | None, instar: int, instars: int) -> ThermalNeed | None:
    """An instar as a part of larval life; one before the last is off by no more than where nothing
    is known of the species (``INSTAR_VARIES``)."""
    if larva is None or instar >= instars:
        return rest_of(larva, instar, instars)
    share = instar_share(instar, instars, larva.shares)
    varies = _share_varies(larva, share)
    shorter, longer = (
        min(hypot(side, varies), INSTAR_VARIES) for side in (larva.uncertainty, larva.above)
    )
    return _part(larva, share, shorter, longer, f"L{instar} taken as {percent(share)} of it")


def need_of(bench: Bench, taxon: str, stage: str) -> ThermalNeed | None:
    """What is known of a stage or instar of a species before any own brood; an instar of which
    nothing is known by itself is its usual share of larval life."""
    known = known_need(bench, taxon, stage)
    instars = instars_of(bench, taxon)
    instar = int(stage[1:]) if stage[:1] == "L" and stage[1:].isdigit() else 0
    if known is not None or not 0 < instar <= instars:
        return known
    larva = known_need(bench, taxon, "larva")
    return instar_of(larva, instar, instars)


def _share_varies(need: ThermalNeed, share: float) -> float:
    return 0.0 if need.shares else SHARE_VARIES * sqrt(max(0.0, 1 - share))


def _part(
    need: ThermalNeed, share: float, shorter: float, longer: float, words: str
) -> ThermalNeed:
    return replace(
        need,
        constant_dd=min(MOST_HEAT, max(LEAST_HEAT, need.constant_dd * share)),
        uncertainty=shorter,
        longer=longer,
        words=f"{need.words}; {words}",
        up_to=inf,
    )


def begun_within(
    bench: Bench, lot: Lot, fallback: datetime, not_before: datetime | None
) -> tuple[datetime, datetime]:
    """Between when animals began their stage: between two looks, and not before they can have ended
    the one before; never told surer than a look each round tells it."""
    since, until = begun(bench, lot, fallback)
    return (
        (since, until)
        if not_before is None
        else (max(since, min(not_before, until - A_LOOK_BEFORE)), until)
    )


def end_of_stage(
    need: ThermalNeed,
    trace: HeatTrace,
    *,
    begun_from: float,
    begun_to: float,
    number: int,
    foretell: Callable[..., StageForecast] = forecast,
) -> StageForecast:
    """When so many animals that began a stage between two days end it, by all that is known of what
    it needs; ``foretell`` is asked as ``forecast``."""
    return foretell(
        trace,
        begun_from=begun_from,
        begun_to=begun_to,
        constant_dd=need.constant_dd,
        spread=need.spread,
        uncertainty=need.uncertainty,
        longer=need.longer,
        number=number,
    )


def coming_change(
    bench: Bench,
    container: Container,
    lot: Lot,
    change: Change,
    need: ThermalNeed | None,
    trace: HeatTrace | None,
    warmth: PlaceTemperatures,
    stage_dd: float | None = None,
    foretell: Callable[..., StageForecast] = forecast,
    not_begun_before: datetime | None = None,
) -> ComingChange:
    """One change of one lot; without a need it says why no date can be given.

    Args:
        trace: the heat along where they stood, above the need's threshold.
        stage_dd: degree-days of the stage or instar that they are in, where that is not the whole
            need [C day].
        foretell: is asked as ``forecast``, whose answers it may remember.
        not_begun_before: when they can have ended the stage before at the earliest.
    """
    since, until = begun_within(bench, lot, container.since, not_begun_before)
    if lot.began_before and need is not None and trace is not None:
        came = day_of(lot.since or until)
        earliest = trace.day_of(trace.heat_at(came) - (stage_dd or need.constant_dd))
        since = min(since, instant_of(earliest if earliest is not None else came) or since)
    taxon = bench.taxon_of(lot.brood)
    plain = ComingChange(
        container.code,
        change,
        lot.brood,
        lot.number,
        lot.instar,
        since,
        until,
        begun_known=not lot.began_before,
        moved=bool(lot.stays),
        seen_from=min(since, begun(bench, lot, container.since)[0]),
    )
    if has_rested(bench, container, lot):
        return replace(
            plain,
            why_not=(
                "they have wintered: warmth since they began says nothing; look for the signs of"
                " the change"
            ),
        )
    if bench.newest is not None and bench.newest - until > LONGEST_STAGE:
        years = (bench.newest - until).days // 365
        return replace(
            plain,
            why_not=(
                f"on record they have been {PLURALS[lot.stage]} for {count(years, 'year')}: correct"
                " their date, or say what became of them"
            ),
        )
    if need is None or trace is None:
        stage = {
            "hatch": "egg",
            "moult": f"L{lot.instar or 1}",
            "pupation": "larva",
            "emergence": "pupa",
        }[change]
        return replace(
            plain,
            why_not=(
                f"nothing known of how much warmth {taxon or lot.brood} needs as {stage};"
                " 'constants' says it"
            ),
        )
    stage_forecast = end_of_stage(
        need,
        trace,
        begun_from=day_of(since),
        begun_to=day_of(until),
        number=lot.number,
        foretell=foretell,
    )
    if stage_forecast.half is None:
        return replace(
            plain,
            need=need,
            warmth=warmth.used,
            why_not=(
                f"too warm to develop: {need.thresholds.words}"
                if need.upper_c is not None and warmth.readings[-1][1] > need.upper_c
                else f"too cold to develop: under {round(need.lower_c, 1):g} C"
            ),
        )
    return _dated(plain, stage_forecast, need, trace, warmth)


def of_those_left(
    coming: ComingChange,
    seen: datetime,
    living: datetime | None,
    came: datetime | None = None,
) -> ComingChange:
    """The same change of those that were seen not to have come to it: all that is told is read from
    what lies after that look, of a normal on either side of half, at the share at which it stood
    of all. Once nineteen in twenty should have come, or after ``living``, from when on they are
    rather taken for such as never come, it moves no further: they are overdue.

    Args:
        came: when they came in with their stage begun; None where it was seen to begin. That they
            were in it then is why they are taken to have begun it at any time of as long as it
            takes, so it is no look besides: half stays, and of the half before it all comes later.
    """
    low, half, high = coming.low, coming.half, coming.high
    if low is None or half is None or high is None or not low < half < high:
        return coming
    middle, before, after = half, half - low, high - half

    def of_normal(at: datetime) -> float:
        return normal_share(Z90 * ((at - middle) / (before if at < middle else after)))

    none = 0.0 if came is None else min(of_normal(came), 0.5 - NONE_PASSED)

    passed = of_normal(seen if living is None else min(seen, living))
    passed = passed if passed > 0.5 else max(0.0, (passed - none) / (1 - 2 * none))
    overdue = passed > MOST_PASSED or (living is not None and living < seen)
    if passed < NONE_PASSED and not none:
        return replace(coming, overdue=overdue)
    passed = min(passed, MOST_PASSED)

    def left(at: datetime | None) -> datetime | None:
        if at is None:
            return None
        share = passed + (1 - passed) * min(max(of_normal(at), NONE_PASSED), 1 - NONE_PASSED)
        share = share if share > 0.5 else none + (1 - 2 * none) * share
        deviate = normal_quantile(share) / Z90
        return middle + deviate * (before if deviate < 0 else after)

    return replace(
        coming,
        first=left(coming.first),
        half=left(half),
        last=left(coming.last),
        last_of_all=coming.last,
        low=left(low),
        high=left(high),
        not_before=left(coming.not_before),
        overdue=overdue,
    )


def later_of(one: ComingChange, other: ComingChange) -> ComingChange:
    """Of two forecasts of one change what each tells later, where one wait speaks for either."""
    if one.half is None or other.half is None:
        return one

    def later(this: datetime | None, that: datetime | None) -> datetime | None:
        return None if this is None or that is None else max(this, that)

    return replace(
        one if one.half > other.half else other,
        first=later(one.first, other.first),
        half=later(one.half, other.half),
        last=later(one.last, other.last),
        last_of_all=later(one.last_of_all or one.last, other.last),
        low=later(one.low, other.low),
        high=later(one.high, other.high),
        not_before=later(one.not_before, other.not_before),
        overdue=one.overdue and later(one.high, other.high) == one.high,
    )


def undated(coming: ComingChange, why_not: str) -> ComingChange:
    """The same change without a date, and why."""
    return replace(
        coming,
        first=None,
        half=None,
        last=None,
        low=None,
        high=None,
        not_before=None,
        why_not=why_not,
    )


def as_expected(bench: Bench, coming: ComingChange) -> ComingChange:
    """The same change by the keeper's own date, if one was given since these animals are in their
    stage or instar."""
    expected = bench.expected.get(coming.brood, {}).get(coming.change)
    if expected is None or coming.begun_to > expected.at:
        return coming
    first, last = (
        _from_its_first_hour(expected.begins).astimezone(UTC),
        (expected.until or expected.begins).astimezone(UTC),
    )
    own = (
        "the keeper's own date, given by"
        f" {expected.by or 'nobody named'}{f': {expected.why}' if expected.why else ''}"
    )
    half = first + (last - first) / 2
    return replace(
        coming,
        first=first,
        half=half,
        last=last,
        low=first,
        high=last,
        not_before=first,
        why_not="",
        own=own,
    )


def _from_its_first_hour(said: datetime) -> datetime:
    """A day alone, which is stored as its noon: what is expected on it may come in its first
    hour."""
    return said.replace(hour=0) if said.time() == time(12) else said


def _dated(
    plain: ComingChange,
    found: StageForecast,
    need: ThermalNeed,
    trace: HeatTrace,
    warmth: PlaceTemperatures,
) -> ComingChange:
    begun_at = (day_of(plain.begun_from) + day_of(plain.begun_to)) / 2
    start = instant_of(trace.times[0]) or plain.begun_from
    return replace(
        plain,
        first=instant_of(found.first),
        not_before=instant_of(found.not_before),
        half=instant_of(found.half),
        last=instant_of(found.last),
        low=instant_of(found.low),
        high=instant_of(found.high),
        need=need,
        degree_days=max(0.0, trace.heat_at(trace.times[-1]) - trace.heat_at(begun_at)),
        gathered_to=instant_of(trace.times[-1]),
        warmth=warmth.used,
        holes=tuple(
            # before the trace as at its beginning: where nothing was read there, nor before
            (min(hole.start, plain.begun_from) if hole.start <= start else hole.start, hole.end)
            for hole in warmth.holes
            if day_of(hole.end) > begun_at
        ),
    )


def instant_of(day: float | None) -> datetime | None:
    """Days since 1970 as an instant; None where it is beyond any that an entry can have."""
    if day is None or not EARLIEST_DAY <= day <= LATEST_DAY:
        return None
    return datetime.fromtimestamp(day * 86_400, UTC)
