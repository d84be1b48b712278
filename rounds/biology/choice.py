"""Choice trials: several plants at once, what was chosen of what was there."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from rounds.limits import within


class Preference(Struct, frozen=True):
    """How one plant was chosen: ``alpha`` is 1/m and ``epsilon`` 0 where the choice of m was
    indifferent."""

    alpha: float
    epsilon: float


def preferences(used: Sequence[float], available: Sequence[float]) -> tuple[Preference, ...]:
    """Indices of preference for each plant.

    Sources: alpha Manly 1974 and Chesson 1978 (Ecology 59:211-215); epsilon = (m alpha - 1) / ((m -
        2) alpha + 1)
    Chesson 1983 (Ecology 64:1297-1304).

    Args:
        used: eggs on each plant, or leaves eaten. available: how much of each was there, above 0.

    Raises:
        ValueError: unequal lengths, fewer than two plants, nothing used, or nothing available of a
            plant.
    """
    if len(used) != len(available) or len(used) < 2:
        raise ValueError(
            f"{len(used)} used and {len(available)} available; give both for each of two or more"
            " plants"
        )
    for one in used:
        within("used", one, 0, 1e9)
    for one in available:
        within("available", one, 1e-9, 1e9)
    total_used, total_there = sum(used), sum(available)
    if total_used == 0:
        raise ValueError("nothing was used; a choice needs at least one egg or bite")
    forage = [
        (value / total_used) / (there / total_there)
        for value, there in zip(used, available, strict=True)
    ]
    alphas = [one / sum(forage) for one in forage]
    several = len(used)
    return tuple(
        Preference(alpha, (several * alpha - 1) / ((several - 2) * alpha + 1)) for alpha in alphas
    )
