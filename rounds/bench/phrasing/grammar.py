"""What each kind takes without its field being named: the words of the trade in their usual order."""

from __future__ import annotations

from typing import Final

from rounds.bench.measures import ML_PER_FLUID_OUNCE, MM_PER_INCH

# Where a bare number goes, in order.
NUMBERS: Final[dict[str, tuple[str, ...]]] = {
    "drank": ("number",),
    "refused": ("number",),
    "searched": ("found",),
    "moved": ("number", "arrived"),
    "merged": ("number",),
    "counted": ("number",),
    "settled": ("number",),
    "hatched": ("number",),
    "moulted": ("number",),
    "pupated": ("number",),
    "emerged": ("number",),
    "died": ("number",),
    "escaped": ("number",),
    "missing": ("number",),
    "released": ("number",),
    "preserved": ("number",),
    "parasitoid": ("number",),
    "stocked": ("number",),
    "host in": ("sprigs",),
    "host out": ("sprigs",),
    "barrier": ("depth_mm",),
    "topped up": ("depth_mm",),
    "set up": ("place",),
    "changed": ("place",),
    "shelf set up": ("place",),
    "feeder changed": ("strength_percent",),
    "food made": ("strength_percent", "volume_ml"),
    "plant": ("hours",),
    "air": ("temperature_c", "humidity_percent"),
    "taxon": ("instars",),
}

# Where words go that are nothing else, joined; the second field takes what follows a comma.
WORDS: Final[dict[str, tuple[str, ...]]] = {
    "offered": ("food",),
    "feeder changed": ("food",),
    "food made": ("food",),
    "host in": ("plant",),
    "host seen": ("plant",),
    "host out": ("plant",),
    "suspect": ("sign",),
    "cleared": ("sign",),
    "released": ("place",),
    "preserved": ("voucher",),
    "parasitoid": ("taxon",),
    "skipped": ("why",),
    "searched": ("where",),
    "taxon": ("name",),
    "constants": ("taxon",),
    "plant": ("name",),
    "photo": ("file",),
    "round started": ("name",),
    "leave be": ("why",),
    "brood": ("code",),
    "stocked": ("brood",),
    "founder": ("code", "taxon"),
    "permit": ("number",),
    "struck": ("entry",),
    "shelf set up": ("shelf",),
    "paired": ("female", "male"),
    "pairing planned": ("female", "male"),
    "related": ("first", "second"),
    "plan": ("check",),
    "put off": ("check",),
    "release by": ("code",),
}

# Kinds whose words are all one text, to the end of the line.
ALL_TEXT: Final = {"note": "text"}

# Where the words after ' -- ' go.
AFTER_DASHES: Final = ("text", "why", "sign", "origin", "source", "place")

# A plant part is said bare after the plant.
PARTS: Final = frozenset(
    {
        "leaf",
        "leaves",
        "bud",
        "buds",
        "flower",
        "flowers",
        "shoot",
        "shoots",
        "stem",
        "stems",
        "seed",
        "pod",
        "catkin",
    }
)

# Words that only join.
JOINING: Final = frozenset({"on", "for", "of", "from", "with", "to", "a", "the", "and", "shelf", "into", "at", "by", "brood"})

# Other words for a fact that is yes or no.
FLAGS: Final = {"hairs": "stinging", "eats its own": "cannibalistic", "eats_its_own": "cannibalistic"}

# A word that names the field of the next word.
LEADING: Final[dict[str, dict[str, str]]] = {
    "moved": {"to": "to", "arrived": "arrived"},
    "split": {"into": "into"},
    "merged": {"from": "sources"},
    "host out": {"held in": "held_in", "in": "held_in", "lot": "lots", "lots": "lots"},
    "frass": {"under": "lots", "under lot": "lots", "lot": "lots", "lots": "lots"},
    "set up": {
        "shelf": "shelf",
        "on": "shelf",
        "inside": "inside",
        "in": "inside",
        "place": "place",
        "for": "purpose",
    },
    "changed": {
        "shelf": "shelf",
        "on": "shelf",
        "inside": "inside",
        "in": "inside",
        "place": "place",
        "to": "purpose",
    },
    "leave be": {"until": "until"},
    "put off": {"until": "until"},
    "release by": {"until": "until", "by": "until"},
    "searched": {"on": "where", "on lot": "lots", "brood": "brood", "lot": "lots", "lots": "lots"},
    "permit": {"expires": "expires"},
    "paired": {"with": "male"},
    "pairing planned": {"with": "male"},
    "related": {"with": "second", "as": "how"},
}

# Short forms of choices.
SHORT: Final[dict[str, str]] = {
    "eggs": "egg",
    "larvae": "larva",
    "caterpillars": "larva",
    "caterpillar": "larva",
    "pupae": "pupa",
    "adults": "adult",
    "females": "female",
    "males": "male",
    "helped": "when helped",
    "alone": "by herself",
    "unaided": "by herself",
    "eye": "naked eye",
    "macro": "macro photo",
    "sticky": "sticky band",
    "paper": "damp paper",
    "pot": "potted",
    "binned": "binned",
    "discarded": "binned",
    "discard": "binned",
    "kept": "held",
}

# Fields that a unit names, where the kind has them: the unit, and what the number is multiplied by.
UNITS: Final[dict[str, tuple[tuple[str, ...], float]]] = {
    "mm": (("depth_mm",), 1.0),
    "in": (("depth_mm",), MM_PER_INCH),
    "ml": (("volume_ml",), 1.0),
    "oz": (("volume_ml",), ML_PER_FLUID_OUNCE),
    "floz": (("volume_ml",), ML_PER_FLUID_OUNCE),
    "l": (("volume_ml",), 1000.0),
    "%": (("humidity_percent", "strength_percent"), 1.0),
    "c": (("temperature_c",), 1.0),
    "min": (("minutes",), 1.0),
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
