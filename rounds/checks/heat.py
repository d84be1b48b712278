"""Warmth and cold outside the limits of a place, and closed cups in the sun."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from math import inf

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.diapause import all_rest, out_of_place, some_rest
from rounds.bench.measures import measures_of
from rounds.bench.state import Bench, Container, Shelf
from rounds.checks.answers import INTO_SHADE, LID_OPENED, READ_AGAIN, put_off
from rounds.checks.base import Check, RuleOf, Value
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.facts import DueContext, of_place
from rounds.checks.question import Answer, Question
from rounds.checks.readings import (
    HOT_REST_C,
    WARM_REST_C,
    is_cold_wanted,
    readings_of,
    rests_since,
    told_c,
)
from rounds.checks.reckon import make_place_due
from rounds.checks.round_clock import Moment, utc
from rounds.checks.rule import COMMON, LAYING_OR_PAIRING, Rule, hours
from rounds.entries.registry import Air
from rounds.forecasts.tonight import is_closed, sill_spans

WARM_C, DANGER_C, COLD_C = 30.0, 33.0, 18.0  # starter defaults; our estimate
FREEZING_C = 0.0  # of a winter store; see the rules
READING_LASTS, REST_READING_LASTS = timedelta(hours=24), timedelta(days=16)  # our estimate
# local hours between which a place apart is read by day; our estimate
WARMED_UP, COOLED_DOWN = 10, 20
COOL = frozenset({"holding", "host store"})
IN_THE_SUN = of_place("sun on a closed cup")


def of_bench(reckoning: DueContext, rule_of: RuleOf) -> Iterator[Due]:
    """Every place whose last reading is out of its limits, then every closed cup left in the
    sun."""
    yield from _read(reckoning, rule_of)
    yield from _sunlit(reckoning, rule_of)


def _read(reckoning: DueContext, rule_of: RuleOf) -> Iterator[Due]:
    """Every place whose last reading was too warm, or too cold where females are to lay."""
    bench = reckoning.bench
    for place in dict.fromkeys((*bench.air, *bench.logged)):
        container = bench.at(place)
        kept_cool = container is not None and container.purpose in COOL
        is_cool = container and kept_cool and not out_of_place(bench, container)
        if (place and container is None and place not in bench.shelves) or is_cool:
            continue
        for band in _bands(bench, reckoning.moment, container, place):
            due = _out_of(reckoning, rule_of, container, place, band)
            if due is not None:
                yield due
                break


def _out_of(
    reckoning: DueContext, rule_of: RuleOf, container: Container | None, place: str, band: _Band
) -> Due | None:
    """The check of a place whose last reading was out of a band."""
    readings = readings_of(reckoning, place, band.since)
    reading = next((air for air in reversed(readings) if _tells_warmth(air, band)), None)
    told = _out_of_band(reckoning, container, place, reading, band) if reading is not None else None
    if reading is None or told is None or _is_over(reckoning, container, reading, band):
        return None
    condition, reason = told
    rule = rule_of(condition, container)
    if rule is None:
        return None
    kind: PlaceKind = "container" if container else ("shelf" if place else "room")
    in_rest, is_hot = condition in ("warm rest", "hot rest"), condition in ("hot cup", "hot room")
    least = band.warm_c if in_rest else band.hot_c if is_hot else None
    since = utc(reading.at) if least is None else _hot_since(readings, least)
    reason, seen = f"{reason}{band.whose}", utc(reading.at)
    return make_place_due(reckoning, rule, kind, place, since, reading, None, "", reason, seen)


def _sunlit(reckoning: DueContext, rule_of: RuleOf) -> Iterator[Due]:
    """Every closed cup left in the sun, before the sun reaches the sill."""
    moment = reckoning.moment
    for container in reckoning.bench.standing():
        if container.lit != "sun" or not container.lots or not is_closed(container):
            continue
        rule = rule_of(IN_THE_SUN.words, container)
        spans = sill_spans(reckoning.bench, moment.today, moment.zone)
        span = next((one for one in spans if not moment.passed(one[1])), None)
        if rule is None or span is None:
            continue
        begins = utc(span[0])
        reason = f"sun on the sill {span[0]:%H:%M} to {span[1]:%H:%M}, lid {container.lid}"
        yield make_place_due(
            reckoning,
            rule,
            "container",
            container.code,
            begins,
            due=begins,
            reason=reason,
            late_at=begins,
        )


class _Band(Struct, frozen=True):
    """Between what a place may be, in C, and whether it is that of resting stock, which has stood
    there ``since`` then.

    ``limit_c`` is the keeper's own limit of cold, None where nothing lives there or none was given;
    ``own_warm_c`` that of warmth; ``whose`` names those that rest where others on the same shelf do
    not.
    """

    cold_c: float
    warm_c: float
    hot_c: float
    rests: bool
    limit_c: float | None = None
    own_warm_c: float | None = None
    since: datetime | None = None
    whose: str = ""


def _bands(bench: Bench, moment: Moment, container: Container | None, place: str) -> list[_Band]:
    """The limits of a place: of what rests there first, then of what is awake or lies over the
    summer."""
    shelf = bench.shelf_of(container) if container is not None else bench.shelves.get(place)
    standing = [container] if container is not None else _on(bench, shelf)
    living = [one for one in standing if one.lots]
    resting = [one for one in living if some_rest(bench, one)]
    cold_wanted = bool(resting) and is_cold_wanted(bench, moment, place, resting)
    lives = bool(living) or any(one.held for one in standing)
    limit = shelf.cold_c if shelf is not None and lives else None
    bands = []
    if resting:
        warm, hot = (WARM_REST_C, HOT_REST_C) if cold_wanted else (inf, inf)
        whose = f": {', '.join(one.code for one in resting)}" if len(resting) < len(living) else ""
        band = _band(shelf if cold_wanted else None, FREEZING_C, warm, hot, limit, rests=True)
        bands.append(replace(band, since=rests_since(resting), whose=whose))
    if not cold_wanted or not all(all_rest(bench, one) for one in living):
        bands.append(_band(shelf, COLD_C, WARM_C, DANGER_C, limit))
    return bands


def _band(
    shelf: Shelf | None,
    cold: float,
    warm: float,
    hot: float,
    limit_c: float | None,
    *,
    rests: bool = False,
) -> _Band:
    """The limits that the keeper gave a place, else the starter ones.

    One limit of warmth is enough; one of summer says nothing of a winter store.
    """
    cold = limit_c if limit_c is not None else cold
    given = (shelf.warm_c, shelf.hot_c) if shelf is not None else (None, None)
    own_warm, own_hot = (
        None if one is not None and rests and one >= WARM_C else one for one in given
    )
    own = own_hot if own_warm is None else own_warm
    hot = max(hot, own if own is not None else hot) if own_hot is None else own_hot
    return _Band(cold, warm if own is None else own, hot, rests, limit_c, own)


def _on(bench: Bench, shelf: Shelf | None) -> list[Container]:
    return [one for one in bench.standing() if shelf and bench.shelf_of(one) is shelf]


def own_limits(bench: Bench, moment: Moment, place: str) -> tuple[float | None, float]:
    """Under how many C a place is too cold for what stands there, where that is its own or of
    resting stock, and from how many on it is too warm."""
    bands, shelf = _bands(bench, moment, None, place), bench.shelves.get(place)
    own_cold = shelf.cold_c if shelf is not None else None
    cold = own_cold if own_cold is not None else FREEZING_C if bands[0].rests else None
    return cold, min(band.warm_c for band in bands)


def warm_and_hot(bench: Bench, moment: Moment, container: Container) -> tuple[float, float]:
    """From how many C on it is too warm for what a container holds, and from how many on it is a
    danger; both may be inf."""
    band = _bands(bench, moment, container, container.code)[0]
    return band.warm_c, band.hot_c


def _tells_warmth(reading: Air, band: _Band) -> bool:
    """Whether a reading tells how warm it was; how cold it was only matters in rest, and under the
    keeper's own limit."""
    is_cold_told = band.rests or band.limit_c is not None
    return (
        reading.temperature_c is not None
        or reading.high_c is not None
        or (is_cold_told and reading.low_c is not None)
    )


def _out_of_band(
    reckoning: DueContext, container: Container | None, place: str, reading: Air, band: _Band
) -> tuple[str, str] | None:
    """Which condition a reading meets, and what it said; a lowest of the night does not say that it
    is cold now, but under the keeper's own limit it is told."""
    bench = reckoning.bench
    warmth = measures_of(bench.settings).warmth
    now_c = reading.temperature_c
    if band.rests:
        return _out_of_rest(reading, band, warmth)
    warmest = reading.high_c if now_c is None else now_c
    over = band.own_warm_c
    own_warm = f", over its limit of {warmth(over)}" if over is not None else ""
    if warmest is not None and warmest >= band.hot_c:
        return "hot cup" if container else "hot room", f"read {warmth(warmest)}{own_warm}"
    if warmest is not None and warmest >= band.warm_c:
        return "warm or cold", f"read {warmth(warmest)}{own_warm}"
    lowest = min(told_c(reading), default=band.cold_c)
    limit = ""
    if band.limit_c is not None:
        limit = f"read {warmth(lowest)}, under its limit of {warmth(band.limit_c)}"
    if limit and lowest < min(FREEZING_C, band.limit_c or FREEZING_C):
        return "freezing", limit
    if (
        warmest is not None
        and warmest < band.cold_c
        and _females_lay(bench, container, place)
        and not _is_of_the_night(reckoning, container, place, reading)
    ):
        return "warm or cold", f"read {warmth(warmest)}, too cold to lay"
    if band.limit_c is not None and lowest < band.limit_c:
        return "warm or cold", limit
    return None


def _out_of_rest(
    reading: Air, band: _Band, warmth: Callable[[float], str]
) -> tuple[str, str] | None:
    """Resting stock is harmed by warmth and by frost also if it is over by now."""
    read = told_c(reading)
    if max(read) >= band.warm_c:
        condition = "hot rest" if max(read) >= band.hot_c else "warm rest"
        why = "too warm for a winter store"
        if band.own_warm_c is not None:
            why = f"over its limit of {warmth(band.own_warm_c)}"
        return condition, f"read {warmth(max(read))}, {why}"
    if min(read) >= band.cold_c:
        return None
    return "freezing", f"read {warmth(min(read))}, too cold for a winter store"


def _is_over(reckoning: DueContext, container: Container | None, reading: Air, band: _Band) -> bool:
    """A reading says nothing any more a day later, that of a winter store until it is to be read
    again; nor once its container was shaded or opened."""
    lasts = REST_READING_LASTS if band.rests else READING_LASTS
    if reckoning.moment.passed(reading.at + lasts + datetime.resolution):
        return True
    if container is None:
        return False
    answers = (container.last.get("light"), container.last.get("lid opened"))
    return any(answer is not None and answer.at > reading.at for answer in answers)


def _females_lay(bench: Bench, container: Container | None, place: str) -> bool:
    if container is not None:
        return container.purpose in LAYING_OR_PAIRING and container.females > 0
    laying = (one for one in bench.standing() if one.purpose in LAYING_OR_PAIRING and one.females)
    shelves = [bench.shelf_of(one) for one in laying]
    return any(shelf.name == place if place else not shelf.apart for shelf in shelves if shelf) or (
        not place and None in shelves
    )


def _is_of_the_night(
    reckoning: DueContext, container: Container | None, place: str, reading: Air
) -> bool:
    """Whether a place apart from the room, as a garden, was read before it warmed up or after it
    cooled down: cold by night is usual there, and nothing is laid then anyway."""
    bench = reckoning.bench
    shelf = bench.shelf_of(container) if container is not None else bench.shelves.get(place)
    hour = reading.at.astimezone(reckoning.moment.zone).hour
    return shelf is not None and shelf.apart and not WARMED_UP <= hour < COOLED_DOWN


def _hot_since(readings: list[Air], least_c: float) -> datetime:
    """When the run of readings so warm began that goes on to the last one."""
    since = readings[-1].at
    for reading in reversed(readings):
        warmest = reading.temperature_c if reading.temperature_c is not None else reading.high_c
        if warmest is not None and warmest < least_c:
            break
        since = reading.at if warmest is not None else since
    return utc(since)


_ALL_WELL = Answer("space", "looked, all well", put_off(2, "looked, all well"), usual=True)
_AGAIN = "It is asked again in an hour, if all is well in two."  # as the answers put it off
_COOLER_PLACE = Answer("v", "moved to a cooler place", put_off(1, "moved to a cooler place"))
# The room and a shelf hold many cups: what was done is kept as the reason, and the air is to be
# read again.
_HOT_PLACE = (
    Answer("k", "shaded", put_off(1, "shaded")),
    Answer("a", "lids opened", put_off(1, "lids opened")),
    _COOLER_PLACE,
    Answer("c", "room made cooler", put_off(1, "room made cooler")),
    _ALL_WELL,
    READ_AGAIN,
)
_COLD = (
    Answer("v", "moved to a warmer place", put_off(1, "moved to a warmer place")),
    Answer("c", "room made warmer", put_off(1, "room made warmer")),
    _ALL_WELL,
    READ_AGAIN,
)

_TOO_COLD = ("too cold", "under its limit")


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """What was done about warmth or cold at this place; asked again in an hour or two unless it is
    read again."""
    if any(words in due.reason for words in _TOO_COLD):
        lay = " to lay" if due.reason.endswith("too cold to lay") else ""
        return Question(f"Too cold{lay}. What did you do? {_AGAIN}", _COLD)
    if due.place_kind == "container":
        shade, opened, *others = CHECK.question.answers
        return Question(CHECK.question.text, (shade, opened, _COOLER_PLACE, *others))
    return Question(f"Too warm. What did you do? {_AGAIN}", _HOT_PLACE)


CHECK = Check(
    name="heat",
    help="Danger above about 33 C in a closed cup; nothing is laid below about 18 C.",
    value=Value(30, 1.0, 0.1),
    severity=3,
    place=20,
    answered_by=("air", "light", "lid opened"),
    closes="gone",
    rules=(
        Rule(
            when=of_place("warm or cold"),
            **hours(0, late=0),
            severity=1,
            basis=(
                "30 C and above, or under 18 C if females are to lay, if the place "
                "has no limit of its own: large whites laid at 20 C, more at 30 (David & "
                "Gardiner 1962), speckled woods at 24 to 30 (Shreeve 1986); limits our "
                "estimate, for many a room is under 20 C by night"
            ),
        ),
        Rule(
            when=of_place("hot room"),
            **hours(0, late=0, urgent=2, danger=6),
            basis=(
                "33 C and above, if it lasts: constant 36 C killed monarchs the more the longer, 6"
                " or 12 h of it a day very few, York and Oberhauser 2002; hours: our estimate"
            ),
        ),
        Rule(
            when=of_place("hot cup"),
            **hours(0, late=0, urgent=0, danger=2),
            basis=(
                "33 C and above in a closed cup: of Idaea inquinata eggs kept so 80 % "
                "hatched at 34 C, 9 % at 36, none at 38 (Limonta, Sulo & Locatelli 2010);"
                " hours: our estimate"
            ),
        ),
        Rule(
            when=IN_THE_SUN,
            **hours(0, late=0, urgent=1, danger=2),
            basis=(
                f"a closed cup in direct sun overheats within minutes: {COMMON}; hours:"
                " our estimate"
            ),
        ),
        Rule(
            when=of_place("warm rest"),
            **hours(0, late=0, urgent=24),
            severity=2,
            basis=(
                "10 C and above in winter rest, if it lasts, from November to March (south of the"
                " equator from May to September) and once it was cold: our estimate, no source;"
                " warm weeks kill resting pupae months later: University of Oulu of Pieris napi"
            ),
        ),
        Rule(
            when=of_place("hot rest"),
            **hours(0, late=0, urgent=0),
            severity=2,
            basis=(
                "20 C in winter did more harm to resting larvae than 41 C in summer: Heatwaves and"
                " novel host consumption, Frontiers in Ecology and Evolution 2019 7:193, Euphydryas"
                " phaeton; at once: our estimate"
            ),
        ),
        Rule(
            when=of_place("freezing"),
            **hours(0, late=0, urgent=0),
            severity=2,
            basis=(
                "under 0 C, if the place has no limit of its own: starter default, our estimate,"
                " no source"
            ),
        ),
    ),
    of_bench=of_bench,
    question=Question(
        "Outside the comfortable band.", (INTO_SHADE, LID_OPENED, _ALL_WELL, READ_AGAIN)
    ),
    ask=ask,
    cautions=("lamps",),
)
