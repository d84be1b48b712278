"""A slow, plain model of a part of the bench: cups, how many adults are in them, and since when they have not drunk.

It knows nothing of snapshots, checkpoints or what came late: it sorts all that was said and goes through it. It was
written from the meaning of the entries (design, sections 2, 3 and 5), not from the fold.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

# What is said of a cup that was never set up makes it known; what only leaves a trace (cleaned) does not.
SAID_OF_A_CUP = ("looked", "suspect", "leave be")


@dataclass
class Cup:
    """A container: what for, since when, how many adults, since when they are there, and when all drank last."""

    purpose: str
    since: datetime
    adults: int = 0
    arrived: datetime | None = None
    drank: datetime | None = None

    def put(self, number: int, at: datetime) -> None:
        """Adults in."""
        if number:
            self.arrived = self.arrived if self.adults else at
            self.adults += number

    def take(self, number: int) -> tuple[int, datetime | None]:
        """Adults out, as many as there are; and since when they had been here."""
        taken = min(number, self.adults)
        self.adults -= taken
        return taken, self.arrived


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

    def cup(code: str, at: datetime) -> Cup:
        return found.setdefault(code, Cup("holding", at))

    for one in inorder:
        if one["id"] in struck or "container" not in one:
            continue
        at, code, what = datetime.fromisoformat(one["at"]), one["container"], one["what"]
        if what == "set up":
            found.setdefault(code, Cup(one["purpose"], at))
        elif what == "closed":
            if not cup(code, at).adults:
                del found[code]
        elif what == "stocked":
            cup(code, at).put(one["number"], at)
        elif what == "died":
            cup(code, at).take(one["number"])
        elif what == "moved":
            number, since = cup(code, at).take(one["number"])
            target = cup(one["to"], at)
            target.put(number, since or at)
        elif what == "drank":
            cup(code, at).drank = at
        elif what in SAID_OF_A_CUP:
            cup(code, at)
    return found


def thirsty_since(cup: Cup) -> datetime:
    """From when the hours since the adults drank count."""
    if cup.drank and cup.drank >= cup.since:
        return cup.drank
    return max(cup.arrived or cup.since, cup.since)
