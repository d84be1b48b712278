"""A season's summary: species by species what came, lived and was laid, what was lost to what, and
what the records taught."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from rounds.bench.codes import members
from rounds.bench.measures import Measures
from rounds.bench.old_records import is_wild
from rounds.bench.plurals import count
from rounds.checks.learned import not_settled, offers
from rounds.entries.registry import Parasitoid
from rounds.exchange.document import (
    NOT_SAID,
    Document,
    DocumentTable,
    Part,
    Section,
    rights_section,
    table,
)
from rounds.exchange.note import METHODS
from rounds.exchange.note_origin import LAYING_HEADS
from rounds.exchange.note_rearing import duration_parts, stage_parts, survival_parts
from rounds.exchange.plots import laying_plot
from rounds.exchange.source import Source
from rounds.exchange.specimens import specimens
from rounds.tallies.broods import NOT_KNOWN_WHICH, balance
from rounds.tallies.development import development
from rounds.tallies.stages import DEAD, stage_counts
from rounds.views.laying_page import OF_THESE_FEMALES, in_no_rate, limits, share_of
from rounds.views.words import number


def season(source: Source) -> Document:
    """The summary of all that stands in the book."""
    bench = source.bench
    taxa = dict.fromkeys(founder.taxon for founder in bench.founders.values())
    taxa |= dict.fromkeys(map(bench.taxon_of, bench.broods))
    sections = [_overview(source, list(taxa)), _losses(source)]
    for taxon in taxa:
        sections += _species(source, taxon)
    sections += [
        *_specimens(source),
        *_parasitoids(source),
        _taught(source),
        rights_section(source),
        Section("How the numbers were reckoned", METHODS),
    ]
    title = bench.settings.get("bench", "") or "the bench"
    return Document(f"Season of {title}", tuple(sections))


def _overview(source: Source, taxa: list[str]) -> Section:
    bench, course = source.bench, source.tallies.course
    rows = []
    for taxon in taxa:
        broods = source.look_back.broods_of(taxon)
        counts = stage_counts(course, broods)
        eggs = next((one.entered + one.by_hatching for one in counts if one.stage == "egg"), 0)
        adults = next((one.entered for one in counts if one.stage == "adult"), 0)
        mine = course.of(broods)
        stayed = (*mine.alive, *mine.not_seen, *(one.cohort for one in mine.ended))
        crippled = sum(one.number for one in stayed if one.crippled)
        caught = sum(one.taxon == taxon and is_wild(one) for one in bench.founders.values())
        caught += sum(number for one, number in source.young_caught() if one.code in broods)
        through = [one.through for one in counts if one.through is not None]
        alive = balance(course, broods).alive
        of_others = any(
            not {*members(code)}.issubset(broods) for code in _of_either(source, broods)
        )
        least = "at least " if of_others else ""
        rows.append(
            (
                source.name_in_full(taxon) or "not recorded",
                str(caught),
                str(len(broods)),
                str(eggs),
                f"{least}{adults}",
                f"{least}{crippled}",
                f"{least}{alive}",
                number(through[-1], 2) if through else "-",
            )
        )
    heads = (
        "species, wild-caught, broods, eggs, adults, of them crippled, alive now, "
        "share through the stages that are over"
    )
    times = [entry.at for entry in source.counting]
    span = (
        f"From {source.day(min(times))} to {source.day(max(times))}." if times else "No line yet."
    )
    parts: list[Part] = [span, *([table(heads, rows)] if rows else [])]
    others = sum(not is_wild(one) for one in bench.founders.values())
    if others:
        verb = "is" if others == 1 else "are"
        parts.append(
            f"{count(others, 'mother')} of broods in older records {verb} not among the"
            " wild-caught: where from is not said."
        )
    return Section("In short", tuple(parts))


def _losses(source: Source) -> Section:
    lost: Counter[str] = Counter()
    for ended in source.tallies.course.ended:
        if ended.fate in DEAD:
            lost[
                ended.cause or ("never seen again" if ended.fate == "missing" else "not recorded")
            ] += ended.cohort.number
    if not lost:
        return Section("Losses by cause", ("None died.",))
    words = "Eggs, young and adults together, as the keeper saw the cause; none was diagnosed."
    rows = ((cause, str(number)) for cause, number in lost.most_common())
    return Section("Losses by cause", (words, table("cause, died", rows)))


def _specimens(source: Source) -> Iterator[Section]:
    """How many specimens of each species were kept, and where; those of parasitoids too."""
    kept: dict[tuple[str, str], int] = {}
    for one in specimens(source):
        entry = one.entry
        name = entry.taxon if isinstance(entry, Parasitoid) else source.name_of(one.code)
        whom = (name or NOT_SAID, entry.depository or NOT_SAID)
        kept[whom] = kept.get(whom, 0) + 1
    rows = [(name, str(number), where) for (name, where), number in kept.items()]
    if rows:
        yield Section("Specimens kept", (table("species, specimens, kept at", rows),))


def _parasitoids(source: Source) -> Iterator[Section]:
    """What came out of which hosts."""
    rows = tuple(
        (
            one.taxon or NOT_SAID,
            str(one.number),
            f"{source.name_of(one.brood)} {one.brood}".strip() or NOT_SAID,
            str(one.hosts or NOT_SAID),
            source.day(one.at),
        )
        for one in source.bench.parasitoids
    )
    if rows:
        words = "Named as the keeper has them; nothing here was identified by a program."
        yield Section("Parasitoids", (table("parasitoid, came out, of, hosts, day", rows), words))


def _species(source: Source, taxon: str) -> Iterator[Section]:
    back, now = source.look_back, source.moment.now
    broods, name = back.broods_of(taxon), source.name_in_full(taxon) or "Species not recorded"
    yield Section(f"{name}: laying", tuple(_laying(source, taxon)))
    if not broods:
        return
    rows = (_brood_row(source, code) for code in (*broods, *_of_either(source, broods)))
    parts: list[Part] = [table("brood, mother, came, adults, alive now", rows)]
    for code in back.course.unsure_codes(broods):
        taxa = {source.name_in_full(source.bench.taxon_of(brood)) for brood in members(code)}
        parts.append(
            f"{code}: the same animals stand under {' and '.join(sorted(taxa - {name, ''}))} too;"
            " count them once."
        )
    parts += stage_parts(back, broods)
    parts += survival_parts(back, broods, now)
    yield Section(f"{name}: {count(len(broods), 'brood')}", tuple(parts))
    yield Section(f"{name}: how long each stage took", duration_parts(back, broods))


def _of_either(source: Source, broods: list[str]) -> list[str]:
    """The codes (``A or B``) of animals that may be of one of these broods or of another."""
    course = source.tallies.course
    return [code for code in course.codes_of_either() if set(members(code)) & set(broods)]


def _brood_row(source: Source, code: str) -> tuple[str, ...]:
    """Those that are known to be of one brood, or of whom nobody knows of which."""
    mine = source.tallies.course.told_apart(code)
    begun = source.bench.broods.get(code)
    came = sum(one.cohort.number for one in mine.entered)
    grown = sum(one.cohort.number for one in mine.passages if one.to == "adult")
    alive = sum(one.number for one in mine.alive)
    several = code not in source.bench.broods
    mothers = " or ".join(begun.mothers) if begun else NOT_KNOWN_WHICH if several else ""
    return (code, mothers or NOT_SAID, str(came), str(grown), str(alive))


def _laying(source: Source, taxon: str) -> Iterator[Part]:
    hosts = [one for one in source.tallies.on_hosts(source.moment.now) if one.taxon == taxon]
    if not hosts:
        yield "No female of it stood with a plant to lay on."
        return
    rows = tuple(
        (
            one.plant,
            f"{one.female_days:.1f}",
            str(one.searches),
            str(one.eggs),
            share_of(one),
            limits(one),
        )
        for one in hosts
    )
    yield DocumentTable((LAYING_HEADS[0], *LAYING_HEADS[4:]), rows)
    yield from in_no_rate(hosts)
    yield OF_THESE_FEMALES
    plot = laying_plot(source, taxon)
    if plot is not None:
        yield plot


def _limits(limits: tuple[float, float] | None, unit: str, digits: int, measures: Measures) -> str:
    """95 % limits behind a number of a metric unit, or that there are none."""
    if limits is None:
        return " (too few for limits)"
    low, high = (measures.told(limit, unit) for limit in limits)
    return f" (95 % {low:.{digits}f} to {high:.{digits}f})"


def _taught(source: Source) -> Section:
    """What the records say about the plan, and about warmth."""
    back, moment, measures = source.look_back, source.moment, source.measures
    parts: list[Part] = []
    for taxon in dict.fromkeys(map(source.bench.taxon_of, source.bench.broods)):
        for stage in development(back.course, back.broods_of(taxon), taxon, back.warmth):
            if fit := stage.fit:
                parts.append(
                    f"{source.name_in_full(taxon)}, {stage.stage}:"
                    f" {count(fit.points, 'brood')} give a lower threshold of"
                    f" {measures.warmth(round(fit.lower_c, 1))}"
                    f"{_limits(fit.limits_lower_c, 'C', 1, measures)} and"
                    f" {measures.heat(fit.constant_dd)}"
                    f"{_limits(fit.limits_constant_dd, 'C degree-days', 0, measures)}."
                )
    rows = [
        (one.rule, measures.in_words(one.records), one.plan, one.may_be)
        for one in offers(source.bench, moment)
    ]
    if rows:
        parts.append(table("rule, the records say, plan now, may be", rows))
    parts += [
        f"{one.rule}: {measures.in_words(one.records)}; {one.wants}."
        for one in not_settled(source.bench, moment)
    ]
    return Section("What the records taught", tuple(parts) or ("Nothing that is settled yet.",))
