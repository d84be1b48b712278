"""The one door: an intent comes in, is checked, written, folded, and told onward.

Screens and shell say everything through a desk and read everything from its bench.
"""

from __future__ import annotations

import contextlib
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from datetime import datetime, time, tzinfo
from functools import cached_property
from typing import TYPE_CHECKING, Any, TypeVar

import msgspec
from msgspec import Struct
from msgspec.structs import asdict

from rounds.app.entries_words import (
    entries_words,
    future_words,
    misfits_words,
    no_check,
    undone_words,
)
from rounds.app.unsaved import keep_until_taken, not_taken
from rounds.bench.dates import dated
from rounds.bench.folding import apply, says_the_same, stands_for, strikes_that_turn
from rounds.bench.folding.cups_set_up_twice import means_others, with_cups
from rounds.bench.instants import COUNTS_AHEAD, impossible, is_possible
from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench, Round
from rounds.bench.zones import name_of_zone, other_zone, zone_not_known, zone_of_bench
from rounds.checks.kept_dues import KeptDues
from rounds.daybook import (
    NEWER,
    Daybook,
    FileLine,
    Gaps,
    LineProblems,
    LinesRead,
    NotSaved,
    Partial,
    Problem,
    Progress,
    id_instead_of,
    kept_words,
    lacking_words,
    mark,
    missed_words,
    new_id,
    says_otherwise,
    still_broken,
    time_of_id,
)
from rounds.entries import codec as written
from rounds.entries.base import Entry, Saying
from rounds.entries.defaults import completed
from rounds.entries.entry_factory import InvalidField, build, fixed
from rounds.entries.registry import (
    Closed,
    CrossedOut,
    HostOut,
    PlanChanged,
    RoundFinished,
    RoundStarted,
    Setting,
)
from rounds.entries.validation import AHEAD_ALLOWED, refusal, told_later
from rounds.tallies.journal import Journal

if TYPE_CHECKING:
    from rounds.app.last_checks import LastChecks, ReadSince
    from rounds.checks.due_state import Due
    from rounds.checks.round_clock import Moment
    from rounds.checks.short_round import ShortRound
    from rounds.daybook.logger_cache import LoggerCache
    from rounds.forecasts.foresight import Forecasts
    from rounds.tallies.broods import Lookback
    from rounds.tallies.tallies import Tallies
    from rounds.tallies.warmth import Series

AnyRecord = TypeVar("AnyRecord")
MAX_MINE = 2_000  # how many answers back 'strike last' goes; older ones are struck in the daybook
WORTH_A_CHECKPOINT = 1_000  # entries since the last one
DEFAULT_ANCHORS = (("morning", time(7, 0)), ("evening", time(18, 0)))


class Recorded(Struct, frozen=True):
    """What was said is on disk."""

    entries: tuple[Entry, ...]

    @property
    def entry(self) -> Entry:
        """The entry that was meant; any before it had to stand first."""
        return self.entries[-1]


class Refusal(Struct, frozen=True):
    """What was said cannot be; one line says why and what would be right; ``place`` is which of
    several it was."""

    line: str
    place: int = 0


class Unsaved(Struct, frozen=True):
    """What was said is right but is not on disk; it is kept and tried again."""

    entries: tuple[Entry, ...]
    line: str


Outcome = Recorded | Refusal | Unsaved


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
        self._last_checks = _last_checks(book) if tells_checks else None
        # by container touched since, when it was looked at last before; None where they do not hold
        self._since_last_checks: dict[str, datetime] | None = None
        self.took_up_checks = False  # whether what is due was not all reckoned here
        self._looks_back = looks_back
        self._progress = progress
        self._keeper = keeper
        self._local_zone = zone
        self.problems: list[str] = []  # all that was met since the book was opened, each once
        self._gaps = Gaps(book.folder)
        self._loggers_lacking: list[Problem] = []
        # what is said to have happened later than now; it counts when that comes
        self._ahead: dict[str, Entry] = {}
        self.unsaved: list[Entry] = []
        self._listed: str | None = None  # a list that is typed; None until it is asked for
        self.keeps_unsaved = False  # whether all of it is kept on this machine
        # ids of those that were unsaved already when the book was opened
        self._waiting: set[str] = set()
        self.trouble = ""  # why the last try to save failed
        self._clock = clock
        self._entropy = entropy
        self._mine: list[tuple[str, ...]] = []  # ids of what was said here, answer by answer
        self._listeners: list[Callable[[], None]] = []
        self._foresight: Forecasts | None = None
        self.kept_dues = KeptDues()
        self._tallies: Tallies | None = None
        self._lookback: Lookback | None = None
        self._misfits: str | None = None  # none where they are to be told anew
        self._read_since: ReadSince | None = None  # since the bench was recalled
        self._hears_first = False
        # what there is to say beside the entries drafted last, by id
        self._asides: dict[str, str] = {}
        self._last_id = ""
        # ids of what was said here and was on disk, and was not yet read back
        self._unheard: set[str] = set()
        self._looked = False
        # what others had taken out of the files and was written again last, in words
        self.brought_back = ""
        self._since_checkpoint = 0
        self._recall()
        self.hear()
        if self._since_checkpoint >= WORTH_A_CHECKPOINT and not self._has_journal:
            self._recall_whole()  # for a checkpoint holds what went by
        self._take_up_unsaved()
        self._tell_what_is_not_remembered()
        self.rest()

    @property
    def bench(self) -> Bench:
        """The bench as it stands."""
        return self._history.bench

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
        return other_zone(self.bench.settings.get("zone", ""), self.now(), self._local_zone)

    @property
    def _zone_told(self) -> tuple[str, datetime | None, tzinfo]:
        return self.bench.settings.get("zone", ""), self.bench.newest, self._local_zone

    def name_zone(self, at: datetime, before: datetime | None = None) -> list[Entry]:
        """What names this machine's zone as the book's, from an instant on, before all else that is
        said now; nothing where it has no name.

        It is no answer: undo passes over it.

        Args:
            before: when that was typed before which it stands; now where not given.
        """
        now = before or self.now()
        name = name_of_zone(self._local_zone, now)
        if not name:
            return []
        named = build(
            Setting,
            {"name": "zone", "value": name},
            entry_id=new_id(round(now.timestamp() * 1000) - 1, self._entropy(8), ""),
            at=at,
            logged=now,
            by=self.keeper,
            round_id="",
        )
        return [named]

    @property
    def misfits(self) -> str:
        """What does not fit together, in one line; empty where all does."""
        if self._misfits is None:
            from rounds.views.gaps import misfit_words  # no script asks

            self._misfits = misfit_words(self.bench)
        return self._misfits

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
    def struck(self) -> frozenset[str]:
        """The ids of entries that do not count."""
        return self._history.struck

    def now(self) -> datetime:
        """The present instant, with the offset of the bench's zone: what is added to it is time
        that passes."""
        return fixed(self.local_now())

    def local_now(self) -> datetime:
        """The present instant in the bench's zone: what reads a date by it reads it with the offset
        of that day."""
        return self._clock().astimezone(self.zone)

    def moment(self) -> Moment:
        """Now, with the bench's zone and the times of its rounds."""
        from rounds.checks.round_clock import Moment

        return Moment(now=self.now(), zone=self.zone, anchors=round_anchors(self.bench))

    def dues(self, moment: Moment | None = None) -> list[Due]:
        """Every check of the bench, due or ahead at a moment; now where none is given."""
        from rounds.checks.due import all_dues  # a line that is said wants none of the checks

        now = moment or self.moment()
        if self._last_checks is not None and not self.kept_dues.under:
            touched = None if self._loggers_lacking else self._since_last_checks
            known = self._last_checks.of(self.bench, now, self.foresight, touched)
            self.kept_dues.take_up(known)
            self.took_up_checks = bool(known)
        return all_dues(self.bench, now, foresight=self.foresight, kept=self.kept_dues)

    def keep_checks(self) -> None:
        """Remember on this machine what was reckoned, for the next start; where something on the
        bench is not in the files nothing is."""
        if self._last_checks is None or self._read_since is None:
            return
        if self._unheard:
            with contextlib.suppress(OSError):  # a folder that is gone just now
                self.hear()
        coming = self._foresight
        if coming is not None and self.is_settled and not self._unheard:
            self._last_checks.keep(self._read_since.lines, self.bench, self.kept_dues, coming)

    @property
    def foresight(self) -> Forecasts:
        """What is coming on the bench as it stands."""
        if self._foresight is None:
            self._foresight = self._forecasts_of(self.bench)
        return self._foresight

    def _forecasts_of(self, bench: Bench) -> Forecasts:
        from rounds.forecasts.foresight import Forecasts  # nor any forecast

        return Forecasts(bench, self.zone, self.series)

    @property
    def tallies(self) -> Tallies:
        """What went by on the bench, added up."""
        return self._added.up_to(self.bench, self._journal, self.zone)

    def add_up(self, most: int) -> float:
        """Go on adding up what went by, so many records of it; the share that is added up now.

        Where that is 1, ``tallies`` and ``look_back`` keep nobody waiting.
        """
        return self._added.go_on(self.bench, self._journal, self.zone, most)

    @property
    def _added(self) -> Tallies:
        if self._tallies is None:
            # not at the start, where nobody looks back yet
            from rounds.tallies.tallies import Tallies

            self._tallies = Tallies()
        return self._tallies

    @property
    def _has_journal(self) -> bool:
        """Whether what goes by is written down."""
        return isinstance(self._history.beside, Journal)

    @property
    def _journal(self) -> Journal:
        journal = self._history.beside
        assert isinstance(journal, Journal)
        return journal

    def went_by(self, *kinds: type[AnyRecord]) -> Iterator[AnyRecord]:
        """Every record of these kinds of what went by and counts, in order."""
        journal = self._history.beside
        assert isinstance(journal, Journal)
        return (record for record in journal.since(0) if isinstance(record, kinds))

    def look_back(self) -> Lookback:
        """The course of every animal with its temperatures and plants."""
        if self._lookback is None:
            self._lookback = self.tallies.look_back(self.series)
        return self._lookback

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
        self.problems.extend(
            str(problem) for problem in self.logged.problems if str(problem) not in self.problems
        )
        return series

    @cached_property
    def logged(self) -> LoggerCache:
        """What loggers wrote, as the book's files have it."""
        from rounds.daybook.logger_cache import LoggerCache  # most books have none

        return LoggerCache(self.book.folder, self.book.beside)

    def listen(self, listener: Callable[[], None]) -> None:
        """Call this after every change of the bench."""
        self._listeners.append(listener)

    def record(self, kind: type[Entry], at: datetime | None = None, **fields: Any) -> Outcome:
        """Say one thing: when it happened (now where not given) and the fields of its kind."""
        return self.say_many([(kind, fields)], at)

    def bench_of(self, at: datetime | None) -> Bench:
        """The bench by which a line is held: as it stood then where something was said since, else
        as it stands.

        Codes, species, permits and settings are as they are known now.
        """
        newest = self.bench.newest
        if at is None or newest is None or at >= newest or at >= self.now():
            return self.bench
        if self._history.left_out:
            self._recall_whole()
        then = self._history.bench_at(at)
        return then.named_as(self.bench) if then else self.bench

    def _refused_late(self, then: Bench, entries: Sequence[Entry], now: datetime) -> str | None:
        """Why the last of these cannot have been so, on the bench as it stood then."""
        last = entries[-1]
        code: str = getattr(last, "container", "")
        today = refusal(self.bench, last, now)
        when = dated(last.at, now)
        if (
            then.at(code) is None
            and code not in then.closed
            and (code in self.bench.containers or code in self.bench.closed)
        ):
            return (
                today
                if self.bench.at(code)
                else f"{code} did not stand then ({when}); give a time when it did"
            )
        of_later = told_later(self.bench, last, now)
        line = self._refusal(then, entries, now) or of_later
        if isinstance(last, Closed) and not line:
            return today
        is_of_then = line and line not in (today, of_later)
        return f"{line} (as it stood {when})" if is_of_then else line

    def _refusal(self, bench: Bench, entries: Sequence[Entry], now: datetime) -> str | None:
        """Why the last of these cannot be said, the ones before it being said and on that bench."""
        last = entries[-1]
        check = getattr(last, "check", "")
        if check and (unknown := no_check(check)):
            return unknown
        if isinstance(last, CrossedOut) and not self._is_known(last.entry, entries):
            return f"no line has the id '{last.entry}'; the daybook shows the id of each"
        if isinstance(last, CrossedOut) and last.entry in self.struck:
            return "that line is crossed out already; the daybook brings it back"
        line = refusal(bench, last, now)
        if line is None and isinstance(last, PlanChanged):
            from rounds.checks.plan import refusal_without_effect

            return refusal_without_effect(bench, last)
        if line is None and isinstance(last, HostOut) and not last.sure:
            from rounds.checks.early_discard import too_early_to_bin
            from rounds.checks.round_clock import Moment

            moment = Moment(now=now, zone=self.zone, anchors=())
            return too_early_to_bin(bench, last, moment, self._forecasts_of(bench))
        sign = getattr(last, "sign", "")
        if line is not None or not (last.moults or last.grows_to or sign):
            return line  # it tells no change
        from rounds.checks.early_change import change_of, too_early_to_change

        if change_of(type(last), sign):
            early = too_early_to_change(
                bench, type(last), asdict(last), last.at, self._forecasts_of(bench)
            )
            return f"{early}; if it was seen so, add 'sure'" if early else None
        return line

    def _is_known(self, entry_id: str, entries: Sequence[Entry]) -> bool:
        """Whether a line has that id: among the newest, else anywhere in the book."""
        if self._history.left_out:
            self._recall_whole()
        if (
            entry_id in self._ahead
            or self._history.knows(entry_id)
            or any(entry.id == entry_id for entry in entries[:-1])
        ):
            return True
        return self._history.reaches_back and self.book.holds(entry_id)

    def say_many(
        self, sayings: Sequence[tuple[type[Entry], dict[str, Any]]], at: datetime | None = None
    ) -> Outcome:
        """Say several things that belong to one answer: all are kept, or none where one is
        refused."""
        if any(kind is CrossedOut for kind, _ in sayings):
            self.hear()  # of one line others may have crossed out the same
        entries = self.prepare(sayings, at)
        return entries if isinstance(entries, Refusal) else self._keep(entries)

    def prepare(
        self, sayings: Sequence[tuple[type[Entry], dict[str, Any]]], at: datetime | None = None
    ) -> list[Entry] | Refusal:
        """What saying these would write, or why one of them cannot be said; nothing is written.

        One that has ``at`` among its fields happened then, whatever the others did.
        """
        # nothing is said by most commands
        from rounds.entries.better_record import INSTEAD_OF, refusal_of_better, without
        from rounds.entries.earlier_set_up import with_earlier_set_ups

        now = self.now()
        sayings = self._with_all_strikes(
            with_earlier_set_ups(self.bench, sayings, at or now, self.bench_of)
        )
        entries: list[Entry] = []
        asides: dict[str, str] = {}
        bench = self.bench
        said_of = Counter(str(fields.get("container", "")) for _, fields in sayings)
        # the bench as it stood at other times, with what was said so far
        earlier: dict[datetime, Bench] = {}
        for position, (kind, said) in enumerate(sayings):
            fields = dict(said)
            instant = fields.pop("at", None) or at or now
            if not is_possible(instant):
                return Refusal(impossible(instant), position)
            happened = fixed(instant.astimezone(self.zone))
            instead_of = fields.pop(INSTEAD_OF, "")
            mends = instead_of or any(isinstance(one, CrossedOut) for one in entries)
            is_late = not mends and fields.get("container") and not kind.of_now
            if (
                is_late
                and happened not in earlier
                and (stood := self.bench_of(happened)) is not self.bench
            ):
                _apply_until(stood, entries, happened)
                earlier[happened] = stood
            late = earlier.get(happened) if is_late else None
            if late:
                late.last_batch = bench.last_batch  # letters are given for good
            try:
                complete = (
                    [(kind, fields)]
                    if instead_of
                    else completed(late or bench, kind, fields, happened)
                )
                built = [self._built(*one, happened, now, instead_of) for one in complete]
            except InvalidField as misfit:
                return Refusal(str(misfit), position)
            for entry in built:
                is_whole = entry is built[-1]
                if not instead_of:  # which says the codes as they were given
                    entry = with_cups(late or bench, entry).knowing(bench)
                entries.append(entry)
                line = None
                if is_whole and not instead_of:
                    line = (
                        self._refused_late(late, entries, now)
                        if late
                        else self._refusal(bench, entries, now)
                    )
                line = line or (refusal_of_better(bench, entry) if instead_of else None)
                if line:
                    return Refusal(line, position)
                asides[entry.id] = entry.aside(late or bench)
                for until, stood in earlier.items():
                    _apply_until(stood, [entry], until)
                is_last = position == len(sayings) - 1 and is_whole
                alone = len(built) == 1 and said_of[getattr(entry, "container", "")] == 1
                if is_last or (alone and entry.stays_here(bench)):
                    continue  # it decides nothing of what is said after it
                bench = bench if bench is not self.bench else self._history.bench_with(())
                if isinstance(entry, CrossedOut):
                    bench = without(bench, entry.entry)
                elif not instead_of:
                    apply(bench, entry)
        self._asides = asides
        return entries

    def _with_all_strikes(self, sayings: Sequence[Saying]) -> Sequence[Saying]:
        """What is said, where of all that cross out, or brought back, one line with the strike that
        is crossed out the others are too."""
        meant: list[Saying] = []
        for kind, fields in sayings:
            target = fields.get("entry") if kind is CrossedOut else None
            if target not in self.bench.strikes:
                meant.append((kind, fields))
                continue
            for one in strikes_that_turn(self.bench.strikes, target):
                saying = (kind, {**fields, "entry": one})
                meant += [saying] if saying not in meant else []
        return meant

    def _built(
        self,
        kind: type[Entry],
        fields: dict[str, Any],
        at: datetime,
        now: datetime,
        instead_of: str = "",
    ) -> Entry:
        if not self._last_id:
            self._follow(self._history.ids(), now)
        self._last_id = new_id(round(now.timestamp() * 1000), self._entropy(8), self._last_id)
        return build(
            kind,
            fields,
            entry_id=id_instead_of(instead_of, self._last_id) if instead_of else self._last_id,
            at=at,
            logged=now,
            by=self.keeper,
            round_id="" if kind is RoundStarted else self._round_for(at, now),
        )

    def _follow(self, ids: Iterable[str], now: datetime) -> None:
        """Order the next ids after these, that what was said in one instant keeps its order.

        An id of another form, or of a clock that is far ahead, steers nothing.
        """
        latest = round((now + AHEAD_ALLOWED).timestamp() * 1000)
        for one in sorted((one for one in ids if one > self._last_id), reverse=True):
            made = time_of_id(one)
            if made is not None and made <= latest:
                self._last_id = one
                return

    def _round_for(self, at: datetime, now: datetime) -> str:
        walk = self.bench.open_round
        return walk.id if walk and walk.started <= at and walk.goes_on(now) else ""

    def _keep(self, entries: list[Entry]) -> Outcome:
        self.retry()
        is_first = self.bench.newest is None and not self.gaps and not self.unsaved
        says_it = any(isinstance(one, Setting) and one.name == "zone" for one in entries)
        named = (
            self.name_zone(min(entry.at for entry in entries), before=entries[0].logged)
            if is_first and not says_it
            else []
        )
        before = Bench(taxa=dict(self.bench.taxa), permits=dict(self.bench.permits))
        fitted = {(misfit.entry, misfit.text) for misfit in self.bench.misfits}
        try:
            self._write([*named, *entries])
        except NotSaved as trouble:
            self.unsaved += [*named, *entries]
            self.keeps_unsaved = False
            self.trouble = str(trouble)
            return Unsaved(tuple(entries), self.trouble)
        new = [one for one in self.bench.misfits if (one.entry, one.text) not in fitted]
        beside = [misfits_words(new, entries[-1])] if new else []
        struck = {one.crosses_out for one in entries if one.crosses_out}
        if struck:
            from rounds.entries.taken_back import taken_back_words

            ahead = [one for one in self.of_the_future if one.id in struck & self.struck]
            beside += taken_back_words(before, self.bench, ahead)
        if beside:
            self._asides[entries[-1].id] = "; ".join(beside)
        self._mine.append(tuple(entry.id for entry in entries))
        del self._mine[:-MAX_MINE]
        return Recorded(tuple(entries))

    def retry(self) -> bool:
        """Try again to save what could not be saved; True where nothing is left unsaved."""
        if not self.unsaved:
            return True
        try:
            self.book.append_many([written.write(entry) for entry in self.unsaved])
        except NotSaved as trouble:
            self.trouble = str(trouble)
            return False
        waiting, self.unsaved = self.unsaved, []
        self._saved(waiting)
        with contextlib.suppress(OSError):
            keep_until_taken(self.book, waiting, [])
        return True

    def give_up(self) -> None:
        """What could not be saved is not tried again: it was reported as not saved."""
        self.unsaved = []

    def keep_unsaved(self) -> str:
        """Keep what is unsaved on this machine until the book takes it, at the next start if need
        be.

        Returns:
            Why that cannot be, in words; empty where it is kept.
        """
        try:
            keep_until_taken(self.book, self.unsaved, self.unsaved)
        except OSError as trouble:
            self.keeps_unsaved = False
            return trouble.strerror or str(trouble)
        self.keeps_unsaved = True
        return ""

    @property
    def listed(self) -> str:
        """The list of a running bench as it was typed last and not recorded."""
        if self._listed is None:
            rows = self.book.listed.lines()
            self._listed = "\n".join(row.decode("utf-8", "replace") for row in rows)
        return self._listed

    def keep_listed(self, text: str) -> str:
        """Keep a list on this machine until it is recorded; an empty one is not kept.

        Returns:
            Why that cannot be, in words; empty where it is kept.
        """
        self._listed, kept = text, self.book.listed
        try:
            kept.keep(text.encode().split(b"\n")) if text.strip() else kept.forget()
        except OSError as trouble:
            return trouble.strerror or str(trouble)
        return ""

    def _take_up_unsaved(self) -> None:
        """What was kept until the book takes it."""
        self.unsaved = not_taken(self.book)
        if not self.retry():
            self.keeps_unsaved = True
            self._waiting.update(one.id for one in self.unsaved)
            self.problems.append(
                f"{len(self.unsaved)} recorded before could not be saved yet; they are kept and"
                " tried again"
            )

    def _write(self, entries: Sequence[Entry]) -> None:
        name = self.book.writer.name
        self.book.append_many([written.write(entry) for entry in entries])
        self._saved(entries)
        self._tell_what_is_not_remembered()
        if self.book.writer.name != name:  # its file is not as it was left: others have been there
            self.hear()

    def _saved(self, entries: Sequence[Entry]) -> None:
        """These are on disk.

        A book that they leave without the zone it named is given this machine's; one that came
        from elsewhere without any is not.
        """
        is_named = bool(self.bench.settings.get("zone"))
        self._unheard.update(entry.id for entry in entries)
        self._fold(entries)
        if is_named and not self.bench.settings.get("zone"):
            with contextlib.suppress(NotSaved):
                self._write(self.name_zone(entries[-1].at))

    def _fold(self, entries: Sequence[Entry]) -> None:
        self._since_checkpoint += len(entries)
        touched = self._touched(entries)
        if not self._history.take(entries):
            touched = None
            # a folder that is gone just now is told when it is looked at
            with contextlib.suppress(OSError):
                if self._history.left_out:
                    self._recall_whole()
                else:
                    self._recall(anew=True)
        self._reckon_anew(touched)

    def _reckon_anew(self, touched: Mapping[str, datetime] | None) -> None:
        """Forget what was reckoned, of what is coming only what these containers are about where
        some are named, and let all who listen know."""
        self._lookback = self._misfits = None
        self._forget(touched)
        for listener in self._listeners:
            listener()

    def _touched(self, entries: Sequence[Entry]) -> dict[str, datetime] | None:
        """The containers that entries change, and nothing else, each with when it was looked at
        last, before they are folded; None where they may change anything."""
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

    def _forget(self, touched: Mapping[str, datetime] | None) -> None:
        """Of what was reckoned and is coming, what these containers are about; all where none are
        named."""
        coming, self._since_last_checks = self._foresight, None
        if (
            touched is None
            or coming is None
            or coming.bench is not self.bench
            or (self._has_later_warmth and not self.kept_dues.lag)
        ):
            self._foresight = None
            self.kept_dues.forget()
        else:
            self.kept_dues.forget(coming.looked_at(touched))

    @property
    def _has_later_warmth(self) -> bool:
        """Whether more is known by now of how warm it was than the forecasts go by."""
        return self._foresight is not None and self._foresight.is_behind(self.bench)

    def time_goes_by(self) -> None:
        """Reckon again what hangs on the hour, wherever what was reckoned is kept a while."""
        if self._has_later_warmth:
            self._forget(None)
        else:
            self.kept_dues.time_goes_by()

    def _recall(self, *, anew: bool = False) -> None:
        """The bench from the checkpoint, else from the files alone."""
        until = self._clock() + COUNTS_AHEAD
        recalled = self.book.load(
            self._progress,
            anew=anew,
            until=until,
            looks_back=self._looks_back,
        )
        # it was kept when the clock was ahead
        if not anew and _is_later(recalled.history.bench.newest, until):
            recalled = self.book.load(self._progress, anew=True, until=until)
        self._history, self._misfits = recalled.history, None
        self._read_on_from_here()
        self._hears_first = True
        self._ahead = {entry.id: entry for entry in recalled.ahead}
        self._partial = Partial(recalled.partial)
        self._since_checkpoint = recalled.read
        self._gaps = Gaps(self.book.folder, recalled.problems)
        self._tell_of(recalled.problems)

    def _read_on_from_here(self) -> None:
        """What was read so far is what a checkpoint holds."""
        if self._last_checks is not None:
            self._read_since = self._last_checks.read_since(self.book.position)

    def _recall_whole(self) -> None:
        """Take up what was left out of the checkpoint, and what was said since."""
        self._looks_back = True
        self._recall()
        self.hear()

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
        self._read_on_from_here()
        return self.book.to_keep(
            self._history.kept(),
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

    def hear(self) -> bool:
        """Pick up what others wrote since the last look; True where the bench changed.

        What was said on this machine last and was taken out of the files by others is written
        again.
        """
        is_first, self._looked = not self._looked, True
        batch = self.book.new_lines()
        entries = self._read(batch)
        known = self._known_to_last_checks(batch.lines, entries)
        was_unheard = bool(self._unheard)
        self._unheard.difference_update(one.id for one in entries)
        if self.unsaved:
            there = {one.id for one in entries}
            self.unsaved = [entry for entry in self.unsaved if entry.id not in there]
        heard = self._that_count(entries)
        if known is not None:
            self._since_last_checks = self._fold_since(heard, known)
        elif heard:
            self._fold(heard)
        came = self._look_at_loggers()
        looks = is_first or batch.changed or self.book.waits_for_a_copy
        if (looks or (was_unheard and self._unheard)) and self._bring_back():
            return self.hear() or bool(heard) or came
        return bool(heard) or came

    def _known_to_last_checks(
        self, lines: Sequence[FileLine], entries: Sequence[Entry]
    ) -> set[str] | None:
        """Of what was read first since the bench was recalled, the ids of what was known when its
        checks were reckoned last; None where these do not hold."""
        if self._read_since is None or self._last_checks is None:
            return None
        is_first, self._hears_first = self._hears_first, False
        known = self._last_checks.lines if is_first else None
        beyond = self._read_since.beyond(known, lines)
        self._read_since.add(lines)
        if beyond is None or len(entries) < len(lines):
            return None
        pairs = zip(entries, beyond, strict=True)
        return {entry.id for entry, is_beyond in pairs if not is_beyond}

    def _fold_since(
        self, heard: Sequence[Entry], known: Collection[str]
    ) -> dict[str, datetime] | None:
        """Fold what was heard, and tell what those touch that are not known, folded behind the
        others; None where they may touch anything."""
        history = self._history
        old = [one for one in heard if one.id in known]
        new = [one for one in heard if one.id not in known]
        if old and new and min(one.order for one in new) < max(one.order for one in old):
            self._fold(heard)
            return None
        if old:
            self._fold(old)
        touched = self._touched(new)
        if new:
            self._fold(new)
        return touched if self._history is history else None

    def _look_at_loggers(self) -> bool:
        """Which loggers' files are not there as they were taken in; True where that is otherwise
        than at the last look, so that all that goes by them is reckoned again."""
        reads = [one for of_place in self.bench.logged.values() for one in of_place]
        troubles = self.logged.troubles(reads) if reads else []
        if troubles == self._loggers_lacking:
            return False
        self._loggers_lacking = troubles
        self._tell_of(troubles)
        self._reckon_anew(None)
        return True

    def _that_count(self, read: Sequence[Entry]) -> list[Entry]:
        """What was read and is not on the bench yet, and what waited for its time; an entry of the
        future waits."""
        until = self._clock() + COUNTS_AHEAD
        if _is_later(self.bench.newest, until):  # the clock was set back
            self._recall(anew=True)
        read = self._partial.take(read)
        fresh = (
            [
                one
                for one in read
                if (held := self._history.held(one.id)) is None or stands_for(one, held)
            ]
            if read
            else []
        )
        self._ahead |= {one.id: one for one in fresh if one.at > until}
        come = [one for one in self._ahead.values() if one.at <= until]
        for one in come:
            del self._ahead[one.id]
        return [entry for entry in fresh if entry.at <= until] + come

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
    def gaps(self) -> list[str]:
        """What of the book cannot be read now: as long as there is any, what is told from it may
        lack something."""
        waiting = (
            [entry for entry in self.of_the_future if entry.id not in self.struck]
            if self._ahead
            else []
        )
        future = [future_words(waiting, self.zone)] if waiting else []
        kept = sum(one.id in self._waiting for one in self.unsaved)
        not_saved = [kept_words(kept)] if kept else []
        loggers = [one for one in map(str, self._loggers_lacking) if one not in self.book.accepted]
        return [*not_saved, *future, *self.lines_lacking, *loggers]

    @property
    def lines_lacking(self) -> list[str]:
        """Of which lines nobody can know now what they say, in words; a gap each."""
        told = (*self._gaps.told(), *map(lacking_words, self.bench.lacking))
        return [
            *map(missed_words, self.not_whole),
            *(one for one in told if one not in self.book.accepted),
        ]

    def _tell_what_is_not_remembered(self) -> None:
        self._tell(list(filter(None, (self.book.instead, self.book.cannot_remember))))

    @property
    def is_settled(self) -> bool:
        """Whether another desk that is opened at the same files finds the same and has nothing to
        tell: all counts that is there, and nothing waits."""
        told = self.brought_back or self.book.instead or self.book.cannot_remember
        waits = self._ahead or self.partial or self.unsaved or self.book.waits_for_a_copy
        return not (told or waits or self.zone_not_known or self.book.apart or self.gaps)

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
        if self._last_id:
            self._follow([entry.id for entry in heard], self._clock())
        return heard

    def _compare(self, entry: Entry, line: FileLine) -> None:
        """Whether a line says otherwise than another under its id."""
        known = self._history.held(entry.id)
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
        ours = [self._built(kind, fields, now, now) for kind, fields in (*said, *strikes)]
        return self._keep(_together([*ours, *entries]))

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
        outcome = strikes if isinstance(strikes, Refusal) else self._keep(_together(strikes))
        if isinstance(outcome, Recorded):
            self._mine.pop()
        return outcome

    def _undone_already(self, entry_id: str) -> str:
        """That what was said last was crossed out, or brought back, by somebody else."""
        entry, strike = (self._history.held(one) for one in (entry_id, self._strike_of(entry_id)))
        return undone_words(self.told([entry]) if entry else "", strike.by if strike else "")

    def told(self, entries: Sequence[Entry]) -> str:
        """What these entries say in words; a strike says what it struck, a count how it stands to
        the record."""

        def turned() -> Iterable[Entry]:
            return *self._history.tail, *self._ahead.values()

        return entries_words(entries, turned, self.measures, self.aside)

    def say_beside(self, entry: Entry, words: str) -> None:
        """Tell something beside an entry that was just recorded, when it is told."""
        self._asides[entry.id] = words

    def aside(self, entry: Entry) -> str:
        """How a count just drafted or said stands to the record, in brackets; '' where there is
        nothing to say."""
        aside = self._asides.get(entry.id)
        return f" ({aside})" if aside else ""

    @property
    def has_older(self) -> bool:
        """Whether there are entries that are not among the newest."""
        return self._history.reaches_back

    def entries(self, *, whole: bool = False) -> tuple[Entry, ...]:
        """The newest entries, or every one there is, in the order in which they happened, struck
        ones among them, none of the future."""
        if not whole:
            return self._history.tail
        return tuple(self.book.entries(self._progress, self._clock() + COUNTS_AHEAD))

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
        kept = self.keeps_unsaved
        outcome = self.record(RoundStarted, name=name or self.moment().name_of_round(), **limited)
        if not isinstance(outcome, Unsaved):
            return outcome
        # nothing was seen; it is begun anew
        self.unsaved = [entry for entry in self.unsaved if entry not in outcome.entries]
        self.keeps_unsaved = kept
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


def _together(entries: Sequence[Entry]) -> list[Entry]:
    """The same, marked so that all of them count or none, wherever but a part of them comes."""
    if len(entries) == 1:
        return list(entries)
    part_of = mark(entries[0].id, len(entries))
    return [msgspec.structs.replace(entry, part_of=part_of) for entry in entries]


def _apply_until(bench: Bench, entries: Iterable[Entry], until: datetime) -> None:
    for entry in entries:
        if entry.at <= until:
            apply(bench, entry)


def _is_later(newest: datetime | None, until: datetime) -> bool:
    return newest is not None and newest > until


def round_anchors(bench: Bench) -> tuple[tuple[str, time], ...]:
    """The rounds of the day and their local times, as the book's settings have them."""
    anchors = []
    for name, default in DEFAULT_ANCHORS:
        try:
            anchors.append((name, time.fromisoformat(bench.settings.get(name, ""))))
        except ValueError:
            anchors.append((name, default))
    return tuple(sorted(anchors, key=lambda anchor: anchor[1]))
