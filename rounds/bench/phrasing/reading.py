"""Reading a typed line: a container, what happened, numbers, choices, names, when, and a note."""

from __future__ import annotations

import re
from collections.abc import Collection
from datetime import datetime, tzinfo
from difflib import get_close_matches
from typing import Any

from msgspec import Struct, field

from rounds.bench import kinds as k
from rounds.bench.described import Described, FieldDescribed, describe
from rounds.bench.kinds import KIND_BY_NAME
from rounds.bench.kinds.base import Entry, Here
from rounds.bench.measures import METRIC, Measures, celsius_of
from rounds.bench.phrasing.everyday import everyday
from rounds.bench.phrasing.grammar import (
    AFTER_DASHES,
    ALL_TEXT,
    FLAGS,
    JOINING,
    LEADING,
    NUMBERS,
    PARTS,
    SHORT,
    UNITS,
    WORDS,
)
from rounds.bench.phrasing.times import Unclear, is_time_word, is_weekday, read_time
from rounds.bench.phrasing.words import Word, cut, named_value, some_of

_LOW_AND_HIGH = re.compile(r"^(-?\d+(?:[.,]\d+)?)/(-?\d+(?:[.,]\d+)?)$")
_NUMBER = re.compile(r"^([-+]?\d+(?:[.,]\d+)?)([a-z%]*)$", re.IGNORECASE)
_AGO = re.compile(r"^-(?:\d+(?:\.\d+)?(?:d|h|m|min))+$")
_LIKE_A_CODE = re.compile(r"^(?!L\d{1,2}$)(?=.*\d)(?=.*[^\W\d])[\w.+/-]+$")
_INSTAR = re.compile(r"^L(\d{1,2})$", re.IGNORECASE)
VERBS: dict[str, str] = {name: name for name in KIND_BY_NAME} | {
    "setup": "set up",
    "moat": "barrier",
    "topped": "topped up",
    "washed": "hands washed",
    "washed hands": "hands washed",
    "droppings": "frass",
    "found dead": "died",
    "eclosed": "emerged",
    "do not disturb": "leave be",
    "skip": "skipped",
    "strike": "struck",
    "confirmed": "searched",
    "not eggs": "searched",
}
# What a verb says besides its kind.
_SAID_BY_VERB: dict[str, dict[str, Any]] = {
    "confirmed": {"confirmed": True},
    "not eggs": {"confirmed": True, "found": 0},
}


class Draft(Struct, frozen=True):
    """What was typed, read: the kind, when it happened where that was said, and its fields."""

    kind: type[Entry]
    at: datetime | None
    fields: dict[str, Any]


class _Trouble(Exception):
    def __init__(self, unclear: Unclear) -> None:
        super().__init__(unclear.message)
        self.unclear = unclear


class _Reader(Struct):
    """The words still to read, and what was read so far."""

    words: list[Word]
    now: datetime
    zone: tzinfo
    codes: dict[str, str]
    shelves: dict[str, str]
    measures: Measures = METRIC
    place: int = 0
    at: datetime | None = None
    fields: dict[str, Any] = field(default_factory=dict)
    loose: list[Word] = field(default_factory=list)
    numbers: int = 0

    @property
    def word(self) -> Word | None:
        """The word to read next."""
        return self.words[self.place] if self.place < len(self.words) else None

    def ahead(self, steps: int) -> Word | None:
        """The word that many after the next."""
        place = self.place + steps
        return self.words[place] if place < len(self.words) else None


def read_phrase(
    text: str,
    *,
    now: datetime,
    zone: tzinfo,
    codes: Collection[str],
    shelves: Collection[str],
    measures: Measures = METRIC,
) -> Draft | Unclear:
    """What a typed line says, or in one line what is not clear. It never raises, whatever the text.

    ``measures`` are the units of numbers typed without one.
    """
    spoken, _, after = text.partition(" -- ")
    if text.startswith("-- "):
        spoken, after = "", text[3:]
    reader = _Reader(
        cut(spoken),
        now,
        zone,
        {code.casefold(): code for code in codes},
        {shelf.casefold(): shelf for shelf in shelves},
        measures,
    )
    try:
        place = _read_place(reader)
        kind = _read_verb(reader, place)
        described = describe(kind)
        _put_place(reader, kind, described, place)
        if described.name in ALL_TEXT:
            _read_all_text(reader, described, spoken)
        if described.name == "setting":
            _read_setting(reader, spoken)
        while reader.word is not None:
            _read_word(reader, described)
        _place_loose(reader, described)
        _put_after(reader, described, after.strip())
        _wanting(reader, described, len(text))
    except _Trouble as trouble:
        return trouble.unclear
    return Draft(kind, reader.at, reader.fields)


def _unclear(message: str, word: Word | None = None, suggestions: tuple[str, ...] = ()) -> _Trouble:
    return _Trouble(Unclear(message, word.at if word else 0, suggestions))


def _read_place(reader: _Reader) -> tuple[str, str]:
    word = reader.word
    if word is None:
        raise _unclear("nothing was typed; as: L2 drank")
    lower = word.lower
    following = reader.ahead(1)
    if lower == "room" and following:
        reader.place += 1
        return "room", ""
    if lower == "shelf" and following and following.lower in reader.shelves and _verb_at(reader, 2):
        reader.place += 2
        return "shelf", reader.shelves[following.lower]
    if lower == "shelf" and following and _verb_at(reader, 2) and not _verb_at(reader, 0):
        known = ", ".join(sorted(reader.shelves.values())) or "none yet"
        near = tuple(get_close_matches(following.lower, reader.shelves.values(), n=3, cutoff=0.4))
        raise _unclear(f"no shelf is called {following.text}; there is {known}", following, near)
    if lower in reader.codes and not _only_a_verb(reader, word):
        reader.place += 1
        return "container", reader.codes[lower]
    if lower in reader.shelves and _verb_at(reader, 1):
        reader.place += 1
        return "shelf", reader.shelves[lower]
    if not _verb_at(reader, 0) and _verb_at(reader, 1):
        reader.place += 1
        return "unknown", word.text
    return "", ""


def _only_a_verb(reader: _Reader, word: Word) -> bool:
    return word.lower in VERBS and not _verb_at(reader, 1)


def _verb_at(reader: _Reader, steps: int) -> tuple[str, int] | None:
    """The longest verb that begins at that word, and how many words it is."""
    for length in (3, 2, 1):
        parts = [reader.ahead(steps + place) for place in range(length)]
        if any(part is None or part.quoted for part in parts):
            continue
        said = " ".join(part.lower for part in parts if part).replace("-", " ")
        if said in VERBS:
            return VERBS[said], length
    return None


def _read_verb(reader: _Reader, place: tuple[str, str]) -> type[Entry]:
    found = _verb_at(reader, 0)
    if found:
        words = [reader.ahead(place) for place in range(found[1])]
        reader.fields.update(_SAID_BY_VERB.get(" ".join(word.lower for word in words if word), {}))
        reader.place += found[1]
        return KIND_BY_NAME[found[0]]
    word = reader.word
    if word is None:
        raise _unclear(f"what happened with {place[1] or 'it'}? As: {place[1] or 'L2'} drank")
    near = everyday(word.text, place[0])
    near = near or tuple(get_close_matches(word.lower, VERBS, n=3, cutoff=0.5))
    near = near or tuple(get_close_matches(word.lower, [*reader.codes.values()], n=3, cutoff=0.5))
    raise _unclear(f"'{word.text}' is not something that happens here", word, near)


def _put_place(reader: _Reader, kind: type[Entry], described: Described, place: tuple[str, str]) -> None:
    what, code = place
    if what == "container" or (what == "unknown" and kind is k.SetUp):
        if described.field("container") is None:
            raise _unclear(f"'{described.name}' is not said of one container; leave {code} out")
        reader.fields["container"] = code
    elif what == "shelf":
        if described.field("shelf") is None or issubclass(kind, Here):
            raise _unclear(f"'{described.name}' is not said of a shelf; give a container")
        reader.fields["shelf"] = code
    elif what == "unknown":
        if described.field("container") is not None:
            near = tuple(get_close_matches(code, reader.codes.values(), n=3, cutoff=0.4))
            raise _unclear(
                f"no container is called {code}; there are {some_of(sorted(reader.codes.values()))}", reader.words[0], near
            )
        raise _unclear(f"'{code}' does not fit before '{described.name}'", reader.words[0])
    elif issubclass(kind, Here) and what != "room":
        raise _unclear(f"say which container first, as: {next(iter(reader.codes.values()), 'L2')} {described.name}")
    elif what == "room" and kind not in (k.Air, k.LoggerRead):
        raise _unclear(f"'{described.name}' is not said of the room; give a container")


def _read_all_text(reader: _Reader, described: Described, spoken: str) -> None:
    word = reader.word
    if word is not None and is_time_word(word.text) and reader.ahead(1) is not None:
        _read_when(reader)
        word = reader.word
    if word is not None:
        reader.fields[ALL_TEXT[described.name]] = spoken[word.at :].strip()
    reader.place = len(reader.words)


def _read_setting(reader: _Reader, spoken: str) -> None:
    """A setting's name, then its value to the end of the line; or ``name=value``. Only ``-20m`` after a value is a time: a
    setting may itself be a time of day.
    """
    word = reader.word
    if word is None or word.text.startswith(("name=", "value=")):
        return
    named = named_value(word)
    following = reader.ahead(1)
    reader.fields["name"] = named[0] if named else word.text
    value = spoken[following.at :].strip() if following else ""
    before, _, last = value.rpartition(" ")
    if before and _AGO.match(last):
        found = read_time(last, now=reader.now, zone=reader.zone)
        if isinstance(found, datetime):
            reader.at, value = found, before.strip()
    reader.fields["value"] = named[1] if named else value.strip("\"'")
    reader.place = len(reader.words)


def _read_word(reader: _Reader, described: Described) -> None:
    word = reader.word
    assert word is not None
    for read in (
        _read_named,
        _read_among,
        _read_leading,
        _read_choice,
        _read_time_word,
        _read_low_and_high,
        _read_number,
        _read_part,
        _read_code,
    ):
        if read(reader, described, word):
            return
    reader.loose.append(word)
    reader.place += 1


def _read_named(reader: _Reader, described: Described, word: Word) -> bool:
    named = named_value(word)
    if named is None:
        return False
    name, value = named
    reader.place += 1
    one = described.field(name) or described.field(FLAGS.get(name, "")) or described.field(f"{name}s")
    one = one or _field_like(described, name)
    if one is None:
        names = [known.name for known in described.fields]
        near = tuple(get_close_matches(name, names, n=3, cutoff=0.4))
        raise _unclear(f"'{described.name}' has no {name}; it takes {', '.join(names)}", word, near)
    if one.shape == "time" and reader.word is not None and re.match(r"^\d{1,2}:\d{2}$", reader.word.text) and value:
        value = f"{value} {reader.word.text}"
        reader.place += 1
    read = _value(reader, one, value, word)
    short = name != one.name and isinstance(read, float)  # depth=9 is in the keeper's unit, depth_mm=9 is in mm
    reader.fields[one.name] = reader.measures.metric(one.name, read) if short else read
    return True


def _field_like(described: Described, name: str) -> FieldDescribed | None:
    fits = [one for one in described.fields if one.name.rsplit("_", 1)[0] == name and one.shape in ("number", "count")]
    return fits[0] if len(fits) == 1 else None


def _short(described: Described, name: str) -> str:
    """A field's name as it may be typed: without its unit, where that is enough."""
    short = name.rsplit("_", 1)[0]
    return short if "_" in name and _field_like(described, short) else name


def _read_among(reader: _Reader, described: Described, word: Word) -> bool:
    """Several codes of which one is meant: ``of W2,W3,W4``, ``one of W2, W3 or W4``, ``W2 or W3``."""
    if described.field("among") is None or "among" in reader.fields:
        return False
    steps = 0
    if word.lower == "one" and (of := reader.ahead(1)) and of.lower == "of":
        steps = 1
    if (of := reader.ahead(steps)) and of.lower == "of":
        steps += 1
    several = steps > 0  # a comma alone may join anything; 'of' and 'or' say that it is one of these
    codes: list[str] = []
    while following := reader.ahead(steps):
        codes += [part for part in following.text.split(",") if part]
        steps += 1
        joined = reader.ahead(steps)
        if joined and joined.lower in ("or", "and"):
            steps, several = steps + 1, True
        elif not following.text.endswith(","):
            break
    if not several or len(codes) < 2 or not all(_LIKE_A_CODE.match(code) for code in codes):
        return False
    reader.fields["among"] = tuple(codes)
    reader.place += steps
    return True


def _read_leading(reader: _Reader, described: Described, word: Word) -> bool:
    leading = LEADING.get(described.name, {})
    following = reader.ahead(1)
    pair = f"{word.lower} {following.lower}" if following else ""
    length = 2 if pair in leading else 1
    name = leading.get(pair) or leading.get(word.lower)
    target = reader.ahead(length)
    if name is None or target is None or word.quoted:
        return False
    one = described.field(name)
    assert one is not None
    if one.shape == "choice" and not _choice_at(reader, one, length):
        return False
    if one.shape == "choice":
        reader.place += length
        return _read_choice(reader, described, target)
    reader.place += length
    if one.shape == "time":
        reader.fields[name] = _time_here(reader, ahead=True)
        return True
    reader.fields[name] = _value(reader, one, _known_code(reader, target.text.rstrip(",")), target)
    reader.place += 1
    return True


def _known_code(reader: _Reader, text: str) -> str:
    parts = [reader.codes.get(part.casefold(), part) for part in text.split(",")]
    return ",".join(parts)


def _choice_at(reader: _Reader, one: FieldDescribed, steps: int) -> tuple[str, int] | None:
    for length in (3, 2, 1):
        parts = [reader.ahead(steps + place) for place in range(length)]
        if any(part is None or part.quoted for part in parts):
            continue
        said = " ".join(part.lower for part in parts if part)
        for form in (said, SHORT.get(said, said)):
            if form in one.choices:
                return form, length
    return None


def _read_choice(reader: _Reader, described: Described, word: Word) -> bool:
    del word
    for one in described.fields:
        if one.shape != "choice" or one.name in reader.fields:
            continue
        found = _choice_at(reader, one, 0)
        if found:
            reader.fields[one.name] = found[0]
            reader.place += found[1]
            return True
    return _read_flag(reader, described)


def _read_flag(reader: _Reader, described: Described) -> bool:
    """A fact that is yes or no, named alone: yes. It may be of several words."""
    flags = {one.name.replace("_", " "): one.name for one in described.fields if one.shape == "yes or no"}
    for length in (3, 2, 1):
        parts = [reader.ahead(place) for place in range(length)]
        if any(part is None or part.quoted for part in parts):
            continue
        said = " ".join(part.lower for part in parts if part).replace("_", " ")
        name = flags.get(FLAGS.get(said, said).replace("_", " "))
        if name:
            reader.fields[name] = True
            reader.place += length
            return True
    return False


def _read_time_word(reader: _Reader, described: Described, word: Word) -> bool:
    following = reader.ahead(1)
    weekday = following is not None and is_weekday(word.text) and ":" in following.text
    if word.quoted or not (weekday or is_time_word(word.text)):
        return False
    wanted = next(
        (one for one in described.fields if one.shape == "time" and one.required and one.name not in reader.fields),
        None,
    )
    if wanted:
        reader.fields[wanted.name] = _time_here(reader, ahead=True)
    else:
        _read_when(reader)
    return True


def _time_here(reader: _Reader, *, ahead: bool) -> datetime:
    word = reader.word
    assert word is not None
    following = reader.ahead(1)
    text = word.text
    reader.place += 1
    if following and re.match(r"^\d{1,2}:\d{2}$", following.text) and ":" not in word.text:
        text = f"{text} {following.text}"
        reader.place += 1
    found = read_time(text, now=reader.now, zone=reader.zone, ahead=ahead)
    if isinstance(found, Unclear):
        raise _unclear(found.message, word)
    return found


def _read_when(reader: _Reader) -> None:
    word = reader.word
    if reader.at is not None:
        raise _unclear("two times were given; give one", word)
    reader.at = _time_here(reader, ahead=False)


def _read_low_and_high(reader: _Reader, described: Described, word: Word) -> bool:
    """Lowest and highest in one word, as ``15/24``: the way in which the round takes them."""
    found = _LOW_AND_HIGH.match(word.text)
    fields = [described.field(name) for name in ("low_c", "high_c")]
    if not found or word.quoted or not all(fields):
        return False
    for one, text in zip(fields, found.groups(), strict=True):
        assert one is not None
        reader.fields[one.name] = reader.measures.metric(one.name, _value(reader, one, text.replace(",", "."), word))
    reader.place += 1
    return True


def _read_number(reader: _Reader, described: Described, word: Word) -> bool:
    instar = _INSTAR.match(word.text)
    if instar and described.field("instar") and "instar" not in reader.fields:
        reader.fields["instar"] = int(instar.group(1))
        stage = described.field("stage")
        if stage and "stage" not in reader.fields:
            reader.fields["stage"] = "larva"
        reader.place += 1
        return True
    several = described.field("numbers")
    if several and "numbers" not in reader.fields and re.match(r"^\d+(,\d+)*$", word.text):
        reader.fields["numbers"] = _value(reader, several, word.text, word)
        reader.place += 1
        return True
    found = _NUMBER.match(word.text)
    if not found or word.quoted:
        return False
    number, unit = found.group(1), found.group(2).lower()
    reader.place += 1
    following = reader.word
    if not unit and following and following.lower == "fl" and (ounces := reader.ahead(1)) and ounces.lower == "oz":
        reader.place += 1
        following = ounces
    if not unit and following and following.lower in UNITS and _unit_field(reader, described, following.lower):
        unit = following.lower
        reader.place += 1
    if unit == "f" and described.field("temperature_c"):
        reader.fields["temperature_c"] = celsius_of(float(number.replace(",", ".")))
        return True
    name = _unit_field(reader, described, unit) if unit else _next_number(reader, described)
    if name is None:
        if unit:
            raise _unclear(f"'{word.text}': '{described.name}' takes no number in {unit}", word)
        raise _unclear(f"'{described.name}' takes no more numbers; {word.text} does not fit", word)
    one = described.field(name)
    assert one is not None
    factor = UNITS[unit][1] if unit else 1.0
    read = _value(reader, one, number.replace(",", "."), word, factor)
    reader.fields[name] = read if unit else reader.measures.metric(name, read)
    return True


def _unit_field(reader: _Reader, described: Described, unit: str) -> str | None:
    names = UNITS.get(unit, ((), 1.0))[0]
    return next((name for name in names if described.field(name) and name not in reader.fields), None)


def _next_number(reader: _Reader, described: Described) -> str | None:
    return next((name for name in NUMBERS.get(described.name, ()) if name not in reader.fields), None)


def _read_part(reader: _Reader, described: Described, word: Word) -> bool:
    if described.field("part") is None or word.lower not in PARTS or "part" in reader.fields or word.quoted:
        return False
    following = reader.loose
    if not following and "plant" not in reader.fields:
        return False
    tender = following and following[-1].lower == "tender"
    if tender:
        reader.loose.pop()
    reader.fields["part"] = f"tender {word.lower}" if tender else word.lower
    reader.place += 1
    return True


def _read_code(reader: _Reader, described: Described, word: Word) -> bool:
    if described.name == "photo" and "file" not in reader.fields and not reader.loose:
        return False  # the name of a picture may look like a brood's code
    if described.field("brood") and "brood" not in reader.fields and re.match(r"^[\w.+]+-[\w.+-]+(/\w+)?$", word.text):
        reader.fields["brood"] = word.text
        reader.place += 1
        return True
    joins = word.lower in JOINING and not word.quoted and reader.ahead(1) is not None
    if joins and not reader.loose and described.name not in ("taxon", "shelf set up"):
        reader.place += 1
        return True
    return False


def _place_loose(reader: _Reader, described: Described) -> None:
    if not reader.loose:
        return
    open_fields = [name for name in WORDS.get(described.name, ()) if name not in reader.fields]
    if not open_fields:
        word = reader.loose[0]
        near = tuple(get_close_matches(word.lower, _all_choices(described), n=3, cutoff=0.5))
        takes = ", ".join(_short(described, one.name) for one in described.fields if one.name != "container")
        raise _unclear(f"'{word.text}' does not fit '{described.name}'; it takes {takes or 'nothing more'}", word, near)
    if len(open_fields) == 1:
        reader.fields[open_fields[0]] = " ".join(word.text for word in reader.loose).strip()
        return
    reader.fields[open_fields[0]] = reader.loose[0].text.rstrip(",")
    rest = " ".join(word.text for word in reader.loose[1:]).strip()
    if rest:
        reader.fields[open_fields[1]] = rest


def _all_choices(described: Described) -> list[str]:
    return [choice for one in described.fields for choice in one.choices] + list(PARTS)


def _put_after(reader: _Reader, described: Described, after: str) -> None:
    if not after:
        return
    for name in AFTER_DASHES:
        one = described.field(name)
        if one and one.shape == "words" and name not in reader.fields:
            reader.fields[name] = after
            return
    raise _unclear(f"'{described.name}' takes no words after --; say them as a note of their own")


def _wanting(reader: _Reader, described: Described, end: int) -> None:
    for one in described.fields:
        if one.required and reader.fields.get(one.name, "") == "" and one.name != "container":
            if one.name == "found" and (reader.fields.get("unsure") or any(":" in lot for lot in reader.fields.get("lots", ()))):
                reader.fields["found"] = 0
                continue
            if one.name == "found" and reader.fields.get("confirmed"):
                continue  # all of them: the bench knows how many
            if one.name == "number" and described.name not in ("counted", "permit"):
                reader.fields["number"] = 1
                continue
            hint = f": {', '.join(one.choices)}" if one.choices else (f" ({one.help})" if one.help else "")
            raise _Trouble(Unclear(f"'{described.name}' needs {one.name.replace('_', ' ')}{hint}", end, one.choices))


def _value(reader: _Reader, one: FieldDescribed, text: str, word: Word, factor: float = 1.0) -> Any:
    match one.shape:
        case "count" | "number":
            return _as_number(one, text, word, factor)
        case "choice":
            said = text.casefold()
            as_written = {choice.casefold(): choice for choice in one.choices}
            said = as_written.get(said) or SHORT.get(said, said)
            if said not in one.choices and (said or one.required):
                near = tuple(get_close_matches(said, one.choices, n=3, cutoff=0.4))
                raise _unclear(f"{one.name} is '{text}'; it can be {', '.join(one.choices)}", word, near)
            return said
        case "time":
            found = read_time(text, now=reader.now, zone=reader.zone, ahead=one.required)
            if isinstance(found, Unclear):
                raise _unclear(f"{one.name}: {found.message}", word)
            return found
        case "yes or no":
            if text.casefold() not in ("yes", "no", "true", "false", "on"):
                raise _unclear(f"{one.name} is '{text}'; it can be yes or no", word)
            return text.casefold() in ("yes", "true", "on")
        case "codes":
            return tuple(part.strip() for part in text.split(",") if part.strip())
        case "numbers":
            return tuple(int(_as_number(one, part, word, 1.0)) for part in text.split(",") if part.strip())
        case _:
            return text


def _as_number(one: FieldDescribed, text: str, word: Word, factor: float) -> float:
    try:
        value = float(text)
    except ValueError:
        said = f"is '{text}'" if text else "is still empty"
        raise _unclear(f"{one.name.replace('_', ' ')} {said}; it must be a number", word) from None
    if value != value or abs(value) > 1e12:
        raise _unclear(f"{one.name.replace('_', ' ')} is {text}; it must be a number of ordinary size", word)
    if value < 0 and not one.name.endswith(("_c", "itude")):
        raise _unclear(f"{one.name.replace('_', ' ')} is {text}; it cannot be below zero", word)
    value *= factor
    if one.shape == "count" or one.shape == "numbers":
        if value != int(value):
            raise _unclear(f"{one.name.replace('_', ' ')} is {text}; it must be a whole number", word)
        return int(value)
    return value
