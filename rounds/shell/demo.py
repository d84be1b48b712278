"""A fresh copy of the demo bench."""

from __future__ import annotations

import os
import sys
import tempfile
from datetime import datetime, tzinfo
from importlib import import_module
from pathlib import Path

from rounds.app.clock import system_clock
from rounds.app.desk import Desk
from rounds.app.startup import local_zone
from rounds.entries import codec as written
from rounds.entries.base import Entry
from rounds.shell.open_book import open_desk


def new_demo() -> Desk:
    """Lay out the demo in a new folder; on a terminal, tell where it lies."""
    folder = Path(tempfile.mkdtemp(prefix="rounds-demo-")) / "book"
    desk = laid_out(folder)
    if sys.stdout.isatty():
        print(f"This demo is kept. To open it again:\nrounds --book {folder}")
    return desk


def laid_out(folder: Path) -> Desk:
    """A new book with the demo's story, up to now."""
    zone = local_zone(os.environ)
    desk = open_desk(folder, keeper="")
    entries = told(system_clock(), zone)
    # not through the desk's door: each line was typed on its day, by one of two keepers, and is no
    # answer that an undo here could take back
    lines = [*desk.proposals.name_zone(entries[0].at), *entries]
    desk.book.append_many([written.write(entry) for entry in lines])
    desk.hear()
    return desk


def told(now: datetime, zone: tzinfo) -> list[Entry]:
    """The demo's story up to now.

    In a checkout it lies beside the package, once installed inside it.
    """
    try:
        scenario = import_module("rounds._demo.scenario")
    except ImportError:
        root = str(Path(__file__).resolve().parents[2])
        if root not in sys.path:
            sys.path.append(root)
        scenario = import_module("demo.scenario")
    entries: list[Entry] = scenario.scenario(now, zone)
    return entries
