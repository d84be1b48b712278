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


QUIET_SIGNS = frozenset({"still", "hanging", "soft pupa"})
