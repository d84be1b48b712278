"""Signs that animals show, and of which stage they are."""

from __future__ import annotations

from rounds.bench.state import Container
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

MOULDY = frozenset({"mould", "condensation"})
"""Of a cup that is too wet: it is cleaned, and seen so again it is a new sign."""

QUIET_SIGNS = frozenset({"still", "hanging", "soft pupa"})


def is_cleaned_out(container: Container) -> bool:
    """Whether a cup was cleaned since mould or wet walls, its sign, were seen there."""
    cleaned, seen = container.last.get("cleaned"), container.sign_since
    return (
        container.sign in MOULDY and cleaned is not None and seen is not None and cleaned.at >= seen
    )


def still_eat(container: Container) -> int:
    """How many larvae eat, or will again; of those here only the last instars hang or wander."""
    larvae = container.lots_of("larva")
    if container.sign not in BEFORE_PUPATION:
        return sum(lot.number for lot in larvae)
    oldest = max((lot.instar for lot in larvae), default=0)
    may_have_stopped = sum(lot.number for lot in larvae if lot.instar == oldest)
    return sum(lot.number for lot in larvae) - min(container.sign_left, may_have_stopped)
