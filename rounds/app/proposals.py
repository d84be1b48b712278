"""What saying something would write: entries that are built, completed and held against the bench
of their time, or why they are refused. Nothing is written here."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any

import msgspec

from rounds.app.bench_clock import BenchClock
from rounds.app.doubts import doubt
from rounds.app.entries_words import no_check
from rounds.app.outcomes import Refusal
from rounds.app.reading import BookReading
from rounds.bench.dates import dated
from rounds.bench.folding import apply, strikes_that_turn
from rounds.bench.folding.cups_set_up_twice import with_cups
from rounds.bench.instants import impossible, is_possible
from rounds.bench.state import Bench
from rounds.bench.zones import name_of_zone
from rounds.daybook import NewIds, mark
from rounds.entries.base import Entry, Saying
from rounds.entries.defaults import completed
from rounds.entries.entry_factory import InvalidField, build, fixed
from rounds.entries.registry import Closed, CrossedOut, RoundStarted, Setting
from rounds.entries.validation import refusal, told_later

if TYPE_CHECKING:
    from rounds.forecasts.foresight import Forecasts


class Proposals:
    """Makes entries of what is said, one after another.

    Args:
        reading: of the book, whose bench they are held against.
        clock: what time it is there.
        ids: for the entries.
        keeper: gives the initials that go with every entry.
        forecasts_of: what is coming on a bench.
    """

    def __init__(
        self,
        reading: BookReading,
        clock: BenchClock,
        ids: NewIds,
        keeper: Callable[[], str],
        forecasts_of: Callable[[Bench], Forecasts],
    ) -> None:
        self._reading = reading
        self._clock = clock
        self._ids = ids
        self._keeper = keeper
        self._forecasts_of = forecasts_of
        # what there is to say beside the entries prepared last, by id
        self.asides: dict[str, str] = {}

    def prepare(
        self, sayings: Sequence[Saying], at: datetime | None = None
    ) -> list[Entry] | Refusal:
        """What saying these would write, or why one of them cannot be said.

        One that has ``at`` among its fields happened then, whatever the others did.
        """
        # nothing is said by most commands
        from rounds.entries.better_record import INSTEAD_OF, refusal_of_better, without
        from rounds.entries.earlier_set_up import with_earlier_set_ups

        now, stands = self._clock.now(), self._reading.bench
        sayings = self._with_all_strikes(
            with_earlier_set_ups(stands, sayings, at or now, self._reading.bench_of)
        )
        entries: list[Entry] = []
        asides: dict[str, str] = {}
        bench = stands
        said_of = Counter(str(fields.get("container", "")) for _, fields in sayings)
        # the bench as it stood at other times, with what was said so far
        earlier: dict[datetime, Bench] = {}
        for position, (kind, said) in enumerate(sayings):
            fields = dict(said)
            instant = fields.pop("at", None) or at or now
            if not is_possible(instant):
                return Refusal(impossible(instant), position)
            happened = fixed(instant.astimezone(self._clock.zone))
            instead_of = fields.pop(INSTEAD_OF, "")
            mends = instead_of or any(isinstance(one, CrossedOut) for one in entries)
            is_late = not mends and fields.get("container") and not kind.of_now
            if (
                is_late
                and happened not in earlier
                and (stood := self._reading.bench_of(happened)) is not self._reading.bench
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
                built = [self.built(*one, happened, now, instead_of) for one in complete]
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
                if bench is self._reading.bench:
                    bench = self._reading.history.bench_with(())
                if isinstance(entry, CrossedOut):
                    bench = without(bench, entry.entry)
                elif not instead_of:
                    apply(bench, entry)
        self.asides = asides
        return entries

    def _refused_late(self, then: Bench, entries: Sequence[Entry], now: datetime) -> str | None:
        """Why the last of these cannot have been so, on the bench as it stood then."""
        last, bench = entries[-1], self._reading.bench
        code: str = getattr(last, "container", "")
        today = refusal(bench, last, now)
        when = dated(last.at, now)
        if (
            then.at(code) is None
            and code not in then.closed
            and (code in bench.containers or code in bench.closed)
        ):
            return (
                today
                if bench.at(code)
                else f"{code} did not stand then ({when}); give a time when it did"
            )
        of_later = told_later(bench, last, now)
        line = self._refusal(then, entries, now) or of_later
        if isinstance(last, Closed) and not line:
            return today
        is_of_then = line and line not in (today, of_later)
        return f"{line} (as it stood {when})" if is_of_then else line

    def _refusal(self, bench: Bench, entries: Sequence[Entry], now: datetime) -> str | None:
        """Why the last of these cannot be said, the ones before it being said and on that bench."""
        *before, last = entries
        check = getattr(last, "check", "")
        if check and (unknown := no_check(check)):
            return unknown
        crossed_out = last.crosses_out
        if crossed_out and not (
            self._reading.knows(crossed_out) or any(one.id == crossed_out for one in before)
        ):
            return f"no line has the id '{crossed_out}'; the daybook shows the id of each"
        if crossed_out in self._reading.struck:
            return "that line is crossed out already; the daybook brings it back"
        return refusal(bench, last, now) or doubt(
            bench, last, now, self._clock.zone, self._forecasts_of
        )

    def _with_all_strikes(self, sayings: Sequence[Saying]) -> Sequence[Saying]:
        """What is said, where of all that cross out, or brought back, one line with the strike that
        is crossed out the others are too."""
        strikes = self._reading.bench.strikes
        meant: list[Saying] = []
        for kind, fields in sayings:
            target = fields.get("entry") if kind is CrossedOut else None
            if target not in strikes:
                meant.append((kind, fields))
                continue
            for one in strikes_that_turn(strikes, target):
                saying = (kind, {**fields, "entry": one})
                meant += [saying] if saying not in meant else []
        return meant

    def built(
        self,
        kind: type[Entry],
        fields: dict[str, Any],
        at: datetime,
        now: datetime,
        instead_of: str = "",
    ) -> Entry:
        """The entry of a kind with these fields, which is held against nothing.

        Raises:
            InvalidField: a field cannot be so.
        """
        if not self._ids.is_begun:
            self._ids.follow(self._reading.history.ids(), now)
        return build(
            kind,
            fields,
            entry_id=self._ids.next(now, instead_of),
            at=at,
            logged=now,
            by=self._keeper(),
            round_id="" if kind is RoundStarted else self._round_for(at, now),
        )

    def _round_for(self, at: datetime, now: datetime) -> str:
        walk = self._reading.bench.open_round
        return walk.id if walk and walk.started <= at and walk.goes_on(now) else ""

    def name_zone(self, at: datetime, before: datetime | None = None) -> list[Entry]:
        """What names this machine's zone as the book's, from an instant on, before all else that is
        said now; nothing where it has no name.

        It is no answer: undo passes over it.

        Args:
            before: when that was typed before which it stands; now where not given.
        """
        now = before or self._clock.now()
        name = name_of_zone(self._clock.local_zone, now)
        if not name:
            return []
        named = build(
            Setting,
            {"name": "zone", "value": name},
            entry_id=self._ids.just_before(now),
            at=at,
            logged=now,
            by=self._keeper(),
            round_id="",
        )
        return [named]


def together(entries: Sequence[Entry]) -> list[Entry]:
    """The same, marked so that all of them count or none, wherever but a part of them comes."""
    if len(entries) == 1:
        return list(entries)
    part_of = mark(entries[0].id, len(entries))
    return [msgspec.structs.replace(entry, part_of=part_of) for entry in entries]


def _apply_until(bench: Bench, entries: Iterable[Entry], until: datetime) -> None:
    for entry in entries:
        if entry.at <= until:
            apply(bench, entry)
