"""What keepers say instead of what it is called here: what is plain is taken, what is not is asked about."""

from __future__ import annotations

from typing import Any, Final

PLANT_THERE: Final = "the plant that stands there"  # which it is the container says
SAME_AGAIN: Final = "same again"  # the next animal of one catch: all but its code as that before it

# Other words for a kind, with the fields that they say at once.
MEANT: Final[dict[str, tuple[str, dict[str, Any]]]] = {
    **dict.fromkeys(("fed", "feed", "drink", "drinks", "drinking", "drunk", "has drunk"), ("drank", {})),
    **dict.fromkeys(("fed by hand", "hand fed", "drank by hand"), ("drank", {"how": "when helped"})),
    **dict.fromkeys(
        ("not drunk", "did not drink", "didn't drink", "has not drunk", "not drinking", "won't drink", "would not drink",
         "no drink", "refuses", "drank nothing", "drank none"),
        ("refused", {}),
    ),
    "confirmed": ("searched", {"confirmed": True}),
    "not eggs": ("searched", {"confirmed": True, "found": 0}),
    **dict.fromkeys(("laid", "search", "searching"), ("searched", {})),
    **dict.fromkeys(
        ("swab changed", "new swab", "fresh swab", "changed swab", "swab renewed", "swab new", "sponge changed",
         "new sponge", "tissue changed", "new feeder", "fresh feeder", "feeder new", "feeder fresh", "changed feeder",
         "feeder renewed"),
        ("feeder changed", {}),
    ),
    **{f"{moved} {into}{to}": ("light", {"to": to}) for moved in ("moved", "put", "set", "placed", "stood")
       for into in ("to ", "into ", "in ", "to the ", "into the ", "in the ") for to in ("sun", "shade", "dark")},
    **dict.fromkeys(("collapsed", "collapse"), ("died", {"cause": "collapsed"})),
    **dict.fromkeys(("drowned",), ("died", {"cause": "drowned"})),
    **dict.fromkeys(("starved",), ("died", {"cause": "starved"})),
    **dict.fromkeys(("leaf in", "leaves in"), ("host in", {"part": "leaf"})),
    **dict.fromkeys(("plant in", "food in"), ("host in", {})),
    **dict.fromkeys(
        ("leaf added", "leaves added", "plant added", "food added", "new leaf", "new leaves", "new plant", "new food",
         "new leaf added", "new leaves added", "new plant added", "new food added", "new leaf in", "new leaves in", "new food in",
         "fresh leaf in", "fresh leaves in", "fresh food in",
         "added leaf", "added leaves", "added food"),
        ("host in", {"plant": PLANT_THERE}),
    ),
    **dict.fromkeys(
        ("food changed", "host changed", "leaf changed", "leaves changed", "plant changed", "changed food", "changed plant",
         "changed host", "changed leaf", "changed leaves"),
        ("host in", {"plant": PLANT_THERE, "changed": True}),
    ),
    **dict.fromkeys(("shade", "in shade", "in the shade", "into shade", "into the shade", "to shade", "shaded"),
                    ("light", {"to": "shade"})),
    **dict.fromkeys(("sun", "in sun", "in the sun", "into sun", "into the sun", "to sun"), ("light", {"to": "sun"})),
    **dict.fromkeys(("in the dark", "into the dark", "to the dark"), ("light", {"to": "dark"})),
    **dict.fromkeys(("lamp on", "light on", "lights on"), ("light", {"to": "lamp on"})),
    **dict.fromkeys(("lamp off", "light off", "lights off"), ("light", {"to": "lamp off"})),
    **dict.fromkeys(("aired", "lid off", "lid open", "opened lid"), ("lid opened", {})),
    **dict.fromkeys(("lid on", "lid shut", "lid closed", "closed lid"), ("covered", {})),
    **dict.fromkeys(("half covered",), ("covered", {"how": "half"})),
    **dict.fromkeys(("sprayed", "spray", "mist", "moistened"), ("misted", {})),
    **dict.fromkeys(("clean", "cleaned out", "frass out", "frass removed", "droppings out"), ("cleaned", {})),
    **dict.fromkeys(("filled", "filled up", "refilled", "moat filled", "filled moat", "fill moat", "top up", "moat topped",
                     "top up moat", "moat topped up", "topped up moat", "renewed", "band renewed", "grease renewed"),
                    ("topped up", {})),
    **dict.fromkeys(("dead", "death"), ("died", {})),
    **dict.fromkeys((SAME_AGAIN, "same", "another", "one more"), ("founder", {"taxon": SAME_AGAIN})),
    **dict.fromkeys(("freed", "let go", "set free", "let out", "release"), ("released", {})),
    **dict.fromkeys(("moult", "molted", "molt"), ("moulted", {})),
    **dict.fromkeys(("hatch",), ("hatched", {})),
    **dict.fromkeys(("count",), ("counted", {})),
    **dict.fromkeys(("all there", "all here"), ("counted", {"number": "all"})),
    **dict.fromkeys(("leave alone", "leave", "not to be disturbed"), ("leave be", {})),
    **dict.fromkeys(("emerge", "eclose"), ("emerged", {})),
    **dict.fromkeys(("move", "moved out"), ("moved", {})),
    **dict.fromkeys(("larvae", "larva", "caterpillars", "caterpillar"), ("counted", {"stage": "larva"})),
    **dict.fromkeys(("pupae", "pupa"), ("counted", {"stage": "pupa"})),
    **dict.fromkeys(("adults", "adult"), ("counted", {"stage": "adult"})),
    **dict.fromkeys(("limp", "wilted", "wilting", "host limp", "host wilted", "plant limp", "leaf limp", "leaves limp", "food limp"),
                    ("host seen", {"state": "limp"})),
    **dict.fromkeys(("yellow", "host yellow", "plant yellow", "leaves yellow", "leaf yellow"), ("host seen", {"state": "yellow"})),
    **dict.fromkeys(("mouldy", "host mouldy", "plant mouldy", "leaf mouldy", "leaves mouldy", "food mouldy"),
                    ("host seen", {"state": "mouldy"})),
    **dict.fromkeys(("eaten", "host eaten", "all eaten", "eaten up", "eaten bare", "leaves eaten", "leaf eaten",
                     "plant eaten"),
                    ("host seen", {"state": "eaten"})),
    **dict.fromkeys(("host fresh", "plant fresh", "leaf fresh", "leaves fresh", "plant ok", "host ok"),
                    ("host seen", {"state": "fresh"})),
    **dict.fromkeys(("no food", "no food left", "food gone", "nothing left", "no leaf left", "no leaves left", "none left"),
                    ("host seen", {"left": "none"})),
    **dict.fromkeys(("half eaten", "half gone"), ("host seen", {"left": "half"})),
    "plenty": ("host seen", {"left": "plenty"}),
    "half left": ("host seen", {"left": "half"}),
    "plenty left": ("host seen", {"left": "plenty"}),
    **dict.fromkeys(("little food", "food low", "little left"), ("host seen", {"left": "little"})),
    **dict.fromkeys(("plenty of food", "food plenty", "enough food"), ("host seen", {"left": "plenty"})),
    "food half": ("host seen", {"left": "half"}),
    "food little": ("host seen", {"left": "little"}),
    **dict.fromkeys(("no frass", "no droppings", "frass no"), ("frass", {"level": "none"})),
    **dict.fromkeys(("ok", "all ok", "fine", "all fine", "all well", "as usual", "all as usual", "no change", "nothing new"),
                    ("looked", {"sign": "as usual"})),
    **dict.fromkeys(("feeding", "eating", "all feeding"), ("looked", {"sign": "as usual"})),
    **dict.fromkeys(("look", "looks", "looking", "seems", "seen"), ("looked", {})),
    **dict.fromkeys(("wandering", "weak", "condensation", "colouring", "hanging", "darkening", "soft pupa", "wings up",
                     "wings not up"), ("looked", {})),
    **dict.fromkeys(("eggs dark", "eggs darkening", "eggs darkened", "eggs black", "dark eggs"), ("looked", {"sign": "darkening"})),
    **dict.fromkeys(("hanging up", "prepupa", "prepupae", "prepupal"), ("looked", {"sign": "hanging"})),
    **dict.fromkeys(("not moving", "moulting", "motionless"), ("looked", {"sign": "still"})),
    "fresh pupa": ("looked", {"sign": "soft pupa"}),
    **dict.fromkeys(("temperature", "temp", "humidity"), ("air", {})),
    **dict.fromkeys(("stands", "new container"), ("set up", {})),
    **dict.fromkeys(("kept stems", "kept sprigs", "held sprigs", "held stems"), ("host out", {"lots": ("all",)})),
    **dict.fromkeys(("diapause", "in diapause", "dormant", "aestivating", "estivating", "lying over", "lies over"),
                    ("changed", {"purpose": "overwintering"})),
    "mated": ("paired", {}),
    "coupled": ("paired", {}),
}  # fmt: skip

# Words after which the keeper's own word is still to be read, as what the field says.
KEEPS_ITS_WORD: Final = frozenset(
    {"wandering", "weak", "condensation", "colouring", "hanging", "darkening", "soft pupa", "wings up", "wings not up",
     "temperature", "temp", "humidity"}
)  # fmt: skip

# What may mean several things: the question, with {0} for the place.
ASKED: Final[dict[str, tuple[str, tuple[str, ...]]]] = {
    **dict.fromkeys(
        ("outside", "outdoors", "put outside"),
        ("outside in what light, or on which shelf? As: {0} sun; {0} shade; {0} changed shelf=garden", ("light", "changed")),
    ),
    **dict.fromkeys(
        ("carried", "taken", "brought", "transported"),
        ("carried where? As: {0} changed shelf=garden, {0} moved 1 to K4, or {0} released 1 at Tannmoos",
         ("changed", "moved", "released")),
    ),
    **dict.fromkeys(
        ("caught", "catch", "recaught"),
        ("a new animal, or one that had got out? As: {0} founder W2 Celastrina argiolus female at Tannmoos; "
         "or {0} settled found 1", ("founder", "settled")),
    ),
    **dict.fromkeys(
        ("ants", "ant", "ants seen", "ants there", "ants below", "no ants"),
        ("how does the moat stand, and where are the ants? As: {0} moat full; {0} moat low 2 below; {0} 3 ants above",
         ("barrier",)),
    ),
    **dict.fromkeys(
        ("dark", "darkened"),
        ("the eggs, or the place? As: {0} darkening; or {0} light dark", ("looked", "light")),
    ),
    **dict.fromkeys(
        ("hot", "too hot", "warm", "too warm", "cold", "too cold", "cool"),
        ("how warm, or what was done? As: {0} air 31C; {0} shade; {0} lid opened", ("air", "light", "lid opened")),
    ),
    "found": ("eggs, or an animal that was missing or had escaped? As: {0} 6 eggs; {0} settled found 1", ("searched", "settled")),
    **dict.fromkeys(
        ("gone", "lost", "disappeared", "not there", "not found"),
        ("gone how? As: {0} escaped 1, {0} missing 1 (not known), or {0} died 1", ("escaped", "missing", "died")),
    ),
    **dict.fromkeys(
        ("sick", "ill", "diseased"),
        ("only looked so, or is the whole cup suspect from now? As: {0} looked weak; or {0} suspect pale and slow",
         ("looked", "suspect")),
    ),
    **dict.fromkeys(
        ("water", "water low", "low", "full", "dry", "water full", "water changed", "new water", "fresh water"),
        ("the moat, or the plant's water? As: {0} moat low 4 mm, {0} topped up 20 mm, {0} host seen limp; "
         "a cup that dries is {0} misted", ("topped up", "barrier", "host seen")),
    ),
    **dict.fromkeys(
        ("wet", "damp"),
        ("wet how? As: {0} looked condensation; {0} misted", ("looked", "misted")),
    ),
    **dict.fromkeys(
        ("mould", "mold"),
        ("mould in the cup, or on the plant? As: {0} looked mould; or {0} host seen mouldy", ("looked", "host seen")),
    ),
    **dict.fromkeys(
        ("nothing", "none"),
        ("nothing of what? As: {0} searched 0; {0} frass none; {0} refused; {0} looked as usual",
         ("searched", "frass", "refused", "looked")),
    ),
    **dict.fromkeys(
        ("leaf", "leaves", "plant", "host", "sprig", "sprigs", "stem", "stems", "food", "new host", "fresh", "new", "added",
         "fresh leaf", "fresh leaves", "fresh plant", "fresh food", "fresh host", "fed larvae"),
        ("put in, seen or taken out, and which plant? As: {0} host in violet leaf 3 sprigs; {0} host seen fresh; {0} host out violet",
         ("host in", "host seen", "host out")),
    ),
    **dict.fromkeys(
        ("hatching", "emerging", "pupating"),
        ("how many are through by now? As: {0} hatched 12, {0} pupated 2, {0} emerged 1", ("hatched", "pupated", "emerged")),
    ),
    **dict.fromkeys(
        ("open", "shut", "close", "lid", "closed up"),
        ("the lid, or is the cup empty and out to be washed? As: {0} lid opened; {0} covered; {0} closed",
         ("lid opened", "covered", "closed")),
    ),
    **dict.fromkeys(
        ("buried", "cocoon", "cocoons", "cocoons found", "cocoon found", "spun up", "spun in", "dug in", "gone to ground"),
        ("pupae by now, or larvae still? As: {0} pupated 35 inferred; or {0} looked wandering", ("pupated", "looked")),
    ),
    **dict.fromkeys(
        ("resting", "at rest", "pausing", "rests", "pauses"),
        ("still for a day before a change, or for months? As: {0} not moving; or {0} in diapause", ("looked", "changed")),
    ),
    **dict.fromkeys(
        ("mating", "pairing", "copulating"),
        ("who with whom? As: {0} paired W2 with M3", ("paired",)),
    ),
    **dict.fromkeys(
        ("swab", "sponge", "feeder", "swab dry", "feeder dry", "swab wet"),
        ("changed, or only offered? As: {0} swab changed sugar 10%; or {0} offered sugar", ("feeder changed", "offered")),
    ),
}  # fmt: skip

NUMBER_WORDS: Final[dict[str, str]] = {
    word: str(number)
    for number, word in enumerate(
        ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"), 1
    )
}
EVERYDAY_NUMBER: Final[dict[str, tuple[str, ...]]] = {"shelf": ("air", "barrier")}


def everyday_number(place: str) -> tuple[str, ...]:
    """What a bare number may mean, by the kind of place before it."""
    return EVERYDAY_NUMBER.get(place, ("counted", "searched"))
