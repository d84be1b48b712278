"""Fields said by name, by a leading word, by a preposition or by one of their choices."""

from __future__ import annotations

from datetime import datetime
from itertools import takewhile
from typing import Any

from rounds import late
from rounds.bench.kept_lots import ALL, KEPT_WORDS
from rounds.bench.measures import unit_of
from rounds.entries.names import known_plants
from rounds.entries.phrase.asking import is_it_put_in, plant_at
from rounds.entries.phrase.dates import date_length, is_date, time_here
from rounds.entries.phrase.foreign_words import own_words
from rounds.entries.phrase.reader import JOINS, PhraseProblem, Reader
from rounds.entries.phrase.synonyms import NUMBER_WORDS
from rounds.entries.phrase.times import is_time_word, is_weekday, weekday_in_full
from rounds.entries.phrase.tokens import STOPS, Word, named_value, one_text
from rounds.entries.phrase.values import (
    NAMES_A_PREPOSITION_ENDS,
    NUMBER,
    choice_at,
    field_like,
    known_code,
    longer_choice,
    value_of,
)
from rounds.entries.phrase.verbs import NO_NAMES
from rounds.entries.phrase.vocabulary import FLAGS, OF_SEVERAL_WORDS, PREPOSITIONS
from rounds.entries.place_words import BEGINS_A_PLACE, PLACE_WORDS, reads_like_a_place
from rounds.entries.plant_parts import goes_with_a_part, is_part
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import FieldSchema, KindSchema
from rounds.surroundings.units import celsius_of, in_unit

OF_WHICH = frozenset({"brood", "instar", "sex"})  # fields to which nobody knows is an answer
NOT_KNOWN = "not known"
_OF_ONE_MOMENT = frozenset({"searched", "counted"})
_ARTICLES = frozenset({"a", "an", "the"})
_BATCH = late.pattern(r"^[A-Za-z]{1,2}$")


def _plant_by_itself(reader: Reader, word: Word, plant: str) -> PhraseProblem:
    """A plant goes into a container on a line of its own: ``K7 set up laying host=nettle``."""
    code = str(reader.fields.get("container", "K4"))
    rest = " ".join(one.text for one in reader.words if one is not word)
    named = f'"{plant}"' if " " in plant else plant
    return PhraseProblem(f"one thing a line: {rest}; then {code} host in {named}", word)


def read_named(reader: Reader, described: KindSchema, word: Word) -> bool:
    named = named_value(word)
    if named is None:
        return False
    name, value = named
    reader.place += 1
    field = (
        described.field(name) or described.field(FLAGS.get(name, "")) or described.field(f"{name}s")
    )
    field = field or field_like(described, name)
    if field is None and name == "host":
        field = described.field(KIND_BY_NAME[described.name].names_plant)
    if field is None:
        names = [known.typed for known in described.fields]
        if name in ("host", "plant") and described.name == "set up":
            raise _plant_by_itself(reader, word, value)
        near = late.nearest(name, names, 3, 0.4)
        raise PhraseProblem(
            f"'{described.name}' has no {name}; it takes {', '.join(names)}", word, near
        )
    if field.shape in ("count", "number", "choice") and not _in_quotes(word):
        value = value.rstrip(",")
    _refuse_again(reader, name, value, word)
    if described.field(f"{field.name}_not_known") and _is_not_known(reader, value):
        reader.fields[f"{field.name}_not_known"] = True
        return True
    if name in OF_WHICH and _is_not_known(reader, value):
        if described.field("which") is None:
            raise PhraseProblem(
                f"'{described.name}' is said of a {name} that is known; name it, as {name}=", word
            )
        reader.fields["which"] = NOT_KNOWN
        return True
    if field.name == "lots" and not value:
        raise PhraseProblem("say which lot, as lot=2", word)
    if field.name == "lots" and _is_not_known(reader, value):
        if described.name != "frass":  # of one of them, and it is left open of which
            reader.fields["lots"] = (ALL,)
        return True
    if field.shape == "time" and value and not _in_quotes(word):
        reader.place -= 1
        reader.words[reader.place] = Word(value, word.at)
        reader.fields[field.name] = time_here(reader, field)
        return True
    if field.shape == "choice":
        value = longer_choice(reader, described, field, value)
    with_unit = in_unit(value, unit_of(field.name)) if field.shape == "number" else None
    if with_unit is not None and unit_of(field.name) == "C":
        with_unit = round(with_unit, 2)  # as it is read
    read = value_of(reader, field, value if with_unit is None else f"{with_unit}", word)
    if field.name in OF_SEVERAL_WORDS and field.shape == "words":
        _named_name(reader, field.name, word)
    # depth=9 is in the keeper's unit; depth=9mm and depth_mm=9 are in mm
    short = name not in (field.name, field.typed) and isinstance(read, float) and with_unit is None
    reader.fields[field.name] = reader.measures.metric(field.name, read) if short else read
    return True


def _refuse_again(reader: Reader, name: str, value: str, word: Word) -> None:
    """A field that was given before with another value: which of them holds is asked."""
    given = (named_value(one) for one in reader.words[: reader.place - 1])
    before = next((said for one, said in filter(None, given) if one == name), value)
    if before != value:
        raise PhraseProblem(f"{name} was given twice: {before} and {value}; give one", word)


def refuse_said_otherwise(
    reader: Reader, described: KindSchema, before: dict[str, Any], word: Word | None
) -> None:
    """A number, a day, or yes or no, that was another one before this word: the last does not
    replace the first unsaid, whatever way each was said."""
    for name, said in before.items():
        now = reader.fields.get(name)
        if now == said or word is None:
            continue
        if name in READINGS:
            raise two_readings(reader, word, described.name)
        field = described.field(name)
        if name in _NAMES and isinstance(said, str) and isinstance(now, str):
            if now.startswith(said) or not said:
                continue  # it goes on
            both = " and ".join(one.strip(" ,") for one in (said, now))
            raise PhraseProblem(f"{name} was given twice: {both}; give one", word)
        if field is not None and field.shape in _FIGURES:
            both = " and ".join(map(_shown, (said, now)))
            raise PhraseProblem(f"{field.typed} was given twice: {both}; give one", word)


SURE_IN_A_NAME = "nothing was asked that 'sure' answers; leave it out, or put the name in quotes"


def refuse_sure_in_a_name(reader: Reader, word: Word) -> None:
    """``sure`` at the end of a line that asked nothing: it would become part of a name."""
    if reader.flow in _NAMES and word.lower == "sure" and not word.quoted and not reader.ahead(1):
        raise PhraseProblem(SURE_IN_A_NAME, word)


_NAMES = frozenset({"place", "collector", "taxon", "plant", "permit", "cause", "determiner"})
_FIGURES = frozenset({"count", "number", "time", "yes or no"})
READINGS = frozenset({"temperature_c", "humidity_percent", "low_c", "high_c"})


def _shown(value: object) -> str:
    if isinstance(value, datetime):
        return f"{value:%d %b %Y %H:%M}"
    known = {"True": "yes", "False": "no"}
    return f"{value:g}" if isinstance(value, float) else known.get(str(value), str(value))


def two_readings(reader: Reader, second: Word, what: str) -> PhraseProblem:
    """How two readings in one line are said, the second of which begins with that word."""
    where = str(reader.fields.get("container") or reader.fields.get("shelf") or "room")
    typed = sorted(reader.words, key=lambda one: one.at)
    typed = [one for one in typed if one.lower not in (where.casefold(), "air")]
    parts = (
        [one for one in typed if one.at < second.at],
        [one for one in typed if one.at >= second.at],
    )
    first, then = (one_text(part).rstrip(STOPS) for part in parts)
    air = "air " if what == "air" else ""
    return PhraseProblem(
        f"one reading a line: {where} {air}{first}; then {where} air {then}", second
    )


def _is_not_known(reader: Reader, value: str) -> bool:
    """Whether the answer to which one is that nobody knows: ``brood=not known``."""
    if value.casefold() == "not" and reader.said(0, 1) == "known":
        reader.place += 1
        return True
    return value.casefold() in (NOT_KNOWN, "?")


def _named_name(reader: Reader, name: str, word: Word) -> None:
    """A value in quotes stays as it is; without them the words that follow belong to it too."""
    reader.flow = "" if _in_quotes(word) else name
    if word.text.partition("=")[2][:1] == '"':
        reader.as_written.add(name)


def _in_quotes(word: Word) -> bool:
    return word.text.partition("=")[2][:1] in ("'", '"') and not word.text.endswith("=")


def read_leading(reader: Reader, described: KindSchema, word: Word) -> bool:
    leading = described.slots.leading
    following = reader.ahead(1)
    pair = f"{word.lower} {following.lower}" if following else ""
    length = 2 if pair in leading else 1
    name = leading.get(pair) or leading.get(word.lower)
    target = reader.ahead(length)
    if name is None or word.quoted:
        return False
    if target is None:
        is_of_the_catch = described.name == "founder" and name == "caught"
        reader.place += length if is_of_the_catch else 0
        return is_of_the_catch
    if word.lower == "on" and _is_weekday_in_full(target):
        return False
    is_on = name == "shelf" and word.lower == "on" and target.lower not in reader.shelves
    if is_on and (plant := plant_at(reader, length)):
        raise is_it_put_in(reader, str(reader.fields.get("container", "")), plant, target)
    if is_on and described.name == "set up":
        _ask_shelf_or_plant(reader, target)
    if target.lower != word.lower and leading.get(target.lower) == name:
        reader.place += 1  # 'on shelf sill': the second says it
        return reader.ahead(1) is not None and read_leading(reader, described, target)
    field = described.field(name)
    assert field is not None
    if described.field(f"{name}_not_known") and reader.said(length, 2) == NOT_KNOWN:
        reader.fields[f"{name}_not_known"] = True
        reader.place += length + 2
        return True
    if field.shape == "choice" and not choice_at(reader, described, field, length):
        return False
    if (
        described.name == "shelf set up"
        and field.shape in ("count", "number")
        and not NUMBER.match(target.text)
    ):
        return False  # 'cold room' is a name
    if field.shape == "choice":
        reader.place += length
        return read_choice(reader, described, target)
    if field.shape == "count" and not _as_figure(field, target).isdecimal():
        return False
    is_time = is_time_word(target.text) or is_weekday(target.text) or date_length(reader, length)
    if field.shape == "time" and not (is_time or field.ahead):
        reader.place += length  # 'caught at Tannmoos' says where, not when
        reader.flow, reader.awaited = "", name
        return True
    reader.place += length
    reader.flow = ""
    if field.shape == "time":
        reader.fields[name] = time_here(reader, field)
        return True
    if field.shape == "number":
        number = NUMBER.match(target.text)
        read = value_of(
            reader, field, number.group(1).replace(",", ".") if number else target.text, target
        )
        in_unit = number is not None and number.group(2)
        if in_unit and number and number.group(2).lower() == "f":
            read = celsius_of(float(read))
        reader.fields[name] = read if in_unit else reader.measures.metric(name, read)
        reader.place += 1
        return True
    if name == "into":
        reader.fields[name] = tuple(
            reader.codes.get(code.casefold(), code) for code in reader.names_in(target)
        )
    else:
        reader.fields[name] = value_of(
            reader, field, known_code(reader, _as_figure(field, target).rstrip(",")), target
        )
    reader.place += 1
    if name == "shelf" and not target.quoted and target.lower not in reader.shelves:
        reader.flow = name  # a new one may be of several words: 'on balcony rail'
    return True


def _ask_shelf_or_plant(reader: Reader, target: Word) -> None:
    """Ask whether a word that no shelf is called, and that reads like no place, is a plant: ``set
    up rearing on plantain``.

    Raises:
        PhraseProblem: how either is said.
    """
    behind = reader.words[reader.words.index(target) :]
    of_place = any(one.lower.rstrip(STOPS) in PLACE_WORDS for one in behind)
    is_name = target.text.isalpha() and target.text.islower() and len(target.text) > LONGEST_SHORT
    purpose, code = reader.fields.get("purpose"), reader.fields.get("container", "")
    if target.quoted or of_place or not is_name or purpose not in _ON_A_PLANT:
        return
    line, what = f"{code} set up {purpose}", one_text(behind)
    raise PhraseProblem(
        f"'{target.text}': a new shelf, or a plant? As: {line} shelf={target.text}; or {line}; then"
        f" {code} host in {what}",
        target,
    )


LONGEST_SHORT = 3  # letters of a word that is no name of a plant: 'on top'
_ON_A_PLANT = frozenset({"laying", "rearing", "eggs"})


def _as_figure(field: FieldSchema, word: Word) -> str:
    text = word.text if word.quoted else word.text.rstrip(STOPS)
    return NUMBER_WORDS.get(word.lower, text) if field.shape == "count" else word.text


# Who caught her, behind a place whose name may have a 'by' of its own: 'at Mill lane by KM'.
INITIALS = late.pattern(r"^[A-Z]{2,4},?$")


def read_preposition(reader: Reader, described: KindSchema, word: Word) -> bool:
    """A preposition ends a name, and says what follows it; before a time it says no more."""
    if word.quoted:
        return False
    following = reader.ahead(1)
    if word.lower == "since" and following is not None and _begins_time(reader, following):
        if described.name in _OF_ONE_MOMENT:
            raise PhraseProblem(
                f"'since {following.text}': the time of a line is when they were found; leave it"
                " out if that is now",
                word,
            )
        reader.place += 1
        reader.flow = ""
        return True
    if word.lower not in PREPOSITIONS:
        return False
    if following is None:
        if word.lower == "beside" and described.name == "host in":
            reader.place += 1  # the other plant stays
            return True
        if described.slots.is_name:
            raise PhraseProblem(f"'{word.text}' what? Nothing follows it", word)
        return False
    behind = 2 if following.lower in _ARTICLES and not following.quoted else 1
    if not _is_in_a_name(reader, behind) and any(
        choice_at(reader, described, field, behind)
        for field in described.fields
        if field.shape == "choice"
    ):
        reader.place += behind
        return True
    if word.lower in ("on", "at") and (
        is_date(reader, 1) or _is_weekday_in_full(following)
    ):  # a date is no part of a name or place
        reader.place += 1
        reader.flow = ""
        return True
    _where_it_stands(reader, described, word)
    name = described.slots.after.get(word.lower, "")
    by_whom = word.lower == "by" and described.slots.after.get("by") == "collector"
    ends_it = reader.flow in NAMES_A_PREPOSITION_ENDS or (
        by_whom and INITIALS.match(following.text)
    )
    if reader.flow and not ends_it:
        return False  # free words may have prepositions of their own
    if reader.loose and not described.slots.is_name:
        return False
    if name and name not in reader.fields:
        reader.flow = name
        is_plant = name == KIND_BY_NAME[described.name].names_plant
        reader.place += behind if is_plant and reader.ahead(behind) is not None else 1
        if following.quoted:
            reader.as_written |= {name} if following.double else set()
        return True
    if described.slots.is_name and (reader.loose or reader.flow):
        raise PhraseProblem(
            f"'{word.text}' ends the name, and '{described.name}' takes no '{word.text}"
            f" {following.text}'; put the whole name in quotes, or say it after --",
            word,
        )
    return False


def _where_it_stands(reader: Reader, described: KindSchema, word: Word) -> None:
    """Ask for the shelf where a line of a container or its plant ends with words like a place: ``by
    the window``."""
    if described.name not in ("set up", "changed", "host in"):
        return
    where = one_text(reader.words[reader.place :])
    if reads_like_a_place(where, known_plants(reader.bench)) and word.lower in BEGINS_A_PLACE:
        here = reader.fields.get("container", "K4")
        before = one_text(reader.words[: reader.place])
        as_shelf = f"{before} shelf='{where}'"
        raise PhraseProblem(
            f"'{where}': where it stands? As: {before}; then {here} changed shelf='{where}'"
            if described.name == "host in"
            else f"'{where}': where it stands? As: {as_shelf}",
            word,
        )


def _begins_time(reader: Reader, word: Word) -> bool:
    return not word.quoted and bool(
        is_time_word(word.text) or is_weekday(word.text) or date_length(reader, 1)
    )


def _is_weekday_in_full(word: Word) -> bool:
    return not word.quoted and weekday_in_full(word.text)


def read_choice(reader: Reader, described: KindSchema, word: Word) -> bool:
    if described.name == "host in" and _begins_a_plant(reader, word):
        return False
    before = reader.words[reader.place - 1].lower if reader.place else ""
    if (reader.flow or before in PREPOSITIONS) and _is_in_a_name(reader, 0):
        return False
    for field in described.fields:
        if field.shape != "choice" or field.name in reader.fields:
            continue
        if word.lower == "both" and field.name == "wings" and "number" not in reader.fields:
            continue  # two of them, whatever their wings
        found = choice_at(reader, described, field, 0)
        if found:
            reader.fields[field.name] = found[0]
            reader.place += found[1]
            reader.flow = ""
            return True
    return False


def _is_in_a_name(reader: Reader, steps: int) -> bool:
    """Whether a word with a capital stands beside another with one in a name that a line gives, as
    both of ``Dry Hill``: it is part of that, and says nothing else."""
    place = reader.place + steps
    word, following = reader.ahead(steps), reader.ahead(steps + 1)
    before = reader.words[place - 1] if place else None
    if word is None or not _has_capital(word):
        return False
    if _has_capital(following):
        return True
    return _has_capital(before) and word.lower not in NO_NAMES  # 'from Dry Hill Female'


def _has_capital(word: Word | None) -> bool:
    return word is not None and not word.quoted and word.text.rstrip(STOPS).istitle()


def _begins_a_plant(reader: Reader, word: Word) -> bool:
    """Whether a way to keep a plant begins its name: ``water mint``, ``tree of heaven``."""
    following = reader.ahead(1)
    if reader.loose or following is None:
        return False
    return reader.said(0, 2) == "tree of" or (word.lower == "water" and _is_a_name(following))


def read_flag(reader: Reader, described: KindSchema, word: Word) -> bool:
    """A flag alone says yes: ``protected``, ``cannibalistic``; ``crippled`` says so of the one that
    emerged."""
    for length in (4, 3, 2, 1):
        text = reader.said(0, length)
        name = FLAGS.get(text, text.replace(" ", "_"))
        field = described.field(name) if text else None
        if field is not None and field.shape == "yes or no":
            reader.fields[name] = True
            reader.place += length
            reader.flow = ""
            return True
    if (
        described.field("crippled")
        and reader.said(0, 1) == "crippled"
        and "crippled" not in reader.fields
    ):
        if reader.fields.get("number", 1) != 1 and not reader.said(1, 1).isdecimal():
            many = " ".join(
                str(reader.fields[name]) for name in ("number", "sex") if name in reader.fields
            )
            raise PhraseProblem(
                f"how many of them are crippled? As: emerged {many} 1 crippled", reader.word
            )
        number = reader.said(1, 1)
        reader.fields["crippled"] = int(number) if number.isdecimal() else 1
        reader.place += 1 + number.isdecimal()
        return True
    return False


def read_part(reader: Reader, described: KindSchema, word: Word) -> bool:
    """A part of the plant behind its name, ``violet flower buds``, or before it, ``buds of the
    violet``."""
    if described.field("part") is None or "part" in reader.fields or word.quoted:
        return False
    words = _part_here(reader)
    following = reader.ahead(len(words))
    if following and following.lower == "of" and reader.loose:  # 'and buds of teasel'
        words = [*takewhile(lambda one: one.lower not in JOINS, words)]
        following = reader.ahead(len(words))
    if not words:
        return False
    if not reader.loose and "plant" not in reader.fields:
        is_first = (
            following is None
            or following.lower in {"of"} | PREPOSITIONS
            or is_time_word(following.text)
            or not following.text[:1].islower()
        )
        if not is_first and len(words) == 1:
            return False
    if reader.loose and reader.loose[-1].lower in KEPT_WORDS:
        return False  # 'old stems kept' tells of those that came out
    if reader.loose and _another_follows(reader, words[-1], following):
        reader.loose += words  # 'violet leaf and vetchling': of the first alone
        reader.place += len(words)
        return True
    reader.fields["part"] = " ".join(part.lower for part in words)
    if reader.loose and words[-1].text.endswith(","):  # it ends the plant that the part is of
        plant = reader.loose[-1]
        reader.loose[-1] = Word(f"{plant.text},", plant.at, plant.quoted, plant.double)
    reader.place += len(words)
    return True


def _another_follows(reader: Reader, last: Word, following: Word | None) -> bool:
    """Whether another plant is named behind a part: ``violet leaf, vetchling``."""
    if following and not following.quoted and following.lower in JOINS:
        behind = reader.words.index(following) + 1
        following = reader.words[behind] if behind < len(reader.words) else None
    elif not last.text.endswith(","):
        return False
    return following is not None and not reader.code_of(following) and _is_a_name(following)


def _is_a_name(word: Word) -> bool:
    """Whether a word is none by which a line says something else."""
    own = named_value(word) or word.lower.rstrip(",") in own_words()
    return word.quoted or not (own or any(map(str.isdigit, word.text)))


def _part_here(reader: Reader) -> list[Word]:
    """The words of a part of a plant that begin here, also ``leaf, bud and flower``."""
    words: list[Word] = []
    while (word := reader.ahead(len(words))) and not word.quoted:
        behind = reader.ahead(len(words) + 1)
        joins = words and word.lower in ("and", "&") and behind and is_part([behind.lower])
        if not (joins or goes_with_a_part(word.text)):
            break
        words.append(word)
        another = behind is not None and not behind.quoted and is_part([behind.lower])
        if word.text.endswith(",") and not (another and reader.said(len(words) + 1, 1) != "of"):
            break
    return words if is_part([word.lower for word in words]) else []


def read_batch(reader: Reader, described: KindSchema, word: Word) -> bool:
    """A batch letter said bare, as ``host out A`` and ``host in violet B``: a capital, or one that
    is there."""
    if (
        described.field("batch") is None
        or "batch" in reader.fields
        or word.quoted
        or not _BATCH.match(word.text)
    ):
        return False
    container = reader.bench.at(str(reader.fields.get("container", "")))
    there = (
        {host.batch for host in container.hosts} | {held.batch for held in container.held}
        if container
        else set()
    )
    letter = word.text.upper()
    following = reader.ahead(1)
    article = (
        word.text.islower()
        and following is not None
        and not (named_value(following) or following.lower in PREPOSITIONS)
    )
    if article or (letter not in there and (len(letter) > 1 or word.text.islower())):
        return False
    if described.name == "host in" and not reader.loose:
        return False
    reader.fields["batch"] = letter
    reader.place += 1
    return True
