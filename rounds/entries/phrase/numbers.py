"""Numbers in a line, bare or with a unit, and the field that each goes to."""

from __future__ import annotations

import re

from rounds import late
from rounds.bench.codes import INSTAR
from rounds.entries.climate import ROOM_C
from rounds.entries.phrase.beginning import begins_at
from rounds.entries.phrase.fields import READINGS, two_readings
from rounds.entries.phrase.reader import ALL, JOINS, PhraseProblem, Reader, one_a_line
from rounds.entries.phrase.synonyms import ANIMALS, NUMBER_WORDS, digits_of
from rounds.entries.phrase.tokens import STOPS, Word, one_text
from rounds.entries.phrase.values import (
    NAMES_A_PREPOSITION_ENDS,
    NUMBER,
    choice_at,
    field_like,
    text_of,
    value_of,
)
from rounds.entries.phrase.vocabulary import NOTHING, PREPOSITIONS, SAID_BY_NAME, UNITS
from rounds.entries.schema import FieldSchema, KindSchema
from rounds.surroundings.units import celsius_of

_LOW_AND_HIGH = late.pattern(r"^(-?\d+(?:[.,]\d+)?)/(-?\d+(?:[.,]\d+)?)$")


def read_low_and_high(reader: Reader, described: KindSchema, word: Word) -> bool:
    """Lowest and highest, as ``15/24``, the way in which the round takes them, or ``15 to 24``;
    after ``temperature`` too."""
    fields = [described.field(name) for name in ("low_c", "high_c")]
    if word.quoted or not all(fields):
        return False
    step = 1 if word.lower in ("temperature", "temp") else 0
    low, to, high = (reader.ahead(step + further) for further in range(3))
    is_range = (
        to is not None and high is not None and to.lower == "to" and not (to.quoted or high.quoted)
    )
    texts = [one.text.rstrip(STOPS) for one in (low, high if is_range else None) if one is not None]
    match = _LOW_AND_HIGH.match("/".join(texts))
    if not match:
        return False
    for field, text in zip(fields, match.groups(), strict=True):
        assert field is not None
        reader.fields[field.name] = reader.measures.metric(
            field.name, value_of(reader, field, text.replace(",", "."), word)
        )
    reader.place += step + (3 if is_range else 1)
    return True


def read_of(reader: Reader, described: KindSchema, word: Word) -> bool:
    """``2 of 3``: how many there are beside how many did; ``all``; ``each`` of several
    containers."""
    if word.quoted:
        return False
    of = reader.ahead(1)
    if (
        word.lower == "of"
        and of
        and of.lower.isdecimal()
        and "number" in reader.fields
        and (described.name in ("drank", "refused") or _are_there(reader, int(of.lower)))
    ):
        reader.of = int(of.lower)
        reader.place += 2
        return True
    if word.lower == "each":
        reader.each = True
        reader.place += 1
        return True
    number = described.field("number")
    if (
        word.lower == ALL
        and number
        and number.shape == "count"
        and "number" not in reader.fields
        and not reader.flow
    ):
        reader.fields["number"] = ALL
        reader.place += 1
        return True
    return False


def _are_there(reader: Reader, number: int) -> bool:
    """Whether so many are on record where a line is said of: ``13 of 14 seen``."""
    container = reader.bench.at(str(reader.fields.get("container", "")))
    return container is not None and sum(lot.number for lot in container.lots) == number


def read_by_its_name(reader: Reader, described: KindSchema, word: Word) -> bool:
    """A field's own name before its value, as ``wear fresh``, ``volume 350 ml``: it ends the name
    or place before it."""
    field = described.field(word.lower.replace("-", "_")) or field_like(described, word.lower)
    value = reader.ahead(1)
    if word.quoted or field is None or field.name in reader.fields or value is None:
        return False
    if field.name == "taxon" or (value.quoted and field.name in NAMES_A_PREPOSITION_ENDS):
        return _read_name(reader, field, value)
    if value.quoted:
        return False
    if field.name == "mark" and described.slots.is_name and value.lower not in PREPOSITIONS:
        reader.fields["mark"] = value.text.rstrip(STOPS)
        reader.place += 2
        reader.flow = ""
        return True
    if (
        field.shape == "choice"
        and field.name in SAID_BY_NAME
        and not choice_at(reader, described, field, 1)
    ):
        value_of(reader, field, value.text, value)  # it is refused with what it can be
    if field.shape == "choice" and (found := choice_at(reader, described, field, 1)):
        reader.fields[field.name] = found[0]
        reader.place += 1 + found[1]
        reader.flow = ""
        return True
    figure = NUMBER.match(value.text.rstrip(","))
    if (
        field.shape not in ("number", "count")
        or figure is None
        or field.name == _next_number(reader, described)
    ):
        return False
    reader.place += 2
    unit, after = figure.group(2).lower(), reader.word
    if not unit and after and field.name in UNITS.get(after.lower, ((), 1.0))[0]:
        unit = after.lower
        reader.place += 1
    if unit and field.name not in UNITS.get(unit, ((), 1.0))[0]:
        raise PhraseProblem(f"'{value.text}': {word.lower} takes no number in {unit}", value)
    read = value_of(
        reader, field, figure.group(1).replace(",", "."), value, UNITS[unit][1] if unit else 1.0
    )
    reader.fields[field.name] = read if unit else reader.measures.metric(field.name, read)
    reader.flow = ""
    return True


def _read_name(reader: Reader, field: FieldSchema, value: Word) -> bool:
    """A name behind the name of its field, as ``taxon 'Boloria dia'``: in quotes it is whole,
    without them it goes on up to what ends a name."""
    if reader.flow and reader.flow not in NAMES_A_PREPOSITION_ENDS:
        return False  # a word of a free text
    reader.flow = "" if value.quoted else field.name
    reader.place += 1
    if value.quoted:
        reader.fields[field.name] = value.text
        reader.as_written |= {field.name} if value.double else set()
        reader.place += 1
    return True


def read_number(reader: Reader, described: KindSchema, word: Word) -> bool:
    instar = INSTAR.match(word.text.rstrip(","))
    if instar and described.field("instar") and "instar" not in reader.fields:
        reader.fields["instar"] = int(instar.group(1))
        stage = described.field("stage")
        if stage and "stage" not in reader.fields:
            reader.fields["stage"] = "larva"
        reader.place += 1
        return True
    if instar and not reader.flow and described.name == "stocked" and not word.quoted:
        before, again = reader.fields.get("instar"), int(instar.group(1))
        if before not in (None, again):
            raise PhraseProblem(f"one instar a line: L{before} or L{again}; say each alone", word)
    several = described.field("numbers")
    if several and "numbers" not in reader.fields and re.match(r"^\d+(,\d+)*$", word.text):
        reader.fields["numbers"] = value_of(reader, several, word.text, word)
        reader.place += 1
        return True
    text = word.text.rstrip(",")
    wanted = _next_number(reader, described)
    of_stems = wanted == "sprigs" and word.text[:1].islower() and word.lower != "both"  # plants
    if (wanted in ("number", "found") or of_stems) and not word.quoted and not reader.flow:
        text = NUMBER_WORDS.get(word.lower, text)
        text = "0" if word.lower in NOTHING and described.name in ("searched", "counted") else text
    following = reader.ahead(1)
    if word.lower in NUMBER_WORDS and following is not None and _counts(described, following):
        text = NUMBER_WORDS[word.lower]  # 'for five minutes'
    match = NUMBER.match(text)
    if not match or word.quoted:
        return False
    number, unit = match.group(1), match.group(2).lower()
    if reader.flow and not unit and not _unit_follows(reader, described):
        return _number_in_words(reader, described, word)
    reader.place += 1
    following = reader.word
    if (
        not unit
        and following
        and following.lower == "fl"
        and (ounces := reader.ahead(1))
        and ounces.lower == "oz"
    ):
        reader.place += 1
        following = ounces
    if described.name == "barrier" and following and following.lower in ("ant", "ants"):
        behind = reader.ahead(1)
        if behind and behind.lower in ("below", "above"):  # 'low, 2 ants below'
            reader.place += 1
            following = behind
    leads = (
        following is not None
        and following.lower in described.slots.leading
        and NUMBER.match(text_of(reader.ahead(1)))
    )
    inches_no = (
        following and following.lower == "in" and reader.code_of(reader.ahead(1))
    )  # 'low 4 in K2'
    if (
        not unit
        and following
        and following.lower in UNITS
        and _unit_field(reader, described, following.lower)
        and not inches_no
        and not leads
    ):
        unit = following.lower
        reader.place += 1
    if unit == "f" and described.field("temperature_c"):
        reader.fields["temperature_c"] = celsius_of(float(number.replace(",", ".")))
        return True
    name = _unit_field(reader, described, unit) if unit else _next_number(reader, described)
    if name == "temperature_c" and not unit and _is_humidity(reader, number):
        name = "humidity_percent"
    if name is None:
        if described.name == "light" and unit in ("", "c", "f"):
            if not unit and following and following.lower in ("c", "f"):
                unit = following.lower
                reader.place += 1
            degrees = float(number.replace(",", "."))  # a reading beside it
            celsius = reader.measures.celsius(degrees) if not unit else degrees
            reader.fields["temperature_c"] = celsius_of(degrees) if unit == "f" else celsius
            return True
        if described.name == "drank" and unit == "%":
            reader.loose.append(word)  # of the food that was offered
            return True
        if READINGS & {*UNITS.get(unit, ((), 1.0))[0]} & reader.fields.keys():
            raise two_readings(reader, word, described.name)
        if described.name == "host in" and (second := _second_plant(reader, word)):
            raise PhraseProblem(second, word)
        if unit:
            raise PhraseProblem(
                f"'{word.text}': '{described.name}' takes no number in {unit}", word
            )
        if following and (
            begins_at(reader, following)
            or (following.lower in ANIMALS and described.name != "emerged")  # sexes of those before
            or INSTAR.match(following.lower)
            or following.lower in ("left", "alive", "remaining")
        ):
            raise one_a_line(reader, word)
        raise PhraseProblem(
            f"'{described.name}' takes no more numbers; {word.text} does not fit", word
        )
    field = described.field(name)
    assert field is not None
    factor = UNITS[unit][1] if unit else 1.0
    read = value_of(reader, field, number.replace(",", "."), word, factor)
    reader.fields[name] = read if unit else reader.measures.metric(name, read)
    return True


def _second_plant(reader: Reader, word: Word) -> str:
    """How two plants are said, each with so many stems, ``nettle 2 stems, dock 3 stems``; '' of any
    other line."""
    code, plants = reader.fields.get("container"), reader.loose
    typed = sorted(reader.words, key=lambda one: one.at)
    at = next((n for n, one in enumerate(typed) if one.at == word.at), 0)
    first = next((n for n, one in enumerate(typed[:at]) if n and digits_of(one.lower)), 0)
    begin = first + 1
    while begin < at and typed[begin].lower in _COUNTED_OR_JOINED:
        begin += 1
    if not (code and first and plants and begin < at):
        return ""
    end = begin - sum(one.lower in JOINS for one in typed[first:begin])
    line = " ".join(one.text for one in typed[:end] if one.text != code).rstrip(STOPS)
    changed = "host changed" if reader.fields.get("changed") else "host in"
    of_first = line.partition(" in ")[2] if " in " in line else line.removeprefix("changed ")
    second = one_text(typed[begin:at])
    return (
        f"one plant a line: {code} {changed} {of_first.removeprefix('host ')}; then {code} host in"
        f" {second} {word.text.rstrip(STOPS)} stems"
    )


_COUNTED_OR_JOINED = {word for word, (names, _) in UNITS.items() if "sprigs" in names} | JOINS


def _unit_follows(reader: Reader, described: KindSchema) -> bool:
    following = reader.ahead(1)
    return following is not None and bool(_unit_field(reader, described, following.lower))


def _number_in_words(reader: Reader, described: KindSchema, word: Word) -> bool:
    """A number after a place or source belongs to those words, once the number that the kind wants
    was said."""
    name = _next_number(reader, described)
    if name:
        raise PhraseProblem(
            f"is {word.text} the {name.replace('_', ' ')}, or does it belong to the words before"
            " it? Say it first",
            word,
        )
    return False


def _counts(described: KindSchema, word: Word) -> bool:
    """Whether a word is a unit here, and not what is said of another, as ``kept`` of a plant."""
    fields = map(described.field, UNITS.get(word.lower, ((), 1.0))[0])
    return word.lower in UNITS and not any(one and one.shape == "choice" for one in fields)


def _unit_field(reader: Reader, described: KindSchema, unit: str) -> str | None:
    """The field of a number with that unit; a field of one word among several takes none."""
    for name in UNITS.get(unit, ((), 1.0))[0]:
        field = described.field(name)
        if field is not None and field.shape != "choice" and name not in reader.fields:
            return name
    return None


def _is_humidity(reader: Reader, number: str) -> bool:
    """Whether a number beside the lowest and highest that were read can only be of moisture."""
    highest = reader.fields.get("high_c", reader.fields.get("low_c"))
    read = reader.measures.celsius(float(number.replace(",", ".")))
    return highest is not None and read > max(ROOM_C[1], highest)


def _next_number(reader: Reader, described: KindSchema) -> str | None:
    return next((name for name in described.slots.numbers if name not in reader.fields), None)
