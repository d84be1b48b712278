"""The door: what may not be said, and why, in one line each.

Each refusal says what is wrong and what would be right. A refusal is about the present bench; the fold itself
accepts anything, so that what two laptops said apart still adds up.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

import msgspec

from rounds.bench.codes import members
from rounds.bench.dates import dated
from rounds.bench.folding.hunger import fed_lots
from rounds.bench.folding.lots import matching
from rounds.bench.folding.not_seen import counted_lots, escaped_here, open_here, told_by_count
from rounds.bench.folding.tending import lots_searched
from rounds.bench.folding.unsure import maybe_of, meant, unsexed
from rounds.bench.kept_lots import digits, either, fits, named
from rounds.bench.mates import WILD, two_species
from rounds.bench.measures import measures_of
from rounds.bench.parents import foreign_mother
from rounds.bench.series_names import is_series_name
from rounds.bench.state import NO_MARK, PLURALS, STAGES, Bench, Container, Unsure
from rounds.bench.whose_eggs import layers
from rounds.entries import registry as k
from rounds.entries.base import STICKY, Entry
from rounds.entries.names import species_named
from rounds.entries.phrase.reader import names_of, no_range
from rounds.entries.phrase.tokens import some_of
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.which_animals import which
from rounds.entries.wording import animals

CONFUSABLE = frozenset("0O1l")
_MEAN_SOMETHING = frozenset({*STAGES, *PLURALS.values(), *KIND_BY_NAME, "male", "males", "female", "females", "all", "each", "not",
                             "known", "unmarked", "missing", "others", "sure", "or", "and", "of", "to", "in", "on"})  # fmt: skip
SAME_READING, MOST_APART_C = timedelta(seconds=90), 5.0  # no air changes by more C so soon; our estimate
# said of the bench as it stands, whenever it is said to have been
OF_NOW = (k.SetUp, k.StopSkipped, k.PutOff, k.LoggerRead, k.ReleaseBy, k.PlanChanged)
AHEAD_ALLOWED = timedelta(minutes=2)  # two laptops' clocks are never quite the same


def refusal(bench: Bench, entry: Entry, now: datetime) -> str | None:
    """Why this entry cannot be said now, in one line, or None where it can."""
    return next(_refusals(bench, entry, now), None)


def _refusals(bench: Bench, entry: Entry, now: datetime) -> Iterator[str]:
    yield from _about_time(bench, entry, now)
    yield from _about_place(bench, entry)
    check = _CHECKS.get(type(entry))
    if check:
        yield from check(bench, entry)


def _about_time(bench: Bench, entry: Entry, now: datetime) -> Iterator[str]:
    if entry.at > now + AHEAD_ALLOWED:
        yield f"that is ahead of now ({_clock(now, entry)}); give a time that has passed, as -20m or 7:40"
    code = getattr(entry, "container", "")
    container = bench.containers.get(code) if code else None
    if container and not isinstance(entry, k.SetUp) and entry.at < container.since:
        yield (f"{code} was set up later, on {dated(container.since.astimezone(entry.at.tzinfo), now)}; give a time after that")


def _clock(now: datetime, entry: Entry) -> str:
    return dated(now.astimezone(entry.at.tzinfo), entry.at)


def _about_place(bench: Bench, entry: Entry) -> Iterator[str]:
    code = getattr(entry, "container", "")
    if code and not isinstance(entry, k.SetUp):
        yield from _standing(bench, code)
    shelf = getattr(entry, "shelf", "")
    names_a_shelf = isinstance(entry, k.BarrierSeen | k.ToppedUp | k.Air | k.LoggerRead | k.StopSkipped | k.PutOff)
    if names_a_shelf and shelf and shelf not in bench.shelves:
        yield f"no shelf is called {shelf}; there {_listed(bench.shelves)}"


def _standing(bench: Bench, code: str) -> Iterator[str]:
    if bench.at(code):
        return
    if code in bench.closed:
        yield f"{code} was closed and washed; set it up again, or use another; there {_listed(_codes(bench))}"
    yield f"no container is called {code}; there {_listed(_codes(bench))}"


def _codes(bench: Bench) -> list[str]:
    return [container.code for container in bench.standing()]


def _listed(names: Any) -> str:
    known = sorted(names)
    if not known:
        return "is none yet"
    shown = ", ".join(known[:8])
    return f"{'is' if len(known) == 1 else 'are'} {shown}{' and more' if len(known) > 8 else ''}"


def advice(entries: Iterable[Entry]) -> str:
    """A word of advice about what was said, which is kept as it is; empty where there is none."""
    codes = {entry.container: CONFUSABLE & set(entry.container.split("-")[0]) for entry in entries if isinstance(entry, k.SetUp)}
    doubtful = sorted(code for code, signs in codes.items() if signs)
    if not doubtful:
        return ""
    signs = sorted(set().union(*(codes[code] for code in doubtful)))
    return f"{some_of(doubtful)}: {' and '.join(signs)} {'is' if len(signs) == 1 else 'are'} easily misread on a label"


def _new_code(code: str, what: str) -> Iterator[str]:
    if not code.isprintable() or any(sign.isspace() for sign in code):
        yield f"{code!r} cannot be a {what} code; use letters, digits, '-' and '/'"


def _set_up(bench: Bench, entry: k.SetUp) -> Iterator[str]:
    if bench.at(entry.container):
        yield f"{entry.container} stands on the bench already; close it first, or choose another code"
    yield from _new_code(entry.container, "container")
    if wrong := no_range(entry.container):
        yield wrong
    for what, codes in (("founder", bench.founders), ("brood", bench.broods)):
        alike = _alike(entry.container, codes)
        if alike:
            yield f"{alike} is a {what}; a container needs a name that no animals have"
    if entry.inside:
        yield from _standing(bench, entry.inside)
        if entry.inside == entry.container:
            yield f"{entry.container} cannot stand inside itself"


def _changed(bench: Bench, entry: k.Changed) -> Iterator[str]:
    if entry.inside:
        yield from _standing(bench, entry.inside)
        around = bench.containers.get(entry.inside)
        passed = set()
        while around and around.code not in passed:
            if around.code == entry.container:
                yield f"{entry.container} cannot stand inside itself"
            passed.add(around.code)
            around = bench.containers.get(around.inside)


def _closed(bench: Bench, entry: k.Closed) -> Iterator[str]:
    container = bench.containers[entry.container]
    if container.lots:
        yield f"{entry.container} still holds {holds(container)}; move, release or settle them first"
    if container.held:
        yield f"{entry.container} still holds kept stems that may bear eggs; move them first, as: {_move_kept(entry.container)}"
    laid_on = sorted({host.plant for host in container.hosts if host.mothers})
    if laid_on:
        yield f"{', '.join(laid_on)} in {entry.container} may bear eggs; take it out first, as: {_move_stems(entry.container)}"


def _move_stems(code: str) -> str:
    return f"{code} host out held_in=CODE"


def _move_kept(code: str) -> str:
    return f"{code} kept stems to CODE (that is {code} host out lots=all held_in=CODE), or {code} kept stems binned"


def _known_lots(bench: Bench, entry: k.HostOut | k.FrassSeen | k.Searched) -> Iterator[str]:
    """Only lots that are kept; the rest of a refusal is what lots there are."""
    container = bench.containers[entry.container]
    there = named(bench, container, entry.lots)
    if entry.lots and len(there) < len(set(entry.lots)):
        lots = len(container.held)
        one = f"has one lot, {container.held[0].number}" if lots == 1 else f"has {digits(container)}"
        known = one if lots else "has no kept stems"
        yield f"{entry.container} {known}"


def _frass(bench: Bench, entry: k.FrassSeen) -> Iterator[str]:
    yield from _known_lots(bench, entry)


def holds(container: Container) -> str:
    """What is in a container by the book, in words."""
    return ", ".join(animals(lot.number, lot.stage, lot.brood, lot.instar) for lot in container.lots) or "nothing"


def _brood_code_used(bench: Bench, code: str) -> Iterator[str]:
    if code.casefold() == WILD:
        yield f"{code} means a male from the wild that never came in; choose another code"
    if code in bench.founders or code in bench.broods:
        yield f"code {code} was used before and is never used again; choose the next free one"
    alike = _alike(code, bench.containers) or _alike(code, bench.closed)
    if alike:
        yield f"{alike} is a container; animals need a name that no container has"
    yield from _new_code(code, "brood")
    several = names_of(code, ())
    if code.casefold() == f"{several[0]}-{several[-1]}".casefold():  # W26-30 is one code, of a year
        yield f"{code} are {len(several)} codes, and a line brings in one: say {several[0]}; for the next, 'same again'"


def _alike(code: str, codes: Iterable[str]) -> str:
    """The one of these codes that differs from another in capitals at the most; empty where none does."""
    return next((one for one in codes if one.casefold() == code.casefold()), "")


def refusal_of_better(bench: Bench, entry: Entry) -> str | None:
    """Why a founder's line cannot be written anew so, in one line, or None where it can."""
    return next(_known_of_founder(bench, entry), None) if isinstance(entry, k.FounderIntake) else None


def _founder(bench: Bench, entry: k.FounderIntake) -> Iterator[str]:
    if entry.code in bench.founders and entry.taxon != bench.founders[entry.code].taxon:
        yield (
            f"code {entry.code} was used before and is never used again; choose the next free one; "
            f"what is known better of her: {entry.code} is NAME, or {entry.code} at PLACE caught TIME wear fresh"
        )
    yield from _brood_code_used(bench, entry.code)
    yield from _known_of_founder(bench, entry)


def _known_of_founder(bench: Bench, entry: k.FounderIntake) -> Iterator[str]:
    if entry.caught and entry.caught > entry.at:
        one = entry.he_or_she
        yield f"{one} was caught after {one} came in; give the catch an earlier time"
    yield from _known_permit(bench, entry.permit)
    yield from _new_mark(bench, entry.mark, entry.code)


def _known_permit(bench: Bench, number: str) -> Iterator[str]:
    """A permit mistyped would count against no limit; where none was said yet, its number is taken as it is."""
    if number and bench.permits and number not in bench.permits:
        yield f"no permit is called {number}; there {_listed(bench.permits)}; a new one begins with 'permit {number}'"
    if number in bench.permits and bench.permits[number].closed:
        yield f"permit {number} is closed; open it with 'permit {number} closed=no', or name another"


def _brood(bench: Bench, entry: k.BroodBegun) -> Iterator[str]:
    known = bench.broods.get(entry.code)
    if known and known.mothers and entry.taxon not in ("", bench.taxon_of(entry.code)):
        yield (
            f"code {entry.code} was used before and is never used again; choose the next free one; "
            f"if its name is known better, say it of its mother: {known.mothers[0]} is NAME"
        )
    yield from _brood_code_used(bench, entry.code)
    for parent in (*entry.mothers, *(one for one in entry.fathers if one != WILD)):
        if parent not in bench.founders and parent not in bench.broods:
            yield f"no founder or brood is called {parent}; name parents that came in before"
    yield from _impossible_parents(bench, entry.mothers, entry.fathers)
    if foreign := foreign_mother(bench, entry):
        yield f"{foreign.partition(':')[0]}; name its own mother, or leave the taxon away"
    if entry.laid_from and entry.laid_to and entry.laid_from > entry.laid_to:
        yield "laid-from is after laid-to; the first must be the earlier"


def _known_brood(bench: Bench, code: str) -> Iterator[str]:
    if code and code not in bench.founders and code not in bench.broods:
        known = _listed([*bench.broods, *bench.founders])
        yield f"no brood is called {code}; there {known}; a new one begins with 'brood'"


def _stocked(bench: Bench, entry: k.Stocked) -> Iterator[str]:
    yield from _known_brood(bench, entry.brood)
    if entry.stage != "adult" and _sex_of(bench, entry.brood) == "male" and bench.founders[entry.brood].stage == "adult":
        yield f"{entry.brood} is a male; name a female as the mother"


def _out_of(bench: Bench, entry: Any, number: int) -> Iterator[str]:
    """More out than in, those that nobody can mean, or which of several kinds."""
    container = bench.containers[entry.container]
    for code in (*members(entry.brood), *entry.among):
        yield from _known_brood(bench, code)
    lots = meant(container, entry)
    there = sum(lot.number for lot in lots)
    if entry.brood in bench.founders and any(lot.brood != entry.brood for lot in lots):
        there = min(there, 1)  # one of several that nobody told apart so far
    if number > there:
        if isinstance(entry, k.Released) and entry.stage == "adult":
            young = next((lot.stage for lot in container.lots if lot.stage != "adult"), "")
            as_young = f"; of young ones say the stage, as: {container.code} released {number} {young}" if young else ""
            yield f"{number} released, but {container.code} holds {there or 'no'} adults{as_young}"
        yield f"{number} out of {container.code}, but it holds {holds(container)}; count again, or correct the stock"
    yield from _which(bench, entry)


def _which(bench: Bench, entry: Entry) -> Iterator[str]:
    """Which animals are meant, where several kinds are there."""
    asked = which(bench, type(entry), msgspec.structs.asdict(entry))
    if asked:
        yield asked.asked


def _moved(bench: Bench, entry: k.Moved) -> Iterator[str]:
    yield from _standing(bench, entry.to)
    if entry.to == entry.container:
        yield f"{entry.container} to {entry.to} is no move; give another container"
    yield from _out_of(bench, entry, entry.number)
    if entry.arrived is not None and entry.arrived > entry.number:
        yield f"{entry.arrived} arrived but {entry.number} left; no more can arrive than left"


def _split(bench: Bench, entry: k.Split) -> Iterator[str]:
    unknown = [code for code in entry.into if not bench.at(code) and code not in bench.closed]
    if unknown:
        span = f"{unknown[0]}-{unknown[-1]}"
        told = span if len(unknown) > 1 and names_of(span, ()) == unknown else ",".join(unknown)
        them = "it" if len(unknown) == 1 else "them"
        yield f"no container is called {told}; to set {them} up like {entry.container}, say: split 1 each into new {told}"
    for code in entry.into:
        yield from _standing(bench, code)
    if len(entry.into) != len(entry.numbers):
        one = f", or say '{entry.numbers[0]} each'" if len(entry.numbers) == 1 else ""
        yield f"{len(entry.into)} containers but {len(entry.numbers)} numbers; give one number for each{one}"
    if any(number < 0 for number in entry.numbers):
        yield "a number is below zero; give how many went into each"
    yield from _out_of(bench, entry, sum(entry.numbers) + entry.missing)


def _merged(bench: Bench, entry: k.Merged) -> Iterator[str]:
    for code in entry.sources:
        yield from _standing(bench, code)
        if code == entry.container:
            yield f"{code} cannot be merged into itself"
    there = sum(bench.containers[code].count() for code in entry.sources)
    if entry.number is not None and entry.number > there:
        yield f"{entry.number} arrived, but the sources hold {there}; no more can arrive than left"
    kinds = {(lot.brood, lot.stage, lot.instar, lot.sex) for code in entry.sources for lot in bench.containers[code].lots}
    if entry.number is not None and entry.number < there and len(kinds) > 1:
        code = entry.sources[0]
        yield f"the sources hold several kinds; say first what is missing of which, as: {code} missing 1 {_example(bench, code)}"


def _example(bench: Bench, code: str) -> str:
    lots = bench.containers[code].lots
    return lots[0].stage if lots else "larva"


def _counted(bench: Bench, entry: k.Counted) -> Iterator[str]:
    yield from _known_brood(bench, entry.brood)
    container = bench.containers[entry.container]
    lots = matching(container, brood=entry.brood, stage=entry.stage)
    lots += [] if lots and entry.number == sum(lot.number for lot in lots) else maybe_of(container, entry)
    kinds = {(lot.brood, lot.stage) for lot in lots}
    if len(kinds) > 1 and entry.number != sum(lot.number for lot in lots):
        broods = sorted({brood for brood, _ in kinds})
        stages = sorted({stage for _, stage in kinds})
        ask = f"brood={broods[0]}" if len(broods) > 1 else f"stage={stages[0]}"
        yield f"{entry.container} holds {holds(container)}; say which were counted, as {ask}"
    if not lots and entry.number and not (entry.brood and entry.stage):
        yield f"{entry.container} holds {holds(container)}; say which brood and stage were counted"
    yield from _of_another_instar(container, entry)


def _of_another_instar(container: Container, entry: k.Counted) -> Iterator[str]:
    """More of an instar than on record, where others of it are there: those moulted, or were counted with them."""
    if not entry.instar or entry.stage not in (None, "larva"):
        return
    there = [*counted_lots(container, entry), *told_by_count(container, entry)]
    more = entry.number - sum(lot.number for lot in there)
    whole = k.Counted(**(msgspec.structs.asdict(entry) | {"instar": None, "stage": "larva"}))
    others = [lot for lot in (*counted_lots(container, whole), *maybe_of(container, whole)) if lot not in there]
    if more <= 0 or not others:
        return
    code, brood = entry.container, f" {entry.brood}" if entry.brood else ""
    known = sum(lot.number for lot in there)
    holds_now = ", ".join(animals(lot.number, lot.stage, lot.brood, lot.instar) for lot in others)
    younger = min(more, sum(lot.number for lot in others if lot.instar < entry.instar))
    first = f"if they moulted, first: {code} moulted {younger} L{entry.instar}{brood}; or " if younger else ""
    yield (
        f"{code} holds {holds_now}, {known or 'no'} L{entry.instar}; {first}count them all: "
        f"{code} counted {known + sum(lot.number for lot in others)} larvae{brood}"
    )


def _weighed(bench: Bench, entry: k.Weighed) -> Iterator[str]:
    yield from _known_brood(bench, entry.brood)
    container = bench.containers[entry.container]
    there = sum(lot.number for lot in matching(container, brood=entry.brood, stage=entry.stage))
    if entry.number > there:
        yield f"{entry.number} weighed, but {entry.container} holds {holds(container)}; weigh what is there"


def _settled(bench: Bench, entry: k.Settled) -> Iterator[str]:
    missed = sum(one.number for one in open_here(bench, entry.container, entry.brood, entry.stage))
    out = sum(one.number for one in escaped_here(bench, entry.container, entry.brood, entry.stage))
    may_come_back = out if entry.fate == "found" else 0
    if entry.number > missed + may_come_back:
        escaped = f" and {out} escaped" if may_come_back else ""
        yield f"{entry.container} has {missed} not seen{escaped}; settle no more than that"
    yield from _which(bench, entry)


def _change_of_stage(stage: str) -> Callable[[Bench, Any], Iterator[str]]:
    def check(bench: Bench, entry: Any) -> Iterator[str]:
        container = bench.containers[entry.container]
        for code in (*members(entry.brood), *entry.among):
            yield from _known_brood(bench, code)
        there = sum(lot.number for lot in meant(container, entry))
        name = {"egg": "eggs", "larva": "larvae", "pupa": "pupae"}[stage]
        younger = f" younger than L{entry.instar}" if isinstance(entry, k.Moulted) else ""
        if entry.number > there:
            has = f"{entry.container} holds {there} {name}{younger} by the book"
            yield f"{entry.number} {entry.what}, but {has}; count first"
        yield from _which(bench, entry)
        if isinstance(entry, k.Emerged) and entry.crippled > entry.number:
            yield f"{entry.crippled} crippled of {entry.number} emerged; no more can be crippled than emerged"

    return check


def _leaving(bench: Bench, entry: Any) -> Iterator[str]:
    yield from _out_of(bench, entry, entry.number)


def _sexed(bench: Bench, entry: k.Sexed) -> Iterator[str]:
    yield from _known_brood(bench, entry.brood)
    container = bench.containers[entry.container]
    lots = unsexed(container, entry)
    there = sum(lot.number for lot in lots)
    if entry.number > there:
        what = f"{there or 'no'} {PLURALS[entry.stage or 'adult']}"
        yield f"{container.code} holds {what} whose sex is not known; it holds {holds(container)}"
    broods = sorted({code for lot in lots for code in lot.codes})
    if len(broods) > 1 and not entry.brood and entry.number < there:
        yield f"{container.code} holds several broods; say which: {' or '.join(f'brood={one}' for one in broods)}"


def _died(bench: Bench, entry: k.Died) -> Iterator[str]:
    if entry.whose == "missing":
        yield f"none of {entry.container} is missing on record; without 'missing' they are of those that are there"
    yield from _leaving(bench, entry)


def _parasitoid(bench: Bench, entry: k.Parasitoid) -> Iterator[str]:
    for code in members(entry.brood):
        yield from _known_brood(bench, code)
    container = bench.containers[entry.container]
    broods = sorted({lot.brood for lot in container.lots})
    if not entry.brood and len(broods) > 1:
        yield f"{entry.container} holds several broods; say which the host was of: brood={' or brood='.join(broods)}"


def _adults_fed(bench: Bench, entry: k.Drank | k.Refused) -> Iterator[str]:
    there = sum(lot.number for lot in fed_lots(bench, bench.containers[entry.container]))
    yield from _takes_none(bench, entry)
    if entry.number > there > 0:
        yield f"{entry.number} adults {entry.what}, but {entry.container} holds {there}; give {there} or fewer"
    if there == 0:
        yield f"{entry.container} holds no adults to drink; it holds {holds(bench.containers[entry.container])}"
    if entry.female and not bench.containers[entry.container].count("adult", entry.female):
        yield f"{entry.female} is not in {entry.container} on record; it holds {holds(bench.containers[entry.container])}"


def _takes_none(bench: Bench, entry: k.Drank | k.Refused | k.Offered) -> Iterator[str]:
    """An animal that takes no food as an adult neither drank nor refused."""
    named = getattr(entry, "female", "")
    adults = [lot for lot in bench.containers[entry.container].lots_of("adult") if named in ("", *lot.codes)]
    if adults and not any(bench.is_fed(lot) for lot in adults):
        taxon = bench.taxon_of(adults[0].brood)
        yield f"{taxon} takes no food as an adult; if it does, first: taxon '{taxon}' no_adult_food=no"


def _offered(bench: Bench, entry: k.Offered) -> Iterator[str]:
    yield from _takes_none(bench, entry)
    container = bench.containers[entry.container]
    if container.lots and not container.count("adult"):
        yield f"{entry.container} holds no adults to feed; it holds {holds(container)}"


def _host_in(bench: Bench, entry: k.HostIn) -> Iterator[str]:
    hosts = bench.containers[entry.container].hosts
    if entry.kept == "living" and any((one.plant, one.kept) == (entry.plant, "living") for one in hosts):
        yield f"{entry.plant} stands in {entry.container} already, living; say how it looks, or take it out first"
    if entry.cut and entry.cut > entry.at:
        yield "the host was cut after it was put in; give the cut an earlier time"


def _host_seen(bench: Bench, entry: k.HostSeen) -> Iterator[str]:
    hosts = bench.containers[entry.container].hosts
    if hosts and not any(fits(host, entry.plant, "") for host in hosts):
        yield f"{entry.container} has no {entry.plant}; it has {', '.join(f'{host.plant} {host.batch}'.strip() for host in hosts)}"
    if not hosts:
        yield f"{entry.container} has no host plant in it; say what was put in, as: {entry.container} host in violet leaf"


def _host_out(bench: Bench, entry: k.HostOut) -> Iterator[str]:
    yield from _known_lots(bench, entry)
    container = bench.containers[entry.container]
    there = [(host.plant, host.batch) for host in container.hosts]
    there += [(held.plant, held.batch) for held in container.held]
    if not there:
        yield f"{entry.container} has no host plant in it"
    fits = [1 for plant, batch in there if entry.plant in ("", plant) and entry.batch in ("", batch)]
    if there and not fits:
        known = ", ".join(f"{plant} {batch}".strip() for plant, batch in there)
        yield f"{entry.container} has no such host; it has {known}"
    if entry.held_in:
        yield from _standing(bench, entry.held_in)
    asked = either(container, entry.plant, entry.batch, entry.fate, entry.held_in)
    if asked and not entry.lots:
        yield asked
    yield from _kept_out(container, entry)


def _kept_out(container: Container, entry: k.HostOut) -> Iterator[str]:
    """Kept stems go somewhere by name, or are discarded; else nobody would watch them any more."""
    standing = [host for host in container.hosts if fits(host, entry.plant, entry.batch)]
    if entry.fate in ("binned", "hatched") or (standing and not entry.lots) or not container.held:
        return
    if entry.held_in in ("", container.code):
        yield f"{container.code} keeps these stems already; say where to, as: {_move_kept(container.code)}"
    elif entry.sprigs and all(held.sprigs is not None for held in container.held):
        there = sum(held.sprigs or 0 for held in container.held if not entry.lots or held.lot in entry.lots)
        if entry.sprigs > there:
            yield f"{entry.sprigs} stems out of {container.code}, but {there} are kept there; give {there} or fewer"


def _barrier(bench: Bench, entry: k.BarrierSeen | k.ToppedUp) -> Iterator[str]:
    if not entry.container and not entry.shelf:
        yield f"say whose barrier: a container, or shelf=; shelves there {_listed(bench.shelves)}"
    if entry.container and entry.shelf:
        yield "say one: a container or a shelf, not both"
    yield from _no_water(bench, entry)


def _no_water(bench: Bench, entry: k.BarrierSeen | k.ToppedUp) -> Iterator[str]:
    """What has no barrier is not looked at for one; a sticky band or grease has no depth, is not low, and is not filled up."""
    barrier = bench.barrier_named(entry.container, entry.shelf)
    whose = entry.container or entry.shelf
    if barrier == "none" and not _tells_ants(entry) and (entry.shelf in bench.shelves or entry.container in bench.containers):
        first = f"shelf set up {whose} moat" if entry.shelf else f"{whose} changed barrier=moat"
        yield f"{whose} has no barrier on record; first: {first}"
    wet = entry.depth_mm is not None or getattr(entry, "state", "") == "low" or getattr(entry, "washed", False)
    if barrier in STICKY and wet:
        yield f"{whose} has {'a ' if barrier == 'sticky band' else ''}{barrier}, no water; say sound, dirty, dry, bridged, or renewed"


def _tells_ants(entry: k.BarrierSeen | k.ToppedUp) -> bool:
    """Whether it says that ants were there, which may be said of any place."""
    return isinstance(entry, k.BarrierSeen) and bool(entry.ants_above or entry.ants_below or entry.state in ("bridged", "breached"))


def _searched(bench: Bench, entry: k.Searched) -> Iterator[str]:
    for code in (entry.brood, *entry.among):
        yield from _known_brood(bench, code)
    if _sex_of(bench, entry.brood) == "male":
        yield f"{entry.brood} is a male; name a female as the mother"
    yield from _known_lots(bench, entry)
    species = species_named(bench, entry.plant) or species_named(bench, entry.where)
    if species and entry.found:
        yield f"{species} is no plant, and no female of it may have laid in {entry.container}; {_whose(bench, entry)}"
    yield from _which(bench, entry)
    if entry.found and not entry.lots and len(lots_searched(bench, bench.containers[entry.container], entry)) > 1:
        yield f"say on which lot the eggs were: {digits(bench.containers[entry.container])}, or lot=all where it is not known"
    if entry.confirmed:
        yield from _unsure(bench.containers[entry.container], entry)
    if entry.found and not entry.brood:
        yield _whose(bench, entry)


def _whose(bench: Bench, entry: k.Searched) -> str:
    """How to say whose eggs are."""
    container = bench.containers[entry.container]
    here = {code for lot in container.lots_of("egg") for code in lot.codes}
    codes = [*layers(bench, container, {"lots": entry.lots}, entry.at).codes] or sorted(here & bench.broods.keys())
    if not codes and bench.broods:
        codes = list(bench.broods)[-1:]
    if not codes:
        return f"no female stood in {container.code}; first begin a brood, as: brood E1 taxon='...', then say brood=E1"
    return f"say which brood the eggs belong to, as {' or '.join(f'brood={code}' for code in codes)}"


def _unsure(container: Container, entry: k.Searched) -> Iterator[str]:
    """Which of what was not sure is settled, where it was seen in several places."""
    code = container.code
    meant = [one for one in container.unsure if one.fits(entry.plant, entry.lots)]
    if not meant:
        places = ", ".join(f"{one.number} on {one.plant}" for one in container.unsure if one.plant)
        on = f" on {entry.plant}; there are {places}" if entry.plant and places else ""
        yield f"{code} has nothing seen that was not sure{on}; say what was found, as: {code} searched 4"
    there = sum(one.number for one in meant)
    if len({(one.plant, one.lots) for one in meant}) > 1 and 0 < entry.found < there:
        ways = [_how_confirmed(code, one) for one in meant]
        yield f"{there} are not sure in {code}; say which, as: {' and '.join(ways)}"


def _how_confirmed(code: str, one: Unsure) -> str:
    where = f" plant={one.plant}" if one.plant else f" lots={','.join(one.lots)}" if one.lots else ""
    return f"{code} confirmed {one.number}{where}"


def _air(bench: Bench, entry: k.Air) -> Iterator[str]:
    if entry.temperature_c is None and entry.humidity_percent is None and entry.low_c is None and entry.high_c is None:
        yield "give a temperature or a humidity, as 21.4C 46%"
    if entry.low_c is not None and entry.high_c is not None and entry.low_c > entry.high_c:
        yield f"lowest {entry.low_c:g} C is above highest {entry.high_c:g} C; swap them"
    if not entry.sure:
        yield from _contradicts(bench, entry)


def _contradicts(bench: Bench, entry: k.Air) -> Iterator[str]:
    """A reading too far from another of the same place at almost the same time: one of the two is mistyped."""
    place, new = entry.container or entry.shelf, _span_read(entry)
    for other in reversed(bench.air.get(place, [])):
        old, apart = _span_read(other), abs(entry.at - other.at)
        if new and old and apart <= SAME_READING and max(new[0] - old[1], old[0] - new[1]) > MOST_APART_C:
            measures = measures_of(bench.settings)
            read = measures.warmth(old[0]) if old[0] == old[1] else measures.span(*old)
            when = "1 min" if apart >= timedelta(minutes=1) else "0 min"
            yield (f"{place or 'the room'} was read {read} {when} ago; if that was wrong, cross that out, "
                   "and if both were read, add 'sure'")  # fmt: skip


def _span_read(entry: k.Air) -> tuple[float, float] | None:
    read = [one for one in (entry.temperature_c, entry.low_c, entry.high_c) if one is not None]
    return (min(read), max(read)) if read else None


def _leave_be(bench: Bench, entry: k.LeaveBe) -> Iterator[str]:
    if entry.until <= entry.at:
        yield "'until' must be later than when it begins, as +24h"


def _put_off(bench: Bench, entry: k.PutOff) -> Iterator[str]:
    if entry.until <= entry.at:
        yield "'until' must be later than now, as +2h"


def _logger_read(bench: Bench, entry: k.LoggerRead) -> Iterator[str]:
    del bench
    if not is_series_name(entry.file):
        yield f"file is '{entry.file}'; a logger's readings come in with 'rounds temperatures FILE', which names the file itself"
    if entry.since > entry.until:
        yield "since is after until; the first reading must be the earlier"
    if entry.low_c > entry.high_c:
        yield f"lowest {entry.low_c:g} C is above highest {entry.high_c:g} C; swap them"


def _release_by(bench: Bench, entry: k.ReleaseBy) -> Iterator[str]:
    if entry.code and entry.code not in bench.founders:
        yield f"no founder is called {entry.code}; there {_listed(bench.founders)}"
    yield from _known_permit(bench, entry.permit)


def _paired(bench: Bench, entry: k.Paired | k.PairingPlanned) -> Iterator[str]:
    for code in (entry.female, *([entry.male] if entry.male != WILD else [])):
        yield from _known_brood(bench, code)
    yield from _impossible_parents(bench, (entry.female,), (entry.male,))


def _seen_coupled(bench: Bench, entry: k.Paired) -> Iterator[str]:
    """A pair of two species, or of one that is not an adult in that container, is asked about; the keeper may insist."""
    yield from _paired(bench, entry)
    if entry.sure:
        return
    doubt = two_species(bench, entry.female, entry.male) or _not_both_here(bench, entry)
    if doubt:
        yield f"{doubt}; if it was seen so, add 'sure'"


def _not_both_here(bench: Bench, entry: k.Paired) -> str:
    container = bench.containers[entry.container]
    wanted = Counter(code for code in (entry.female, entry.male) if code != WILD)  # he never came in
    for code, number in wanted.items():
        here = [lot for lot in container.lots if code in lot.codes]
        if sum(lot.number for lot in here if lot.stage == "adult") >= number:
            continue
        others = [one.code for one in bench.standing() if any(code in lot.codes for lot in one.lots)]
        if here:
            told = ", ".join(animals(lot.number, lot.stage, "", lot.instar) for lot in here)
            return f"of {code} {container.code} holds {told}, not {number} {'adult' if number == 1 else 'adults'}"
        if others:
            return f"{code} is in {some_of(others)}, not in {container.code}"
        return f"{code} is not on the bench any more"
    return ""


def _impossible_parents(bench: Bench, mothers: tuple[str, ...], fathers: tuple[str, ...]) -> Iterator[str]:
    """One animal with itself, a male as mother, a female as father; a brood has both sexes and may pair within itself."""
    for code in mothers:
        if code in fathers and code in bench.founders:
            yield f"{code} is one animal; name another to pair it with"
        if _sex_of(bench, code) == "male":
            yield f"{code} is a male; name a female as the mother"
    for code in fathers:
        if _sex_of(bench, code) == "female":
            yield f"{code} is a female; name a male as the father"


def _sex_of(bench: Bench, code: str) -> str:
    """The sex of a founder, as far as it is known; one that came in young was never looked at for it unless it says male."""
    founder = bench.founders.get(code)
    return founder.sex if founder and (founder.stage == "adult" or founder.sex == "male") else ""


def _marked(bench: Bench, entry: k.Marked) -> Iterator[str]:
    if entry.brood not in bench.founders:
        yield f"a mark is one animal's, and no founder is called {entry.brood}; there {_listed(bench.founders)}"
    yield from _new_mark(bench, entry.mark, entry.brood)


def _new_mark(bench: Bench, mark: str, code: str) -> Iterator[str]:
    """A mark is one word that means nothing else in a line, and no other's that is here."""
    word = mark.casefold()
    if word in ("", NO_MARK):
        return
    if any(sign.isspace() or sign in ",=\"'" for sign in mark) or mark.isdecimal():
        yield f"'{mark}' cannot be a mark; give one word, as red or A7"
    if word in _MEAN_SOMETHING or _alike(mark, (*_codes(bench), *bench.founders, *bench.broods)):
        yield f"'{mark}' means something else in a line; give the mark another word, as red or A7"
    other = bench.marked(mark)
    if other not in ("", code) and any(other in lot.codes for one in bench.standing() for lot in one.lots):
        yield f"{mark} is the mark of {other}; give another"


def _related(bench: Bench, entry: k.Related) -> Iterator[str]:
    for code in (entry.first, entry.second):
        if code in bench.broods:
            yield f"{code} is a brood: its parents say how it is related; name two founders"
        elif code not in bench.founders:
            yield f"no founder is called {code}; there {_listed(bench.founders)}"
    if entry.first == entry.second:
        yield "name two founders; no one is related to itself"


def _within_a_round(bench: Bench, entry: k.RoundFinished | k.StopSkipped) -> Iterator[str]:
    walk = bench.open_round
    if walk is None:
        yield "no round is open; start one first"
    elif walk.id != entry.round:
        yield (f"the {walk.name} round ended {_clock(walk.answered, entry)}, at its last answer; begin the next one first")


def _plan(bench: Bench, entry: k.PlanChanged) -> Iterator[str]:
    hours = (("amber_h", entry.amber_h), ("red_h", entry.red_h), ("harm_h", entry.harm_h))
    given = [(name, value) for name, value in hours if value is not None]
    for (name, value), (later_name, later) in pairwise(given):
        if value > later:
            yield f"{name}={value:g} is above {later_name}={later:g}; amber comes before red, red before harm"


def _shelf(bench: Bench, entry: k.ShelfSetUp) -> Iterator[str]:
    del bench
    given = [(name, value) for name in ("cold_c", "warm_c", "hot_c") if (value := getattr(entry, name)) is not None]
    for (name, value), (later_name, later) in pairwise(given):
        if value > later:
            yield f"{name}={value:g} is above {later_name}={later:g}; cold comes before warm, warm before hot"


_CHECKS: dict[type[Entry], Callable[[Bench, Any], Iterator[str]]] = {
    k.SetUp: _set_up,
    k.Changed: _changed,
    k.Closed: _closed,
    k.ShelfSetUp: _shelf,
    k.FounderIntake: _founder,
    k.BroodBegun: _brood,
    k.Stocked: _stocked,
    k.Moved: _moved,
    k.Split: _split,
    k.Merged: _merged,
    k.Counted: _counted,
    k.Weighed: _weighed,
    k.Settled: _settled,
    k.Hatched: _change_of_stage("egg"),
    k.Moulted: _change_of_stage("larva"),
    k.Pupated: _change_of_stage("larva"),
    k.Emerged: _change_of_stage("pupa"),
    k.Sexed: _sexed,
    k.Died: _died,
    k.Escaped: _leaving,
    k.Missing: _leaving,
    k.Released: _leaving,
    k.Preserved: _leaving,
    k.Parasitoid: _parasitoid,
    k.Drank: _adults_fed,
    k.Refused: _adults_fed,
    k.Offered: _offered,
    k.HostIn: _host_in,
    k.HostSeen: _host_seen,
    k.HostOut: _host_out,
    k.BarrierSeen: _barrier,
    k.ToppedUp: _barrier,
    k.Searched: _searched,
    k.FrassSeen: _frass,
    k.Air: _air,
    k.LoggerRead: _logger_read,
    k.LeaveBe: _leave_be,
    k.PutOff: _put_off,
    k.Marked: _marked,
    k.ReleaseBy: _release_by,
    k.Paired: _seen_coupled,
    k.PairingPlanned: _paired,
    k.Related: _related,
    k.RoundFinished: _within_a_round,
    k.StopSkipped: _within_a_round,
    k.PlanChanged: _plan,
}
