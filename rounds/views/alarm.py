"""What has turned late or urgent since the last look: once for late, twice for urgent."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from rounds.checks.due_state import Due, standing
from rounds.views.overdue_page import key_of

LATE, URGENT = 1, 2  # how many bells


class Alarm:
    """Remembers what stood late, so that only what is new is told."""

    def __init__(self) -> None:
        self._known: dict[str, int] | None = None

    def bells(self, dues: Iterable[Due], now: datetime) -> int:
        """How many bells: 2 where anything turned urgent since the last look, 1 where anything
        turned late, else 0.

        The first look tells nothing: what was late already is on the screen.
        """
        bells = {"late": LATE, "urgent": URGENT}
        stands = {
            key_of(due): bells[state] for due in dues if (state := standing(due, now)) in bells
        }
        known, self._known = self._known, stands
        if known is None:
            return 0
        return max((level for key, level in stands.items() if level > known.get(key, 0)), default=0)
