"""What was due by the last reckoning, told again as long as it holds.

It holds while nothing that a start reads was changed, and until the first instant at which any hour
of a check may be another. It lies outside the book, where this machine remembers things of it, and
may be deleted at any time.
"""

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from rounds.bench.zones import name_alone, zone_named
from rounds.checks.round_clock import Moment
from rounds.daybook.machine_memory import cannot_remember, remembered_at, takes_turns
from rounds.daybook.sealed import keep_sealed, read_sealed
from rounds.daybook.unchanged import DUES, FileMarks, is_settled, made_by, shown_of
from rounds.views.due_lines import DueLine, lines_of

if TYPE_CHECKING:
    from rounds.app.desk import Desk
    from rounds.checks.due_state import Due


class _LastLines(msgspec.Struct, array_like=True):
    made_by: str
    shown: FileMarks
    zone: str
    at: datetime
    until: datetime | None
    lines: tuple[DueLine, ...]


class LastDues:
    """What was due in a book by the last reckoning.

    Args:
        folder: the book; what is shown of it now is what a reckoning is held against.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._beside = None if takes_turns(folder) else remembered_at(folder)
        self._shown = shown_of(folder, self._beside) if self._beside else None
        self._made_by = made_by() if self._shown else ""

    def told(self, now: datetime) -> tuple[list[DueLine], Moment] | None:
        """What is due or ahead at an instant, as a desk would reckon it; None where that is not
        known."""
        if self._shown is None or self._beside is None or cannot_remember(self._beside):
            return None
        known = read_sealed(self._beside.with_suffix(DUES), _LastLines)
        if known is None:
            return None
        is_same = (known.made_by, known.shown) == (self._made_by, self._shown)
        holds = known.at <= now and (known.until is None or now < known.until)
        zone = zone_named(known.zone)
        if not is_same or not holds or zone is None:
            return None
        return list(known.lines), Moment(now, zone, ())

    def keep(self, desk: "Desk", dues: "Iterable[Due]", moment: Moment) -> None:
        """Remember what a desk reckoned that was opened since, where another would reckon the same
        and would have nothing to tell besides."""
        held, zone, is_begun = desk.reckoning.kept_dues.held, desk.zone, bool(desk.bench.containers)
        is_told = is_begun and desk.is_settled and not desk.reckoning.misfits
        if not (self._shown and self._beside and is_told) or held.moves:
            return
        if not name_alone(zone):
            return
        shown = shown_of(self._folder, self._beside)
        if shown is None or not is_settled(self._shown, shown, self._beside):
            return
        lines = tuple(lines_of(dues))
        reckoned = _LastLines(self._made_by, shown, name_alone(zone), moment.now, held.until, lines)
        keep_sealed(self._beside.with_suffix(DUES), reckoned)
