"""How large a share of the eggs that are there searches find: by species, plant and aid, and over
all searches of some days."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from math import prod
from string import digits
from typing import NamedTuple

from rounds.bench.codes import members
from rounds.bench.folding.removal import FRASS, LARVAE
from rounds.bench.folding.sought import AIDS, counted_like, days_found
from rounds.bench.state import Bench, OnPlant, SearchDetection
from rounds.biology.hidden_eggs import USUAL_DETECTION, Detection, Unwatched, learned_detection
from rounds.biology.laying import ShareFound
from rounds.grouping import summed
from rounds.tallies.viability import VIABLE_SHARE, viable_share

TURNS = 3  # in which what each aid finds is learned beside what others left


def on_record(bench: Bench, taxon: str, plant: str) -> list[OnPlant]:
    """What is on record of a species on a plant; of one of several (``A or B``) that of all of
    them."""
    known = (
        bench.laid.get(fromkey, {}).get(plant)
        for fromkey in dict.fromkeys((taxon, *members(taxon)))
    )
    return [on_plant for on_plant in known if on_plant is not None]


class _Seen(NamedTuple):
    """What searches found and missed, by aid, and how many stems they were made of with how many
    eggs found, by their letters."""

    detected: dict[str, SearchDetection]
    searched: Counter[str]

    @classmethod
    def of(cls, plants: Iterable[OnPlant]) -> _Seen:
        seen = cls({aid: SearchDetection() for aid in AIDS.values()}, Counter())
        for known in plants:
            for aid, detected in known.detected.items():
                whole = seen.detected[aid]
                whole.found += detected.found
                whole.missed += detected.missed
                whole.eggs += detected.eggs
            seen.searched.update(known.searched)
        return seen

    def learned(self, usual: Mapping[str, float], viable: float) -> dict[str, Detection]:
        """The share that one search finds, by aid. What others leave of stems searched with more
        than one is taken by the mean of what is known of them, once more by what that made of
        it.

        Args:
            viable: the share of eggs that hatch, and show where somebody waits for it.
        """
        known: dict[str, Detection] = {}
        shares = dict(usual)
        stems = self._stems()
        mixed = any(len({*made} & AIDS.keys()) > 1 for made, _ in stems)
        for _ in range(TURNS if mixed else 1):
            for letter, aid in AIDS.items():
                detected = self.detected[aid]
                known[aid] = learned_detection(
                    usual=min(0.99, max(0.01, usual[aid])),
                    found=detected.found,
                    missed=detected.missed,
                    unwatched=tuple(
                        Unwatched(
                            eggs,
                            made.count(letter),
                            prod(
                                1 - shares[AIDS[one]]
                                for one in made
                                if one in AIDS and one != letter
                            ),
                            1 - viable if {LARVAE, FRASS} & {*made} else 1.0,
                            number if FRASS in made else 0,
                        )
                        for (made, eggs), number in stems.items()
                        if letter in made
                    ),
                    eggs=detected.eggs,
                )
                shares[aid] = known[aid].share
        return known

    def _stems(self) -> dict[tuple[str, int], int]:
        """How many stems were searched so, by the letters and the eggs found; where they tell alike
        those of one kind are taken together."""
        stems: dict[tuple[str, int], int] = {}
        together: Counter[str] = Counter()
        for key, number in sorted(self.searched.items()):
            made = key.rstrip(digits)
            eggs = int(key.removeprefix(made))
            if FRASS in made:
                stems[made, eggs] = number
            else:
                together[made] += eggs * number
        return stems | dict.fromkeys(together.items(), 1)


def shares_found_anywhere(bench: Bench) -> dict[str, Detection]:
    """The share of eggs that one search finds, by aid, by what is on record of all species and
    plants."""
    everywhere = (known for plants in bench.laid.values() for known in plants.values())
    return _Seen.of(everywhere).learned(USUAL_DETECTION, VIABLE_SHARE)


def shares_found(bench: Bench, taxon: str, plant: str) -> dict[str, Detection]:
    """The share of eggs that one search finds on a plant, by aid, learned from stems searched again
    and again: those of a species and plant above all.

    The usual share is bettered by what searches with that aid found and missed elsewhere, this by
    what they did here.
    """
    here = on_record(bench, taxon, plant)
    elsewhere = _Seen.of(
        known
        for plants in bench.laid.values()
        for known in plants.values()
        if not any(known is one for one in here)
    ).learned(USUAL_DETECTION, VIABLE_SHARE)
    usual = {aid: known.share for aid, known in elsewhere.items()}
    return _Seen.of(here).learned(usual, viable_share(bench, taxon))


class SharesFound:
    """The share of eggs that searches found on one bench, each thing reckoned once."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._shares: dict[tuple[str, str], dict[str, Detection]] = {}
        self._of_searches: dict[tuple[str, str], dict[str, float]] = {}
        self._groups: dict[tuple[str, str], list[_Group]] = {}
        self._of_code: dict[tuple[str, str], dict[str, list[int]]] = {}

    def of_one_search(self, taxon: str, plant: str) -> dict[str, Detection]:
        """The share of eggs that one search finds on a plant, by aid."""
        key = taxon, plant
        if key not in self._shares:
            self._shares[key] = shares_found(self._bench, taxon, plant)
        return self._shares[key]

    def days_found(self, taxon: str, plant: str, sought: Mapping[str, float]) -> float:
        """Days on a plant, each times the share of its eggs that the searches since found."""
        known = self._of_searches.setdefault((taxon, plant), {})
        return days_found(sought, self.of_one_search(taxon, plant), known)

    def groups(self, taxon: str, plant: str) -> list[_Group]:
        """What each group of females laid there, as far as searches tell."""
        key = taxon, plant
        if key not in self._groups:
            of_code: dict[str, list[int]] = {}
            found: list[_Group] = []
            for on_plant in on_record(self._bench, taxon, plant):
                for codes, laid in on_plant.laid.items():
                    for code in codes.split(","):
                        of_code.setdefault(code, []).append(len(found))
                    of_days = self.days_found(taxon, plant, laid.sought)
                    whole = sum(laid.sought.values())
                    found.append(_Group(laid.eggs, whole, of_days, laid.sought))
            self._groups[key], self._of_code[key] = found, of_code
        return self._groups[key]

    def of_days(self, taxon: str, plant: str, mothers: Collection[str] = ()) -> ShareFound | None:
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
        share = min(1.0, sum(one.found_days for one in groups) / days) if days > 0 else 0.0
        if not share:
            return None
        sought = summed(pair for one in groups for pair in one.sought.items())
        return ShareFound(share, counted_like(sought, self.of_one_search(taxon, plant)))


class _Group(NamedTuple):
    """Eggs that some females laid, the days that searches looked at, and those times the share
    found."""

    eggs: int
    days: float
    found_days: float
    sought: Mapping[str, float]
