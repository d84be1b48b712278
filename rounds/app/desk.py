"""The one door: an intent comes in, is checked, written, folded, and told onward.

Screens and shell say everything through a desk and read everything from its bench. It has a room
for each part of that: ``reading`` the book, ``reckoning`` what is due and coming, ``proposals`` of
what would be written, and what is ``unsaved``.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Sequence
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING, Any

from rounds.app.bench_clock import BenchClock
from rounds.app.entries_words import entries_words, misfits_words, undone_words
from rounds.app.kept_list import KeptList
from rounds.app.outcomes import Outcome, Recorded, Refusal, Unsaved
from rounds.app.proposals import Proposals, together
from rounds.app.reading import BookReading
from rounds.app.reckoning import BenchReckoning
from rounds.app.unsaved import UnsavedLines
from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench, Round
from rounds.daybook import Daybook, NewIds, NotSaved, Progress
from rounds.entries import codec as written
from rounds.entries.base import Entry, Saying
from rounds.entries.registry import CrossedOut, RoundFinished, RoundStarted, Setting

if TYPE_CHECKING:
    from rounds.app.last_checks import LastChecks
    from rounds.checks.due_state import Due
    from rounds.checks.round_clock import Moment
    from rounds.checks.short_round import ShortRound
    from rounds.forecasts.foresight import Forecasts

MAX_MINE = 2_000  # how many answers back 'strike last' goes; older ones are struck in the daybook


class Desk:
    """One keeper at one book.

    Args:
        book: the open daybook.
        clock: gives the present instant, with an offset.
        entropy: gives that many random bytes, for ids.
        zone: this machine's, for a book whose settings name none.
        keeper: initials that go with every entry.
        progress: told how far the reading of a long book is: bytes done, of so many.
        looks_back: whether anybody will ask what went by; a command that says one thing does not,
            and takes that up only where it is of an earlier time.
        tells_checks: whether anybody will ask what is due, so that what this machine reckoned last
            is taken up.
    """

    def __init__(
        self,
        book: Daybook,
        *,
        clock: Callable[[], datetime],
        entropy: Callable[[int], bytes],
        zone: tzinfo,
        keeper: str,
        progress: Progress | None = None,
        looks_back: bool = True,
        tells_checks: bool = False,
    ) -> None:
        self.book = book
        self._keeper = keeper
        self._mine: list[tuple[str, ...]] = []  # ids of what was said here, answer by answer
        last_checks = _last_checks(book) if tells_checks else None
        ids = NewIds(entropy)
        self.unsaved = UnsavedLines(book)
        self.listed = KeptList(book)
        self.reading = BookReading(
            book,
            clock=clock,
            ids=ids,
            unsaved=self.unsaved,
            progress=progress,
            looks_back=looks_back,
            last_checks=last_checks,
        )
        self.clock = BenchClock(self.reading, zone)
        self.reckoning = BenchReckoning(self.reading, self.clock, last_checks)
        self.proposals = Proposals(
            self.reading, self.clock, ids, lambda: self.keeper, self.reckoning.forecasts_of
        )
        self.reading.begin()
        self._take_up_unsaved()
        self.reading.tell_what_is_not_remembered()
        self.reading.rest()

    @property
    def bench(self) -> Bench:
        """The bench as it stands."""
        return self.reading.bench

    def bench_of(self, at: datetime | None) -> Bench:
        """The bench by which a line of then is held."""
        return self.reading.bench_of(at)

    @property
    def struck(self) -> frozenset[str]:
        """The ids of entries that do not count."""
        return self.reading.struck

    def entries(self, *, whole: bool = False) -> tuple[Entry, ...]:
        """The newest entries, or every one there is."""
        return self.reading.entries(whole=whole)

    def hear(self) -> bool:
        """Pick up what others wrote since the last look; True where the bench changed."""
        return self.reading.hear()

    def listen(self, listener: Callable[[], None]) -> None:
        """Call this after every change of the bench."""
        self.reading.listen(lambda _: listener())

    @property
    def zone(self) -> tzinfo:
        """The bench's zone."""
        return self.clock.zone

    def now(self) -> datetime:
        """The present instant, with the offset of the bench's zone."""
        return self.clock.now()

    def moment(self) -> Moment:
        """Now, with the bench's zone and the times of its rounds."""
        return self.clock.moment()

    def dues(self, moment: Moment | None = None) -> list[Due]:
        """Every check of the bench, due or ahead at a moment; now where none is given."""
        return self.reckoning.dues(moment)

    @property
    def foresight(self) -> Forecasts:
        """What is coming on the bench as it stands."""
        return self.reckoning.foresight

    @property
    def keeper(self) -> str:
        """The initials that go with every entry."""
        return self._keeper or self.bench.settings.get("keeper", "")

    @property
    def measures(self) -> Measures:
        """The units in which numbers are told and typed."""
        return measures_of(self.bench.settings)

    @property
    def codes(self) -> list[str]:
        """Every container code that was ever used: those that stand, then those that were
        washed."""
        return [*self.bench.containers, *self.bench.closed]

    @property
    def gaps(self) -> list[str]:
        """What of the book cannot be read now: as long as there is any, what is told from it may
        lack something."""
        return self.reading.gaps(self.zone)

    @property
    def is_settled(self) -> bool:
        """Whether another desk that is opened at the same files finds the same and has nothing to
        tell: all counts that is there, and nothing waits."""
        return self.reading.is_all and not (self.clock.zone_not_known or self.gaps)

    def keep_checks(self) -> None:
        """Remember on this machine what was reckoned, for the next start; where something on the
        bench is not in the files nothing is."""
        if self.reading.read_back() and self.is_settled:
            self.reckoning.keep_checks()

    def record(self, kind: type[Entry], at: datetime | None = None, **fields: Any) -> Outcome:
        """Say one thing: when it happened (now where not given) and the fields of its kind."""
        return self.say_many([(kind, fields)], at)

    def say_many(self, sayings: Sequence[Saying], at: datetime | None = None) -> Outcome:
        """Say several things that belong to one answer: all are kept, or none where one is
        refused."""
        if any(kind is CrossedOut for kind, _ in sayings):
            self.hear()  # of one line others may have crossed out the same
        entries = self.prepare(sayings, at)
        return entries if isinstance(entries, Refusal) else self._keep(entries)

    def prepare(
        self, sayings: Sequence[Saying], at: datetime | None = None
    ) -> list[Entry] | Refusal:
        """What saying these would write, or why one of them cannot be said; nothing is written."""
        return self.proposals.prepare(sayings, at)

    def take_in(
        self, entries: Sequence[Entry], crossed_out: Sequence[str], said: Sequence[Saying]
    ) -> Outcome:
        """Take in lines of old records that were held against a bench of their own, and cross out
        what these records no longer say: all of it, or nothing.

        Args:
            entries: built under ids of their content, none of them in the book yet.
            crossed_out: ids of lines that are in the book and count.
            said: what is said now, such as from where they are.
        """
        now = self.now()
        strikes: list[Saying] = [(CrossedOut, {"entry": one}) for one in crossed_out]
        ours = [self.proposals.built(kind, fields, now, now) for kind, fields in (*said, *strikes)]
        return self._keep(together([*ours, *entries]))

    def _keep(self, entries: list[Entry]) -> Outcome:
        self.retry()
        is_first = self.bench.newest is None and not self.gaps and not self.unsaved.entries
        says_it = any(isinstance(one, Setting) and one.name == "zone" for one in entries)
        named = (
            self.proposals.name_zone(min(entry.at for entry in entries), before=entries[0].logged)
            if is_first and not says_it
            else []
        )
        before = Bench(taxa=dict(self.bench.taxa), permits=dict(self.bench.permits))
        fitted = {(misfit.entry, misfit.text) for misfit in self.bench.misfits}
        try:
            self._write([*named, *entries])
        except NotSaved as trouble:
            self.unsaved.add([*named, *entries], str(trouble))
            return Unsaved(tuple(entries), self.unsaved.trouble)
        new = [one for one in self.bench.misfits if (one.entry, one.text) not in fitted]
        beside = [misfits_words(new, entries[-1])] if new else []
        struck = {one.crosses_out for one in entries if one.crosses_out}
        if struck:
            from rounds.entries.taken_back import taken_back_words

            ahead = [one for one in self.reading.of_the_future if one.id in struck & self.struck]
            beside += taken_back_words(before, self.bench, ahead)
        if beside:
            self.say_beside(entries[-1], "; ".join(beside))
        self._mine.append(tuple(entry.id for entry in entries))
        del self._mine[:-MAX_MINE]
        return Recorded(tuple(entries))

    def _write(self, entries: Sequence[Entry]) -> None:
        name = self.book.writer.name
        self.book.append_many([written.write(entry) for entry in entries])
        self._saved(entries)
        self.reading.tell_what_is_not_remembered()
        if self.book.writer.name != name:  # its file is not as it was left: others have been there
            self.hear()

    def _saved(self, entries: Sequence[Entry]) -> None:
        """These are on disk.

        A book that they leave without the zone it named is given this machine's; one that came
        from elsewhere without any is not.
        """
        is_named = bool(self.bench.settings.get("zone"))
        self.reading.saved(entries)
        if is_named and not self.bench.settings.get("zone"):
            with contextlib.suppress(NotSaved):
                self._write(self.proposals.name_zone(entries[-1].at))

    def retry(self) -> bool:
        """Try again to save what could not be saved; True where nothing is left unsaved."""
        saved = self.unsaved.save()
        if saved:
            self._saved(saved)
        return not self.unsaved.entries

    def _take_up_unsaved(self) -> None:
        """What was kept until the book takes it."""
        self.unsaved.take_up()
        if not self.retry():
            self.reading.problems.append(self.unsaved.still_waits())

    def strike(self, entry_id: str, why: str = "") -> Outcome:
        """Strike one line: it stays in the daybook and no longer counts."""
        return self.record(CrossedOut, entry=entry_id, why=why)

    def bring_back(self, entry_id: str, why: str = "") -> Outcome:
        """Make a crossed-out line count again, however often it was crossed out."""
        self.hear()
        strike = self._strike_of(entry_id)
        if not strike:
            return Refusal("that line is not crossed out; it counts")
        return self.strike(strike, why)

    def _strike_of(self, entry_id: str) -> str:
        """The id of a line that crosses out another and counts; '' where there is none."""
        strikes = self.bench.strikes.items()
        found = (one for one, target in strikes if target == entry_id and one not in self.struck)
        return next(found, "")

    @property
    def undoes(self) -> tuple[str, ...]:
        """The ids of the lines that an undo would cross out; none where they were already."""
        return tuple(one for one in (self._mine or [()])[-1] if one not in self.struck)

    def strike_last(self, why: str = "") -> Outcome:
        """Strike what was said last at this desk; where others did so meanwhile, that is told and
        nothing older is struck."""
        if not self._mine:
            return Refusal(
                "Nothing recorded since the start. y opens the daybook; x there crosses a line out,"
                " as does 'cross out' with its id."
            )
        self.hear()
        ids = self._mine.pop()
        standing = [one for one in ids if one not in self.struck]
        if not standing:
            return Refusal(self._undone_already(ids[-1]))
        strikes = self.prepare(
            [(CrossedOut, {"entry": one, "why": why}) for one in reversed(standing)]
        )
        outcome = strikes if isinstance(strikes, Refusal) else self._keep(together(strikes))
        if isinstance(outcome, Recorded):
            self._mine.pop()
        return outcome

    def _undone_already(self, entry_id: str) -> str:
        """That what was said last was crossed out, or brought back, by somebody else."""
        held = self.reading.history.held
        entry, strike = held(entry_id), held(self._strike_of(entry_id))
        return undone_words(self.told([entry]) if entry else "", strike.by if strike else "")

    def told(self, entries: Sequence[Entry]) -> str:
        """What these entries say in words; a strike says what it struck, a count how it stands to
        the record."""
        return entries_words(
            entries, lambda: self.reading.newest_entries, self.measures, self.aside
        )

    def say_beside(self, entry: Entry, words: str) -> None:
        """Tell something beside an entry that was just recorded, when it is told."""
        self.proposals.asides[entry.id] = words

    def aside(self, entry: Entry) -> str:
        """How a count just drafted or said stands to the record, in brackets; '' where there is
        nothing to say."""
        aside = self.proposals.asides.get(entry.id)
        return f" ({aside})" if aside else ""

    @property
    def open_round(self) -> Round | None:
        """The round that is under way; None where the last was ended, or left some hours ago."""
        walk = self.bench.open_round
        return walk if walk and walk.goes_on(self.now()) else None

    def start_round(self, name: str = "", minutes: float = 0) -> Outcome:
        """Begin a walk; its name is that of the nearest round of the day where none is given.

        Where it cannot be saved it is not begun.

        Args:
            minutes: that there are: what saves most in them is asked first, the rest if time is
                left; 0 for all of it.
        """
        limited: dict[str, Any] = (
            {"minutes": minutes, "later": self.short_round(minutes).later} if minutes else {}
        )
        were_kept = self.unsaved.are_kept
        outcome = self.record(RoundStarted, name=name or self.moment().name_of_round(), **limited)
        if not isinstance(outcome, Unsaved):
            return outcome
        # nothing was seen; it is begun anew
        self.unsaved.leave_out({entry.id for entry in outcome.entries})
        self.unsaved.are_kept = were_kept
        return Refusal(f"the round is not begun: {outcome.line}")

    def short_round(self, minutes: float) -> ShortRound:
        """What a round that begins now takes and leaves out in so many minutes."""
        from rounds.checks.short_round import short_round

        return short_round(self.bench, self.moment(), minutes, self.dues(), self.foresight)

    def finish_round(self) -> Outcome:
        """End the walk that is open."""
        return self.record(RoundFinished)


def _last_checks(book: Daybook) -> LastChecks | None:
    from rounds.app.last_checks import LastChecks  # a line that is said wants none of the checks

    return None if book.beside is None else LastChecks(book.beside)
