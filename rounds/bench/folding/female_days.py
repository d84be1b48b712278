"""How long females stood with host plants: one account, of which kept stems, pages and tables are
sums.

A female-day is one living female together with a plant for 24 hours, not in the dark. Of adults
whose sex is not known the days are counted apart: they may be females, whose eggs must be watched
for, but nobody knows that they are.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.bench.folding.searches import all_searched_since
from rounds.bench.folding.without_eggs import stand
from rounds.bench.movements import Adults, AdultsWithStems, Stems
from rounds.bench.state import Bench, Container, Event, FemaleStay, Host, Lot
from rounds.entries.base import Entry

ONE_DAY = timedelta(days=1)
LAYS_IN = ("laying", "trial")  # the purposes for which females stand with plants to lay


def accrue_female_days(bench: Bench, code: str, entry: Entry) -> list[Event]:
    """Account for the time up to an entry in every container in which it may change who stands with
    what."""
    found = (
        _account(bench, bench.containers[container], entry.at)
        for container in entry.containers
        if container in bench.containers
    )
    return [adults_with_stems for adults_with_stems in found if adults_with_stems is not None]


def stood_since(container: Container, code: str, lot: Lot) -> datetime:
    """Since when a female of a lot stands here, times away with no search in them passed over."""
    came, before = lot.came or lot.since or container.since, container.stood.get(code)
    if before is None:
        return came
    was_searched = came > before.until and all_searched_since(container, before.until)
    return came if was_searched else min(before.since, came)


def stood_up_to(bench: Bench, container: Container, host: Host, at: datetime) -> Host:
    """A plant that stands here with the female-days that it has by then; the bench stays as it
    is."""
    counted = replace(host, days_of=dict(host.days_of), not_known_of=dict(host.not_known_of))
    since = container.accounted or container.since
    _count(bench, counted, _share_of(host, container), females_here(container), since, at)
    return counted


def females_here(container: Container) -> list[Lot]:
    """The adults that may lay here; none in the dark."""
    return (
        [lot for lot in container.lots if lot.stage == "adult" and lot.sex != "male"]
        if container.lit != "dark"
        else []
    )


def _share_of(host: Host, container: Container) -> float:
    """A stem's share of the time with its plant where more of it stands there: what was laid is
    taken as spread evenly over the stems, or over the cuttings where their stems were not counted.
    """
    alike = [one for one in container.hosts if one.plant == host.plant]
    if all(one.sprigs for one in alike):
        return (host.sprigs or 1) / sum(one.sprigs or 1 for one in alike)
    return 1 / max(1, len(alike))


def _count(
    bench: Bench, host: Host, share: float, adults: list[Lot], since: datetime, at: datetime
) -> None:
    """Count a share of the time of adults with a plant."""
    days = share * max(0.0, (at - max(since, host.put_in)) / ONE_DAY)
    for lot in adults:
        known = host.days_of if lot.sex else host.not_known_of
        known[lot.brood] = known.get(lot.brood, 0.0) + bench.may_be_females(lot) * days
        host.stood_until = at
        for code in bench.may_lay(lot):
            if code not in host.mothers:
                host.mothers = (*host.mothers, code)


def _account(bench: Bench, container: Container, at: datetime) -> AdultsWithStems | None:
    since, container.accounted = container.accounted or container.since, at
    codes = [(lot, code) for lot in container.lots for code in bench.may_lay(lot)]
    container.stood |= {
        code: FemaleStay(stood_since(container, code, lot), at) for lot, code in codes
    }
    adults = females_here(container)
    for host in container.hosts if adults else ():
        _count(bench, host, _share_of(host, container), adults, since, at)
    if container.lit != "dark" and not _wait_for_eggs(bench, container, since, at):
        container.without_eggs = {}
    return stood_with(bench, container, since, at) if adults and at > since else None


def wait_for_eggs(bench: Bench, container: Container, at: datetime) -> None:
    """Count the time without eggs up to then, before what is known of its females changes."""
    _wait_for_eggs(bench, container, container.accounted or container.since, at)


def _wait_for_eggs(bench: Bench, container: Container, since: datetime, at: datetime) -> bool:
    """Whether there are any females that may lay."""
    females = [lot for lot in females_here(container) if lot.sex == "female"]
    if females and container.purpose in LAYS_IN:
        stand(bench, container, females, since, at)
    return bool(females)


def stood_with(
    bench: Bench, container: Container, since: datetime, until: datetime
) -> AdultsWithStems | None:
    """Who stood with which stems in a container from then till then, if it is one in which females
    lay."""
    females = females_here(container) if container.purpose in LAYS_IN else []
    adults = tuple(
        Adults(lot.brood, bench.taxon_of(lot.brood), bench.may_be_females(lot), lot.sex == "female")
        for lot in females
    )
    stems = tuple(Stems(host.plant, host.put_in) for host in container.hosts)
    return AdultsWithStems(container.code, since, until, adults, stems) if adults else None
