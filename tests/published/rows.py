"""The rows of check values: inputs, what must come out, how near, and who says so.

``status`` tells how far a row can be trusted: 'published' was read in its source, 'computed' was worked out apart from
this project and cross-checked, 'memory' is from memory, not verified.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

Row = dict[str, Any]


def rows(topic: str, prefix: str = "") -> list[Any]:
    """The rows of a topic whose id begins so, as test parameters named by id and status."""
    found: list[Row] = json.loads(
        (Path(__file__).parent / "values" / f"{topic}.json").read_text(encoding="utf-8")
    )
    chosen = [row for row in found if row["id"].startswith(prefix)]
    assert chosen, (topic, prefix)
    return [pytest.param(row, id=f"{row['id']} ({row['status']})") for row in chosen]


def row(topic: str, name: str) -> Row:
    """One row."""
    found: Row = rows(topic, name)[0].values[0]
    return found
