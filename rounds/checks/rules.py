"""The starter rules: every check by purpose and stage with its hours, and what each rests on.

The hours are starter values, every one of them the keeper's to change. Where a basis says 'common practice' the
trade does it so and no source was found; 'our estimate' is a working number of this program. Danger hours are
about a third beyond red where nothing better is known.
"""

from __future__ import annotations

from msgspec import Struct

from rounds.bench.kinds.base import Purpose
from rounds.checks.time_format import hours_words

DAY = 24.0
COMMON = "common practice, no source"
ESTIMATE = "our estimate, no source"
DANGER = "danger hours our estimate"


class Rule(Struct, frozen=True):
    """One check of one purpose and stage.

    Hours count from when the check was last answered, or from what the condition names; those of a limit count
    back from it. A ``computed`` rule goes by a forecast; its hours only hold where there is none, or once a keeper gave them.
    ``each_round`` is due once each round of the day, ``daily`` once a day at the round nearest to
    that of the day before. ``harm_h`` is when an animal is in danger; without it nothing is. ``severity`` is
    that of the check where it is 0.
    """

    check: str
    purposes: tuple[Purpose, ...] = ()
    stage: str = ""
    condition: str = ""
    every_h: float | None = None
    each_round: bool = False
    amber_h: float | None = None
    red_h: float | None = None
    harm_h: float | None = None
    basis: str = COMMON
    daily: bool = False
    severity: int = 0
    before_limit: bool = False
    computed: bool = False

    @property
    def words(self) -> str:
        """How often, in a few words."""
        if self.computed:
            return "by forecast"
        if self.each_round:
            return "each round"
        if self.daily:
            return "once a day"
        if not self.every_h:
            return "at once" if self.every_h == 0 else "when it comes up"
        return f"{hours_words(self.every_h)} before" if self.before_limit else f"every {hours_words(self.every_h)}"


def is_of_the_night(rule: Rule) -> bool:
    """Whether a rule is of animals that feed from dusk on, and has no hours of its own."""
    return rule.condition == "fed at night" and rule.daily


AWAKE: tuple[Purpose, ...] = (
    "holding", "laying", "pairing", "trial", "eggs", "hatchlings", "rearing", "pupation", "emergence",
    "quarantine", "isolation",
)  # fmt: skip
WARM: tuple[Purpose, ...] = tuple(purpose for purpose in AWAKE if purpose != "holding")
LAYING: tuple[Purpose, ...] = ("laying", "trial")
EMERGING: tuple[Purpose, ...] = ("rearing", "pupation", "emergence")
LOOKED_AT: tuple[Purpose, ...] = (
    "laying", "pairing", "trial", "hatchlings", "rearing", "emergence", "quarantine", "isolation",
)  # fmt: skip
SLOWER: tuple[Purpose, ...] = ("holding", "eggs", "pupation")
WINTER: tuple[Purpose, ...] = ("overwintering",)
EACH = True

DEFAULT_PLAN: tuple[Rule, ...] = (
    Rule("drink", WARM, "adult", "", 12, False, 14, 24, 31,
         f"fed morning and evening, once a day at the least: {COMMON}; {DANGER}"),
    Rule("drink", WARM, "adult", "fed at night", None, False, 28, 36, 47,
         f"moths that feed from dusk on, at the last round of the day: {COMMON}; {DANGER}", daily=True),
    Rule("drink", EMERGING, "adult", "first feed", 24, False, 24, 36, 47,
         f"first food the day after emergence: {COMMON}; {DANGER}"),
    Rule("drink", ("holding",), "adult", "", 24, False, 24, 48, 62,
         f"cool and dark, fed once a day: {COMMON}; {DANGER}"),
    Rule("feeder", ("laying", "pairing", "trial"), "adult", "", None, False, 30, 48, None,
         f"swab or tissue fresh every day: {COMMON}; hours our estimate", daily=True),
    Rule("look", LOOKED_AT, "", "", None, EACH, basis=f"looked at each round: {COMMON}"),
    Rule("look", SLOWER, "", "", None, False, 30, 48, None,
         f"looked at once a day: {COMMON}; hours our estimate", daily=True),
    Rule("look", (), "", "suspect", None, EACH, basis=f"suspects are watched each round: {COMMON}"),
    Rule("look", ("eggs",), "egg", "darkening", None, EACH,
         basis=f"eggs that darken are looked at each round: {COMMON}"),
    Rule("look", ("pupation",), "pupa", "colouring", None, EACH,
         basis=f"pupae that colour are looked at each round: {COMMON}"),
    Rule("look", ("pupation",), "larva", "still", None, EACH,
         basis=f"larvae that hang or moult are looked at each round, not touched: {COMMON}"),
    Rule("look", AWAKE, "larva", "kept apart", None, EACH,
         basis="larvae that eat each other are kept one a cup: Daniels, Florida Museum of Natural History, of a blue; "
         "looked at each round where several share one: our estimate"),
    Rule("look", WINTER, "pupa", "", 7 * DAY, False, 16 * DAY, 21 * DAY, None,
         f"resting pupae: every one to two weeks; {COMMON}", severity=1),
    Rule("look", WINTER, "larva", "half-grown", 3.5 * DAY, False, 5 * DAY, 7 * DAY, None,
         f"half-grown resting larvae: every three to four days; {COMMON}", severity=1),
    Rule("look", WINTER, "larva", "first instar", 5 * DAY, False, 7 * DAY, 10 * DAY, None,
         f"unfed first instars dry and mould easily: every three to seven days; {COMMON}", severity=1),
    Rule("look", WINTER, "egg", "", 5 * DAY, False, 7 * DAY, 10 * DAY, None,
         f"resting eggs dry and mould easily: every three to seven days; {COMMON}", severity=1),
    Rule("look", WINTER, "adult", "", 7 * DAY, False, 10 * DAY, 14 * DAY, None, ESTIMATE, severity=1),
    Rule("host", LAYING, "", "host cut dry", None, EACH, 24, 36, None,
         f"cut host without water: changed daily, sooner when limp; {COMMON}"),
    Rule("host", LAYING, "", "host in water", None, EACH, 48, 72, None,
         f"cut host in water: two to three days, sooner when limp; {COMMON}"),
    Rule("host", LAYING, "", "host potted", None, EACH,
         basis=f"a potted or living host stays, and is looked at each round: {COMMON}"),
    Rule("host", LAYING, "adult", "no host", 0, False, 6, 24, None,
         f"she cannot choose what is not there; {ESTIMATE}"),
    Rule("eggs", LAYING, "adult", "", None, False, 24, 48, None, f"searched every day: {COMMON}", daily=True),
    Rule("eggs", (), "", "females left", 0, False, 24, 48, None,
         f"stems that she sat on are searched once more when she is gone: {COMMON}; hours our estimate"),
    Rule("change", LAYING, "adult", "no eggs", 48, False, 48, 72, None,
         f"two to three fed, warm days are the usual patience: {COMMON}; the keeper decides"),
    Rule("release", (), "", "limit", 12, False, 12, 0, None,
         "the limit that was logged for her, or the hours that her permit lets her be held", before_limit=True),
    Rule("permit", (), "", "limit", 7 * DAY, False, DAY, 0, None,
         f"the permit's own end; asked a week before, {ESTIMATE}", before_limit=True),
    Rule("air", ("eggs",), "egg", "", 36, False, 48, 72, None,
         f"lid opened every day or two: {COMMON}; red hours our estimate"),
    Rule("hatch late", ("eggs", "hatchlings"), "egg", "not resting", 15 * DAY, False, 15 * DAY, 20 * DAY, None,
         f"half as long again as forecast, red at twice: {COMMON}; without a forecast ten days are taken, our estimate",
         computed=True),
    Rule("leaf", AWAKE, "egg", "darkening", 0, False, 6, 24, 30,
         f"a leaf before they hatch, which may be twelve hours after they darken: {COMMON}; hours our estimate"),
    Rule("leaf", AWAKE, "egg", "may hatch", 12, False, None, None, None,
         "a leaf at the round before the first is expected; the forecast tells when, see Ahead", severity=2, computed=True),
    Rule("frass", (), "", "held sprigs", None, False, 36, 60, 84,
         f"held sprigs looked at for droppings every day: {COMMON}; hours our estimate", daily=True),
    Rule("keep", (), "", "held sprigs", 14 * DAY,
         basis="kept until the chance of viable eggs is under 1 %, by searches and warmth; Bayes' rule, see Laying",
         computed=True),
    Rule("turn", (), "", "droppings", 0, False, 6, 12, 24,
         f"hatchlings unfed over twelve hours; they survive a day or so: {COMMON}; amber hours our estimate"),
    Rule("food", AWAKE, "larva", "unfed", 0, False, 6, 12, 24,
         f"hatchlings unfed over twelve hours; they survive a day or so: {COMMON}; amber hours our estimate"),
    Rule("food", AWAKE, "larva", "L1-L2", 24, False, 36, 48, 62,
         f"young larvae left alone a day or two: {COMMON}; {DANGER}"),
    Rule("food", AWAKE, "larva", "L3-L4", 24, False, 30, 36, 47, f"fed daily: {COMMON}; {DANGER}"),
    Rule("food", AWAKE, "larva", "last instar", 12, False, 14, 16, 21,
         f"the last instars eat nearly all that a larva eats: {COMMON}; {DANGER}"),
    Rule("clean", AWAKE, "larva", "L3-L4", 24, False, 30, 36, None, f"droppings out daily: {COMMON}"),
    Rule("clean", AWAKE, "larva", "last instar", None, False, 26, 36, None,
         f"droppings out once or twice a day: {COMMON}; hours our estimate", daily=True),
    Rule("count", ("rearing", "hatchlings"), "larva", "", 3 * DAY, False, 5 * DAY, None, None,
         f"counted at cleaning: {COMMON}; hours our estimate"),
    Rule("still", AWAKE, "larva", "still", 24, False, 48, 72, None,
         f"a moult or a hang takes about a day, up to two: {COMMON}"),
    Rule("mist", ("pupation", "emergence"), "pupa", "", 36, False, 48, 72, None,
         f"light spray daily or every other day: {COMMON}; hours our estimate"),
    Rule("mist", WINTER, "pupa", "early winter", 14 * DAY, False, 16 * DAY, 21 * DAY, None,
         f"every fortnight early in winter: {COMMON}"),
    Rule("mist", WINTER, "pupa", "late winter", 7 * DAY, False, 16 * DAY, 21 * DAY, None,
         f"every week late in winter: {COMMON}"),
    Rule("mist", WINTER, "larva", "half-grown", 4 * DAY, False, 5 * DAY, 7 * DAY, None,
         f"half-grown resting larvae: every four days at least; {COMMON}"),
    Rule("emerge late", AWAKE, "pupa", "not resting", 21 * DAY, False, 21 * DAY, 28 * DAY, None,
         f"half as long again as forecast, red at twice: {COMMON}; without a forecast fourteen days are taken, our estimate",
         computed=True),
    Rule("wings", AWAKE, "adult", "wings not up", 0.5, False, 2, 4, None,
         f"wings up within two hours: {COMMON}; red hours our estimate"),
    Rule("quarantine", ("quarantine",), "", "", 7 * DAY, False, 14 * DAY, None, None,
         "new stock apart for one to two weeks: from memory, no source"),
    Rule("quarantine", ("quarantine",), "", "ill", 0, False, 0, 0, None,
         f"any sign of illness in new stock: {COMMON}", severity=2),
    Rule("quarantine", ("isolation",), "", "", 3 * DAY,
         basis=f"three days' watch without a new sign: {COMMON}"),
    Rule("ants", (), "", "barrier", None, EACH, 24, 48, None,
         f"seen each round, a moat topped up every day or two: {COMMON}; red hours our estimate"),
    Rule("ants", (), "", "barrier failed", 0, False, 0, 0, 2,
         f"dry, bridged or with an ant past it: {COMMON}; {DANGER}"),
    Rule("lamp", (), "", "lamp on", 1, False, 2, 4, None, "lamps are timed and never left alone; hours our estimate"),
    Rule("balance", (), "", "not seen", 0, False, 24, 72, None, ESTIMATE),
    Rule("room", (), "", "room", None, EACH, basis=f"lowest and highest each round: {COMMON}"),
    Rule("room", (), "", "winter store", 7 * DAY, False, 16 * DAY, None, None,
         f"a place of resting stock alone is read when it is looked at: {COMMON}"),
    Rule("heat", (), "", "warm or cold", 0, False, 0, None, None,
         "30 C and above, or under 18 C where females are to lay: starter default, our estimate", severity=1),
    Rule("heat", (), "", "hot room", 0, False, 0, 2, 6,
         "33 C and above, if it lasts; over 29 C harms monarch larvae and hours count, York and Oberhauser 2002; "
         "hours our estimate"),
    Rule("heat", (), "", "hot cup", 0, False, 0, 0, 2,
         f"33 C and above in a closed cup harms within minutes to hours: {COMMON}; hours our estimate"),
    Rule("heat", (), "", "sun on a closed cup", 0, False, 0, 1, 2,
         f"a closed cup in direct sun overheats within minutes: {COMMON}; hours our estimate"),
    Rule("heat", (), "", "warm rest", 0, False, 0, 24, None,
         "10 C and above in winter rest, if it lasts: our estimate, no source; warm weeks kill resting pupae months later: "
         "University of Oulu of Pieris napi", severity=2),
    Rule("heat", (), "", "hot rest", 0, False, 0, 0, None,
         "20 C in winter did more harm to resting larvae than 41 C in summer: Heatwaves and novel host consumption, "
         "Frontiers in Ecology and Evolution 2019 7:193, Euphydryas phaeton", severity=2),
    Rule("heat", (), "", "freezing", 0, False, 0, 0, None,
         "under 0 C, where the place has no limit of its own: starter default, our estimate, no source", severity=2),
    Rule("store", ("host store",), "", "", None, False, 5 * DAY, 7 * DAY, None,
         f"cut host in the cold: five days, a week at most; {COMMON}", daily=True),
    Rule("solution", (), "", "solution", 5 * DAY, False, 5 * DAY, 7 * DAY, None,
         f"a week in the cold at most: {COMMON}"),
)  # fmt: skip
