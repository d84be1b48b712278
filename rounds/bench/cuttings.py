"""The cuttings of host plant by plant and letter, and letters that two of them have: laptops apart
gave them, or a line said so."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import groupby

from msgspec import Struct

from rounds.bench.state import Bench, CutSpan

SAME_CUTTING = timedelta(hours=6)
MAX_CUTTINGS = 50  # that are remembered by their letter, the newest


class StandingCutting(Struct, frozen=True):
    """A cutting of which stems stand, and where."""

    plant: str
    letter: str
    cut: datetime
    places: tuple[str, ...]

    @property
    def words(self) -> str:
        """Which it is: ``bramble cut 2027-05-01 20:00 in K4``."""
        return f"{self.plant} cut {self.cut:%Y-%m-%d %H:%M} in {', '.join(self.places)}"


def cutting_key(plant: str, letter: str) -> str:
    """What a cutting is remembered by."""
    return f"{plant.casefold()}|{letter}"


def remember_cut(bench: Bench, plant: str, letter: str, cut: datetime) -> None:
    """Stems of a letter were cut then: of the cutting that has it, or of another one."""
    key = cutting_key(plant, letter)
    spans = bench.cuttings.pop(key, [])
    mine = next((span for span in spans if _is_of(span, cut)), None)
    if mine is None and spans and cut_in_store(bench, plant, letter):
        mine = spans[-1]  # from the store, whenever it was put in
    if mine is None:
        mine = CutSpan(cut, cut)
    else:
        spans.remove(mine)
        mine.first, mine.newest = min(mine.first, cut), max(mine.newest, cut)
    bench.cuttings[key] = [*spans, mine]
    for oldest in list(bench.cuttings)[:-MAX_CUTTINGS]:
        del bench.cuttings[oldest]


def standing_of(bench: Bench, letter: str, plant: str = "") -> list[StandingCutting]:
    """The cuttings of a letter of which stems stand, the oldest first."""
    found: dict[tuple[str, datetime], list[str]] = {}
    newest: dict[tuple[str, datetime], datetime] = {}
    for container in bench.standing():
        for host in container.hosts:
            if host.batch == letter and plant.casefold() in ("", host.plant.casefold()):
                spans = bench.cuttings.get(cutting_key(host.plant, letter), [])
                span = next((one for one in spans if _is_of(one, host.cut)), None)
                key = host.plant, span.first if span else host.cut
                found.setdefault(key, []).append(container.code)
                newest[key] = max(newest.get(key, host.cut), host.cut)
    return [
        StandingCutting(one, letter, newest[one, first], tuple(dict.fromkeys(places)))
        for (one, first), places in sorted(found.items(), key=lambda item: item[0][1])
    ]


def twice_given(standing: list[StandingCutting]) -> str:
    """That stems of several cuttings stand under one letter, in words."""
    number = "two" if len(standing) == 2 else str(len(standing))
    whose = "; ".join(one.words for one in standing)
    return f"{number} cuttings have the letter {standing[0].letter}: {whose}"


def letters_given_twice(bench: Bench) -> Iterator[str]:
    """Each letter under which stems of several cuttings stand, in words."""
    letters = sorted(host.batch for container in bench.standing() for host in container.hosts)
    for letter, _ in groupby(letters):
        standing = standing_of(bench, letter)
        if letter and len(standing) > 1:
            yield (
                f"{twice_given(standing)}; put a mark of your own on one of them, and say when it"
                " was cut if a line names the letter"
            )


def _is_of(span: CutSpan, cut: datetime) -> bool:
    return span.first - SAME_CUTTING <= cut <= span.newest + SAME_CUTTING


def cut_in_store(bench: Bench, plant: str, letter: str) -> datetime | None:
    """When stems of a letter were cut of which the host store has some still; None without any."""
    return next(
        (
            host.cut
            for container in bench.standing()
            if container.is_store
            for host in container.hosts
            if (host.plant.casefold(), host.batch) == (plant.casefold(), letter)
        ),
        None,
    )
