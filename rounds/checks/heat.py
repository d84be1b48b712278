"""Warmth and cold outside the limits of a place, and closed cups in the sun."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.kinds import Air
from rounds.bench.measures import measures_of
from rounds.bench.resting import all_rest
from rounds.bench.state import Bench, Container, Shelf
from rounds.checks.answer_entries import put_off
from rounds.checks.answers import INTO_SHADE, LID_OPENED, READ_AGAIN
from rounds.checks.base import Check, RuleOf
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.facts import Reckoning, of_place
from rounds.checks.question import Answer, Question
from rounds.checks.reckon import make_place_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import COMMON, LAYING_OR_PAIRING, Rule
from rounds.forecasts.tonight import is_closed, sill_spans

WARM_C, DANGER_C, COLD_C = 30.0, 33.0, 18.0  # starter defaults; our estimate
FREEZING_C, WARM_REST_C, HOT_REST_C = 0.0, 10.0, 20.0  # of a winter store; see the rules
READING_LASTS, REST_READING_LASTS = timedelta(hours=24), timedelta(days=16)  # our estimate
COOL = frozenset({"holding", "host store"})
IN_THE_SUN = of_place("sun on a closed cup")


def of_bench(reckoning: Reckoning, rule_of: RuleOf) -> Iterator[Due]:
    """Every place whose last reading is out of its limits, then every closed cup left in the sun."""
    yield from _read(reckoning, rule_of)
    yield from _sunlit(reckoning, rule_of)


def _read(reckoning: Reckoning, rule_of: RuleOf) -> Iterator[Due]:
    """Every place whose last reading was too warm, or too cold where females are to lay."""
    bench = reckoning.bench
    for place, readings in bench.air.items():
        container = bench.at(place)
        if (place and container is None and place not in bench.shelves) or (container and container.purpose in COOL):
            continue
        band = _band(bench, container, place)
        reading = next((one for one in reversed(readings) if _tells_warmth(one, band)), None)
        told = _out_of_band(bench, container, place, reading, band) if reading is not None else None
        if reading is None or told is None or _is_over(reckoning, container, reading, band):
            continue
        condition, reason = told
        rule = rule_of(condition, container)
        if rule is not None:
            kind: PlaceKind = "container" if container else ("shelf" if place else "room")
            least = {"warm rest": band.warm_c, "hot rest": band.warm_c, "hot cup": band.hot_c, "hot room": band.hot_c}.get(condition)
            since = utc(reading.at) if least is None else _hot_since(readings, least)
            yield make_place_due(reckoning, rule, kind, place, since, reading, reason=reason, seen=utc(reading.at))


def _sunlit(reckoning: Reckoning, rule_of: RuleOf) -> Iterator[Due]:
    """Every closed cup left in the sun, before the sun reaches the sill."""
    moment = reckoning.moment
    for container in reckoning.bench.standing():
        if container.lit != "sun" or not container.lots or not is_closed(container):
            continue
        rule = rule_of(IN_THE_SUN.words, container)
        span = next((one for one in sill_spans(reckoning.bench, moment.now, moment.zone) if one[1] > moment.now), None)
        if rule is None or span is None:
            continue
        begins = utc(span[0])
        reason = f"sun on the sill {span[0]:%H:%M} to {span[1]:%H:%M}, lid {container.lid}"
        yield make_place_due(reckoning, rule, "container", container.code, begins, due=begins, reason=reason, amber_at=begins)


class _Band(Struct, frozen=True):
    """Between what a place may be, in C, and whether only resting stock stands there. ``limit_c`` is the keeper's own limit
    of cold, None where nothing lives there or none was given; ``own_warm_c`` that of warmth of a winter store.
    """

    cold_c: float
    warm_c: float
    hot_c: float
    rests: bool
    limit_c: float | None = None
    own_warm_c: float | None = None


def _band(bench: Bench, container: Container | None, place: str) -> _Band:
    """The limits of a place: its own, else the starter ones for what stands there."""
    shelf = bench.shelf_of(container) if container is not None else bench.shelves.get(place)
    rests = all_rest(bench, container) if container is not None else _rests(bench, shelf)
    cold, warm, hot = (FREEZING_C, WARM_REST_C, HOT_REST_C) if rests else (COLD_C, WARM_C, DANGER_C)
    own = None
    if shelf is not None:
        cold = shelf.cold_c if shelf.cold_c is not None else cold
        own = shelf.warm_c if shelf.warm_c is not None or not rests else shelf.hot_c  # of a winter store one limit is enough
        hot = shelf.hot_c if shelf.hot_c is not None else max(hot, shelf.warm_c or hot)
        warm = own if own is not None else min(warm, hot)
    limit = shelf.cold_c if shelf is not None and _lives(bench, container, shelf) else None
    return _Band(cold, warm, hot, rests, limit, own)


def _lives(bench: Bench, container: Container | None, shelf: Shelf) -> bool:
    """Whether animals, or stems that may bear eggs, are in a container, else anywhere on a shelf."""
    places = [container] if container is not None else [one for one in bench.standing() if bench.shelf_of(one) is shelf]
    return any(one.lots or one.held for one in places)


def own_limits(bench: Bench, place: str) -> tuple[float | None, float]:
    """Under how many C a place is too cold for what stands there, where that is its own or of resting stock, and from how
    many on it is too warm.
    """
    band, shelf = _band(bench, None, place), bench.shelves.get(place)
    has_cold = band.rests or (shelf is not None and shelf.cold_c is not None)
    return band.cold_c if has_cold else None, band.warm_c


def _rests(bench: Bench, shelf: Shelf | None) -> bool:
    living = [one for one in bench.standing() if one.lots and bench.shelf_of(one) is shelf] if shelf is not None else []
    return bool(living) and all(all_rest(bench, one) for one in living)


def _tells_warmth(reading: Air, band: _Band) -> bool:
    """Whether a reading tells how warm it was; how cold it was only matters in rest, and under the keeper's own limit."""
    is_cold_told = band.rests or band.limit_c is not None
    return reading.temperature_c is not None or reading.high_c is not None or (is_cold_told and reading.low_c is not None)


def _out_of_band(bench: Bench, container: Container | None, place: str, reading: Air, band: _Band) -> tuple[str, str] | None:
    """Which condition a reading meets, and what it said; a lowest of the night does not say that it is cold now, but under
    the keeper's own limit it is told.
    """
    warmth = measures_of(bench.settings).warmth
    now_c = reading.temperature_c
    if band.rests:
        return _out_of_rest(reading, band, warmth)
    warmest = reading.high_c if now_c is None else now_c
    if warmest is not None and warmest >= band.hot_c:
        return "hot cup" if container else "hot room", f"read {warmth(warmest)}"
    if warmest is not None and warmest >= band.warm_c:
        return "warm or cold", f"read {warmth(warmest)}"
    read = [one for one in (now_c, reading.low_c, reading.high_c) if one is not None]
    lowest = min(read, default=band.cold_c)
    limit = f"read {warmth(lowest)}, under its limit of {warmth(band.limit_c)}" if band.limit_c is not None else ""
    if limit and lowest < min(FREEZING_C, band.limit_c or FREEZING_C):
        return "freezing", limit
    if warmest is not None and warmest < band.cold_c and _females_lay(bench, container, place):
        return "warm or cold", f"read {warmth(warmest)}, too cold to lay"
    if band.limit_c is not None and lowest < band.limit_c:
        return "warm or cold", limit
    return None


def _out_of_rest(reading: Air, band: _Band, warmth: Callable[[float], str]) -> tuple[str, str] | None:
    """Resting stock is harmed by warmth and by frost also if it is over by now."""
    read = [one for one in (reading.temperature_c, reading.low_c, reading.high_c) if one is not None]
    if max(read) >= band.warm_c:
        condition = "hot rest" if max(read) >= band.hot_c else "warm rest"
        why = "too warm for a winter store" if band.own_warm_c is None else f"over its limit of {warmth(band.own_warm_c)}"
        return condition, f"read {warmth(max(read))}, {why}"
    return ("freezing", f"read {warmth(min(read))}, too cold for a winter store") if min(read) < band.cold_c else None


def _is_over(reckoning: Reckoning, container: Container | None, reading: Air, band: _Band) -> bool:
    """A reading says nothing any more a day later, that of a winter store until it is to be read again; nor once its
    container was shaded or opened.
    """
    if reckoning.moment.now - reading.at > (REST_READING_LASTS if band.rests else READING_LASTS):
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
    return any(shelf.name == place if place else not shelf.apart for shelf in shelves if shelf) or (not place and None in shelves)


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
# The room and a shelf hold many cups: what was done is kept as the reason, and the air is to be read again.
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


def ask(bench: Bench, due: Due, container: Container | None) -> Question:
    """What was done about warmth or cold at this place; asked again in an hour or two unless it is read again."""
    if due.reason.endswith("too cold to lay"):
        return Question(f"Too cold to lay. What did you do? {_AGAIN}", _COLD)
    if due.place_kind == "container":
        shade, opened, *others = CHECK.question.answers
        return Question(CHECK.question.text, (shade, opened, _COOLER_PLACE, *others))
    return Question(f"Too warm. What did you do? {_AGAIN}", _HOT_PLACE)


CHECK = Check(
    name="heat", label="heat", verb="cool",
    help="Danger above about 33 C in a closed cup; nothing is laid below about 18 C.",
    severity=3, place=20, answered_by=("air", "light", "lid opened"), closes="gone",
    rules=(
        Rule(when=of_place("warm or cold"), every_h=0, amber_h=0, severity=1,
             basis="30 C and above, or under 18 C where females are to lay: starter default, our estimate"),
        Rule(when=of_place("hot room"), every_h=0, amber_h=0, red_h=2, harm_h=6,
             basis="33 C and above, if it lasts; over 29 C harms monarch larvae and hours count, York and Oberhauser 2002; "
             "hours our estimate"),
        Rule(when=of_place("hot cup"), every_h=0, amber_h=0, red_h=0, harm_h=2,
             basis=f"33 C and above in a closed cup harms within minutes to hours: {COMMON}; hours our estimate"),
        Rule(when=IN_THE_SUN, every_h=0, amber_h=0, red_h=1, harm_h=2,
             basis=f"a closed cup in direct sun overheats within minutes: {COMMON}; hours our estimate"),
        Rule(when=of_place("warm rest"), every_h=0, amber_h=0, red_h=24, severity=2,
             basis="10 C and above in winter rest, if it lasts: our estimate, no source; warm weeks kill resting pupae months "
             "later: University of Oulu of Pieris napi"),
        Rule(when=of_place("hot rest"), every_h=0, amber_h=0, red_h=0, severity=2,
             basis="20 C in winter did more harm to resting larvae than 41 C in summer: Heatwaves and novel host consumption, "
             "Frontiers in Ecology and Evolution 2019 7:193, Euphydryas phaeton"),
        Rule(when=of_place("freezing"), every_h=0, amber_h=0, red_h=0, severity=2,
             basis="under 0 C, where the place has no limit of its own: starter default, our estimate, no source"),
    ),
    of_bench=of_bench,
    question=Question("Outside the comfortable band.", (INTO_SHADE, LID_OPENED, _ALL_WELL, READ_AGAIN)),
    ask=ask, cautions=("lamps",),
)  # fmt: skip
