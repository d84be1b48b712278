"""A book opened for a script: one phrase in, plain records out."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from datetime import UTC, datetime, timedelta, tzinfo
from pathlib import Path
from typing import Any

from rounds.app.bench_clock import round_anchors
from rounds.app.clock import system_clock
from rounds.app.desk import Desk, Outcome
from rounds.app.prompt_line import say_phrase
from rounds.app.startup import open_desk
from rounds.bench.codes import counted
from rounds.bench.folding.sought import times_sought
from rounds.bench.state import Bench
from rounds.bench.state import Container as BenchContainer
from rounds.checks.away import away
from rounds.checks.due import all_dues
from rounds.checks.due_state import Due as DueCheck
from rounds.checks.due_state import comes, pressing
from rounds.checks.round_clock import Moment
from rounds.checks.supplies import supplies
from rounds.checks.why import why
from rounds.entries.entry_factory import fixed
from rounds.entries.phrase.times import read_time
from rounds.entries.registry import KIND_BY_NAME
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.moats import barrier_standing
from rounds.forecasts.stage_ends import ComingChange
from rounds.scripting.outcome import recorded
from rounds.scripting.results import (
    Container,
    Due,
    Forecast,
    KeptStems,
    PlannedCheck,
    Recorded,
    Refused,
    RoundPlan,
    Stock,
    Supply,
)
from rounds.scripting.walk import Round


def open_book(
    folder: str | Path,
    *,
    keeper: str = "",
    clock: Callable[[], datetime] | None = None,
    zone: tzinfo | None = None,
) -> Book:
    """Open the book in a folder; a new one begins if there is none.

    Args:
        folder: of the book; it is made if it is not there.
        keeper: initials that go with every entry.
        clock: gives the present instant, with an offset; the machine's clock if none is given.
        zone: the local zone, the machine's if none is given; a book that begins keeps it as its
            setting, one whose settings name another is told by that.

    Raises:
        OSError: the folder cannot be made or read.

    Example:
        >>> import rounds
        >>> book = rounds.open_book("spring", keeper="AB")
        >>> book.record("K2 set up laying")
        >>> [due.check for due in book.due()]
    """
    desk = open_desk(
        Path(folder), keeper=keeper, environment=os.environ, clock=clock or system_clock, zone=zone
    )
    return Book(desk)


class Book:
    """An open book.

    Instants that come back carry the bench's offset.
    """

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    @property
    def now(self) -> datetime:
        """The present instant in the bench's zone."""
        return self.desk.now()

    def record(self, what: str, at: datetime | str | None = None, **fields: Any) -> Recorded:
        """Record one phrase as at the prompt, or a kind by its name with its fields.

        Args:
            what: a phrase, as 'K2 drank', or with fields the name of a kind, as 'drank'.
            at: when it happened, an instant or as typed ('-20m', '7:40'); now if it is not given.
            fields: of the kind, as ``container='K2'``.

        Raises:
            Refused: it cannot be recorded, or could not be saved; the text says why.
        """
        happened = self._instant(at)
        if not fields:
            outcome = say_phrase(self.desk, what, happened)
        elif (kind := KIND_BY_NAME.get(what)) is not None:
            outcome = self.desk.record(kind, happened, **fields)
        else:
            raise Refused(f"'{what}' is no kind of entry; 'drank', 'searched' and 'note' are")
        return self.kept(outcome)

    def undo(self) -> Recorded:
        """Undo what was recorded last through this door.

        Raises:
            Refused: nothing was recorded here yet.
        """
        return self.kept(self.desk.strike_last())

    def cross_out(self, entry_id: str, why: str) -> Recorded:
        """Cross out one entry: it stays in the daybook and no longer counts.

        Raises:
            Refused: there is no such entry, or it may not be.
        """
        return self.kept(self.desk.strike(entry_id, why))

    def due(self, at: datetime | None = None, within: timedelta | None = None) -> list[Due]:
        """The checks that are due at an instant (now if none is given), or that come due within a
        span; the soonest danger first."""
        moment = self._moment(at)
        until = moment.now + (within or timedelta(0))
        checks = (
            self.desk.dues()
            if at is None
            else all_dues(self.desk.bench, moment, foresight=self._foresight)
        )
        chosen = [check for check in checks if comes(check, moment.now) <= until]
        last = datetime.max.replace(tzinfo=UTC)
        chosen.sort(
            key=lambda check: (
                check.danger or last,
                check.urgent or last,
                check.late or last,
                check.due,
                counted(check.where),
            )
        )
        return [self._due(check, moment) for check in chosen]

    def round(self, name: str | None = None, minutes: float = 0) -> Round:
        """Begin a round, or go on with the one that is open.

        Args:
            minutes: that there are: what saves most in them is asked first, the rest after it; 0
                for as long as it takes.

        Raises:
            Refused: no round can begin.
        """
        if minutes < 0:
            raise Refused(
                f"{minutes:g} minutes cannot be; give how many there are, as 15, or 0 for as long"
                " as it takes"
            )
        return Round(self.desk, name or "", minutes)

    def round_plan(self, minutes: float) -> RoundPlan:
        """What a round that begins now takes and leaves out in so many minutes, and what that may
        cost."""
        plan = self.desk.short_round(minutes)
        taken, left = (
            tuple(
                PlannedCheck(
                    weighed_check.due.where or weighed_check.due.place_kind,
                    weighed_check.due.check,
                    weighed_check.worth.seconds,
                    weighed_check.worth.lost,
                    weighed_check.worth.words,
                )
                for weighed_check in checks
            )
            for checks in (plan.taken, plan.left)
        )
        return RoundPlan(taken, left, plan.seconds, plan.may_cost)

    def forecasts(self, container: str | None = None) -> list[Forecast]:
        """Every change that is coming, of a container or of all; the soonest first."""
        changes = [
            change
            for stands in self._standing(container)
            for change in self._foresight.coming(stands)
        ]
        last = datetime.max.replace(tzinfo=UTC)
        return [
            self._forecast(change)
            for change in sorted(changes, key=lambda change: change.half or last)
        ]

    def kept_stems(self, container: str | None = None) -> list[KeptStems]:
        """Every lot of kept stems, of a container or of all."""
        now = self.desk.now()
        return [
            KeptStems(
                stands.code,
                held.plant,
                held.batch,
                held.sprigs,
                chance.chance,
                self._local(chance.keep_until),
                times_sought(held),
            )
            for stands in self._standing(container)
            for held in stands.held
            for chance in [self._foresight.chance(stands, held, now)]
        ]

    def containers(self) -> list[Container]:
        """What stands on the bench, in walking order of shelves and places."""
        bench = self.desk.bench
        return [self._container(bench, stands) for stands in bench.standing()]

    def supplies(self, until: datetime | None = None) -> list[Supply]:
        """What to have ready for the coming round and for tomorrow, or of that what is wanted
        before an instant."""
        moment = self.desk.moment()
        result = supplies(self.desk.bench, moment, self.desk.dues())
        tomorrow = moment.now.astimezone(moment.zone).replace(
            hour=0, minute=0, second=0, microsecond=0
        ) + timedelta(days=1)
        plans = ((result.round_begins, result.coming), (tomorrow, result.tomorrow))
        return [
            Supply(
                need.what,
                need.of,
                need.number,
                need.unit,
                by.astimezone(self.desk.zone),
                need.arithmetic,
            )
            for by, needs in plans
            for need in needs
            if until is None or by <= until
        ]

    def tonight(self) -> list[Forecast]:
        """The changes that may begin before the next morning's round."""
        ends = self.desk.moment().next_anchor(self.desk.now())
        while ends.astimezone(self.desk.zone).hour >= 12:
            ends = self.desk.moment().next_anchor(ends)
        return [
            forecast
            for forecast in self.forecasts()
            if forecast.low is not None and forecast.low <= ends
        ]

    def table(self, name: str) -> list[dict[str, Any]]:
        """The rows of a table that leaves as CSV, by heading, ready for a data frame.

        Raises:
            Refused: there is no such table.
        """
        from rounds.exchange.source import Source
        from rounds.exchange.tables.tables import TABLES

        table = TABLES.get(name)
        if table is None:
            raise Refused(f"'{name}' is no table; there are {', '.join(TABLES)}")
        return [
            dict(zip(table.headings, row, strict=True)) for row in table.rows(Source(self.desk))
        ]

    def sheet(self, until: datetime | str, since: datetime | str | None = None) -> str:
        """The helper's sheet for an absence, as text.

        Raises:
            Refused: the times cannot be.
        """
        from rounds.views.sheet import sheet, sheet_text

        back, leave = (
            self._instant(until, ahead=True),
            self._instant(since, ahead=True) or self.desk.now(),
        )
        assert back is not None
        try:
            plan = away(
                self.desk.bench,
                self.desk.moment(),
                max(leave, self.desk.now()),
                back,
                self.desk.dues(),
                self.desk.foresight,
            )
        except ValueError as reason:
            raise Refused(str(reason)) from None
        told = sheet(self.desk.bench, plan, self.desk.zone, is_whole=not self.desk.gaps)
        return "\n".join(sheet_text(told))

    def export(self, kind: str, target: str | Path, **options: Any) -> list[str]:
        """Write an export to a file, as ``rounds export`` does; what it says of what it wrote comes
        back.

        Args:
            kind: dwca, occurrences, ics, csv, labels, note, plot, season, permit or pins.
            target: the file.
            options: those of the command by name, as ``table='stock'``, ``replace=True``; of a note
                ``about='BROOD'``.

        Raises:
            Refused: it cannot be written; the text says why.
        """
        from rounds.exchange.atomic_file import ExportRefused as ExportRefused
        from rounds.exchange.exports import write_export

        try:
            return write_export(self.desk, kind, Path(target), options)
        except ExportRefused as reason:
            raise Refused(str(reason)) from None

    def kept(self, outcome: Outcome) -> Recorded:
        """What a desk's outcome recorded.

        Raises:
            Refused: it recorded nothing.
        """
        return recorded(self.desk, outcome)

    @property
    def _foresight(self) -> Forecasts:
        return self.desk.foresight

    def _moment(self, at: datetime | None) -> Moment:
        if at is None:
            return self.desk.moment()
        zone = self.desk.zone
        return Moment(
            now=fixed(at.astimezone(zone)), zone=zone, anchors=round_anchors(self.desk.bench)
        )

    def _instant(self, at: datetime | str | None, *, ahead: bool = False) -> datetime | None:
        if not isinstance(at, str):
            return at
        result = read_time(at, now=self.desk.now(), zone=self.desk.zone, ahead=ahead)
        if not isinstance(result, datetime):
            raise Refused(result.message)
        return result

    def _local(self, at: datetime | None) -> datetime | None:
        return at.astimezone(self.desk.zone) if at else None

    def _standing(self, code: str | None) -> Iterable[BenchContainer]:
        if code is None:
            return self.desk.bench.standing()
        container = self.desk.bench.at(code)
        if container is None:
            raise Refused(f"no container is called {code}")
        return [container]

    def _due(self, check: DueCheck, moment: Moment) -> Due:
        words = why(check, self.desk.bench, moment)
        return Due(
            where=check.where or check.place_kind,
            check=check.check,
            subject=check.subject,
            due=comes(check, moment.now).astimezone(self.desk.zone),
            late=self._local(check.late),
            urgent=self._local(check.urgent),
            danger=self._local(check.danger),
            state=pressing(check, moment.now),
            reason="; ".join(
                part for part in (words.rule, words.last, words.arithmetic, words.source) if part
            ),
        )

    def _forecast(self, change: ComingChange) -> Forecast:
        return Forecast(
            container=change.where,
            change=change.change,
            brood=change.brood,
            number=change.number,
            first=self._local(change.first),
            half=self._local(change.half),
            last=self._local(change.last),
            low=self._local(change.low),
            high=self._local(change.high),
            basis=change.own or (change.need.words if change.need else ""),
            why_not=change.why_not,
        )

    def _container(self, bench: Bench, stands: BenchContainer) -> Container:
        shelf = bench.shelves.get(stands.shelf)
        own = stands.barrier not in ("none", "not applicable") or shelf is None
        barrier, moat = (
            (stands.barrier, stands.moat) if own or shelf is None else (shelf.barrier, shelf.moat)
        )
        return Container(
            code=stands.code,
            purpose=stands.purpose,
            shelf=stands.shelf,
            place=stands.place,
            stock=tuple(
                Stock(lot.brood, lot.stage, lot.instar, lot.sex, lot.number) for lot in stands.lots
            ),
            plants=tuple(host.plant for host in stands.hosts),
            barrier=barrier,
            moat=barrier_standing(bench, barrier, moat, self.desk.now()).state,
            do_not_disturb_until=self._local(stands.leave_be_until),
        )
