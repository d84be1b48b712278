"""Choice trials: several plants at once, what was chosen of what was there."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rounds.biology.limits import within


@dataclass(frozen=True, slots=True)
class Preference:
    """How one plant was chosen: indices that are 0, or 1/m for alpha, where the choice was indifferent.

    ``alpha_depleted`` is None where a plant was used up, for then it is not defined.
    """

    used: float
    available: float
    electivity: float
    alpha: float
    alpha_depleted: float | None
    epsilon: float
    jacobs: float
    relativised: float


def preferences(used: Sequence[float], available: Sequence[float]) -> tuple[Preference, ...]:
    """Indices of preference for each plant.

    Sources: electivity Ivlev 1961; alpha Manly 1974 and Chesson 1978 (Ecology 59:211-215), with depletion Chesson
    1983 (Ecology 64:1297-1304); epsilon = (m alpha - 1) / ((m - 2) alpha + 1) Chesson 1983; D Jacobs 1974;
    relativised electivity Vanderploeg & Scavia 1979.

    Args:
        used: eggs on each plant, or leaves eaten. available: how much of each was there, above 0.

    Raises:
        ValueError: unequal lengths, fewer than two plants, nothing used, or nothing available of a plant.
    """
    if len(used) != len(available) or len(used) < 2:
        raise ValueError(f"{len(used)} used and {len(available)} available; give both for each of two or more plants")
    for one in used:
        within("used", one, 0, 1e9)
    for one in available:
        within("available", one, 1e-9, 1e9)
    total_used, total_there = sum(used), sum(available)
    if total_used == 0:
        raise ValueError("nothing was used; a choice needs at least one egg or bite")
    shares = [(one / total_used, there / total_there) for one, there in zip(used, available, strict=True)]
    forage = [share / there for share, there in shares]
    alphas = [one / sum(forage) for one in forage]
    depleted = _with_depletion(used, available)
    several = len(used)
    return tuple(
        Preference(
            used[place],
            available[place],
            (share - there) / (share + there),
            alphas[place],
            depleted[place] if depleted else None,
            _epsilon(alphas[place], several),
            _jacobs(share, there),
            (alphas[place] - 1 / several) / (alphas[place] + 1 / several),
        )
        for place, (share, there) in enumerate(shares)
    )


def _epsilon(alpha: float, several: int) -> float:
    return (several * alpha - 1) / ((several - 2) * alpha + 1)


def _jacobs(share: float, there: float) -> float:
    below = share + there - 2 * share * there
    return (share - there) / below if below else 0.0


def _with_depletion(used: Sequence[float], available: Sequence[float]) -> list[float] | None:
    if any(one >= there for one, there in zip(used, available, strict=True)):
        return None
    logs = [math.log((there - one) / there) for one, there in zip(used, available, strict=True)]
    return [one / sum(logs) for one in logs]
