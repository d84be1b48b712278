"""Lots of kept stems: how each is named in the book, and which of them a keeper means by digits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from rounds.bench.state import Bench, Container, Held

ALL = "all"
# A search belongs to the stems that come out, or came out, this near to it; our estimate.
SAME_STOP = timedelta(minutes=30)


def kept_lots(bench: Bench) -> Iterator[tuple[Container, Held]]:
    """Every kept lot on the bench, with the container that it is in."""
    for container in bench.containers.values():
        for held in container.held:
            yield container, held


def new_name(bench: Bench, source: str, batch: str, taken_out: datetime) -> str:
    """A name that no kept lot has: where the stems stood, their batch, and when they came out, by the keeper's clock."""
    return unused(bench, " ".join(part for part in (source, batch, f"{taken_out:%m-%d %H:%M}") if part))


def unused(bench: Bench, name: str) -> str:
    """That name, or with a number behind it if a kept lot has it already."""
    known = {held.lot for _, held in kept_lots(bench)}
    number, found = 2, name
    while found in known:
        found, number = f"{name} ({number})", number + 1
    return found


def named(bench: Bench, container: Container, names: Sequence[str]) -> list[tuple[Container, Held]]:
    """The kept lots of those names, each with where it is: in this container first, else wherever it was moved to."""
    found = []
    for name in dict.fromkeys(names):
        here = next(((container, held) for held in container.held if held.lot == name), None)
        there = here or next((one for one in kept_lots(bench) if one[1].lot == name), None)
        if there:
            found.append(there)
    return found


def in_order(held: list[Held]) -> None:
    """Lots stand by when they were taken out: lot 1 is the oldest."""
    held.sort(key=lambda one: (one.taken_out, one.lot))


def names_meant(container: Container, said: Sequence[str]) -> tuple[str, ...]:
    """The names of the lots meant by digits, names or 'all'; what fits none stays as it was typed."""
    if any(one.casefold() == ALL for one in said):
        return tuple(held.lot for held in container.held)
    return tuple(
        container.held[int(one) - 1].lot if one.isdecimal() and 1 <= int(one) <= len(container.held) else one for one in said
    )


def digits(container: Container) -> str:
    """The lots of a container by digit, in words: ``lot=1 (violet A from K3), lot=2 ...``."""
    return ", ".join(f"lot={place} ({told(held)})" for place, held in enumerate(container.held, 1))


def told(held: Held) -> str:
    """A lot in a few words: ``violet A from K3``."""
    return f"{held.plant} {held.batch}".strip() + f" from {held.source}"


def came_out_just_now(bench: Bench, container: Container, at: datetime) -> tuple[Container, list[Held]] | None:
    """The stems that came out of a container at this stop, while all that stands in it was put in since.

    Returns:
        Where they are kept, and which; None if nothing came out, or not all of it went to one place.
    """
    lots = [
        (keeper, held)
        for keeper, held in kept_lots(bench)
        if held.source == container.code and timedelta(0) <= at - held.taken_out <= SAME_STOP
    ]
    if not lots or len({keeper.code for keeper, _ in lots}) > 1:
        return None
    newest = max(held.taken_out for _, held in lots)
    if any(host.put_in < newest for host in container.hosts):
        return None
    return lots[0][0], [held for _, held in lots]
