"""What the id of a line tells: when it was made, and of one written anew, instead of which."""

from __future__ import annotations

from typing import Final

# Digits and lower-case letters in the order of their code points, without those that are easily
# mistaken.
ALPHABET: Final = "23456789abcdefghjkmnpqrstuvwxyz"
TIME_LENGTH: Final = 10
CHANCE_LENGTH: Final = 6


def first_id(entry_id: str) -> str:
    """The id of the line that was there first, of one that stands where others stood; else the id
    itself."""
    first = entry_id[: TIME_LENGTH + 1 + CHANCE_LENGTH]
    return (
        first
        if time_of_id(first) is not None and entry_id[len(first) : len(first) + 1] in ("", "-")
        else entry_id
    )


def time_of_id(text: str) -> int | None:
    """The time in an id, in ms since 1970, or None where it is not one of these ids."""
    time_part, dash, chance = text.partition("-")
    if not dash or len(time_part) != TIME_LENGTH or len(chance) != CHANCE_LENGTH:
        return None
    value = 0
    for sign in time_part:
        position = ALPHABET.find(sign)
        if position < 0:
            return None
        value = value * len(ALPHABET) + position
    return value
