"""Entering a published study line by line, at the times that are said, and looking back on it as the screens do."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from rounds.app.desk import Desk, Recorded
from rounds.app.startup import open_desk
from rounds.shell.log import say_phrase
from rounds.tallies.broods import Lookback
from rounds.tallies.stages import StageCount, stage_counts
from rounds.views.cells import Line
from tests.added_up import tallies_of


def retold(folder: Path, zone: str, lines: Iterable[str]) -> Desk:
    """A new book with these lines said through the desk; none may be refused."""
    desk = open_desk(folder / "book", environment={"TZ": zone})
    for line in lines:
        outcome = say_phrase(desk, line)
        assert isinstance(outcome, Recorded), (line, outcome)
    return desk


def looked_back(desk: Desk) -> Lookback:
    """What the broods' screens are drawn from."""
    return tallies_of(desk.entries(whole=True), desk.zone).look_back(desk.reading.series)


def counts(back: Lookback, broods: list[str]) -> dict[str, StageCount]:
    """The stage table of some broods together."""
    return {one.stage: one for one in stage_counts(back.course, broods)}


def words(lines: Iterable[Line]) -> str:
    """A page as it is read."""
    return "\n".join(line.text for line in lines)


def at(when: datetime) -> str:
    """A time as it is typed, to the second."""
    return when.isoformat(timespec="seconds")
