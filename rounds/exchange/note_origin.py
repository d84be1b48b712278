"""Where a brood comes from: its wild forebears with place and date, and where and how its eggs were
laid."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rounds.bench.codes import in_order
from rounds.bench.parents import line_of
from rounds.bench.plurals import count
from rounds.entries.arrivals import HIDDEN_ON_STEMS
from rounds.entries.registry import FounderIntake, Searched, Stocked
from rounds.entries.slots import listed
from rounds.exchange.document import NOT_SAID, DocumentTable, Section
from rounds.exchange.localities import Locality
from rounds.exchange.note_parts import BroodAccount
from rounds.grouping import grouped
from rounds.tallies.female_days import OnHost, of_females
from rounds.views.laying_page import limits, share_of, whose
from rounds.views.words import number

FOUNDER_HEADS = listed(
    "code; caught; place; latitude, longitude (degrees); uncertainty (m); by; sex, wear", by="; "
)
LAYING_HEADS = listed(
    "plant; container, females; from; to; effort (female-days); searches; eggs found; share found; "
    "eggs laid a female-day, two-sided 95 % limits",
    by="; ",
)


def origin_section(account: BroodAccount) -> Section:
    """The wild-caught forebears: place as it may be told, date, sex, wear."""
    bench = account.source.bench
    parts: list[str | DocumentTable] = [_parents(account)]
    founders = [bench.founders[code] for code in account.founders] or line_of(bench, account.code)
    origins = account.source.guard.origins(account.code, founders)
    if founders:
        rows = tuple(_founder_row(account, founder, place) for founder, place in origins)
        parts.append(DocumentTable(FOUNDER_HEADS, rows))
    parts += list(
        dict.fromkeys(
            _reserve(place) for _, place in origins if place.withheld or place.generalised
        )
    )
    inspected = [
        f"{founder.code}: {founder.inspected}" for founder in founders if founder.inspected
    ]
    if inspected:
        parts.append(f"Looked over for egg parasitoids: {', '.join(inspected)}.")
    return Section("Parents, and where they are from", tuple(parts))


def _parents(account: BroodAccount) -> str:
    begun = account.record.begun
    if begun is None or not (begun.mothers or begun.fathers):
        origins = sorted({entry.origin for entry in account.lines(Stocked) if entry.origin})
        if origins:
            return f"Parents not recorded. Origin as said: {'; '.join(origins)}."
        return "Parents not recorded."
    mothers = " or ".join(begun.mothers) or NOT_SAID
    fathers = " or ".join(account.record.fathers).replace("father not known", "not known")
    fathers = fathers if begun.fathers or fathers == "not known" else f"{fathers}, not seen"
    several = ", which of them is not known" if len(begun.mothers) > 1 else ""
    return f"Mother: {mothers}{several}. Father: {fathers}."


def _reserve(place: Locality) -> str:
    return (
        "; ".join(word for word in (place.withheld, place.generalised) if word).capitalize() + "."
    )


def _founder_row(account: BroodAccount, founder: FounderIntake, place: Locality) -> tuple[str, ...]:
    position = NOT_SAID
    if place.latitude is not None and place.longitude is not None:
        position = f"{number(place.latitude, 7)}, {number(place.longitude, 7)}"
    return (
        founder.code,
        account.day(founder.caught) if founder.caught else NOT_SAID,
        place.place or ("withheld" if place.withheld else NOT_SAID),
        position,
        number(place.uncertainty_m, 0) if place.uncertainty_m is not None else NOT_SAID,
        account.source.full_name(founder.collector) or NOT_SAID,
        ", ".join(word for word in (founder.sex or founder.stage, founder.wear) if word),
    )


def laying_section(account: BroodAccount) -> Section:
    """When, on what, and how many eggs were found, against the time that the mothers had with each
    plant."""
    return Section("Laying", tuple(_laying(account)))


def _laying(account: BroodAccount) -> Iterator[str | DocumentTable]:
    begun = account.record.begun
    searches = [entry for entry in account.lines(Searched) if entry.found]
    when = "When it was laid is not recorded."
    if begun and begun.laid_from and begun.laid_to:
        when = (
            f"Laid between {account.moment(begun.laid_from)} and {account.moment(begun.laid_to)}."
        )
    yield when
    hidden = list(_hidden(account))
    if not searches:
        outside = "" if hidden else "; what is known of them came from outside"
        yield f"No search on this bench found its eggs{outside}."
    yield from hidden
    if searches:
        yield _found(account, searches)
    rows = tuple(_laying_rows(account, begun.mothers if begun else ()))
    if rows and (searches or hidden):
        yield (
            "All that its mothers laid on this bench, with the females that stood with them; below"
            " it all of the species:"
        )
        yield DocumentTable(LAYING_HEADS, rows)
        yield (
            "A female-day is one living female in a laying or trial container, in the light,"
            " together with the plant for 24 hours; where several plants stood together each has"
            " the time. Searches that found none count too; time that no search looked at does not."
            " Eggs laid are those found, divided by the share that the searches of that time find."
        )


def _found(account: BroodAccount, searches: Sequence[Searched]) -> str:
    result = sum(entry.found for entry in searches)
    days = " to ".join(
        dict.fromkeys(
            account.day(entry.at)
            for entry in (searches[0], max(searches, key=lambda entry: entry.at))
        )
    )
    aids = ", ".join(sorted({entry.aid for entry in searches}))
    times = count(len(searches), "search", "searches")
    return f"{count(result, 'egg')} of it found in {times}, {days}, by {aids}."


def _hidden(account: BroodAccount) -> Iterator[str]:
    """Eggs laid here that nobody found before they hatched on kept stems."""
    plants = grouped(
        (piece.entry, piece.plant)
        for piece in account.back.evidence
        if piece.brood == account.code and piece.grade == "laid on"
    )
    for entry in account.lines(Stocked):
        if entry.id in plants or entry.origin == HIDDEN_ON_STEMS:
            of = f" of {' or '.join(plants[entry.id])}" if entry.id in plants else ""
            yield (
                f"{count(entry.number, 'egg')} of it, hidden on kept stems{of}, known by"
                f" {account.day(entry.at)} when they had hatched."
            )


def _laying_rows(account: BroodAccount, mothers: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """A row a plant, of the females with a share in it; another of all of the species where others
    stood with it too."""
    record = account.source.tallies.on_hosts(account.now)
    for own in of_females(record, mothers):
        yield _plant_row(account, own, "; ".join(whose(part).rstrip(",") for part in own.parts))
        for all_of_it in record:
            if (all_of_it.taxon, all_of_it.plant) == (own.taxon, own.plant) and len(
                all_of_it.parts
            ) > len(own.parts):
                places = sorted({part.container for part in all_of_it.parts}, key=in_order)
                words = f"all females of the species, {', '.join(places)}"
                yield _plant_row(account, all_of_it, words)


def _plant_row(account: BroodAccount, on_host: OnHost, whose_words: str) -> tuple[str, ...]:
    """One plant, as the page of who laid on what has it."""
    begun = min((part.begun for part in on_host.parts if part.begun), default=None)
    ended = max((part.ended for part in on_host.parts if part.ended), default=None)
    return (
        on_host.plant,
        whose_words,
        account.moment(begun) if begun else "-",
        account.moment(ended) if ended else "-",
        f"{on_host.female_days:.1f}",
        str(on_host.searches),
        str(on_host.eggs),
        share_of(on_host),
        limits(on_host),
    )
