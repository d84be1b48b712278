"""What time it is on a bench, in whose zone, and when its rounds are."""

from __future__ import annotations

from datetime import datetime, time, tzinfo
from typing import TYPE_CHECKING

from rounds.app.reading import BookReading
from rounds.bench.state import Bench
from rounds.bench.zones import other_zone, zone_not_known, zone_of_bench
from rounds.entries.entry_factory import fixed

if TYPE_CHECKING:
    from rounds.checks.round_clock import Moment

DEFAULT_ANCHORS = (("morning", time(7, 0)), ("evening", time(18, 0)))


class BenchClock:
    """The present instant as a bench has it.

    Args:
        reading: of the book, whose settings name the zone, and its clock.
        local_zone: this machine's, for a book whose settings name none.
    """

    def __init__(self, reading: BookReading, local_zone: tzinfo) -> None:
        self._reading = reading
        self.local_zone = local_zone

    @property
    def zone(self) -> tzinfo:
        """The bench's zone: the book's setting, else this machine's, or the offset in which a book
        of another machine was written."""
        return zone_of_bench(*self._zone_told)

    @property
    def zone_not_known(self) -> str:
        """That the book names no zone and was written in another than this machine's, and what to
        type; empty where its zone is known."""
        return zone_not_known(*self._zone_told)

    @property
    def other_zone(self) -> str:
        """That this machine keeps other hours than the bench, and whose are told; empty where it
        keeps the same."""
        return other_zone(self._zone_told[0], self.now(), self.local_zone)

    @property
    def _zone_told(self) -> tuple[str, datetime | None, tzinfo]:
        bench = self._reading.bench
        return bench.settings.get("zone", ""), bench.newest, self.local_zone

    def now(self) -> datetime:
        """The present instant, with the offset of the bench's zone: what is added to it is time
        that passes."""
        return fixed(self.local_now())

    def local_now(self) -> datetime:
        """The present instant in the bench's zone: what reads a date by it reads it with the offset
        of that day."""
        return self._reading.clock().astimezone(self.zone)

    def moment(self) -> Moment:
        """Now, with the bench's zone and the times of its rounds."""
        from rounds.checks.round_clock import Moment  # a line that is said wants none of the checks

        return Moment(now=self.now(), zone=self.zone, anchors=round_anchors(self._reading.bench))


def round_anchors(bench: Bench) -> tuple[tuple[str, time], ...]:
    """The rounds of the day and their local times, as the book's settings have them."""
    anchors = []
    for name, default in DEFAULT_ANCHORS:
        try:
            anchors.append((name, time.fromisoformat(bench.settings.get(name, ""))))
        except ValueError:
            anchors.append((name, default))
    return tuple(sorted(anchors, key=lambda anchor: anchor[1]))
