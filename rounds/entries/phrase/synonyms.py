"""What keepers say instead of what it is called here: what is plain is taken, what is not is asked
about."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.slots import each
from rounds.word_tables import table_rows

# Other words for a kind, with the fields that they say at once.
MEANT: Final[dict[str, tuple[str, Mapping[str, Any]]]] = {
    word: (name, fields)
    for name, kind in KIND_BY_NAME.items()
    for word, fields in kind.slots.synonyms.items()
}

# Words after which the keeper's own word is still to be read, as what the field says.
KEEPS_ITS_WORD: Final = each(
    "wandering, weak, condensation, colouring, hanging, darkening, soft pupa, wings up, "
    "wings not up, temperature, temp, humidity, rh",
    by=", ",
)

# What else a stage is called, and the word that is read for it.
CALLED: Final = {
    "chrysalis": "pupa",
    **dict.fromkeys(("chrysalises", "chrysalids"), "pupae"),
    "imago": "adult",
    **dict.fromkeys(("imagos", "imagines"), "adults"),
}

# The words for animals, with their stage and sex.
STAGE_AND_SEX: Final[dict[str, tuple[str, str]]] = {
    word: (stage, sex)
    for words, stage, sex in (
        ("female females", "adult", "female"),
        ("male males", "adult", "male"),
        ("egg eggs", "egg", ""),
        ("larva larvae caterpillar caterpillars prepupa prepupae", "larva", ""),
        ("pupa pupae chrysalis chrysalises chrysalids", "pupa", ""),
        ("adult adults imago imagos imagines", "adult", ""),
    )
    for word in words.split()
}
ANIMALS: Final = frozenset(STAGE_AND_SEX)


def stage_and_sex(word: str) -> tuple[str, str]:
    """Stage and sex of animals called so, in any case; empty where they are not said."""
    return STAGE_AND_SEX.get(word.casefold(), ("", ""))


# What may mean several things: its words, the question, with {0} for the place and {words} for what
# was said, and the kinds that it can be, where the question does not name them.
_ASKED = """
list | a bench that already runs is listed on a page of its own: type list alone; at the shell:
    rounds begin --list FILE
import | an old table comes in on a page of its own: type import and its file, as: import
    ~/old.xlsx; at the shell: rounds import FILE
outside, outdoors, put outside | outside in what light, or on which shelf? As: {0} sun; {0} shade;
    {0} changed shelf=garden
carried, taken, brought, transported | carried where? As: {0} changed shelf=garden, {0} moved 1 to
    K4, or {0} released 1 at Tannmoos
travelled, traveled, travelled to, traveled to | elsewhere from now on, or a note? As: {0} changed
    shelf=garden; {0} note travelled by car; the whole bench: setting bench Tannmoos
killed, kill, euthanised, euthanized | by accident, or for the collection? As: {0} died 1 injury;
    {0} preserved 1 voucher=V3 -- killed for the collection
caught, catch, recaught | a new animal, or one that had got out? As: {0} 1 female Celastrina
    argiolus from Tannmoos; or {0} settled found 1
ants, ant, ants seen, ants there, ants below, no ants | how does the moat stand, and where are the
    ants? As: {0} moat full; {0} moat low 2 below; {0} 3 ants above | barrier
dark, darkened, going dark, turning dark, getting dark, turned dark | the eggs, or the place? As:
    {0} darkening; or {0} light dark
hot, too hot, warm, too warm, cold, too cold, cool, cup too hot, cup hot, cup too cold, cup too
    warm, cooler, warmer, hotter, colder, overheated, stuffy, too stuffy | how warm, or what was
    done? As: {0} air 31C; {0} shade; {0} lid opened
carried cool, carried cold, kept cool, cooled | how warm is it there, where to, or how they came?
    As: {0} air 12C; {0} shade; {0} changed shelf=cellar; {0} note carried cool
larvae not counted, caterpillars not counted, eggs not counted, pupae not counted | is the count put
    off, or is it a note? As: {0} not counted; {0} note {words}
has a moat, has moat, has a moat now, a moat, own moat | its own moat is said so: {0} changed
    barrier=moat; after that how it stands, as moat full
too dry, cup too dry, cup dry | the air in the cup, or the plant? As: {0} misted; {0} air 40%; {0}
    violet limp
too wet, cup too wet, cup wet | how is it seen, or what was done? As: {0} looked condensation; {0}
    lid opened
found | eggs, or an animal that was missing or had escaped? As: {0} 6 eggs; {0} settled found 1;
    {0} note one found
gone, lost, less, fewer, disappeared, not there, not found, flown, flown off, flew off, flew away |
    gone how, or is it not known? As: {0} died 1; {0} escaped 1; {0} moved 1 to {other}; {0} missing
    1
shrivelled, shriveled, drowned, collapsed, squashed, dented, dents | dead, or are they there still?
    As: {0} died 1; {0} looked weak; {0} note {words}
gone mouldy, gone moldy, went mouldy, went moldy, are mouldy, are moldy | dead of it, or are they
    there still? As: {0} died 1 mould; {0} looked mould -- {words}; {0} note {words}
stems out, stem out, sprigs out, sprig out | kept in case, or thrown away? As: {0} host out held;
    {0} host out discarded
sick, ill, diseased | only looked so, or is the whole cup suspect from now? As: {0} looked weak;
    or {0} suspect pale and slow
water, water low, low, full, dry, water full, vase, vase filled, water changed, new water, fresh
    water | the moat, the plant's water, or a cup that dries? As: {0} moat low 4 mm; {0} topped up
    20 mm; {0} violet limp; {0} misted; {0} note vase topped up
wet, damp | wet how? As: {0} looked condensation; {0} misted
mould, mold | mould in the cup, or on the plant? As: {0} looked mould; or {0} host seen mouldy
nothing, none | nothing of what? As: {0} searched 0; {0} frass none; {0} refused; {0} looked as
    usual
leaf, leaves, plant, host, sprig, sprigs, stem, stems, food, new host, fresh, new, added, fresh
    leaf, fresh leaves, fresh plant, fresh food, fresh host, fed larvae, needs food, hungry | put
    in, seen or taken out, and which plant? As: {0} host in violet leaf 3 stems; {0} host seen
    fresh; {0} host out violet
cut host, cut plant, host cut, fresh cut host | for the old, or put in beside it? As: {0} host
    changed, old kept; {0} host in violet 3 stems
frass of eggs, frass from eggs, frass of the eggs, frass from the eggs, frass under eggs, frass
    beside eggs, frass with eggs | how many of these eggs have hatched? As: {0} hatched 1; {0}
    hatched all
hatching, emerging, pupating | how many are through by now? As: {0} hatched 12; {0} pupated 2; {0}
    emerged 1
put away, washed up, washed out, cleared away | is the cup empty and out to be washed, or cleaned
    and in use? As: {0} closed; {0} cleaned
open, shut, close, lid, closed up | the lid, or is the cup empty and out to be washed? As: {0} lid
    opened; {0} covered; {0} closed
new cup, fresh cup, bigger cup, another cup, cup changed, rehoused, recupped | the cup cleaned or
    renewed under its code, or another code from now? As: {0} cleaned; {0} moved all to new Z9; as a
    note: {0} note {words}
first, first one | the first of what? As: {0} hatched 1; {0} moulted 1 L4; {0} pupated 1; {0}
    emerged 1
swapped, swap, swapped host, swapped plant, swapped food | the plant, which came in for the old, or
    the animals? As: {0} host changed violet; {0} host changed violet, old kept; {0} moved all to
    new Z9
kept, held, kept in, held in | the stems? As: {0} host out held
separated, separate, parted, pair separated | are they apart now? As: {0} moved 1 to new K5; or
    {0} note pair separated
buried, spinning, spinning up, cocoon, cocoons, cocoons found, cocoon found, spun up, spun in,
    dug in, gone to ground | pupae by now, or larvae still? As: {0} pupated 35 inferred; or {0}
    looked wandering
resting, at rest, pausing, rests, pauses | still for a day before a change, or for months? As: {0}
    not moving; {0} in diapause; {0} looked as usual
no pairing, not paired, no mating, not mated | kept as a note? As: {0} note no pairing seen
swab, sponge, feeder | changed, seen, or only offered? As: {0} swab changed sugar 10%; {0} swab
    dry; {0} offered sugar
"""


def _asked() -> Iterator[tuple[str, tuple[str, tuple[str, ...]]]]:
    for words, question, *kinds in table_rows(_ASKED):
        for word in words.split(", "):
            yield word, (question.replace("{words}", word), tuple(kinds))


ASKED: Final[dict[str, tuple[str, tuple[str, ...]]]] = dict(_asked())

_TO_TWENTY = (
    *("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
    *("eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen"),
    *("nineteen", "twenty"),
)
_TENS = dict(
    zip(
        ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"],
        range(20, 100, 10),
        strict=True,
    )
)
NUMBER_WORDS: Final[dict[str, str]] = (
    {word: str(number) for number, word in enumerate(_TO_TWENTY, 1)}
    | {ten: str(number) for ten, number in _TENS.items()}
    | {
        f"{ten}-{one}": str(number + digit)
        for ten, number in _TENS.items()
        for digit, one in enumerate(_TO_TWENTY[:9], 1)
    }
    | {"both": "2", "single": "1"}
)


def digits_of(word: str) -> str:
    """A whole number in digits, typed so or spelled, in any case; '' where it is none."""
    text = word.casefold()
    return text if text.isdecimal() else NUMBER_WORDS.get(text, "")


EVERYDAY_NUMBER: Final[dict[str, tuple[str, ...]]] = {"shelf": ("air", "barrier")}


def everyday_number(place: str) -> tuple[str, ...]:
    """What a bare number may mean, by the kind of place before it."""
    return EVERYDAY_NUMBER.get(place, ("counted", "searched"))
