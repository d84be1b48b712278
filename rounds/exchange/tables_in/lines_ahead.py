"""What the lines behind one tell of the same container, where that line says too little: how many
of a stage they still need, and what those were."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import datetime, timedelta

from rounds.exchange.tables_in.events import LEAVING, EventRow, moved_to, name_of
from rounds.exchange.tables_in.values import STAGES
from rounds.exchange.tables_in.vocabulary import code_key

ONE_BROOD = timedelta(days=300)  # lines further apart are of others; our choice


class LinesAhead:
    """The lines of a table by container, in the order of time."""

    def __init__(self, events: Sequence[EventRow]) -> None:
        self._by_name: dict[str, list[EventRow]] = {}
        self._place: dict[int, int] = {}
        for event in events:
            lines = self._by_name.setdefault(code_key(name_of(event)), [])
            self._place[event.row.number] = len(lines)
            lines.append(event)

    def _after(self, event: EventRow) -> Iterator[EventRow]:
        lines = self._by_name[code_key(name_of(event))]
        for later in lines[self._place[event.row.number] + 1 :]:
            if later.at - event.at > ONE_BROOD:
                return
            yield later

    def needed(self, event: EventRow, stage: str, *, pupae: bool) -> int:
        """How many animals of a stage must be there behind a line for the later ones to be so.

        Args:
            pupae: whether pupae are there; what comes out later comes out of these, not of eggs.
        """
        need = balance = 0
        for later in self._after(event):
            reached = later.stage if later.action == "reached" else ""
            if later.action == "comes out":
                reached = "adult" if pupae else "larva"
            pupae = pupae or reached == "pupa"
            number = later.number
            came_from = STAGES[STAGES.index(reached) - 1] if reached not in ("", "egg") else ""
            goes = stage in (came_from, later.stage if later.action in LEAVING else "")
            if number is None and (goes or reached == stage):
                return need  # all of them, however many
            if reached == stage:
                balance += number or 0
            elif goes:
                balance -= number or 0
                need = max(need, -balance)
            elif later.action in ("moulted", "counted") and later.stage == stage:
                need = max(need, (number or 0) - balance)
        return need

    def goes_on(self, event: EventRow, stage: str, others: Collection[str]) -> EventRow | None:
        """The first later line by which some of a stage live on behind a line: that tells of them,
        or of what they became where no ``others`` that are there could become it.

        Lines behind new eggs are of those.
        """
        for later in self._after(event):
            reached = later.stage if later.action in ("reached", "moulted") else ""
            if reached == "egg" or later.number == 0:
                if reached == "egg":
                    return None
                continue
            told = later.stage or {"comes out": "adult" if stage == "pupa" else "larva"}.get(
                later.action, ""
            )
            if not told or (told == "larva" == stage and later.action == "comes out"):
                continue
            between = STAGES[STAGES.index(stage) + 1 : STAGES.index(told) + 1]
            is_later = STAGES.index(told) >= STAGES.index(stage)
            lives = told == stage or (is_later and not set(between).intersection(others))
            if lives and later.action in ("reached", "comes out", "moulted", "counted", *LEAVING):
                return later
        return None

    def is_of(self, event: EventRow) -> str:
        """Whether those of a line are a ``larva`` each or an ``adult``, by the next line that tells
        it of them, where they were moved too; empty where none does."""
        for later in self._after(event):
            told = _tells(later)
            if told:
                return told
            lines = self._by_name.get(code_key(moved_to(later)), ())
            beyond = next((one for one in lines if _order(one) > _order(later)), None)
            if later.action == "moved" and beyond:
                return _tells(beyond) or self.is_of(beyond)
        return ""


def _order(event: EventRow) -> tuple[datetime, int]:
    return event.at, event.row.number


def _tells(event: EventRow) -> str:
    if event.stage in ("larva", "pupa") and event.action != "comes out":
        return "larva"  # a larva, or what was one
    return "adult" if event.stage == "adult" or event.action == "released" else ""
