"""What an export is made from: the book, places as they may be told, and how far it has come."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from functools import cached_property
from itertools import chain, pairwise
from typing import TextIO, TypeVar

from rounds.app.desk import Desk
from rounds.bench.codes import members, one_of
from rounds.bench.folding import effective_entries
from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench
from rounds.bench.taxon_names import full_name
from rounds.checks.round_clock import Moment
from rounds.entries.base import Entry, Sex, Stage
from rounds.entries.phrase.killed_for import says_killed
from rounds.entries.registry import FounderIntake, Note, Preserved, Released, Stocked
from rounds.exchange.localities import PlaceGuard
from rounds.grouping import grouped
from rounds.tallies.broods import Lookback
from rounds.tallies.cohorts import Cohort
from rounds.tallies.interchangeable import Interchangeable
from rounds.tallies.mean_temperature import CourseTemperatures
from rounds.tallies.rearing import plain_stage
from rounds.tallies.stood_before import StoodBefore, broods_meant
from rounds.tallies.tallies import Tallies
from rounds.views.settings import full_name_of, full_names_of
from rounds.views.words import day_in_words

LISTED = " | "  # between the values of a list, as Darwin Core recommends
EVERY = 10_000  # rows between two words on how far it has come
T = TypeVar("T")
Progress = Callable[[str, int], None]


def quiet(what: str, done: int) -> None:
    """Say nothing of how far it has come."""
    del what, done


def telling(out: TextIO) -> Progress:
    """Says how far it has come: on one line of a terminal, else on lines."""

    def tell(what: str, done: int) -> None:
        begin, end = ("\r", "") if out.isatty() else ("", "\n")
        out.write(f"{begin}  {what}: {done:,}{end}")
        out.flush()

    return tell


class Source:
    """A book to be exported.

    Args:
        desk: at the open book.
        exact: whether exact places of protected taxa were asked for.
        progress: told how far it has come.
    """

    def __init__(self, desk: Desk, *, exact: bool = False, progress: Progress = quiet) -> None:
        self.desk = desk
        self.bench: Bench = desk.bench
        self.moment: Moment = desk.moment()
        waiting = (*desk.reading.of_the_future, *desk.reading.partial)
        uncounted = [one for one in waiting if one.id not in desk.struck]
        here = self._whole if desk.struck else ()
        self.struck = [one for one in (*here, *waiting) if one.id in desk.struck]
        self.guard = PlaceGuard(
            desk.bench,
            exact=exact,
            uncounted=uncounted,
            struck=self.struck,
            is_whole=not desk.reading.lines_lacking,
        )
        self.measures: Measures = measures_of(desk.bench.settings)  # of what goes out to be read
        self.pictures_left: dict[str, list[str]] = {}  # names of those that cannot leave, by why
        self._progress = progress

    @cached_property
    def _whole(self) -> tuple[Entry, ...]:
        return self.desk.entries(whole=True)

    @cached_property
    def entries(self) -> tuple[Entry, ...]:
        """Every entry there is, in order, struck ones among them; places as they may be told."""
        known = sorted(
            {
                entry.id: entry for entry in (*self._whole, *self.desk.reading.of_the_future)
            }.values(),
            key=lambda entry: entry.order,
        )
        whose = self._whose()
        return tuple(
            self.guard.entry(entry, whose.get(entry.id, ()))
            for entry in self.counted("lines read", known)
        )

    def _whose(self) -> dict[str, tuple[str, ...]]:
        """By release that names no brood: the broods that it can be of."""
        found = {one.line: one.broods for one in self.desk.reading.went_by(StoodBefore)}
        for one in self.desk.reading.of_the_future:
            container = self.bench.at(one.container) if isinstance(one, Released) else None
            if isinstance(one, Released) and container and one.id not in self.desk.struck:
                found[one.id] = broods_meant(container, one)
        return found

    @cached_property
    def book(self) -> str:
        """By what this book is known again: the id of the line that was typed first, whenever it
        happened."""
        return self.desk.book.known_by(min((entry.id for entry in self.entries), default=""))

    @cached_property
    def counting(self) -> list[Entry]:
        """Every entry that counts, in order; places as they may be told. A specimen that was not
        there when its line kept it leaves as none: the misfit is told until it is mended."""
        waiting = {entry.id for entry in self.desk.reading.of_the_future}
        unfit = {one.entry for one in self.bench.misfits}
        return [
            entry
            for entry in effective_entries(self.entries)
            if entry.id not in waiting and not (entry.id in unfit and self._kept_none(entry))
        ]

    def _kept_none(self, entry: Entry) -> bool:
        return isinstance(entry, Preserved) and not self.cohorts_of_lines.get(entry.id)

    @cached_property
    def tallies(self) -> Tallies:
        """What went by, added up; it tells no exact place."""
        return self.desk.reckoning.tallies

    @cached_property
    def interchangeable(self) -> Interchangeable:
        """Which adults those that left, and those that are here, may have been."""
        return Interchangeable(self.tallies.course)

    @cached_property
    def cohorts_of_lines(self) -> dict[str, list[Cohort]]:
        """By line the animals that it moved on to another stage, or off the bench, as they are
        followed."""
        course = self.tallies.course
        moved = [(one.entry, one.cohort) for one in course.passages]
        return grouped([*moved, *((one.entry, one.cohort) for one in course.ended)])

    def young_caught(self) -> Iterator[tuple[FounderIntake, int]]:
        """The catch of all that were taken from the wild and came in as stock, under the code of
        their brood, and how many came in so."""
        numbers = {one.id: one.number for one in self.counting if isinstance(one, Stocked)}
        for catch in chain(*self.bench.catches.values()):
            yield catch, numbers.get(catch.id, 0)

    @cached_property
    def _beside(self) -> dict[str, str]:
        """By line the note that was typed with it, which follows it."""
        return {
            one.id: note.text
            for one, note in pairwise(self.counting)
            if isinstance(note, Note)
            and (note.at, note.logged) == (one.at, one.logged)
            and note.container == getattr(one, "container", "")
        }

    def how_it_died(self, entry: Preserved) -> str:
        """How specimens of a line died, as it or the note that was typed with it says; '' where
        neither does."""
        if entry.cause:
            return "found dead"
        is_said = says_killed(self._beside.get(entry.id, ""))
        return "killed for the collection" if is_said else ""

    def whose(self, entry: Entry) -> str:
        """The founder or brood of a line's animals: as it says, else as they are followed; ``A or
        B`` where nobody knows; empty where it moved none."""
        said = getattr(entry, "brood", "")
        return said or one_of(cohort.brood for cohort in self.cohorts_of_lines.get(entry.id, ()))

    def stage_of(self, entry: Entry) -> Stage | None:
        """The stage of a line's animals: as it says, else as they are followed."""
        said: Stage | None = getattr(entry, "stage", None)
        names = [cohort.stage for cohort in self.cohorts_of_lines.get(entry.id, ())]
        return said or (plain_stage(names[0]) if names else None)

    def sex_of(self, entry: Entry) -> Sex:
        """The sex of a line's animals: as it says, else that of all that are followed; empty where
        they are of both, or it is not known."""
        said: Sex = getattr(entry, "sex", "")
        sexes = {cohort.sex for cohort in self.cohorts_of_lines.get(entry.id, ())}
        return said or (sexes.pop() if len(sexes) == 1 else "")

    @cached_property
    def look_back(self) -> Lookback:
        """The course of every animal with its temperatures and plants."""
        return self.desk.reckoning.look_back()

    @property
    def warmth(self) -> CourseTemperatures:
        """How warm it was for the animals."""
        return self.look_back.warmth

    def full_name(self, said: str) -> str:
        """Keepers or collectors by full name, as the setting ``names`` has it, else as typed; for a
        text."""
        return full_name_of(self.bench.settings, said)

    def listed_names(self, said: str) -> str:
        """The same for a field: several as Darwin Core lists them."""
        return LISTED.join(full_names_of(self.bench.settings, said))

    @property
    def holder(self) -> str:
        """Whose record it is, by full name."""
        return self.bench.settings.get("holder", "") or self.full_name(self.desk.keeper)

    def determiner(self, entry: object) -> str:
        """Who determined a specimen, as typed: as its line says, else as the setting has it."""
        return getattr(entry, "determiner", "") or self.bench.settings.get("determiner", "")

    def name_of(self, code: str) -> str:
        """The name of a founder's or brood's taxon, in full where a short one was typed for it; of
        several ``A or B``."""
        return self.name_in_full(self.bench.taxon_of(code))

    def name_in_full(self, taxon: str) -> str:
        """The name of a taxon, of each of several, in full where a short one was typed for it."""
        return one_of(full_name(member, self.bench.taxa.values()) for member in members(taxon))

    def day(self, at: datetime) -> str:
        """The local day of an instant: ``20 May 2026``."""
        return day_in_words(at.astimezone(self.moment.zone))

    def counted(self, what: str, rows: Iterable[T]) -> Iterator[T]:
        """The same rows, with words on how far it has come."""
        for number, row in enumerate(rows, start=1):
            if number % EVERY == 0:
                self._progress(what, number)
            yield row
