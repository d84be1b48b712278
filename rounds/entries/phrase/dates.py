"""When it happened, anywhere in a line."""

from __future__ import annotations

import re
from datetime import datetime

from rounds import late
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.synonyms import NUMBER_WORDS, digits_of
from rounds.entries.phrase.times import (
    WHOLE_WEEKDAYS,
    UnclearTime,
    is_date_in_figures,
    is_day_of_month,
    is_month,
    is_time_word,
    is_weekday,
    is_year,
    read_time,
    weekday_in_full,
)
from rounds.entries.phrase.tokens import STOPS, Word, cut, named_value, one_text
from rounds.entries.phrase.values import CLOCK, SPAN, read_from_line
from rounds.entries.schema import FieldSchema, KindSchema

# A day as a label or a letter has it: 20.5., 20/5/26, 2026/05/20, 20-May; with a stop or comma
# behind it.
_DAY_LIKE = late.of_figures(
    r"^(?:\d{1,2}[./-](?:\d{1,2}|[a-z]{3,9}|[ivx]{1,4})(?:[./-](?:\d{2,4})?)?"
    r"|\d{4}[./-]\d{1,2}[./-]\d{1,2})[,.]?$",
    re.IGNORECASE,
)
_AGO = late.pattern(
    r"^(?:(?:about|around|roughly|some) )?"
    rf"(half an|half|an|a|\d+(?:[.,]\d+)?|{'|'.join(sorted(NUMBER_WORDS, reverse=True))})"
    r"( and a half)? ?(m|mins?|minutes?|h|hours?|hrs?|d|days?)( and a half)?$"
)
_LONGEST_AGO = 6  # words of it: about one and a half hours
_PART_OR_ONE = {"half an": "0.5", "half": "0.5", "an": "1", "a": "1"}
_NOON = frozenset({"noon", "midday"})
# A part of a day as it is said, its day, and an hour of it for an example.
_PARTS_OF_DAY = {
    "tonight": ("today", "22:10"),
    "last evening": ("yesterday", "19:30"),
    "last night": ("yesterday", "22:10"),
    "overnight": ("yesterday", "22:10"),
} | {
    f"{day} {part}": ("today" if day == "this" else day, hour)
    for day in ("this", "yesterday", *WHOLE_WEEKDAYS)
    for part, hour in (
        ("morning", "7:20"),
        ("afternoon", "15:30"),
        ("evening", "19:30"),
        ("night", "22:10"),
    )
}
_ISO_DAY = late.of_figures(r"^\d{4}-\d{2}-\d{2}$")
_DAY_AFTER = dict(zip(WHOLE_WEEKDAYS, (*WHOLE_WEEKDAYS[1:], WHOLE_WEEKDAYS[0]), strict=True))
_WHICH_WEEK = frozenset({"last", "next", "this"})
# The light of a day comes at another hour each week: its hour is asked.
_LIGHT = {"dusk": "21:40", "dawn": "5:10", "sunset": "21:20", "sunrise": "5:40"}
_EARLY_OR_LATE = frozenset({"early", "late"})
_HOUR = late.of_figures(r"^(\d{1,2})(?::([0-5]\d))?$")
_BEFORE_AN_HOUR = frozenset({"at", "about", "around", "by"})
_BEFORE_A_CLOCK = frozenset({"at", "about", "around", "ca"})
_HALVES = frozenset({"am", "pm"})
_OF_HALF_A_DAY = late.of_figures(r"^(1[0-2]|0?[1-9])(?::([0-5]\d))?([ap]m)?$")
_POINTED = late.of_figures(r"^([01]?\d|2[0-3])\.([0-5]\d)([,:]?)$")
_NIGHT_ENDS_H = 6  # an hour of the night before it is of the next morning
_ROMAN_MONTHS = frozenset(
    {"i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"}
)


def without_at(word: Word) -> Word:
    """``@20 May``, ``@18:30``: the sign before a time says no more than that it is one."""
    rest = word.text[1:]
    is_time = (
        not word.quoted
        and word.text[:1] == "@"
        and (is_time_word(rest) or is_weekday(rest) or rest.isdecimal())
    )
    return Word(rest, word.at + 1) if is_time else word


def as_times_of_day(words: list[Word]) -> list[Word]:
    """The words with ``last night at 22:10`` as ``yesterday 22:10``, ``this morning at 7`` as
    ``today 7:00``, ``at 7:20`` as ``7:20``, and without ``just now`` at their end."""
    words = _without_light(
        [
            Word("12:00", word.at) if word.lower in _NOON and not word.quoted else word
            for word in words
        ]
    )
    result: list[Word] = []
    place = 0
    while place < len(words):
        if place and [word.lower for word in words[place:]] == ["just", "now"]:
            break
        word, rest = words[place], words[place + 1 :]
        part, length = part_of_day(words[place : place + 2])
        behind = words[place + length :] if part else rest
        at = 1 if behind and not behind[0].quoted and behind[0].lower in _BEFORE_AN_HOUR else 0
        hour = behind[at].lower if behind[at:] and not behind[at].quoted else ""
        if part and _HOUR.match(hour) and (at or ":" in hour):
            result += _of_day(part, hour, word.at)
            place += length + at + 1
        elif part and result and not result[-1].quoted and CLOCK.match(result[-1].lower):
            result[-1:] = _of_day(part, result[-1].lower, result[-1].at)
            place += length
        else:
            is_at = word.lower in _BEFORE_A_CLOCK and not word.quoted and not part
            if not (is_at and rest and not rest[0].quoted and CLOCK.match(rest[0].lower)):
                result.append(word)
            place += 1
    return result


def _without_light(words: list[Word]) -> list[Word]:
    """The words without what an hour beside them says better: ``dusk 21:40``, ``early this
    morning``; what follows stands where these stood."""
    result: list[Word] = []
    begun: int | None = None
    for place, word in enumerate(words):
        behind = words[place + 1 : place + 3]
        of_day = bool(behind) and (
            part_of_day(behind)[0] or behind[0].lower in ("today", "yesterday")
        )
        if word.quoted or not (
            (word.lower in _LIGHT and _clock_first(behind))
            or (word.lower in _EARLY_OR_LATE and (of_day or _clock_first(behind)))
        ):
            result.append(word if begun is None else Word(word.text, begun, word.quoted))
            begun = None
            continue
        begun = word.at if begun is None else begun
        if word.lower in _LIGHT and result and result[-1].lower == "at":
            begun = result.pop().at
    return result


def _clock_first(words: list[Word]) -> bool:
    """Whether a clock time stands there, also behind ``at``."""
    first = words[1:] if words and words[0].lower in _BEFORE_AN_HOUR else words
    return bool(first) and not first[0].quoted and CLOCK.match(first[0].lower) is not None


def words_of(spoken: str) -> list[Word]:
    """The words of a line, its times written as they are read."""
    words = as_times_of_day(as_spans(_clocks([without_at(word) for word in cut(spoken)])))
    return _days_before_clocks(words)


def _clocks(words: list[Word]) -> list[Word]:
    """The words with ``8pm``, ``8:30 pm``, ``20 o'clock``, ``at 18.30`` and ``18.30`` in front as
    clock times."""
    result: list[Word] = []
    place = 0
    while place < len(words):
        word = words[place]
        before = result[-1].lower if result else ""
        after = words[place + 1].lower.replace(".", "") if place + 1 < len(words) else ""
        of_day = word.lower.replace(".", ":") if after in _HALVES else word.lower
        half = _OF_HALF_A_DAY.match(of_day)
        pointed = _POINTED.match(word.lower)
        read = 1
        if half and not word.quoted and (half[3] or after in _HALVES):
            hour, minutes = int(half[1]) % 12, half[2] or "00"
            hour += 12 if (half[3] or after).startswith("p") else 0
            word, read = Word(f"{hour}:{minutes}", word.at), 1 if half[3] else 2
        elif word.text.isdecimal() and after == "o'clock" and int(word.text) > 12:
            word, read = Word(f"{word.text}:00", word.at), 2
        elif pointed and not word.quoted and _is_clock(before, pointed[2], first=not result):
            word = Word(f"{pointed[1]}:{pointed[2]}{pointed[3]}", word.at)
        result.append(word)
        place += read
    return result


def _is_clock(before: str, minutes: str, *, first: bool) -> bool:
    """Whether ``18.30`` behind that word is a clock time: no month has the number of its minutes,
    or no date stands there."""
    no_month = not 1 <= int(minutes) <= 12
    is_day = is_weekday(before) or before in ("today", "yesterday") or is_date_in_figures(before)
    return before in _BEFORE_A_CLOCK or is_day or (first and no_month)


def _days_before_clocks(words: list[Word]) -> list[Word]:
    """The words with ``14:10 13 May`` and ``14:10 on Monday`` as ``13 May 14:10``, the way in which
    a day and its hour are read."""
    result: list[Word] = []
    place = 0
    while place < len(words):
        word, behind = words[place], words[place + 1 :]
        on = 1 if behind and behind[0].lower in ("on", "of") and not behind[0].quoted else 0
        is_clock = not word.quoted and CLOCK.match(word.lower) and ":" in word.text
        length = _day_length(behind[on:]) if is_clock else 0
        after = behind[on + length :]
        if not length or (after and CLOCK.match(after[0].lower)):
            result.append(word)
            place += 1
            continue
        day = [*behind[on : on + length]]
        texts = [*(one.text for one in day), word.text.rstrip(STOPS)]
        if day[-1].text.endswith(","):  # it ends the day, and then its hour
            texts[-2:] = [texts[-2].rstrip(","), f"{texts[-1]},"]
        places = [word.at, *(one.at for one in day)]
        result += [Word(text, at) for text, at in zip(texts, places, strict=True)]
        place += 1 + on + length
    return result


def length_of_time(words: list[Word]) -> int:
    """How many words of a time stand first: ``8 Jun 6:00``, ``yesterday``, ``-2h``."""
    length = _day_length(words)
    clock = words[length] if length < len(words) else None
    if clock and not clock.quoted and (":" in clock.text or not length):
        length += bool(CLOCK.match(clock.lower) if length else is_time_word(clock.lower))
    return length


def time_at_end(words: list[Word], begin: int) -> int:
    """Where the time begins with which the words end, from that word on; how many words there are
    where they end with none."""
    places = range(begin, len(words))
    return next((n for n in places if length_of_time(words[n:]) == len(words) - n), len(words))


def _day_length(words: list[Word]) -> int:
    """How many words of a day stand first: ``yesterday``, ``Monday``, ``13 May 2027``."""
    if not words or words[0].quoted:
        return 0
    first = words[0].lower
    if first in ("today", "yesterday") or weekday_in_full(first) or _ISO_DAY.match(first):
        return 1
    return length_of_date(words[:3])


def part_of_day(words: list[Word]) -> tuple[str, int]:
    """The part of a day that words begin with, and of how many words it is; '' where none does."""
    for length in (2, 1):
        text = " ".join(word.lower for word in words[:length] if not word.quoted)
        if len(words) >= length and text in _PARTS_OF_DAY:
            return text, length
    return "", 0


def _of_day(part: str, hour: str, at: int) -> list[Word]:
    """A part of a day and an hour in it, counted to twelve or to 24, as the words of a time."""
    day, _ = _PARTS_OF_DAY[part]
    found = _HOUR.match(hour)
    assert found is not None
    number = int(found[1])
    of_night = part.endswith("night")
    if of_night and number < _NIGHT_ENDS_H:
        day = _DAY_AFTER.get(day, "today")
    elif not part.endswith("morning") and number < 12:
        number += 12
    return [Word(day, at), Word(f"{number}:{found[2] or '00'}", at)]


def asked_hour(words: list[Word]) -> str:
    """What is asked where words tell of a time that is none yet: a part of a day without its hour,
    dusk, some hours ago. '' where none does."""
    for place, word in enumerate(words):
        part, _ = part_of_day(words[place : place + 2])
        if part:
            day, hour = _PARTS_OF_DAY[part]
            return f"{part} at what time? In place of '{part}' say it as: {day} {hour}"
        if word.quoted:
            continue
        behind = words[place + 1] if place + 1 < len(words) else None
        if word.lower in _WHICH_WEEK and behind and weekday_in_full(behind.text):
            return (
                f"which day is '{word.text} {behind.text}'? Say its date, as: 24 May; {behind.text}"
                " alone is the latest one"
            )
        if word.lower in _LIGHT:
            return f"{word.lower} at what time? Say it as: at {word.lower} {_LIGHT[word.lower]}"
        hour = behind.lower if behind else ""
        ends = place + 2 >= len(words) or is_time_word(words[place + 2].text)
        clock = place + 2 < len(words) and words[place + 2].lower == "o'clock"
        if word.lower == "at" and hour.isdecimal() and int(hour) <= 24 and (ends or clock):
            return _which_half(int(hour))
        if word.text.isdecimal() and hour == "o'clock":
            return _which_half(int(word.text))
        if word.lower == "ago" and place:
            return "how long ago? Say it as: 3 hours ago; or the hour, as: 15:30"
    return ""


def _which_half(hour: int) -> str:
    both = f"{hour}:00, or {hour + 12}:00" if hour < 12 else f"{hour % 24}:00"
    return f"at {hour} by the clock? Say it with its minutes, as: {both}"


def as_spans(words: list[Word]) -> list[Word]:
    """The words with ``20 min ago`` and ``half an hour ago`` as ``-20m`` and ``-30m``."""
    result: list[Word] = []
    for word in words:
        if word.quoted or word.lower != "ago":
            result.append(word)
            continue
        for length in range(_LONGEST_AGO, 0, -1):
            before = result[-length:]
            if len(before) == length and (
                span := _AGO.match(" ".join(one.lower for one in before))
            ):
                said = _PART_OR_ONE.get(span[1]) or digits_of(span[1])
                number = float(said or span[1].replace(",", "."))
                number += 0.5 if span[2] or span[4] else 0
                unit = span[3][0]
                typed = f"-{_plain(number * 60)}m" if unit == "h" else f"-{_plain(number)}{unit}"
                result[-length:] = [Word(typed, before[0].at)]
                break
        else:
            result.append(word)
    return result


def read_time_word(reader: Reader, described: KindSchema, word: Word) -> bool:
    following = reader.ahead(1)
    awaited = reader.awaited
    if reader.better and "place" in reader.fields:
        awaited = "caught"  # 'W3 from Ferny Down on 8 Jun'
    wanted = next(
        (
            field
            for field in described.fields
            if field.shape == "time"
            and (field.required or field.name == awaited)
            and field.name not in reader.fields
        ),
        None,
    )
    weekday = (
        following is not None
        and is_weekday(word.text)
        and (":" in following.text or is_date(reader, 1))
    )
    weekday = weekday or is_date(reader, 0)
    if word.quoted or not (
        weekday
        or is_time_word(word.text)
        or (wanted and (SPAN.match(word.text) or is_weekday(word.text)))
    ):
        return False
    if wanted and SPAN.match(word.text):
        span = read_from_line(reader, wanted, f"+{word.text}")
        if isinstance(span, datetime):
            reader.fields[wanted.name] = span
            reader.place += 1
            return True
    if wanted and (word.text.startswith("+") or not _span_follows(reader)):
        reader.fields[wanted.name] = time_here(reader, wanted)
    else:
        read_when(reader)
    return True


def _span_follows(reader: Reader) -> bool:
    """Whether a span from a time stands behind it, as in ``yesterday 20:00 +24h``: the time is that
    of the line."""
    return any(
        word.text.startswith("+") and not word.quoted for word in reader.words[reader.place + 1 :]
    )


def is_date(reader: Reader, steps: int) -> bool:
    """Whether a day and a month stand there, as ``21 Jun``."""
    day, month = reader.ahead(steps), reader.ahead(steps + 1)
    if day is None or month is None or day.quoted or month.quoted:
        return False
    return day.text.isdecimal() and len(day.text) <= 2 and is_month(month.text)


def date_length(reader: Reader, steps: int) -> int:
    """How many words of a date stand where only a time can: ``21 Jun 2027``, ``Jun 21``, ``21.6.``;
    0 where none does."""
    ahead = (reader.ahead(steps + step) for step in range(3))
    return length_of_date([word for word in ahead if word is not None])


def length_of_date(words: list[Word]) -> int:
    """Of how many words a date is that they begin with; 0 where they begin with none."""
    first, second, third = [*words, None, None, None][:3]
    if first is None or first.quoted:
        return 0
    if second is not None and not second.quoted:
        both = [word.text.rstrip(",") for word in (first, second)]
        if any(is_day_of_month(day) and is_month(month) for day, month in (both, both[::-1])):
            return 3 if third is not None and not third.quoted and is_year(third.lower) else 2
    return 1 if is_date_in_figures(first.text.rstrip(",")) else 0


def time_here(reader: Reader, field: FieldSchema | None = None) -> datetime:
    """The time that stands there, of a field or of the line itself."""
    word = reader.word
    assert word is not None
    before = 1 if is_weekday(word.text) and is_date(reader, 1) else 0  # 'Sat 10 Jul 07:00'
    length = before + (date_length(reader, before) or 1)
    text = " ".join(part.text for step in range(length) if (part := reader.ahead(step)))
    reader.place += length
    following = reader.word
    if following and CLOCK.match(following.lower) and ":" not in text:
        text = f"{text} {following.lower}"
        reader.place += 1
    result = (
        read_from_line(reader, field, text)
        if field
        else read_time(text, now=reader.now, zone=reader.zone)
    )
    if isinstance(result, UnclearTime):
        raise PhraseProblem(result.message, word)
    return result


def read_time_first(reader: Reader) -> None:
    """A time before what happened: ``at 7:20 W4 drank``, ``W4 yesterday 18:10 drank``, ``7:20: K2
    drank``."""
    steps = 1 if reader.said(0, 1) in ("at", "on") else 0
    word, following = reader.ahead(steps), reader.ahead(steps + 1)
    if word is None or word.quoted or following is None:
        return
    is_weekday_of = is_weekday(word.lower) and (
        CLOCK.match(following.lower) or is_date(reader, steps + 1)
    )
    if is_weekday_of or is_date(reader, steps) or is_time_word(word.lower):
        reader.place += steps
        reader.words[reader.place] = Word(word.text.rstrip(STOPS), word.at)
        read_when(reader)


def read_when(reader: Reader) -> None:
    word = reader.word
    if reader.at is not None:
        raise PhraseProblem("two times were given; give one", word)
    if word is not None and CLOCK.match(word.text):
        _no_day_before(reader, word)
    reader.at = time_here(reader)


def _no_day_before(reader: Reader, clock: Word) -> None:
    """No day may have gone into a name before a clock time, which would then be yesterday's or
    today's."""
    words = reader.words[max(0, reader.place - 2) : reader.place]
    if not words or words[-1].quoted:
        return
    named = named_value(words[-1])
    last = named[1] if named else words[-1].text
    into_name = (
        str(reader.fields.get(reader.flow, "")).endswith(last)
        if reader.flow
        else words[-1] in reader.loose
    )
    both = [word.text.strip("@,.").casefold() for word in words]
    of_month = len(both) == 2 and (_is_of_month(*both) or _is_of_month(*reversed(both)))
    if into_name and last.strip("\"'") == last and (of_month or _DAY_LIKE.match(last)):
        day = one_text(words) if of_month else last
        text = "may be a day; as: 20 May 18:30, or 2026-05-20 18:30; in quotes it is part of a name"
        raise PhraseProblem(f"'{day}' before {clock.text} {text}", words[-1])


def _is_of_month(day: str, month: str) -> bool:
    """Whether two words are a day and a month, also in Roman numerals as on a label."""
    return day.isdecimal() and 1 <= int(day) <= 31 and (is_month(month) or month in _ROMAN_MONTHS)


def _plain(number: float) -> str:
    """A number as it is typed in a span, without an exponent."""
    return f"{number:.3f}".rstrip("0").rstrip(".")
