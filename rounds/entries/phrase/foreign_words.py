"""Words that a line says something else with, and that no name has: they never become part of one
that is not in quotes."""

from __future__ import annotations

from rounds import late
from rounds.entries.names import known_plants, known_species
from rounds.entries.phrase.carriage import CARRIED
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.times import WHOLE_WEEKDAYS, is_month
from rounds.entries.phrase.tokens import Word
from rounds.entries.place_words import reads_like_a_place
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import KindSchema
from rounds.entries.slots import each

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
_STATES = each("wilted wilting limp mouldy washed unwashed rinsed sprayed soaked dripping")
_ANOTHER = frozenset({"out", "instead"})
_NEVER = _ANOTHER | _TIMES | _HAPPENED | _STATES | CATCHES | CARRIED
# These may begin a name, as 'wet wood' and 'dry hill' do, but end none.
_NEVER_LAST = each(
    "wet dry damp moist cold cool warm hot fresh freshly healthy weak sunny rainy raining cloudy"
    " underground windy overcast humid inside outside indoors outdoors home again already"
    " before still now sure"
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


def foreign_to_species(name: str) -> str:
    """The first word that is none of a species' name: one that says something else, or a place
    behind the epithet, which is no one who named it, for these stand with a year, a point or in
    brackets; '' if there is none."""
    words = name.split()
    is_named = any(sign.isdecimal() or sign in "(.&[" for sign in name)
    begins = len(words) > 2 and words[0][:1].isupper() and words[1].islower() and not is_named
    place = next((word for word in words[2:] if word[:1].isupper()), "") if begins else ""
    return foreign_word(name) or place.rstrip(",")


def refuse_foreign_words(reader: Reader, described: KindSchema) -> None:
    """Refuse a name that is new to the book and has such a word.

    Raises:
        PhraseProblem: which word, and how it is said beside the name.
    """
    kind = KIND_BY_NAME[described.name]
    for field in (kind.names_species, kind.names_plant, kind.names_parasitoid):
        typed = reader.fields.get(field) if field and field not in reader.as_written else None
        for name in typed if isinstance(typed, tuple) else (typed,):
            is_plant = field == kind.names_plant
            known = known_plants if is_plant else known_species
            if not isinstance(name, str) or name in known(reader.bench):
                continue
            if is_plant and reads_like_a_place(name, known(reader.bench)):
                here = reader.fields.get("container", "K4")
                raise PhraseProblem(
                    f"'{name}' reads like a place, not a plant; as: {here} changed shelf='{name}';"
                    f' if it is a plant, put it in double quotes: "{name}"',
                    reader.words[-1],
                )
            odd = foreign_word(name) if is_plant else foreign_to_species(name)
            if odd and (word := _unquoted(reader, odd.casefold())):
                raise _no_part(reader, name, word)
    place = reader.fields.get("place")
    if isinstance(place, str) and "place" not in reader.as_written:
        words = [word.casefold() for word in place.split()[1:]]
        odd = next((word for word in words if word in _TIMES | CATCHES | CARRIED), "")
        if odd and (word := _unquoted(reader, odd)):
            raise _no_part(reader, place, word)


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
        by = " ".join(word.text for word in words[begins : place + 2]).rstrip(",")
        raise PhraseProblem(
            f"'{by}' is an author; put the whole name in quotes, as: '{called} {by}', or leave the"
            " author out",
            author,
        )


def _unquoted(reader: Reader, odd: str) -> Word | None:
    return next((word for word in reader.words if word.lower == odd and not word.quoted), None)


def _no_part(reader: Reader, name: str, odd: Word) -> PhraseProblem:
    if odd.lower in _ANOTHER:
        return PhraseProblem(
            f"'{odd.text}' is another thing that happened: one thing a line; in double quotes it is"
            f' part of the name: "{name}"',
            odd,
        )
    if "=" in odd.text:
        return PhraseProblem(
            f"'{odd.text}' does not fit this line; leave it out, and say it afterwards of the code"
            f' that comes of it; in double quotes it is part of the name: "{name}"',
            odd,
        )
    if odd.text[:1].isupper():
        place = name[max(0, name.casefold().find(odd.lower)) :]
        return PhraseProblem(
            f"'{odd.text}' is no part of a name; a place is said as: from {place}; if it is part of"
            f' it, put the name in double quotes: "{name}"',
            odd,
        )
    others = " ".join(
        f'"{word.text}"' if word.quoted else word.text for word in reader.words if word is not odd
    )
    return PhraseProblem(
        f"'{odd.text}' is no part of a name; say it behind all else, as: {others} --"
        f' {odd.text}; if it is, put the name in double quotes: "{name}"',
        odd,
    )
