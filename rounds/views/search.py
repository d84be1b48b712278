"""Finding anything by its words: containers, founders and broods, plants, permits, notes and
photos."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, tzinfo

from msgspec import Struct

from rounds.bench.codes import in_order
from rounds.bench.state import Bench, Container
from rounds.entries.base import Entry
from rounds.entries.check_labels import called
from rounds.entries.registry import Note, Photo
from rounds.entries.wording import saying
from rounds.views.bench_page import stock_words
from rounds.views.cells import Cell, Column, Row, row_of
from rounds.views.queries import with_words
from rounds.views.words import day_and_time, literal

COLUMNS = (Column("what", 9), Column("name", 17), Column("about", 30, grows=1))
MOST = 200
OLDER = "older"  # the row that reads the whole book


class SearchHit(Struct, frozen=True):
    """Something that can be found, and where it leads: to a container, to lines of the daybook, or
    to one line."""

    sort: str
    name: str
    about: str
    leads: tuple[str, str]  # container, words or entry; and which

    @property
    def key(self) -> str:
        """What tells it from all others."""
        return f"{self.leads[0]}|{self.leads[1]}|{self.sort}"


def things(
    bench: Bench, entries: Iterable[Entry], struck: frozenset[str], zone: tzinfo, now: datetime
) -> tuple[SearchHit, ...]:
    """All that can be found; notes and photos among those entries, the newest first."""
    search_hits = [
        *_containers(bench),
        *_shelves(bench),
        *_animals(bench),
        *_plants(bench),
        *_papers(bench),
    ]
    written = [
        entry for entry in entries if isinstance(entry, Note | Photo) and entry.id not in struck
    ]
    written.sort(key=lambda entry: entry.order, reverse=True)
    for entry in written:
        sort = "note" if isinstance(entry, Note) else "photo"
        search_hits.append(
            SearchHit(sort, day_and_time(entry.at, zone, now), saying(entry), ("entry", entry.id))
        )
    return tuple(search_hits)


def _containers(bench: Bench) -> Iterator[SearchHit]:
    for container in bench.standing():
        code, about = container.code, _container_words(bench, container)
        yield SearchHit("container", code, about, ("container", code))
    for code in bench.closed:
        if bench.at(code) is None:
            yield SearchHit("container", code, "closed and washed", ("words", code))


def _container_words(bench: Bench, container: Container) -> str:
    hosts = ", ".join(f"{host.plant} {host.part}".strip() for host in container.hosts)
    broods = ", ".join(sorted({lot.brood for lot in container.lots}, key=in_order))
    purpose, shelf = called(container.purpose), container.shelf and f"shelf {container.shelf}"
    # what is looked for first, for a list may have no room for the rest
    parts = (stock_words(bench, container), hosts, purpose, shelf, broods)
    return ", ".join(filter(None, (*parts, _barrier(container.barrier))))


def _shelves(bench: Bench) -> Iterator[SearchHit]:
    for name, shelf in bench.shelves.items():
        yield SearchHit("shelf", name, _barrier(shelf.barrier), ("words", name))


def _barrier(barrier: str | None) -> str:
    return "" if barrier in (None, "none") else called(str(barrier))


def _animals(bench: Bench) -> Iterator[SearchHit]:
    for code, founder in bench.founders.items():
        about = ", ".join(part for part in (founder.taxon, founder.sex, founder.place) if part)
        yield SearchHit("founder", code, about, ("words", code))
    for code in bench.broods:
        mothers = ", ".join(bench.broods[code].mothers)
        about = f"{bench.taxon_of(code)}{f', of {mothers}' if mothers else ''}"
        yield SearchHit("brood", code, about, ("words", code))


def _plants(bench: Bench) -> Iterator[SearchHit]:
    standing: dict[str, list[str]] = {name: [] for name in bench.plants}
    for container in bench.standing():
        for host in container.hosts:
            standing.setdefault(host.plant, []).append(container.code)
    for name, codes in standing.items():
        about = f"in {', '.join(dict.fromkeys(codes))}" if codes else "in no container now"
        yield SearchHit("plant", name, about, ("words", name))


def _papers(bench: Bench) -> Iterator[SearchHit]:
    for number, permit in bench.permits.items():
        about = ", ".join(filter(None, (permit.body, permit.taxon)))
        yield SearchHit("permit", number, about, ("words", number))


def found(all_things: Iterable[SearchHit], words: str) -> tuple[SearchHit, ...]:
    """Those that have all the words; a name that begins with them first."""
    query_instance = with_words(words)
    fits = [
        search_hit
        for search_hit in all_things
        if query_instance({"text": f"{search_hit.sort} {search_hit.name} {search_hit.about}"})
    ]
    begins = words.strip().casefold()
    return tuple(
        sorted(fits, key=lambda hit: not (begins and hit.name.casefold().startswith(begins)))[:MOST]
    )


def rows_of(listed: Iterable[SearchHit], *, older: bool) -> tuple[Row, ...]:
    """A line for each; last, where there are older notes, one that reads them too."""
    rows = [
        row_of(
            search_hit.key,
            Cell(search_hit.sort, "quiet"),
            Cell(literal(search_hit.name), "strong"),
            literal(search_hit.about),
        )
        for search_hit in listed
    ]
    if older:
        rows.append(
            row_of(OLDER, "older", "", Cell("Enter looks through older notes too", "quiet"))
        )
    return tuple(rows)
