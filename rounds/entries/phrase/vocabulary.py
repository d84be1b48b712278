"""Words that mean the same with every kind: parts of plants, prepositions, short forms of choices,
units."""

from __future__ import annotations

from typing import Final

from rounds.entries.slots import each
from rounds.surroundings.units import ML_PER_FLUID_OUNCE, MM_PER_INCH

# Where the words after ' -- ' go; where a kind has none of these they become a note beside it.
AFTER_DASHES: Final = ("text", "why", "sign", "origin")
AFTER_DASHES_OF_NO_CONTAINER: Final = ("source",)

# Words that only join.
JOINING: Final = each("on for of from with to a the and shelf into at by brood")

# Words that end the name of a species or plant.
PREPOSITIONS: Final = each("in into inside on at from with near by to for under beside")

# Choices whose name is never a word of anything else: behind it stands one of them.
SAID_BY_NAME: Final = frozenset({"wear"})

# Fields of several words: what follows a named one without quotes belongs to it too.
OF_SEVERAL_WORDS: Final = each(
    "taxon plant name place found_on holder body collector depository origin source where "
    "why sign food lid lining how text"
)

# Short forms of choices.
SHORT: Final[dict[str, str]] = {
    "not known which": "not known",
    "cause not known": "unknown",
    "nobody knows which": "not known",
    "not told apart": "not known",
    "eggs": "egg",
    "larvae": "larva",
    "caterpillars": "larva",
    "caterpillar": "larva",
    "pupae": "pupa",
    "adults": "adult",
    "females": "female",
    "males": "male",
    "helped": "when helped",
    "by hand": "when helped",
    "hand fed": "when helped",
    "assisted": "when helped",
    "mold": "mould",
    "moldy": "mouldy",
    "wilted": "limp",
    "wilting": "limp",
    "dried": "dry",
    "dried out": "dry",
    "starvation": "starved",
    "parasitized": "parasitised",
    "parasitoid": "parasitised",
    "sick": "disease suspected",
    "disease": "disease suspected",
    "ill": "disease suspected",
    "age": "old age",
    "photographed": "photo",
    "not moving": "still",
    "moulting": "still",
    "hanging up": "hanging",
    "prepupa": "hanging",
    "fresh pupa": "soft pupa",
    "damp inside": "condensation",
    "ok": "as usual",
    "fine": "as usual",
    "alone": "by herself",
    "unaided": "by herself",
    "eye": "naked eye",
    "macro": "macro photo",
    "sticky": "sticky band",
    "no barrier": "none",
    "paper": "damp paper",
    "pot": "potted",
    "tree": "living",
    "planted": "living",
    "growing": "living",
    "living tree": "living",
    "binned": "binned",
    "discarded": "binned",
    "discard": "binned",
    "kept": "held",
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
    "females": (("females",), 1.0),
    "eggs": (("eggs",), 1.0),
}
