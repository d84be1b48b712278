"""Everything that is coming on a bench, in the order in which it comes: changes of animals,
renewals, deadlines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.measures import measures_of
from rounds.bench.state import Bench, Container
from rounds.checks.ants import all_moats
from rounds.checks.base import What
from rounds.checks.due_state import Due
from rounds.checks.facts import left_be_until
from rounds.checks.host import known_leaf_age
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment, utc
from rounds.entries.base import ROOTED
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.kept_stems import Chance
from rounds.forecasts.moats import loss_words
from rounds.forecasts.stage_ends import ComingChange

FURTHEST = timedelta(days=120)


class Item(Struct, frozen=True):
    """One thing that is coming; a spread has ``first`` and ``last``, a deadline only ``at``.

    ``at`` is when half of the animals have made the change, or the deadline; None where no date can
    be given.
    """

    where: str
    what: What
    at: datetime | None
    number: int = 0
    first: datetime | None = None
    last: datetime | None = None
    low: datetime | None = None
    high: datetime | None = None
    subject: str = ""
    coming: ComingChange | None = None
    chance: Chance | None = None
    due: Due | None = None
    source: str = ""  # the container that kept stems came from

    @property
    def over_winter(self) -> bool:
        """Whether it is stems that are kept over the winter, without a date."""
        return self.chance is not None and self.chance.over_winter


def timeline(bench: Bench, moment: Moment, foresight: Forecasts, dues: Iterable[Due]) -> list[Item]:
    """All of it, the soonest first; what has no date comes last."""
    items = [
        *_deadlines(bench, dues),
        *(item for one in bench.standing() for item in _in(bench, one, moment, foresight)),
        *_moats(bench, moment, foresight),
    ]

    def soonest(one: Item) -> tuple[bool, datetime, str, str]:
        return one.at is None, utc(one.first or one.at or moment.now), one.where, one.what

    near = [item for item in items if item.at is None or item.at - moment.now < FURTHEST]
    return sorted(near, key=soonest)


def _in(bench: Bench, container: Container, moment: Moment, foresight: Forecasts) -> Iterator[Item]:
    """What is coming in a container: what its animals will do, when their food grows old as the
    keeper said of the plant, until when it is left be, and its kept stems are kept."""
    yield from changes_of(container, foresight)
    if container.count("larva") and (age := known_leaf_age(bench, container)):
        cut = f"{age.plant}, cut {age.keeps / timedelta(hours=1):g} h before by then"
        text = f"{cut} (the keeper's hours for it)"
        yield Item(container.code, _renewed(container), age.good_until, subject=text)
    until = left_be_until(container, moment.now)
    if until is not None and (container.lots or container.held):
        yield Item(container.code, "do not disturb ends", until, subject=container.leave_be_why)
    for held in container.held:
        chance = foresight.chance(container, held, moment.now)
        if not chance.shown:
            lot, keep = f"{held.plant} {held.batch}", chance.keep_until
            yield Item(
                container.code, "keep until", keep, subject=lot, chance=chance, source=held.source
            )


def changes_of(container: Container, foresight: Forecasts) -> list[Item]:
    """What the animals of a container will do."""
    return [
        Item(
            change.where,
            change.change,
            change.half,
            change.number,
            change.first,
            change.last,
            change.low,
            change.high,
            change.brood,
            change,
        )
        for change in foresight.coming(container)
    ]


def _renewed(container: Container) -> What:
    """What is done about old host plant: one that grows is not cut anew."""
    return "look at plant" if all(one.kept in ROOTED for one in container.hosts) else "change cut"


def _deadlines(bench: Bench, dues: Iterable[Due]) -> Iterator[Item]:
    for due in dues:
        check = CHECKS[due.check]
        end = due.since if check.has_limit else due.late
        if not check.coming or end is None:
            continue
        what, container = check.coming, bench.at(due.where)
        if what == "change cut" and container is not None:
            what = _renewed(container)
        yield Item(due.where or "book", what, end, subject=due.subject, due=due)


def _moats(bench: Bench, moment: Moment, foresight: Forecasts) -> Iterator[Item]:
    for where, moat in all_moats(bench):
        low = foresight.moat(moat, moment.now)
        if low is not None and low.low_at is not None:
            measures = measures_of(bench.settings)
            loss = loss_words(low.loss, measures, limits=True)
            text = f"{measures.depth(round(low.by_now_mm))} by now, {loss}"
            if moat.state == "low" and moat.wants_since is not None:  # seen, so that no window is
                yield Item(where, "moat low", utc(moat.wants_since), 0, subject=text)
                continue
            limits = low.low_first, low.low_last
            yield Item(where, "moat low", low.low_at, 0, *limits, subject=text)
