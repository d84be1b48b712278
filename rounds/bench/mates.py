"""Which males stood with females, and so may have fathered what those lay."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime

from msgspec import Struct

from rounds.bench.old_records import is_wild
from rounds.bench.state import Bench, Container, Lot, Mates
from rounds.bench.taxon_names import binomials

WILD = "wild"  # a male from the wild that never came in


class Fathers(Struct, frozen=True):
    """Possible fathers in order of their codes; none where no male is on record, which of a wild-
    caught female means one from the wild.

    ``since`` is when the first can have been one, None where that was before she came; ``newest``
    when the last.
    """

    codes: tuple[str, ...] = ()
    since: datetime | None = None
    newest: datetime | None = None


def joined(*known: Mates) -> Mates:
    """Males by their codes, each since the earliest that is told."""
    found: dict[str, datetime] = {}
    for code, at in (mate for mates in known for mate in mates):
        found[code] = min(found.get(code, at), at)
    return tuple(sorted(found.items()))


def stand_together(container: Container, at: datetime) -> None:
    """Remember of each female here which males she stands with from now on.

    One whose sex is not known may be either.
    """
    adults = container.lots_of("adult")
    males = [lot for lot in adults if lot.sex != "female"]
    for her in (lot for lot in adults if lot.sex != "male"):
        known = {code for code, _ in her.mates}
        near = {code for him in males if him is not her or him.number > 1 for code in him.codes}
        new = tuple((code, at) for code in near - known)
        if new:
            her.mates = joined(her.mates, new)


def mated_in_the_wild(bench: Bench, mother: str, before: datetime | None = None) -> bool:
    """Whether a female was caught as an adult and not seen coupled here before: she had mated
    before, presumably.

    Args:
        before: up to when; None for ever.
    """
    founder, hers = (
        bench.founders.get(mother),
        [paired for paired in bench.pairings if paired.female == mother],
    )
    return (
        founder is not None
        and founder.stage == "adult"
        and is_wild(founder)
        and all(before is not None and her.at > before for her in hers)
    )


def possible_fathers(
    bench: Bench,
    mothers: Collection[str],
    lots: Iterable[Lot] = (),
    until: datetime | None = None,
    since: datetime | None = None,
) -> Fathers:
    """The males of their species that stood with these mothers, or any that was seen coupled with
    them.

    Args:
        lots: the females that laid, where they are known; else all of these mothers.
        until: when they had laid; None for now.
        since: when they may have begun to lay; None for ever since they coupled.
    """
    known = [lot.mates for lot in lots if set(lot.codes) & set(mothers)]
    if not known:
        known = [
            lot.mates
            for container in bench.standing()
            for lot in container.lots
            if set(lot.codes) & set(mothers)
        ]
        known += [bench.mated.get(mother, ()) for mother in mothers]
    itself = set(mothers) & bench.founders.keys()
    mates = [
        (code, at)
        for code, at in joined(*known)
        if code not in itself
        and (until is None or at <= until)
        and _may_couple(bench, mothers, code)
    ]
    if not mates:
        return Fathers()
    codes, times = {code for code, _ in mates}, [at for _, at in mates]
    from_before = any(mated_in_the_wild(bench, mother, since) for mother in mothers)
    codes |= {WILD} if from_before else set()
    return Fathers(tuple(sorted(codes)), None if from_before else min(times), max(times))


def _may_couple(bench: Bench, mothers: Collection[str], male: str) -> bool:
    """Whether a male may be of the species of one of these, or was seen coupled with one."""
    if bench.sex_of(male) == "female":  # one of which nobody knew any more which it was
        return False
    seen = {paired.female for paired in bench.pairings if paired.male == male}
    return any(mother in seen or not two_species(bench, mother, male) for mother in mothers)


def two_species(bench: Bench, female: str, male: str) -> str:
    """That two are not of one species, in words; empty where they are, or it is not known of
    both."""
    hers, his = bench.taxon_of(female), bench.taxon_of(male)
    if not hers or not his or binomials(hers) & binomials(his):
        return ""
    return f"two species: {female} is {hers}, {male} is {his}"


def not_seen_to_couple(bench: Bench, code: str) -> frozenset[str]:
    """Those of the fathers of a brood who stood with its mothers when its eggs were found and were
    seen coupled with none: each may be the father, and no more is known.

    A brood without a time of laying was begun by a line that names its parents.
    """
    brood = bench.broods.get(code)
    if brood is None or brood.laid_from is None or not brood.fathers:
        return frozenset()
    mothers = {*brood.mothers}
    stood = joined(
        *(bench.mated.get(mother, ()) for mother in mothers),
        *(
            lot.mates
            for container in bench.standing()
            for lot in container.lots
            if mothers.intersection(lot.codes)
        ),
    )
    seen = {paired.male for paired in bench.pairings if paired.female in mothers}
    return frozenset(brood.fathers) & {one for one, _ in stood} - seen


def fathers_in_words(bench: Bench, code: str) -> list[str]:
    """The possible fathers as a record names them; of one alone who was not seen to couple that he
    may be it."""
    mothers, fathers = bench.broods[code].mothers, bench.broods[code].fathers
    if fathers:
        in_doubt = len(fathers) == 1 and not_seen_to_couple(bench, code)
        may_be = "perhaps " if in_doubt else ""
        return [
            *(f"{may_be}{father}" for father in fathers if father != WILD),
            *(["a male from the wild"] if WILD in fathers else []),
        ]
    founders = [bench.founders[mother] for mother in mothers if mother in bench.founders]
    from_wild = any(one.stage == "adult" and is_wild(one) for one in founders)
    return ["a male from the wild"] if from_wild else ["father not known"]
