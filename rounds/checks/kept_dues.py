"""The checks of each container, kept until a change touches it or, where they hang on the hour,
time goes by.

What is kept is what a reckoning of the whole bench would give: the desk says which containers a
change touches, checks that asked whether an instant has come are kept until it does, and those
that asked what time it is no longer than ``lag``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, NamedTuple

from msgspec import Struct

if TYPE_CHECKING:
    from rounds.bench.state import Bench
    from rounds.checks.due_state import Due
    from rounds.checks.round_clock import Moment


class Reckoned(Struct, frozen=True, gc=False):
    """The checks of a container, the instant at which they were reckoned, until when they hold,
    whether they hold at that instant alone, and whether that is so of more than words."""

    dues: tuple[Due, ...]
    at: datetime
    until: datetime | None
    by_the_hour: bool = False
    moves: bool = False


class Held(NamedTuple):
    """Until when hours hold (None: for good), and whether they hold at no other instant at all."""

    until: datetime | None
    moves: bool


class KeptDues:
    """What was reckoned of each container of one bench.

    Args:
        lag: how long what hangs on the hour is kept; none where each instant counts.
    """

    def __init__(self, lag: timedelta = timedelta(0)) -> None:
        self.lag = lag
        self._of: dict[str, Reckoned] = {}
        self._bench: Bench | None = None
        self.under: tuple[Any, ...] = ()  # what all checks of the last reckoning rest on
        self.latest: datetime | None = None  # when that was
        self.of_bench: list[Held] = []  # of all that was reckoned beside the containers

    def forget(self, codes: Iterable[str] | None = None) -> None:
        """These containers are to be reckoned again; all of them where none are named."""
        if codes is None:
            self._of.clear()
            return
        for code in codes:
            self._of.pop(code, None)

    def time_goes_by(self) -> None:
        """What hangs on what time it is is to be reckoned again."""
        self._of = {code: known for code, known in self._of.items() if not known.by_the_hour}

    def begin(self, bench: Bench, moment: Moment, *under: object) -> None:
        """A reckoning of the bench as it stands begins.

        Args:
            under: what else all checks rest on; where any of it is another, nothing is kept.
        """
        held = (moment.zone, moment.anchors, *under)
        set_back = self.latest is not None and moment.now < self.latest
        is_first = self._bench is None
        if not is_first and (bench is not self._bench or held != self.under or set_back):
            self._of.clear()
        self._bench, self.under, self.latest = bench, held, moment.now
        self.of_bench = []

    def take_up(self, reckoned: Mapping[str, Reckoned]) -> None:
        """Before the first reckoning: what was reckoned elsewhere of that bench, under all that it
        will rest on."""
        self._of = dict(reckoned)

    def all_of(self, bench: Bench) -> Iterable[tuple[str, Reckoned]]:
        """Each container with what was reckoned of it; nothing where that was of another bench."""
        return self._of.items() if bench is self._bench else ()

    def of(self, code: str, now: datetime) -> tuple[Due, ...] | None:
        """The checks of a container; None where they are to be reckoned."""
        known = self._of.get(code)
        if known is None or (known.until is not None and known.until <= now):
            return None
        if known.by_the_hour and now - known.at > self.lag:
            return None
        return known.dues

    def reckoned(self, code: str) -> Reckoned | None:
        """The last reckoning of a container, another object for each; None where it is to be
        reckoned."""
        return self._of.get(code)

    @property
    def held(self) -> Held:
        """How long the hours of the last reckoning hold, all in all."""
        every = [*self.of_bench, *(Held(one.until, one.moves) for one in self._of.values())]
        ends = [one.until for one in every if one.until is not None]
        return Held(min(ends, default=None), any(one.moves for one in every))

    def keep(
        self,
        code: str,
        dues: Iterable[Due],
        at: datetime,
        until: datetime | None,
        *,
        by_the_hour: bool,
        moves: bool,
    ) -> tuple[Due, ...]:
        """Keep the checks of a container, reckoned at an instant and until when they hold."""
        known = self._of[code] = Reckoned(tuple(dues), at, until, by_the_hour, moves)
        return known.dues
