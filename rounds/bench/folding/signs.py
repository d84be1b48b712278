"""Signs that animals show, and of which stage they are."""

from __future__ import annotations

from rounds.entries.base import Stage

SHOWN_BY: dict[str, Stage] = {
    "darkening": "egg",
    "still": "larva",
    "wandering": "larva",
    "hanging": "larva",
    "soft pupa": "pupa",
    "colouring": "pupa",
}


SIGN_WORDS = {
    "still": "not moving",
    "hanging": "hanging up",
    "soft pupa": "fresh pupa",
    "stranger": "an intruder",
}
"""What a sign is called on screen where that is not its name in the book."""

SIGNS_IN_FULL = SIGN_WORDS | {"still": "not moving (moult?)", "hanging": "hanging up (prepupa)"}
"""The same, where there is room to say what it may mean."""

BEFORE_PUPATION = frozenset({"wandering", "hanging"})
"""Of larvae that have ceased to feed for good."""

QUIET_SIGNS = frozenset({"still", "hanging", "soft pupa"})
