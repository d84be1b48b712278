"""A slow, plain model of a part of the bench: cups, how many adults are in them, and since when each has not drunk.

It knows nothing of snapshots, checkpoints or what came late: it sorts all that was said and goes through it. It was
written from the meaning of the entries (design, sections 2, 3 and 5), not from the fold.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

# What is said of a cup that was never set up makes it known; what only leaves a trace (cleaned) does not.
SAID_OF_A_CUP = ("looked", "suspect", "leave be")


@dataclass
class Cup:
    """A container: what for, and of each adult in it since when it is hungry and whether it drank then, the hungriest first."""

    purpose: str
    adults: list[tuple[datetime, bool]] = field(default_factory=list)

    def put(self, adults: list[tuple[datetime, bool]]) -> None:
        """Adults in; their hunger comes with them."""
        self.adults = sorted([*self.adults, *adults])

    def take(self, number: int) -> list[tuple[datetime, bool]]:
        """Adults out, as many as there are. Nobody can tell them apart: those that go and those that stay may be the hungriest."""
        number = min(number, len(self.adults))
        taken = self.adults[:number]
        self.adults = self.adults[: len(self.adults) - number]
        return taken


def struck_ids(entries: Iterable[dict[str, Any]]) -> set[str]:
    """What does not count: a strike counts unless one that counts strikes it; there are no circles here."""
    strikes = {one["id"]: one["entry"] for one in entries if one["what"] == "struck"}

    def counts(strike: str) -> bool:
        return not any(counts(other) for other, target in strikes.items() if target == strike)

    return {target for strike, target in strikes.items() if counts(strike)}


def cups(entries: Iterable[dict[str, Any]]) -> dict[str, Cup]:
    """The cups that stand, once all of that was said; entries as they are written, in any order, any number of times."""
    known = {one["id"]: one for one in entries}
    struck = struck_ids(known.values())
    inorder = sorted(known.values(), key=lambda one: (datetime.fromisoformat(one["at"]), one["id"]))
    found: dict[str, Cup] = {}
    washed: dict[str, Cup] = {}  # those that were closed, by the line that set them up

    def cup(code: str) -> Cup:
        return found.setdefault(code, Cup("holding"))

    for one in inorder:
        if one["id"] in struck or "container" not in one:
            continue
        at, code, what = datetime.fromisoformat(one["at"]), one["container"], one["what"]
        set_up = dict(one.get("cups", ())).get(code, "")
        if code not in found and set_up in washed:  # whoever goes on with it knows of no end
            found[code] = washed.pop(set_up)
        if what == "set up":
            found.setdefault(code, Cup(one["purpose"]))
        elif what == "closed":
            if not cup(code).adults:
                washed[set_up] = found.pop(code)
        elif what == "stocked":
            cup(code).put([(at, False)] * one["number"])
        elif what == "died":
            cup(code).take(one["number"])
        elif what == "moved":
            taken = cup(code).take(one["number"])
            cup(one["to"]).put(taken)
        elif what == "drank":
            cup(code).adults = [(at, True)] * len(cup(code).adults)
        elif what in SAID_OF_A_CUP:
            cup(code)
    return found


def thirsty_since(cup: Cup) -> datetime:
    """From when the hours since the adults drank count: the hungriest of them."""
    return cup.adults[0][0]
