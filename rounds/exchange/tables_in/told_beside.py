"""What is told beside the rows of a table once it is read: what nobody wrote, and what was made of
that."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field

# What lines of the file may be told to be, in this order.
SUMS = "left out, for they are sums or means of others"
REMARKS = "left out, for they hold a remark alone"
NOWHERE = (
    "moved, but where to is not written, so that they are taken as where they were, with a note"
)
NO_INSTAR = "moulted, but to which instar is not written, so that they are kept by a note alone"
NO_STAGE = "died, in which stage is not written"
NO_DAY = (
    "died, on which day is not written, taken when the last of their brood went on, or the last"
    " that is"
)
OF_LINES = (SUMS, REMARKS, NOWHERE, NO_INSTAR, NO_STAGE, NO_DAY)


@dataclass
class ToldBeside:
    """What a reading tells beside what each row becomes.

    Attributes:
        lines: lines of the file, by what is told of them.
        likely: of how many dead no stage is written, by the stage that they are taken for.
        assumed: by stage and container, how many are taken to have reached it, for nobody wrote it.
        left: by container, how many of each stage end of which nobody knows what became of them.
        not_used: days of stages that nobody can place.
        followed: those that went on elsewhere though no line says that they were moved.
    """

    lines: dict[str, list[int]] = field(default_factory=lambda: {one: [] for one in OF_LINES})
    likely: Counter[str] = field(default_factory=Counter)
    assumed: dict[str, Counter[str]] = field(default_factory=lambda: defaultdict(Counter))
    left: dict[str, Counter[str]] = field(default_factory=lambda: defaultdict(Counter))
    not_used: list[str] = field(default_factory=list)
    followed: list[str] = field(default_factory=list)
