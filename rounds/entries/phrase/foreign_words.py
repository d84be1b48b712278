"""Words that a line says something else with, and that no name has: they never become part of one
that is not in quotes."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import get_args

from rounds import late
from rounds.bench.state import Bench
from rounds.entries.base import Entry, Purpose
from rounds.entries.hosts import ALL_PLANTS
from rounds.entries.names import known_collectors, known_places, known_plants, known_species
from rounds.entries.phrase.carriage import CARRIED
from rounds.entries.phrase.condition import CONDITIONS, DEGREES
from rounds.entries.phrase.expansion import tells_of_the_old
from rounds.entries.phrase.reader import JOINS, PhraseProblem, Reader
from rounds.entries.phrase.synonyms import ANIMALS, ASKED, MEANT, NUMBER_WORDS
from rounds.entries.phrase.times import WHOLE_WEEKDAYS, is_month
from rounds.entries.phrase.tokens import STOPS, Word, named_value, one_text
from rounds.entries.phrase.verbs import NO_NAMES, VERBS
from rounds.entries.phrase.vocabulary import FLAGS, JOINING, NOTHING, PREPOSITIONS, SHORT, UNITS
from rounds.entries.place_words import (
    BEGINS_A_PLACE,
    HOUSE_AND_GARDEN,
    PLACE_WORDS,
    reads_like_a_place,
)
from rounds.entries.plant_parts import PART_WORDS, name_and_part
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import KindSchema, describe
from rounds.entries.slots import FOODS, each

_AUTHOR = late.pattern(r"^[A-Z][\w.'\u2019-]*,?$")
_YEAR = late.pattern(r"^(?:17|18|19|20)\d\d,?$")
# How an animal came to hand.
CATCHES = each("caught found collected taken netted captured swept beaten dug lured trapped picked")
_TIMES = frozenset(WHOLE_WEEKDAYS) | each(
    "today yesterday tomorrow tonight since until ago morning afternoon evening midday noon"
)
_HAPPENED = each(
    "laid hatched emerged moulted pupated died drank fed mated paired released searched counted"
    " moved escaped came arrived got given bought reared bred"
)
# In no plant's name: they tell of animals, or that something is not there.
_OF_NO_PLANT = ANIMALS | each("fem fem. wild wild-caught caught")
_DEGREES = each("C F \u00b0C \u00b0F %")
_STATES = each(
    "wilted wilting limp mouldy washed unwashed rinsed sprayed soaked dripping watered trimmed"
)
# Said of animals, or of several plants: alone they are nowhere that eggs can be.
_NOWHERE = _HAPPENED | each("worn torn healthy weak sure still now all none each both every")
# Between two plants, of which one is not there: it is no name of both.
_EITHER = each("or not but without then")
_PURPOSES = frozenset(get_args(Purpose)) - {"host store"}
_SIZES = each("big small large little tiny huge")
_ANOTHER = frozenset({"out", "instead"})
_NEVER = _ANOTHER | _TIMES | _HAPPENED | _STATES | CATCHES | CARRIED
# These may begin a name, as 'wet wood' and 'dry hill' do, but end none.
_NEVER_LAST = each(
    "wet dry damp moist cold cool warm hot fresh freshly healthy weak sunny rainy raining cloudy"
    " underground windy overcast humid inside outside indoors outdoors home again already"
    " before still now sure worn torn dead alive old"
)
# Words of the line that are plants all the same.
_PLANTS_TOO = frozenset({"box", "orange", "banana"})
_ENDS_NO_NAME = PREPOSITIONS | BEGINS_A_PLACE | JOINS | each("of the a an with")
_BEGINS_NO_NAME = PREPOSITIONS | each("of below behind above next opposite with and")


@cache
def own_words() -> frozenset[str]:
    """All words that a line says something else with: what happens, choices and fields of all
    kinds, stages, parts of plants, prepositions, numbers, units, times, places of a bench."""
    spoken = {*VERBS, *MEANT, *ASKED, *NO_NAMES, *SHORT, *SHORT.values(), *FLAGS, *UNITS}
    for kind in KIND_BY_NAME.values():
        described, slots = describe(kind), kind.slots
        spoken |= {*slots.idle, *slots.after, *slots.leading, *slots.short}
        for field in described.fields:
            spoken |= {field.name.replace("_", " "), *field.choices}
    words = {word for text in spoken for word in text.casefold().split() if word.isalpha()}
    words |= NUMBER_WORDS.keys() | JOINING | PREPOSITIONS | FOODS | PART_WORDS | PLACE_WORDS
    return (
        frozenset(words | _NEVER | _NEVER_LAST | _EITHER | _SIZES | {"?", "other", "others"})
        - _PLANTS_TOO
    )


def no_name(name: str, of_place: bool = False) -> str:
    """The words for which a text cannot be a new name: all of it where each says something else,
    but for a plant or a place that is called so, or a preposition at its end or, but of a place, at
    its beginning; '' where there are none."""
    words = [word.casefold().strip(",.;:") for word in name.split()]
    words = [word for word in words if word]
    if not words:
        return ""
    own = own_words()
    if all(word in own for word in words) and not (of_place and HOUSE_AND_GARDEN & {*words}):
        return name
    if words[-1] in _ENDS_NO_NAME and not name.endswith(" A"):  # 'Bank A' is one
        return name.split()[-1]
    return "" if of_place or words[0] not in _BEGINS_NO_NAME else name.split()[0]


def is_no_name(odd: str, name: str, others: str = "") -> str:
    """What is asked of words that cannot be a new name, or part of one, with the other words of
    the line where it can do without."""
    as_note = f"; say it behind all else, as: {others} -- {odd}" if others else ""
    return (
        f"'{odd}' is no name, for in a line it says something else{as_note}; if it is one, put it"
        f' in double quotes: "{name}"'
    )


def foreign_word(name: str) -> str:
    """The first word of a name, beginning with the second, that says something else; '' if there is
    none."""
    words = [word.casefold().strip(",.;:") for word in name.split()]
    last = len(words) - 1
    return next(
        (
            word
            for place, word in enumerate(words)
            if place and (word in _NEVER or "=" in word or (place == last and word in _NEVER_LAST))
        ),
        "",
    )


def may_be_a_plant(text: str) -> bool:
    """Whether words behind a comma can be a plant that was left without its ``on``: one to three in
    small letters, none of which says how animals are or anything else that a line says."""
    name, _ = name_and_part(text)
    words = name.split()
    small = all(word.replace("-", "").isalpha() and word.islower() for word in words)
    none_else = own_words() | CONDITIONS | DEGREES | _SIZES | PLACE_WORDS
    return 0 < len(words) <= _LONGEST_PLANT and small and none_else.isdisjoint(words)


_LONGEST_PLANT = 3  # words
# With its epithet, or by its ending, as Latin has it: Rumex, Salix, Urtica, Trifolium, Plantago.
_GENUS = late.pattern(r"^[A-Z][a-z]+ [a-z-]{4,}$|^[A-Z][a-z]+(?:us|um|[eiy]x|is|a|ago|ine)$")
_SEVERAL = late.pattern(r" [+&] ")
_STEMS = late.pattern(r"(?i)\s+\d+\s+(?:stem|sprig)s?$")


def says_stems(text: str) -> bool:
    """Whether a text ends with how many stems a plant is."""
    return bool(_STEMS.search(text))


def plant_behind(place: str) -> str:
    """The last words of a place, behind its comma, that can be a plant that was left without its
    ``on``: ``Lohe, Cardamine pratensis``, ``Lohe, Rumex``, ``Lohe, Allium + Cardamine``, with how
    many stems if that is said; '' for a name of a place, ``Lohe, Upper Wood``."""
    _, comma, behind = place.rpartition(", ")
    if not comma:
        return ""
    plants = _SEVERAL.split(_STEMS.sub("", behind))
    several = len(plants) > 1

    def may_be(name: str) -> bool:
        is_name = _GENUS.match(name) or (several and name.isalpha())
        return may_be_a_plant(name.casefold() if is_name else name)

    return behind if all(may_be(one) for one in plants) else ""


def foreign_to_plant(name: str) -> str:
    """The first word of a plant's name that says something else, tells of one that is not there,
    ``violet or dock``, or ends it and is what a container is for; '' if there is none."""
    *inner, last = words = name.casefold().split() or [""]
    if odd := next((word for word in words if word in _OF_NO_PLANT), ""):
        return odd
    if last == "f." or words[0] in NOTHING | {"f."}:
        return "f." if "f." in words else words[0]
    odd = foreign_word(name) or next((word for word in inner[1:] if word in _EITHER), "")
    return odd or (last if inner and last in _PURPOSES else "")


def foreign_to_place(name: str) -> str:
    """The first word of a place, beginning with the second, that says something else: when, what
    happened, which animals, how warm it was; '' if there is none."""
    words = name.replace(",", " ").split()
    of_catch = _TIMES | CATCHES | CARRIED
    if len(words) > 2 and words[-1] in _DEGREES and words[-2][:1].isdecimal():
        return words[-1]
    return next(
        (word for word in words[1:] if word.casefold() in of_catch or word in _HAPPENED | ANIMALS),
        "",
    )


def foreign_to_species(name: str) -> str:
    """The first word that is none of a species' name: one that says something else, a word of lines
    that ends it, or a place behind the epithet, which is no one who named it, for these stand with
    a year, a point or in brackets; '' if there is none."""
    words = name.split()
    is_named = any(sign.isdecimal() or sign in "(.&[" for sign in name)
    begins = len(words) > 2 and words[0][:1].isupper() and words[1].islower() and not is_named
    place = next((word for word in words[2:] if word[:1].isupper()), "") if begins else ""
    ends = words[-1] if len(words) > 2 and words[-1] in own_words() else ""
    return foreign_word(name) or place.rstrip(",") or ends


def refuse_foreign_words(reader: Reader, described: KindSchema) -> None:
    """Refuse a name that is new to the book and has such a word, or is made of them.

    Raises:
        PhraseProblem: which words, and how they are said beside the name.
    """
    kind = KIND_BY_NAME[described.name]
    for field, name in _new_names(reader, kind):
        is_plant = field == kind.names_plant
        of_place = not is_plant and field not in (kind.names_species, kind.names_parasitoid)
        if is_plant and reads_like_a_place(name, known_plants(reader.bench)):
            here = reader.fields.get("container", "K4")
            raise PhraseProblem(
                f"'{name}' reads like a place, not a plant; as: {here} changed shelf='{name}';"
                f' if it is a plant, put it in double quotes: "{name}"',
                reader.words[-1],
            )
        of_what = foreign_to_plant if is_plant else foreign_to_species
        odd = foreign_to_place(name) if of_place else of_what(name)
        if odd and (word := _unquoted(reader, odd.casefold())):
            is_one = is_plant and odd in _OF_NO_PLANT | NOTHING | {"f."}
            raise _of_no_plant(reader, name, word) if is_one else _no_part(reader, name, word)
        if is_plant and _means_those_there(reader, kind, name):
            continue
        odd = no_name(name, of_place) or (_behind_known(name, reader) if is_plant else "")
        if name.casefold() in NO_NAMES and ("taxon", name) in map(named_value, reader.words):
            raise PhraseProblem(is_no_name(odd, name), reader.words[-1])
        if odd and (typed := _typed(reader, odd)):
            alone = isinstance(reader.fields[field], str)
            required = getattr(described.field(field), "required", False) and alone
            led = field in described.slots.after.values()
            raise _says_something_else(
                reader, name, typed, led=led, required=required and odd == name
            )
    where = str(reader.fields.get("where", "")).removeprefix("the ")
    typed = _typed(reader, where) if _NOWHERE.issuperset(where.casefold().split()) else []
    if typed and _leads_to(reader, described, typed[0]):
        raise _says_something_else(reader, where, typed, led=True, required=False)


def _leads_to(reader: Reader, described: KindSchema, word: Word) -> bool:
    """Whether a preposition of a line of this kind stands before a word: ``on worn``."""
    before = [one for one in reader.words if one.at < word.at and one.lower != "the"]
    return bool(before) and not before[-1].quoted and before[-1].lower in described.slots.after


def _new_names(reader: Reader, kind: type[Entry]) -> Iterator[tuple[str, str]]:
    """The fields of a line that give a name of which the book knows nothing, each name as typed."""
    bench = reader.bench
    known = {
        kind.names_species: known_species,
        kind.names_plant: known_plants,
        kind.names_parasitoid: known_species,
        "place": known_places,
        "collector": known_collectors,
        "depository": _none_known,
    }
    for field, names in known.items():
        said = reader.fields.get(field) if field not in reader.as_written else None
        for name in said if isinstance(said, tuple) else (said,):
            if isinstance(name, str) and name.casefold() not in map(str.casefold, names(bench)):
                yield field, name


def _none_known(bench: Bench) -> tuple[str, ...]:
    return ()


def _behind_known(name: str, reader: Reader) -> str:
    """The words behind the name of a known plant that each say something else: ``violet plant``."""
    name, own = name_and_part(name)[0], own_words()
    folded = name.casefold()
    for plant in known_plants(reader.bench):
        rest = name[len(plant) :].split() if folded.startswith(f"{plant.casefold()} ") else []
        words = [word.casefold().strip(STOPS) for word in rest]
        if rest and own.issuperset(words) and not tells_of_the_old(" ".join(words)):
            return " ".join(rest)
    return ""


def _means_those_there(reader: Reader, kind: type[Entry], plant: str) -> bool:
    """Whether a word for a plant tells of those that stand there already."""
    rest = " ".join(word for word in plant.casefold().split() if word not in ALL_PLANTS)
    all_of_them = "changed" in reader.fields and not rest
    return "named_here" in vars(kind) or all_of_them or tells_of_the_old(rest)


def refuse_bare_author(reader: Reader) -> None:
    """Refuse an author with a year behind a name of two words or in quotes: its comma would end the
    name, and its year be a number. In brackets they are part of it.

    Raises:
        PhraseProblem: how the name is said with it.
    """
    words = reader.words[reader.place :]
    for place in range(1, len(words) - 1):
        author, year = words[place], words[place + 1]
        if author.quoted or year.quoted or not _AUTHOR.match(author.text):
            continue
        if not _YEAR.match(year.text) or is_month(author.lower.rstrip(",.")):
            continue
        begins = place
        while begins > 2 and words[begins - 1].lower in ("&", "and", "et"):
            begins -= 2
        name = words[begins - 1 : begins] if words[begins - 1].quoted else words[:begins][-2:]
        genus, epithet = name[0].text, name[-1].text.rstrip(",")
        if not name[0].quoted and not (genus[:1].isupper() and epithet.islower()):
            continue
        called = " ".join(word.text.rstrip(",") for word in name)
        by = one_text(words[begins : place + 2]).rstrip(",")
        raise PhraseProblem(
            f"'{by}' is an author; put the whole name in quotes, as: '{called} {by}', or leave the"
            " author out",
            author,
        )


def _typed(reader: Reader, text: str) -> list[Word]:
    """The words of the line, none in quotes, that are that text; none if it is said otherwise."""
    wanted = [word.strip(STOPS) for word in text.casefold().split()]
    for place in range(len(reader.words) - len(wanted), -1, -1):
        words = reader.words[place : place + len(wanted)]
        if [word.lower.strip(STOPS) for word in words if not word.quoted] == wanted:
            return words
    return []


def _says_something_else(
    reader: Reader, name: str, typed: list[Word], *, led: bool, required: bool
) -> PhraseProblem:
    said = one_text(typed).rstrip(",")
    before = [word for word in reader.words if word.at < typed[0].at]
    while before and before[-1].lower in (_ENDS_NO_NAME if led else JOINS):
        del before[-1]
    rest = [*before, *(word for word in reader.words if word.at > typed[-1].at)]
    others = " ".join(f'"{word.text}"' if word.quoted else word.text for word in rest).rstrip(",")
    return PhraseProblem(is_no_name(said, name, "" if required else others), typed[0])


def _unquoted(reader: Reader, odd: str) -> Word | None:
    return next(
        (
            one
            for one in reader.words
            if odd in (one.lower, one.lower.rstrip(",")) and not one.quoted
        ),
        None,
    )


def _of_no_plant(reader: Reader, name: str, odd: Word) -> PhraseProblem:
    here = reader.fields.get("container", "K4")
    told = (
        f"is no part of a plant's name; what was searched in vain is said as: {here} searched 0"
        if odd.lower in NOTHING
        else f"tells of animals, not of a plant; they come in as: {here} 2 females Boloria dia on"
        " violet"
    )
    return PhraseProblem(
        f"'{odd.text.rstrip(STOPS)}' {told}; if a plant is called so, put its name in double"
        f' quotes: "{name}"',
        odd,
    )


def _no_part(reader: Reader, name: str, odd: Word) -> PhraseProblem:
    if no_name(name) == name:  # without the odd word the others would be no name either
        return PhraseProblem(is_no_name(name, name), odd)
    if odd.lower in _ANOTHER:
        return PhraseProblem(
            f"'{odd.text}' is another thing that happened: one thing a line; in double quotes it is"
            f' part of the name: "{name}"',
            odd,
        )
    if odd.lower in _EITHER:
        return PhraseProblem(
            f"'{odd.text}' is no part of a name; say the plant that is there, several with 'and';"
            f' in double quotes it is part of the name: "{name}"',
            odd,
        )
    if "=" in odd.text:
        return PhraseProblem(
            f"'{odd.text}' does not fit this line; leave it out, and say it afterwards of the code"
            f' that comes of it; in double quotes it is part of the name: "{name}"',
            odd,
        )
    if odd.text[:1].isupper() and odd.text not in _DEGREES:
        place = name[max(0, name.casefold().find(odd.lower)) :]
        return PhraseProblem(
            f"'{odd.text}' is no part of a name; a place is said as: from {place}; if it is part of"
            f' it, put the name in double quotes: "{name}"',
            odd,
        )
    rest = [word for word in reader.words if word is not odd]
    led = odd is reader.words[-1]
    while led and (rest[-1].lower in _ENDS_NO_NAME or rest[-1].text.isdecimal()):
        del rest[-1]
    others = " ".join(f'"{word.text}"' if word.quoted else word.text for word in rest)
    return PhraseProblem(
        f"'{odd.text}' is no part of a name; say it behind all else, as: {others} --"
        f' {odd.text}; if it is, put the name in double quotes: "{name}"',
        odd,
    )
