"""Reading a typed line: a container, what happened, numbers, choices, names, when, and a note."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime, tzinfo

from rounds import late
from rounds.bench.measures import METRIC, Measures
from rounds.bench.state import Bench
from rounds.entries.phrase.as_shown import as_shown
from rounds.entries.phrase.back_again import back_again, whose_is_back
from rounds.entries.phrase.beginning import read_beginning
from rounds.entries.phrase.behind_a_parasitoid import set_state_aside
from rounds.entries.phrase.beside_a_look import beside_a_look
from rounds.entries.phrase.by_permit import read_permit, species_of_permit
from rounds.entries.phrase.carriage import set_carriage_aside
from rounds.entries.phrase.condition import (
    set_condition_aside,
    set_looks_aside,
    set_some_of_the_dead_aside,
)
from rounds.entries.phrase.counted_leaves import refuse_counted_leaves
from rounds.entries.phrase.cut_eggs import eggs_cut_off
from rounds.entries.phrase.dates import (
    asked_hour,
    is_date,
    read_time_word,
    read_when,
    words_of,
)
from rounds.entries.phrase.failed_wings import failed_wings
from rounds.entries.phrase.fields import (
    read_batch,
    read_choice,
    read_flag,
    read_leading,
    read_named,
    read_part,
    read_preposition,
    refuse_said_otherwise,
)
from rounds.entries.phrase.foreign_words import refuse_bare_author, refuse_foreign_words
from rounds.entries.phrase.from_to import put_end, set_end_aside
from rounds.entries.phrase.goes_into import goes_into
from rounds.entries.phrase.killed_for import refuse_killed_for
from rounds.entries.phrase.leftover import (
    ask_for_what_is_wanting,
    ask_of_bare_day,
    day_of_catch,
    end_of_name,
    place_loose,
    put_after,
)
from rounds.entries.phrase.merged_into import merged_into
from rounds.entries.phrase.more_counted import more_counted
from rounds.entries.phrase.moved_stems import stems_kept_there, stems_moved
from rounds.entries.phrase.new_cups import read_new_cups, with_new
from rounds.entries.phrase.now_in_instar import instar_of_the_missing, now_in_instar
from rounds.entries.phrase.numbers import read_by_its_name, read_low_and_high, read_number, read_of
from rounds.entries.phrase.on_kept_stems import (
    kept_are_stems,
    read_kept_stems,
    read_where_the_old_go,
)
from rounds.entries.phrase.places import (
    read_among,
    read_code,
    read_end_of_shelf,
    read_place_after,
    read_shelf,
)
from rounds.entries.phrase.reader import Draft, PhraseProblem, Reader
from rounds.entries.phrase.record_words import as_named
from rounds.entries.phrase.same_again import more_of_those_there, one_more, same_again
from rounds.entries.phrase.short_forms import say_in_full
from rounds.entries.phrase.so_many_left import so_many_left
from rounds.entries.phrase.some_in_diapause import some_in_diapause
from rounds.entries.phrase.some_refused import some_refused
from rounds.entries.phrase.spelling_out import check_second_sex, spell_out
from rounds.entries.phrase.split_shares import split_up
from rounds.entries.phrase.subject import begins_anew
from rounds.entries.phrase.time_span import set_span_aside
from rounds.entries.phrase.times import (
    UnclearTime,
    is_time_word,
    is_weekday,
    read_time,
    weekday_in_full,
)
from rounds.entries.phrase.tokens import Word, cut, named_value
from rounds.entries.phrase.unmarked_drinkers import name_the_unmarked
from rounds.entries.phrase.unsure_eggs import unsure_eggs
from rounds.entries.phrase.values import times_from_line
from rounds.entries.phrase.vessels import set_vessel_aside
from rounds.entries.phrase.vocabulary import OF_SEVERAL_WORDS
from rounds.entries.phrase.young_larvae import young_larvae_seen
from rounds.entries.registry import (
    KIND_BY_NAME,
    Died,
    Drank,
    Emerged,
    FoodRefused,
    FounderIntake,
    HostIn,
    Parasitoid,
    Preserved,
    Released,
    Searched,
    Settled,
    SetUp,
    Stocked,
)
from rounds.entries.schema import KindSchema, describe

_AGO = late.pattern(r"^-(?:\d+(?:\.\d+)?(?:d|h|m|min))+$")
_BEHIND_A_NAME = late.pattern(r"(?:\s+(?:-|\u2013|\u2014|a|an|the))+$")
_NOTHING = Bench()
_COMES_IN = (FounderIntake, Stocked)
_SAID_OF_EACH = (Drank, FoodRefused)
_SHORT_FORMS = (
    young_larvae_seen,
    more_counted,
    now_in_instar,
    so_many_left,
    failed_wings,
    back_again,
    some_in_diapause,
)
_LEAVES_AS_IT_IS = (Released, Preserved)


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
    spoken, _, after = text.partition(" -- ")
    if text.startswith("-- "):
        spoken, after = "", text[3:]
    reader = _reader(spoken, now, zone, codes, shelves, measures, bench)
    try:
        as_shown(reader)
        set_some_of_the_dead_aside(reader)
        spell_out(reader)
        more_of_those_there(reader, after.strip())
        one_more(reader)
        unsure_eggs(reader)
        whose_is_back(reader)
        beside_a_look(reader)
        say_in_full(reader, _SHORT_FORMS)
        read_new_cups(reader)
        stems_moved(reader)
        stems_kept_there(reader)
        eggs_cut_off(reader)
        merged_into(reader)
        split_up(reader)
        goes_into(reader)
        some_refused(reader)
        kind = read_beginning(reader, noted=bool(after.strip()))
        described = describe(kind)
        reader.slots = described.slots
        check_second_sex(reader, described)
        if kind in _COMES_IN:
            set_span_aside(reader, spoken)
            set_carriage_aside(reader, spoken)
            if kind is FounderIntake:
                ask_of_bare_day(reader)
                day_of_catch(reader)
            reader.words[reader.place :] = as_named(reader.words[reader.place :], spoken)
        if kind is Settled:
            instar_of_the_missing(reader)
        if kind is Died:
            refuse_killed_for(spoken, after)
        if kind in (Died, Emerged):
            set_looks_aside(reader, wings=kind is Emerged)
        if kind is Searched:
            kept_are_stems(reader)
        if kind in _SAID_OF_EACH:
            name_the_unmarked(reader, described.name)
        if kind in _LEAVES_AS_IT_IS:
            set_condition_aside(reader)
        if kind is Parasitoid:
            set_state_aside(reader)
        if kind is SetUp:
            set_vessel_aside(reader)
        if kind.names_species:
            refuse_bare_author(reader)
        is_text = described.slots.text or described.name == "setting"
        if not is_text and (asked := asked_hour(reader.words)):
            return UnclearTime(asked)
        if described.slots.text:
            _read_all_text(reader, described, spoken)
        if described.name == "setting":
            _read_setting(reader, spoken)
        lasted = set_end_aside(reader, described)
        while reader.word is not None:
            _read_once(reader, described)
        put_end(reader, described, lasted)
        species_of_permit(reader, described)
        place_loose(reader, described)
        _end_with_no_comma(reader)
        same_again(reader, described)
        behind = end_of_name(reader, described)
        note = put_after(
            reader, described, ", ".join(filter(None, (reader.aside, behind, after.strip())))
        )
        ask_for_what_is_wanting(reader, described, len(text))
        refuse_foreign_words(reader, described)
        if kind is HostIn:
            refuse_counted_leaves(reader, spoken)
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
        reader = _reader(rest.partition(" -- ")[0], now, zone, codes, shelves, METRIC, bench)
        if begins_anew(reader):
            return rest
    except PhraseProblem:
        return text
    alone = read_phrase(rest, now=now, zone=zone, codes=codes, shelves=shelves, bench=bench)
    return rest if isinstance(alone, Draft) and alone.fields.get("container") else text


def _reader(
    spoken: str,
    now: datetime,
    zone: tzinfo,
    codes: Collection[str],
    shelves: Collection[str],
    measures: Measures,
    bench: Bench,
) -> Reader:
    by_code = {code.casefold(): code for code in codes}
    by_shelf = {shelf.casefold(): shelf for shelf in shelves}
    return Reader(
        words_of(spoken),
        now,
        zone,
        by_code,
        by_shelf,
        bench,
        measures,
    )


def _read_all_text(reader: Reader, described: KindSchema, spoken: str) -> None:
    word = reader.word
    is_time = word is not None and is_time_word(word.text) and not weekday_in_full(word.text)
    if is_time and reader.ahead(1) is not None:  # a note may be of what a weekday is to bring
        read_when(reader)
        word = reader.word
    if word is not None:
        alone = word.quoted and reader.ahead(1) is None
        reader.fields[described.slots.text] = word.text if alone else spoken[word.at :].strip()
    reader.place = len(reader.words)


def _read_setting(reader: Reader, spoken: str) -> None:
    """A setting's name, then its value to the end of the line; or ``name=value``.

    Only ``-20m`` after a value is a time: a setting may itself be a time of day.
    """
    word = reader.word
    if word is None or word.text.startswith(("name=", "value=")):
        return
    named = named_value(word)
    following = reader.ahead(1)
    reader.fields["name"] = named[0] if named else word.text
    value = spoken[following.at :].strip() if following else ""
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


def _refuse_second_setting(reader: Reader, name: str, *, is_named: bool) -> None:
    """Two settings in one line, of which the one behind would be lost in the value of the first.

    ``KM=Maas`` in a value is a name for initials, ``longitude=7`` behind ``latitude=50.1`` is not.
    """
    for again in reader.words[reader.place + 1 :]:
        behind = named_value(again)
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
