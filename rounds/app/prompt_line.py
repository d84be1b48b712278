"""A typed line, read and said at the desk; a setting is looked at before it is kept."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from functools import partial
from itertools import chain
from typing import Any

from msgspec.structs import replace

from rounds import late
from rounds.app.desk import Desk, Outcome, Recorded, Refusal
from rounds.app.said_otherwise import said_otherwise
from rounds.app.told_again import leaves, told_again
from rounds.bench.codes import INSTAR, like_codes, names_of, some_of
from rounds.bench.dates import dated
from rounds.bench.folding.hunger import ONE_FEED
from rounds.bench.marks import which_of_that_mark
from rounds.bench.plurals import PLURALS
from rounds.bench.state import NOT_LOW, Bench
from rounds.bench.zones import zone_doubt
from rounds.entries import registry as k
from rounds.entries.base import Entry, Saying
from rounds.entries.better_record import with_found_of
from rounds.entries.names import (
    known_plants,
    known_species,
    new_names,
    species_meant,
    species_named,
)
from rounds.entries.phrase.expansion import sayings_of
from rounds.entries.phrase.parser import read_phrase, without_begun
from rounds.entries.phrase.reader import ALL, Draft
from rounds.entries.phrase.synonyms import ANIMALS
from rounds.entries.phrase.times import UnclearTime, time_in, which_of_two
from rounds.entries.phrase.tokens import STOPS
from rounds.entries.phrase.vocabulary import PREPOSITIONS
from rounds.entries.slots import each
from rounds.entries.validation import advice, alike_in
from rounds.entries.which_animals import which
from rounds.entries.wording import by_field
from rounds.views.cautions import cautions_before
from rounds.views.words import clock

# settings of the place, that nothing else is meant by
_OF_THE_PLACE = frozenset({"zone", "timezone", "latitude", "longitude"})
_BEHIND_A_COMMA = late.pattern(r",\s*(?P<plant>[^,\d]+?)(?P<stems>\s+\d+\s+(?:stem|sprig)s?)?$")
_SAME_AGAIN = late.pattern(r"^\S+ (?:same|another|one more|1 more)\b", re.IGNORECASE)
_PLANT = late.pattern(r"\b(?:host|plant)=(?=\S)")
_FED = late.of_words(  # said of animals that come in
    r"(?P<line>.*\b(?:fe)?(?P<word>male)s?\b.*?)(?P<joined>,\s*(?:and )?| and )?(?(joined)|\s+)"
    r"(?:just )?(?:fed|drank)(?: well)?(?P<on>,? on .+)?",
    re.IGNORECASE,
)
_ONE_MORE = late.pattern(r" (?:another|(?:1|one) more)\b", re.IGNORECASE)
_OF_WHOM = each("wild a 1 one female females male males fem fem.")
_EXAMPLES = late.pattern(r" As: |, as: |; as a note beside it: ")
_COMES_IN = late.pattern(
    r"""^(?:stocked|(?:came|brought|put) in)\s+(?=.*\s["']?[A-Z][a-z]+\.? [a-z]{3})"""
)
_CAME_IN = late.pattern(r"\b(?:wild|caught|found|from|at|new|more)\b")
A_MINUTE = timedelta(minutes=1)  # to which a time is typed
_NEW_ONES = late.pattern(
    r"\b(?:female|male|larva|egg|pupa|adult|caterpillar)[es]? (?:of )?[A-Z][a-z]+\.? [a-z]{3}"
)
_GENUS = late.pattern(r"^[A-Z][a-z]*\.? [a-z\u00e0-\u00ff]")


def read_typed(desk: Desk, text: str) -> Draft | UnclearTime:
    """What a typed line says on this bench, or what is not clear about it."""
    draft = _read_on(desk, text, desk.bench)
    at = draft.at if isinstance(draft, Draft) else time_in(text, now=desk.now(), zone=desk.zone)
    meant = _behind_what_came(desk, at)
    then = desk.bench_of(meant)
    if then is not desk.bench:
        of_then = _read_on(desk, text, then)
        if isinstance(draft, Draft) and isinstance(of_then, UnclearTime):
            of_then = _of_a_pair(desk, draft, then) or of_then
        if isinstance(draft, Draft) or (isinstance(of_then, Draft) and of_then.at == at):
            draft = of_then
    return replace(draft, at=meant) if isinstance(draft, Draft) and meant != at else draft


def _of_a_pair(desk: Desk, draft: Draft, then: Bench) -> UnclearTime | None:
    """That a pair stood elsewhere at that time, and since when it is where it was said to be; None
    of any other line."""
    here = desk.bench.at(str(draft.fields.get("container", "")))
    was = here and then.at(here.code)
    if draft.kind is not k.Paired or draft.at is None or not here or not was:
        return None
    adults = [(lot, code) for lot in here.lots_of("adult") for code in lot.codes]
    came = max((lot.came for lot, _ in adults if lot.came), default=None)
    if came is None or came <= draft.at or was.lots_of("adult"):
        return None
    stood = (
        f"{code} was in {one.code}"
        for _, code in adults
        for one in then.standing()
        if any(code in lot.codes for lot in one.lots)
    )
    where = ", ".join(dict.fromkeys(stood)) or "they were not on the bench"
    since, at = (
        dated(one.astimezone(desk.zone), desk.clock.local_now()) for one in (came, draft.at)
    )
    return UnclearTime(
        f"{here.code} held no adults on {at}: {where}; together since {since}; if they"
        f" paired after that, as: {here.code} paired"
    )


def _behind_what_came(desk: Desk, at: datetime | None) -> datetime | None:
    """A time as it was typed, to the minute: where cups or animals came in within that minute, it
    is the instant of the last of them."""
    if at is None or at.second or at.microsecond:
        return at
    bench = desk.bench
    came = (
        *(container.since for container in bench.standing()),
        *(line.at for line in (*bench.founders.values(), *bench.broods.values())),
    )
    return max((one for one in came if at < one < at + A_MINUTE), default=at)


def _read_on(desk: Desk, text: str, bench: Bench, *new: str) -> Draft | UnclearTime:
    return read_phrase(
        text,
        now=desk.now(),
        zone=desk.zone,
        codes=[*desk.codes, *new],
        shelves=list(bench.shelves),
        measures=desk.measures,
        bench=bench,
    )


def as_meant(desk: Desk, text: str, begun: str) -> str:
    """A line typed after the prompt had begun it: without that code where what was typed names one
    by itself, also one that does not stand yet."""
    meant = without_begun(
        text,
        begun,
        now=desk.now(),
        zone=desk.zone,
        codes=desk.codes,
        shelves=list(desk.bench.shelves),
        bench=desk.bench,
    )
    behind = text.strip().removeprefix(begun.strip()).strip() if begun.strip() else ""
    if meant != text or not like_codes(behind.partition(" ")[0]):
        return meant
    if not isinstance(_line(desk, text), Refusal):
        return text
    of_instar = INSTAR.match(behind.partition(" ")[0].casefold())
    return text if of_instar and isinstance(_line(desk, behind), Refusal) else behind


def say_phrase(desk: Desk, text: str, at: datetime | None = None) -> Outcome:
    """Say a typed line; where it names no time it happened at that time, else now."""
    try:  # a terminal that knows only ASCII hands on what it cannot read byte by byte
        text = text.encode("utf-8", "surrogateescape").decode("utf-8")
    except UnicodeError:
        return Refusal("it has letters that cannot be read; save or send the text as UTF-8")
    if _is_undo(desk, text):
        return desk.strike_last()
    outcome = _said(desk, text, at)
    return Refusal(_fitting(desk, text, outcome.line)) if isinstance(outcome, Refusal) else outcome


def _fitting(desk: Desk, text: str, told: str) -> str:
    """What is told of a line that is refused, with those examples alone that would be taken."""
    if not _EXAMPLES.search(told):
        return told
    from rounds.app.fitting_examples import with_fitting_examples  # most lines are taken

    def refused(example: str) -> str:
        line = _line(desk, example)
        entries = line if isinstance(line, Refusal) else desk.prepare(line[1], line[0].at)
        return entries.line if isinstance(entries, Refusal) else ""

    return with_fitting_examples(desk, text, told, refused)


def _said(desk: Desk, text: str, at: datetime | None) -> Outcome:
    line = _line(desk, text, at)
    if isinstance(line, Refusal):
        return line
    draft, sayings = line
    if draft.kind is k.Photo:
        from rounds.app.photos import attach  # most lines name no picture

        outcome = attach(desk, sayings[0][1], draft.at or at)
        return (
            outcome
            if isinstance(outcome, Refusal) or len(sayings) == 1
            else desk.say_many(sayings[1:], draft.at or at)
        )
    now, fed = desk.now(), _all_drank(desk, draft, at)
    outcome = desk.say_many(sayings, draft.at or at)
    if isinstance(outcome, Recorded):
        told = (
            fed,
            _left_out(draft),
            _which_time(desk, text, draft),
            _of_another_zone(desk, draft, now),
            _taken_for_dead(draft),
        )
        if beside := "; ".join(filter(None, told)):
            desk.say_beside(outcome.entry, beside)
    return outcome


def _is_undo(desk: Desk, text: str) -> bool:
    """Whether a line takes back what was said last, as the key does; also behind a code that the
    prompt had begun."""
    words = text.casefold().split()
    codes = {code.casefold() for code in desk.codes}
    return words[-1:] == ["undo"] and (len(words) == 1 or (len(words) == 2 and words[0] in codes))


def _line(
    desk: Desk, text: str, at: datetime | None = None
) -> tuple[Draft, list[Saying]] | Refusal:
    """A typed line as it was read, and what it says."""
    line = _read_line(desk, text, at)
    if isinstance(line, Refusal):
        return line
    draft, sayings = line
    asked = told_again(desk, text, sayings, draft.at or at or desk.now())
    # a slip in the line itself is told first
    if asked and (draft.kind is k.Searched or leaves(draft.kind)):
        refused = desk.prepare(sayings, draft.at or at)
        if isinstance(refused, Refusal):
            return refused
    asked = asked or _whose_plant(desk.bench_of(draft.at or at), sayings)
    return Refusal(asked) if asked else line


def _whose_plant(bench: Bench, sayings: Sequence[Saying]) -> str:
    """What is asked the first time that a plant comes to several species beside another; '' where
    nothing is."""
    for kind, fields in sayings:
        asked = which(bench, kind, fields) if kind is k.HostIn else None
        if asked:
            return asked.asked
    return ""


def _read_line(desk: Desk, text: str, at: datetime | None) -> tuple[Draft, list[Saying]] | Refusal:
    if asked := which_of_that_mark(desk.bench, text):
        return Refusal(asked)
    if twice := _laid_twice(desk, text):
        return Refusal(twice)
    if fed := _came_in_and_drank(desk, text, at):
        return Refusal(fed) if isinstance(fed, str) else fed
    if same := _same_in_a_new_cup(desk, text, at):
        return same
    draft = read_typed(desk, text)
    if isinstance(draft, UnclearTime) or _of_a_species(draft):
        held = _cup_with_animals(desk, text)
        if held is None and text.split(" ")[0].casefold() in _OF_THE_PLACE:
            return _read_line(desk, f"setting {text}", at)
        if isinstance(draft, Draft):
            return held if isinstance(held, tuple) else _said_by(desk, draft, at)
        refused = Refusal(held) if isinstance(held, str) else held or Refusal(_unclear(draft))
        if isinstance(refused, Refusal) and (otherwise := said_otherwise(desk, text)) != text:
            return _read_line(desk, otherwise, at)
        return refused
    return _said_by(desk, draft, at)


def _said_by(desk: Desk, draft: Draft, at: datetime | None) -> tuple[Draft, list[Saying]] | Refusal:
    sayings = _sayings(desk, draft, at)
    return sayings if isinstance(sayings, Refusal) else (draft, sayings)


def _of_a_species(draft: Draft) -> bool:
    """Whether animals come in with a species where the code of a brood would stand."""
    return draft.kind is k.Stocked and " " in str(draft.fields.get("brood", ""))


def _laid_twice(desk: Desk, text: str) -> str:
    """That a line says of the same eggs that they were laid at two times, whoever reads it; '' of
    any other."""
    if text.casefold().count(" laid ") < 2:
        return ""
    from rounds.app.holding_line import time_at  # few lines say so
    from rounds.app.laid_said import laid_twice

    return laid_twice(text, desk.clock.local_now(), partial(time_at, front=True))


def _came_in_and_drank(
    desk: Desk, text: str, at: datetime | None
) -> tuple[Draft, list[Saying]] | str | None:
    """What ``K4 1 female Boloria dia on violet, fed`` says: of those that come in that they drank.
    A string where she may be one that is there, None where it brings nobody in."""
    spoken, dashes, note = text.partition(" -- ")
    fed = _FED.fullmatch(spoken.strip())
    if fed is None:
        return None
    code, comes_in = spoken.split(" ")[0], fed["joined"] or _is_new(desk, spoken)
    if not comes_in and _ONE_MORE.search(spoken):
        return f"one that is there, or one that comes in? As: {code} drank 1; {fed['line']}, fed"
    if not comes_in and not re.search(r"\bnew\b", spoken):
        return None
    line = _read_line(desk, f"{fed['line']}{fed['on'] or ''}{dashes}{note}", at)
    if isinstance(line, Refusal):
        return None
    draft, sayings = line
    drank: list[Saying] = [
        (k.Drank, {"container": fields["container"], "female": fields["code"]})
        for kind, fields in sayings
        if kind is k.FounderIntake
    ]
    return (draft, [*sayings, *drank]) if drank else None


def _same_in_a_new_cup(
    desk: Desk, text: str, at: datetime | None
) -> tuple[Draft, list[Saying]] | Refusal | None:
    """What ``K3 same again`` says of a cup that does not stand yet; None of any other line."""
    code = text.split(" ")[0]
    if not _SAME_AGAIN.match(text) or not _is_new(desk, text):
        return None
    from rounds.app.holdings import purpose_for  # few lines say so

    if not desk.bench.founders:
        return Refusal(
            f"none came in yet that this could be like; as: {code} 1 female Boloria dia from"
            " Tannmoos"
        )
    draft = _read_on(desk, text, desk.bench, code)
    if not isinstance(draft, Draft) or draft.kind is not k.FounderIntake:
        return None
    sayings = _sayings(desk, draft, at)
    if isinstance(sayings, Refusal):
        return sayings
    set_up: Saying = (k.SetUp, {"container": code, "purpose": purpose_for(sayings)})
    return replace(draft, kind=k.SetUp, fields={}), [set_up, *sayings]


def _is_new(desk: Desk, text: str) -> bool:
    """Whether a line begins with the code of a cup that does not stand yet."""
    code = text.split(" ")[0]
    return bool(like_codes(code)) and not alike_in(code, desk.codes)


def _cup_with_animals(desk: Desk, text: str) -> tuple[Draft, list[Saying]] | str | None:
    """What ``B3 2 females Boloria dia on violet`` says: animals that are new, and their cup where
    it does not stand yet; nothing where it is no such line, what is not clear where it is one."""
    from rounds.app.holding_line import (  # most lines say nothing of new animals
        place_of_line,
        purpose_of_line,
        read_holding,
        time_of_line,
    )
    from rounds.app.holdings import (
        asked_of_instar,
        asked_of_kind,
        kind_first,
        numbered,
        purpose_for,
        says_kinds,
    )

    if asked := _which_cup(desk, text.strip()):
        return asked
    first, _, behind = text.strip().partition(" ")
    first = first.rstrip(STOPS) or first  # 'K2, 1 female Boloria dia'
    behind, purpose = purpose_of_line(_COMES_IN.sub("", behind))
    behind = _with_plant_behind(desk, _with_known_name(desk, behind))
    behind = numbered(_PLANT.sub("on ", kind_first(behind)))
    text = f"{first} {behind}"
    if asked := _which_animals(desk, first, behind):
        return asked
    if not says_kinds(text):
        asked = asked_of_kind(behind, first) if _is_new(desk, text) else ""
        return f"{first} does not stand yet; {asked}" if asked else None
    timed = time_of_line(text.strip(), desk.clock.local_now(), desk.bench)
    if purpose:
        timed = replace(timed, asked=timed.asked.replace(f"{first} ", f"{first} {purpose} "))
    code, _, holds = timed.text.partition(" ")
    known = alike_in(code, desk.codes)
    several = names_of(code, desk.codes)
    if len(several) > 1 and _NEW_ONES.search(holds):
        return f"so many in each? Say each on a line of its own, as: {several[0]} {holds}"
    if not (known or like_codes(code)) or len(several) != 1:
        return None
    if asked := asked_of_instar(holds, code):
        return asked
    shelves = {*desk.bench.shelves, *(one.shelf for one in desk.bench.standing() if one.shelf)}
    holds, stands = place_of_line(holds, sorted(shelves))
    used = {*desk.bench.founders, *desk.bench.broods}
    said = (
        read_holding(replace(timed, text=holds), known or code, desk.clock.local_now(), used)
        if says_kinds(holds)
        else ""
    )
    if isinstance(said, str):
        is_clear = "behind the name" not in said  # that is mended first
        said = timed.asked or said if is_clear else said
        if said and known and _NEW_ONES.search(holds):
            return said
        return f"{code} does not stand yet; {said}" if said and not known else None
    taxa = {str(fields["taxon"]) for _, fields in said if "taxon" in fields}
    if taxa and (asked := timed.asked or _of_the_bench(desk, said, code)):
        return asked
    if not taxa or not all(_is_a_name(desk, taxon) for taxon in taxa):
        return None
    if known and _may_be_there(desk, known, said, holds):
        return None
    if known and stands:
        where = f"shelf={stands['shelf']}"
        return f"{known} stands already; say its shelf by itself, as: {known} changed {where}"
    if known:
        said = [*_with_their_plant(said, taxa)]
        here = desk.bench.at(known)  # None where it was closed, which the door refuses
        if purpose and here and purpose != here.purpose:
            said = [*said, (k.Changed, {"container": known, "purpose": purpose})]
        return Draft(k.SetUp, timed.at, {}), said
    purpose = purpose or purpose_for(said)
    set_up: Saying = (k.SetUp, {"container": code, "purpose": purpose} | stands)
    return Draft(k.SetUp, timed.at, {}), [set_up, *said]


def _may_be_there(desk: Desk, code: str, said: Sequence[Saying], holds: str) -> bool:
    """Whether animals with a new name in small letters may be those that stand there, and its words
    say how they look: nothing says that they came in."""
    here, known = desk.bench.at(code), known_species(desk.bench)
    stages = {lot.stage for lot in here.lots} if here else set()
    return not _CAME_IN.search(holds) and any(
        fields.get("stage") in stages and taxon not in known and taxon.casefold() in holds
        for _, fields in said
        if (taxon := str(fields.get("taxon", "")))
    )


def _with_their_plant(said: Sequence[Saying], taxa: set[str]) -> Iterator[Saying]:
    """What comes into a cup, the plant as that of the young animals that come in on it."""
    are_young = any(fields.get("stage") in ("egg", "larva") for _, fields in said)
    for kind, fields in said:
        whose = {"whose": next(iter(taxa))} if len(taxa) == 1 and are_young else {}
        yield kind, fields | (whose if kind is k.HostIn else {})


def _with_known_name(desk: Desk, holds: str) -> str:
    """What a cup holds with an epithet or a short name behind the animals, or their instar, or
    before them, as the book has it: ``1 female M. cinxia on plantain``, ``5 L3 cinxia``, ``cinxia
    fem``."""
    from rounds.app.holdings import SAYS_NOTHING, number_of, with_sex_in_full

    words = with_sex_in_full(holds).split()
    for place, animals in enumerate(words):
        if not (animals.rstrip(",").casefold() in ANIMALS or INSTAR.match(animals.casefold())):
            continue
        before = place - bool(place and number_of(words[place - 1]))  # 'cinxia 2 fem'
        spans = ((place + 1, 2), (place + 1, 1), (before - 2, 2), (before - 1, 1))
        for begin, length in spans:  # 'M. cinxia', 'cinxia'
            before_it = words[: max(begin, 0)] if begin < place else ()
            first = all(number_of(one) or one.casefold() in SAYS_NOTHING for one in before_it)
            name = words[begin : begin + length] if begin >= 0 and first else []
            if known := species_named(desk.bench, " ".join(name).rstrip(",")):
                last = name[-1] if begin > place else animals
                words[place : place + 1] = [animals.rstrip(","), known + "," * last.endswith(",")]
                begin += begin > place
                del words[begin : begin + length]
                return " ".join(words)
    return holds


def _which_animals(desk: Desk, code: str, holds: str) -> str:
    """What is asked where an epithet fits several species, or where nothing but a name is said;
    '' of any other line."""
    words = holds.split()
    name = " ".join(word for word in words if word.casefold() not in _OF_WHOM)
    fits = species_meant(desk.bench, name.rstrip(","))
    if not fits or (len(fits) == 1 and len(words) > len(name.split()) + 1):
        return ""
    if not (like_codes(code) or alike_in(code, desk.codes)):  # 'taxon Pieris napi'
        return ""
    lines = f"; or {code} ".join(f"1 female {one}" for one in fits[:2])
    return f"'{holds}': what comes in, and of which species? As: {code} {lines}"


def _with_plant_behind(desk: Desk, holds: str) -> str:
    """``10 L3 Boloria dia from Dry Hill, violet`` as ``... on violet``: a plant that is known, or
    of which so many stems are said."""
    found = _BEHIND_A_COMMA.search(holds)
    if found is None or re.search(r"\bon\s", holds) or found["plant"].split()[0] in PREPOSITIONS:
        return holds
    known = {name.casefold() for name in known_plants(desk.bench)}
    if not found["stems"] and found["plant"].casefold() not in known:
        return holds
    return f"{holds[: found.start()]} on {holds[found.start('plant') :]}"


def _which_cup(desk: Desk, text: str) -> str:
    """What is asked where the animals stand first, as ``1 wild female Boloria dia on violet``, and
    no cup; '' where the line does not begin with animals that are new."""
    from rounds.app.holding_line import purpose_of_line, read_holding, time_of_line
    from rounds.app.holdings import begins_with_kind, numbered

    if not begins_with_kind(numbered(text)):
        return ""
    free = desk.bench.free_code("K")
    timed = time_of_line(purpose_of_line(text)[0], desk.clock.local_now(), desk.bench)
    said = read_holding(timed, free, desk.clock.local_now(), set())
    taxa = [] if isinstance(said, str) else [str(one["taxon"]) for _, one in said if "taxon" in one]
    if not taxa or not all(_is_a_name(desk, taxon) for taxon in taxa):
        return ""
    return f"into which container? Say it first, as: {free} {text}"


def _of_the_bench(desk: Desk, said: Sequence[Saying], to: str) -> str:
    """What is asked where animals come from a container of this bench: they are on record there."""
    for kind, fields in said:
        origin = str(fields.get("origin") or fields.get("place") or "")
        source = alike_in(origin, desk.codes)
        if not source or source == to or kind not in (k.Stocked, k.FounderIntake):
            continue
        number, stage = fields.get("number", 1), fields["stage"]
        into = to if to in desk.codes else f"new {to}"
        what = f"{number} {stage if number == 1 else PLURALS[stage]}"
        moved = f"{source} moved {what} to {into}"
        is_found = stage == "egg" and desk.bench.containers[source].count("egg") < int(number)
        found = f"{source} searched {number}, then " if is_found else ""
        return f"{source} stands on this bench; as: {found}{moved}"
    return ""


def _is_a_name(desk: Desk, taxon: str) -> bool:
    """Whether words are the name of a species: known to the book, with a genus written as one, or
    in quotes."""
    return taxon in known_species(desk.bench) or taxon[0] == '"' or bool(_GENUS.match(taxon))


def _of_another_zone(desk: Desk, draft: Draft, was: datetime) -> str:
    """What became of the hours of a bench by a line, and that they are hardly those of its
    coordinates, and how to say which they are.

    Args:
        was: the instant by the bench's clock before that line.
    """
    if draft.kind is not k.Setting:
        return ""
    from rounds.views.settings import setting_said

    settings = desk.bench.settings
    said = setting_said(str(draft.fields.get("name", "")), "")[0]
    told = ""
    if said == "zone" and was.utcoffset() != (now := desk.now()).utcoffset():
        told = (
            f"the bench's clock was at {was:%H:%M} and is at {now:%H:%M} now: its rounds and all"
            " hours typed from now on go by it, what was recorded stays when it was"
        )
    elif said not in ("latitude", "longitude", "zone"):
        return ""
    if not (settings.get("latitude") and settings.get("longitude")):
        return told
    doubt = zone_doubt(desk.zone, float(settings["longitude"]), desk.now())
    meant = "say which hours are meant, as: setting zone Europe/Paris"
    return "; ".join(filter(None, (told, doubt and f"{doubt}; {meant}")))


def preview(desk: Desk, text: str, at: datetime | None = None) -> tuple[str, bool]:
    """What a line would write if it were said now, and True; or what is not clear or cannot be, and
    False."""
    if _is_undo(desk, text):
        return (
            "undoes what was recorded last here; an older line is crossed out in the daybook",
            True,
        )
    line = _line(desk, text, at)
    if isinstance(line, Refusal):
        return _fitting(desk, text, line.line), False
    draft, sayings = line
    entries = desk.prepare(sayings, draft.at or at)
    if isinstance(entries, Refusal):
        return _fitting(desk, text, entries.line), False
    told = f"{clock(entries[-1].at, desk.now(), desk.zone)}  {_told_by_field(desk, entries, draft)}"
    asides = (_all_drank(desk, draft, at), _which_time(desk, text, draft), _taken_for_dead(draft))
    for beside in filter(None, asides):
        told = f"{told} ({beside})"
    return "   ".join([told, *cautions_before(entries, desk.bench, desk.open_round)]), True


def cautions_of_line(desk: Desk, text: str) -> list[str]:
    """The cautions that go with a line if it can be written, where this round has not shown them
    yet."""
    line = _line(desk, text, None)
    if isinstance(line, Refusal):
        return []
    draft, sayings = line
    entries = desk.prepare(sayings, draft.at)
    return (
        []
        if isinstance(entries, Refusal)
        else cautions_before(entries, desk.bench, desk.open_round)
    )


def _told_by_field(desk: Desk, entries: Sequence[Entry], draft: Draft) -> str:
    """Each entry with every field by its name, what is new to the book marked; alike in several
    containers, told once."""
    told: dict[str, list[str]] = {}
    # what the line says before what it sets from now on
    beside = k.Setting if draft.kind is not k.Setting else ()
    for entry in sorted(entries, key=lambda one: isinstance(one, beside)):
        if isinstance(entry, k.CrossedOut):
            told[desk.told([entry])] = []
            continue
        said = [name for name in draft.fields if draft.fields[name] != ALL]
        said = said if type(entry) is draft.kind else []
        words = by_field(
            entry, desk.measures, new=new_names(desk.bench, entry), said=said
        ) + desk.aside(entry)
        told.setdefault(words, []).append(
            getattr(entry, "container", "") or getattr(entry, "shelf", "")
        )
    left_out = f" ({told_out})" if (told_out := _left_out(draft)) else ""
    each = ", in each" if draft.fields.get("sprigs") else ""
    parts = [
        f"{' '.join(code for code in codes if code)} {words}{each if len(codes) > 1 else ''}".strip()  # noqa: E501
        for words, codes in told.items()
    ]
    advised = advice(entries, desk.bench)
    return "; ".join(parts) + left_out + (f" ({advised})" if advised else "")


def _all_drank(desk: Desk, draft: Draft, at: datetime | None) -> str:
    """That all drank already in this feed, where some of them are said to have; '' where they had
    not."""
    container = desk.bench_of(draft.at or at).at(str(draft.fields.get("container", "")))
    done = container.feed_done if container and draft.kind is k.Drank else None
    if done is None or not draft.fields.get("number"):
        return ""
    since = (draft.at or at or desk.now()) - done
    when = f"{done.astimezone(desk.zone):%H:%M}"
    return f"all of them had drunk by {when}" if timedelta() <= since <= ONE_FEED else ""


def _taken_for_dead(draft: Draft) -> str:
    """That a specimen with a cause is one found dead, and how one killed for it is said; '' for any
    other line."""
    cause = draft.fields.get("cause")
    if draft.kind is not k.Preserved or not cause:
        return ""
    said = (draft.fields.get(name) for name in ("container", "number", "sex", "stage"))
    line = " ".join(str(one) for one in said if one).replace(" ", " preserved ", 1)
    voucher = f" voucher={draft.fields['voucher']}" if draft.fields.get("voucher") else ""
    return (
        f"with a cause it was found dead; killed for the collection, with a remark: {line}{voucher}"
        f" -- {cause}"
    )


def _left_out(draft: Draft) -> str:
    return f"no {some_of(draft.left_out)} stands there: left out" if draft.left_out else ""


def _which_time(desk: Desk, text: str, draft: Draft) -> str:
    """Of a time that came twice as the clocks went back: which is taken."""
    return which_of_two(text, draft.at, desk.now(), desk.zone) if draft.at is not None else ""


def _unclear(unclear: UnclearTime) -> str:
    told = any(
        re.search(rf"\b{re.escape(suggestion)}\b", unclear.message)
        for suggestion in unclear.suggestions
    )
    nearest = (
        f"; perhaps {', '.join(unclear.suggestions)}" if unclear.suggestions and not told else ""
    )
    return f"{unclear.message}{nearest}"


def _sayings(desk: Desk, draft: Draft, at: datetime | None) -> list[Saying] | Refusal:
    """What will be said: a setting by its whole name, and only with a value that can be used."""
    if draft.kind is k.Setting:
        from rounds.views.settings import setting_refusal, setting_said

        name, value = setting_said(
            str(draft.fields.get("name", "")), str(draft.fields.get("value", ""))
        )
        refused = setting_refusal(name, value, desk.bench.settings)
        if refused:
            return Refusal(refused)
        beside = [(k.Note, {"text": draft.note})] if draft.note else []
        return [(k.Setting, {"name": name, "value": value}), *beside]
    if draft.better and draft.kind is k.Searched:
        return _found_of_others(desk, draft, at)
    then = desk.bench_of(draft.at or at)
    result = sayings_of(draft, then, at or desk.now())
    if isinstance(result, UnclearTime):
        return Refusal(_unclear(result))
    if draft.on_kept_stems:
        from rounds.checks.turn import seen_on_stems

        here, number = then.containers[draft.fields["container"]], draft.fields["number"]
        lots = [held for held in here.held if held.lot in draft.fields.get("lots", ())]
        when = draft.at or at or desk.now()
        seen = seen_on_stems(then, here, number, desk.foresight, when, lots)
        return [*seen, *result[1:]]
    said = [(kind, _as_at_a_stop(desk, then, kind, fields)) for kind, fields in result]
    return [*_aid_from_now(desk, result), *said] if draft.at is None else said


def _aid_from_now(desk: Desk, sayings: Sequence[Saying]) -> list[Saying]:
    """That eggs are searched for with what a line of now names, as by its key at a stop."""
    of_searches = (fields.get("aid") for kind, fields in sayings if kind is k.Searched)
    named = [str(one) for one in of_searches if one]
    if not named:
        return []
    from rounds.checks.eggs import AIDS, SEARCH_AID, aid_of  # a search wants the checks

    aid = next((one for one in named if one in AIDS), "")
    new = aid and aid != aid_of(desk.bench)
    return [(k.Setting, {"name": SEARCH_AID, "value": aid})] if new else []


def _found_of_others(desk: Desk, draft: Draft, at: datetime | None) -> list[Saying] | Refusal:
    """What is said where the eggs that were found in that minute are of other females."""
    code, when = str(draft.fields["container"]), draft.at or at or desk.now()
    all_found = [
        entry
        for entry in desk.entries()
        if isinstance(entry, k.Searched)
        and (entry.container, entry.id in desk.struck) == (code, False)
        and entry.found
    ]
    since = when.replace(second=0, microsecond=0)
    finds = [one for one in all_found if timedelta(0) <= one.at - since < timedelta(minutes=1)]
    if not finds and all_found:
        line = f"{code} eggs are of {', '.join(draft.fields['among'])}"
        return Refusal(
            f"no eggs were found in {code} then; say when they were, as: {line}"
            f" {all_found[-1].at:%Y-%m-%d %H:%M}"
        )
    if not finds:
        return Refusal(f"no eggs were found in {code}, as far as is on record")
    beside: list[Saying] = [(k.Note, _note_of(code, draft.note))] if draft.note else []
    said = [with_found_of(desk.bench_of(one.at), one, draft.fields["among"]) for one in finds]
    return [*chain.from_iterable(said), *beside]


def _note_of(code: str, text: str) -> dict[str, Any]:
    return {"container": code, "text": text}


def _as_at_a_stop(
    desk: Desk, bench: Bench, kind: type[Entry], fields: dict[str, Any]
) -> dict[str, Any]:
    """What a stop adds too: a moat called full is low where its depth says so, and eggs are
    searched for with the usual aid where none is named."""
    if kind is k.Searched and not fields.get("confirmed"):
        from rounds.checks.eggs import aid_of

        return {"aid": aid_of(bench)} | fields
    if kind is k.BarrierSeen and "depth_mm" in fields and fields.get("state") in ("full", NOT_LOW):
        from rounds.forecasts.moats import state_at

        return fields | {"state": state_at(desk.bench, fields["depth_mm"], fields["state"])}
    return fields
