"""The stage life table: how many entered each stage, how many died in it, and how much each stage
kills."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from rounds.biology.proportions import Share, exact_share
from rounds.limits import within


class StageRow(Struct, frozen=True):
    """One stage, or one cause in it: entered, died, share dead with limits, k-value.

    ``k_natural`` is -ln(1 - q), ``k_ten`` its common logarithm: much of the literature uses base
    10.
    """

    stage: str
    entered: float
    died: float
    q: float
    q_limits: Share | None
    k_natural: float
    k_ten: float


class StageTable(Struct, frozen=True):
    """The rows in order, and what share of those accounted for came through all of them: the
    product of what each leaves."""

    rows: tuple[StageRow, ...]
    total_k_natural: float
    survival: float


def stage_table(stages: Sequence[tuple[str, float, float]]) -> StageTable:
    """A life table from (stage or cause, entered, died), in order.

    Source: Varley & Gradwell 1960, J. Anim. Ecol. 29:399-401 (k-values); limits of q are exact
        (Clopper & Pearson 1934)
    where counts are whole.

    Raises:
        ValueError: more died than entered, or nothing entered.
    """
    if not stages:
        raise ValueError("no stage was given; give each as name, entered, died")
    rows = []
    for name, entered, died in stages:
        within(f"{name} entered", entered, 1e-9, 1e9)
        within(f"{name} died", died, 0, 1e9)
        if died > entered:
            raise ValueError(f"{name}: {died:g} died of {entered:g}; no more can die than entered")
        q = died / entered
        whole = float(entered).is_integer() and float(died).is_integer()
        k = abs(math.log(1 - q)) if q < 1 else math.inf  # of none dead 0, not -0
        limits = exact_share(int(died), int(entered)) if whole else None
        rows.append(StageRow(name, entered, died, q, limits, k, k / math.log(10)))
    through = math.prod(1 - row.q for row in rows)
    return StageTable(tuple(rows), sum(row.k_natural for row in rows), through)
