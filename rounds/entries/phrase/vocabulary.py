"""Words that mean the same with every kind: parts of plants, prepositions, short forms of choices,
units."""

from __future__ import annotations

from typing import Final

from rounds.entries.phrase.synonyms import STAGE_AND_SEX
from rounds.entries.slots import each
from rounds.surroundings.units import ML_PER_FLUID_OUNCE, MM_PER_INCH

# Where the words after ' -- ' go; where a kind has none of these they become a note beside it.
AFTER_DASHES: Final = ("text", "why", "sign", "origin")
AFTER_DASHES_OF_NO_CONTAINER: Final = ("source",)

# Words that only join.
JOINING: Final = each("on for of from with to a the and shelf into at by brood")

# Words that end the name of a species or plant.
PREPOSITIONS: Final = each("in into inside on at from with near by to for under beside")

# Where something goes, that nothing is there, that they are dead.
INTO: Final = each("to into")
INSIDE: Final = INTO | {"in"}
NOTHING: Final = each("none nothing no")
DEAD: Final = each("dead died")

# Choices whose name is never a word of anything else: behind it stands one of them.
SAID_BY_NAME: Final = frozenset({"wear"})

# Fields of several words: what follows a named one without quotes belongs to it too.
OF_SEVERAL_WORDS: Final = each(
    "taxon plant name place found_on holder body collector depository origin source where "
    "why sign food lid lining how text"
)

# Short forms of choices, by what they mean.
SHORT: Final[dict[str, str]] = {
    word: sex or stage for word, (stage, sex) in STAGE_AND_SEX.items()
} | {
    word: meant
    for meant, words in {
        "not known": (
            "not known which, nobody knows which, not told apart, don't know which, "
            "dont know which, do not know which, don\u2019t know which"
        ),
        "unknown": "cause not known",
        "when helped": "helped, by hand, hand fed, assisted",
        "mould": "mold",
        "mouldy": "moldy",
        "limp": "wilted, wilting",
        "dry": "dried, dried out",
        "starved": "starvation",
        "parasitised": "parasitized, parasitoid",
        "disease suspected": "sick, disease, ill",
        "old age": "age",
        "photo": "photographed",
        "hatchlings": "young larvae",
        "still": "not moving, moulting",
        "hanging": "hanging up",
        "soft pupa": "fresh pupa",
        "condensation": "damp inside",
        "as usual": "ok, fine",
        "by herself": "alone, unaided",
        "naked eye": "eye",
        "macro photo": "macro",
        "sticky band": "sticky",
        "none": "no barrier",
        "damp paper": "paper",
        "potted": "pot",
        "living": "tree, planted, growing, living tree",
        "binned": "binned, discarded, discard, thrown away, thrown out",
        "held": "kept",
    }.items()
    for word in words.split(", ")
}

# A word that says yes to a field.
FLAGS: Final[dict[str, str]] = {
    "hairs": "stinging",
    "eats its own": "cannibalistic",
    "eats_its_own": "cannibalistic",
    "cannibal": "cannibalistic",
}

# Fields that a unit names, where the kind has them: the unit, and what the number is multiplied by.
UNITS: Final[dict[str, tuple[tuple[str, ...], float]]] = {
    "mm": (("depth_mm",), 1.0),
    "cm": (("depth_mm",), 10.0),
    "in": (("depth_mm",), MM_PER_INCH),
    "ml": (("volume_ml",), 1.0),
    "oz": (("volume_ml",), ML_PER_FLUID_OUNCE),
    "floz": (("volume_ml",), ML_PER_FLUID_OUNCE),
    "l": (("volume_ml",), 1000.0),
    "mg": (("mass_mg",), 1.0),
    "g": (("mass_mg",), 1000.0),
    "%": (("humidity_percent", "strength_percent"), 1.0),
    "c": (("temperature_c",), 1.0),
    **dict.fromkeys(("min", "mins", "minute", "minutes"), (("minutes",), 1.0)),
    "h": (("hours", "hold_hours", "every_h"), 1.0),
    "sprigs": (("sprigs",), 1.0),
    "sprig": (("sprigs",), 1.0),
    "stems": (("sprigs",), 1.0),
    "stem": (("sprigs",), 1.0),
    "unsure": (("unsure",), 1.0),
    "below": (("ants_below",), 1.0),
    "above": (("ants_above",), 1.0),
    "arrived": (("arrived",), 1.0),
    "missing": (("missing",), 1.0),
    "crippled": (("crippled",), 1.0),
    **dict.fromkeys(("deformed", "malformed", "crumpled"), (("crippled",), 1.0)),
    "females": (("females",), 1.0),
    "eggs": (("eggs",), 1.0),
    "kept": (("kept",), 1.0),
}
