"""How large a share of the eggs that are there searches find: by species, plant and aid, and over
all searches of some days."""

from __future__ import annotations

from collections.abc import Collection

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


def shares_found(bench: Bench, taxon: str, plant: str) -> dict[str, float]:
    """The share of eggs that one search finds on a plant, by aid."""
    return {aid: detection_of(bench, aid, taxon, plant).share for aid in AIDS.values()}


def share_of_days(bench: Bench, taxon: str, plant: str, mothers: Collection[str] = ()) -> float:
    """The share of eggs that the searches found, over the days that they looked at; 1 where none is
    on record.

    Args:
        mothers: only the days in which one of these stood there; all if there are none.
    """
    wanted = set(mothers)
    laid = [
        laying
        for known in on_record(bench, taxon, plant)
        for codes, laying in known.laid.items()
        if not wanted or wanted & set(codes.split(","))
    ]
    days = sum(part for one in laid for part in one.sought.values())
    if days <= 0:
        return 1.0
    shares = shares_found(bench, taxon, plant)
    return min(1.0, sum(days_found(one.sought, shares) for one in laid) / days)
