"""What a life-history note is made of, and what its sections are made from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, tzinfo

from rounds.exchange.source import Source
from rounds.tallies.broods import BroodRecord, Lookback, brood_record
from rounds.tallies.cohorts import Ended, Passage
from rounds.tallies.pedigree import forebears
from rounds.views.plots import Plot


@dataclass(frozen=True, slots=True)
class NoteTable:
    """Headings with their units, and rows of as many words."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A heading, and what stands under it."""

    title: str
    parts: tuple[str | NoteTable | Plot, ...]


@dataclass(frozen=True, slots=True)
class NoteDocument:
    """A title, and the sections below it."""

    title: str
    sections: tuple[Section, ...]


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

    def day(self, at: datetime) -> str:
        """A local day: ``2026-05-20``."""
        return f"{at.astimezone(self.zone):%Y-%m-%d}"

    def moment(self, at: datetime) -> str:
        """A local day and time with its offset from UTC: ``2026-05-20 07:04 +0200``."""
        return f"{at.astimezone(self.zone):%Y-%m-%d %H:%M %z}"


def about(source: Source, code: str) -> BroodAccount:
    """All that a note of this brood is made from."""
    back = source.tallies.look_back(source.desk.series)
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
