"""Sharing what was counted once among the containers that it went into."""

from __future__ import annotations


def equal_shares(number: int, among: int) -> list[int]:
    """A number shared as evenly as it goes, the first ones getting one more; the shares add up to
    it."""
    return [number // among + (1 if position < number % among else 0) for position in range(among)]


def too_few(number: int, among: int) -> str:
    """Why so many stems cannot be shared among so many containers, in one line; '' if they can."""
    if number >= among:
        return ""
    return (
        f"{number} {'stem' if number == 1 else 'stems'} for {among} containers; name as many"
        " containers as got some"
    )
