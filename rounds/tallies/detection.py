"""How large a share of the eggs that are there searches find: by species, plant and aid, and over
all searches of some days."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from rounds.bench.codes import members
from rounds.bench.folding.sought import AIDS, days_found
from rounds.bench.state import Bench, OnPlant, SearchDetection
from rounds.biology.hidden_eggs import USUAL_DETECTION, Detection, learned_detection


def on_record(bench: Bench, taxon: str, plant: str) -> list[OnPlant]:
    """What is on record of a species on a plant; of one of several (``A or B``) that of all of
    them."""
    known = (
        bench.laid.get(fromkey, {}).get(plant)
        for fromkey in dict.fromkeys((taxon, *members(taxon)))
    )
    return [on_plant for on_plant in known if on_plant is not None]


def detected_by_aid(bench: Bench) -> dict[str, SearchDetection]:
    """Eggs of kept stems that searches found and missed, of all species and plants, by aid."""
    found: dict[str, SearchDetection] = {}
    for known in (known for plants in bench.laid.values() for known in plants.values()):
        for aid, search_detection in known.detected.items():
            every = found.setdefault(aid, SearchDetection())
            every.found, every.missed = (
                every.found + search_detection.found,
                every.missed + search_detection.missed,
            )
    return found


def detection_of(bench: Bench, aid: str, taxon: str, plant: str) -> Detection:
    """The share of eggs that a search with an aid finds, learned from kept stems: those of a
    species and plant above all.

    The usual share is bettered by what searches with that aid found and missed elsewhere, this by
    what they did here.
    """
    search_detections = [
        on_plant.detected.get(aid, SearchDetection()) for on_plant in on_record(bench, taxon, plant)
    ]
    number, missed = (
        sum(search_detection.found for search_detection in search_detections),
        sum(detection.missed for detection in search_detections),
    )
    every = detected_by_aid(bench).get(aid, SearchDetection())
    elsewhere = learned_detection(
        usual=USUAL_DETECTION[aid], found=every.found - number, missed=every.missed - missed
    )
    return learned_detection(
        usual=min(0.99, max(0.01, elsewhere.share)), found=number, missed=missed
    )


def shares_found(bench: Bench, taxon: str, plant: str) -> dict[str, Detection]:
    """The share of eggs that one search finds on a plant, by aid."""
    return {aid: detection_of(bench, aid, taxon, plant) for aid in AIDS.values()}


class SharesFound:
    """The share of eggs that searches found on one bench, each thing reckoned once."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._shares: dict[tuple[str, str], dict[str, Detection]] = {}
        self._groups: dict[tuple[str, str], list[_Group]] = {}
        self._of_code: dict[tuple[str, str], dict[str, list[int]]] = {}

    def of_one_search(self, taxon: str, plant: str) -> dict[str, Detection]:
        """The share of eggs that one search finds on a plant, by aid."""
        key = taxon, plant
        if key not in self._shares:
            self._shares[key] = shares_found(self._bench, taxon, plant)
        return self._shares[key]

    def groups(self, taxon: str, plant: str) -> list[_Group]:
        """What each group of females laid there, as far as searches tell."""
        key = taxon, plant
        if key not in self._groups:
            shares = self.of_one_search(taxon, plant)
            known: dict[str, float] = {}
            of_code: dict[str, list[int]] = {}
            found: list[_Group] = []
            for on_plant in on_record(self._bench, taxon, plant):
                for codes, laid in on_plant.laid.items():
                    for code in codes.split(","):
                        of_code.setdefault(code, []).append(len(found))
                    of_days = days_found(laid.sought, shares, known)
                    found.append(_Group(laid.eggs, sum(laid.sought.values()), of_days))
            self._groups[key], self._of_code[key] = found, of_code
        return self._groups[key]

    def of_days(self, taxon: str, plant: str, mothers: Collection[str] = ()) -> float | None:
        """The share of eggs that the searches found, over the days that they looked at; None where
        no search told anything of it.

        Args:
            mothers: only the days in which one of these stood there; all if there are none.
        """
        groups = self.groups(taxon, plant)
        if mothers:
            of_code = self._of_code[taxon, plant]
            places = {place for code in mothers for place in of_code.get(code, ())}
            groups = [groups[place] for place in sorted(places)]
        days = sum(one.days for one in groups)
        return min(1.0, sum(one.found_days for one in groups) / days) if days > 0 else None


class _Group(NamedTuple):
    """Eggs that some females laid, the days that searches looked at, and those times the share
    found."""

    eggs: int
    days: float
    found_days: float
