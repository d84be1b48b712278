"""The walking order: clean stock before new, new before suspect, suspect before sick; never
back."""

from __future__ import annotations

from collections.abc import Iterable

from rounds.bench.codes import counted
from rounds.bench.state import Bench, Container
from rounds.entries.slots import listed

GROUPS = listed(
    "room and shelves, eggs and young larvae, healthy broods, females, host store, "
    "new stock, suspects, isolation",
    by=", ",
)
WASH_BEFORE = frozenset({"new stock", "suspects", "isolation"})
_PURPOSES = {
    "eggs and young larvae": ("eggs", "hatchlings"),
    "healthy broods": ("rearing", "pupation", "emergence", "overwintering"),
    "females": ("holding", "laying", "pairing", "trial"),
    "host store": ("host store",),
    "new stock": ("quarantine",),
    "isolation": ("isolation",),
}
_OF_PURPOSE = {purpose: group for group, those in _PURPOSES.items() for purpose in those}
WITHOUT_SHELF = 10_000  # after every shelf that has a place

Counts = tuple[tuple[str, int], ...]
OrderKey = tuple[int, int, Counts, int, Counts, bool, int, Counts, str]


def group_of(container: Container) -> str:
    """The hygiene group of a container."""
    if container.purpose == "isolation":
        return "isolation"
    return "suspects" if container.suspect_since else _OF_PURPOSE[container.purpose]


def shelf_of(bench: Bench, container: Container) -> str:
    """The shelf a container is walked with: what stands inside another stands on that one's."""
    return _stands(bench, container).shelf or container.shelf


def _stands(bench: Bench, container: Container) -> Container:
    around = bench.containers.get(container.inside)
    return container if around is None or around is container else around


def order_key(bench: Bench, container: Container) -> OrderKey:
    """Where a container stands in the walk: group, shelf, place; what stands inside another comes
    right after it."""
    stands, shelf = _stands(bench, container), shelf_of(bench, container)
    known = bench.shelves.get(shelf)
    return (
        GROUPS.index(group_of(container)),
        known.place if known else WITHOUT_SHELF,
        counted(shelf),
        stands.place,
        counted(stands.code),
        stands is not container,
        container.place,
        counted(container.code),
        container.code,
    )


def walking_order(bench: Bench, among: Iterable[Container] | None = None) -> list[Container]:
    """The standing containers, or some of them, in the order of the walk."""
    those = bench.standing() if among is None else among
    return sorted(those, key=lambda container: order_key(bench, container))


def wash_before(group: str, before: str) -> bool:
    """Whether hands are washed between two groups: into a dirtier one, and on the way back from
    one."""
    return group != before and (group in WASH_BEFORE or before in WASH_BEFORE)
