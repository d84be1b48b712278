"""What may not be said, and why, in one line each: what is common to the kinds, which add their
own.

Each refusal says what is wrong and what would be right. A refusal is about the present bench; the
fold itself accepts anything, so that what two laptops said apart still adds up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from typing import Any

import msgspec

from rounds.bench.codes import members, some_of
from rounds.bench.dates import dated
from rounds.bench.folding.unsure import may_be_of, may_go, meant
from rounds.bench.kept_lots import called_kept, digits, named
from rounds.bench.plurals import PLURALS, count
from rounds.bench.state import Bench, Container, Lot
from rounds.bench.taxon_names import identification
from rounds.bench.taxon_names import meant as meant_by
from rounds.entries.base import Entry, Sex, Stage
from rounds.entries.piecewise import typed
from rounds.entries.schema import describe
from rounds.entries.which_animals import tells_animals, which
from rounds.entries.wording import animals

CONFUSABLE = frozenset("0O1l")


AHEAD_ALLOWED = timedelta(minutes=2)  # two laptops' clocks are never quite the same


def refusal(bench: Bench, entry: Entry, now: datetime) -> str | None:
    """Why this entry cannot be said now, in one line, or None where it can."""
    return next(_refusals(bench, entry, now), None)


def _refusals(bench: Bench, entry: Entry, now: datetime) -> Iterator[str]:
    yield from _about_time(bench, entry, now)
    yield from _about_place(bench, entry)
    yield from entry.refusals(bench)
    if tells_animals(type(entry)):
        yield from _of_those_there(bench, entry)


def _about_time(bench: Bench, entry: Entry, now: datetime) -> Iterator[str]:
    if entry.at > now + AHEAD_ALLOWED:
        yield (
            f"that is ahead of now ({clock_words(now, entry)}); give a time that has passed, as"
            " -20m or 7:40"
        )
    code = getattr(entry, "container", "")
    container = bench.containers.get(code) if code else None
    if container and not entry.sets_up and entry.at < container.since:
        yield (
            f"{code} was set up later, on"
            f" {dated(container.since.astimezone(entry.at.tzinfo), now)}; give a time after that"
        )


def clock_words(now: datetime, entry: Entry) -> str:
    return dated(now.astimezone(entry.at.tzinfo), entry.at)


def _about_place(bench: Bench, entry: Entry) -> Iterator[str]:
    code = getattr(entry, "container", "")
    if code and not entry.sets_up:
        yield from standing(bench, code)
    shelf = getattr(entry, "shelf", "")
    may_be_of_one = describe(type(entry)).field("container")
    if shelf and may_be_of_one and not may_be_of_one.required and shelf not in bench.shelves:
        moat = " barrier=moat" if entry.what == "barrier" else ""
        yield (
            f"no shelf is called {shelf} yet; first: shelf set up {typed(shelf)}{moat}"
            if any(one.shelf == shelf for one in bench.standing())
            else f"no shelf is called {shelf}; there {listed(bench.shelves)}"
        )


def standing(bench: Bench, code: str) -> Iterator[str]:
    if bench.at(code):
        return
    if code in bench.closed:
        yield (
            f"{code} was closed and washed; set it up again, or use another; there"
            f" {listed(standing_codes(bench))}"
        )
    yield f"no container is called {code}; there {listed(standing_codes(bench))}"


def standing_codes(bench: Bench) -> list[str]:
    return [container.code for container in bench.standing()]


def listed(names: Any) -> str:
    known = sorted(names)
    if not known:
        return "is none yet"
    shown = ", ".join(known[:8])
    return f"{'is' if len(known) == 1 else 'are'} {shown}{' and more' if len(known) > 8 else ''}"


def advice(entries: Sequence[Entry], bench: Bench) -> str:
    """Words of advice about what was said, which is kept as it is; empty where there are none."""
    return "; ".join(filter(None, (_misread(entries), *_withheld(entries, bench))))


def _withheld(entries: Iterable[Entry], bench: Bench) -> Iterator[str]:
    """That what was caught leaves as if it were protected, though nobody said that it is."""
    taxa = list(bench.taxa.values())
    caught = (getattr(entry, "taxon", "") for entry in entries if entry.what == "founder")
    names = dict.fromkeys(name for taxon in caught for name in members(taxon))
    for name in names if any(one.protected for one in taxa) else ():
        may_be, plain = identification(name, taxa).taxa, meant_by(name, taxa)
        guarded = [one.name for one in may_be if one.protected]
        if not may_be:
            yield (
                f"'{name}' is none of your taxa, and leaves as protected, without its exact place;"
                f" as: taxon {typed(name)}"
            )
        elif guarded and not any(one.protected for one in plain):
            yield (
                f"'{name}' may be {' or '.join(guarded)}, and leaves as protected, without its"
                " exact place"
            )


def _misread(entries: Iterable[Entry]) -> str:
    """That a code may be misread on a label."""
    codes = {
        code: CONFUSABLE & set(code.split("-")[0])
        for entry in entries
        if entry.sets_up
        for code in entry.containers
    }
    doubtful = sorted(code for code, signs in codes.items() if signs)
    if not doubtful:
        return ""
    signs = sorted(set().union(*(codes[code] for code in doubtful)))
    return (
        f"{some_of(doubtful)}: {' and '.join(signs)} {'is' if len(signs) == 1 else 'are'} easily"
        " misread on a label"
    )


def new_code(code: str, what: str) -> Iterator[str]:
    if not code.isprintable() or any(sign.isspace() for sign in code):
        yield f"{code!r} cannot be a {what} code; use letters, digits, '-' and '/'"


def move_kept(bench: Bench, code: str) -> str:
    """How stems that are kept in a container leave it, as lines."""
    new = bench.free_code("E")
    return f"{code} kept stems to new {new}, or {code} kept stems binned"


def known_lots(bench: Bench, entry: Any) -> Iterator[str]:
    """Only lots that are kept; the rest of a refusal is what lots there are."""
    container = bench.containers[entry.container]
    there = named(bench, container, entry.lots)
    if called_kept(bench, container, entry.lots) and container.held:
        yield which_lot(container)
        return
    if entry.lots and len(there) < len(set(entry.lots)):
        lots = len(container.held)
        one = (
            f"has one lot, {container.held[0].number}" if lots == 1 else f"has {digits(container)}"
        )
        known = one if lots else "has no kept stems"
        yield f"{entry.container} {known}"


def which_lot(container: Container) -> str:
    """On which of several kept lots eggs were."""
    return f"say on which lot the eggs were: {digits(container)}, or lot=all if it is not known"


def holds(container: Container) -> str:
    """What is in a container on record, in words."""
    return (
        ", ".join(
            animals(lot.number, lot.stage, lot.brood, lot.instar, lot.sex)
            + (" crippled" if lot.crippled else "")
            for lot in container.lots
        )
        or "nothing"
    )


def alike_in(code: str, codes: Iterable[str]) -> str:
    """The one of these codes that differs from another in capitals at the most; empty where none
    does."""
    return next((one for one in codes if one.casefold() == code.casefold()), "")


def known_permit(bench: Bench, number: str) -> Iterator[str]:
    """A permit mistyped would count against no limit; where none was said yet, its number is taken
    as it is."""
    if number and bench.permits and number not in bench.permits:
        yield (
            f"no permit is called {number}; there {listed(bench.permits)}; a new one begins with"
            f" 'permit {number}'"
        )
    if number in bench.permits and bench.permits[number].closed:
        yield (
            f"permit {number} is closed; open it with 'permit {number} closed=no', or name another"
        )


def no_mother(bench: Bench, code: str) -> Iterator[str]:
    if bench.sex_of(code) == "male":
        yield f"{code} is a male; name a female as the mother"


def known_brood(bench: Bench, code: str) -> Iterator[str]:
    if code and code not in bench.founders and code not in bench.broods:
        known = listed([*bench.broods, *bench.founders])
        yield f"no brood is called {code}; there {known}; a new one begins with 'brood'"


def _of_those_there(bench: Bench, entry: Any) -> Iterator[str]:
    """More animals than are there, those that nobody can mean, or which of several kinds."""
    container = bench.containers[entry.container]
    for code in (*members(entry.brood), *entry.among):
        yield from known_brood(bench, code)
    lots = meant(container, entry)
    there = sum(may_go(lot, entry) for lot in lots)
    if (
        entry.takes
        and entry.brood in bench.founders
        and any(lot.brood != entry.brood for lot in lots)
    ):
        there = min(there, 1)  # one of several that nobody told apart so far
    at_most = sum(lot.number for lot in lots if lot.brood == entry.brood) + may_be_of(
        bench, entry.brood
    )
    if entry.brood in bench.broods and at_most < entry.number <= there:
        text = f"at most {at_most} of {entry.brood} stand in {container.code}"
        yield f"{entry.number} {entry.what}, but {text}; give {at_most} or fewer"
    sex: Sex | None = None if entry.grows_from else getattr(entry, "sex", None)
    yield from more_than_may_be(container, entry, lots, sex, min(entry.number, there))
    if entry.number > there:
        yield _too_many(bench, container, entry, there)
    yield from which_refusals(bench, entry)


def more_than_may_be(
    container: Container, entry: Any, lots: Iterable[Lot], sex: Sex | None, number: int
) -> Iterator[str]:
    """More of a sex than can be among those whose sex nobody knows any more."""
    at_most = sum(lot.may_be(sex) for lot in lots) if sex else number
    if at_most < number:
        of_sex = f"{sex}{'' if at_most == 1 else 's'}"
        yield (
            f"{entry.number} {entry.what}, but at most {at_most} {of_sex} can be in"
            f" {container.code}; give {at_most} or fewer"
        )


def told_later(bench: Bench, entry: Any, now: datetime) -> str | None:
    """That animals of which it is told late how they grew did so on record by a later line, which
    would take others for them then, and give that line fewer. None where so many are left for
    it on the bench as it stands."""
    container = bench.at(getattr(entry, "container", ""))
    if container is None or not entry.grows_from or entry.moults:
        return None
    later = container.last.get(entry.what)
    left = container.count(entry.grows_from, entry.brood)
    if later is None or later.at <= entry.at or entry.number <= left:
        return None
    of_them = f"give {left} or fewer" if left else "count again first"
    return (
        f"{container.code} {entry.what} {getattr(later, 'number', '')} on {dated(later.at, now)}"
        f" already, and holds {left} {PLURALS[entry.grows_from]} since; the same ones? Then cross"
        f" that line out in the daybook first; if others, {of_them}"
    )


# What those of the stage before do, by the stage that they come to.
_BECAME: dict[str, tuple[Stage, str]] = {
    "larva": ("egg", "hatched"),
    "pupa": ("larva", "pupated"),
    "adult": ("pupa", "emerged"),
}


def grown_to(container: Container, stage: str, number: int) -> str:
    """How it is said that animals came to the stage that was counted; '' where none can have."""
    before, verb = _BECAME.get(stage, (None, ""))
    if before is None or container.count(before) < max(number, 1):
        return ""
    return f"if they are now: {container.code} {verb} {number}"


def _of_sex(entry: Any, number: int) -> str:
    """So many of the sex that an entry says."""
    return f"{number or 'no'} {entry.sex}{'' if number == 1 else 's'}"


def _too_many(bench: Bench, container: Container, entry: Any, there: int) -> str:
    code, number = container.code, entry.number
    if getattr(entry, "wings", "") == "crippled" and not any(
        lot.crippled for lot in container.lots
    ):
        of_these = f"{number} {entry.sex or 'adult'}"
        why = f"; of what it died of: {code} died {of_these} cause=crippled"
        return f"none on record in {code} is crippled{why if entry.what == 'died' else ''}"
    if entry.brood in bench.founders and container.lots and not there:
        return f"{entry.brood} is not in {code} on record; it holds {holds(container)}"
    if entry.grows_from:
        younger = f" younger than L{entry.instar}" if entry.moults else ""
        now = entry.instar if entry.moults else 0
        in_it = sum(lot.number for lot in container.lots_of("larva") if lot.instar == now)
        if now and in_it >= number:  # '3 L3 moulted' of L3
            return (
                f"{there or 'none'} of {code} can have become L{entry.instar}; of the"
                f" L{entry.instar} there that moulted, as: {code} moulted {number}"
                f" L{entry.instar + 1}"
            )
        return (
            f"{number} {entry.what}, but {code} holds {there} {PLURALS[entry.grows_from]}{younger}"
            " on record; count first"
        )
    if entry.stage == "adult" == entry.stage_meant(container, msgspec.structs.asdict(entry)):
        pupae, more = container.count("pupa"), number - there
        adults = count(there, "adult") if there else "no adults"
        standing, fit = container.count("adult"), min(pupae, more)
        emerged, released = str(fit), str(there + fit)
        if entry.sex and there < standing:  # the others are of the other sex
            adults = f"{_of_sex(entry, there)} of {count(standing, 'adult')}"
            emerged = _of_sex(entry, fit).replace(" ", " more ", 1)
            released = _of_sex(entry, there + fit)
        if pupae:
            return (
                f"{number} {entry.what}, but {code} holds {adults}; if"
                f" {fit} more emerged, first: {code} emerged {emerged}, then {code}"
                f" {entry.what} {released}"
            )
        if entry.sex and there < standing:
            return f"{number} {entry.sex} {entry.what}, but {code} holds {holds(container)}"
        young = next((lot.stage for lot in container.lots if lot.stage != "adult"), None)
        as_young = ""
        if young and not entry.sex:
            those = count(min(number, container.count(young)), young)
            as_young = f"; of young ones say the stage, as: {code} {entry.what} {those}"
        return f"{number} {entry.what}, but {code} holds {adults}{as_young}"
    grown = grown_to(container, entry.stage or "", number - there)
    return (
        f"{number} out of {code}, but it holds {holds(container)};"
        f" {grown or 'count again, or correct the stock'}"
    )


def which_refusals(bench: Bench, entry: Entry) -> Iterator[str]:
    """Which animals are meant, where several kinds are there."""
    which_animals = which(bench, type(entry), msgspec.structs.asdict(entry))
    if which_animals:
        yield which_animals.asked


def impossible_parents(
    bench: Bench, mothers: tuple[str, ...], fathers: tuple[str, ...]
) -> Iterator[str]:
    """One animal with itself, a male as mother, a female as father; a brood has both sexes and may
    pair within itself."""
    for code in mothers:
        if code in fathers and code in bench.founders:
            yield f"{code} is one animal; name another to pair it with"
        yield from no_mother(bench, code)
    for code in fathers:
        if bench.sex_of(code) == "female":
            yield f"{code} is a female; name a male as the father"
