"""Where protected animals live: generalised in all that leaves the bench, unless exact places were asked for."""

from __future__ import annotations

from decimal import ROUND_FLOOR, Decimal
from math import cos, hypot, radians

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.kinds import FounderIntake, Released, Stocked
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench

METRES_A_DEGREE = 111_320.0  # of latitude, and of longitude at the equator, on a sphere of 40,075 km
WITHHELD = "exact place withheld: protected taxon; ask the keeper"


class Locality(Struct, frozen=True):
    """A place as it may be told: degrees north and east, uncertainty in m; why something is not told."""

    place: str = ""
    latitude: float | None = None
    longitude: float | None = None
    uncertainty_m: float | None = None
    withheld: str = ""
    generalised: str = ""
    grid_degrees: float | None = None


class Guard:
    """Knows which taxa are protected and tells their places as they may be told.

    Args:
        bench: with the keeper's taxa.
        exact: whether exact places were asked for.
    """

    def __init__(self, bench: Bench, *, exact: bool = False) -> None:
        self._bench = bench
        self.exact = exact
        self._known: dict[str, Locality] = {}  # by entry: each place is generalised once, from what was said
        self._grids = {tuple(taxon.name.casefold().split()): taxon.grid_degrees for taxon in bench.taxa.values() if taxon.protected}

    def grid_of(self, taxon: str) -> float | None:
        """The grid in degrees to which a taxon's places are generalised; None where it is not protected.

        A subspecies of a protected species is protected, and so is what was only named to a genus that has a
        protected species, or not named at all where any species is protected.
        """
        words = tuple(word for word in taxon.casefold().split() if word.strip(".") not in ("sp", "spp", "cf", "aff"))
        fitting = [grid for name, grid in self._grids.items() if name[: len(words)] == words[: len(name)]]
        return max(fitting, default=None)

    def guards(self, taxon: str) -> bool:
        """Whether the taxon's places are not told exactly."""
        return not self.exact and self.grid_of(taxon) is not None

    def of_founder(self, founder: FounderIntake) -> Locality:
        """Where a founder was caught, as it may be told."""
        if founder.id not in self._known:
            self._known[founder.id] = self._told(founder)
        return self._known[founder.id]

    def _told(self, founder: FounderIntake) -> Locality:
        grid = self.grid_of(founder.taxon)
        if self.exact or grid is None:
            return Locality(founder.place, founder.latitude, founder.longitude, founder.uncertainty_m)
        if founder.latitude is None or founder.longitude is None:
            return Locality(withheld=WITHHELD, generalised="place left out")
        return on_grid(founder.latitude, founder.longitude, founder.uncertainty_m, grid)

    def entry(self, entry: Entry) -> Entry:
        """An entry with its places as they may be told; what was typed as a note is given as typed."""
        if isinstance(entry, FounderIntake):
            told = self.of_founder(entry)
            place = told.place or told.withheld
            if not self.guards(entry.taxon):
                return entry
            return replace(entry, place=place, latitude=told.latitude, longitude=told.longitude, uncertainty_m=told.uncertainty_m)
        if isinstance(entry, Released) and entry.place and self._guards_stock(entry.brood):
            return replace(entry, place=WITHHELD)
        if isinstance(entry, Stocked) and entry.origin and self._guards_stock(entry.brood):
            return replace(entry, origin=WITHHELD)
        return entry

    def told_elsewhere(self) -> int:
        """How many guarded catches have their exact place told all the same, by an unguarded taxon caught there."""
        founders = self._bench.founders.values()
        open_ones = {place for one in founders if not self.guards(one.taxon) for place in _exact(one)}
        return sum(1 for one in founders if self.guards(one.taxon) and open_ones.intersection(_exact(one)))

    def _guards_stock(self, brood: str) -> bool:
        """Whether a brood's places are guarded; those of a brood that was not said are, where any taxon is."""
        return self.guards(self._bench.taxon_of(brood) if brood else "")


def _exact(founder: FounderIntake) -> list[object]:
    """By what a place can be known again: its name, its coordinates."""
    found: list[object] = [founder.place.casefold()] if founder.place else []
    return [*found, (founder.latitude, founder.longitude)] if founder.latitude is not None else found


def on_grid(latitude: float, longitude: float, uncertainty_m: float | None, grid: float) -> Locality:
    """The centre of the grid cell that a place lies in, with half its diagonal as the uncertainty."""
    north, south_edge = _centre(latitude, grid), abs(_centre(latitude, grid)) - grid / 2
    half_m = grid / 2 * METRES_A_DEGREE
    reach_m = hypot(half_m, half_m * cos(radians(max(0.0, south_edge))))
    return Locality(
        "",
        max(-90.0, min(90.0, north)),
        max(-180.0, min(180.0, _centre(longitude, grid))),
        float(round(reach_m + (uncertainty_m or 0.0))),
        WITHHELD,
        f"coordinates are the centre of a grid cell of {grid:g} degrees; place name left out",
        grid,
    )


def _centre(degrees: float, grid: float) -> float:
    """The middle of a cell, worked out in decimals so that 0.3 lies in the cell that begins there."""
    size = Decimal(str(grid))
    cell = (Decimal(str(degrees)) / size).to_integral_value(rounding=ROUND_FLOOR)
    return float(cell * size + size / 2)
