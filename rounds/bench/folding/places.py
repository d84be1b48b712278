"""How entries about containers, shelves and their care change the bench."""

from __future__ import annotations

from rounds.bench.folding.lots import container_for, odd
from rounds.bench.folding.passing import MOST_STAYS, stayed
from rounds.bench.movements import Carried
from rounds.bench.resting import rested_until
from rounds.bench.state import Bench, Container, Said, Shelf, Stay
from rounds.entries.registry import (
    Changed,
    Cleared,
    Closed,
    HandsWashed,
    LeaveBe,
    Note,
    Photo,
    SetUp,
    ShelfSetUp,
    Suspect,
)

MOST_NOTES = 3
MOST_BENCH_NOTES = 20


def set_up(bench: Bench, entry: SetUp) -> None:
    """A container takes its place, empty; a washed code may stand again."""
    if bench.at(entry.container):
        odd(bench, entry, f"{entry.container} was set up while it stood on the bench")
        return
    bench.closed.pop(entry.container, None)
    bench.containers[entry.container] = Container(
        code=entry.container,
        purpose=entry.purpose,
        since=entry.at,
        shelf=entry.shelf,
        place=entry.place,
        inside=entry.inside,
        volume_ml=entry.volume_ml,
        lid=entry.lid,
        lining=entry.lining,
        barrier=entry.barrier,
    )


def changed(bench: Bench, entry: Changed) -> list[Carried]:
    """What was given changes, the rest stays; animals in it, or in what stands in it, are carried along."""
    container = container_for(bench, entry.container, entry)
    if entry.purpose is not None and entry.purpose != container.purpose:
        for lot in container.lots:
            lot.rested = rested_until(bench, container, lot, entry.at)
    _note_since(container, entry)
    if entry.shelf is not None and entry.shelf != container.shelf:
        for lot in container.lots:
            lot.stays = stayed(lot, container, entry)
        for held in container.held:
            held.stays = (*held.stays, Stay(container.code, container.shelf, entry.at))[-MOST_STAYS:]
    for name in ("purpose", "shelf", "place", "inside", "lid", "lining", "barrier"):
        value = getattr(entry, name)
        if value is not None:
            setattr(container, name, value)
    if entry.shelf is None and entry.inside is None:
        return []
    around = [(one.code, bench.places_of(one.code)) for one in bench.standing() if one.lots]
    return [Carried(entry.at, code, places) for code, places in around if container.code in places]


def _note_since(container: Container, entry: Changed) -> None:
    """Since when it serves another purpose, stands on another shelf, or has another barrier: checks count from there."""
    if entry.purpose is not None and entry.purpose != container.purpose:
        container.purpose_since, container.purpose_before = entry.at, container.purpose
    if entry.shelf is not None and entry.shelf != container.shelf:
        container.shelf_since = entry.at
    if entry.barrier is not None and entry.barrier != container.barrier:
        container.barrier_since = entry.at


def closed(bench: Bench, entry: Closed) -> None:
    """A container leaves the bench; animals still in it by the book are an oddity."""
    container = container_for(bench, entry.container, entry)
    if container.lots:
        odd(bench, entry, f"{container.code} was closed with {container.count()} in it by the book")
        return
    if container.held:
        odd(bench, entry, f"{container.code} was closed with kept stems in it")
        return
    bench.closed[container.code] = entry.at
    del bench.containers[container.code]
    bench.put_off = [one for one in bench.put_off if one.container != container.code]


def shelf_set_up(bench: Bench, entry: ShelfSetUp) -> None:
    """A shelf; said again, its barrier, place and limits change and what was seen of it stays."""
    shelf = bench.shelves.setdefault(entry.shelf, Shelf(entry.shelf))
    if entry.barrier != shelf.barrier:
        shelf.barrier_since = entry.at
    shelf.barrier, shelf.place = entry.barrier, entry.place
    shelf.apart, shelf.cold_c, shelf.warm_c, shelf.hot_c = entry.apart, entry.cold_c, entry.warm_c, entry.hot_c


def hands_washed(bench: Bench, entry: HandsWashed) -> None:
    """Hands washed."""
    bench.hands_washed = entry.at


def leave_be(bench: Bench, entry: LeaveBe) -> None:
    """Do not disturb."""
    container = container_for(bench, entry.container, entry)
    container.leave_be_until, container.leave_be_why = entry.until, entry.why


def suspect(bench: Bench, entry: Suspect) -> None:
    """Something looks wrong."""
    container = container_for(bench, entry.container, entry)
    container.suspect_since = container.suspect_since or entry.at
    container.suspect_sign = entry.sign


def cleared(bench: Bench, entry: Cleared) -> None:
    """No longer suspect."""
    container = container_for(bench, entry.container, entry)
    container.suspect_since, container.suspect_sign = None, ""


def note(bench: Bench, entry: Note) -> None:
    """A note stands on its container's card, else on the bench."""
    said = Said(entry.at, entry.by, entry.text, entry.id)
    if entry.container:
        container = container_for(bench, entry.container, entry)
        container.notes.append(said)
        del container.notes[:-MOST_NOTES]
    else:
        bench.notes.append(said)
        del bench.notes[:-MOST_BENCH_NOTES]


def photo(bench: Bench, entry: Photo) -> None:
    """A picture stands on its container's card."""
    if entry.container:
        container = container_for(bench, entry.container, entry)
        container.photos.append(Said(entry.at, entry.by, entry.file, entry.id))
        del container.photos[:-MOST_NOTES]
