"""What each check, purpose and kind of entry is called wherever a keeper reads it: on lists, map,
plan, sheet and in lines.

The one table of it. What is not here is called by its name; entries and data keep the names.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

LABELS = {
    "ants": "barrier",
    "balance": "missing",
    "change": "no eggs?",
    "eggs": "search",
    "emerge late": "emerge?",
    "hatch late": "hatch?",
    "heat": "warmth",
    "keep": "discard?",
    "lamp": "lamp off",
    "quarantine": "clear?",
    "still": "moult?",
    "turn": "hatched",
}
# purposes, kinds and choices whose names in the book are no words of the screen
CALLED = {
    "hatchlings": "young larvae",
    "leave be": "do not disturb",
    "struck": "crossed out",
    "binned": "discarded",
    "held": "kept",
}
_NAMES = {label: name for name, label in LABELS.items()} | {"leaf in": "leaf"}  # as it was called


def label_of(name: str) -> str:
    """What a check of that name is called."""
    return LABELS.get(name, name)


def called(name: str) -> str:
    """What a purpose, a kind of entry or a choice of that name is called; both may be typed."""
    return CALLED.get(name, name)


def quoted_label(name: str) -> str:
    """The same as a line has it: in double quotes where it is two words."""
    label = label_of(name)
    return f'"{label}"' if " " in label else label


def name_of(words: str) -> str:
    """The name of the check that is meant: its label may be typed, with or without its sign."""
    return _NAMES.get(words, _NAMES.get(f"{words}?", words))


def named_check(said: Mapping[str, Any]) -> dict[str, Any]:
    """What a line says of a check, by the name of the check that is meant."""
    return {"check": name_of(str(said["check"]))} if said.get("check") else {}
