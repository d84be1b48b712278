"""A round in the minutes there are: what it takes and leaves out, before it begins."""

from __future__ import annotations

from rounds.screens.reference_screens import ReadingScreen
from rounds.views.short_round_page import minutes, short_round_lines

STEP = 5  # minutes
LEAST, MOST = 1, 24 * 60


class ShortRoundScreen(ReadingScreen, scope="short round"):
    """What a round in so many minutes takes."""

    def __init__(self, minutes: int = 15) -> None:
        super().__init__()
        self.minutes = minutes

    def show(self) -> None:
        plan = self.desk.short_round(self.minutes)
        every = f"{self.sign('all_stops')} all {plan.stops} stops, {minutes(plan.all_seconds)} min"
        more = f"{self.sign('more_minutes')} {self._next(STEP)} min"
        less = f"{self.sign('fewer_minutes')} {self._next(-STEP)} min"
        keys = f"Enter begins   {more}   {less}   {every}"
        self.fill(short_round_lines(plan, self.desk.moment(), keys, is_whole=not self.desk.gaps))

    def _next(self, step: int) -> int:
        to = self.minutes + step
        return min(MOST, max(LEAST, to // STEP * STEP if step > 0 else -(-to // STEP) * STEP))

    def action_more_minutes(self) -> None:
        """A longer round."""
        self.minutes = self._next(STEP)
        self.show()

    def action_fewer_minutes(self) -> None:
        """A shorter round."""
        self.minutes = self._next(-STEP)
        self.show()

    def action_begin(self) -> None:
        """Begin it as it stands here."""
        self.host.begin_round(self.minutes)

    def action_all_stops(self) -> None:
        """Begin with all stops."""
        self.host.begin_round(0)
