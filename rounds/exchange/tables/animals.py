"""Tables of animals: who came, what became of each, how long their stages took, what was kept."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from itertools import pairwise
from typing import NamedTuple

from rounds.bench.codes import members, one_of
from rounds.entries.registry import FounderIntake, Preserved, Weighed
from rounds.exchange.source import Source
from rounds.exchange.specimens import origins_said, places_caught, specimens
from rounds.exchange.tables.table import ExportTable, Value, columns, said, with_limits, yes
from rounds.tallies.broods import NOT_KNOWN_WHICH, balance, founder_fate
from rounds.tallies.cohorts import Cohort, CourseShare, Ended, Passage, rank
from rounds.tallies.development import development
from rounds.tallies.pedigree import own_inbreeding
from rounds.tallies.stages import DEAD, IN_DIAPAUSE, durations, stage_counts, timed_passages

NOT_KNOWN = "not known"
ORIGIN = (
    "where its wild forebears were caught, of each where there are several; else where its stock is"
    " from, as it was said | not recorded"
)
CAUGHT = "when they were caught; noon sharp for a day alone | not recorded, or several days"
STAYS = ("preserved", "alive", "not seen", NOT_KNOWN, NOT_KNOWN_WHICH)  # they did not leave alive
BROOD = "brood | code of the brood; A or B where nobody knows of which they are"
TAXON = "taxon | scientific name, as the keeper has it | not recorded"
STAGE = "stage | egg, L1, L2 ... (larval instar), larva (instar not known), pupa, adult"
WITHHELD = "not recorded, or withheld"


def _founders(source: Source) -> Iterator[tuple[Value, ...]]:
    course = source.tallies.course
    for code, founder in source.bench.founders.items():
        fate, times = founder_fate(course, code)
        yield *_caught(source, founder), fate, times[0] if len(times) == 1 else None, founder.id, 1
    for catch, number in source.young_caught():
        yield *_caught(source, catch), "", None, catch.id, number


def _caught(source: Source, founder: FounderIntake) -> Iterator[Value]:
    """What is on record of a catch, its place as it may be shown."""
    place = source.guard.of_founder(founder)
    yield founder.code
    yield source.name_of(founder.code)
    yield from said(founder, "stage sex caught")
    yield from said(place, "place country province latitude longitude uncertainty_m withheld")
    yield source.listed_names(founder.collector)
    yield from said(founder, "wear inspected found_on permit at container")


def _broods(source: Source) -> Iterator[tuple[Value, ...]]:
    course, origins = source.tallies.course, origins_said(source)
    for code, begun in source.bench.broods.items():
        mine, fates = course.of([code]), balance(course, [code])
        inbred = own_inbreeding(source.bench, code)
        least, most = (inbred.least, inbred.most) if inbred else (None, None)
        yield (
            code,
            source.name_of(code),
            " ".join(begun.mothers),
            " ".join(begun.fathers),
            begun.laid_from,
            begun.laid_to,
            fates.in_all,
            sum(one.cohort.number for one in mine.passages if one.to == "adult"),
            fates.of_fates(*DEAD),
            fates.of_fates(*(set(fates.became) - {*DEAD, *STAYS})),
            fates.of_fates("preserved"),
            fates.alive,
            fates.of_fates("not seen"),
            fates.of_fates(NOT_KNOWN),
            fates.of_fates(NOT_KNOWN_WHICH),
            sum(one.number for part in course.mixed_parts(code) for one in part.alive),
            least,
            most,
            *places_caught(source, code, origins),
            begun.id,
        )


def _events(source: Source) -> Iterator[tuple[Value, ...]]:
    """A row for the animals of a brood that began a stage together and ended it together."""
    course = source.tallies.course
    codes = dict.fromkeys((*source.bench.founders, *source.bench.broods, *course.codes))
    for code in codes:
        mine, are_founders = (
            course.told_apart(code),
            source.bench.founders.keys() >= {*members(code)},
        )
        for row in _course_rows(source, mine):
            yield (code, source.name_of(code), yes(are_founders), *row)


def _course_rows(source: Source, mine: CourseShare) -> Iterator[tuple[Value, ...]]:
    timed = timed_passages(mine.passages)
    seen = {one.cohort.stage for one in mine.entered} | {one.to for one in mine.passages}
    for passage in mine.passages:
        cohort, is_timed = passage.cohort, passage in timed
        warm = source.warmth.felt(cohort.stays, cohort.begun, passage.at) if is_timed else None
        between = [stage for stage in seen if rank(cohort.stage) < rank(stage) < rank(passage.to)]
        chain = [cohort.stage, *sorted(between, key=rank), passage.to]
        for stage, after in pairwise(chain):
            told = _Event(source, cohort, passage.at, "went on", passage)
            if stage == cohort.stage:
                yield told.row(stage, after, timed=is_timed, warm=warm)
            else:
                yield told.row(stage, after, passed_over=True)
    rest: list[tuple[Cohort, datetime, str, Ended | None]]
    rest = [(one.cohort, one.at, one.fate, one) for one in mine.ended]
    rest += [(one, source.moment.now, "in it now", None) for one in mine.alive]
    rest += [(one, one.last_known, "not seen", None) for one in mine.not_seen]
    rest += [(one.cohort, one.at, "not known which any more", None) for one in mine.mixed]
    for cohort, until, fate, by in rest:
        yield _Event(source, cohort, until, fate, by).row(cohort.stage)


class _Event(NamedTuple):
    """How some animals ended a stage, and by what that is known."""

    source: Source
    cohort: Cohort
    until: datetime
    fate: str
    by: Passage | Ended | None = None

    def row(
        self,
        stage: str,
        after: str = "",
        *,
        timed: bool = False,
        warm: float | None = None,
        passed_over: bool = False,
    ) -> tuple[Value, ...]:
        cohort, by = self.cohort, self.by
        where = cohort.stays[-1].container if cohort.stays else ""
        container = self.source.bench.at(where)
        alike = [cohort]  # all that they may have been
        if stage == "adult":
            alike = self.source.interchangeable.may_have_been(cohort, self.until)
        hosts: Iterable[str] = by.plants if by else ()
        if container and by is None:
            hosts = [host.plant for host in container.hosts]
        laid, hatched, came = (
            _span(*zip(*pairs, strict=True))
            for pairs in (
                [one.laid or (None, None) for one in alike],
                [(one.hatched, one.hatched) for one in alike],
                [(one.came, one.came) for one in alike],
            )
        )
        return (
            stage,
            cohort.number,
            min(one.begun_from for one in alike),
            self.until if passed_over else max(one.begun_to for one in alike),
            self.until,
            self.fate,
            after,
            by.cause if isinstance(by, Ended) else "",
            by.evidence if isinstance(by, Passage) else "",
            where,
            "; ".join(sorted(set(hosts))),
            cohort.sex,
            yes(cohort.crippled and stage == "adult"),
            *laid,
            hatched[0],
            came[0],
            yes(cohort.by_hatching),
            yes(timed),
            yes(stage in cohort.rested),
            warm,
            by.entry if by else "",
            hatched[1],
            came[1],
        )


def _span(
    firsts: Iterable[datetime | None], lasts: Iterable[datetime | None]
) -> tuple[datetime | None, datetime | None]:
    """The first and the last of when something may have been; none where that is not known of one
    of those that they may be."""
    first, last = list(firsts), list(lasts)
    known = [one for one in (*first, *last) if one is not None]
    return (min(known), max(known)) if len(known) == len(first) + len(last) else (None, None)


def _stock(source: Source) -> Iterator[tuple[Value, ...]]:
    emerged = _first_emerged(source)
    for container in source.bench.standing():
        for lot in container.lots:
            yield (
                *said(container, "code purpose shelf"),
                lot.brood,
                source.bench.taxon_of(lot.brood),
                lot.stage,
                lot.instar or None,
                *said(lot, "sex number"),
                emerged.get(
                    (container.code, lot.brood, lot.stage, lot.sex, lot.crippled), lot.since
                ),
                yes(lot.crippled),
            )


def _first_emerged(source: Source) -> dict[tuple[str, str, str, str, bool], datetime]:
    """When the first may have emerged of the adults that are here, as the events say it."""
    found: dict[tuple[str, str, str, str, bool], datetime] = {}
    for one in source.tallies.course.alive:
        if one.stage == "adult" and one.stays:
            group = (one.stays[-1].container, one.brood, one.stage, one.sex, one.crippled)
            alike = source.interchangeable.may_have_been(one, source.moment.now)
            first = min(other.begun_from for other in alike)
            found[group] = min(first, found.get(group, first))
    return found


def _life_table(source: Source) -> Iterator[tuple[Value, ...]]:
    course = source.tallies.course
    together = course.counted_together()
    rows = {code: [code] for code in (*course.bench.broods, *course.codes_of_either())}
    rows |= {" and ".join(broods): list(broods) for broods in together.values()}
    for code, broods in rows.items():
        again = " and ".join(together.get(code, ()))
        for stage_count in stage_counts(course, broods):
            yield (
                code,
                one_of(map(course.bench.taxon_of, broods)),
                *said(stage_count, "stage entered passed died left not_seen here"),
                *with_limits(stage_count.came_through),
                *said(stage_count, "through either kept by_hatching"),
                again,
                stage_count.unknown,
                "at least" if stage_count.at_least else None,
            )


def _durations(source: Source) -> Iterator[tuple[Value, ...]]:
    course = source.tallies.course
    for brood in (*course.bench.broods, *course.codes_of_either()):
        for duration in durations(course, [brood], source.warmth):
            plain = duration.stage.removesuffix(IN_DIAPAUSE)
            instar = int(plain[1:]) if plain[1:].isdigit() else None
            basis = "from when it was seen to begin"
            if plain in ("egg", "egg to adult"):
                basis = "from the middle of when they were laid"
            basis += f"; the end of {duration.inferred} inferred" if duration.inferred else ""
            basis += "; in diapause meanwhile" if plain != duration.stage else ""
            yield (
                brood,
                course.bench.taxon_of(brood),
                "larva" if instar else plain,
                instar,
                *said(duration, "number mean median least most temperature_c read"),
                duration.mean_read if duration.read else None,
                basis,
            )


def _thresholds(source: Source) -> Iterator[tuple[Value, ...]]:
    back = source.look_back
    for taxon in dict.fromkeys(map(source.bench.taxon_of, source.bench.broods)):
        for stage in development(back.course, back.broods_of(taxon), taxon, back.warmth):
            if fit := stage.fit:
                own = said(fit, "lower_c constant_dd se_lower_c se_constant_dd points r_squared")
                basis = "own broods, line through rates (Campbell et al. 1974)"
                yield (taxon, stage.stage, *own, basis)
            if known := stage.published:
                given = (known.lower_c, known.constant_dd, None, None, None, None, known.words)
                yield (taxon, stage.stage, *given)


def _specimens(source: Source) -> Iterator[tuple[Value, ...]]:
    origins = origins_said(source)
    for one in specimens(source):
        parasitoid = one.entry.what == "parasitoid"
        yield (
            one.number,
            getattr(one.entry, "taxon", "") if parasitoid else source.name_of(one.code),
            one.code,
            yes(parasitoid),
            *said(one, "stage sex how"),
            *(one.emerged or (None, None)),
            one.entry.at,
            one.entry.depository,
            source.listed_names(source.determiner(one.entry)),
            one.entry.container,
            *places_caught(source, one.code, origins),
            one.entry.id,
            source.how_it_died(one.entry) if isinstance(one.entry, Preserved) else "",
        )


def _masses(source: Source) -> Iterator[tuple[Value, ...]]:
    for entry in source.counting:
        if isinstance(entry, Weighed):
            yield (
                *said(entry, "at container brood"),
                source.bench.taxon_of(entry.brood),
                *said(entry, "stage number mass_mg"),
                entry.mass_mg / entry.number,
                *said(entry, "by id"),
            )


LINE = "line | id of the line of the daybook that says so, as in the table entries"
SEX = f"sex | female or male | {NOT_KNOWN}"
_LIMITS = "exact two-sided 95 % limit (Clopper & Pearson 1934)"
ANIMALS = (
    ExportTable(
        "founders",
        "animals taken from the wild; places as they may be shown",
        columns(f"""
            founder | code of the animal, never used again; of eggs, larvae and pupae that were
                taken and came in as stock that of their brood
            {TAXON}
            stage | egg, larva, pupa or adult, as it came in
            {SEX}
            caught | when it was caught; noon sharp where only the day was said | not recorded
            place | where it was caught | {WITHHELD}
            country | country of the place | not recorded
            province | state or province of the place | not recorded
            latitude [degrees] | north of the equator, WGS 84 | {WITHHELD}
            longitude [degrees] | east of Greenwich, WGS 84 | {WITHHELD}
            uncertainty [m] | radius around the coordinates | not recorded
            withheld | why the exact place is withheld | nothing is withheld
            collector | who caught it | not recorded
            wear | fresh, slight, worn, very worn | not recorded
            inspected | whether egg parasitoids were seen riding on it | not recorded
            found on | plant it was found on in the wild, as egg or larva | not recorded
            permit | number of the permit | none was named
            came in | when it came on the bench
            container | where it was put first
            fate | died, released, escaped, preserved ...; on the bench; not seen; not known | came
                in as stock: the table events says of its brood
            ended | when that was | it is here, or that is not known; of some that nobody can tell
                apart and that all ended so, which of them ended when; came in as stock
            {LINE}
            number <count> | 1, or how many came in as stock
            """),
        _founders,
        frozenset({"place", "collector", "found_on", "permit"}),
    ),
    ExportTable(
        "broods",
        "each brood with its parents, and how many came and grew up",
        columns(f"""
            brood | code of the brood
            {TAXON}
            mothers | codes, a space between; one of them where several | not recorded
            fathers | codes, a space between; one of them where several, and of those not seen to
                couple, who only stood with a mother, perhaps none | mated in the wild
            laid from | laid not before | {NOT_KNOWN}
            laid to | laid not after | {NOT_KNOWN}
            came <count> | eggs and animals of it that ever came on record
            adults <count> | of them came to be adults
            died <count> | of them died, or were given up on
            left the bench alive <count> | of them were released, escaped or taken
            kept as specimens <count> | of them were kept as specimens
            alive <count> | of them are on the bench now; of those that nobody can tell from another
                brood's only as many as must be of it
            not seen <count> | of them are an open shortfall
            fate not known <count> | of them the record ends, dead or alive
            not known which <count> | of them nobody can tell from those of other broods; with the
                six before: all that came
            alive, of it or of another brood <count> | on the bench now, those too that must be of
                it: the same animals in the row of each brood that they may be of
            inbreeding from <1> | least coefficient that its pedigree allows | {NOT_KNOWN}
            inbreeding to <1> | largest coefficient that its pedigree allows | {NOT_KNOWN}
            origin | {ORIGIN}
            caught | {CAUGHT}
            {LINE}
            """),
        _broods,
        frozenset({"origin", "place"}),
    ),
    ExportTable(
        "events",
        "a row for animals of a brood that began a stage together and ended it together: with"
        " number as weight each animal stands once in each stage that it was in",
        columns(f"""
            brood | code of the brood, or of a founder
            {TAXON}
            founder | yes for a founder itself, or one of several; no for a brood
            {STAGE}
            number <count> | how many animals the row is of
            from | the stage began not before; of what came in, when it came
            from (latest) | the stage began not after; the middle of both is its begin. Of adults
                that nobody could tell from others that emerged at other times, both hold for all
                that they may be; of younger ones those that began first are taken to go on first
            to | when they left the stage, or were last known in it: a count, a move or an answer of
                as many as there are saw them alive
            fate | went on; died, missing (given up on) and dead are deaths; released, escaped,
                preserved, taken; in it now; not seen; not known which any more: all these are out
                of sight alive. In a curve of survival up to the adult those that emerged stay at
                risk to its end, whatever became of them as adults
            next stage | the stage they went on to | they did not go on
            cause | of death, as the keeper saw it; none was diagnosed | not recorded
            evidence | of going on: seen, inferred, or not dated | they did not go on
            container | where they were then | {NOT_KNOWN}
            plant | host plants that stood with them then, a semicolon between; of larvae that went
                on those that they had in the stage, without what stood there for a few hours beside
                another | none
            {SEX}
            crippled | yes: adults whose wings failed
            laid from | as an egg laid not before | not laid here, or not known
            laid to | as an egg laid not after | not laid here, or not known
            hatched | when they hatched | not yet, or not seen here
            came | when they came on record first
            known only by hatching | yes: nobody knew of them before they had hatched; leave them
                out of egg survival
            timed | yes: the stage was seen to begin and to end, or the keeper wrote how many days
                it took, so that from (middle) to to is its length; no too of a stage that was
                passed over unseen
            in diapause | yes: they rested in that stage
            mean temperature [C] | of a timed row, over the stage, weighted by time | not timed, or
                read for less than half of it
            line | id of the line that ended the row | the row is open
            hatched (latest) | as hatched; the last of when they may have, of adults that nobody
                could tell from others | as hatched
            came (latest) | as came; the last of when they may have
            """),
        _events,
        frozenset({"plant"}),
    ),
    ExportTable(
        "stock",
        "what stands in each container now",
        columns(f"""
            container | code of the container
            purpose | what it is set up for
            shelf | its shelf | none
            {BROOD}
            {TAXON}
            stage | egg, larva, pupa or adult
            instar | of larvae | {NOT_KNOWN}
            {SEX}
            number <count> | how many
            since | when the first of them reached the stage, or came in; of adults when the first
                may have emerged | {NOT_KNOWN}
            crippled | yes: adults whose wings failed
            """),
        _stock,
        frozenset({"shelf"}),
    ),
    ExportTable(
        "life-table",
        "each stage of each brood, and of broods together that nobody can tell apart: how many"
        " entered it, and what is known of them; the rows in which 'counted again in' is empty"
        " count each animal once",
        columns(f"""
            brood | code; A or B: of one of them; A and B: these together
            {TAXON}
            {STAGE}
            entered <count> | how many entered it, those seen first in a later one too
            went on <count> | of them went on to a later stage
            died <count> | of them died in it, or were given up on
            left the bench alive <count> | released, escaped or taken in it
            not seen <count> | an open shortfall
            in it now <count> | of them are in it
            share that went on <1> | of those whose end is known | some are in it, or not known
            lower 95 % limit <1> | {_LIMITS} of the share | no share
            upper 95 % limit <1> | {_LIMITS} of the share | no share
            share of the first stage that came through <1> | product of the shares | no share
            not known which <count> | may be of this brood or of another, in no other number
            kept as specimens <count> | kept as specimens in it
            known only by hatching, in no egg number <count> | nobody knew of them as eggs
            counted again in | the row that counts them too | no other row does
            fate not known <count> | the record ends, dead or alive, in it
            number that entered is | at least: how many did, nobody wrote down | all that entered it
            """),
        _life_table,
    ),
    ExportTable(
        "durations",
        "how long each stage of each brood took, and of those that are of one or another; those"
        " alone that were seen to begin and to end it",
        columns(f"""
            {BROOD}
            {TAXON}
            stage | egg, larva, pupa; larva without an instar is all of it; egg to adult
            instar | of larvae | all of them, or no larva
            number <count> | how many animals
            mean [days] | mean length
            median [days] | median length
            shortest [days] | by who began first ends first
            longest [days] | by who began first ends first
            mean temperature [C] | of those with temperature | none was read
            number with temperature <count> | for how many at least half of the time was read
            mean of those with temperature [days] | mean length of these | none was read
            basis | from when on, and what was inferred
            """),
        _durations,
    ),
    ExportTable(
        "thresholds",
        "lower threshold and thermal constant of each stage: by own broods, as given, or published",
        columns(f"""
            {TAXON}
            stage | egg, larva, pupa, egg to adult, or an instar
            lower threshold [C] | temperature at which development stands still
            thermal constant [degree-days] | warmth above it that the stage takes
            standard error of the threshold [C] | of the line | fewer than three broods
            standard error of the constant [degree-days] | of the line | fewer than three broods
            broods <count> | how many the line goes through | not by own broods
            r squared <1> | of the line | not by own broods
            basis | own broods; else whose they are, of another species where it says so
            """),
        _thresholds,
    ),
    ExportTable(
        "specimens",
        "a row a specimen kept, parasitoids too",
        columns(f"""
            catalogue number | its own; V1.1, V1.2 where one was given for several | none given
            {TAXON}
            brood | code of the brood or founder it is, or that it came out of | {NOT_KNOWN}
            parasitoid | yes: it came out of an animal of that brood
            stage | in which it was kept; of a parasitoid that of its host | not recorded
            {SEX}
            reared | ex ovo, ex larva, ex pupa | it came in as it was kept
            emerged from | emerged not before | no adult, or not seen here
            emerged to | emerged not after | no adult, or not seen here
            kept | when it was kept; of a parasitoid when it came out
            depository | where it is kept | not recorded
            determiner | who determined it | not recorded
            container | from where it was taken
            origin | {ORIGIN}
            caught | {CAUGHT}
            {LINE}
            died | found dead, or killed for the collection | neither was said
            """),
        _specimens,
        frozenset({"voucher", "depository", "determiner", "origin", "place"}),
    ),
    ExportTable(
        "masses",
        "larvae and pupae as they were weighed",
        columns(f"""
            at | when
            container | where
            brood | code of the brood | {NOT_KNOWN}
            {TAXON}
            stage | larva or pupa | not recorded
            number together | how many were weighed together
            mass [mg] | of all of them
            mass of one [mg] | mean
            by | initials of who weighed | not recorded
            entry | id of the line
            """),
        _masses,
    ),
)
