"""Where protected animals live: generalised in all that leaves the bench, unless exact places were
asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import ROUND_FLOOR, Decimal
from math import cos, hypot, radians

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.codes import members
from rounds.bench.old_records import NEXT_IN_NOTE, PLACE_IN_NOTE, tag_of
from rounds.bench.parents import line_of
from rounds.bench.state import Bench
from rounds.bench.taxon_names import identification, meant, name_words
from rounds.entries.arrivals import HIDDEN_ON_STEMS
from rounds.entries.base import Entry
from rounds.entries.names import slips_of
from rounds.entries.plan import FINEST_GRID
from rounds.entries.registry import FounderIntake, Note, Released, Setting, Stocked, Taxon
from rounds.entries.taken_back import still_guarded

# of latitude, and of longitude at the equator, on a sphere of 40,075 km
METRES_A_DEGREE = 111_320.0
WITHHELD = "exact place withheld: protected taxon; ask the keeper"
UNNAMED = (
    "exact place withheld: the species is not among the keeper's taxa, and others are protected;"
    " ask the keeper"
)
NOT_WHOLE = (
    "exact place withheld: not all of the keeper's lines can be read now, and one of them may"
    " protect this species; ask the keeper"
)
# degrees: of what a line may protect that cannot be read, as of a taxon by itself
UNKNOWN_GRID = FINEST_GRID
# Where the keeper lives, whom to ring, and how folders are called at home: in no table, whatever
# was asked for.
AT_HOME = frozenset({"latitude", "longitude", "phone", "photos"})
PRIVATE = "the keeper's own, left out"


class Locality(Struct, frozen=True):
    """A place as it may be told: degrees north and east, uncertainty in m; why something is not
    told."""

    place: str = ""
    latitude: float | None = None
    longitude: float | None = None
    uncertainty_m: float | None = None
    withheld: str = ""
    generalised: str = ""
    grid_degrees: float | None = None
    country: str = ""
    province: str = ""


class PlaceGuard:
    """Knows which taxa are protected and tells their places as they may be told.

    A protected species is known by its full name, its short name, its epithet, or its genus
    abbreviated, in any case; a subspecies of it is protected too, and so is what was only named to
    its genus, what may be one
    of its genus (``cf.``, ``agg.``) and what names it behind another (``A x B``). Where any taxon
    is protected, a name
    that is none of the keeper's taxa, or has more behind it than can be understood, may be a slip
    for it and is treated as
    protected; one that is one slip away from it stays so as a taxon too, until its own line says
    whether it is protected.

    Args:
        bench: with the keeper's taxa.
        exact: whether exact places were asked for.
        uncounted: lines that do not count yet; what they say to be protected is.
        struck: lines that are crossed out; what only they say to be protected is.
        is_whole: whether every line can be read; where not, any of them may protect any taxon, and
            all places are treated so.
    """

    def __init__(
        self,
        bench: Bench,
        *,
        exact: bool = False,
        uncounted: Iterable[Entry] = (),
        struck: Iterable[Entry] = (),
        is_whole: bool = True,
    ) -> None:
        self.kept = still_guarded(bench, struck)
        bench = replace(bench, taxa={**bench.taxa, **self.kept}) if self.kept else bench
        self._bench = bench = _protected_by(bench, uncounted)
        self.exact = exact
        self.is_whole = is_whole
        # by entry: each place is generalised once, from what was said
        self._known: dict[str, Locality] = {}
        self._grids: dict[str, float | None] = {}  # by name as typed
        self._protected = [_grid(taxon) for taxon in bench.taxa.values() if taxon.protected]
        self._protected += [] if is_whole else [UNKNOWN_GRID]
        # by founder: the widest grid of the broods that go back to it
        self._lines: dict[str, float] = {}
        for code in bench.broods if self._protected else ():
            grid = self.grid_of(bench.taxon_of(code))
            line = line_of(bench, code) if grid is not None else []
            if any(self.grid_of(founder.taxon) is not None for founder in line):
                continue  # it is protected for that one; what is known of the others holds
            for founder in line:
                self._lines[founder.code] = max(grid or 0.0, self._lines.get(founder.code, 0.0))

    def grid_of(self, taxon: str) -> float | None:
        """The grid in degrees to which a taxon's places are generalised; None where it is not
        protected.

        Of one of several species (``A or B``) it is the widest of any that is protected.
        """
        return max(
            (grid for member in members(taxon) if (grid := self._grid_of(member)) is not None),
            default=None,
        )

    def _grid_of(self, taxon: str) -> float | None:
        if not self._protected:
            return None
        if taxon not in self._grids:
            fitting = identification(taxon, self._bench.taxa.values()).taxa
            fitting += [slip for one in fitting for slip in self._slips_of_taxon(one)]
            if fitting:
                grids = [_grid(one) for one in fitting if one.protected]
                grids += [] if self.is_whole else [UNKNOWN_GRID]
            else:
                grids = self._protected
            self._grids[taxon] = max(grids, default=None)
        return self._grids[taxon]

    def _slips_of_taxon(self, taxon: Taxon) -> list[Taxon]:
        """The protected taxa of which the name of an unprotected one may be a slip, until the
        keeper has said of it whether it is protected."""
        if taxon.protected or "protected" in self._bench.said_by.get(taxon.of_what, {}):
            return []
        return [one for one in self._near(taxon.name) if one.protected]

    def _near(self, name: str) -> list[Taxon]:
        return [self._bench.taxa[one] for one in slips_of(self._bench, name)]

    @property
    def which(self) -> str:
        """Of what exact places are withheld, in words."""
        return "protected taxa" if self.is_whole else "any may be protected"

    def guards(self, taxon: str) -> bool:
        """Whether the taxon's places are not told exactly."""
        return not self.exact and self.grid_of(taxon) is not None

    def guards_code(self, code: str) -> bool:
        """Whether a founder's or brood's places are not told exactly, for what it is or what it
        goes back to."""
        if self.guards(self._bench.taxon_of(code)):
            return True
        return not self.exact and any(
            self._grid_of_founder(intake) is not None for intake in line_of(self._bench, code)
        )

    def unnamed(self) -> list[str]:
        """The names in use that are none of the keeper's taxa and are treated as protected for
        it."""
        return [name for name in self._used() if not self._is_named(name)]

    def slips(self) -> dict[str, list[Taxon]]:
        """The names in use that are treated as protected and may be a slip for others of the
        keeper's taxa: which those are."""
        found = {}
        for name in self._used():
            named = identification(name, self._bench.taxa.values()).taxa
            near = [slip for one in named for slip in self._slips_of_taxon(one)]
            if not named and name:
                near = self._near(name)
            if near:
                found[name] = near
        return found

    def doubtful(self) -> dict[str, list[str]]:
        """The names in use that mean another of the keeper's taxa and may be a protected one: which
        those are."""
        taxa = list(self._bench.taxa.values())
        found = {}
        for name in self._used():
            plain = meant(name, taxa)
            others = [
                one.name
                for one in identification(name, taxa).taxa
                if one.protected and one not in plain
            ]
            if others and not any(taxon.protected for taxon in plain):
                found[name] = others
        return found

    def _used(self) -> list[str]:
        """The names in use, each once; none where nothing is protected, or all or nothing may be
        told."""
        if self.exact or not self._protected or not self.is_whole:
            return []
        used = [intake.taxon for intake in self._bench.founders.values()]
        used += [self._bench.taxon_of(code) for code in self._bench.broods]
        return list(dict.fromkeys(member for name in used for member in members(name)))

    def _is_named(self, name: str) -> bool:
        return bool(name_words(name) and identification(name, self._bench.taxa.values()).taxa)

    def _grid_of_founder(self, founder: FounderIntake) -> float | None:
        """By what its line says and by what it is taken for now: a line of before that was bettered
        tells the same place."""
        grids = [
            self.grid_of(founder.taxon),
            self.grid_of(self._taxon_now(founder)),
            self._lines.get(founder.code),
        ]
        return max((one for one in grids if one is not None), default=None)

    def _taxon_now(self, founder: FounderIntake) -> str:
        return self._bench.founders.get(founder.code, founder).taxon

    def of_founder(self, founder: FounderIntake) -> Locality:
        """Where a founder was caught, as it may be told."""
        if founder.id not in self._known:
            self._known[founder.id] = self._in_country(founder, self._told(founder))
        return self._known[founder.id]

    def origins(
        self, code: str, forebears: Sequence[FounderIntake] | None = None
    ) -> list[tuple[FounderIntake, Locality]]:
        """The wild forebears of a founder or brood with their places; guarded, where it is, for
        each of them alike.

        Args:
            forebears: where not given, those by its mothers.
        """
        line = line_of(self._bench, code) if forebears is None else forebears
        if not self.guards_code(code):
            return [(founder, self.of_founder(founder)) for founder in line]
        grids = [grid for intake in line if (grid := self._grid_of_founder(intake)) is not None]
        widest = max([*grids, self.grid_of(self._bench.taxon_of(code)) or 0.0])
        why = self.why(self._bench.taxon_of(code))
        return [
            (founder, self._in_country(founder, self._generalised(founder, widest, why)))
            for founder in line
        ]

    def _told(self, founder: FounderIntake) -> Locality:
        grid = self._grid_of_founder(founder)
        if self.exact or grid is None:
            return Locality(
                founder.place, founder.latitude, founder.longitude, founder.uncertainty_m
            )
        return self._generalised(founder, grid, self.why(self._taxon_now(founder)))

    def _generalised(self, founder: FounderIntake, grid: float, why: str) -> Locality:
        if founder.latitude is None or founder.longitude is None:
            return Locality(withheld=why, generalised="place left out")
        return replace(
            on_grid(founder.latitude, founder.longitude, founder.uncertainty_m, grid), withheld=why
        )

    def _in_country(self, founder: FounderIntake, locality: Locality) -> Locality:
        """With country and province, which give no exact place away; the settings name them where
        neither was said."""
        settings, said = self._bench.settings, founder.country or founder.province
        return replace(
            locality,
            country=founder.country if said else settings.get("country", ""),
            province=founder.province if said else settings.get("province", ""),
        )

    def why(self, taxon: str) -> str:
        """Why an exact place of a guarded taxon is withheld."""
        if not self.is_whole:
            return NOT_WHOLE
        return WITHHELD if all(self._is_named(member) for member in members(taxon)) else UNNAMED

    def entry(self, entry: Entry, broods: Sequence[str] = ()) -> Entry:
        """An entry with its places as they may be told; what was typed as a note is given
        as typed, but for the places of old tables.

        Args:
            broods: what it can be about where it names no brood; where that is not known either it
                is guarded.
        """
        if isinstance(entry, Setting) and entry.name in AT_HOME and entry.value:
            return replace(entry, value=PRIVATE)
        if self.exact or not self._protected:
            return entry
        if isinstance(entry, FounderIntake):
            locality = self.of_founder(entry)
            if not locality.withheld:
                return entry
            return replace(
                entry,
                place=locality.withheld,
                latitude=locality.latitude,
                longitude=locality.longitude,
                uncertainty_m=locality.uncertainty_m,
            )
        if (
            isinstance(entry, Released)
            and entry.place
            and (why := self._why_stock(entry.brood, broods))
        ):
            return replace(entry, place=why)
        if isinstance(entry, Note) and tag_of(entry.id):
            return replace(entry, text=_without_places(entry.text))
        if isinstance(entry, Stocked) and (why := self._why_stock(entry.brood, broods)):
            return self._stock(entry, why)
        return entry

    def _stock(self, entry: Stocked, why: str) -> Stocked:
        """Guarded animals that were put in, with where they are from as it may be told."""
        is_place = entry.origin not in ("", HIDDEN_ON_STEMS)
        catch = entry.catch(self._bench.taxon_of(entry.brood))
        told = self.of_founder(catch) if catch else Locality()
        return replace(
            entry,
            origin=why if is_place else entry.origin,
            place=why if entry.place else "",
            latitude=told.latitude,
            longitude=told.longitude,
            uncertainty_m=told.uncertainty_m,
        )

    def _catches(self) -> Iterator[FounderIntake]:
        """The record of every catch: of founders, and of young ones that were stocked."""
        yield from self._bench.founders.values()
        for catches in self._bench.catches.values():
            yield from catches

    def _why_stock(self, brood: str, broods: Sequence[str]) -> str:
        """Why the places of a brood, or of any of these, are withheld; empty where they are not."""
        for code in [brood] if brood else broods or ("",):
            if self.guards_code(code):
                return self.why(self._bench.taxon_of(code))
        return ""

    def secrets(self) -> Iterator[FounderIntake]:
        """The founders whose exact places are withheld."""
        return (intake for intake in self._catches() if self.of_founder(intake).withheld)

    def told_elsewhere(self) -> int:
        """How many guarded catches have their exact place told all the same, by an unguarded taxon
        caught there."""
        founders = [*self._catches()]
        open_ones = {
            place
            for intake in founders
            if not self.of_founder(intake).withheld
            for place in _exact(intake)
        }
        return sum(1 for secret in self.secrets() if open_ones.intersection(_exact(secret)))


def _protected_by(bench: Bench, uncounted: Iterable[Entry]) -> Bench:
    """The bench, with every taxon protected that one of these lines says to be."""
    taxa: dict[str, Taxon] = {}
    for one in uncounted:
        if isinstance(one, Taxon) and one.protected:
            known = taxa.get(one.name) or bench.taxa.get(one.name) or one
            grid = max(known.grid_degrees, one.grid_degrees)
            short = known.short or one.short
            taxa[one.name] = replace(known, short=short, protected=True, grid_degrees=grid)
    return replace(bench, taxa={**bench.taxa, **taxa}) if taxa else bench


def _grid(taxon: Taxon) -> float:
    """The grid of a protected taxon's places, in degrees; no line makes one so fine that a place
    could be told by it."""
    return max(taxon.grid_degrees, FINEST_GRID)


def _without_places(text: str) -> str:
    """A note from an old table without the places that the table names; whose they are is not on
    record."""
    return NEXT_IN_NOTE.join(
        f"{PLACE_IN_NOTE}{WITHHELD}" if part.startswith(PLACE_IN_NOTE) else part
        for part in text.split(NEXT_IN_NOTE)
    )


def _exact(founder: FounderIntake) -> list[object]:
    """By what a place can be known again: its name, its coordinates."""
    found: list[object] = [founder.place.casefold()] if founder.place else []
    return (
        [*found, (founder.latitude, founder.longitude)] if founder.latitude is not None else found
    )


def on_grid(
    latitude: float, longitude: float, uncertainty_m: float | None, grid: float
) -> Locality:
    """The centre of the grid cell that a place lies in, with half its diagonal as the
    uncertainty."""
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
    """The middle of a cell, worked out in decimals so that 0.3 lies in the cell that begins
    there."""
    size = Decimal(str(grid))
    cell = (Decimal(str(degrees)) / size).to_integral_value(rounding=ROUND_FLOOR)
    return float(cell * size + size / 2)
