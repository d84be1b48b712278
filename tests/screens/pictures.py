"""Pictures of the screens at the demo, for the README and to compare.

Every screen at both sizes; those that a keeper sees most in every theme too.

Run: python -m tests.screens.pictures   writes screenshots/ anew.
"""

from __future__ import annotations

import asyncio
import re
import shutil
import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from demo.scenario import scenario
from rounds.app.desk import Desk
from rounds.daybook import Daybook
from rounds.entries import codec as written
from rounds.screens.app import RoundsApp
from rounds.views.settings import THEME_NAMES
from tests.conftest import MORNING, PARIS, Clock, Hand

FOLDER = Path(__file__).resolve().parents[2] / "screenshots"
SIZES = ((80, 24), (120, 40))
USUAL = "dark"


@dataclass(frozen=True)
class Screen:
    """A screen: the keys that lead there, hours after the demo's morning, whether the book is new."""

    keys: tuple[str, ...] = ()
    hours: float = 0
    empty: bool = False
    every_theme: bool = False


@dataclass(frozen=True)
class Picture:
    """A screen in a size and a theme."""

    screen: str
    size: tuple[int, int]
    theme: str = USUAL

    @property
    def name(self) -> str:
        """The name of its file: ``bench-80x24``, ``bench-red-80x24``."""
        theme = f"{self.theme}-" if self.theme != USUAL else ""
        return f"{self.screen}-{theme}{self.size[0]}x{self.size[1]}"


TO_A_LAYING_CUP = ("r", *"22/26", "enter", "space", "space", "right", "right", "right", "right")
SCREENS = {
    "first-start": Screen(("a",), empty=True),
    "bench": Screen(every_theme=True),
    "bench-empty": Screen(empty=True),
    "map": Screen(("m",), hours=6, every_theme=True),
    "card": Screen(("m", "c", "d"), hours=6),
    "question": Screen(("end", "up", "up", "up", "a")),
    "prompt": Screen(("t", *"K7 3 eggs on strob")),
    "round": Screen(TO_A_LAYING_CUP, every_theme=True),
    "round-large": Screen((*TO_A_LAYING_CUP, "tab")),
    "round-in-minutes": Screen(("1", "5", "r")),
    "search": Screen(("comma", *"strob")),
    "overdue": Screen(("v",), hours=6),
    "daybook": Screen(("y",)),
    "plan": Screen(("p",)),
    "learned": Screen(("6",)),
    "supplies": Screen(("k",)),
    "ahead": Screen(("full_stop", "down", "down"), every_theme=True),
    "batches": Screen(("8",)),
    "laying": Screen(("i",)),
    "broods": Screen(("z",)),
    "brood": Screen(("z", *["down"] * 4, "enter", "space")),
    "away": Screen(("b",)),
    "calculator": Screen(("equals_sign",)),
    "running-bench": Screen(("t", *"list", "enter"), empty=True),
    "help": Screen(("question_mark",), every_theme=True),
    "help-words": Screen(("question_mark", "question_mark")),
}
PICTURES = tuple(
    Picture(name, size, theme)
    for name, screen in SCREENS.items()
    for theme in THEME_NAMES
    if theme == USUAL or screen.every_theme
    for size in (SIZES if theme == USUAL else SIZES[:1])
)


async def taken(picture: Picture) -> str:
    """The picture as SVG."""
    screen = SCREENS[picture.screen]
    clock = Clock()
    counter = iter(range(1, 1_000_000))
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "book"
        if not screen.empty:
            shutil.copytree(_demo_book(), book)
        desk = Desk(
            Daybook.open(book, "bbbb2222"),
            clock=clock,
            entropy=lambda size: next(counter).to_bytes(size, "big"),
            zone=PARIS,
            keeper="HY",
        )
        clock.on(hours=screen.hours)
        app = RoundsApp(desk, monotonic=Hand())
        app.theme = picture.theme
        async with app.run_test(size=picture.size) as pilot:
            await pilot.pause()
            for key in screen.keys:
                await pilot.press({" ": "space"}.get(key, key))
            await pilot.pause()
            return plain(app.export_screenshot(title=f"rounds, {picture.name}"))


@cache
def _demo_book() -> Path:
    """A book with the demo, written once."""
    folder = Path(tempfile.mkdtemp()) / "book"
    book = Daybook.open(folder, "aaaa1111")
    book.append_many([written.write(entry) for entry in scenario(MORNING, PARIS)])
    return folder


def plain(svg: str) -> str:
    """The same picture without the ids that change from run to run."""
    for place, found in enumerate(sorted(set(re.findall(r"terminal-(\d+)", svg)))):
        svg = svg.replace(f"terminal-{found}", f"terminal-{place}")
    return svg


def main() -> None:
    """Write every picture."""
    shutil.rmtree(FOLDER, ignore_errors=True)
    FOLDER.mkdir()
    for picture in PICTURES:
        (FOLDER / f"{picture.name}.svg").write_text(asyncio.run(taken(picture)), encoding="utf-8")


if __name__ == "__main__":
    main()
