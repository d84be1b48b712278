"""What became of a brood: stages, survival, durations, development, plants, conditions, fates,
vouchers, permits, photos."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from datetime import datetime
from math import isnan

from msgspec.structs import replace

from rounds.bench.measures import measures_of
from rounds.bench.permits import expires_on
from rounds.bench.plurals import count
from rounds.bench.state import STAGES
from rounds.entries import registry as k
from rounds.entries.check_labels import called
from rounds.entries.slots import listed
from rounds.entries.wording import saying
from rounds.exchange.document import NOT_SAID, DocumentTable, Part, Section, Shown, sentence, table
from rounds.exchange.note_parts import BroodAccount
from rounds.exchange.permits import permit_words
from rounds.exchange.pictures import photo_stage, pictures
from rounds.tallies.broods import Lookback
from rounds.tallies.cohorts import CourseShare, Stay
from rounds.tallies.development import development
from rounds.tallies.stages import (
    causes,
    durations,
    so_far,
    stage_counts,
)
from rounds.tallies.warmth import day_of
from rounds.views.brood_page import (
    STAGE_HEADS,
    beside_the_curve,
    cause_row,
    dead_of_either_words,
    duration_row,
    none_died_words,
    not_counted_words,
    plants_in_words,
    stage_row,
)
from rounds.views.brood_plots import brood_survival, development_plot
from rounds.views.broods_page import mixture_words, stages_words
from rounds.views.words import day_in_words, number

ELSEWHERE = "elsewhere, or at another time, but not where it stood while it was there"


def stage_section(account: BroodAccount) -> Section:
    """Stage by stage, and what killed them."""
    parts = stage_parts(account.back, [account.code])
    if account.record.mixed and parts:
        parts.append(
            f"Some could not be told from those of others: {mixture_words(account.record)}. Those"
            " of which it is not known count in no stage's share."
        )
    return Section("Stage by stage", tuple(parts) or ("No egg or animal of it was counted.",))


def stage_parts(back: Lookback, broods: list[str]) -> list[Part]:
    """The stages of some broods together, and what killed them; nothing where none was counted."""
    counts = stage_counts(back.course, broods)
    if not counts:
        return []
    heads = listed(
        "stage; entered; died; left, or kept as a specimen; fate not known; not seen; "
        "not known which; there now; share that came through, 95 % limits",
        by="; ",
    )
    assert len(heads) == len(STAGE_HEADS)
    rows = [stage_row(row) for row in counts]
    either = back.course.unsure_codes(broods)
    for code in either:
        rows += [
            (f"{row.stage}, {code}", *stage_row(row)[1:])
            for row in stage_counts(back.course, [code])
        ]
    parts: list[Part] = [DocumentTable(heads, tuple(rows))]
    # whom the rows of each are sure of, these hold once more
    parts += [
        f"Rows with {code} are of these together, among them those of whom the rows above are sure:"
        " add up one or the other."
        for code in either
    ]
    parts += map(sentence, not_counted_words(counts))
    stage_table = causes(back.course, broods)
    if stage_table:
        heads_of_causes = "stage and cause, at risk, died, share, k (natural log), k (log 10)"
        parts += [
            "What killed them, one cause after another; causes are as the keeper saw them, none was"
            " diagnosed:",
            table(heads_of_causes, map(cause_row, stage_table.rows)),
        ]
    return [*parts, *(f"{text}." for text in so_far(back.course, broods))]


def survival_section(account: BroodAccount) -> Section:
    """The curve up to the adult."""
    return Section("Survival", survival_parts(account.back, [account.code], account.now))


def survival_parts(back: Lookback, broods: list[str], now: datetime) -> tuple[Part, ...]:
    """The curve of some broods together, or why there is none."""
    plot = brood_survival(back, broods, now)
    dead = tuple(f"{text}." for text in dead_of_either_words(back, broods))
    beside = tuple(f"{text.capitalize()}." for text in beside_the_curve(back, broods, now))
    none = () if plot or dead else (f"{none_died_words(back, broods).capitalize()}.",)
    return (*((plot,) if plot else ()), *none, *dead, *beside)


def duration_section(account: BroodAccount) -> Section:
    """How long each stage took, at what temperature."""
    return Section("How long each stage took", duration_parts(account.back, [account.code]))


def duration_parts(back: Lookback, broods: list[str]) -> tuple[Part, ...]:
    """How long each stage of some broods together took."""
    course, warmth = back.course, back.warmth
    own = durations(course, broods, warmth)
    of_either = [
        (code, row)
        for code in course.unsure_codes(broods)
        for row in durations(course, [code], warmth)
    ]
    result = [*own, *(row for _, row in of_either)]
    if not result:
        return ("No stage was seen to begin and to end yet.",)
    measures = measures_of(course.bench.settings)
    unit = measures.temperature
    heads = (
        f"stage, n, mean (days), shortest, longest, mean temperature ({unit}), n with temperature"
    )
    rows = [_bare(duration_row(row, measures)) for row in own]
    rows += [
        (f"{row.stage}, {code}", *_bare(duration_row(row, measures))[1:]) for code, row in of_either
    ]
    parts: list[Part] = [table(heads, rows)]
    inferred = sum(row.inferred for row in result if row.stage == "egg")
    if inferred:
        parts.append(
            f"{inferred} of the eggs hatched unseen: inferred from shells, frass or nibbling."
        )
    return tuple(parts)


def _bare(row: tuple[str, ...]) -> tuple[str, ...]:
    """Numbers without the units that the heading has."""
    return tuple(word.removesuffix(" d").removesuffix(" C").removesuffix(" F") for word in row)


def development_sections(account: BroodAccount) -> Iterator[Section]:
    """This species' broods on this bench against temperature, and what is known of it; apart from
    that what is known of other species."""
    parts: list[Part] = []
    others: list[str] = []
    measures = account.source.measures
    for stage in development(
        account.back.course,
        account.back.broods_of(account.taxon),
        account.taxon,
        account.back.warmth,
    ):
        fit, known = stage.fit, stage.published
        if fit:
            parts.append(
                f"{stage.stage}: {count(fit.points, 'brood')} of this bench give a lower threshold"
                f" of {measures.warmth(round(fit.lower_c, 1))} and"
                f" {measures.heat(fit.constant_dd)} (line through rates, Campbell et al. 1974)."
            )
        elif stage.points:
            parts.append(
                f"{stage.stage}: no line from this bench yet;"
                f" {measures.in_words(stage.why_no_fit)}."
            )
        if known:
            warmth = (
                f"{measures.warmth(round(known.lower_c, 1))}, {measures.heat(known.constant_dd)}"
            )
            said = f"{warmth}; {measures.in_words(known.words)}."
            if known.is_own:
                parts.append(f"{stage.stage}, published: {said}")
            else:
                others.append(f"{stage.stage}: {said}")
        compared = stage if known and known.is_own else replace(stage, published=None)
        plot = development_plot(compared, measures)
        if plot:
            parts.append(plot)
    yield Section(
        "Development against temperature",
        tuple(parts) or ("No brood of this species has a temperature to its stages.",),
    )
    if others:
        yield Section(
            "Constants of other species",
            ("Nothing here was measured on this species; it stands here to compare.", *others),
        )


def host_section(account: BroodAccount) -> Section:
    """What each plant was to it, by grade of evidence; captivity said so."""
    hosts = plants_in_words(account.back, [account.code])
    if not hosts:
        return Section("Plants", ("No plant is known from the entries.",))
    words = (
        "In captivity, on plants that the keeper chose; it does not say what the species uses in"
        " the wild."
    )
    return Section("Plants", (words, table("evidence", ((host,) for host in hosts))))


def conditions_section(account: BroodAccount) -> Section:
    """Containers, temperatures and humidities read where it stood."""
    measures = account.source.measures
    tenths = measures.tenths
    stays = _stays(account)
    purposes = {
        entry.container: entry for entry in account.source.counting if isinstance(entry, k.SetUp)
    }
    texts = []
    for code in dict.fromkeys(stay.container for stay in stays):
        set_up = purposes.get(code)
        size = f", {measures.bulk(set_up.volume_ml)}" if set_up and set_up.volume_ml else ""
        lid = f", lid {set_up.lid}" if set_up and set_up.lid else ""
        texts.append(f"{code} ({called(set_up.purpose) if set_up else 'not set up'}{size}{lid})")
    parts = [f"It stood in {', '.join(texts)}." if texts else "Where it stood is not known."]
    times = _when_there(account)
    airs = [
        air
        for place, spans in times.items()
        for air in account.source.tallies.airs.get(place, [])
        if any(begin <= air.at <= end for begin, end in spans)
    ]
    for read in account.source.counting:
        if isinstance(read, k.LoggerRead) and any(
            read.since <= end and read.until >= begin
            for begin, end in times.get(read.container or read.shelf, ())
        ):
            where = read.container or read.shelf or "the room"
            parts.append(
                f"A logger at {where} wrote {count(read.rows, 'reading')},"
                f" {account.day(read.since)} to {account.day(read.until)}:"
                f" {measures.span(tenths(read.low_c), tenths(read.high_c))}."
            )
    parts += [
        f"The mean temperature there was {measures.warmth(tenths(air.temperature_c))},"
        f" {account.day(air.mean_since)} to {account.day(air.at)}, by the record."
        for air in airs
        if air.mean_since and air.temperature_c is not None
    ]
    temperatures = [
        value
        for air in airs
        if not air.mean_since
        for value in (air.low_c, air.temperature_c, air.high_c)
        if value is not None
    ]
    if temperatures:
        parts.append(
            "Temperatures read by hand there, on its shelf or in the room: lowest"
            f" {measures.warmth(tenths(min(temperatures)))}, highest"
            f" {measures.warmth(tenths(max(temperatures)))},"
            f" {count(sum(not air.mean_since for air in airs), 'reading')}."
        )
    elif not any(air.mean_since for air in airs):
        parts.append("No temperature was read by hand while it stood there.")
    parts.append(_humidity(account, airs, times))
    return Section("Conditions", tuple(parts))


def _humidity(
    account: BroodAccount, airs: list[k.Air], times: dict[str, list[tuple[datetime, datetime]]]
) -> str:
    """The humidities read where it stood while it was there, by hand and by loggers; else whether
    any was read at all."""
    by_hand = [air.humidity_percent for air in airs if air.humidity_percent is not None]
    logged: list[float] = []
    for place, spans in times.items():
        series = account.source.desk.reading.series(place)
        within = {
            row
            for begin, end in spans
            for row in range(
                bisect_left(series.days, day_of(begin)), bisect_right(series.days, day_of(end))
            )
        }
        humidities = series.all_humidities()
        logged += [humidities[row] for row in sorted(within) if not isnan(humidities[row])]
    if by_hand or logged:
        counts = [count(len(by_hand), "reading")] if by_hand else []
        counts += [f"{count(len(logged), 'reading')} of a logger"] if logged else []
        read = [*by_hand, *logged]
        return (
            f"Humidity read: {number(min(read))} to {number(max(read))} %, {' and '.join(counts)}."
        )
    anywhere = any(
        air.humidity_percent is not None
        for result in account.source.tallies.airs.values()
        for air in result
    )
    anywhere = anywhere or any(
        not isnan(value)
        for place in account.source.bench.logged
        for value in account.source.desk.reading.series(place).humidities
    )
    return f"Humidity was read {ELSEWHERE}." if anywhere else "Humidity was not read."


def _stays(account: BroodAccount) -> list[Stay]:
    """Where it stood; those that may be of it only since they were with others, for before that
    they stood in two places."""
    found = {
        (stay.container, stay.places): stay
        for part, since in _shares(account)
        for cohort in part.cohorts()
        for stay in cohort.stays
        if since is None or stay.since >= since
    }
    return sorted(found.values(), key=lambda stay: stay.since)


def _shares(account: BroodAccount) -> Iterator[tuple[CourseShare, datetime | None]]:
    """Its animals that are told apart, and those that may be of it, since they were with others."""
    course = account.back.course
    own = course.told_apart(account.code)
    yield own, None
    since = min((mixed.at for mixed in own.mixed), default=account.now)
    for part in course.mixed_parts(account.code):
        yield part, since


def _when_there(account: BroodAccount) -> dict[str, list[tuple[datetime, datetime]]]:
    """From when to when some of the brood stood where each place was read, as ``_stays`` has it."""
    begin, last = _its_time(account)
    spans: dict[str, dict[tuple[datetime, datetime], None]] = {}
    for part, since in _shares(account):
        went = [
            *((ended.cohort, ended.at) for ended in part.ended),
            *((mixed.cohort, mixed.at) for mixed in part.mixed),
            *((cohort, cohort.last_known) for cohort in part.not_seen),
            *((cohort, last) for cohort in part.alive),
        ]
        for cohort, until in went:
            leaves = (*(stay.since for stay in cohort.stays[1:]), until)
            for stay, left in zip(cohort.stays, leaves, strict=False):
                came = begin if stay is cohort.stays[0] else stay.since
                for place in stay.places:
                    spans.setdefault(place, {})[max(came, since or begin), left] = None
    return {place: list(found) for place, found in spans.items()}


def _its_time(account: BroodAccount) -> tuple[datetime, datetime]:
    """From when to when some of the brood were here, eggs from when they are taken to be laid, as
    for their mean temperature; no time at all where none came."""
    mine = account.back.course.of([account.code])
    either = account.back.course.mixed_parts(account.code)
    is_here = mine.alive or any(part.alive for part in either)
    ends = [ended.at for part in (mine, *either) for ended in part.ended]
    end = account.now if is_here else max(ends, default=account.now)
    begins = (one.cohort.begun if one.cohort.begin_known else one.at for one in mine.entered)
    return min(begins, default=end), end


def fate_section(account: BroodAccount) -> Section:
    """Where the animals are now, and where they were let go."""
    parts = []
    for fate, stages in account.record.balance.became.items():
        parts.append(f"{fate}: {sum(stages.values())} ({stages_words(fate, stages)}).")
    if account.record.mixed:
        parts.append(f"{mixture_words(account.record)}.")
    released = {ended.entry for ended in account.ended if ended.fate == "released"}
    lines = [
        entry
        for entry in account.source.counting
        if isinstance(entry, k.Released) and entry.id in released
    ]
    places = sorted({entry.place for entry in lines if entry.place})
    if places:
        parts.append(f"Released at: {'; '.join(places)}.")
    return Section("What became of them", tuple(parts) or ("Nothing was counted.",))


def voucher_section(account: BroodAccount) -> Section:
    """Specimens kept, and photos."""
    kept = [(entry, "") for entry in _kept(account, account.code)]
    kept += [(entry, f", of {code}") for code in account.either for entry in _kept(account, code)]
    parts: list[Part] = []
    if kept:
        rows = (
            (
                f"{entry.voucher or 'no number'}{whose}",
                str(entry.number),
                entry.stage or "not recorded",
                entry.depository or "where is not recorded",
                account.day(entry.at),
            )
            for entry, whose in kept
        )
        parts.append(table("voucher, number, stage, kept at, day", rows))
    else:
        parts.append("No specimen of it was kept.")
    parasitoids = account.lines(k.Parasitoid)
    if parasitoids:
        text = "; ".join(
            f"{account.day(entry.at)} {saying(entry).split(': ', 1)[1]}" for entry in parasitoids
        )
        parts.append(f"Parasitoids that came out of it: {text}.")
    photos = sorted(
        account.lines(k.Photo),
        key=lambda entry: (STAGES.index(entry.stage) if entry.stage else len(STAGES), entry.at),
    )
    if photos:
        names = ", ".join(f"{entry.file} ({_when(account, entry)})" for entry in photos)
        parts.append(f"Photos: {names}.")
    parts += [
        Shown(one, f"{account.code}, {_when(account, one.entry)}")
        for one in sorted(pictures(account.source, account.code), key=lambda one: one.entry.at)
    ]
    return Section("Specimens and photos", tuple(parts))


def _when(account: BroodAccount, entry: k.Photo) -> str:
    """The stage that a picture shows, where that was said, and its day."""
    return ", ".join(part for part in (photo_stage(entry), account.day(entry.at)) if part)


def _kept(account: BroodAccount, code: str) -> Iterator[k.Preserved]:
    """The specimens of a brood, or of animals that may be of one or another (``A or B``)."""
    lines = {ended.entry for ended in account.back.course.told_apart(code).ended}
    for entry in account.source.counting:
        if isinstance(entry, k.Preserved) and entry.id in lines:
            yield entry


def mass_sections(account: BroodAccount) -> Iterator[Section]:
    """What was weighed, where anything was."""
    rows = [
        (
            account.day(entry.at),
            entry.stage or "",
            str(entry.number),
            number(entry.mass_mg / entry.number),
        )
        for entry in account.lines(k.Weighed)
    ]
    if rows:
        yield Section("Mass", (table("day, stage, weighed together, mass of one (mg)", rows),))


def permit_section(account: BroodAccount) -> Section:
    """The permits that its forebears came in under."""
    bench = account.source.bench
    numbers = {bench.founders[code].permit for code in account.founders} - {""}
    if not numbers:
        return Section("Permits", ("No permit is named in the daybook for it.",))
    rows: list[tuple[str, ...]] = []
    for name in sorted(numbers):
        permit = bench.permits.get(name)
        if permit is None:
            rows.append((name, "not in the daybook", "", "", ""))
            continue
        last = expires_on(permit)
        expires = day_in_words(last) if last else NOT_SAID
        if isinstance(last, datetime):
            expires = account.moment(last)
        said = (permit.holder or NOT_SAID, permit.body or NOT_SAID, expires)
        rows.append((name, *said, permit_words(bench, permit, account.now)))
    return Section("Permits", (table("number, holder, issued by, expires, use", rows),))
