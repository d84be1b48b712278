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
    "sexed": ("number",),
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
    "looked": ("number",),
    "weighed": ("mass_mg",),
    "taxon": ("instars",),
}

# Where words go that are nothing else, joined; the second field takes what follows a comma.
WORDS: Final[dict[str, tuple[str, ...]]] = {
    "offered": ("food",),
    "feeder changed": ("food",),
    "food made": ("food",),
    "covered": ("how",),
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
    "marked": ("brood", "mark"),
}

# Kinds whose words are all one text, to the end of the line.
ALL_TEXT: Final = {"note": "text"}

# Where the words after ' -- ' go; where a kind has none of these they become a note beside it.
AFTER_DASHES: Final = ("text", "why", "sign", "origin")
AFTER_DASHES_OF_NO_CONTAINER: Final = ("source",)

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

# Words that end the name of a species or plant.
PREPOSITIONS: Final = frozenset({"in", "into", "inside", "on", "at", "from", "with", "near", "by", "to", "for", "under", "beside"})

# Kinds whose loose words are such a name.
NAMING: Final = frozenset({"host in", "host seen", "host out", "founder", "taxon", "plant", "constants", "brood"})

# The field that the words after a preposition say, to the next word that is something else.
SAID_AFTER: Final[dict[str, dict[str, str]]] = {
    "host in": {"from": "source", "by": "source"},
    "founder": {"at": "place", "from": "place", "near": "place", "in": "place", "on": "found_on", "by": "collector"},
    "released": {"at": "place", "in": "place", "near": "place", "on": "place", "by": "place"},
    "preserved": {"in": "depository", "at": "depository"},
    "stocked": {"from": "origin"},
    "searched": {"on": "where", "in": "where", "under": "where"},
    "permit": {"by": "body", "from": "body", "for": "taxon", "to": "holder"},
    "brood": {"of": "taxon"},
    "covered": {"with": "how", "by": "how"},
}

# Choices whose name is never a word of anything else: behind it stands one of them.
SAID_BY_NAME: Final = frozenset({"wear"})

# Fields of several words: what follows a named one without quotes belongs to it too.
OF_SEVERAL_WORDS: Final = frozenset(
    {"taxon", "plant", "name", "place", "found_on", "holder", "body", "collector", "depository", "origin", "source", "where",
     "why", "sign", "food", "lid", "lining", "how", "text"}
)  # fmt: skip

# Words that say nothing more with that kind.
IDLE: Final[dict[str, frozenset[str]]] = {
    "searched": frozenset({"egg", "eggs", "found", "new", "laid", "seen", "more", "again", "another", "extra"}),
    "host in": frozenset({"cut", "fresh", "freshly"}),
    "host seen": frozenset({"left", "food", "plant", "host", "leaf", "leaves"}),
    "drank": frozenset({"drank", "drunk", "females", "female", "adults"}),
    "refused": frozenset({"drank", "drink", "drunk", "females", "female", "adults"}),
    "hatched": frozenset({"eggs", "egg", "larvae", "larva"}),
    "moulted": frozenset({"larvae", "larva", "caterpillars"}),
    "pupated": frozenset({"larvae", "larva", "caterpillars"}),
    "emerged": frozenset({"pupae", "pupa", "adults", "adult"}),
    "barrier": frozenset({"ants", "ant", "moat", "band", "grease", "deep", "depth"}),
    "topped up": frozenset({"moat", "water", "deep"}),
    "counted": frozenset({"there", "here", "left"}),
    "looked": frozenset({"one", "seen", "looks", "eggs", "egg", "larvae", "larva", "pupae", "pupa", "adults", "female"}),
}

# A word that names the field of the next word.
LEADING: Final[dict[str, dict[str, str]]] = {
    "moved": {"to": "to", "arrived": "arrived"},
    "split": {"into": "into"},
    "merged": {"from": "sources"},
    "host in": {"batch": "batch", "cut": "cut"},
    "host out": {
        "batch": "batch",
        "held in": "held_in",
        "in": "held_in",
        "to": "held_in",
        "into": "held_in",
        "lot": "lots",
        "lots": "lots",
    },
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
    "shelf set up": {
        "barrier": "barrier",
        "with": "barrier",
        "place": "place",
        "at place": "place",
        "cold": "cold_c",
        "warm": "warm_c",
        "hot": "hot_c",
    },
    "leave be": {"until": "until"},
    "put off": {"until": "until"},
    "release by": {"until": "until", "by": "until"},
    "searched": {"on lot": "lots", "brood": "brood", "lot": "lots", "lots": "lots"},
    "founder": {"caught": "caught"},
    "air": {"temperature": "temperature_c", "temp": "temperature_c", "humidity": "humidity_percent"},
    "brood": {"from": "mothers", "mothers": "mothers"},
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

# Short forms that mean something of their own with one kind.
SHORT_OF: Final[dict[str, dict[str, str]]] = {
    "barrier": {
        "ok": "full",
        "fine": "full",
        "good": "full",
        "empty": "dry",
        "broken": "breached",
        "sticky": "sound",
        "holds": "sound",
        "dusty": "dirty",
    },
    "host seen": {"ok": "fresh", "fine": "fresh", "good": "fresh", "bare": "eaten", "some": "little", "half left": "half"},
    "died": {"accident": "injury", "killed": "injury", "killed by keeper": "injury", "crushed": "injury"},
    "settled": {"died": "dead", "found dead": "dead", "not found": "given up", "lost": "given up"},
    "frass": {"some": "trace", "no": "none", "0": "none", "a little": "trace", "much": "plain", "lots": "plain", "plenty": "plain"},
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
    "in": (("depth_mm",), MM_PER_INCH),
    "ml": (("volume_ml",), 1.0),
    "oz": (("volume_ml",), ML_PER_FLUID_OUNCE),
    "floz": (("volume_ml",), ML_PER_FLUID_OUNCE),
    "l": (("volume_ml",), 1000.0),
    "mg": (("mass_mg",), 1.0),
    "g": (("mass_mg",), 1000.0),
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
