"""The names of the files that hold loggers' readings: a folder of the book, the place, and the
beginning of their digest."""

from __future__ import annotations

import re

from rounds import late

FOLDER = "series"
_NAME = late.pattern(rf"^{FOLDER}/[A-Za-z0-9_-]{{1,40}}-[0-9a-f]{{12}}\.csv$")


def is_series_name(name: str) -> bool:
    """Whether that names a file of readings in the book; nothing else is ever opened as one."""
    return _NAME.fullmatch(name) is not None


def series_name(place: str, digest: str) -> str:
    """The name of the file for a place (empty for the room) and the SHA-256 of what is in it, in
    hexadecimal."""
    plain = re.sub(r"[^A-Za-z0-9_-]", "_", place)[:40] or "room"
    return f"{FOLDER}/{plain}-{digest[:12]}.csv"
