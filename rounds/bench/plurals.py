"""How many of something, which share of it, and several in a row, in words."""

from __future__ import annotations

from collections.abc import Iterable

PLURALS: dict[str, str] = {"egg": "eggs", "larva": "larvae", "pupa": "pupae", "adult": "adults"}


def count(number: int, one: str, several: str = "") -> str:
    """``1 female``, ``4 females``; of a stage its own plural, ``4 larvae``; from a thousand on
    ``1,200 eggs``."""
    return f"{number:,} {one if number == 1 else several or PLURALS.get(one) or one + 's'}"


def of_stage(number: int, stage: str) -> str:
    """``34 eggs``, ``1 larva``; an instar or a sex has no plural: ``3 L2``."""
    return count(number, stage, PLURALS.get(stage, stage))


def and_more(number: int, most: int) -> str:
    """How many are not named of which so many are: `` and 3 more``; empty where all are."""
    return f" and {number - most} more" if number > most else ""


def percent(share: float, decimals: int = 0) -> str:
    """A share (0 to 1) in percent, with the space that SI writes before the sign: ``95 %``."""
    return f"{100 * share:.{decimals}f} %"


def in_a_row(names: Iterable[str], before_last: str = "and") -> str:
    """``late``, ``late and urgent``, ``late, urgent and in danger``.

    Raises:
        ValueError: there are no names.
    """
    *first, last = names
    return f"{', '.join(first)} {before_last} {last}" if first else last
