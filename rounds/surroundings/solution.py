"""Sugar solution by weight: what to weigh for a strength and a volume."""

from __future__ import annotations

from bisect import bisect_right

from msgspec import Struct

from rounds.limits import within

# Density [g/ml] of sucrose solutions at 20 C by weight percent: CRC Handbook, concentrative
# properties of
# aqueous solutions (0 to 30 %); 40 to 60 % from memory of the same table.
DENSITY_20C = (
    (0.0, 0.9982),
    (5.0, 1.0178),
    (10.0, 1.0381),
    (15.0, 1.0592),
    (20.0, 1.0810),
    (24.0, 1.0990),
    (26.0, 1.1082),
    (30.0, 1.1270),
    (40.0, 1.1765),
    (50.0, 1.2295),
    (60.0, 1.2864),
)


class Weighing(Struct, frozen=True):
    """What to weigh: grams of sugar and of water, for that much solution."""

    sugar_g: float
    water_g: float
    solution_ml: float
    density_g_ml: float
    grams_per_litre: float


def sucrose_density_g_ml(*, strength_percent: float) -> float:
    """Density of a sucrose solution at 20 C [g/ml] by strength [percent by weight, 0 to 60].

    Source: CRC Handbook of Chemistry and Physics, straight lines between its values.
    """
    within("strength", strength_percent, 0, 60, "% by weight")
    places = [strength for strength, _ in DENSITY_20C]
    position = min(max(bisect_right(places, strength_percent), 1), len(places) - 1)
    (low, light), (high, heavy) = DENSITY_20C[position - 1], DENSITY_20C[position]
    return light + (heavy - light) * (strength_percent - low) / (high - low)


def weighing(*, strength_percent: float, volume_ml: float, spare_percent: float = 0.0) -> Weighing:
    """What to weigh for a volume [ml] of a strength [percent by weight], with something to spare
    [percent].

    Mass of solution = volume x density; sugar = that x strength / 100; the rest is water, of which
    a gram is a ml.
    """
    within("volume", volume_ml, 0.1, 100_000, "ml")
    within("spare", spare_percent, 0, 200, "%")
    density = sucrose_density_g_ml(strength_percent=strength_percent)
    volume = volume_ml * (1 + spare_percent / 100)
    mass = volume * density
    sugar = mass * strength_percent / 100
    per_litre = 10 * strength_percent * density
    return Weighing(sugar, mass - sugar, volume, density, per_litre)


def weight_percent_from_volume_percent(*, grams_per_100_ml: float) -> float:
    """Strength by weight [%] of a solution given as grams of sugar in 100 ml of solution [0 to
    77.2].

    Found by halving: w x density(w) = grams per 100 ml rises with w.
    """
    if within("grams per 100 ml", grams_per_100_ml, 0, 77.2, "g") == 0:
        return 0.0
    low, high = 0.0, 60.0
    for _ in range(60):
        middle = (low + high) / 2
        if middle * sucrose_density_g_ml(strength_percent=middle) < grams_per_100_ml:
            low = middle
        else:
            high = middle
    return (low + high) / 2
