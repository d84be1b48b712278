"""Why there may be no eggs: what is on record of plant, warmth, sun, food and mating, and what the
evidence favours."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from functools import cached_property
from math import inf
from typing import Literal

from msgspec import Struct

from rounds.bench.folding.female_days import females_here
from rounds.bench.folding.sought import days_searched
from rounds.bench.folding.without_eggs import up_to
from rounds.bench.plurals import count, percent
from rounds.bench.state import Bench, Container, Lot, WithoutEggs
from rounds.biology.hidden_eggs import Laying, none_found
from rounds.biology.laying import ALL_FOUND, FEMALES_VARY, ShareFound, hosts_compared
from rounds.grouping import grouped, summed
from rounds.tallies.detection import SharesFound

UNLIKELY = 0.05  # a chance under this favours another plant
LEAST_DAYS = 0.05  # female-days that are told as 0.1: with less of them searched none was
PATIENCE_DAYS = 3.0  # warm, fed female-days before a change is worth it, see the rule of the check
# before a second plant is set beside one that stands alone: nothing is lost by it; our estimate
SECOND_PLANT_DAYS = 1.0
MUCH, SOME = 0.5, 0.2  # shares of the time from which something is likely, and possible
Weight = Literal["likely", "possible", "unlikely", "not known"]
Favoured = Literal["wait", "warmth", "food", "another plant", "second plant"]


class PossibleReason(Struct, frozen=True):
    """One thing that may be missing: what is on record of it, and how likely it is that."""

    what: str
    record: str
    weighs: Weight


class LaidOn(Struct, frozen=True):
    """What females of the species laid on a plant: eggs in female-days, each times the share that
    searches found, as uncertain as ``found`` has it."""

    plant: str
    eggs: int
    days: float
    found: ShareFound = ALL_FOUND

    @property
    def rate(self) -> float:
        """Eggs laid per female-day."""
        return self.eggs / self.days if self.days else 0.0


class SearchedDays(Struct, frozen=True):
    """Of the warm, fed female-days of a wait those that a search looked at, and the share of the
    eggs laid in them that the searches find."""

    days: float
    share_found: float

    @property
    def any(self) -> bool:
        """Whether any of it was searched."""
        return self.days >= LEAST_DAYS


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

    ``chance`` is that of having found none in the days that were searched, had they laid here as
    others did on the ``best`` other plant; None where no search looked, or they laid here before.
    """

    container: str
    plant: str
    waited: WithoutEggs
    before: LaidBefore
    searched: SearchedDays
    best: LaidOn | None
    chance: float | None
    favoured: Favoured
    verdict: str
    points: tuple[PossibleReason, ...]

    @property
    def heading(self) -> str:
        """``No eggs``, or since when there are no new ones; ``No search`` where nobody looked."""
        if not self.before.eggs:
            return "No eggs" if self.searched.any else "No search"
        since, none = self.waited.since, "No new eggs" if self.searched.any else "No search"
        return (
            f"{none} since {since.day} {since:%b}"
            f" ({count(self.before.eggs, 'egg')} before, on {self.plant})"
        )


class LaidRecord:
    """What is on record of laying on one bench, each thing looked up once."""

    def __init__(self, bench: Bench) -> None:
        self.shares = SharesFound(bench)
        self._bench = bench
        self._on: dict[tuple[str, str], LaidOn] = {}
        self._eggs_of: dict[tuple[str, str], dict[str, list[tuple[frozenset[str], int]]]] = {}

    def on(self, taxon: str, plant: str) -> LaidOn:
        """What all females of a species laid on a plant of this bench."""
        if (taxon, plant) not in self._on:
            groups = self.shares.groups(taxon, plant)
            eggs, days = sum(one.eggs for one in groups), sum(one.found_days for one in groups)
            found = self.shares.of_days(taxon, plant) if eggs else None
            self._on[taxon, plant] = LaidOn(plant, eggs, days, found or ALL_FOUND)
        return self._on[taxon, plant]

    def eggs_of(self, taxon: str, plant: str) -> Mapping[str, list[tuple[frozenset[str], int]]]:
        """By female, the groups in which she laid there: who was in them, and how many eggs."""
        key = taxon, plant
        if key not in self._eggs_of:
            found: dict[str, list[tuple[frozenset[str], int]]] = {}
            on = self._bench.laid.get(taxon, {}).get(plant)
            for codes, laid in on.laid.items() if on else ():
                if laid.eggs:
                    group = frozenset(codes.split(",")), laid.eggs
                    for code in group[0]:
                        found.setdefault(code, []).append(group)
            self._eggs_of[key] = found
        return self._eggs_of[key]

    @cached_property
    def broods_of(self) -> dict[str, list[str]]:
        """The broods of each mother."""
        broods = self._bench.broods.items()
        return grouped((mother, code) for code, begun in broods for mother in begun.mothers)

    @cached_property
    def hatched(self) -> dict[str, int]:
        """How many of each brood hatched."""
        return summed((one.brood, one.number) for one in self._bench.passed if one.stage == "egg")


def laid_before(bench: Bench, females: list[Lot], plant: str, record: LaidRecord) -> LaidBefore:
    """What is on record of eggs of these females, on a plant, and of what hatched from any of
    theirs."""
    codes = {code for lot in females for code in bench.may_lay(lot)}
    laid = record.eggs_of(bench.taxon_of(females[0].brood), plant)
    theirs = {group for code in codes for group in laid.get(code, ())}
    broods = {brood for code in codes for brood in record.broods_of.get(code, ())}
    hatched = {brood: record.hatched[brood] for brood in broods if brood in record.hatched}
    mothers = [by for by, _ in theirs] + [
        frozenset(bench.broods[brood].mothers) for brood in hatched
    ]
    return LaidBefore(
        sum(eggs for _, eggs in theirs),
        sum(hatched.values()),
        all(by <= codes for by in mothers),
    )


def days_waited(bench: Bench, females: list[Lot], waited: WithoutEggs, days: float) -> str:
    """So many days of a wait, as ``18.2 warm, fed female-days``; warm or fed only as far as that is
    on record."""
    texts = [] if waited.unread > SOME * waited.whole else ["warm"]
    texts += ["fed"] if _drank(bench, females) else []
    return f"{days:.1f} {', '.join(texts)} female-days".replace("  ", " ")


def _drank(bench: Bench, females: list[Lot]) -> bool:
    """Whether a drink of each that takes food is on record."""
    return all(any(hunger.drank for hunger in lot.hunger) for lot in females if bench.is_fed(lot))


def why_no_eggs(
    bench: Bench, container: Container, now: datetime, record: LaidRecord | None = None
) -> NoEggs | None:
    """What may be missing; None where no female stands with a plant in the light, or all is as it
    should be so far.

    Args:
        record: what was looked up of this very bench before.
    """
    females = [lot for lot in females_here(container) if lot.sex == "female"]
    if not females or not container.hosts:
        return None
    without = up_to(bench, container, females, now)
    record = record or LaidRecord(bench)
    plant = plant_waited_for(bench, container, females, without, record)
    beside, left = _left_alone(bench, container, females, plant, without, record)
    plant = left or plant
    waited = without.get(plant)
    if waited is None:
        return None
    taxon = bench.taxon_of(females[0].brood)
    best, here = _best_other(bench, taxon, container, without, record), record.on(taxon, plant)
    best = None if beside else best
    most = max(  # that they are not favoured does not make them none
        (record.on(taxon, other) for other in bench.laid.get(taxon, {}) if other != plant),
        key=lambda laid: laid.eggs,
        default=None,
    )
    searched = searched_of(taxon, plant, waited, record)
    before = laid_before(bench, females, plant, record)
    chance = None
    if best is not None and searched.any and not before.eggs:
        chance = _none_by_now(best, searched)
    whole = waited.whole
    several = len({host.plant for host in container.hosts}) > 1
    they = "she" if sum(lot.number for lot in females) == 1 else "they"
    favours = best if chance is not None and (chance < UNLIKELY or _laid_more(best, here)) else None
    drank = _drank(bench, females)
    favoured, verdict = _favoured(waited, searched, favours, plant, several, before, they, drank)
    if beside:
        favoured, verdict = "wait", _lays_beside(beside.plant, plant, searched, they)
    days = days_waited(bench, females, waited, waited.female_days)
    weighs: Weight = "unlikely" if before.eggs or beside else "possible"
    if favoured == "another plant":
        weighs = "likely"
    elif chance is not None and chance >= MUCH:
        weighs = "unlikely"
    points = (
        PossibleReason(
            "host plant",
            _plant_words(plant, beside or best or most, waited, days, searched, before),
            weighs,
        ),
        _mating_point(bench, females, before, they),
        *_age_points(before, they),
        _warmth_point(waited, whole),
        _sun_point(container),
        _food_point(waited, whole, drank),
    )
    return NoEggs(
        container.code, plant, waited, before, searched, best, chance, favoured, verdict, points
    )


def _lays_beside(laid_on: str, plant: str, searched: SearchedDays, they: str) -> str:
    """That they lay on one plant, and what may be said of the other by how much it was searched."""
    lays, leaves = ("She lays", "leaves") if they == "she" else ("They lay", "leave")
    if searched.days >= PATIENCE_DAYS:
        return f"{lays} on {laid_on} and {leaves} {plant} alone: no change is needed."
    if not searched.any:
        return f"{lays} on {laid_on}; {plant} not searched yet."
    return (
        f"{lays} on {laid_on}; whether {they} {leaves} {plant} alone is too early to say: searched"
        f" for {searched.days:.1f} female-days."
    )


def lacked(waited: WithoutEggs) -> Literal["food", "warmth"] | None:
    """What females lacked for most of a wait, before which no plant is to blame; warmth where that
    was no less, for in the cold none drinks."""
    lacks: Literal["food", "warmth"] = "food" if waited.hungry > waited.cool else "warmth"
    return lacks if max(waited.hungry, waited.cool) > MUCH * waited.whole else None


def plant_waited_for(
    bench: Bench,
    container: Container,
    females: list[Lot],
    without: Mapping[str, WithoutEggs],
    record: LaidRecord,
) -> str:
    """The plant on which an egg is waited for: the one put in last, or where several stand that on
    which these females laid since, for who lays on one may leave another alone."""
    newest = container.hosts[-1].plant
    plants = {host.plant for host in container.hosts} - {newest}
    laid = [plant for plant in plants if laid_before(bench, females, plant, record).eggs]

    def waited(plant: str) -> float:  # none yet where the last egg was laid just now
        return -without[plant].since.timestamp() if plant in without else -inf

    return min((newest, *sorted(laid)), key=waited)


def _left_alone(
    bench: Bench,
    container: Container,
    females: list[Lot],
    plant: str,
    without: Mapping[str, WithoutEggs],
    record: LaidRecord,
) -> tuple[LaidOn | None, str]:
    """What females that still lay laid on that plant, and the plant beside it on which they laid
    none for longest; None and '' where they lay no more, or leave none alone."""
    wait, before = without.get(plant), laid_before(bench, females, plant, record)
    if not before.eggs or (wait is not None and wait.female_days >= SECOND_PLANT_DAYS):
        return None, ""
    others = [
        other
        for other in sorted({host.plant for host in container.hosts} - {plant})
        if other in without and not laid_before(bench, females, other, record).eggs
    ]
    if not others:
        return None, ""
    left = max(others, key=lambda other: without[other].female_days)
    return LaidOn(plant, before.eggs, 0.0), left


def searched_of(taxon: str, plant: str, waited: WithoutEggs, record: LaidRecord) -> SearchedDays:
    """How much of a wait searches looked at, and how much of its eggs they would have found."""
    days = days_searched(waited)
    found = record.shares.days_found(taxon, plant, waited.sought)
    return SearchedDays(days, min(1.0, found / days) if days else 0.0)


def _best_other(
    bench: Bench,
    taxon: str,
    container: Container,
    without: Mapping[str, WithoutEggs],
    record: LaidRecord,
) -> LaidOn | None:
    """The plant on which the species laid fastest on this bench, of those that do not stand here
    and on which these females did not wait so long that they may be taken to refuse it."""
    standing = {host.plant for host in container.hosts}
    others = []
    for other in bench.laid.get(taxon, {}):
        laid, tried = record.on(taxon, other), without.get(other)
        if other in standing or not laid.eggs or not laid.days:
            continue
        if (
            tried is None
            or _none_by_now(laid, searched_of(taxon, other, tried, record)) >= UNLIKELY
        ):
            others.append(laid)
    return max(others, key=lambda laid: laid.rate, default=None)


def _laid_more(best: LaidOn | None, here: LaidOn) -> bool:
    """Whether more was laid on the best other plant than chance gives, by the comparison that who
    laid on what tells."""
    if best is None or not here.days or best.rate <= here.rate:
        return False
    compared = hosts_compared(
        eggs_first=best.eggs,
        female_days_first=best.days / best.found.share,
        eggs_second=here.eggs,
        female_days_second=here.days / here.found.share,
        found_first=best.found,
        found_second=here.found,
    )
    return compared.settled


def _none_by_now(best: LaidOn, searched: SearchedDays) -> float:
    """The chance of having found none in what was searched, had they laid as others did on that
    plant."""
    laying = Laying(best.rate, min(FEMALES_VARY, float(best.eggs)))
    return none_found(laying, searched.days * searched.share_found)


def _favoured(
    waited: WithoutEggs,
    searched: SearchedDays,
    favours: LaidOn | None,
    plant: str,
    several: bool,
    before: LaidBefore,
    they: str,
    drank: bool,
) -> tuple[Favoured, str]:
    """What the evidence favours, and the sentence that says so.

    Args:
        favours: the plant that the records favour over this one.
        drank: whether a drink of each is on record.
    """
    if lacked(waited) == "food":
        hungry = "They were hungry" if drank else "No drink is on record"
        return "food", f"{hungry} for most of it: feed them first."
    if lacked(waited) == "warmth":
        return "warmth", "It was too cool to lay for most of it: warmth and light first."
    if not searched.any:
        of_it = f" {plant}" if several else ""
        return (
            "wait",
            f"Nobody has searched{of_it} {'since the last egg' if before.eggs else 'yet'}.",
        )
    if favours is not None:
        return "another plant", f"More was laid on {favours.plant} here: change the host plant."
    if before.eggs:
        return "wait", f"{plant[:1].upper()}{plant[1:]} was accepted: {_laid_out(they)}, or pause."
    if not several and searched.days >= SECOND_PLANT_DAYS:
        return (
            "second plant",
            f"Nothing speaks against {plant} yet: a second plant beside it costs little.",
        )
    return "wait", "Too early to say: wild females may take days to weeks before the first egg."


def _plant_words(
    plant: str,
    elsewhere: LaidOn | None,
    waited: WithoutEggs,
    days: str,
    searched: SearchedDays,
    before: LaidBefore,
) -> str:
    """What was found of it, in how much time that was searched."""
    days = f"{days} since" if before.eggs else days
    none = f"none found in {days}"
    if not searched.any:
        none = f"not searched in the {days}"
    elif searched.days < waited.female_days - LEAST_DAYS:
        none = f"none found in {searched.days:.1f} of {days}. The rest was not searched"
    text = f"{plant}: {none}"
    if before.eggs:
        accepted = "accepted" if before.sure else "accepted here"
        text = f"{plant} {accepted}: {count(before.eggs, 'egg')}. {none[0].upper()}{none[1:]}"
    if searched.any:
        text = f"{text}; searches find {percent(searched.share_found)} of the eggs"
    if before.eggs:
        return text
    if elsewhere is None or not elsewhere.eggs:
        return f"{text}; no eggs on record from another plant"
    if not elsewhere.days:
        return f"{text}; {elsewhere.plant}: {count(elsewhere.eggs, 'egg')}"
    return f"{text}; {elsewhere.plant}: {elsewhere.rate:.1f} laid a day"


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
        "mating", "not recorded; most wild females have" if wild else "not recorded", "not known"
    )


def _age_points(before: LaidBefore, they: str) -> tuple[PossibleReason, ...]:
    return (PossibleReason("age", _laid_out(they), "possible"),) if before.eggs else ()


def _laid_out(they: str) -> str:
    return f"{they} may have laid all {'her' if they == 'she' else 'their'} eggs"


def _warmth_point(waited: WithoutEggs, whole: float) -> PossibleReason:
    text = f"18 C or more on all {whole:.1f} female-days"
    if whole and waited.unread > MUCH * whole:
        text = "not read" if waited.unread >= whole else "not read for most of it"
    elif waited.cool >= LEAST_DAYS:
        text = f"never 18 C on {waited.cool:.1f} of {whole:.1f} female-days"
    elif waited.unread >= LEAST_DAYS:
        text = f"18 C or more whenever it was read, not on {waited.unread:.1f} female-days"
    weighs = _weight(waited.cool, whole)
    unread = waited.unread > SOME * whole and weighs != "likely"
    return PossibleReason("warmth", text, "not known" if unread else weighs)


def _sun_point(container: Container) -> PossibleReason:
    if container.lamp_since:
        return PossibleReason("sun", "under a lamp", "unlikely")
    if container.lit == "sun":
        return PossibleReason("sun", "in the sun", "unlikely")
    if container.lit == "shade":
        return PossibleReason("sun", "in shade", "possible")
    return PossibleReason("sun", container.lit or "not recorded", "not known")


def _food_point(waited: WithoutEggs, whole: float, drank: bool) -> PossibleReason:
    if not drank:
        return PossibleReason("food", "no drink on record", "not known")
    text = "never more than a day without drink"
    if waited.hungry >= LEAST_DAYS:
        text = f"more than a day without drink on {waited.hungry:.1f} of {whole:.1f} female-days"
    return PossibleReason("food", text, _weight(waited.hungry, whole))


def _weight(part: float, whole: float) -> Weight:
    share = part / whole if whole else 0.0
    return "likely" if share > MUCH else "possible" if share > SOME else "unlikely"
