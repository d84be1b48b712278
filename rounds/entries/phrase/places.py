"""Containers, shelves and animals that are named after what happened."""

from __future__ import annotations

import re

from rounds.bench.codes import like_codes
from rounds.entries.phrase.reader import PhraseProblem, Reader, grown_and_moved
from rounds.entries.phrase.subject import put_animal
from rounds.entries.phrase.tokens import Word, one_text
from rounds.entries.phrase.values import LIKE_A_CODE
from rounds.entries.phrase.vocabulary import JOINING, PREPOSITIONS
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import KindSchema


def read_among(reader: Reader, described: KindSchema, word: Word) -> bool:
    """Several codes of which one is meant: ``of W2,W3,W4``, ``one of W2, W3 or W4``, ``W2 or
    W3``."""
    if described.field("among") is None or "among" in reader.fields:
        return False
    steps = 0
    if word.lower == "one" and (of := reader.ahead(1)) and of.lower == "of":
        steps = 1
    if (of := reader.ahead(steps)) and of.lower == "of":
        steps += 1
    several = (
        steps > 0
    )  # a comma alone may join anything; 'of' and 'or' say that it is one of these
    codes: list[str] = []
    while following := reader.ahead(steps):
        codes += [part for part in following.text.split(",") if part]
        steps += 1
        joined = reader.ahead(steps)
        if joined and joined.lower in ("or", "and"):
            steps, several = steps + 1, True
        elif not following.text.endswith(","):
            break
    if not several or len(codes) < 2 or not all(LIKE_A_CODE.match(code) for code in codes):
        return False
    reader.fields["among"] = tuple(codes)
    reader.place += steps
    return True


def read_place_after(reader: Reader, described: KindSchema, word: Word) -> bool:
    """A container or an animal named after what happened: ``fed K2``, ``12 eggs in K4``, ``died
    W3``."""
    step = 1 if word.lower in PREPOSITIONS and not word.quoted else 0
    target = reader.ahead(step)
    if (
        described.name == "set up"
        and "container" not in reader.fields
        and like_codes(word.text.rstrip(","))
    ):
        names = reader.names_in(word)
        reader.targets = (*reader.targets, *((name, "") for name in names))
        if not like_codes(following.text.rstrip(",") if (following := reader.ahead(1)) else ""):
            reader.fields["container"] = reader.targets[0][0]
            reader.targets = reader.targets if len(reader.targets) > 1 else ()
        reader.place += 1
        return True
    codes, length = reader.codes_from(step)
    code, animal = codes[0] if codes else "", reader.animal_of(target)
    if described.field("container") is None or described.name == "set up" or not (code or animal):
        return False
    if (
        animal
        and not code
        and (others := _animals_from(reader, step))
        and len(others) > 1
        and "container" not in reader.fields
    ):
        reader.targets = tuple((reader.where_stands(other, target), other) for other in others)
        length = len(others)
    if (
        described.name == "merged"
        and codes
        and "container" in reader.fields
        and "sources" not in reader.fields
    ):
        reader.fields["sources"] = tuple(codes)
        reader.place += step + length
        return True
    if described.name == "founder" and not (step and code):
        return False  # her own code may be like that of a container
    if code and "container" not in reader.fields and "shelf" not in reader.fields:
        if described.name in ("moved", "split", "merged") and word.lower != "from":
            raise PhraseProblem(
                f"out of {code}, or into it? As: {_as_moved_from(reader, described, code, target)}",
                target,
            )
        reader.fields["container"] = code
        reader.targets = tuple((one, "") for one in codes) if len(codes) > 1 else ()
    elif code and code != reader.fields.get("container"):
        if described.name == "moved":
            raise PhraseProblem(f"to {code}? As: {_with_word(reader, 'to', target)}", target)
        kind = KIND_BY_NAME[described.name]
        before = word if step else reader.words[reader.place - 1]
        if before.lower in ("to", "into") and target and kind.grows_from:
            raise grown_and_moved(reader, kind, target)
        if not step and described.field("instar") is None and not reader.loose and not reader.flow:
            here = reader.fields.get("container") or reader.fields.get("shelf")
            raise PhraseProblem(
                f"{here} or {code}? Say one, or both before what happened, as: {here} {code}"
                " misted",
                target,
            )
        return False
    elif code:
        length = 1
    else:
        named = put_animal(reader, described, animal)
        if not named and "container" in reader.fields:
            return False
        if described.name != "stocked" and "container" not in reader.fields:
            reader.fields["container"] = reader.where_stands(animal, target)
    reader.flow = ""
    reader.place += step + max(1, length)
    return True


def _with_word(reader: Reader, wanting: str, before: Word | None) -> str:
    """The line as it was typed, with a word that it lacks."""
    return " ".join(
        f"{wanting} {word.text}" if word is before else word.text for word in reader.words
    )


def _as_moved_from(reader: Reader, described: KindSchema, code: str, target: Word | None) -> str:
    """The line as it was typed, out of that container and into the other that it names, else into
    one that is there."""
    rest = [
        word
        for word in reader.words
        if word is not target and word.lower not in PREPOSITIONS | {"to", described.name}
    ]
    others = [other for word in rest if (other := reader.code_of(word)) and other != code]
    to = next((one for one in (*others, *reader.codes.values()) if one != code), "K4")
    what = " ".join(word.text for word in rest if not reader.code_of(word))
    here, there = reader.bench.at(code), reader.bench.at(to)
    if here and not here.lots and there and there.lots:
        code, to = to, code
    return f"{code} {described.name} {what or 4} to {to}"


def _animals_from(reader: Reader, step: int) -> list[str]:
    """The founders and broods named one after the other from that word on."""
    texts: list[str] = []
    while animal := reader.animal_of(reader.ahead(step + len(texts))):
        texts.append(animal)
    return texts


def read_end_of_shelf(reader: Reader, described: KindSchema, word: Word) -> bool:
    """What ends the name of a shelf and says nothing of it is asked about."""
    if described.name != "shelf set up" or word.quoted or not reader.loose:
        return False
    if word.lower == "barrier":
        raise PhraseProblem("which barrier? moat, sticky band, grease or closed lid", word)
    if word.lower in PREPOSITIONS:
        name = one_text((*reader.loose, *reader.words[reader.place :]))
        raise PhraseProblem(
            f"'{word.text}' ends the name; in quotes it is part of it: shelf set up '{name}'", word
        )
    return False


def read_shelf(reader: Reader, described: KindSchema, word: Word) -> bool:
    """A shelf that is known, also by a container on it alone: ``set up laying sill``, ``on shelf
    sill``, ``55 % sill``."""
    of_a_cup = described.name in ("set up", "changed")
    of_a_place = described.name == "air" and "container" not in reader.fields
    if not (of_a_cup or of_a_place) or "shelf" in reader.fields or reader.flow:
        return False
    of_cups = {one.shelf.casefold(): one.shelf for one in reader.bench.standing() if one.shelf}
    known = of_cups | reader.shelves
    length = next((length for length in (3, 2, 1) if reader.said(0, length) in known), 0)
    if not length or word.quoted:
        return False
    reader.fields["shelf"] = known[reader.said(0, length)]
    reader.place += length
    return True


def read_code(reader: Reader, described: KindSchema, word: Word) -> bool:
    if described.name == "photo" and "file" not in reader.fields and not reader.loose:
        return False  # the name of a picture may look like a brood's code
    like_a_brood = re.match(r"^[\w.+]+-[\w.+-]+(/\w+)?$", word.text) and any(
        sign.isdigit() for sign in word.text
    )
    if (
        described.field("brood")
        and "brood" not in reader.fields
        and like_a_brood
        and not word.quoted
        and not reader.flow
    ):
        reader.fields["brood"] = word.text.rstrip(",")
        reader.place += 1
        return True
    for length in (2, 1):
        idle = reader.said(0, length) in described.slots.idle
        may_be_a_name = described.slots.is_name and word.text[:1].isupper()  # New Zealand flax
        if idle and not may_be_a_name and not word.quoted and not reader.flow:
            reader.place += length
            return True
    joins = (
        word.lower in JOINING
        and word.text != "A"
        and not word.quoted
        and reader.ahead(1) is not None
    )
    if (
        joins
        and not reader.loose
        and not reader.flow
        and described.name not in ("taxon", "shelf set up")
    ):
        reader.place += 1
        return True
    return False
