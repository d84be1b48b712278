"""Tables of laying: who laid on what, day by day, the searches, and the stems that were kept."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from rounds.bench.codes import in_order
from rounds.bench.folding.sought import times_sought
from rounds.bench.kept_lots import kept_lots
from rounds.bench.movements import AdultsWithStems
from rounds.bench.state import StemsGone
from rounds.entries import registry as k
from rounds.exchange.source import Source
from rounds.exchange.tables.table import ExportTable, Value, columns, said, with_limits, yes
from rounds.tallies.egg_finds import EggSearch
from rounds.tallies.female_days import FemaleDays, StemSpan
from rounds.tallies.laying_days import by_day
from rounds.tallies.tallies import lay_without_plant


def _laying(source: Source) -> Iterator[tuple[Value, ...]]:
    for on_host in source.tallies.on_hosts(source.moment.now):
        for part in on_host.parts:
            yield (
                on_host.taxon,
                on_host.plant,
                part.container,
                round(part.female_days, 4),
                *said(part, "searches eggs"),
                *with_limits(part.rate),
                *said(part, "begun ended"),
                " ".join(sorted(part.codes, key=in_order)),
                round(part.not_searched, 4),
                " ".join(sorted(part.beside, key=in_order)),
                part.either,
                round(part.doubtful, 4),
                None if part.share_found is None else round(part.share_found, 4),
                part.unsaid,
            )


def _laying_days(source: Source) -> Iterator[tuple[Value, ...]]:
    """The same sums as who laid on what, cut at local midnights."""
    free = lay_without_plant(source.bench)
    sums = FemaleDays(free, most_counted=len(source.counting) + 1)
    eggs: dict[tuple[str, str, str, date], list[int]] = {}
    zone = source.moment.zone
    for record in source.desk.reading.went_by(AdultsWithStems, EggSearch):
        if isinstance(record, AdultsWithStems):
            sums.take(record)
        if not isinstance(record, EggSearch):
            continue
        before = {id(part): (part.eggs, part.searches) for *_, part in sums.parts()}
        sums.take(record)
        for taxon, plant, part in sums.parts():
            known, searches = before.get(id(part), (0, 0))
            if (part.eggs, part.searches) != (known, searches):
                at = record.laid_by or max(one.laid_to for one in record.on_kept)
                key = (taxon, plant, part.container, at.astimezone(zone).date())
                sums_of_day = eggs.setdefault(key, [0, 0])
                sums_of_day[0] += part.eggs - known
                sums_of_day[1] += part.searches - searches
    days: dict[tuple[str, str, str, date], list[float]] = {}
    for on_host in sums.on_hosts(source.bench, source.moment.now):
        for part in on_host.parts:
            for position, spans in enumerate((part.counted, part.waiting, part.doubted)):
                for day, female_days in _by_day(spans, source):
                    key = (on_host.taxon, on_host.plant, part.container, day)
                    days.setdefault(key, [0.0, 0.0, 0.0])[position] += female_days
    for key in sorted(days.keys() | eggs.keys()):
        taxon, plant, container, day = key
        times, found = days.get(key, [0.0, 0.0, 0.0]), eggs.get(key, [0, 0])
        yield (day, taxon, plant, container, *(round(one, 6) for one in times), *found)


def _by_day(spans: list[StemSpan], source: Source) -> Iterator[tuple[date, float]]:
    for span in spans:
        whole = (span.ended - span.begun) / timedelta(days=1)
        for day, length in by_day(span.begun, span.ended, source.moment.zone):
            share = length / timedelta(days=1) / whole if whole else 0.0
            yield day, share * sum(span.by_code.values())


def _searches(source: Source) -> Iterator[tuple[Value, ...]]:
    for entry in source.counting:
        if isinstance(entry, k.Searched):
            yield (
                *said(entry, "at container plant where"),
                yes(bool(entry.lots)),
                *said(entry, "aid minutes found unsure"),
                yes(entry.confirmed),
                entry.brood,
                source.bench.taxon_of(entry.brood) if entry.brood else "",
                *said(entry, "by id"),
            )


def _kept_stems(source: Source) -> Iterator[tuple[Value, ...]]:
    """Every lot of kept stems that there was, as it was last, in the order in which they came
    out."""
    gone = [(one.kept, one.container, one.at) for one in source.desk.reading.went_by(StemsGone)]
    here = [(lot, container.code, None) for container, lot in kept_lots(source.bench)]
    last = {row[0].lot: row for row in (*gone, *here)}  # a name is free again once its lot is gone
    for lot, where, at in sorted(last.values(), key=lambda row: row[0].taken_out):
        yield (
            *said(lot, "lot plant batch source"),
            " ".join(lot.mothers),
            *said(lot, "taxon sprigs offered taken_out"),
            lot.stays[0].container if lot.stays else where,
            where,
            lot.female_days,
            times_sought(lot),
            lot.eggs,
            lot.most_frass,
            at,
        )


_LAID_BY = "eggs count on the last day on which a female can have laid them"
LAYING = (
    ExportTable(
        "laying",
        "who laid on what: female-days and eggs by host and container",
        columns("""
            taxon | species of the females; A or B where nobody knows of which
            host | plant; 'host not known' where several stood there; 'no plant'
            container | where they stood
            effort [female-days] | time that a search looked at
            searches <count> | how many, those that found none too
            eggs <count> | found on it
            eggs per female-day <eggs per female-day> | eggs found through effort; laid are so many
                through the share that searches find | too little time, or in doubt
            lower exact two-sided 95 % limit [eggs per female-day] | Poisson (Garwood 1936) | no
                rate
            upper exact two-sided 95 % limit [eggs per female-day] | Poisson (Garwood 1936) | no
                rate
            from | begin of the first time that counts | no time counts
            to | end of the last time that counts | no time counts
            females | codes, a space between | none stood there
            not searched [female-days] | time that no search looked at
            females of other species beside them | codes, a space between | none
            eggs in doubt <count> | found besides: theirs or of another species, in no rate
            time in which eggs in doubt were laid [female-days] | in no rate, left out of effort
            share of eggs that searches find, as reckoned <1> | by aid and earlier finds | no search
                found any
            eggs on one of several plants <count> | found while it stood with others, in no rate
            """),
        _laying,
        frozenset({"plant"}),
    ),
    ExportTable(
        "laying-days",
        "the same by local day and host: its sums are those of the table laying",
        columns(f"""
            day | local day
            taxon | species of the females; A or B where nobody knows of which
            host | plant; 'host not known' where several stood there; 'no plant'
            container | where they stood
            effort [female-days] | time that a search looked at since
            not searched [female-days] | time that no search looked at yet
            in no rate [female-days] | time left out, for its eggs are in doubt
            eggs <count> | found on it; {_LAID_BY}
            searches <count> | that looked at the time up to that day
            """),
        _laying_days,
        frozenset({"plant"}),
    ),
    ExportTable(
        "searches",
        "every search for eggs, those that found none too",
        columns("""
            at | when
            container | where
            host | the plant that the eggs were on | not recorded
            where | on or in what, as typed | not recorded
            of kept stems | yes: stems that were taken out were searched
            aid | naked eye, lens or macro photo
            time [min] | how long it took | not recorded
            found <count> | eggs found
            unsure <count> | seen, and not sure to be eggs
            confirmed | yes: found are those of the unsure ones that are eggs
            brood | brood of the eggs | none found
            taxon | scientific name, as the keeper has it | none found, or not recorded
            by | initials of who searched | not recorded
            line | id of the line of the daybook
            """),
        _searches,
        frozenset({"where", "plant"}),
    ),
    ExportTable(
        "kept-stems",
        "every lot of stems that was kept in case it bears eggs, as it was last",
        columns("""
            lot | its name
            host | plant
            batch | cutting that it is of
            source | container in which it stood with females
            females | codes of those that stood with it, a space between | none
            taxon | their species | not recorded
            stems <count> | how many | not recorded
            offered | when it was put in
            taken out | when it was taken out
            kept first in | container
            kept last in | container
            female-days [female-days] | time that females stood with it
            searches <count> | that looked at what was laid on it, in the cup and since
            eggs <count> | that searches found on it, in the cup and since it was taken out
            frass | the most that was seen under it | not looked
            gone | when it was discarded, or its container closed | it is here
            """),
        _kept_stems,
        frozenset({"plant", "source", "sign"}),
    ),
)
