"""Who descends from whom, and how inbred the offspring of a pairing would be.

Founders are unrelated unless an entry says otherwise. A brood without named parents is a family of
brothers and sisters, related to no other. A male who is not known is one male for each brood: all
of it that are his are full brothers and sisters. Where a brood has several possible mothers or
fathers, or may have a mate from the wild who is not known, the answer is a range: from what it is
at least to what it can be at most.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from rounds.bench.codes import in_order
from rounds.bench.mates import WILD, not_seen_to_couple
from rounds.bench.state import Bench
from rounds.biology.kinship import kinship

# ways in which possible parents can combine before only the range from none to the highest is told
MAX_WAYS = 256
# The kinship of two that are not inbred themselves. Falconer & Mackay 1996, Introduction to
# Quantitative Genetics, table 5.1
# (from memory).
KINSHIP_OF = {
    "full sibs": 0.25,
    "half sibs": 0.125,
    "parent and offspring": 0.25,
    "cousins": 0.0625,
    "unrelated": 0.0,
}
DEFAULT_LIMIT = 0.125  # half sibs; the keeper's to change
LIMIT_SETTING = "inbreeding"


class Node(Struct, frozen=True):
    """A founder or brood in the tree: the fathers and further mothers
    beside."""

    code: str
    beside: tuple[str, ...] = ()
    last: tuple[bool, ...] = ()  # at each depth down to its own: whether no more follow there


class Inbreeding(Struct, frozen=True):
    """How inbred offspring would be [0 to 1], between the least and the most that the known parents
    allow."""

    least: float
    most: float
    why: str = ""

    @property
    def sure(self) -> bool:
        """Whether the parents leave no doubt."""
        return self.most - self.least < 1e-9


def family_tree(bench: Bench) -> list[Node]:
    """Founders, and broods without known parents, each with their descendants below; each code in
    full once."""
    children: dict[str, list[str]] = {}
    for code, brood in bench.broods.items():
        parents = [
            one
            for one in (*brood.mothers, *brood.fathers)
            if one in bench.broods or one in bench.founders
        ]
        for parent in dict.fromkeys(parents[:1]):
            children.setdefault(parent, []).append(code)
    roots = [
        *bench.founders,
        *(code for code, brood in bench.broods.items() if not (brood.mothers or brood.fathers)),
    ]
    roots.sort(key=lambda code: (bench.taxon_of(code), code not in bench.founders, in_order(code)))
    nodes: list[Node] = []
    seen: set[str] = set()

    def below(code: str, last: tuple[bool, ...]) -> None:
        if code in seen:
            return
        seen.add(code)
        brood = bench.broods.get(code)
        beside = (
            tuple(
                fromkey
                for fromkey in dict.fromkeys((*brood.mothers, *brood.fathers))
                if fromkey != WILD
            )[1:]
            if brood
            else ()
        )
        nodes.append(Node(code, beside, last))
        mine = sorted(children.get(code, []), key=in_order)
        for position, child in enumerate(mine):
            below(child, (*last, position == len(mine) - 1))

    for root in roots:
        below(root, ())
    for code in bench.broods:  # parents that were struck or that go in a circle
        below(code, ())
    return nodes


def own_inbreeding(bench: Bench, code: str) -> Inbreeding | None:
    """How inbred a brood is, between what its possible parents allow; None where no father is on
    record. Of those who only stood there nobody knows that they are it, so it may be none."""
    brood = bench.broods.get(code)
    known = [one for one in brood.fathers if one != WILD] if brood else []
    if brood is None or not brood.mothers or not known:
        return None
    inbreedings = [
        inbreeding(bench, mother, father) for mother in brood.mothers for father in known
    ]
    is_said = len(known) == len(brood.fathers) and not not_seen_to_couple(bench, code)
    least = min(one.least for one in inbreedings) if is_said else 0.0
    return Inbreeding(least, max(one.most for one in inbreedings))


def inbreeding(bench: Bench, mother: str, father: str) -> Inbreeding:
    """The inbreeding of the offspring of a member of one brood (or a founder) with one of
    another."""
    values: list[float] = []
    said = {
        frozenset((related.first, related.second)): KINSHIP_OF[related.how]
        for related in bench.related.values()
    }
    try:
        for same_mate in (False, True):
            for pedigree, one, other in _ways(bench, mother, father, same_mate=same_mate):
                values.append(kinship(pedigree, one, other, related=said, individuals=True))
                if len(values) > 2 * MAX_WAYS:
                    return Inbreeding(
                        0.0, max(values), "too many possible parents to go through all of them"
                    )
    except ValueError as refused:
        return Inbreeding(0.0, 1.0, str(refused))
    return Inbreeding(
        min(values),
        max(values),
        _doubt(bench, mother, father) if max(values) - min(values) > 1e-9 else "",
    )


def _doubt(bench: Bench, *codes: str) -> str:
    """What it depends on."""
    for code in forebears(bench, *codes):
        brood = bench.broods.get(code)
        if brood and len(brood.mothers) > 1:
            return f"depends on which of {', '.join(brood.mothers)} is the mother in {code}"
        if brood and len(brood.fathers) > 1:
            return f"depends on which of {', '.join(brood.fathers)} is the father in {code}"
        if brood and (in_doubt := not_seen_to_couple(bench, code)):
            return f"depends on whether {', '.join(in_doubt)} is the father in {code}"
    return "depends on whether the same unknown male fathered both broods"


def forebears(bench: Bench, *codes: str) -> list[str]:
    """Some founders or broods with everyone that they descend from, nearest first."""
    texts: list[str] = []
    waiting = list(codes)
    while waiting:
        code = waiting.pop(0)
        if code not in texts:
            texts.append(code)
            brood = bench.broods.get(code)
            waiting += (
                [*brood.mothers, *(father for father in brood.fathers if father != WILD)]
                if brood
                else []
            )
    return texts


def _ways(
    bench: Bench, mother: str, father: str, *, same_mate: bool
) -> Iterator[tuple[dict[str, tuple[str, str]], str, str]]:
    """Every pedigree of single animals that the possible parents allow.

    Members of one brood may have different mothers or fathers, so that each that is a parent is
    looked up apart: the two that pair, and of each brood its mother and its father. Those of a
    brood that have the same have the same animal.
    """
    pair = f"{mother}, female of the pair", f"{father}, male of the pair"

    def grown(
        pedigree: dict[str, tuple[str, str]], waiting: list[tuple[str, str]]
    ) -> Iterator[dict[str, tuple[str, str]]]:
        if not waiting:
            yield pedigree
            return
        (animal, code), *rest = waiting
        if animal in pedigree or code not in bench.broods:
            yield from grown(pedigree, rest)
            return
        for one, other in _parents(bench, code, same_mate=same_mate):
            parents = (
                _animal(bench, one, f"mother of {code}"),
                _animal(bench, other, f"father of {code}"),
            )
            yield from grown(
                pedigree | {animal: parents}, [*rest, *zip(parents, (one, other), strict=True)]
            )

    one, other = (
        code if code in bench.founders else animal
        for code, animal in zip((mother, father), pair, strict=True)
    )
    for pedigree in grown({}, [(one, mother), (other, father)]):
        yield pedigree, one, other


def _animal(bench: Bench, code: str, what: str) -> str:
    """The name of a parent in the pedigree: a founder is itself, of a brood it is one animal."""
    return f"{code}, {what}" if code in bench.broods else code or what


def _parents(bench: Bench, code: str, *, same_mate: bool) -> list[tuple[str, str]]:
    brood = bench.broods[code]
    mothers, fathers = brood.mothers or ("",), brood.fathers or (WILD,)
    if len(fathers) == 1 and not_seen_to_couple(bench, code):
        fathers = (*fathers, WILD)
    return [
        (mother, _mate(mother, same_mate=same_mate) if father == WILD else father)
        for mother in mothers
        for father in fathers
    ]


def _mate(mother: str, *, same_mate: bool) -> str:
    """A male who is not known: one for each brood, or the same for all of hers."""
    return f"mate of {mother}" if same_mate and mother else ""


def inbreeding_limit(bench: Bench) -> tuple[float, bool]:
    """The keeper's limit for a warning [0 to 1], and whether it is the keeper's own; else half
    sibs."""
    try:
        value = float(bench.settings.get(LIMIT_SETTING, ""))
    except ValueError:
        return DEFAULT_LIMIT, False
    return (value, True) if 0 <= value <= 1 else (DEFAULT_LIMIT, False)
