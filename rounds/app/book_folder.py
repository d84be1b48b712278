"""Where a book lies."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path


def book_folder(named: str | None, environment: Mapping[str, str]) -> Path:
    """The book's folder: named, else ``ROUNDS_BOOK``, else the platform's place for data."""
    chosen = named or environment.get("ROUNDS_BOOK")
    if chosen:
        return Path(chosen).expanduser()
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "rounds"
    if sys.platform == "win32":
        return Path(environment.get("LOCALAPPDATA", str(Path.home()))) / "rounds"
    return Path(environment.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / "rounds"
