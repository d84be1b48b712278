"""Pictures of the screens at the demo, for the README and to compare.

Run: python -m tests.screens.pictures   writes screenshots/ anew.
"""

from __future__ import annotations

import asyncio
import re
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from demo.scenario import scenario
from rounds.app.desk import Desk
from rounds.daybook import Daybook
from rounds.entries import codec as written
from rounds.screens.app import RoundsApp
from tests.conftest import PARIS, Clock

FOLDER = Path(__file__).resolve().parents[2] / "screenshots"


@dataclass(frozen=True)
class Picture:
    """A picture: its name, the terminal's size, the keys that lead there, the colours, hours after the demo's now."""

    name: str
    size: tuple[int, int]
    keys: Sequence[str] = ()
    theme: str = "dark"
    hours: float = 0


TO_A_LAYING_CUP = ["r", *"22/26", "enter", *["space"] * 2]
PICTURES = (
    Picture("bench-80x24", (80, 24)),
    Picture("bench-120x40", (120, 40)),
    Picture("round-80x24", (80, 24), [*TO_A_LAYING_CUP, "right", "right", "right", "right"]),
    Picture("round-120x40", (120, 40), [*TO_A_LAYING_CUP, "right", "right", "right", "right"]),
    Picture(
        "round-large-80x24", (80, 24), [*TO_A_LAYING_CUP, "right", "right", "right", "right", "tab"]
    ),
    Picture("search-80x24", (80, 24), ["comma", *"strob"]),
    Picture("overdue-80x24", (80, 24), ["v"], hours=6),
    Picture("daybook-80x24", (80, 24), ["y"]),
    Picture("plan-80x24", (80, 24), ["p"]),
    Picture("supplies-80x24", (80, 24), ["k"]),
    Picture("ahead-80x24", (80, 24), ["full_stop", "down", "down"]),
    Picture("ahead-120x40", (120, 40), ["full_stop", "down", "down"]),
    Picture("batches-80x24", (80, 24), ["8"]),
    Picture("laying-80x24", (80, 24), ["i"]),
    Picture("broods-80x24", (80, 24), ["z"]),
    Picture("brood-80x24", (80, 24), ["z", *["down"] * 4, "enter", "space"]),
    Picture("brood-120x40", (120, 40), ["z", *["down"] * 4, "enter"]),
    Picture("away-80x24", (80, 24), ["b"]),
    Picture("map-80x24", (80, 24), ["m"], hours=6),
    Picture("map-120x40", (120, 40), ["m"], hours=6),
    Picture("card-80x24", (80, 24), ["m", "c", "d"], hours=6),
    Picture("calculator-80x24", (80, 24), ["equals_sign"]),
    Picture("help-80x24", (80, 24), ["question_mark"]),
    Picture("question-80x24", (80, 24), ["end", "up", "up", "up", "a"]),
    Picture("bench-light-120x40", (120, 40), theme="light"),
    Picture("bench-contrast-80x24", (80, 24), theme="contrast"),
    Picture("bench-red-80x24", (80, 24), theme="red"),
)


async def taken(picture: Picture) -> str:
    """The picture as SVG."""
    clock = Clock()
    counter = iter(range(1, 1_000_000))
    with tempfile.TemporaryDirectory() as folder:
        desk = Desk(
            Daybook.open(Path(folder) / "book", "aaaa1111"),
            clock=clock,
            entropy=lambda size: next(counter).to_bytes(size, "big"),
            zone=PARIS,
            keeper="HY",
        )
        desk.book.append_many([written.write(entry) for entry in scenario(clock.now, PARIS)])
        desk.hear()
        clock.on(hours=picture.hours)
        app = RoundsApp(desk)
        app.theme = picture.theme
        async with app.run_test(size=picture.size) as pilot:
            await pilot.pause()
            for key in picture.keys:
                await pilot.press(key)
            await pilot.pause()
            return plain(app.export_screenshot(title=f"rounds, {picture.name}"))


def plain(svg: str) -> str:
    """The same picture without the ids that change from run to run."""
    for place, found in enumerate(sorted(set(re.findall(r"terminal-(\d+)", svg)))):
        svg = svg.replace(f"terminal-{found}", f"terminal-{place}")
    return svg


def main() -> None:
    """Write every picture."""
    FOLDER.mkdir(exist_ok=True)
    for picture in PICTURES:
        (FOLDER / f"{picture.name}.svg").write_text(asyncio.run(taken(picture)), encoding="utf-8")


if __name__ == "__main__":
    main()
