"""What the end of a walk says: when to be back, what is open, what was passed over, and the hours
until then."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.measures import measures_of
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Container, Round
from rounds.checks.due import all_dues
from rounds.checks.due_state import FAR, PRESSING, Due, Pressing, pressing
from rounds.checks.leaf import LEAF_COUNTS_FROM, LEAF_LASTS
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment, utc
from rounds.checks.supplies import coming_round
from rounds.entries.base import Entry
from rounds.entries.registry import Searched
from rounds.entries.wording import saying
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.stage_ends import Change
from rounds.forecasts.tonight import is_closed, tonight

NOON = 12
MAX_TOLD = 5
TOLD_LATER = timedelta(days=2)  # so long before the round a line may lie that was typed after it


class Closing(Struct, frozen=True):
    """What still wants a person when a walk ends.

    Args:
        back: when the next round begins.
        sooner: the earliest that anything that matters turns late before it, and what.
        open: what is due or worse, the worst first.
        passed_over: what was skipped and not answered after all, with the reasons: where, what.
        ahead: what may happen before the next round, or stands on until then: where, what.
        changes: what changed on the bench since the round before ended, the gravest first.
    """

    back: datetime
    sooner: tuple[datetime, Due] | None
    open: tuple[tuple[Due, Pressing], ...]
    passed_over: tuple[tuple[str, str], ...]
    ahead: tuple[tuple[str, str], ...]
    changes: tuple[str, ...]


def closing(bench: Bench, moment: Moment, foresight: Forecasts | None = None) -> Closing:
    """What still wants a person now that a walk ends; nothing that was recorded is repeated."""
    foresight = foresight or Forecasts(bench, moment.zone)
    dues = all_dues(bench, moment, foresight=foresight)
    walk = bench.rounds[-1] if bench.rounds else None
    back = coming_round(bench, moment)
    passed_over = tuple(_passed_over(bench, walk)) if walk else ()
    night = _night_watch(bench, moment, foresight)
    ahead = (*night, *_fogging(bench, moment), *_lamps(bench, moment))
    sooner, still_open = _sooner(moment, dues, back), _still_open(moment, dues)
    return Closing(back, sooner, still_open, passed_over, ahead, tuple(_changes(bench)))


def _still_open(moment: Moment, dues: list[Due]) -> tuple[tuple[Due, Pressing], ...]:
    now = moment.now
    result = [(due, state) for due in dues if (state := pressing(due, now)) != "ahead"]

    def worst(one: tuple[Due, Pressing]) -> tuple[int, int, timedelta]:
        due, state = one
        return PRESSING.index(state), -due.severity, due.danger - now if due.danger else FAR

    return tuple(sorted(result, key=worst))


def _passed_over(bench: Bench, walk: Round) -> Iterator[tuple[str, str]]:
    """What was skipped in this walk and not answered after all, with the reason that was given."""
    told: dict[str, list[str]] = {}
    for where, check, reason in dict.fromkeys(walk.skipped):
        label = f"{CHECKS[check].label} " if check in CHECKS else ""
        container = bench.at(where)
        if not (label and container and _answered_in(container, check, walk)):
            told.setdefault(where, []).append(f"{label}skipped ({reason})")
    for where, names in told.items():
        yield where or "the room", ", ".join(names)


def _answered_in(container: Container, check: str, walk: Round) -> bool:
    entries = [container.last.get(kind) for kind in CHECKS[check].answered_by]
    return any(entry is not None and entry.round == walk.id for entry in entries)


def _night_watch(bench: Bench, moment: Moment, foresight: Forecasts) -> Iterator[tuple[str, str]]:
    """Eggs and pupae near their change before the next round, by what was seen, else by the
    forecast."""
    for container in bench.standing():
        eggs, pupae = container.count("egg"), container.count("pupa")
        if container.sign == "darkening" and eggs:
            food, since = container.last.get("host in"), container.sign_since
            fed = food and since and food.at >= utc(since) - LEAF_COUNTS_FROM
            leaf = "the leaf is in" if fed else "no tender leaf is in yet"
            yield container.code, f"{count(eggs, 'egg')} may hatch; {leaf}"
        elif eggs and (first := _forecast(foresight, container, "hatch", moment)):
            leaf = _food_for(container, moment)
            yield container.code, f"{count(eggs, 'egg')} may hatch, {_first(first, moment)}; {leaf}"
        first = _forecast(foresight, container, "emergence", moment)
        if pupae and (container.sign == "colouring" or first):
            when = f", {_first(first, moment)}" if first and container.sign != "colouring" else ""
            adults = f"{count(pupae, 'pupa')} may give adults{when}"
            yield container.code, f"{adults}; is there a free climb?"


def _food_for(container: Container, moment: Moment) -> str:
    """What young larvae will find there."""
    if not container.has_food:
        return "no leaf is in yet: look whether they darken"
    since = container.food_since
    is_old = since is not None and moment.now - since > LEAF_LASTS
    return "only an old plant is in: a tender leaf?" if is_old else "food is in"


def _forecast(
    foresight: Forecasts, container: Container, change: Change, moment: Moment
) -> datetime | None:
    """When the first is expected, where it or one in twenty of them may come before the round after
    the present one, also when this one was walked early."""
    firsts = [
        one.first
        for one in foresight.coming(container)
        if one.change == change
        and one.first
        and min(one.first, one.low or one.first) < moment.round_after
    ]
    return min(firsts, default=None)


def _first(at: datetime, moment: Moment) -> str:
    """A day that is past is told with its date, so that it is not taken for the one to come."""
    if at >= moment.now:
        return f"first expected {moment.clock(at)}"
    instant = at.astimezone(moment.zone)
    year = f" {instant:%Y}" if instant.year != moment.now.astimezone(moment.zone).year else ""
    return f"the first was expected {instant:%a} {instant.day} {instant:%b}{year} {instant:%H:%M}"


def _fogging(bench: Bench, moment: Moment) -> Iterator[tuple[str, str]]:
    """Closed cups whose walls will fog in the night to come."""
    night = tonight(bench, moment.now)
    if night is None or not night.condensing or moment.now.astimezone(moment.zone).hour < NOON:
        return
    closed = [
        container.code for container in bench.standing() if container.lots and is_closed(container)
    ]
    if closed:
        text = f"dew point {night.dew_point_c:.1f} C, the nights fall to {night.low_c:g} C"
        yield closed[0], f"cups may fog tonight ({text}): open or wipe {', '.join(closed)}"


def _changes(bench: Bench) -> Iterator[str]:
    """What changed on the bench since the round before ended."""
    before = bench.rounds[-2] if len(bench.rounds) > 1 else None
    if before is None:
        return
    measures = measures_of(bench.settings)
    changed = _changed_since(bench, before.ended)
    found = sorted(changed, key=lambda one: (one[0].gravity, one[0].order))
    texts = [eggs or saying(entry, measures) for entry, eggs in found]
    if texts:
        more = f", and {len(texts) - MAX_TOLD} more" if len(texts) > MAX_TOLD else ""
        yield f"Since the {before.name} round: {'; '.join(texts[:MAX_TOLD])}{more}."


def _changed_since(bench: Bench, since: datetime) -> Iterator[tuple[Entry, str]]:
    """What happened since then in each container, or was said since then of shortly before, and in
    words what its line alone does not tell: the eggs of all searches."""
    for container in bench.standing():
        changes = [
            entry
            for entry in container.changes.values()
            if entry.at > since or (entry.logged > since and entry.at > since - TOLD_LATER)
        ]
        finds = [entry for entry in changes if isinstance(entry, Searched)]
        for entry in changes:
            if len(finds) < 2 or not isinstance(entry, Searched):
                yield entry, ""
        if len(finds) > 1:
            eggs = count(sum(one.found for one in finds), "egg")
            yield finds[-1], f"{container.code} {eggs} found in {len(finds)} searches"


def _lamps(bench: Bench, moment: Moment) -> Iterator[tuple[str, str]]:
    for container in bench.standing():
        if container.lamp_since:
            yield container.code, f"a lamp is on, since {moment.clock(container.lamp_since)}"


def _sooner(moment: Moment, dues: list[Due], back: datetime) -> tuple[datetime, Due] | None:
    """The earliest before the next round that anything that matters turns late."""
    ahead = [
        (due.late, due)
        for due in dues
        if due.late is not None
        and due.severity > 1
        and moment.now < due.late < back
        and due.put_off_until is None
    ]
    return min(ahead, key=lambda one: (one[0], -one[1].severity), default=None)
