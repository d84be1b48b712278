"""What is known of the warmth that a stage takes before any own brood: the keeper's constants, else
what ships, of the species, its genus, or any."""

from __future__ import annotations

from math import exp, hypot, inf

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.state import Bench
from rounds.biology.degree_days import Cutoff, Thresholds
from rounds.biology.thermal_constants import (
    SPREAD,
    Z90,
    Constants,
    SpeciesConstants,
    Whose,
    constants_for,
    days_of,
    in_turn,
    near_error,
    pauses_as,
    share_of,
    winters_as,
)
from rounds.entries.registry import ThermalConstants

# stages said together
TOGETHER = {"larva and pupa": ("larva", "pupa"), "egg to adult": ("egg", "larva", "pupa")}
WIDEST_OFF = 0.6  # what a whole life leaves for a stage is not told farther off; our estimate
# how far the days of all stages, added, are off those of their whole, as the deviation of the
# logarithm; of the 26 species that ship with all of them (tests/published/test_whole_lives.py)
STAGES_OFF_WHOLE = 0.12
USUAL_INSTARS = 5
SHARES_AT = 21.0  # where the instars' shares of larval life are taken [C]


class ThermalNeed(Struct, frozen=True):
    """What a stage needs, how sure that is, and whose words they are.

    ``lower_c`` in C, ``constant_dd`` in degree-days, ``spread`` of individuals as a share of it;
    ``uncertainty`` is the standard deviation of the constant's logarithm, ``longer`` that on the
    longer side where it is another. ``broods`` is how many own broods it rests on besides,
    ``tested`` the coolest and the warmest temperature of the study, where it says them. Of larval
    life ``shares`` are those of each instar where all of them are known by themselves; ``whose``
    the line is: the species' own, its genus' or any species'. Own animals that are not there yet
    after more than ``up_to`` [C day] are rather taken for such as never are.
    """

    lower_c: float
    constant_dd: float
    spread: float
    uncertainty: float
    words: str
    broods: int = 0
    longer: float | None = None
    tested: tuple[float, float] | None = None
    shares: tuple[float, ...] = ()
    whose: Whose = "own"
    upper_c: float | None = None
    cutoff: Cutoff = "horizontal"
    up_to: float = inf

    @property
    def off_words(self) -> str:
        """How far what a brood needs may lie off the constant."""
        low, high = exp(-Z90 * self.uncertainty), exp(Z90 * self.above)
        return f"9 times in 10 a brood needs from {low:.2f} to {high:.2f} of it"

    @property
    def thresholds(self) -> Thresholds:
        """Between which temperatures warmth counts."""
        return Thresholds(self.lower_c, self.upper_c, self.cutoff)

    @property
    def above(self) -> float:
        """The standard deviation of the logarithm on the longer side."""
        return self.uncertainty if self.longer is None else self.longer


def known_need(bench: Bench, taxon: str, stage: str) -> ThermalNeed | None:
    """The keeper's constants for a species and stage, else its own that ship, its genus', any
    species'.

    Larval life is what its instars take together where each of them is known and it is not. None
    for an instar or another part of a stage of which nothing was published.
    """
    known = _known_whole(bench, taxon, stage)
    if known is None or stage != "larva":
        return known
    return replace(known, shares=_shares(_instars(bench, taxon)))


def instars_of(bench: Bench, taxon: str, brood: str = "") -> int:
    """How many instars a species usually has; no more than the one that larvae of a brood pupated
    from."""
    known = bench.taxa.get(taxon)
    usual = known.instars if known else USUAL_INSTARS
    return min(usual, bench.pupated_from.get(brood, usual))


def _instars(bench: Bench, taxon: str) -> list[ThermalNeed]:
    """What each instar takes by itself, from the first to the last; none where one is not known, or
    one more is than the species is said to have."""
    number = instars_of(bench, taxon)
    known = [_known_whole(bench, taxon, f"L{instar}") for instar in range(1, number + 2)]
    every = [one for one in known if one is not None]
    return every if len(every) == number and known[number] is None else []


def _shares(instars: list[ThermalNeed]) -> tuple[float, ...]:
    """The share of larval life that each instar takes, where each is known."""
    lines = [_line(one) for one in instars]
    whole = days_of(lines, SHARES_AT)
    return tuple(days_of([one], SHARES_AT) / whole for one in lines) if whole < inf else ()


def _together(instars: list[ThermalNeed]) -> ThermalNeed | None:
    """Larval life as what its instars take together; as far off as the least sure of them, for
    what makes one slow makes all slow."""
    added = in_turn([_line(one) for one in instars]) if instars else None
    if added is None:
        return None
    sources = "; ".join(dict.fromkeys(one.words for one in instars))
    return ThermalNeed(
        added.lower_c,
        added.constant_dd,
        SPREAD,
        max(one.uncertainty for one in instars),
        f"L1 to L{len(instars)} together: {sources}",
        longer=max(one.above for one in instars),
        tested=added.tested,
    )


def _line(need: ThermalNeed) -> Constants:
    return Constants("", "", "", need.lower_c, need.constant_dd, "", tested=need.tested)


def _known_whole(bench: Bench, taxon: str, stage: str) -> ThermalNeed | None:
    own = _keepers(bench, taxon, stage)
    if own is not None:
        shorter, longer = near_error(stage)  # as a study of the species, and as far off
        need = ThermalNeed(
            own.lower_c,
            own.constant_dd,
            SPREAD,
            shorter,
            f"the keeper's constants ({own.source or 'no source given'})",
            longer=longer,
            upper_c=own.upper_c,
            cutoff=own.cutoff,
        )
        limit = need.thresholds.words
        words = f"{need.words}; {limit}" if limit else need.words
        return replace(need, words=words)
    constants = constants_for(taxon, stage)
    if constants is None or constants.whose != "own":
        added = _together(_instars(bench, taxon)) if stage == "larva" else None
        whole = added or _of_whole_life(bench, taxon, stage, constants)
        if whole is not None:
            return whole
    if constants is None:
        return None
    line = constants.constants
    return ThermalNeed(
        line.lower_c,
        line.constant_dd,
        SPREAD,
        constants.shorter,
        _words(taxon, constants, stage),
        longer=constants.longer,
        tested=line.tested,
        whose=constants.whose,
    )


def _keepers(bench: Bench, taxon: str, stage: str) -> ThermalConstants | None:
    """What the keeper said of a species, in whatever case its name was written."""
    name = taxon.casefold()
    known = (
        stages
        for one, stages in bench.constants.items()
        if one.casefold() == name and stage in stages
    )
    return next((stages[stage] for stages in known), None)


def _of_whole_life(
    bench: Bench, taxon: str, stage: str, other: SpeciesConstants | None
) -> ThermalNeed | None:
    """A stage from constants of several together: the keeper's own, or the species' that ship where
    of the stage itself no more than a guess of ``other`` species is known.

    What the others of them are known to take is taken off, and guesses share what is left as usual.
    Where that is too small a part of the whole to be told so, and for eggs, all share the whole: it
    is never shorter than the shortest published.
    """
    for together, stages in TOGETHER.items():
        if stage not in stages:
            continue
        own, constants = _keepers(bench, taxon, together), constants_for(taxon, together)
        if own is not None:
            source = "the keeper's constants"
            whole = Constants(taxon, "", together, own.lower_c, own.constant_dd, own.source)
        elif constants is not None and constants.whose == "own" and other is not None:
            source, whole = constants.words, constants.constants
        else:
            continue
        found = {one: by for one in stages if (by := _by_itself(bench, taxon, one))}
        if len(found) < len(stages):
            continue
        lines = {one: line for one, (line, _) in found.items()}
        known = tuple(one for one in stages if one != stage and found[one][1])
        less_known = _shared(whole, stage, lines, known) if stage != "egg" else None
        need = less_known or _shared(whole, stage, lines, ())
        if need is not None:
            return replace(need, words=f"{source} of {together}{need.words}")
    return None


def _shared(
    whole: Constants, stage: str, lines: dict[str, Constants], known: tuple[str, ...]
) -> ThermalNeed | None:
    """What a stage takes of a whole less what is known, where the others share that in proportion
    to their lines; None where it is told too badly so.

    It is as far off as a study of the stage, and as stages differ from their whole.
    """
    off = [lines[one] for one in known]
    sharing = [one for one in lines if one not in known]
    part = 1 - days_of(off, SHARES_AT) / days_of([whole], SHARES_AT)
    if part <= 0:
        return None
    shorter, longer = (hypot(near, STAGES_OFF_WHOLE / part) for near in near_error(stage))
    line = share_of(whole, stage, off, [lines[one] for one in sharing], lines[stage])
    if line is None or max(shorter, longer) > WIDEST_OFF:
        return None
    less = f" less what {' and '.join(known)} take" if known else ""
    by = f", shared as usual by {', '.join(sharing)}" if len(sharing) > 1 else ""
    return ThermalNeed(
        line.lower_c, line.constant_dd, SPREAD, shorter, f"{less}{by}", longer=longer
    )


def _by_itself(bench: Bench, taxon: str, stage: str) -> tuple[Constants, bool] | None:
    """The line of a stage, without constants of a whole life, and whether it is the keeper's or the
    species' own and no guess."""
    own = _keepers(bench, taxon, stage)
    if own is not None:
        return Constants(taxon, "", stage, own.lower_c, own.constant_dd, own.source), True
    instars = _together(_instars(bench, taxon)) if stage == "larva" else None
    if instars is not None:
        return _line(instars), True
    found = constants_for(taxon, stage)
    return None if found is None else (found.constants, found.whose == "own")


def _words(taxon: str, found: SpeciesConstants, stage: str) -> str:
    return (
        f"{found.words}; it can winter as {stage}, where it does this does not hold"
        if stage in winters_as(taxon)
        else found.words
    )


def pauses(bench: Bench, taxon: str, stage: str) -> str:
    """Why a stage has no date: its species pauses in it until after winter, as was published, and
    the keeper said nothing else; empty where it does not."""
    known = bench.taxa.get(taxon)
    within = set(TOGETHER.get(stage, (stage,))).intersection(pauses_as(taxon))
    if (known is not None and known.overwinters_as) or not within:
        return ""
    return (
        f"{taxon} pauses as {' and '.join(sorted(within))} until after winter, as far as was"
        " published: warmth gives no date"
    )
