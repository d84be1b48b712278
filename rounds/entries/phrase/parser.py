"""Reading a typed line: a container, what happened, numbers, choices, names, when, and a note."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime, tzinfo

from rounds import late
from rounds.bench.measures import METRIC, Measures
from rounds.bench.state import Bench
from rounds.entries.phrase.beginning import read_beginning
from rounds.entries.phrase.by_permit import read_permit, species_of_permit
from rounds.entries.phrase.counted_leaves import refuse_counted_leaves
from rounds.entries.phrase.dates import (
    asked_hour,
    is_date,
    read_time_word,
    read_when,
    words_of,
)
from rounds.entries.phrase.fields import (
    read_batch,
    read_choice,
    read_flag,
    read_leading,
    read_named,
    read_part,
    read_preposition,
    refuse_said_otherwise,
    refuse_sure_in_a_name,
)
from rounds.entries.phrase.foreign_words import refuse_bare_author, refuse_foreign_words
from rounds.entries.phrase.from_to import put_end, set_end_aside
from rounds.entries.phrase.leftover import (
    ask_for_what_is_wanting,
    end_of_name,
    place_loose,
    put_after,
)
from rounds.entries.phrase.new_cups import with_new
from rounds.entries.phrase.numbers import read_by_its_name, read_low_and_high, read_number, read_of
from rounds.entries.phrase.on_kept_stems import (
    read_kept_stems,
    read_where_the_old_go,
)
from rounds.entries.phrase.passes import BEFORE_THE_VERB, OF_A_KIND
from rounds.entries.phrase.places import (
    read_among,
    read_code,
    read_end_of_shelf,
    read_place_after,
    read_shelf,
)
from rounds.entries.phrase.reader import Draft, PhraseProblem, Reader
from rounds.entries.phrase.same_again import same_again
from rounds.entries.phrase.spelling_out import check_second_sex
from rounds.entries.phrase.subject import begins_anew
from rounds.entries.phrase.times import (
    UnclearTime,
    is_time_word,
    is_weekday,
    read_time,
    weekday_in_full,
)
from rounds.entries.phrase.tokens import Word, cut, named_value
from rounds.entries.phrase.values import times_from_line
from rounds.entries.phrase.vocabulary import OF_SEVERAL_WORDS
from rounds.entries.registry import (
    KIND_BY_NAME,
    HostIn,
)
from rounds.entries.schema import KindSchema, describe

_AGO = late.pattern(r"^-(?:\d+(?:\.\d+)?(?:d|h|m|min))+$")
_BEHIND_A_NAME = late.pattern(r"(?:\s+(?:-|\u2013|\u2014|a|an|the))+$")
_NOTHING = Bench()


def read_phrase(
    text: str,
    *,
    now: datetime,
    zone: tzinfo,
    codes: Collection[str],
    shelves: Collection[str],
    measures: Measures = METRIC,
    bench: Bench = _NOTHING,
) -> Draft | UnclearTime:
    """What a typed line says, or in one line what is not clear.

    It never raises, whatever the text.     ``measures`` are the units of numbers typed without one;
    ``bench`` says what an everyday word means where it depends     on what stands there, and which
    animals have which codes.
    """
    reader = _reader(text, now, zone, codes, shelves, measures, bench)
    try:
        for rewrite in BEFORE_THE_VERB:
            rewrite(reader)
        kind = read_beginning(reader, noted=bool(reader.after))
        described = describe(kind)
        reader.kind, reader.slots = kind, described.slots
        check_second_sex(reader, described)
        for rewrite in OF_A_KIND.get(kind, ()):
            rewrite(reader)
        if kind.names_species:
            refuse_bare_author(reader)
        is_text = described.slots.text or described.name == "setting"
        if not is_text and (asked := asked_hour(reader.words)):
            return UnclearTime(asked)
        if described.slots.text:
            _read_all_text(reader, described)
        if described.name == "setting":
            _read_setting(reader)
        lasted = set_end_aside(reader, described)
        while reader.word is not None:
            _read_once(reader, described)
        put_end(reader, described, lasted)
        species_of_permit(reader, described)
        place_loose(reader, described)
        _end_with_no_comma(reader)
        same_again(reader, described)
        reader.set_aside(end_of_name(reader, described), reader.after)
        note = put_after(reader, described, reader.aside)
        ask_for_what_is_wanting(reader, described, len(text))
        refuse_foreign_words(reader, described)
        if kind is HostIn:
            refuse_counted_leaves(reader)
        times_from_line(reader)
    except PhraseProblem as trouble:
        asked = asked_hour(reader.words)
        return UnclearTime(asked) if asked else with_new(reader, trouble.unclear)
    return Draft(
        kind,
        reader.at,
        reader.fields,
        reader.targets,
        note,
        frozenset(reader.as_written),
        reader.each,
        reader.of,
        reader.new,
        reader.left_out,
        reader.better,
        reader.refused,
        reader.second_sex,
        reader.on_kept_stems,
        reader.looked,
    )


def without_begun(
    text: str,
    begun: str,
    *,
    now: datetime,
    zone: tzinfo,
    codes: Collection[str],
    shelves: Collection[str],
    bench: Bench,
) -> str:
    """The line without the code that the prompt had begun it with, where what was typed says whose
    it is by itself."""
    code = begun.strip()
    rest = text.strip()
    if code not in codes or not rest.startswith(f"{code} "):
        return text
    rest = rest[len(code) :].strip()
    try:
        reader = _reader(rest, now, zone, codes, shelves, METRIC, bench)
        if begins_anew(reader):
            return rest
    except PhraseProblem:
        return text
    alone = read_phrase(rest, now=now, zone=zone, codes=codes, shelves=shelves, bench=bench)
    return rest if isinstance(alone, Draft) and alone.fields.get("container") else text


def _reader(
    text: str,
    now: datetime,
    zone: tzinfo,
    codes: Collection[str],
    shelves: Collection[str],
    measures: Measures,
    bench: Bench,
) -> Reader:
    spoken, _, after = text.partition(" -- ")
    if text.startswith("-- "):
        spoken, after = "", text[3:]
    return Reader(
        words_of(spoken),
        now,
        zone,
        {code.casefold(): code for code in codes},
        {shelf.casefold(): shelf for shelf in shelves},
        bench,
        measures,
        spoken=spoken,
        after=after.strip(),
    )


def _read_all_text(reader: Reader, described: KindSchema) -> None:
    word = reader.word
    is_time = word is not None and is_time_word(word.text) and not weekday_in_full(word.text)
    if is_time and reader.ahead(1) is not None:  # a note may be of what a weekday is to bring
        read_when(reader)
        word = reader.word
    if word is not None:
        alone = word.quoted and reader.ahead(1) is None
        reader.fields[described.slots.text] = (
            word.text if alone else reader.spoken[word.at :].strip()
        )
    reader.place = len(reader.words)


def _read_setting(reader: Reader) -> None:
    """A setting's name, then its value to the end of the line; or ``name=value``.

    Only ``-20m`` after a value is a time: a setting may itself be a time of day.
    """
    word = reader.word
    if word is None or word.text.startswith(("name=", "value=")):
        return
    named = named_value(word)
    following = reader.ahead(1)
    reader.fields["name"] = named[0] if named else word.text
    value = reader.spoken[following.at :].strip() if following else ""
    _refuse_second_setting(reader, reader.fields["name"], is_named=named is not None)
    before, _, last = value.rpartition(" ")
    if before and _AGO.match(last):
        result = read_time(last, now=reader.now, zone=reader.zone)
        if isinstance(result, datetime):
            reader.at, value = result, before.strip()
    words = cut(value)
    alone = len(words) == 1 and words[0].quoted
    if named:
        value = f"{named[1]} {value}".strip()
    reader.fields["value"] = words[0].text if alone and not named else value
    reader.place = len(reader.words)


_NO_WORD_OF_ITSELF = frozenset({"phone", "names"})  # as a bench may be called 'North bench'


def _refuse_second_setting(reader: Reader, name: str, *, is_named: bool) -> None:
    """Two settings in one line, of which the one behind would be lost in the value of the first.

    ``KM=Maas`` in a value is a name for initials, ``longitude=7`` behind ``latitude=50.1`` is not.
    """
    for again in reader.words[reader.place + 1 :]:
        behind = named_value(again)
        if again.lower == name.casefold() and name.casefold() in _NO_WORD_OF_ITSELF:
            raise PhraseProblem(f"{name} was given twice in one line; give one", again)
        if behind and (behind[0] == name.casefold() or (is_named and again.text[0].islower())):
            first = " ".join(one.text for one in reader.words if one.at < again.at)
            then = " ".join(one.text for one in reader.words if one.at >= again.at)
            raise PhraseProblem(f"one setting a line: {first}; then setting {then}", again)


def _read_once(reader: Reader, described: KindSchema) -> None:
    """The next word, which says nothing again of which something else was said."""
    before, word = dict(reader.fields), reader.word
    _read_word(reader, described)
    refuse_said_otherwise(reader, described, before, word)


def _read_word(reader: Reader, described: KindSchema) -> None:
    word = reader.word
    assert word is not None
    for read in (
        read_low_and_high,
        read_named,
        read_permit,
        read_among,
        read_kept_stems,
        read_where_the_old_go,
        read_leading,
        read_place_after,
        read_preposition,
        read_choice,
        read_flag,
        read_end_of_shelf,
        read_time_word,
        read_of,
        read_by_its_name,
        read_number,
        read_part,
        read_batch,
        read_shelf,
        read_code,
    ):
        if read(reader, described, word):
            return
    if (
        described.name == "founder"
        and word.quoted
        and len(reader.loose) > 1
        and reader.fields.keys() & {"sex", "stage"}
    ):
        reader.fields.setdefault("place", word.text)  # behind all that tells of the animal
        reader.flow = ""
        reader.place += 1
        return
    _refuse_an_end(reader, described, word)
    before = reader.words[reader.place - 1] if reader.place else None
    is_behind = before is not None and before.quoted and before is not _last(reader.loose)
    if word.text == "," and is_behind:
        reader.place += 1  # it ends what the quotes end already
        return
    if before and not before.quoted and weekday_in_full(before.text) and not word.quoted:
        raise PhraseProblem(
            f"'{before.text}' before '{word.text}' may be a day; say the day behind all else; in"
            " quotes it is part of a name",
            before,
        )
    refuse_sure_in_a_name(reader, word)
    if reader.flow:
        begun = reader.fields.get(reader.flow, "")
        reader.fields[reader.flow] = f"{begun} {word.text}".strip()
        if word.quoted and not begun:
            reader.flow = ""  # a name in quotes is whole
    else:
        _name_has_ended(reader, described)
        reader.loose.append(word)
    reader.place += 1


def _refuse_an_end(reader: Reader, described: KindSchema, word: Word) -> None:
    """A time behind 'until' is no time at which it happened, and what has no field for it has no
    end."""
    following = reader.ahead(1)
    if word.lower != "until" or word.quoted or following is None or following.quoted:
        return
    if is_time_word(following.lower) or is_weekday(following.lower) or is_date(reader, 1):
        raise PhraseProblem(
            f"'{described.name}' has no end to be said before; say what ends it when it comes, or"
            " this behind --",
            word,
        )


def _last(words: list[Word]) -> Word | None:
    return words[-1] if words else None


def _end_with_no_comma(reader: Reader) -> None:
    """A comma or a dash behind a place or a name is no part of it: ``at Mill ditch, worn``; nor is
    an article."""
    for name in OF_SEVERAL_WORDS & reader.fields.keys():
        value = reader.fields[name]
        if isinstance(value, str) and name not in reader.as_written:
            reader.fields[name] = _BEHIND_A_NAME.sub("", value.rstrip(" ,"))


def _name_has_ended(reader: Reader, described: KindSchema) -> None:
    """A field with a comma behind a name ends that too: ``W2 Boloria dia female, carried cool``."""
    before = reader.words[reader.place - 1] if reader.place else None
    if (
        KIND_BY_NAME[described.name].names_species
        and reader.loose
        and before is not None
        and before is not reader.loose[-1]
        and before.text.endswith(",")
        and not reader.loose[-1].quoted
    ):
        reader.loose[-1] = Word(f"{reader.loose[-1].text.rstrip(',')},", reader.loose[-1].at)
