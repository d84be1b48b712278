"""A return for a permit: what was taken under it, what became of it, and what was kept where.

It counts what the daybook says; what it means is for the body that issued the permit to say.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from functools import partial
from itertools import chain
from math import ceil
from string import ascii_lowercase

from rounds.bench.codes import members
from rounds.bench.parents import line_of
from rounds.bench.permits import (
    AFTER_ITS_LAST_DAY,
    came_after_end,
    expires_on,
    may_be_of_too,
    permit_of,
    without_permit_words,
)
from rounds.bench.permits import uses as permit_uses
from rounds.bench.plurals import of_stage
from rounds.entries.names import slips_of
from rounds.entries.registry import FounderIntake, Parasitoid, Permit, Preserved, Released, Stocked
from rounds.exchange.atomic_file import chosen
from rounds.exchange.document import (
    NOT_SAID,
    Document,
    DocumentTable,
    Part,
    Section,
    rights_section,
    sentence,
    table,
)
from rounds.exchange.localities import Locality
from rounds.exchange.permits import permit_words
from rounds.exchange.pins import coordinates
from rounds.exchange.source import Source
from rounds.exchange.specimens import specimens
from rounds.grouping import grouped
from rounds.tallies.broods import Balance, balance, brood_record, founder_fate
from rounds.tallies.cohorts import NOT_KNOWN
from rounds.tallies.rearing import plain_stage
from rounds.tallies.stages import stage_counts
from rounds.views.broods_page import mixture_words
from rounds.views.words import day_in_words

AN_HOUR = timedelta(hours=1)
FATES = {  # in the order of the columns; whatever else became of them is not known
    "released": "released",
    "preserved": "kept as specimens",
    "died": "died",
    "escaped": "escaped",
    "alive": "alive now",
}
FATE_HEADS = (*FATES.values(), "not known")
NOT_KNOWN_MEANS = (
    "Those taken are the sum of these. Not known: missing, or of whom nobody can tell whether they"
    " are of this permit's."
)

TOGETHER = (
    "Broods in one row are those of whom some cannot be told from one another: of each alone no"
    " more is known."
)

EXACT_PLACES = (
    "The issuing body gets the places from the holder, who writes this return for it with"
    " --exact-localities."
)
HELD = "Hours held are an adult's, from the catch, else from when it came in."


def permit_return(source: Source, typed: str) -> Document:
    """The return for one permit; of several species, each under its own letter behind the number
    (``P-7`` and ``P-7b``), the number is of all of them.

    Raises:
        Refused: no permit has that number.
    """
    permits = source.bench.permits
    known = dict.fromkeys(
        [*permits, *(number[:-1] for number in permits if _parts(source, number))]
    )
    number = chosen(typed, list(known), "permit has the number")
    parts = _parts(source, f"{number}a") or [permits[number]]
    sections = [
        replace(one, title=f"{one.title}: {part.taxon}") if len(parts) > 1 else one
        for part in parts
        for one in _of_one(source, part)
    ]
    return Document(f"Return for permit {number}", (*sections, rights_section(source)))


def _parts(source: Source, number: str) -> list[Permit]:
    """The permits of which this number is one by its letter, each for a species of its own; none
    where there is but one."""
    stem, letter = number[:-1], number[-1:]
    if not (stem and stem[-1].isdecimal() and letter in ascii_lowercase):
        return []
    parts = [
        permit
        for other, permit in source.bench.permits.items()
        if other == stem or (other[:-1] == stem and other[-1] in ascii_lowercase)
    ]
    species = {permit.taxon for permit in parts}
    return parts if len(species) == len(parts) > 1 and "" not in species else []


def _of_one(source: Source, permit: Permit) -> tuple[Section, ...]:
    bench = source.bench
    caught = (*bench.founders.values(), *chain(*bench.catches.values()))
    taken = [one for one in caught if one.permit == permit.number]
    codes = {one.code for one in taken}
    broods = [
        code
        for code in bench.broods
        if code not in codes and codes & {one.code for one in line_of(bench, code)}
    ]
    return (
        Section("The permit", tuple(_permit(source, permit, taken))),
        Section("Taken from the wild", _taken(source, permit, taken)),
        *_became(source, taken),
        Section("Reared from them", _reared(source, permit, broods)),
        Section("Released", tuple(_released(source, permit, {*codes, *broods}))),
        Section("Kept as specimens", _kept(source, permit, {*codes, *broods})),
        *_parasitoids(source, {*codes, *broods}),
    )


def _permit(source: Source, permit: Permit, taken: list[FounderIntake]) -> Iterator[Part]:
    last = expires_on(permit)
    yield f"Holder: {permit.holder or NOT_SAID}. Issued by: {permit.body or NOT_SAID}."
    until = day_in_words(last) if last else NOT_SAID
    species = permit.taxon or _species_of(source, taken) or NOT_SAID
    yield f"Species: {species}. Last day: {until}."
    yield sentence(permit_words(source.bench, permit, source.moment.now))


def _species_of(source: Source, taken: list[FounderIntake]) -> str:
    """Of a permit that names none, those that came in under it."""
    names = ", ".join(dict.fromkeys(source.name_of(one.code) for one in taken))
    return f"none named in the permit; taken were {names}" if names else ""


def _taken(source: Source, permit: Permit, taken: list[FounderIntake]) -> tuple[Part, ...]:
    missed = without_permit_words(source.bench, permit)
    not_counted = [sentence(one) for one in (missed, _slips(source, permit)) if one]
    if not taken:
        return ("None came in under it.", *not_counted)
    rows, withheld = [], []
    stock = {one.id: one.number for one in source.counting if isinstance(one, Stocked)}
    for one in taken:
        what = of_stage(stock[one.id], one.stage) if one.id in stock else one.stage
        place = source.guard.of_founder(one)
        rows.append(
            (
                one.code,
                source.name_of(one.code),
                ", ".join(word for word in (one.sex, what) if word),
                source.day(one.caught) if one.caught else NOT_SAID,
                source.day(one.at)
                + (f", {AFTER_ITS_LAST_DAY}" if came_after_end(source.bench, one) else ""),
                _where(place),
                coordinates(place) or NOT_SAID,
                source.full_name(one.collector) or NOT_SAID,
                "below" if one.id in stock else _fate(source, one.code),
                *([_held(source, permit.hold_hours, one)] if permit.hold_hours else []),
            )
        )
        withheld.append(place.withheld)
    heads = "code, species, what, caught, came in, place, coordinates, by, fate"
    if permit.hold_hours:
        heads += f", hours held (at most {permit.hold_hours:g})"
    reserve = [f"{why.capitalize()}. {EXACT_PLACES}" for why in dict.fromkeys(withheld) if why]
    held = [HELD] if permit.hold_hours else []
    return (table(heads, rows), *reserve, *held, *not_counted)


def _slips(source: Source, permit: Permit) -> str:
    """Who came in without a permit under a name that may be a slip of its species; '' where nobody
    did."""
    bench = source.bench
    caught = (*bench.founders.values(), *chain(*bench.catches.values()))
    names = dict.fromkeys(
        f"{one.code} ('{name}')"
        for one in caught
        if not one.permit
        for name in members(one.taxon)
        if name not in bench.taxa and permit.taxon in slips_of(bench, name)
    )
    return f"not counted: {', '.join(names)}, may be {permit.taxon} by a slip" if names else ""


def _held(source: Source, most: float, one: FounderIntake) -> str:
    """For how many hours it was held, or is held by now, against the permit's limit."""
    if one.stage != "adult":
        return "-"
    fate, times = founder_fate(source.tallies.course, one.code)
    until = times[-1] if times else source.moment.now if fate == "on the bench" else None
    if until is None:
        return NOT_KNOWN
    hours = (until - min(one.caught or one.at, one.at)) / AN_HOUR
    up_to = "up to " if len(times) > 1 else ""
    told = f"{hours:.0f}"
    if abs(hours - most) < 1:  # rounded it might seem within the limit, or past it
        whole, minutes = divmod(ceil(hours * 60 - 1e-6), 60)
        told = f"{whole} h {minutes:02d} min"
    return f"{up_to}{told}{', PAST THE LIMIT' if hours > most else ''}"


def _fate(source: Source, code: str) -> str:
    """What became of one that was taken; of one that nobody can tell from others, of them all."""
    course = source.tallies.course
    fate, times = founder_fate(course, code)
    if not times:
        mixture = mixture_words(brood_record(course, code)) if fate == NOT_KNOWN else ""
        return mixture or fate
    days = list(dict.fromkeys(source.day(at) for at in times))
    return f"{fate} {' or '.join(days)}{', not known which' if len(days) > 1 else ''}"


def _became(source: Source, taken: list[FounderIntake]) -> Iterator[Section]:
    """How many of each species were taken, and what became of so many: the numbers add up."""
    species = grouped((source.name_of(one.code), one.code) for one in taken)
    rows = []
    for name, codes in species.items():
        became = balance(source.tallies.course, list(dict.fromkeys(codes)))
        rows.append((name, str(became.in_all), *_fates(became)))
    if rows:
        became_of = DocumentTable(("species", "taken", *FATE_HEADS), tuple(rows))
        yield Section("What became of them", (became_of, NOT_KNOWN_MEANS))


def _fates(became: Balance) -> Iterator[str]:
    """How many met each fate, in the order of the columns; together they are all that came."""
    numbers = {fate: sum(stages.values()) for fate, stages in became.became.items()}
    yield from (str(numbers.get(fate, 0)) for fate in FATES)
    yield str(sum(number for fate, number in numbers.items() if fate not in FATES))


def _where(place: Locality) -> str:
    """The place with its region; withheld where it is."""
    exact = place.place or ("withheld" if place.withheld else "")
    return ", ".join(part for part in (exact, place.province, place.country) if part) or NOT_SAID


def _reared(source: Source, permit: Permit, broods: list[str]) -> tuple[Part, ...]:
    if not broods:
        return ("No brood goes back to them.",)
    rows = []
    groups = _counted_together(source, broods)
    balances = [balance(source.tallies.course, codes) for codes in groups]
    for codes, became in zip(groups, balances, strict=True):
        came = (str(became.came.get("egg", 0)), str(became.in_all))
        names = ", ".join(dict.fromkeys(map(source.name_of, codes)))
        rows.append((", ".join(codes), names, *came, *_fates(became)))
    heads = "brood, species, eggs found, eggs and animals, " + ", ".join(FATE_HEADS)
    by_hatching = sum(
        count.by_hatching
        for code in broods
        for count in stage_counts(source.tallies.course, [code])
    )
    together = [TOGETHER] if any(len(codes) > 1 for codes in groups) else []
    counted = _what_counts(source, permit, balances, by_hatching)
    marked = _marked(source, permit, heads, rows, groups)
    return (marked, *_nobody_knows_whose(source, permit, broods), *together, *counted)


def _marked(
    source: Source,
    permit: Permit,
    heads: str,
    rows: Sequence[tuple[str, ...]],
    codes: Iterable[Sequence[str]],
) -> DocumentTable:
    """A table whose rows, each of animals under some codes, say of which permits these may be too;
    without that column where no row has any to say."""
    too = [
        ", ".join(dict.fromkeys(chain(*(may_be_of_too(source.bench, permit, one) for one in of))))
        for of in codes
    ]
    if not any(too):
        return table(heads, rows)
    both = zip(rows, too, strict=True)
    return table(f"{heads}, may be of too", [(*row, other or "-") for row, other in both])


def _nobody_knows_whose(source: Source, permit: Permit, broods: list[str]) -> Iterator[str]:
    """Of each brood that is not of this permit alone: its wild mothers with their permits, and how
    such numbers are added up."""
    for code in broods:
        others = may_be_of_too(source.bench, permit, code)
        if not others:
            continue
        line = line_of(source.bench, code)
        each = " or ".join(f"{one.code} ({permit_of(one)})" for one in line)
        number = balance(source.tallies.course, [code]).in_all
        returns = " and ".join(other for other in others if other in source.bench.permits)
        also = f", also in the return for {returns}: add them once" if returns else ""
        yield f"{code}: of {each}, not known which; all {number} of it are counted here{also}."


def _counted_together(source: Source, broods: list[str]) -> list[tuple[str, ...]]:
    """The broods of a permit, those in one group of whom some cannot be told from one another."""
    mixed = source.tallies.course.counted_together()
    groups = dict.fromkeys(
        tuple(one for one in broods if one in mixed.get(code, (code,))) for code in broods
    )
    return list(groups)


def _what_counts(
    source: Source, permit: Permit, balances: list[Balance], by_hatching: int
) -> Iterator[str]:
    """Why the eggs taken by the permit's limit are not those found, why not all were found as eggs,
    and where dead eggs stand."""
    uses = {use.what: use.used for use in permit_uses(source.bench, permit)}
    in_all = sum(one.in_all for one in balances)
    eggs = sum(one.came.get("egg", 0) for one in balances)
    later = in_all - eggs - by_hatching
    others = (
        f"{by_hatching} {_were(by_hatching)} known only by hatching" if by_hatching else "",
        f"{later} came on record in a later stage" if later else "",
    )
    found = f"{eggs} {_were(eggs)} found as eggs"
    yield f"Of the {in_all} eggs and animals {' and '.join((found, *filter(None, others)))}."
    taken = uses.get("eggs taken")
    if taken is not None:
        yield (
            f"Eggs taken, {taken}, are counted against the permit: all eggs of broods whose mother"
            " came in under it, those known only by hatching too, and those taken from the wild;"
            " broods of later generations are not among them."
        )
    dead = sum(one.became.get("died", {}).get("egg", 0) for one in balances)
    eggs_died = "1 was an egg" if dead == 1 else f"{dead or 'none'} were eggs"
    yield (
        f"Of those that died {eggs_died}. A specimen is only what a line says was kept as one, of"
        " eggs too."
    )
    kept = uses.get("eggs kept")
    if kept is not None:
        yield (
            f"Eggs kept, {kept}, are the eggs taken less those released in whatever stage: those"
            " that died count as kept, dead eggs too."
        )


def _were(number: int) -> str:
    return "was" if number == 1 else "were"


def _released(source: Source, permit: Permit, codes: set[str]) -> Iterator[Part]:
    """A row for each line and for whom it let go; of those too of whom nobody knows which of
    several they are."""
    numbers: Counter[tuple[str, str, str, str]] = Counter()
    course = source.tallies.course
    for code in filter(partial(_may_be_of, codes), course.codes):
        for ended in course.told_apart(code).ended:
            if ended.fate == "released":
                cohort = ended.cohort
                whom = (ended.entry, code, plain_stage(cohort.stage), cohort.sex)
                numbers[whom] += cohort.number
    lines = {one.id: one for one in source.counting if isinstance(one, Released)}
    order = {line: position for position, line in enumerate(lines)}
    rows = [
        (
            source.day(lines[line].at),
            code,
            of_stage(number, stage),
            sex or NOT_SAID,
            lines[line].place or NOT_SAID,
        )
        for (line, code, stage, sex), number in sorted(
            numbers.items(), key=lambda pair: (order[pair[0][0]], pair[0])
        )
    ]
    heads = "day, of, number, sex, place"
    yield _marked(source, permit, heads, rows, [row[1:2] for row in rows]) if rows else "None."


def _may_be_of(codes: set[str], code: str) -> bool:
    """Whether those of a code, which may name several, are of one of these."""
    return not codes.isdisjoint(members(code))


def _kept(source: Source, permit: Permit, codes: set[str]) -> tuple[Part, ...]:
    """The specimens one by one, and which of them the table above has among those that died."""
    kept = [
        (one, one.entry)
        for one in specimens(source)
        if _may_be_of(codes, one.code) and isinstance(one.entry, Preserved)
    ]
    rows = tuple(
        (
            one.number or "none given",
            one.code,
            one.stage or NOT_SAID,
            source.how_it_died(entry) or "neither was said",
            source.day(entry.at),
            entry.depository or NOT_SAID,
        )
        for one, entry in kept
    )
    if not rows:
        return ("None.",)
    heads = "catalogue number, of, stage, found dead or killed, day, kept at"
    dead = [one for one, entry in kept if entry.cause]
    words = (
        f"{len(dead)} of these {_were(len(dead))} found dead: above they count as died, not as kept"
        " as specimens."
    )
    marked = _marked(source, permit, heads, rows, [row[1:2] for row in rows])
    return (marked, *([words] if dead else []))


def _parasitoids(source: Source, codes: set[str]) -> Iterator[Section]:
    """What was kept of parasitoids that came out of them: none of the permit's animals."""
    rows = tuple(
        (
            one.number or "none given",
            one.entry.taxon or "not determined",
            f"{one.stage} of {one.code}" if one.stage else one.code,
            source.day(one.entry.at),
            one.entry.depository or NOT_SAID,
        )
        for one in specimens(source)
        if _may_be_of(codes, one.code) and isinstance(one.entry, Parasitoid)
    )
    if rows:
        heads = "catalogue number, parasitoid, out of, day, kept at"
        yield Section("Parasitoids kept, of another species", (table(heads, rows),))
