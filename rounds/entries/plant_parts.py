"""Parts of a plant in a keeper's words: ``flower buds``, ``underside of the leaves``."""

from __future__ import annotations

from typing import Final

from rounds.entries.slots import each

PARTS: Final = each(
    "leaf leaves leaflet leaflets needle needles frond fronds blade blades petiole petioles"
    " bud buds flower flowers blossom blossoms flowerhead flowerheads petal petals calyx sepals"
    " bract bracts catkin catkins shoot shoots sprout sprouts stem stems stalk stalks twig twigs"
    " branch branches spike spikes umbel umbels rosette rosettes root roots runner runners"
    " tendril tendrils bark seed seeds seedhead seedheads pod pods fruit fruits berry berries"
)
# What stands with the word of a part: shoot tips, tender leaf, underside of the leaves.
_BESIDE_PARTS: Final = each(
    "tip tips head heads top tops base edge edges axil axils underside undersides upperside side"
    " sides surface under upper lower outer inner young tender terminal flowering"
    " new fresh same whole"
)
# Where eggs are found beside a plant.
_OFF_THE_PLANT: Final = each(
    "gauze net netting mesh wall walls paper tissue towel feeder sponge swab pot soil lid lids rim"
    " floor bottom glass lining zip vial bottle tube cage cup box"
)
_WHERE_OFF: Final = each("at in inside outside side sides corner edge top upper lower near by back")
# The first that is among the words of a part: buds of flowers are buds.
_NO_LEAVES: Final = {
    "bud": each("bud buds"),
    "flower": each(
        "flower flowers flowering blossom blossoms flowerhead flowerheads petal petals catkin"
        " catkins umbel umbels calyx"
    ),
    "seed": each("seed seeds seedhead seedheads pod pods"),
    "fruit": each("fruit fruits berry berries"),
    "root": each("root roots"),
}
_JOIN_PARTS: Final = each("of the a and & or on")
PART_WORDS: Final = PARTS | _BESIDE_PARTS | _OFF_THE_PLANT | _WHERE_OFF | _JOIN_PARTS
_ALONE: Final = PARTS | each("underside undersides upperside tip tips axil axils")


def name_and_part(typed: str) -> tuple[str, str]:
    """A plant's name and the part of it that is said with it, each empty if it is not said:
    ``colutea buds``, ``buds of the colutea``, ``underside of colutea leaves``."""
    words = typed.split()
    begin, end = 0, len(words)
    while begin < end and _is_of_parts(words[begin]):
        begin += 1
    while end > begin and _is_of_parts(words[end - 1]):
        end -= 1
    before, behind = words[:begin], words[end:]
    if not is_part([*before, *behind]):
        return typed.strip(), ""
    part = _without_joins([*before, *behind])
    return " ".join(words[begin:end]).rstrip(","), " ".join(part).rstrip(",")


def is_part(words: list[str]) -> bool:
    """Whether words name a part of a plant and nothing else."""
    said = {_bare(word) for word in words}
    return bool(said & _ALONE) and all(map(_is_of_parts, words))


def eaten_part(part: str) -> str:
    """What of a plant is meant where it is no leaf, shoot or stem: ``bud``, ``flower``, ``seed``,
    ``fruit``, ``root``; empty where it is one, or nothing is said."""
    said = {_bare(word) for word in part.split()}
    return next((kind for kind, words in _NO_LEAVES.items() if said & words), "")


def is_off_the_plant(where: str) -> bool:
    """Whether words name a place beside the plants and nothing else: ``lid``, ``the side of the
    cup``."""
    said = [_bare(word) for word in where.split()]
    return bool({*said} & _OFF_THE_PLANT) and all(
        word in _OFF_THE_PLANT | _WHERE_OFF | _JOIN_PARTS for word in said
    )


def goes_with_a_part(word: str) -> bool:
    """Whether a word may stand before that of a part: ``young`` leaf, ``flower`` buds."""
    return _bare(word) in PARTS | _BESIDE_PARTS


def _is_of_parts(word: str) -> bool:
    return _bare(word) in PARTS | _BESIDE_PARTS | _JOIN_PARTS


def _bare(word: str) -> str:
    return word.casefold().rstrip(",")


def _without_joins(words: list[str]) -> list[str]:
    """The words of a part without what joins them to the plant's name."""
    begin, end = 0, len(words)
    while begin < end and _bare(words[begin]) in _JOIN_PARTS:
        begin += 1
    while end > begin and _bare(words[end - 1]) in _JOIN_PARTS:
        end -= 1
    return words[begin:end]
