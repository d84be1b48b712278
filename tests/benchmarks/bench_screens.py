"""Starting to the first drawn bench, and a key to redrawn, against an empty app and a bare table.

Run: python -m tests.benchmarks.bench_screens
"""

from __future__ import annotations

import asyncio
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from textual.app import App, ComposeResult
from textual.widgets import DataTable

from rounds.app.desk import Desk
from rounds.daybook import Daybook
from rounds.entries.registry import BroodBegun, Drank, SetUp, ShelfSetUp, Stocked
from rounds.screens.app import RoundsApp
from rounds.screens.rowlist import RowList
from rounds.shell.demo import laid_out
from tests.benchmarks.measure import heading, paired, row
from tests.conftest import Hand

EMPTY = """
from textual.app import App
from textual.widgets import DataTable
class Empty(App):
    def compose(self):
        yield DataTable()
    def on_mount(self):
        self.query_one(DataTable).add_columns("a", "b", "c", "d", "e", "f")
        self.call_after_refresh(self.exit)
Empty().run(headless=True, size=(80, 24))
"""
OURS = """
import gc, os, sys
gc.disable()  # as the command does
from pathlib import Path
from rounds.app.startup import open_desk
desk = open_desk(Path(sys.argv[1]))
from rounds.screens.app import RoundsApp
class Once(RoundsApp):
    def on_mount(self):
        self.call_after_refresh(self.call_after_refresh, self.exit)
Once(desk).run(headless=True, size=(80, 24))
"""


class Bare(App[None]):
    """A bare table of five hundred rows."""

    def compose(self) -> ComposeResult:
        """The table."""
        yield DataTable(cursor_type="row")

    def on_mount(self) -> None:
        """Fill it."""
        table = self.query_one(DataTable)
        table.add_columns("a", "b", "c", "d", "e", "f")
        for number in range(500):
            table.add_row(
                f"C{number}",
                "rearing: 11 L3 inachus",
                "12 h",
                "strobilanthes 9 h",
                "ok 2 h",
                "look 18:00",
            )


def run(code: str, *arguments: str) -> Callable[[], object]:
    """Runs some code in a process of its own, with compiled modules kept as an installed program has them."""
    environment = {
        name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"
    }
    command = [sys.executable, "-c", code, *arguments]
    subprocess.run(command, check=True, capture_output=True, env=environment)
    return lambda: subprocess.run(command, check=True, capture_output=True, env=environment)


def big_desk(folder: Path, containers: int) -> Desk:
    """A bench with that many containers."""
    counter = iter(range(1, 10_000_000))
    desk = Desk(
        Daybook.open(folder, "aaaa1111"),
        clock=lambda: datetime(2026, 5, 20, 7, 0, tzinfo=UTC),
        entropy=lambda size: next(counter).to_bytes(size, "big"),
        zone=UTC,
        keeper="KM",
    )
    desk.record(ShelfSetUp, shelf="B", barrier="moat")
    desk.record(BroodBegun, code="QA-26-02/A", taxon="Boloria dia")
    for number in range(containers):
        desk.record(
            SetUp,
            container=f"C{number:03d}".replace("0", "Z").replace("1", "Y"),
            purpose="laying",
            shelf="B",
            place=number,
        )
    for container in list(desk.bench.containers):
        desk.record(
            Stocked, container=container, brood="QA-26-02/A", stage="adult", sex="female", number=1
        )
    return desk


async def key_times(app: App[None], keys: int, key: str) -> float:
    """Seconds for so many presses, each until the screen is idle again."""
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        start = time.perf_counter()
        for _ in range(keys):
            await pilot.press(key)
        return time.perf_counter() - start


async def logged_times(app: RoundsApp, keys: int) -> float:
    """Seconds for so many feedings, each written, flushed and redrawn."""
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        app.screen.query_one(RowList).focus()
        start = time.perf_counter()
        for _ in range(keys):
            await pilot.press("d")
        return time.perf_counter() - start


def main() -> None:
    """Print the table."""
    os.environ["TZ"] = "Europe/Paris"
    print(heading())
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        laid_out(folder / "demo")
        ratios = paired(run(OURS, str(folder / "demo")), run(EMPTY), 9)
        print(row("start to first drawn demo bench, against an empty app", ratios, "<= 1.3"))
        desk = big_desk(folder / "big", 500)
        print(
            f"   a bench of {len(desk.bench.containers)} containers, {desk.bench.entries} entries"
        )
        ratios = paired(
            lambda: asyncio.run(key_times(RoundsApp(desk), 20, "down")),
            lambda: asyncio.run(key_times(Bare(), 20, "down")),
            5,
        )
        print(row("a key to redrawn, 500 containers, against a bare DataTable", ratios, "<= 1.3"))
        ratios = paired(
            lambda: asyncio.run(logged_times(RoundsApp(desk, monotonic=Hand(61)), 20)),
            lambda: asyncio.run(key_times(Bare(), 20, "down")),
            5,
        )
        print(row("a feeding written, flushed and redrawn, 500 containers", ratios, ""))
        assert isinstance(desk.record(Drank, container=next(iter(desk.bench.containers))), object)


if __name__ == "__main__":
    main()
