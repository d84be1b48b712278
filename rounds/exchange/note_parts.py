"""What the sections of a life-history note are made from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import TypeVar

from rounds.entries.base import Entry
from rounds.exchange.source import Source
from rounds.tallies.broods import BroodRecord, Lookback, brood_record
from rounds.tallies.cohorts import Ended, Passage
from rounds.tallies.pedigree import forebears
from rounds.views.words import day_in_words

Line = TypeVar("Line", bound=Entry)


@dataclass(frozen=True, slots=True)
class BroodAccount:
    """A brood with all that was said of it; places as they may be told."""

    source: Source
    code: str
    taxon: str
    record: BroodRecord
    back: Lookback
    passages: tuple[Passage, ...]
    ended: tuple[Ended, ...]
    founders: tuple[str, ...]  # the wild-caught forebears
    now: datetime
    zone: tzinfo

    @property
    def either(self) -> list[str]:
        """The codes (``A or B``) of animals that may be of it or of another brood."""
        return self.back.course.unsure_codes([self.code])

    def lines(self, kind: type[Line]) -> list[Line]:
        """The lines of that kind about it."""
        lines = (entry for entry in self.source.counting if isinstance(entry, kind))
        return [entry for entry in lines if getattr(entry, "brood", "") == self.code]

    def day(self, at: datetime) -> str:
        """A local day: ``20 May 2026``."""
        return self.source.day(at)

    def moment(self, at: datetime) -> str:
        """A local day and time with its offset from UTC: ``20 May 2026, 07:04 +0200``."""
        local = at.astimezone(self.zone)
        return f"{day_in_words(local)}, {local:%H:%M %z}"


def about(source: Source, code: str) -> BroodAccount:
    """All that a note of this brood is made from."""
    back = source.tallies.look_back(source.desk.reading.series)
    record = brood_record(back.course, code)
    lines = forebears(back.course.bench, code)
    return BroodAccount(
        source,
        code,
        record.taxon,
        record,
        back,
        tuple(back.course.of([code]).passages),
        tuple(back.course.of([code]).ended),
        tuple(line for line in lines if line in back.course.bench.founders),
        source.moment.now,
        source.desk.zone,
    )
