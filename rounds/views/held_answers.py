"""What the answers about held sprigs say: which of them may go, and hatchlings made of those that show droppings."""

from __future__ import annotations

from datetime import UTC
from typing import Any

from rounds.bench import kinds as k
from rounds.bench.completing import next_brood_code
from rounds.bench.folding.tending import SHOWN
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Held
from rounds.care.ahead.foresight import Foresight
from rounds.views.asked import Asked


def bin_those_kept_long_enough(asked: Asked) -> list[tuple[type[Entry], dict[str, Any]]]:
    """Only sprigs whose day has come go; one whose day is ahead stays."""
    container = asked.container
    if container is None:
        return []
    foresight = asked.foresight or Foresight(asked.bench, asked.now.tzinfo or UTC)
    gone = []
    for held in container.held:
        until = foresight.chance(container, held, asked.now).keep_until
        if held.frass not in SHOWN and until is not None and until <= asked.now:
            gone.append((held.batch, held.plant))
    kept = {(held.batch, held.plant) for held in container.held} - set(gone)
    if not kept:
        return [(k.HostOut, asked.here | {"fate": "binned", "sure": True})]
    return [
        (k.HostOut, asked.here | {"fate": "binned", "batch": batch, "plant": plant, "sure": True})
        for batch, plant in dict.fromkeys(gone)
    ]


def hatchlings_of_shown(asked: Asked) -> list[tuple[type[Entry], dict[str, Any]]]:
    """Held sprigs that show droppings become hatchlings: a brood of their mothers, laid while they stood with the sprigs."""
    container = asked.container
    shown = [held for held in container.held if held.frass in SHOWN] if container else []
    if container is None or not shown:
        return []
    number = asked.whole or 1
    said: list[tuple[type[Entry], dict[str, Any]]] = []
    mothers = tuple(sorted({mother for held in shown for mother in held.mothers}))
    taxa = {held.taxon for held in shown}
    brood = _running_brood(asked, mothers, shown)
    if not brood:
        brood = next_brood_code(asked.bench, mothers)
        said.append(
            (
                k.BroodBegun,
                {
                    "code": brood,
                    "taxon": taxa.pop() if len(taxa) == 1 else "",
                    "mothers": mothers,
                    "fathers": tuple(sorted({one.male for one in asked.bench.pairings if one.female in mothers})),
                    "laid_from": min(held.offered for held in shown),
                    "laid_to": max(held.taken_out for held in shown),
                },
            )
        )
    said += [
        (k.Stocked, asked.here | {"brood": brood, "stage": "egg", "number": number, "origin": "hidden on held sprigs"}),
        (k.Hatched, asked.here | {"number": number, "brood": brood, "evidence": "inferred"}),
    ]
    said += [
        (k.HostOut, asked.here | {"fate": "hatched", "batch": batch, "plant": plant})
        for batch, plant in dict.fromkeys((held.batch, held.plant) for held in shown)
    ]
    if container.purpose == "eggs" and not container.count("egg"):
        said.append((k.Changed, asked.here | {"purpose": "hatchlings"}))
    return said


def _running_brood(asked: Asked, mothers: tuple[str, ...], shown: list[Held]) -> str:
    """The brood of the same mothers that was laid while these sprigs stood with them, where there is one."""
    offered, taken_out = min(held.offered for held in shown), max(held.taken_out for held in shown)
    for code, brood in reversed(asked.bench.broods.items()):
        overlaps = brood.laid_from and brood.laid_to and brood.laid_from <= taken_out and offered <= brood.laid_to
        if tuple(sorted(brood.mothers)) == mothers and overlaps:
            return code
    return ""
