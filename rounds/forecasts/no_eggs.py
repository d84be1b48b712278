"""Why there may be no eggs: what is on record of plant, warmth, sun, food and mating, and what the
evidence favours."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Literal

from msgspec import Struct

from rounds.bench.folding.female_days import females_here
from rounds.bench.folding.sought import days_found
from rounds.bench.folding.without_eggs import up_to
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Container, Lot, WithoutEggs
from rounds.biology.hidden_eggs import Laying, none_found
from rounds.forecasts.kept_stems import FEMALES_VARY
from rounds.tallies.detection import on_record, share_of_days, shares_found

UNLIKELY = 0.05  # a chance under this favours another plant
PATIENCE_DAYS = 3.0  # warm, fed female-days before a change is worth it, see the rule of the check
MUCH, SOME = 0.5, 0.2  # shares of the time from which something is likely, and possible
Weight = Literal["likely", "possible", "unlikely"]
Favoured = Literal["wait", "warmth", "food", "another plant", "second plant"]


class PossibleReason(Struct, frozen=True):
    """One thing that may be missing: what is on record of it, and how likely it is that."""

    what: str
    record: str
    weighs: Weight


class OtherPlant(Struct, frozen=True):
    """A plant on which females of the species laid: eggs in female-days, each times the share that
    searches found."""

    plant: str
    eggs: int
    days: float

    @property
    def rate(self) -> float:
        """Eggs laid per female-day."""
        return self.eggs / self.days if self.days else 0.0


class LaidBefore(Struct, frozen=True):
    """Eggs that females of a container laid on a plant before, and how many of their eggs hatched,
    on any.

    ``sure`` where no female that is not here may have laid some of them.
    """

    eggs: int = 0
    hatched: int = 0
    sure: bool = True


class NoEggs(Struct, frozen=True):
    """What is known of females that do not lay on a plant, or no longer.

    ``chance`` is that of having found none by now, had they laid here as others did on the ``best``
    other plant.
    """

    container: str
    plant: str
    waited: WithoutEggs
    before: LaidBefore
    share_found: float
    best: OtherPlant | None
    chance: float | None
    favoured: Favoured
    verdict: str
    points: tuple[PossibleReason, ...]

    @property
    def heading(self) -> str:
        """``No eggs``, or since when there are no new ones."""
        if not self.before.eggs:
            return "No eggs"
        since = self.waited.since
        return (
            f"No new eggs since {since.day} {since:%b} ({self.before.eggs} before, on {self.plant})"
        )


def laid_before(bench: Bench, females: list[Lot], plant: str) -> LaidBefore:
    """What is on record of eggs of these females, on a plant, and of what hatched from any of
    theirs."""
    codes = {code for lot in females for code in lot.codes}
    on = bench.laid.get(bench.taxon_of(females[0].brood), {}).get(plant)
    laid = [(set(by.split(",")), laying.eggs) for by, laying in (on.laid if on else {}).items()]
    theirs = [(by, eggs) for by, eggs in laid if eggs and by & codes]
    broods = {
        code: set(begun.mothers)
        for code, begun in bench.broods.items()
        if codes & set(begun.mothers)
    }
    hatched = [
        completion
        for completion in bench.passed
        if completion.stage == "egg" and completion.brood in broods
    ]
    mothers = [by for by, _ in theirs] + [broods[one.brood] for one in hatched]
    return LaidBefore(
        sum(eggs for _, eggs in theirs),
        sum(stage_completion.number for stage_completion in hatched),
        all(by <= codes for by in mothers),
    )


def days_waited(bench: Bench, females: list[Lot], waited: WithoutEggs) -> str:
    """``18.2 warm, fed female-days``; warm or fed only as far as that is on record."""
    whole = waited.female_days + waited.cool + waited.hungry
    texts = [] if waited.unread > SOME * whole else ["warm"]
    texts += ["fed"] if _drank(bench, females) else []
    return f"{waited.female_days:.1f} {', '.join(texts)} female-days".replace("  ", " ")


def _drank(bench: Bench, females: list[Lot]) -> bool:
    """Whether a drink of each that takes food is on record."""
    return all(any(hunger.drank for hunger in lot.hunger) for lot in females if bench.is_fed(lot))


def why_no_eggs(bench: Bench, container: Container, now: datetime) -> NoEggs | None:
    """What may be missing; None where no female stands with a plant in the light, or all is as it
    should be so far."""
    females = [lot for lot in females_here(container) if lot.sex == "female"]
    if not females or not container.hosts:
        return None
    plant = container.hosts[-1].plant
    without = up_to(bench, container, females, now)
    waited = without.get(plant)
    if waited is None:
        return None
    searched = waited.searched or WithoutEggs(waited.since)
    without = {one: known.searched for one, known in without.items() if known.searched}
    taxon = bench.taxon_of(females[0].brood)
    best, share = _best_other(bench, taxon, container, without), share_of_days(bench, taxon, plant)
    looked = waited.searched is not None
    chance = _none_by_now(best, searched, share) if best is not None and looked else None
    whole = waited.female_days + waited.cool + waited.hungry
    several = len({host.plant for host in container.hosts}) > 1
    before = laid_before(bench, females, plant)
    they = "she" if sum(lot.number for lot in females) == 1 else "they"
    favoured, verdict = _favoured(
        waited, searched if looked else None, whole, best, chance, plant, several, before, they
    )
    points = (
        _plant_point(
            plant,
            best,
            chance,
            days_waited(bench, females, searched) if looked else "",
            share,
            before,
        ),
        _mating_point(bench, females, before, they),
        *_age_points(before, they),
        _warmth_point(waited, whole),
        _sun_point(container),
        _food_point(waited, whole, _drank(bench, females)),
    )
    return NoEggs(
        container.code, plant, waited, before, share, best, chance, favoured, verdict, points
    )


def _best_other(
    bench: Bench, taxon: str, container: Container, without: Mapping[str, WithoutEggs]
) -> OtherPlant | None:
    """The plant on which the species laid fastest on this bench, of those that do not stand here
    and on which these females did not wait so long that they may be taken to refuse it."""
    other_plants = []
    for other in bench.laid.get(taxon, {}):
        groups = [one for known in on_record(bench, taxon, other) for one in known.laid.values()]
        eggs, shares = sum(laying.eggs for laying in groups), shares_found(bench, taxon, other)
        days = sum(days_found(group.sought, shares) for group in groups)
        if any(host.plant == other for host in container.hosts) or not eggs or not days:
            continue
        plant, tried = OtherPlant(other, eggs, days), without.get(other)
        share = share_of_days(bench, taxon, other)
        if tried is None or _none_by_now(plant, tried, share) >= UNLIKELY:
            other_plants.append(plant)
    return max(other_plants, key=lambda other_plant: other_plant.rate, default=None)


def _none_by_now(best: OtherPlant, waited: WithoutEggs, share: float) -> float:
    """The chance of having found none in so long, had they laid as others did on that plant."""
    laying = Laying(best.rate, min(FEMALES_VARY, float(best.eggs)))
    return none_found(laying, waited.female_days * share)


def _favoured(
    waited: WithoutEggs,
    searched: WithoutEggs | None,
    whole: float,
    best: OtherPlant | None,
    chance: float | None,
    plant: str,
    several: bool,
    before: LaidBefore,
    they: str,
) -> tuple[Favoured, str]:
    """What the evidence favours, and the sentence that says so."""
    if waited.hungry > MUCH * whole:
        return "food", "They were hungry for most of it: feed them first."
    if waited.cool > MUCH * whole:
        return "warmth", "It was too cool to lay for most of it: warmth and light first."
    if searched is None:
        return "wait", f"Nobody has searched {'since the last egg' if before.eggs else 'yet'}."
    if best is not None and chance is not None and chance < UNLIKELY:
        return "another plant", f"Your records favour {best.plant}: change the host plant."
    if before.eggs:
        return "wait", f"{plant} was accepted: {they} may be laid out, or pause."
    if not several and searched.female_days >= PATIENCE_DAYS:
        return (
            "second plant",
            f"Nothing speaks against {plant} yet: a second plant beside it costs little.",
        )
    return "wait", "Too early to say: wild females may take days to weeks before the first egg."


def _plant_point(
    plant: str,
    best: OtherPlant | None,
    chance: float | None,
    days: str,
    share: float,
    before: LaidBefore,
) -> PossibleReason:
    text = f"{plant}: none found in {days}" if days else f"{plant}: not searched yet"
    if before.eggs:
        accepted = "accepted" if before.sure else "accepted here"
        since = f"none in the {days} since" if days else "not searched since"
        text = f"{plant} {accepted}: {count(before.eggs, 'egg')}; {since}"
    if best is None or chance is None:
        return PossibleReason(
            "host plant",
            f"{text}; no eggs on record from another plant",
            "unlikely" if before.eggs else "possible",
        )
    text = f"{text}, searches find {share:.0%}; {best.plant}: {best.rate:.1f} laid a day".replace(
        "%", " %"
    )
    return PossibleReason(
        "host plant",
        text,
        "likely" if chance < UNLIKELY else "possible" if chance < MUCH else "unlikely",
    )


def _mating_point(
    bench: Bench, females: list[Lot], before: LaidBefore, they: str
) -> PossibleReason:
    """Hatched eggs prove it; else who was with them, and how worn they are."""
    if before.hatched and before.sure:
        whose, who = ("her", "she") if they == "she" else ("their", "at least one")
        have = "has" if before.hatched == 1 else "have"
        return PossibleReason(
            "mating",
            f"{before.hatched} of {whose} eggs {have} hatched: {who} has mated",
            "unlikely",
        )
    if all(lot.mates or bench.mated.get(lot.brood) for lot in females):
        return PossibleReason(
            "mating", f"males were with {'her' if they == 'she' else 'them'}", "unlikely"
        )
    founders = [bench.founders.get(lot.brood) for lot in females]
    wears = [founder.wear if founder is not None else "" for founder in founders]
    if all(wear in ("worn", "very worn") for wear in wears):
        text = f"she is {wears[0]}" if they == "she" else "all are worn"
        return PossibleReason("mating", f"not seen; {text}, so probably", "unlikely")
    if "fresh" in wears:
        text = "she is fresh" if they == "she" else f"{wears.count('fresh')} of them fresh"
        return PossibleReason("mating", f"not seen; {text}, and may not have mated", "possible")
    wild = any(founder is not None for founder in founders)
    return PossibleReason(
        "mating", "not recorded; most wild females have" if wild else "not recorded", "possible"
    )


def _age_points(before: LaidBefore, they: str) -> tuple[PossibleReason, ...]:
    return (PossibleReason("age", f"{they} may be laid out", "possible"),) if before.eggs else ()


def _warmth_point(waited: WithoutEggs, whole: float) -> PossibleReason:
    if whole and waited.unread > MUCH * whole:
        return PossibleReason(
            "warmth",
            "not read" if waited.unread >= whole else "not read for most of it",
            "possible",
        )
    return PossibleReason(
        "warmth",
        f"{waited.cool:.1f} of {whole:.1f} female-days read under 18 C",
        _weight(waited.cool, whole),
    )


def _sun_point(container: Container) -> PossibleReason:
    if container.lamp_since:
        return PossibleReason("sun", "under a lamp", "unlikely")
    words = {"sun": "in the sun", "shade": "in shade"}.get(container.lit, "not recorded")
    return PossibleReason("sun", words, "unlikely" if container.lit == "sun" else "possible")


def _food_point(waited: WithoutEggs, whole: float, drank: bool) -> PossibleReason:
    if not drank:
        return PossibleReason("food", "no drink on record", "possible")
    text = f"{waited.hungry:.1f} of {whole:.1f} female-days more than a day after the last drink"
    return PossibleReason("food", text, _weight(waited.hungry, whole))


def _weight(part: float, whole: float) -> Weight:
    share = part / whole if whole else 0.0
    return "likely" if share > MUCH else "possible" if share > SOME else "unlikely"
