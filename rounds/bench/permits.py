"""How much of a permit is used: its limits count themselves against what came in, what was laid and how long she is held.

It counts what the daybook says and judges nothing: what a permit means is for the body that issued it to say.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.kinds.papers import Permit
from rounds.bench.kinds.stock import FounderIntake
from rounds.bench.state import Bench

NEAR = 0.8  # of a limit; our estimate


class Use(Struct, frozen=True):
    """One limit of a permit: what it counts, how much is used, and how much is allowed."""

    what: str
    used: int
    allowed: int

    @property
    def state(self) -> str:
        """Empty while there is room; ``near``, ``full`` at the limit, ``PAST`` beyond it."""
        if self.used > self.allowed:
            return "PAST"
        if self.used == self.allowed:
            return "full"
        return "near" if self.used >= NEAR * self.allowed else ""

    @property
    def words(self) -> str:
        """``4 of 5 females, near the limit``."""
        tail = {"near": ", near the limit", "full": ", none left", "PAST": ", PAST THE LIMIT"}.get(self.state, "")
        return f"{self.used} of {self.allowed} {self.what}{tail}"


def uses(bench: Bench, permit: Permit) -> tuple[Use, ...]:
    """The limits that a permit sets, with what counts against each.

    Females are the wild-caught females and adults of unknown sex that came in under it, wherever they are now. Eggs are
    those of broods whose mothers came in under it.
    """
    found = []
    if permit.females is not None:
        females = [one for one in bench.founders.values() if _is_under(one, permit) and one.stage == "adult" and one.sex != "male"]
        found.append(Use("females", len(females), permit.females))
    if permit.eggs is not None:
        eggs = sum(bench.tallies[code].entered.get("egg", 0) for code in _broods_under(bench, permit) if code in bench.tallies)
        found.append(Use("eggs", eggs, permit.eggs))
    return tuple(found)


def _is_under(founder: FounderIntake | None, permit: Permit) -> bool:
    return founder is not None and founder.permit == permit.number


def _broods_under(bench: Bench, permit: Permit) -> list[str]:
    return [
        code for code, brood in bench.broods.items() if any(_is_under(bench.founders.get(mother), permit) for mother in brood.mothers)
    ]


def held_until(bench: Bench, founder: FounderIntake) -> datetime | None:
    """When a founder must be free by her permit's hours, counted from the catch, else from when she came in.

    Only adults are meant: the hours are those for which a wild female may be held. None where no permit says it.
    """
    permit = bench.permits.get(founder.permit) if founder.permit else None
    if permit is None or permit.hold_hours is None or founder.stage != "adult":
        return None
    return (founder.caught or founder.at) + timedelta(hours=permit.hold_hours)


def permits_of(bench: Bench, code: str) -> list[Permit]:
    """The permits that a founder, or a brood's mothers, came in under."""
    founder, brood = bench.founders.get(code), bench.broods.get(code)
    sources = [founder] if founder else [bench.founders.get(mother) for mother in brood.mothers] if brood else []
    numbers = dict.fromkeys(one.permit for one in sources if one is not None and one.permit)
    return [bench.permits[number] for number in numbers if number in bench.permits]


def has_ended(permit: Permit, now: datetime) -> bool:
    """Whether its last day is over."""
    return permit.expires is not None and permit.expires <= now


def pressing(bench: Bench, permit: Permit, now: datetime) -> str:
    """The gravest that a permit has to say: ``PAST``, ``full``, ``near``, or empty."""
    states = {one.state for one in uses(bench, permit)} | ({"PAST"} if has_ended(permit, now) else set())
    return next((state for state in ("PAST", "full", "near") if state in states), "")
