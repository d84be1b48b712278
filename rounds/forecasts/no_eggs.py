"""Why there may be no eggs: what is on record of plant, warmth, sun, food and mating, and what the evidence favours."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from msgspec import Struct

from rounds.bench.folding.female_days import females_here
from rounds.bench.folding.sought import days_found
from rounds.bench.folding.without_eggs import up_to
from rounds.bench.state import Bench, Container, WithoutEggs
from rounds.biology.hidden_eggs import Laying, none_found
from rounds.forecasts.kept_stems import FEMALES_VARY
from rounds.tallies.detection import on_record, share_of_days, shares_found

UNLIKELY = 0.05  # a chance under this favours another plant
PATIENCE_DAYS = 3.0  # warm, fed female-days before a change is worth it, see the rule of the check
MUCH, SOME = 0.5, 0.2  # shares of the time that weigh much and some
Weight = Literal["much", "some", "little", "none"]
Favoured = Literal["wait", "warmth", "food", "another plant", "second plant"]


class Point(Struct, frozen=True):
    """One thing that may be missing: what is on record of it, and how much it weighs."""

    what: str
    record: str
    weighs: Weight


class OtherPlant(Struct, frozen=True):
    """A plant on which females of the species laid: eggs in female-days, each times the share that searches found."""

    plant: str
    eggs: int
    days: float

    @property
    def rate(self) -> float:
        """Eggs laid per female-day."""
        return self.eggs / self.days if self.days else 0.0


class NoEggs(Struct, frozen=True):
    """What is known of females that do not lay on a plant.

    ``chance`` is that of having found none by now, had they laid here as others did on the ``best`` other plant.
    """

    container: str
    plant: str
    waited: WithoutEggs
    share_found: float
    best: OtherPlant | None
    chance: float | None
    favoured: Favoured
    verdict: str
    points: tuple[Point, ...]


def why_no_eggs(bench: Bench, container: Container, now: datetime) -> NoEggs | None:
    """What may be missing; None where no female stands with a plant in the light, or all is as it should be so far."""
    females = [lot for lot in females_here(container) if lot.sex == "female"]
    if not females or not container.hosts:
        return None
    plant = container.hosts[-1].plant
    waited = up_to(bench, container, females, now).get(plant)
    if waited is None:
        return None
    taxon = bench.taxon_of(females[0].brood)
    best, share = _best_other(bench, taxon, plant), share_of_days(bench, taxon, plant)
    chance = None
    if best is not None:
        laying = Laying(best.rate, min(FEMALES_VARY, float(best.eggs)))
        chance = none_found(laying, waited.female_days * share)
    whole = waited.female_days + waited.cool + waited.hungry
    several = len({host.plant for host in container.hosts}) > 1
    favoured, verdict = _favoured(waited, whole, best, chance, plant, several)
    points = (
        _plant_point(plant, best, chance, waited, share),
        _mating_point(bench, females[0].brood, bool(females[0].mates)),
        _warmth_point(waited, whole),
        _sun_point(container),
        _food_point(waited, whole),
    )
    return NoEggs(container.code, plant, waited, share, best, chance, favoured, verdict, points)


def _best_other(bench: Bench, taxon: str, plant: str) -> OtherPlant | None:
    """The other plant on which the species laid fastest on this bench."""
    found = []
    for other in bench.laid.get(taxon, {}):
        groups = [one for known in on_record(bench, taxon, other) for one in known.laid.values()]
        eggs, shares = sum(one.eggs for one in groups), shares_found(bench, taxon, other)
        days = sum(days_found(one.sought, shares) for one in groups)
        if other != plant and eggs and days:
            found.append(OtherPlant(other, eggs, days))
    return max(found, key=lambda one: one.rate, default=None)


def _favoured(
    waited: WithoutEggs, whole: float, best: OtherPlant | None, chance: float | None, plant: str, several: bool
) -> tuple[Favoured, str]:
    """What the evidence favours, and the sentence that says so."""
    if waited.hungry > MUCH * whole:
        return "food", "They were hungry for most of it: feed them first."
    if waited.cool > MUCH * whole:
        return "warmth", "It was too cool to lay for most of it: warmth and light first."
    if best is not None and chance is not None and chance < UNLIKELY:
        return "another plant", f"Your records favour {best.plant}: change the host plant."
    if not several and waited.female_days >= PATIENCE_DAYS:
        return "second plant", f"Nothing speaks against {plant} yet: a second plant beside it costs little."
    return "wait", "Too early to say: wild females may take days to weeks before the first egg."


def _plant_point(plant: str, best: OtherPlant | None, chance: float | None, waited: WithoutEggs, share: float) -> Point:
    days = f"none found in {waited.female_days:.1f} warm, fed female-days"
    if best is None or chance is None:
        return Point("host plant", f"{plant}: {days}; of no other plant eggs are on record", "some")
    told = f"{plant}: {days}, searches find {share:.0%}; {best.plant}: {best.rate:.1f} laid a day".replace("%", " %")
    return Point("host plant", told, "much" if chance < UNLIKELY else "some" if chance < MUCH else "little")


def _mating_point(bench: Bench, code: str, males: bool) -> Point:
    founder = bench.founders.get(code)
    if males or bench.mated.get(code):
        return Point("mating", "males were with her", "little")
    wear = founder.wear if founder is not None else ""
    if wear in ("worn", "very worn"):
        return Point("mating", f"not seen; she is {wear}, so probably", "little")
    if founder is not None and wear == "fresh":
        return Point("mating", "not seen; she is fresh, and may not have mated", "some")
    return Point("mating", "not recorded" if founder is None else "not recorded; most wild females have", "some")


def _warmth_point(waited: WithoutEggs, whole: float) -> Point:
    if whole and waited.unread > MUCH * whole:
        return Point("warmth", "not recorded for most of it", "some")
    return Point("warmth", f"{waited.cool:.1f} of {whole:.1f} female-days read under 18 C", _weight(waited.cool, whole))


def _sun_point(container: Container) -> Point:
    if container.lamp_since:
        return Point("sun", "under a lamp", "little")
    words = {"sun": "in the sun", "shade": "in shade"}.get(container.lit, "not recorded")
    return Point("sun", words, "little" if container.lit == "sun" else "some")


def _food_point(waited: WithoutEggs, whole: float) -> Point:
    told = f"{waited.hungry:.1f} of {whole:.1f} female-days more than a day after the last drink"
    return Point("food", told, _weight(waited.hungry, whole))


def _weight(part: float, whole: float) -> Weight:
    share = part / whole if whole else 0.0
    return "much" if share > MUCH else "some" if share > SOME else "little" if share > 0 else "none"
