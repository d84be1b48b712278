"""The walking order: clean stock before new, new before suspect, suspect before sick; never back."""

from __future__ import annotations

from rounds.bench.state import Bench, Container

GROUPS = (
    "room and shelves",
    "eggs and hatchlings",
    "healthy broods",
    "females",
    "host store",
    "new stock",
    "suspects",
    "isolation",
)
WASH_BEFORE = frozenset({"new stock", "suspects", "isolation"})
_OF_PURPOSE = {
    "eggs": "eggs and hatchlings",
    "hatchlings": "eggs and hatchlings",
    "rearing": "healthy broods",
    "pupation": "healthy broods",
    "emergence": "healthy broods",
    "overwintering": "healthy broods",
    "holding": "females",
    "laying": "females",
    "pairing": "females",
    "trial": "females",
    "host store": "host store",
    "quarantine": "new stock",
    "isolation": "isolation",
}


def group_of(container: Container) -> str:
    """The hygiene group of a container."""
    if container.purpose == "isolation":
        return "isolation"
    return "suspects" if container.suspect_since else _OF_PURPOSE[container.purpose]


def order_key(bench: Bench, container: Container) -> tuple[int, int, str, int, str]:
    """Where a container stands in the walk: group, shelf, place; what stands inside another comes after it."""
    around = bench.containers.get(container.inside)
    shelf = around.shelf if around and not container.shelf else container.shelf
    place = around.place if around and not container.place else container.place
    known = bench.shelves.get(shelf)
    return GROUPS.index(group_of(container)), known.place if known else 10_000, shelf, place, container.code


def walking_order(bench: Bench) -> list[Container]:
    """The standing containers in the order of the walk."""
    return sorted(bench.standing(), key=lambda container: order_key(bench, container))
