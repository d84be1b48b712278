"""Instants and spans as a keeper says them."""

from __future__ import annotations

from datetime import timedelta

from rounds.bench.plurals import percent


def span(length: timedelta) -> str:
    """A length of time in hours and minutes, in days and hours where it is long."""
    minutes = int(length.total_seconds() // 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours} h {minutes:02d} min" if hours < 72 else f"{hours // 24} d {hours % 24} h"


def hours_words(hours: float) -> str:
    """Hours of the plan: in days where they are three whole days or more."""
    return f"{hours / 24:g} d" if hours >= 72 and hours % 24 == 0 else f"{hours:g} h"


def chance_words(chance: float) -> str:
    """A chance in percent, never told as none nor as sure where it is neither."""
    if 0 <= chance < 0.001:
        return "under 0.1 %"
    if 0.995 < chance < 1:
        return "over 99 %"
    if chance < 0.01 and round(chance, 3) == 0.01:
        return "under 1 %"
    return percent(chance, 1 if chance < 0.1 else 0)
