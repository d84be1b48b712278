"""Tables that stand in the code as text."""

from __future__ import annotations

from textwrap import dedent


def table_rows(table: str) -> list[list[str]]:
    """The rows of a table of words, a line each, and their cells, parted by ``|``; what has no room
    goes on in lines set in."""
    lines = dedent(table).replace("\n    ", " ").strip().split("\n")
    return [[cell.strip() for cell in line.split("|")] for line in lines]
