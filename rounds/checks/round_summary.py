"""What the end of a walk says: what is open, what was passed over, the night ahead, what changed, when to be back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from rounds.bench.measures import measures_of
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Container, Round
from rounds.checks.due import Due, all_dues
from rounds.checks.due_state import PRESSING, place_name, pressing
from rounds.checks.leaf import LEAF_COUNTS_FROM
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment, utc
from rounds.checks.time_format import local
from rounds.entries.base import Entry
from rounds.entries.registry import Searched
from rounds.entries.wording import saying
from rounds.forecasts.foresight import Foresight
from rounds.forecasts.stage_ends import Change
from rounds.forecasts.tonight import is_closed, tonight

NOON = 12
MOST_OPEN = 3
MOST_CHANGES = 5
_FAR = timedelta(days=3650)
# What changes the stock or the state of a container, as against what only tends it; the gravest first.
_CHANGES = (
    "died", "escaped", "missing", "suspect", "hatched", "emerged", "pupated", "moulted", "searched", "released",
    "cleared",
)  # fmt: skip


def closing_words(bench: Bench, moment: Moment, foresight: Foresight | None = None) -> list[str]:
    """The lines that end a walk, the most pressing first; nothing that need not be said."""
    foresight = foresight or Foresight(bench, moment.zone)
    dues = all_dues(bench, moment, foresight=foresight)
    walk = bench.rounds[-1] if bench.rounds else None
    return [
        *_still_open(moment, dues),
        *(_passed_over(bench, walk) if walk else ()),
        *_night_watch(bench, moment, foresight),
        *_fogging(bench, moment),
        *_changes(bench),
        *_lamps(bench, moment),
        *_be_back(moment, dues),
    ]


def _still_open(moment: Moment, dues: list[Due]) -> Iterator[str]:
    now = moment.now
    open_now = [(due, pressing(due, now)) for due in dues]
    open_now = [(due, state) for due, state in open_now if state != "ahead"]
    open_now.sort(key=lambda one: (PRESSING.index(one[1]), -one[0].severity, one[0].harm - now if one[0].harm else _FAR))
    for due, state in open_now[:MOST_OPEN]:
        yield f"Open: {place_name(due)}, {CHECKS[due.check].verb}, {state}."


def _passed_over(bench: Bench, walk: Round) -> Iterator[str]:
    """What was skipped in this walk and not answered after all, with the reason that was given."""
    told: dict[str, list[str]] = {}
    for where, check, reason in dict.fromkeys(walk.skipped):
        name = f"{CHECKS[check].verb}, {reason}" if check in CHECKS else reason
        container = bench.at(where)
        answered = check in CHECKS and container is not None and _answered_in(container, check, walk)
        if not answered:
            told.setdefault(where, []).append(name)
    for where, names in told.items():
        yield f"Passed over: {where or 'the room'} ({'; '.join(names)})."


def _answered_in(container: Container, check: str, walk: Round) -> bool:
    entries = [container.last.get(kind) for kind in CHECKS[check].answered_by]
    return any(entry is not None and entry.round == walk.id for entry in entries)


def _night_watch(bench: Bench, moment: Moment, foresight: Foresight) -> Iterator[str]:
    """Eggs and pupae near their change before the next round, by what was seen, else by the forecast."""
    by_when = "before morning" if moment.now.astimezone(moment.zone).hour >= NOON else "today"
    for container in bench.standing():
        if container.sign == "darkening" and container.count("egg"):
            food = container.last.get("host in")
            since = container.sign_since
            fed = food is not None and since is not None and food.at >= utc(since) - LEAF_COUNTS_FROM
            yield f"May hatch {by_when}: {container.code}. Tender leaf {'is in' if fed else 'NOT in yet'}."
        elif container.count("egg") and (first := _forecast(foresight, container, "hatch", moment)):
            leaf = "Food is in" if container.hosts else "Leaf NOT in yet: look whether they darken"
            yield f"May hatch {by_when}: {container.code}, {_first(first, moment)}. {leaf}."
        if container.sign == "colouring" and container.count("pupa"):
            yield f"May emerge {by_when}: {container.code}. Is there a free climb?"
        elif container.count("pupa") and (first := _forecast(foresight, container, "emergence", moment)):
            yield f"May emerge {by_when}: {container.code}, {_first(first, moment)}. Is there a free climb?"


def _forecast(foresight: Foresight, container: Container, change: Change, moment: Moment) -> datetime | None:
    """When the first is expected, where that is before the round after the present one, also when this one was walked early."""
    firsts = [one.first for one in foresight.coming(container) if one.change == change and one.first]
    first = min(firsts, default=None)
    return first if first is not None and first < moment.round_after else None


def _first(at: datetime, moment: Moment) -> str:
    """A day that is past is told with its date, so that it is not taken for the one to come."""
    if at >= moment.now:
        return f"first expected {local(at, moment)}"
    here = at.astimezone(moment.zone)
    year = f" {here:%Y}" if here.year != moment.now.astimezone(moment.zone).year else ""
    return f"the first was expected {here:%a} {here.day} {here:%b}{year} {here:%H:%M}"


def _fogging(bench: Bench, moment: Moment) -> Iterator[str]:
    """Closed cups whose walls will fog in the night to come."""
    night = tonight(bench, moment.now)
    if night is None or not night.condensing or moment.now.astimezone(moment.zone).hour < NOON:
        return
    closed = [one.code for one in bench.standing() if one.lots and is_closed(one)]
    if closed:
        told = f"dew point {night.dew_point_c:.1f} C, the nights fall to {night.low_c:g} C"
        yield f"Cups may fog tonight ({told}): open or wipe {', '.join(closed)}."


def _changes(bench: Bench) -> Iterator[str]:
    """What changed on the bench since the round before ended."""
    before = bench.rounds[-2] if len(bench.rounds) > 1 else None
    if before is None:
        return
    measures = measures_of(bench.settings)
    found = sorted(_changed_since(bench, before.ended), key=lambda one: (_CHANGES.index(one[0].what), one[0].order))
    told = [eggs or saying(entry, measures) for entry, eggs in found]
    if told:
        more = f", and {len(told) - MOST_CHANGES} more" if len(told) > MOST_CHANGES else ""
        yield f"Since the {before.name} round: {'; '.join(told[:MOST_CHANGES])}{more}."


def _changed_since(bench: Bench, since: datetime) -> Iterator[tuple[Entry, str]]:
    """What was said since then of each container, and in words what its line alone does not tell: the eggs of all searches."""
    for container in bench.standing():
        finds = [number for at, number in container.finds if at > since]
        for kind in _CHANGES:
            entry = container.last.get(kind)
            if entry is None or entry.at <= since or (isinstance(entry, Searched) and not finds):
                continue
            is_more = isinstance(entry, Searched) and finds != [entry.found]
            eggs = f"{container.code} {count(sum(finds), 'egg')} found in {count(len(finds), 'search', 'searches')}"
            yield entry, eggs if is_more else ""


def _lamps(bench: Bench, moment: Moment) -> Iterator[str]:
    for one in bench.standing():
        if one.lamp_since:
            yield f"A lamp is still on at {one.code}, since {one.lamp_since.astimezone(moment.zone):%H:%M}."


def _be_back(moment: Moment, dues: list[Due]) -> Iterator[str]:
    """The earliest that anything that matters turns late from here on."""
    ahead = [
        (due.amber, due)
        for due in dues
        if due.amber is not None and due.severity > 1 and due.amber > moment.now and due.put_off_until is None
    ]
    if ahead:
        late, due = min(ahead, key=lambda one: (one[0], -one[1].severity))
        yield f"Be back by {late.astimezone(moment.zone):%a %H:%M}: {place_name(due)}, {CHECKS[due.check].verb} turns late then."
