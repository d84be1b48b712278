"""Walking the demo's whole round through the real screens, as a keeper with one free hand would."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len
from textual.pilot import Pilot

from rounds.screens.app import RoundsApp
from rounds.screens.question import QuestionBar
from rounds.screens.round_screen import RoundScreen

# What is pressed where a look alone gives no usual answer.
SPECIAL = {
    "eggs": ["0"],
    "room": [*"22/26", "enter"],
    "count": ["c"],
    "balance": ["y"],
    "leaf": ["a"],
    "heat": ["k"],
    "change": ["0"],
    "food": ["c"],  # what was seen to fail is new
    "host": ["c"],
}


@dataclass
class Walked:
    """How a walk went."""

    presses: int = 0
    stops: int = 0
    finished: bool = False


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys as they come from a terminal."""
    for key in keys:
        await pilot.press(key)


async def all_parts(pilot: Pilot[None], app: RoundsApp) -> list[str]:
    """The rows of the question in all its parts, which Down shows one after the other."""
    bar = app.screen.query_one(QuestionBar)
    rows: list[str] = []
    for _ in range(bar.parts):
        drawn = str(bar.render()).splitlines()
        assert len(drawn) <= bar.content_size.height, "nothing is cut off below"
        assert all(cell_len(one) <= bar.content_size.width for one in drawn), drawn
        rows += drawn
        if bar.parts > 1:
            await pilot.press("down")
    return rows


async def walk(pilot: Pilot[None], app: RoundsApp, most: int = 400) -> Walked:
    """Answer everything that the open round asks, to its end or to so many presses."""
    walked = Walked()
    while walked.presses < most:
        screen = app.screen
        if not isinstance(screen, RoundScreen):
            walked.finished = True
            break
        bar = screen.query_one(QuestionBar)
        if bar.question is None or bar.due is None:
            keys = ["enter"]
        elif any(answer.usual and not answer.prompt for answer in bar.question.answers):
            keys = ["space"]
        else:
            keys = SPECIAL[bar.due.check]
        await press(pilot, *keys)
        walked.presses += len(keys)
    return walked
