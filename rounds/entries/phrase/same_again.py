"""``same again``: the next animal of a catch comes in as the one before it, under the next code;
``one more egg`` and ``another dead`` are of those that are there."""

from __future__ import annotations

from itertools import dropwhile

import msgspec

from rounds.bench.codes import INSTAR, code_after
from rounds.bench.plurals import PLURALS
from rounds.entries.arrivals import CATCH_VERBS
from rounds.entries.names import CONDITIONS, species_named
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.synonyms import ANIMALS
from rounds.entries.phrase.times import is_time_word
from rounds.entries.phrase.tokens import Word, one_text
from rounds.entries.phrase.verbs import LAYS_IN, asked_at, head_at
from rounds.entries.plant_parts import is_off_the_plant, name_and_part
from rounds.entries.registry import FounderIntake
from rounds.entries.schema import KindSchema
from rounds.entries.slots import SAME_AGAIN, listed

_MORE = frozenset({"new", "more", "further", "another", "extra"})
_TAKEN = frozenset({"wild", "wild-caught", "caught"})  # as all are of which a line is the next
_ONE = frozenset({"1", "one", "a", "an"})
_ON = frozenset({"on", "under", "beneath", "underneath", "inside"})
_WHERE = frozenset({"at", "by", "in", "near"})  # a place of a catch as well
_SEXES = frozenset({"female", "male"})
_OF_THE_CATCH = listed(
    "taxon place latitude longitude uncertainty_m country province caught collector stage "
    "sex permit found_on"
)


def same_again(reader: Reader, described: KindSchema) -> None:
    """Fill in what is as with the animal that came in last, of those in this container if one is
    there: where and when it was caught, what it is, under which permit.

    Raises:
        PhraseProblem: none came in yet, none is in a container that holds others, or what follows
            is no code.
    """
    text = str(reader.fields.get("taxon", "")).casefold()
    if described.name != "founder" or text not in (SAME_AGAIN, "same"):
        return
    code = [*dropwhile(_TAKEN.__contains__, str(reader.fields.pop("code", "")).split())]
    if code:
        reader.fields["code"] = " ".join(code)
    _refuse_what_does_not_come_in(reader)
    species = species_named(reader.bench, str(reader.fields.get("code", "")))
    if species:
        del reader.fields["code"]
    before = last_that_came(reader, species)
    if before is None:
        here = reader.fields.get("container", "K3")
        sex = reader.fields.get("sex", "female")
        raise PhraseProblem(
            f"no {species} came in yet that this could be like; as: {here} 1 {sex} {species}"
            if species
            else "none came in yet that this could be like; as:"
            f" {here} founder W3 Boloria dia female at Tannmoos"
        )
    del reader.fields["taxon"]
    known = msgspec.structs.asdict(before)
    reader.fields = {name: known[name] for name in _OF_THE_CATCH if known[name]} | reader.fields
    used = reader.animals.keys() | reader.codes.keys()
    reader.fields.setdefault("code", code_after(before.code, used))


def _refuse_what_does_not_come_in(reader: Reader) -> None:
    """Refuse a word that is no code as one, and the next of a catch where none of any is."""
    here = str(reader.fields.get("container", "K3"))
    code = str(reader.fields.get("code", ""))
    container = reader.bench.at(here)
    if code and code.isalpha() and not species_named(reader.bench, code):
        raise PhraseProblem(
            f"'{code}' is no code of an animal that comes in; another female: {here} another"
            f" female; or as a note: {here} note {code}"
        )
    if container is None or not container.lots or container.purpose in LAYS_IN:
        return
    stage = container.lots[0].stage
    if not any(code in reader.bench.founders for lot in container.lots for code in lot.codes):
        raise PhraseProblem(
            f"the same of what? No wild-caught animal is in {here}. As: {here} counted"
            f" {container.count(stage) + 1} {PLURALS[stage]}; as a note: {here} note same again"
        )


def more_of_those_there(reader: Reader) -> None:
    """Read ``K2 one more egg`` and ``K2 another dead`` as ``1 more egg`` and ``1 more dead``: none
    comes in where a stage is named, or what happened; beside a female one that was found, or is on
    something, is an egg.

    Raises:
        PhraseProblem: beside a female it may be an egg or another female: ``K2 one more 18:00``.
    """
    words = reader.words
    place = next((n for n, word in enumerate(words) if not reader.code_of(word)), len(words))
    said = [word.lower for word in words[place : place + 2]]
    length = 1 if said[:1] == ["another"] else 2 if said[:1] and said[0] in _ONE else 0
    if said == ["same", "again"]:
        length = 2
    elif not length or (length == 2 and said[-1] not in _MORE):
        return
    behind = place + length
    if behind < len(words) and words[behind].lower == "one":  # 'another one'
        del words[behind]
    _egg_that_was_found(reader, place, behind)
    if said == ["same", "again"]:
        return
    what = behind + (behind < len(words) and words[behind].lower in _SEXES)
    if any(word.quoted for word in words[: what + 1]) or what == len(words):
        return
    is_stage = (what == behind and words[what].lower in ANIMALS) or INSTAR.match(words[what].lower)
    if asked_at(reader, what) and words[what].lower not in CATCH_VERBS:  # gone how?
        words[place:behind] = [Word("1", words[place].at)]
    elif is_stage or head_at(reader, what):
        at = words[place].at
        words[place:behind] = [Word("1", at), Word("more", at)]


def _egg_that_was_found(reader: Reader, place: int, behind: int) -> None:
    """Read ``K2 another one on the lid`` beside a female as ``K2 1 more egg on the lid``.

    Raises:
        PhraseProblem: it may be another female as well.
    """
    words = reader.words
    container = reader.bench.at(str(reader.code_of(words[0]))) if place == 1 else None
    if container is None or not container.females:
        return
    said = [word.lower for word in words[behind : behind + 2]]
    again = words[place].lower == "same"
    found = said[:1] == ["found"] and said[1:] not in (["at"], ["near"], ["by"])
    is_on = _is_on_something(words[behind:])
    if (found or is_on) and not again:
        at = words[place].at
        if is_on and words[behind].lower in _WHERE:
            words[behind] = Word("on", words[behind].at)
        words[place : behind + found] = [Word("1", at), Word("more", at), Word("egg", at)]
        return
    at_a_time = bool(reader.after or said) and all(is_time_word(word) for word in said)
    if found or is_on or (at_a_time and not again):
        here, when = words[0].text, one_text(words[behind + found :])
        female = f"{here} another female{' --' * is_on} {when}".strip()
        raise PhraseProblem(
            f"an egg that was found, or another female that comes in? As:"
            f" {f'{here} 1 more egg {when}'.strip()}; {female}",
            words[place],
        )


def _is_on_something(words: list[Word]) -> bool:
    """Whether it is said on what in the container, and no place of a catch: ``by the lid``."""
    where = one_text(words[1:])
    said = words[0].lower if where else ""
    return said in _ON or (
        said in _WHERE and bool(is_off_the_plant(where) or name_and_part(where)[1])
    )


def one_more(reader: Reader) -> None:
    """Read ``K2 new female``, ``K2 1 more worn female`` as ``K2 another female``, how she is aside.

    Raises:
        PhraseProblem: she may be the one that stands there: ``K2 gravid female``.
    """
    words = reader.words
    first = words[0].lower if words else ""
    into = len(words) > 2 and words[-2].lower in ("in", "into") and reader.code_of(words[-1])
    if into and first in _MORE | _ONE:  # 'new female in K2'
        words[:] = [words[-1], *words[:-2]]
    sexes = [place for place, word in enumerate(words) if word.lower in _SEXES]
    if not sexes:
        return
    place = sexes[0]
    begin = place
    while begin and words[begin - 1].lower in _MORE | CONDITIONS | _ONE | _TAKEN:
        begin -= 1
    said = [word.lower for word in words[begin:place]]
    ends = place + 1 == len(words) or is_time_word(words[place + 1].text)
    codes = all(reader.code_of(word) for word in words[:begin])
    if begin == place or not begin or not (ends and codes) or any(word.quoted for word in words):
        return
    how = " ".join(word for word in said if word in CONDITIONS)
    if not _MORE & {*said}:
        if not how:
            return
        here, sex = words[0].text, words[place].lower
        raise PhraseProblem(
            f"another that comes in, or one that is there? As: {here} another {sex} -- {how};"
            f" {here} note {how} {sex}; of a new species: {here} 1 {sex} Boloria dia",
            words[begin],
        )
    reader.aside = how
    words[begin:place] = [Word("another", words[begin].at)]


def last_that_came(reader: Reader, species: str = "") -> FounderIntake | None:
    """The animal that came in last, of a species where one is given, of those in the container of a
    line if one is there; None where none ever came in."""
    founders = {
        code: intake
        for code, intake in reader.bench.founders.items()
        if species in ("", intake.taxon)
    }
    container = reader.bench.at(str(reader.fields.get("container", "")))
    here = {code for lot in container.lots for code in lot.codes} if container else set()
    return next(
        (intake for code, intake in reversed(founders.items()) if code in here),
        next(reversed(founders.values()), None),
    )


def code_is_there(reader: Reader, loose: list[Word]) -> None:
    """Of the words of a line that brings an animal in, that the first is its own code, which is
    easily forgotten, and not its genus.

    Raises:
        PhraseProblem: the words begin with the name of a species.
    """
    first, rest = loose[0].text, [word.text for word in loose[1:]]
    name = first if " " in first else " ".join([first, *rest[:1]])
    if " " not in name or not (_looks_like_a_species(name) or species_named(reader.bench, name)):
        return
    if (
        " " not in first
        and species_named(reader.bench, rest[0])
        and not species_named(reader.bench, name)
    ):
        return  # 'Anna montis': a code, and the epithet of a known species
    last = last_that_came(reader)
    code = code_after(last.code, reader.animals.keys() | reader.codes.keys()) if last else "W1"
    words = [f'"{word.text}"' if word.quoted else word.text for word in reader.words]
    at = reader.words.index(loose[0])
    line = " ".join([*words[:at], code, *words[at:]])
    raise PhraseProblem(
        f"'{name}' is the name of a species, and the animal's own code is missing; as: {line}",
        loose[0],
    )


def _looks_like_a_species(name: str) -> bool:
    genus, epithet = name.split()[:2]
    return (
        len(genus) > 2
        and genus.istitle()
        and genus.isalpha()
        and epithet.isalpha()
        and epithet.islower()
    )
