"""A book as its files have it by now: the bench that they give, and what of them cannot be read."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from datetime import datetime, tzinfo
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from rounds.app.entries_words import future_words
from rounds.app.unsaved import UnsavedLines
from rounds.bench.folding import says_the_same, stands_for
from rounds.bench.folding.cups_set_up_twice import means_others
from rounds.bench.instants import COUNTS_AHEAD
from rounds.bench.state import Bench
from rounds.daybook import (
    NEWER,
    Daybook,
    FileLine,
    Gaps,
    LineProblems,
    LinesRead,
    NewIds,
    NotSaved,
    Partial,
    Problem,
    Progress,
    lacking_words,
    missed_words,
    says_otherwise,
    still_broken,
)
from rounds.entries import codec as written
from rounds.entries.base import Entry
from rounds.tallies.journal import Journal

if TYPE_CHECKING:
    from rounds.app.last_checks import LastChecks
    from rounds.daybook.logger_cache import LoggerCache
    from rounds.tallies.warmth import Series

AnyRecord = TypeVar("AnyRecord")
# the containers that a change touches, each with when it was looked at last before; None where it
# may have changed anything
Touched = Mapping[str, datetime] | None
WORTH_A_CHECKPOINT = 1_000  # entries since the last one


class BookReading:
    """What one machine read of a book, and goes on reading.

    Args:
        book: the open daybook.
        clock: gives the present instant, with an offset.
        ids: of what is said here, which go on behind what is read.
        unsaved: what was said here and the disk did not take.
        progress: told how far the reading of a long book is: bytes done, of so many.
        looks_back: whether anybody will ask what went by; else that is taken up only where it is
            of an earlier time.
        last_checks: what was reckoned at the last start, held against what is read since.
    """

    def __init__(
        self,
        book: Daybook,
        *,
        clock: Callable[[], datetime],
        ids: NewIds,
        unsaved: UnsavedLines,
        progress: Progress | None,
        looks_back: bool,
        last_checks: LastChecks | None,
    ) -> None:
        self.book = book
        self.clock = clock
        self._ids = ids
        self._unsaved = unsaved
        self._progress = progress
        self._looks_back = looks_back
        self._last_checks = last_checks
        self._listeners: list[Callable[[Touched], None]] = []
        self.problems: list[str] = []  # all that was met since the book was opened, each once
        self._gaps = Gaps(book.folder)
        self.loggers_lacking: list[Problem] = []
        # what is said to have happened later than now; it counts when that comes
        self._ahead: dict[str, Entry] = {}
        # ids of what was said here and was on disk, and was not yet read back
        self._unheard: set[str] = set()
        self._looked = False
        # what others had taken out of the files and was written again last, in words
        self.brought_back = ""
        self._since_checkpoint = 0
        self._recall()

    def begin(self) -> None:
        """Read what is beyond the checkpoint."""
        self.hear()
        if self._since_checkpoint >= WORTH_A_CHECKPOINT and not self._has_journal:
            self.recall_whole()  # for a checkpoint holds what went by

    def listen(self, listener: Callable[[Touched], None]) -> None:
        """Call this after every change of the bench, with what it touched."""
        self._listeners.append(listener)

    @property
    def bench(self) -> Bench:
        """The bench as it stands."""
        return self.history.bench

    @property
    def struck(self) -> frozenset[str]:
        """The ids of entries that do not count."""
        return self.history.struck

    def bench_of(self, at: datetime | None) -> Bench:
        """The bench by which a line is held: as it stood then where something was said since, else
        as it stands.

        Codes, species, permits and settings are as they are known now.
        """
        newest = self.bench.newest
        if at is None or newest is None or at >= newest or at >= self.clock():
            return self.bench
        if self.history.left_out:
            self.recall_whole()
        then = self.history.bench_at(at)
        return then.named_as(self.bench) if then else self.bench

    def knows(self, entry_id: str) -> bool:
        """Whether a line has that id: among the newest, else anywhere in the book."""
        if self.history.left_out:
            self.recall_whole()
        if entry_id in self._ahead or self.history.knows(entry_id):
            return True
        return self.history.reaches_back and self.book.holds(entry_id)

    @property
    def has_older(self) -> bool:
        """Whether there are entries that are not among the newest."""
        return self.history.reaches_back

    @property
    def newest_entries(self) -> Iterable[Entry]:
        """The newest entries, and those of the future, struck ones among them."""
        return *self.history.tail, *self._ahead.values()

    def entries(self, *, whole: bool = False) -> tuple[Entry, ...]:
        """The newest entries, or every one there is, in the order in which they happened, struck
        ones among them, none of the future."""
        if not whole:
            return self.history.tail
        return tuple(self.book.entries(self._progress, self._until))

    @property
    def _until(self) -> datetime:
        """Until when entries count."""
        return self.clock() + COUNTS_AHEAD

    @property
    def _has_journal(self) -> bool:
        """Whether what goes by is written down."""
        return isinstance(self.history.beside, Journal)

    @property
    def journal(self) -> Journal:
        """What went by, where it is looked back."""
        journal = self.history.beside
        assert isinstance(journal, Journal)
        return journal

    def went_by(self, *kinds: type[AnyRecord]) -> Iterator[AnyRecord]:
        """Every record of these kinds of what went by and counts, in order."""
        return (record for record in self.journal.since(0) if isinstance(record, kinds))

    def series(
        self, place: str, since: datetime | None = None, until: datetime | None = None
    ) -> Series:
        """What loggers wrote of one place (a container, a shelf, '' for the room), from the files
        that reach into a span."""
        from rounds.tallies.warmth import Series

        reads = self.bench.logged.get(place)
        if not reads:
            return Series(place)
        series = self.logged.series(place, reads, since, until)
        self._tell([str(problem) for problem in self.logged.problems])
        return series

    @cached_property
    def logged(self) -> LoggerCache:
        """What loggers wrote, as the book's files have it."""
        from rounds.daybook.logger_cache import LoggerCache  # most books have none

        return LoggerCache(self.book.folder, self.book.beside)

    def _recall(self, *, anew: bool = False) -> None:
        """The bench from the checkpoint, else from the files alone."""
        until = self._until
        recalled = self.book.load(
            self._progress,
            anew=anew,
            until=until,
            looks_back=self._looks_back,
        )
        # it was kept when the clock was ahead
        if not anew and _is_later(recalled.history.bench.newest, until):
            recalled = self.book.load(self._progress, anew=True, until=until)
        self.history = recalled.history
        if self._last_checks is not None:
            self._last_checks.begin(self.book.position)
        self._ahead = {entry.id: entry for entry in recalled.ahead}
        self._partial = Partial(recalled.partial)
        self._since_checkpoint = recalled.read
        self._gaps = Gaps(self.book.folder, recalled.problems)
        self._tell_of(recalled.problems)

    def recall_whole(self) -> None:
        """Take up what was left out of the checkpoint, and what was said since."""
        self._looks_back = True
        self._recall()
        self.hear()

    def hear(self) -> bool:
        """Pick up what others wrote since the last look; True where the bench changed.

        What was said on this machine last and was taken out of the files by others is written
        again.
        """
        is_first, self._looked = not self._looked, True
        batch = self.book.new_lines()
        entries = self._read(batch)
        checks = self._last_checks
        known = checks.known_of(batch.lines, entries) if checks else None
        was_unheard = bool(self._unheard)
        self._unheard.difference_update(one.id for one in entries)
        self._unsaved.leave_out({one.id for one in entries})
        heard = self._that_count(entries)
        if checks is not None and known is not None:
            checks.touched = self._fold_since(heard, known)
        elif heard:
            self.fold(heard)
        came = self._look_at_loggers()
        looks = is_first or batch.changed or self.book.waits_for_a_copy
        if (looks or (was_unheard and self._unheard)) and self._bring_back():
            return self.hear() or bool(heard) or came
        return bool(heard) or came

    def _fold_since(self, heard: Sequence[Entry], known: Collection[str]) -> Touched:
        """Fold what was heard, and tell what those touch that are not known, folded behind the
        others."""
        history = self.history
        old = [one for one in heard if one.id in known]
        new = [one for one in heard if one.id not in known]
        if old and new and min(one.order for one in new) < max(one.order for one in old):
            self.fold(heard)
            return None
        if old:
            self.fold(old)
        touched = self._touched(new)
        if new:
            self.fold(new)
        return touched if self.history is history else None

    def saved(self, entries: Sequence[Entry]) -> None:
        """These were said here and are on disk."""
        self._unheard.update(entry.id for entry in entries)
        self.fold(entries)

    def fold(self, entries: Sequence[Entry]) -> None:
        """The bench with these; all who listen are told."""
        self._since_checkpoint += len(entries)
        touched = self._touched(entries)
        if not self.history.take(entries):
            touched = None
            # a folder that is gone just now is told when it is looked at
            with contextlib.suppress(OSError):
                if self.history.left_out:
                    self.recall_whole()
                else:
                    self._recall(anew=True)
        self._changed(touched)

    def _changed(self, touched: Touched) -> None:
        for listener in self._listeners:
            listener(touched)

    def _touched(self, entries: Sequence[Entry]) -> Touched:
        """The containers that entries change, and nothing else, before they are folded."""
        newest, seen = self.bench.newest, {}
        for entry in entries:
            code = getattr(entry, "container", "")
            container = self.bench.at(code) if code else None
            if newest is None or entry.at < newest or not entry.stays_here(self.bench):
                return None
            if means_others(self.bench, entry):
                return None
            if container is not None:
                seen[code] = container.last_look
            elif code:
                return None
        return seen

    def _look_at_loggers(self) -> bool:
        """Which loggers' files are not there as they were taken in; True where that is otherwise
        than at the last look, so that all that goes by them is reckoned again."""
        reads = [one for of_place in self.bench.logged.values() for one in of_place]
        troubles = self.logged.troubles(reads) if reads else []
        if troubles == self.loggers_lacking:
            return False
        self.loggers_lacking = troubles
        self._tell_of(troubles)
        self._changed(None)
        return True

    def _that_count(self, read: Sequence[Entry]) -> list[Entry]:
        """What was read and is not on the bench yet, and what waited for its time; an entry of the
        future waits."""
        until = self._until
        if _is_later(self.bench.newest, until):  # the clock was set back
            self._recall(anew=True)
        read = self._partial.take(read)
        fresh = (
            [
                one
                for one in read
                if (held := self.history.held(one.id)) is None or stands_for(one, held)
            ]
            if read
            else []
        )
        self._ahead |= {one.id: one for one in fresh if one.at > until}
        come = [one for one in self._ahead.values() if one.at <= until]
        for one in come:
            del self._ahead[one.id]
        return [entry for entry in fresh if entry.at <= until] + come

    def _read(self, batch: LinesRead) -> list[Entry]:
        self._gaps.looked(batch)
        self._tell_of(batch.problems)
        heard: list[Entry] = []
        odd = LineProblems()
        for line in batch.lines:
            try:
                entry = written.read(line.raw)
            except written.NotRead as reason:
                odd.meet(Problem(line.file, line.number, str(reason), gap=True))
                continue
            if entry is None:
                odd.meet(Problem(line.file, line.number, NEWER, gap=True))
                continue
            self._compare(entry, line)
            heard.append(entry)
        self._gaps.met(odd.all())
        self._tell_of(odd.all())
        if self._ids.is_begun:
            self._ids.follow([entry.id for entry in heard], self.clock())
        return heard

    def _compare(self, entry: Entry, line: FileLine) -> None:
        """Whether a line says otherwise than another under its id."""
        known = self.history.held(entry.id)
        if known is None or says_the_same(known, entry):
            return
        others = [
            place for place in self.book.places_of(entry.id) if place != (line.file, line.number)
        ]
        if others:
            odd = says_otherwise(
                line.file,
                line.number,
                entry.id,
                others[0],
                counts=stands_for(entry, known),
                at_once=entry.at == known.at,
            )
            self._gaps.met([odd])
            self._tell_of([odd])

    def _bring_back(self) -> bool:
        """Write again what was said here and stands nowhere any more; True where there was any."""
        try:
            lost = self.book.taken_out()
        except OSError:
            return False
        self._unheard &= lost.keys()
        if not lost:
            return False
        try:
            self.book.append_lines(list(lost.values()))
        except NotSaved:
            return False
        self._unheard.update(lost)
        self.brought_back = (
            f"{len(lost)} of the lines recorded here had been taken out of the book by others;"
            f" written again{self._for_good()}"
        )
        self._tell([self.brought_back])
        return True

    def _for_good(self) -> str:
        """How a book is removed for good, where nothing of it is here but what this machine
        remembers."""
        if self.book.beside is None or self.bench.newest is not None:
            return ""
        return f"; to remove a book for good delete its folder and {self.book.beside}.*"

    @property
    def of_the_future(self) -> tuple[Entry, ...]:
        """Entries that are said to have happened later than now, struck ones among them; they do
        not count until then."""
        return tuple(sorted(self._ahead.values(), key=lambda entry: entry.order))

    @property
    def partial(self) -> list[Entry]:
        """Every line that does not count, for it came without others of which all count or none."""
        return self._partial.entries()

    @property
    def not_whole(self) -> list[list[Entry]]:
        """Lines of which all count or none, and of which others are not here; none of them counts.
        A list a set, the newest last."""
        return list(self._partial.missed(self.bench.imports, self.struck, self.bench.strikes))

    def gaps(self, zone: tzinfo) -> list[str]:
        """What of the book cannot be read now: as long as there is any, what is told from it may
        lack something.

        Args:
            zone: in which instants are told.
        """
        waiting = [entry for entry in self.of_the_future if entry.id not in self.struck]
        future = [future_words(waiting, zone)] if waiting else []
        loggers = [one for one in map(str, self.loggers_lacking) if one not in self.book.accepted]
        return [*self._unsaved.gaps, *future, *self.lines_lacking, *loggers]

    @property
    def lines_lacking(self) -> list[str]:
        """Of which lines nobody can know now what they say, in words; a gap each."""
        told = (*self._gaps.told(), *map(lacking_words, self.bench.lacking))
        return [
            *map(missed_words, self.not_whole),
            *(one for one in told if one not in self.book.accepted),
        ]

    @property
    def is_all(self) -> bool:
        """Whether another who reads the same files finds the same and has nothing to tell."""
        told = self.brought_back or self.book.instead or self.book.cannot_remember
        waits = self._ahead or self.partial or self._unsaved.entries or self.book.waits_for_a_copy
        return not (told or waits or self.book.apart)

    def read_back(self) -> bool:
        """Read again what was said here; whether all of it is in the files."""
        if self._unheard:
            with contextlib.suppress(OSError):  # a folder that is gone just now
                self.hear()
        return not self._unheard

    def tell_what_is_not_remembered(self) -> None:
        """That this machine cannot remember things of the book, where it is so."""
        self._tell(list(filter(None, (self.book.instead, self.book.cannot_remember))))

    def _tell_of(self, problems: Iterable[Problem]) -> None:
        self._tell(
            [
                text
                for problem in still_broken(self.book.folder, problems)
                if problem.text != NEWER and (text := str(problem)) not in self.book.accepted
            ]
        )

    def _tell(self, problems: Sequence[str]) -> None:
        known = set(self.problems)
        self.problems += [one for one in dict.fromkeys(problems) if one not in known]

    def to_keep(self) -> Callable[[], object] | None:
        """What writes a checkpoint, to be called in any thread; None where too little was said
        since the last.

        A checkpoint holds what the lines hold. So there is none where something on the bench is not
        in the files any more.
        """
        if self._since_checkpoint < WORTH_A_CHECKPOINT or not self._has_journal:
            return None
        self.hear()
        if self.book.apart or self._unheard:
            return None
        self._since_checkpoint = 0
        if self._last_checks is not None:
            self._last_checks.go_on(self.book.position)
        return self.book.to_keep(
            self.history.kept(),
            self._gaps.lines,
            list(self._ahead.values()),
            self._partial.entries(),
        )

    def rest(self) -> None:
        """Write a checkpoint where enough was said since the last: for when nobody waits for a
        key."""
        keep = self.to_keep()
        if keep:
            keep()


def _is_later(newest: datetime | None, until: datetime) -> bool:
    return newest is not None and newest > until
