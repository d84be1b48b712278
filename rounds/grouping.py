"""Pairs put together by the first of each, in the order in which these come."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from typing import TypeVar

Key = TypeVar("Key", bound=Hashable)
Value = TypeVar("Value")
Number = TypeVar("Number", int, float)


def grouped(pairs: Iterable[tuple[Key, Value]]) -> dict[Key, list[Value]]:
    """What belongs to each key."""
    groups: dict[Key, list[Value]] = {}
    for key, value in pairs:
        groups.setdefault(key, []).append(value)
    return groups


def summed(pairs: Iterable[tuple[Key, Number]]) -> dict[Key, Number]:
    """How many, or how much, belongs to each key."""
    sums: dict[Key, Number] = {}
    for key, number in pairs:
        sums[key] = sums[key] + number if key in sums else number
    return sums
