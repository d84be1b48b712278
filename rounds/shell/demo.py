"""``rounds demo``: a fresh copy of the demo bench."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

from rounds.bench import written
from rounds.desk import Desk
from rounds.shell.look import look_at
from rounds.shell.opening import local_zone, open_desk, system_clock


def demo() -> int:
    """Lay out the demo in a new folder and open it."""
    folder = Path(tempfile.mkdtemp(prefix="rounds-demo-")) / "book"
    desk = laid_out(folder)
    if sys.stdout.isatty():
        print(f"The demo lies in {folder}; look at it again with: rounds --book {folder}")
    return look_at(desk)


def laid_out(folder: Path) -> Desk:
    """A new book with the demo's story, up to now."""
    scenario = _scenario()
    zone = local_zone(os.environ)
    desk = open_desk(folder, keeper="")
    desk.book.append_many([written.write(entry) for entry in scenario.scenario(system_clock(), zone)])
    desk.hear()
    return desk


def _scenario():  # type: ignore[no-untyped-def]  # a module that lies beside the package in a checkout
    try:
        from rounds._demo import scenario
    except ImportError:
        root = str(Path(__file__).resolve().parents[2])
        if root not in sys.path:
            sys.path.append(root)
        from demo import scenario
    return scenario
