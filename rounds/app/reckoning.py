"""What is reckoned of the bench of a book and kept until it changes: what is due, what is coming,
what went by."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rounds.app.bench_clock import BenchClock
from rounds.app.reading import BookReading, Touched
from rounds.bench.state import Bench
from rounds.checks.kept_dues import KeptDues

if TYPE_CHECKING:
    from rounds.app.last_checks import LastChecks
    from rounds.checks.due_state import Due
    from rounds.checks.round_clock import Moment
    from rounds.forecasts.foresight import Forecasts
    from rounds.tallies.broods import Lookback
    from rounds.tallies.tallies import Tallies


class BenchReckoning:
    """What is reckoned of a bench, each thing when it is first asked for.

    Args:
        reading: of the book, which tells of every change.
        clock: what time it is there.
        last_checks: what this machine reckoned at its last start; None where nobody will ask what
            is due.
    """

    def __init__(
        self, reading: BookReading, clock: BenchClock, last_checks: LastChecks | None
    ) -> None:
        self._reading = reading
        self._clock = clock
        self._last_checks = last_checks
        self.took_up_checks = False  # whether what is due was not all reckoned here
        self.kept_dues = KeptDues()
        self._foresight: Forecasts | None = None
        self._tallies: Tallies | None = None
        self._lookback: Lookback | None = None
        self._misfits: tuple[Bench, str] | None = None
        reading.listen(self._changed)

    @property
    def misfits(self) -> str:
        """What does not fit together, in one line; empty where all does."""
        bench = self._reading.bench
        if self._misfits is None or self._misfits[0] is not bench:
            from rounds.views.gaps import misfit_words  # no script asks

            self._misfits = bench, misfit_words(bench)
        return self._misfits[1]

    def dues(self, moment: Moment | None = None) -> list[Due]:
        """Every check of the bench, due or ahead at a moment; now where none is given."""
        from rounds.checks.due import all_dues  # a line that is said wants none of the checks

        now, bench = moment or self._clock.moment(), self._reading.bench
        if self._last_checks is not None and not self.kept_dues.under:
            is_whole = not self._reading.loggers_lacking
            known = self._last_checks.of(bench, now, self.foresight, is_whole=is_whole)
            self.kept_dues.take_up(known)
            self.took_up_checks = bool(known)
        return all_dues(bench, now, foresight=self.foresight, kept=self.kept_dues)

    def keep_checks(self) -> None:
        """Remember on this machine what was reckoned, for the next start."""
        if self._last_checks is not None and self._foresight is not None:
            self._last_checks.keep(self._reading.bench, self.kept_dues, self._foresight)

    @property
    def foresight(self) -> Forecasts:
        """What is coming on the bench as it stands."""
        if self._foresight is None:
            self._foresight = self.forecasts_of(self._reading.bench)
        return self._foresight

    def forecasts_of(self, bench: Bench) -> Forecasts:
        """What is coming on a bench, as it stood at any time."""
        from rounds.forecasts.foresight import Forecasts  # nor any forecast

        return Forecasts(bench, self._clock.zone, self._reading.series)

    @property
    def tallies(self) -> Tallies:
        """What went by on the bench, added up."""
        return self._added.up_to(self._reading.bench, self._reading.journal, self._clock.zone)

    def add_up(self, most: int) -> float:
        """Go on adding up what went by, so many records of it; the share that is added up now.

        Where that is 1, ``tallies`` and ``look_back`` keep nobody waiting.
        """
        reading = self._reading
        return self._added.go_on(reading.bench, reading.journal, self._clock.zone, most)

    @property
    def _added(self) -> Tallies:
        if self._tallies is None:
            # not at the start, where nobody looks back yet
            from rounds.tallies.tallies import Tallies

            self._tallies = Tallies()
        return self._tallies

    def look_back(self) -> Lookback:
        """The course of every animal with its temperatures and plants."""
        if self._lookback is None:
            self._lookback = self.tallies.look_back(self._reading.series)
        return self._lookback

    def time_goes_by(self) -> None:
        """Reckon again what hangs on the hour, wherever what was reckoned is kept a while."""
        if self._has_later_warmth:
            self._forget(None)
        else:
            self.kept_dues.time_goes_by()

    def _changed(self, touched: Touched) -> None:
        """Forget what was reckoned, of what is coming only what these containers are about where
        some are named."""
        self._lookback = self._misfits = None
        self._forget(touched)

    def _forget(self, touched: Touched) -> None:
        """Of what was reckoned and is coming, what these containers are about; all where none are
        named."""
        coming = self._foresight
        if self._last_checks is not None:
            self._last_checks.touched = None
        if (
            touched is None
            or coming is None
            or coming.bench is not self._reading.bench
            or (self._has_later_warmth and not self.kept_dues.lag)
        ):
            self._foresight = None
            self.kept_dues.forget()
        else:
            self.kept_dues.forget(coming.looked_at(touched))

    @property
    def _has_later_warmth(self) -> bool:
        """Whether more is known by now of how warm it was than the forecasts go by."""
        return self._foresight is not None and self._foresight.is_behind(self._reading.bench)
