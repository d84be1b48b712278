"""Kinship: a pedigree of broods, how inbred the offspring of a pairing would be, effective number.

A brood stands for its members: two members of one brood are full sibs. Founders are unrelated and
not inbred.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from rounds.limits import within

Pedigree = Mapping[str, tuple[str, str]]
MOST_GENERATIONS = 100  # of a pedigree; nobody keeps a line so long


def kinship(
    pedigree: Pedigree,
    first: str,
    second: str,
    *,
    related: Mapping[frozenset[str], float] | None = None,
    individuals: bool = False,
) -> float:
    """Coefficient of kinship of two individuals, one from each brood named; two different ones of
    the same brood.

    Source: Wright 1922, Am. Nat. 56:330-338, by the tabular recursion of Emik & Terrill 1949 and
        Malecot 1948: the
    kinship of two is the mean of that of one with the other's parents. A brood's member is taken to
    be another than the parent that a later brood came from: its sister or brother. A founder is
    always itself.

    Args:
        pedigree: by code, the mother's and the father's code; who is not in it, or has an empty
            parent, is a founder
            there. An empty parent is a founder of its own.
        related: the kinship of pairs of founders that are known to be related; all others are
            unrelated.
        individuals: whether each code is one animal, not a brood.

    Raises:
        ValueError: a loop in the pedigree, or more than 100 generations.
    """
    depth = _depths(pedigree)

    @cache
    def between(one: str, other: str) -> float:
        if one == other:
            return _of_member(one) if individuals else _sibs(one)
        older, younger = sorted((one, other), key=lambda code: (depth.get(code, 0), code))
        if younger not in pedigree:
            return related.get(frozenset((older, younger)), 0.0) if related else 0.0
        return sum(_with(older, parent) for parent in pedigree[younger]) / 2

    def _with(one: str, parent: str) -> float:
        if not parent:
            return 0.0
        return between(one, parent)

    def _of_member(code: str) -> float:
        """A member with itself: (1 + its own inbreeding) / 2."""
        mother, father = pedigree.get(code, ("", ""))
        return (1 + (between(mother, father) if mother and father else 0.0)) / 2

    def _sibs(code: str) -> float:
        if code not in pedigree:
            return 0.5  # a founder is one animal: with itself
        mother, father = pedigree[code]
        own = [_of_member(parent) if parent else 0.5 for parent in (mother, father)]
        across = between(mother, father) if mother and father else 0.0
        return (own[0] + own[1] + 2 * across) / 4

    return between(first, second)


def inbreeding_of_pairing(
    pedigree: Pedigree,
    mother: str,
    father: str,
    *,
    related: Mapping[frozenset[str], float] | None = None,
) -> float:
    """How inbred their offspring would be: the kinship of the two parents.

    0.25 for full sibs. Wright 1922.
    """
    return kinship(pedigree, mother, father, related=related)


def _depths(pedigree: Pedigree) -> dict[str, int]:
    depth: dict[str, int] = {}
    on_the_way: set[str] = set()

    def reckon(code: str) -> int:
        if code in depth:
            return depth[code]
        if code not in pedigree:
            return 0
        if code in on_the_way:
            raise ValueError(
                f"{code} is among its own ancestors; correct the parents of one of them"
            )
        within("the pedigree", len(on_the_way), 0, MOST_GENERATIONS, "generations")
        on_the_way.add(code)
        depth[code] = 1 + max((reckon(parent) for parent in pedigree[code] if parent), default=0)
        on_the_way.discard(code)
        return depth[code]

    for code in pedigree:
        within("the pedigree", reckon(code), 0, MOST_GENERATIONS, "generations")
    return depth


def effective_number(*, males: int, females: int) -> float:
    """Effective number of breeders with unequal sexes: 4 m f / (m + f).

    Wright 1931, Genetics 16:97-159.
    """
    within("males", males, 1, 1e6)
    within("females", females, 1, 1e6)
    return 4 * males * females / (males + females)


def inbreeding_after(*, generations: int, effective: float) -> float:
    """Mean inbreeding after generations of an ideal population, in which an animal may pair with
    itself: 1 - (1 - 1 / (2 Ne))^t, the first being the children of founders. Wright 1931."""
    within("generations", generations, 0, 10_000)
    within("effective number", effective, 0.5, 1e9)
    return float(1 - (1 - 1 / (2 * effective)) ** generations)


def inbreeding_of_two_sexes(*, generations: int, effective: float) -> float:
    """Mean inbreeding of a generation that comes of random pairing of two sexes; the first are the
    children of unrelated founders, who are not inbred.

    F(t) = F(t-1) + (1 - 2 F(t-1) + F(t-2)) / (2 Ne) from F(0) = F(1) = 0, for no animal pairs with
    itself: Wright 1931, Genetics 16:97-159 (from memory). One pair a generation (Ne = 2) gives the
    series of brother with sister, 0.25, 0.375, 0.5, from the second generation on, as the pedigree
    does; tables of that series count from the first brother and sister, one less.
    """
    within("generations", generations, 0, 10_000)
    within("effective number", effective, 1, 1e9)
    before = now = 0.0
    for _ in range(generations - 1):
        before, now = now, now + (1 - 2 * now + before) / (2 * effective)
    return now


def is_too_close(inbred: float, limit: float) -> bool:
    """Whether offspring would be as inbred as the keeper's limit, or more."""
    return inbred >= limit - 1e-9
