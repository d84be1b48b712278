"""What a check is worth before a book has answers of its own: seconds, chances, and whom it is
about.

All of it is our estimate.
"""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

AtStake = Literal[
    "animals",
    "females",
    "eggs",
    "eggs about to hatch",
    "larvae",
    "pupae",
    "eggs and pupae",
    "kept stems",
    "eggs to be laid",
    "nothing",
]


class Value(Struct, frozen=True):
    """Where the worth of a check starts from; a book's own answers move it.

    Args:
        seconds: what an answer takes with all that is done for it; of one female where it is asked
            of each.
        chance: that the answer is not as usual, where no hours tell it; of a check that is an act,
            1: it wants doing.
        lost: the chance that each of those at stake is lost by the next round where the answer
            would not be as usual and is not
            given; more by the danger hours of the plan.
        at_stake: whom it is about.
        eases: it keeps order only: where it never finds anything it may be asked half as often.
    """

    seconds: float = 20.0
    chance: float = 0.1
    lost: float = 0.005
    at_stake: AtStake = "animals"
    eases: bool = False
