"""What a line of animals that come in says of their record beside name and place: coordinates, who
caught them, under which permit, in which country. Such a word ends any name before it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, tzinfo
from typing import Any

from msgspec import Struct

from rounds import late
from rounds.bench.state import Bench
from rounds.entries.arrivals import names_by_mark
from rounds.entries.phrase.by_permit import read_permit
from rounds.entries.phrase.dates import is_date, words_of
from rounds.entries.phrase.fields import INITIALS, read_named, refuse_sure_in_a_name
from rounds.entries.phrase.foreign_words import CATCHES
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.synonyms import NUMBER_WORDS
from rounds.entries.phrase.times import is_month, is_time_word, is_weekday
from rounds.entries.phrase.tokens import STOPS, Word, named_value, one_text
from rounds.entries.phrase.vocabulary import PREPOSITIONS
from rounds.entries.registry import FounderIntake
from rounds.entries.schema import describe
from rounds.entries.slots import each
from rounds.surroundings.coordinates import Coordinates, coarse_coordinates_at, coordinates_in

# What is said of a record behind a word of its own, and the field that it is.
_BARE = {
    "collector": "collector",
    "collectors": "collector",
    "leg": "collector",
    "legit": "collector",
    "country": "country",
    "province": "province",
}
BARE_FIELDS = frozenset(_BARE) | {"lat", "lon"}
_NAMED = each(
    "collector country province latitude lat longitude lon long uncertainty uncertainty_m permit"
    " wear inspected mark place found_on caught"
)
_WEAR = each("fresh slight worn very")
_ADULTS = each("female females male males adult adults")
_HEIGHT = each("alt altitude elevation elev")
_WEATHER = each(
    "sunny sun cloudy clouds overcast windy wind calm rain rainy raining dry humid hazy bright warm"
    " hot cool breeze breezy"
)
_METRES = late.pattern(r"^(\d{1,4})(m?),?$")
MAX_ADULTS = 20  # so many metres are no males of one container
_BEFORE_A_PLACE = each("at near from in")
_NO_PLACE_BEHIND = PREPOSITIONS | CATCHES | each("since laid cut")
_BESIDE_MALES = each("f female females and + &")
_LIKE_A_GENUS = late.pattern(r"^[A-Z](?:[a-z]{2,}|[a-z]?\.)")
_ONE_FEMALE = late.pattern(r"^\d+f(?:emales?)?$")
_DAY_AND_CLOCK = late.pattern(
    r"((?:0?[1-9]|[12]\d|3[01])\.(?:0?[1-9]|1[0-2]))\s+((?:[01]?\d|2[0-3])\.[0-5]\d)(?!\d)"
)
_A_NAME = late.pattern(r"^[^\W\d_]\.?")


class OnRecord(Struct, frozen=True):
    """The rest of a line, the fields of a record that it said, how high the place lies and what the
    weather was as it was typed, all of these words, and what is not clear of them."""

    rest: str
    fields: dict[str, Any]
    height: str = ""
    weather: str = ""
    typed: str = ""
    unclear: str = ""


def name_what_is_said(reader: Reader) -> None:
    """Read what is still to be read of a record as named words."""
    reader.words[reader.place :] = as_named(reader.words[reader.place :], reader.spoken)


def as_named(words: Sequence[Word], text: str) -> list[Word]:
    """The words with what is said of a record as named ones: ``collector FN`` as ``collector=FN``,
    ``46.5531 6.0712`` as ``latitude=46.5531 longitude=6.0712``.

    Args:
        text: in which the words stand where they say.

    Raises:
        PhraseProblem: coordinates are beyond their range, or not whole.
    """
    result: list[Word] = []
    words = _with_coordinates(words, text)
    place = 0
    while place < len(words):
        word, behind = words[place], words[place + 1 : place + 2]
        field = _BARE.get(word.text.rstrip(".:")) if not word.quoted else None
        name = behind[0] if behind else None
        if word.lower == "wear" and name and name.lower in _WEAR and not word.quoted:
            result.append(Word(f"wear={name.text}", word.at))
            place += 1
        elif name and not name.quoted and _is_mark(word, name):
            result.append(
                Word(f"mark={name.text.rstrip(STOPS)}{',' * name.text.endswith(',')}", word.at)
            )
            place += 1
        elif name and (reach := _reach(word, words[place + 1 : place + 3])):
            result.append(Word(f"uncertainty_m={name.text.rstrip('m')}", word.at))
            place += reach
        elif field and name and (name.quoted or _begins_a_name(name.text)):
            value = f'"{name.text}"' if name.quoted else name.text
            result.append(Word(f"{field}={value}", word.at))
            place += 1
        else:
            result.append(word)
        place += 1
    return result


def _is_mark(word: Word, name: Word) -> bool:
    """Whether a mark by which one is known again stands behind its word: ``mark red``."""
    said = not word.quoted and word.text in ("mark", "marked")
    return said and name.lower not in PREPOSITIONS | {"with", "as"} and names_by_mark(name.lower)


def _reach(word: Word, behind: Sequence[Word]) -> int:
    """Of how many words an uncertainty in m is, behind its own: ``uncertainty 100 m``."""
    if word.lower != "uncertainty" or word.quoted or not _METRES.match(behind[0].text):
        return 0
    return 2 if len(behind) > 1 and behind[1].lower == "m" else 1


def _begins_a_name(text: str) -> bool:
    return bool(_A_NAME.match(text)) and text[0].isupper()


def _with_coordinates(words: Sequence[Word], text: str) -> list[Word]:
    begins = words[0].at if words else 0
    shown = _without_quotes(words, text[:begins].replace(" -- ", "    ") + text[begins:])
    try:
        found = coordinates_in(" " * begins + shown[begins:]) or _coarse(words, shown)
    except ValueError as unclear:
        raise PhraseProblem(str(unclear), words[0]) from None
    if found is None:
        return [*words]
    named = [
        Word(f"{name}={value:.10g}", found.begin)
        for name, value in (
            ("latitude", found.latitude),
            ("longitude", found.longitude),
            ("uncertainty_m", found.uncertainty_m),
        )
        if value is not None
    ]
    before = [word for word in words if word.at < found.begin]
    return [*before, *named, *(word for word in words if word.at >= found.end)]


def _coarse(words: Sequence[Word], text: str) -> Coordinates | None:
    """Coordinates of few decimals, which are that behind the name of a place alone.

    Raises:
        PhraseProblem: they may be a day and a time as well.
    """
    for place, word in enumerate(words[1:], 1):
        if word.quoted or not _behind_a_place(words, place):
            continue
        found = coarse_coordinates_at(text, word.at + word.text.startswith("("))
        if found is None:
            continue
        if day := _DAY_AND_CLOCK.match(text, found.begin):
            raise PhraseProblem(
                f"'{day[0]}': coordinates, or when it was caught? As: lat {day[1]} lon {day[2]};"
                f" or: caught {day[1]} {day[2].replace('.', ':')}",
                word,
            )
        return found
    return None


def _without_quotes(words: Sequence[Word], text: str) -> str:
    """A text of the same length, with nothing where a quoted name or a note stands."""
    for word in words:
        if word.quoted or '="' in word.text or "='" in word.text:
            end = word.at + len(word.text) + 2 * word.quoted
            text = text[: word.at] + "_" * (end - word.at) + text[end:]
    noted = text.find(" -- ")
    return text if noted < 0 else text[:noted] + " " * (len(text) - noted)


def set_record_apart(text: str, *, now: datetime, zone: tzinfo, bench: Bench) -> OnRecord:
    """A line that says what came in, without what it says of their record."""
    words = words_of(text)
    described = describe(FounderIntake)
    try:
        named = as_named(words, text)
        reader = Reader(named, now, zone, {}, {}, bench)
        kept: list[tuple[int, int]] = []
        heights: list[str] = []
        weather: list[str] = []
        while (word := reader.word) is not None and word.text != "--":
            begin, height = reader.place, ""
            field = named_value(word)
            of_record = field is not None and field[0] in _NAMED
            if (
                (of_record and read_named(reader, described, word))
                or (not word.quoted and read_permit(reader, described, word))
                or _read_wear(reader)
                or (height := _height_here(reader))
            ):
                heights += [height] if height else []
                _rest_of_name(reader)
                kept.append((begin, reader.place))
            elif of_weather := _weather_here(reader):
                reader.place += len(of_weather)
                weather.append(one_text(of_weather).strip(STOPS))
                kept.append((begin, reader.place))
            else:
                reader.place += 1
    except PhraseProblem as problem:
        return OnRecord(text, {}, unclear=problem.unclear.message)
    if not kept:
        return OnRecord(text, {})
    said = {
        name: value.rstrip(" ,") if isinstance(value, str) else value
        for name, value in reader.fields.items()
    }
    if len({"latitude", "longitude"} & said.keys()) == 1:
        return OnRecord(text, {}, unclear="latitude and longitude belong together; give both")
    typed = " ".join(one.text for begin, end in kept for one in reader.words[begin:end])
    rest = _without(text, reader.words, kept)
    return OnRecord(rest, said, ", ".join(heights), ", ".join(weather), typed)


def _weather_here(reader: Reader) -> list[Word]:
    """The words behind a comma that tell of the weather, up to the next comma or what says another
    thing: ``, sunny 22 C``, ``, wind 2 Bft``."""
    word, place = reader.word, reader.place
    before = reader.words[place - 1] if place else None
    if word is None or word.quoted or not before or not before.text.endswith((",", ";")):
        return []
    if word.lower not in _WEATHER:
        return []
    end = place + 1
    while end < len(reader.words) and not reader.words[end - 1].text.endswith((",", ";")):
        following = reader.words[end]
        if following.quoted or following.lower in PREPOSITIONS | CATCHES | {"permit", "--"}:
            break
        end += 1
    return reader.words[place:end]


def _height_here(reader: Reader) -> str:
    """How high the place lies, which is read: ``1240 m``, ``1240m a.s.l.``, ``alt. 50 m``; so many
    are no males. '' where it is not said."""
    named = bool(reader.place) and (reader.said(0, 1) in _HEIGHT)
    word, following = reader.ahead(named), reader.ahead(named + 1)
    found = _METRES.match(word.text) if word and not word.quoted and reader.place else None
    if not found:
        return ""
    bare = not found[2] and following is not None and following.text in ("m", "m,", "metres")
    high = int(found[1]) > MAX_ADULTS or (
        _behind_a_place(reader.words, reader.place) and not _beside_animals(reader, 1 + bare)
    )
    if not (named or (high and (found[2] or bare))):
        return ""
    reader.place += named + 1 + bare
    if reader.said(0, 1) in ("asl", "a.s.l"):
        reader.place += 1
    elif reader.said(0, 3) == "above sea level":
        reader.place += 3
    return f"{found[1]} m"


def _behind_a_place(words: Sequence[Word], place: int) -> bool:
    """Whether the name of a place is what was said last before that word: ``at Heath``."""
    for begin in range(place - 1, -1, -1):
        if words[begin].lower in _NO_PLACE_BEHIND and not words[begin].quoted:
            name = words[begin + 1]
            named = name.quoted or name.text[:1].isalpha()
            return words[begin].lower in _BEFORE_A_PLACE and begin + 1 < place and named
    return False


def _beside_animals(reader: Reader, length: int) -> bool:
    """Whether so many words are males, by what stands beside them: females, or a species."""
    before, behind = reader.words[reader.place - 1], reader.ahead(length)
    after = reader.ahead(length + 1)
    if (
        behind
        and _LIKE_A_GENUS.match(behind.text)
        and not (is_weekday(behind.lower) or is_month(behind.lower))
    ):
        return True
    return any(
        one.lower in _BESIDE_MALES or _ONE_FEMALE.match(one.lower)
        for one in (before, behind, after if behind and behind.text.isdecimal() else None)
        if one is not None
    )


def _read_wear(reader: Reader) -> bool:
    """How worn the adults of a line are, where they are of one kind: ``worn female``, ``..., very
    worn``; what is said of some of them, or of their plant, is not."""
    length = 2 if reader.said(0, 2) in ("very worn", "slightly worn") else 1
    said = reader.said(0, length)
    following = reader.ahead(length)
    last = reader.ahead(length - 1)
    before = reader.words[reader.place - 1] if reader.place else None
    if (
        said not in ("very worn", "slightly worn", "worn", "fresh")
        or "wear" in reader.fields
        or not before
    ):
        return False
    assert last is not None
    ends = (
        following is None
        or last.text.endswith(",")
        or following.lower in PREPOSITIONS | CATCHES
        or _begins_a_name(following.text)  # 'fresh Ried': of her, and a place
    )
    of_them = before.lower in _ADULTS or (following is not None and following.lower in _ADULTS)
    behind = {word.lower for word in reader.words[: reader.place] if not word.quoted}
    of_others = before.lower in ("them", "and", "slightly", "not") or (
        not of_them
        and (
            before.text.isdecimal()
            or before.lower in NUMBER_WORDS
            or (said == "fresh" and "on" in behind and not before.text.endswith(","))
        )
    )
    kinds = sum(word.lower in _ADULTS for word in reader.words if not word.quoted)
    if kinds != 1 or of_others or not (ends or of_them):
        return False
    reader.fields["wear"] = "slight" if said == "slightly worn" else said
    reader.place += length
    return True


def _rest_of_name(reader: Reader) -> None:
    """Read on what belongs to a name of several words: up to a comma, or a word that says something
    else."""
    while reader.flow and (word := reader.word) is not None and not _ends(reader, word):
        refuse_sure_in_a_name(reader, word)
        reader.fields[reader.flow] = f"{reader.fields[reader.flow]} {word.text}"
        reader.place += 1
    reader.flow = ""


def _ends(reader: Reader, word: Word) -> bool:
    before = reader.words[reader.place - 1].text
    if before.endswith(","):
        return not INITIALS.match(word.text)
    return (
        word.quoted
        or word.text in ("--", ",")
        or word.lower in PREPOSITIONS | CATCHES | {"permit", "under", "worn", "fresh", "wear"}
        or named_value(word) is not None
        or is_time_word(word.lower)
        or is_date(reader, 0)
    )


def _without(text: str, words: Sequence[Word], spans: Sequence[tuple[int, int]]) -> str:
    """A text without some of its words; a comma behind them stays."""
    for begin, end in reversed(spans):
        before, at_end = text[: words[begin].at].rstrip(), end >= len(words)
        after = "" if at_end else text[words[end].at :]
        cut_off = text[words[begin].at : len(text) if at_end else words[end].at].rstrip()
        comma = "," if cut_off.endswith(",") and not before.endswith(",") and after else ""
        text = f"{before}{comma} {after}".rstrip(" ,;") if after else before.rstrip(" ,;")
    return text
