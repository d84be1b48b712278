"""What a container is like as far as the plan asks, and the conditions of rules that go by it.

Containers that are alike share one short table of rules, so that each is only asked what can apply to it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from msgspec import Struct

EGG, LARVA, PUPA, ADULT, FEMALE = 1, 2, 4, 8, 16
STAGE_BITS = {"egg": EGG, "larva": LARVA, "pupa": PUPA, "adult": ADULT}
HELD, LAMP, SUSPECT, UNFED, LEFT_BE, FRASS_SEEN = 1, 2, 4, 8, 16, 32
FED, FED_BY_DAY, WANTS_HOST, CROWDED = 64, 128, 256, 512  # of adults, of females, and of larvae that eat each other
FEMALES_LEFT = 1024  # stems stand here on which females sat that are gone
LATE_WINTER = 2048  # of the whole bench: resting stock is past midwinter
NO_LARVAE, FIRST, YOUNG, MIDDLE, LAST = range(5)
ILL_SIGNS = frozenset({"weak", "mould", "intruder", "stranger"})


class Facts(NamedTuple):
    """What decides which rules fit a container; ``kept`` is how the host cut first is kept, '' where there is none."""

    purpose: str
    stages: int
    larvae: int
    sign: str
    kept: str
    flags: int


class Condition(Struct, frozen=True):
    """If what a rule holds, in the words of the plan."""

    words: str
    holds: Callable[[Facts], bool]


def has(words: str, flag: int) -> Condition:
    """Whether a flag is set."""
    return Condition(words, lambda facts: bool(facts.flags & flag))


def seen(words: str, *signs: str) -> Condition:
    """Whether the sign on the card is one of these."""
    return Condition(words, lambda facts: facts.sign in signs)


def of_place(words: str) -> Condition:
    """The condition of a rule that is asked for by name, as no container's facts decide it."""
    return Condition(words, lambda facts: True)


ALWAYS = of_place("")
# Those that the rules of several checks share.
DARKENING = seen("darkening", "darkening")
NOT_MOVING = seen("not moving", "still", "hanging")
KEPT_STEMS = has("kept stems", HELD)
NOT_RESTING = of_place("not resting")
FED_AT_NIGHT = Condition("fed at night", lambda facts: not facts.flags & FED_BY_DAY)
L3_L4 = Condition("L3-L4", lambda facts: facts.larvae == MIDDLE)
LAST_INSTAR = Condition("last instar", lambda facts: facts.larvae == LAST)
FIRST_INSTAR = Condition("first instar", lambda facts: facts.larvae == FIRST)
HALF_GROWN = Condition("half-grown", lambda facts: facts.larvae > FIRST)


def always(facts: Facts) -> bool:
    """Whatever the container is like."""
    return True


def are_fed(facts: Facts) -> bool:
    """Whether any adult here takes food."""
    return bool(facts.flags & FED)


def eat(facts: Facts) -> bool:
    """Larvae that hang, wander or were put to pupate have stopped feeding; those not moving will feed again."""
    return facts.sign not in ("hanging", "wandering") and (facts.purpose != "pupation" or facts.kept != "")
